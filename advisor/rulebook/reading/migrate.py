"""Moves rule files of an older format number forward, one number at a time, as edits of their text: comments stay.

A step belongs to the number it starts from and says what to change as places in the text. Format 1 is the first and so
far the only one, so STEPS is empty: the next change of the format adds its step here.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.rulebook.reading.yaml_text import Document, parse_yaml

NEWEST = 1


class Edit(NamedTuple):
    """`old` at a place (line and column from 1) becomes `new`; both without line breaks."""

    line: int
    column: int
    old: str
    new: str


Step = Callable[[Document], Sequence[Edit]]
STEPS: Mapping[int, Step] = {}


class Migrated(NamedTuple):
    """A file's text before and after, and the numbers it went through."""

    before: str
    after: str
    numbers: tuple[int, ...]


def migrate(raw: bytes, name: str, steps: Mapping[int, Step] = STEPS, newest: int = NEWEST) -> Migrated:
    """The text of a rule file at the newest format number.

    Raises PrestrikeError where the file has no number, has one that this program does not know, or where no step leads
    on from it.
    """
    document = parse_yaml(raw, name)
    before = text = raw.decode("utf-8-sig")
    numbers = [_number(document, newest)]
    while (number := numbers[-1]) < newest:
        if number not in steps:
            message = f"no step leads on from format {number}"
            raise _refused(document, message, f"write the file anew in format {newest}: prestrike rules new")
        line, column = document.values[("schema",)]
        edits = [*steps[number](document), Edit(line, column, str(number), str(number + 1))]
        text = edited(text, edits, name)
        document = parse_yaml(text.encode(), name)
        numbers.append(number + 1)
    return Migrated(before, text, tuple(numbers))


def edited(text: str, edits: Sequence[Edit], name: str) -> str:
    """The text with all edits made, last place first. Raises PrestrikeError where `old` does not stand at its place."""
    lines = text.splitlines(keepends=True)
    for edit in sorted(edits, reverse=True):
        row = lines[edit.line - 1]
        start, end = edit.column - 1, edit.column - 1 + len(edit.old)
        if row[start:end] != edit.old:
            message = f"'{edit.old}' was expected here, and it is not"
            raise PrestrikeError(Diagnostic("migrate", message, name, edit.line, edit.column, help="change it by hand"))
        lines[edit.line - 1] = row[:start] + edit.new + row[end:]
    return "".join(lines)


def _number(document: Document, newest: int) -> int:
    found = document.data.get("schema") if isinstance(document.data, dict) else None
    if not isinstance(found, int) or isinstance(found, bool):
        raise _refused(document, "the file has no format number", f"add 'schema: {newest}'")
    if found > newest:
        message = f"format {found} is newer than this program, which knows {newest}"
        raise _refused(document, message, "update prestrike")
    return found


def _refused(document: Document, message: str, repair: str) -> PrestrikeError:
    return PrestrikeError(document.place(Diagnostic("migrate", message, help=repair), ("schema",)))
