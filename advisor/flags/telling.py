"""The answer of a command that was given a job, with one line on the words of the job that changed nothing in it."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from typing import Any

from advisor.answer.no_effect import SaidWord, no_effect
from advisor.flags.options import Flags, print_json
from advisor.job.job import Job

WIDTH = 80
# Flags that are not spelled as the word is in a job file.
SPELLED = {"wire_diameter": "wire", "tungsten_type": "tungsten"}


def told(job: Job, answered: Callable[[Job], Any]) -> tuple[SaidWord, ...]:
    """The words of the job that change nothing. answered: the answer to a job as plain data."""
    return no_effect(job, lambda other: _without_job(answered(other)))


def _without_job(data: Any) -> object:
    """The answer without the job that it repeats."""
    return {name: value for name, value in data.items() if name != "job"} if isinstance(data, dict) else data


def show(
    data: Callable[[], dict[str, Any]],
    text: Callable[[], str],
    *,
    as_json: bool,
    flags: Flags,
    idle: Sequence[SaidWord],
) -> None:
    """Print the answer; the words without effect stand in its last line, or under `no_effect`."""
    if as_json:
        print_json({**data(), **no_effect_json(idle)})
    else:
        print(text() + no_effect_text(idle, flags), end="")


def no_effect_json(idle: Sequence[SaidWord]) -> dict[str, Any]:
    """The words without effect as JSON data."""
    return {"no_effect": [item._asdict() for item in idle]}


def no_effect_text(idle: Sequence[SaidWord], flags: Flags | None = None) -> str:
    """The line that names them, a flag spelled as a flag; empty where every word counts."""
    if not idle:
        return ""
    words = ", ".join(f"{_spelled(item.word, flags)} {item.value}".strip() for item in idle)
    return textwrap.fill(f"No effect on this answer: {words}.", WIDTH, break_on_hyphens=False) + "\n"


def _spelled(word: str, flags: Flags | None) -> str:
    if flags is None:
        return word
    if word == "electrode" and not flags.words.get(word) and flags.words.get("filler"):
        return "--filler"  # a covered electrode may be named as the filler
    given = flags.words.get(word) or getattr(flags, word, None)
    return f"--{SPELLED.get(word, word).replace('_', '-')}" if given else word
