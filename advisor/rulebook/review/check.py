"""Checks a set of rule files: structure, words, units, sources, examples, clashes. Reports all files, then stops.

Files that have not changed since they were last checked are taken from the cache, by a hash of their content, of the
words, of the schemas and of the program that reads them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic
from advisor.rulebook.index import Index
from advisor.rulebook.library import (
    Rulebook,
    build_index,
    compile_all,
    content_hash,
    entry_clashes,
    index_path,
    opened,
    usable_folder,
)
from advisor.rulebook.listing import Layer, gather
from advisor.rulebook.reading.compile import Compiled, join_layers
from advisor.rulebook.reading.rule_reader import Tools
from advisor.rulebook.vocabulary import Vocabulary


class FileCount(NamedTuple):
    """Examples of one rule file: how many, how many fire, how many are wrong."""

    file: str
    ruleset: str
    layer: str
    rules: int
    examples: int
    firing: int
    wrong: int


class CheckResult(NamedTuple):
    """What was looked at and what was found. files, rules, entries, examples, firing, silent: counts."""

    files: int
    rules: int
    entries: int
    examples: int
    firing: int
    silent: int
    evidence: dict[str, int]
    findings: tuple[Diagnostic, ...]


class Checked(NamedTuple):
    """A check with what further looks need. rules: compiled, of usable files, replaced ones too; replaced: what took
    whose place; book: None where there are findings; digests: file -> hash of its content and layer; entries: kind ->
    catalogue entries of usable files."""

    result: CheckResult
    by_file: tuple[FileCount, ...]
    rules: list[dict[str, Any]]
    replaced: list[dict[str, str]]
    vocabulary: Mapping[str, Any]
    book: Rulebook | None
    digests: dict[str, str]
    entries: dict[str, list[dict[str, Any]]]


def check_rules(
    layers: Sequence[Layer],
    schema_file: Callable[[str], Path],
    tools_for: Callable[[Vocabulary], Tools],
    cache: Path | None,
) -> Checked:
    """Check every file of these layers. Raises PrestrikeError only where nothing can be read."""
    files = gather(layers)
    folder = usable_folder(cache)
    vocabulary, tools, compiled = compile_all(files, schema_file, tools_for, folder)
    usable = [item for item in compiled if not item.findings]
    findings = [Diagnostic(**finding) for item in compiled for finding in item.findings]
    rules, replaced, clashes = join_layers(usable)
    findings += clashes + entry_clashes(usable)
    findings += [Diagnostic(**finding) for item in usable for finding in item.ran.get("findings", ())]
    counts = tuple(_count(item) for item in compiled if item.kind == "rules")
    total, firing = sum(count.examples for count in counts), sum(count.firing for count in counts)
    if total == 0:
        findings.append(Diagnostic("example", "no examples were found", help="write examples beside the rules"))
    entries = sum(len(item.entries) for item in usable)
    evidence = dict(Counter(rule["sources"][0]["evidence"] for rule in rules))
    result = CheckResult(
        len(files), len(rules), entries, total, firing, total - firing, evidence, tuple(_plain(findings))
    )
    book = None
    if not findings:
        path = index_path(folder, digest := content_hash(files))
        # Written anew at every check, so that what is looked at is what these files say, whatever the cache held.
        build_index(path, digest, vocabulary, tools, compiled)
        book = opened(Index(path))
    digests = {item.file: f"{item.layer}:{item.digest}" for item in usable if item.rules}
    all_rules = [rule for item in usable for rule in item.rules]
    return Checked(result, counts, all_rules, replaced, vocabulary, book, digests, _by_kind(usable))


def _by_kind(usable: Sequence[Compiled]) -> dict[str, list[dict[str, Any]]]:
    """Catalogue entries, each kind in the order of the ids."""
    found: dict[str, list[tuple[str, dict[str, Any]]]] = {}
    for kind, entry_id, payload, _ in (entry for item in usable for entry in item.entries):
        found.setdefault(kind, []).append((entry_id, payload))
    return {kind: [payload for _, payload in sorted(rows, key=lambda row: row[0])] for kind, rows in found.items()}


def _count(item: Compiled) -> FileCount:
    ran = item.ran or {"total": 0, "firing": 0, "findings": []}
    return FileCount(
        item.file, item.ruleset, item.layer, len(item.rules), ran["total"], ran["firing"], len(ran["findings"])
    )


def _plain(findings: Sequence[Diagnostic]) -> list[Diagnostic]:
    """Each finding once: one cause may be met on several ways."""
    return list(dict.fromkeys(findings))
