"""The one way files are read: regular files only, never without a limit, and every fault a finding with its place.

What may hang or never end (pipes, sockets, devices, links that go round) is told by its kind and never opened.
`write` names stay out of here: a file that cannot be read is always called so.
"""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

from advisor.diagnostics import Diagnostic, PrestrikeError

# A photo or a journal export of a busy shop is far smaller; what is larger is not what was meant.
MOST_BYTES = 50_000_000
MOST_DEPTH = 60
_KINDS = (
    (stat.S_ISDIR, "a directory"),
    (stat.S_ISFIFO, "a named pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


class ReadingError(PrestrikeError):
    """A file that cannot be read, or is not of the form wanted."""


def is_file(path: str | Path) -> bool:
    """Whether a regular file is there. Never raises: a name no system can hold is no file."""
    return os.path.isfile(path)


def is_folder(path: str | Path) -> bool:
    """Whether a folder is there. Never raises."""
    return os.path.isdir(path)


def is_there(path: str | Path) -> bool:
    """Whether anything is there, also a link that leads nowhere. Never raises."""
    return os.path.lexists(path)


def names_in(folder: Path) -> list[Path]:
    """What a folder holds, by name. Raises ReadingError where it cannot be looked into."""
    try:
        return sorted(folder.iterdir())
    except OSError as error:
        text = f"cannot read the folder: {error.strerror}"
        raise ReadingError(Diagnostic("cannot-read", text, str(folder), help="check the path and rights")) from None


def opened(path: str | Path, shown_as: str = "", repair: str = "check the path and rights") -> IO[bytes]:
    """The regular file at a path, open for reading. Raises ReadingError for anything else, without opening it."""
    name = shown_as or str(path)
    try:
        _refuse_kind(os.stat(path), name)
        # Never waits for the other end of a pipe, should one have taken the place of the file meanwhile.
        number = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0))
        stream = os.fdopen(number, "rb")
        _refuse_kind(os.fstat(number), name)
        return stream
    except (OSError, ValueError) as error:
        raise _unreadable(name, error, repair) from None


def read_bytes(
    path: str | Path, most: int = MOST_BYTES, shown_as: str = "", repair: str = "check the path and rights"
) -> bytes:
    """The bytes of a regular file of at most `most` bytes. Raises ReadingError for anything else."""
    name = shown_as or str(path)
    with opened(path, name, repair) as stream:
        try:
            raw = stream.read(most + 1)
        except OSError as error:
            raise _unreadable(name, error, repair) from None
    if len(raw) > most:
        text = f"larger than {most} bytes"
        raise ReadingError(Diagnostic("too-large", text, name, help="name a smaller file, or split it"))
    return raw


def read_text(
    path: str | Path, most: int = MOST_BYTES, shown_as: str = "", repair: str = "check the path and rights"
) -> str:
    """The text of a UTF-8 file; a mark at its start is left out. Raises ReadingError with the place of a wrong byte."""
    return as_text(read_bytes(path, most, shown_as, repair), shown_as or str(path))


def as_text(raw: bytes, name: str) -> str:
    """Bytes of a file shown as `name` as text. Raises ReadingError with line and column of what is not UTF-8."""
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # With a mark at the start, Python counts from behind it.
        start = error.start + len(raw) - len(error.object)
        line = raw[:start].count(b"\n") + 1
        column = start - raw.rfind(b"\n", 0, start)
        raise ReadingError(
            Diagnostic("not-utf8", "not UTF-8 text", name, line, column, help="save the file as UTF-8")
        ) from None


def read_json(path: str | Path, repair: str = "check the path and rights") -> Any:
    """The data of a JSON file. Raises ReadingError with the place."""
    return parse_json(read_text(path, repair=repair), str(path))


def parse_json(text: str, name: str) -> Any:
    """The data of a JSON text shown as `name`. Raises ReadingError for what is no JSON, is nested too deep, holds a
    number no computer holds, or text that is no text."""
    try:
        data = json.loads(text, parse_constant=_no_constant, parse_float=_finite, parse_int=_whole)
        if _deeper(data, MOST_DEPTH):
            raise RecursionError
        if "\\u" in text:
            json.dumps(data, ensure_ascii=False).encode()
        return data
    except RecursionError:
        finding = Diagnostic("too-deep", f"nested deeper than {MOST_DEPTH}", name, help="flatten it")
    except json.JSONDecodeError as error:
        finding = Diagnostic("not-json", f"this is no JSON: {error.msg}", name, error.lineno, error.colno)
    except UnicodeEncodeError:
        finding = Diagnostic("not-json", "this is no JSON: half a character (\\ud800 to \\udfff)", name)
    except _NoNumber as error:
        line, column = _place_of(text, error.word)
        finding = Diagnostic("not-json", f"this is no JSON: {error}", name, line, column)
    raise ReadingError(finding._replace(help=finding.help or "write the file again, or mend it there"))


def csv_rows(text: str, name: str) -> Iterator[tuple[int, list[str]]]:
    """The rows of a CSV text shown as `name`, each with the line it begins in: a cell may hold line breaks. Raises
    ReadingError with the line of a row that is no CSV."""
    import csv
    import io

    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    begins = 1
    try:
        for cells in reader:
            line, begins = begins, reader.line_num + 1
            yield line, cells
    except csv.Error as error:
        repair = "a CSV file in UTF-8 with a header line; quotes come in pairs"
        raise ReadingError(Diagnostic("not-csv", f"this is no CSV: {error}", name, begins, 1, help=repair)) from None


class _NoNumber(ValueError):
    def __init__(self, word: str, why: str) -> None:
        self.word = word
        super().__init__(f"{word if len(word) <= 24 else word[:20] + ' ...'} {why}")


def _no_constant(word: str) -> float:
    raise _NoNumber(word, "is no number")


def _finite(word: str) -> float:
    value = float(word)
    if value - value != 0:
        raise _NoNumber(word, "is too large for a number")
    return value


def _whole(word: str) -> int:
    # Beyond this no float holds it; far beyond, Python itself refuses.
    if len(word) > 300:
        raise _NoNumber(word, f"has {len(word)} digits: too large for a number")
    return int(word)


def _place_of(text: str, word: str) -> tuple[int, int]:
    start = max(text.find(word), 0)
    return text.count("\n", 0, start) + 1, start - text.rfind("\n", 0, start)


def _deeper(data: Any, most: int) -> bool:
    layer = [data]
    for _ in range(most + 1):
        layer = [
            value
            for item in layer
            if isinstance(item, (dict, list))
            for value in (item.values() if isinstance(item, dict) else item)
        ]
        if not layer:
            return False
    return True


def _refuse_kind(found: os.stat_result, name: str) -> None:
    if stat.S_ISREG(found.st_mode):
        return
    kind = next((text for test, text in _KINDS if test(found.st_mode)), "something else")
    raise ReadingError(Diagnostic("not-a-file", f"this is {kind}, not a file", name, help="name a file"))


def _unreadable(name: str, error: Exception, repair: str) -> ReadingError:
    reason = getattr(error, "strerror", None) or "no system can hold a file of that name"
    return ReadingError(Diagnostic("cannot-read", f"cannot read the file: {reason}", name, help=repair))
