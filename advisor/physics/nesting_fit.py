"""First-fit decreasing and best-fit decreasing: a plan at once, which the other steps may only better."""

from __future__ import annotations

from itertools import permutations

from advisor.physics.nesting_problem import Bar, Problem, cost_of, right_stock

MOST_ORDERS = 24  # orders of the stocks that are tried


def first_fit(problem: Problem) -> list[Bar] | None:
    """The least of first-fit and best-fit decreasing over orders of the stocks; None where the bars run out.

    Parameters: problem, lengths in steps of its grid (no unit). Raises: nothing. Source: first-fit and best-fit
    decreasing, Johnson 1973 (memory).
    Example: Pieces of 12 and 9 steps on bars of 25 steps: one bar of each two.
    >>> problem = Problem((12, 9), (2, 2), (25,), (2.5,), (None,))
    >>> sorted(bar.pieces for bar in first_fit(problem) or [])
    [(0, 0), (1, 1)]
    """
    order = sorted(range(len(problem.rooms)), key=lambda k: -problem.rooms[k])
    tried = [*permutations(order)][:MOST_ORDERS] if len(order) <= 4 else [tuple(order), tuple(reversed(order))]
    found = []
    for stocks in tried:
        for best in (False, True):
            bars = _fitted(problem, stocks, best)
            if bars is not None:
                found.append(bars)
                # The same loads, on shorter bars where some are left.
                shorter = right_stock(problem, [bar.pieces for bar in bars])
                found += [shorter] if shorter is not None else []
    return min(found, key=lambda bars: cost_of(problem, bars)) if found else None


def _fitted(problem: Problem, stocks: tuple[int, ...], best: bool) -> list[Bar] | None:
    """Each piece, longest first, on the first bar that holds it (best: the fullest); else on a new one."""
    left = list(problem.limits)
    opened: list[tuple[int, list[int]]] = []
    free: list[int] = []
    for piece in sorted(range(len(problem.sizes)), key=lambda item: -problem.sizes[item]):
        size = problem.sizes[piece]
        for _ in range(problem.counts[piece]):
            holds = [at for at, room in enumerate(free) if room >= size]
            if holds:
                at = min(holds, key=lambda place: free[place]) if best else holds[0]
            else:
                stock = next((k for k in stocks if problem.rooms[k] >= size and left[k] != 0), -1)
                if stock < 0:
                    return None
                if (have := left[stock]) is not None:
                    left[stock] = have - 1
                at = len(free)
                opened.append((stock, []))
                free.append(problem.rooms[stock])
            free[at] -= size
            opened[at][1].append(piece)
    return [Bar(stock, tuple(pieces)) for stock, pieces in opened]
