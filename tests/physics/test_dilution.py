"""Bead composition: a filler maker's printed figures, golden examples, laws of mixing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import dilution as d
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

contents = st.floats(0.0, 20.0)
shares = st.floats(0.0, 1.0)


@pytest.mark.parametrize(("base_share", "printed"), [(0.80, 1.7), (0.40, 3.2)])
def test_k_w8_k_w9_magnesium_of_the_bead(base_share: float, printed: float) -> None:
    """Filler maker's technical guide p. 19, Mg filler on 6xxx: square butt 1.7 % Mg, single V 3.2 %.

    Contents are not printed; nominal 1.0 and 5.0 give 1.8 and 3.4, the mean 0.95 and 4.7 the figures.
    """
    nominal = d.bead_composition({"Mg": 1.0}, {"Mg": 5.0}, base_share)["Mg"]
    assert nominal == pytest.approx(printed, abs=0.2001)
    inferred = d.bead_composition({"Mg": 0.95}, {"Mg": 4.7}, base_share)["Mg"]
    assert inferred == pytest.approx(printed, abs=0.005)


def test_6061_with_5356_is_near_the_trade_figures() -> None:
    """Metal shop's page on 6061: with 5356 the weld is near 3 % Mg and 0.3 % Si (equal shares)."""
    bead = d.bead_composition({"Mg": 1.0, "Si": 0.6}, {"Mg": 5.0}, 0.5)
    assert bead["Mg"] == pytest.approx(3.0)
    assert bead["Si"] == pytest.approx(0.3)
    assert d.crack_peak_side("Mg", bead["Mg"]) == d.ABOVE


@pytest.mark.parametrize(("filler_share", "golden"), [(0.25, 1.7), (1 / 3, 2.07), (0.50, 2.8)])
def test_silicon_of_6061_with_4043_golden(filler_share: float, golden: float) -> None:
    assert d.bead_composition({"Si": 0.6}, {"Si": 5.0}, 1 - filler_share)["Si"] == pytest.approx(golden, abs=0.005)


def test_6061_without_filler_sits_in_the_peaks_and_4043_leaves_them() -> None:
    """6061 is about 1 % Mg and 0.6 % Si: crack-sensitive bare (trade page, read)."""
    assert d.crack_peak_side("Si", 0.6) == d.INSIDE
    assert d.crack_peak_side("Mg", 1.0) == d.INSIDE
    share = d.filler_share_for(d.SAFE_SILICON[0], 0.6, 5.0)
    assert share == pytest.approx(0.318, abs=6e-4)
    assert d.crack_peak_side("Si", 2.0) == d.ABOVE


def test_mg2si_by_hand() -> None:
    """Mg2Si is 63.4 % Mg, 36.6 % Si by mass; balanced Mg:Si is 1.73."""
    assert d.mg2si_content(1.0, 10.0) == pytest.approx(1.578, abs=6e-4)
    assert d.mg2si_content(10.0, 1.0) == pytest.approx(2.731, abs=6e-4)
    assert d.mg2si_content(1.731, 1.0) == pytest.approx(d.mg2si_content(10.0, 1.0), rel=1e-3)


@given(contents, contents, shares)
def test_a_bead_lies_between_base_and_filler(base: float, filler: float, share: float) -> None:
    bead = d.bead_composition({"Si": base}, {"Si": filler}, share)["Si"]
    assert min(base, filler) - 1e-12 <= bead <= max(base, filler) + 1e-12


@given(contents, contents, shares)
def test_swapping_base_and_filler_swaps_the_shares(base: float, filler: float, share: float) -> None:
    one = d.bead_composition({"Mg": base}, {"Mg": filler}, share)["Mg"]
    assert d.bead_composition({"Mg": filler}, {"Mg": base}, 1 - share)["Mg"] == pytest.approx(one)


@given(contents, st.floats(0.5, 20.0), shares)
def test_the_share_found_makes_the_content_wanted(base: float, apart: float, share: float) -> None:
    filler = base + apart
    wanted = base + share * apart
    found = d.filler_share_for(min(wanted, filler), base, filler)
    bead = d.bead_composition({"Mg": base}, {"Mg": filler}, 1 - found)["Mg"]
    assert bead == pytest.approx(wanted, abs=1e-9)


def test_ends_and_elements_of_one_side_only() -> None:
    base, filler = {"Mg": 1.0, "Si": 0.6, "Cu": 0.3}, {"Si": 5.0, "Ti": 0.1}
    assert d.bead_composition(base, filler, 1.0) == {"Mg": 1.0, "Si": 0.6, "Cu": 0.3, "Ti": 0.0}
    assert d.bead_composition(base, filler, 0.0) == {"Mg": 0.0, "Si": 5.0, "Cu": 0.0, "Ti": 0.1}


def test_dilution_from_a_section() -> None:
    assert d.base_share(8e-6, 20e-6) == pytest.approx(0.4)


@pytest.mark.parametrize(
    "call",
    [
        lambda: d.bead_composition({"Mg": 1.0}, {"Mg": 5.0}, 1.2),
        lambda: d.bead_composition({"Mg": 60.0, "Si": 50.0}, {"Mg": 5.0}, 0.5),
        lambda: d.filler_share_for(6.0, 1.0, 5.0),
        lambda: d.filler_share_for(5.0, 5.0, 5.0),
        lambda: d.base_share(3e-6, 2e-6),
        lambda: d.base_share(0.0, 0.0),
        lambda: d.mg2si_content(-1.0, 1.0),
        lambda: d.crack_peak_side("Si", 120.0),
    ],
)
def test_outside_the_formulas(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()


def test_no_peak_is_known_for_other_elements() -> None:
    with pytest.raises(NotCoveredError, match="element 'Zn'"):
        d.crack_peak_side("Zn", 5.0)
