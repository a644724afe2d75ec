"""How far a lap reaches: the least that a loaded lap asks for, beside what it has."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from advisor.answer.settings import settled
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.job import Job
from advisor.physics.tables import Evidence, TableSource
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.strength.parts import Overlap, StressedSeam

ONE_END = (
    "a lap welded along one end only opens when it is pulled across: weld the end of both parts, or hold them so that "
    "they cannot turn (AISC 360 J2.2b, as quoted)"
)


def overlap_of(rulebook: Rulebook, job: Job, facts: Mapping[str, Fact], seam: StressedSeam) -> Overlap | None:
    """The lap's overlap against the least that the rules ask for; None for another joint, or where no rule speaks.

    Raises PrestrikeError for an overlap of a joint that has none.
    """
    if job.joint != "lap":
        if seam.overlap:
            raise PrestrikeError(
                Diagnostic(
                    "seam", "an overlap is of a lap joint", subject="overlap", help="add --joint lap, or leave it"
                )
            )
        return None
    setting = settled(rulebook, "overlap", facts)
    if setting is None:
        return None
    # Of the rules that speak, the first that reaches the settled value decides it.
    decides = next(step for step in setting.trail if step.source and step.start == setting.start)
    return Overlap(seam.overlap, setting.start, TableSource(decides.source, cast(Evidence, decides.evidence)))
