"""`prestrike faults`: what went wrong, how sure, the next check, and what to change."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, NamedTuple

import typer

from advisor.answer.no_effect import SaidWord
from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.faults.answer import Diagnostician
from advisor.faults.case import FaultCase, loose_case, whole_case, with_words
from advisor.faults.hazards import Danger, HazardListener
from advisor.flags.options import AsJson, Flags, job_from, print_json, rules_opened, shop, takes_job
from advisor.flags.telling import no_effect_json, no_effect_text, told
from advisor.job.job import Job
from advisor.rulebook.library import Rulebook
from advisor.shop.rules_in_force import open_rules, open_shipped, units_of
from advisor.units.quantities import UnitTable, parse_quantity

Seen = Annotated[
    list[str] | None,
    typer.Option("--seen", "-s", help="What is seen or was done: O08, an ISO 6520-1 number, or words. Repeat it."),
]
NotSeen = Annotated[list[str] | None, typer.Option("--not", help="What is not there, in the same words. Repeat it.")]
JobOption = Annotated[Path | None, typer.Option("--job", help="The job file, as an option.")]
Dialled = Annotated[
    list[str] | None, typer.Option("--used", help="A setting used, 'current=90 A', held against the advice. Repeat it.")
]
CleanedAgo = Annotated[str, typer.Option("--cleaned-ago", help="How long before the arc it was cleaned: '2 h'.")]
Ask = Annotated[int, typer.Option("--ask", min=0, max=20, help="How many questions to ask at most, at a terminal.")]
OfTrial = Annotated[str, typer.Option("--trial", help="Take job, settings and what was seen from this logged trial.")]
Accept = Annotated[
    str, typer.Option("--accept", help="A cause (C27) to write to the trial and into the next setup; none undoes it.")
]
LayerName = Annotated[str, typer.Option("--layer", help="Where the change for the next setup is kept: shop or job.")]
JournalFile = Annotated[Path | None, typer.Option("--journal", help="Another journal file.")]
ListSigns = Annotated[bool, typer.Option("--list", help="List the signs it knows, and end.")]
_HANDFUL = 5


class Heard(NamedTuple):
    """What was said of the fault."""

    seen: tuple[str, ...]
    not_seen: tuple[str, ...]
    cleaned_ago: str


class OpenedCase(NamedTuple):
    """What the words of the command are about. job: where it is whole; trial: where one was named."""

    rulebook: Rulebook
    units: UnitTable
    case: FaultCase
    job: Job | None = None
    trial: Any = None
    used: tuple[str, ...] = ()


@takes_job
def command(
    flags: Flags,
    seen: Seen = None,
    not_seen: NotSeen = None,
    job_file: JobOption = None,
    used: Dialled = None,
    cleaned_ago: CleanedAgo = "",
    ask: Ask = _HANDFUL,
    trial: OfTrial = "",
    accept: Accept = "",
    layer: LayerName = "shop",
    journal: JournalFile = None,
    list_signs: ListSigns = False,
    json: AsJson = False,
) -> None:
    """Causes by probability from what is seen and was done, and the one check that tells most for least trouble.

    Example: prestrike faults --metal aluminium --seen "black soot" --seen O09 --not O13
    """
    flags.job = flags.job or job_file
    said = [*(seen or ()), *(flags.metal or ())]
    heard = Heard(tuple(seen or ()), tuple(not_seen or ()), cleaned_ago)
    try:
        opened = _open(flags, used or [], trial, journal)
        doctor = Diagnostician(opened.rulebook, opened.case)
        if list_signs:
            from advisor.faults.text import signs_text

            print(signs_text(list(doctor.model.observations.values())), end="")
            return
        said += opened.trial.seen if opened.trial is not None else ()
        lost = _hear(doctor, opened, heard)
        if ask and not json and sys.stdin.isatty() and sys.stdout.isatty():
            from advisor.faults.asking import ask_at_terminal

            ask_at_terminal(doctor, ask)
        done = None
        if accept:
            from advisor.faults.accept import accept_cause

            done = accept_cause(doctor, opened, accept, layer, journal)
    except PrestrikeError as error:
        _danger_before(error, said, flags, json)
        raise
    dangers = HazardListener(opened.rulebook.index).hear(said)
    _print(doctor, dangers, done, flags, json, _idle(flags, opened, heard))
    sys.exit(Exit.BAD_INPUT if opened.rulebook.left_out or lost else Exit.ADVISED)


def _danger_before(error: PrestrikeError, said: list[str], flags: Flags, as_json: bool) -> None:
    """Tell the dangers that were named before the error that stops the answer."""
    try:
        rulebook = open_rules(shop(flags.rules))
    except PrestrikeError:
        rulebook = open_shipped()
    dangers = HazardListener(rulebook.index).hear(said)
    if dangers and as_json:
        from advisor.faults.as_json import stopped_json

        print_json(stopped_json(dangers, error))
        sys.exit(error.exit_code)
    if dangers:
        from advisor.faults.text import dangers_text

        print(dangers_text(dangers), end="", flush=True)


def _open(flags: Flags, used: list[str], trial: str, journal: Path | None) -> OpenedCase:
    """The trial where one is named; else the whole job where it is given; else what the flags say of it."""
    if trial:
        return _of_trial(flags, used, trial, journal)
    if flags.job is not None or used or (flags.metal and flags.thickness and flags.words.get("joint")):
        rulebook, units, job = job_from(flags)
        return _whole(rulebook, units, job, used)
    rulebook = rules_opened(flags.rules)
    from advisor.job.reader import JobBuilder

    JobBuilder(rulebook, units_of(rulebook)).check_loose(flags.words, flags.thickness or ())
    return _loose(flags, rulebook, _loose_words(flags))


def _loose_words(flags: Flags) -> dict[str, Any]:
    """The words given beside the metals, where they make no whole job."""
    others = {"surface": flags.surface, "form": flags.form, "thickness": flags.thickness, "machine": flags.machine}
    return {**flags.words, **others}


def _loose(flags: Flags, rulebook: Rulebook, words: Mapping[str, Any]) -> OpenedCase:
    return OpenedCase(rulebook, units_of(rulebook), loose_case(rulebook, flags.metal or [], words))


def _whole(rulebook: Rulebook, units: UnitTable, job: Job, used: list[str], trial: Any = None) -> OpenedCase:
    from advisor.trials.maker import read_used

    numbers, chosen = read_used(rulebook, units, used)
    if trial is not None:
        numbers, chosen = {**trial.used, **numbers}, {**trial.chosen, **chosen}
    job = with_words(job, chosen)
    return OpenedCase(rulebook, units, whole_case(rulebook, job, numbers), job, trial, tuple(used))


def _of_trial(flags: Flags, used: list[str], name: str, journal: Path | None) -> OpenedCase:
    from advisor.job.reader import JobBuilder
    from advisor.journal.store import journal_at

    rulebook = rules_opened(flags.rules)
    units = units_of(rulebook)
    with journal_at(journal) as book:
        trial = book.find(name)
    if not trial.job:
        text = "this trial was logged without its job"
        raise PrestrikeError(Diagnostic("no-job", text, trial.id, help="give the job file, or metal, thickness, joint"))
    return _whole(rulebook, units, JobBuilder(rulebook, units).build(dict(trial.job)), used, trial)


def _hear(doctor: Diagnostician, opened: OpenedCase, heard: Heard) -> bool:
    """Take what was said; True where some of it was not understood. Raises PrestrikeError where none of it was."""
    lost = [*doctor.hear_all(heard.seen), *doctor.hear_all(heard.not_seen, present=False)]
    if lost and len(lost) == len(heard.seen) + len(heard.not_seen):
        raise PrestrikeError([error for item in lost for error in item.findings])
    if opened.trial is not None:
        # Free words of a trial were written for people: what is not understood there is shown, and no error.
        doctor.hear_all(opened.trial.seen)
    if heard.cleaned_ago:
        doctor.cleaned_ago(parse_quantity(heard.cleaned_ago, "time", table=opened.units, allow_zero=True).value)
    return bool(lost)


def _idle(flags: Flags, opened: OpenedCase, heard: Heard) -> tuple[SaidWord, ...]:
    """The words of the job that change nothing: of the whole job where there is one, else of the flags given."""

    def answer(other: OpenedCase) -> dict[str, Any]:
        from advisor.faults.as_json import faults_json

        doctor = Diagnostician(other.rulebook, other.case)
        _hear(doctor, other, heard)
        return faults_json(doctor.diagnosis())

    if opened.job is not None:
        rulebook, units, used = opened.rulebook, opened.units, list(opened.used)
        return told(opened.job, lambda job: answer(_whole(rulebook, units, job, used, opened.trial)))
    whole = answer(opened)
    given = {name: value for name, value in _loose_words(flags).items() if value}

    def without(name: str) -> OpenedCase:
        return _loose(flags, opened.rulebook, {other: value for other, value in given.items() if other != name})

    def same_without(name: str) -> bool:
        try:
            return answer(without(name)) == whole
        except PrestrikeError:
            return False  # what was said makes no sense without the word, so the word counts

    return tuple(SaidWord(name, _as_said(value)) for name, value in given.items() if same_without(name))


def _as_said(value: Any) -> str:
    return "" if value is True else ", ".join(value) if isinstance(value, list) else str(value)


def _print(
    doctor: Diagnostician,
    dangers: tuple[Danger, ...],
    done: Any,
    flags: Flags,
    as_json: bool,
    idle: tuple[SaidWord, ...],
) -> None:
    found = doctor.diagnosis()._replace(dangers=dangers)
    if as_json:
        from advisor.faults.as_json import accepted_json, faults_json

        print_json({**faults_json(found), **accepted_json(done), **no_effect_json(idle)})
    elif done is not None:
        from advisor.faults.text import accepted_text, dangers_text

        print(dangers_text(dangers) + accepted_text(done), end="")
    else:
        from advisor.faults.text import faults_text

        print(faults_text(found) + no_effect_text(idle, flags), end="")
