"""Standard output and its words, set up once at the start: whatever is printed, and whoever has stopped reading, an
answer ends with its own exit code.
"""

from __future__ import annotations

import codecs
import io
import math
import os
import sys
import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any, TextIO

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.plain_text import shown

# What a terminal without these signs is shown in their place; letters lose their accents, the rest is spelled in hex.
_PLAIN = {
    "°": " deg ", "Δ": "delta ", "²": "^2", "³": "^3", "×": "x", "−": "-", "–": "-", "—": "-", "→": "->", "µ": "u",
    "μ": "u", "·": "*", "≤": "<=", "≥": ">=", "±": "+/-", "…": "...", "‘": "'", "’": "'", "“": '"', "”": '"',
}  # fmt: skip
_HANDLER = "prestrike-plain"


class OutputLost(OSError):
    """What was printed could not be written: a full disk, not a reader that has gone."""


class _Descriptor(io.FileIO):
    """A standard stream that goes on when its reader has gone (`prestrike rules check | head`)."""

    def write(self, data: Any, /) -> int:
        try:
            return super().write(data)
        except BrokenPipeError:
            return memoryview(data).nbytes
        except OSError as error:
            raise OutputLost(error.errno, error.strerror) from None


class _ShownText(io.TextIOWrapper):
    """The printing edge: no control character of a name, a note or a rule gets past it."""

    def write(self, text: str, /) -> int:
        return super().write(shown(text))

    def redraw(self, text: str) -> None:
        """Write text of the program's own, with its carriage returns: a bar that is drawn again."""
        super().write(text)


def redraw(text: str) -> None:
    """Draw again on the error stream."""
    (sys.stderr.redraw if isinstance(sys.stderr, _ShownText) else sys.stderr.write)(text)
    sys.stderr.flush()


def set_up() -> None:
    """Make both standard streams ones that print any text, and that no closed pipe ends."""
    codecs.register_error(_HANDLER, _plain)
    sys.stdout, sys.stderr = _sturdy(sys.stdout), _sturdy(sys.stderr)


def _sturdy(stream: TextIO) -> TextIO:
    try:
        number = stream.fileno()
    except (AttributeError, OSError, ValueError):
        return stream  # closed by the caller, or no file at all: nothing is printed there
    raw = _Descriptor(number, "wb", closefd=False)
    errors = "backslashreplace" if is_utf8(stream.encoding) else _HANDLER
    return _ShownText(
        io.BufferedWriter(raw), stream.encoding, errors, line_buffering=stream.isatty() or stream is sys.stderr
    )


def is_utf8(encoding: str | None) -> bool:
    """Whether an encoding holds every character."""
    try:
        return codecs.lookup(encoding or "ascii").name in ("utf-8", "utf-16", "utf-32")
    except LookupError:
        return False


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    bad = error.object[error.start : error.end]
    return "".join(_PLAIN.get(sign) or _spelled(sign) for sign in bad), error.end


def _spelled(sign: str) -> str:
    bare = unicodedata.normalize("NFKD", sign).encode("ascii", "ignore").decode()
    return bare or sign.encode("ascii", "backslashreplace").decode()


def json_text(data: object, encoding: str | None = None) -> str:
    """Plain data as JSON for standard output, or for a file of that encoding. A number that is none becomes null: JSON
    has no word for it."""
    import json

    ascii_only = not is_utf8(encoding or getattr(sys.stdout, "encoding", None) or "utf-8")
    try:
        return json.dumps(data, indent=2, ensure_ascii=ascii_only, allow_nan=False)
    except ValueError:
        return json.dumps(_finite(data), indent=2, ensure_ascii=ascii_only, allow_nan=False)


def _finite(data: object) -> object:
    if isinstance(data, Mapping):
        return {key: _finite(value) for key, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [_finite(value) for value in data]
    return None if isinstance(data, float) and not math.isfinite(data) else data


def finish() -> None:
    """Write out what is still held back. Raises OutputLost."""
    for stream in (sys.stdout, sys.stderr):
        if stream is not None:
            stream.flush()


def drop() -> None:
    """Let go of what cannot be written, so that the interpreter does not try again at its end."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


def readable(arguments: Sequence[str]) -> list[str]:
    """The arguments as text. Raises PrestrikeError for bytes that are no UTF-8."""
    found = []
    for number, argument in enumerate(arguments, 1):
        try:
            argument.encode()
            found.append(argument)
        except UnicodeEncodeError:
            found.append(_as_utf8(argument, number))
    return found


def _as_utf8(argument: str, number: int) -> str:
    """A shell without a language hands over plain UTF-8 as bytes: those are read; anything else is refused."""
    try:
        return os.fsencode(argument).decode()
    except UnicodeError:
        shown = argument.encode("utf-8", "backslashreplace").decode()[:60]
        text = f"argument {number} is not UTF-8 text: '{shown}'"
        repair = "type it again; a file with such a name wants another name"
        raise PrestrikeError(Diagnostic("not-utf8", text, help=repair)) from None
