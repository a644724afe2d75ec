"""Strength of welds in aluminium after EN 1999-1-1: weld metal, heat-affected zone, and how far it reaches.

Three places are checked, and the weakest decides: weld metal, the zone at the fusion boundary, the zone at
the toe. Design values sized by this serve practice pieces and shop fixtures; anything structural, lifted or
under pressure belongs to the code itself and a licensed engineer. A heat-treated alloy reaches the tabled
strength some days after welding only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeVar

from advisor.physics.aluminium_tables import FILLER_AS, HAZ_ROWS, NEIGHBOUR_AS, PARENT_AS, WELD_METAL, HazRow
from advisor.physics.ranges import positive, within
from advisor.physics.tables import NotCoveredError, TableSource, entry

GAMMA_MW = 1.25
GAMMA_M1 = 1.10
THIN = 6e-3  # m
TIG, MIG = "141", "131"
TIG_FACTORS_SOURCE = TableSource("EN 1999-1-1 Table 3.2, footnote on TIG", "memory")
DWIGHT = TableSource("Dwight, Aluminium Design and Construction, 1999, section 6.8.2", "read")
EXTENT_SOURCE = TableSource("EN 1999-1-1 cl. 6.1.6.3 (30 and 20 mm also read in a trade article)", "memory")
SHORTEST_THROATS = 8.0  # a shorter fillet carries nothing (memory, EN 1999-1-1 cl. 8.6.3.3)

# Upper thickness [m] and extent [m] each way from the weld, MIG.
MIG_EXTENTS = ((6e-3, 20e-3), (12e-3, 30e-3), (25e-3, 35e-3), (math.inf, 40e-3))
TIG_EXTENT = 30e-3  # m, up to 6 mm
# Other published extents, each way: 25 mm from a butt's centreline or a fillet's root (Dwight, read); 25 mm
# or 3 t from the weld centreline (Aluminum Association, read). Dwight: TIG on thin metal, half as much area again.
ONE_INCH_RULE = (25e-3, DWIGHT)


Figure = TypeVar("Figure")


@dataclass(frozen=True)
class HazStrength:
    """Characteristic strength of the heat-affected zone: proof fo and tensile fu [Pa], and where from."""

    fo: float
    fu: float
    sources: tuple[TableSource, ...]


@dataclass(frozen=True)
class ButtStrength:
    """Design force across a butt weld per length [N/m]: weld metal, heat-affected zone, parent at yield."""

    weld: float
    haz: float
    parent: float

    @property
    def least(self) -> float:
        """The weakest of the three [N/m]."""
        return min(self.weld, self.haz, self.parent)


@dataclass(frozen=True)
class FilletStrength:
    """Design force along one fillet [N]: weld metal, zone at the fusion boundary, zone at the toe."""

    weld: float
    boundary: float
    toe: float

    @property
    def least(self) -> float:
        """The weakest of the three [N]."""
        return min(self.weld, self.boundary, self.toe)


def haz_row(alloy: str, temper: str, form: str, thickness: float) -> HazRow:
    """The table row of an alloy, temper and product form that covers a thickness [Pa].

    Parameters: alloy such as `6061`, temper such as `T6`, form `sheet`, `extrusion` or `drawn tube` (no
    units); thickness [m], above 0. Returns: row with strengths [Pa]. Raises: NotCoveredError where the
    table has no such row or none so thick. Source: EN 1999-1-1 Tables 3.2a (memory), 3.2b (read).
    Example: 6061-T6 sheet of 3 mm keeps 115 MPa proof and 175 MPa tensile in its zone (EN 1999-1-1 Table 3.2a).
    >>> row = haz_row("6061", "T6", "sheet", 3e-3)
    >>> row.fo_haz / 1e6, row.fu_haz / 1e6
    (115.0, 175.0)
    """
    positive("thickness", thickness, "m")
    named = [row for row in HAZ_ROWS if row.alloy == alloy and temper in row.tempers and form in row.forms]
    for row in sorted(named, key=lambda item: item.thickest):
        if thickness <= row.thickest:
            return row
    what = f"{alloy}-{temper} {form}"
    if named:
        raise NotCoveredError(f"no row for {what} of {thickness * 1e3:g} mm in the table", "thickness")
    tempers = {f"{'/'.join(row.tempers)} {form}" for row in HAZ_ROWS if row.alloy == alloy for form in row.forms}
    known = sorted(tempers) or sorted({row.alloy for row in HAZ_ROWS})
    raise NotCoveredError(f"no row for {what} in the table", "alloy", f"known here: {', '.join(known)}")


def haz_strength(row: HazRow, process: str, thickness: float, temper: str = "") -> HazStrength:
    """Strength of the heat-affected zone after MIG or TIG [Pa].

    TIG: 6xxx and 7xxx keep 0.8 of the MIG value up to 6 mm and 0.64 above; 3xxx and 5xxx keep all and 0.9;
    temper O keeps all. Dwight takes off much less (`tig_softening_dwight`); the two are not averaged.
    Parameters: row [Pa], from `haz_row`; process `131` or `141` (no unit); thickness [m], above 0 to the
    row's thickest; temper, such as `O` (no unit). Returns: fo and fu [Pa]. Raises: PhysicsRangeError,
    NotCoveredError outside. Source: EN 1999-1-1 Table 3.2 with its footnote on TIG (memory).
    Example: TIG on 3 mm 6061-T6 keeps 0.8 of 115 and of 175 MPa: 92 and 140 MPa.
    >>> zone = haz_strength(haz_row("6061", "T6", "sheet", 3e-3), "141", 3e-3)
    >>> round(zone.fo / 1e6, 1), round(zone.fu / 1e6, 1)
    (92.0, 140.0)
    """
    within("thickness", positive("thickness", thickness, "m"), 0.0, row.thickest, "m")
    if process == MIG:
        return HazStrength(row.fo_haz, row.fu_haz, (row.source,))
    if process != TIG:
        raise NotCoveredError(f"no heat-affected strength for process {process}", "process", "known here: 131, 141")
    thin, thick = _by_series(row.alloy, (1.0, 0.9), (0.8, 0.64), (0.8, 0.64))
    if temper == "O":
        thin = thick = 1.0
    factor = thin if thickness <= THIN else thick
    return HazStrength(factor * row.fo_haz, factor * row.fu_haz, (row.source, TIG_FACTORS_SOURCE))


def tig_softening_dwight(softening: float, alloy: str) -> float:
    """Softening factor after TIG by Dwight [-]: 0.05 less than after MIG for 6xxx, 0.2 less for 7xxx.

    Parameters: softening [-] after MIG, 0.2 to 1; alloy, four digits (no unit). Returns: factor [-].
    Raises: PhysicsRangeError outside; NotCoveredError for another series.
    Source: Dwight, Aluminium Design and Construction, 1999, section 6.8.2 (read).
    Example: 7020 that keeps 0.8 of its strength after MIG keeps 0.6 after TIG (no unit).
    >>> round(tig_softening_dwight(0.8, "7020"), 3)
    0.6
    """
    less = _by_series(alloy, 0.0, 0.05, 0.2)
    return positive("softening factor", within("softening factor", softening, 0.2, 1.0) - less)


def haz_extent(process: str, thickness: float, alloy: str, interpass_c: float = 20.0) -> float:
    """How far the heat-affected zone reaches from the weld, each way [m].

    TIG 30 mm up to 6 mm thick; MIG 20, 30, 35, 40 mm up to 6, 12, 25 mm and above. Interpass temperature
    T1 above 60 degC: times 1 + (T1 - 60)/120 for 5xxx and 6xxx, 1 + 1.5 (T1 - 60)/120 for 7xxx.
    Parameters: process `131` or `141` (no unit); thickness [m], above 0 (TIG to 6 mm); alloy, four digits
    (no unit); interpass_c [degC], -20 to 120. Returns: extent [m]. Raises: PhysicsRangeError,
    NotCoveredError outside. Source: EN 1999-1-1 cl. 6.1.6.3 (memory; 30 and 20 mm read in a trade article).
    Example: TIG on 3 mm 6061 at 100 degC between runs reaches 40 mm instead of 30 mm.
    >>> round(haz_extent("141", 3e-3, "6061", 100.0) * 1e3, 1)
    40.0
    """
    positive("thickness", thickness, "m")
    if process == TIG:
        within("thickness", thickness, 0.0, THIN, "m", "EN 1999-1-1 gives no extent for TIG on thicker metal")
        base = TIG_EXTENT
    elif process == MIG:
        base = next(extent for most, extent in MIG_EXTENTS if thickness <= most)
    else:
        raise NotCoveredError(f"no extent of the zone for process {process}", "process", "known here: 131, 141")
    over = within("interpass temperature", interpass_c, -20.0, 120.0, "degC") - 60.0
    if over <= 0.0:
        return base
    if alloy[:1] == "3":
        raise NotCoveredError("the interpass rule names 5xxx, 6xxx and 7xxx only", "alloy", "keep it under 60 degC")
    slope = _by_series(alloy, 1.0, 1.0, 1.5)
    return base * (1.0 + slope * over / 120.0)


def weld_metal_strength(filler: str, parent: str) -> float:
    """Characteristic strength of weld metal fw [Pa].

    The table's notes let other fillers and parents stand with those it lists (`FILLER_AS`, `PARENT_AS`); 5086 stands
    with its weaker neighbour by magnesium (`NEIGHBOUR_AS`).
    Parameters: filler such as `5356` or `4043A`, parent alloy such as `6061` (no units). Returns: strength [Pa].
    Raises: NotCoveredError for a pair outside the table. Source: EN 1999-1-1 Table 8.8 and its notes (memory).
    Example: 5356 between parts of 6061 has 190 MPa (EN 1999-1-1 Table 8.8).
    >>> weld_metal_strength("5356", "6061") / 1e6
    190.0
    """
    row = entry(WELD_METAL, entry(FILLER_AS, filler, "filler"), "filler")
    return entry(row, {**PARENT_AS, **NEIGHBOUR_AS}.get(parent, parent), f"parent alloy for {filler}")


def butt_strength(
    thickness: float, weld_metal: float, haz: HazStrength, parent_fo: float, gamma_mw: float = GAMMA_MW
) -> ButtStrength:
    """Design forces across a full-penetration butt weld per length [N/m].

    Weld fw t/gamma_Mw, zone fu,haz t/gamma_Mw, parent fo t/gamma_M1.
    Parameters: thickness t [m], above 0; weld_metal fw [Pa], above 0; haz [Pa], from `haz_strength`;
    parent_fo [Pa], above 0; gamma_mw [-], 1 to 3. Returns: three forces [N/m].
    Raises: PhysicsRangeError outside. Source: EN 1999-1-1 cl. 8.6.3 and 6.2.3 (memory; factors read in a
    structural calculation).
    Example: A TIG butt of 3 mm 6061-T6 with 5356 carries 336 N/mm in its zone; the parent carries 654.5 N/mm.
    >>> found = butt_strength(3e-3, 190e6, HazStrength(92e6, 140e6, ()), 240e6)
    >>> round(found.haz / 1e3, 1), round(found.parent / 1e3, 1)
    (336.0, 654.5)
    """
    gamma = within("gamma_Mw", gamma_mw, 1.0, 3.0)
    t = positive("thickness", thickness, "m")
    weld = positive("weld metal strength", weld_metal, "Pa") * t / gamma
    return ButtStrength(weld, haz.fu * t / gamma, positive("proof strength", parent_fo, "Pa") * t / GAMMA_M1)


def fillet_shear_design(weld_metal: float, gamma_mw: float = GAMMA_MW) -> float:
    """Design shear stress along a fillet's throat [Pa]: fw/(sqrt 3 gamma_Mw).

    Parameters: weld_metal fw [Pa], above 0; gamma_mw [-], 1 to 3. Returns: stress [Pa].
    Raises: PhysicsRangeError outside. Source: EN 1999-1-1 cl. 8.6.3.3 (memory).
    Example: 5356 on 6061, fw 190 MPa, has 87.76 MPa in shear.
    >>> round(fillet_shear_design(190e6) / 1e6, 2)
    87.76
    """
    return positive("weld metal strength", weld_metal, "Pa") / (math.sqrt(3.0) * within("gamma_Mw", gamma_mw, 1.0, 3.0))


def fillet_utilisation(
    sigma_perp: float, tau_perp: float, tau_par: float, weld_metal: float, gamma_mw: float = GAMMA_MW
) -> float:
    """Utilisation of a fillet's weld metal [-]: sqrt(s2 + 3 (tp2 + tl2)) gamma_Mw/fw; at most 1 holds.

    Parameters: sigma_perp, tau_perp, tau_par [Pa] on the throat, any sign; weld_metal fw [Pa], above 0;
    gamma_mw [-], 1 to 3. Returns: utilisation [-]. Raises: PhysicsRangeError outside.
    Source: EN 1999-1-1 cl. 8.6.3.3 (memory).
    Example: 5356 on 6061 under 43.88 MPa along the fillet is used to one half (no unit).
    >>> round(fillet_utilisation(0.0, 0.0, 43.88e6, 190e6), 3)
    0.5
    """
    for name, stress in (("normal stress", sigma_perp), ("shear across", tau_perp), ("shear along", tau_par)):
        within(name, stress, -1e10, 1e10, "Pa")
    combined = math.sqrt(sigma_perp**2 + 3.0 * (tau_perp**2 + tau_par**2))
    return combined / (math.sqrt(3.0) * fillet_shear_design(weld_metal, gamma_mw))


def fillet_along(
    throat: float, length: float, thickness: float, weld_metal: float, haz: HazStrength, gamma_mw: float = GAMMA_MW
) -> FilletStrength:
    """Design forces along one equal-leg fillet [N]: throat, fusion boundary (a leg), toe (the member).

    Parameters: throat a [m], above 0; length [m], from 8 throats; thickness [m] of the member at the toe,
    above 0; weld_metal fw [Pa], above 0; haz [Pa], from `haz_strength`; gamma_mw [-], 1 to 3.
    Returns: three forces [N]. Raises: PhysicsRangeError outside. Source: EN 1999-1-1 cl. 8.6.3.3 and
    8.6.3.4 (memory).
    Example: Two fillets of 4043A on 6061, throat 3 mm, 80 mm long, carry 37.69 kN in their weld metal.
    >>> one = fillet_along(3e-3, 80e-3, 5e-3, 170e6, HazStrength(92e6, 140e6, ()))
    >>> round(2 * one.weld / 1e3, 2)
    37.69
    """
    a = positive("throat", throat, "m")
    within("fillet length", length, SHORTEST_THROATS * a, math.inf, "m", "a fillet under 8 throats carries nothing")
    soft = haz.fu / (math.sqrt(3.0) * within("gamma_Mw", gamma_mw, 1.0, 3.0))
    weld = a * length * fillet_shear_design(weld_metal, gamma_mw)
    return FilletStrength(
        weld, math.sqrt(2.0) * a * length * soft, positive("thickness", thickness, "m") * length * soft
    )


def fillet_across(
    throat: float, length: float, thickness: float, weld_metal: float, haz: HazStrength, gamma_mw: float = GAMMA_MW
) -> FilletStrength:
    """Design forces of one equal-leg fillet pulled across its length [N]: throat, fusion boundary, toe.

    Such a pull puts F/(a L sqrt 2) across and along the throat plane: a L fw/(sqrt 2 gamma_Mw). At the fusion
    boundary one leg is pulled and the other sheared, so the sheared one decides; the toe is pulled.
    Parameters: throat a, length, thickness [m], weld_metal fw [Pa], haz [Pa], gamma_mw [-] as `fillet_along`.
    Returns: three forces [N]. Raises: PhysicsRangeError outside. Source: EN 1999-1-1 cl. 8.6.3.3 and 8.6.3.4
    (memory), reduced here (computed).
    Example: One fillet of 4043A, throat 3 mm, 80 mm long, pulled across: 80 x 3 x 170/(sqrt 2 x 1.25) N is 23.08 kN.
    >>> one = fillet_across(3e-3, 80e-3, 5e-3, 170e6, HazStrength(92e6, 140e6, ()))
    >>> round(one.weld / 1e3, 2)
    23.08
    """
    along = fillet_along(throat, length, thickness, weld_metal, haz, gamma_mw)
    return FilletStrength(along.weld * math.sqrt(1.5), along.boundary, along.toe * math.sqrt(3.0))


def long_fillet_length(length: float, throat: float) -> float:
    """Length of a fillet that counts [m]: all of it to 100 throats, (1.2 - 0.2 L/(100 a)) L beyond.

    Parameters: length L [m], from 8 throats; throat a [m], above 0. Returns: length [m].
    Raises: PhysicsRangeError under 8 throats and over 300. Source: EN 1999-1-1 cl. 8.6.3.3 (memory).
    Example: Of 600 mm, which are 200 throats of 3 mm, 0.8 counts: 480 mm.
    >>> round(long_fillet_length(0.6, 3e-3) * 1e3, 1)
    480.0
    """
    least = SHORTEST_THROATS * positive("throat", throat, "m")
    help = "a fillet under 8 throats carries nothing"
    within("fillet length", length, least, math.inf, "m", help)
    if length <= 100.0 * throat:
        return length
    within("fillet length", length, least, 300.0 * throat, "m", "so long a fillet belongs to a stress analysis")
    return (1.2 - 0.2 * length / (100.0 * throat)) * length


def _by_series(alloy: str, soft: Figure, six: Figure, seven: Figure) -> Figure:
    """The figure of an alloy's series: 3xxx and 5xxx, 6xxx, 7xxx."""
    known = {"3": soft, "5": soft, "6": six, "7": seven}
    if alloy[:1] not in known:
        raise NotCoveredError(f"the rule names 3xxx, 5xxx, 6xxx and 7xxx only, not {alloy}", "alloy")
    return known[alloy[:1]]
