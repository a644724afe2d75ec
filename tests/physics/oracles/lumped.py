"""A part as one lump of metal at one temperature: how fast it warms under the arc and cools after.

Right where the Biot number is below 0.1 and the heat has had time to level out; see `soak` where not.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from scipy.integrate import quad

from advisor.physics.ranges import PhysicsRangeError, positive, within

STEFAN_BOLTZMANN = 5.670374419e-8
LARGEST_BIOT = 0.1
ABSOLUTE_ZERO_C = -273.15


@dataclass(frozen=True)
class Lump:
    """One lump of metal that loses heat to still surroundings.

    capacity m c [J/K]; area [m2] that loses heat; convection h [W/(m2 K)], 0 to 20 000; emissivity 0 to 1;
    ambient_c [degC]. Raises PhysicsRangeError for anything else.
    """

    capacity: float
    area: float
    convection: float
    emissivity: float = 0.0
    ambient_c: float = 20.0

    def __post_init__(self) -> None:
        positive("heat capacity", self.capacity, "J/K")
        positive("area", self.area, "m2")
        within("convection", self.convection, 0.0, 2e4, "W/(m2 K)")
        within("emissivity", self.emissivity, 0.0, 1.0)
        within("ambient temperature", self.ambient_c, -50.0, 1000.0, "degC")

    def loss(self, temperature_c: float) -> float:
        """Heat lost [W] at a temperature [degC]: h A (T - Ta) + eps sigma A (T4 - Ta4), kelvin in the second."""
        hot, cold = temperature_c - ABSOLUTE_ZERO_C, self.ambient_c - ABSOLUTE_ZERO_C
        radiation = self.emissivity * STEFAN_BOLTZMANN * (hot**4 - cold**4)
        return self.area * (self.convection * (temperature_c - self.ambient_c) + radiation)


def biot(convection: float, volume: float, area: float, conductivity: float) -> float:
    """Bi = h Lc/k [-], Lc = V/A: below 0.1 the temperature across a part is as good as uniform.

    Parameters: convection h [W/(m2 K)], volume [m3], area [m2], conductivity [W/(m K)]; all above 0.
    Source: heat transfer course pages (read); Incropera.
    """
    length = positive("volume", volume, "m3") / positive("area", area, "m2")
    return positive("convection", convection, "W/(m2 K)") * length / positive("conductivity", conductivity, "W/(m K)")


def time_constant(lump: Lump) -> float:
    """tau = m c/(h A) [s]: time to lose 63 % of its excess, radiation left out.

    Raises: PhysicsRangeError where nothing is lost by convection. Source: as `biot`.
    """
    return lump.capacity / (positive("convection", lump.convection, "W/(m2 K)") * lump.area)


def adiabatic_rise(heat: float, capacity: float) -> float:
    """Rise [K] when all the heat stays: dT = q t/(m c). Parameters: heat [J], 0 or more; capacity [J/K].

    Source: first law.
    """
    return within("heat", heat, 0.0, math.inf, "J") / positive("heat capacity", capacity, "J/K")


def heated_c(lump: Lump, power: float, seconds: float, start_c: float) -> float:
    """Temperature [degC] after a steady power for a time: T = Tinf + (Ts - Tinf) exp(-t/tau), Tinf = Ta + q/(h A).

    Convection only. Parameters: power [W], 0 or more; seconds [s], 0 or more; start_c [degC].
    Raises: PhysicsRangeError for a lump that radiates (no closed form) or loses nothing.
    Source: first law, derived.
    """
    within("emissivity", lump.emissivity, 0.0, 0.0, help="the closed form is for convection only")
    within("power", power, 0.0, math.inf, "W")
    within("time", seconds, 0.0, math.inf, "s")
    end = lump.ambient_c + power / (positive("convection", lump.convection, "W/(m2 K)") * lump.area)
    return end + (start_c - end) * math.exp(-seconds / time_constant(lump))


def cooling_time(lump: Lump, start_c: float, end_c: float) -> float:
    """Time [s] to cool from one temperature to another in still surroundings, radiation included.

    t = integral of m c dT / loss(T). Parameters: start_c [degC], at least end_c; end_c [degC], above ambient.
    Raises: PhysicsRangeError where end_c is not above ambient (never reached). Source: first law; Stefan.
    """
    if not end_c > lump.ambient_c:
        raise PhysicsRangeError("end temperature", end_c, lump.ambient_c, math.inf, "degC", "it never gets there")
    within("start temperature", start_c, end_c, 3000.0, "degC")
    pace: Callable[[float], float] = lambda t: lump.capacity / lump.loss(t)  # noqa: E731
    return float(quad(pace, end_c, start_c, epsrel=1e-9, limit=200)[0])


def levelling_time(distance: float, diffusivity: float) -> float:
    """Time [s] for a part to even out over a distance: about L2/a. Parameters: distance [m]; diffusivity [m2/s].

    Source: order of magnitude of the conduction equation (derived).
    """
    return positive("distance", distance, "m") ** 2 / positive("diffusivity", diffusivity, "m2/s")
