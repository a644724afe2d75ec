"""Units: which spellings a shop uses, and the factors behind them. pint is the only source of a factor."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

# kind -> the unit used inside rules and answers.
HOUSE_UNITS: Mapping[str, str] = {
    "length": "mm",
    "current": "A",
    "voltage": "V",
    "gas_flow": "L/min",
    "speed": "mm/min",
    "wire_feed": "m/min",
    "angle": "deg",
    "time": "s",
    "temperature": "degC",
    "temperature_difference": "K",
    "frequency": "Hz",
    "percent": "%",
    "mass_percent": "%",
    "power": "W",
    "heat_input": "kJ/mm",
    "energy": "J",
    "area": "mm^2",
    "volume": "L",
    "mass": "g",
    "force": "N",
    "torque": "N*m",
    "stress": "MPa",
    "pressure": "kPa",
    "conductivity": "W/(m*K)",
    "specific_heat": "J/(kg*K)",
    "density": "kg/m^3",
    "expansion": "1e-6/K",
    "resistivity": "nohm*m",
    "hydrogen": "ml/100g",
    "count": "",
    "ratio": "",
}

_INCH_UNITS = frozenset(
    {"in", "inch", "inches", '"', "″", "in.", "ft", "foot", "feet", "thou", "mil", "mils", "cfh", "CFH", "ft3/h",
     "ft^3/h", "ft³/h", "cu ft/h", "ipm", "in/min", "degF", "°F", "deg F", "psi", "ksi", "lb", "lbs", "oz", "lbf"}
)  # fmt: skip


class UnitTable(NamedTuple):
    """Factors by (kind, spelling): house value = number x factor + offset. Built from pint; may be kept in an index."""

    factors: Mapping[tuple[str, str], tuple[float, float]]

    def as_rows(self) -> list[tuple[str, str, float, float]]:
        """Plain rows (kind, spelling, factor, offset), for keeping."""
        return [(kind, spelling, *pair) for (kind, spelling), pair in self.factors.items()]

    @classmethod
    def from_rows(cls, rows: Iterable[Iterable[object]]) -> UnitTable:
        """The table of rows that `as_rows` gave."""
        table = {}
        for kind, spelling, factor, offset in rows:
            table[str(kind), str(spelling)] = (float(str(factor)), float(str(offset)))
        return cls(table)

    def spellings(self, kind: str) -> list[str]:
        """Spellings accepted for a kind, the house unit's first."""
        return [spelling for (of_kind, spelling) in self.factors if of_kind == kind]


def is_inch_unit(unit: str) -> bool:
    """True for a unit of the inch-pound system."""
    return unit in _INCH_UNITS
