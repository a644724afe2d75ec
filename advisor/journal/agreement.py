"""Whether ratios of one scope agree: apart by a name (machine, rod), leaning with the size, or in two camps.

One factor for entries that do not agree would be right for none of them, so it is better said than averaged.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from scipy import stats

from advisor.journal.estimate import Estimate

# Differences below this matter to nobody at the torch, however sure.
MATTERS = 1.06
# Standard errors between two groups, and how sure a lean must be: about one false alarm in a hundred.
_APART = 2.6
_SURE = 0.995
_LEAST_LEAN, _LEAST_CAMP = 5, 3
_CAMPS_MATTER = 1.15


class ValueGroups(NamedTuple):
    """Two groups that nothing named tells apart: geometric means [-] and how many in each."""

    low: float
    high: float
    in_low: int
    in_high: int


def apart(first: Estimate, second: Estimate) -> bool:
    """True where two groups have factors that differ by more than both are uncertain, and by enough to matter."""
    difference = abs(math.log(first.factor / second.factor))
    return difference > math.log(MATTERS) and difference > _APART * math.hypot(first.error, second.error)


def lean(ratios: Sequence[float], sizes: Sequence[float]) -> tuple[float, float] | None:
    """Factors [-] at the smallest and the largest size where they surely differ, else None.

    ratios: [-] > 0; sizes: of each ratio [any unit, > 0]. A straight line on log scales by least squares; five entries
    of two sizes are the least that can tell.
    """
    x, y = np.log(np.asarray(sizes, dtype=float)), np.log(np.asarray(ratios, dtype=float))
    if len(y) < _LEAST_LEAN or x.max() - x.min() < 0.02:
        return None
    line = stats.linregress(x, y)
    change = abs(line.slope) * (x.max() - x.min())
    sure = stats.t.ppf(_SURE, len(y) - 2)
    if change < math.log(MATTERS) or abs(line.slope) <= sure * line.stderr:
        return None
    ends = line.intercept + line.slope * np.array([x.min(), x.max()])
    return math.exp(ends[0]), math.exp(ends[1])


def two_camps(ratios: Sequence[float]) -> ValueGroups | None:
    """The two groups into which the ratios fall, or None where one cloud explains them.

    ratios: [-] > 0. The best cut must explain more of the scatter than it would for 99 of 100 clouds of one normal
    (0.695 + 0.67/sqrt(n), fitted to 20,000 simulated clouds of each size from 6 to 30).
    """
    y = np.sort(np.log(np.asarray(ratios, dtype=float)))
    count = len(y)
    whole = float(((y - y.mean()) ** 2).sum())
    if count < 2 * _LEAST_CAMP or whole <= 0:
        return None
    cuts = range(_LEAST_CAMP, count - _LEAST_CAMP + 1)
    left = {cut: sum(float(((part - part.mean()) ** 2).sum()) for part in (y[:cut], y[cut:])) for cut in cuts}
    best = min(left, key=lambda cut: left[cut])
    low, high = float(y[:best].mean()), float(y[best:].mean())
    if 1 - left[best] / whole < 0.695 + 0.67 / math.sqrt(count) or high - low < math.log(_CAMPS_MATTER):
        return None
    return ValueGroups(math.exp(low), math.exp(high), best, count - best)
