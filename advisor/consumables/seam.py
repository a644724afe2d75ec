"""What a job uses up: filler, rods, arc time, gas, duty; each as a range carried through from the advice.

`consumables(rulebook, job, lengths)` is the one entry for a joint, whatever its process; `part_groups` splits a whole
part into its joints. A process is added by a row in `PROCESS_USE`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from advisor.answer.answer import Advice, Setting
from advisor.answer.span import Span
from advisor.consumables.bead_section import BeadSection, bead_section
from advisor.consumables.gas import Cup, GasUse, cup_flow, gas_use
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.job import Job, Machine
from advisor.job.material import find_material
from advisor.physics import groove as g
from advisor.rulebook.library import Rulebook
from advisor.setup.tack_plan import tack_plan

MM, MM2, KG = 1e-3, 1e-6, 1e3
# Straight lengths are sold at 36 in (AWS A5.10, A5.18, memory) and at 1000 mm (ISO 544, memory).
ROD_LENGTHS = (914.4, 1000.0)
# What is left in the fingers when a rod gets too hot to hold (habit); a filler maker counts 2 in for stick (read).
STUB = Span(25.0, 50.0, 100.0)
NONE = Span.of(0.0)
ALUMINIUM_STAND_IN = (
    "the fullest cap is that of ISO 5817 level B, the steel standard, as a stand-in: the aluminium one, ISO 10042, "
    "was not seen"
)


class Rods(NamedTuple):
    """Whole rods: their number; length and stub of one [mm]."""

    number: Span
    length: float
    stub: Span


class FillerUse(NamedTuple):
    """Filler metal. diameter [mm]; density [kg/m3] taken; efficiency [-]; length [m], of a covered
    electrode the core that melts; mass [g] to buy, with coating and stubs; rods, for hand-held."""

    name: str
    diameter: float
    density: float
    efficiency: Span
    length: Span
    mass: Span
    rods: Rods | None


class Duty(NamedTuple):
    """What the machine allows: current [A] it was looked up at, duty [%], clock time [s] with the rests, in words."""

    current: float
    percent: float
    clock: Span
    text: str


@dataclass(frozen=True)
class Consumables:
    """What the seams of one joint take. lengths [mm]; arc [s]; starts: with tacks; missing: what is not known, and why.

    status is that of the advice: advised, no-rule, refused; only `advised` has figures.
    """

    advice: Advice
    name: str
    lengths: tuple[float, ...]
    section: BeadSection | None = None
    passes: Span | None = None
    filler: FillerUse | None = None
    arc: Span | None = None
    starts: Span = NONE
    tacks: int = 0
    gas: GasUse | None = None
    cup: Cup | None = None
    duty: Duty | None = None
    notes: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def status(self) -> str:
        """Status of the advice behind it."""
        return self.advice.status

    @property
    def length(self) -> float:
        """All seams together [mm]."""
        return sum(self.lengths)


class RodSize(NamedTuple):
    """How the user's rods come: length [mm]; stub [mm] or None for the usual range."""

    length: float = ROD_LENGTHS[1]
    stub: float | None = None


class ProcessUse(NamedTuple):
    """How a process uses things up. deposition: row of `physics.groove.DEPOSITION`; arc: time from advice, length [mm],
    passes and section; by_hand: filler comes in rods held in the hand; covered: in electrodes with a coating."""

    deposition: str
    arc: Callable[[Advice, float, Span, BeadSection | None], Span | None]
    by_hand: bool = False
    covered: bool = False


def consumables(
    rulebook: Rulebook,
    advice: Advice,
    lengths: Sequence[float],
    *,
    name: str = "",
    rod: RodSize | None = None,
    sides: int = 0,
) -> Consumables:
    """What seams of these lengths [mm] in this joint take.

    name: what the seams are called; rod: how the rods come; sides: faces to be welded, 0 for what the preparation says.
    Raises PrestrikeError for a length that is not above zero, and where a metal is not known.
    """
    seams = _checked(lengths)
    job = advice.job
    label = name or job.name
    if advice.status != "advised":
        return Consumables(advice, label, seams)
    if job.process not in PROCESS_USE:
        text = f"nothing here counts what process {job.process} uses up: filler goes by gap and overlap"
        return Consumables(advice, label, seams, missing=(text,))
    missing: list[str] = []
    section, why = bead_section(advice, sides)
    if section is None:
        missing.append(f"filler: {why}")
    passes = _passes(advice, section, missing)
    law = PROCESS_USE[job.process]
    arc = None if passes is None else law.arc(advice, sum(seams), passes, section)
    if arc is None:
        missing.append("arc time: no rule gives the speed of this process here")
    tacks = sum(_tacks(advice, length) for length in seams)
    if arc is not None:
        arc = arc.plus(_tack_arc(advice, law, tacks, section))
    starts = _starts(len(seams), passes, tacks)
    use = None if arc is None else gas_use(advice, _gas(advice), arc, starts)
    if arc is not None and use is None and law.by_hand:
        missing.append("gas: no rule gives its flow here")
    return Consumables(
        advice,
        label,
        seams,
        section,
        passes,
        _filler(rulebook, advice, section, sum(seams), law, rod or RodSize(), missing),
        arc,
        starts,
        tacks,
        use,
        cup_flow(advice, use) if use else None,
        _duty(job.machine, advice.settings.get("current"), arc, missing),
        _notes(rulebook, job, section),
        tuple(missing),
    )


def _checked(lengths: Sequence[float]) -> tuple[float, ...]:
    if not lengths:
        text = "no seam length is given"
        repair = "add --length '300 mm', --seam '4 x 300 mm', or a box in `part:` of the job file"
        raise PrestrikeError(Diagnostic("missing-length", text, subject="length", help=repair))
    for length in lengths:
        if not 0 < length < float("inf"):
            raise PrestrikeError(
                Diagnostic("not-positive", f"a seam of {length:g} mm cannot be welded", subject="seam")
            )
    return tuple(lengths)


def _passes(advice: Advice, section: BeadSection | None, missing: list[str]) -> Span | None:
    """Runs along the seam, on all the faces that are welded."""
    setting = advice.settings.get("passes")
    if setting is None:
        missing.append("passes: no rule counts them here, so arc time and gas are not given")
        return None
    faces = section.sides if section else 1
    each = Span(setting.low, setting.start, setting.high)
    if advice.job.weld == "fillet":
        return each.times(faces)
    return each.map(lambda value: max(value, float(faces)))


def _tacks(advice: Advice, length: float) -> int:
    plan = tack_plan(length, advice.preparation.get("tack_length"), advice.preparation.get("tack_pitch"))
    return len(plan.tacks) if plan else 0


def _tack_arc(advice: Advice, law: ProcessUse, tacks: int, section: BeadSection | None) -> Span:
    """Arc time of the tacks [s]: a seam may do without any, so none at the low end."""
    size = advice.preparation.get("tack_length")
    found = law.arc(advice, tacks * size.start, Span.of(1.0), section) if tacks and size else None
    return Span(0.0, found.start, found.high) if found else Span.of(0.0)


def _starts(seams: int, passes: Span | None, tacks: int) -> Span:
    """Times the torch starts: one a run at least; tacks are counted from the start value on."""
    runs = (passes or Span.of(1.0)).times(seams)
    return Span(runs.low, runs.start + tacks, runs.high + tacks)


def _gas(advice: Advice) -> str:
    if advice.job.gas:
        return advice.job.gas
    return next((option.name for option in advice.choices.get("gas", []) if option.rank == 1), "")


def _filler(
    rulebook: Rulebook,
    advice: Advice,
    section: BeadSection | None,
    length: float,
    law: ProcessUse,
    rod: RodSize,
    missing: list[str],
) -> FillerUse | None:
    size = next((advice.settings[topic] for topic in _SIZES if topic in advice.settings), None)
    if section is None:
        return None
    if size is None:
        missing.append("filler: no rule gives its diameter here")
        return None
    deposited = g.DEPOSITION[law.deposition]
    efficiency = Span(deposited.low, deposited.middle, deposited.high)
    # The least filler goes with the best share of it in the bead.
    reverse = Span(efficiency.high, efficiency.start, efficiency.low)
    density = _density(rulebook, advice)
    areas = section.area
    # The share of a covered electrode is of its whole weight, coating and stub too, so its core is not cut short by it.
    shares = Span.of(1.0) if law.covered else reverse
    wire = Span(*(_length(area, length, size.start, share) for area, share in zip(areas, shares, strict=True)))
    mass = Span(
        *(
            g.filler_mass(area * MM2, length * MM, density, share) * KG
            for area, share in zip(areas, reverse, strict=True)
        )
    )
    rods = _rods(wire, rod) if law.by_hand else None
    return FillerUse(_filler_name(advice), size.start, density, efficiency, wire, mass, rods)


# Topics that give the size of the filler, by process.
_SIZES = ("filler_diameter", "wire_diameter", "electrode_diameter")


def _length(area: float, length: float, diameter: float, share: float) -> float:
    return g.filler_length(area * MM2, length * MM, diameter * MM, share)


def _filler_name(advice: Advice) -> str:
    if advice.job.filler:
        return advice.job.filler
    options = advice.choices.get("electrode" if advice.job.process == "111" else "filler", [])
    return next((option.name for option in options if option.rank == 1), "")


def _density(rulebook: Rulebook, advice: Advice) -> float:
    """Density [kg/m3] of the thinner member's metal, which its filler shares within 3 %."""
    thin = min(advice.job.members, key=lambda member: member.thickness.value)
    value = find_material(thin.metal, rulebook.index).value("density")
    if value is None:
        text = f"{thin.metal} has no density here, so its filler is not weighed"
        raise PrestrikeError(Diagnostic("no-figure", text, help="name the alloy, or its nearest kin"))
    return value


def _rods(wire: Span, rod: RodSize) -> Rods:
    stub = STUB if rod.stub is None else Span.of(rod.stub)
    counts = (g.rods_needed(metres, rod.length * MM, left * MM).rods for metres, left in zip(wire, stub, strict=True))
    return Rods(Span(*counts), rod.length, stub)


def _duty(machine: Machine | None, current: Setting | None, arc: Span | None, missing: list[str]) -> Duty | None:
    if machine is None or current is None or arc is None:
        return None
    if not machine.duty:
        missing.append("duty: the machine file states no rated points")
        return None
    from advisor.physics.duty_cycle import duty_at

    at = min(current.start, machine.high or current.start)
    try:
        share = duty_at(at, [(point.current, point.percent / 100) for point in machine.duty], machine.high)
    except PrestrikeError as error:
        missing.append(f"duty: {error.diagnostics[0].message}")
        return None
    clock = arc.map(lambda seconds: clock_time(seconds, share))
    allowed = share * CYCLE
    if arc.high <= allowed or share >= 1:
        text = "no rest is forced"
    else:
        text = f"{allowed / 60:.1f} min of arc in any ten, then rest"
    return Duty(at, share * 100, clock, text)


CYCLE = 600.0  # s, the ten minutes of a duty cycle


def clock_time(arc: float, duty: float) -> float:
    """Least time on the clock [s] for so much arc [s] at a duty [-]: full shares of ten minutes, then the rest."""
    allowed = duty * CYCLE
    if duty >= 1 or arc <= allowed:
        return arc
    whole, rest = divmod(arc, allowed)
    return whole * CYCLE + rest if rest > 1e-9 else (whole - 1) * CYCLE + allowed


def _notes(rulebook: Rulebook, job: Job, section: BeadSection | None) -> tuple[str, ...]:
    if section is None:
        return ()
    families = {find_material(member.metal, rulebook.index).family for member in job.members}
    capped = any(part.name in ("cap", "crown") for part in section.parts)
    return (*section.notes, *((ALUMINIUM_STAND_IN,) if capped and "aluminium" in families else ()))


def _by_travel(advice: Advice, length: float, passes: Span, section: BeadSection | None) -> Span | None:
    travel = advice.settings.get("travel_speed")
    if travel is None:
        return None
    return passes.times(length * 60).over(Span(travel.low, travel.start, travel.high))


def _by_wire(advice: Advice, length: float, passes: Span, section: BeadSection | None) -> Span | None:
    """Metal over the rate the wire brings it; by travel where no wire feed is advised."""
    feed, wire = advice.settings.get("wire_feed_speed"), advice.settings.get("wire_diameter")
    if feed is None or wire is None or section is None:
        return _by_travel(advice, length, passes, section)
    share = g.DEPOSITION["solid wire"].middle
    metal = section.area.map(lambda area: _length(area, length, wire.start, share))
    return metal.times(60).over(Span(feed.low, feed.start, feed.high))


PROCESS_USE: dict[str, ProcessUse] = {
    "141": ProcessUse("bare rod", _by_travel, by_hand=True),
    "131": ProcessUse("solid wire", _by_wire),
    "135": ProcessUse("solid wire", _by_wire),
    "111": ProcessUse("stick", _by_travel, covered=True),
}
