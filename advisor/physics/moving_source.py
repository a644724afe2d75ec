"""The steady field of an arc travelling along the seam of two plates: temperature, peaks, melted widths.

Each plate has its own thickness, metal and width; heat is uniform through the thickness; the arc is a
Gaussian on the surface whose heat lands on whichever plate lies under it; both plates share one
temperature along the whole seam; faces lose heat in proportion to their rise; far edges lose none.
Properties are constant and there is no latent heat, as in Rosenthal's formulas, which this becomes for
equal wide plates and a small arc. Distances across the seam are negative in the first member.
"""

from __future__ import annotations

import math

import numpy as np
from scipy.optimize import brentq

from advisor.physics.ranges import positive, within
from advisor.physics.seam_modes import (
    GAUSSIAN_REACH,
    Arc,
    HeatedSeam,
    Points,
    Real,
    Waves,
    answers,
    gaussian,
    make_waves,
    peak_along,
    points_across,
)

WIDEST = 1.0  # m: a pool half as wide as that has no meaning here
STEFAN_BOLTZMANN = 5.670374419e-8

__all__ = ["Arc", "HeatedSeam", "face_loss", "melted_half_widths", "peak_rise", "rise_field"]


def face_loss(convection: float, emissivity: float, surface_c: float, ambient_c: float) -> float:
    """Loss from both faces of a plate per kelvin of rise [W/(m2 K)], radiation made linear.

    2 [h + eps sigma (Ts2 + Ta2)(Ts + Ta)], kelvin. The radiant part is exact at surface_c only: half way
    from ambient to solidus is a fair choice.

    Parameters: convection h [W/(m2 K)], 0 to 1000 (free air 5 to 15); emissivity 0 to 1; surface_c,
    ambient_c [degC], -50 to 2000. Raises: PhysicsRangeError outside.
    Source: Stefan's law; still-air range Incropera (memory).
    Example: Both faces at 300 degC in air of 20 degC, 10 W/(m2 K) and emissivity 0.2: 28 W/(m2 K).
    >>> round(face_loss(10.0, 0.2, 300.0, 20.0))
    28
    """
    within("convection", convection, 0.0, 1000.0, "W/(m2 K)")
    within("emissivity", emissivity, 0.0, 1.0)
    surface = within("surface temperature", surface_c, -50.0, 2000.0, "degC") + 273.15
    ambient = within("ambient temperature", ambient_c, -50.0, 2000.0, "degC") + 273.15
    radiation = emissivity * STEFAN_BOLTZMANN * (surface**2 + ambient**2) * (surface + ambient)
    return 2.0 * (convection + radiation)


def arc_points(waves: Waves, aim: float, breaks: tuple[float, ...] = ()) -> Points:
    """Points that hold all the heat of an arc at one aim.

    Parameters: aim [m] toward the second member; breaks [m] across, where the panels must meet. Source: Gaussian
    quadrature over the arc's reach (computed).
    Raises: nothing; what lies beyond the plates is cut off.
    Example: Summed over these points, an arc of 1 W gives 1 W.
    >>> from advisor.physics.heat_split import PlateMember
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> waves = make_waves(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 10e-3)
    >>> round(float(gaussian(arc_points(waves, 1e-3), 1e-3, 2e-3).sum()), 6)
    1.0
    """
    reach = GAUSSIAN_REACH * waves.seam.arc.sigma
    return points_across(waves, aim - reach, aim + reach, breaks)


def _line_peak(waves: Waves, line: float, aim: float) -> float:
    """Highest rise per watt [K/W] on a line for one aim."""
    points = arc_points(waves, aim, (line,))
    return peak_along(waves, answers(waves, line, points) @ gaussian(points, aim, waves.seam.arc.sigma))[0]


def _checked_aim(seam: HeatedSeam, aim: float) -> float:
    """The aim, where the middle of the arc is over metal."""
    return within("aim", aim, -seam.first.width, seam.second.width, "m", help="the arc is beyond the plate")


def peak_rise(seam: HeatedSeam, power: float, line: float, aim: float = 0.0) -> float:
    """Highest rise [K] ever reached on a line along the seam.

    Parameters: power [W] net, above 0; line [m] across, inside the plates; aim [m] toward the second
    member. Raises: PhysicsRangeError beyond the plates, or where no steady peak exists.
    Source: heat conduction in the frame of the arc (Rosenthal 1941, extended; derived).
    Example: 1 kW net at 3 mm/s on 3 mm 6061, 6 mm beside the seam: 702 K (Rosenthal: 702 K).
    >>> from advisor.physics.heat_split import PlateMember
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> round(peak_rise(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 1000.0, 6e-3))
    702
    """
    positive("net power", power, "W")
    _checked_aim(seam, aim)
    within("line across the seam", line, -seam.first.width, seam.second.width, "m")
    waves = make_waves(seam, abs(line - aim) + seam.arc.sigma)
    return power * _line_peak(waves, line, aim)


def rise_field(seam: HeatedSeam, power: float, aim: float, ahead: Real, across: Real) -> Real:
    """Rise [K] on a grid: rows are distances across the seam, columns distances ahead of the arc [m].

    Parameters: power [W] net; aim [m]; ahead (negative behind), across (negative in the first member),
    inside the plates. Raises: PhysicsRangeError beyond them. Source: as `peak_rise`.
    Example: 1 kW net at 3 mm/s on 3 mm 6061: 216 K 20 mm ahead of the arc, 511 K 20 mm behind it.
    >>> from advisor.physics.heat_split import PlateMember
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> seam = HeatedSeam(plate, plate, Arc(3e-3, 2e-3))
    >>> field = rise_field(seam, 1000.0, 0.0, np.array([20e-3, -20e-3]), np.array([0.0]))
    >>> [round(float(rise)) for rise in field[0]]
    [216, 511]
    """
    positive("net power", power, "W")
    _checked_aim(seam, aim)
    for end in (float(np.min(across)), float(np.max(across))):
        within("line across the seam", end, -seam.first.width, seam.second.width, "m")
    reach = float(np.max(np.abs(across - aim))) + seam.arc.sigma
    lag = max(float(np.max(np.abs(ahead))), 4.0 * seam.arc.sigma)
    waves = make_waves(seam, reach, lag=lag)
    waves_along = np.exp(np.outer(ahead, waves.s))
    rows = []
    for line in across:
        points = arc_points(waves, aim, (float(line),))
        rows.append(waves_along @ (answers(waves, float(line), points) @ gaussian(points, aim, seam.arc.sigma)))
    return power * np.array(rows).real


def melted_half_widths(seam: HeatedSeam, power: float, aim: float = 0.0) -> tuple[float, float]:
    """How far from the seam each member melts at its widest [m]: first, second; 0 where its edge does not.

    Measured from the seam to the solidus of the member itself. A member hot enough to melt only away from
    its edge (the arc aimed far onto it) counts as 0: its edge is not fused. A member melted through to
    its far edge gives its whole width.

    Parameters: power [W] net, above 0; aim [m] toward the second member.
    Raises: PhysicsRangeError as `peak_rise`. Source: as `peak_rise`.
    Example: 1 kW net at 3 mm/s on two plates of 3 mm 6061: both melt to 9.8 mm from the seam (Rosenthal: 9.8 mm).
    >>> from advisor.physics.heat_split import PlateMember
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> [round(width * 1e3, 1) for width in melted_half_widths(HeatedSeam(plate, plate, Arc(3e-3, 2e-3)), 1000.0)]
    [9.8, 9.8]
    """
    positive("net power", power, "W")
    _checked_aim(seam, aim)
    return _melted(seam, power, aim, 0), _melted(seam, power, aim, 1)


def _melted(seam: HeatedSeam, power: float, aim: float, index: int) -> float:
    """Melted half width [m] of one member."""
    sign, width = (-1.0, 1.0)[index], seam.members[index].width
    wanted = math.log(seam.rises[index] / power)

    def excess(distance: float, waves: Waves) -> float:
        return math.log(_line_peak(waves, sign * distance, aim)) - wanted

    far = max(2.0 * seam.arc.sigma, 1.5 * sign * aim)
    waves = make_waves(seam, far + abs(aim))
    if excess(0.0, waves) < 0.0:
        return 0.0
    near = 0.0
    while excess(min(far, width), waves) > 0.0:
        if far >= width:
            return width
        near, far = far, within("melted half width", 2.0 * far, 0.0, WIDEST, "m", help="far too much power")
        waves = make_waves(seam, far + abs(aim))
    return float(brentq(excess, near, min(far, width), args=(waves,), xtol=1e-8))
