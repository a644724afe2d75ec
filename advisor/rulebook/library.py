"""Opens the rulebook: gathers the files of all layers, compiles them when their content is new, reads the index.

A warm start looks at the files' sizes and times, and opens the index of their content: no YAML, no JSON Schema, no
unit library.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.reading import ReadingError, read_text
from advisor.rulebook.conditions import Facts, first_failure, holds
from advisor.rulebook.index import FORMAT, Index
from advisor.rulebook.listing import Layer, Listed, listing, read_files
from advisor.rulebook.rule import LAYERS, Rule
from advisor.rulebook.vocabulary import Vocabulary
from advisor.writing import make_folder, write_whole

if TYPE_CHECKING:
    from advisor.rulebook.reading.compile import Compiled, RuleFile
    from advisor.rulebook.reading.rule_reader import Tools

INDEXED_ATTRIBUTE = "thickness"


class RulesBroken(PrestrikeError):
    """Shipped rules that do not hold together: our own fault."""

    exit_code = Exit.OUR_FAULT


class NearMiss(NamedTuple):
    """A rule that nearly spoke, and the first condition that kept it silent."""

    rule: Rule
    failed: str


@dataclass(eq=False, repr=False)
class Rulebook:
    """The compiled rules of all layers. left_out: findings on files of higher layers that could not be used."""

    index: Index
    vocabulary: Vocabulary
    content_hash: str
    rulesets: list[dict[str, str]]
    left_out: list[Diagnostic] = field(default_factory=list)
    replaced: list[dict[str, str]] = field(default_factory=list)

    def match(self, topic: str, facts: Facts) -> list[Rule]:
        """Rules of the topic whose conditions the facts meet, by id."""
        found = self.index.candidates(topic, facts, INDEXED_ATTRIBUTE)
        return [rule for rule in found if holds(rule.when, facts)]

    def near_misses(self, topic: str, facts: Facts) -> list[NearMiss]:
        """Rules of the topic that did not match, each with the first condition that failed."""
        missed = [rule for rule in self.index.rules(topic) if not holds(rule.when, facts)]
        return [NearMiss(rule, first_failure(rule.when, facts)) for rule in missed]


def open_rulebook(
    layers: Sequence[Layer],
    schema_file: Callable[[str], Path],
    cache: Path | None,
    tools_for: Callable[[Vocabulary], Tools],
) -> Rulebook:
    """The rulebook of these layers, compiled into `cache` if its content is new.

    tools_for: builds unit parsing and computations; called only when something must be compiled.
    Raises RulesBroken for faults in the built-in layer; faults in higher layers are in `left_out`.
    """
    listed = listing(layers)
    folder = usable_folder(cache)
    # Files whose size and times have not changed have not changed: their content is hashed once, not at every start.
    seen = folder / f"seen-{_listing_hash(listed)[:24]}"
    digest, size = _noted(seen)
    found = _opened(index_path(folder, digest), digest, size) if digest else None
    if found is None:
        files = read_files(listed)
        digest = content_hash(files)
        path = index_path(folder, digest)
        found = _opened(path, digest)
        if found is None:
            path.unlink(missing_ok=True)
            _build(path, files, digest, schema_file, tools_for)
            found = opened(Index(path))
        _note(seen, digest, path)
    return found


def index_path(folder: Path, digest: str) -> Path:
    """Where the index of this content lies."""
    return folder / f"rules-{digest[:24]}.sqlite"


def _noted(seen: Path) -> tuple[str, int]:
    """Hash of the content, and size of its index, noted for a listing; ("", 0) where nothing whole is noted."""
    try:
        digest, _, size = read_text(seen).partition(" ")
        return (digest, int(size)) if len(digest) == 64 and digest.isalnum() else ("", 0)
    except (ReadingError, ValueError):
        return "", 0


def _note(seen: Path, digest: str, path: Path) -> None:
    with suppress(OSError, PrestrikeError):
        write_whole(seen, f"{digest} {path.stat().st_size}", durable=False)


def _opened(path: Path, digest: str, size: int = 0) -> Rulebook | None:
    """The rulebook of an index that is there, whole, and of this content; else None. size [bytes]: as noted, else the
    index is looked through."""
    try:
        if size and path.stat().st_size != size:
            return None
        index = Index(path)
        if not size and not index.is_whole():
            return None
        found = opened(index)
    except Exception:
        # Whatever is wrong with a file of the cache (torn, foreign, of another version), it is made anew.
        return None
    return found if found.content_hash == digest else None


def _listing_hash(listed: Sequence[Listed]) -> str:
    from advisor import __version__

    whole = hashlib.sha256(f"{FORMAT}:{__version__}".encode())
    for item in listed:
        whole.update(repr(item).encode())
    return whole.hexdigest()


def usable_folder(cache: Path | None) -> Path:
    """The cache folder, or one of our own among the temporary files where it cannot be written."""
    import tempfile

    if cache is not None:
        try:
            make_folder(cache)
            if os.access(cache, os.W_OK):
                return cache
        except PrestrikeError:
            pass
    folder = Path(tempfile.gettempdir()) / f"prestrike-{os.getuid() if hasattr(os, 'getuid') else 'user'}"
    make_folder(folder)
    return folder


def content_hash(files: Sequence[RuleFile]) -> str:
    """One hash of all files with their layers and names, and of the program's version."""
    from advisor import __version__

    whole = hashlib.sha256(f"{FORMAT}:{__version__}".encode())
    for file in files:
        whole.update(f"\0{file.layer}\0{file.shown_as}\0".encode())
        whole.update(file.digest.encode())
    return whole.hexdigest()


def opened(index: Index) -> Rulebook:
    """The rulebook of an index."""
    meta = index.meta("rulebook")
    return Rulebook(
        index,
        Vocabulary.from_data(index.meta("vocabulary")),
        meta["hash"],
        meta["rulesets"],
        [Diagnostic(**finding) for finding in meta["left_out"]],
        meta["replaced"],
    )


def _build(
    path: Path,
    files: Sequence[RuleFile],
    digest: str,
    schema_file: Callable[[str], Path],
    tools_for: Callable[[Vocabulary], Tools],
) -> None:
    build_index(path, digest, *compile_all(files, schema_file, tools_for, path.parent))


def build_index(
    path: Path, digest: str, vocabulary_data: Mapping[str, Any], tools: Tools, compiled: Sequence[Compiled]
) -> None:
    """Write the index of compiled files. Raises RulesBroken for faults in the built-in layer, and for clashes."""
    from advisor.rulebook.reading import compile as compiler

    usable, left_out = split_broken(compiled)
    rules, replaced, clashes = compiler.join_layers(usable)
    clashes += entry_clashes(usable)
    blame_clashes(clashes)
    rulesets = [
        {
            "name": item.ruleset,
            "version": item.version,
            "layer": item.layer,
            "file": item.file,
            "sha256": item.digest,
        }
        for item in usable
    ]
    meta: dict[str, Any] = {
        "vocabulary": vocabulary_data,
        "units": tools.unit_rows,
        "rulebook": {
            "hash": digest,
            "rulesets": rulesets,
            "left_out": [finding._asdict() for finding in left_out],
            "replaced": replaced,
        },
    }
    compiler.write_index(path, rules, usable, meta, INDEXED_ATTRIBUTE)
    compiler.remove_old_indexes(path.parent, path)


def compile_all(
    files: Sequence[RuleFile],
    schema_file: Callable[[str], Path],
    tools_for: Callable[[Vocabulary], Tools],
    store_folder: Path | None,
) -> tuple[Mapping[str, Any], Tools, list[Compiled]]:
    """The vocabulary, the tools, and every file compiled by itself."""
    from advisor.rulebook.compiled_cache import Store, program_hash
    from advisor.rulebook.reading import compile as compiler

    vocabulary_file, data = _vocabulary(files, schema_file)
    tools = tools_for(Vocabulary.from_data(data))
    schemas = {kind: schema_file(kind) for kind in compiler.KINDS}
    salt = hashlib.sha256(vocabulary_file.raw + program_hash().encode())
    for schema in schemas.values():
        salt.update(schema.read_bytes())
    store = Store(store_folder / "files.sqlite") if store_folder is not None else None
    compiled = compiler.compile_files(files, tools, schemas, store, salt.hexdigest()[:16])
    return data, tools, compiled


def _vocabulary(files: Sequence[RuleFile], schema_file: Callable[[str], Path]) -> tuple[RuleFile, Mapping[str, Any]]:
    from advisor.rulebook.reading.schema_check import kind_of, schema_findings

    named = [file for file in files if file.path.name == "vocabulary.yaml" and file.layer == LAYERS[0]]
    if len(named) != 1:
        raise RulesBroken(Diagnostic("no-vocabulary", "the built-in layer needs one vocabulary.yaml", "rules"))
    document = named[0].document()
    kind = kind_of(document)
    if kind != "vocabulary":
        raise RulesBroken(
            document.place(Diagnostic("unknown-value", f"'{kind}' stands where 'vocabulary' belongs"), ("kind",))
        )
    findings = schema_findings(document, schema_file("vocabulary"))
    if findings:
        raise RulesBroken(findings)
    return named[0], document.data


def split_broken(compiled: Sequence[Compiled]) -> tuple[list[Compiled], list[Diagnostic]]:
    """Usable files, and the findings of broken files above the built-in layer. Raises RulesBroken for built-in ones."""
    broken = [item for item in compiled if item.findings]
    built_in = [Diagnostic(**finding) for item in broken if item.layer == LAYERS[0] for finding in item.findings]
    if built_in:
        raise RulesBroken(built_in)
    left_out = [Diagnostic(**finding) for item in broken for finding in item.findings]
    return [item for item in compiled if not item.findings], left_out


def entry_clashes(compiled: Sequence[Compiled]) -> list[Diagnostic]:
    """Ids that stand twice, names that lead to two catalogue entries, and entries that name one that is not there."""
    from advisor.rulebook.reading.knowledge import broken_links

    owners: dict[tuple[str, str], tuple[str, str]] = {}
    first: dict[tuple[str, str], str] = {}
    clashes = []
    for item in compiled:
        for kind, entry_id, _, names in item.entries:
            if (kind, entry_id) in first:
                message = f"{kind} id '{entry_id}' is also in {first[kind, entry_id]}"
                clashes.append(
                    Diagnostic("duplicate-id", message, item.file, subject=entry_id, help="choose another id")
                )
            first.setdefault((kind, entry_id), item.file)
            for name in names:
                owner = owners.setdefault((kind, name), (entry_id, item.file))
                if owner[0] != entry_id:
                    message = f"{kind} name '{name}' leads to '{owner[0]}' ({owner[1]}) and to '{entry_id}'"
                    clashes.append(Diagnostic("duplicate-name", message, item.file, subject=entry_id))
    return clashes + broken_links(compiled)


def blame_clashes(clashes: Sequence[Diagnostic]) -> None:
    """Raise for clashes between files: no order of files may settle them."""
    if clashes:
        raise (RulesBroken(clashes) if all(c.file.startswith("rules/") for c in clashes) else PrestrikeError(clashes))
