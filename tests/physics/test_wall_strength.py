"""Welded walls: values of the codes typed a second time."""

from __future__ import annotations

import pytest

from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError
from advisor.physics.wall_strength import welded_proof


@pytest.mark.parametrize(
    ("metal", "ksi"),
    [("5052", 9.5), ("3003", 5.0), ("1100", 3.5), ("6061", 11.0)],
)
def test_aluminium_takes_the_lower_code(metal: str, ksi: float) -> None:
    """Aluminum Design Manual, welded yields [ksi]; each is under EN 1999-1-1 for TIG (5052: 80 MPa, 6061: 92)."""
    assert welded_proof(metal, "aluminium", "141", 3e-3).proof == pytest.approx(ksi * 6.894757e6, rel=1e-6)


def test_6063_takes_the_softest_temper_of_en_1999() -> None:
    """EN 1999-1-1 Table 3.2b: T5 up to 3 mm 60 MPa in the zone after MIG, 0.8 of it after TIG."""
    assert welded_proof("6063", "aluminium", "141", 3e-3).proof == pytest.approx(48e6)
    assert welded_proof("6063", "aluminium", "131", 3e-3).proof == pytest.approx(60e6)


def test_steel_is_its_grade_and_never_more_than_drawing_sheet_where_unknown() -> None:
    """EN 10025-2 S235: 235 MPa; ASTM A36: 250; EN 10130 DC01: 140; ASTM A240 304L: 170."""
    found = [welded_proof(name, "carbon-steel", "141", 2e-3).proof for name in ("S235", "A36", "DC01", "1018")]
    assert found == [235e6, 250e6, 140e6, 140e6]
    assert welded_proof("304L", "stainless", "141", 2e-3).proof == 170e6


def test_what_is_not_at_hand_is_not_guessed() -> None:
    for metal, family in (("4130", "low-alloy-steel"), ("A356", "aluminium"), ("416", "stainless")):
        with pytest.raises(NotCoveredError, match=metal):
            welded_proof(metal, family, "141", 3e-3)
    with pytest.raises(PhysicsRangeError):
        welded_proof("6061", "aluminium", "141", 0.0)


def test_5083_takes_en_1999_where_that_is_lower() -> None:
    """EN 1999-1-1 Table 3.2b, extrusion O/H111: 110 MPa in the zone; the US manual's 18 ksi is 124 MPa."""
    assert welded_proof("5083", "aluminium", "141", 3e-3).proof == pytest.approx(110e6)
