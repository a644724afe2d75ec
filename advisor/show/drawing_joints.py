"""The eight joints as prepared, in section: which polygons their plates are, and which distances are dimensioned.

Millimetres, x to the right, y upward. The joint line (where the arc would stand on equal members) and the way the
torch comes from are part of each, so that the aim can be drawn over the same plates.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from advisor.show.drawing import Angle, Dimension, Note, Point, Shape, box


class Edges(NamedTuple):
    """What the advice says of the joint [mm, deg]; None where no rule gives a number. text: name -> number in words."""

    joint: str
    thickness: tuple[float, float]
    gap: float | None
    root_face: float | None
    angle: float | None
    edge_break: float | None
    leg: float | None
    overlap: float | None
    groove: str
    text: dict[str, str]


class JointSection(NamedTuple):
    """A joint in section. line: the joint line; torch: direction the torch comes from [deg]; along: unit vectors from
    the joint line onto the first and the second member."""

    shapes: tuple[Shape, ...]
    dimensions: tuple[Dimension, ...]
    angles: tuple[Angle, ...]
    notes: tuple[Note, ...]
    line: Point
    torch: float
    along: tuple[Point, Point]


UP, DOWN, LEFT, RIGHT = (0.0, 1.0), (0.0, -1.0), (-1.0, 0.0), (1.0, 0.0)
# Where the words about a shut gap find room.
_LEADERS = {
    "butt": (0.35, -0.9),
    "tee": (-0.9, 0.6),
    "lap": (-0.9, -0.6),
    "corner-open": (1.0, -0.6),
    "corner-half-open": (1.0, -0.6),
    "corner-closed": (1.0, -0.7),
    "corner-inside": (-0.9, 0.6),
    "edge": (1.0, 0.5),
}


def section(edges: Edges) -> JointSection:
    """The joint named, in section."""
    return _JOINTS[edges.joint](edges)


def _reach(edges: Edges) -> float:
    """How much of a plate is shown beside the joint."""
    return 4.0 * max(edges.thickness) + 4.0


def _plate(number: int, points: tuple[Point, ...]) -> Shape:
    return Shape(f"plate-{number}", points, f"member {number}")


def _cut(start: Point, end: Point) -> Shape:
    """The zigzag where a plate goes on beyond the picture."""
    (x1, y1), (x2, y2) = start, end
    dx, dy = x2 - x1, y2 - y1
    nx, ny = dy * 0.18, -dx * 0.18
    points = [(-0.35, 0), (0.4, 0), (0.45, 1), (0.55, -1), (0.6, 0), (1.35, 0)]
    return Shape("cut", tuple((x1 + dx * t + nx * n, y1 + dy * t + ny * n) for t, n in points), closed=False)


def _sized(edges: Edges, name: str, start: Point, end: Point, push: Point, level: int = 1) -> list[Dimension]:
    words = edges.text.get(name)
    leader = _LEADERS[edges.joint]
    return [Dimension(name, words, start, end, push, level, leader=leader)] if words else []


def _butt(edges: Edges) -> JointSection:
    t1, t2 = edges.thickness
    # Less of the plates than elsewhere, so that groove and root are drawn large.
    wide, half = _reach(edges) * 0.6, (edges.gap or 0.0) / 2
    bevels = _bevels(edges)
    face = min(edges.root_face or 0.0, t1, t2) if any(bevels) else 0.0
    first = _edge(t1, face, bevels[0], edges.edge_break)
    second = _edge(t2, face, bevels[1], edges.edge_break)
    left = ((-half - wide, 0.0), *((-half - x, y) for x, y in first), (-half - wide, t1))
    right = ((half + wide, 0.0), *((half + x, y) for x, y in second), (half + wide, t2))
    dimensions = [
        *_sized(edges, "thickness_1", (-half - wide, 0), (-half - wide, t1), LEFT),
        *_sized(edges, "root_gap", (-half, 0), (half, 0), DOWN),
    ]
    # The root face takes the place of a thickness that is the same as the first.
    if not face or t1 != t2:
        dimensions += _sized(edges, "thickness_2", (half + wide, 0), (half + wide, t2), RIGHT, 5 if face else 1)
    if face:
        dimensions += _sized(edges, "root_face", (half + wide, 0), (half + wide, face), RIGHT)
    angles, notes = _groove_words(edges, bevels, face, half)
    shapes = [_plate(1, left), _plate(2, right), _cut((-half - wide, 0), (-half - wide, t1))]
    shapes.append(_cut((half + wide, 0), (half + wide, t2)))
    if face:
        shapes.append(Shape("thin", ((half, face), (half + wide, face)), closed=False))
    if edges.edge_break and not any(bevels):
        corner = (-half - edges.edge_break / 2, t1 - edges.edge_break / 2)
        notes.append(Note(f"edge break {edges.text['edge_break']}", corner, (-22, 26)))
    # The arc stands at the bottom of an open groove, and on the top of a square edge.
    top = face if any(bevels) else min(t1, t2)
    return JointSection(tuple(shapes), tuple(dimensions), angles, tuple(notes), (0, top), 90, (LEFT, RIGHT))


def _bevels(edges: Edges) -> tuple[float, float]:
    """The bevel of each edge [deg from upright]; 0 is square. Known only where a rule gives the angle."""
    if edges.angle is None:
        return 0.0, 0.0
    if "single bevel" in edges.groove:
        return edges.angle, 0.0
    return (edges.angle / 2, edges.angle / 2) if "V" in edges.groove else (0.0, 0.0)


def _edge(thickness: float, face: float, bevel: float, edge_break: float | None) -> list[Point]:
    """The profile of an edge from root to top: (back from the edge, height)."""
    if bevel:
        return [(0.0, 0.0), (0.0, face), ((thickness - face) * math.tan(math.radians(bevel)), thickness)]
    if edge_break and edge_break < thickness / 2:
        return [(0.0, 0.0), (0.0, thickness - edge_break), (edge_break, thickness)]
    return [(0.0, 0.0), (0.0, thickness)]


def _groove_words(
    edges: Edges, bevels: tuple[float, float], face: float, half: float
) -> tuple[tuple[Angle, ...], list[Note]]:
    if not any(bevels):
        return (), []
    depth = max(edges.thickness) - face
    # Where both flanks would meet: the gap lies below it.
    spread = sum(math.tan(math.radians(bevel)) for bevel in bevels)
    apex = (half - 2 * half * math.tan(math.radians(bevels[1])) / spread, face - 2 * half / spread)
    radius = (depth + 2 * half / spread) / math.cos(math.radians(max(bevels))) * 1.12
    words = edges.text.get("groove_angle", "")
    return (Angle("groove_angle", words, apex, 90 - bevels[1], 90 + bevels[0], radius),), []


def _fillet(edges: Edges, corner: Point) -> tuple[list[Shape], list[Dimension]]:
    """The fillet to come, dashed, with its leg."""
    if not edges.leg:
        return [], []
    x, y = corner
    leg = edges.leg
    shape = Shape("weld", ((x, y), (x + leg, y), (x, y + leg)), "fillet to come")
    return [shape], _sized(edges, "fillet_leg", (x + leg, y), (x + leg, y + leg), RIGHT)


def _tee(edges: Edges) -> JointSection:
    t1, t2 = edges.thickness
    gap, wide = edges.gap or 0.0, _reach(edges)
    tall = wide * 0.75
    upright, angles, notes = _upright(edges, gap, tall)
    base = box(-wide * 0.75, -t2, wide * 0.8, 0)
    weld, legs = _fillet(edges, (0, 0))
    if "both sides" in edges.groove and edges.leg:
        weld.append(Shape("weld", ((-t1, 0), (-t1 - edges.leg, 0), (-t1, edges.leg)), "second fillet to come"))
    dimensions = [
        *_sized(edges, "thickness_1", (-t1, gap + tall), (0, gap + tall), UP),
        *_sized(edges, "thickness_2", (wide * 0.8, -t2), (wide * 0.8, 0), RIGHT),
        *_sized(edges, "root_gap", (-t1, 0), (-t1, gap), LEFT),
        *legs,
    ]
    shapes = [_plate(1, upright), _plate(2, base), *weld, _cut((0, gap + tall), (-t1, gap + tall))]
    shapes += [_cut((-wide * 0.75, -t2), (-wide * 0.75, 0)), _cut((wide * 0.8, -t2), (wide * 0.8, 0))]
    return JointSection(tuple(shapes), tuple(dimensions), angles, notes, (0, 0), 45, (UP, RIGHT))


def _upright(edges: Edges, gap: float, tall: float) -> tuple[tuple[Point, ...], tuple[Angle, ...], tuple[Note, ...]]:
    """The upright of a tee: square, or bevelled on the side of the weld, its angle measured from the plate below."""
    thick, face = edges.thickness[0], edges.root_face or 0.0
    if "bevel" not in edges.groove or edges.angle is None or face >= thick:
        return box(-thick, gap, 0, gap + tall), (), ()
    slope = math.tan(math.radians(edges.angle))
    rise = min((thick - face) * slope, tall * 0.8)
    shape = ((-thick, gap), (face - thick, gap), (0.0, gap + rise), (0.0, gap + tall), (-thick, gap + tall))
    # Where the bevel would meet the plate below.
    apex = (face - thick - gap / slope, 0.0)
    radius = -apex[0] / math.cos(math.radians(edges.angle)) * 1.12
    angle = Angle("groove_angle", edges.text.get("groove_angle", ""), apex, 0, edges.angle, radius)
    notes = [Note(edges.text["root_face"], (-thick + face / 2, gap), (-30, 30))] if face else []
    return shape, (angle,), tuple(notes)


def _lap(edges: Edges) -> JointSection:
    t1, t2 = edges.thickness
    gap, wide = edges.gap or 0.0, _reach(edges)
    over = edges.overlap or 5 * min(t1, t2)
    left = over + wide * 0.5
    upper, lower = box(-left, gap, 0, gap + t1), box(-over, -t2, wide, 0)
    weld, legs = _fillet(edges, (0, 0))
    dimensions = [
        *_sized(edges, "thickness_1", (-left, gap), (-left, gap + t1), LEFT),
        *_sized(edges, "thickness_2", (wide, -t2), (wide, 0), RIGHT),
        *_sized(edges, "overlap", (-over, -t2), (0, -t2), DOWN),
        *legs,
    ]
    if "root_gap" in edges.text:
        dimensions += _sized(edges, "root_gap", (-over, 0), (-over, gap), LEFT)
    shapes = [_plate(1, upper), _plate(2, lower), *weld]
    shapes += [_cut((-left, gap), (-left, gap + t1)), _cut((wide, -t2), (wide, 0))]
    return JointSection(tuple(shapes), tuple(dimensions), (), (), (0, 0), 45, (UP, RIGHT))


def _corner(edges: Edges, cover: float) -> JointSection:
    """An outside corner: the first member lies flat and covers this much of the second, which stands below."""
    t1, t2 = edges.thickness
    gap, wide = edges.gap or 0.0, _reach(edges)
    flat = box(-wide, gap, cover, gap + t1)
    upright = box(0, -wide * 0.8, t2, 0)
    dimensions = [
        *_sized(edges, "thickness_1", (-wide, gap), (-wide, gap + t1), LEFT),
        *_sized(edges, "thickness_2", (0, -wide * 0.8), (t2, -wide * 0.8), DOWN),
        *_sized(edges, "cover", (0, gap + t1), (cover, gap + t1), UP),
        *_sized(edges, "root_gap", (t2, 0), (t2, gap), RIGHT),
    ]
    shapes = [_plate(1, flat), _plate(2, upright), _cut((-wide, gap), (-wide, gap + t1))]
    shapes.append(_cut((t2, -wide * 0.8), (0, -wide * 0.8)))
    if cover >= t2:
        note = Note("weld along here", (t2, 0), (44, 40))
        return JointSection(tuple(shapes), tuple(dimensions), (), (note,), (t2, 0), 0, (UP, DOWN))
    return JointSection(tuple(shapes), tuple(dimensions), (), (), (cover, 0), 45, (UP, RIGHT))


def _corner_inside(edges: Edges) -> JointSection:
    t1, t2 = edges.thickness
    gap, wide = edges.gap or 0.0, _reach(edges)
    upright = box(-t1, gap, 0, gap + wide * 0.8)
    base = box(-t1, -t2, wide, 0)
    weld, legs = _fillet(edges, (0, 0))
    dimensions = [
        *_sized(edges, "thickness_1", (-t1, gap + wide * 0.8), (0, gap + wide * 0.8), UP),
        *_sized(edges, "thickness_2", (wide, -t2), (wide, 0), RIGHT),
        *_sized(edges, "root_gap", (-t1, 0), (-t1, gap), LEFT),
        *legs,
    ]
    shapes = [_plate(1, upright), _plate(2, base), *weld]
    shapes += [_cut((0, gap + wide * 0.8), (-t1, gap + wide * 0.8)), _cut((wide, -t2), (wide, 0))]
    return JointSection(tuple(shapes), tuple(dimensions), (), (), (0, 0), 45, (UP, RIGHT))


def _edge_joint(edges: Edges) -> JointSection:
    t1, t2 = edges.thickness
    half, deep = (edges.gap or 0.0) / 2, _reach(edges) * 0.8
    first, second = box(-half - t1, -deep, -half, 0), box(half, -deep, half + t2, 0)
    dimensions = [
        *_sized(edges, "thickness_1", (-half - t1, 0), (-half, 0), UP),
        *_sized(edges, "thickness_2", (half, -deep), (half + t2, -deep), DOWN),
        *_sized(edges, "root_gap", (-half, 0), (half, 0), UP),
    ]
    shapes = [_plate(1, first), _plate(2, second), _cut((-half, -deep), (-half - t1, -deep))]
    shapes.append(_cut((half + t2, -deep), (half, -deep)))
    return JointSection(tuple(shapes), tuple(dimensions), (), (), (0, 0), 90, (LEFT, RIGHT))


_JOINTS: dict[str, Callable[[Edges], JointSection]] = {
    "butt": _butt,
    "corner-open": lambda edges: _corner(edges, 0.0),
    "corner-half-open": lambda edges: _corner(edges, edges.thickness[1] / 2),
    "corner-closed": lambda edges: _corner(edges, edges.thickness[1]),
    "corner-inside": _corner_inside,
    "tee": _tee,
    "lap": _lap,
    "edge": _edge_joint,
}
