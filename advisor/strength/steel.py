"""What a seam in steel carries: EN 1993-1-8, EN 1993-1-3 for lapped sheet, EN 1993-1-4, AISC 360 and AISI S100."""

from __future__ import annotations

import math
from dataclasses import replace

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.facts import Workpiece
from advisor.job.material import Material
from advisor.physics import steel_strength as en
from advisor.physics import steel_us as us
from advisor.physics.constants import KSI
from advisor.physics.tables import NotCoveredError, TableSource
from advisor.strength.parts import BASE, FILLET, FULL, PARTIAL, WELD, SeamStrength, StressedSeam, WeakPlace

EN_1993_1_8 = TableSource("EN 1993-1-8 cl. 4.5.3.3, simplified method (Steel Buildings in Europe, Part 5)", "read")
DIRECTIONAL = TableSource("EN 1993-1-8 cl. 4.5.3.2, directional method", "memory")
EN_1993_1_1 = TableSource("EN 1993-1-1 cl. 6.2.3 and 6.2.6", "memory")
PARTIAL_EN = TableSource("EN 1993-1-8 cl. 4.7.2: as a deep-penetration fillet, throat the depth always reached", "read")
SCOPE = TableSource("EN 1993-1-8 cl. 4.1, 4.5", "memory")
SHEET_EN = TableSource("EN 1993-1-3 cl. 8.4", "memory")
EDGE = TableSource("AISC 360-16 J2.2b, AWS D1.1", "memory")
# Several tables print different tensile strengths for one steel; the least is used, and what the others would give
# is said.
_GRADES = {"S235": ("S235",), "S275": ("S275, EN 10025-2", "S275, EN 1993-1-1")}
_GRADES["S355"] = ("S355, EN 10025-2", "S355, EN 1993-1-1 corrected", "S355, EN 1993-1-1:2005")
_STAINLESS = {"304": "1.4301", "304L": "1.4307", "316": "1.4401", "316L": "1.4404"}


def steel_seam(
    pieces: tuple[Workpiece, Workpiece], joint: str, seam: StressedSeam, kind: str, filler: str
) -> SeamStrength:
    """The strength of a seam between steels. Raises NotCoveredError or PhysicsRangeError outside the standards."""
    ids = {piece.material.id for piece in pieces}
    if ids <= us.US_STEELS.keys():
        return _us_seam(pieces, joint, seam, kind, filler)
    if ids & us.US_STEELS.keys():
        text = f"{' to '.join(sorted(ids))}: one is named by ASTM, the other by EN, and no one standard covers both"
        raise NotCoveredError(text, "metal", "name the EN grade on the mill certificate, such as S275 for A36")
    grades = [_grade(piece) for piece in pieces]
    thin = min(piece.thickness for piece in pieces)
    if thin < en.LEAST_MATERIAL * 1e3 * 0.99:
        if kind != FILLET or joint != "lap":
            text = f"no rule for {thin:g} mm steel but in a lap: EN 1993-1-8 starts at 4 mm, EN 1993-1-3 names laps"
            raise NotCoveredError(text, "thickness", "make it a lap, or 4 mm, or cut and pull a coupon")
        return _sheet_lap(grades, thin, seam)
    if kind == FILLET:
        return _fillet(pieces, grades, joint, seam)
    return _butt(pieces, grades, seam, kind)


def _grade(piece: Workpiece) -> en.SteelGrade:
    name = piece.material.id
    if name in _STAINLESS:
        return en.STAINLESS[_STAINLESS[name]]
    if name in _GRADES:
        return en.STEELS[_GRADES[name][0]]
    text = f"no standard strength for welds in {piece.material.label} here"
    known = ", ".join([*_GRADES, *_STAINLESS, *us.US_STEELS])
    raise NotCoveredError(text, "metal", f"known here: {known}; for another cut and pull a coupon")


def yield_design(piece: Workpiece) -> float:
    """Design yield strength of a plate [MPa]. Raises NotCoveredError for a steel without a standard strength."""
    if piece.material.id in us.US_STEELS:
        return 0.9 * us.US_STEELS[piece.material.id].fy / 1e6
    return _grade(piece).fy / 1e6 / _gamma_m0(piece)


def yield_strength(material: Material) -> tuple[float | None, TableSource | None]:
    """A steel's yield strength [MPa] and where it is from; None for a steel without a standard strength here."""
    if material.id in us.US_STEELS:
        row = us.US_STEELS[material.id]
        return row.fy / 1e6, row.source
    if material.id in _GRADES:
        steel = en.STEELS[_GRADES[material.id][0]]
    elif material.id in _STAINLESS:
        steel = en.STAINLESS[_STAINLESS[material.id]]
    else:
        return None, None
    return steel.fy / 1e6, steel.fu_source


def _gamma_m0(piece: Workpiece) -> float:
    return en.GAMMA_M0_STAINLESS if piece.material.family == "stainless" else 1.0


def _base(pieces: tuple[Workpiece, Workpiece], grades: list[en.SteelGrade], planes: int) -> list[WeakPlace]:
    places = []
    for index in sorted({0, 1} if _differ(pieces) else {0}):
        piece, grade, gamma = pieces[index], grades[index], _gamma_m0(pieces[index])
        along, across = (value / 1e3 for value in en.parent_design(piece.thickness * 1e-3, grade.fy, gamma))
        text = (
            f"t fy/gamma_M0 = {piece.thickness:g} x {grade.fy / 1e6:.0f}/{gamma:g} = {across:.0f} N/mm; along: /sqrt 3"
        )
        name = f"base metal, {piece.material.label} {piece.thickness:g} mm"
        places.append(WeakPlace(name, BASE, along * planes, across, text, EN_1993_1_1))
    return places


def _differ(pieces: tuple[Workpiece, Workpiece]) -> bool:
    one, two = pieces
    return one.material.label != two.material.label or one.thickness != two.thickness


def _fillet(
    pieces: tuple[Workpiece, Workpiece], grades: list[en.SteelGrade], joint: str, seam: StressedSeam
) -> SeamStrength:
    throat = seam.throat * 1e-3
    if throat < en.LEAST_THROAT * 0.999:
        text = f"throat {seam.throat:.2g} mm: EN 1993-1-8 counts no fillet under 3 mm throat (4.3 mm leg)"
        raise NotCoveredError(text, "throat", "make it larger, or cut and pull a coupon")
    effective, notes = _effective(seam, joint, throat)
    weak = min(grades, key=lambda grade: grade.fu / grade.beta_w)
    design = en.fillet_shear_design(weak.fu, weak.beta_w)
    unit = seam.count * throat * design / 1e3
    text = (
        f"{_times(seam)}a fu/(sqrt 3 beta_w gamma_M2) = {_times(seam)}{seam.throat:.2f} x {weak.fu / 1e6:.0f}/"
        f"(1.732 x {weak.beta_w:.2g} x 1.25) = {unit:.0f} N/mm, any direction"
    )
    weld = WeakPlace("weld metal, throat, simplified method", WELD, unit, unit, text, EN_1993_1_8)
    across = seam.count * throat * en.fillet_transverse_design(weak.fu, weak.beta_w) / 1e3
    directional = WeakPlace(
        "weld metal, throat, directional method",
        WELD,
        unit,
        across,
        f"across: {_times(seam)}a fu/(sqrt 2 beta_w gamma_M2) = {across:.0f} N/mm, sqrt 1.5 times the simplified",
        DIRECTIONAL,
    )
    base = _base(pieces, grades, seam.count if joint == "lap" else 1)
    return SeamStrength(
        _standard(pieces),
        FILLET,
        seam.throat,
        seam.leg,
        effective,
        seam.count,
        (weld, *base),
        _fillet_sizes(pieces, joint),
        (*notes, *_which_fu(pieces), "no softened zone: EN 1993 checks none beside seams in these steels"),
        (directional,),
    )


def _effective(seam: StressedSeam, joint: str, throat: float) -> tuple[float | None, list[str]]:
    """The length that counts [mm], with a word on how it was found."""
    if not seam.length:
        return None, ["no length given: per mm only; a seam counts from 30 mm and 6 throats of effective length"]
    length = en.effective_length(seam.length * 1e-3, throat, seam.full_ends) * 1e3
    how = "full size to both ends, said" if seam.full_ends else "length less two throats for its ends"
    notes = [f"effective length {length:.1f} mm: {how} (EN 1993-1-8 cl. 4.5.1, recalled)"]
    if joint == "lap":
        factor = en.long_lap_factor(seam.length * 1e-3, throat)
        if factor < 1.0:
            length *= factor
            notes.append(f"longer than 150 throats: counts {factor:.2f} of that (EN 1993-1-8 cl. 4.11, recalled)")
    return length, notes


def _butt(
    pieces: tuple[Workpiece, Workpiece], grades: list[en.SteelGrade], seam: StressedSeam, kind: str
) -> SeamStrength:
    thin = min(pieces, key=lambda piece: piece.thickness)
    base = _base(pieces, grades, 1)
    notes: list[str] = [*_which_fu(pieces)]
    places: tuple[WeakPlace, ...]
    if kind == FULL:
        weakest = min(base, key=lambda place: place.across)
        text = f"as strong as the weaker part, with filler at least its match: {weakest.across:.0f} N/mm"
        source = TableSource("EN 1993-1-8 cl. 4.7.1", "memory")
        places = (WeakPlace("weld metal, full penetration", WELD, weakest.along, weakest.across, text, source), *base)
    else:
        weak = min(grades, key=lambda grade: grade.fu / grade.beta_w)
        places = (*_partial_places(thin.thickness, weak, seam), *base)
        notes.append("the depth counts that is reached every time: cut and etch coupons (EN 1993-1-8 cl. 4.7.2)")
    effective = seam.length or None
    return SeamStrength(_standard(pieces), kind, seam.penetration, 0.0, effective, seam.count, places, (), tuple(notes))


def _partial_places(thickness: float, weak: en.SteelGrade, seam: StressedSeam) -> tuple[WeakPlace, ...]:
    depth = seam.penetration * seam.count
    design = en.fillet_shear_design(weak.fu, weak.beta_w) / 1e6
    along = depth * design
    said = f"s fu/(sqrt 3 beta_w gamma_M2) = {depth:.2f} x {design:.1f} = {along:.0f} N/mm"
    held = WeakPlace("weld metal at the depth reached", WELD, along, along, said, PARTIAL_EN)
    if seam.held or seam.count > 1:
        return (held,)
    factor = en.offset_root_factor(thickness * 1e-3, seam.penetration * 1e-3)
    text = (
        f"across, where the parts may tilt: {along:.0f}/(1 + 3 (t - s)/s) = {along:.0f}/{factor:.2f} = "
        f"{along / factor:.0f} N/mm; along as before"
    )
    source = TableSource(
        "beam bending over the offset of a one-sided seam; EN 1993-1-8 cl. 4.12 asks for it", "computed"
    )
    return held, WeakPlace("root of the one-sided seam", WELD, along, along / factor, text, source)


def _sheet_lap(grades: list[en.SteelGrade], thin: float, seam: StressedSeam) -> SeamStrength:
    """A lap of sheet under 4 mm: the sheet decides, not the throat."""
    if not (seam.length and seam.lap_width):
        text = "a lap in sheet under 4 mm is rated by its whole length and width"
        raise PrestrikeError(Diagnostic("seam", text, subject="length", help="give --length and --lap-width"))
    fu = min(grade.fu for grade in grades)
    t, length, width = thin * 1e-3, seam.length * 1e-3, seam.lap_width * 1e-3
    side = en.sheet_side_fillet(t, length, width, fu) / seam.length * seam.count
    end = math.nan
    notes = []
    if length <= width:
        end = en.sheet_end_fillet(t, length, width, fu) / seam.length * seam.count
    else:
        notes.append("longer than the lap is wide: no end fillet, so across is rated as along")
        end = side
    text = (
        f"t (0.9 - 0.45 L/b) fu/gamma_M2 along = {side:.0f} N/mm, t (1 - 0.3 L/b) fu/gamma_M2 across = {end:.0f} N/mm "
        f"with t {thin:g}, L {seam.length:g}, b {seam.lap_width:g} mm, fu {fu / 1e6:.0f} MPa"
    )
    place = WeakPlace("sheet beside the lap fillet", BASE, side, end, text, SHEET_EN)
    sizes = (("a fillet under 8 sheet thicknesses carries nothing", TableSource("EN 1993-1-3 cl. 8.4", "read")),)
    return SeamStrength(
        "EN 1993-1-3", FILLET, seam.throat, seam.leg, seam.length, seam.count, (place,), sizes, tuple(notes)
    )


def _fillet_sizes(pieces: tuple[Workpiece, Workpiece], joint: str) -> tuple[tuple[str, TableSource], ...]:
    thin = min(piece.thickness for piece in pieces)
    sizes = [("least throat 3 mm, so least leg 4.3 mm; least length 30 mm and 6 throats", SCOPE)]
    if joint == "lap":
        most = us.most_edge_leg(thin * 1e-3) * 1e3
        sizes.append((f"greatest leg along a lapped edge of {thin:g} mm: {most:g} mm", EDGE))
    return tuple(sizes)


def _standard(pieces: tuple[Workpiece, Workpiece]) -> str:
    stainless = any(piece.material.family == "stainless" for piece in pieces)
    return "EN 1993-1-8 with EN 1993-1-4" if stainless else "EN 1993-1-8"


def _which_fu(pieces: tuple[Workpiece, Workpiece]) -> list[str]:
    notes = []
    for name in dict.fromkeys(piece.material.id for piece in pieces):
        rows = [en.STEELS[row] for row in _GRADES.get(name, ())]
        if len(rows) > 1:
            others = ", ".join(f"{row.fu / 1e6:.0f} (+{row.fu / rows[0].fu - 1:.0%})" for row in rows[1:])
            notes.append(f"{name}: fu {rows[0].fu / 1e6:.0f} MPa (EN 10025-2) used; EN 1993-1-1 has printed {others}")
    return notes


def _times(seam: StressedSeam) -> str:
    return f"{seam.count} x " if seam.count > 1 else ""


def _us_seam(
    pieces: tuple[Workpiece, Workpiece], joint: str, seam: StressedSeam, kind: str, filler: str
) -> SeamStrength:
    """US practice, for steels named by ASTM."""
    thin = min(pieces, key=lambda piece: piece.thickness)
    fexx = us.electrode_strength(filler or "ER70S-2")
    notes = [f"filler {filler or 'ER70S-2 (taken, none named)'}: FEXX {fexx / KSI:.0f} ksi"]
    steels = [us.US_STEELS[piece.material.id] for piece in pieces]
    if thin.thickness <= us.SHEET_LIMIT * 1e3:
        return _us_sheet(thin, steels, joint, seam, kind, (fexx, notes))
    base = []
    for index in (0, 1) if _differ(pieces) else (0,):
        piece, steel = pieces[index], steels[index]
        force = us.aisc_base(piece.thickness * 1e-3, steel)
        text = f"least of yielding and rupture: {force.along / 1e3:.0f} along, {force.across / 1e3:.0f} N/mm across"
        name = f"base metal, {piece.material.label} {piece.thickness:g} mm"
        base.append(WeakPlace(name, BASE, force.along / 1e3, force.across / 1e3, text, us.AISC))
    found = SeamStrength("AISC 360-16 (LRFD)", kind, 0.0, 0.0, seam.length or None, seam.count, (), (), tuple(notes))
    if kind == FULL:
        return replace(found, throat=thin.thickness, places=tuple(base))
    if kind == PARTIAL:
        weld, size = us.aisc_partial_groove(seam.penetration * 1e-3, fexx), seam.penetration
    else:
        weld, size = us.aisc_fillet(seam.throat * 1e-3, fexx), seam.throat
    along, across = (value / 1e3 * seam.count for value in (weld.along, weld.across))
    factor = "0.80 across" if kind == PARTIAL else "1.5 times across"
    text = f"0.75 x 0.60 FEXX x {size:.2f} mm{' x 2' if seam.count > 1 else ''} = {along:.0f} N/mm along, {factor}"
    place = WeakPlace("weld metal", WELD, along, across if kind == PARTIAL else along, text, us.AISC)
    sizes = ((f"least leg {us.aisc_least_leg(thin.thickness * 1e-3) * 1e3:g} mm, least length four legs", us.AISC),)
    other = (WeakPlace("weld metal, directional", WELD, along, across, text, us.AISC),) if kind == FILLET else ()
    if kind == FILLET and seam.length and seam.length < 4 * seam.leg:
        text = f"{seam.length:g} mm is under four legs: AISC 360 J2.2b counts a quarter of the length as its size"
        raise NotCoveredError(text, "length", "make it longer")
    if kind == FILLET and seam.length and joint == "lap":
        share = us.aisc_long_factor(seam.length * 1e-3, seam.leg * 1e-3)
        found = replace(found, effective=share * seam.length)
    return replace(
        found,
        throat=size,
        leg=seam.leg,
        places=(place, *base),
        sizes=sizes if kind == FILLET else (),
        other_methods=other,
    )


def _us_sheet(
    thin: Workpiece, steels: list[us.UsSteel], joint: str, seam: StressedSeam, kind: str, weld: tuple[float, list[str]]
) -> SeamStrength:
    fexx, notes = weld
    if kind != FILLET or joint not in ("lap", "tee"):
        text = f"no rule for {thin.thickness:g} mm steel but fillets in laps and tees: AISI S100 J2.5 names these"
        raise NotCoveredError(text, "thickness", "cut and pull a coupon")
    if not seam.length:
        text = "a fillet in sheet is rated by its whole length"
        raise PrestrikeError(Diagnostic("seam", text, subject="length", help="give --length '100 mm'"))
    fu = min(steel.fu for steel in steels)
    force = us.aisi_sheet_fillet(thin.thickness * 1e-3, seam.length * 1e-3, seam.throat * 1e-3, fu, fexx)
    along, across = (value / 1e3 * seam.count for value in (force.along, force.across))
    text = (
        f"sheet t {thin.thickness:g} mm, Fu {fu / 1e6:.0f} MPa, L {seam.length:g} mm: {along:.0f} along, {across:.0f} "
        "N/mm across, both also held to the throat over 0.10 in"
    )
    place = WeakPlace("sheet beside the fillet", BASE, along, across, text, us.AISI)
    return SeamStrength(
        "AISI S100-16 (LRFD)", FILLET, seam.throat, seam.leg, seam.length, seam.count, (place,), (), tuple(notes)
    )
