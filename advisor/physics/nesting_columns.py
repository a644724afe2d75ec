"""Column generation: patterns of a bar priced by a knapsack, chosen by a linear program; suits many short pieces.

The prices of the pieces give a bound that holds after every round (Farley 1990): no bar can hold pieces worth more
than its own price once they are scaled down to that, so all pieces together are worth less than any plan costs.
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from typing import Any, NamedTuple

from advisor.physics.nesting_problem import Bar, Problem

MOST_ROUNDS = 2_000
LEAST_SECONDS = 0.5  # a solver that has less is not started
_SAME = 1e-9
Pattern = tuple[int, tuple[int, ...]]  # stock, how many of each piece


class Columns(NamedTuple):
    """Patterns to choose from, and the length [m] below which no plan can lie."""

    patterns: list[Pattern]
    bound: float


def generate(problem: Problem, bars: Sequence[Bar], deadline: float) -> Columns:
    """Patterns that may be in a best plan. bars: a plan to start from; deadline: of time.monotonic() [s].

    Returns: patterns (no unit) and the bound [m]. Raises: nothing; it stops when the time is up. Source: Gilmore
    and Gomory 1961, Farley 1990 (memory).
    Example: Three pieces of 12 steps from bars of 25 steps, 2.5 m each: no plan takes less than 5 m.
    >>> problem = Problem((12,), (3,), (25,), (2.5,), (None,))
    >>> columns = generate(problem, [], time.monotonic() + 5.0)
    >>> columns.patterns, columns.bound
    ([(0, (2,))], 5.0)
    """
    patterns = dict.fromkeys([*_of_bars(problem, bars), *_alone(problem)])
    bound = _by_material(problem)
    for _ in range(MOST_ROUNDS):
        worth, rent = _prices(problem, list(patterns))
        best = _fullest(problem, worth)
        bound = max(bound, _farley(problem, worth, best.values))
        new = [
            (k, best.counts(room))
            for k, room in enumerate(problem.rooms)
            if best.values[room] + rent[k] > problem.prices[k] * (1 + _SAME)
        ]
        fresh = [pattern for pattern in new if pattern not in patterns]
        if not fresh or time.monotonic() > deadline:
            break
        patterns.update(dict.fromkeys(fresh))
    return Columns(list(patterns), whole_bars(problem, bound))


def _of_bars(problem: Problem, bars: Sequence[Bar]) -> list[Pattern]:
    found = []
    for bar in bars:
        counts = tuple(bar.pieces.count(piece) for piece in range(len(problem.sizes)))
        if sum(size * count for size, count in zip(problem.sizes, counts, strict=True)) <= problem.rooms[bar.stock]:
            found.append((bar.stock, counts))
    return found


def _alone(problem: Problem) -> list[Pattern]:
    """Bars of one kind of piece, as many as go on."""
    found = []
    for k, room in enumerate(problem.rooms):
        for piece, size in enumerate(problem.sizes):
            most = min(room // size, problem.counts[piece])
            if most:
                found.append((k, tuple(most if index == piece else 0 for index in range(len(problem.sizes)))))
    return found


def _by_material(problem: Problem) -> float:
    """All pieces laid end to end, at the cheapest bar's price of a step [m]."""
    rate = min(price / room for price, room in zip(problem.prices, problem.rooms, strict=True))
    return rate * sum(size * count for size, count in zip(problem.sizes, problem.counts, strict=True))


def _prices(problem: Problem, patterns: Sequence[Pattern]) -> tuple[list[float], list[float]]:
    """What a piece of each kind is worth, and what a bar of each stock that runs out costs on top (0 or below) [m]."""
    import numpy as np
    from scipy.optimize import linprog

    # A piece may also go missing, at a price that no plan pays: so there is always an answer.
    dear = 10.0 * sum(problem.prices) + 1.0
    kinds = len(problem.sizes)
    cover = np.hstack([np.array([counts for _, counts in patterns], dtype=float).T, np.eye(kinds)])
    limited = [k for k, limit in enumerate(problem.limits) if limit is not None]
    take = np.array([[float(stock == k) for stock, _ in patterns] + [0.0] * kinds for k in limited])
    rows = np.vstack([-cover, take]) if limited else -cover
    most = [-float(count) for count in problem.counts] + [float(problem.limits[k] or 0) for k in limited]
    cost = [problem.prices[stock] for stock, _ in patterns] + [dear] * kinds
    answer: Any = linprog(cost, A_ub=rows, b_ub=most, method="highs")
    if answer.x is None:
        return [0.0] * kinds, [0.0] * len(problem.rooms)
    dual = [float(value) for value in answer.ineqlin.marginals]
    rent = [0.0] * len(problem.rooms)
    for place, k in enumerate(limited):
        rent[k] = min(0.0, dual[kinds + place])
    return [max(0.0, -value) for value in dual[:kinds]], rent


class Fullest(NamedTuple):
    """The most that pieces on a bar of every room are worth, and which pieces those are."""

    values: Any
    taken: Any
    chunks: list[tuple[int, int]]
    problem: Problem

    def counts(self, room: int) -> tuple[int, ...]:
        """How many of each piece."""
        found = [0] * len(self.problem.sizes)
        for place in range(len(self.chunks) - 1, -1, -1):
            piece, number = self.chunks[place]
            if self.taken[place, room]:
                found[piece] += number
                room -= number * self.problem.sizes[piece]
        return tuple(found)


def _fullest(problem: Problem, worth: Sequence[float]) -> Fullest:
    """The bounded knapsack for every room up to the longest bar, in one table."""
    import numpy as np

    longest = max(problem.rooms)
    chunks = [
        (piece, number)
        for piece, size in enumerate(problem.sizes)
        for number in _split(min(problem.counts[piece], longest // size))
    ]
    values = np.zeros(longest + 1)
    taken = np.zeros((len(chunks), longest + 1), dtype=bool)
    for place, (piece, number) in enumerate(chunks):
        size = number * problem.sizes[piece]
        with_it = values[: longest + 1 - size] + number * worth[piece]
        better = with_it > values[size:] + 1e-12
        taken[place, size:] = better
        values[size:][better] = with_it[better]
    return Fullest(values, taken, chunks, problem)


def _split(most: int) -> list[int]:
    """Numbers of which some add up to each of 0 to most."""
    found, number = [], 1
    while most > 0:
        found.append(min(number, most))
        most -= found[-1]
        number *= 2
    return found


def _farley(problem: Problem, worth: Sequence[float], values: Any) -> float:
    """The bound [m]: prices of the pieces scaled until no bar without limit holds more than its price; a bar with a
    limit that does is charged for as often as there is one."""
    ratios = [
        problem.prices[k] / values[room]
        for k, room in enumerate(problem.rooms)
        if problem.limits[k] is None and values[room] > 0
    ]
    scale = min([1.0, *ratios]) * (1 - 1e-12)
    bound = scale * sum(count * value for count, value in zip(problem.counts, worth, strict=True))
    for k, limit in enumerate(problem.limits):
        if limit is not None:
            bound -= limit * max(0.0, scale * float(values[problem.rooms[k]]) - problem.prices[k])
    return float(bound)


def whole_bars(problem: Problem, bound: float) -> float:
    """The bound raised to the least length [m] that whole bars have; the bound itself for many kinds of stock.

    Parameters: problem; bound [m], 0 or more. Returns: length [m]. Raises: nothing. Source: arithmetic (computed).
    Example: At least 3.6 m from bars of 2.5 m are two whole bars, 5 m.
    >>> whole_bars(Problem((12,), (3,), (25,), (2.5,), (None,)), 3.6)
    5.0
    """
    if len(problem.prices) == 1:
        return math.ceil(bound / problem.prices[0] - 1e-7) * problem.prices[0]
    if len(problem.prices) == 2:
        longer = max(range(2), key=lambda k: problem.prices[k])
        most = math.ceil(bound / problem.prices[longer])
        limit = problem.limits[longer]
        other = problem.prices[1 - longer]
        sums = []
        for number in range(most + 1 if limit is None else min(most, limit) + 1):
            rest = bound - number * problem.prices[longer]
            sums.append(number * problem.prices[longer] + max(0, math.ceil(rest / other - 1e-7)) * other)
        return max(bound, min(sums))
    return bound


def whole(problem: Problem, patterns: Sequence[Pattern], deadline: float) -> list[Bar] | None:
    """Whole bars of these patterns, the least that the solver finds in the time; None where it finds none.

    Parameters: problem, patterns (no unit); deadline [s] of time.monotonic(). Raises: nothing. Source: whole-number
    program over the patterns, solved by HiGHS (computed).
    Example: Three pieces of 12 steps, two to a bar of 25 steps: two bars.
    >>> problem = Problem((12,), (3,), (25,), (2.5,), (None,))
    >>> [len(bar.pieces) for bar in whole(problem, [(0, (2,))], time.monotonic() + 5.0) or []]
    [2, 1]
    """
    seconds = deadline - time.monotonic()
    if seconds < LEAST_SECONDS:
        return None
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    cover = np.array([counts for _, counts in patterns], dtype=float).T
    rows = [LinearConstraint(cover, np.array(problem.counts, dtype=float), np.inf)]
    for k, limit in enumerate(problem.limits):
        if limit is not None:
            rows.append(LinearConstraint(np.array([[float(stock == k) for stock, _ in patterns]]), 0.0, float(limit)))
    answer: Any = milp(
        _small(problem, [stock for stock, _ in patterns]),
        integrality=np.ones(len(patterns)),
        bounds=Bounds(0.0, float(sum(problem.counts))),
        constraints=rows,
        options={"time_limit": seconds / 2},
    )
    if answer.x is None:
        return None
    return _cut(problem, [(patterns[at], round(value)) for at, value in enumerate(answer.x) if round(value)])


def _small(problem: Problem, stocks: Sequence[int]) -> Any:
    """Costs as small whole numbers where they can be, since a solver rounds its bound up between those."""
    import numpy as np

    one = min(problem.prices)
    return np.array([problem.prices[stock] / one for stock in stocks])


def _cut(problem: Problem, chosen: Sequence[tuple[Pattern, int]]) -> list[Bar]:
    """The bars, without the pieces that are cut beyond what is wanted; bars that are empty then are left out."""
    wanted = list(problem.counts)
    bars = []
    for (stock, counts), number in chosen:
        for _ in range(number):
            pieces: list[int] = []
            for piece, count in enumerate(counts):
                cut = min(count, wanted[piece])
                wanted[piece] -= cut
                pieces += [piece] * cut
            if pieces:
                bars.append(Bar(stock, tuple(pieces)))
    return bars
