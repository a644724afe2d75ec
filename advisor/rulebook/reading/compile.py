"""From rule files to an index: read, check, join layers, write.

Each file is compiled by itself and kept by its content, so that touching one of many files costs one file.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.rulebook.compiled_cache import Store
from advisor.rulebook.index import FORMAT, IndexWriter
from advisor.rulebook.reading.catalogue import CatalogueReader
from advisor.rulebook.reading.knowledge import KNOWLEDGE
from advisor.rulebook.reading.rule_reader import RuleFileReader, Tools
from advisor.rulebook.reading.schema_check import kind_of, schema_findings
from advisor.rulebook.reading.yaml_text import Document, parse_yaml
from advisor.writing import make_folder

# Rules of these effects stand whatever higher layers say.
NOT_REPLACED = ("caution", "refer", "refuse")
KINDS = ("rules", "materials", "gauges", "vocabulary", *KNOWLEDGE)


class RuleFile(NamedTuple):
    """One file of a layer with its bytes. shown_as: the name in messages, relative where it can be; faults: why there
    are no bytes, where it cannot be read."""

    layer: str
    path: Path
    shown_as: str
    raw: bytes
    faults: tuple[Diagnostic, ...] = ()

    @property
    def digest(self) -> str:
        """SHA-256 of the bytes; of the faults where there are none."""
        said = "".join(fault.text() for fault in self.faults).encode()
        return hashlib.sha256(self.raw + said).hexdigest()

    def document(self) -> Document:
        """The file as YAML. Raises PrestrikeError with its faults."""
        if self.faults:
            raise PrestrikeError(self.faults)
        return parse_yaml(self.raw, self.shown_as)


@dataclass(eq=False, repr=False)
class Compiled:
    """What one file holds: rules or entries, its ruleset and version, and findings."""

    file: str
    layer: str
    kind: str = ""
    ruleset: str = ""
    version: str = ""
    digest: str = ""
    rules: list[dict[str, Any]] = field(default_factory=list)
    entries: list[list[Any]] = field(default_factory=list)
    findings: list[dict[str, Any]] = field(default_factory=list)
    # How its examples ran: {"total", "firing", "findings"}. A wrong example does not keep a file from being used.
    ran: dict[str, Any] = field(default_factory=dict)


def compile_file(file: RuleFile, tools: Tools, schemas: Mapping[str, Path]) -> Compiled:
    """Compile one file by itself; all that is wrong with it is in `findings`."""
    result = Compiled(file.shown_as, file.layer, digest=file.digest)
    try:
        document = file.document()
        result.kind = kind_of(document)
        findings = _structure(document, result.kind, schemas)
        if not findings:
            findings = _meaning(document, result, tools)
        if not findings and result.rules:
            from advisor.rulebook.reading.examples import run_examples

            result.ran = run_examples(result.rules, document, tools)
    except PrestrikeError as error:
        findings = list(error.diagnostics)
    result.findings = [finding._asdict() for finding in findings]
    if findings:
        result.rules, result.entries = [], []
    return result


def _structure(document: Document, kind: str, schemas: Mapping[str, Path]) -> list[Diagnostic]:
    if kind not in schemas:
        repair = did_you_mean(kind, schemas)
        message = f"'{kind}' is no kind of rule file"
        return [document.place(Diagnostic("unknown-value", message, help=repair), ("kind",))]
    return schema_findings(document, schemas[kind])


def _meaning(document: Document, result: Compiled, tools: Tools) -> list[Diagnostic]:
    data = document.data
    result.version = data["version"]
    result.ruleset = data.get("ruleset", result.kind)
    if result.kind == "rules":
        reader = RuleFileReader(document, tools, result.layer)
        result.rules = reader.read()
        return reader.found
    if result.kind in ("materials", "gauges", *KNOWLEDGE):
        catalogue = CatalogueReader(document, tools)
        result.entries = [list(entry) for entry in catalogue.read()]
        return catalogue.found
    return []


def compile_files(
    files: Sequence[RuleFile], tools: Tools, schemas: Mapping[str, Path], store: Store | None, salt: str
) -> list[Compiled]:
    """Compile all files, taking from the store what has not changed. salt: what else a result depends on."""
    keys = [f"{FORMAT}:{salt}:{file.layer}:{file.shown_as}:{file.digest}" for file in files]
    kept = store.get(keys) if store else {}
    done: list[Compiled] = []
    fresh: dict[str, Any] = {}
    for file, key in zip(files, keys, strict=True):
        known = _of_kept(kept.get(key))
        if known is None:
            known = compile_file(file, tools, schemas)
            fresh[key] = known.__dict__
        done.append(known)
    if store:
        store.put(fresh)
    return done


def _of_kept(data: Any) -> Compiled | None:
    try:
        return Compiled(**data) if data else None
    except TypeError:
        return None


def join_layers(
    compiled: Sequence[Compiled],
) -> tuple[list[dict[str, Any]], list[dict[str, str]], list[Diagnostic]]:
    """Rules of all layers with replaced ones taken out; what replaced what; and clashes of ids.

    A rule replaces another only by `overrides`; the same id without it is an error naming both files.
    """
    by_id: dict[str, dict[str, Any]] = {}
    replaced: list[dict[str, str]] = []
    clashes: list[Diagnostic] = []
    for item in compiled:
        for rule in item.rules:
            target = rule.get("overrides", "")
            if target:
                clashes.extend(_override(by_id, rule, target, replaced))
            other = by_id.get(rule["id"])
            if other is not None:
                message = f"rule id '{rule['id']}' is also in {other['file']}:{other['line']}"
                repair = f"choose another id, such as '{rule['id']}.2', or replace it with 'overrides:' and 'reason:'"
                clashes.append(_placed(Diagnostic("duplicate-rule", message, help=repair), rule, "id"))
            else:
                by_id[rule["id"]] = rule
    return list(by_id.values()), replaced, clashes


def _override(
    by_id: dict[str, dict[str, Any]], rule: dict[str, Any], target: str, replaced: list[dict[str, str]]
) -> list[Diagnostic]:
    lower = by_id.get(target)
    if lower is None or lower["layer"] == rule["layer"]:
        repair = did_you_mean(target, by_id)
        message = f"there is no rule '{target}' in a lower layer to replace"
        return [_placed(Diagnostic("override", message, help=repair), rule, "overrides")]
    if lower["effect"] in NOT_REPLACED or lower.get("guarded"):
        kind = lower["effect"] if lower["effect"] in NOT_REPLACED else lower["topic"].replace("_", " ")
        message = f"'{target}' is a {kind} rule: what keeps people from harm cannot be replaced"
        repair = "take out 'overrides' and 'reason', and let your rule stand beside it"
        return [_placed(Diagnostic("override", message, help=repair), rule, "overrides")]
    del by_id[target]
    replaced.append(
        {"id": target, "file": lower["file"], "by": rule["id"], "in": rule["file"], "reason": rule["reason"]}
    )
    return []


def _placed(finding: Diagnostic, rule: Mapping[str, Any], key: str) -> Diagnostic:
    """A finding at the value of a key of a compiled rule."""
    line, column, frame = rule["places"][key]
    return finding._replace(subject=rule["id"]).at(rule["file"], line, column, frame)


def write_index(
    path: Path,
    rules: Sequence[dict[str, Any]],
    compiled: Sequence[Compiled],
    meta: Mapping[str, Any],
    indexed_attribute: str,
) -> None:
    """Write the index file of these rules and entries."""
    make_folder(path.parent)
    writer = IndexWriter(path, indexed_attribute)
    writer.add_rules(rules)
    for item in compiled:
        for kind, entry_id, payload, names in item.entries:
            writer.add_entries(kind, [(entry_id, payload, names)])
    writer.finish(meta)


def remove_old_indexes(folder: Path, keep: Path, most: int = 12) -> None:
    """Throw away all but the newest indexes of the cache."""
    indexes = sorted(folder.glob("rules-*.sqlite"), key=lambda item: item.stat().st_mtime, reverse=True)
    for old in indexes[most:]:
        if old != keep:
            try:
                os.unlink(old)
            except OSError:
                return
