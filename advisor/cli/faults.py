"""`prestrike faults`: what went wrong, how sure, the next check, and what to change."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.advice.faults import Diagnostician
from advisor.advice.faults_case import Case, loose_case, whole_case
from advisor.advice.rules_in_force import open_rules, units_of
from advisor.cli.options import AsJson, Flags, job_from, takes_job
from advisor.diagnostics import Exit
from advisor.rulebook.library import Layer, Rulebook

Seen = Annotated[
    list[str] | None,
    typer.Option("--seen", "-s", help="What is seen or was done: O08, an ISO 6520-1 number, or words. Repeat it."),
]
NotSeen = Annotated[list[str] | None, typer.Option("--not", help="What is not there, in the same words. Repeat it.")]
Used = Annotated[
    list[str] | None, typer.Option("--used", help="A setting used, 'current=90 A', held against the advice.")
]
NoAsking = Annotated[bool, typer.Option("--no-asking", help="Ask nothing, also on a terminal.")]
ListSigns = Annotated[bool, typer.Option("--list", help="List the signs it knows, and end.")]
_MOST_QUESTIONS = 5


@takes_job
def command(
    flags: Flags,
    seen: Seen = None,
    not_seen: NotSeen = None,
    used: Used = None,
    no_asking: NoAsking = False,
    list_signs: ListSigns = False,
    json: AsJson = False,
) -> None:
    """Causes by probability from what is seen and was done, and the one check that tells most for least trouble.

    Example: prestrike faults --metal aluminium --seen "black soot" --seen O09 --not O13
    """
    rulebook, case = _case(flags, used or [])
    doctor = Diagnostician(rulebook, case)
    if list_signs:
        from advisor.report.faults_report import signs_text

        print(signs_text(list(doctor.model.observations.values())), end="")
        return
    for text in seen or ():
        doctor.hear(text)
    for text in not_seen or ():
        doctor.hear(text, present=False)
    if not (json or no_asking) and sys.stdin.isatty() and sys.stdout.isatty():
        _ask(doctor)
    _print(doctor, json)
    sys.exit(Exit.BAD_INPUT if rulebook.left_out else Exit.ADVISED)


def _case(flags: Flags, used: list[str]) -> tuple[Rulebook, Case]:
    """The whole job where it is given; else what the flags say of it."""
    if flags.job is not None or used or (flags.metal and flags.thickness and flags.words.get("joint")):
        rulebook, units, job = job_from(flags)
        return rulebook, whole_case(rulebook, job, used, units)
    rulebook = open_rules([Layer("shop", path) for path in flags.rules or ()])
    units_of(rulebook)
    words = {**flags.words, "surface": flags.surface, "form": flags.form}
    return rulebook, loose_case(rulebook, flags.metal or [], words)


def _ask(doctor: Diagnostician) -> None:
    """At most a handful of questions, the most telling first; anything but yes or no leaves a sign open."""
    if not doctor.said:
        doctor_says = typer.prompt("What is seen or was done? (words, or Enter)", default="", show_default=False)
        if doctor_says.strip():
            doctor.hear(doctor_says)
    asked: list[str] = []
    while len(asked) < _MOST_QUESTIONS and not doctor.model.believe(doctor.statements).settled:
        question = next(iter(doctor.questions(asked)), None)
        if question is None:
            return
        asked.append(question.id)
        answer = (
            typer.prompt(f"{question.ask} [y/n/? unknown/q enough]", default="?", show_default=False).strip().lower()
        )
        if answer.startswith("q"):
            return
        if answer[:1] in ("y", "n"):
            doctor.state(question.id, answer[0] == "y", "answer", question.ask)


def _print(doctor: Diagnostician, as_json: bool) -> None:
    if as_json:
        import json

        from advisor.report.faults_report import faults_json

        print(json.dumps(faults_json(doctor.diagnosis()), indent=2, ensure_ascii=False))
    else:
        from advisor.report.faults_report import faults_text

        print(faults_text(doctor.diagnosis()), end="")
