"""A box put together from its pieces on paper: sections as polygons, laid by what each edge says, then measured.

Nothing here looks at how the cut list was made: pieces are placed with their inside faces on the finished inside, and
whatever does not fit shows as an overlap, a hole, or an end that stands out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

Point = tuple[float, float]
Polygon = list[Point]


class Side(NamedTuple):
    """A plate in section: length of its outside face, thickness, and what its two ends are."""

    length: float
    thickness: float
    first: str
    last: str


def area(polygon: Sequence[Point]) -> float:
    turned = [*polygon[1:], *polygon[:1]]
    return 0.5 * abs(sum(x * v - u * y for (x, y), (u, v) in zip(polygon, turned, strict=True)))


def clipped(subject: Polygon, window: Polygon) -> Polygon:
    """Sutherland and Hodgman: the part of a convex polygon inside another one (both run counter-clockwise)."""
    found = subject
    for (ax, ay), (bx, by) in zip(window, [*window[1:], window[0]], strict=True):

        def inside(p: Point, ax: float = ax, ay: float = ay, bx: float = bx, by: float = by) -> float:
            return (bx - ax) * (p[1] - ay) - (by - ay) * (p[0] - ax)

        given, found = found, []
        for here, there in zip(given, [*given[1:], *given[:1]], strict=True):
            one, other = inside(here), inside(there)
            if one >= 0:
                found.append(here)
            if (one >= 0) != (other >= 0):
                share = one / (one - other)
                found.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
    return found


def overlap(one: Polygon, other: Polygon) -> float:
    piece = clipped(one, other)
    return area(piece) if len(piece) > 2 else 0.0


# Where an end lies past the inside face it meets, as a person laying the plates would put it, in thicknesses.
LAID = {"butts on": 0.0, "edge to edge": 0.0, "covers half": 0.5, "runs through": 1.0, "45° mitre": 1.0}


def laid(side: Side, inside: float) -> Polygon:
    """A plate under a span from 0 to `inside`: its inside face at 0, its outside face at minus its thickness.

    It is laid by its first end; its last end comes out where its length says.
    """
    if side.last == "free":
        return _quad(inside - side.length, inside, side)
    start = -LAID[side.first] * side.thickness
    return _quad(start, start + side.length, side)


def _quad(start: float, end: float, side: Side) -> Polygon:
    low = side.thickness if side.first == "45° mitre" else 0.0
    high = side.thickness if side.last == "45° mitre" else 0.0
    return [(start, -side.thickness), (end, -side.thickness), (end - high, 0.0), (start + low, 0.0)]


def ring(sides: Sequence[Side], width: float, height: float) -> list[Polygon]:
    """Four plates round a hollow of width by height, each laid from the corner where the one before it ends.

    In turn: below, right, above, left; each as `laid` on its own span and turned into place.
    """
    below, right, above, left = sides
    return [
        laid(below, width),
        [(width - y, x) for x, y in laid(right, height)],
        [(width - x, height - y) for x, y in laid(above, width)],
        [(y, height - x) for x, y in laid(left, height)],
    ]


def extent(polygons: Sequence[Polygon]) -> tuple[float, float, float, float]:
    xs = [x for polygon in polygons for x, _ in polygon]
    ys = [y for polygon in polygons for _, y in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def free_way(polygons: Sequence[Polygon], at: Point, along: Point, most: float) -> float:
    """How far one can go from a point before metal is met, found by halving; `most` where none is."""
    step, width = most, 1e-4
    low, high = 0.0, most

    def met(far: float) -> bool:
        x, y = at
        (dx, dy) = along
        beam = [
            (x - dy * width, y + dx * width),
            (x + dy * width, y - dx * width),
            (x + dx * far + dy * width, y + dy * far - dx * width),
            (x + dx * far - dy * width, y + dy * far + dx * width),
        ]
        return any(overlap(polygon, beam) > width * 1e-3 for polygon in polygons)

    if not met(step):
        return most
    while high - low > 1e-3:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if met(middle) else (middle, high)
    return 0.5 * (low + high)
