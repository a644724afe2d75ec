"""Dew point against a building standard's table and CoolProp's humid air."""

from __future__ import annotations

import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import dew_point as d
from advisor.physics.ranges import PhysicsRangeError

airs = st.floats(-20.0, 50.0)
shares = st.floats(0.05, 0.99)


@pytest.mark.parametrize(
    ("air", "humidity", "table"),
    [
        (20, 0.5, 9.3),
        (20, 0.6, 12.0),
        (20, 0.7, 14.4),
        (20, 0.8, 16.4),
        (25, 0.5, 13.9),
        (30, 0.6, 21.4),
        (15, 0.7, 9.6),
    ],
)
def test_dew_points_of_din_4108_3(air: float, humidity: float, table: float) -> None:
    """DIN 4108-3, table of dew points (memory)."""
    assert d.dew_point_c(air, humidity) == pytest.approx(table, abs=0.11)


@pytest.mark.parametrize("air", [1.0, 10.0, 20.0, 35.0, 50.0])
@pytest.mark.parametrize("humidity", [0.2, 0.5, 0.9])
def test_dew_points_against_coolprop_humid_air(air: float, humidity: float) -> None:
    outside = HAPropsSI("D", "T", air + 273.15, "P", 101325.0, "R", humidity) - 273.15
    if outside > 0.0:  # below, CoolProp gives the frost point
        assert d.dew_point_c(air, humidity) == pytest.approx(outside, abs=0.1)


@pytest.mark.parametrize(("humidity", "golden"), [(0.5, 10.7), (0.7, 5.6), (0.8, 3.6), (0.9, 1.7), (0.95, 0.8)])
def test_margins_at_20_c_golden(humidity: float, golden: float) -> None:
    assert d.dew_point_margin(20.0, 20.0, humidity) == pytest.approx(golden, abs=0.06)


@given(airs, shares, shares)
def test_damper_air_has_a_higher_dew_point_never_above_the_air(air: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert d.dew_point_c(air, low) <= d.dew_point_c(air, high) <= air
    assert d.dew_point_c(air, 1.0) == pytest.approx(air, abs=1e-9)


@given(airs, shares)
def test_cold_metal_carried_into_a_warm_shop_gets_wet(air: float, humidity: float) -> None:
    dew = d.dew_point_c(air, humidity)
    assert d.dew_point_margin(dew - 1.0, air, humidity) == pytest.approx(-1.0)
    assert d.dew_point_margin(dew + 5.0, air, humidity) == pytest.approx(5.0)


@pytest.mark.parametrize(("air", "humidity"), [(70.0, 0.5), (-50.0, 0.5), (20.0, 50.0), (20.0, 0.0)])
def test_outside_the_formula(air: float, humidity: float) -> None:
    with pytest.raises(PhysicsRangeError):
        d.dew_point_c(air, humidity)
