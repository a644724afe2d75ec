"""Quantities: one strict grammar from text to number, and numbers in both unit systems back to text.

Text never goes to the unit library whole: it reads `1,5 mm` as 15 mm and `2 1/2 in` as 1 in. The grammar is one
decimal number (with a point), a fraction or a mixed number, then a unit of the kind the caller expects.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.units.formatting import format_house, in_both_systems, inch_fraction, range_in_both_systems
from advisor.units.table import HOUSE_UNITS, UnitTable, is_inch_unit

__all__ = [
    "HOUSE_UNITS",
    "Quantity",
    "QuantityError",
    "UnitTable",
    "format_house",
    "in_both_systems",
    "inch_fraction",
    "is_inch_unit",
    "parse_quantity",
    "range_in_both_systems",
]

MOST_TEXT = 60
_NUMBER = r"(?P<decimal>[0-9]+\.?[0-9]*|\.[0-9]+)"
_FRACTION = r"(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)"
_GRAMMAR = re.compile(rf"(?P<sign>[+\-−]?)\s*(?:{_FRACTION}(?![0-9.])|{_NUMBER})\s*(?P<unit>.*)", re.DOTALL)
_GAUGE = re.compile(r"ga(?:uge)?\.?|g\.?\Z", re.IGNORECASE)

# kind -> (smallest, largest) value in the house unit that a shop could mean; beyond is a slip of unit or finger.
PLAUSIBLE: Mapping[str, tuple[float, float]] = {
    "length": (0.005, 100_000),
    "current": (0.1, 2_000),
    "voltage": (0.1, 1_000),
    "gas_flow": (0.05, 500),
    "speed": (0.1, 100_000),
    "wire_feed": (0.01, 100),
    "angle": (0.1, 360),
    "time": (0.001, 10_000_000),
    "temperature": (-200, 4_000),
    "temperature_difference": (0.01, 4_000),
    "frequency": (0.1, 100_000),
    "percent": (0.001, 100),
    "mass_percent": (0.0001, 100),
    "mass": (0.001, 1e8),
    "force": (0.001, 1e8),
}
_EXAMPLES = {
    "length": "3.2 mm or 1/8 in",
    "gas_flow": "7 L/min or 15 cfh",
    "speed": "150 mm/min or 6 in/min",
    "temperature": "120 degC or 250 degF",
    "temperature_difference": "40 K",
    "current": "125 A",
    "time": "5 s",
    "percent": "65 %",
    "angle": "60 deg",
}


class QuantityError(PrestrikeError):
    """Text that is no quantity of the kind wanted."""


class Quantity(NamedTuple):
    """A quantity. value: in the house unit of its kind; unit, text: as typed."""

    value: float
    kind: str
    unit: str
    text: str

    def in_unit(self, unit: str, table: UnitTable | None = None) -> float:
        """The number in another unit of the same kind. Raises QuantityError for a unit of another kind."""
        factor, offset = _factor(unit, self.kind, table or default_table(), self.text)
        return (self.value - offset) / factor


@lru_cache(maxsize=1)
def default_table() -> UnitTable:
    """The unit table, built once. Imports the unit library."""
    from advisor.units.spellings import build_unit_table

    return build_unit_table()


def _error(code: str, message: str, help: str) -> QuantityError:
    return QuantityError(Diagnostic(code, message, help=help))


def _example(kind: str) -> str:
    return f"write for example {_EXAMPLES.get(kind, '1 ' + HOUSE_UNITS.get(kind, ''))}"


def parse_quantity(
    text: str,
    kind: str,
    *,
    table: UnitTable | None = None,
    metal_family: str | None = None,
    gauges: Mapping[str, Mapping[int, float]] | None = None,
    allow_zero: bool = False,
) -> Quantity:
    """The quantity a text means.

    kind: a key of HOUSE_UNITS. metal_family, gauges: for sheet gauges (family -> gauge -> mm), since steel and
    aluminium gauges differ. Raises QuantityError for anything else than one number and one unit of that kind.
    """
    shown = text if len(text) <= MOST_TEXT else text[:MOST_TEXT] + "..."
    if len(text) > MOST_TEXT:
        raise _error("too-long", f"'{shown}' is too long for a quantity", _example(kind))
    value, unit = _number_and_unit(text.strip(), kind)
    if kind == "length" and unit and _GAUGE.fullmatch(unit):
        return _gauge(text, value, metal_family, gauges or {})
    units = table or default_table()
    factor, offset = _factor(unit, kind, units, text)
    house = value * factor + offset
    _check_size(house, value, kind, text, allow_zero)
    return Quantity(house, kind, unit, text)


def _number_and_unit(text: str, kind: str) -> tuple[float, str]:
    if re.match(r"[+\-−]?[0-9]*,[0-9]", text):
        raise _error(
            "decimal-comma", f"'{text}' has a comma", f"write the decimal point: '{text.replace(',', '.', 1)}'"
        )
    if re.match(r"[+\-−]?(nan|inf|infinity)\b", text, re.IGNORECASE):
        raise _error("not-finite", f"'{text}' is no finite number", _example(kind))
    match = _GRAMMAR.fullmatch(text)
    if match is None:
        raise _error("no-number", f"'{text}' does not start with a number", _example(kind))
    if match["under"] is not None:
        if int(match["under"]) == 0:
            raise _error("no-number", f"'{text}' divides by zero", _example(kind))
        value = int(match["whole"] or 0) + int(match["over"]) / int(match["under"])
    else:
        value = float(match["decimal"])
    if match["sign"] in ("-", "−"):
        value = -value
    unit = match["unit"].strip()
    if re.match(r"[0-9./]|[eE][+\-]?[0-9]|to\b|-|–", unit):
        raise _error("not-one-number", f"'{text}' is not one number and one unit", _example(kind))
    return value, unit


def _factor(unit: str, kind: str, table: UnitTable, text: str) -> tuple[float, float]:
    found = table.factors.get((kind, unit))
    if found is not None:
        return found
    if not unit:
        raise _error("missing-unit", f"'{text}' has no unit", _example(kind))
    if kind.startswith("temperature") and unit in ("C", "F", "c", "f"):
        letter = unit.upper()
        wanted = f"deg{letter}" if kind == "temperature" else f"delta deg{letter}"
        raise _error("temperature-letter", f"'{unit}' alone is no temperature unit", f"write {wanted}")
    folded = [
        spelling for (of_kind, spelling) in table.factors if of_kind == kind and spelling.casefold() == unit.casefold()
    ]
    if len(folded) == 1:
        return table.factors[kind, folded[0]]
    others = sorted({of_kind for (of_kind, spelling) in table.factors if spelling == unit})
    if others:
        message = f"'{unit}' is a unit of {others[0].replace('_', ' ')}, not of {kind.replace('_', ' ')}"
        raise _error("wrong-dimension", message, _example(kind))
    repair = did_you_mean(unit, table.spellings(kind))
    raise _error("unknown-unit", f"'{unit}' is no unit of {kind.replace('_', ' ')}", repair or _example(kind))


def _check_size(house: float, number: float, kind: str, text: str, allow_zero: bool) -> None:
    low, high = PLAUSIBLE.get(kind, (1e-9, 1e12))
    if kind != "temperature":
        if number < 0 or (number == 0 and not allow_zero):
            what = "below zero" if number < 0 else "zero"
            raise _error("not-positive", f"'{text}' is {what}", _example(kind))
        if number == 0:
            return
    if not low <= house <= high:
        unit = HOUSE_UNITS[kind]
        message = f"'{text}' is {house:.6g} {unit}: outside {low:g} to {high:g} {unit}"
        raise _error("absurd-size", message, "check the number and its unit")


def _gauge(text: str, number: float, family: str | None, gauges: Mapping[str, Mapping[int, float]]) -> Quantity:
    if number != int(number) or number < 0:
        raise _error("unknown-gauge", f"'{text}' is no sheet gauge", "gauges are whole numbers; or give mm or inches")
    gauge = int(number)
    known = {name: rows[gauge] for name, rows in gauges.items() if gauge in rows}
    listed = ", ".join(f"{name} {thickness:.2f} mm" for name, thickness in known.items())
    if family is None or family not in gauges:
        repair = f"give the thickness itself ({listed})" if listed else "give the thickness in mm or inches"
        raise _error("ambiguous-gauge", f"'{text}': gauges differ by metal", repair)
    if gauge not in gauges[family]:
        span = f"{min(gauges[family])} to {max(gauges[family])}"
        raise _error(
            "unknown-gauge", f"no gauge {gauge} for {family}", f"gauges {span} are known; or give mm or inches"
        )
    return Quantity(gauges[family][gauge], "length", "ga", text)
