"""What `setup` says of heat, in two plain sentences; the figures are those of `prestrike heat`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from advisor.advice.answer import Setting, Unequal, WarmPart
from advisor.advice.facts import Workpiece, joint_facts, member_facts
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job import Job
from advisor.rulebook.library import Rulebook

if TYPE_CHECKING:
    from advisor.advice.heat_part import PartHeat


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
    currents = tuple((f"{piece.thickness:g} mm {piece.material.label}", setting.start) for piece, setting in found)
    if job.process != "141":
        # The computed aim is that of a TIG arc with a rod at the other edge; here only the direction is sure.
        more = max(found, key=lambda item: item[1].start)[0]
        text = (
            f"Aim at the {more.thickness:g} mm {more.material.label}, which needs more. About {mean:.0f} A fits the "
            "pair, the mean of what each member would need with its like."
        )
        return Unequal(text, currents, mean, habit, {})
    aim, detail = _aim(job, (a, b), settings)
    text = (
        f"{aim} About {mean:.0f} A fits the pair, the mean of what each member would need with its like; the habit of "
        f"setting for the heavy one alone ({habit:.0f} A) puts in more than an aimed arc needs."
    )
    return Unequal(text, currents, mean, habit, detail)


def _aim(
    job: Job, pieces: tuple[Workpiece, Workpiece], settings: Mapping[str, Setting]
) -> tuple[str, Mapping[str, float]]:
    from advisor.advice.heat_pair import default_conditions, pair_heat

    travel = settings.get("travel_speed")
    heavy = max(pieces, key=lambda piece: piece.thickness)
    conditions = default_conditions(heavy.thickness, travel.start if travel else None)
    try:
        heat = pair_heat(job, pieces, conditions)
    except PrestrikeError as error:
        text = f"Aim at the {heavy.thickness:g} mm {heavy.material.label} and let its edge melt first"
        return f"{text} (not computed: {error.diagnostics[0].message}).", {}
    toward = pieces[1] if heat.offset >= 0 else pieces[0]
    detail = {"offset_mm": round(heat.offset, 3), "net_power_W": round(heat.power, 1)}
    if abs(heat.offset) < 0.05:
        return "Aim on the joint line: both edges melt alike.", detail
    return (
        f"Aim {abs(heat.offset):.1f} mm onto the {toward.thickness:g} mm {toward.material.label}, rod at the other "
        "edge: both edges then melt alike.",
        detail,
    )


def box_heat(rulebook: Rulebook, job: Job, wall: Workpiece, preparation: Mapping[str, Setting]) -> PartHeat:
    """The box of a job followed seam by seam, its corners welded in their own sheet at that sheet's own current.

    The job must name a box. Raises PrestrikeError where no current is settled or the physics does not reach.
    """
    from advisor.advice.heat_part import part_heat
    from advisor.advice.material import find_material
    from advisor.advice.settings import settled

    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    facts = {**member_facts(joint_facts(job, materials), wall), "joint": "corner-half-open", "weld": "groove"}
    facts |= {"position": "PA", "gas": "argon"}
    current = settled(rulebook, "current", facts)
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
    return WarmPart(text, first, last, wait)
