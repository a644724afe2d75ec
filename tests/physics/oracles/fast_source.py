"""Peak temperatures beside a source that travels fast, from the heat per length of weld alone: thin plate.

An outside check of the seam solver. The form overstates the rise where heat has time to run ahead of the source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

ROOT_2_PI_E = math.sqrt(2.0 * math.pi * math.e)
LEAST_SPEED = 1.0  # v y/(2 a): there the form is 16 % above Rosenthal's field, at 2 five, at 5 one


@dataclass(frozen=True)
class FastWeld:
    """One run: power [W] net, travel [m/s], thickness [m], conductivity [W/(m K)], rho c [J/(m3 K)], start_c [degC]."""

    power: float
    travel: float
    thickness: float
    conductivity: float
    heat_capacity: float
    start_c: float

    @property
    def decay(self) -> float:
        """v / (2 a) [1/m]."""
        return self.travel * self.heat_capacity / (2.0 * self.conductivity)

    @property
    def rise_times_distance(self) -> float:
        """Peak rise times the distance from the centreline [K m]: (q/v)/(d rho c sqrt(2 pi e))."""
        return self.power / self.travel / (ROOT_2_PI_E * self.heat_capacity * self.thickness)


def fast_peak_c(weld: FastWeld, lateral: float) -> float:
    """Peak temperature [degC] at a distance y from the centreline: Tp - T0 = (q/v)/(d rho c y sqrt(2 pi e)).

    Parameters: lateral y [m], with v y/(2 a) at least 1. Source: Kou; Easterling (memory).
    """
    if not weld.decay * lateral >= LEAST_SPEED:
        raise ValueError(f"v y/(2 a) is {weld.decay * lateral:g}; the form holds from {LEAST_SPEED:g}")
    return weld.start_c + weld.rise_times_distance / lateral


def haz_width(weld: FastWeld, peak_c: float, melt_c: float) -> float:
    """Distance [m] from the fusion boundary to where the peak was peak_c; full-penetration single-run butt weld.

    1/(Tp - T0) = sqrt(2 pi e) rho c d Y/(q/v) + 1/(Tm - T0). Parameters: peak_c, melt_c [degC].
    Source: AWS Welding Handbook vol. 1 (read in two course copies).
    """
    return weld.rise_times_distance * (1.0 / (peak_c - weld.start_c) - 1.0 / (melt_c - weld.start_c))
