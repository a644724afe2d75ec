"""The factor of a shop: simulated shops whose true factor is known are the outside here; seeds are fixed."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from advisor.journal.agreement import apart, lean, two_camps
from advisor.journal.estimate import Estimate, estimate, prior_scale

# The published spread of the demo's fillet: tables from 71 to 168 A.
PRIOR = prior_scale(71, 168)


def shop(chance: Any, true_log: float, count: int, scatter: float, slips: float = 0.06) -> list[float]:
    """Ratios a shop logs: scatter of good beads, and now and then a slip, from a misread dial to a lost digit."""
    logs = true_log + scatter * chance.standard_normal(count)
    slip = chance.random(count) < slips
    logs = np.where(slip, logs + chance.choice([-1, 1], count) * chance.uniform(0.3, 2.5, count), logs)
    return [float(value) for value in np.exp(logs)]


def runs(seed: int, many: int, counts: tuple[int, int], true: float | None = None, slips: float = 0.06) -> Any:
    """(true log, estimate) of many shops. true: their factor; else drawn from the published spread."""
    chance = np.random.default_rng(seed)
    found = []
    for _ in range(many):
        true_log = chance.normal(0, PRIOR) if true is None else math.log(true)
        scatter = math.exp(chance.uniform(math.log(0.03), math.log(0.14)))
        count = int(chance.integers(counts[0], counts[1] + 1))
        found.append((true_log, estimate(shop(chance, true_log, count, scatter, slips), PRIOR)))
    return found


def held(found: list[tuple[float, Estimate]]) -> float:
    return float(np.mean([item.low <= math.exp(true) <= item.high for true, item in found]))


def test_ninety_per_cent_intervals_hold_the_truth_in_1000_runs() -> None:
    """Shops of 3 to 30 trials. Measured: see DEVELOPERS.md."""
    found = runs(20261125, 1000, (3, 30))
    assert 0.85 <= held(found) <= 0.95


@pytest.mark.parametrize("count", [3, 4, 6, 10, 30])
def test_they_hold_it_for_few_trials_as_for_many(count: int) -> None:
    assert 0.85 <= held(runs(count, 300, (count, count))) <= 0.95


@pytest.mark.parametrize("true", [0.6, 0.8, 1.0, 1.25, 1.6])
def test_they_hold_it_wherever_the_truth_lies(true: float) -> None:
    """A prior that pulls too hard would lose the far ones, and show more than it should of the near ones."""
    assert 0.84 <= held(runs(int(true * 100), 300, (3, 30), true)) <= 0.96


def test_with_ten_trials_the_error_is_at_most_half_of_the_published_one() -> None:
    found = runs(10, 300, (10, 10))
    ours = np.mean([abs(math.log(item.factor) - true) for true, item in found])
    published = np.mean([abs(true) for true, _ in found])
    assert ours <= published / 2


@pytest.mark.parametrize("true", [0.75, 0.9, 1.12, 1.35])
def test_and_so_it_is_for_shops_that_differ_by_a_tenth_and_more(true: float) -> None:
    found = runs(int(true * 100), 150, (10, 10), true)
    assert np.mean([abs(math.log(item.factor) - t) for t, item in found]) <= abs(math.log(true)) / 2


def test_no_trial_moves_nothing_and_evidence_moves_it_toward_itself() -> None:
    """Shrinkage: between the published start and the mean, nearer to the mean with every trial."""
    factors = [estimate([1.3] * count, 0.11).factor for count in (1, 2, 3, 10)]
    assert 1 < factors[0] < factors[1] < factors[2] < factors[3] <= 1.3
    widths = [estimate([1.3, 1.24, 1.36] * count, 0.11) for count in (1, 2, 4)]
    assert widths[0].error > widths[1].error > widths[2].error


def test_one_lost_digit_does_not_matter_and_is_named() -> None:
    clean = estimate([1.02, 0.98, 1.05, 1.0, 0.97], 0.2)
    for wrong in (0.1, 10.0):
        spoilt = estimate([1.02, 0.98, 1.05, 1.0, 0.97, wrong], 0.2)
        assert spoilt.factor == pytest.approx(clean.factor, rel=0.01)
        assert spoilt.slips[-1] > 0.9 and max(spoilt.slips[:-1]) < 0.1


def test_up_and_down_are_the_same_step() -> None:
    up, down = estimate([1.1, 1.2, 1.15], 0.2), estimate([1 / 1.1, 1 / 1.2, 1 / 1.15], 0.2)
    assert up.factor == pytest.approx(1 / down.factor, rel=1e-3)
    assert up.low == pytest.approx(1 / down.high, rel=1e-3)


def test_in_any_order() -> None:
    first, second = estimate([1.1, 0.9, 1.3], 0.2), estimate([1.3, 1.1, 0.9], 0.2)
    assert first.factor == pytest.approx(second.factor, rel=1e-9)


@pytest.mark.parametrize("ratios", [[], [0.0], [-1.0], [math.nan], [math.inf]])
def test_what_is_no_ratio_is_refused(ratios: list[float]) -> None:
    with pytest.raises(ValueError):
        estimate(ratios, 0.2)


def test_the_prior_is_the_published_spread_within_bounds() -> None:
    # ln(2)/(2 x 1.6449), by hand.
    assert prior_scale(100, 200) == pytest.approx(0.2107, rel=1e-3)
    assert prior_scale(130, 130) == 0.1 and prior_scale(1, 1000) == 0.6


def test_alarms_are_rare_where_all_agree() -> None:
    chance = np.random.default_rng(5)
    alarms = {"camps": 0, "lean": 0}
    for _ in range(400):
        count = int(chance.integers(6, 31))
        ratios = list(np.exp(0.08 * chance.standard_normal(count)))
        alarms["camps"] += two_camps(ratios) is not None
        alarms["lean"] += lean(ratios, list(chance.choice([1.6, 3.2, 6.4], count))) is not None
    assert alarms["camps"] <= 12 and alarms["lean"] <= 12


def test_alarms_come_where_there_is_cause() -> None:
    chance = np.random.default_rng(6)
    caught = {"camps": 0, "lean": 0, "apart": 0}
    for _ in range(50):
        noise = np.exp(0.05 * chance.standard_normal(12))
        two = list(noise * np.where(np.arange(12) < 6, 0.8, 1.2))
        caught["camps"] += two_camps(two) is not None
        caught["lean"] += lean(list(noise * np.linspace(0.85, 1.15, 12)), list(np.linspace(1.6, 6.4, 12))) is not None
        caught["apart"] += apart(estimate(two[:6], 0.2), estimate(two[6:], 0.2))
    assert min(caught.values()) >= 45, caught
