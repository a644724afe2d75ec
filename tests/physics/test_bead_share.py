"""Dilution from sections: by hand, against published shares, and laws."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import bead_share as b
from advisor.physics.ranges import PhysicsRangeError


def test_butt_by_hand() -> None:
    """3 mm, gap 1 mm, face 7, back 5, no cap: melted 18 mm2, of which 3 mm2 was gap."""
    assert b.butt_base_share(3e-3, 3e-6, b.Pool(7e-3, 5e-3, 0.0, 0.0)) == pytest.approx(15 / 18)


def test_fillet_by_hand() -> None:
    """Legs 6 mm: 18 mm2 of filler; lenses 0.9 mm deep: 2 x 2/3 x 6 x 0.9 = 7.2 mm2 of base."""
    assert b.fillet_base_share(6e-3, 0.9e-3) == pytest.approx(7.2 / 25.2)


def test_square_butt_lies_in_the_published_span() -> None:
    """Filler maker's technical guide p. 19 and a textbook: a square butt takes 20 to 40 % of filler."""
    share = 1 - b.butt_base_share(3.2e-3, 0.0, b.Pool(6.4e-3, 4e-3, 1.3e-3, 0.5e-3))
    assert 0.20 <= share <= 0.40


def test_single_v_lies_in_the_published_span() -> None:
    """The same guide: a single V takes 60 to 80 %. 6.4 mm, 60 deg, root face 1.6, gap 1.6."""
    section = 1.6 * 6.4 + 4.8**2 * 3**-0.5
    share = 1 - b.butt_base_share(6.4e-3, section * 1e-6, b.Pool(9.1e-3, 3.6e-3, 1.4e-3, 0.4e-3))
    assert 0.60 <= share <= 0.80


def test_all_base_without_gap_and_cap() -> None:
    assert b.butt_base_share(2e-3, 0.0, b.Pool(5e-3, 3e-3, 0.0, 0.0)) == 1.0
    assert b.fillet_base_share(4e-3, 0.0) == 0.0


lengths = st.floats(1e-3, 12e-3)


@given(lengths, lengths, st.floats(0.1, 1.0), st.floats(0.0, 0.4), st.floats(0.0, 0.99), st.floats(0.1, 3.0))
def test_share_is_a_share_and_knows_no_size(
    t: float, face: float, back: float, cap: float, opened: float, times: float
) -> None:
    section = opened * 0.5 * face * (1 + back) * t
    share = b.butt_base_share(t, section, b.Pool(face, back * face, cap * face, 0.0))
    assert 0.0 <= share <= 1.0
    grown = b.Pool(face * times, back * face * times, cap * face * times, 0.0)
    assert b.butt_base_share(t * times, section * times**2, grown) == pytest.approx(share)


@given(lengths, lengths, st.floats(0.0, 0.3), st.floats(0.01, 0.1))
def test_more_cap_is_less_base(t: float, face: float, cap: float, more: float) -> None:
    low = b.butt_base_share(t, 0.0, b.Pool(face, 0.5 * face, cap * face, 0.0))
    assert b.butt_base_share(t, 0.0, b.Pool(face, 0.5 * face, (cap + more) * face, 0.0)) < low


@pytest.mark.parametrize(
    "call",
    [
        lambda: b.Pool(5e-3, 6e-3, 0.0, 0.0),
        lambda: b.Pool(5e-3, 3e-3, 3e-3, 0.0),
        lambda: b.butt_base_share(3e-3, 30e-6, b.Pool(5e-3, 3e-3, 0.0, 0.0)),
        lambda: b.fillet_base_share(3e-3, 4e-3),
        lambda: b.fillet_base_share(0.0, 0.0),
    ],
)
def test_outside_the_geometry(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()
