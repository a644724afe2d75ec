"""Published current against thickness for one metal of a job: what each source says, row by row, for a picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from advisor.answer.settings import settled
from advisor.job.facts import Workpiece, joint_facts, member_facts, workpieces
from advisor.job.job import Job
from advisor.job.material import find_material
from advisor.job.words import TORCH
from advisor.journal.trial import Trial
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook

POINTS = 41
# Shown from this share of the thinner to this multiple of the thicker member.
SPREAD = 2.2


class SourceLine(NamedTuple):
    """One source. points: thickness [mm], low and high current [A]."""

    source: str
    evidence: str
    rule_id: str
    points: tuple[tuple[float, float, float], ...]


class Dot(NamedTuple):
    """A trial of one's own: thickness [mm], current [A], verdict (good, usable, bad)."""

    thickness: float
    current: float
    verdict: str


class CurrentCurve(NamedTuple):
    """One metal: each source, the settled start and range. settled: thickness [mm], low, start, high [A]; ids: of the
    metals; trials: the shop's own."""

    metal: str
    sources: tuple[SourceLine, ...]
    settled: tuple[tuple[float, float, float, float], ...]
    thicknesses: tuple[float, ...]
    ids: tuple[str, ...] = ()
    trials: tuple[Dot, ...] = ()


def current_curves(rulebook: Rulebook, job: Job, chosen: Mapping[str, Fact]) -> tuple[CurrentCurve, ...]:
    """A curve for each different metal of the job. chosen: what was decided first (polarity, gas)."""
    if job.process in TORCH:
        return ()
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    facts = {**joint_facts(job, materials), **chosen}
    pieces = workpieces(job, materials)
    found = []
    for metal in dict.fromkeys(piece.material.id for piece in pieces):
        mine = [piece for piece in pieces if piece.material.id == metal]
        found.append(_curve(rulebook, facts, mine))
    return _merged(found)


def _curve(rulebook: Rulebook, facts: Mapping[str, Fact], pieces: list[Workpiece]) -> CurrentCurve:
    thicknesses = [piece.thickness for piece in pieces]
    low, high = min(thicknesses) / SPREAD, max(thicknesses) * SPREAD
    grid = sorted({low * (high / low) ** (k / (POINTS - 1)) for k in range(POINTS)} | set(thicknesses))
    lines: dict[tuple[str, str, str], list[tuple[float, float, float]]] = {}
    middle = []
    for thickness in grid:
        piece = pieces[0]._replace(thickness=thickness)
        # Others of the joint keep their facts: only the thickness in question moves.
        setting = settled(
            rulebook, "current", {**member_facts(facts, piece), "thinner": thickness, "thicker": thickness}
        )
        if setting is None:
            continue
        middle.append((thickness, setting.low, setting.start, setting.high))
        for said in setting.said:
            key = (said.source, said.evidence, said.rule_id)
            lines.setdefault(key, []).append((thickness, said.low, said.high))
    sources = tuple(SourceLine(*key, tuple(points)) for key, points in lines.items())
    metal = pieces[0].material
    return CurrentCurve(metal.label, sources, tuple(middle), tuple(sorted(set(thicknesses))), (metal.id,))


def with_trials(curves: Sequence[CurrentCurve], job: Job, trials: Sequence[Trial]) -> tuple[CurrentCurve, ...]:
    """The curves with the standing trials of like members by the same process, joint and position, within reach."""
    found = []
    for curve in curves:
        low, high = curve.settled[0][0], curve.settled[-1][0]
        dots = [
            Dot(trial.case.thinner, trial.used["current"], trial.verdict)
            for trial in trials
            if (trial.case.process, trial.case.joint, trial.case.position) == (job.process, job.joint, job.position)
            and len(set(trial.case.metals)) == 1
            and trial.case.metals[0] in curve.ids
            and trial.case.thinner == trial.case.thicker
            and low <= trial.case.thinner <= high
            and "current" in trial.used
        ]
        found.append(curve._replace(trials=tuple(dots)))
    return tuple(found)


def _merged(curves: list[CurrentCurve]) -> tuple[CurrentCurve, ...]:
    """Two alloys that every source treats alike share one picture."""
    if len(curves) == 2 and {s.rule_id for s in curves[0].sources} == {s.rule_id for s in curves[1].sources}:
        first, second = curves
        widest = first if len(first.settled) >= len(second.settled) else second
        sources = tuple(
            mine._replace(points=tuple(sorted({*mine.points, *other.points})))
            for mine in first.sources
            for other in second.sources
            if other.rule_id == mine.rule_id
        )
        return (
            widest._replace(
                metal=f"{first.metal} and {second.metal}",
                sources=sources,
                settled=tuple(sorted({*first.settled, *second.settled})),
                thicknesses=tuple(sorted({*first.thicknesses, *second.thicknesses})),
                ids=(*first.ids, *second.ids),
            ),
        )
    return tuple(curves)
