"""`prestrike faults --accept`: the cause goes to the trial, and what it changes goes to the next setup."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.faults.answer import Diagnostician
from advisor.faults.cure import Accepted, cure, find_cause, take_back, write_cure
from advisor.journal.store import chain, journal_at
from advisor.journal.trial import Trial, now_text

if TYPE_CHECKING:
    from advisor.answer.answer import Advice
    from advisor.faults.command import OpenedCase
    from advisor.faults.knowledge import Knowledge
    from advisor.rulebook.library import Rulebook


def accept_cause(doctor: Diagnostician, opened: OpenedCase, name: str, layer: str, journal: Path | None) -> Accepted:
    """Write the accepted cause to the trial (a new one where none was named) and its change into the layer.

    Raises PrestrikeError where there is no whole job, no such cause, or a cause was accepted for the trial before.
    """
    if name.casefold() == "none":
        return _undo(opened, journal)
    advice = opened.case.advice
    if advice is None:
        find_cause(doctor.knowledge, name)
        repair = "name the trial with --trial ID, or give the job: a file, or metal, thickness and joint"
        raise PrestrikeError(Diagnostic("no-job", "a cause is accepted for a seam, and none was given", help=repair))
    trial = opened.trial or _new_trial(doctor, opened, name)
    return accept_for_trial(opened.rulebook, doctor.knowledge, advice, trial, name, layer, journal)


def accept_for_trial(
    rulebook: Rulebook,
    knowledge: Knowledge,
    advice: Advice,
    trial: Trial,
    name: str,
    layer: str,
    journal: Path | None,
) -> Accepted:
    """The same for a trial at hand: one of the journal, or a new one without an id."""
    if layer not in ("shop", "job"):
        repair = did_you_mean(layer, ("shop", "job"))
        raise PrestrikeError(Diagnostic("unknown-value", f"'{layer}' is no such layer", help=repair))
    found = find_cause(knowledge, name)
    with journal_at(journal, create=True) as book:
        last = chain(book.rows(), trial)[-1:] if trial.id else []
        if last and last[0].cause:
            repair = f"take it back first: prestrike faults --trial {last[0].id} --accept none"
            message = f"'{last[0].cause}' was accepted for this trial before"
            raise PrestrikeError(Diagnostic("accepted-before", message, help=repair))
        kept = book.add(trial._replace(id="", made_at=now_text(), cause=found.id, corrects=trial.id))
    made = cure(rulebook, knowledge, found, advice, kept)
    return Accepted(found, kept.id, made.changes, made.kept, str(write_cure(made, layer, Path.cwd())))


def _new_trial(doctor: Diagnostician, opened: OpenedCase, name: str) -> Trial:
    """A bad trial of the job, with what was dialled in. Raises PrestrikeError where that was not said."""
    find_cause(doctor.knowledge, name)
    from advisor.trials.maker import make_trial

    assert opened.case.advice is not None  # only a whole job gets here
    return make_trial(opened.rulebook, opened.units, opened.case.advice, opened.used, "bad", doctor.words_seen())


def _undo(opened: OpenedCase, journal: Path | None) -> Accepted:
    if opened.trial is None:
        raise PrestrikeError(Diagnostic("no-trial", "say for which trial: --trial ID", help="prestrike trial list"))
    with journal_at(journal) as book:
        rows = chain(book.rows(), opened.trial)
        if not rows[-1].cause:
            text = "no cause is accepted for this trial"
            raise PrestrikeError(Diagnostic("nothing-accepted", text, rows[-1].id, help="prestrike trial show TRIAL"))
        kept = book.add(rows[-1]._replace(id="", made_at=now_text(), cause="", corrects=rows[-1].id))
    gone = take_back([row.id for row in rows], Path.cwd())
    return Accepted(None, kept.id, (), (), "", tuple(str(path) for path in gone))
