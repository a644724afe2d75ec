"""`prestrike cracks`: what the bead is made of and whether it cracks as it freezes; which rod moves it out."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.cracks.answer import CracksAnswer, cracks_answer
from advisor.cracks.dilution import given
from advisor.diagnostics import exit_for
from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told
from advisor.job.job import Job

Own = Annotated[str, typer.Option("--dilution", help="Base metal's share of the bead: '70 %', or '60 % to 80 %'.")]
_NO_FILLER = ("none", "no", "autogenous", "without")


@takes_job
def command(flags: Flags, dilution: Own = "", json: AsJson = False) -> None:
    """What the bead is made of, where that lies against the crack peaks, and which filler moves it out.

    Without --thickness and --joint only the metals count. --filler none: without rod.

    Example: prestrike cracks --metal 6061 --filler 4043 --thickness "3.2 mm" --joint butt
    """
    autogenous = str(flags.words["filler"]).strip().casefold() in _NO_FILLER
    if autogenous:
        flags.words["filler"] = ""
    loose = flags.job is None and not flags.thickness and not flags.words["joint"]
    if loose and flags.metal:
        flags.thickness, flags.words["joint"] = ["3 mm"], "butt"
    rulebook, units, job = job_from(flags)
    own = given(dilution, units) if dilution else None

    def answer_to(other: Job) -> CracksAnswer:
        return cracks_answer(rulebook, other, loose=loose, autogenous=autogenous, own=own)

    from advisor.cracks.text import cracks_json, cracks_text

    answer = answer_to(job)
    idle = told(job, lambda other: cracks_json(answer_to(other)))
    show(lambda: cracks_json(answer), lambda: cracks_text(answer, units), as_json=json, flags=flags, idle=idle)
    sys.exit(exit_for(answer.status, bool(answer.left_out)))
