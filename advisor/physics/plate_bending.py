"""Flat walls of a box under pressure: bending stress, bulge, and a safe pressure for a leak test with air.

Small-deflection theory, even pressure on a rectangular wall. A welded wall lies between clamped and simply
supported edges. Air under pressure stores far more energy than water: stand aside, use an open water tube
that cannot hold more than the pressure wanted, never a shop air line without relief, never oxygen or fuel
gas. Anything meant to hold pressure in service belongs to the pressure code, not to this.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.physics.ranges import positive, within
from advisor.physics.tables import NotCoveredError, TableSource

CLAMPED, SUPPORTED = "clamped", "supported"
ROARK = TableSource("Roark, Formulas for Stress and Strain, rectangular plates, cases 1a and 8a; Timoshenko", "memory")
MOST_BULGE = 0.5  # of the thickness; beyond it the wall also stretches and the theory fails (memory, Roark)
THICKEST = 0.25  # of the short side (memory, Roark)
OPEN_TUBE = 3500.0  # Pa, 350 mm of water
OPEN_TUBE_SOURCES = (
    TableSource("home aircraft builders' tank tests with an open water tube or a balloon", "read"),
    TableSource("limit for flat-sided sheet boxes, this project's judgement", "common-practice"),
)
BY_STRESS, BY_BULGE, BY_TUBE = "stress", "bulge", "open tube"

# short side over long side; stress beta [-] (p b2/t2) and bulge alpha [-] (p b4/(E t3)), Poisson's ratio 0.3.
# Clamped: stress at the middle of the long edge. Supported: stress at the centre.
_RATIOS = (0.0, 0.2, 0.25, 1 / 3, 0.5, 1 / 1.8, 0.625, 1 / 1.4, 1 / 1.2, 1.0)
_SUPPORTED_STRESS = (0.7500, 0.7476, 0.7410, 0.7134, 0.6102, 0.5688, 0.5172, 0.4530, 0.3762, 0.2874)
_SUPPORTED_BULGE = (0.1421, 0.1417, 0.1400, 0.1335, 0.1110, 0.1017, 0.0906, 0.0770, 0.0616, 0.0444)
_CLAMPED_RATIOS = (0.0, 0.5, 1 / 1.8, 0.625, 1 / 1.4, 1 / 1.2, 1.0)
_CLAMPED_STRESS = (0.5000, 0.4974, 0.4872, 0.4680, 0.4356, 0.3834, 0.3078)
_CLAMPED_BULGE = (0.0284, 0.0277, 0.0267, 0.0251, 0.0226, 0.0188, 0.0138)

_STRESS = {SUPPORTED: (_RATIOS, _SUPPORTED_STRESS), CLAMPED: (_CLAMPED_RATIOS, _CLAMPED_STRESS)}
_BULGE = {SUPPORTED: (_RATIOS, _SUPPORTED_BULGE), CLAMPED: (_CLAMPED_RATIOS, _CLAMPED_BULGE)}


@dataclass(frozen=True)
class Wall:
    """A flat rectangular wall: long and short side [m], thickness [m], Young's modulus [Pa].

    Raises PhysicsRangeError unless 0 < short <= long, thickness up to a quarter of the short side, modulus
    1e9 to 700e9.
    """

    long: float
    short: float
    thickness: float
    modulus: float

    def __post_init__(self) -> None:
        within("short side", positive("short side", self.short, "m"), 0.0, positive("long side", self.long, "m"), "m")
        thickest = THICKEST * self.short
        within("thickness", positive("thickness", self.thickness, "m"), 0.0, thickest, "m", "not a thin wall")
        within("Young's modulus", self.modulus, 1e9, 700e9, "Pa", "give it in Pa, such as 69e9 for aluminium")


@dataclass(frozen=True)
class LeakPressure:
    """Greatest pressure for a leak test with air [Pa], and what sets it: `stress`, `bulge` or `open tube`.

    stress [Pa] and bulge [m] at that pressure, each from the edge condition worse for it.
    """

    pressure: float
    limited_by: str
    stress: float
    bulge: float


def bulge(wall: Wall, pressure: float, edges: str) -> float:
    """How far the middle of a wall moves out [m]: alpha p b4/(E t3).

    Parameters: wall [m, Pa]; pressure p [Pa] across it, 0 or more, up to a bulge of half the thickness;
    edges `clamped` or `supported` (no unit). Returns: bulge [m], within 2.5 % for Poisson's ratio 0.3.
    Raises: PhysicsRangeError where it would exceed half the thickness; NotCoveredError for other edges.
    Source: Roark, Timoshenko (memory), linear between rows over b/a.
    Example: 1 kPa on a clamped aluminium wall of 300 x 300 x 3 mm: 0.0138 p b4/(E t3) is 0.059 mm.
    >>> round(bulge(Wall(0.3, 0.3, 3e-3, 70e9), 1e3, CLAMPED) * 1e3, 3)
    0.059
    """
    found = within("pressure", pressure, 0.0, 1e9, "Pa") * _bulge_per_pressure(wall, edges)
    limit = MOST_BULGE * wall.thickness
    return within("bulge", found, 0.0, limit, "m", "the wall would stretch as well as bend: test with water, or lower")


def bending_stress(wall: Wall, pressure: float, edges: str) -> float:
    """Largest bending stress in a wall [Pa]: beta p b2/t2, at mid long edge if clamped, at the centre if supported.

    Parameters: as `bulge` [m, Pa]. Returns: stress [Pa], within 2 %. Raises: PhysicsRangeError where the
    bulge would exceed half the thickness; NotCoveredError for other edges.
    Source: Roark, Timoshenko (memory), linear between rows over b/a.
    Example: 1 kPa on a supported wall of 300 x 300 x 3 mm: 0.2874 p b2/t2 is 2.87 MPa.
    >>> round(bending_stress(Wall(0.3, 0.3, 3e-3, 70e9), 1e3, SUPPORTED) / 1e6, 2)
    2.87
    """
    bulge(wall, pressure, edges)
    return pressure * _stress_per_pressure(wall, edges)


def safe_leak_pressure(wall: Wall, allowable: float) -> LeakPressure:
    """Greatest air pressure for a leak test of a box with this as its weakest wall [Pa].

    The least of: the allowable stress reached, clamped or supported, whichever is worse; a bulge of half
    the thickness, supported; 3.5 kPa, where an open water tube lets go. Above that, fill with water.
    Parameters: wall [m, Pa]; allowable [Pa], above 0: proof strength of the heat-affected zone with a
    margin. Returns: pressure, limit, stress [Pa] and bulge [m]. Raises: PhysicsRangeError outside.
    Source: Roark, Timoshenko (memory); 3.5 kPa this project's judgement (common-practice).
    Example: An aluminium wall of 300 x 300 x 3 mm that may bear 50 MPa: the open tube lets go first, at 3.5 kPa.
    >>> found = safe_leak_pressure(Wall(0.3, 0.3, 3e-3, 70e9), 50e6)
    >>> found.limited_by, found.pressure
    ('open tube', 3500.0)
    """
    stress = max(_stress_per_pressure(wall, edges) for edges in (CLAMPED, SUPPORTED))
    move = _bulge_per_pressure(wall, SUPPORTED)
    limits = {
        BY_STRESS: positive("allowable stress", allowable, "Pa") / stress,
        BY_BULGE: MOST_BULGE * wall.thickness / move,
        BY_TUBE: OPEN_TUBE,
    }
    limited_by = min(limits, key=lambda name: limits[name])
    pressure = limits[limited_by]
    return LeakPressure(pressure, limited_by, stress * pressure, move * pressure)


def wall_force(wall: Wall, pressure: float) -> float:
    """Force that a pressure puts on a wall [N]: p a b.

    Parameters: wall [m]; pressure [Pa], 0 or more. Returns: force [N]. Raises: PhysicsRangeError outside.
    Source: definition (computed).
    Example: 1 kPa on 300 x 300 mm: 90 N.
    >>> round(wall_force(Wall(0.3, 0.3, 3e-3, 70e9), 1e3), 3)
    90.0
    """
    return within("pressure", pressure, 0.0, 1e9, "Pa") * wall.long * wall.short


def _stress_per_pressure(wall: Wall, edges: str) -> float:
    return _coefficient(_STRESS, wall, edges) * (wall.short / wall.thickness) ** 2


def _bulge_per_pressure(wall: Wall, edges: str) -> float:
    return _coefficient(_BULGE, wall, edges) * wall.short**4 / (wall.modulus * wall.thickness**3)


def _coefficient(tables: dict[str, tuple[tuple[float, ...], tuple[float, ...]]], wall: Wall, edges: str) -> float:
    """Linear between the rows on either side of short/long."""
    if edges not in tables:
        raise NotCoveredError(f"no wall with '{edges}' edges", "edges", f"known here: {', '.join(sorted(tables))}")
    ratios, values = tables[edges]
    ratio = wall.short / wall.long
    above = next(i for i, at in enumerate(ratios) if ratio <= at)
    if above == 0:
        return values[0]
    part = (ratio - ratios[above - 1]) / (ratios[above] - ratios[above - 1])
    return values[above - 1] + part * (values[above] - values[above - 1])
