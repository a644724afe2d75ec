"""UCS and WRC-1992: coefficients typed anew, one element at a time, and what handbooks say of known steels."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import hot_cracking as h
from advisor.physics.ranges import PhysicsRangeError

BASE = {"C": 0.12, "S": 0.015, "P": 0.015, "Si": 0.30, "Mn": 1.0}


def test_ucs_by_hand() -> None:
    """EN 1011-2 Annex E: 27.6 + 2.85 + 1.125 - 3.69 - 5.4 - 1."""
    assert h.ucs(BASE) == pytest.approx(21.485)


@pytest.mark.parametrize(
    ("element", "per_hundredth"), [("S", 1.9), ("P", 0.75), ("Nb", 0.45), ("Si", -0.123), ("Mn", -0.054), ("C", 2.3)]
)
def test_each_coefficient(element: str, per_hundredth: float) -> None:
    more = {**BASE, element: BASE.get(element, 0.0) + 0.01}
    assert h.ucs(more) - h.ucs(BASE) == pytest.approx(per_hundredth)


def test_carbon_under_its_floor_counts_as_the_floor() -> None:
    assert h.ucs({**BASE, "C": 0.02}) == h.ucs({**BASE, "C": 0.08})


@pytest.mark.parametrize("element", ["C", "S", "Si"])
def test_ucs_ends_where_the_annex_ends(element: str) -> None:
    with pytest.raises(PhysicsRangeError, match=element):
        h.ucs({**BASE, element: 0.9})
    with pytest.raises(PhysicsRangeError, match="Mn"):
        h.ucs({"C": 0.1})


def test_wrc_equivalents_by_hand() -> None:
    """Kotecki and Siewert 1992: Cr + Mo + 0.7 Nb; Ni + 35 C + 20 N + 0.25 Cu."""
    bead = {"Cr": 18.0, "Mo": 2.5, "Nb": 1.0, "Ni": 11.0, "C": 0.02, "N": 0.05, "Cu": 0.4}
    assert h.chromium_equivalent(bead) == pytest.approx(21.2)
    assert h.nickel_equivalent(bead) == pytest.approx(12.8)
    assert h.equivalents_ratio(bead) == pytest.approx(21.2 / 12.8)


def test_308l_freezes_as_ferrite_and_310_as_austenite() -> None:
    """Handbooks: 308L weld metal keeps some ferrite; 310 (25 Cr, 20 Ni) is wholly austenitic and off the diagram."""
    assert h.equivalents_ratio({"Cr": 20.0, "Ni": 10.0, "C": 0.02, "N": 0.05}) > 1.5
    with pytest.raises(PhysicsRangeError):
        h.equivalents_ratio({"Cr": 25.0, "Ni": 20.0, "C": 0.1})
    assert h.equivalents_ratio({"Cr": 18.0, "Ni": 14.0, "C": 0.03}) < 1.4


@given(st.floats(0.0, 0.05), st.floats(0.0, 0.045))
def test_sulphur_and_phosphorus_only_ever_raise_it(sulphur: float, phosphorus: float) -> None:
    assert h.ucs({**BASE, "S": sulphur, "P": phosphorus}) >= h.ucs({**BASE, "S": 0.0, "P": 0.0})


def test_mild_steel_is_no_stainless() -> None:
    with pytest.raises(PhysicsRangeError, match="chromium"):
        h.equivalents_ratio({"C": 0.2, "Mn": 1.0})
