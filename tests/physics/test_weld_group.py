"""Weld groups: Blodgett's table of welds treated as a line, textbook brackets, and statics."""

from __future__ import annotations

import math
from collections.abc import Sequence

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


def resultant(lines: Sequence[g.WeldLine], ends: Sequence[g.LineForce]) -> list[float]:
    """Forces and moments about the centroid that forces per length amount to: Simpson's rule, exact for them."""
    total = [0.0] * 6
    for index, line in enumerate(lines):
        ux, uy = (line.x1 - line.x0) / line.length, (line.y1 - line.y0) / line.length
        one, two = ends[2 * index], ends[2 * index + 1]
        for at, weight in ((0.0, 1 / 6), (0.5, 4 / 6), (1.0, 1 / 6)):
            mix = [a + (c - a) * at for a, c in zip(_flat(one), _flat(two), strict=True)]
            out, across, along, x, y = mix
            qx, qy = across * uy + along * ux, -across * ux + along * uy
            part = (qx, qy, out, out * y, -out * x, x * qy - y * qx)
            for i, value in enumerate(part):
                total[i] += value * weight * line.length
    return total


def _flat(force: g.LineForce) -> tuple[float, float, float, float, float]:
    return force.out, force.across, force.along, force.x, force.y


def assert_balanced(lines: Sequence[g.WeldLine], wrench: g.Wrench) -> None:
    found = resultant(lines, g.line_forces(lines, wrench))
    put_on = (wrench.fx, wrench.fy, wrench.fz, wrench.mx, wrench.my, wrench.mz)
    length = g.properties(lines).length
    scale = max(1.0, *map(abs, put_on[:3])) + sum(map(abs, put_on[3:])) / length
    assert found[:3] == pytest.approx(put_on[:3], abs=1e-6 * scale)
    assert found[3:] == pytest.approx(put_on[3:], abs=1e-6 * scale * length, rel=1e-6)


@given(st.sampled_from(g.GROUPS), sizes, sizes, loads, loads, loads, loads, loads, loads)
def test_the_seams_balance_what_is_put_on_them(
    group: str, d: float, b: float, fx: float, fy: float, fz: float, mx: float, my: float, mz: float
) -> None:
    lines = g.group_lines(group, d, b)
    assert_balanced(lines, g.Wrench(fx, fy, fz, mx, 0.0 if group == g.ONE_LINE else my, mz))


@given(st.floats(20.0, 200.0), st.floats(20.0, 200.0), st.floats(-80.0, 80.0), loads, loads, loads)
def test_an_unsymmetric_group_is_bent_about_its_own_axes(
    foot: float, back: float, lean: float, mx: float, my: float, fz: float
) -> None:
    """An angle of unlike legs, leaning to either side: one plane of forces balances both moments, and no other does."""
    lines = (g.WeldLine(0, 0, foot * MM, 0), g.WeldLine(0, 0, lean * MM, back * MM))
    assert_balanced(lines, g.Wrench(fz=fz, mx=mx, my=my))


def test_product_of_inertia_of_an_angle_by_hand() -> None:
    """Legs of 100 mm along x and y: each middle lies 25 mm from the centroid one way and 25 mm the other, so
    ixy = -2 x 100 x 25 x 25 mm3; a leg that leans along y = x adds L3/24."""
    corner = (g.WeldLine(0, 0, 0.1, 0), g.WeldLine(0, 0, 0, 0.1))
    assert g.properties(corner).ixy / MM**3 == pytest.approx(-125_000.0)
    assert g.properties((g.WeldLine(0, 0, 0.1, 0.1),)).ixy == pytest.approx((0.1 * math.sqrt(2.0)) ** 3 / 24)
    ends = g.line_forces(corner, g.Wrench(mx=100.0))
    assert ends[0].out == pytest.approx(ends[2].out)  # both lines meet at the corner
    assert [(round(each.x, 6), round(each.y, 6)) for each in ends] == [
        (-0.025, -0.025), (0.075, -0.025), (-0.025, -0.025), (-0.025, 0.075)
    ]  # fmt: skip


def test_no_load_leaves_no_force() -> None:
    for force in g.line_forces(g.group_lines(g.ALL_ROUND, D, B), g.Wrench()):
        assert force.size == 0.0


def test_size_of_a_line_force() -> None:
    """2, 3, 6 and 7 are whole in space."""
    assert g.LineForce(2.0, 3.0, 6.0, 0.0, 0.0).size == pytest.approx(7.0)
    assert g.LineForce(6.0, 2.0, -3.0, 0.0, 0.0).size == pytest.approx(7.0)


def test_shigley_example_9_1_stress_at_every_corner() -> None:
    """Shigley, ex. 9-1 (memory): 25 kN on one side, 100 mm off the back of that C: 44.0 MPa at the corners of the back,
    37.0 MPa at the ends of the legs."""
    lines = g.group_lines(g.THREE_SIDES, 190 * MM, 56 * MM)
    arm = -(28 + 100) * MM - g.properties(lines).x
    wrench = g.Wrench(fy=-25e3, mz=arm * -25e3)
    throat = 0.707 * 6 * MM
    worst = g.worst_line_force(lines, wrench)
    assert worst.size / throat / 1e6 == pytest.approx(44.0, abs=0.1)
    assert (worst.x / MM, abs(worst.y) / MM) == pytest.approx((-10.4, 95.0), abs=0.05)
    sizes_found = {round(force.size / throat / 1e6, 1) for force in g.line_forces(lines, wrench)}
    assert sizes_found == {43.9, 37.1}


def test_butt_seam_takes_each_force_over_its_depth() -> None:
    """Statics: 300 N/mm out, 100 across, 25 along through 5 mm: 60, 20, 5 MPa; sqrt(60^2 + 3 (20^2 + 5^2)) = 69.82."""
    stress = g.butt_throat(g.LineForce(300e3, 100e3, 25e3, 0.0, 0.0), 5 * MM)
    assert (stress.sigma_perp, stress.tau_perp, stress.tau_par) == pytest.approx((60e6, 20e6, 5e6))
    assert stress.equivalent == pytest.approx(69.82e6, rel=1e-4)


def test_a_fillet_pulled_out_and_across_is_judged_on_its_worse_side() -> None:
    """EN 1993-1-8 fig. 4.5: out 100 and across 50 N/mm on a throat of 5 mm; (50, 150)/(5 sqrt 2) N/mm2 in the order
    that is worse, the larger in shear: sqrt(7.07^2 + 3 x 21.21^2) = 37.42 MPa."""
    for across in (50e3, -50e3):
        stress = g.fillet_throat(g.LineForce(100e3, across, 0.0, 0.0, 0.0), 5 * MM)
        assert stress.equivalent == pytest.approx(37.42e6, rel=1e-4)


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


def test_a_level_seam_resists_no_bending_about_itself() -> None:
    assert g.bending_modulus((g.WeldLine(0.0, 0.0, 0.1, 0.0),)) == 0.0
