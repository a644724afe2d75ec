"""`prestrike trial`: log what was welded, and look at it again."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError, did_you_mean
from advisor.flags.options import AsJson, Flags, job_from, print_json, takes_job
from advisor.journal.store import journal_at
from advisor.writing import write_whole

app = typer.Typer(
    help="Log what was really dialled in and how it turned out; nothing is ever overwritten.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
Current = Annotated[str, typer.Option("--current", help="Current that was dialled in, such as '128 A'.")]
Used = Annotated[list[str] | None, typer.Option("--used", help="Another setting: 'gas_flow=9 L/min'; may be repeated.")]
Verdict = Annotated[str, typer.Option("--verdict", help="good, usable or bad.")]
Seen = Annotated[
    list[str] | None, typer.Option("--seen", help="What was seen: 'undercut at the top'; may be repeated.")
]
Note = Annotated[str, typer.Option("--note", help="Anything else.")]
By = Annotated[str, typer.Option("--by", help="Who welded.")]
Photos = Annotated[list[Path] | None, typer.Option("--photo", help="A photo; kept by path and hash.")]
JournalFile = Annotated[Path | None, typer.Option("--journal", help="Another journal file.")]
TrialId = Annotated[str, typer.Argument(help="Id of the trial, or the end of it.")]
Every = Annotated[bool, typer.Option("--all", help="Every row: also those that were corrected or withdrawn.")]


@app.command("add")
@takes_job
def add(
    flags: Flags,
    current: Current = "",
    used: Used = None,
    verdict: Verdict = "",
    seen: Seen = None,
    note: Note = "",
    by: By = "",
    photo: Photos = None,
    cause: Annotated[str, typer.Option("--cause", help="What made it go wrong (C28): it changes the next setup.")] = "",
    journal: JournalFile = None,
) -> None:
    """Log a seam: what was dialled in, what was seen, the verdict. Without a job, for the last answer.

    Example: prestrike trial add --metal 5052 --thickness "3.2 mm" --joint tee --current "128 A" --verdict good
    """
    from advisor.answer.last_answer import last_job
    from advisor.setup.answer import advise
    from advisor.trials.maker import make_trial

    rulebook, units, job = job_from(flags, last_job)
    given = ([f"current={current}"] if current else []) + list(used or ())
    advice = advise(rulebook, job)
    trial = make_trial(rulebook, units, advice, given, verdict, seen or (), note, by, photo or ())
    if cause:
        from advisor.faults.accept import accept_for_trial
        from advisor.faults.knowledge import read_knowledge
        from advisor.faults.text import accepted_text

        knowledge = read_knowledge(rulebook.index)
        print(accepted_text(accept_for_trial(rulebook, knowledge, advice, trial, cause, "shop", journal)), end="")
        sys.exit(Exit.ADVISED)
    with journal_at(journal, create=True) as book:
        kept = book.add(trial)
    from advisor.trials.text import case_text, used_text

    print(f"logged {kept.id}: {case_text(kept.case)}, {used_text(kept, rulebook.vocabulary.topics)}, {kept.verdict}")
    sys.exit(Exit.ADVISED)


@app.command("correct")
def correct(
    trial: TrialId,
    current: Current = "",
    used: Used = None,
    verdict: Verdict = "",
    seen: Seen = None,
    note: Note = "",
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Take the trial back.")] = False,
    journal: JournalFile = None,
) -> None:
    """Put a trial right by a new row; the old one stays in the file.

    Example: prestrike trial correct 3fa94c1b --verdict bad --seen "cracked overnight"
    """
    from advisor.journal.trial import now_text
    from advisor.shop.rules_in_force import open_rules, units_of
    from advisor.trials.maker import known_verdict, read_used

    rulebook = open_rules()
    given = ([f"current={current}"] if current else []) + list(used or ())
    numbers, words = read_used(rulebook, units_of(rulebook), given)
    with journal_at(journal) as book:
        old = book.find(trial)
        new = old._replace(id="", made_at=now_text(), corrects=old.id, withdrawn=withdraw)
        new = new._replace(used={**old.used, **numbers}, chosen={**old.chosen, **words})
        new = new._replace(verdict=known_verdict(verdict) if verdict else old.verdict)
        new = new._replace(seen=tuple(seen) if seen else old.seen, note=note or old.note)
        kept = book.add(new)
    print(f"logged {kept.id}, which stands for {old.id}{' (withdrawn)' if withdraw else ''}")


@app.command("list")
def list_trials(
    metal: Annotated[str, typer.Option(help="Only trials with this metal.")] = "",
    joint: Annotated[str, typer.Option(help="Only trials of this joint.")] = "",
    verdict: Verdict = "",
    every: Every = False,
    journal: JournalFile = None,
    json: AsJson = False,
) -> None:
    """The trials as they stand, one a line; * marks one that was corrected.

    Example: prestrike trial list --metal 5052 --verdict good
    """
    from advisor.job.material import find_material
    from advisor.shop.rules_in_force import open_rules

    rulebook = open_rules()
    wanted = find_material(metal, rulebook.index).id if metal else ""
    with journal_at(journal) as book:
        found = book.rows() if every else book.standing()
    found = [
        trial
        for trial in found
        if (not wanted or wanted in trial.case.metals)
        and (not joint or trial.case.joint == joint)
        and (not verdict or trial.verdict == verdict)
    ]
    if json:
        from advisor.journal.exchange import as_data

        print_json(as_data(found))
    else:
        from advisor.trials.text import trials_table

        print(trials_table(found, rulebook.vocabulary.topics))


@app.command("show")
def show(trial: TrialId, journal: JournalFile = None, json: AsJson = False) -> None:
    """One trial whole, with its corrections and whether its photos are still the same.

    Example: prestrike trial show 3fa94c1b
    """
    from advisor.journal.store import chain
    from advisor.shop.rules_in_force import open_rules, units_of

    rulebook = open_rules()
    with journal_at(journal) as book:
        found = book.find(trial)
        history = chain(book.rows(), found)
    if json:
        from advisor.journal.exchange import as_data

        print_json(as_data([found]))
    else:
        from advisor.trials.text import trial_text

        print(trial_text(found, history, rulebook.vocabulary.topics, units_of(rulebook)))


def _format(path: Path) -> str:
    kind = path.suffix.casefold().lstrip(".")
    if kind not in ("csv", "json"):
        repair = did_you_mean(kind, ("csv", "json"))
        raise PrestrikeError(
            Diagnostic("unknown-value", "the file's name ends in .csv or .json", str(path), help=repair)
        )
    return kind


@app.command("export")
def export(
    path: Annotated[Path, typer.Argument(help="File to write, ending in .csv or .json.")], journal: JournalFile = None
) -> None:
    """Every row of the journal to a CSV or JSON file. A file that is there is not overwritten.

    Example: prestrike trial export trials.csv
    """
    from advisor.journal.exchange import to_csv, to_json

    write = to_csv if _format(path) == "csv" else to_json
    with journal_at(journal) as book:
        rows = book.rows()
    write_whole(path, write(rows), new=True, help="name a file that is not there, in a folder that is")
    print(f"{len(rows)} rows written to {path}")


@app.command("import")
def import_trials(
    path: Annotated[Path, typer.Argument(help="File to read, ending in .csv or .json.")], journal: JournalFile = None
) -> None:
    """Trials of another journal; those that are here already are passed over, and a row that cannot be is left out.

    Example: prestrike trial import trials.csv
    """
    from advisor.journal.exchange import from_csv, from_json, placed
    from advisor.reading import read_text
    from advisor.resources import schema_file
    from advisor.shop.rules_in_force import open_rules
    from advisor.trials.check import trial_faults

    read = from_csv if _format(path) == "csv" else from_json
    came = read(read_text(path), str(path), schema_file)
    rulebook = open_rules()
    good, refused = [], list(came.refused)
    for trial, place in came.trials:
        faults = [placed(fault, place) for fault in trial_faults(rulebook, trial)]
        refused += faults
        good += [] if faults else [(trial, place)]
    with journal_at(journal, create=True) as book:
        new, here, other = book.bring_in([trial for trial, _ in good])
    refused += [placed(finding, good[at][1]) for at, finding in other]
    rows = len({(finding.line, finding.subject.split("/")[1] if not finding.line else "") for finding in refused})
    print(f"{new} trials added, {here} were here already, {rows} refused")
    if refused:
        raise PrestrikeError(refused)
