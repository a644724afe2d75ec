"""Conduction under a moving arc on two joined plates, solved wave by wave along the seam.

The seam is straight and the plates are long, so in the frame of the arc the field is a sum of waves
exp(s x) along the seam, and each wave obeys an ordinary equation across it:

    k d (T'' + s^2 T) + v rho c d s T - H T = -q(s, y)          (x ahead of the arc, y across)

whose solution between plate edge, joint and plate edge is a pair of exponentials, known exactly. No grid
means no numerical diffusion at any travel; what is left to choose is how many waves and how many points
of the arc's Gaussian are summed. Waves run along s = -c + i w: the shift c keeps the long tail behind the
arc and the short front ahead of it both summable, also with no loss from the faces. One set of waves
serves every aim and every power, because the field is linear in both.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from advisor.physics.heat_split import PlateMember
from advisor.physics.ranges import PhysicsRangeError, positive, within

Real = NDArray[np.float64]
Complex = NDArray[np.complexfloating[Any, Any]]

FASTEST_WAVE = 7.5  # times 1/sigma: there the Gaussian's own transform has fallen to 6e-13
GAUSSIAN_REACH = 6.5  # times sigma on each side of the aim: 1e-10 of the heat lies beyond
MOST_SHIFT = 8.0  # c times the longest lag: more would lose digits to cancellation
PHASE_PER_PANEL = 16.0
WAVES_PER_PANEL = 10
POINTS_PER_PANEL = 8  # with these the aim is good to 1e-9 mm over the ranges allowed (computed)
LAG_STEPS = 97


@dataclass(frozen=True)
class Arc:
    """An arc that travels along a seam.

    travel [m/s], 0.1 to 100 mm/s; sigma [m], radius at which the Gaussian of its heat is exp(-1/2) of the
    middle, 0.1 to 10 mm; start_c [degC] of the part before it comes, -50 to 1000.
    Raises PhysicsRangeError for anything else.
    """

    travel: float
    sigma: float
    start_c: float = 20.0

    def __post_init__(self) -> None:
        within("travel", self.travel, 0.1e-3, 0.1, "m/s")
        within("arc radius", self.sigma, 0.1e-3, 10e-3, "m")
        within("start temperature", self.start_c, -50.0, 1000.0, "degC")


@dataclass(frozen=True)
class HeatedSeam:
    """Two plates joined along y = 0, the first at y < 0, the second at y > 0, and the arc above them."""

    first: PlateMember
    second: PlateMember
    arc: Arc

    def __post_init__(self) -> None:
        for member in (self.first, self.second):
            positive("rise to the solidus", member.solidus_c - self.arc.start_c, "K")

    @property
    def members(self) -> tuple[PlateMember, PlateMember]:
        """Both members, the first at y < 0."""
        return self.first, self.second

    @property
    def rises(self) -> tuple[float, float]:
        """Rise [K] from the part's temperature to each member's solidus."""
        return self.first.solidus_c - self.arc.start_c, self.second.solidus_c - self.arc.start_c

    def decays(self) -> tuple[float, float]:
        """v / (2 a) [1/m] of each member."""
        speed = 0.5 * self.arc.travel
        return speed / self.first.diffusivity, speed / self.second.diffusivity


@dataclass(frozen=True)
class Side:
    """What one plate does to every wave: its exponent m and its admittance k d m tanh(m W) at the joint."""

    width: float
    conductance: float
    exponent: Complex
    echo: Complex  # exp(-2 m W): what comes back from the far edge
    admittance: Complex


@dataclass(frozen=True)
class Waves:
    """One set of waves for a seam: s, weights of the sum (Gaussian along the seam included), both sides."""

    seam: HeatedSeam
    s: Complex
    weights: Complex
    sides: tuple[Side, Side]
    lag: float  # longest distance behind the arc the sum is good for
    fineness: int
    probes: Real  # distances ahead of the arc among which a line's peak is first looked for
    at_probes: Complex


@dataclass(frozen=True)
class Points:
    """Points across the seam at which the arc's heat is summed, with their weights [m]."""

    y: Real
    weights: Real


@cache
def _legendre(count: int) -> tuple[Real, Real]:
    """Gauss-Legendre points and weights on -1 to 1."""
    x, weight = np.polynomial.legendre.leggauss(count)
    return x, weight


def _panels(edges: Real, count: int) -> tuple[Real, Real]:
    """Gauss-Legendre points and weights on every panel between neighbouring edges."""
    x, weight = _legendre(count)
    middle, half = 0.5 * (edges[1:] + edges[:-1]), 0.5 * (edges[1:] - edges[:-1])
    return (middle[:, None] + half[:, None] * x).ravel(), (half[:, None] * weight).ravel()


def longest_lag(seam: HeatedSeam, reach: float) -> float:
    """Distance [m] behind the arc within which every line up to `reach` from the aim has passed its peak.

    Half as much again as Rosenthal's lag of the slower-conducting member, v y2/(2 a), plus the distance
    itself and the arc's own size.
    Parameters: seam; reach [m], 0 or more. Raises: nothing. Source: Rosenthal 1941, thin plate (memory); the half on
    top is own judgement.
    Example: 6061 at 3 mm/s, up to 10 mm from the aim of an arc of 2 mm: 18 mm behind the arc.
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> round(longest_lag(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 10e-3) * 1e3)
    18
    """
    square = reach**2 + 2.0 * seam.arc.sigma**2
    return 1.5 * max(seam.decays()) * square + math.sqrt(square) + 2.0 * seam.arc.sigma


def _wave_numbers(shift: float, lag: float, sigma: float, fineness: int) -> tuple[Real, Real]:
    """Wave numbers w and their weights: panels that double from the shift up, none longer than the phase
    over the longest lag allows."""
    edges, step = [0.0], shift
    while edges[-1] < FASTEST_WAVE / sigma:
        edges.append(edges[-1] + min(step, PHASE_PER_PANEL / lag))
        step *= 2.0
    return _panels(np.array(edges), WAVES_PER_PANEL * fineness)


def _side(member: PlateMember, decay: float, s: Complex) -> Side:
    """One plate's exponents and admittances for every wave."""
    conductance = member.conductivity * member.thickness
    exponent = np.sqrt(-s * s - 2.0 * decay * s + member.face_loss / conductance)
    finite = math.isfinite(member.width)
    echo: Complex = np.exp(-2.0 * exponent * member.width) if finite else np.zeros_like(exponent)
    return Side(member.width, conductance, exponent, echo, conductance * exponent * (1.0 - echo) / (1.0 + echo))


def make_waves(seam: HeatedSeam, reach: float, fineness: int = 1, lag: float | None = None) -> Waves:
    """The waves that give the field at every line within `reach` of the aim.

    Parameters: reach [m], above 0; fineness 1 or more, panels summed with that many times the points;
    lag [m], how far behind the arc the field is wanted, the longest lag of a peak where left out.
    Raises: PhysicsRangeError outside. Source: Fourier transform of steady conduction along the seam (derived).
    Example: Two plates of 3 mm 6061 at 3 mm/s have waves of one real part, -v/(2 a) = -21.7 1/m.
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> waves = make_waves(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 10e-3)
    >>> round(float(waves.s.real.max()), 1), round(float(waves.s.real.min()), 1)
    (-21.7, -21.7)
    """
    positive("reach", reach, "m")
    behind = longest_lag(seam, reach) if lag is None else lag
    decays = seam.decays()
    shift = min(*decays, MOST_SHIFT / behind)
    numbers, weights = _wave_numbers(shift, behind, seam.arc.sigma, int(within("fineness", fineness, 1, 16)))
    s = -shift + 1j * numbers
    sides = _side(seam.first, decays[0], s), _side(seam.second, decays[1], s)
    total = sides[0].admittance + sides[1].admittance
    spread = np.exp(0.5 * seam.arc.sigma**2 * s * s)
    back = np.linspace(1.0, 0.0, LAG_STEPS)
    probes = np.concatenate([-behind * back**2, np.linspace(0.25, 2.0, 8) * seam.arc.sigma])
    at_probes = np.exp(np.outer(probes, s))
    return Waves(seam, s, weights / math.pi * spread / total, sides, behind, fineness, probes, at_probes)


def points_across(waves: Waves, low: float, high: float, breaks: Iterable[float] = ()) -> Points:
    """Points between low and high [m], inside the plates, with panels that end at the joint and at `breaks`
    (lines where the field is wanted: its slope jumps there under a line source).
    Parameters: waves; low, high, breaks [m]. Raises: nothing; what lies beyond the plates is cut off. Source:
    Gauss-Legendre quadrature (computed).
    Example: The weights of the points from -10 to 10 mm add up to 20 mm.
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> waves = make_waves(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 10e-3)
    >>> round(float(points_across(waves, -10e-3, 10e-3).weights.sum()) * 1e3, 6)
    20.0
    """
    first, second = waves.sides
    low, high = max(low, -first.width), min(high, second.width)
    corners = sorted({low, high, *(place for place in (0.0, *breaks) if low < place < high)})
    edges: list[Real] = []
    for start, end in pairwise(corners):
        count = max(1, math.ceil((end - start) / (1.5 * waves.seam.arc.sigma)))
        edges.append(np.linspace(start, end, count + 1))
    pieces = [_panels(edge, POINTS_PER_PANEL * waves.fineness) for edge in edges]
    return Points(np.concatenate([y for y, _ in pieces]), np.concatenate([weight for _, weight in pieces]))


def _fall(side: Side, distance: Real) -> Complex:
    """cosh(m (W - y))/cosh(m W): how a wave falls from the joint to a distance into one plate."""
    exponent = side.exponent[:, None]
    fallen: Complex = np.exp(-exponent * distance)
    if math.isfinite(side.width):
        fallen = (fallen + np.exp(-exponent * (2.0 * side.width - distance))) / (1.0 + side.echo[:, None])
    return fallen


def _same_side(own: Side, other: Side, line: float, distance: Real) -> Complex:
    """Answer at `line` to sources in the same plate, times the sum of both admittances."""
    exponent = own.exponent[:, None]
    near, far = np.minimum(distance, line), np.maximum(distance, line)
    ratio = (other.admittance / (own.conductance * own.exponent))[:, None]
    answer: Complex = 0.5 * np.exp(-exponent * (far - near))
    answer = answer * ((1.0 + ratio) + (1.0 - ratio) * np.exp(-2.0 * exponent * near))
    if math.isfinite(own.width):
        answer = answer * (1.0 + np.exp(-2.0 * exponent * (own.width - far))) / (1.0 + own.echo[:, None])
    return answer


def answers(waves: Waves, line: float, points: Points) -> Complex:
    """Every wave's answer on a line [m] to a unit source at every point: an array (waves, points).

    The one costly step. It knows neither aim nor power: multiply by the arc's heat at the points.
    Parameters: waves; line [m] inside the plates; points [m]. Raises: nothing. Source: Green's function of each wave
    across two plates (derived).
    Example: One row for each wave and one column for each point (no unit).
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> waves = make_waves(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 10e-3)
    >>> points = points_across(waves, -10e-3, 10e-3)
    >>> answers(waves, 5e-3, points).shape == (waves.s.size, points.y.size)
    True
    """
    here = 1 if line > 0.0 else 0
    own, other = waves.sides[here], waves.sides[1 - here]
    same = (points.y > 0.0) == bool(here)
    found = np.empty((waves.s.size, points.y.size), dtype=np.complex128)
    found[:, ~same] = _fall(own, np.array([abs(line)])) * _fall(other, np.abs(points.y[~same]))
    found[:, same] = _same_side(own, other, abs(line), np.abs(points.y[same]))
    found *= waves.weights[:, None]
    return found


def gaussian(points: Points, aim: float, sigma: float) -> Real:
    """The arc's share of heat at every point [-], per watt, for an aim [m] toward the second member.

    Parameters: points [m]; aim [m]; sigma [m], above 0. Raises: nothing. Source: definition of the Gaussian.
    Example: An arc of radius 2 mm aimed at the joint: 0.6827 of its heat lands within 2 mm (normal table, one sigma).
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> waves = make_waves(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 10e-3)
    >>> round(float(gaussian(points_across(waves, -2e-3, 2e-3), 0.0, 2e-3).sum()), 4)
    0.6827
    """
    bell: Real = np.exp(-0.5 * ((points.y - aim) / sigma) ** 2) / (sigma * math.sqrt(2.0 * math.pi))
    return bell * points.weights


def peak_along(waves: Waves, wave_sum: Complex) -> tuple[float, float]:
    """Highest rise per watt [K/W] on a line, and where [m] ahead of the arc (negative: behind).

    Raises PhysicsRangeError where the line is still getting hotter at the longest lag: the part is too
    narrow to shed its heat and has no steady pool at this travel.
    Source: the sum of the waves, climbed by Newton's method (computed).
    Example: 3 mm 6061 at 3 mm/s, 6 mm beside the seam: 0.70 K/W, behind the arc.
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> waves = make_waves(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 10e-3)
    >>> points = points_across(waves, -13e-3, 13e-3, (6e-3,))
    >>> rise, place = peak_along(waves, answers(waves, 6e-3, points) @ gaussian(points, 0.0, 2e-3))
    >>> round(rise, 2), place < 0.0
    (0.7, True)
    """
    best = int(np.argmax((waves.at_probes @ wave_sum).real))
    if best == 0:
        raise PhysicsRangeError(
            "lag of the hottest point behind the arc",
            math.inf,
            0.0,
            waves.lag,
            "m",
            help="too narrow or too slow for a steady pool: the whole part heats up; follow it in time",
        )
    return _climb(waves, wave_sum, float(waves.probes[best]))


def _climb(waves: Waves, wave_sum: Complex, place: float) -> tuple[float, float]:
    """Newton's steps from a place near the top of a line to the top itself."""
    for _ in range(4):
        terms = wave_sum * np.exp(waves.s * place)
        slope, bend = float((terms * waves.s).real.sum()), float((terms * waves.s**2).real.sum())
        if bend >= 0.0:
            break
        place -= slope / bend
    return float((wave_sum * np.exp(waves.s * place)).real.sum()), place
