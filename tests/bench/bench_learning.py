"""How often the 90 % intervals of a learnt factor hold the truth, by number of trials and by how far the shop is off.

Run: python tests/bench/bench_learning.py
"""

from __future__ import annotations

import math
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from tests.journal.test_estimate import PRIOR, held, runs

MANY = 1000


def line(name: str, found: list) -> None:  # type: ignore[type-arg]
    ours = np.mean([abs(math.log(item.factor) - true) for true, item in found])
    published = np.mean([abs(true) for true, _ in found])
    width = np.median([item.high / item.low for _, item in found])
    share = f"{ours / published:5.2f}" if published > 0 else "    -"
    print(f"{name:<28}{held(found):7.3f}{100 * ours:9.1f}{100 * published:11.1f}{share:>8}{width:9.3f}")


def main() -> None:
    print(f"prior scale {PRIOR:.3f}; {MANY} shops a line; scatter 3-14 %, 6 % slips; errors in % (log scale)")
    print(f"{'':<28}{'held':>7}{'our err':>9}{'published':>11}{'share':>8}{'width':>9}")
    line("3-30 trials, all shops", runs(20261125, MANY, (3, 30)))
    for count in (3, 4, 5, 7, 10, 15, 20, 30):
        line(f"{count} trials", runs(count, MANY, (count, count)))
    for true in (0.5, 0.6, 0.75, 0.9, 1.0, 1.12, 1.35, 1.6, 2.0):
        line(f"3-30 trials, true {true:g}", runs(int(100 * true), MANY, (3, 30), true))
    for slips in (0.0, 0.15):
        line(f"3-30 trials, slips {100 * slips:.0f} %", runs(11, MANY, (3, 30), slips=slips))


if __name__ == "__main__":
    main()
