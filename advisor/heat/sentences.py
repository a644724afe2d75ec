"""What `setup` says of heat, in two plain sentences; the figures are those of `prestrike heat`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from advisor.answer.answer import Setting, Unequal, WarmPart
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.facts import Workpiece, joint_facts, member_facts
from advisor.job.job import Job
from advisor.rulebook.library import Rulebook
from advisor.setup.machine_limits import within

# Below this no hand holds an aim [mm]: the arc then stands on the seam (this project's judgement).
ON_SEAM = 0.5
# From this ratio of thicknesses on the thin edge needs care (as the rules of technique have it).
UNLIKE = 1.25

if TYPE_CHECKING:
    from advisor.heat.part import PartHeat


def unequal_members(
    job: Job, found: Sequence[tuple[Workpiece, Setting]], settings: Mapping[str, Setting]
) -> Unequal | None:
    """Where to aim and what current fits, for members that differ; None for members alike or settled together."""
    if not found:
        return None
    (a, first), (b, second) = found
    if a.thickness == b.thickness and a.material.id == b.material.id:
        return None
    mean, habit = (first.start + second.start) / 2, max(first.start, second.start)
    fits = _fits(mean, settings["current"])
    currents = tuple((f"{piece.thickness:g} mm {piece.material.label}", setting.start) for piece, setting in found)
    if job.process != "141":
        # The computed aim is that of a TIG arc with a rod at the other edge; here only the direction is sure.
        heavy = max((a, b), key=lambda piece: piece.thickness) if ratio_of(a, b) >= UNLIKE else None
        aim = "Aim on the seam: the members differ little."
        if heavy is not None:
            aim = f"Aim at the {heavy.thickness:g} mm {heavy.material.label}, which needs more."
        return Unequal(f"{aim} {fits}.", currents, mean, habit, {}, aimed(heavy, (a, b)))
    aim, detail, toward = _aim(job, (a, b), settings)
    text = (
        f"{aim} {fits}; the habit of setting for the heavy one alone ({habit:.0f} A) puts in more than an aimed arc "
        "needs."
    )
    return Unequal(text, currents, mean, habit, detail, aimed(toward, (a, b)))


def aim_of(unequal: Unequal | None, pieces: Sequence[Workpiece]) -> str:
    """Where the arc is aimed, as rules look at it: `alike` for like members; by thickness where no sentence says it."""
    if unequal is not None:
        return unequal.aimed
    first, second = pieces
    if first.thickness == second.thickness and first.material.id == second.material.id:
        return "alike"
    return "thicker" if ratio_of(first, second) >= UNLIKE else "seam"


def ratio_of(first: Workpiece, second: Workpiece) -> float:
    """Thicker over thinner."""
    thin, thick = sorted((first.thickness, second.thickness))
    return thick / thin


def aimed(toward: Workpiece | None, pieces: Sequence[Workpiece]) -> str:
    """Where the arc is aimed, as rules look at it: at the `thicker` member, at the `other` one, or on the `seam`."""
    if toward is None:
        return "seam"
    others = [piece.thickness for piece in pieces if piece is not toward]
    return "thicker" if toward.thickness > max(others) else "other"


def _fits(mean: float, current: Setting) -> str:
    """What current fits the pair; where the machine holds the start of the table, what the pair would want."""
    fits = "fits the pair" if abs(mean - current.start) < 0.5 else "is what the pair wants"
    return f"About {mean:.0f} A {fits}, the mean of what each member would need with its like"


def _aim(
    job: Job, pieces: tuple[Workpiece, Workpiece], settings: Mapping[str, Setting]
) -> tuple[str, Mapping[str, float], Workpiece | None]:
    from advisor.heat.pair import default_conditions, pair_heat

    travel = settings.get("travel_speed")
    heavy = max(pieces, key=lambda piece: piece.thickness)
    conditions = default_conditions(heavy.thickness, travel.start if travel else None)
    try:
        heat = pair_heat(job, pieces, conditions)
    except PrestrikeError as error:
        text = f"Aim at the {heavy.thickness:g} mm {heavy.material.label} and let its edge melt first"
        return f"{text} (not computed: {error.diagnostics[0].message}).", {}, heavy
    toward = pieces[1] if heat.offset >= 0 else pieces[0]
    detail = {"offset_mm": round(heat.offset, 3), "net_power_W": round(heat.power, 1)}
    if abs(heat.offset) < ON_SEAM:
        return "Aim on the seam: both edges melt alike there.", detail, None
    return (
        f"Aim {abs(heat.offset):.1f} mm onto the {toward.thickness:g} mm {toward.material.label}, rod at the other "
        "edge: both edges then melt alike.",
        detail,
        toward,
    )


def box_heat(rulebook: Rulebook, job: Job, wall: Workpiece, preparation: Mapping[str, Setting]) -> PartHeat:
    """The box of a job followed seam by seam, its corners welded in their own sheet at that sheet's own current.

    The job must name a box. Raises PrestrikeError where no current is settled or the physics does not reach.
    """
    from advisor.answer.settings import settled
    from advisor.heat.part import part_heat
    from advisor.job.material import find_material

    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    facts = {**member_facts(joint_facts(job, materials), wall), "joint": "corner-half-open", "weld": "groove"}
    facts |= {"position": "PA", "gas": "argon"}
    current = settled(rulebook, "current", facts)
    current = within(job.machine, current) if current else None
    # What the speed of travel is may hang on the current, as in `setup`.
    travel = settled(rulebook, "travel_speed", facts | {"current": current.start}) if current else None
    if current is None or travel is None or job.part is None:
        raise PrestrikeError(Diagnostic("no-rule", "no current or travel is settled for the corners of the box"))
    limit = preparation.get("interpass")
    return part_heat(job.part, wall, current.start, travel.start / 60, limit.start if limit else None)


def warm_part(rulebook: Rulebook, job: Job, wall: Workpiece, preparation: Mapping[str, Setting]) -> WarmPart | None:
    """How the current falls as a box warms; None where the job names no box or it cannot be followed."""
    if job.part is None or job.process != "141":
        return None
    try:
        heat = box_heat(rulebook, job, wall, preparation)
    except PrestrikeError:
        return None
    first, last = heat.warm_current
    wait = max(seam.waited for seam in heat.seams)
    text = (
        f"The box corners: start at {first:.0f} A and be at {last:.0f} A along the last seam; the longest wait between "
        f"seams is {wait / 60:.1f} min. Seam by seam: prestrike heat."
    )
    most = job.machine.high if job.machine is not None else None
    if most is not None and first > most:
        text += f" The machine ends at {most:g} A: it cannot weld these corners."
    return WarmPart(text, first, last, wait)
