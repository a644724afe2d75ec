"""A leak test with air: how much pressure the weakest flat wall may see, when air is out of the question, and what a
reading says once the temperature is taken off."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.facts import Workpiece
from advisor.job.job import Box, Job
from advisor.physics import leak_test, plate_bending
from advisor.physics.leak_test import water_head as water_head
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError
from advisor.physics.wall_strength import MODULUS, WallStrength, welded_proof

MARGIN = 1.5  # on the yield of the welded wall (shop practice; the usual margin of pressure codes on yield, recalled)
# Air is refused above these. This project's judgement: 250 J is what 100 L hold at 3.5 kPa, or 10 kg dropped from
# 2.5 m; 1 kN is a hundredweight leaning on one wall.
MOST_ENERGY = 250.0  # J
MOST_FORCE = 1000.0  # N
LEAST_PRESSURE = 500.0  # Pa, 50 mm of water: less shows no bubbles (this project's judgement)
ROOM_C = 20.0
# Work that belongs to a pressure code or to a specialist, whatever its size, and who tests it.
NEVER = {"pressure": "it is meant to hold pressure", "fuel": "it holds or held fuel"}
NEVER_INSTEAD = (
    "Leave the test to an authorised inspector or a certified shop under the code named below: neither air nor water "
    "is put in at home to find out whether it holds.",
)
BRACE = (
    "Brace the long walls before you fill it, or fill it only part way: full of water they bulge or yield beyond what "
    "the plate formula covers."
)
WATER = (
    "Fill it with water to the working level on a flat bench, dry the outside, chalk the seams and look after an hour."
)
A_LITTLE = (
    "Then soap and no more air than is given here, from a hand pump or low-pressure regulator behind an open water "
    "tube that lets go by itself."
)
PENETRANT = (
    "Or let penetrant show it: developer outside, penetrant inside the seam, half an hour; wash it all out after."
)
PROOF = "A proof test is done with water (hydrostatic), by or under a competent person for the pressure code."


class AirReading(NamedTuple):
    """Gauge pressure [Pa] and temperature of the air inside [degC]."""

    gauge: float
    temperature: float


class LeakRequest(NamedTuple):
    """What the user asked of the test. walls: (long, short) [mm]; volume [L], 0 where not given; pressure [Pa] wanted;
    start, end: readings; after: time between them [s]."""

    walls: tuple[tuple[float, float], ...] = ()
    volume: float = 0.0
    pressure: float = 0.0
    start: AirReading | None = None
    end: AirReading | None = None
    after: float = 0.0


class WallCheck(NamedTuple):
    """A wall at a pressure: long, short, thickness [mm], pressure [Pa], stress [Pa] clamped and supported, bulge [m]
    clamped and supported, force [N]; too_far: why the plate formula no longer holds there."""

    long: float
    short: float
    thickness: float
    pressure: float
    stress: tuple[float, float] | None
    bulge: tuple[float, float] | None
    force: float
    too_far: str = ""


class LeakAnswer(NamedTuple):
    """The test. air: refused, allowed, unknown; pressure [Pa] to use and what limits it; wall: the weakest at it;
    asked: it at the pressure wanted; full: a side wall with the box full of water; energy [J] stored; volume [L];
    swing [Pa/K]; lost [Pa], rate [Pa m3/s] of the readings; proof [Pa] with its sources;
    water_holds: the full box bears its water."""

    air: str
    reasons: tuple[str, ...]
    instead: tuple[str, ...]
    pressure: float
    limited_by: str
    wall: WallCheck | None
    asked: WallCheck | None
    full: WallCheck | None
    energy: float
    volume: float
    volume_guessed: bool
    proof: float
    sources: tuple[str, ...]
    swing: float
    lost: float | None
    rate: float | None
    open_top: bool = False
    water_holds: bool = True


def asked_of_box(box: Box) -> tuple[tuple[float, float], ...]:
    """The walls of a box, each (long, short) [mm]."""
    sides = ((box.length, box.width), (box.length, box.height), (box.width, box.height))
    return tuple((max(pair), min(pair)) for pair in sides)


def leak_answer(job: Job, pieces: Sequence[Workpiece], asked: LeakRequest) -> LeakAnswer | None:
    """The leak test of a job, where walls are known; None where neither box nor wall is given."""
    walls = asked.walls or (asked_of_box(job.part) if job.part else ())
    if not walls:
        return None
    piece = min(pieces, key=lambda item: item.thickness)
    volume, guessed = _volume(job, asked, walls)
    stops = [f"no air: {NEVER[service]}" for service in job.service if service in NEVER]
    if job.used_container:
        stops.append("no air: a used container may hold vapour that burns")
    if stops:
        return _blank("refused", tuple(stops), volume, guessed, NEVER_INSTEAD)
    try:
        strength = welded_proof(piece.material.id, piece.material.family, job.process, piece.thickness / 1e3)
    except NotCoveredError as error:
        text = f"{error.diagnostics[0].message}; {error.diagnostics[0].help}"
        return _blank("unknown", (text,), volume, guessed, (WATER, PENETRANT, PROOF))
    return _computed(job, piece, asked, walls, volume, strength)._replace(volume_guessed=guessed)


def _computed(
    job: Job,
    piece: Workpiece,
    asked: LeakRequest,
    walls: Sequence[tuple[float, float]],
    volume: float,
    strength: WallStrength,
) -> LeakAnswer:
    modulus, allowable = MODULUS[piece.material.family], strength.proof / MARGIN
    plates = [_plate(wall, piece.thickness, modulus) for wall in walls]
    weakest = min(plates, key=lambda plate: plate_bending.safe_leak_pressure(plate, allowable).pressure)
    largest = max(plates, key=lambda plate: plate.long * plate.short)
    limit = plate_bending.safe_leak_pressure(weakest, allowable)
    stops = _stops(asked, limit, largest, volume)
    at_all = _stops(asked._replace(pressure=0.0), limit, largest, volume)
    full = _full(job, piece, modulus)
    holds = full is None or (full.stress is not None and max(full.stress) <= allowable)
    return LeakAnswer(
        air="refused" if stops else "allowed",
        reasons=tuple(stops),
        instead=(*(() if holds else (BRACE,)), WATER, PENETRANT if at_all else A_LITTLE, PROOF),
        pressure=0.0 if stops else limit.pressure,
        limited_by=limit.limited_by,
        wall=_check(weakest, limit.pressure),
        asked=_check(weakest, asked.pressure) if asked.pressure else None,
        full=full,
        energy=leak_test.stored_energy(volume / 1e3, asked.pressure or limit.pressure),
        volume=volume,
        volume_guessed=False,
        proof=strength.proof,
        sources=tuple(f"{item.document} ({item.evidence})" for item in (*strength.sources, plate_bending.ROARK)),
        open_top=job.part is not None and job.part.open_top and not asked.walls,
        water_holds=holds,
        swing=leak_test.temperature_swing(asked.start.gauge if asked.start else limit.pressure, ROOM_C),
        **_readings(asked, volume),
    )


def _stops(
    asked: LeakRequest, limit: plate_bending.LeakPressure, largest: plate_bending.Wall, volume: float
) -> list[str]:
    """Why air is out of the question, beside the service. Energy and force count at least at what the tube holds."""
    pressure = asked.pressure or plate_bending.OPEN_TUBE
    energy, force = leak_test.stored_energy(volume / 1e3, pressure), plate_bending.wall_force(largest, pressure)
    found = []
    if asked.pressure > limit.pressure * (1 + 1e-9):
        found.append(
            f"{asked.pressure / 1e3:.3g} kPa is over the {limit.pressure / 1e3:.2g} kPa this wall may see "
            f"(set by {_LIMITS[limit.limited_by]})"
        )
    elif limit.pressure < LEAST_PRESSURE:
        found.append(
            f"the wall may see no more than {limit.pressure / 1e3:.2g} kPa (set by {_LIMITS[limit.limited_by]}), too "
            "little to show a leak"
        )
    if energy > MOST_ENERGY:
        found.append(
            f"{volume:.0f} L at {pressure / 1e3:.2g} kPa hold {energy:.0f} J, over the {MOST_ENERGY:.0f} J set here"
        )
    if force > MOST_FORCE:
        found.append(f"{force:.0f} N would lean on the largest wall, over the {MOST_FORCE:.0f} N set here")
    return found


_LIMITS = {
    plate_bending.BY_STRESS: "the yield of the welded wall",
    plate_bending.BY_BULGE: "its bulge",
    plate_bending.BY_TUBE: "the open water tube of 350 mm",
}


def _plate(wall: tuple[float, float], thickness: float, modulus: float) -> plate_bending.Wall:
    return plate_bending.Wall(wall[0] / 1e3, wall[1] / 1e3, thickness / 1e3, modulus)


def _check(plate: plate_bending.Wall, pressure: float) -> WallCheck:
    sizes = plate.long * 1e3, plate.short * 1e3, plate.thickness * 1e3
    force = plate_bending.wall_force(plate, pressure)
    edges = (plate_bending.CLAMPED, plate_bending.SUPPORTED)
    try:
        # The wall lies between the two; where even clamped edges let it bulge too far the formula says nothing.
        safe = pressure * (1 - 1e-9)
        stress = tuple(plate_bending.bending_stress(plate, safe, edge) for edge in edges)
        bulge = tuple(plate_bending.bulge(plate, safe, edge) for edge in edges)
    except PhysicsRangeError as error:
        return WallCheck(*sizes, pressure, None, None, force, error.diagnostics[0].message)
    return WallCheck(*sizes, pressure, (stress[0], stress[1]), (bulge[0], bulge[1]), force)


def _full(job: Job, piece: Workpiece, modulus: float) -> WallCheck | None:
    """The longer side wall of the box with the pressure at its foot when full, over all of it: on the safe side."""
    if job.part is None:
        return None
    long = max(job.part.length, job.part.width)
    side = (max(long, job.part.height), min(long, job.part.height))
    return _check(_plate(side, piece.thickness, modulus), leak_test.water_pressure(job.part.height / 1e3))


def _volume(job: Job, asked: LeakRequest, walls: Sequence[tuple[float, float]]) -> tuple[float, bool]:
    """Litres inside, and whether they are guessed: then as deep as the longest side."""
    if asked.volume:
        return asked.volume, False
    if job.part is not None and not asked.walls:
        return job.part.length * job.part.width * job.part.height / 1e6, False
    long, short = max(walls)
    return long * short * long / 1e6, True


def _readings(asked: LeakRequest, volume: float) -> dict[str, float | None]:
    if asked.start is None or asked.end is None:
        return {"lost": None, "rate": None}
    lost = leak_test.pressure_lost(asked.start.gauge, asked.start.temperature, asked.end.gauge, asked.end.temperature)
    rate = leak_test.leak_rate(volume / 1e3, lost, asked.after) if asked.after and lost > 0 else None
    return {"lost": lost, "rate": rate}


def _blank(air: str, reasons: tuple[str, ...], volume: float, guessed: bool, instead: tuple[str, ...]) -> LeakAnswer:
    return LeakAnswer(air, reasons, instead, 0.0, "", None, None, None, 0.0, volume, guessed, 0.0, (), 0.0, None, None)


def bad_walls(text: str) -> PrestrikeError:
    """A wall that is not two lengths."""
    repair = "give its two sides: --wall '300 mm, 200 mm'"
    return PrestrikeError(Diagnostic("wall", f"'{text}' is no flat wall of two sides", help=repair))
