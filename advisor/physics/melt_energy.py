"""Energy that melts metal: unit melting energy, melted section for a power, power density of the arc."""

from __future__ import annotations

import math

from advisor.physics.ranges import positive, within

SHORT_FORM = 3.33e3  # J/(m3 K2): 3.33e-6 J/(mm3 K2)


def unit_energy_short(melt_c: float) -> float:
    """Energy to heat and melt a volume of metal [J/m3] from its melting point alone: 3.33e-6 T_K2 J/mm3.

    About 10 % high for pure aluminium, and to be preferred for steel, where a constant specific heat is
    far too low. Parameters: melt_c [degC], 200 to 3500 (metals).
    Raises: PhysicsRangeError outside. Source: Groover, and course slides of the AWS form (read).
    """
    return SHORT_FORM * (within("melting point", melt_c, 200.0, 3500.0, "degC") + 273.15) ** 2


def unit_energy(density: float, specific_heat: float, latent_heat: float, rise: float) -> float:
    """Energy to heat and melt a volume of metal [J/m3] from its properties: rho (c dT + L).

    Parameters: density [kg/m3], specific_heat [J/(kg K)], latent_heat [J/kg], rise to melting [K]; all
    above 0. Source: Groover (read in a course solution).
    """
    positive("latent heat", latent_heat, "J/kg")
    warm = positive("specific heat", specific_heat, "J/(kg K)") * positive("rise to melting", rise, "K")
    return positive("density", density, "kg/m3") * (warm + latent_heat)


def melted_section(power: float, melting_share: float, travel: float, energy: float) -> float:
    """Cross-section of metal melted [m2]: f2 q/(v Um).

    Parameters: power [W] net (after arc efficiency f1); melting_share f2 from 0 to 1; travel [m/s];
    energy Um [J/m3]. Source: AWS Welding Handbook vol. 1 (read in a course copy).
    """
    within("share of the heat that melts", melting_share, 0.0, 1.0)
    per_length = positive("net power", power, "W") / positive("travel", travel, "m/s")
    return melting_share * per_length / positive("unit energy", energy, "J/m3")


def ring_power_density(power: float, share: float, inner: float, outer: float) -> float:
    """Mean power per area [W/m2] between two diameters that hold a share of the power.

    Parameters: power [W]; share from 0 to 1; inner [m], 0 or more; outer [m], above inner.
    Source: definition; Groover's exercise (read in a course solution).
    """
    within("share of the power", share, 0.0, 1.0)
    within("inner diameter", inner, 0.0, math.inf, "m")
    area = 0.25 * math.pi * (outer**2 - inner**2)
    return positive("power", power, "W") * share / positive("ring area", area, "m2")
