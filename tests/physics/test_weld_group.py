"""Weld groups: Blodgett's table of welds treated as a line, textbook brackets, and statics."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import weld_group as g
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

MM = 1e-3
D, B = 120 * MM, 50 * MM

sizes = st.floats(5.0, 500.0).map(lambda mm: mm * MM)
loads = st.floats(-1e4, 1e4)


@pytest.mark.parametrize(
    ("group", "modulus", "polar"),
    [
        (g.ONE_LINE, D**2 / 6, D**3 / 12),
        (g.TWO_LINES, D**2 / 3, D * (3 * B**2 + D**2) / 6),
        (g.TOP_BOTTOM, B * D, B * (3 * D**2 + B**2) / 6),
        (g.ALL_ROUND, B * D + D**2 / 3, (B + D) ** 3 / 6),
        (g.THREE_SIDES, B * D + D**2 / 6, (2 * B + D) ** 3 / 12 - B**2 * (B + D) ** 2 / (2 * B + D)),
        (g.TUBE, math.pi * D**2 / 4, math.pi * D**3 / 4),
    ],
)
def test_blodgett_table_of_welds_treated_as_a_line(group: str, modulus: float, polar: float) -> None:
    """Blodgett, Design of Weldments (memory): Sw and Jw of the usual groups, b wide and d high."""
    lines = g.group_lines(group, D, B)
    assert g.bending_modulus(lines) == pytest.approx(modulus, rel=3e-3)
    assert g.properties(lines).polar == pytest.approx(polar, rel=3e-3)


def test_shigley_example_9_1_torsion_of_a_lapped_bracket() -> None:
    """Shigley, ex. 9-1 (memory): 6 mm fillets in a C, 56 mm legs on a 190 mm back: throat area 1280 mm2, centroid
    10.4 mm from the back, J 7.07e6 mm4."""
    lines = g.group_lines(g.THREE_SIDES, 190 * MM, 56 * MM)
    found = g.properties(lines)
    assert found.x / MM + 28 == pytest.approx(10.4, abs=0.05)
    assert found.length * 0.707 * 6e-3 * 1e6 == pytest.approx(1280.0, rel=2e-3)
    assert found.polar * 0.707 * 6e-3 * 1e12 == pytest.approx(7.07e6, rel=6e-3)


def test_bracket_by_hand() -> None:
    """Two lines 100 mm high, 5 kN at 200 mm: 25 N/mm along and M/Sw = 300 N/mm out; the throat in MPa."""
    lines = g.group_lines(g.TWO_LINES, 0.1, 0.01)
    worst = g.worst_line_force(lines, g.Wrench(fy=-5e3, mx=1e3))
    assert abs(worst.out) == pytest.approx(300e3)
    assert abs(worst.along) == pytest.approx(25e3)
    assert worst.size == pytest.approx(math.hypot(300e3, 25e3))
    stress = g.fillet_throat(worst, 5 * MM)
    assert stress.equivalent / 1e6 == pytest.approx(math.sqrt(4 * (60 / math.sqrt(2)) ** 2 + 3 * 5**2))


@given(st.sampled_from(g.GROUPS), sizes, sizes, loads, loads, loads, loads, loads, loads)
def test_the_seams_balance_what_is_put_on_them(
    group: str, d: float, b: float, fx: float, fy: float, fz: float, mx: float, my: float, mz: float
) -> None:
    lines = g.group_lines(group, d, b)
    p = g.properties(lines)
    if group == g.ONE_LINE:
        my = 0.0
    wrench = g.Wrench(fx, fy, fz, mx, my, mz)
    ends = g.line_forces(lines, wrench)
    total = [0.0] * 6
    for index, line in enumerate(lines):
        ux, uy = (line.x1 - line.x0) / line.length, (line.y1 - line.y0) / line.length
        one, two = ends[2 * index], ends[2 * index + 1]
        for at, weight in ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6)):  # Simpson is exact for products of lines
            mix = [a + (c - a) * at for a, c in zip(_flat(one), _flat(two), strict=True)]
            out, across, along, x, y = mix
            qx, qy = across * uy + along * ux, -across * ux + along * uy
            part = (qx, qy, out, out * y, -out * x, x * qy - y * qx)
            for i, value in enumerate(part):
                total[i] += value * weight * line.length
    scale = max(1.0, abs(fx), abs(fy), abs(fz)) + (abs(mx) + abs(my) + abs(mz)) / p.length
    for found, wanted in zip(total[:3], (fx, fy, fz), strict=True):
        assert found == pytest.approx(wanted, abs=1e-6 * scale)
    for found, wanted in zip(total[3:], (mx, my, mz), strict=True):
        assert found == pytest.approx(wanted, abs=1e-6 * (scale * p.length + abs(wanted)))


def _flat(force: g.LineForce) -> tuple[float, float, float, float, float]:
    return force.out, force.across, force.along, force.x, force.y


def test_an_unsymmetric_group_is_bent_about_its_own_axes() -> None:
    """An angle of two equal legs: the moment is balanced although the product of inertia is not zero."""
    lines = (g.Line(0, 0, 0.1, 0), g.Line(0, 0, 0, 0.1))
    p = g.properties(lines)
    assert abs(p.ixy) > 0
    ends = g.line_forces(lines, g.Wrench(mx=100.0))
    moment = [0.0, 0.0]
    for index, line in enumerate(lines):
        one, two = ends[2 * index], ends[2 * index + 1]
        for at, weight in ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6)):
            out = one.out + (two.out - one.out) * at
            moment[0] += out * (one.y + (two.y - one.y) * at) * weight * line.length
            moment[1] -= out * (one.x + (two.x - one.x) * at) * weight * line.length
    assert moment == pytest.approx([100.0, 0.0], abs=1e-9)


@given(loads, loads, loads, st.floats(1.0, 20.0))
def test_throat_stresses_keep_the_force(out: float, across: float, along: float, throat: float) -> None:
    stress = g.fillet_throat(g.LineForce(out, across, along, 0, 0), throat * MM)
    assert stress.sigma_perp**2 + stress.tau_perp**2 + stress.tau_par**2 == pytest.approx(
        (out**2 + across**2 + along**2) / (throat * MM) ** 2, rel=1e-9
    )


def test_outside_the_method() -> None:
    with pytest.raises(NotCoveredError):
        g.group_lines("zigzag", D, B)
    with pytest.raises(PhysicsRangeError):
        g.group_lines(g.ALL_ROUND, D)
    with pytest.raises(PhysicsRangeError):
        g.group_lines(g.ONE_LINE, 0.0)
    with pytest.raises(PhysicsRangeError, match="stiffness"):
        g.line_forces(g.group_lines(g.ONE_LINE, D), g.Wrench(my=1.0))
    with pytest.raises(PhysicsRangeError):
        g.fillet_throat(g.LineForce(1, 0, 0, 0, 0), 0.0)
