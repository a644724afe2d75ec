"""One YAML reader for the whole project: plain data plus the place of every key and value.

PyYAML composes the node tree with its C scanner; data and positions are built here, because PyYAML's own
constructor reads `no` as false, `010` as 8 and `12:30` as 750, keeps the last of two equal keys without a
word, and forgets every line number. Only true/false, null and plain decimals convert; the rest stays text.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic
from advisor.reading import ReadingError, as_text, read_bytes

MAX_BYTES = 1_000_000
MAX_DEPTH = 30
# No quantity of a shop needs more; thousands of digits are more than a computer holds.
MAX_DIGITS = 40
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?\Z")
_QUOTED = ("'", '"', "|", ">")
_WORDS: dict[str, bool | None] = {"true": True, "false": False, "null": None, "": None}

PathKey = tuple[str | int, ...]


class Document(NamedTuple):
    """A YAML file as plain data, with the line and column (1-based) of every key and value."""

    file: str
    data: Any
    lines: tuple[str, ...]
    values: dict[PathKey, tuple[int, int]]
    keys: dict[PathKey, tuple[int, int]]

    def place(self, diagnostic: Diagnostic, path: PathKey, *, at_key: bool = False) -> Diagnostic:
        """The diagnostic with file, line, column and source line of the key or value at `path`.

        Falls back to the nearest enclosing place, so that a finding always has a line.
        """
        places = self.keys if at_key else self.values
        line, column = places.get(path, (0, 0))
        while not line and path:
            line, column = self.keys.get(path) or self.values.get(path) or (0, 0)
            path = path[:-1]
        line, column = line or 1, column or 1
        frame = self.lines[line - 1] if line <= len(self.lines) else ""
        return diagnostic.at(self.file, line, column, frame[:200])


def read_yaml(path: Path, shown_as: str | None = None) -> Document:
    """Read a YAML file. Raises PrestrikeError naming file, line and column for anything but one plain document."""
    name = shown_as or str(path)
    return parse_yaml(read_bytes(path, MAX_BYTES, name), name)


def parse_yaml(raw: bytes, name: str) -> Document:
    """Parse the bytes of a YAML file shown as `name`. Raises PrestrikeError."""
    if len(raw) > MAX_BYTES:
        raise _refuse(name, "too-large", f"larger than {MAX_BYTES} bytes", "split the file by topic")
    if b"\0" in raw:
        line = raw[: raw.index(0)].count(b"\n") + 1
        message = "holds zero bytes, so it is not a text file"
        raise ReadingError(Diagnostic("not-text", message, name, line, 1, help="name a YAML text file"))
    text = as_text(raw, name)
    lines = tuple(text.splitlines())
    _refuse_tabs(name, lines)
    return _Builder(name, lines).document(text)


def _refuse(name: str, code: str, message: str, repair: str) -> ReadingError:
    return ReadingError(Diagnostic(code, message, name, help=repair))


def _refuse_tabs(name: str, lines: tuple[str, ...]) -> None:
    for number, line in enumerate(lines, 1):
        if "\t" in line:
            column = line.index("\t") + 1
            raise ReadingError(
                Diagnostic(
                    "tab", "tab character", name, number, column, help="use spaces in its place", frame=line[:200]
                )
            )


class _Builder:
    """Turns PyYAML's node tree into plain data and a position map."""

    def __init__(self, name: str, lines: tuple[str, ...]) -> None:
        self.name = name
        self.lines = lines
        self.values: dict[PathKey, tuple[int, int]] = {}
        self.keys: dict[PathKey, tuple[int, int]] = {}

    def document(self, text: str) -> Document:
        import yaml

        loader_class = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
        try:
            self._refuse_anchors_and_tags(yaml, text, loader_class)
            node = yaml.compose(text, Loader=loader_class)
        except yaml.MarkedYAMLError as error:
            raise self._syntax(error) from None
        except yaml.YAMLError as error:
            raise _refuse(self.name, "yaml", str(error).splitlines()[0], "mend the YAML") from None
        if node is None:
            raise _refuse(self.name, "empty", "the file holds nothing", "write the file or remove it")
        data = self._build(node, ())
        return Document(self.name, data, self.lines, self.values, self.keys)

    def _syntax(self, error: Any) -> ReadingError:
        mark = error.problem_mark or error.context_mark
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        message = (error.problem or error.context or "not readable as YAML").strip()
        repair = "one document a file" if "single document" in str(error) else "check indentation, colons and quotes"
        return ReadingError(self._at("yaml", message, line, column, repair))

    def _at(self, code: str, message: str, line: int, column: int, repair: str) -> Diagnostic:
        frame = self.lines[line - 1][:200] if 0 < line <= len(self.lines) else ""
        return Diagnostic(code, message, self.name, line, column, help=repair, frame=frame)

    def _refuse_anchors_and_tags(self, yaml: Any, text: str, loader_class: Any) -> None:
        """Events come before the tree, so an alias bomb or a very deep nest never unfolds."""
        depth = 0
        for event in yaml.parse(text, Loader=loader_class):
            mark = event.start_mark
            if isinstance(event, yaml.CollectionStartEvent):
                depth += 1
            elif isinstance(event, yaml.CollectionEndEvent):
                depth -= 1
            if depth > MAX_DEPTH:
                place = (mark.line + 1, mark.column + 1)
                raise ReadingError(self._at("too-deep", f"nested deeper than {MAX_DEPTH}", *place, "flatten it"))
            anchor = getattr(event, "anchor", None)
            if anchor is not None:
                raise ReadingError(
                    self._at(
                        "anchor",
                        f"anchor or alias '{anchor}'",
                        mark.line + 1,
                        mark.column + 1,
                        "write it out",
                    )
                )
            tag = getattr(event, "tag", None)
            if tag is not None:
                raise ReadingError(
                    self._at("tag", f"YAML tag '{tag}'", mark.line + 1, mark.column + 1, "remove the tag")
                )

    def _build(self, node: Any, path: PathKey) -> Any:
        mark = node.start_mark
        self.values[path] = (mark.line + 1, mark.column + 1)
        if node.id == "scalar":
            return node.value if node.style in _QUOTED else self._plain(node)
        if node.id == "sequence":
            return [self._build(item, (*path, index)) for index, item in enumerate(node.value)]
        return self._mapping(node, path)

    def _plain(self, node: Any) -> Any:
        text = node.value
        if len(text) > MAX_DIGITS and _NUMBER.match(text):
            message = f"a number of {len(text)} digits"
            line, column = node.start_mark.line + 1, node.start_mark.column + 1
            repair = f"write it with at most {MAX_DIGITS} digits, or in quotes if it is text"
            raise ReadingError(self._at("long-number", message, line, column, repair))
        return _scalar(text)

    def _mapping(self, node: Any, path: PathKey) -> dict[str, Any]:
        data: dict[str, Any] = {}
        for key_node, value_node in node.value:
            mark = key_node.start_mark
            line, column = mark.line + 1, mark.column + 1
            if key_node.id != "scalar":
                raise ReadingError(self._at("key", "a key must be a plain word", line, column, "name the key"))
            key = key_node.value
            if key in data:
                first = self.keys[(*path, key)][0]
                message = f"key '{key}' stands twice in one mapping, first in line {first}"
                raise ReadingError(
                    self._at("duplicate-key", message, line, column, "keep one of the two: take this one out")
                )
            self.keys[(*path, key)] = (line, column)
            data[key] = self._build(value_node, (*path, key))
        return data


def _scalar(text: str) -> Any:
    if text in _WORDS:
        return _WORDS[text]
    if _NUMBER.match(text):
        return float(text) if "." in text else int(text)
    return text
