"""Fast-source limits: published examples of the AWS Welding Handbook vol. 1 and its course copies; golden ones."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.physics import conduction, fast_source
from advisor.physics.fast_source import FastWeld
from advisor.physics.ranges import PhysicsRangeError

# 20 V, 200 A, 0.9, 5 mm/s on 5 mm steel: Hnet 720 J/mm (AWS Welding Handbook vol. 1 case)
CASE = FastWeld(3600.0, 5e-3, 5e-3, 28.0, 4.4e6, 25.0)
WARM = FastWeld(3600.0, 5e-3, 5e-3, 28.0, 4.4e6, 200.0)
MELT_C = 1510.0


def test_p2_1_haz_peak_aws_handbook() -> None:
    assert fast_source.haz_peak_c(CASE, 1.5e-3, MELT_C) == pytest.approx(1184.0, abs=0.5)


@pytest.mark.parametrize(
    ("name", "weld", "peak_c", "published_mm"),
    [("P2.2", CASE, 730.0, 5.9), ("P2.3", CASE, 430.0, 14.2), ("P2.4", WARM, 430.0, 28.4)],
)
def test_haz_widths_of_the_welding_course(name: str, weld: FastWeld, peak_c: float, published_mm: float) -> None:
    """Course page on the width of the heat-affected zone: printed to a tenth of a millimetre."""
    assert fast_source.haz_width(weld, peak_c, MELT_C) * 1e3 == pytest.approx(published_mm, abs=0.05), name


def test_p2_5_solidification_time_aws_handbook() -> None:
    weld = FastWeld(4000.0, 5e-3, 5e-3, 28.0, 4.4e6, 25.0)
    assert fast_source.solidification_time(weld, MELT_C, 2e9) == pytest.approx(0.94, abs=0.005)


def test_c2_1_cooling_rate_case_golden() -> None:
    weld = FastWeld(6750.0, 9e-3, 6e-3, 28.0, 4.4e6, 25.0)
    heat = fast_source.thin_heat_for_cooling_rate(weld, 550.0, 6.0)
    assert heat / 1e3 == pytest.approx(819.8, abs=0.05)
    assert 6750.0 / heat * 1e3 == pytest.approx(8.234, abs=5e-4)
    assert weld.heat_per_length / 1e3 == pytest.approx(750.0)
    assert fast_source.thin_cooling_rate(weld, 550.0) == pytest.approx(7.169, abs=5e-4)
    assert fast_source.cooling_rate(weld, 550.0) == fast_source.thin_cooling_rate(weld, 550.0)
    assert fast_source.relative_thickness(weld, 550.0) == pytest.approx(0.333, abs=5e-4)
    slow = FastWeld(6750.0, 6750.0 / heat, 6e-3, 28.0, 4.4e6, 25.0)
    assert fast_source.relative_thickness(slow, 550.0) == pytest.approx(0.318, abs=5e-4)


def test_thick_plate_is_told_from_thin_at_the_split() -> None:
    thick = FastWeld(6750.0, 9e-3, 30e-3, 28.0, 4.4e6, 25.0)
    assert fast_source.relative_thickness(thick, 550.0) > fast_source.THICK_ABOVE
    assert fast_source.cooling_rate(thick, 550.0) == fast_source.thick_cooling_rate(thick, 550.0)


@settings(max_examples=40, deadline=None)
@given(number=st.floats(1.0001, 30.0))
def test_fast_limits_bound_the_full_solution_from_above_within_a_fifth(number: float) -> None:
    """Against Rosenthal's full field: never low, at most 18 % high over the range allowed here."""
    lateral = number / CASE.decay
    heat = conduction.MovingHeat(3600.0, 5e-3, 28.0, 28.0 / 4.4e6, 25.0)
    thin = conduction.thin_peak_c(heat, 5e-3, lateral) - 25.0
    assert 1.0 <= (fast_source.fast_peak_c(CASE, lateral) - 25.0) / thin < 1.18
    if number >= 2.0:
        thick = conduction.thick_peak_c(heat, lateral) - 25.0
        assert 1.0 <= (fast_source.thick_fast_peak_c(CASE, lateral) - 25.0) / thick < 1.19
    else:
        with pytest.raises(PhysicsRangeError, match="full conduction solution"):
            fast_source.thick_fast_peak_c(CASE, lateral)


@settings(max_examples=30, deadline=None)
@given(at_c=st.floats(200.0, 1200.0), travel=st.floats(4e-3, 20e-3))
def test_cooling_rates_are_the_slope_of_the_full_field(at_c: float, travel: float) -> None:
    """v dT/d(ahead) behind the source, by a central difference of Rosenthal's fields."""
    weld = FastWeld(3600.0, travel, 3e-3, 28.0, 4.4e6, 25.0)
    heat = conduction.MovingHeat(3600.0, travel, 28.0, 28.0 / 4.4e6, 25.0)
    behind = 3600.0 / (2 * 3.141592653589793 * 28.0 * (at_c - 25.0))
    step = 1e-4 * behind
    near, far = (conduction.thick_temperature_c(heat, -behind + d, 0.0) for d in (step, -step))
    assert fast_source.thick_cooling_rate(weld, at_c) == pytest.approx(travel * (near - far) / (2 * step), rel=1e-5)
    ratio = 3600.0 / (28.0 * 3e-3 * (at_c - 25.0))
    tail = ratio**2 / (8 * 3.141592653589793) / heat.decay
    near, far = (conduction.thin_temperature_c(heat, 3e-3, -tail * (1 + s), 0.0) for s in (-1e-4, 1e-4))
    slope = travel * (near - far) / (2e-4 * tail)
    assert fast_source.thin_cooling_rate(weld, at_c) == pytest.approx(slope, rel=0.5 / (heat.decay * tail) + 1e-5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: fast_source.fast_peak_c(FastWeld(1365.0, 3e-3, 3e-3, 167.0, 2.42e6, 25.0), 5e-3),
        lambda: fast_source.haz_peak_c(FastWeld(800.0, 1e-3, 3e-3, 167.0, 2.42e6, 25.0), 1e-3, 652.0),
        lambda: fast_source.haz_peak_c(CASE, -1e-3, MELT_C),
        lambda: fast_source.haz_width(CASE, 1600.0, MELT_C),
        lambda: fast_source.haz_width(CASE, 20.0, MELT_C),
        lambda: fast_source.thin_cooling_rate(FastWeld(300.0, 1e-3, 3e-3, 28.0, 4.4e6, 25.0), 1400.0),
        lambda: fast_source.thin_heat_for_cooling_rate(CASE, 550.0, 0.0),
        lambda: fast_source.solidification_time(CASE, MELT_C, -1.0),
        lambda: FastWeld(3600.0, 0.0, 5e-3, 28.0, 4.4e6, 25.0),
    ],
)
def test_outside_the_range_there_is_no_number(call: object) -> None:
    with pytest.raises(PhysicsRangeError):
        call()  # type: ignore[operator]
