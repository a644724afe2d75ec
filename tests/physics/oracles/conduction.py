"""Rosenthal's moving point and line source: temperature, peak, width of an isotherm.

Constant properties, no latent heat, no loss from the faces, no stirring in the pool. The formulas are
singular at the source, so a temperature above `melt_c` is never given: inside the pool they do not hold.
`ahead` is the distance in front of the source along the joint (negative behind it), `lateral` the
distance to the side, `depth` below the surface.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq, minimize_scalar
from scipy.special import k0e, k1e

from advisor.physics.ranges import PhysicsRangeError, positive, within

ABSOLUTE_ZERO_C = -273.15
LEAST_POWER_RATIO = 1.5  # below this the 2D "pool" is the singularity itself
MOST_IMAGES = 200_000


@dataclass(frozen=True)
class MovingHeat:
    """A concentrated source that travels over metal of constant properties.

    power [W] net, above 0; travel [m/s], above 0; conductivity [W/(m K)]; diffusivity [m2/s];
    start_c [degC] of the metal before the source comes; melt_c [degC] edge of the pool, above which no
    temperature is given (infinite: no check). Raises PhysicsRangeError for anything else.
    """

    power: float
    travel: float
    conductivity: float
    diffusivity: float
    start_c: float
    melt_c: float = math.inf

    def __post_init__(self) -> None:
        positive("net power", self.power, "W")
        positive("travel", self.travel, "m/s")
        positive("conductivity", self.conductivity, "W/(m K)")
        positive("diffusivity", self.diffusivity, "m2/s")
        within("start temperature", self.start_c, ABSOLUTE_ZERO_C, 2000.0, "degC")
        if not self.melt_c > self.start_c:
            raise PhysicsRangeError("melting temperature", self.melt_c, self.start_c, math.inf, "degC")

    @property
    def decay(self) -> float:
        """v / (2 a) [1/m]: inverse of the length over which the field ahead of the source dies out."""
        return self.travel / (2.0 * self.diffusivity)


def _outside_pool(heat: MovingHeat, rise: float) -> float:
    """Temperature [degC] from a rise [K]; raises where it lies inside the pool."""
    temperature = heat.start_c + rise
    if temperature > heat.melt_c:
        raise PhysicsRangeError(
            "temperature",
            temperature,
            heat.start_c,
            heat.melt_c,
            "degC",
            help="the point lies inside the pool, where the conduction formula does not hold",
        )
    return temperature


def _distance(ahead: float, lateral: float, depth: float = 0.0) -> float:
    """Distance from the source [m]; raises at the source itself, where the formula is singular."""
    return positive("distance from the source", math.hypot(ahead, lateral, depth), "m")


def _thin_rise(heat: MovingHeat, thickness: float, ahead: float, lateral: float) -> float:
    """Rise [K] of the line source in a thin plate, by the scaled Bessel function so nothing overflows."""
    distance = _distance(ahead, lateral)
    scale = heat.power / (2.0 * math.pi * heat.conductivity * positive("thickness", thickness, "m"))
    return scale * math.exp(-heat.decay * (ahead + distance)) * float(k0e(heat.decay * distance))


def thin_temperature_c(heat: MovingHeat, thickness: float, ahead: float, lateral: float) -> float:
    """Temperature [degC] at a point of a thin plate (heat uniform through the thickness).

    T - T0 = q/(2 pi k d) exp(-v ahead/(2 a)) K0(v r/(2 a)).

    Parameters: thickness d [m], above 0; ahead, lateral [m], not both 0.
    Raises: PhysicsRangeError at the source and inside the pool.
    Source: Rosenthal 1941 (memory; Kou, Welding Metallurgy, sect. 2.2.2).
    """
    return _outside_pool(heat, _thin_rise(heat, thickness, ahead, lateral))


def thin_temperature_near_edge_c(
    heat: MovingHeat, thickness: float, ahead: float, lateral: float, edge: float
) -> float:
    """Temperature [degC] in a thin plate that ends at lateral = edge (no heat leaves the edge).

    A mirror source at twice the distance of the edge; a source on the edge itself doubles the rise.

    Parameters: edge [m], 0 or more; lateral [m], at most `edge`. Others as `thin_temperature_c`.
    Raises: PhysicsRangeError beyond the edge, at the source, inside the pool.
    Source: method of images, derived.
    """
    within("distance to the edge", edge, 0.0, math.inf, "m")
    within("lateral distance", lateral, -math.inf, edge, "m", help="the plate ends at its edge")
    own = _thin_rise(heat, thickness, ahead, lateral)
    return _outside_pool(heat, own + _thin_rise(heat, thickness, ahead, 2.0 * edge - lateral))


def _thick_rise(heat: MovingHeat, ahead: float, radius: float) -> float:
    """Rise [K] of the point source on a thick plate, `radius` from the line of travel."""
    distance = _distance(ahead, radius)
    scale = heat.power / (2.0 * math.pi * heat.conductivity * distance)
    return scale * math.exp(-heat.decay * (distance + ahead))


def thick_temperature_c(heat: MovingHeat, ahead: float, lateral: float, depth: float = 0.0) -> float:
    """Temperature [degC] at a point of a thick plate.

    T - T0 = q/(2 pi k R) exp(-v (R + ahead)/(2 a)).

    Parameters: ahead, lateral [m]; depth [m], 0 or more; not all 0.
    Raises: PhysicsRangeError at the source and inside the pool.
    Source: Rosenthal 1946 (form read in a documentation page of a finite-element code).
    """
    within("depth", depth, 0.0, math.inf, "m")
    return _outside_pool(heat, _thick_rise(heat, ahead, math.hypot(lateral, depth)))


def _image_count(heat: MovingHeat, thickness: float) -> int:
    """Mirror sources on each side until the next adds less than 1e-15 of the nearest."""
    count = math.ceil(35.0 / (heat.decay * 2.0 * thickness)) + 2
    return int(within("mirror sources needed", count, 1, MOST_IMAGES, help="plate too thin: use the thin form"))


def _finite_rise(heat: MovingHeat, thickness: float, ahead: float, lateral: float, depth: float, images: int) -> float:
    """Rise [K] in a plate of finite thickness: mirror sources at every second thickness."""
    _distance(ahead, lateral, depth)
    order = np.arange(-images, images + 1)
    distance = np.sqrt(ahead**2 + lateral**2 + (depth - 2.0 * order * thickness) ** 2)
    terms = np.exp(-heat.decay * (distance + ahead)) / distance
    return heat.power / (2.0 * math.pi * heat.conductivity) * float(np.sum(terms))


def finite_temperature_c(
    heat: MovingHeat,
    thickness: float,
    ahead: float,
    lateral: float,
    depth: float = 0.0,
    images: int | None = None,
) -> float:
    """Temperature [degC] at a point of a plate of any thickness, both faces adiabatic.

    Parameters: thickness [m], above 0; ahead, lateral [m]; depth [m] from 0 to thickness; images: mirror
    sources on each side, as many as converge where left out.
    Raises: PhysicsRangeError at the source, outside the plate, inside the pool, or where more than
    200 000 mirror sources would be needed.
    Source: Grong, Metallurgical Modelling of Welding, sect. 1.10.4 (read).
    """
    positive("thickness", thickness, "m")
    within("depth", depth, 0.0, thickness, "m")
    count = _image_count(heat, thickness) if images is None else int(within("images", images, 0, MOST_IMAGES))
    return _outside_pool(heat, _finite_rise(heat, thickness, ahead, lateral, depth, count))


def _thin_locus(heat: MovingHeat, thickness: float, radius: float) -> tuple[float, float, float]:
    """Point of highest temperature in time, `radius` from the source: lag, lateral [m], rise [K].

    Setting dT/d(ahead) = 0 gives ahead = -r K0(u)/K1(u) with u = v r/(2 a).
    """
    bessel = heat.decay * radius
    ratio = float(k0e(bessel) / k1e(bessel))
    lateral = radius * math.sqrt((1.0 - ratio) * (1.0 + ratio))
    return radius * ratio, lateral, _thin_rise(heat, thickness, -radius * ratio, lateral)


def _thick_locus(heat: MovingHeat, radius: float) -> tuple[float, float, float]:
    """As `_thin_locus`, thick plate: ahead = -R u/(1 + u)."""
    bessel = heat.decay * radius
    ratio = bessel / (1.0 + bessel)
    lateral = radius * math.sqrt((1.0 - ratio) * (1.0 + ratio))
    return radius * ratio, lateral, _thick_rise(heat, -radius * ratio, lateral)


Locus = Callable[[float], tuple[float, float, float]]


def _radius_where(wanted: Callable[[float], float], guess: float) -> float:
    """The radius at which a falling function crosses zero; brackets outward from a guess by doubling."""
    low = high = guess
    while wanted(high) > 0.0:
        high *= 2.0
    while wanted(low) < 0.0:
        low /= 2.0
    return float(brentq(wanted, low, high, rtol=1e-14, xtol=1e-300))


def _peak_rise(locus: Locus, lateral: float) -> float:
    """Highest rise [K] ever reached at a lateral distance."""
    positive("lateral distance", lateral, "m")
    radius = _radius_where(lambda r: lateral - locus(r)[1], lateral)
    return locus(radius)[2]


def _half_width(locus: Locus, rise: float, guess: float) -> float:
    """Lateral distance [m] at which the highest rise is `rise`."""
    return locus(_radius_where(lambda r: locus(r)[2] - rise, guess))[1]


def thin_peak_c(heat: MovingHeat, thickness: float, lateral: float) -> float:
    """Peak temperature [degC] at a lateral distance in a thin plate; full 2D solution, any speed.

    Parameters: thickness [m], lateral [m], both above 0.
    Raises: PhysicsRangeError inside the pool. Source: as `thin_temperature_c`; locus of the peak derived.
    """
    return _outside_pool(heat, _peak_rise(lambda r: _thin_locus(heat, thickness, r), lateral))


def thick_peak_c(heat: MovingHeat, radius: float) -> float:
    """Peak temperature [degC] at a distance [m], above 0, from the line of travel on a thick plate.

    Raises: PhysicsRangeError inside the pool. Source: as `thick_temperature_c`; locus derived.
    """
    return _outside_pool(heat, _peak_rise(lambda r: _thick_locus(heat, r), radius))


def power_ratio(heat: MovingHeat, thickness: float, isotherm_c: float) -> float:
    """q / (k d dT) [-]: how far the power lies above what a thin plate carries away at no speed.

    Below about 1.5 the isotherm shrinks onto the singular source and means nothing; a pool of practical
    size needs about 2. Parameters: thickness [m], above 0; isotherm_c [degC], above the start temperature.
    Source: derived.
    """
    rise = positive("isotherm above start temperature", isotherm_c - heat.start_c, "K")
    return heat.power / (heat.conductivity * positive("thickness", thickness, "m") * rise)


def thin_half_width(heat: MovingHeat, thickness: float, isotherm_c: float) -> float:
    """Greatest half width [m] of an isotherm in a thin plate; at the solidus, of the pool.

    Parameters: thickness [m], above 0; isotherm_c [degC], above the start temperature.
    Raises: PhysicsRangeError where q/(k d dT) is below 1.5. Source: as `thin_temperature_c`.
    """
    ratio = power_ratio(heat, thickness, isotherm_c)
    within("q/(k d dT)", ratio, LEAST_POWER_RATIO, math.inf, help="too little power for a pool of real size")
    locus: Locus = lambda r: _thin_locus(heat, thickness, r)  # noqa: E731
    return _half_width(locus, isotherm_c - heat.start_c, 1.0 / heat.decay)


def thick_half_width(heat: MovingHeat, isotherm_c: float) -> float:
    """Greatest half width [m] of an isotherm on a thick plate (also its depth).

    Parameters: isotherm_c [degC], above the start temperature. Source: as `thick_temperature_c`.
    """
    rise = positive("isotherm above start temperature", isotherm_c - heat.start_c, "K")
    return _half_width(lambda r: _thick_locus(heat, r), rise, 1.0 / heat.decay)


def finite_peak_c(heat: MovingHeat, thickness: float, lateral: float, depth: float = 0.0) -> float:
    """Peak temperature [degC] at a point of the cross-section of a plate of any thickness.

    The peak passes between the moment it would on a thick and on a thin plate; the rise there has one
    maximum in time. Parameters: thickness, lateral [m], above 0; depth [m] from 0 to thickness.
    Raises: as `finite_temperature_c`. Source: as `finite_temperature_c`; maximum found numerically.
    """
    positive("thickness", thickness, "m")
    within("depth", depth, 0.0, thickness, "m")
    radius = _distance(0.0, positive("lateral distance", lateral, "m"), depth)
    count = _image_count(heat, thickness)
    farthest = _radius_where(lambda r: radius + thickness - _thin_locus(heat, thickness, r)[1], radius)
    found = minimize_scalar(
        lambda lag: -_finite_rise(heat, thickness, -lag, lateral, depth, count),
        bounds=(0.0, farthest),
        method="bounded",
        options={"xatol": 1e-9 * farthest},
    )
    return _outside_pool(heat, -float(found.fun))


def finite_half_width(heat: MovingHeat, thickness: float, isotherm_c: float, depth: float = 0.0) -> float:
    """Greatest half width [m] of an isotherm at a depth in a plate of any thickness.

    Parameters: thickness [m], above 0; isotherm_c [degC], above start; depth [m] from 0 to thickness.
    Raises: PhysicsRangeError where the isotherm does not reach that depth. Source: as
    `finite_temperature_c`.
    """
    open_heat = MovingHeat(heat.power, heat.travel, heat.conductivity, heat.diffusivity, heat.start_c)
    positive("isotherm above start temperature", isotherm_c - heat.start_c, "K")

    def excess(lateral: float) -> float:
        return finite_peak_c(open_heat, thickness, lateral, depth) - isotherm_c

    nearest = 1e-3 * min(thickness, 1.0 / heat.decay)
    peak = excess(nearest) + isotherm_c
    within("isotherm", isotherm_c, heat.start_c, peak, "degC", help="it does not reach this depth")
    high = nearest
    while excess(high) > 0.0:
        high *= 2.0
    return float(brentq(excess, high / 2.0, high, rtol=1e-10)) if high > nearest else nearest
