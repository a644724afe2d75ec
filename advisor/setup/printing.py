"""Calls the advice and prints it: shared by `setup` and `prep`."""

from __future__ import annotations

from typing import Any

from advisor.answer.answer import Advice
from advisor.answer.last_answer import remember
from advisor.diagnostics import Exit, exit_for
from advisor.flags.options import Flags, job_from
from advisor.flags.telling import show, told
from advisor.job.job import Job
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise

# What of the whole answer `prep` prints as text: a word that moves only the rest has no effect there.
_OF_PREP = (
    "status", "preparation", "cleaning", "holding", "identify", "cautions", "codes", "refusals", "no_rule",
    "notes", "seam",
)  # fmt: skip


def answer(flags: Flags, *, as_json: bool, brief: bool = False, prep_only: bool = False) -> Exit:
    """Print the answer and give the exit code it ends with."""
    rulebook, units, job = job_from(flags)
    advice = advise(rulebook, job)
    remember(advice)
    only = _OF_PREP if prep_only and not as_json else ()
    idle = told(job, lambda other: advised(rulebook, other, only))

    def data() -> dict[str, Any]:
        from advisor.setup.as_json import advice_json

        return advice_json(advice)

    def text() -> str:
        from advisor.setup.text import render

        return render(advice, units, brief=brief, prep_only=prep_only)

    show(data, text, as_json=as_json, flags=flags, idle=idle)
    return exit_of(advice)


def advised(rulebook: Rulebook, job: Job, only: tuple[str, ...] = ()) -> dict[str, Any]:
    """The whole answer to a job as plain data. only: these parts of it."""
    from advisor.setup.as_json import advice_json

    data = advice_json(advise(rulebook, job))
    return {name: data[name] for name in only} if only else data


def exit_of(advice: Advice) -> Exit:
    """The exit code of an answer."""
    return exit_for(advice.status, bool(advice.left_out))
