"""In what order to weld the seams of a box, and why: opposite sides in turn, heat spread, the vent last."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean

# Opposite seams of a box, in turn: bottom edges, uprights on the diagonal, top edges.
_TURN = (
    ("bottom-front", "bottom edges first: they fix the floor plan"),
    ("bottom-back", "its opposite next, so that the two pulls cancel"),
    ("bottom-left", "the short sides now, while the long ones cool"),
    ("bottom-right", "its opposite next, so that the two pulls cancel"),
    ("front-left", "an upright, far from the seam just welded"),
    ("right-back", "the diagonal one: the heat lies on the other corner"),
    ("front-right", "the third upright, across the box again"),
    ("back-left", "the last upright"),
    ("front-top", "top edges: opposite sides in turn again"),
    ("back-top", "its opposite next"),
    ("left-top", "the short sides last"),
    ("right-top", "the vent stays open until this one is cold"),
)


class Placed(NamedTuple):
    """A seam in the order, and why it stands there."""

    seam: str
    why: str


def box_order(seams: Sequence[str], wanted: Sequence[str] = ()) -> list[Placed]:
    """The order of a box's seams: the one wanted, else opposite sides in turn.

    Raises PrestrikeError for a wanted order that names a seam the box has not, or leaves one out.
    """
    if wanted:
        return _wanted(seams, wanted)
    known = {_same(name): name for name in seams}
    ordered = [Placed(known[_same(name)], why) for name, why in _TURN if _same(name) in known]
    left = [Placed(name, "no opposite seam") for name in seams if name not in {place.seam for place in ordered}]
    return ordered + left


def _same(name: str) -> frozenset[str]:
    return frozenset(name.split("-"))


def _wanted(seams: Sequence[str], wanted: Sequence[str]) -> list[Placed]:
    known = {_same(name): name for name in seams}
    for name in wanted:
        if _same(name) not in known:
            repair = did_you_mean(name, seams)
            raise PrestrikeError(
                Diagnostic("unknown-seam", f"the box has no seam '{name}'", subject="order", help=repair)
            )
    missing = [name for name in seams if _same(name) not in {_same(item) for item in wanted}]
    if missing or len(wanted) != len(seams):
        text = f"the order must name each of the {len(seams)} seams once"
        raise PrestrikeError(
            Diagnostic("order", text, subject="order", help=f"missing: {', '.join(missing) or 'none'}")
        )
    return [Placed(known[_same(name)], "as the job says") for name in wanted]
