"""`prestrike heat`: where the heat goes in this joint and this part, from one job."""

from __future__ import annotations

from typing import NamedTuple

from advisor.answer.answer import Advice
from advisor.diagnostics import PrestrikeError
from advisor.heat.machine import Reach, SeamTime, seam_time, ways_to_reach
from advisor.heat.pair import Conditions, PairHeat, default_conditions, pair_heat
from advisor.heat.part import PartHeat
from advisor.heat.sentences import box_heat
from advisor.heat.steel import SteelLine, hydrogen, steel_lines
from advisor.job.facts import Workpiece, joint_facts, member_facts, workpieces
from advisor.job.job import Job
from advisor.job.material import Material, find_material
from advisor.job.words import TORCH
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise
from advisor.setup.tack_plan import Length, TackPlan, back_step, tack_plan

# Latent heat of melting [J/kg]: pure aluminium 395 kJ/kg (read, a Groover handout), steel 277 kJ/kg (read, one paper);
# stainless is taken as steel.
LATENT = {"aluminium": 395e3, "carbon-steel": 277e3, "low-alloy-steel": 277e3, "stainless": 277e3}
# Above this share of its melting rise a thin edge that loses touch is on its way to a hole; 1 is a joint of two alike
# (this project's judgement).
RUNS_AWAY = 1.25
_PATHS = {"butt": 2, "edge": 2, "tee": 3, "lap": 3}


class StandingStart(NamedTuple):
    """A standing arc at the start current: seconds to a puddle, and to melting through (earliest, latest)."""

    puddle: tuple[float, float] | None
    through: tuple[float, float] | None
    why_not: str = ""


class HeatAnswer(NamedTuple):
    """All of it. missing: what could not be computed, and why; heat_input [kJ/mm] with the code factor [-]."""

    advice: Advice
    pair: PairHeat | None
    part: PartHeat | None
    steel: tuple[SteelLine, ...]
    strike: StandingStart | None
    heat_input: float | None
    seam: SeamTime | None
    reach: tuple[Reach, ...]
    tacks: TackPlan | None
    lengths: tuple[Length, ...]
    chill: tuple[str, ...]
    missing: tuple[str, ...]
    code_factor: float = 0.6


def heat_answer(rulebook: Rulebook, job: Job, wanted: Conditions | None = None) -> HeatAnswer:
    """The heat of a job. wanted: conditions of the pair solve; a 0 in it means the default."""
    advice = advise(rulebook, job)
    empty = HeatAnswer(advice, None, None, (), None, None, None, (), None, (), (), ())
    if advice.status == "refused":
        return empty
    if job.process in TORCH:
        text = "a flame heats the whole part at once and is no arc that travels: nothing here follows it"
        return empty._replace(missing=(text,))
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    pieces = workpieces(job, materials)
    missing: list[str] = []
    pair = _pair(job, pieces, _conditions(advice, pieces, wanted), missing)
    if advice.status != "advised":
        missing.append("no current is settled for this job, so the part and the start are not followed")
        return empty._replace(pair=pair, missing=tuple(missing))
    if not {"travel_speed", "arc_voltage"} <= advice.settings.keys():
        missing.append("no travel or arc voltage is settled for this job, so the heat input is not known")
        return empty._replace(pair=pair, missing=tuple(missing))
    travel = advice.settings["travel_speed"].start
    current, volts = advice.settings["current"].start, advice.settings["arc_voltage"].start
    from advisor.physics.heat_input import code_factor

    factor = code_factor(job.process).value
    heat_input = factor * volts * current / (travel / 60) / 1000
    tig = job.process == "141"  # a standing arc without wire, and helium or preheat for a short machine
    thin = min(pieces, key=lambda piece: piece.thickness)
    part = _part(rulebook, job, advice, pieces[0], missing)
    length = job.length.value if job.length else 0.0
    numbers = advice.preparation
    ends_first = any(material.family == "stainless" for material in materials)
    return HeatAnswer(
        advice,
        pair,
        part,
        steel_lines(
            thin.material, thin.thickness, _PATHS.get(job.joint, 2), heat_input, 20.0, job.joint, hydrogen(advice)
        ),
        _strike(thin, current, volts) if tig else None,
        heat_input,
        seam_time(job, current, travel),
        _reach(rulebook, job, materials, pieces, advice) if tig else (),
        tack_plan(length, numbers.get("tack_length"), numbers.get("tack_pitch"), ends_first=ends_first),
        back_step(length, numbers.get("tack_pitch")),
        chill_pays(pair, part),
        tuple(missing),
        factor,
    )


def _reach(
    rulebook: Rulebook, job: Job, materials: tuple[Material, ...], pieces: tuple[Workpiece, ...], advice: Advice
) -> tuple[Reach, ...]:
    heavy = max(pieces, key=lambda piece: piece.thickness)
    facts = {**joint_facts(job, materials), "gas": "argon"}
    limit = advice.preparation.get("preheat")
    current = advice.settings["current"].start
    return ways_to_reach(rulebook, member_facts(facts, heavy), heavy, current, limit.start if limit else None)


def chill_pays(pair: PairHeat | None, part: PartHeat | None) -> tuple[str, ...]:
    """Where a copper or aluminium bar would pay, from what was computed; empty where it would do little."""
    found = []
    if pair is not None and max(pair.melt_back_aimed) > RUNS_AWAY:
        found.append(
            f"along the thin edge: it runs away at {max(pair.melt_back_aimed):.2f} of its melting rise "
            "if it loses touch"
        )
    if part is not None:
        hot = [seam.seam for seam in part.seams if seam.currents[2] < 0.6 * seam.currents[0]]
        if hot:
            found.append(f"at the open ends of {', '.join(hot)}: the metal there has nowhere to send its heat")
        slow = [seam for seam in part.seams if seam.waited > 60]
        if slow:
            waits = ", ".join(f"{seam.seam} ({seam.waited / 60:.1f} min)" for seam in slow)
            found.append(f"to shorten the waits before {waits}")
    return tuple(found)


def _conditions(advice: Advice, pieces: tuple[Workpiece, ...], wanted: Conditions | None) -> Conditions:
    travel = advice.settings.get("travel_speed")
    base = default_conditions(max(piece.thickness for piece in pieces), travel.start if travel else None)
    if wanted is None:
        return base
    return Conditions(*(mine or other for mine, other in zip(wanted, base, strict=True)))


def _pair(job: Job, pieces: tuple[Workpiece, ...], conditions: Conditions, missing: list[str]) -> PairHeat | None:
    try:
        return pair_heat(job, pieces, conditions)
    except PrestrikeError as error:
        missing.append(f"aim and power of the pair: {error.diagnostics[0].message}")
        return None


def _part(rulebook: Rulebook, job: Job, advice: Advice, wall: Workpiece, missing: list[str]) -> PartHeat | None:
    """The sequence of the box, welded corner by corner in its own sheet at that sheet's own current."""
    if job.part is None:
        return None
    try:
        return box_heat(rulebook, job, wall, advice.preparation)
    except PrestrikeError as error:
        missing.append(f"the box: {error.diagnostics[0].message}")
        return None


def _strike(piece: Workpiece, current: float, volts: float) -> StandingStart:
    from advisor.heat.pair import ARC_RADIUS, POOL_HALF_WIDTH

    figures = {name: piece.material.value(name) for name in ("conductivity", "density", "specific_heat", "solidus")}
    if any(value is None for value in figures.values()):
        return StandingStart(None, None, "the alloy has no figures of heat here")
    from advisor.physics.ranges import PhysicsRangeError
    from advisor.physics.standing_start import PuddleStart as StandingArc
    from advisor.physics.standing_start import melt_through_time, puddle_time

    capacity = (figures["density"] or 0) * (figures["specific_heat"] or 0)
    rise = (figures["solidus"] or 0) - 20.0
    times = []
    try:
        for efficiency in (0.8, 0.5):
            arc = StandingArc(
                efficiency * volts * current,
                ARC_RADIUS * 1e-3,
                piece.thickness * 1e-3,
                figures["conductivity"] or 0,
                capacity,
                rise,
                LATENT[piece.material.family] * (figures["density"] or 0),
            )
            puddle = puddle_time(arc, POOL_HALF_WIDTH * 1e-3)
            through = melt_through_time(arc)
            times.append((puddle, through))
    except PhysicsRangeError as error:
        return StandingStart(None, None, error.diagnostics[0].message)
    (quick, through), (slow, late) = times
    return StandingStart((quick.soonest, slow.latest), (through.soonest, late.latest))
