"""Carbon equivalents and preheat: a published course exercise, the standards' tables, laws and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import preheat as p
from advisor.physics.preheat import SteelChemistry
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

S4130 = SteelChemistry(0.30, 0.25, 0.50, 0.95, 0.20)
S1018 = SteelChemistry(0.18, 0.20, 0.75)
S355 = SteelChemistry(0.16, 0.35, 1.45, cr=0.05, mo=0.01, ni=0.05, cu=0.03)

cets = st.floats(0.2, 0.5)
depths = st.floats(10.0, 90.0)
hydrogens = st.floats(1.0, 20.0)
heats = st.floats(0.5, 4.0)


def test_k_w1_cet_of_the_course_exercise() -> None:
    """German manufacturing-engineering exercise to DIN EN 1011-2:2001: CET 0.345."""
    steel = SteelChemistry(0.18, mn=1.40, mo=0.05, cr=0.20, cu=0.15, ni=0.10)
    assert p.cet(steel) == pytest.approx(0.345, abs=5e-4)


def test_k_w2_preheat_of_the_course_exercise() -> None:
    """Same exercise, CET 0.345, 12 mm, HD 5, 1.0 kJ/mm, rounded constants 700 and 330: prints 58.8, then 60 degC."""
    found = p.method_b_preheat_c(0.345, 12.0, 5.0, 1.0)
    assert found == pytest.approx(58.8, abs=2.0)
    assert found == pytest.approx(60.0, abs=2.0)


def test_k_w2b_golden() -> None:
    assert p.method_b_preheat_c(0.345, 12.0, 5.0, 1.0) == pytest.approx(60.45, abs=0.006)


@pytest.mark.parametrize(
    ("steel", "ce", "cet", "pcm"),
    [(S4130, 0.6133, 0.4175, 0.3942), (S1018, 0.305, 0.255, 0.2242), (S355, 0.4190, 0.3113, 0.2497)],
)
def test_c3_1_carbon_equivalents_golden(steel: SteelChemistry, ce: float, cet: float, pcm: float) -> None:
    assert p.ce_iiw(steel) == pytest.approx(ce, abs=6e-5)
    assert p.cet(steel) == pytest.approx(cet, abs=6e-5)
    assert p.pcm(steel) == pytest.approx(pcm, abs=6e-5)


@pytest.mark.parametrize(
    ("case", "golden"),
    [
        ((0.30, 30, 4, 1.0), 76.88),
        ((0.35, 20, 5, 1.0), 94.03),
        ((0.40, 30, 5, 1.5), 154.67),
        ((0.25, 10, 5, 0.5), -9.71),
    ],
)
def test_c3_2_method_b_golden(case: tuple[float, float, float, float], golden: float) -> None:
    assert p.method_b_preheat_c(*case) == pytest.approx(golden, abs=0.006)


@given(cets, depths, hydrogens, heats)
def test_method_b_is_the_sum_of_the_standards_partial_curves(cet: float, d: float, h: float, q: float) -> None:
    """EN 1011-2 C.3 (memory) also gives each influence as a curve of its own; together they are the formula."""
    parts = (
        750 * cet - 150,
        160 * math.tanh(d / 35) - 110,
        62 * h**0.35 - 100,
        (53 * cet - 32) * q - 53 * cet + 32,
    )
    assert p.method_b_preheat_c(cet, d, h, q) == pytest.approx(sum(parts), abs=1e-9)


@given(cets, depths, hydrogens, heats)
def test_more_carbon_plate_or_hydrogen_wants_more_preheat_and_more_heat_less(
    cet: float, d: float, h: float, q: float
) -> None:
    base = p.method_b_preheat_c(cet, d, h, q)
    assert p.method_b_preheat_c(0.5, d, h, q) >= base
    assert p.method_b_preheat_c(cet, 90.0, h, q) >= base
    assert p.method_b_preheat_c(cet, d, 20.0, q) >= base
    assert p.method_b_preheat_c(cet, d, h, 4.0) <= base


@pytest.mark.parametrize(
    ("case", "named"),
    [
        ((0.19, 20.0, 5.0, 1.0), "CET"),
        ((0.51, 20.0, 5.0, 1.0), "CET"),
        ((0.30, 3.0, 5.0, 1.0), "thickness"),
        ((0.30, 20.0, 0.5, 1.0), "hydrogen"),
        ((0.30, 20.0, 5.0, 0.3), "heat input"),
        ((0.30, 20.0, 5.0, 4.1), "heat input"),
    ],
)
def test_method_b_outside_its_validity_names_it(case: tuple[float, float, float, float], named: str) -> None:
    with pytest.raises(PhysicsRangeError) as caught:
        p.method_b_preheat_c(*case)
    assert caught.value.name == named
    assert "Method B" in caught.value.diagnostics[0].help


def test_method_b_refuses_very_strong_steel() -> None:
    with pytest.raises(PhysicsRangeError, match="yield strength"):
        p.method_b_preheat_c(0.3, 20.0, 5.0, 1.0, 1100.0)


@pytest.mark.parametrize(
    ("ce", "hydrogen", "heat", "printed"),
    [
        (0.49, 16.0, 1.0, 25.0),
        (0.49, 12.0, 2.0, 55.0),
        (0.49, 4.0, 1.0, 50.0),
        (0.49, 3.0, 2.0, 100.0),
        (0.43, 16.0, 1.0, 40.0),
        (0.43, 15.0, 2.0, 90.0),
        (0.43, 5.0, 1.0, 100.0),
    ],
)
def test_method_a_table_as_printed(ce: float, hydrogen: float, heat: float, printed: float) -> None:
    """EN 1011-2:2001 + A1:2003 Table C.1, p. 17."""
    assert p.method_a_without_preheat(ce, hydrogen, heat).combined_mm == printed


def test_method_a_takes_the_safe_neighbouring_column_and_says_which() -> None:
    found = p.method_a_without_preheat(0.45, 16.0, 1.8)
    assert (found.combined_mm, found.column_ce, found.column_heat_input_kj_mm) == (25.0, 0.49, 1.0)


@pytest.mark.parametrize(
    ("ce", "hydrogen", "heat"), [(0.50, 4.0, 1.0), (0.43, 4.0, 0.3), (0.43, 4.0, 2.1), (0.2, 4.0, 1.0)]
)
def test_method_a_outside_its_columns(ce: float, hydrogen: float, heat: float) -> None:
    with pytest.raises(PhysicsRangeError):
        p.method_a_without_preheat(ce, hydrogen, heat)


@pytest.mark.parametrize(("ce", "hydrogen", "heat"), [(0.43, 8.0, 1.0), (0.49, 3.0, 1.0)])
def test_method_a_where_the_table_has_no_figure(ce: float, hydrogen: float, heat: float) -> None:
    with pytest.raises(NotCoveredError, match="no figure"):
        p.method_a_without_preheat(ce, hydrogen, heat)


@given(st.floats(0.3, 0.49), st.floats(0.1, 20.0), st.floats(1.0, 2.0))
def test_method_a_never_gives_more_than_the_better_column(ce: float, hydrogen: float, heat: float) -> None:
    if 5.0 < hydrogen <= 10.0:
        return
    best = p.method_a_without_preheat(0.43, hydrogen, 2.0).combined_mm
    try:
        assert p.method_a_without_preheat(ce, hydrogen, heat).combined_mm <= best
    except NotCoveredError:
        assert hydrogen <= 3.0


def test_combined_thickness_counts_every_path() -> None:
    """Two 8 mm plates butted: 16 mm; a tee of 6 on 8 mm: 22 mm."""
    assert p.combined_thickness_mm([8.0, 8.0]) == 16.0
    assert p.combined_thickness_mm([8.0, 8.0, 6.0]) == 22.0
    with pytest.raises(PhysicsRangeError):
        p.combined_thickness_mm([])


@pytest.mark.parametrize(
    ("category", "thickness", "celsius", "fahrenheit"),
    [
        ("A", 3.2, 0, 32),
        ("A", 20, 0, 32),
        ("A", 20.1, 65, 150),
        ("A", 50, 110, 225),
        ("A", 80, 150, 300),
        ("B", 25, 10, 50),
        ("B", 65, 65, 150),
        ("B", 66, 110, 225),
        ("C", 10, 10, 50),
    ],
)
def test_d1_1_minimum_table(category: str, thickness: float, celsius: float, fahrenheit: float) -> None:
    """AWS D1.1:2015 Table 3.3; TI 809-26 Table 3-1."""
    found = p.d1_1_minimum(category, thickness)
    assert (found.celsius, found.fahrenheit) == (celsius, fahrenheit)


def test_d1_1_degrees_agree_within_the_rounding_of_the_print() -> None:
    for rows in p.D1_1_MINIMA.values():
        for celsius, fahrenheit in rows:
            assert celsius == pytest.approx((fahrenheit - 32) / 1.8, abs=3.0)


def test_d1_1_refuses_sheet_and_unknown_categories() -> None:
    with pytest.raises(PhysicsRangeError, match="from 3 mm"):
        p.d1_1_minimum("B", 1.6)
    with pytest.raises(NotCoveredError):
        p.d1_1_minimum("D", 10.0)


def test_stainless_steel_has_no_carbon_equivalent() -> None:
    with pytest.raises(PhysicsRangeError, match="alloying elements"):
        SteelChemistry(0.05, mn=1.5, cr=18.0, ni=8.0)
    with pytest.raises(PhysicsRangeError, match="carbon"):
        SteelChemistry(3.2)
