"""The seam from above, with its tacks in their turn and the lengths it is welded in; and the part with its seams."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from advisor.show.drawing import Dimension, Drawing, Note, Point, Shape, box


class Stretch(NamedTuple):
    """A seam [mm]. tacks: (middle, turn); lengths: (from, to, turn) as welded; known: its whole length is given."""

    length: float
    tack: float
    tacks: Sequence[tuple[float, int]]
    lengths: Sequence[tuple[float, float, int]]
    known: bool
    text: dict[str, str]


def seam_drawing(seam: Stretch, name: str) -> Drawing:
    """The seam as a strip: tacks as black blocks with their turn, the back-step lengths as arrows below."""
    long = seam.length
    high = long * 0.045
    strip = Shape("strip", box(0, -high, long, high), "seam")
    line = Shape("axis", ((0, 0), (long, 0)), "joint line", closed=False)
    size = high * 0.45
    blocks = [
        Shape("tack", box(at - seam.tack / 2, -size, at + seam.tack / 2, size), f"tack {n}") for at, n in seam.tacks
    ]
    notes = [Note(str(turn), (at, -high), (0.0, -2.0), arrow=False) for at, turn in seam.tacks]
    low = -high * 3.4
    arrows = [
        Shape("thin", ((start, low), (end, low)), f"length {turn}", closed=False) for start, end, turn in seam.lengths
    ]
    for start, end, turn in seam.lengths:
        notes.append(Note("", (end, low), (math.copysign(12.0, start - end), 0.0)))
        notes.append(Note(str(turn), ((start + end) / 2, low), (0.0, -2.0), arrow=False))
    title = "Tacks along the seam" if seam.known else "Tacks along a stretch of the seam"
    return Drawing(
        name,
        title,
        _words(seam),
        (strip, line, *blocks, *arrows),
        _seam_sizes(seam, high),
        notes=tuple(notes),
        most=(330.0, 120.0),
        bar=_round_length(long / 6),
        caption="Black: tacks, numbered in their turn." + (" Arrows: lengths, as welded." if seam.lengths else ""),
    )


def _words(seam: Stretch) -> str:
    order = ", ".join(f"{turn} at {at:.0f} mm" for at, turn in sorted(seam.tacks, key=lambda item: item[1]))
    words = f"Seen from above; black blocks are tacks, numbered in their turn: {order}."
    if not seam.known:
        words = "Seen from above: two tacks of the size given, spaced as given; the seam goes on both ways."
    if seam.lengths:
        words += " Arrows below: each length welded the way its arrow points, in the order of the numbers."
    return words


def _seam_sizes(seam: Stretch, high: float) -> tuple[Dimension, ...]:
    """The tack's length and, between two tacks, the space from middle to middle."""
    found = []
    first, second = seam.tacks[0][0], seam.tacks[1][0] if len(seam.tacks) > 1 else None
    up = (0.0, 1.0)
    if "tack_length" in seam.text:
        # The third tack where there is one: its words then stand clear of the lines that measure the space.
        middle = seam.tacks[2][0] if len(seam.tacks) > 2 else first
        at = (middle - seam.tack / 2, high), (middle + seam.tack / 2, high)
        found.append(Dimension("tack_length", seam.text["tack_length"], *at, up, 1))
    if second is not None and "tack_space" in seam.text:
        found.append(Dimension("tack_space", seam.text["tack_space"], (first, high), (second, high), up, 2))
    if "length" in seam.text:
        found.append(Dimension("length", seam.text["length"], (0, high), (seam.length, high), up, 3))
    return tuple(found)


def _round_length(mm: float) -> float:
    step = 10.0 ** math.floor(math.log10(mm))
    return next(times * step for times in (5, 2, 1) if times * step <= mm)


# The corners of a box seen from the front, a little from the right and above: (side, depth, height) from 0 to 1.
_CORNERS = {
    "bottom-front": ((0, 0, 0), (1, 0, 0)),
    "bottom-back": ((0, 1, 0), (1, 1, 0)),
    "bottom-left": ((0, 0, 0), (0, 1, 0)),
    "bottom-right": ((1, 0, 0), (1, 1, 0)),
    "front-left": ((0, 0, 0), (0, 0, 1)),
    "front-right": ((1, 0, 0), (1, 0, 1)),
    "right-back": ((1, 1, 0), (1, 1, 1)),
    "back-left": ((0, 1, 0), (0, 1, 1)),
    "front-top": ((0, 0, 1), (1, 0, 1)),
    "back-top": ((0, 1, 1), (1, 1, 1)),
    "left-top": ((0, 0, 1), (0, 1, 1)),
    "right-top": ((1, 0, 1), (1, 1, 1)),
}
_HIDDEN = ("bottom-back", "bottom-left", "back-left")
# Where along its edge a seam's number stands, and on which side.
_NUMBERS = {
    "bottom-front": (0.5, (0.0, 3.0)),
    "bottom-back": (0.5, (0.0, 3.0)),
    "bottom-left": (0.6, (8.0, -5.0)),
    "bottom-right": (0.6, (9.0, -6.0)),
    "front-left": (0.5, (-8.0, 0.0)),
    "front-right": (0.72, (-8.0, 0.0)),
    "right-back": (0.5, (8.0, 0.0)),
    "back-left": (0.28, (8.0, 0.0)),
    "front-top": (0.35, (0.0, 3.0)),
    "back-top": (0.5, (0.0, 3.0)),
    "left-top": (0.5, (-8.0, 5.0)),
    "right-top": (0.5, (8.0, -5.0)),
}


def part_drawing(sides: tuple[float, float, float], seams: Sequence[str], name: str) -> Drawing:
    """A box in oblique view: its seams heavy and numbered in their turn, hidden edges dashed."""
    length, width, height = sides

    def flat(corner: tuple[float, float, float]) -> Point:
        side, depth, up = corner
        return side * length + depth * width * 0.42, up * height + depth * width * 0.34

    shapes = []
    for edge, (start, end) in _CORNERS.items():
        kind = "seam" if edge in seams else "outline"
        kind += " hidden" if edge in _HIDDEN else ""
        shapes.append(Shape(kind, (flat(start), flat(end)), edge, closed=False))
    notes = []
    for turn, edge in enumerate(seams, 1):
        (x1, y1), (x2, y2) = (flat(corner) for corner in _CORNERS[edge])
        share, away = _NUMBERS[edge]
        at = (x1 + share * (x2 - x1), y1 + share * (y2 - y1))
        notes.append(Note(str(turn), at, away, arrow=False))
    order = "; ".join(f"{turn} {edge}" for turn, edge in enumerate(seams, 1))
    return Drawing(
        name,
        "Seams of the part, in their turn",
        f"The box from the front and above; heavy lines are seams, numbered in the order to weld: {order}. "
        "Dashed edges lie behind.",
        tuple(shapes),
        notes=tuple(notes),
        most=(300.0, 170.0),
        bar=_round_length(length / 4),
        caption="Heavy lines are seams, numbered in their turn; dashed ones lie behind.",
    )
