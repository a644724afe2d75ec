"""Rosenthal's fields. Vectors named golden are our own arithmetic; laws and limits are the outside check."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import k0

from advisor.physics.ranges import PhysicsRangeError
from tests.physics.oracles import conduction as c

ALUMINIUM = c.MovingHeat(1365.0, 3e-3, 167.0, 69e-6, 25.0)
STEEL = c.MovingHeat(810.0, 2e-3, 41.0, 9.1e-6, 20.0)
THICK = c.MovingHeat(1350.0, 2.5e-3, 41.0, 9.1e-6, 20.0)


@pytest.mark.parametrize(
    ("ahead", "lateral", "golden"), [(-0.010, 0.010, 752.571), (-0.020, 0.005, 705.773), (0.0, 0.010, 750.591)]
)
def test_c2_2_thin_aluminium_points_golden(ahead: float, lateral: float, golden: float) -> None:
    assert c.thin_temperature_c(ALUMINIUM, 3e-3, ahead, lateral) == pytest.approx(golden, abs=6e-4)


@pytest.mark.parametrize(("lateral", "golden"), [(0.010, 783.51), (0.015, 636.23)])
def test_c2_2_thin_aluminium_peaks_golden(lateral: float, golden: float) -> None:
    assert c.thin_peak_c(ALUMINIUM, 3e-3, lateral) == pytest.approx(golden, abs=6e-3)


@pytest.mark.parametrize(("isotherm", "golden_mm"), [(652.0, 14.339), (582.0, 17.582)])
def test_c2_2_thin_aluminium_widths_golden(isotherm: float, golden_mm: float) -> None:
    assert c.thin_half_width(ALUMINIUM, 3e-3, isotherm) * 1e3 == pytest.approx(golden_mm, abs=6e-4)


def test_c2_3_thin_steel_golden() -> None:
    assert c.thin_peak_c(STEEL, 2e-3, 5e-3) == pytest.approx(1622.43, abs=6e-3)
    assert c.thin_peak_c(STEEL, 2e-3, 8e-3) == pytest.approx(1160.14, abs=6e-3)
    assert c.thin_half_width(STEEL, 2e-3, 1510.0) * 1e3 == pytest.approx(5.5594, abs=6e-5)
    assert c.thin_half_width(STEEL, 2e-3, 723.0) * 1e3 == pytest.approx(14.3376, abs=6e-5)


def test_c2_4_thick_golden() -> None:
    assert c.thick_temperature_c(THICK, -0.010, 0.003) == pytest.approx(492.487, abs=6e-4)
    assert c.thick_peak_c(THICK, 3e-3) == pytest.approx(1251.53, abs=6e-3)
    assert c.thick_peak_c(THICK, 5e-3) == pytest.approx(633.32, abs=6e-3)
    assert c.thick_half_width(THICK, 1510.0) * 1e3 == pytest.approx(2.5867, abs=6e-5)


@pytest.mark.parametrize(
    ("images", "golden"), [(0, 492.487), (1, 785.249), (2, 828.677), (5, 836.236), (None, 836.268)]
)
def test_c2_5_images_golden(images: int | None, golden: float) -> None:
    found = c.finite_temperature_c(THICK, 6e-3, -0.010, 0.003, 0.0, images)
    assert found == pytest.approx(golden, abs=6e-4)


def test_c2_5_bottom_face_and_limits_golden() -> None:
    assert c.finite_temperature_c(THICK, 6e-3, -0.010, 0.003, 6e-3) == pytest.approx(811.234, abs=6e-4)
    assert c.finite_temperature_c(THICK, 2e-3, -0.010, 0.003) == pytest.approx(2431.128, abs=6e-4)
    assert c.thin_temperature_c(THICK, 2e-3, -0.010, 0.003) == pytest.approx(2431.127, abs=6e-4)
    assert c.finite_temperature_c(THICK, 50e-3, -0.010, 0.003) == pytest.approx(492.487, abs=6e-4)


def test_scaled_bessel_agrees_with_the_plain_one_and_outlives_it() -> None:
    distance, decay = math.hypot(0.01, 0.005), ALUMINIUM.decay
    plain = 1365.0 / (2 * math.pi * 167.0 * 3e-3) * math.exp(decay * 0.01) * float(k0(decay * distance))
    assert c.thin_temperature_c(ALUMINIUM, 3e-3, -0.01, 0.005) - 25.0 == pytest.approx(plain, rel=1e-12)
    fast = c.MovingHeat(5000.0, 0.05, 41.0, 9.1e-6, 20.0)
    far_behind = c.thin_temperature_c(fast, 2e-3, -1.0, 0.0)  # u = 2747: the plain K0 is zero there
    tail = 5000.0 / (2 * math.pi * 41.0 * 2e-3) * math.sqrt(math.pi / (2 * fast.decay))
    assert far_behind - 20.0 == pytest.approx(tail, rel=1e-4)


@settings(max_examples=40, deadline=None)
@given(
    lateral=st.floats(1e-3, 30e-3),
    travel=st.floats(0.5e-3, 20e-3),
    lag_factor=st.floats(0.0, 3.0),
)
def test_no_moment_is_hotter_than_the_peak(lateral: float, travel: float, lag_factor: float) -> None:
    heat = c.MovingHeat(1000.0, travel, 41.0, 9.1e-6, 20.0)
    lag = lag_factor * lateral * (1.0 + heat.decay * lateral)
    peak = c.thin_peak_c(heat, 3e-3, lateral)
    assert c.thin_temperature_c(heat, 3e-3, -lag, lateral) <= peak * (1 + 1e-12)
    peak = c.thick_peak_c(heat, lateral)
    assert c.thick_temperature_c(heat, -lag, lateral) <= peak * (1 + 1e-12)


@settings(max_examples=30, deadline=None)
@given(isotherm=st.floats(200.0, 1400.0), travel=st.floats(1e-3, 10e-3))
def test_peak_and_half_width_are_inverse(isotherm: float, travel: float) -> None:
    heat = c.MovingHeat(900.0, travel, 41.0, 9.1e-6, 20.0)
    assert c.thin_peak_c(heat, 2e-3, c.thin_half_width(heat, 2e-3, isotherm)) == pytest.approx(isotherm, rel=1e-8)
    assert c.thick_peak_c(heat, c.thick_half_width(heat, isotherm)) == pytest.approx(isotherm, rel=1e-8)


def test_finite_thickness_runs_from_thin_to_thick() -> None:
    """The images must give each classical field at its end, in peak and width too."""
    assert c.finite_peak_c(THICK, 0.5e-3, 20e-3) == pytest.approx(c.thin_peak_c(THICK, 0.5e-3, 20e-3), rel=1e-6)
    assert c.finite_peak_c(THICK, 60e-3, 3e-3) == pytest.approx(c.thick_peak_c(THICK, 3e-3), rel=1e-4)
    thin = c.thin_half_width(THICK, 1e-3, 1510.0)
    assert c.finite_half_width(THICK, 1e-3, 1510.0) == pytest.approx(thin, rel=1e-4)
    thick = c.thick_half_width(THICK, 1510.0)
    assert c.finite_half_width(THICK, 60e-3, 1510.0) == pytest.approx(thick, rel=1e-3)
    between = c.finite_half_width(THICK, 6e-3, 1000.0), c.finite_half_width(THICK, 6e-3, 1000.0, 6e-3)
    assert between[0] > between[1] > 0.0


def test_edge_mirror() -> None:
    """On the edge the rise doubles; far from it nothing changes; no heat flows through the edge."""
    free = c.thin_temperature_c(ALUMINIUM, 3e-3, -0.01, -0.02) - 25.0
    on_edge = c.thin_temperature_near_edge_c(ALUMINIUM, 3e-3, -0.01, -0.02, 0.0) - 25.0
    assert on_edge == pytest.approx(2 * free, rel=1e-12)
    far = c.thin_temperature_near_edge_c(STEEL, 2e-3, -0.01, -0.02, 5.0)
    assert far == pytest.approx(c.thin_temperature_c(STEEL, 2e-3, -0.01, -0.02), rel=1e-12)
    edge, step = 0.008, 1e-6
    at, near = (c.thin_temperature_near_edge_c(ALUMINIUM, 3e-3, -0.02, edge - back, edge) for back in (0.0, step))
    inner = c.thin_temperature_near_edge_c(ALUMINIUM, 3e-3, -0.02, edge - 1e-3, edge)
    assert abs(at - near) / step < 1e-2 * abs(at - inner) / 1e-3


@pytest.mark.parametrize(
    "call",
    [
        lambda: c.thin_temperature_c(ALUMINIUM, 3e-3, 0.0, 0.0),
        lambda: c.thick_temperature_c(THICK, 0.0, 0.0),
        lambda: c.finite_temperature_c(THICK, 6e-3, 0.0, 0.0),
        lambda: c.thin_temperature_c(ALUMINIUM, 0.0, 0.01, 0.0),
        lambda: c.finite_temperature_c(THICK, 6e-3, 0.01, 0.0, 7e-3),
        lambda: c.finite_temperature_c(THICK, 1e-9, 0.01, 0.0),
        lambda: c.thin_temperature_near_edge_c(ALUMINIUM, 3e-3, 0.01, 0.02, 0.01),
        lambda: c.MovingHeat(1000.0, 0.0, 41.0, 9.1e-6, 20.0),
        lambda: c.MovingHeat(-1.0, 1e-3, 41.0, 9.1e-6, 20.0),
        lambda: c.MovingHeat(1000.0, 1e-3, 41.0, 9.1e-6, -300.0),
        lambda: c.MovingHeat(1000.0, 1e-3, 41.0, 9.1e-6, 20.0, 10.0),
        lambda: c.thin_half_width(c.MovingHeat(400.0, 3e-3, 167.0, 69e-6, 25.0), 3e-3, 652.0),
        lambda: c.thin_half_width(ALUMINIUM, 3e-3, 20.0),
        lambda: c.finite_half_width(THICK, 6e-3, 1500.0, 6e-3),
    ],
)
def test_outside_the_range_there_is_no_number(call: object) -> None:
    with pytest.raises(PhysicsRangeError):
        call()  # type: ignore[operator]


def test_nothing_is_told_inside_the_pool() -> None:
    heat = c.MovingHeat(1365.0, 3e-3, 167.0, 69e-6, 25.0, melt_c=582.0)
    with pytest.raises(PhysicsRangeError, match="inside the pool"):
        c.thin_temperature_c(heat, 3e-3, -0.010, 0.010)
    with pytest.raises(PhysicsRangeError, match="inside the pool"):
        c.thin_peak_c(heat, 3e-3, 0.015)
    assert c.thin_peak_c(heat, 3e-3, 0.0176) < 582.0
