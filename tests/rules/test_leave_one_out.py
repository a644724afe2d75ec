"""How well the settled current agrees with what is printed: with every source heard, and with each left out in turn.

The printed tables are the outside here. Leaving a table out and asking the others for its rows tells what a table
never seen would make of our answer. The floors are below the figures measured when they were written (named beside
each), so that a worse way of bringing sources together, or a slip in a table, fails.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterator
from typing import NamedTuple

import pytest

from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.settle import combine
from advisor.rulebook.source_values import converted, source_values
from advisor.shop.rules_in_force import compute
from tests.rules.agreement import Row, agreement, values


class Score(NamedTuple):
    overlap: float
    inside: float
    ratio: float


def printed_rows(book: Rulebook) -> Iterator[Row]:
    """Every printed range of 0.8 to 9.5 mm, once for each metal and one joint it was printed for."""
    for rule in book.index.rules("current"):
        if rule.effect != "start" or "141" not in values(rule, "process"):
            continue
        if rule.sources[0].evidence != "read" or "helium" in values(rule, "gas"):
            continue
        joints = [name for name in rule.printed_for.get("joint", ["butt"]) if name != "edge"][:1]
        position = rule.printed_for.get("position", ["PA"])[0]
        for base in values(rule, "base"):
            for at, low, high in rule.body["rows"]:
                if base != "low-alloy-steel" and 0.78 <= at <= 9.6 and low < high:
                    facts: dict[str, Fact] = {
                        "process": "141", "base": base, "joint": joints[0], "position": position, "thickness": at,
                        "gas": "argon",
                    }  # fmt: skip
                    yield Row(rule, facts, low, high)


def score(book: Rulebook, leave_out: bool) -> Score:
    """A row that nobody else speaks of counts as missed."""
    found = [agreement(book, row, leave_out) for row in printed_rows(book)]
    heard = [item for item in found if item is not None]
    return Score(
        sum(item.overlap for item in heard) / len(found),
        sum(item.inside for item in heard) / len(found),
        statistics.median(item.ratio for item in heard),
    )


def test_with_every_source_heard(rulebook: Rulebook) -> None:
    """Measured: 0.94 of ranges overlap, 0.55 of starts lie inside, median high/low 1.70 (183 rows)."""
    found = score(rulebook, leave_out=False)
    assert found.overlap >= 0.92
    assert found.inside >= 0.52
    assert found.ratio <= 1.7 + 1e-9


def test_with_each_source_left_out(rulebook: Rulebook) -> None:
    """Measured: 0.86 overlap, 0.36 inside. The tables of steel fall into two schools that differ twofold."""
    found = score(rulebook, leave_out=True)
    assert found.overlap >= 0.83
    assert found.inside >= 0.33
    assert found.ratio <= 1.7 + 1e-9


@pytest.mark.parametrize("base", ["aluminium", "carbon-steel", "stainless"])
@pytest.mark.parametrize("joint", ["butt", "tee", "lap", "edge"])
def test_current_rises_with_thickness(rulebook: Rulebook, base: str, joint: str) -> None:
    """Between common sizes a thicker sheet never asks for less; a small dip where a source ends is borne (8 %)."""
    topic = rulebook.vocabulary.topics["current"]
    last = 0.0
    for thickness in (0.8, 1.0, 1.2, 1.6, 2.0, 2.5, 3.2, 4.0, 4.8, 6.0, 6.4, 8.0, 9.5):
        facts: dict[str, Fact] = {
            "process": "141", "base": base, "joint": joint, "position": "PA", "thickness": thickness, "gas": "argon",
        }  # fmt: skip
        matched = rulebook.match("current", facts)
        starts = [r for r in matched if r.effect == "start"]
        voices = converted(
            source_values(starts, facts, rulebook.vocabulary, compute), [r for r in matched if r.carries], facts
        )
        _, start, _ = combine(voices, topic)
        assert math.isfinite(start) and start > 0.92 * last
        last = start
