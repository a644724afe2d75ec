"""Shrinkage and distortion of welds: published rules of thumb, nearly all of them for carbon steel.

The two forms for a butt weld differ by a factor of two: both are given, as a spread. For aluminium no
figure per weld was found in print; there only the upper bound from free contraction holds. Estimates for
laying out a blank: measure a coupon before machining to them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.ranges import positive, within
from advisor.physics.tables import NotCoveredError, Spread, TableSource

STEEL = "carbon steel"
INCH = 0.0254

TEE_CONSTANT = 1.02e-3  # m (0.04 in)
LAP_CONSTANT = 1.52e-3  # m (0.06 in)
KING = 3.05e-7  # in/A
BOWING = 0.005
ANGULAR = 0.02  # with inches

_BLODGETT_SMALL = TableSource("form 0.10 Aw/t attributed to Blodgett, in two course texts", "read")
_SPRARAGEN = TableSource("Spraragen and Ettinger 1950; AWS Welding Handbook", "memory")
_TWI = TableSource("TWI, how much to allow for weld shrinkage", "read")


@dataclass(frozen=True)
class Allowance:
    """An assembly allowance for carbon steel: low and high [m] per weld, or per `per_length` [m] of weld."""

    low: float
    high: float
    per_length: float | None
    source: TableSource = _TWI


ALLOWANCES: dict[str, Allowance] = {
    "fillet, transverse": Allowance(0.8e-3, 0.8e-3, None),
    "60 degree V butt, transverse": Allowance(1.5e-3, 3.0e-3, None),
    "fillet, longitudinal": Allowance(0.8e-3, 0.8e-3, 3.0),
    "butt, longitudinal": Allowance(3.0e-3, 3.0e-3, 3.0),
}

# Share of the volume lost by weld metal on freezing [-]; carbon-manganese steel loses a further 0.07 down to
# room temperature.
FREEZING: dict[str, tuple[float, TableSource]] = {
    "aluminium": (0.05, TableSource("Mathers, The Welding of Aluminium and its Alloys, 2002, p. 85", "read")),
    STEEL: (0.03, TableSource("TWI text on distortion; Mathers 2002, p. 85", "read")),
}
STEEL_COOLING_SHARE = (0.07, TableSource("TWI text on distortion", "read"))


def transverse_butt(area: float, thickness: float, gap: float, metal: str = STEEL) -> Spread:
    """Shrinkage across a butt weld [m]: from 0.1 Aw/t to 0.2 Aw/t + 0.05 d.

    Parameters: area Aw [m2] of the weld metal, above 0; thickness t [m], above 0; gap d [m] at the root, 0
    or more; metal, `carbon steel` only (no unit). Returns: low and high [m].
    Raises: PhysicsRangeError outside; NotCoveredError for another metal.
    Source: low form attributed to Blodgett (read); high form Spraragen and Ettinger 1950 (memory).
    Example: 10 mm plate with a V of 56.95 mm2 and a gap of 2 mm: 0.57 to 1.24 mm.
    >>> found = transverse_butt(56.95e-6, 10e-3, 2e-3)
    >>> round(found.low * 1e3, 2), round(found.high * 1e3, 2)
    (0.57, 1.24)
    """
    _steel_only(metal)
    ratio = positive("weld section", area, "m2") / positive("thickness", thickness, "m")
    high = 0.2 * ratio + 0.05 * within("gap", gap, 0.0, math.inf, "m")
    return Spread(0.1 * ratio, high, (_BLODGETT_SMALL, _SPRARAGEN))


def transverse_tee(leg: float, thickness: float, metal: str = STEEL) -> float:
    """Shrinkage of the through member across a tee with two continuous fillets [m]: 1.02 mm leg/t.

    Parameters: leg [m], above 0, at most the thickness; thickness t [m] of the through member, above 0;
    metal, `carbon steel` only (no unit). Returns: shrinkage [m]. Raises: PhysicsRangeError outside;
    NotCoveredError for another metal. Source: AWS Welding Handbook vol. 1 (memory).
    Example: Legs of 4 mm on 5 mm plate: 0.816 mm.
    >>> round(transverse_tee(4e-3, 5e-3) * 1e3, 3)
    0.816
    """
    _steel_only(metal)
    return TEE_CONSTANT * _leg_ratio(leg, thickness)


def transverse_lap(leg: float, thickness: float, metal: str = STEEL) -> float:
    """Shrinkage across a lap with two fillets [m]: 1.52 mm leg/t.

    Parameters: leg [m], above 0, at most the thickness; thickness t [m], above 0; metal, `carbon steel`
    only (no unit). Returns: shrinkage [m]. Raises: PhysicsRangeError outside; NotCoveredError for another
    metal. Source: AWS Welding Handbook vol. 1 (memory).
    Example: Legs of 4 mm on 5 mm plate: 1.216 mm.
    >>> round(transverse_lap(4e-3, 5e-3) * 1e3, 3)
    1.216
    """
    _steel_only(metal)
    return LAP_CONSTANT * _leg_ratio(leg, thickness)


def allowance(kind: str, length: float = 0.0, metal: str = STEEL) -> Spread:
    """Assembly allowance for one weld of a kind [m], as used in steel shops.

    Parameters: kind, a name in `ALLOWANCES` (no unit); length [m] of the weld, above 0 for the longitudinal
    kinds; metal, `carbon steel` only (no unit). Returns: low and high [m]. Fillet figures hold for a leg
    up to 3/4 of the thickness. Raises: NotCoveredError for another kind or metal, PhysicsRangeError for no
    length. Source: TWI, how much to allow for weld shrinkage (read).
    Example: A V butt of 60 degrees: 1.5 to 3 mm across (TWI).
    >>> found = allowance("60 degree V butt, transverse")
    >>> found.low * 1e3, found.high * 1e3
    (1.5, 3.0)
    """
    _steel_only(metal)
    if kind not in ALLOWANCES:
        raise NotCoveredError(f"no shrinkage allowance for '{kind}'", "kind", f"known here: {', '.join(ALLOWANCES)}")
    row = ALLOWANCES[kind]
    times = 1.0 if row.per_length is None else positive("weld length", length, "m") / row.per_length
    return Spread(row.low * times, row.high * times, (row.source,))


def longitudinal_butt(current: float, length: float, thickness: float, metal: str = STEEL) -> float:
    """Shrinkage along a butt weld [m]: 3.05e-7 I L/t, with I in A and lengths in inches.

    Parameters: current I [A], above 0; length L [m], above 0; thickness t [m], above 0; metal, `carbon
    steel` only (no unit). Returns: shrinkage [m]. Raises: PhysicsRangeError outside; NotCoveredError for
    another metal. Source: King; AWS Welding Handbook vol. 1 (memory).
    Example: 150 A, 12 in long, 1/8 in thick: 0.0044 in.
    >>> round(longitudinal_butt(150.0, 12 * INCH, INCH / 8) / INCH, 4)
    0.0044
    """
    _steel_only(metal)
    ratio = positive("weld length", length, "m") / positive("thickness", thickness, "m")
    return KING * INCH * positive("current", current, "A") * ratio


def longitudinal_bowing(area: float, length: float, offset: float, inertia: float, metal: str = STEEL) -> float:
    """Bow at mid length of a member welded along one side [m]: 0.005 Aw L2 e/I; free of units.

    Parameters: area Aw [m2] of all welds together, above 0; length L [m], above 0; offset e [m] of the
    welds from the neutral axis, 0 or more; inertia I [m4] of the member, above 0; metal, `carbon steel`
    only (no unit). Returns: bow [m]. Raises: PhysicsRangeError outside; NotCoveredError for another metal.
    Source: Blodgett (memory).
    Example: 16 mm2 of weld, 45 mm off the axis of a beam of 2 m and 171 cm4: 8.4 mm.
    >>> round(longitudinal_bowing(16e-6, 2.0, 45e-3, 171e-8) * 1e3, 1)
    8.4
    """
    _steel_only(metal)
    arm = within("offset", offset, 0.0, math.inf, "m") / positive("inertia", inertia, "m4")
    return BOWING * positive("weld section", area, "m2") * positive("member length", length, "m") ** 2 * arm


def angular_flange(width: float, leg: float, thickness: float, metal: str = STEEL) -> float:
    """Rise of a flange's edges from a fillet on it [m]: 0.02 W w^1.3/t2, in inches.

    Parameters: width W [m] of the flange, above 0; leg w [m], above 0, at most the thickness; thickness t
    [m] of the flange, above 0; metal, `carbon steel` only (no unit). Returns: rise [m].
    Raises: PhysicsRangeError outside; NotCoveredError for another metal. Source: Blodgett (memory).
    Example: A flange 4 in wide and 1/4 in thick with a leg of 3/16 in: 0.145 in.
    >>> round(angular_flange(4 * INCH, 3 / 16 * INCH, INCH / 4) / INCH, 3)
    0.145
    """
    _steel_only(metal)
    _leg_ratio(leg, thickness)
    flange = positive("flange width", width, "m") / INCH
    return ANGULAR * flange * math.pow(leg / INCH, 1.3) / (thickness / INCH) ** 2 * INCH


def free_contraction(net_heat: float, thickness: float, expansion: float, heat_capacity: float) -> float:
    """Upper bound of the shrinkage across a seam, any metal [m]: (q/v) alpha/(rho c d).

    All the heat contracts freely across the seam; a real seam shrinks less, since cold metal holds it
    while it is hot. Parameters: net_heat q/v [J/m] that stays in the plates, above 0; thickness d [m], above
    0; expansion alpha [1/K], 1e-6 to 40e-6; heat_capacity rho c [J/(m3 K)], 1e6 to 6e6.
    Returns: bound [m]. Raises: PhysicsRangeError outside. Source: derived from the heat balance (computed).
    Example: 100 J/mm in 3 mm of 6061, 9.75e-3 mm3/J: at most 0.33 mm.
    >>> round(free_contraction(100e3, 3e-3, 23.6e-6, 2700 * 896.0) * 1e3, 2)
    0.33
    """
    within("thermal expansion", expansion, 1e-6, 40e-6, "1/K")
    within("heat capacity", heat_capacity, 1e6, 6e6, "J/(m3 K)")
    per_depth = positive("net heat per length", net_heat, "J/m") / positive("thickness", thickness, "m")
    return per_depth * expansion / heat_capacity


def _steel_only(metal: str) -> None:
    if metal != STEEL:
        raise NotCoveredError(
            f"the published shrinkage rules are for {STEEL}, not {metal}",
            "metal",
            "weld a coupon and measure it; free contraction gives an upper bound",
        )


def _leg_ratio(leg: float, thickness: float) -> float:
    """leg/t, with a fillet no larger than the member it sits on."""
    positive("leg", leg, "m")
    return within("leg", leg, 0.0, positive("thickness", thickness, "m"), "m") / thickness
