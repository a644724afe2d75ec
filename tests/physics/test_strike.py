"""A standing arc: the closed forms at both ends, and laws in between."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.physics import standing_start as strike
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.standing_start import PuddleStart, melt_through_time, puddle_time, rise_at

ALUMINIUM = PuddleStart(1000.0, 2e-3, 3e-3, 167.0, 2.42e6, 562.0, latent=1.07e9)
STEEL = PuddleStart(500.0, 2e-3, 2e-3, 41.0, 4.5e6, 1460.0, latent=2.2e9)


@pytest.mark.parametrize("seconds", [0.1, 1.0, 10.0])
def test_a_thin_plate_warms_by_the_logarithm(seconds: float) -> None:
    """2D Gaussian source: q/(4 pi k d) ln(1 + 2 a t/sigma2); mean of both faces of a plate far thinner than the arc."""
    thin = PuddleStart(100.0, 5e-3, 0.5e-3, 167.0, 2.42e6, 562.0)
    exact = 100.0 / (4 * math.pi * 167.0 * 0.5e-3) * math.log1p(2 * thin.diffusivity * seconds / 25e-6)
    mean = 0.5 * (rise_at(thin, seconds) + rise_at(thin, seconds, underside=True))
    assert mean == pytest.approx(exact, rel=5e-3)


@pytest.mark.parametrize("seconds", [1e-3, 1e-2, 0.1, 1.0])
def test_a_thick_plate_warms_by_the_arctangent(seconds: float) -> None:
    """Gaussian on a half space (Carslaw and Jaeger): q/(sqrt2 pi^1.5 k sigma) atan(sqrt(2 a t)/sigma)."""
    thick = PuddleStart(1000.0, 2e-3, 50e-3, 167.0, 2.42e6, 562.0)
    scale = 1000.0 / (math.sqrt(2) * math.pi**1.5 * 167.0 * 2e-3)
    exact = scale * math.atan(math.sqrt(2 * thick.diffusivity * seconds) / 2e-3)
    assert rise_at(thick, seconds) == pytest.approx(exact, rel=1e-8)


def test_young_and_old_answers_through_the_thickness_are_one_function() -> None:
    """Mirror sources and cosine series are two writings of one theta function; they must meet."""
    import numpy as np

    meeting = 0.5 * ALUMINIUM.thickness**2 / ALUMINIUM.diffusivity
    either_side = np.array([meeting * (1 - 1e-9), meeting * (1 + 1e-9)])
    for underside in (False, True):
        young, old = strike._through(ALUMINIUM, either_side, underside)
        assert young == pytest.approx(old, rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(power=st.floats(700.0, 2000.0), factor=st.floats(1.05, 2.0), radius=st.floats(0.0, 4e-3))
def test_more_power_or_a_warmer_plate_is_sooner_and_the_underside_later(
    power: float, factor: float, radius: float
) -> None:
    base = replace(ALUMINIUM, power=power)
    time = puddle_time(base, radius)
    assert puddle_time(replace(base, power=factor * power), radius).soonest < time.soonest
    assert puddle_time(replace(base, rise=base.rise / factor), radius).soonest < time.soonest
    assert puddle_time(base, radius + 1e-3).soonest > time.soonest
    assert time.soonest < time.latest
    assert melt_through_time(base, radius).soonest > time.soonest


def test_a_thinner_plate_burns_through_sooner() -> None:
    times = [melt_through_time(replace(STEEL, thickness=mm * 1e-3)).soonest for mm in (0.8, 1.5, 2.5)]
    assert times == sorted(times)
    assert replace(STEEL, latent=0.0) and puddle_time(replace(STEEL, latent=0.0), 0.0).latest == pytest.approx(
        puddle_time(STEEL, 0.0).soonest
    )


def test_a_few_seconds_for_a_puddle_golden() -> None:
    found = puddle_time(ALUMINIUM, 4e-3)
    assert found.soonest == pytest.approx(2.867, abs=5e-3)
    assert found.latest == pytest.approx(11.07, abs=0.05)


@pytest.mark.parametrize(
    "call",
    [
        lambda: puddle_time(replace(ALUMINIUM, power=100.0), 4e-3),
        lambda: melt_through_time(replace(ALUMINIUM, thickness=25e-3, power=600.0)),
        lambda: rise_at(ALUMINIUM, 601.0),
        lambda: rise_at(ALUMINIUM, 1.0, -1e-3),
        lambda: replace(ALUMINIUM, sigma=0.0),
        lambda: replace(ALUMINIUM, rise=0.0),
    ],
)
def test_outside_the_range_there_is_no_number(call: object) -> None:
    with pytest.raises(PhysicsRangeError):
        call()  # type: ignore[operator]
