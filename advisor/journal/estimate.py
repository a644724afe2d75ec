"""A shop's own factor on a published setting, from the ratios of what worked to what is published.

The model, small enough to be solved on a grid without chance in it:

- Ratios are taken on the log scale, where 10 % up and 10 % down are the same step.
- The factor starts at 1, the published start. How far a shop may lie from it is told by the published spread: the
  prior is a Student-t (4 degrees) of that scale, so that few trials move little, and a shop that is truly far from the
  books is believed all the same.
- Good beads of one seam scatter about the shop's factor, since a range of settings serves. The scatter is not known
  and is estimated too, starting from a few per cent (log-normal: median 7 %, nine tenths between 2.5 and 19 %).
- A bead is taken as Student-t (5 degrees) about the factor: the far ones pull less than the near ones. Besides, one
  entry in twenty may be a slip (a lost digit, the wrong unit), which says nothing about the factor, and may lie
  anywhere between a thirtieth and thirty times. What is most probably a slip is named, not dropped in silence.

The interval is the central 90 % of what is then believed of the factor, whatever the scatter. Whether it holds what it
promises is tested on simulated shops (`tests/journal/test_estimate.py`), where the degrees of the Student-t (4 to 6, or
a normal with slips) made no difference that matters.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from scipy import stats

SLIP = 0.05
_SLIP_REACH = math.log(30)
_BEAD_DEGREES, _PRIOR_DEGREES = 5.0, 4.0
_SCATTER_MEDIAN, _SCATTER_SPREAD, _SCATTER_STEPS = 0.07, 0.6, 17
_COARSE, _FINE = 0.02, 161
# Farther from the books than this nobody welds: e to this is nearly a factor of eight.
_FARTHEST = 2.0
_SPREAD_LEAST, _SPREAD_MOST = 0.1, 0.6
TAIL = 0.05
# Central 90 % of a normal, in standard deviations to one side.
NINETY = 1.6449


class Estimate(NamedTuple):
    """What is believed of a factor. low, high: 90 % interval; scatter: standard deviation of good beads about it, on
    the log scale; slips: of each ratio, how probably it is a slip; prior: scale of the published spread, log scale."""

    trials: int
    factor: float
    low: float
    high: float
    scatter: float
    slips: tuple[float, ...]
    prior: float

    @property
    def error(self) -> float:
        """Half the width of the interval as a standard deviation, on the log scale."""
        return math.log(self.high / self.low) / (2 * NINETY)


def prior_scale(low: float, high: float) -> float:
    """Scale of the prior [log scale] of a published spread low..high [any unit, > 0], taken as its central 90 %.

    Held between 0.1 and 0.6: a single printed number is no better known than tables that differ by a fifth.
    """
    return min(max(math.log(high / low) / (2 * NINETY), _SPREAD_LEAST), _SPREAD_MOST)


def estimate(ratios: Sequence[float], prior: float) -> Estimate:
    """The factor behind ratios of used to published settings.

    ratios: [-], > 0, at least one; prior: scale of the published spread [log scale], > 0 (`prior_scale`).
    Raises ValueError for anything else.
    """
    if not ratios or min(ratios) <= 0 or not all(map(math.isfinite, ratios)) or not 0 < prior < math.inf:
        raise ValueError("ratios must be finite and above zero, and so must the prior")
    logs = np.log(np.asarray(ratios, dtype=float))
    low, high = max(min(logs.min(), 0.0) - 0.4, -_FARTHEST), min(max(logs.max(), 0.0) + 0.4, _FARTHEST)
    coarse = np.arange(low, high + _COARSE, _COARSE)
    likely = _log_belief(logs, coarse, prior).max(axis=1)
    held = np.flatnonzero(likely > likely.max() - 14)
    grid = np.linspace(coarse[max(held[0] - 1, 0)], coarse[min(held[-1] + 1, len(coarse) - 1)], _FINE)
    joint = _log_belief(logs, grid, prior)
    weight = np.exp(joint - joint.max())
    weight /= weight.sum()
    low, middle, high = _quantiles(grid, weight.sum(axis=1), (TAIL, 0.5, 1 - TAIL))
    scatter = math.exp(_quantiles(np.log(_scatters()), weight.sum(axis=0), (0.5,))[0])
    slips = _slips(logs, grid, weight)
    return Estimate(len(ratios), math.exp(middle), math.exp(low), math.exp(high), scatter, slips, prior)


def _scatters() -> Any:
    return np.exp(math.log(_SCATTER_MEDIAN) + _SCATTER_SPREAD * np.linspace(-2.6, 2.6, _SCATTER_STEPS))


def _densities(logs: Any, grid: Any) -> Any:
    """Density of each ratio as an honest bead: factor x scatter x ratio."""
    scatter = _scatters()[None, :, None]
    z = (logs[None, None, :] - grid[:, None, None]) / scatter
    peak = math.exp(stats.t.logpdf(0.0, _BEAD_DEGREES))
    power = -(_BEAD_DEGREES + 1) / 2
    return (1 - SLIP) * peak * (1 + z * z / _BEAD_DEGREES) ** power / scatter


def _log_belief(logs: Any, grid: Any, prior: float) -> Any:
    """Log of what is believed, up to a constant: factor x scatter."""
    beads = np.log(_densities(logs, grid) + SLIP / (2 * _SLIP_REACH)).sum(axis=2)
    of_scatter = -0.5 * np.linspace(-2.6, 2.6, _SCATTER_STEPS) ** 2
    of_factor = -(_PRIOR_DEGREES + 1) / 2 * np.log1p((grid / prior) ** 2 / _PRIOR_DEGREES)
    return beads + of_scatter[None, :] + of_factor[:, None]


def _slips(logs: Any, grid: Any, weight: Any) -> tuple[float, ...]:
    slip = SLIP / (2 * _SLIP_REACH)
    share = slip / (_densities(logs, grid) + slip)
    return tuple(float(value) for value in (weight[:, :, None] * share).sum(axis=(0, 1)))


def _quantiles(grid: Any, weight: Any, wanted: Sequence[float]) -> list[float]:
    passed = np.concatenate([[0.0], np.cumsum((weight[1:] + weight[:-1]) / 2)])
    return [float(value) for value in np.interp(wanted, passed / passed[-1], grid)]
