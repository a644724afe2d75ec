"""Limits of the conduction field for a source that travels fast: peak, heat-affected width, cooling, regime.

They need nothing but the heat per length of weld. They overstate the rise where the heat has time to
run ahead of the source, as in aluminium at hand speed; there the full solution in `conduction` holds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.ranges import PhysicsRangeError, positive, within

ROOT_2_PI_E = math.sqrt(2.0 * math.pi * math.e)
LEAST_SPEED_THIN = 1.0  # v y/(2 a): there the fast limit is 16 % high, at 2 five, at 5 one (computed)
LEAST_SPEED_THICK = 2.0  # v r/(2 a): there the fast limit is 18 % high, at 5 four (computed)
LEAST_TAIL_NUMBER = 1.0  # v r/(2 a) on the centreline: at 1 the long-tail form of K0 is 10 % high (computed)
THIN_BELOW, SPLIT, THICK_ABOVE = 0.6, 0.75, 0.9  # relative thickness; AWS Welding Handbook vol. 1 (memory)


@dataclass(frozen=True)
class FastWeld:
    """One run of weld seen by its heat per length.

    power [W] net; travel [m/s]; thickness [m]; conductivity [W/(m K)]; heat_capacity rho c [J/(m3 K)];
    start_c [degC] before the run (preheat or interpass). All above 0 but start_c.
    """

    power: float
    travel: float
    thickness: float
    conductivity: float
    heat_capacity: float
    start_c: float

    def __post_init__(self) -> None:
        positive("net power", self.power, "W")
        positive("travel", self.travel, "m/s")
        positive("thickness", self.thickness, "m")
        positive("conductivity", self.conductivity, "W/(m K)")
        positive("heat capacity", self.heat_capacity, "J/(m3 K)")
        within("start temperature", self.start_c, -273.15, 2000.0, "degC")

    @property
    def heat_per_length(self) -> float:
        """Net heat per length of weld, q / v [J/m]."""
        return self.power / self.travel

    @property
    def decay(self) -> float:
        """v / (2 a) [1/m]."""
        return self.travel * self.heat_capacity / (2.0 * self.conductivity)

    def rise(self, temperature_c: float) -> float:
        """Rise [K] above the start temperature; raises where there is none."""
        if not temperature_c > self.start_c:
            raise PhysicsRangeError("temperature", temperature_c, self.start_c, math.inf, "degC")
        return temperature_c - self.start_c


def _fast_enough(weld: FastWeld, lateral: float, least: float = LEAST_SPEED_THIN) -> float:
    """The lateral distance [m], where the fast-source limit holds for it."""
    number = weld.decay * lateral
    within("v y/(2 a)", number, least, math.inf, help="too slow: use the full conduction solution")
    return lateral


def _lateral_at(weld: FastWeld, peak_c: float) -> float:
    """Distance [m] from the centreline at which a thin plate just reaches peak_c."""
    per_length = ROOT_2_PI_E * weld.heat_capacity * weld.thickness
    return weld.heat_per_length / (per_length * weld.rise(peak_c))


def fast_peak_c(weld: FastWeld, lateral: float) -> float:
    """Peak temperature [degC] in a thin plate at a distance from the centreline.

    Tp - T0 = (q/v)/(d rho c y sqrt(2 pi e)).

    Parameters: lateral y [m], with v y/(2 a) at least 1. Raises: PhysicsRangeError below that.
    Source: Kou; Easterling (memory).
    """
    _fast_enough(weld, positive("lateral distance", lateral, "m"))
    per_length = ROOT_2_PI_E * weld.heat_capacity * weld.thickness
    return weld.start_c + weld.heat_per_length / (per_length * lateral)


def haz_peak_c(weld: FastWeld, from_fusion: float, melt_c: float) -> float:
    """Peak temperature [degC] at a distance from the fusion boundary; full-penetration single-run butt weld.

    1/(Tp - T0) = sqrt(2 pi e) rho c d Y / Hnet + 1/(Tm - T0).

    Parameters: from_fusion Y [m], 0 or more; melt_c [degC], above the start temperature.
    Raises: PhysicsRangeError where the source is too slow at the fusion boundary.
    Source: AWS Welding Handbook vol. 1 (read in two course copies).
    """
    within("distance from fusion boundary", from_fusion, 0.0, math.inf, "m")
    return fast_peak_c(weld, _fast_enough(weld, _lateral_at(weld, melt_c)) + from_fusion)


def haz_width(weld: FastWeld, peak_c: float, melt_c: float) -> float:
    """Distance [m] from the fusion boundary to where the peak was peak_c.

    Parameters: peak_c [degC], between start and melt_c. Raises, Source: as `haz_peak_c`.
    """
    if peak_c > melt_c:
        raise PhysicsRangeError("peak temperature", peak_c, weld.start_c, melt_c, "degC")
    return _lateral_at(weld, peak_c) - _fast_enough(weld, _lateral_at(weld, melt_c))


def thick_fast_peak_c(weld: FastWeld, radius: float) -> float:
    """Peak temperature [degC] at a distance from the line of travel on a thick plate.

    Tp - T0 = 2 (q/v)/(pi e rho c r2).

    Parameters: radius r [m], with v r/(2 a) at least 2. Raises: PhysicsRangeError below that.
    Source: Easterling (memory).
    """
    _fast_enough(weld, positive("distance", radius, "m"), LEAST_SPEED_THICK)
    return weld.start_c + 2.0 * weld.heat_per_length / (math.pi * math.e * weld.heat_capacity * radius**2)


def thick_cooling_rate(weld: FastWeld, at_c: float) -> float:
    """Cooling rate [K/s] on the centreline of a thick plate; exact for a point source at any speed.

    R = 2 pi k (Tc - T0)^2 / Hnet. Parameters: at_c [degC], above start.
    Source: Adams, in AWS Welding Handbook vol. 1 (read in a course copy).
    """
    return 2.0 * math.pi * weld.conductivity * weld.rise(at_c) ** 2 / weld.heat_per_length


def thin_cooling_rate(weld: FastWeld, at_c: float) -> float:
    """Cooling rate [K/s] on the centreline of a thin plate.

    R = 2 pi k rho c (d/Hnet)^2 (Tc - T0)^3.

    Parameters: at_c [degC], above start and low enough to lie in the long tail behind the source.
    Raises: PhysicsRangeError nearer the source. Source: as `thick_cooling_rate`.
    """
    _in_tail(weld, at_c)
    ratio = weld.thickness / weld.heat_per_length
    return 2.0 * math.pi * weld.conductivity * weld.heat_capacity * ratio**2 * weld.rise(at_c) ** 3


def _in_tail(weld: FastWeld, at_c: float) -> None:
    """Raise unless T lies where K0 has its long-tail form: T - T0 = q/(k d) / sqrt(8 pi u), u >= 1."""
    ratio = weld.power / (weld.conductivity * weld.thickness * weld.rise(at_c))
    number = ratio**2 / (8.0 * math.pi)
    within("v r/(2 a) on the centreline", number, LEAST_TAIL_NUMBER, math.inf, help="too near the source")


def thin_heat_for_cooling_rate(weld: FastWeld, at_c: float, rate: float) -> float:
    """Net heat per length [J/m] that cools a thin plate at `rate` as it passes at_c.

    Parameters: rate [K/s], above 0; at_c [degC]. The power of `weld` is only used to check the range.
    Source: as `thin_cooling_rate`, turned round.
    """
    _in_tail(weld, at_c)
    factor = 2.0 * math.pi * weld.conductivity * weld.heat_capacity * weld.rise(at_c) ** 3
    return weld.thickness * math.sqrt(factor / positive("cooling rate", rate, "K/s"))


def relative_thickness(weld: FastWeld, at_c: float) -> float:
    """tau = d sqrt(rho c (Tc - T0)/Hnet) [-]: thick plate above 0.9, thin below 0.6, split at 0.75.

    Parameters: at_c [degC], above start. Source: formula AWS Welding Handbook vol. 1 (read in a course
    copy); thresholds the same (memory).
    """
    return weld.thickness * math.sqrt(weld.heat_capacity * weld.rise(at_c) / weld.heat_per_length)


def cooling_rate(weld: FastWeld, at_c: float) -> float:
    """Cooling rate [K/s] on the centreline, thin or thick plate by the relative thickness (split at 0.75).

    Parameters: at_c [degC], above start. Raises: as `thin_cooling_rate`. Source: as `relative_thickness`.
    """
    thick = relative_thickness(weld, at_c) >= SPLIT
    return thick_cooling_rate(weld, at_c) if thick else thin_cooling_rate(weld, at_c)


def solidification_time(weld: FastWeld, melt_c: float, latent_heat: float) -> float:
    """Time [s] the weld metal on the centreline takes to freeze.

    St = L Hnet/(2 pi k rho c (Tm - T0)^2).

    Parameters: melt_c [degC], above start; latent_heat L [J/m3], above 0.
    Source: AWS Welding Handbook vol. 1 (memory).
    """
    denominator = 2.0 * math.pi * weld.conductivity * weld.heat_capacity * weld.rise(melt_c) ** 2
    return positive("latent heat", latent_heat, "J/m3") * weld.heat_per_length / denominator
