"""Limits of size of the ISO system: tolerance grades, fundamental deviations, and the interference a fit leaves.

Tables of ISO 286-1 and ISO 286-2 up to 500 mm, in micrometres, and the outside diameter of rolling bearings of normal
class by ISO 492. The tests hold the tables to the formulas of ISO 286-1 they were rounded from.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from advisor.physics.ranges import within
from advisor.physics.tables import NotCoveredError, TableSource

SOURCE = TableSource("ISO 286-1 and ISO 286-2 tables, up to 500 mm", "memory")
BEARING_SOURCE = TableSource("ISO 492, outside diameter of bearings of normal class", "memory")
MOST = 500.0  # mm

# Upper ends of the diameter steps [mm], and of the finer steps that r and beyond use from 50 mm (t to x from 10 mm).
STEPS = (3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500)
FINE = (3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500)

GRADES: dict[int, tuple[int, ...]] = {
    4: (3, 4, 4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20),
    5: (4, 5, 6, 8, 9, 11, 13, 15, 18, 20, 23, 25, 27),
    6: (6, 8, 9, 11, 13, 16, 19, 22, 25, 29, 32, 36, 40),
    7: (10, 12, 15, 18, 21, 25, 30, 35, 40, 46, 52, 57, 63),
    8: (14, 18, 22, 27, 33, 39, 46, 54, 63, 72, 81, 89, 97),
    9: (25, 30, 36, 43, 52, 62, 74, 87, 100, 115, 130, 140, 155),
    10: (40, 48, 58, 70, 84, 100, 120, 140, 160, 185, 210, 230, 250),
    11: (60, 75, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400),
}
# Upper deviation of shafts below the nominal size.
_BELOW: dict[str, tuple[int, ...]] = {
    "f": (-6, -10, -13, -16, -20, -25, -30, -36, -43, -50, -56, -62, -68),
    "g": (-2, -4, -5, -6, -7, -9, -10, -12, -14, -15, -17, -18, -20),
    "h": (0,) * 13,
}
# Lower deviation of shafts from the nominal size upward; k holds for grades 4 to 7.
_ABOVE: dict[str, tuple[int, ...]] = {
    "k": (0, 1, 1, 1, 2, 2, 2, 3, 3, 4, 4, 4, 5),
    "m": (2, 4, 6, 7, 8, 9, 11, 13, 15, 17, 20, 21, 23),
    "n": (4, 8, 10, 12, 15, 17, 20, 23, 27, 31, 34, 37, 40),
    "p": (6, 12, 15, 18, 22, 26, 32, 37, 43, 50, 56, 62, 68),
}
# fmt: off
_ABOVE_FINE: dict[str, tuple[int | None, ...]] = {
    "r": (10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132),
    "s": (14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208,
          232, 252),
    "t": (None, None, None, None, None, None, 41, 48, 54, 66, 75, 91, 104, 122, 134, 146, 166, 180, 196, 218, 240,
          268, 294, 330, 360),
    "u": (18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284, 315, 350, 390, 435,
          490, 540),
    "x": (20, 28, 34, 40, 45, 54, 64, 80, 97, 122, 146, 178, 210, 248, 280, 310, 350, 385, 425, 475, 525, 590, 660,
          740, 820),
}
# fmt: on
_BEARING = ((18, -8), (30, -9), (50, -11), (80, -13), (120, -15), (150, -18), (180, -25), (250, -30), (315, -35))
_CLASS = re.compile(r"([A-Za-z]{1,2})(\d{1,2})")


@dataclass(frozen=True)
class Limits:
    """Lower and upper deviation from the nominal size [m]."""

    low: float
    high: float


@dataclass(frozen=True)
class FitLimits:
    """A fit: limits of bore and ring, and the interference on the diameter they leave, least and most [m].

    Interference below 0 is clearance.
    """

    hole: Limits
    shaft: Limits

    @property
    def least(self) -> float:
        """Least interference [m]: smallest ring in the largest bore."""
        return self.shaft.low - self.hole.high

    @property
    def most(self) -> float:
        """Greatest interference [m]: largest ring in the smallest bore."""
        return self.shaft.high - self.hole.low


def tolerance(grade: int, diameter: float) -> float:
    """Width of a standard tolerance grade [m].

    Parameters: grade, 4 to 11 (no unit); diameter [m], above 0, up to 500 mm. Returns: width [m].
    Raises: NotCoveredError for another grade; PhysicsRangeError outside. Source: ISO 286-1 Table 1 (memory).
    Example: IT7 at 50 mm is 25 um wide.
    >>> round(tolerance(7, 50e-3) * 1e6)
    25
    """
    if grade not in GRADES:
        raise NotCoveredError(f"no tolerance grade IT{grade} here", "fit", "known here: IT4 to IT11")
    return GRADES[grade][_step(diameter, STEPS)] * 1e-6


def shaft_limits(tolerance_class: str, diameter: float) -> Limits:
    """Deviations of a shaft, such as `p6` [m].

    Parameters: tolerance_class, letters f to x with a grade (no unit); diameter [m], above 0, up to 500 mm.
    Returns: deviations [m]. Raises: NotCoveredError for a class not here; PhysicsRangeError outside.
    Source: ISO 286-2 (memory).
    Example: p6 at 30 mm: +22 to +35 um (ISO 286-2).
    >>> found = shaft_limits("p6", 30e-3)
    >>> round(found.low * 1e6), round(found.high * 1e6)
    (22, 35)
    """
    letter, grade = _parsed(tolerance_class)
    width = tolerance(grade, diameter)
    if letter == "js":
        return Limits(-width / 2.0, width / 2.0)
    if letter in _BELOW:
        high = _BELOW[letter][_step(diameter, STEPS)] * 1e-6
        return Limits(high - width, high)
    low = _lower(letter, grade, diameter) * 1e-6
    return Limits(low, low + width)


def hole_limits(tolerance_class: str, diameter: float) -> Limits:
    """Deviations of a bore, such as `H7` or `P7` [m].

    F, G, H mirror the shaft; K to N up to grade 8 and P to X up to grade 7 mirror it moved by the difference of two
    neighbouring grades, so that P7/h6 holds as hard as H7/p6.
    Parameters: tolerance_class, letters F to X with a grade (no unit); diameter [m], above 3 mm, up to 500 mm.
    Returns: deviations [m]. Raises: NotCoveredError for a class not here; PhysicsRangeError outside.
    Source: ISO 286-1, rule for fundamental deviations of holes (memory).
    Example: P7 at 62 mm: -51 to -21 um (ISO 286-2).
    >>> found = hole_limits("P7", 62e-3)
    >>> round(found.low * 1e6), round(found.high * 1e6)
    (-51, -21)
    """
    letter, grade = _parsed(tolerance_class)
    width = tolerance(grade, diameter)
    if letter == "js":
        return Limits(-width / 2.0, width / 2.0)
    if letter in _BELOW:
        low = -_BELOW[letter][_step(diameter, STEPS)] * 1e-6
        return Limits(low, low + width)
    within("diameter", diameter, 3.0001e-3, MOST * 1e-3, "m", "the rule for such bores starts above 3 mm")
    moved = grade <= (8 if letter in "kmn" else 7)
    if letter == "k" and not moved:
        raise NotCoveredError(f"no bore {tolerance_class} here", "fit", "K is listed to grade 8")
    if letter == "n" and grade > 8:
        return Limits(-width, 0.0)
    shift = width - tolerance(grade - 1, diameter) if moved and grade - 1 in GRADES else 0.0
    high = -_lower(letter, min(grade, 7), diameter) * 1e-6 + shift
    if tolerance_class == "M6" and 0.250 < diameter <= 0.315:
        high = -9e-6  # the one exception the standard prints
    return Limits(high - width, high)


def bearing_limits(diameter: float) -> Limits:
    """Deviations of the outside of a rolling bearing of normal class [m].

    Parameters: diameter [m], above 2.5 mm, up to 315 mm. Returns: deviations [m]. Raises: PhysicsRangeError outside.
    Source: ISO 492 (memory).
    Example: 62 mm outside: -13 to 0 um (ISO 492).
    >>> found = bearing_limits(62e-3)
    >>> round(found.low * 1e6), round(found.high * 1e6)
    (-13, 0)
    """
    within("bearing's outside diameter", diameter, 2.5e-3, 315e-3, "m")
    low = next(low for most, low in _BEARING if diameter * 1e3 <= most + 1e-9)
    return Limits(low * 1e-6, 0.0)


def fit_limits(fit: str, diameter: float) -> FitLimits:
    """Limits of a fit such as `H7/p6`, `P7/h6` or `N7/bearing` [m].

    Parameters: fit, bore in capitals before the stroke, ring after it (no unit); diameter [m], above 0, up to 500 mm.
    Returns: limits [m]. Raises: NotCoveredError for what is not here; PhysicsRangeError outside.
    Source: ISO 286-1, ISO 286-2, ISO 492 (memory).
    Example: H7/s6 at 50 mm, bore 0 to +25 um and ring +43 to +59 um: interference of 18 to 59 um.
    >>> found = fit_limits("H7/s6", 50e-3)
    >>> round(found.least * 1e6), round(found.most * 1e6)
    (18, 59)
    """
    hole, stroke, shaft = (part.strip() for part in fit.partition("/"))
    if not stroke or not hole[:1].isupper() or not shaft or shaft[:1].isupper():
        raise NotCoveredError(f"'{fit}' is no fit", "fit", "write bore/ring, such as H7/p6, P7/h6 or N7/bearing")
    ring = bearing_limits(diameter) if shaft == "bearing" else shaft_limits(shaft, diameter)
    return FitLimits(hole_limits(hole, diameter), ring)


def _parsed(tolerance_class: str) -> tuple[str, int]:
    match = _CLASS.fullmatch(tolerance_class.strip())
    known = ("js", *_BELOW, *_ABOVE, *_ABOVE_FINE)
    if match is None or match[1].lower() not in known:
        help = f"known here: letters {', '.join(known)} (capitals for bores) with grades 4 to 11"
        raise NotCoveredError(f"no tolerance class '{tolerance_class}' here", "fit", help)
    return match[1].lower(), int(match[2])


def _lower(letter: str, grade: int, diameter: float) -> int:
    """Lower deviation of a shaft that lies above the nominal size [um]."""
    if letter == "k" and grade > 7:
        return 0
    if letter in _ABOVE:
        return _ABOVE[letter][_step(diameter, STEPS)]
    found = _ABOVE_FINE[letter][_step(diameter, FINE)]
    if found is None:
        raise NotCoveredError(f"no '{letter}' so small", "fit", "it is listed from 24 mm; take s or u")
    return found


def _step(diameter: float, steps: tuple[int, ...]) -> int:
    size = within("diameter", diameter, 1e-6, MOST * 1e-3, "m", "the tables here end at 500 mm") * 1e3
    if size <= steps[0]:
        return 0
    return next(i + 1 for i, (low, high) in enumerate(pairwise(steps)) if low < size <= high + 1e-9)
