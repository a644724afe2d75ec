"""What a seam in aluminium carries after EN 1999-1-1: weld metal, fusion boundary, toe, and the metal farther off."""

from __future__ import annotations

import math

from advisor.job.facts import Workpiece
from advisor.physics import aluminium_strength as en
from advisor.physics.aluminium_tables import (
    FILLET_SHEAR_US,
    FILLET_SHEAR_US_SOURCE,
    NEIGHBOUR_AS,
    WELD_METAL_SOURCE,
    WELDED_US,
)
from advisor.physics.steel_strength import offset_root_factor
from advisor.physics.tables import Evidence, NotCoveredError, TableSource
from advisor.strength.parts import BASE, FILLET, FULL, HAZ, WELD, SeamStrength, StressedSeam, WeakPlace
from advisor.strength.softened import table_row

STANDARD = "EN 1999-1-1"
FILLET_SOURCE = TableSource("EN 1999-1-1 cl. 8.6.3.3; fw from Table 8.8", "memory")
HAZ_SOURCE = TableSource("EN 1999-1-1 cl. 8.6.3.4", "memory")
BUTT_SOURCE = TableSource("EN 1999-1-1 cl. 8.6.3.2; fw from Table 8.8", "memory")
BASE_SOURCE = TableSource("EN 1999-1-1 cl. 6.2.3", "memory")
SCOPE = TableSource("EN 1999-1-1 cl. 1.1 and 8.6.1", "memory")
THINNEST = 1.5  # mm, welded parts (EN 1999-1-1 cl. 1.1, memory)
_GAMMA = f"{en.GAMMA_MW:g}"


def aluminium_seam(
    pieces: tuple[Workpiece, Workpiece],
    forms: tuple[str, str],
    joint: str,
    seam: StressedSeam,
    kind: str,
    how: tuple[str, str],
) -> SeamStrength:
    """The strength of a seam between aluminium parts. how: process (ISO 4063) and filler.

    Raises NotCoveredError or PhysicsRangeError outside the standard.
    """
    process, filler = how
    thin = min(piece.thickness for piece in pieces)
    if thin < THINNEST * 0.99:
        text = f"no rule for {thin:g} mm: EN 1999-1-1 starts at 1.5 mm for welded parts"
        raise NotCoveredError(text, "thickness", "cut and pull a coupon")
    fw, notes = _weld_metal(pieces, filler)
    zones = [_zone(piece, form, process) for piece, form in zip(pieces, forms, strict=True)]
    both = _members(pieces, zones, forms)
    if process == "141" and thin > 6.0 * 1.01:
        notes.append("over 6 mm the standard knows TIG for repairs only; its further 0.8 (0.9) on the zone is used")
    if kind == FILLET:
        return _fillet(both, joint, seam, fw, notes)
    return _butt(both, seam, kind, fw, notes)


_Member = tuple[Workpiece, en.HazStrength, float]


def _weld_metal(pieces: tuple[Workpiece, Workpiece], filler: str) -> tuple[float, list[str]]:
    name = filler.upper().removeprefix("ER").removeprefix("AL ").strip()
    strengths = [en.weld_metal_strength(name, piece.material.id) for piece in pieces]
    fw = min(strengths)
    note = f"weld metal fw {fw / 1e6:.0f} MPa with {filler}"
    if strengths[0] != strengths[1]:
        note += ", the lower of the two parents"
    notes = [f"{note} ({WELD_METAL_SOURCE.document}, recalled)"]
    for alloy in dict.fromkeys(piece.material.id for piece in pieces):
        if alloy in NEIGHBOUR_AS:
            notes.append(
                f"the table of weld metal has no {alloy}: {NEIGHBOUR_AS[alloy]}, the weaker neighbour, is used"
            )
    return fw, notes


def _zone(piece: Workpiece, form: str, process: str) -> en.HazStrength:
    row = table_row(piece.material, piece.thickness, form)
    return en.haz_strength(row, process, piece.thickness * 1e-3, piece.material.temper)


def _members(
    pieces: tuple[Workpiece, Workpiece], zones: list[en.HazStrength], forms: tuple[str, str]
) -> tuple[_Member, ...]:
    """Each member with its zone and its own proof strength [Pa]; one where both are alike."""
    members = [
        (piece, zone, table_row(piece.material, piece.thickness, form).fo)
        for piece, zone, form in zip(pieces, zones, forms, strict=True)
    ]
    one, two = members
    alike = one[0].material.label == two[0].material.label and one[0].thickness == two[0].thickness
    return (one,) if alike and one[1].fu == two[1].fu else (one, two)


def _fillet(members: tuple[_Member, ...], joint: str, seam: StressedSeam, fw: float, notes: list[str]) -> SeamStrength:
    n, a = seam.count, seam.throat
    effective = None
    if seam.length:
        effective = en.long_fillet_length(seam.length * 1e-3, a * 1e-3) * 1e3
        if effective < seam.length:
            notes.append(f"longer than 100 throats: {effective:.1f} mm count (cl. 8.6.3.3, recalled)")
    along = n * a * en.fillet_shear_design(fw) / 1e6
    across = n * a * fw / 1e6 / (math.sqrt(2.0) * en.GAMMA_MW)
    text = (
        f"along {_n(n)}a fw/(sqrt 3 gamma_Mw) = {_n(n)}{a:.2f} x {fw / 1e6:.0f}/(1.732 x {_GAMMA}) = {along:.0f}; "
        f"across a fw/(sqrt 2 gamma_Mw) = {across:.0f} N/mm"
    )
    places = [WeakPlace("weld metal, throat", WELD, along, across, text, FILLET_SOURCE)]
    planes = n if joint == "lap" else 1
    for member in members:
        places += _beside_fillet(member, seam, planes)
    sizes = (("a fillet under 8 throats long carries nothing; no least throat is set", SCOPE),)
    return SeamStrength(
        STANDARD,
        FILLET,
        a,
        seam.leg,
        effective,
        n,
        tuple(places),
        sizes,
        tuple(notes),
        (*_us_filler(seam, notes), *_us_zone(members)),
    )


def _beside_fillet(member: _Member, seam: StressedSeam, planes: int) -> list[WeakPlace]:
    piece, zone, _ = member
    label = f"{piece.material.label} {piece.thickness:g} mm"
    unit = zone.fu / 1e6 / en.GAMMA_MW
    boundary = seam.count * math.sqrt(2.0) * seam.throat * unit / math.sqrt(3.0)
    toe = piece.thickness * unit
    source = TableSource(f"{HAZ_SOURCE.document}; {zone.sources[0].document}", _worst(zone.sources))
    return [
        WeakPlace(
            f"softened zone at the fusion boundary, {label}",
            HAZ,
            boundary,
            boundary,
            f"{_n(seam.count)}leg fu,haz/(sqrt 3 gamma_Mw) = {_n(seam.count)}{math.sqrt(2) * seam.throat:.2f} x "
            f"{zone.fu / 1e6:.0f}/(1.732 x {_GAMMA}) = {boundary:.0f} N/mm, along and across",
            source,
        ),
        WeakPlace(
            f"softened zone at the toe, {label}",
            HAZ,
            planes * toe / math.sqrt(3.0),
            toe,
            f"t fu,haz/gamma_Mw = {piece.thickness:g} x {zone.fu / 1e6:.0f}/{_GAMMA} = {toe:.0f} N/mm; along: /sqrt 3",
            source,
        ),
        _base(member, planes),
    ]


def _base(member: _Member, planes: int) -> WeakPlace:
    piece, _, fo = member
    across = piece.thickness * fo / 1e6 / en.GAMMA_M1
    text = f"t fo/gamma_M1 = {piece.thickness:g} x {fo / 1e6:.0f}/{en.GAMMA_M1:g} = {across:.0f} N/mm; along: /sqrt 3"
    name = f"base metal out of the zone, {piece.material.label} {piece.thickness:g} mm"
    return WeakPlace(name, BASE, planes * across / math.sqrt(3.0), across, text, BASE_SOURCE)


def _butt(members: tuple[_Member, ...], seam: StressedSeam, kind: str, fw: float, notes: list[str]) -> SeamStrength:
    thin = min(piece.thickness for piece, _, _ in members)
    depth = thin if kind == FULL else seam.penetration * seam.count
    across = depth * fw / 1e6 / en.GAMMA_MW
    # The standard rounds 1/sqrt 3 up to 0.6 for shear of a full-penetration butt.
    along = (0.6 if kind == FULL else 1.0 / math.sqrt(3.0)) * across
    text = f"s fw/gamma_Mw = {depth:.2f} x {fw / 1e6:.0f}/{_GAMMA} = {across:.0f} N/mm; along: x {along / across:.2f}"
    places = [WeakPlace("weld metal", WELD, along, across, text, BUTT_SOURCE)]
    for piece, zone, fo in members:
        section = piece.thickness if kind == FULL else depth
        haz = section * zone.fu / 1e6 / en.GAMMA_MW
        where = "toe" if kind == FULL else "fusion boundary"
        said = f"{section:.2f} x fu,haz/gamma_Mw = {section:.2f} x {zone.fu / 1e6:.0f}/{_GAMMA} = {haz:.0f} N/mm"
        name = f"softened zone at the {where}, {piece.material.label} {piece.thickness:g} mm"
        source = TableSource(f"{HAZ_SOURCE.document}; {zone.sources[0].document}", _worst(zone.sources))
        places.append(WeakPlace(name, HAZ, haz / math.sqrt(3.0), haz, f"{said}; along: /sqrt 3", source))
        places.append(_base((piece, zone, fo), 1))
    if kind != FULL:
        notes.append("the standard keeps partial butts for secondary parts; the depth counts that is always reached")
        if not seam.held and seam.count == 1:
            places.append(_root(thin, seam, places))
    other = _us_zone(members) if kind == FULL else ()
    effective = seam.length or None
    return SeamStrength(STANDARD, kind, depth, 0.0, effective, seam.count, tuple(places), (), tuple(notes), other)


def _root(thin: float, seam: StressedSeam, places: list[WeakPlace]) -> WeakPlace:
    weak = min((place for place in places if place.kind != BASE), key=lambda place: place.across)
    factor = offset_root_factor(thin * 1e-3, seam.penetration * 1e-3)
    text = (
        f"across, where the parts may tilt: {weak.across:.0f}/(1 + 3 (t - s)/s) = {weak.across:.0f}/{factor:.2f} = "
        f"{weak.across / factor:.0f} N/mm; along as before"
    )
    source = TableSource("beam bending over the offset of a one-sided seam", "computed")
    return WeakPlace("root of the one-sided seam", weak.kind, weak.along, weak.across / factor, text, source)


def _us_filler(seam: StressedSeam, notes: list[str]) -> tuple[WeakPlace, ...]:
    """What the US manual's filler shear strengths give, as another voice; ultimate, before any safety factor."""
    found = next((name for name in FILLET_SHEAR_US if any(f" ER{name} " in f"{note} " for note in notes)), "")
    if not found:
        return ()
    along, across = (seam.count * seam.throat * value / 1e6 for value in FILLET_SHEAR_US[found])
    text = (
        f"ultimate shear of {found} metal x throat = {along:.0f} along, {across:.0f} N/mm across, no factor taken off"
    )
    return (WeakPlace("weld metal, US figures, ultimate", WELD, along, across, text, FILLET_SHEAR_US_SOURCE),)


def _us_zone(members: tuple[_Member, ...]) -> tuple[WeakPlace, ...]:
    """What the US manual gives for metal within an inch of a seam; ultimate, before any safety factor."""
    places = []
    for piece, _, _ in members:
        names = (piece.material.label, piece.material.id)
        row = min(
            (row for row in WELDED_US if row.alloy in names), key=lambda row: names.index(row.alloy), default=None
        )
        if row is None:
            continue
        across = piece.thickness * row.ftu[0] / 1e6
        text = (
            f"t Ftuw = {piece.thickness:g} x {row.ftu[0] / 1e6:.0f} = {across:.0f} N/mm across, no factor; along x 0.6"
        )
        name = f"welded zone, US figures, ultimate, {piece.material.label} {piece.thickness:g} mm"
        places.append(WeakPlace(name, HAZ, 0.6 * across, across, text, row.source))
    return tuple(places)


def _worst(sources: tuple[TableSource, ...]) -> Evidence:
    return "memory" if any(source.evidence == "memory" for source in sources) else "read"


def _n(count: int) -> str:
    return f"{count} x " if count > 1 else ""
