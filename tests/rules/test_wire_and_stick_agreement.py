"""How well the settled current of wire feed and stick agrees with what is printed, each source left out in turn too.

The printed tables are the outside here. Wire: every printed range by thickness, as printed for metal, joint, position
and transfer. Stick: every printed range by covering and core. The floors stand below the figures measured when they
were written (named beside each), so that a slip in a table or a worse way of bringing sources together fails.
"""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from typing import NamedTuple

import pytest

from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from tests.rules.agreement import Row, agreement, values

# First of each where a rule serves several.
_USUAL: dict[str, Fact] = {"joint": "butt", "position": "PA", "base": "carbon-steel", "electrode": "E308L-16"}


class Score(NamedTuple):
    overlap: float
    inside: float
    ratio: float
    rows: int


def printed_rows(book: Rulebook, process: str, recalled: bool) -> Iterator[Row]:
    """Every printed range; single values have no inside and rules of thumb no table. recalled: recalled ones too."""
    for rule in book.index.rules("current"):
        if rule.effect != "start" or process not in values(rule, "process") or "rows" not in rule.body:
            continue
        if rule.sources[0].evidence not in (("read", "memory") if recalled else ("read",)):
            continue
        facts: dict[str, Fact] = {"process": process}
        for name in ("base", "transfer", "joint", "position", "electrode"):
            named = rule.printed_for.get(name) or values(rule, name)
            if named or name in _USUAL:
                facts[name] = named[0] if named else _USUAL[name]
        for at, low, high in rule.body["rows"]:
            if low < high:
                yield Row(rule, {**facts, rule.body["over"]: at}, low, high)


def score(book: Rulebook, process: str, *, leave_out: bool, recalled: bool = False) -> Score:
    """Of the rows somebody else speaks of too: of the others nothing can be compared."""
    found = [agreement(book, row, leave_out) for row in printed_rows(book, process, recalled)]
    heard = [item for item in found if item is not None]
    return Score(
        statistics.mean(item.overlap for item in heard),
        statistics.mean(item.inside for item in heard),
        statistics.median(item.ratio for item in heard),
        len(heard),
    )


# Measured when written: overlap, start inside, median high/low (rows).
# In sample: 135 1.00, 0.65, 1.63 (51); 131 1.00, 1.00, 1.44 (17); 111 1.00, 0.90, 1.70 (77). The rows of 135 that are
# missed are 5 to 10 A wide, of tables that differ by more than that from one another.
@pytest.mark.parametrize(
    ("process", "overlap", "inside"), [("135", 0.98, 0.58), ("131", 0.98, 0.90), ("111", 0.98, 0.85)]
)
def test_with_every_source_heard(rulebook: Rulebook, process: str, overlap: float, inside: float) -> None:
    found = score(rulebook, process, leave_out=False)
    assert found.rows >= 15
    assert found.overlap >= overlap
    assert found.inside >= inside
    assert found.ratio <= 1.7 + 1e-9


# With the source left out: 135 0.92, 0.30 (50); 131 1.00, 0.83 (12); 111 0.99, 0.89 (74).
@pytest.mark.parametrize(
    ("process", "overlap", "inside"), [("135", 0.88, 0.25), ("131", 0.95, 0.75), ("111", 0.95, 0.80)]
)
def test_with_each_source_left_out(rulebook: Rulebook, process: str, overlap: float, inside: float) -> None:
    found = score(rulebook, process, leave_out=True)
    assert found.rows >= 10
    assert found.overlap >= overlap
    assert found.inside >= inside
    assert found.ratio <= 1.7 + 1e-9


def test_all_processes_together_keep_the_marks(rulebook: Rulebook) -> None:
    """98 of 100 ranges overlap, 75 of 100 starts lie inside. Measured: 1.00 and 0.82 on 145 printed rows."""
    found = [score(rulebook, process, leave_out=False) for process in ("135", "131", "111")]
    rows = sum(item.rows for item in found)
    assert sum(item.overlap * item.rows for item in found) / rows >= 0.98
    assert sum(item.inside * item.rows for item in found) / rows >= 0.75
