"""Aluminium welds: the printed ratios, golden vectors, TIG against MIG, extents, laws and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import aluminium_strength as a
from advisor.physics import aluminium_tables as t
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

MM = 1e-3
MPA = 1e6

# rho_o and rho_u as printed beside the strengths in EN 1999-1-1:2007 + A1 Table 3.2b; 6082 in a structural
# calculation to the standard.
PRINTED_RATIOS = [
    ("5083", "H111", "extrusion", 100, 1.0, 1.0),
    ("5083", "H32", "drawn tube", 10, 0.68, 0.96),
    ("5083", "H34", "drawn tube", 5, 0.57, 0.90),
    ("5754", "H112", "extrusion", 25, 1.0, 1.0),
    ("5754", "H24", "drawn tube", 10, 0.56, 0.75),
    ("6060", "T6", "extrusion", 15, 0.43, 0.59),
    ("6060", "T66", "extrusion", 3, 0.41, 0.51),
    ("6061", "T4", "drawn tube", 25, 0.86, 0.83),
    ("6061", "T6", "extrusion", 20, 0.48, 0.67),
    ("6063", "T5", "extrusion", 3, 0.46, 0.57),
    ("6063", "T6", "extrusion", 25, 0.41, 0.56),
    ("6063", "T66", "extrusion", 10, 0.38, 0.53),
    ("6005A", "T6", "extrusion", 5, 0.51, 0.61),
    ("6082", "T6", "extrusion", 5, 0.50, 0.64),
]
# Ratios recalled with the sheet table (memory).
RECALLED_RATIOS = [
    ("6061", "T6", "sheet", 3, 0.48, 0.60),
    ("6061", "T4", "sheet", 3, 0.86, 0.73),
    ("6082", "T6", "sheet", 3, 0.48, 0.60),
    ("5083", "O", "sheet", 3, 1.0, 1.0),
    ("5083", "H12", "sheet", 3, 0.62, 0.90),
    ("5083", "H32", "sheet", 3, 0.72, 0.90),
    ("5052", "H12", "sheet", 3, 0.50, 0.81),
    ("5052", "H32", "sheet", 3, 0.62, 0.81),
    ("5052", "H14", "sheet", 3, 0.44, 0.74),
    ("5052", "H34", "sheet", 3, 0.53, 0.74),
    ("3003", "H14", "sheet", 3, 0.30, 0.62),
]


@pytest.mark.parametrize(("alloy", "temper", "form", "thick", "rho_o", "rho_u"), PRINTED_RATIOS + RECALLED_RATIOS)
def test_strengths_give_the_printed_ratios(
    alloy: str, temper: str, form: str, thick: float, rho_o: float, rho_u: float
) -> None:
    """A slipped figure in one of the four strengths would break a ratio."""
    ours = a.haz_row(alloy, temper, form, thick * MM).softening
    assert ours[0] == pytest.approx(rho_o, abs=0.0101)
    assert ours[1] == pytest.approx(rho_u, abs=0.0101)


def test_every_row_is_softened_never_hardened_and_has_a_source() -> None:
    for row in t.HAZ_ROWS:
        assert 0 < row.fo_haz <= row.fo <= row.fu
        assert row.fo_haz <= row.fu_haz <= row.fu
        assert row.source.evidence in ("read", "memory")


def test_sheet_and_profile_keep_their_own_rows() -> None:
    """6061-T6: fu 290 as sheet (memory), 260 as extrusion or tube (read); the zone is 115/175 in both."""
    sheet, profile = (a.haz_row("6061", "T6", form, 3 * MM) for form in ("sheet", "extrusion"))
    assert (sheet.fu, profile.fu) == (290 * MPA, 260 * MPA)
    assert sheet.fo_haz == profile.fo_haz == 115 * MPA
    assert sheet.fu_haz == profile.fu_haz == 175 * MPA


def test_tig_on_6061_golden() -> None:
    zone = a.haz_strength(a.haz_row("6061", "T6", "sheet", 3 * MM), "141", 3 * MM)
    assert zone.fo / MPA == pytest.approx(92.0)
    assert zone.fu / MPA == pytest.approx(140.0)


def test_tig_rule_of_dwight_takes_off_less() -> None:
    """Dwight 1999 section 6.8.2: 0.05 off for 6xxx, 0.2 for 7xxx, nothing for 3xxx and 5xxx."""
    row = a.haz_row("6061", "T6", "sheet", 3 * MM)
    softening = row.softening[0]
    assert a.tig_softening_dwight(softening, "6061") == pytest.approx(softening - 0.05)
    assert a.tig_softening_dwight(0.8, "7020") == pytest.approx(0.6)
    assert a.tig_softening_dwight(0.7, "5083") == 0.7
    assert a.tig_softening_dwight(softening, "6061") * row.fo > a.haz_strength(row, "141", 3 * MM).fo


@pytest.mark.parametrize(
    ("alloy", "temper", "form", "thick", "factor"),
    [
        ("5052", "H32", "sheet", 3, 1.0),
        ("5052", "H32", "sheet", 8, 0.9),
        ("6061", "T6", "sheet", 6, 0.8),
        ("6061", "T6", "sheet", 6.1, 0.64),
    ],
)
def test_tig_factors_of_the_footnote(alloy: str, temper: str, form: str, thick: float, factor: float) -> None:
    """EN 1999-1-1 Table 3.2, footnote on TIG (memory)."""
    row = a.haz_row(alloy, temper, form, thick * MM)
    mig, tig = (a.haz_strength(row, process, thick * MM) for process in ("131", "141"))
    assert mig.fo == row.fo_haz
    assert tig.fo == pytest.approx(factor * mig.fo)
    assert tig.fu == pytest.approx(factor * mig.fu)


@pytest.mark.parametrize(
    ("process", "thick", "extent"), [("141", 3, 30), ("131", 3, 20), ("131", 10, 30), ("131", 20, 35)]
)
def test_extent_of_the_zone(process: str, thick: float, extent: float) -> None:
    """EN 1999-1-1 cl. 6.1.6.3; trade article on heat-affected zones for 30 and 20 mm."""
    assert a.haz_extent(process, thick * MM, "6061") == pytest.approx(extent * MM)


def test_c10_2_extent_when_hot_golden() -> None:
    assert a.haz_extent("141", 3 * MM, "6061", 100.0) == pytest.approx(40 * MM)
    assert a.haz_extent("141", 3 * MM, "7020", 100.0) == pytest.approx(45 * MM)


@given(st.floats(-20.0, 120.0), st.floats(-20.0, 120.0))
def test_the_zone_never_shrinks_with_interpass_temperature(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert a.haz_extent("141", 3 * MM, "5083", low) <= a.haz_extent("141", 3 * MM, "5083", high)


def test_c10_3_tig_butt_golden() -> None:
    row = a.haz_row("6061", "T6", "sheet", 3 * MM)
    zone = a.haz_strength(row, "141", 3 * MM)
    found = a.butt_strength(3 * MM, a.weld_metal_strength("5356", "6061"), zone, row.fo)
    assert found.haz / 1e3 == pytest.approx(336.0)
    assert found.parent / 1e3 == pytest.approx(654.55, abs=0.006)
    assert found.least / found.parent == pytest.approx(0.513, abs=6e-4)


def test_c10_4_two_fillets_along_golden() -> None:
    zone = a.haz_strength(a.haz_row("6061", "T6", "sheet", 5 * MM), "141", 5 * MM)
    one = a.fillet_along(3 * MM, 80 * MM, 5 * MM, a.weld_metal_strength("4043A", "6061"), zone)
    assert 2 * one.weld / 1e3 == pytest.approx(37.69, abs=0.006)


@pytest.mark.parametrize(
    ("filler", "parent", "golden"), [("5356", "6061", 87.76), ("4043A", "6061", 78.52), ("5356", "5083", 110.85)]
)
def test_fillet_shear_golden(filler: str, parent: str, golden: float) -> None:
    assert a.fillet_shear_design(a.weld_metal_strength(filler, parent)) / MPA == pytest.approx(golden, abs=6e-3)


def test_5356_is_the_stronger_fillet_in_every_table() -> None:
    """EN 1999-1-1 Table 8.8 and the Aluminum Design Manual rank the two fillers alike."""
    for parent in set(t.WELD_METAL["5356"]) & set(t.WELD_METAL["4043A"]):
        assert t.WELD_METAL["5356"][parent] > t.WELD_METAL["4043A"][parent]
    for weak, strong in zip(t.FILLET_SHEAR_US["4043"], t.FILLET_SHEAR_US["5356"], strict=True):
        assert weak < strong


@pytest.mark.parametrize(("alloy", "mpa"), [("6061-T6", 165), ("5052", 172), ("3003", 97)])
def test_us_welded_strengths_in_si(alloy: str, mpa: float) -> None:
    """Aluminum Design Manual: 24 ksi is printed as 165 MPa; 25 and 14 ksi likewise."""
    row = next(row for row in t.WELDED_US if row.alloy == alloy)
    assert row.ftu[0] / MPA == pytest.approx(mpa, abs=0.6)


@pytest.mark.parametrize(
    ("alloy", "temper", "tensile", "proof"),
    [("5083", "H116", 276, 165), ("5086", "H116", 241, 131), ("5086", "H34", 241, 131)],
)
def test_ship_plate_agrees_with_a_second_ship_rule(alloy: str, temper: str, tensile: float, proof: float) -> None:
    """ABS, high-speed craft, Pt 2 Ch 5 App 1 Table 2, N/mm2. Its yield is over 250 mm, so it is higher."""
    row = a.haz_row(alloy, temper, "sheet", 6 * MM)
    assert row.fu_haz / MPA == pytest.approx(tensile, abs=1.5)
    assert row.fo_haz / MPA < proof
    us = next(each for each in t.WELDED_US if each.alloy == f"{alloy}-{temper}")
    assert us.ftu[0] / MPA == pytest.approx(tensile, abs=0.6)
    assert us.fty[0] / MPA == pytest.approx(proof, abs=0.6)


def test_5086_stands_between_its_neighbours() -> None:
    """By magnesium 5086 lies between 5454 and 5083: so must its zone, and its weld metal is the weaker one's."""
    low, mid, high = (a.haz_row(alloy, "H34", "sheet", 4 * MM) for alloy in ("5454", "5086", "5083"))
    assert low.fu_haz < mid.fu_haz < high.fu_haz
    assert a.weld_metal_strength("5356", "5086") == t.WELD_METAL["5356"]["5454"] < t.WELD_METAL["5356"]["5083"]


def test_us_strength_of_6061_lies_between_the_european_tig_and_mig_zones() -> None:
    """ADM 24 ksi against EN 175 MPa (MIG) and 140 MPa (TIG)."""
    row = a.haz_row("6061", "T6", "sheet", 3 * MM)
    us = next(each for each in t.WELDED_US if each.alloy == "6061-T6").ftu[0]
    assert a.haz_strength(row, "141", 3 * MM).fu < us < row.fu_haz


stresses = st.floats(-200e6, 200e6)


@given(stresses, stresses, stresses, st.floats(80e6, 260e6))
def test_utilisation_is_one_at_the_design_stress_and_blind_to_sign(
    sigma: float, across: float, along: float, fw: float
) -> None:
    assert a.fillet_utilisation(0.0, 0.0, a.fillet_shear_design(fw), fw) == pytest.approx(1.0)
    one = a.fillet_utilisation(sigma, across, along, fw)
    assert one == pytest.approx(a.fillet_utilisation(-sigma, -across, -along, fw))
    assert a.fillet_utilisation(2 * sigma, 2 * across, 2 * along, fw) == pytest.approx(2 * one)


@given(st.floats(2.0, 8.0), st.floats(64.0, 300.0))
def test_a_fillet_is_no_stronger_than_any_of_its_three_places(throat: float, length: float) -> None:
    zone = a.HazStrength(92 * MPA, 140 * MPA, ())
    found = a.fillet_along(throat * MM, length * MM, 3 * MM, 190 * MPA, zone)
    assert found.least == min(found.weld, found.boundary, found.toe)
    assert found.boundary / found.weld == pytest.approx(2**0.5 * 140 / 190)


@pytest.mark.parametrize(
    "call",
    [
        lambda: a.haz_row("2024", "T3", "sheet", 3 * MM),
        lambda: a.haz_row("6061", "T6", "casting", 3 * MM),
        lambda: a.haz_row("6082", "T6", "sheet", 14 * MM),
        lambda: a.haz_strength(t.HAZ_ROWS[0], "111", 3 * MM),
        lambda: a.haz_extent("111", 3 * MM, "6061"),
        lambda: a.haz_extent("141", 3 * MM, "3003", 80.0),
        lambda: a.haz_extent("141", 3 * MM, "1100", 80.0),
        lambda: a.weld_metal_strength("5356", "3003"),
        lambda: a.weld_metal_strength("5554", "6061"),
        lambda: a.tig_softening_dwight(0.5, "2014"),
    ],
)
def test_what_no_table_covers(call: object) -> None:
    assert callable(call)
    with pytest.raises(NotCoveredError):
        call()


@pytest.mark.parametrize(
    "call",
    [
        lambda: a.haz_extent("141", 8 * MM, "6061"),
        lambda: a.haz_extent("141", 3 * MM, "6061", 150.0),
        lambda: a.haz_strength(t.HAZ_ROWS[0], "141", 20 * MM),
        lambda: a.fillet_along(3 * MM, 20 * MM, 5 * MM, 170 * MPA, a.HazStrength(92 * MPA, 140 * MPA, ())),
        lambda: a.fillet_shear_design(0.0),
        lambda: a.tig_softening_dwight(1.2, "6061"),
    ],
)
def test_outside_the_rules(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()


def test_temper_o_loses_nothing_to_tig() -> None:
    """EN 1999-1-1 Table 3.2, footnote (memory): the reductions do not apply in temper O."""
    row = a.haz_row("5083", "O", "sheet", 8 * MM)
    assert a.haz_strength(row, "141", 8 * MM, "O").fu == row.fu
    assert a.haz_strength(row, "141", 8 * MM, "H111").fu == pytest.approx(0.9 * row.fu)


def test_fillers_and_parents_that_stand_with_others() -> None:
    """EN 1999-1-1 Table 8.8, notes (memory)."""
    assert a.weld_metal_strength("5183", "5083") == a.weld_metal_strength("5356", "5083") == 240e6
    assert a.weld_metal_strength("4047A", "6082") == a.weld_metal_strength("4043", "6082") == 190e6
    assert a.weld_metal_strength("5356", "5754") == a.weld_metal_strength("5356", "5454") == 220e6
    assert a.weld_metal_strength("5356", "6063") == 160e6


def test_a_fillet_pulled_across_by_the_throat_plane() -> None:
    """F/(a sqrt 2) across and along the plane meets sqrt(s2 + 3 tp2) = fw/gamma_Mw."""
    zone = a.haz_strength(a.haz_row("6061", "T6", "sheet", 3 * MM), "141", 3 * MM)
    found = a.fillet_across(3 * MM, 100 * MM, 3 * MM, 190e6, zone)
    stress = found.weld / (3 * MM * 100 * MM * math.sqrt(2))
    assert a.fillet_utilisation(stress, stress, 0.0, 190e6) == pytest.approx(1.0)
    assert found.toe == pytest.approx(3 * MM * 100 * MM * 140e6 / 1.25)


def test_lengths_that_count() -> None:
    """EN 1999-1-1 cl. 8.6.3.3 (memory): from 8 throats, all to 100, then (1.2 - 0.2 L/(100 a)) L."""
    assert a.long_fillet_length(300 * MM, 3 * MM) == 300 * MM
    assert a.long_fillet_length(600 * MM, 3 * MM) == pytest.approx(0.8 * 600 * MM)
    with pytest.raises(PhysicsRangeError):
        a.long_fillet_length(20 * MM, 3 * MM)


@pytest.mark.parametrize(
    ("alloy", "temper", "tensile"), [("6061", "T6", 0.60), ("5052", "H32", 0.85), ("5083", "H116", 0.93)]
)
def test_typical_strength_as_welded(alloy: str, temper: str, tensile: float) -> None:
    """Filler maker's technical guide p. 9 (read): 6061-T6 27 of 45 ksi with 4043, 5052-H32 28 of 33, 5083 43 of 46."""
    row = next(row for row in t.AS_WELDED if (row.alloy, row.temper) == (alloy, temper))
    assert row.welded[0] / row.parent[0] == pytest.approx(tensile, abs=0.006)
