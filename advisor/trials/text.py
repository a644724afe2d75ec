"""Trials as a table and as text."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from advisor.answer.answer import Topic
from advisor.journal.photos import state_of
from advisor.journal.trial import Trial, TrialCase
from advisor.units.quantities import HOUSE_UNITS, UnitTable, in_both_systems


def case_text(case: TrialCase) -> str:
    """What was welded in a few words: `5052 3.2 mm tee PB`."""
    sizes = [f"{value:.4g}" for value in dict.fromkeys((case.thinner, case.thicker))]
    return f"{'+'.join(dict.fromkeys(case.metals))} {'/'.join(sizes)} mm {case.joint} {case.position}"


def used_text(trial: Trial, topics: Mapping[str, Topic]) -> str:
    """What was dialled in, in house units."""
    parts = []
    for topic, value in trial.used.items():
        known = topics.get(topic)
        unit = HOUSE_UNITS.get(known.dimension, "") if known else ""
        parts.append(f"{value:.4g} {unit}".strip() if topic == "current" else f"{topic} {value:.4g} {unit}".strip())
    return ", ".join([*parts, *trial.chosen.values()])


def trials_table(trials: Sequence[Trial], topics: Mapping[str, Topic]) -> str:
    """Several trials, one a line."""
    if not trials:
        return "no trials"
    from tabulate import tabulate

    rows = [
        (
            trial.id[-8:],
            trial.made_at[:10],
            case_text(trial.case),
            textwrap.shorten(used_text(trial, topics), 22, placeholder="..."),
            ("withdrawn" if trial.withdrawn else trial.verdict) + ("*" if trial.corrects else ""),
        )
        for trial in trials
    ]
    return str(
        tabulate(rows, headers=("trial", "day", "case", "used", "verdict"), tablefmt="simple", disable_numparse=True)
    )


def trial_text(trial: Trial, history: Sequence[Trial], topics: Mapping[str, Topic], units: UnitTable) -> str:
    """One trial whole, with the rows that came before it."""
    rows = [("Trial", f"{trial.id}, {trial.made_at}{', by ' + trial.by if trial.by else ''}")]
    rows.append(("Case", case_text(trial.case) + (f", {trial.case.machine}" if trial.case.machine else "")))
    for topic, amount in trial.used.items():
        known = topics.get(topic)
        text = (
            in_both_systems(amount, known.dimension, table=units)
            if known and known.dimension != "count"
            else f"{amount:g}"
        )
        if topic in trial.advised:
            low, start, high = trial.advised[topic]
            text += f" (advised then: {start:.4g}, {low:.4g} to {high:.4g})"
        rows.append((known.label if known else topic, text))
    rows += [(topic, word) for topic, word in trial.chosen.items()]
    rows.append(("Verdict", "withdrawn" if trial.withdrawn else trial.verdict))
    rows += [("Seen", text) for text in trial.seen]
    rows += [("Cause", trial.cause)] if trial.cause else []
    rows += [("Note", trial.note)] if trial.note else []
    rows += [("Photo", f"{photo.path} ({state_of(photo)})") for photo in trial.photos]
    rows += [("Stands for", trial.corrects)] if trial.corrects else []
    rows += [("Row", f"{row.id}: {used_text(row, topics)}, {row.verdict}") for row in history if len(history) > 1]
    rows.append(("Rules then", trial.rules[:12]))
    lines: list[str] = []
    for label, value in rows:
        lines += textwrap.wrap(value, 80, initial_indent=f"{label[:13]:<14}", subsequent_indent=" " * 14)
    return "\n".join(lines)
