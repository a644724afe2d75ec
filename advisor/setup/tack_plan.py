"""Tacks along a seam and the order of its lengths: numbers from the settled size and pitch, with the reason of each."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from advisor.answer.answer import Setting


class Tack(NamedTuple):
    """One tack: its place along the seam [mm] and its turn."""

    place: float
    turn: int
    why: str


class TackPlan(NamedTuple):
    """Tacks of a seam. size, pitch [mm]."""

    tacks: tuple[Tack, ...]
    size: float
    pitch: float


class Length(NamedTuple):
    """One length of a back-stepped seam: from, to [mm] in the direction welded, and its turn."""

    begins: float
    ends: float
    turn: int
    why: str


def tack_plan(
    seam_mm: float, size: Setting | None, pitch: Setting | None, *, ends_first: bool = False
) -> TackPlan | None:
    """The middle, then outwards to the ends; ends_first: both ends, the middle, then halving the spaces, as for
    stainless. No space is wider than the settled pitch."""
    if size is None or pitch is None or seam_mm <= 0:
        return None
    length = min(size.start, seam_mm)
    if seam_mm <= 2 * length:
        return TackPlan((Tack(seam_mm / 2, 1, "a short seam: one tack in the middle"),), length, pitch.start)
    spaces = max(math.ceil((seam_mm - length) / pitch.start - 1e-9), 1)
    places = [length / 2 + (seam_mm - length) * index / spaces for index in range(spaces + 1)]
    order = _halving(len(places)) if ends_first else _outwards(len(places))
    tacks = [Tack(places[index], turn, _why(turn, ends_first)) for turn, index in enumerate(order, 1)]
    return TackPlan(tuple(sorted(tacks)), length, pitch.start)


def _outwards(count: int) -> list[int]:
    """The middle one, then the next on either side in turn."""
    return sorted(range(count), key=lambda index: (abs(2 * index - (count - 1)), index))


def _halving(count: int) -> list[int]:
    """0, last, then middles of the widest space left: the order that lets no space run shut."""
    done = [0, count - 1]
    while len(done) < count:
        held = sorted(done)
        gaps = [(right - left, -left, left, right) for left, right in pairwise(held) if right - left > 1]
        _, _, left, right = max(gaps)
        done.append((left + right) // 2)
    return done


def _why(turn: int, ends_first: bool) -> str:
    if not ends_first:
        return "the middle first" if turn == 1 else "outwards from the middle: the gap does not run shut ahead"
    if turn <= 2:
        return "an end first, so that the joint line is fixed"
    return "the middle of the widest space left: it would run shut first"


def back_step(seam_mm: float, pitch: Setting | None) -> tuple[Length, ...]:
    """Lengths of about two tack spaces from the middle outwards, each welded back toward the middle; empty for a
    short seam."""
    if pitch is None or seam_mm < 3 * pitch.start:
        return ()
    count = max(round(seam_mm / (2 * pitch.start)), 2)
    step = seam_mm / count
    why = "welded back toward the middle, so that the gap ahead neither opens nor shuts"
    bounds = [(step * index, step * (index + 1)) for index in range(count)]
    ordered = sorted(bounds, key=lambda ends: (abs(sum(ends) - seam_mm) // 1e-6, ends))
    outward = [(right, left) if left + right >= seam_mm else (left, right) for left, right in ordered]
    return tuple(Length(begins, ends, turn, why) for turn, (begins, ends) in enumerate(outward, 1))
