"""Spellings of units a shop uses, and their factors. pint is the only source of a factor."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.units.table import UnitTable

# kind -> (house unit for pint, {spelling: unit for pint}). The first inch-system spelling is the one shown.
_SPEEDS = {
    "mm/min": "millimeter/minute",
    "mm/s": "millimeter/second",
    "cm/min": "centimeter/minute",
    "m/min": "meter/minute",
    "in/min": "inch/minute",
    "ipm": "inch/minute",
}
_SPELLINGS: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "length": (
        "millimeter",
        {
            **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "millimeter"),
            **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "centimeter"),
            **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "meter"),
            **dict.fromkeys(("in", "inch", "inches", '"', "″", "in."), "inch"),
            **dict.fromkeys(("ft", "foot", "feet"), "foot"),
            **dict.fromkeys(("thou", "mil", "mils"), "thou"),
            **dict.fromkeys(("um", "µm", "μm", "micron", "microns"), "micrometer"),
        },
    ),
    "current": ("ampere", {**dict.fromkeys(("A", "amp", "amps", "ampere", "amperes"), "ampere")}),
    "voltage": ("volt", {**dict.fromkeys(("V", "volt", "volts"), "volt")}),
    "gas_flow": (
        "liter/minute",
        {
            **dict.fromkeys(("L/min", "l/min", "lpm", "LPM", "litre/min", "litres/min"), "liter/minute"),
            **dict.fromkeys(("cfh", "CFH", "ft3/h", "ft^3/h", "ft³/h", "cu ft/h"), "foot**3/hour"),
            "m3/h": "meter**3/hour",
        },
    ),
    "speed": ("millimeter/minute", _SPEEDS),
    "wire_feed": ("meter/minute", _SPEEDS),
    "angle": ("degree", {**dict.fromkeys(("deg", "°", "degree", "degrees"), "degree"), "rad": "radian"}),
    "time": (
        "second",
        {
            **dict.fromkeys(("s", "sec", "second", "seconds"), "second"),
            **dict.fromkeys(("min", "minute", "minutes"), "minute"),
            **dict.fromkeys(("h", "hour", "hours"), "hour"),
            "ms": "millisecond",
            **dict.fromkeys(("d", "day", "days"), "day"),
        },
    ),
    "temperature": (
        "degC",
        {
            **dict.fromkeys(("degC", "°C", "deg C"), "degC"),
            **dict.fromkeys(("degF", "°F", "deg F"), "degF"),
            "K": "kelvin",
        },
    ),
    "temperature_difference": (
        "delta_degC",
        {
            "K": "kelvin",
            **dict.fromkeys(("Δ°C", "delta degC", "degC difference", "°C difference"), "delta_degC"),
            **dict.fromkeys(("Δ°F", "delta degF", "degF difference", "°F difference"), "delta_degF"),
        },
    ),
    "frequency": ("hertz", {"Hz": "hertz", "kHz": "kilohertz"}),
    "percent": ("percent", {**dict.fromkeys(("%", "percent"), "percent")}),
    "mass_percent": ("percent", {**dict.fromkeys(("%", "percent"), "percent"), "ppm": "ppm"}),
    "power": ("watt", {"W": "watt", "kW": "kilowatt"}),
    "heat_input": (
        "kilojoule/millimeter",
        {"kJ/mm": "kilojoule/millimeter", "J/mm": "joule/millimeter", "kJ/in": "kilojoule/inch",
         "kJ/cm": "kilojoule/centimeter"},
    ),
    "energy": ("joule", {"J": "joule", "kJ": "kilojoule"}),
    "area": (
        "millimeter**2",
        {
            **dict.fromkeys(("mm^2", "mm2", "mm²"), "millimeter**2"),
            **dict.fromkeys(("in^2", "in2", "in²", "sq in"), "inch**2"),
            **dict.fromkeys(("cm^2", "cm2", "cm²"), "centimeter**2"),
        },
    ),
    "volume": (
        "liter",
        {
            **dict.fromkeys(("L", "l", "litre", "litres"), "liter"),
            **dict.fromkeys(("ft^3", "ft3", "ft³", "cu ft"), "foot**3"),
            "m3": "meter**3",
            "ml": "milliliter",
        },
    ),
    "mass": ("gram", {"g": "gram", "kg": "kilogram", "lb": "pound", "lbs": "pound", "oz": "ounce"}),
    "force": ("newton", {"N": "newton", "kN": "kilonewton", "lbf": "pound_force", "kgf": "kilogram_force"}),
    "torque": (
        "newton*meter",
        {**dict.fromkeys(("N*m", "Nm", "N m"), "newton*meter"),
         **dict.fromkeys(("ft*lbf", "ft lbf", "lbf ft"), "foot*pound_force")},
    ),
    "stress": ("megapascal", {"MPa": "megapascal", "N/mm2": "newton/millimeter**2", "ksi": "kilopsi", "psi": "psi",
                               "GPa": "gigapascal"}),
    "pressure": (
        "kilopascal",
        {"kPa": "kilopascal", "Pa": "pascal", "bar": "bar", "mbar": "millibar", "psi": "psi", "MPa": "megapascal"},
    ),
    "conductivity": ("watt/(meter*kelvin)", {**dict.fromkeys(("W/(m*K)", "W/mK", "W/(m K)"), "watt/(meter*kelvin)")}),
    "specific_heat": (
        "joule/(kilogram*kelvin)",
        {**dict.fromkeys(("J/(kg*K)", "J/kgK", "J/(kg K)"), "joule/(kilogram*kelvin)")},
    ),
    "density": (
        "kilogram/meter**3",
        {**dict.fromkeys(("kg/m^3", "kg/m3", "kg/m³"), "kilogram/meter**3"),
         **dict.fromkeys(("g/cm3", "g/cm^3"), "gram/centimeter**3"),
         "lb/in3": "pound/inch**3"},
    ),
    "expansion": ("1e-6/kelvin", {**dict.fromkeys(("1e-6/K", "µm/(m*K)", "um/(m*K)"), "micrometer/(meter*kelvin)")}),
    "resistivity": ("nanoohm*meter", {**dict.fromkeys(("nohm*m", "nΩ*m", "nohm m"), "nanoohm*meter")}),
    "hydrogen": ("milliliter/(100*gram)", {"ml/100g": "milliliter/(100*gram)"}),
}  # fmt: skip


def build_unit_table() -> UnitTable:
    """All factors, asked of pint at two points each (0 and 1), so that offsets of temperatures come out too."""
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    table: dict[tuple[str, str], tuple[float, float]] = {}
    for kind, (house, spellings) in _SPELLINGS.items():
        for spelling, unit in spellings.items():
            offset = _convert(registry, 0.0, unit, house)
            factor = _convert(registry, 1.0, unit, house) - offset
            # Twelve digits: the library's own last-place noise would turn 1 1/2 in into 38.09999 mm.
            table[kind, spelling] = (float(f"{factor:.12g}"), float(f"{offset:.12g}"))
    return UnitTable(table)


def _convert(registry: object, number: float, unit: str, house: str) -> float:
    if house == "1e-6/kelvin":
        return float(registry.Quantity(number, unit).to("1/kelvin").magnitude) * 1e6  # type: ignore[attr-defined]
    if house == "milliliter/(100*gram)":
        return number
    return float(registry.Quantity(number, unit).to(house).magnitude)  # type: ignore[attr-defined]
