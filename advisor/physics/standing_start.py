"""The first seconds under a standing arc: when a puddle has formed, and when the underside melts too.

A Gaussian arc at rest on a wide plate of any thickness, faces adiabatic, constant properties:

    T - T0 = q/(2 pi rho c) * integral over s of exp(-r2/(2 w)) / w * F(z, s),   w = sigma2 + 2 a s,

F the answer through the thickness (mirror sources). It is a range, not a moment: without latent heat the
metal melts sooner than it can. With it, a spot waits at its melting point while its neighbours go on warming
and draw less from it, so it gathers its latent heat at least as fast as it was warming when it got there:
that gives the latest moment.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from advisor.physics.ranges import PhysicsRangeError, positive, within

LONGEST = 600.0  # s: beyond that a part is not a wide plate
POINTS = 24
PANELS_PER_DECADE = 2


@dataclass(frozen=True)
class PuddleStart:
    """A standing arc on a plate.

    power [W] net; sigma [m], 0.1 to 10 mm; thickness [m], 0.2 to 50 mm, at a joint half the sum of the
    paths; conductivity [W/(m K)]; heat_capacity rho c [J/(m3 K)]; rise [K] from the plate's temperature to
    its solidus; latent [J/m3], latent heat of the metal, 0 or more.
    """

    power: float
    sigma: float
    thickness: float
    conductivity: float
    heat_capacity: float
    rise: float
    latent: float = 0.0

    def __post_init__(self) -> None:
        positive("net power", self.power, "W")
        within("arc radius", self.sigma, 0.1e-3, 10e-3, "m")
        within("thickness", self.thickness, 0.2e-3, 50e-3, "m")
        positive("conductivity", self.conductivity, "W/(m K)")
        positive("heat capacity", self.heat_capacity, "J/(m3 K)")
        positive("rise to the solidus", self.rise, "K")
        within("latent heat", self.latent, 0.0, 1e10, "J/m3")

    @property
    def diffusivity(self) -> float:
        """a = k/(rho c) [m2/s]."""
        return self.conductivity / self.heat_capacity


@dataclass(frozen=True)
class TimeRange:
    """Between which two moments [s] something happens."""

    soonest: float
    latest: float


def _through(strike: PuddleStart, seconds: np.ndarray, underside: bool) -> np.ndarray:
    """F [1/m]: heat put on the face at time 0, seen on the face or the underside; 1/d once it has levelled.

    Mirror sources while the heat is young, a cosine series once it is old; both are exact.
    """
    thickness = strike.thickness
    spread = strike.diffusivity * seconds
    order = np.arange(1, 5)[:, None]
    place = (2 * order - 1) if underside else 2 * order
    images = 2.0 * np.exp(-((place * thickness) ** 2) / (4.0 * spread)).sum(axis=0)
    young = ((0.0 if underside else 1.0) + images) / np.sqrt(np.pi * spread)
    sign = np.where(order % 2 == 1, -1.0, 1.0) if underside else np.ones(order.shape)
    terms = sign * np.exp(-((order * np.pi / thickness) ** 2) * spread)
    old = (1.0 + 2.0 * terms.sum(axis=0)) / thickness
    return np.asarray(np.where(spread < 0.5 * thickness**2, young, old))


def _pace(strike: PuddleStart, age: np.ndarray, radius: float, underside: bool) -> np.ndarray:
    """Rise per second [K/s] that heat of a given age [s] adds."""
    width = strike.sigma**2 + 2.0 * strike.diffusivity * age
    answer = np.exp(-(radius**2) / (2.0 * width)) / width * _through(strike, age, underside)
    return np.asarray(strike.power / (2.0 * math.pi * strike.heat_capacity) * answer)


def rise_at(strike: PuddleStart, seconds: float, radius: float = 0.0, underside: bool = False) -> float:
    """Rise [K] under a standing arc after a time, on the face or the underside, at a radius.

    Parameters: seconds [s], above 0, up to 600; radius [m], 0 or more.
    Source: Gaussian source on a plate by the heat kernel and mirror sources (Carslaw and Jaeger; derived).
    Raises: PhysicsRangeError outside.
    Example: 1 kW net on 3 mm 6061, arc radius 2 mm, after 1 s: 763 K on the face, 483 K on the underside.
    >>> arc = PuddleStart(1000.0, 2e-3, 3e-3, 167.0, 2.42e6, 562.0, latent=1.07e9)
    >>> round(rise_at(arc, 1.0)), round(rise_at(arc, 1.0, underside=True))
    (763, 483)
    """
    within("time", seconds, 0.0, LONGEST, "s")
    within("radius", radius, 0.0, math.inf, "m")
    edges = np.concatenate([[0.0], np.geomspace(1e-8, 1.0, 8 * PANELS_PER_DECADE + 1)]) * math.sqrt(seconds)
    x, weight = np.polynomial.legendre.leggauss(POINTS)
    half = 0.5 * np.diff(edges)
    root = ((edges[1:] + edges[:-1])[:, None] * 0.5 + half[:, None] * x).ravel()
    age = root**2  # summed over the root of the age, where the young heat's 1/sqrt is smooth
    pace = _pace(strike, age, radius, underside)
    return float(np.sum(pace * 2.0 * root * (half[:, None] * weight).ravel()))


def _when(strike: PuddleStart, wanted: float, radius: float, underside: bool) -> float:
    """Time [s] at which the rise reaches `wanted`; raises where ten minutes do not do it."""
    most = rise_at(strike, LONGEST, radius, underside)
    if most < wanted:
        raise PhysicsRangeError(
            "rise to melting", wanted, 0.0, most, "K", help="this power does not melt it in ten minutes"
        )
    least = 1e-6
    if rise_at(strike, least, radius, underside) >= wanted:
        return least
    log_time = brentq(
        lambda t: rise_at(strike, math.exp(t), radius, underside) - wanted,
        math.log(least),
        math.log(LONGEST),
        xtol=1e-9,
    )
    return math.exp(float(log_time))


def _range(strike: PuddleStart, radius: float, underside: bool) -> TimeRange:
    """Without the latent heat, and with it."""
    soonest = _when(strike, strike.rise, radius, underside)
    pace = float(_pace(strike, np.array([soonest]), radius, underside)[0])
    return TimeRange(soonest, soonest + strike.latent / (strike.heat_capacity * pace))


def puddle_time(strike: PuddleStart, radius: float) -> TimeRange:
    """Time [s] until a standing arc has melted the face out to a radius.

    Parameters: radius [m], 0 or more. Returns: soonest without, latest with the latent heat.
    Raises: PhysicsRangeError where it does not happen within ten minutes (the part is then no wide plate).
    Source: as `rise_at`.
    Example: 1 kW net on 3 mm 6061, arc radius 2 mm, melted out to 4 mm: after 2.9 to 11 s.
    >>> found = puddle_time(PuddleStart(1000.0, 2e-3, 3e-3, 167.0, 2.42e6, 562.0, latent=1.07e9), 4e-3)
    >>> round(found.soonest, 1), round(found.latest)
    (2.9, 11)
    """
    return _range(strike, radius, underside=False)


def melt_through_time(strike: PuddleStart, radius: float = 0.0) -> TimeRange:
    """Time [s] until a standing arc has melted the underside out to a radius: it can burn through from then on.

    A molten disc hangs on by its surface tension for a while, so this is the earliest moment, not the
    moment. Parameters, Returns, Raises, Source: as `puddle_time`.
    Example: 1 kW net on 3 mm 6061, arc radius 2 mm: the underside melts after 1.7 to 6.4 s.
    >>> found = melt_through_time(PuddleStart(1000.0, 2e-3, 3e-3, 167.0, 2.42e6, 562.0, latent=1.07e9))
    >>> round(found.soonest, 1), round(found.latest, 1)
    (1.7, 6.4)
    """
    return _range(strike, radius, underside=True)
