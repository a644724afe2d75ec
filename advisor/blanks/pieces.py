"""From a finished box, frame or bracket to its pieces: who runs through at each corner decides every length.

All sizes in mm. A piece's edge lies so far beyond the inside face of the plate it meets: at a closed corner the one
that runs through reaches the outside face and the other stops at the inside face; at a half-open corner the covering
one reaches half the thickness; edge to edge both stop at the inside face; at a mitre both reach the outside, bevelled.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

STYLES = ("closed", "half-open", "open", "mitre")
# The places where a box has corners, and which of its pieces may run through there; the first by default.
PLACES: dict[str, tuple[str, ...]] = {
    "floor": ("floor", "walls"),
    "uprights": ("front", "sides", "around"),
    "lid": ("lid", "walls"),
}
FREE, BUTTS, THROUGH, HALF, EDGE, MITRE = (
    "free",
    "butts on",
    "runs through",
    "covers half",
    "edge to edge",
    "45° mitre",
)
_ENDS = {
    "closed": ((THROUGH, 1.0), (BUTTS, 0.0)),
    "half-open": ((HALF, 0.5), (BUTTS, 0.0)),
    "open": ((EDGE, 0.0), (EDGE, 0.0)),
    "mitre": ((MITRE, 1.0), (MITRE, 1.0)),
}


class Corner(NamedTuple):
    """How the pieces meet at one place: style, and which of them runs through (or covers)."""

    style: str
    through: str


class End(NamedTuple):
    """One edge of a piece: kind; reach [mm] past the inside face it meets; stock [mm] left on it beyond that."""

    kind: str
    reach: float = 0.0
    stock: float = 0.0


class Piece(NamedTuple):
    """A piece to cut: number alike; bare sizes between inside faces [mm]; the two edges along each direction."""

    name: str
    number: int
    inside: tuple[float, float]
    along: tuple[End, End]
    across: tuple[End, End]
    thickness: float

    @property
    def net(self) -> tuple[float, float]:
        """Finished length and width [mm], long points of mitres; nothing added."""
        (length, width), (a, b), (c, d) = self.inside, self.along, self.across
        return length + a.reach + b.reach, width + c.reach + d.reach

    @property
    def cut(self) -> tuple[float, float]:
        """Length and width to cut [mm], with the stock left on the edges."""
        (length, width), (a, b), (c, d) = self.net, self.along, self.across
        return length + a.stock + b.stock, width + c.stock + d.stock


class Extra(NamedTuple):
    """Metal left on [mm]: trim on edges that run through, to be cut flush; skim on free edges and outside faces.

    gap [mm]: left between an edge that butts on, or a mitre, and what it meets.
    """

    trim: float = 0.0
    skim: float = 0.0
    gap: float = 0.0


NO_EXTRA = Extra()


def _end(corner: Corner, runs: bool, thickness: float, extra: Extra) -> End:
    kind, share = _ENDS[corner.style][0 if runs else 1]
    # Half the gap lies across each of two mitred faces, at 45 degrees to the length.
    back = {BUTTS: extra.gap, MITRE: extra.gap / math.sqrt(2)}.get(kind, 0.0)
    return End(kind, share * thickness - back, extra.trim if kind == THROUGH else 0.0)


def box_pieces(
    inside: tuple[float, float, float],
    thickness: float,
    corners: Mapping[str, Corner],
    open_top: bool,
    extra: Extra = NO_EXTRA,
) -> tuple[Piece, ...]:
    """The plates of a box of inside length, width and height [mm]: floor, front and back, sides, lid.

    Front and back are the two long walls as the first size names them, the sides the other two.
    """
    length, width, height = inside
    rim = End(FREE, 0.0, extra.skim)
    under = _end(corners["floor"], corners["floor"].through == "floor", thickness, extra)
    foot = _end(corners["floor"], corners["floor"].through == "walls", thickness, extra)
    over = _end(corners["lid"], corners["lid"].through == "lid", thickness, extra)
    head = rim if open_top else _end(corners["lid"], corners["lid"].through == "walls", thickness, extra)
    runs = corners["uprights"].through
    cover, covered = (_end(corners["uprights"], flag, thickness, extra) for flag in (True, False))
    front, side = {
        "front": ((cover, cover), (covered, covered)),
        "sides": ((covered, covered), (cover, cover)),
        "around": ((cover, covered), (cover, covered)),
    }[runs]
    found = [
        Piece("floor", 1, (length, width), (under, under), (under, under), thickness),
        Piece("front and back", 2, (length, height), front, (foot, head), thickness),
        Piece("sides", 2, (width, height), side, (foot, head), thickness),
    ]
    if not open_top:
        found.append(Piece("lid", 1, (length, width), (over, over), (over, over), thickness))
    return tuple(found)


def bracket_pieces(
    outside: tuple[float, float],
    width: float,
    thickness: float,
    corner: Corner,
    extra: Extra = NO_EXTRA,
) -> tuple[Piece, ...]:
    """The two legs of an L of plate, outside sizes of base and upright [mm], both so wide [mm]."""
    free = End(FREE, 0.0, extra.skim)
    sides = (free, free)
    base_runs = corner.through == "base"
    base = (free, _end(corner, base_runs, thickness, extra))
    upright = (free, _end(corner, not base_runs, thickness, extra))
    legs = (("base", outside[0], base), ("upright", outside[1], upright))
    return tuple(Piece(name, 1, (size - thickness, width), ends, sides, thickness) for name, size, ends in legs)


def frame_pieces(
    outside: tuple[float, ...],
    section: float,
    corner: Corner,
    extra: Extra = NO_EXTRA,
) -> tuple[Piece, ...]:
    """The bars of a flat frame (two outside sizes [mm]) or of a stand on posts (three), of one square section [mm].

    A closed corner butts; `lap` lays the bars on one another, so each keeps its whole length.
    """
    if len(outside) == 3:
        return _stand(outside, section, corner, extra)
    long, short = outside
    ends = _frame_ends(corner, section, extra)
    return (
        _bar("long bars", 2, long, section, ends[0]),
        _bar("short bars", 2, short, section, ends[1]),
    )


def _bar(name: str, count: int, outside: float, section: float, ends: tuple[End, End]) -> Piece:
    side = End(FREE)
    return Piece(name, count, (outside - 2 * section, section), ends, (side, side), section)


def _frame_ends(corner: Corner, section: float, extra: Extra) -> tuple[tuple[End, End], tuple[End, End]]:
    if corner.style == "lap":
        over = End("lies over", section)
        return (over, over), (over, over)
    cover, covered = (_end(corner, flag, section, extra) for flag in (True, False))
    both = {"long": ((cover, cover), (covered, covered)), "short": ((covered, covered), (cover, cover))}
    return both.get(corner.through, ((cover, covered), (cover, covered)))


def _stand(outside: tuple[float, ...], section: float, corner: Corner, extra: Extra) -> tuple[Piece, ...]:
    """Two frames and four posts: posts between the frames, or posts of the whole height with rails between them."""
    long, short, height = outside
    butt, whole = End(BUTTS, -extra.gap), End(THROUGH, section, extra.trim)
    if corner.through == "posts":
        rails = (
            _bar("long rails", 4, long, section, (butt, butt)),
            _bar("short rails", 4, short, section, (butt, butt)),
        )
        return (*rails, _bar("posts", 4, height, section, (whole, whole)))
    ends = _frame_ends(corner, section, extra)
    return (
        _bar("long rails", 4, long, section, ends[0]),
        _bar("short rails", 4, short, section, ends[1]),
        _bar("posts", 4, height, section, (butt, butt)),
    )
