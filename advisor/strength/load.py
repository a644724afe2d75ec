"""Loads a shop understands, put on a seam: a plain force, a bracket at an arm, a pressure on a flat wall."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.facts import Workpiece
from advisor.physics import aluminium_strength as al
from advisor.physics import plate_bending as plate
from advisor.physics import weld_group as group
from advisor.physics.constants import GRAVITY
from advisor.physics.tables import TableSource
from advisor.strength.parts import (
    ACROSS,
    BASE,
    FILLET,
    HAZ,
    WELD,
    WORST,
    Loaded,
    SeamStrength,
    StressedSeam,
    Use,
    WeakPlace,
    place_value,
)
from advisor.strength.softened import table_row

# What codes multiply a changing load by before it is held against these figures.
LOAD_FACTOR_EN = 1.5  # EN 1990, variable loads (memory)
LOAD_FACTOR_US = 1.6  # ASCE 7, live load (memory)
# Largest reaction along the edge of a supported rectangular wall, over p b: 0.420 for a square, 0.505 at most.
EDGE_REACTION = 0.505
EDGE_SOURCE = TableSource("Timoshenko, Theory of Plates and Shells, Table 8: largest edge reaction", "memory")
STATICS = TableSource("statics", "computed")


@dataclass(frozen=True)
class Load:
    """A load, each part 0 where not given: mass [kg], force [N], clamp [N], pressure [Pa], lengths [mm].

    direction: along, across or worst; arm: from the plane of the seams out to the force; offset: in their plane;
    group: a name in `weld_group.GROUPS`, height and width of it; panel: sides of the wall under pressure.
    """

    mass: float = 0.0
    force: float = 0.0
    clamp: float = 0.0
    direction: str = ""
    arm: float = 0.0
    offset: float = 0.0
    group: str = ""
    height: float = 0.0
    width: float = 0.0
    pressure: float = 0.0
    panel: tuple[float, float] | None = None

    @property
    def given(self) -> bool:
        """True where there is anything to carry."""
        return any((self.mass, self.force, self.clamp, self.pressure))

    @property
    def newtons(self) -> float:
        """The force [N]."""
        return self.mass * GRAVITY + self.force + self.clamp


@dataclass(frozen=True)
class Joined:
    """What the loads need to know of the joint: its members with their forms, joint name, process and seam."""

    pieces: tuple[Workpiece, Workpiece]
    forms: tuple[str, str]
    joint: str
    process: str
    seam: StressedSeam


def apply_load(load: Load, strength: SeamStrength, joined: Joined) -> Loaded:
    """What a load uses of a seam. Raises PrestrikeError where something is missing or no rule covers it."""
    if sum(bool(value) for value in (load.mass, load.force, load.clamp, load.pressure)) > 1:
        raise _fault("one load at a time", "give one of --load, --clamp and --pressure")
    factor = LOAD_FACTOR_US if "LRFD" in strength.standard else LOAD_FACTOR_EN
    if load.pressure:
        return _pressed(load, strength, joined, factor)
    if load.arm or load.offset:
        return _bracket(load, strength, joined, factor)
    return _plain(load, strength, factor)


def _fault(message: str, help: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("load", message, subject="load", help=help))


def _said(load: Load) -> str:
    if load.mass:
        return f"{load.mass:g} kg hanging"
    return f"{'clamp ' if load.clamp else ''}force of {load.newtons:g} N"


def _plain(load: Load, strength: SeamStrength, factor: float) -> Loaded:
    if strength.effective is None:
        raise _fault("a load needs the length of the seam", "add --length '100 mm'")
    direction = load.direction or (ACROSS if load.clamp else WORST)
    length = strength.effective
    line = load.newtons / length
    uses = [_use(place, line, direction) for place in (*strength.places, *_directional(strength))]
    across = 0.0 if direction == "along" else line
    force = group.LineForce(across * 1e3, 0.0, (line - across) * 1e3, 0.0, 0.0)
    text = f"F/L = {load.newtons:.0f} N/{length:.1f} mm = {line:.1f} N/mm, {_way(direction)}"
    return Loaded(_said(load), load.newtons, 0.0, force, _sorted(uses), factor, text, STATICS)


def _way(direction: str) -> str:
    return "in the direction that is worse for each place" if direction == WORST else f"{direction} the seam"


def _directional(strength: SeamStrength) -> tuple[WeakPlace, ...]:
    return tuple(place for place in strength.other_methods if "ultimate" not in place.name)


def _use(place: WeakPlace, line: float, direction: str) -> Use:
    carries = place_value(place, direction)
    return Use(place.name, place.kind, line / carries, f"{line:.1f}/{carries:.1f} N/mm")


def _sorted(uses: list[Use]) -> tuple[Use, ...]:
    return tuple(sorted(uses, key=lambda use: -use.share))


def _bracket(load: Load, strength: SeamStrength, joined: Joined, factor: float) -> Loaded:
    """A force at an arm on a group of seams: elastic line method."""
    seam = joined.seam
    name = load.group or (group.TWO_LINES if seam.count > 1 else group.ONE_LINE)
    height = load.height or seam.length
    if not height:
        raise _fault("a bracket needs the height of its seams", "add --length '80 mm' or --group-height")
    notes = []
    open_ends = name in (group.ONE_LINE, group.TWO_LINES) and strength.effective is not None and not load.height
    if open_ends and strength.effective is not None and strength.effective < height:
        notes.append(f"seams counted as {strength.effective:.1f} mm high, their effective length")
        height = strength.effective
    width = load.width or (joined.pieces[0].thickness if name == group.TWO_LINES else 0.0)
    lines = group.group_lines(name, height * 1e-3, width * 1e-3)
    force = load.newtons
    turn, twist = force * load.arm * 1e-3, force * load.offset * 1e-3
    worst = group.worst_line_force(lines, group.Wrench(fy=-force, mx=turn, mz=twist))
    found = group.properties(lines)
    wide = f", {width:g} mm apart or wide" if width else ""
    if name == group.THREE_SIDES:
        wide += f", middle {found.x * 1e3 + width / 2:.1f} mm from the upright"
    modulus = group.bending_modulus(lines) * 1e6
    out, across, along = (abs(value) / 1e3 for value in (worst.out, worst.across, worst.along))
    text = (
        f"{name} {height:.1f} mm high{wide}: length {found.length * 1e3:.1f} mm, section modulus {modulus:.0f} mm2 per "
        f"mm of throat; M = {turn:.1f} N m"
        + (f", twist {twist:.1f} N m" if twist else "")
        + f"; worst {worst.size / 1e3:.1f} N/mm ({out:.1f} out, {across:.1f} across, {along:.1f} along)"
    )
    uses = _point_uses(worst, strength, joined, 2 if name == group.TWO_LINES else 1)
    what = f"{_said(load)} at {load.arm or load.offset:g} mm"
    return Loaded(what, force, turn or twist, worst, _sorted(uses), factor, text, group.LINE_METHOD, tuple(notes))


def _point_uses(force: group.LineForce, strength: SeamStrength, joined: Joined, shared: int) -> list[Use]:
    """Uses at the worst point. Figures of `strength` are of all its seams, the force is of one."""
    n = strength.count
    uses = []
    for place in (*strength.places, *_directional(strength)):
        if place.kind == WELD or "fusion boundary" in place.name:
            along, across = place.along / n, place.across / n
            if strength.kind == FILLET and place.across > place.along * 1.001:
                uses.append(_throat_use(place, force, strength.throat, along))
                continue
            pair = _shear_and_pull(force, strength.kind, 1)
        else:
            along, across = place.along, place.across
            pair = _shear_and_pull(force, strength.kind, shared)
        share = math.hypot(pair[0] / 1e3 / along, pair[1] / 1e3 / across)
        text = f"along {abs(pair[0]) / 1e3:.1f}/{along:.1f} and across {pair[1] / 1e3:.1f}/{across:.1f} N/mm, squared"
        uses.append(Use(place.name, place.kind, share, text))
    return uses


def _shear_and_pull(force: group.LineForce, kind: str, seams: int) -> tuple[float, float]:
    """Force per length as along and across count it: across the plane a fillet is sheared or pulled, a butt sheared."""
    if kind == FILLET:
        return force.along * seams, math.hypot(force.out, force.across) * seams
    return math.hypot(force.along, force.across) * seams, abs(force.out) * seams


def _throat_use(place: WeakPlace, force: group.LineForce, throat: float, along: float) -> Use:
    """The throat by its three stresses: sqrt(s2 + 3 (tp2 + tl2)) against sqrt 3 times its shear strength."""
    stress = group.fillet_throat(force, throat * 1e-3)
    limit = math.sqrt(3.0) * along / throat
    share = stress.equivalent / 1e6 / limit
    text = (
        f"sqrt(s2 + 3 (tp2 + tl2)) = {stress.equivalent / 1e6:.1f} of {limit:.1f} MPa with "
        f"s {stress.sigma_perp / 1e6:.1f}, tp {stress.tau_perp / 1e6:.1f}, tl {stress.tau_par / 1e6:.1f} MPa"
    )
    return Use(place.name, place.kind, share, text)


def _pressed(load: Load, strength: SeamStrength, joined: Joined, factor: float) -> Loaded:
    """A flat wall held round its edges by the seam."""
    if load.panel is None:
        raise _fault("a pressure needs the size of the wall", "add --panel '300 mm, 200 mm'")
    long, short = max(load.panel), min(load.panel)
    piece, form = joined.pieces[0], joined.forms[0]
    modulus = 70e9 if piece.material.family == "aluminium" else 210e9 if "stain" not in piece.material.family else 200e9
    wall = plate.Wall(long * 1e-3, short * 1e-3, piece.thickness * 1e-3, modulus)
    line = EDGE_REACTION * load.pressure * short * 1e-6
    uses = [_use(place, line, ACROSS) for place in (*strength.places, *_directional(strength))]
    middle = plate.bending_stress(wall, load.pressure, plate.SUPPORTED)
    edge = plate.bending_stress(wall, load.pressure, plate.CLAMPED)
    uses += _wall_uses(piece, form, joined.process, middle / 1e6, edge / 1e6)
    notes = [_edge_bending(edge, strength, joined, uses)]
    bulge = plate.bulge(wall, load.pressure, plate.SUPPORTED) * 1e3
    text = (
        f"edge force at most 0.505 p b = 0.505 x {load.pressure / 1e3:g} kPa x {short:g} mm = {line:.2f} N/mm; wall of "
        f"{long:g} x {short:g} x {piece.thickness:g} mm bulges {bulge:.2f} mm at most"
    )
    whole = plate.wall_force(wall, load.pressure)
    what = f"pressure of {load.pressure / 1e3:g} kPa on the wall, {whole:.0f} N in all"
    force = group.LineForce(line * 1e3, 0.0, 0.0, 0.0, 0.0)
    return Loaded(
        what, whole, 0.0, force, _sorted(uses), factor, text, EDGE_SOURCE, tuple(note for note in notes if note)
    )


def _wall_uses(piece: Workpiece, form: str, process: str, middle: float, edge: float) -> list[Use]:
    """The wall itself: its middle as if its edges could turn, its edge as if they could not."""
    if piece.material.family == "aluminium":
        row = table_row(piece.material, piece.thickness, form)
        zone = al.haz_strength(row, process, piece.thickness * 1e-3, piece.material.temper)
        base, soft = row.fo / 1e6 / al.GAMMA_M1, zone.fo / 1e6 / al.GAMMA_M1
        kind, name = HAZ, "wall at its edge, softened, edges clamped"
    else:
        from advisor.strength.steel import yield_design

        base = soft = yield_design(piece)
        kind, name = BASE, "wall at its edge, edges clamped"
    return [
        Use("wall at its middle, edges supported", BASE, middle / base, f"{middle:.1f}/{base:.1f} MPa"),
        Use(name, kind, edge / soft, f"{edge:.1f}/{soft:.1f} MPa"),
    ]


def _edge_bending(edge: float, strength: SeamStrength, joined: Joined, uses: list[Use]) -> str:
    """The moment of a clamped edge in the seam itself, where the seam can take one."""
    thickness = joined.pieces[0].thickness
    moment = edge / 1e6 * thickness**2 / 6.0  # N mm per mm
    if strength.kind == FILLET and joined.seam.count < 2:
        return (
            "a fillet on one side is taken as a hinge: bending about its root is what the standards say to avoid, so "
            "put one on each side where the wall must not turn"
        )
    weakest = min((place for place in strength.places if place.kind != BASE), key=lambda place: place.across)
    if strength.kind == FILLET:
        pull, unit = moment / thickness, weakest.across / strength.count
        text = f"couple {moment:.1f} N mm/mm over {thickness:g} mm = {pull:.1f}/{unit:.1f} N/mm"
        uses.append(Use("seam bent by a clamped edge", weakest.kind, pull / unit, text))
        return ""
    stress, carries = 6.0 * moment / strength.throat**2, weakest.across / strength.throat
    text = f"6 m/s2 = 6 x {moment:.1f}/{strength.throat:.2f}2 = {stress:.1f}/{carries:.1f} MPa"
    uses.append(Use("seam bent by a clamped edge", weakest.kind, stress / carries, text))
    return ""
