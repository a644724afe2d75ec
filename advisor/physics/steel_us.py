"""Strength of steel welds by US practice (LRFD): AISC 360 chapter J2, and AISI S100 section J2 for sheet.

For steels named by ASTM, which EN 1993 does not know. Design values with the resistance factor in them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.constants import KSI
from advisor.physics.ranges import positive, within
from advisor.physics.tables import NotCoveredError, TableSource

AISC = TableSource("AISC 360-16 J2, LRFD", "memory")
AISI = TableSource("AISI S100-16 J2.5, LRFD", "memory")
SHEET_LIMIT = 3 / 16 * 25.4e-3  # m; at most this thick the sheet standard holds, above it AISC 360
_HALF_INCH = 25.4e-3 / 2
_THREE_QUARTERS = 25.4e-3 * 0.75


@dataclass(frozen=True)
class UsSteel:
    """Yield fy and tensile strength fu [Pa] of an ASTM steel, and where from."""

    fy: float
    fu: float
    source: TableSource


US_STEELS: dict[str, UsSteel] = {
    "A36": UsSteel(36 * KSI, 58 * KSI, TableSource("ASTM A36", "memory")),
    "A572": UsSteel(50 * KSI, 65 * KSI, TableSource("ASTM A572 grade 50", "memory")),
    "A500": UsSteel(46 * KSI, 58 * KSI, TableSource("ASTM A500 grade B, shaped", "memory")),
}


@dataclass(frozen=True)
class UsWeld:
    """Design forces per length of seam [N/m]: along and across."""

    along: float
    across: float


def electrode_strength(filler: str) -> float:
    """Tensile strength FEXX that a steel filler's name states, in ksi, turned into [Pa]: ER70S-6 is 70 ksi.

    Parameters: filler, an AWS A5.1 or A5.18 name (no unit). Returns: strength [Pa]. Raises: NotCoveredError for
    another name. Source: AWS A5.1, A5.18 designations (memory).
    Example: ER70S-6 is 70 ksi, 482.6 MPa.
    >>> round(electrode_strength("ER70S-6") / 1e6, 1)
    482.6
    """
    digits = "".join(sign for sign in filler.upper().removeprefix("ER").removeprefix("E")[:2] if sign.isdigit())
    if len(digits) != 2 or digits not in {"60", "70", "80", "90"}:
        raise NotCoveredError(
            f"no strength in the filler's name '{filler}'", "filler", "such as ER70S-2, ER70S-6, E7018"
        )
    return int(digits) * KSI


def aisc_fillet(throat: float, fexx: float) -> UsWeld:
    """Design force of a fillet's weld metal [N/m]: 0.75 x 0.60 FEXX a along, 1.5 times that across.

    Parameters: throat a [m], above 0; fexx [Pa], 400e6 to 700e6. Returns: forces [N/m].
    Raises: PhysicsRangeError outside. Source: AISC 360-16 J2.4 (memory).
    Example: A leg of 1/16 in and E70: 1.392 kip/in, 243.8 N/mm along; half as much again across.
    >>> found = aisc_fillet(25.4e-3 / 16 * 0.70711, 70 * KSI)
    >>> round(found.along / 1e3, 1), round(found.across / found.along, 3)
    (243.8, 1.5)
    """
    along = 0.75 * 0.60 * within("electrode strength", fexx, 400e6, 700e6, "Pa") * positive("throat", throat, "m")
    return UsWeld(along, 1.5 * along)


def aisc_partial_groove(penetration: float, fexx: float) -> UsWeld:
    """Design force of a partial-penetration groove's weld metal [N/m]: 0.75 x 0.60 FEXX s along, 0.80 across.

    Parameters: penetration s [m], above 0; fexx [Pa], 400e6 to 700e6. Returns: forces [N/m].
    Raises: PhysicsRangeError outside. Source: AISC 360-16 Table J2.5 (memory).
    Example: 5 mm reached and E70: 0.45 x 482.6 MPa along, 0.48 x 482.6 MPa across, 1086 and 1158 N/mm.
    >>> found = aisc_partial_groove(5e-3, 70 * KSI)
    >>> round(found.along / 1e3), round(found.across / 1e3)
    (1086, 1158)
    """
    unit = 0.60 * within("electrode strength", fexx, 400e6, 700e6, "Pa") * positive("penetration", penetration, "m")
    return UsWeld(0.75 * unit, 0.80 * unit)


def aisc_base(thickness: float, steel: UsSteel) -> UsWeld:
    """Design force of the plate beside a seam [N/m]: least of yielding and rupture, in shear and in tension.

    Shear: 1.0 x 0.6 Fy t, 0.75 x 0.6 Fu t. Tension: 0.9 Fy t, 0.75 Fu t.
    Parameters: thickness t [m], above 0; steel [Pa]. Returns: forces [N/m]. Raises: PhysicsRangeError outside.
    Source: AISC 360-16 J4 (memory).
    Example: A36: 0.6 x 36 = 21.6 ksi in shear, 0.9 x 36 = 32.4 ksi pulled; 1 in thick.
    >>> found = aisc_base(25.4e-3, US_STEELS["A36"])
    >>> round(found.along / 25.4e-3 / KSI, 1), round(found.across / 25.4e-3 / KSI, 1)
    (21.6, 32.4)
    """
    t = positive("thickness", thickness, "m")
    along = min(0.6 * steel.fy, 0.75 * 0.6 * steel.fu) * t
    return UsWeld(along, min(0.9 * steel.fy, 0.75 * steel.fu) * t)


def aisc_least_leg(thinner: float) -> float:
    """Least fillet leg by the thinner part [m]: 3, 5, 6, 8 mm to 6, 13, 19 mm and above.

    Parameters: thinner [m], above 0. Returns: leg [m]. Raises: PhysicsRangeError outside.
    Source: AISC 360-16 Table J2.4 (memory).
    Example: The thinner part is 8 mm: 5 mm.
    >>> round(aisc_least_leg(8e-3) * 1e3, 3)
    5.0
    """
    t = positive("thickness", thinner, "m")
    for limit, leg in ((6.35e-3, 3e-3), (_HALF_INCH + 3e-4, 5e-3), (_THREE_QUARTERS, 6e-3)):
        if t <= limit:
            return leg
    return 8e-3


def aisc_long_factor(length: float, leg: float) -> float:
    """Share of an end-loaded fillet's length that counts [-]: all to 100 legs, 1.2 - 0.002 l/w to 300, 180 w beyond.

    Parameters: length l [m], above 0; leg w [m], above 0. Returns: share [-]. Raises: PhysicsRangeError outside.
    Source: AISC 360-16 J2.2b (memory).
    Example: 1500 mm of a leg of 5 mm, 300 legs: 0.6 (no unit).
    >>> round(aisc_long_factor(1.5, 5e-3), 3)
    0.6
    """
    ratio = positive("length", length, "m") / positive("leg", leg, "m")
    if ratio > 300.0:
        return 180.0 / ratio
    return min(1.0, 1.2 - 0.002 * ratio)


def most_edge_leg(thickness: float) -> float:
    """Greatest leg along an edge that is lapped [m]: the edge's thickness under 6 mm, 2 mm less from there.

    Parameters: thickness [m] of the part with the edge, above 0. Returns: leg [m].
    Raises: PhysicsRangeError outside. Source: AISC 360-16 J2.2b, AWS D1.1 (memory).
    Example: Along an edge of 6 mm: 4 mm.
    >>> round(most_edge_leg(6e-3) * 1e3, 3)
    4.0
    """
    t = positive("thickness", thickness, "m")
    return t if t < 6e-3 else t - 2e-3


def aisi_sheet_fillet(thickness: float, length: float, throat: float, fu: float, fexx: float) -> UsWeld:
    """Design force of one fillet in a lap or tee of sheet, per length [N/m].

    Along: 0.60 (1 - 0.01 L/t) t Fu to L/t 25, 0.55 x 0.75 t Fu beyond; across: 0.65 t Fu. Over 0.10 in also at
    most 0.60 x 0.75 a FEXX. Parameters: thickness t [m] of the thinner sheet, above 0, to 3/16 in; length L [m],
    above 0; throat a [m], above 0; fu, fexx [Pa], 200e6 to 800e6. Returns: forces [N/m].
    Raises: PhysicsRangeError outside. Source: AISI S100-16 J2.5 (memory).
    Example: 20 mm of fillet on 2 mm sheet of 400 MPa: 0.54 t Fu along and 0.65 t Fu across, 432 and 520 N/mm.
    >>> found = aisi_sheet_fillet(2e-3, 20e-3, 2e-3, 400e6, 70 * KSI)
    >>> round(found.along / 1e3, 1), round(found.across / 1e3, 1)
    (432.0, 520.0)
    """
    t = within("sheet", positive("sheet", thickness, "m"), 0.0, SHEET_LIMIT * 1.01, "m")
    slender = positive("fillet length", length, "m") / t
    strength = within("tensile strength", fu, 200e6, 800e6, "Pa") * t
    along = 0.60 * (1.0 - 0.01 * slender) * strength if slender < 25.0 else 0.55 * 0.75 * strength
    cap = math.inf
    if t > 0.10 * 25.4e-3:
        cap = 0.60 * 0.75 * positive("throat", throat, "m") * within("electrode strength", fexx, 200e6, 800e6, "Pa")
    return UsWeld(min(along, cap), min(0.65 * strength, cap))
