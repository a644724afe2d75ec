"""Numbers back to text, in both unit systems, as a shop would say them."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import lru_cache

from advisor.units.table import HOUSE_UNITS, UnitTable

# kind -> the inch-system unit shown beside the house unit.
_INCH_UNIT = {
    "length": "in",
    "gas_flow": "cfh",
    "speed": "in/min",
    "wire_feed": "in/min",
    "temperature": "°F",
    "temperature_difference": "Δ°F",
    "area": "in²",
    "volume": "ft³",
    "mass": "lb",
    "force": "lbf",
    "torque": "ft lbf",
    "stress": "ksi",
    "pressure": "psi",
    "heat_input": "kJ/in",
}
_SHOWN_UNIT = {"temperature": "°C", "angle": "°", "area": "mm²", "temperature_difference": "K"}


@lru_cache(maxsize=1)
def _table() -> UnitTable:
    from advisor.units.spellings import build_unit_table

    return build_unit_table()


def plain_number(value: float, digits: int = 3) -> str:
    """Rounded to so many significant digits, without exponent or trailing zeros."""
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    places = max(digits - 1 - math.floor(math.log10(abs(value))), 0)
    # A hair upward first: 6.35 is kept as 6.3499999, and a shop says 6.4.
    value *= 1 + 1e-9
    text = f"{round(value, digits - 1 - math.floor(math.log10(abs(value)))):.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def inch_fraction(mm: float) -> str | None:
    """A length as the fraction of an inch a shop would say, or None where no sixteenth (thirty-second below 1/4 in,
    sixty-fourth below 1/8 in) lies within 2 %."""
    inches = mm / 25.4
    if inches > 12:
        return None
    for under in (1, 2, 4, 8, 16, 32, 64):
        if (under == 32 and inches > 0.25) or (under == 64 and inches > 0.126):
            return None
        over = round(inches * under)
        if over and abs(over / under - inches) <= 0.02 * inches:
            return _mixed(Fraction(over, under))
    return None


def mm_and_inch(mm: float) -> str:
    """A length in millimetres with the inches a shop would say, such as `3.2 mm (1/8 in)`: needs no unit table."""
    return f"{_house_number(mm, 'length')} mm ({inch_fraction(mm) or plain_number(mm / 25.4, 2)} in)"


def _mixed(fraction: Fraction) -> str:
    whole, rest = divmod(fraction.numerator, fraction.denominator)
    if not rest:
        return str(whole)
    part = f"{rest}/{fraction.denominator}"
    return f"{whole} {part}" if whole else part


def _house_number(value: float, kind: str) -> str:
    if kind == "length":
        return plain_number(value, 2 if value < 20 else 3)
    if kind in ("temperature", "current", "frequency", "speed"):
        return f"{value:.0f}" if abs(value) >= 10 else plain_number(value, 2)
    if kind == "time" and value >= 3600:
        return plain_number(value / 3600, 2)
    return plain_number(value, 2 if kind in ("gas_flow", "voltage", "time", "percent", "angle") else 3)


def _house_unit(value: float, kind: str) -> str:
    if kind == "time":
        return "h" if value >= 3600 else "s"
    return _SHOWN_UNIT.get(kind, HOUSE_UNITS[kind])


def _join(number: str, unit: str) -> str:
    return f"{number}{unit}" if unit == "°" else f"{number} {unit}".strip()


def format_house(value: float, kind: str) -> str:
    """The value in its house unit, rounded as the kind deserves."""
    return _join(_house_number(value, kind), _house_unit(value, kind))


def _inch_number(value: float, kind: str, table: UnitTable) -> str:
    if kind == "length":
        return inch_fraction(value) or plain_number(value / table.factors["length", "in"][0], 2)
    factor, offset = table.factors[kind, _INCH_UNIT[kind]]
    number = (value - offset) / factor
    if kind == "temperature":
        return f"{5 * round(number / 5):.0f}"
    return f"{number:.0f}" if abs(number) >= 10 else plain_number(number, 2)


def in_both_systems(value: float, kind: str, *, inch_first: bool = False, table: UnitTable | None = None) -> str:
    """The value in both systems, such as `3.2 mm (1/8 in)`; electrical units stand alone."""
    house = format_house(value, kind)
    if kind not in _INCH_UNIT:
        return house
    inch = f"{_inch_number(value, kind, table or _table())} {_INCH_UNIT[kind]}"
    return f"{inch} ({house})" if inch_first else f"{house} ({inch})"


def range_in_both_systems(
    low: float, high: float, kind: str, *, inch_first: bool = False, table: UnitTable | None = None
) -> str:
    """A range in both systems, such as `5-8 L/min (11-17 cfh)`."""
    unit = _house_unit(high, kind)
    first, second = _house_number(low, kind), _house_number(high, kind)
    if kind == "time" and low < 3600 <= high:
        first = plain_number(low / 3600, 2)
    house = _join(first if first == second else f"{first}-{second}", unit)
    if kind not in _INCH_UNIT:
        return house
    units = table or _table()
    left, right = _inch_number(low, kind, units), _inch_number(high, kind, units)
    joiner = " to " if "/" in left + right else "-"
    inch = f"{left if left == right else left + joiner + right} {_INCH_UNIT[kind]}"
    return f"{inch} ({house})" if inch_first else f"{house} ({inch})"
