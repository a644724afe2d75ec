"""Applies the repair that a finding tells, word for word, as a person would who only reads the help."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

_QUOTED = r"'([^']+)'"


class NoRepair(AssertionError):
    """The help names no repair that can be applied as it stands."""


def mend(text: str, finding: Mapping[str, Any]) -> str:
    """The text with the repair of one finding applied at its place."""
    help, line, column = str(finding["help"]), int(finding["line"]), int(finding["column"])
    lines = text.split("\n")
    row = lines[line - 1]
    before, after = row[: column - 1], row[column - 1 :]
    if found := re.match(rf"write {_QUOTED} in its place", help):
        lines[line - 1] = before + found[1] + after[_entry(after) :]
    elif found := re.match(rf"(?:did you mean|write(?: the decimal point:)?) {_QUOTED}", help):
        lines[line - 1] = before + _as_typed(found[1], after) + after[_value(after) :]
    elif found := re.search(rf"such as {_QUOTED}", help):
        lines[line - 1] = before + found[1] + after[_value(after) :]
    elif found := re.match(rf"(?:start with|add|say first) {_QUOTED}", help):
        return _added(lines, line, column, found[1])
    elif found := re.match(r"swap (\w+) and (\w+)", help):
        swap = {found[1]: found[2], found[2]: found[1]}
        lines[line - 1] = re.sub(rf"\b({found[1]}|{found[2]})(?=:)", lambda word: swap[word[1]], row)
    elif "row before the one above" in help:
        lines[line - 2 : line] = [lines[line - 1], lines[line - 2]]
    elif "take this one out" in help or help.startswith("take out"):
        return _without_entry(lines, line, column)
    elif help.startswith("take "):
        return _without_item(lines, line, column)
    elif help.startswith("remove the tag"):
        lines[line - 1] = before + re.sub(r"^!\S*\s*", "", after)
    elif help.startswith("use spaces"):
        lines[line - 1] = " " * _indent(lines[line - 2]) + row.lstrip()
    else:
        raise NoRepair(f"{finding['code']}: {finding['message']} -> {help!r}")
    return "\n".join(lines)


def _as_typed(new: str, old: str) -> str:
    """In quotes where the old word stood in quotes: 141 stays text."""
    return f"{old[0]}{new}{old[0]}" if old[:1] in "\"'" and new[:1] not in "\"'" else new


def _value(after: str) -> int:
    """Length of the scalar or flow collection at the start of a text."""
    if after[:1] in "\"'":
        return after.index(after[0], 1) + 1
    if after[:1] in "{[":
        return _closing(after)
    # A key ends at its colon, a plain scalar of a flow mapping at a comma or bracket.
    found = re.match(r"[^\s,:\]}][^,:\]}]*?(?=\s*(?:[,:\]}]|$))", after)
    return found.end() if found else 0


def _closing(after: str) -> int:
    depth = 0
    for index, letter in enumerate(after):
        depth += (letter in "{[") - (letter in "}]")
        if depth == 0:
            return index + 1
    raise AssertionError(f"no end of {after!r}")


def _entry(after: str) -> int:
    """Length of `key: value` at the start of a text."""
    start = re.match(r"[\w-]+:\s*", after)
    assert start, after
    return start.end() + _value(after[start.end() :])


def _added(lines: list[str], line: int, column: int, entry: str) -> str:
    row = lines[line - 1]
    if row[column - 1 :].startswith("{"):
        lines[line - 1] = f"{row[:column]}{entry}, {row[column:]}"
    else:
        # After the first key of a block mapping, or before the first line of a file.
        at = line if column > 1 else line - 1
        lines.insert(at, " " * (column - 1) + entry)
    return "\n".join(lines)


def _indent(row: str) -> int:
    return len(row) - len(row.lstrip())


def _without_entry(lines: list[str], line: int, column: int) -> str:
    row = lines[line - 1]
    before, after = row[: column - 1], row[column - 1 :]
    if before.strip(" -"):
        rest = after[_entry(after) :]
        lines[line - 1] = re.sub(r",?\s*$", "", before) + re.sub(r"^\s*,\s*", ", ", rest)
    else:
        del lines[line - 1]
    return "\n".join(lines)


def _without_item(lines: list[str], line: int, column: int) -> str:
    """Without the list item whose content begins at the place."""
    dash = lines[line - 1].rindex("-", 0, column - 1)
    end = line
    while end < len(lines) and (not lines[end].strip() or _indent(lines[end]) > dash):
        end += 1
    del lines[line - 1 : end]
    return "\n".join(lines)
