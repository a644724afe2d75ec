"""What published tables need: a source with its evidence, a spread, and errors for what no table covers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeVar

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError, did_you_mean

Evidence = Literal["read", "memory", "common-practice", "trial", "computed"]
Row = TypeVar("Row")


@dataclass(frozen=True)
class TableSource:
    """Where a number comes from. document: title, year, place in it; evidence: how surely it was seen."""

    document: str
    evidence: Evidence


@dataclass(frozen=True)
class Spread:
    """A low and a high figure for one quantity, both in its unit, with where they come from."""

    low: float
    high: float
    sources: tuple[TableSource, ...] = ()

    @property
    def middle(self) -> float:
        """Half way between the two ends, in their unit."""
        return 0.5 * (self.low + self.high)


class NotCoveredError(PrestrikeError):
    """No table or formula here covers the case asked for: no number is given."""

    exit_code = Exit.NO_RULE

    def __init__(self, message: str, subject: str = "", help: str = "") -> None:
        super().__init__(Diagnostic(code="not-covered", message=message, subject=subject, help=help))


def entry(table: Mapping[str, Row], key: str, kind: str) -> Row:
    """The row of a table that bears a name.

    Parameters: table, rows by name; key, the name looked for; kind, what the names are, for the message.
    Returns: the row, in the units of its table. Raises: NotCoveredError with the nearest name.
    Source: the table's own.
    Example: The factor of TIG in a table of heat-input factors (no unit).
    >>> entry({"111": 0.8, "141": 0.6}, "141", "process")
    0.6
    """
    if key not in table:
        raise NotCoveredError(f"no {kind} '{key}' in the table", kind, did_you_mean(key, table))
    return table[key]
