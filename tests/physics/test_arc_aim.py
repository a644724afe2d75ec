"""Where to aim on unequal members: the demands on the answer, and laws it must keep."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.physics.arc_aim import ArcAim, aim_arc, fold
from advisor.physics.heat_split import PlateMember, UnknownJointError
from advisor.physics.moving_source import Arc, HeatedSeam, melted_half_widths, peak_rise
from advisor.physics.ranges import PhysicsRangeError
from tests.physics.fe_pair import pair_elements
from tests.physics.test_moving_source import aluminium, mild_steel, stainless


@pytest.mark.parametrize("travel", [1.5e-3, 2e-3, 3e-3])
def test_the_mean_of_the_equal_pairs_fits_one_metal(travel: float) -> None:
    """Published demand of the task: 6061, 3.2 to 6.4 mm, 4 mm half width, sigma 2 mm: mean within 2 %."""
    thin, thick = aluminium(3.2, loss=24.0), aluminium(6.4, loss=24.0)
    found = aim_arc(thin, thick, Arc(travel, 2e-3), 4e-3)
    assert found.power == pytest.approx(found.mean_equal_pair_power, rel=0.02)
    assert found.offset > 0.0
    assert found.half_width_aimed == pytest.approx((4e-3, 4e-3), rel=1e-4)
    assert found.half_width_centred[0] > 4e-3 > found.half_width_centred[1]
    assert found.arc_share[1] > 0.5 > found.arc_share[0]
    assert found.lighter == 0


def test_offset_6061_golden() -> None:
    found = aim_arc(aluminium(3.2), aluminium(6.4), Arc(3e-3, 2e-3), 4e-3)
    assert found.offset * 1e3 == pytest.approx(0.562, abs=5e-4)
    assert found.power == pytest.approx(1100.2, abs=0.5)


@pytest.mark.parametrize(
    ("pair", "arc", "half_width", "step"),
    [
        ((aluminium(3.2, 0.05, 24.0), aluminium(6.4, 0.05, 24.0)), Arc(3e-3, 2e-3), 4e-3, 1e-3),
        ((mild_steel(3.0, 0.03, 100.0), stainless(2.0, 0.03, 60.0)), Arc(3e-3, 1.5e-3), 4e-3, 1e-3),
    ],
)
def test_finite_elements_find_the_same_aim(
    pair: tuple[PlateMember, PlateMember], arc: Arc, half_width: float, step: float
) -> None:
    """scikit-fem solved at aims either side: the two rises, each over its solidus, cross at our offset."""
    found = aim_arc(*pair, arc, half_width)
    seam = HeatedSeam(*pair, arc)
    elements = pair_elements(seam, step, behind=0.2, ahead=0.2, inner=8e-3)

    def lean(aim: float) -> float:
        rise = elements.solve(aim)
        first, second = (elements.line_peak(rise, side * half_width) for side in (-1, 1))
        return math.log(first / seam.rises[0] / (second / seam.rises[1]))

    low, high = found.offset - 0.1e-3, found.offset + 0.1e-3
    a, b = lean(low), lean(high)
    assert low + (high - low) * a / (a - b) == pytest.approx(found.offset, abs=0.005e-3)
    rise = elements.solve(found.offset)
    assert 1.0 / elements.line_peak(rise, half_width) == pytest.approx(found.power / seam.rises[1], rel=2e-3)


@pytest.mark.parametrize(
    ("pair", "arc"),
    [
        ((aluminium(3.2), aluminium(6.4)), Arc(3e-3, 2e-3)),
        ((mild_steel(3.0), stainless(1.5)), Arc(6e-3, 1.5e-3)),
    ],
)
def test_twice_the_points_change_nothing(pair: tuple[PlateMember, PlateMember], arc: Arc) -> None:
    """Asked: halving the grid moves the offset by less than 0.05 mm; held: a millionth of a millimetre."""
    coarse, fine = (aim_arc(*pair, arc, 4e-3, fineness=fineness) for fineness in (1, 2))
    assert fine.offset == pytest.approx(coarse.offset, abs=1e-9)
    assert fine.power == pytest.approx(coarse.power, rel=1e-7)


@settings(max_examples=12, deadline=None)
@given(thin=st.floats(1.0, 5.0), factor=st.floats(1.02, 3.0), travel=st.floats(1e-3, 8e-3))
def test_the_heavier_side_always_gets_more(thin: float, factor: float, travel: float) -> None:
    half_width = 1.2e-3 * thin
    found = aim_arc(aluminium(thin), aluminium(factor * thin), Arc(travel, 1.5e-3), half_width)
    assert found.offset > 0.0
    assert found.arc_share[1] > found.arc_share[0]
    assert found.melt_back_centred[0] > found.melt_back_aimed[0]
    assert found.melt_back_centred[0] > 1.0 > found.melt_back_centred[1]
    assert found.equal_pair_power[1] > found.equal_pair_power[0]


@settings(max_examples=8, deadline=None)
@given(thickness=st.floats(1.0, 8.0), travel=st.floats(1e-3, 8e-3), sigma=st.floats(0.5e-3, 3e-3))
def test_equal_members_need_no_offset(thickness: float, travel: float, sigma: float) -> None:
    found = aim_arc(aluminium(thickness), aluminium(thickness), Arc(travel, sigma), 4e-3)
    assert found.offset == pytest.approx(0.0, abs=1e-8)
    assert found.arc_share == pytest.approx((0.5, 0.5), abs=1e-5)
    assert found.power == pytest.approx(found.mean_equal_pair_power, rel=1e-6)
    assert found.melt_back_aimed == pytest.approx((1.0, 1.0), rel=1e-5)


@settings(max_examples=8, deadline=None)
@given(first=st.floats(1.0, 5.0), second=st.floats(1.0, 5.0))
def test_swapping_the_members_mirrors_the_answer(first: float, second: float) -> None:
    arc = Arc(3e-3, 1.5e-3)
    seen = aim_arc(mild_steel(first), stainless(second), arc, 4e-3)
    swapped = aim_arc(stainless(second), mild_steel(first), arc, 4e-3)
    assert swapped.offset == pytest.approx(-seen.offset, abs=1e-8)
    assert swapped.power == pytest.approx(seen.power, rel=1e-6)
    assert swapped.half_width_centred == pytest.approx(seen.half_width_centred[::-1], rel=1e-4)
    assert swapped.melt_back_aimed == pytest.approx(seen.melt_back_aimed[::-1], rel=1e-6)


def test_a_dissimilar_pair_uses_each_solidus() -> None:
    found = aim_arc(mild_steel(3.0), stainless(3.0), Arc(2e-3, 1.5e-3), 4e-3)
    assert found.offset < 0.0  # mild steel conducts better and melts later
    assert found.half_width_aimed == pytest.approx((4e-3, 4e-3), rel=1e-4)
    seam = HeatedSeam(mild_steel(3.0), stainless(3.0), found.arc)
    assert peak_rise(seam, found.power, -4e-3, found.offset) == pytest.approx(1480.0 - 20.0, rel=1e-5)
    assert peak_rise(seam, found.power, 4e-3, found.offset) == pytest.approx(1400.0 - 20.0, rel=1e-5)


def test_two_aluminium_alloys_work() -> None:
    alloy_5052 = PlateMember(3e-3, 138.0, 2685.0 * 880.0, 607.0)
    found = aim_arc(alloy_5052, aluminium(3.0), Arc(3e-3, 2e-3), 4e-3)
    assert found.half_width_aimed == pytest.approx((4e-3, 4e-3), rel=1e-4)
    assert abs(found.offset) < 0.5e-3


def test_melt_back_is_the_edge_left_alone() -> None:
    """Outside check: the free edge by Rosenthal's mirror source, small arc on the edge: twice the power."""
    found = aim_arc(aluminium(3.0), aluminium(3.0), Arc(3e-3, 0.2e-3), 5e-3)
    assert found.melt_back_centred == pytest.approx((1.0, 1.0), rel=1e-6)
    heavier = aim_arc(aluminium(3.0), aluminium(6.0), Arc(3e-3, 0.2e-3), 5e-3)
    doubled = heavier.power / heavier.equal_pair_power[0]
    assert heavier.melt_back_centred[0] == pytest.approx(doubled, rel=1e-6)


def test_a_warm_part_needs_less_power() -> None:
    cold, warm = (aim_arc(aluminium(3.0), aluminium(6.0), Arc(3e-3, 2e-3, t), 4e-3) for t in (20.0, 120.0))
    assert warm.power == pytest.approx(cold.power * (582.0 - 120.0) / (582.0 - 20.0), rel=1e-6)
    assert warm.offset == pytest.approx(cold.offset, abs=1e-8)


def test_joints_fold_by_their_heat_paths() -> None:
    thin, thick = aluminium(3.0, loss=20.0), aluminium(6.0, loss=20.0)
    arc = Arc(3e-3, 2e-3)
    folded = fold("tee", thin, thin)
    assert folded[1].thickness == pytest.approx(2 * thin.thickness) and folded[1].face_loss == 40.0
    assert fold("corner", thin, thick) == (thin, thick) == fold("edge", thin, thick)

    def key(found: ArcAim) -> tuple[float, float]:
        return found.offset, found.power

    assert key(aim_arc(thin, thin, arc, 4e-3, "lap")) == key(aim_arc(thin, thin, arc, 4e-3, "tee"))
    tee = aim_arc(thin, thin, arc, 4e-3, "tee")
    butt = aim_arc(thin, thin, arc, 4e-3)
    assert tee.power / butt.power == pytest.approx(1.5, rel=0.01)  # three equal paths against two
    assert tee.offset > 0.0 and tee.arc_share[1] > 0.5  # toward the plate that runs through
    assert tee.melts_through and tee.thickness_ratio == pytest.approx(0.75)
    assert not aim_arc(thin, aluminium(6.4), arc, 4e-3).melts_through


def test_aimed_widths_are_what_the_general_solver_finds() -> None:
    thin, thick = aluminium(2.0), aluminium(5.0)
    found = aim_arc(thin, thick, Arc(2e-3, 2e-3), 4e-3)
    seam = HeatedSeam(thin, thick, found.arc)
    assert melted_half_widths(seam, found.power, found.offset) == pytest.approx((4e-3, 4e-3), rel=1e-5)
    assert melted_half_widths(seam, found.power) == found.half_width_centred


def test_the_gap_between_centred_and_aimed_grows_with_the_ratio() -> None:
    offsets = [aim_arc(aluminium(2.0), aluminium(t), Arc(3e-3, 2e-3), 4e-3).offset for t in (2.5, 4.0, 8.0)]
    assert offsets == sorted(offsets)


@pytest.mark.parametrize(
    ("first", "second", "half_width"),
    [
        (aluminium(3.0), aluminium(6.0), 0.4e-3),
        (aluminium(3.0), aluminium(13.0), 4e-3),
        (aluminium(3.0, width=4e-3), aluminium(3.0), 4e-3),
        (aluminium(3.0), mild_steel(3.0), 4e-3),
    ],
)
def test_outside_the_range_there_is_no_number(first: PlateMember, second: PlateMember, half_width: float) -> None:
    with pytest.raises(PhysicsRangeError):
        aim_arc(first, second, Arc(3e-3, 3e-3), half_width)


def test_an_unknown_joint_is_refused() -> None:
    with pytest.raises(UnknownJointError):
        aim_arc(aluminium(3.0), aluminium(3.0), Arc(3e-3, 2e-3), 4e-3, "scarf")
