"""Sections against polygons drawn point by point, filler against a published figure."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import groove as g
from advisor.physics.ranges import PhysicsRangeError

MM = 1e-3
MM2 = 1e-6
Points = list[tuple[float, float]]


def shoelace(points: Points) -> float:
    """Area of a polygon from its corners."""
    turned = points[1:] + points[:1]
    return 0.5 * abs(sum(x * v - u * y for (x, y), (u, v) in zip(points, turned, strict=True)))


def test_p7_1_filler_makers_fillet() -> None:
    """Filler maker's consumption pages: steel fillet, 1/2 in leg, 0.283 lb/in3 -> 0.424 lb/ft."""
    inch, pound = 0.0254, 0.45359237
    mass = g.bead_mass(g.fillet_area(0.5 * inch), 12 * inch, 0.283 * pound / inch**3)
    assert mass / pound == pytest.approx(0.424, abs=0.001)


def test_c7_1_grooves_golden() -> None:
    assert g.single_v_area(6 * MM, 2 * MM, 2 * MM, 60.0) / MM2 == pytest.approx(21.238, abs=6e-4)
    assert g.single_v_area(12 * MM, 2 * MM, 2 * MM, 60.0) / MM2 == pytest.approx(81.735, abs=6e-4)
    assert g.single_bevel_area(10 * MM, 2 * MM, 2 * MM, 45.0) / MM2 == pytest.approx(52.0, abs=6e-4)


def test_c7_2_aluminium_fillet_golden() -> None:
    area = g.fillet_area(3 * MM)
    assert area / MM2 == pytest.approx(4.5)
    assert g.bead_mass(area, 1.0, 2700.0) == pytest.approx(12.15e-3)
    assert g.filler_length(area, 1.0, 1.6 * MM) == pytest.approx(2.238, abs=6e-4)
    assert g.filler_length(area, 1.0, 2.4 * MM) == pytest.approx(0.9947, abs=6e-5)


def test_c7_3_larger_fillet_golden() -> None:
    area = g.fillet_area(4 * MM)
    assert g.bead_mass(area, 1.0, 2690.0) == pytest.approx(21.52e-3)
    assert g.filler_length(area, 1.0, 2.4 * MM) == pytest.approx(1.768, abs=6e-4)


@given(st.floats(1.0, 30.0), st.floats(0.0, 4.0), st.floats(0.0, 1.0), st.floats(0.0, 120.0))
def test_single_v_is_its_polygon(thickness: float, gap: float, face_share: float, included: float) -> None:
    face = face_share * thickness
    out = 0.5 * gap + (thickness - face) * math.tan(math.radians(included) / 2)
    right: Points = [(0.5 * gap, 0.0), (0.5 * gap, face), (out, thickness)]
    corners = right + [(-x, y) for x, y in reversed(right)]
    area = g.single_v_area(thickness * MM, gap * MM, face * MM, included)
    assert area / MM2 == pytest.approx(shoelace(corners), rel=1e-9, abs=1e-9)


@given(st.floats(6.0, 30.0), st.floats(0.0, 4.0), st.floats(0.0, 3.0), st.floats(0.0, 3.0), st.floats(0.0, 30.0))
def test_single_u_is_its_polygon(thickness: float, gap: float, face: float, radius: float, bevel: float) -> None:
    """The arc drawn in 2000 chords."""
    beta = math.radians(bevel)
    turns = [(0.5 * math.pi - beta) * i / 2000 for i in range(2001)]
    arc = [(0.5 * gap + radius * math.sin(u), face + radius * (1 - math.cos(u))) for u in turns]
    out = arc[-1][0] + (thickness - arc[-1][1]) * math.tan(beta)
    right: Points = [(0.5 * gap, 0.0), *arc, (out, thickness)]
    corners = right + [(-x, y) for x, y in reversed(right)]
    area = g.single_u_area(thickness * MM, gap * MM, face * MM, radius * MM, bevel)
    assert area / MM2 == pytest.approx(shoelace(corners), rel=1e-6, abs=1e-6)


@given(st.floats(2.0, 30.0), st.floats(0.0, 4.0), st.floats(0.0, 1.0), st.floats(0.0, 70.0))
def test_families_meet_at_their_limits(thickness: float, gap: float, face_share: float, bevel: float) -> None:
    t, gap_m, face = thickness * MM, gap * MM, face_share * thickness * MM
    square = g.square_butt_area(t, gap_m)
    v = g.single_v_area(t, gap_m, face, 2 * bevel)
    assert g.single_u_area(t, gap_m, face, 0.0, bevel) == pytest.approx(v, abs=1e-15)
    assert g.single_v_area(t, gap_m, face, 0.0) == pytest.approx(square, abs=1e-15)
    assert g.single_v_area(t, gap_m, t, 2 * bevel) == pytest.approx(square, abs=1e-15)
    one_side = g.single_bevel_area(t, gap_m, face, bevel)
    assert v - square == pytest.approx(2 * (one_side - square), abs=1e-15)
    double = g.double_v_area(t, gap_m, face, 2 * bevel)
    assert double - square == pytest.approx(0.5 * (v - square), abs=1e-15)


@given(st.floats(1.0, 20.0), st.floats(1.0, 20.0), st.floats(30.0, 150.0))
def test_fillet_legs_may_be_swapped_and_scale_by_the_square(one: float, other: float, angle: float) -> None:
    area = g.fillet_area(one * MM, other * MM, angle)
    assert area == pytest.approx(g.fillet_area(other * MM, one * MM, angle))
    assert g.fillet_area(2 * one * MM, 2 * other * MM, angle) == pytest.approx(4 * area)
    assert g.fillet_area(one * MM) == pytest.approx(g.fillet_area(one * MM, one * MM))


@given(st.floats(0.5, 20.0), st.floats(0.0, 0.9))
def test_outside_corner_flat_and_round_against_points_on_them(thickness: float, share: float) -> None:
    """The notch is drawn point by point: a triangle, and an ellipse of a thousand corners."""
    found = g.outside_corner_area(thickness * MM, share * thickness * MM)
    left = (1 - share) * thickness
    assert found.low / MM2 == pytest.approx(shoelace([(0, 0), (left, 0), (0, thickness)]), rel=1e-9)
    turns = [0.5 * math.pi * i / 1000 for i in range(1001)]
    ellipse = [(0.0, 0.0), *((left * math.cos(u), thickness * math.sin(u)) for u in turns)]
    assert found.high / MM2 == pytest.approx(shoelace(ellipse), rel=1e-5)


def test_a_closed_corner_leaves_no_notch() -> None:
    assert g.outside_corner_area(3 * MM, 3 * MM).high == 0.0


@given(st.floats(2.0, 20.0), st.floats(0.001, 0.5))
def test_parabolic_cap_against_the_circular_one(width: float, ratio: float) -> None:
    """A circular segment of the same width and height is 0 to 18 % larger (pi/4 against 2/3 at a half circle)."""
    height = ratio * width
    radius = (0.25 * width**2 + height**2) / (2 * height)
    half = 2 * math.atan2(2 * height, width)
    segment = radius**2 * (half - math.sin(half) * math.cos(half))
    assert 0.999 < segment / (g.cap_area(width * MM, height * MM) / MM2) < 1.179


@given(st.floats(0.1, 100.0), st.floats(0.05, 5.0), st.floats(0.3, 1.0), st.floats(0.8, 5.0))
def test_filler_by_length_weighs_what_filler_by_mass_weighs(
    area: float, seam: float, share: float, diameter: float
) -> None:
    rod = g.filler_length(area * MM2, seam, diameter * MM, share)
    weighed = rod * math.pi / 4 * (diameter * MM) ** 2 * 2690.0
    assert weighed == pytest.approx(g.filler_mass(area * MM2, seam, 2690.0, share))


@pytest.mark.parametrize(("filler", "rods", "left"), [(0.0, 0, 0.0), (0.9, 1, 0.0), (0.95, 2, 0.85), (1.8, 2, 0.0)])
def test_rods_are_counted_whole_with_their_stubs(filler: float, rods: int, left: float) -> None:
    found = g.rods_needed(filler, 1.0, 0.1)
    assert found.rods == rods
    assert found.left_over == pytest.approx(left, abs=1e-9)


def test_every_deposition_row_is_a_share_with_a_source() -> None:
    for row in g.DEPOSITION.values():
        assert 0.3 <= row.low <= row.high <= 1.0
        assert row.sources


@pytest.mark.parametrize(
    "call",
    [
        lambda: g.single_v_area(5 * MM, 1 * MM, 6 * MM, 60.0),
        lambda: g.single_v_area(5 * MM, -1 * MM, 1 * MM, 60.0),
        lambda: g.single_v_area(5 * MM, 1 * MM, 1 * MM, 170.0),
        lambda: g.single_u_area(5 * MM, 1 * MM, 1 * MM, 6 * MM, 8.0),
        lambda: g.fillet_area(0.0),
        lambda: g.fillet_area(3 * MM, angle_deg=20.0),
        lambda: g.cap_area(4 * MM, 3 * MM),
        lambda: g.filler_length(1e-6, 1.0, 1.6),
        lambda: g.rods_needed(1.0, 1.0, 1.0),
        lambda: g.filler_mass(1e-6, 1.0, 2.7, 0.9),
    ],
)
def test_what_cannot_be_drawn_is_refused(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()


def test_the_arc_of_a_u_may_end_at_the_surface() -> None:
    """Bevel 30 deg, 10 mm deep: an arc of 10/(1 - sin 30 deg) = 20 mm ends at the surface. Its side is the segment
    r2/2 (phi - sin phi cos phi) with phi 60 deg: 200 x (1.0472 - 0.4330) = 122.84 mm2."""
    area = g.single_u_area(12 * MM, 2 * MM, 2 * MM, 20 * MM, 30.0)
    assert area / MM2 == pytest.approx(24.0 + 2 * 122.84, abs=0.02)
    with pytest.raises(PhysicsRangeError, match="below the surface"):
        g.single_u_area(12 * MM, 2 * MM, 2 * MM, 20.02 * MM, 30.0)
