"""Strength of steel welds: EN 1993-1-8 fillets, partial-penetration throats, EN 1993-1-3 sheet laps.

Design values with the partial factor in them, in Pa and N. They size practice pieces and shop fixtures;
anything structural, lifted or under pressure belongs to the code itself and a licensed engineer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.constants import MPA
from advisor.physics.ranges import positive, within
from advisor.physics.tables import NotCoveredError, TableSource, entry

GAMMA_M2 = 1.25
LEAST_THROAT = 3e-3  # m
LEAST_MATERIAL = 4e-3  # m; thinner goes to EN 1993-1-3
LEAST_LENGTH = 30e-3  # m, and 6 throats
SHEET_LIMIT = 4e-3  # m

_GUIDE = TableSource("EN 1993-1-8, in Steel Buildings in Europe, Part 5, p. 5-104", "read")
_MEMORY_1_8 = TableSource("EN 1993-1-8 cl. 4.1, 4.5", "memory")


@dataclass(frozen=True)
class SteelGrade:
    """Yield fy and tensile strength fu [Pa], and beta_w [-], with the table that fu is taken from."""

    fy: float
    fu: float
    beta_w: float
    fu_source: TableSource


_EN_10025 = TableSource("EN 10025-2, t up to 100 mm", "memory")
_EN_1993 = TableSource("EN 1993-1-1 Table 3.1", "memory")
# The choice of fu alone moves S355 by 8 %, so each is a row of its own; beta_w read in the guide (S235 to S355).
STEELS: dict[str, SteelGrade] = {
    "S235": SteelGrade(235 * MPA, 360 * MPA, 0.80, _EN_10025),
    "S275, EN 10025-2": SteelGrade(275 * MPA, 410 * MPA, 0.85, _EN_10025),
    "S275, EN 1993-1-1": SteelGrade(275 * MPA, 430 * MPA, 0.85, _EN_1993),
    "S355, EN 10025-2": SteelGrade(355 * MPA, 470 * MPA, 0.90, _EN_10025),
    "S355, EN 1993-1-1 corrected": SteelGrade(355 * MPA, 490 * MPA, 0.90, _EN_1993),
    "S355, EN 1993-1-1:2005": SteelGrade(
        355 * MPA,
        510 * MPA,
        0.90,
        TableSource("EN 1993-1-1:2005 Table 3.1 before its corrigendum; a guide's worked example fits it", "memory"),
    ),
}
_EN_1993_1_4 = TableSource("EN 1993-1-4 Table 2.1 (least of strip and plate) and cl. 6.3, beta_w 1.0", "memory")
GAMMA_M0_STAINLESS = 1.10
STAINLESS: dict[str, SteelGrade] = {
    "1.4301": SteelGrade(210 * MPA, 520 * MPA, 1.0, _EN_1993_1_4),
    "1.4307": SteelGrade(200 * MPA, 500 * MPA, 1.0, _EN_1993_1_4),
    "1.4401": SteelGrade(220 * MPA, 520 * MPA, 1.0, _EN_1993_1_4),
    "1.4404": SteelGrade(220 * MPA, 520 * MPA, 1.0, _EN_1993_1_4),
}
BETA_W: dict[str, float] = {"S235": 0.80, "S275": 0.85, "S355": 0.90, "S420": 1.0, "S460": 1.0}
BETA_W_SOURCE = _GUIDE

# AWS D1.1 processes whose partial-penetration throat loses 3 mm between 45 and 60 degrees (ISO 4063 numbers).
SHORTENED = ("111", "135", "136", "114")


def throat_of_leg(leg: float) -> float:
    """Throat of an equal-leg fillet in a square corner [m]: leg/sqrt 2.

    Parameters: leg [m], above 0. Returns: throat [m]. Raises: PhysicsRangeError outside.
    Source: geometry; Steel Buildings in Europe, Part 5, p. 5-104 (read).
    Example: A leg of 6 mm has a throat of 4.24 mm.
    >>> round(throat_of_leg(6e-3) * 1e3, 2)
    4.24
    """
    return positive("leg", leg, "m") / math.sqrt(2.0)


def leg_of_throat(throat: float) -> float:
    """Leg of an equal-leg fillet in a square corner [m]: throat sqrt 2.

    Parameters: throat [m], above 0. Returns: leg [m]. Raises: PhysicsRangeError outside.
    Source: as `throat_of_leg` (read).
    Example: A throat of 3 mm has a leg of 4.24 mm.
    >>> round(leg_of_throat(3e-3) * 1e3, 2)
    4.24
    """
    return positive("throat", throat, "m") * math.sqrt(2.0)


def fillet_shear_design(fu: float, beta_w: float, gamma: float = GAMMA_M2) -> float:
    """Design shear strength of a fillet, simplified method [Pa]: fu/(sqrt 3 beta_w gamma_M2).

    Parameters: fu [Pa] of the weaker part joined, 200e6 to 800e6; beta_w [-], 0.8 to 1; gamma [-], 1 to 3.
    Returns: strength [Pa] on the throat, any direction of load. Raises: PhysicsRangeError outside.
    Source: EN 1993-1-8 cl. 4.5.3.3 (read in two copies).
    Example: S275, fu 410 MPa, beta_w 0.85: 222.8 MPa, 0.94 kN/mm on a throat of 4.2 mm (SCI P363).
    >>> round(fillet_shear_design(410e6, 0.85) / 1e6, 1)
    222.8
    """
    return _directional_limit(fu, beta_w, gamma) / math.sqrt(3.0)


def fillet_directional(
    sigma_perp: float,
    tau_perp: float,
    tau_par: float,
    fu: float,
    beta_w: float,
    gamma: float = GAMMA_M2,
) -> float:
    """Utilisation of a fillet, directional method [-]; at most 1 holds.

    The larger of sqrt(s2 + 3 (tp2 + tl2)) beta_w gamma_M2/fu and s gamma_M2/(0.9 fu), on the throat.
    Parameters: sigma_perp, tau_perp, tau_par [Pa] on the throat, any sign; fu [Pa], 200e6 to 800e6;
    beta_w [-], 0.8 to 1; gamma [-], 1 to 3. Returns: utilisation [-]. Raises: PhysicsRangeError outside.
    Source: EN 1993-1-8 cl. 4.5.3.2 (memory; reproduces two published worked examples).
    Example: S235 under its shear strength of 207.85 MPa along the fillet is used in full (no unit).
    >>> round(fillet_directional(0.0, 0.0, 207.85e6, 360e6, 0.80), 3)
    1.0
    """
    for name, stress in (("normal stress", sigma_perp), ("shear across", tau_perp), ("shear along", tau_par)):
        within(name, stress, -1e10, 1e10, "Pa")
    combined = math.sqrt(sigma_perp**2 + 3.0 * (tau_perp**2 + tau_par**2)) / _directional_limit(fu, beta_w, gamma)
    return max(combined, abs(sigma_perp) * gamma / (0.9 * fu))


def fillet_transverse_design(fu: float, beta_w: float, gamma: float = GAMMA_M2) -> float:
    """Design strength of an equal-leg fillet pulled across its length, directional method [Pa on the throat].

    Such a pull puts F/(a sqrt 2) both across and along the throat plane: fu/(sqrt 2 beta_w gamma_M2), which
    is sqrt 1.5 times the simplified value. The second check, 0.9 fu/gamma_M2, never governs.
    Parameters: fu [Pa], 200e6 to 800e6; beta_w [-], 0.8 to 1; gamma [-], 1 to 3. Returns: strength [Pa].
    Raises: PhysicsRangeError outside.
    Source: EN 1993-1-8 cl. 4.5.3.2 (memory), reduced here (computed).
    Example: S275, fu 410 MPa, beta_w 0.85, throat 4.2 mm: 1.15 kN/mm (SCI P363).
    >>> round(4.2e-3 * fillet_transverse_design(410e6, 0.85) / 1e6, 2)
    1.15
    """
    return _directional_limit(fu, beta_w, gamma) / math.sqrt(2.0)


def effective_length(length: float, throat: float, full_size_ends: bool = False) -> float:
    """Length of a fillet that carries load [m]: l - 2a, or all of it where it is full size to both ends.

    One guide takes off twice the leg at each end instead, which is more cautious.
    Parameters: length l [m], above 0; throat a [m], above 0; full_size_ends (no unit).
    Returns: effective length [m]. Raises: PhysicsRangeError where it is under 30 mm or 6 throats, since so
    short a weld may carry nothing. Source: EN 1993-1-8 cl. 4.5.1 (memory).
    Example: 100 mm of a throat of 3 mm: 94 mm.
    >>> round(effective_length(0.1, 3e-3) * 1e3, 3)
    94.0
    """
    cut = 0.0 if full_size_ends else 2.0 * positive("throat", throat, "m")
    least = max(LEAST_LENGTH, 6.0 * positive("throat", throat, "m"))
    return within("effective length", positive("length", length, "m") - cut, least, math.inf, "m")


def long_lap_factor(length: float, throat: float) -> float:
    """Factor on the strength of a long lap fillet [-]: 1.2 - 0.2 L/(150 a) beyond 150 throats, else 1.

    Parameters: length L [m], above 0; throat a [m], above 0. Returns: factor [-], 0.6 to 1.
    Raises: PhysicsRangeError outside, also beyond 450 throats. Source: EN 1993-1-8 cl. 4.11 (memory).
    Example: 900 mm of a throat of 3 mm, 300 throats: 0.8 (no unit).
    >>> round(long_lap_factor(0.9, 3e-3), 3)
    0.8
    """
    ratio = positive("length", length, "m") / (150.0 * positive("throat", throat, "m"))
    within("lap length over 150 throats", ratio, 0.0, 3.0, "", "so long a lap belongs to a stress analysis")
    return min(1.0, 1.2 - 0.2 * ratio)


def partial_butt_pulled(penetration: float, fu: float, beta_w: float, gamma: float = GAMMA_M2) -> float:
    """Design force across a partial-penetration butt held straight, per length [N/m].

    As a deep-penetration fillet whose throat stands square to the pull: s min(fu/(beta_w gamma), 0.9 fu/gamma) by
    the directional method. Parameters: penetration s [m] always reached, above 0; fu [Pa], 200e6 to 800e6;
    beta_w [-], 0.8 to 1; gamma [-], 1 to 3. Returns: force [N/m]. Raises: PhysicsRangeError outside.
    Source: EN 1993-1-8 cl. 4.7.2 (read: throat; memory: method).
    Example: S235 through 4 mm: 0.9 x 360/1.25 MPa on it is 1036.8 N/mm.
    >>> round(partial_butt_pulled(4e-3, 360e6, 0.80) / 1e3, 1)
    1036.8
    """
    limit = min(_directional_limit(fu, beta_w, gamma), 0.9 * fu / gamma)
    return positive("penetration", penetration, "m") * limit


def offset_root_factor(thickness: float, penetration: float) -> float:
    """How much harder the root of a one-sided partial seam is pulled when the joint may bend [-]: 1 + 3 (t - s)/s.

    Elastic: N/s + 6 N e/s2 with the offset e = (t - s)/2. Parameters: thickness t [m], above 0; penetration s
    [m], above 0, up to t. Returns: factor [-], 1 where the seam goes through. Raises: PhysicsRangeError outside.
    Source: beam bending (computed); EN 1993-1-8 cl. 4.12 asks for it (memory).
    Example: 5 of 10 mm reached: four times (no unit).
    >>> offset_root_factor(10e-3, 5e-3)
    4.0
    """
    depth = within(
        "penetration", positive("penetration", penetration, "m"), 0.0, positive("thickness", thickness, "m"), "m"
    )
    return 1.0 + 3.0 * (thickness - depth) / depth


def parent_design(thickness: float, fy: float, gamma_m0: float = 1.0) -> tuple[float, float]:
    """Design forces of the plate itself per length [N/m]: sheared along t fy/(sqrt 3 gamma), pulled t fy/gamma.

    Parameters: thickness t [m], above 0, up to 40 mm; fy [Pa], 100e6 to 800e6; gamma_m0 [-], 1 to 3.
    Returns: along, across [N/m]. Raises: PhysicsRangeError outside. Source: EN 1993-1-1 cl. 6.2.3, 6.2.6 (memory).
    Example: 5 mm of 1.4301, fy 210 MPa, gamma_M0 1.1: 551 N/mm along and 955 N/mm across.
    >>> [round(force / 1e3) for force in parent_design(5e-3, 210e6, 1.1)]
    [551, 955]
    """
    within("thickness", positive("thickness", thickness, "m"), 0.0, 40e-3, "m", "thicker plate has a lower yield")
    strength = within("yield strength", fy, 100e6, 800e6, "Pa") / within("gamma_M0", gamma_m0, 1.0, 3.0)
    return thickness * strength / math.sqrt(3.0), thickness * strength


def fillet_resistance(
    throat: float, length: float, material: float, steel: SteelGrade, full_size_ends: bool = False
) -> float:
    """Design force of one fillet in any direction, simplified method [N]: a l_eff fvw,d.

    Parameters: throat a [m], from 3 mm; length [m] as welded; material [m], thickness of the thinner part,
    from 4 mm (thinner is `sheet_side_fillet`); steel, a grade of `STEELS` [Pa]; full_size_ends (no unit).
    Returns: force [N]. Raises: PhysicsRangeError outside. Source: EN 1993-1-8 cl. 4.1, 4.5 (method read,
    scope and least sizes memory).
    Example: Two fillets of throat 3 mm, 100 mm long, on S235: 117.2 kN.
    >>> round(2 * fillet_resistance(3e-3, 0.1, 5e-3, STEELS["S235"]) / 1e3, 1)
    117.2
    """
    within("throat", throat, LEAST_THROAT, math.inf, "m", "EN 1993-1-8 knows no smaller throat")
    within("material", material, LEAST_MATERIAL, math.inf, "m", "thinner sheet is EN 1993-1-3")
    effective = effective_length(length, throat, full_size_ends)
    return throat * effective * fillet_shear_design(steel.fu, steel.beta_w)


def full_strength_throat_ratio(steel: SteelGrade, gamma_m0: float = 1.0, gamma_m2: float = GAMMA_M2) -> float:
    """Throat of each of two fillets that carry a plate's full strength, over the plate's thickness [-].

    a/t = (fy/gamma_M0) beta_w gamma_M2/(sqrt 2 fu).
    Parameters: steel [Pa]; gamma_m0, gamma_m2 [-], 1 to 3. Returns: ratio [-].
    Raises: PhysicsRangeError outside. Source: Steel Buildings in Europe, Part 5, sec. 2.2.6 (read).
    Example: S235: 0.46 of the plate's thickness (Steel Buildings in Europe, Part 5, p. 5-11; no unit).
    >>> round(full_strength_throat_ratio(STEELS["S235"]), 2)
    0.46
    """
    within("gamma_M0", gamma_m0, 1.0, 3.0)
    return steel.fy / gamma_m0 / (2.0 * fillet_transverse_design(steel.fu, steel.beta_w, gamma_m2))


def partial_throat_d1_1(depth: float, included_deg: float, process: str) -> float:
    """Throat of a partial-penetration groove by AWS D1.1 [m].

    The depth of preparation at 60 deg and more; 3 mm less from 45 to 60 deg with stick, MAG and flux-cored.
    By EN 1993-1-8 cl. 4.7.2 it is instead the depth of penetration consistently achieved.
    Parameters: depth [m] of the preparation, above 0; included_deg [deg], 45 to 120; process, an ISO 4063
    number (no unit). Returns: throat [m]. Raises: PhysicsRangeError outside, also where nothing is left;
    NotCoveredError for another process under 60 deg. Source: AWS D1.1 (memory).
    Example: 8 mm deep at 45 deg with MAG: 5 mm.
    >>> round(partial_throat_d1_1(8e-3, 45.0, "135") * 1e3, 3)
    5.0
    """
    within("included angle", included_deg, 45.0, 120.0, "deg")
    positive("depth of preparation", depth, "m")
    if included_deg >= 60.0:
        return depth
    if process not in SHORTENED:
        text = f"no throat for process {process} in a groove under 60 degrees"
        raise NotCoveredError(text, "process", "open the groove to 60 degrees, or cut and etch a coupon")
    return positive("throat", depth - 3e-3, "m", "the groove is too shallow for its angle to count")


def sheet_side_fillet(thickness: float, length: float, width: float, fu: float, gamma: float = GAMMA_M2) -> float:
    """Design force of one of a pair of side fillets in a sheet lap [N].

    t Ls (0.9 - 0.45 Ls/b) fu/gamma_M2 for Ls up to b, 0.45 t b fu/gamma_M2 beyond.
    Parameters: thickness t [m] of the thinner sheet, above 0 to below 4 mm; length Ls [m], from 8 t; width b
    [m] of the lap, above 0; fu [Pa], 200e6 to 800e6; gamma [-], 1 to 3. Returns: force [N].
    Raises: PhysicsRangeError outside. Source: EN 1993-1-3 cl. 8.5 (memory; the 8 t rule read).
    Example: 2 mm sheet of fu 360 MPa, 50 mm long in a lap 100 mm wide: 2 x 50 x 0.675 x 288 N is 19.44 kN.
    >>> round(sheet_side_fillet(2e-3, 50e-3, 0.1, 360e6) / 1e3, 2)
    19.44
    """
    strength = _sheet(thickness, length, width, fu, gamma)
    if length > width:
        return 0.45 * thickness * width * strength
    return thickness * length * (0.9 - 0.45 * length / width) * strength


def sheet_end_fillet(thickness: float, length: float, width: float, fu: float, gamma: float = GAMMA_M2) -> float:
    """Design force of an end fillet in a sheet lap [N]: t Le (1 - 0.3 Le/b) fu/gamma_M2.

    Parameters: thickness t [m] of the thinner sheet, above 0 to below 4 mm; length Le [m], from 8 t up to b;
    width b [m] of the lap, above 0; fu [Pa], 200e6 to 800e6; gamma [-], 1 to 3. Returns: force [N].
    Raises: PhysicsRangeError outside. Source: EN 1993-1-3 cl. 8.5 (memory; the 8 t rule read).
    Example: 2 mm sheet of fu 360 MPa, 50 mm long in a lap 100 mm wide: 2 x 50 x 0.85 x 288 N is 24.48 kN.
    >>> round(sheet_end_fillet(2e-3, 50e-3, 0.1, 360e6) / 1e3, 2)
    24.48
    """
    strength = _sheet(thickness, length, width, fu, gamma)
    within("fillet length", length, 0.0, width, "m", "an end fillet is no longer than the lap is wide")
    return thickness * length * (1.0 - 0.3 * length / width) * strength


def steel_grade(name: str) -> SteelGrade:
    """A grade with its strengths [Pa].

    Parameters: name in `STEELS` (no unit). Returns: fy, fu [Pa], beta_w [-] and the table of fu.
    Raises: NotCoveredError for another. Source: the row's own.
    Example: S235 yields at 235 MPa.
    >>> steel_grade("S235").fy / 1e6
    235.0
    """
    return entry(STEELS, name, "steel grade")


def _directional_limit(fu: float, beta_w: float, gamma: float) -> float:
    """fu/(beta_w gamma_M2) [Pa]."""
    within("tensile strength", fu, 200e6, 800e6, "Pa")
    return fu / (within("beta_w", beta_w, 0.8, 1.0) * within("gamma_M2", gamma, 1.0, 3.0))


def _sheet(thickness: float, length: float, width: float, fu: float, gamma: float) -> float:
    """fu/gamma_M2 [Pa], the sheet rules' limits checked."""
    within("sheet", positive("sheet", thickness, "m"), 0.0, math.nextafter(SHEET_LIMIT, 0.0), "m")
    positive("lap width", width, "m")
    within("fillet length", length, 8.0 * thickness, math.inf, "m", "under 8 sheet thicknesses it carries nothing")
    return within("tensile strength", fu, 200e6, 800e6, "Pa") / within("gamma_M2", gamma, 1.0, 3.0)
