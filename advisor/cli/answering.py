"""Calls the advice and prints it: shared by `setup` and `prep`."""

from __future__ import annotations

from advisor.advice.answer import Advice
from advisor.advice.last_answer import remember
from advisor.advice.setup import advise
from advisor.cli.options import Flags, job_from, print_json
from advisor.diagnostics import Exit, exit_for


def answer(flags: Flags, *, as_json: bool, brief: bool = False, prep_only: bool = False) -> Exit:
    """Print the answer and give the exit code it ends with."""
    rulebook, units, job = job_from(flags)
    advice = advise(rulebook, job)
    remember(advice)
    if as_json:
        from advisor.report.json_report import advice_json

        print_json(advice_json(advice))
    else:
        from advisor.report.terminal import render

        print(render(advice, units, brief=brief, prep_only=prep_only), end="")
    return exit_of(advice)


def exit_of(advice: Advice) -> Exit:
    """The exit code of an answer."""
    return exit_for(advice.status, bool(advice.left_out))
