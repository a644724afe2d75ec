"""The seam solver against published forms for a fast source and for the width of a pool."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.physics.heat_split import PlateMember
from advisor.physics.moving_source import Arc, HeatedSeam, melted_half_widths, peak_rise
from tests.physics.oracles.fast_source import FastWeld, fast_peak_c, haz_width
from tests.physics.oracles.pool_size import wells_power

# 20 V, 200 A, 0.9, 5 mm/s on 5 mm steel: Hnet 720 J/mm (AWS Welding Handbook vol. 1 case)
CASE = FastWeld(3600.0, 5e-3, 5e-3, 28.0, 4.4e6, 25.0)
WARM = FastWeld(3600.0, 5e-3, 5e-3, 28.0, 4.4e6, 200.0)
MELT_C = 1510.0
SMALL_ARC = 0.3e-3


def seam_of(weld: FastWeld) -> HeatedSeam:
    plate = PlateMember(weld.thickness, weld.conductivity, weld.heat_capacity, MELT_C)
    return HeatedSeam(plate, plate, Arc(weld.travel, SMALL_ARC, weld.start_c))


@pytest.mark.parametrize(
    ("name", "weld", "peak_c", "published_mm"),
    [("P2.2", CASE, 730.0, 5.9), ("P2.3", CASE, 430.0, 14.2), ("P2.4", WARM, 430.0, 28.4)],
)
def test_haz_widths_of_the_welding_course(name: str, weld: FastWeld, peak_c: float, published_mm: float) -> None:
    """Course page on the width of the heat-affected zone: printed to a tenth of a millimetre.

    At the distance printed the seam solver reaches the peak, or up to 6 % less: the form overstates it.
    """
    assert haz_width(weld, peak_c, MELT_C) * 1e3 == pytest.approx(published_mm, abs=0.05), name
    lateral = weld.rise_times_distance / (MELT_C - weld.start_c) + published_mm * 1e-3
    found = peak_rise(seam_of(weld), weld.power, lateral)
    assert 0.94 < found / (peak_c - weld.start_c) < 1.005


def test_p2_1_haz_peak_aws_handbook() -> None:
    """AWS Welding Handbook vol. 1: 1184 degC at 1.5 mm from the fusion boundary."""
    lateral = CASE.rise_times_distance / (MELT_C - 25.0) + 1.5e-3
    assert fast_peak_c(CASE, lateral) == pytest.approx(1184.0, abs=0.5)
    assert 0.94 < peak_rise(seam_of(CASE), 3600.0, lateral) / (1184.0 - 25.0) < 1.0


@settings(max_examples=20, deadline=None)
@given(number=st.floats(1.0001, 30.0))
def test_the_fast_form_bounds_the_seam_solver_from_above_within_a_fifth(number: float) -> None:
    """Kou, Easterling: never low, at most 18 % high from v y/(2 a) = 1 on."""
    lateral = number / CASE.decay
    ratio = (fast_peak_c(CASE, lateral) - 25.0) / peak_rise(seam_of(CASE), 3600.0, lateral)
    assert 0.999 < ratio < 1.18


@settings(max_examples=15, deadline=None)
@given(number=st.floats(0.15, 3.0))
def test_pools_are_as_wide_as_wells_says(number: float) -> None:
    """Wells 1952: the power for a width, within 8 % below to 11 % above the exact field; 3 mm aluminium at 3 mm/s."""
    plate = PlateMember(3e-3, 167.0, 167.0 / 69e-6, 652.0)
    width = number * 4 * 69e-6 / 3e-3
    power = wells_power(167.0, 69e-6, 627.0, 3e-3, 3e-3, width)
    seam = HeatedSeam(plate, plate, Arc(3e-3, SMALL_ARC, 25.0))
    needed = power * 627.0 / peak_rise(seam, power, width / 2)
    assert 0.92 < power / needed < 1.12
    assert melted_half_widths(seam, needed) == pytest.approx((width / 2, width / 2), rel=1e-3)
