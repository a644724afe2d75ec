"""Brazing margins: the handbook's ranges in both scales, golden margins, order and refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import brazing as b
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

# Solidus of the base metals [degC], typical values of the Aluminum Association.
SOLIDUS = {"1100": 643.0, "3003": 643.0, "5052": 607.0, "6061": 582.0}


@pytest.mark.parametrize(("alloy", "golden"), [("6061", 0.0), ("3003", 61.0), ("1100", 61.0), ("5052", 25.0)])
def test_c12_1_margin_over_balsi_4_golden(alloy: str, golden: float) -> None:
    assert b.filler_margin(SOLIDUS[alloy], "BAlSi-4") == pytest.approx(golden)


@pytest.mark.parametrize(("alloy", "golden"), [("6061", 100.0), ("5052", 125.0)])
def test_c12_2_margin_over_zinc_golden(alloy: str, golden: float) -> None:
    assert b.filler_margin(SOLIDUS[alloy], "Zn78Al22") == pytest.approx(golden)


@pytest.mark.parametrize(
    ("filler", "fahrenheit"),
    [
        ("BAlSi-2", (1070, 1135, 1110, 1150)),
        ("BAlSi-3", (970, 1085, 1060, 1120)),
        ("BAlSi-4", (1070, 1080, 1080, 1120)),
        ("BAlSi-5", (1070, 1095, 1090, 1120)),
    ],
)
def test_filler_rows_are_the_handbooks_fahrenheit(filler: str, fahrenheit: tuple[int, ...]) -> None:
    """AWS A5.8-1981 as quoted in a brazing handbook, degF."""
    row = b.FILLERS[filler]
    assert row.range_c is not None
    for ours, theirs in zip((row.solidus_c, row.liquidus_c, *row.range_c), fahrenheit, strict=True):
        assert ours == pytest.approx((theirs - 32) / 1.8, abs=0.6)


def test_every_filler_melts_in_order_and_its_range_starts_near_its_liquidus() -> None:
    for row in b.FILLERS.values():
        assert row.solidus_c <= row.liquidus_c
        if row.range_c:
            assert row.range_c[0] < row.range_c[1]
            assert row.range_c[1] > row.liquidus_c > row.range_c[0] - 25.0


@pytest.mark.parametrize(
    ("margin", "word"),
    [
        (61.0, "ordinary"),
        (40.0, "ordinary"),
        (39.9, "close"),
        (5.0, "close"),
        (4.9, "expert"),
        (0.0, "none"),
        (-3.0, "none"),
    ],
)
def test_control_demand_of_the_guidance(margin: float, word: str) -> None:
    """aluminium-guide.com: about 40 degC below the solidus, down to 5 degC with precise control."""
    assert b.control_demand(margin) == word


@given(st.floats(500.0, 1000.0), st.floats(200.0, 700.0), st.floats(0.0, 50.0))
def test_margin_falls_degree_for_degree_and_is_lost_to_control_error(base: float, work: float, error: float) -> None:
    margin = b.brazing_margin(base, work)
    assert b.brazing_margin(base, work + 10.0) == pytest.approx(margin - 10.0)
    assert b.margin_holds(margin, error) == (margin - error > 0.0)
    if b.margin_holds(margin, error):
        assert b.control_demand(margin) != b.NONE


def test_unknown_filler_and_silly_temperatures() -> None:
    with pytest.raises(NotCoveredError, match="did you mean"):
        b.filler_margin(600.0, "BAlSi-9")
    with pytest.raises(PhysicsRangeError):
        b.brazing_margin(2000.0, 600.0)
    with pytest.raises(PhysicsRangeError):
        b.control_demand(float("nan"))
