"""Pieces on stock lengths: which pieces to saw from which bar, as a flow along the bar, solved by HiGHS.

A cutting plan is a path from 0 to the end of a bar: a step for each piece with its kerf, steps of waste between. All
bars together are a flow (Valerio de Carvalho 1999), whose integer optimum is the least stock; the solver also gives a
bound below which no plan can lie. Lengths are whole steps of a grid, pieces rounded up, stock down, so a plan always
fits the metal.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.physics.ranges import positive, within

GRIDS = (1e-4, 5e-4, 1e-3, 5e-3)  # m, finest first
MOST_ARCS = 40_000  # beyond this the next coarser grid is taken
TIME_LIMIT = 20.0  # s for one nest
Arc = tuple[int, int, int]  # from, to, piece (-1: waste)


@dataclass(frozen=True)
class Stock:
    """Bars of one length [m], and how many there are; None for as many as wanted."""

    length: float
    count: int | None = None


@dataclass(frozen=True)
class Plan:
    """One bar to be cut: stock and pieces by their number in the list given; how many bars alike; left [m] at its end.

    `left` counts the kerf behind the last piece as gone.
    """

    stock: int
    pieces: tuple[int, ...]
    bars: int
    left: float


@dataclass(frozen=True)
class Nest:
    """All bars. used: stock length [m]; bound: the least any plan could use [m]; grid: step of the lengths [m]."""

    plans: tuple[Plan, ...]
    used: float
    bound: float
    grid: float

    @property
    def over(self) -> float:
        """How far above the least possible, as a share [-]."""
        return max(0.0, self.used / self.bound - 1.0) if self.bound > 0 else 0.0


class NoRoomError(PrestrikeError):
    """Stock that cannot hold the pieces."""


def nest(
    lengths: Sequence[float],
    counts: Sequence[int],
    stocks: Sequence[Stock],
    kerf: float = 0.0,
    time_limit: float = TIME_LIMIT,
) -> Nest:
    """The cutting plans that use the least stock length [m].

    Parameters: lengths of the pieces [m], above 0; counts, how many of each, 1 or more (no unit); stocks, one or
    more; kerf of the saw [m], 0 to 20 mm, lost between two pieces; time_limit of the solver [s].
    Returns: plans with the stock used and its lower bound [m]. Raises: PhysicsRangeError outside; NoRoomError where a
    piece is longer than any bar, or the bars given run out. Source: arc flow of Valerio de Carvalho 1999 (memory),
    solved by HiGHS; the bound is the solver's (computed).
    """
    for length in lengths:
        positive("piece", length, "m")
    within("kerf", kerf, 0.0, 0.02, "m")
    if not stocks:
        raise NoRoomError(Diagnostic("no-stock", "no stock length is given", help="give one: 3000 mm"))
    for stock in stocks:
        positive("stock length", stock.length, "m")
    _longest_fits(lengths, stocks)
    _enough(sum(length * count for length, count in zip(lengths, counts, strict=True)), stocks)
    grid, sizes, rooms, arcs = _drawn(lengths, counts, stocks, kerf)
    flow, bound = _solved(arcs, counts, rooms, [stock.length for stock in stocks], stocks, time_limit)
    plans = _plans(flow, sizes, rooms, stocks, lengths, kerf)
    used = sum(plan.bars * stocks[plan.stock].length for plan in plans)
    return Nest(plans, used, min(bound, used), grid)


def _longest_fits(lengths: Sequence[float], stocks: Sequence[Stock]) -> None:
    longest, room = max(lengths), max(stock.length for stock in stocks)
    if longest > room + 1e-9:
        short = (longest - room) * 1e3
        text = f"the longest piece is {longest * 1e3:.1f} mm and the longest stock {room * 1e3:.1f} mm"
        repair = f"it is short by {short:.1f} mm: take longer stock, or join the piece from two"
        raise NoRoomError(Diagnostic("stock-short", text, subject="stock", help=repair))


def _enough(wanted: float, stocks: Sequence[Stock]) -> None:
    """All pieces against all bars, before any plan is tried."""
    have = math.inf if any(stock.count is None for stock in stocks) else sum(s.length * (s.count or 0) for s in stocks)
    if wanted > have + 1e-9:
        short = (wanted - have) * 1e3
        text = f"the pieces are {wanted * 1e3:.1f} mm together and the stock given {have * 1e3:.1f} mm"
        repair = f"it is short by at least {short:.1f} mm: give more bars, or leave the count out"
        raise NoRoomError(Diagnostic("stock-short", text, subject="stock", help=repair))


def _drawn(
    lengths: Sequence[float], counts: Sequence[int], stocks: Sequence[Stock], kerf: float
) -> tuple[float, list[int], list[int], list[Arc]]:
    """Grid, pieces with their kerf and bars in steps of it, and the arcs: the finest grid that stays small enough.

    A bar is longer by one kerf, since none is needed behind the last piece.
    """
    for grid in GRIDS:
        sizes = [math.ceil((length + kerf) / grid - 1e-6) for length in lengths]
        rooms = [math.floor((stock.length + kerf) / grid + 1e-6) for stock in stocks]
        if max(sizes) > max(rooms):
            continue
        arcs = _arcs(sizes, counts, max(rooms))
        if len(arcs) <= MOST_ARCS or grid == GRIDS[-1]:
            return grid, sizes, rooms, arcs
    raise NoRoomError(
        Diagnostic("stock-short", "the longest piece just fills a bar: too near to plan", subject="stock")
    )


def _arcs(sizes: Sequence[int], counts: Sequence[int], room: int) -> list[Arc]:
    """Steps of pieces from every place that longer pieces can lead to, so that each set of pieces has one order."""
    reached = {0}
    arcs: set[Arc] = set()
    for piece in sorted(range(len(sizes)), key=lambda index: -sizes[index]):
        size, found = sizes[piece], set(reached)
        for start in reached:
            for place in range(start, min(start + size * counts[piece], room - size + 1), size):
                arcs.add((place, place + size, piece))
                found.add(place + size)
        reached = found
    return sorted(arcs)


def _solved(
    arcs: Sequence[Arc],
    counts: Sequence[int],
    rooms: Sequence[int],
    prices: Sequence[float],
    stocks: Sequence[Stock],
    time_limit: float,
) -> tuple[dict[Arc, int], float]:
    """Whole numbers of each step, and the bound on the stock length [m]. Steps past the last piece are waste."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    places = sorted({0, *rooms, *(end for _, end, _ in arcs)})
    waste = [(here, there, -1) for here, there in pairwise(places)]
    every: list[Arc] = [*arcs, *waste]
    # A bar of length k leaves the flow at its end: one more column for each stock.
    cost = np.array([0.0] * len(every) + [*prices])
    top = [float(counts[piece]) if piece >= 0 else float(sum(counts)) for _, _, piece in every]
    top += [float(sum(counts) if stock.count is None else stock.count) for stock in stocks]
    answer: Any = milp(
        cost,
        integrality=np.ones(len(cost)),
        bounds=Bounds(0.0, np.array(top)),
        constraints=[LinearConstraint(*rows) for rows in _rows(every, places, counts, rooms)],
        options={"time_limit": time_limit, "mip_rel_gap": 1e-9},
    )
    if answer.x is None:
        raise _no_plan(answer.status, counts, stocks)
    amounts = [round(value) for value in answer.x]
    flow = {arc: amount for arc, amount in zip(every, amounts, strict=False) if amount}
    flow |= {(room, -1, -2 - k): amounts[len(every) + k] for k, room in enumerate(rooms) if amounts[len(every) + k]}
    bound = answer.mip_dual_bound if answer.mip_dual_bound is not None else answer.fun
    return flow, float(bound)


def _rows(
    every: Sequence[Arc], places: Sequence[int], counts: Sequence[int], rooms: Sequence[int]
) -> list[tuple[Any, Any, Any]]:
    """What goes into a place comes out of it; every piece is cut as often as wanted."""
    import numpy as np
    from scipy.sparse import coo_matrix

    row = {place: index for index, place in enumerate(places)}
    columns = range(len(every))
    rows = [row[here] for here, _, _ in every] + [row[there] for _, there, _ in every]
    signs = [-1.0] * len(every) + [1.0] * len(every)
    at = [*columns, *columns]
    for k, room in enumerate(rooms):
        rows += [row[0], row[room]]
        signs += [1.0, -1.0]
        at += [len(every) + k] * 2
    size = len(every) + len(rooms)
    flow = coo_matrix((signs, (rows, at)), shape=(len(places), size)).tocsc()
    pieces = [(piece, index) for index, (_, _, piece) in enumerate(every) if piece >= 0]
    wanted = coo_matrix(
        ([1.0] * len(pieces), ([p for p, _ in pieces], [i for _, i in pieces])), shape=(len(counts), size)
    ).tocsc()
    need = np.array(counts, dtype=float)
    return [(flow, np.zeros(len(places)), np.zeros(len(places))), (wanted, need, need)]


def _no_plan(status: int, counts: Sequence[int], stocks: Sequence[Stock]) -> NoRoomError:
    if status == 1:
        text = f"no plan was found for {sum(counts)} pieces in the time allowed"
        return NoRoomError(Diagnostic("no-plan", text, subject="stock", help="nest fewer pieces at a time"))
    have = ", ".join(f"{stock.count or 'any'} x {stock.length * 1e3:g} mm" for stock in stocks)
    text = f"the stock given ({have}) does not hold all {sum(counts)} pieces"
    return NoRoomError(Diagnostic("stock-short", text, subject="stock", help="give more bars, or leave the count out"))


def _plans(
    flow: Mapping[Arc, int],
    sizes: Sequence[int],
    rooms: Sequence[int],
    stocks: Sequence[Stock],
    lengths: Sequence[float],
    kerf: float,
) -> tuple[Plan, ...]:
    """The flow taken apart into bars: walk from the start of a bar to its end, longest step first."""
    left = dict(flow)
    found: dict[tuple[int, tuple[int, ...]], int] = {}
    while any(here == 0 for here, _, _ in left):
        bar = _walk(left)
        found[bar] = found.get(bar, 0) + 1
    plans = []
    for (stock, pieces), bars in sorted(found.items(), key=lambda item: (-stocks[item[0][0]].length, item[0][1])):
        rest = stocks[stock].length - sum(lengths[piece] + kerf for piece in pieces)
        plans.append(Plan(stock, pieces, bars, max(0.0, rest)))
    return tuple(plans)


def _walk(left: dict[Arc, int]) -> tuple[int, tuple[int, ...]]:
    """One bar off the flow: its stock and its pieces."""
    outgoing: dict[int, list[Arc]] = {}
    for arc in left:
        outgoing.setdefault(arc[0], []).append(arc)
    place = 0
    pieces: list[int] = []
    while True:
        step = max(outgoing[place], key=lambda arc: (arc[2] >= 0, arc[1], -arc[2]))
        left[step] -= 1
        if not left[step]:
            del left[step]
        if step[1] < 0:
            return -2 - step[2], tuple(pieces)
        if step[2] >= 0:
            pieces.append(step[2])
        place = step[1]
