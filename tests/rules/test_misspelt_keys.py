"""Every kind of key of every shipped file, misspelt in turn at every level, is reported with file, line and column.

Keys at one place of the structure (the same path but for the numbers of list items) count as one kind: in each file the
first of them is tried.

A file is cut into its header and one list item at a time, so that each of several thousand keys is read in a
small document by the same code that reads the whole file.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from advisor.resources import rules_folder, schema_file
from advisor.rulebook.library import open_rulebook  # noqa: F401  (the same module that serves answers)
from advisor.rulebook.reading.compile import KINDS, RuleFile, compile_file
from advisor.rulebook.reading.knowledge import KNOWLEDGE
from advisor.rulebook.reading.rule_reader import Tools
from advisor.rulebook.reading.schema_check import schema_findings
from advisor.rulebook.reading.yaml_text import Document, parse_yaml, read_yaml
from advisor.rulebook.vocabulary import Vocabulary
from advisor.shop.rules_in_force import make_tools

FILES = sorted(rules_folder().rglob("*.yaml"))
LISTS = ("rules", "materials", "gauges", *KNOWLEDGE)


@cache
def tools() -> Tools:
    return make_tools(Vocabulary.from_data(read_yaml(rules_folder() / "vocabulary.yaml").data))


def slices(document: Document) -> Iterator[str]:
    """Header with one item each of the file's main list; a file without one whole."""
    name = next((item for item in LISTS if item in document.data), "")
    if not name:
        yield "\n".join(document.lines) + "\n"
        return
    starts = [document.values[(name, index)][0] for index in range(len(document.data[name]))]
    header = list(document.lines[: starts[0] - 1])
    for first, last in zip(starts, [*starts[1:], len(document.lines) + 1], strict=True):
        yield "\n".join([*header, *document.lines[first - 1 : last - 1]]) + "\n"


def misspell(key: str) -> str:
    """One letter doubled: the commonest slip, and never another valid key."""
    return key + key[-1] + "q"


def findings(text: str, name: str) -> list[dict[str, object]]:
    schemas = {kind: schema_file(kind) for kind in KINDS}
    compiled = compile_file(RuleFile("built-in", Path(name), name, text.encode()), tools(), schemas)
    return compiled.findings


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(rules_folder()).as_posix())
def test_every_misspelt_key_is_reported_with_its_place(path: Path) -> None:
    name = f"rules/{path.relative_to(rules_folder()).as_posix()}"
    accepted, misplaced, tried = [], [], 0
    kinds: set[tuple[str, ...]] = set()
    for text in slices(read_yaml(path)):
        document = parse_yaml(text.encode(), name)
        for key_path, (line, column) in document.keys.items():
            kind = tuple("*" if isinstance(step, int) else str(step) for step in key_path)
            if kind in kinds:
                continue
            kinds.add(kind)
            tried += 1
            key = str(key_path[-1])
            lines = text.splitlines()
            row = lines[line - 1]
            assert row[column - 1 : column - 1 + len(key)] == key
            lines[line - 1] = row[: column - 1] + misspell(key) + row[column - 1 + len(key) :]
            found = findings("\n".join(lines) + "\n", name)
            if not found:
                accepted.append(key_path)
            elif not any((f["file"], f["line"], f["column"]) == (name, line, column) for f in found):
                misplaced.append((key_path, found[0]))
    assert tried > 5
    assert not accepted
    assert not misplaced


def test_vocabulary_keeps_its_schema() -> None:
    assert schema_findings(read_yaml(rules_folder() / "vocabulary.yaml"), schema_file("vocabulary")) == []
