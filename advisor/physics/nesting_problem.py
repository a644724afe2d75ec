"""Pieces and bars in whole steps of a grid, and the bars of a plan."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Problem(NamedTuple):
    """sizes: pieces with their kerf; counts: how many of each; rooms: bars with one kerf; prices: bars [m];
    limits: how many bars there are, None for as many as wanted."""

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    rooms: tuple[int, ...]
    prices: tuple[float, ...]
    limits: tuple[int | None, ...]


class Bar(NamedTuple):
    """One bar: its stock, and its pieces by number."""

    stock: int
    pieces: tuple[int, ...]


def cost_of(problem: Problem, bars: Iterable[Bar]) -> float:
    """Stock length of the bars [m].

    Parameters: problem; bars (no unit). Raises: nothing. Source: arithmetic (computed).
    Example: Two bars of 2.5 m and one of 1 m: 6 m.
    >>> problem = Problem((10,), (5,), (25, 10), (2.5, 1.0), (None, None))
    >>> cost_of(problem, [Bar(0, (0, 0)), Bar(0, (0, 0)), Bar(1, (0,))])
    6.0
    """
    return sum(problem.prices[bar.stock] for bar in bars)


def right_stock(problem: Problem, loads: Iterable[tuple[int, ...]]) -> list[Bar] | None:
    """Each load on the shortest bar that is left and holds it, the fullest load first; None where bars run out.

    Parameters: problem, lengths in steps of its grid; loads, pieces by number (no units). Raises: nothing. Source: best
    fit, longest first (computed).
    Example: A load of one piece of 10 steps goes on the bar of 1 m, a load of two on that of 2.5 m.
    >>> problem = Problem((10,), (3,), (25, 10), (2.5, 1.0), (None, None))
    >>> [(bar.stock, bar.pieces) for bar in right_stock(problem, [(0,), (0, 0)]) or []]
    [(0, (0, 0)), (1, (0,))]
    """
    left = list(problem.limits)
    bars = []
    filled = sorted(((sum(problem.sizes[piece] for piece in load), load) for load in loads), reverse=True)
    for size, load in filled:
        fits = [k for k, room in enumerate(problem.rooms) if size <= room and left[k] != 0]
        if not fits:
            return None
        stock = min(fits, key=lambda k: problem.prices[k])
        if (have := left[stock]) is not None:
            left[stock] = have - 1
        bars.append(Bar(stock, load))
    return bars
