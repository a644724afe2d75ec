"""`prestrike why QUANTITY`: the trail behind one number or choice."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told
from advisor.setup.answer import advise
from advisor.setup.printing import exit_of
from advisor.setup.why import explain

Quantity = Annotated[
    str, typer.Argument(help="current, filler, tungsten_diameter, gas_flow, groove, cleaning, caution, refusal ...")
]


@takes_job
def command(quantity: Quantity, flags: Flags, json: AsJson = False) -> None:
    """Every rule that spoke for a quantity, in order, with source and evidence, and the rules that nearly did.

    Example: prestrike why current --metal 6061-T6 --thickness "1/8 in" --joint butt
    """
    rulebook, units, job = job_from(flags)
    advice = advise(rulebook, job)
    why = explain(rulebook, advice, quantity)
    from advisor.setup.why_text import why_json, why_text

    idle = told(job, lambda other: why_json(explain(rulebook, advise(rulebook, other), quantity)))
    show(lambda: why_json(why), lambda: why_text(why, units, job.inch_first), as_json=json, flags=flags, idle=idle)
    sys.exit(exit_of(advice))
