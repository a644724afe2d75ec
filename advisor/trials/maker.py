"""From a job and what was really dialled in to a trial for the journal."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from advisor.answer.answer import Advice
from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.writer import job_data
from advisor.journal.photos import photo_of
from advisor.journal.trial import VERDICTS, Trial, TrialCase, now_text
from advisor.rulebook.library import Rulebook
from advisor.shop.scope import scope_of
from advisor.trials.check import amount_fault
from advisor.units.quantities import UnitTable, parse_quantity

_BARE = ("count", "ratio")
_NUMBER = re.compile(r"[+-]?(\d{1,12}(\.\d*)?|\.\d+)", re.ASCII)


def make_trial(
    rulebook: Rulebook,
    units: UnitTable,
    advice: Advice,
    used: Sequence[str],
    verdict: str,
    seen: Sequence[str] = (),
    note: str = "",
    by: str = "",
    photos: Sequence[Path] = (),
) -> Trial:
    """The trial of a job. used: `topic=value` texts. Raises PrestrikeError for words and sizes that do not hold."""
    scope = scope_of(rulebook, advice.job)
    machine = advice.job.machine.name if advice.job.machine is not None else ""
    case = TrialCase(
        scope.process,
        scope.metals,
        scope.joint,
        scope.position,
        round(scope.thinner, 4),
        round(scope.thicker, 4),
        scope.gas,
        machine,
    )
    numbers, words = read_used(rulebook, units, used)
    if not numbers and not words:
        repair = "say what was on the machine: --current '128 A', or --used 'gas_flow=9 L/min'"
        raise PrestrikeError(Diagnostic("nothing-used", "a trial says what was dialled in", help=repair))
    job = advice.job
    named = {"filler": job.filler, "gas": job.gas, "tungsten_type": job.tungsten_type}
    settings = {**advice.settings, **advice.preparation}
    return Trial(
        id="",
        made_at=now_text(),
        case=case,
        used=numbers,
        verdict=known_verdict(verdict),
        seen=tuple(text.strip() for text in seen if text.strip()),
        note=note,
        by=by,
        chosen={**{name: word for name, word in named.items() if word}, **words},
        advised={name: (s.low, s.start, s.high) for name, s in settings.items() if name in numbers},
        rules=advice.content_hash,
        job=job_data(job),
        photos=tuple(photo_of(path) for path in photos),
    )


def known_verdict(text: str) -> str:
    """A verdict by its name. Raises PrestrikeError with the nearest."""
    word = text.strip().casefold()
    if word not in VERDICTS:
        repair = f"one of: {', '.join(VERDICTS)}"
        raise PrestrikeError(Diagnostic("unknown-value", f"'{text}' is no verdict", subject="verdict", help=repair))
    return word


def read_used(rulebook: Rulebook, units: UnitTable, used: Sequence[str]) -> tuple[dict[str, float], dict[str, str]]:
    """Numbers in house units and words, by topic. Raises PrestrikeError for an unknown topic or a wrong quantity."""
    numbers: dict[str, float] = {}
    words: dict[str, str] = {}
    topics = {name: topic for name, topic in rulebook.vocabulary.topics.items() if topic.form in ("number", "ranked")}
    for text in used:
        name, sign, value = (part.strip() for part in text.partition("="))
        name = name.casefold().replace("-", "_").replace(" ", "_")
        if not sign or not value:
            repair = "write it as 'gas_flow=9 L/min'"
            raise PrestrikeError(Diagnostic("wrong-form", f"'{text}' is no setting", help=repair))
        if name not in topics:
            raise PrestrikeError(
                Diagnostic("unknown-topic", f"'{name}' is no setting", help=did_you_mean(name, topics))
            )
        if topics[name].form == "ranked":
            words[name] = value
        else:
            numbers[name] = _number(value, topics[name].dimension, units)
            if fault := amount_fault(rulebook, name, numbers[name]):
                raise PrestrikeError(Diagnostic("wrong-amount", fault, subject=name, help="say what was really set"))
    return numbers, words


def _number(text: str, dimension: str, units: UnitTable) -> float:
    if dimension not in _BARE:
        return parse_quantity(text, dimension, table=units).value
    # Not all that Python takes for a number: `1_6` is none, nor is `nan`.
    if not _NUMBER.fullmatch(text):
        raise PrestrikeError(Diagnostic("wrong-type", f"'{text}' is no bare number", help="write it as '3' or '1.5'"))
    return float(text)
