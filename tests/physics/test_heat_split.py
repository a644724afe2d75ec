"""Shares of the heat between two members. All vectors are derived here (golden); laws are the outside check."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import heat_split
from advisor.physics.heat_split import PlateMember
from advisor.physics.ranges import PhysicsRangeError

SOLIDUS = 582.0


def from_effusivity(thickness: float, effusivity: float, conductivity: float) -> PlateMember:
    return PlateMember(thickness, conductivity, effusivity**2 / conductivity, SOLIDUS)


AL_6061 = from_effusivity(3e-3, 20148.0, 167.0)
AL_5052 = from_effusivity(3e-3, 18057.0, 138.0)
MILD = from_effusivity(3e-3, 14089.0, 51.9)
SS_304 = from_effusivity(3e-3, 8050.0, 16.2)


def test_c5_1_unequal_thickness_golden() -> None:
    thick = from_effusivity(6e-3, 20148.0, 167.0)
    assert heat_split.overall_share(thick, AL_6061) == pytest.approx(0.6667, abs=5e-5)
    assert heat_split.local_share(thick, AL_6061) == pytest.approx(2 / 3)
    assert heat_split.effective_thickness("butt", 3e-3, 6e-3) == pytest.approx(4.5e-3)


def test_c5_2_mild_steel_to_304_golden() -> None:
    assert heat_split.overall_share(MILD, SS_304) == pytest.approx(0.6364, abs=5e-5)


def test_c5_3_two_aluminium_alloys_golden() -> None:
    assert heat_split.overall_share(AL_6061, AL_5052) == pytest.approx(0.5274, abs=5e-5)


def test_c5_8_overall_and_local_split_golden() -> None:
    first = PlateMember(3e-3, 167.0, 2.43e6, SOLIDUS)
    second = PlateMember(3e-3, 16.2, 4.0e6, 1400.0)
    assert heat_split.overall_share(first, second) == pytest.approx(0.7145, abs=1e-4)
    assert heat_split.local_share(first, second) == pytest.approx(0.9116, abs=5e-5)


@pytest.mark.parametrize(
    ("joint", "paths", "thickness"),
    [("butt", (1, 1), 4e-3), ("corner", (1, 1), 4e-3), ("edge", (1, 1), 4e-3), ("tee", (1, 2), 6.5e-3)],
)
def test_paths_fold_into_one_plate(joint: str, paths: tuple[int, int], thickness: float) -> None:
    assert heat_split.heat_paths(joint) == paths
    assert heat_split.effective_thickness(joint, 3e-3, 5e-3) == pytest.approx(thickness)


def test_three_equal_paths_match_the_fillet_shape_factor_of_en_1011_2() -> None:
    """Table D.1 gives F3 0.67 for a tee: two paths against three."""
    factor = 3e-3 / heat_split.effective_thickness("tee", 3e-3, 3e-3)
    assert factor == pytest.approx(0.67, abs=0.005)
    assert 0.44 <= factor**2 <= 0.67  # F2 row: 0.45 to 0.67


def test_an_unknown_joint_is_named() -> None:
    with pytest.raises(heat_split.UnknownJointError, match="did you mean 'corner'"):
        heat_split.heat_paths("cornr")


@given(st.floats(0.5e-3, 20e-3), st.floats(0.5e-3, 20e-3), st.sampled_from(["butt", "corner", "edge"]))
def test_shares_sum_to_one_and_the_heavier_takes_more(first: float, second: float, joint: str) -> None:
    one, two = PlateMember(first, 167.0, 2.4e6, SOLIDUS), PlateMember(second, 167.0, 2.4e6, SOLIDUS)
    for share in (heat_split.overall_share, heat_split.local_share):
        assert share(one, two, joint) + share(two, one, joint) == pytest.approx(1.0)
        if abs(second - first) > 1e-9:
            assert (share(two, one, joint) > 0.5) == (second > first)


@given(st.floats(-20e-3, 20e-3), st.floats(0.5e-3, 6e-3))
def test_arc_share_is_a_half_on_the_joint_and_mirrors(offset: float, sigma: float) -> None:
    assert heat_split.arc_share(0.0, sigma) == 0.5
    total = heat_split.arc_share(offset, sigma) + heat_split.arc_share(-offset, sigma)
    assert total == pytest.approx(1.0)
    assert heat_split.arc_share(sigma, sigma) == pytest.approx(0.158655, abs=1e-6)  # normal table, one sigma


@pytest.mark.parametrize(
    "change",
    [(0.0, 167.0, 2.4e6, 582.0), (3e-3, 1.0, 2.4e6, 582.0), (3e-3, 167.0, 2.4, 582.0), (3e-3, 167.0, 2.4e6, 20.0)],
)
def test_a_member_out_of_range_is_refused(change: tuple[float, float, float, float]) -> None:
    with pytest.raises(PhysicsRangeError):
        PlateMember(*change)
    with pytest.raises(PhysicsRangeError):
        PlateMember(3e-3, 167.0, 2.4e6, 582.0, width=-1.0)
