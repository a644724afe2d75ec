"""A plan as a flow along the bar: a step for each piece with its kerf, steps of waste between.

All bars together are one flow (Valerio de Carvalho 1999), whose integer optimum is the least stock. Drawings with too
many steps are not tried.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from advisor.physics.nesting_columns import LEAST_SECONDS, whole_bars
from advisor.physics.nesting_problem import Bar, Problem

MOST_ARCS = 40_000
INFEASIBLE = 2  # as scipy's milp says it
Arc = tuple[int, int, int]  # from, to, piece (-1: waste; -2 and below: out, as a bar of stock -2 - k)


class Flow(NamedTuple):
    """Bars, or None where none were found. bound [m]: 0 where the solver gave none, infinity where it says that the
    stock cannot hold the pieces."""

    bars: list[Bar] | None
    bound: float


def solve(problem: Problem, deadline: float) -> Flow:
    """The flow with the least stock that the solver finds until the deadline [s] of time.monotonic().

    Returns: bars and the bound [m]. Raises: nothing; no bars where the time is up. Source: Valerio de Carvalho 1999
    (memory), solved by HiGHS (computed).
    Example: Three pieces of 12 steps from bars of 25 steps, 2.5 m each: two bars, and no plan takes less than 5 m.
    >>> flow = solve(Problem((12,), (3,), (25,), (2.5,), (None,)), time.monotonic() + 5.0)
    >>> len(flow.bars or []), flow.bound
    (2, 5.0)
    """
    arcs = _arcs(problem)
    seconds = deadline - time.monotonic()
    if arcs is None or seconds < LEAST_SECONDS:
        return Flow(None, 0.0)
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    places = sorted({0, *problem.rooms, *(end for _, end, _ in arcs)})
    every: list[Arc] = [*arcs, *((here, there, -1) for here, there in pairwise(places))]
    one = min(problem.prices)
    total = float(sum(problem.counts))
    top = [float(problem.counts[piece]) if piece >= 0 else total for _, _, piece in every]
    top += [total if limit is None else float(limit) for limit in problem.limits]
    # A bar of length k leaves the flow at its end: one more column for each stock.
    answer: Any = milp(
        np.array([0.0] * len(every) + [price / one for price in problem.prices]),
        integrality=np.ones(len(top)),
        bounds=Bounds(0.0, np.array(top)),
        constraints=[LinearConstraint(*rows) for rows in _rows(every, places, problem)],
        options={"time_limit": seconds, "mip_rel_gap": 1e-9},
    )
    bound = answer.mip_dual_bound
    sure = float(bound) * one if bound is not None and math.isfinite(bound) else 0.0
    if answer.x is None:
        return Flow(None, math.inf if answer.status == INFEASIBLE else sure)
    amounts = [round(value) for value in answer.x]
    flow = {arc: amount for arc, amount in zip(every, amounts, strict=False) if amount}
    for k, room in enumerate(problem.rooms):
        if amounts[len(every) + k]:
            flow[room, -1, -2 - k] = amounts[len(every) + k]
    return Flow(_bars(flow), whole_bars(problem, sure * (1 - 1e-9)))


def _arcs(problem: Problem) -> list[Arc] | None:
    """Steps of pieces from every place that longer pieces can lead to, so that each set of pieces has one order.
    None where they are too many."""
    room = max(problem.rooms)
    reached = {0}
    arcs: set[Arc] = set()
    for piece in sorted(range(len(problem.sizes)), key=lambda index: -problem.sizes[index]):
        size, found = problem.sizes[piece], set(reached)
        for start in reached:
            for place in range(start, min(start + size * problem.counts[piece], room - size + 1), size):
                arcs.add((place, place + size, piece))
                found.add(place + size)
            if len(arcs) > MOST_ARCS:
                return None
        reached = found
    return sorted(arcs)


def _rows(every: Sequence[Arc], places: Sequence[int], problem: Problem) -> list[tuple[Any, Any, Any]]:
    """What goes into a place comes out of it; every piece is cut as often as wanted."""
    import numpy as np
    from scipy.sparse import coo_matrix

    row = {place: index for index, place in enumerate(places)}
    columns = range(len(every))
    rows = [row[here] for here, _, _ in every] + [row[there] for _, there, _ in every]
    signs = [-1.0] * len(every) + [1.0] * len(every)
    at = [*columns, *columns]
    for k, room in enumerate(problem.rooms):
        rows += [row[0], row[room]]
        signs += [1.0, -1.0]
        at += [len(every) + k] * 2
    size = len(every) + len(problem.rooms)
    flow = coo_matrix((signs, (rows, at)), shape=(len(places), size)).tocsc()
    pieces = [(piece, index) for index, (_, _, piece) in enumerate(every) if piece >= 0]
    wanted = coo_matrix(
        ([1.0] * len(pieces), ([p for p, _ in pieces], [i for _, i in pieces])), shape=(len(problem.counts), size)
    ).tocsc()
    need = np.array(problem.counts, dtype=float)
    return [(flow, np.zeros(len(places)), np.zeros(len(places))), (wanted, need, need)]


def _bars(left: dict[Arc, int]) -> list[Bar]:
    """The flow taken apart into bars: walk from the start of a bar to its end, longest step first."""
    bars = []
    while any(here == 0 for here, _, _ in left):
        bars.append(_walk(left))
    return [bar for bar in bars if bar.pieces]


def _walk(left: dict[Arc, int]) -> Bar:
    """One bar off the flow."""
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
            return Bar(-2 - step[2], tuple(pieces))
        if step[2] >= 0:
            pieces.append(step[2])
        place = step[1]
