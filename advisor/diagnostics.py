"""What a person is told when something is wrong: one shape for every error, and the exit codes.

A `Diagnostic` names the place (file, line, column), the offending key or value, and the repair.
Every error raised on purpose is a `PrestrikeError` that carries one or more of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import IntEnum
from typing import NamedTuple


class Exit(IntEnum):
    """Exit codes of the command."""

    ADVISED = 0
    OUR_FAULT = 1
    BAD_INPUT = 2
    NO_RULE = 3
    REFUSED = 4


_EXITS = {"advised": Exit.ADVISED, "no-rule": Exit.NO_RULE, "refused": Exit.REFUSED}


def exit_for(status: str, left_out: bool) -> Exit:
    """The exit code of an answer by its status: advised, no-rule or refused.

    A rule file that had to be left out is bad input, even when an answer was found.
    """
    code = _EXITS[status]
    return Exit.BAD_INPUT if code is Exit.ADVISED and left_out else code


class Diagnostic(NamedTuple):
    """One finding.

    code: short stable name such as ``unknown-key``. message: one sentence. file, line, column: place,
    1-based, 0 where it has none. subject: rule id or field. help: the repair. frame: the source line.
    """

    code: str
    message: str
    file: str = ""
    line: int = 0
    column: int = 0
    subject: str = ""
    help: str = ""
    frame: str = ""

    def place(self) -> str:
        """`file:line:column`, as much of it as is known."""
        if not self.file:
            return ""
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file

    def text(self) -> str:
        """The finding as a person reads it: place, code, message, source line with a caret, repair."""
        head = f"{self.place()}: " if self.file else ""
        lines = [f"{head}{self.code}: {self.message}"]
        if self.subject:
            lines[0] += f" [{self.subject}]"
        if self.frame and self.line:
            number = f"{self.line:5d} | "
            lines.append(f"{number}{self.frame}")
            lines.append(" " * (len(number) + max(self.column - 1, 0)) + "^")
        if self.help:
            lines.append(f"  help: {self.help}")
        return "\n".join(lines)

    def as_json(self) -> dict[str, str | int]:
        """The finding as plain JSON data; empty fields left out."""
        fields: dict[str, str | int] = {
            "code": self.code,
            "message": self.message,
            "file": self.file,
            "line": self.line,
            "column": self.column,
            "subject": self.subject,
            "help": self.help,
        }
        return {key: value for key, value in fields.items() if value}

    def at(self, file: str, line: int = 0, column: int = 0, frame: str = "") -> Diagnostic:
        """The same finding with a place."""
        return self._replace(file=file, line=line, column=column, frame=frame)


class PrestrikeError(Exception):
    """An error a person can mend. Carries diagnostics and the exit code to end with."""

    exit_code: Exit = Exit.BAD_INPUT

    def __init__(self, diagnostics: Diagnostic | Iterable[Diagnostic]) -> None:
        found = (diagnostics,) if isinstance(diagnostics, Diagnostic) else tuple(diagnostics)
        if not found:
            raise ValueError("a PrestrikeError needs at least one diagnostic")
        self.diagnostics: Sequence[Diagnostic] = found
        super().__init__("\n".join(item.text() for item in found))


def nearest(word: str, known: Iterable[str]) -> str:
    """The valid name most like `word`, or an empty string where none is near (difflib ratio 0.6)."""
    from difflib import get_close_matches

    by_fold = {name.casefold(): name for name in known}
    found = get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.6)
    return by_fold[found[0]] if found else ""


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A repair sentence for a name that is not known: the nearest one, or the list where it is short."""
    names = list(known)
    near = nearest(word, names)
    if near:
        return f"did you mean '{near}'?"
    listed = ", ".join(names[:12]) + (" ..." if len(names) > 12 else "")
    return f"known here: {listed}"
