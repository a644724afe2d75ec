"""Words that stand twice in one answer: a run of seven words that two lines share."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.answers.finished import Finished

RUN = 7


def said_twice(answer: Finished) -> Iterator[tuple[str, str]]:
    """(the two rules, the shared words) for each pair of lines that share a run of words."""
    seen: dict[tuple[str, ...], str] = {}
    pairs: dict[tuple[str, str], str] = {}
    for rule, text in answer.said():
        words = re.findall(r"[\w°%/.-]+", text.casefold())
        for start in range(len(words) - RUN + 1):
            run = tuple(words[start : start + RUN])
            first = seen.setdefault(run, rule)
            if first != rule:
                pairs.setdefault((first, rule), " ".join(run))
    for (first, second), words in sorted(pairs.items()):
        yield f"{first} and {second}", words
    rules = [rule for rule, _ in answer.said() if rule != "a note"]
    for rule in {rule for rule in rules if rules.count(rule) > 1}:
        yield f"{rule} printed twice", ""
    for note in {note for note in answer.advice.notes if answer.advice.notes.count(note) > 1}:
        yield "a note printed twice", note
