"""Duty cycle: published figures first, then the laws of a rating plate."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import duty_cycle as d
from advisor.physics.ranges import PhysicsRangeError

PLATE = [(200.0, 0.20), (150.0, 0.35), (100.0, 0.60)]


def test_p9_1_power_source_manual() -> None:
    """Power-source manual p. 23: 400 A at 25 % allows 282.8 A at 50 %."""
    assert d.current_at_duty(0.5, 400.0, 0.25) == pytest.approx(282.8, abs=0.05)
    assert d.duty_by_square(282.8427, 400.0, 0.25) == pytest.approx(0.5, abs=1e-6)


def test_p9_2_aws_glossary() -> None:
    """AWS glossary, duty cycle: 300 A at 60 % is 6 minutes in 10."""
    assert d.arc_minutes(d.duty_at(300.0, [(300.0, 0.6)])) == pytest.approx(6.0)


def test_one_hobby_plate_follows_the_rule() -> None:
    """A small machine's plate: 170 A at 20 %, 75 A at 100 %; the rule gives 103 %, so 1."""
    assert d.duty_by_square(75.0, 170.0, 0.20) == 1.0
    assert d.duty_by_square(77.0, 170.0, 0.20) == pytest.approx(0.975, abs=5e-4)


def test_another_plate_does_not_so_its_points_win() -> None:
    """The same machine at low voltage: 80 A at 20 %, 50 A at 100 %; the rule alone gives 51 %."""
    assert d.duty_by_square(50.0, 80.0, 0.20) == pytest.approx(0.51, abs=0.005)
    assert d.duty_at(50.0, [(80.0, 0.20), (50.0, 1.0)]) == 1.0


@pytest.mark.parametrize(("current", "golden"), [(150.0, 0.6222), (90.0, 1.0)])
def test_c9_1_duties_golden(current: float, golden: float) -> None:
    assert d.duty_at(current, [(200.0, 0.35)]) == pytest.approx(golden, abs=5e-5)


@pytest.mark.parametrize(("duty", "golden"), [(0.6, 115.5), (1.0, 89.4)])
def test_c9_1_currents_golden(duty: float, golden: float) -> None:
    assert d.greatest_current(duty, [(200.0, 0.20)]) == pytest.approx(golden, abs=0.05)


@pytest.mark.parametrize(("current", "duty"), PLATE)
def test_rated_points_stand_as_they_are(current: float, duty: float) -> None:
    assert d.duty_at(current, PLATE) == duty
    assert d.greatest_current(duty, PLATE) >= current


def test_between_points_the_point_below_is_never_exceeded() -> None:
    """From 200 A at 20 % the rule would allow 33 % at 155 A; a plate of 150 A, 25 % allows no more than 25."""
    assert d.duty_at(155.0, [(200.0, 0.20), (150.0, 0.25)]) == 0.25


@pytest.mark.parametrize("current", [200.1, 0.0, -5.0, float("nan")])
def test_never_above_the_highest_rated_current_nor_below_any(current: float) -> None:
    with pytest.raises(PhysicsRangeError):
        d.duty_at(current, PLATE)


def test_a_lower_stated_maximum_wins() -> None:
    with pytest.raises(PhysicsRangeError, match="from 0 to 180 A"):
        d.duty_at(190.0, PLATE, highest=180.0)
    assert d.greatest_current(0.2, PLATE, highest=180.0) == 180.0


def test_the_rule_is_never_carried_upward() -> None:
    with pytest.raises(PhysicsRangeError):
        d.duty_by_square(150.0, 100.0, 0.6)
    with pytest.raises(PhysicsRangeError):
        d.current_at_duty(0.3, 100.0, 0.6)


@pytest.mark.parametrize("plate", [[(200.0, 0.35), (150.0, 0.20)], [(150.0, 0.2), (150.0, 0.35)]])
def test_a_plate_that_contradicts_itself_is_refused(plate: list[d.Rated]) -> None:
    with pytest.raises(d.RatingPlateError, match="cannot go with"):
        d.duty_at(150.0, plate)


def test_a_plate_without_points_is_refused() -> None:
    with pytest.raises(PhysicsRangeError, match="rated points"):
        d.duty_at(100.0, [])


@given(st.floats(20.0, 200.0), st.floats(20.0, 200.0))
def test_more_current_never_means_more_duty(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert d.duty_at(low, PLATE) >= d.duty_at(high, PLATE)


@given(st.floats(0.2, 1.0))
def test_the_greatest_current_has_the_duty_and_a_greater_one_has_not(duty: float) -> None:
    current = d.greatest_current(duty, PLATE)
    assert d.duty_at(current, PLATE) >= duty * (1 - 1e-9)
    if current < 199.0:
        assert d.duty_at(current * 1.001, PLATE) < duty


@given(st.floats(20.0, 199.0))
def test_heat_in_the_machine_never_exceeds_that_of_some_rated_point(current: float) -> None:
    """I2 D is what heats the windings: no answer may heat more than the worst rated point."""
    worst = max(rated**2 * duty for rated, duty in PLATE)
    assert current**2 * d.duty_at(current, PLATE) <= worst * (1 + 1e-9)
