"""Duty cycle: how long an arc may burn in a ten-minute cycle, from the points on the rating plate.

A rated point is used as it stands. Elsewhere the square rule carries the next point above downward in
current, never upward: above the highest rated current no duty is known. Ratings hold at 40 degC in the
shop (IEC 60974-1, memory); machines cut out earlier where it is warmer or the fan is choked.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.physics.ranges import PhysicsRangeError, positive, within

CYCLE_MINUTES = 10.0
LEAST_DUTY = 0.01
PLATE_DIGITS = 1e-9  # relative; a current this close to a rated one is that rated one

Rated = tuple[float, float]


class RatingPlateError(PrestrikeError):
    """Rated points that no one machine can have."""


def duty_by_square(current: float, rated_current: float, rated_duty: float) -> float:
    """Duty [-] at a lower current than a rated one, by the square rule: D2 = D1 (I1/I2)^2, at most 1.

    A rule of thumb: the plate of one small machine at 170 A, 20 % and 75 A, 100 % follows it within 3 %,
    the same machine's low-voltage plate (80 A, 20 %; 50 A, 100 %) does not.
    Parameters: current [A], above 0 to rated_current; rated_current [A], above 0; rated_duty [-], 0.01 to 1.
    Returns: duty [-], 0 to 1. Raises: PhysicsRangeError outside, so also above the rated current.
    Source: power-source manual p. 23 (read).
    Example: 400 A at 25 % allow 282.8 A at 50 % (power-source manual p. 23).
    >>> round(duty_by_square(282.8427, 400.0, 0.25), 6)
    0.5
    """
    within("rated duty", rated_duty, LEAST_DUTY, 1.0)
    positive("current", current, "A")
    top = positive("rated current", rated_current, "A")
    within("current", current, 0.0, top * (1.0 + PLATE_DIGITS), "A", "no duty is rated above that current")
    return min(1.0, rated_duty * (top / current) ** 2)


def current_at_duty(duty: float, rated_current: float, rated_duty: float) -> float:
    """Current [A] that a longer duty than the rated one allows, by the square rule: I2 = I1 sqrt(D1/D2).

    Parameters: duty [-], rated_duty to 1; rated_current [A], above 0; rated_duty [-], 0.01 to 1.
    Returns: current [A]. Raises: PhysicsRangeError outside, so also for a duty below the rated one, where
    the rule would lead above the rated current. Source: as `duty_by_square` (read).
    Example: 400 A at 25 % allow 282.8 A at 50 % (power-source manual p. 23).
    >>> round(current_at_duty(0.5, 400.0, 0.25), 1)
    282.8
    """
    within("rated duty", rated_duty, LEAST_DUTY, 1.0)
    within("duty", duty, rated_duty * (1.0 - PLATE_DIGITS), 1.0)
    return positive("rated current", rated_current, "A") * math.sqrt(min(1.0, rated_duty / duty))


def duty_at(current: float, rated: Sequence[Rated], highest: float | None = None) -> float:
    """Duty [-] at a current from the points on the plate.

    A rated point as it stands; between points the square rule from the next point above, but never more
    than the next point below allows, so that the answer errs on the cool side; below the lowest point the
    square rule from it. Parameters: current [A], above 0; rated, points (current [A], duty [-] 0.01 to 1),
    one or more; highest [A], the most the machine gives, where stated.
    Returns: duty [-], 0 to 1. Raises: PhysicsRangeError above the highest rated current; RatingPlateError
    for points that contradict each other. Source: as `duty_by_square` (read).
    Example: A plate with 80 A at 20 % and 50 A at 100 % allows 50 A all the time.
    >>> duty_at(50.0, [(80.0, 0.2), (50.0, 1.0)])
    1.0
    """
    points = _plate(rated)
    top = min(points[-1][0], highest or math.inf)
    positive("current", current, "A")
    within("current", current, 0.0, top * (1.0 + PLATE_DIGITS), "A", "no duty is rated above that current")
    below = 1.0
    for rated_current, rated_duty in points:
        if math.isclose(current, rated_current, rel_tol=PLATE_DIGITS):
            return rated_duty
        if current < rated_current:
            return min(below, duty_by_square(current, rated_current, rated_duty))
        below = rated_duty
    return below


def greatest_current(duty: float, rated: Sequence[Rated], highest: float | None = None) -> float:
    """Greatest current [A] that the points on the plate allow at a duty; `duty_at` turned round.

    Parameters: duty [-], 0.01 to 1; rated, highest as in `duty_at` [A, -]. Returns: current [A], at most
    the highest rated one. Raises: PhysicsRangeError outside; RatingPlateError for points that contradict
    each other. Source: as `duty_by_square` (read).
    Example: A plate with 200 A at 20 % allows 115.5 A at 60 %.
    >>> round(greatest_current(0.6, [(200.0, 0.2)]), 1)
    115.5
    """
    points = _plate(rated)
    within("duty", duty, LEAST_DUTY, 1.0)
    allowed = []
    below = 1.0
    for rated_current, rated_duty in points:
        if duty <= rated_duty:
            allowed.append(rated_current)
        elif duty <= below:
            allowed.append(current_at_duty(duty, rated_current, rated_duty))
        below = rated_duty
    return min(max(allowed), highest or math.inf)


def arc_minutes(duty: float) -> float:
    """Minutes of arc in any ten [min]: 10 D.

    Parameters: duty [-], 0 to 1. Returns: minutes [min]. Raises: PhysicsRangeError outside.
    Source: definition of duty cycle in the AWS glossary (read).
    Example: 60 % is 6 min in 10 (AWS glossary).
    >>> arc_minutes(0.6)
    6.0
    """
    return CYCLE_MINUTES * within("duty", duty, 0.0, 1.0)


def _plate(rated: Sequence[Rated]) -> list[Rated]:
    """The points in order of current, checked: at least one, and no longer duty at a higher current."""
    if not rated:
        raise PhysicsRangeError("number of rated points", 0, 1, math.inf, "")
    points = sorted(rated)
    for current, duty in points:
        positive("rated current", current, "A")
        within("rated duty", duty, LEAST_DUTY, 1.0)
    for (low, more), (high, less) in pairwise(points):
        if less > more:
            message = f"rating plate: {less:.0%} at {high:g} A cannot go with {more:.0%} at {low:g} A"
            raise RatingPlateError(
                Diagnostic(code="rating-plate", message=message, subject="duty", help="read the plate again")
            )
    return points
