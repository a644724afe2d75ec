"""Shrinkage rules: published allowances, golden vectors, units, and the refusal of other metals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.diagnostics import Exit
from advisor.physics import shrinkage as s
from advisor.physics.groove import single_v_area
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

MM = 1e-3


@pytest.mark.parametrize(("thickness", "low", "high"), [(10.0, 0.570, 1.239), (6.0, 0.354, 0.808)])
def test_c6_1_and_c6_4_v_butt_golden(thickness: float, low: float, high: float) -> None:
    area = single_v_area(thickness * MM, 2 * MM, 2 * MM, 60.0)
    found = s.transverse_butt(area, thickness * MM, 2 * MM)
    assert found.low / MM == pytest.approx(low, abs=6e-4)
    assert found.high / MM == pytest.approx(high, abs=6e-4)


def test_c6_2_tee_golden() -> None:
    assert s.transverse_tee(4 * MM, 5 * MM) / MM == pytest.approx(0.816)


def test_c6_3_king_golden() -> None:
    found = s.longitudinal_butt(150.0, 12 * 0.0254, 0.125 * 0.0254)
    assert found / 0.0254 == pytest.approx(0.00439, abs=6e-6)


def test_c6_4_lap_golden() -> None:
    assert s.transverse_lap(4 * MM, 5 * MM) / MM == pytest.approx(1.216)


def test_twi_allowances() -> None:
    """TWI: fillet 0.8 mm and V butt 1.5 to 3 mm across; 0.8 and 3 mm per 3 m along."""
    assert s.allowance("fillet, transverse").high == 0.8e-3
    across = s.allowance("60 degree V butt, transverse")
    assert (across.low, across.high) == (1.5e-3, 3.0e-3)
    assert s.allowance("fillet, longitudinal", 3.0).low == pytest.approx(0.8e-3)
    assert s.allowance("butt, longitudinal", 1.0).low == pytest.approx(1.0e-3)


def test_a_shop_butt_lies_between_the_forms_and_the_allowance() -> None:
    """6 mm V60 butt: the formulas give 0.35 to 0.81 mm; TWI's shop allowance of 1.5 to 3 mm is more cautious."""
    found = s.transverse_butt(single_v_area(6 * MM, 2 * MM, 2 * MM, 60.0), 6 * MM, 2 * MM)
    assert found.high < s.allowance("60 degree V butt, transverse").low


@given(st.floats(1.0, 200.0), st.floats(1.0, 30.0), st.floats(0.0, 4.0))
def test_the_two_butt_forms_differ_by_two_and_the_gap(area: float, thickness: float, gap: float) -> None:
    found = s.transverse_butt(area * 1e-6, thickness * MM, gap * MM)
    assert found.high - 2 * found.low == pytest.approx(0.05 * gap * MM, abs=1e-12)


@given(st.floats(1.5, 4.0), st.floats(2.0, 12.0), st.floats(50.0, 400.0))
def test_blodgett_bowing_and_angular_in_inches(leg: float, thickness: float, width: float) -> None:
    """Blodgett's forms worked in inches as printed."""
    inch = 0.0254
    if leg > thickness:
        return
    in_inches = 0.02 * (width * MM / inch) * (leg * MM / inch) ** 1.3 / (thickness * MM / inch) ** 2
    assert s.angular_flange(width * MM, leg * MM, thickness * MM) / inch == pytest.approx(in_inches)
    bow = 0.005 * (leg * MM / inch) ** 2 * 40.0**2 * 1.5 / 2.0
    ours = s.longitudinal_bowing((leg * MM) ** 2, 40 * inch, 1.5 * inch, 2.0 * inch**4)
    assert ours / inch == pytest.approx(bow)


@pytest.mark.parametrize(
    ("expansion", "heat_capacity", "golden"),
    [(12e-6, 7850 * 486.0, 3.16e-3), (17.2e-6, 8000 * 500.0, 4.33e-3), (23.6e-6, 2700 * 896.0, 9.75e-3)],
)
def test_free_contraction_per_heat_golden(expansion: float, heat_capacity: float, golden: float) -> None:
    """alpha/(rho c) of steel, 304, 6061 in mm3/J."""
    assert s.free_contraction(1.0, 1.0, expansion, heat_capacity) * 1e9 == pytest.approx(golden, rel=0.01)


@given(st.floats(2.0, 12.0), st.floats(1.01, 3.0))
def test_small_beads_and_thick_plates_move_less(thickness: float, times: float) -> None:
    t = thickness * MM
    assert s.transverse_butt(20e-6, t * times, 0.0).high < s.transverse_butt(20e-6, t, 0.0).high
    assert s.transverse_tee(2 * MM, t * times) < s.transverse_tee(2 * MM, t)
    assert s.longitudinal_butt(100.0 * times, 1.0, t) > s.longitudinal_butt(100.0, 1.0, t)


@pytest.mark.parametrize(
    "call",
    [
        lambda metal: s.transverse_butt(2e-5, 3 * MM, 0.0, metal),
        lambda metal: s.transverse_tee(2 * MM, 3 * MM, metal),
        lambda metal: s.transverse_lap(2 * MM, 3 * MM, metal),
        lambda metal: s.allowance("fillet, transverse", metal=metal),
        lambda metal: s.longitudinal_butt(100.0, 1.0, 3 * MM, metal),
        lambda metal: s.longitudinal_bowing(2e-5, 1.0, 0.01, 1e-8, metal),
        lambda metal: s.angular_flange(0.1, 2 * MM, 3 * MM, metal),
    ],
)
def test_steel_rules_are_not_lent_to_aluminium(call: object) -> None:
    assert callable(call)
    with pytest.raises(NotCoveredError, match="not aluminium") as caught:
        call("aluminium")
    assert caught.value.exit_code is Exit.NO_RULE


def test_outside_the_formulas() -> None:
    with pytest.raises(PhysicsRangeError):
        s.transverse_tee(6 * MM, 5 * MM)
    with pytest.raises(PhysicsRangeError):
        s.transverse_butt(0.0, 5 * MM, 0.0)
    with pytest.raises(PhysicsRangeError):
        s.allowance("butt, longitudinal")
    with pytest.raises(NotCoveredError, match="no shrinkage allowance"):
        s.allowance("corner")
