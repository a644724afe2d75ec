"""All generated jobs through all checks: python -m tests.answers.run [jobs] [seed] [--solve].

Prints each kind of contradiction with how many times it was found and the first of them. --solve: pairs and boxes are
solved (a second or more each) instead of stood in for.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from contextlib import nullcontext
from typing import NamedTuple

from advisor.shop.rules_in_force import open_rules, units_of
from tests.answers.checks import CHECKS
from tests.answers.finished import finish
from tests.answers.jobs import generated
from tests.answers.stand_ins import quick


class Count(NamedTuple):
    """What a run found. statuses: answers by status; found: (check, what) -> jobs that show it."""

    statuses: Counter[str]
    found: dict[tuple[str, str], list[str]]

    @property
    def jobs(self) -> int:
        return sum(self.statuses.values())


def count(jobs: int, seed: int = 11, *, solve: bool = False) -> Count:
    """Every generated job through every check."""
    rulebook = open_rules()
    units = units_of(rulebook)
    statuses: Counter[str] = Counter()
    found: dict[tuple[str, str], list[str]] = defaultdict(list)
    with nullcontext() if solve else quick():
        for data in generated(jobs, seed):
            answer = finish(rulebook, units, data)
            statuses[answer.advice.status if answer else "not read"] += 1
            for name, check in CHECKS.items() if answer else ():
                for what, detail in check(answer):
                    found[name, what].append(f"{detail} | {data}")
    return Count(statuses, dict(found))


if __name__ == "__main__":
    wanted = [int(word) for word in sys.argv[1:] if word.isdigit()]
    result = count(*(wanted or [2000]), solve="--solve" in sys.argv)
    print(f"{result.jobs} jobs: {dict(result.statuses)}")
    for (name, what), where in sorted(result.found.items(), key=lambda item: -len(item[1])):
        print(f"{len(where):5d}  {name}: {what}\n         {where[0][:900]}")
    print(f"{sum(len(where) for where in result.found.values())} contradictions of {len(result.found)} kinds")
