"""What a whole job uses up: its joints one by one, all together, the cylinder before and after, and the cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from advisor.answer.span import Span, total
from advisor.consumables.gas import Cylinder, CylinderLeft, left_in, need_argon
from advisor.consumables.prices import Cost, Price, total_cost
from advisor.consumables.seam import Consumables, RodSize, consumables
from advisor.diagnostics import Diagnostic, Exit, PrestrikeError, exit_for
from advisor.job.job import Job
from advisor.job.part_seams import seam_groups
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise

# What a web page for welders says of a 7 in (175 mm) electrode: long in practised hands, a week in a beginner's.
ELECTRODE_LIFE = (
    "no printed life of a tungsten was found that could be counted in seams: a beginner may go through a 175 mm (7 in) "
    "one in a week, practised hands make it last (web page for welders, read). It goes by dips into the pool, and by "
    "gas shut off before it is cold, not by minutes of arc: grind off what has touched aluminium"
)


class Assumed(NamedTuple):
    """A figure that no rule of the advice gives: what was taken, from where, and how well that is known."""

    what: str
    source: str
    evidence: str


ASSUMED = (
    Assumed("a cap is 0.3 mm high at the least and 1 mm likely", "shop practice", "common-practice"),
    Assumed("the fullest cap is 1 mm + 0.1 of its width, level B", "ISO 5817, edition of 2007", "read"),
    Assumed("a bead is as wide as 2 t or as a pool of 6.4 mm", "Mathers p. 80; GTAW Handbook 2021 p. 138", "read"),
    Assumed("groove edges melt back 1 mm each", "shop practice", "common-practice"),
    Assumed("a root bead fills at most a groove 2 t wide, t/4 deep", "Mathers, Fig. 5.12, p. 80", "read"),
    Assumed("a fillet is flat to full by a tenth of its face", "shop practice", "common-practice"),
    Assumed("98 % of a bare rod ends in the bead", "hardfacing data page, weak", "read"),
    Assumed("25 to 100 mm of each rod is thrown away", "shop practice", "common-practice"),
    Assumed("filler weighs what the base metal does, within 3 %", "densities of the alloys", "memory"),
    Assumed("a pipe turns turbulent at Re 2000 to 2300", "general fluid mechanics", "common-practice"),
    Assumed("the last 5 bar of a cylinder are not counted on", "shop practice", "common-practice"),
)
MOST_LITRES, MOST_GAUGE = 150.0, 300.0


class UseRequest(NamedTuple):
    """What the user adds to the job: seams [mm]; rods; faces to weld (0: as prepared); cylinder; prices."""

    seams: tuple[float, ...] = ()
    rod: RodSize = RodSize()
    sides: int = 0
    cylinder: Cylinder | None = None
    filler_price: Price | None = None
    gas_price: Price | None = None


@dataclass(frozen=True)
class JobConsumables:
    """The joints of a job and their sums: mass [g], arc, torch_on, clock [s], gas [L]; left: the cylinder after."""

    joints: tuple[Consumables, ...]
    mass: Span
    arc: Span
    torch_on: Span
    gas: Span
    clock: Span | None
    left: CylinderLeft | None
    costs: tuple[Cost, ...]
    cost: Cost | None
    electrode: str


def job_consumables(rulebook: Rulebook, job: Job, wanted: UseRequest) -> JobConsumables:
    """All that a job uses up. Raises PrestrikeError for a job without seams, and for a cylinder of an unknown gas."""
    groups = seam_groups(job, wanted.seams)
    if not groups:
        consumables(rulebook, advise(rulebook, job._replace(part=None, length=None)), ())
    joints = tuple(
        consumables(
            rulebook,
            advise(rulebook, group.job._replace(part=None, length=None)),
            group.lengths,
            name=group.name,
            rod=wanted.rod,
            sides=wanted.sides,
        )
        for group in groups
    )
    mass = total(joint.filler.mass for joint in joints if joint.filler)
    arc = total(joint.arc for joint in joints if joint.arc)
    gas = total(joint.gas.litres for joint in joints if joint.gas)
    costs = _costs(mass, gas, wanted)
    return JobConsumables(
        joints,
        mass,
        arc,
        total(joint.gas.torch_on for joint in joints if joint.gas),
        gas,
        _clock(joints),
        _left(joints, wanted.cylinder, gas),
        costs,
        total_cost(costs),
        ELECTRODE_LIFE if job.process == "141" else "",
    )


def _clock(joints: Sequence[Consumables]) -> Span | None:
    """Least time on the clock [s]: each joint with its own rests; None where a duty is not known."""
    duties = [joint.duty for joint in joints]
    return total(duty.clock for duty in duties if duty) if duties and all(duties) else None


def _left(joints: Sequence[Consumables], cylinder: Cylinder | None, gas: Span) -> CylinderLeft | None:
    uses = [joint.gas for joint in joints if joint.gas]
    if cylinder is None or not uses:
        return None
    for use in uses:
        need_argon(use.name)
    return left_in(cylinder, gas)


def _costs(mass: Span, gas: Span, wanted: UseRequest) -> tuple[Cost, ...]:
    found = []
    for thing, amount, price in (("filler", mass, wanted.filler_price), ("gas", gas, wanted.gas_price)):
        if price is not None and amount.high > 0:
            found.append(Cost(thing, amount.times(price.each), price.label))
    return tuple(found)


def cylinder_of(volume: float | None, gauge: float | None, temperature: float) -> Cylinder | None:
    """The cylinder of two flags that go together: water volume [L], gauge [bar], temperature [degC].

    Raises PrestrikeError where one is missing or none can be so large.
    """
    if volume is None and gauge is None:
        return None
    if volume is None or gauge is None:
        repair = "give both: --cylinder '10 L' --pressure '150 bar'"
        raise _cylinder_error("a cylinder needs its water volume and what its gauge shows", repair)
    if not 0.1 <= volume <= MOST_LITRES:
        repair = (
            "the water volume is stamped on its shoulder (10 L, 20 L, 50 L); what it holds as gas is something else, "
            "and inch-system cylinders are named by that"
        )
        raise _cylinder_error(f"{volume:.0f} L is no water volume of a cylinder", repair)
    if gauge > MOST_GAUGE:
        repair = "read the high-pressure gauge again: 150, 200 or 300 bar is full"
        raise _cylinder_error(f"a gauge of {gauge:.0f} bar is beyond what is known of argon, {MOST_GAUGE:.0f}", repair)
    return Cylinder(volume, gauge, temperature)


def _cylinder_error(text: str, repair: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("cylinder", text, subject="cylinder", help=repair))


def worst_exit(joints: Sequence[Consumables]) -> Exit:
    """How the command ends: by the joint it fares worst with."""
    return max(exit_for(joint.status, bool(joint.advice.left_out)) for joint in joints)
