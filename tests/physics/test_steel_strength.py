"""Steel welds: published worked examples, golden vectors, and the laws between the two methods."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import steel_strength as s
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

MM = 1e-3
MPA = 1e6


def test_p10_1_blue_book_fillet() -> None:
    """SCI P363 (memory): S275, 6 mm leg, 0.94 kN/mm along and 1.15 kN/mm across; with fu 410."""
    steel = s.steel_grade("S275, EN 10025-2")
    along = 4.2 * MM * s.fillet_shear_design(steel.fu, steel.beta_w)
    across = 4.2 * MM * s.fillet_transverse_design(steel.fu, steel.beta_w)
    assert along / MPA == pytest.approx(0.94, abs=0.005)
    assert across / MPA == pytest.approx(1.15, abs=0.005)


@pytest.mark.parametrize(("grade", "printed"), [("S235", 0.46), ("S355, EN 1993-1-1:2005", 0.55)])
def test_k_w4_k_w5_full_strength_double_fillet(grade: str, printed: float) -> None:
    """Steel Buildings in Europe, Part 5, sec. 2.2.6, p. 5-11: a/t 0.46 for S235, 0.55 for S355 (fu 510)."""
    assert s.full_strength_throat_ratio(s.steel_grade(grade)) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(("grade", "golden"), [("S355, EN 1993-1-1 corrected", 0.576), ("S355, EN 10025-2", 0.601)])
def test_the_choice_of_fu_moves_the_throat_golden(grade: str, golden: float) -> None:
    assert s.full_strength_throat_ratio(s.steel_grade(grade)) == pytest.approx(golden, abs=6e-4)


@pytest.mark.parametrize(
    ("grade", "golden"),
    [
        ("S235", 207.85),
        ("S275, EN 10025-2", 222.79),
        ("S275, EN 1993-1-1", 233.66),
        ("S355, EN 10025-2", 241.20),
        ("S355, EN 1993-1-1 corrected", 251.47),
        ("S355, EN 1993-1-1:2005", 261.73),
    ],
)
def test_fvwd_golden(grade: str, golden: float) -> None:
    steel = s.steel_grade(grade)
    assert s.fillet_shear_design(steel.fu, steel.beta_w) / MPA == pytest.approx(golden, abs=6e-3)


def test_c10_1_two_side_fillets_golden() -> None:
    one = s.fillet_resistance(3 * MM, 100 * MM, 5 * MM, s.steel_grade("S235"))
    assert 2 * one / 1e3 == pytest.approx(117.225, abs=2e-3)
    assert s.effective_length(100 * MM, 3 * MM) == pytest.approx(94 * MM)
    assert s.effective_length(100 * MM, 3 * MM, full_size_ends=True) == pytest.approx(100 * MM)


stresses = st.floats(-300e6, 300e6)
grades = st.sampled_from(sorted(s.STEELS))


@given(grades)
def test_transverse_gain_is_the_root_of_one_and_a_half(grade: str) -> None:
    steel = s.STEELS[grade]
    gain = s.fillet_transverse_design(steel.fu, steel.beta_w) / s.fillet_shear_design(steel.fu, steel.beta_w)
    assert gain == pytest.approx(math.sqrt(1.5))


@given(grades)
def test_directional_method_agrees_with_both_special_cases(grade: str) -> None:
    steel = s.STEELS[grade]
    shear = s.fillet_shear_design(steel.fu, steel.beta_w)
    assert s.fillet_directional(0.0, 0.0, shear, steel.fu, steel.beta_w) == pytest.approx(1.0)
    pull = s.fillet_transverse_design(steel.fu, steel.beta_w) / math.sqrt(2)
    assert s.fillet_directional(pull, pull, 0.0, steel.fu, steel.beta_w) == pytest.approx(1.0)


@given(stresses, stresses, stresses, grades)
def test_simplified_method_is_never_the_bolder_one(sigma: float, across: float, along: float, grade: str) -> None:
    """EN 1993-1-8: the resultant against fvw,d is at least as strict as the directional check."""
    steel = s.STEELS[grade]
    resultant = math.sqrt(sigma**2 + across**2 + along**2)
    simple = resultant / s.fillet_shear_design(steel.fu, steel.beta_w)
    assert simple >= s.fillet_directional(sigma, across, along, steel.fu, steel.beta_w) - 1e-12


@given(stresses, stresses, stresses)
def test_the_sign_of_the_stresses_does_not_matter(sigma: float, across: float, along: float) -> None:
    one = s.fillet_directional(sigma, across, along, 360e6, 0.8)
    assert one == pytest.approx(s.fillet_directional(-sigma, -across, -along, 360e6, 0.8))


def test_a_pure_pull_on_the_throat_plane_meets_the_second_check() -> None:
    """With beta_w 0.8 the limit fu/(beta_w gamma) is above 0.9 fu/gamma, so the second check governs."""
    assert s.fillet_directional(0.9 * 360e6 / 1.25, 0.0, 0.0, 360e6, 0.8) == pytest.approx(1.0)


@given(st.floats(1.0, 30.0))
def test_leg_and_throat_turn_into_each_other(leg: float) -> None:
    assert s.leg_of_throat(s.throat_of_leg(leg * MM)) == pytest.approx(leg * MM)
    assert s.throat_of_leg(6 * MM) == pytest.approx(4.2 * MM, rel=0.011)


@pytest.mark.parametrize(
    ("depth", "angle", "process", "throat"), [(6.0, 60.0, "141", 6.0), (6.0, 50.0, "111", 3.0), (8.0, 45.0, "135", 5.0)]
)
def test_partial_penetration_throat_of_d1_1(depth: float, angle: float, process: str, throat: float) -> None:
    """AWS D1.1 (memory): full depth from 60 degrees, 3 mm less from 45."""
    assert s.partial_throat_d1_1(depth * MM, angle, process) == pytest.approx(throat * MM)


def test_partial_penetration_where_d1_1_says_nothing() -> None:
    with pytest.raises(NotCoveredError):
        s.partial_throat_d1_1(6 * MM, 50.0, "141")
    with pytest.raises(PhysicsRangeError, match="included angle"):
        s.partial_throat_d1_1(6 * MM, 40.0, "111")
    with pytest.raises(PhysicsRangeError, match="throat"):
        s.partial_throat_d1_1(2.5 * MM, 50.0, "111")


@given(st.floats(0.8, 3.9), st.floats(40.0, 200.0))
def test_sheet_laps_meet_at_the_full_width(thickness: float, width: float) -> None:
    """At Ls = b both side-fillet forms give 0.45 t b fu/gamma_M2; an end fillet over the whole width gives 0.7."""
    t, b = thickness * MM, width * MM
    unit = t * b * 360e6 / 1.25
    assert s.sheet_side_fillet(t, b, b, 360e6) == pytest.approx(0.45 * unit)
    assert s.sheet_side_fillet(t, 3 * b, b, 360e6) == pytest.approx(0.45 * unit)
    assert s.sheet_end_fillet(t, b, b, 360e6) == pytest.approx(0.7 * unit)


@given(st.floats(32.0, 100.0), st.floats(32.0, 100.0))
def test_a_longer_sheet_fillet_is_never_weaker(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert s.sheet_side_fillet(2e-3, low * MM, 0.1, 360e6) <= s.sheet_side_fillet(2e-3, high * MM, 0.1, 360e6)
    assert s.sheet_end_fillet(2e-3, low * MM, 0.1, 360e6) <= s.sheet_end_fillet(2e-3, high * MM, 0.1, 360e6)


@pytest.mark.parametrize(
    "call",
    [
        lambda: s.fillet_resistance(2 * MM, 100 * MM, 5 * MM, s.STEELS["S235"]),
        lambda: s.fillet_resistance(3 * MM, 100 * MM, 3 * MM, s.STEELS["S235"]),
        lambda: s.effective_length(35 * MM, 3 * MM),
        lambda: s.effective_length(50 * MM, 8 * MM),
        lambda: s.sheet_side_fillet(4 * MM, 50 * MM, 50 * MM, 360e6),
        lambda: s.sheet_side_fillet(2 * MM, 15 * MM, 50 * MM, 360e6),
        lambda: s.sheet_end_fillet(2 * MM, 60 * MM, 50 * MM, 360e6),
        lambda: s.fillet_shear_design(360.0, 0.8),
        lambda: s.fillet_shear_design(360e6, 0.7),
    ],
)
def test_outside_the_codes(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()


def test_beta_w_of_the_grades_is_the_tables() -> None:
    """EN 1993-1-8 Table 4.1 in two copies."""
    assert s.BETA_W == {"S235": 0.80, "S275": 0.85, "S355": 0.90, "S420": 1.0, "S460": 1.0}
    for name, steel in s.STEELS.items():
        assert steel.beta_w == s.BETA_W[name[:4]]


def test_an_unknown_grade_is_refused_with_a_near_name() -> None:
    with pytest.raises(NotCoveredError, match="S235"):
        s.steel_grade("S236")


@pytest.mark.parametrize(
    ("grade", "leg", "along", "across"),
    [
        ("S275, EN 10025-2", 8, 1.25, 1.53),
        ("S275, EN 10025-2", 10, 1.56, 1.91),
        ("S355, EN 10025-2", 6, 1.01, 1.24),
        ("S355, EN 10025-2", 8, 1.35, 1.65),
        ("S355, EN 10025-2", 10, 1.69, 2.07),
    ],
)
def test_more_of_the_blue_book(grade: str, leg: float, along: float, across: float) -> None:
    """SCI P363 (memory), kN/mm, throat printed as 0.7 of the leg."""
    steel = s.steel_grade(grade)
    throat = 0.7 * leg * MM
    assert throat * s.fillet_shear_design(steel.fu, steel.beta_w) / MPA == pytest.approx(along, abs=0.006)
    assert throat * s.fillet_transverse_design(steel.fu, steel.beta_w) / MPA == pytest.approx(across, abs=0.006)


def test_partial_butt_pulled_and_its_second_check() -> None:
    """S235: 0.9 fu/gamma_M2 = 259.2 MPa governs over fu/(0.8 x 1.25) = 360 MPa."""
    assert s.partial_butt_pulled(4 * MM, 360e6, 0.8) == pytest.approx(4 * MM * 0.9 * 360e6 / 1.25)
    assert s.partial_butt_pulled(4 * MM, 360e6, 1.0) == pytest.approx(4 * MM * 0.9 * 360e6 / 1.25)


@given(st.floats(0.1, 1.0))
def test_the_root_of_a_one_sided_seam_by_beam_bending(share: float) -> None:
    t, depth = 10 * MM, share * 10 * MM
    offset = (t - depth) / 2
    assert s.offset_root_factor(t, depth) == pytest.approx((1 / depth + 6 * offset / depth**2) * depth)


def test_long_laps() -> None:
    """EN 1993-1-8 cl. 4.11 (memory): beta = 1.2 - 0.2 L/(150 a), from 150 throats."""
    assert s.long_lap_factor(450 * MM, 3 * MM) == 1.0
    assert s.long_lap_factor(900 * MM, 3 * MM) == pytest.approx(0.8)
    with pytest.raises(PhysicsRangeError):
        s.long_lap_factor(1500 * MM, 3 * MM)


def test_stainless_plate_has_a_partial_factor_of_its_own() -> None:
    """EN 1993-1-4 (memory): gamma_M0 1.10. 5 mm of 1.4301: 5 x 210/1.1 = 954.5 N/mm across, over sqrt 3 551.1 along;
    throat of two fillets 210/1.1 x 1.0 x 1.25/(sqrt 2 x 520) = 0.3245 of the plate."""
    steel = s.STAINLESS["1.4301"]
    along, across = s.parent_design(5 * MM, steel.fy, s.GAMMA_M0_STAINLESS)
    assert (along / 1e3, across / 1e3) == pytest.approx((551.1, 954.5), abs=0.06)
    assert s.full_strength_throat_ratio(steel, s.GAMMA_M0_STAINLESS) == pytest.approx(0.3245, abs=6e-5)


def test_carbon_steel_plate_by_the_code() -> None:
    """EN 1993-1-1 cl. 6.1 (memory): gamma_M0 1.00. 5 mm of S235: 1175 N/mm across, 678.4 along."""
    along, across = s.parent_design(5 * MM, 235e6)
    assert (along / 1e3, across / 1e3) == pytest.approx((678.4, 1175.0), abs=0.06)


def test_another_gamma_m2_goes_into_every_strength() -> None:
    """gamma_M2 1.35 on S235, fu 360 MPa, beta_w 0.8, worked by hand."""
    assert s.fillet_shear_design(360e6, 0.8, 1.35) / MPA == pytest.approx(192.45, abs=6e-3)
    assert s.fillet_transverse_design(360e6, 0.8, 1.35) / MPA == pytest.approx(235.70, abs=6e-3)
    assert s.fillet_directional(0.0, 0.0, 192.45e6, 360e6, 0.8, 1.35) == pytest.approx(1.0, abs=1e-4)
    assert s.fillet_directional(240e6, 0.0, 0.0, 360e6, 0.8, 1.35) == pytest.approx(1.0)
    assert s.partial_butt_pulled(4 * MM, 360e6, 0.8, 1.35) / 1e3 == pytest.approx(960.0)
    assert s.full_strength_throat_ratio(s.STEELS["S235"], 1.0, 1.35) == pytest.approx(235 / (2 * 235.70), abs=1e-4)
    assert s.sheet_side_fillet(2 * MM, 50 * MM, 100 * MM, 360e6, 1.35) / 1e3 == pytest.approx(18.0)
    assert s.sheet_end_fillet(2 * MM, 50 * MM, 100 * MM, 360e6, 1.35) / 1e3 == pytest.approx(22.667, abs=6e-4)


@pytest.mark.parametrize(
    ("argument", "low", "high"),
    [("thickness", None, 40 * MM), ("fy", 100e6, 800e6), ("gamma_m0", 1.0, 3.0)],
)
def test_limits_of_the_plate(argument: str, low: float | None, high: float) -> None:
    """EN 1993-1-1 Table 3.1: the strengths hold up to 40 mm."""
    usual = {"thickness": 5 * MM, "fy": 235e6, "gamma_m0": 1.0}
    for good in (high, low or high):
        assert s.parent_design(**{**usual, argument: good})[1] > 0.0
    for bad in (1.001 * high, 0.999 * low if low else 0.0):
        with pytest.raises(PhysicsRangeError):
            s.parent_design(**{**usual, argument: bad})


def test_partial_seams_are_no_deeper_than_the_plate() -> None:
    """Beam bending: through the whole plate the root is pulled once, through a third 1 + 3 x 2 = 7 times."""
    assert s.offset_root_factor(6 * MM, 6 * MM) == 1.0
    assert s.offset_root_factor(6 * MM, 2 * MM) == pytest.approx(7.0)
    for depth in (0.0, 6.01 * MM):
        with pytest.raises(PhysicsRangeError):
            s.offset_root_factor(6 * MM, depth)


def test_long_laps_end_at_450_throats() -> None:
    """EN 1993-1-8 cl. 4.11 (memory): 1.2 - 0.2 x 3 = 0.6 at 450 throats of 3 mm; 1 up to 150."""
    assert s.long_lap_factor(1350 * MM, 3 * MM) == pytest.approx(0.6)
    assert s.long_lap_factor(300 * MM, 3 * MM) == 1.0
    with pytest.raises(PhysicsRangeError):
        s.long_lap_factor(1352 * MM, 3 * MM)


def test_stainless_grades() -> None:
    """EN 1993-1-4 Table 2.1 (memory), MPa, least of strip and plate; cl. 6.3: beta_w 1.0."""
    found = {name: (round(steel.fy / MPA), round(steel.fu / MPA)) for name, steel in s.STAINLESS.items()}
    assert found == {"1.4301": (210, 520), "1.4307": (200, 500), "1.4401": (220, 520), "1.4404": (220, 520)}
    assert {steel.beta_w for steel in s.STAINLESS.values()} == {1.0}


@pytest.mark.parametrize("place", [0, 1, 2])
@pytest.mark.parametrize("stress", [1.01e10, -1.01e10, math.nan])
def test_a_stress_no_metal_bears_is_a_slip_of_units(place: int, stress: float) -> None:
    """10 GPa is several times what the strongest steel wire bears; up to that a utilisation is given."""
    stresses_tried = [0.0, 0.0, 0.0]
    stresses_tried[place] = stress
    with pytest.raises(PhysicsRangeError):
        s.fillet_directional(*stresses_tried, 360e6, 0.8)
    stresses_tried[place] = 1e10
    assert s.fillet_directional(*stresses_tried, 360e6, 0.8) > 1.0
