"""Cooling time 800 to 500 degC: one published figure, golden vectors, and the laws between the two regimes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import cooling_time as c
from advisor.physics.hot_properties import steel_conductivity, steel_specific_heat
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

heats = st.floats(0.1, 4.0)
starts = st.floats(-20.0, 400.0)
plates = st.floats(1.0, 60.0)
factors = st.floats(0.45, 1.0)


def test_k_w3_arithmetic_of_the_thick_form() -> None:
    """German manufacturing-engineering exercise: Q 1.5, T0 20, F3 1 -> 7.9 s (arithmetic only; see the next test)."""
    assert c.cooling_time_thick(1.5, 20.0) == pytest.approx(7.9, abs=0.05)


def test_k_w3_regime_the_exercise_overlooks_golden() -> None:
    """Its plate is 15 mm, below the transition of 17.95 mm: thin plate governs, 11.36 s."""
    found = c.cooling_time(1.5, 20.0, 15.0, "run on plate")
    assert found.regime == c.THIN
    assert found.transition_mm[0] == pytest.approx(17.95, abs=0.006)
    assert found.low == found.high == pytest.approx(11.36, abs=0.006)


@pytest.mark.parametrize(
    ("case", "transition", "thin", "thick", "regime"),
    [
        ((1.0, 20.0, 10.0), 14.659, 11.364, 5.288, "thin"),
        ((0.3, 20.0, 3.0), 8.029, 11.364, 1.587, "thin"),
        ((1.5, 100.0, 20.0), 19.179, 9.163, 9.964, "thick"),
        ((0.5, 20.0, 3.0), 10.365, 31.565, None, "thin"),
        ((0.8, 20.0, 12.0), 13.111, 5.050, 4.231, "thin"),
    ],
)
def test_c2_6_to_c2_11_golden(
    case: tuple[float, float, float], transition: float, thin: float, thick: float | None, regime: str
) -> None:
    q, start, plate = case
    assert c.transition_thickness_mm(q, start) == pytest.approx(transition, abs=6e-4)
    assert c.cooling_time_thin(q, start, plate) == pytest.approx(thin, abs=6e-4)
    if thick is not None:
        assert c.cooling_time_thick(q, start) == pytest.approx(thick, abs=6e-4)
    found = c.cooling_time(q, start, plate, "run on plate")
    assert found.regime == regime
    assert found.high == pytest.approx(thin if regime == "thin" else thick, abs=6e-4)


def test_c2_10_tee_golden() -> None:
    assert c.cooling_time_thin(1.0, 20.0, 10.0, 0.45) == pytest.approx(5.114, abs=6e-4)
    assert c.cooling_time_thick(1.0, 20.0, 0.67) == pytest.approx(3.543, abs=6e-4)
    found = c.cooling_time(1.0, 20.0, 10.0, "fillet at a tee")
    assert found.transition_mm[0] == pytest.approx(12.013, abs=6e-4)
    assert found.low == pytest.approx(5.114, abs=6e-4)
    assert found.high == pytest.approx(5.114 * 0.67 / 0.45, abs=2e-3)


def test_c2_6_at_the_transition_golden() -> None:
    edge = c.transition_thickness_mm(1.0, 20.0)
    assert c.cooling_time_thin(1.0, 20.0, edge) == pytest.approx(5.2885, abs=6e-5)


@given(heats, starts, factors, factors)
def test_both_forms_meet_at_the_transition(q: float, start: float, thin: float, thick: float) -> None:
    edge = c.transition_thickness_mm(q, start, thin, thick)
    assert c.cooling_time_thin(q, start, edge, thin) == pytest.approx(c.cooling_time_thick(q, start, thick))


@given(heats, starts, plates, st.sampled_from(sorted(c.SHAPES)))
def test_the_longer_of_the_two_times_governs(q: float, start: float, plate: float, joint: str) -> None:
    shape = c.SHAPES[joint]
    found = c.cooling_time(q, start, plate, joint)
    thick = c.cooling_time_thick(q, start, shape.thick)
    for time, factor in ((found.low, shape.thin_low), (found.high, shape.thin_high)):
        assert time == pytest.approx(max(thick, c.cooling_time_thin(q, start, plate, factor)))
    assert found.low <= found.high


@given(heats, starts, plates, st.floats(1.01, 3.0))
def test_more_heat_or_preheat_cools_slower_and_more_plate_faster(
    q: float, start: float, plate: float, times: float
) -> None:
    base = c.cooling_time(q, start, plate, "run on plate").low
    assert c.cooling_time(q * times, start, plate, "run on plate").low > base
    assert c.cooling_time(q, start + 10, plate, "run on plate").low > base
    assert c.cooling_time(q, start, plate * times, "run on plate").low <= base


def test_the_steel_constants_hidden_in_the_standard_are_those_of_hot_steel() -> None:
    """Fast-source limits (Easterling): 3D (q/v)/(2 pi k) [..], 2D (q/v)2/(4 pi k rho c d2) [..].

    Read against them at 20 degC the standard's two forms hold k and rho c of steel from 800 to 500 degC;
    EN 1993-1-2 gives the same rho c there, phase change and all, and a somewhat higher k.
    """
    conductivity = 1e6 / (2 * math.pi * c.cooling_time_thick(1.0, 20.0) / (1 / 480 - 1 / 780))
    spread = 1 / 480**2 - 1 / 780**2
    heat_capacity = (1e6 / 5e-3) ** 2 / (4 * math.pi * conductivity * c.cooling_time_thin(1.0, 20.0, 5.0) / spread)
    temperatures = [500.0 + 0.05 * i for i in range(1, 6000)]
    mean_c = sum(steel_specific_heat(each) for each in temperatures) / len(temperatures)
    mean_k = sum(steel_conductivity(each) for each in temperatures) / len(temperatures)
    assert heat_capacity == pytest.approx(7850.0 * mean_c, rel=0.03)
    assert 0.7 < conductivity / mean_k < 1.0


def test_a_tee_where_the_span_straddles_the_thickness() -> None:
    low, high = c.cooling_time(1.0, 20.0, 10.0, "fillet at a tee").transition_mm
    found = c.cooling_time(1.0, 20.0, 0.5 * (low + high), "fillet at a tee")
    assert found.regime == c.EITHER


@pytest.mark.parametrize(
    ("q", "start", "plate"), [(0.0, 20.0, 5.0), (1.0, 500.0, 5.0), (1.0, -40.0, 5.0), (1.0, 20.0, 0.0)]
)
def test_outside_the_formulas(q: float, start: float, plate: float) -> None:
    with pytest.raises(PhysicsRangeError):
        c.cooling_time(q, start, plate, "run on plate")


def test_an_unknown_joint_is_refused() -> None:
    with pytest.raises(NotCoveredError, match="joint shape"):
        c.cooling_time(1.0, 20.0, 5.0, "lap")
