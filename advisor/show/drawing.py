"""A small drawing board: shapes in millimetres, true to one scale, with dimensions, as one SVG.

It has no colours of its own: lines take that of the text around them, so a drawing serves on white paper and on a
dark screen. Every dimension carries its name, value and two ends as data, so that what is drawn can be measured.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from html import escape
from typing import NamedTuple

Point = tuple[float, float]

TEXT = 14.0  # size of letters, in units of the drawing
LETTER = 0.56 * TEXT  # mean width of a letter
ARROW = 8.0
NARROWEST = 340.0
SHORT = 30.0  # arrows stand outside a dimension shorter than this


class Shape(NamedTuple):
    """A polygon or line [mm, y upward]. kind: a CSS class (`plate-1`, `weld`, ...); part: what it is, for reading."""

    kind: str
    points: tuple[Point, ...]
    part: str = ""
    closed: bool = True


class Dimension(NamedTuple):
    """A distance [mm] between two points, its line pushed off by `push` (a unit vector), `beyond` mm and then on a
    level 1, 2 ... of lines. leader: the way its words stand where it is zero, as for a gap that is shut."""

    name: str
    text: str
    start: Point
    end: Point
    push: Point
    level: int = 1
    beyond: float = 0.0
    leader: Point = (0.0, 0.0)


class Angle(NamedTuple):
    """An angle [deg, counted from the x axis] at an apex, with its arc at a radius [mm]."""

    name: str
    text: str
    apex: Point
    begins: float
    ends: float
    radius: float


class Note(NamedTuple):
    """Words with a leader line: they stand at `away` (in drawing units, y upward) from the point they speak of."""

    text: str
    at: Point
    away: Point
    arrow: bool = True


class Drawing(NamedTuple):
    """A drawing. name: for ids; alt: what it shows, in words; caption: the same in few words, beside
    what can be seen; most: width and height it may take, drawing units; bar: length of the scale bar [mm]."""

    name: str
    title: str
    alt: str
    shapes: tuple[Shape, ...]
    dimensions: tuple[Dimension, ...] = ()
    angles: tuple[Angle, ...] = ()
    notes: tuple[Note, ...] = ()
    most: Point = (330.0, 190.0)
    bar: float = 10.0
    caption: str = ""


class _Board:
    """Collects SVG and the room it takes, in drawing units with y downward."""

    def __init__(self, scale: float) -> None:
        self.scale = scale
        self.parts: list[str] = []
        self.left = self.top = math.inf
        self.right = self.bottom = -math.inf

    def at(self, point: Point) -> Point:
        return point[0] * self.scale, -point[1] * self.scale

    def room(self, *points: Point) -> None:
        for x, y in points:
            self.left, self.right = min(self.left, x), max(self.right, x)
            self.top, self.bottom = min(self.top, y), max(self.bottom, y)

    def path(self, kind: str, points: Sequence[Point], closed: bool, extra: str = "") -> None:
        self.room(*points)
        tag = "polygon" if closed else "polyline"
        listed = " ".join(f"{x:.2f},{y:.2f}" for x, y in points)
        self.parts.append(f'<{tag} class="{kind}"{extra} points="{listed}"/>')

    def text(self, words: str, x: float, y: float, anchor: str = "middle") -> None:
        wide = len(words) * LETTER
        left = x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        self.room((left, y - TEXT), (left + wide, y + 0.3 * TEXT))
        self.parts.append(f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>')

    def arrow(self, tip: Point, along: Point) -> None:
        """A filled head at `tip` that points along a unit vector."""
        (x, y), (dx, dy) = tip, along
        back = (x - ARROW * dx, y - ARROW * dy)
        sides = [(back[0] - 3 * dy, back[1] + 3 * dx), (back[0] + 3 * dy, back[1] - 3 * dx)]
        self.path("head", [tip, *sides], True)


def scale_of(drawing: Drawing) -> float:
    """Drawing units to a millimetre: the largest round scale at which the shapes fit."""
    points = [point for shape in drawing.shapes for point in shape.points]
    wide = max(x for x, _ in points) - min(x for x, _ in points)
    high = max(y for _, y in points) - min(y for _, y in points)
    room = min(drawing.most[0] / max(wide, 1e-6), drawing.most[1] / max(high, 1e-6))
    step = 10.0 ** math.floor(math.log10(room))
    return next(times * step for times in (8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0) if times * step <= room)


def svg(drawing: Drawing) -> str:
    """The drawing as one SVG element, as wide as it is and never wider than its place."""
    board = _Board(scale_of(drawing))
    _patterns(board, drawing)
    for shape in drawing.shapes:
        points = [board.at(point) for point in shape.points]
        fill = f' style="fill:url(#{drawing.name}-{shape.kind})"' if shape.kind in ("plate-1", "plate-2") else ""
        board.path(shape.kind, points, shape.closed, f' data-part="{escape(shape.part)}"{fill}')
    # The outermost first: the words of an inner one then lie over the lines of an outer one.
    for dimension in sorted(drawing.dimensions, key=lambda item: -item.level):
        _dimension(board, dimension)
    for angle in drawing.angles:
        _angle(board, angle)
    for note in drawing.notes:
        _note(board, note)
    _bar(board, drawing.bar)
    return _element(board, drawing)


def _element(board: _Board, drawing: Drawing) -> str:
    # No narrower than its neighbours, so that letters come out alike in all of them.
    spare = max(NARROWEST - (board.right - board.left + 12), 0.0)
    x, y = board.left - 6 - spare / 2, board.top - 6
    wide, high = board.right - board.left + 12 + spare, board.bottom - y + 6
    name = drawing.name
    return (
        f'<svg class="drawing" role="img" aria-labelledby="{name}-title {name}-desc" data-drawing="{name}" '
        f'data-scale="{board.scale:g}" viewBox="{x:.1f} {y:.1f} {wide:.1f} {high:.1f}" '
        f'style="max-width:{wide:.0f}px" xmlns="http://www.w3.org/2000/svg">'
        f'<title id="{name}-title">{escape(drawing.title)}</title><desc id="{name}-desc">{escape(drawing.alt)}</desc>'
        + "".join(board.parts)
        + "</svg>"
    )


def _patterns(board: _Board, drawing: Drawing) -> None:
    """Section hatching, one way for the first member and the other way for the second, as in any workshop drawing."""
    for kind, turn in (("plate-1", 45), ("plate-2", -45)):
        board.parts.append(
            f'<pattern id="{drawing.name}-{kind}" width="6" height="6" patternUnits="userSpaceOnUse" '
            f'patternTransform="rotate({turn})"><line x1="0" y1="0" x2="0" y2="6" class="hatch"/></pattern>'
        )


def _dimension(board: _Board, item: Dimension) -> None:
    (x1, y1), (x2, y2) = board.at(item.start), board.at(item.end)
    px, py = item.push[0], -item.push[1]
    far = 18.0 + 22.0 * (item.level - 1) + item.beyond * board.scale
    a = (x1 + px * far, y1 + py * far)
    b = (x2 + px * far, y2 + py * far)
    value = math.dist(item.start, item.end)
    board.parts.append(
        f'<g class="dimension" data-name="{item.name}" data-mm="{value:.4g}" data-x1="{x1:.3f}" data-y1="{y1:.3f}" '
        f'data-x2="{x2:.3f}" data-y2="{y2:.3f}">'
    )
    if value < 1e-6:
        _note(board, Note(item.text, item.start, (item.leader[0] * 40, item.leader[1] * 40)))
        board.parts.append("</g>")
        return
    for (fx, fy), (tx, ty) in (((x1, y1), a), ((x2, y2), b)):
        board.path("thin", [(fx + 2 * px, fy + 2 * py), (tx + 4 * px, ty + 4 * py)], False)
    length = math.dist(a, b)
    along = ((b[0] - a[0]) / length, (b[1] - a[1]) / length)
    if length >= SHORT:
        board.path("thin", [a, b], False)
        board.arrow(a, (-along[0], -along[1]))
        board.arrow(b, along)
    else:
        tail = ARROW + 7
        board.path("thin", [(a[0] - tail * along[0], a[1] - tail * along[1]), a], False)
        board.path("thin", [b, (b[0] + tail * along[0], b[1] + tail * along[1])], False)
        board.arrow(a, along)
        board.arrow(b, (-along[0], -along[1]))
    _label(board, item.text, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), (px, py))
    board.parts.append("</g>")


def _label(board: _Board, words: str, middle: Point, push: Point) -> None:
    """Beside the dimension line, on the side it was pushed to."""
    x, y = middle[0] + push[0] * 9, middle[1] + push[1] * 9
    if abs(push[0]) > 0.5:
        board.text(words, x, y + 0.35 * TEXT, "start" if push[0] > 0 else "end")
    else:
        board.text(words, x, y + (TEXT * 0.75 if push[1] > 0 else 0))


def _angle(board: _Board, item: Angle) -> None:
    def on(degrees: float, radius: float) -> Point:
        turn = math.radians(degrees)
        return board.at((item.apex[0] + radius * math.cos(turn), item.apex[1] + radius * math.sin(turn)))

    steps = max(int(abs(item.ends - item.begins) / 3), 6)
    arc = [on(item.begins + (item.ends - item.begins) * k / steps, item.radius) for k in range(steps + 1)]
    board.parts.append(
        f'<g class="dimension" data-name="{item.name}" data-deg="{abs(item.ends - item.begins):.4g}" '
        f'data-begins="{item.begins:.4g}" data-ends="{item.ends:.4g}">'
    )
    for degrees in (item.begins, item.ends):
        board.path("thin", [board.at(item.apex), on(degrees, item.radius * 1.06)], False)
    board.path("thin", arc, False)
    middle = (item.begins + item.ends) / 2
    x, y = on(middle, item.radius)
    board.text(item.text, x, y - 6)
    board.parts.append("</g>")


def _note(board: _Board, note: Note) -> None:
    x, y = board.at(note.at)
    tx, ty = x + note.away[0], y - note.away[1]
    if note.arrow:
        length = math.dist((x, y), (tx, ty))
        board.path("thin", [(tx, ty), (x, y)], False)
        if length > ARROW:
            board.arrow((x, y), ((x - tx) / length, (y - ty) / length))
    sideways = abs(note.away[0]) > abs(note.away[1]) * 0.7
    if sideways:
        board.text(note.text, tx + math.copysign(4, note.away[0]), ty + 0.35 * TEXT, _side(note.away[0]))
    else:
        board.text(note.text, tx, ty - 4 if note.away[1] > 0 else ty + TEXT)


def _side(away: float) -> str:
    return "start" if away > 0 else "end"


def _bar(board: _Board, mm: float) -> None:
    """A length to hold the drawing against: it is scaled with the page, so the bar is the only true measure."""
    wide = mm * board.scale
    x, y = board.left + 2, board.bottom + 20
    board.path("bar", [(x, y - 4), (x, y), (x + wide, y), (x + wide, y - 4)], False)
    board.text(f"{mm:g} mm", x + wide + 6, y + 2, "start")


def turned(points: Iterable[Point], about: Point, degrees: float) -> tuple[Point, ...]:
    """Points turned about a point, counterclockwise [deg]."""
    turn = math.radians(degrees)
    cos, sin = math.cos(turn), math.sin(turn)
    return tuple(
        (about[0] + (x - about[0]) * cos - (y - about[1]) * sin, about[1] + (x - about[0]) * sin + (y - about[1]) * cos)
        for x, y in points
    )


def box(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """The corners of an upright rectangle."""
    return (left, bottom), (right, bottom), (right, top), (left, top)
