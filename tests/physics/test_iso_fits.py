"""ISO 286 limits: printed fits, and the tables held to the formulas of the standard they were rounded from."""

from __future__ import annotations

import math

import pytest

from advisor.physics import iso_fits as f
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

MM = 1e-3


def microns(limits: f.Limits) -> tuple[int, int]:
    return round(limits.low * 1e6), round(limits.high * 1e6)


@pytest.mark.parametrize(
    ("fit", "size", "hole", "shaft"),
    [
        ("H7/s6", 50, (0, 25), (43, 59)),  # textbook worked example, Manufacturing Considerations in Design (read)
        ("H8/f7", 50, (0, 39), (-50, -25)),  # encyclopaedia on engineering fits (read)
        ("H7/p6", 30, (0, 21), (22, 35)),  # ISO 286-2 (memory), as all below
        ("H7/p6", 62, (0, 30), (32, 51)),
        ("P7/h6", 62, (-51, -21), (-19, 0)),
        ("N7/h6", 62, (-39, -9), (-19, 0)),
        ("K7/h6", 62, (-21, 9), (-19, 0)),
        ("M7/h6", 52, (-30, 0), (-19, 0)),
        ("K8/h7", 40, (-27, 12), (-25, 0)),
        ("S7/h6", 80, (-78, -48), (-19, 0)),
        ("R7/h6", 100, (-73, -38), (-22, 0)),
        ("H7/u6", 40, (0, 25), (60, 76)),
        ("H7/r6", 80, (0, 30), (43, 62)),
        ("H6/n5", 25, (0, 13), (15, 24)),
        ("JS7/h6", 50, (-12, 12), (-16, 0)),
        ("M6/h5", 300, (-41, -9), (-23, 0)),
        ("N9/h9", 50, (-62, 0), (-62, 0)),
    ],
)
def test_printed_limits(fit: str, size: float, hole: tuple[int, int], shaft: tuple[int, int]) -> None:
    found = f.fit_limits(fit, size * MM)
    assert microns(found.hole) == hole
    assert microns(found.shaft) == shaft
    assert round(found.least * 1e6) == shaft[0] - hole[1] or "JS" in fit
    assert round(found.most * 1e6) == pytest.approx(shaft[1] - hole[0], abs=1)


def test_bearing_in_a_bore() -> None:
    """ISO 492, normal class, 62 mm: 0/-13 um (memory)."""
    found = f.fit_limits("P7/bearing", 62 * MM)
    assert microns(found.shaft) == (-13, 0)
    assert (round(found.least * 1e6), round(found.most * 1e6)) == (8, 51)


STEPS = list(
    zip((1.7321, *(math.sqrt(a * b) for a, b in zip(f.STEPS, f.STEPS[1:], strict=False))), range(13), strict=True)
)


@pytest.mark.parametrize(("grade", "units"), [(5, 7), (6, 10), (7, 16), (8, 25), (9, 40), (10, 64), (11, 100)])
def test_grades_follow_the_tolerance_unit(grade: int, units: int) -> None:
    """ISO 286-1: i = 0.45 D^(1/3) + 0.001 D um, D the geometric mean of the step; IT6 = 10 i, IT7 = 16 i ..."""
    for mean, index in STEPS[1:]:  # to 3 mm the standard rounds up further
        unit = 0.45 * mean ** (1 / 3) + 0.001 * mean
        assert f.GRADES[grade][index] == pytest.approx(units * unit, rel=0.06, abs=0.9)


FINE = [math.sqrt(a * b) for a, b in zip((1, *f.FINE), f.FINE, strict=False)]


def it7(size: float) -> float:
    return f.tolerance(7, size * MM) * 1e6


@pytest.mark.parametrize(("letter", "factor"), [("s", 0.4), ("t", 0.63), ("u", 1.0), ("x", 1.6)])
def test_deviations_of_tight_shafts_follow_the_formulas(letter: str, factor: float) -> None:
    """ISO 286-1: s IT7 + 0.4 D over 50 mm; t IT7 + 0.63 D; u IT7 + D; x IT7 + 1.6 D; D the mean of the standard's
    own steps, so the finer ones lie about it. The smallest t is printed 3 um above its formula."""
    for mean, most in zip(FINE, f.FINE, strict=True):
        if (letter == "s" and most <= 50) or (letter == "t" and most <= 30) or most <= 18:
            continue
        printed = f.shaft_limits(f"{letter}7", most * MM).low * 1e6
        assert printed == pytest.approx(it7(most) + factor * mean, rel=0.045, abs=2)


@pytest.mark.parametrize(("letter", "formula"), [("n", lambda d: 5 * d**0.34), ("k", lambda d: 0.6 * d ** (1 / 3))])
def test_deviations_of_light_shafts_follow_the_formulas(letter: str, formula: object) -> None:
    assert callable(formula)
    for mean, index in STEPS[1:]:
        printed = f.shaft_limits(f"{letter}6", f.STEPS[index] * MM).low * 1e6
        assert printed == pytest.approx(formula(mean), abs=1.05)


@pytest.mark.parametrize("size", [5, 12, 25, 45, 70, 110, 150, 240, 490])
def test_a_hole_that_mirrors_the_shaft_holds_as_hard(size: float) -> None:
    """ISO 286-1: P7/h6 has the same interference as H7/p6, by the very rule for holes."""
    for letter in "prsu":
        one = f.fit_limits(f"H7/{letter}6", size * MM)
        two = f.fit_limits(f"{letter.upper()}7/h6", size * MM)
        assert two.least == pytest.approx(one.least, abs=1e-9)
        assert two.most == pytest.approx(one.most, abs=1e-9)


def test_p_is_a_little_over_it7_and_m_is_it7_less_it6() -> None:
    """ISO 286-1: p IT7 + 0 to 5; m IT7 - IT6."""
    for size in (5, 8, 12, 25, 45, 70, 110, 150, 240, 300, 390, 490):
        assert 0 <= f.shaft_limits("p6", size * MM).low * 1e6 - it7(size) <= 5.5
        assert f.shaft_limits("m6", size * MM).low * 1e6 == pytest.approx(
            it7(size) - f.tolerance(6, size * MM) * 1e6, abs=0.01
        )


@pytest.mark.parametrize("fit", ["H7p6", "h7/p6", "H7/P6", "H7/q6", "H3/p6", "H7/p12", "", "/", "K9/h6", "H7/t6"])
def test_what_is_no_fit_here(fit: str) -> None:
    with pytest.raises(NotCoveredError):
        f.fit_limits(fit, 20 * MM)


def test_outside_the_tables() -> None:
    for call in (
        lambda: f.fit_limits("H7/p6", 0.6),
        lambda: f.fit_limits("H7/p6", 0.0),
        lambda: f.fit_limits("P7/h6", 2 * MM),
        lambda: f.bearing_limits(0.4),
    ):
        with pytest.raises(PhysicsRangeError):
            call()
