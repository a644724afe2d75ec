"""Pieces on stock lengths: which pieces to saw from which bar.

Three steps, each given what is left of the time, and each stopped as soon as the plan meets the bound:
first-fit decreasing (`nesting_fit`), column generation (`nesting_columns`), and the flow along the bar
(`nesting_flow`). The best plan found is given, so none is worse than first-fit. The bound is a number of its own: it
holds whether or not a step ran to its end, and a plan is proven the least only where it meets the bound.
Lengths are whole steps of a grid. Where they are not, the plan takes pieces rounded up and stock rounded down, so that
it fits the metal, and the bound takes pieces rounded down and stock rounded up, so that it stays below every plan.
"""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.physics import nesting_columns, nesting_fit, nesting_flow
from advisor.physics.nesting_problem import Bar, Problem, cost_of
from advisor.physics.ranges import positive, within

INCH = 25.4e-3
GRIDS = (1e-3, INCH / 64, 5e-4, 1e-4, INCH / 128, 5e-5, 1e-5)  # m, coarsest first
ROUNDED_GRIDS = (1e-4, 5e-4, 1e-3, 5e-3, 1e-2)  # m, finest first, where no grid fits exactly
MOST_STEPS = 130_000  # of the longest bar
TIME_LIMIT = 20.0  # s for one nest
_SLACK = 1e-6  # of a step: what floats lose


@dataclass(frozen=True)
class Stock:
    """Bars of one length [m], and how many there are; None for as many as wanted."""

    length: float
    count: int | None = None


@dataclass(frozen=True)
class CuttingPlan:
    """One bar to be cut: stock and pieces by their number in the list given; how many bars alike; left [m] at its end.

    `left` counts the kerf behind the last piece as gone.
    """

    stock: int
    pieces: tuple[int, ...]
    bars: int
    left: float


@dataclass(frozen=True)
class Nest:
    """All bars. used: stock length [m]; bound: no plan uses less [m]; grid: step of the lengths [m]."""

    plans: tuple[CuttingPlan, ...]
    used: float
    bound: float
    grid: float

    @property
    def over(self) -> float:
        """At most so far above the least possible, as a share [-]. The bound is above 0 for every nest."""
        return max(0.0, self.used / self.bound - 1.0)

    @property
    def proven(self) -> bool:
        """Whether no plan can use less."""
        return self.used <= self.bound * (1 + 1e-9)


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
    more; kerf of the saw [m], 0 to 20 mm, lost between two pieces; time_limit of all steps together [s].
    Returns: plans with the stock used and a lower bound of it [m]. Raises: PhysicsRangeError outside; NoRoomError where
    a piece is longer than any bar, or the bars given run out. Source: Gilmore and Gomory 1961 (column generation),
    Farley 1990 (bound), Valerio de Carvalho 1999 (flow), all memory; solved by HiGHS (computed).
    Example: Three pieces of 1.2 m from bars of 2.5 m with a kerf of 3 mm: two bars, 5 m, and no plan takes less.
    >>> found = nest([1.2], [3], [Stock(2.5)], kerf=3e-3)
    >>> found.used, found.proven
    (5.0, True)
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
    grid, problem, relaxed = _drawn(lengths, counts, stocks, kerf)
    bars, bound = _solved(problem, relaxed, time.monotonic() + time_limit)
    if bars is None:
        raise _no_plan(bound, counts, stocks)
    plans = _plans(bars, stocks, lengths, kerf)
    used = sum(plan.bars * stocks[plan.stock].length for plan in plans)
    return Nest(plans, used, min(bound, used), grid)


def _solved(problem: Problem, relaxed: Problem, deadline: float) -> tuple[list[Bar] | None, float]:
    """The best bars of all steps, and the bound [m]; no bars where none were found, with a bound of infinity where
    the solver says that there are none."""
    best = nesting_fit.first_fit(problem)
    columns = nesting_columns.generate(problem, best or [], deadline)
    bound = columns.bound
    if relaxed != problem:
        # The plan has other lengths than the bound, and so other columns.
        bound = nesting_columns.generate(relaxed, best or [], deadline).bound
    if _open(problem, best, bound):
        best = _better(problem, best, nesting_columns.whole(problem, columns.patterns, deadline))
    if _open(problem, best, bound):
        flow = nesting_flow.solve(problem, deadline)
        best = _better(problem, best, flow.bars)
        if relaxed == problem:
            bound = max(bound, flow.bound)
    return best, bound


def _open(problem: Problem, bars: list[Bar] | None, bound: float) -> bool:
    return bars is None or cost_of(problem, bars) > bound * (1 + 1e-9)


def _better(problem: Problem, old: list[Bar] | None, new: list[Bar] | None) -> list[Bar] | None:
    if old is None or new is None:
        return new if old is None else old
    return min(old, new, key=lambda bars: cost_of(problem, bars))


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
) -> tuple[float, Problem, Problem]:
    """The grid, the problem on it, and the problem whose bound holds for the true lengths: the same where they are
    whole steps. A bar is longer by one kerf, since none is needed behind the last piece."""
    pieces = [length + kerf for length in lengths]
    bars = [stock.length + kerf for stock in stocks]
    fitting = [grid for grid in (*GRIDS, *ROUNDED_GRIDS) if max(bars) / grid <= MOST_STEPS]
    exact = next((grid for grid in fitting if all(_whole(size / grid) for size in (*pieces, *bars))), 0.0)
    rounded = next((grid for grid in ROUNDED_GRIDS if max(bars) / grid <= MOST_STEPS), ROUNDED_GRIDS[-1])
    grid = exact or rounded
    prices = tuple(stock.length for stock in stocks)
    limits = tuple(stock.count for stock in stocks)

    def problem(up: bool) -> Problem:
        sizes = tuple(_step(piece / grid, up) for piece in pieces)
        rooms = tuple(_step(bar / grid, not up) for bar in bars)
        return Problem(sizes, tuple(counts), rooms, prices, limits)

    found = problem(True)
    if max(found.sizes) > max(found.rooms):
        text = "the longest piece just fills a bar: too near to plan"
        raise NoRoomError(Diagnostic("stock-short", text, subject="stock", help="take longer stock"))
    return grid, found, problem(False)


def _whole(steps: float) -> bool:
    return abs(steps - round(steps)) < _SLACK


def _step(steps: float, up: bool) -> int:
    return math.ceil(steps - _SLACK) if up else math.floor(steps + _SLACK)


def _no_plan(bound: float, counts: Sequence[int], stocks: Sequence[Stock]) -> NoRoomError:
    if math.isfinite(bound):
        text = f"no plan was found for {sum(counts)} pieces in the time allowed"
        return NoRoomError(Diagnostic("no-plan", text, subject="stock", help="nest fewer pieces at a time"))
    have = ", ".join(f"{'any' if s.count is None else s.count} x {s.length * 1e3:g} mm" for s in stocks)
    text = f"the stock given ({have}) does not hold all {sum(counts)} pieces"
    return NoRoomError(Diagnostic("stock-short", text, subject="stock", help="give more bars, or leave the count out"))


def _plans(
    bars: Sequence[Bar], stocks: Sequence[Stock], lengths: Sequence[float], kerf: float
) -> tuple[CuttingPlan, ...]:
    """Bars that are alike together, those of the longest stock first."""
    alike = Counter((bar.stock, tuple(sorted(bar.pieces, key=lambda piece: -lengths[piece]))) for bar in bars)
    plans = []
    for (stock, pieces), count in sorted(alike.items(), key=lambda item: (-stocks[item[0][0]].length, item[0][1])):
        rest = stocks[stock].length - sum(lengths[piece] + kerf for piece in pieces)
        plans.append(CuttingPlan(stock, pieces, count, max(0.0, rest)))
    return tuple(plans)
