"""How heat divides between two members: overall, at the arc, and by the number of paths a joint offers.

A line source along a straight seam between two wide, thin members. The shares take the two edges to have
one temperature along the seam; a gap, or an arc held off the joint, is left to `moving_source`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.physics.ranges import positive, within

# Paths along which each member leads heat away from the seam (first member, second member).
PATHS: dict[str, tuple[int, int]] = {
    "butt": (1, 1),
    "corner": (1, 1),
    "edge": (1, 1),
    "tee": (1, 2),
    "lap": (1, 2),
}


class UnknownJointError(PrestrikeError):
    """A joint type that has no heat paths here."""


@dataclass(frozen=True)
class PlateMember:
    """One member of a joint.

    thickness [m], 0.2 to 50 mm (of all its paths folded together); conductivity [W/(m K)], 5 to 500;
    heat_capacity rho c [J/(m3 K)], 1e6 to 6e6; solidus_c [degC]; width [m] from the seam to the far edge,
    infinite for a wide plate; face_loss [W/(m2 K)], 0 to 5000, the sum over
    both faces. Raises PhysicsRangeError for anything else.
    """

    thickness: float
    conductivity: float
    heat_capacity: float
    solidus_c: float
    width: float = math.inf
    face_loss: float = 0.0

    def __post_init__(self) -> None:
        within("thickness", self.thickness, 0.2e-3, 50e-3, "m")
        within("conductivity", self.conductivity, 5.0, 500.0, "W/(m K)")
        within("heat capacity", self.heat_capacity, 1e6, 6e6, "J/(m3 K)")
        within("solidus", self.solidus_c, 200.0, 2000.0, "degC")
        within("face loss", self.face_loss, 0.0, 5000.0, "W/(m2 K)")
        if not self.width > 0.0:
            positive("width", self.width, "m")

    @property
    def diffusivity(self) -> float:
        """k/(rho c) [m2/s]."""
        return self.conductivity / self.heat_capacity

    @property
    def effusivity(self) -> float:
        """e = sqrt(k rho c) [W s^0.5/(m2 K)]."""
        return math.sqrt(self.conductivity * self.heat_capacity)


def heat_paths(joint: str) -> tuple[int, int]:
    """Heat paths [-], counted, of the first and the second member of a joint (butt, corner, edge, tee, lap).

    Tee and lap: the first member ends at the seam (the standing plate; the upper plate of a lap), the
    second runs through under it and leads heat both ways.
    Raises: UnknownJointError. Source: derived; agrees with the shape factors of EN 1011-2 table D.1 for
    a tee (memory).
    Example: In a tee the through member leads heat away two ways (no unit).
    >>> heat_paths("tee")
    (1, 2)
    """
    if joint not in PATHS:
        message = f"no heat paths for the joint '{joint}'"
        raise UnknownJointError(Diagnostic("unknown-joint", message, help=did_you_mean(joint, PATHS)))
    return PATHS[joint]


def effective_thickness(joint: str, first: float, second: float) -> float:
    """Thickness [m] of the one plate that leads heat away as the joint does: half the sum of its paths.

    Parameters: first, second [m], above 0. Source: derived; exact for members of one metal, thin against
    the pool and wide.
    Raises: PhysicsRangeError at 0 and below; UnknownJointError.
    Example: A tee of 3 mm on 5 mm leads heat away as a plate of (3 + 2 x 5)/2 = 6.5 mm.
    >>> round(effective_thickness("tee", 3e-3, 5e-3) * 1e3, 2)
    6.5
    """
    paths = heat_paths(joint)
    return 0.5 * (paths[0] * positive("thickness", first, "m") + paths[1] * positive("thickness", second, "m"))


def overall_share(first: PlateMember, second: PlateMember, joint: str = "butt") -> float:
    """Share [0..1] of the heat that ends in the first member: d e/(sum of d e), e = sqrt(k rho c).

    Exact at any speed for wide members, no loss from the faces and a source on the seam.
    Source: derived (Fourier transform along the joint, low wave numbers).
    Example: Of two like plates, 6 mm and 3 mm thick, the thick one takes 2/3 (no unit).
    >>> thick, thin = (PlateMember(each, 167.0, 2.43e6, 582.0) for each in (6e-3, 3e-3))
    >>> round(overall_share(thick, thin), 4)
    0.6667
    """
    paths = heat_paths(joint)
    own = paths[0] * first.thickness * first.effusivity
    return own / (own + paths[1] * second.thickness * second.effusivity)


def local_share(first: PlateMember, second: PlateMember, joint: str = "butt") -> float:
    """Share [0..1] of the heat that leaves the pool into the first member: k d/(sum of k d).

    Holds nearer to the arc than 2 a/v. Source: derived (high wave numbers).
    Example: Aluminium of 167 W/(m K) beside stainless of 16.2 W/(m K), both 3 mm: 167/183.2 goes into the aluminium.
    >>> aluminium, stainless = PlateMember(3e-3, 167.0, 2.43e6, 582.0), PlateMember(3e-3, 16.2, 4.0e6, 1400.0)
    >>> round(local_share(aluminium, stainless), 4)
    0.9116
    """
    paths = heat_paths(joint)
    own = paths[0] * first.thickness * first.conductivity
    return own / (own + paths[1] * second.thickness * second.conductivity)


def arc_share(offset: float, sigma: float) -> float:
    """Share [0..1] of a Gaussian arc that lands on the first member, the arc aimed `offset` onto the second.

    Parameters: offset [m], negative onto the first member; sigma [m], above 0, the arc's radius at which
    its intensity is exp(-1/2) of the middle. Source: integral of the Gaussian, derived.
    Raises: PhysicsRangeError where sigma is 0 or less.
    Example: An arc of radius 2 mm aimed 2 mm onto the second member: 0.1587 lands on the first (normal table, one
    sigma).
    >>> round(arc_share(2e-3, 2e-3), 4)
    0.1587
    """
    return 0.5 * math.erfc(offset / (positive("arc radius", sigma, "m") * math.sqrt(2.0)))
