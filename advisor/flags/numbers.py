"""Quantities of single flags, in house units."""

from __future__ import annotations

from advisor.diagnostics import PrestrikeError
from advisor.units.quantities import QuantityError, UnitTable, parse_quantity


def number_of(text: str, kind: str, units: UnitTable, subject: str = "") -> float:
    """A flag's quantity in its house unit, 0 where not given. subject: what a fault of it is said to be of."""
    if not text:
        return 0.0
    try:
        return parse_quantity(text, kind, table=units).value
    except QuantityError as error:
        raise PrestrikeError([item._replace(subject=subject) for item in error.diagnostics]) from None


class Lengths:
    """Lengths of flags in mm; 0 where none was given."""

    def __init__(self, units: UnitTable) -> None:
        self.units = units

    def of(self, text: str, flag: str) -> float:
        """A length [mm]; a fault names the flag."""
        return number_of(text, "length", self.units, f"--{flag}")
