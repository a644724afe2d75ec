"""Printed rows of current and what the rules settle for them, with every source heard or the row's own left out."""

from __future__ import annotations

from typing import NamedTuple

from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.rule import Rule
from advisor.rulebook.settle import combine
from advisor.rulebook.source_values import converted, source_values
from advisor.shop.rules_in_force import compute


class Row(NamedTuple):
    """A printed range [A] and the job it was printed for."""

    rule: Rule
    facts: dict[str, Fact]
    low: float
    high: float


class Agreement(NamedTuple):
    """overlap: the ranges meet; inside: the start lies in the printed one; ratio: settled high to low."""

    overlap: bool
    inside: bool
    ratio: float


def values(rule: Rule, attribute: str) -> list[str]:
    """What a rule's conditions allow of an attribute."""
    return next((part[2] for part in rule.when[1] if part[0] == "in" and part[1] == attribute), [])


def agreement(book: Rulebook, row: Row, leave_out: bool) -> Agreement | None:
    """How the settled current agrees with a row; None where nobody else speaks of its case."""
    matched = book.match("current", row.facts)
    lineage = row.rule.sources[0].lineage
    starts = [r for r in matched if r.effect == "start" and not (leave_out and r.sources[0].lineage == lineage)]
    voices = converted(
        source_values(starts, row.facts, book.vocabulary, compute), [r for r in matched if r.carries], row.facts
    )
    if not voices:
        return None
    low, start, high = combine(voices, book.vocabulary.topics["current"])
    return Agreement(high >= row.low and low <= row.high, row.low <= start <= row.high, high / low)
