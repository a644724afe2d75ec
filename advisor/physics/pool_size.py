"""Closed forms for the size of the pool and the share of the heat that melts: Wells, Okada, Christensen.

Full width b at the surface, half width p (also the depth of a semicircular pool), rise dT from start to
melting. Each was compared with the exact Rosenthal field and is refused where it departs from it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.ranges import positive, within

LEAST_WIDTH_NUMBER_2D = 0.022  # v b/(4 a); there q/(k d dT) is 1.6 and Wells 11 % high (computed)
LEAST_OPERATING_3D = 4.5  # Christensen's n; below it Wells 3D is more than 9 % low (computed)
OKADA_OPERATING = (0.0016, 18.0)  # within -8/+5 % of the exact field (computed)
OKADA_HALF_WIDTH = (0.0032, 7.1)  # v p/a over that range of n (computed)


@dataclass(frozen=True)
class Melting:
    """Metal and travel a pool is judged by.

    conductivity [W/(m K)]; diffusivity [m2/s]; rise dT = Tm - T0 [K]; travel [m/s]. All above 0.
    """

    conductivity: float
    diffusivity: float
    rise: float
    travel: float

    def __post_init__(self) -> None:
        positive("conductivity", self.conductivity, "W/(m K)")
        positive("diffusivity", self.diffusivity, "m2/s")
        positive("rise to melting", self.rise, "K")
        positive("travel", self.travel, "m/s")

    @property
    def heat_capacity(self) -> float:
        """rho c [J/(m3 K)]."""
        return self.conductivity / self.diffusivity

    def width_number(self, width: float) -> float:
        """v b/(4 a) [-] of a pool of full width b [m]."""
        return self.travel * positive("pool width", width, "m") / (4.0 * self.diffusivity)


def power_floor(melting: Melting, thickness: float) -> float:
    """Least net power [W] for a pool of practical size in a fully melted plate: about 2 k d dT.

    Parameters: thickness [m], above 0. Source: derived from Rosenthal 2D (below 1.5 k d dT the pool is
    the singularity of the formula).
    """
    return 2.0 * melting.conductivity * positive("thickness", thickness, "m") * melting.rise


def operating_parameter(melting: Melting, power: float) -> float:
    """n = q v/(4 pi a2 rho c dT) [-]. Parameters: power [W] net, above 0.

    Source: Christensen et al. 1965 (memory).
    """
    denominator = 4.0 * math.pi * melting.diffusivity**2 * melting.heat_capacity * melting.rise
    return positive("net power", power, "W") * melting.travel / denominator


def wells_power_2d(melting: Melting, thickness: float, width: float) -> float:
    """Net power [W] for a fully penetrating pool of a given width.

    q = 8 k d dT (0.2 + v b/(4 a)); within -8/+11 % of the exact field over its range here.

    Parameters: thickness d [m], above 0; width b [m], with v b/(4 a) at least 0.022.
    Raises: PhysicsRangeError below that. Source: Wells 1952; Lancaster (memory).
    """
    number = within("v b/(4 a)", melting.width_number(width), LEAST_WIDTH_NUMBER_2D, math.inf)
    scale = 8.0 * melting.conductivity * positive("thickness", thickness, "m") * melting.rise
    return scale * (0.2 + number)


def wells_width_2d(melting: Melting, thickness: float, power: float) -> float:
    """Full width [m] of a fully penetrating pool; `wells_power_2d` turned round.

    Parameters: thickness [m], power [W] net, above 0. Raises: PhysicsRangeError where the power is too
    small. Source: as `wells_power_2d`.
    """
    scale = 8.0 * melting.conductivity * positive("thickness", thickness, "m") * melting.rise
    number = positive("net power", power, "W") / scale - 0.2
    within("v b/(4 a)", number, LEAST_WIDTH_NUMBER_2D, math.inf, help="too little power for a pool of real size")
    return number * 4.0 * melting.diffusivity / melting.travel


def wells_power_3d(melting: Melting, width: float) -> float:
    """Net power [W] for a semicircular pool on a thick plate.

    q = (5/4) pi k b dT (0.4 + v b/(4 a)).

    Parameters: width b [m], above 0. Raises: PhysicsRangeError where the power found lies below
    Christensen's n = 4.5, which rules out aluminium at hand speed. Source: Wells 1952; Lancaster (memory).
    """
    number = melting.width_number(width)
    power = 1.25 * math.pi * melting.conductivity * width * melting.rise * (0.4 + number)
    within("operating parameter n", operating_parameter(melting, power), LEAST_OPERATING_3D, math.inf)
    return power


def okada_efficiency_2d(melting: Melting, width: float) -> float:
    """Share [-] of the net heat that melts, full penetration: 1/(8 a/(5 v b) + 2).

    Parameters: width b [m], the full one. Raises: as `wells_power_2d` (the same line in other letters).
    Source: Okada 1977 (memory).
    """
    number = within("v b/(4 a)", melting.width_number(width), LEAST_WIDTH_NUMBER_2D, math.inf)
    return 1.0 / (0.4 / number + 2.0)


def okada_efficiency_3d(melting: Melting, half_width: float) -> float:
    """Share of the net heat that melts, thick plate: 1/(1.35 [1 + sqrt(1 + 10.4 a2/(v p)^2)]).

    Parameters: half_width p [m], the HALF width, with v p/a from 0.0032 to 7.1.
    Raises: PhysicsRangeError outside. Source: Okada 1977 (memory).
    """
    number = melting.travel * positive("half width", half_width, "m") / melting.diffusivity
    within("v p/a", number, *OKADA_HALF_WIDTH)
    return 1.0 / (1.35 * (1.0 + math.sqrt(1.0 + 10.4 / number**2)))


def melted_share_2d(melting: Melting, thickness: float, width: float, power: float) -> float:
    """Share [-] of the net heat that warmed the melted metal to its melting point, full penetration.

    eta_m = v b d rho c dT / q. Parameters: thickness, width [m]; power [W] net; all above 0.
    Source: definition of melting efficiency, derived (latent heat left out, as in the conduction formulas).
    """
    area = positive("pool width", width, "m") * positive("thickness", thickness, "m")
    return _melted_share(melting, area, power)


def melted_share_3d(melting: Melting, half_width: float, power: float) -> float:
    """Share [-] as `melted_share_2d`, for a semicircular section of area pi p2/2.

    Parameters: half_width p [m]; power [W] net; both above 0. Source: definition of melting efficiency, derived.
    """
    return _melted_share(melting, 0.5 * math.pi * positive("half width", half_width, "m") ** 2, power)


def _melted_share(melting: Melting, area: float, power: float) -> float:
    return melting.travel * area * melting.heat_capacity * melting.rise / positive("net power", power, "W")
