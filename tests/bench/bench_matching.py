"""Time to match and settle one job with 100 to 100,000 synthetic rules: it should stay nearly flat.

Run: python tests/bench/bench_matching.py
The synthetic rules (invented, for this measurement only) spread over alloys, joints and thickness bands as a very
large shop's might, so that the number of rules that fire for one job stays about the same.
"""

from __future__ import annotations

import random
import statistics
import tempfile
import time
from pathlib import Path
from typing import Any

from advisor.rulebook.index import Index, IndexWriter
from advisor.rulebook.library import INDEXED_ATTRIBUTE, Rulebook
from advisor.rulebook.settle import settle
from advisor.rulebook.vocabulary import Topic, Vocabulary

SIZES = (100, 1_000, 10_000, 100_000)
JOINTS = ("butt", "tee", "lap", "edge")
SOURCE = {
    "doc": "S", "title": "synthetic", "author": "", "year": 0, "kind": "handbook", "lineage": "", "at": "",
    "evidence": "read",
}  # fmt: skip


def synthetic_rule(number: int, count: int) -> dict[str, Any]:
    chance = random.Random(number)
    alloys = max(count // 40, 1)
    low = chance.uniform(0.5, 8)
    return {
        "id": f"s.{number}", "topic": "current", "layer": "built-in", "ruleset": "s", "version": "1.0.0", "file": "s",
        "line": 1, "printed_for": {}, "carries": "", "effect": "start", "because": "-",
        "when": ["all", [["in", "alloy", [f"a{number % alloys}"]], ["in", "joint", [chance.choice(JOINTS)]],
                         ["in", "process", ["141"]]]],
        "body": {"over": "thickness", "rows": [[low, 40 * low, 44 * low], [low + 2, 40 * low + 80, 44 * low + 88]]},
        "sources": [{**SOURCE, "lineage": f"l{number % 7}"}], "examples": [],
    }  # fmt: skip


def book_of(count: int, folder: Path) -> Rulebook:
    path = folder / f"{count}.sqlite"
    writer = IndexWriter(path, INDEXED_ATTRIBUTE)
    writer.add_rules([synthetic_rule(number, count) for number in range(count)])
    writer.finish({})
    vocabulary = Vocabulary(
        {}, {"current": Topic("current", "number", "Current", "current")}, {"handbook": 1.0}, {"read": 1.0}
    )
    return Rulebook(Index(path), vocabulary, "", [])


def time_per_job(count: int, folder: Path, jobs: int = 400) -> tuple[float, float]:
    """Median seconds per job, and how many sources were heard on average."""
    book = book_of(count, folder)
    chance = random.Random(7)
    alloys = max(count // 40, 1)
    spent, heard = [], 0
    for _ in range(jobs):
        facts = {
            "process": "141", "alloy": f"a{chance.randrange(alloys)}", "joint": chance.choice(JOINTS),
            "thickness": chance.uniform(1, 9),
        }  # fmt: skip
        book.index.forget()  # a command starts with nothing read
        begin = time.perf_counter()
        found = settle(book, "current", facts, lambda *_: 0.0)
        spent.append(time.perf_counter() - begin)
        heard += len(found.voices) if found else 0
    return statistics.median(spent), heard / jobs


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        first = 0.0
        for count in SIZES:
            seconds, heard = time_per_job(count, Path(name))
            first = first or seconds
            figures = f"{seconds * 1e6:7.0f} us a job, ratio to 100 rules {seconds / first:.2f}"
            print(f"{count:>7} rules: {figures}, {heard:.1f} sources heard")


if __name__ == "__main__":
    main()
