"""Groove and bead sections, and the filler that fills them: geometry only.

Sections in m2, lengths in m. Angles in degrees as on a drawing: an included angle is between the two
fusion faces, a bevel angle between one face and the square edge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.ranges import positive, within
from advisor.physics.tables import Spread, TableSource

INCLUDED = (0.0, 150.0)  # degrees
BEVEL = (0.0, 75.0)  # degrees, one face

_FILLER_PAGES = "filler maker's pages on calculating filler metal consumption"
# Share of the filler bought that ends in the bead [-]. Row labels of the first three were lost in the
# copy seen, so which number belongs to which process is memory.
DEPOSITION: dict[str, Spread] = {
    "submerged arc": Spread(0.99, 0.99, (TableSource(_FILLER_PAGES, "memory"),)),
    "solid wire": Spread(0.93, 0.98, (TableSource(_FILLER_PAGES, "memory"),)),
    "stick": Spread(0.59, 0.66, (TableSource(f"{_FILLER_PAGES}, with a 2 in stub", "memory"),)),
    "bare rod": Spread(0.98, 0.98, (TableSource("hardfacing data page, weak", "read"),)),
}


@dataclass(frozen=True)
class RodCount:
    """Rods to lay out for a seam: how many [-], and what is left of the last one [m]."""

    rods: int
    left_over: float


def square_butt_area(thickness: float, gap: float) -> float:
    """Section between two square edges [m2]: g t.

    Parameters: thickness [m], above 0; gap [m], 0 or more. Returns: section [m2].
    Raises: PhysicsRangeError outside. Source: geometry (computed).
    Example: 3 mm plate with a gap of 1 mm: 3 mm2.
    >>> round(square_butt_area(3e-3, 1e-3) * 1e6, 3)
    3.0
    """
    return _gap(gap) * positive("thickness", thickness, "m")


def single_v_area(thickness: float, gap: float, root_face: float, included_deg: float) -> float:
    """Section of a single-V groove without cap [m2]: g t + (t - f)^2 tan(alpha/2).

    Parameters: thickness t [m], above 0; gap g [m], 0 or more; root_face f [m], 0 to t; included_deg
    alpha [deg], 0 to 150. Returns: section [m2]. Raises: PhysicsRangeError outside.
    Source: geometry (computed).
    Example: 6 mm plate, gap 2 mm, root face 2 mm, 60 deg: 12 + 16 tan 30 deg = 21.24 mm2.
    >>> round(single_v_area(6e-3, 2e-3, 2e-3, 60.0) * 1e6, 2)
    21.24
    """
    depth = _depth(thickness, root_face)
    return square_butt_area(thickness, gap) + depth**2 * _half_tangent(included_deg)


def single_bevel_area(thickness: float, gap: float, root_face: float, bevel_deg: float) -> float:
    """Section of a groove with one edge bevelled, without cap [m2]: g t + (t - f)^2 tan(beta)/2.

    Parameters: thickness t [m], above 0; gap g [m], 0 or more; root_face f [m], 0 to t; bevel_deg beta
    [deg], 0 to 75. Returns: section [m2]. Raises: PhysicsRangeError outside. Source: geometry (computed).
    Example: 10 mm plate, gap 2 mm, root face 2 mm, bevel 45 deg: 20 + 64/2 = 52 mm2.
    >>> round(single_bevel_area(10e-3, 2e-3, 2e-3, 45.0) * 1e6, 2)
    52.0
    """
    depth = _depth(thickness, root_face)
    tangent = math.tan(math.radians(within("bevel angle", bevel_deg, *BEVEL, "deg")))
    return square_butt_area(thickness, gap) + 0.5 * depth**2 * tangent


def double_v_area(thickness: float, gap: float, root_face: float, included_deg: float) -> float:
    """Section of a double-V groove, alike on both sides, without caps [m2]: g t + 2 ((t - f)/2)^2 tan(alpha/2).

    Parameters: thickness t [m], above 0; gap g [m], 0 or more; root_face f [m], 0 to t, at mid thickness;
    included_deg alpha [deg], 0 to 150. Returns: section [m2], both sides together.
    Raises: PhysicsRangeError outside. Source: geometry (computed).
    Example: 12 mm plate, gap 2 mm, root face 2 mm, 60 deg: 24 + 2 x 25 tan 30 deg = 52.87 mm2.
    >>> round(double_v_area(12e-3, 2e-3, 2e-3, 60.0) * 1e6, 2)
    52.87
    """
    depth = 0.5 * _depth(thickness, root_face)
    return square_butt_area(thickness, gap) + 2.0 * depth**2 * _half_tangent(included_deg)


def single_u_area(thickness: float, gap: float, root_face: float, root_radius: float, bevel_deg: float) -> float:
    """Section of a single-U groove without cap [m2].

    On each side an arc of the root radius r leaves the top of the root face level and meets the straight
    face tangentially: side = r2/2 (phi - sin phi cos phi) + h r cos beta + h2/2 tan beta, with
    phi = 90 deg - beta and h = t - f - r (1 - sin beta); section = g t + 2 side.
    Parameters: thickness t [m], above 0; gap g [m], 0 or more; root_face f [m], 0 to t; root_radius r [m],
    0 up to where h is 0; bevel_deg beta [deg] of each face, 0 to 75. Returns: section [m2].
    Raises: PhysicsRangeError outside. Source: geometry (computed).
    Example: 12 mm plate, gap 2 mm, root face 2 mm, upright faces with a radius of 4 mm: 24 + 2 (4 pi + 24) = 97.13 mm2.
    >>> round(single_u_area(12e-3, 2e-3, 2e-3, 4e-3, 0.0) * 1e6, 2)
    97.13
    """
    depth = _depth(thickness, root_face)
    beta = math.radians(within("bevel angle", bevel_deg, *BEVEL, "deg"))
    rise = 1.0 - math.sin(beta)
    radius = within("root radius", root_radius, 0.0, depth / rise, "m", "the arc must end below the surface")
    straight = depth - radius * rise
    turn = 0.5 * math.pi - beta
    arc = 0.5 * radius**2 * (turn - math.sin(turn) * math.cos(turn))
    side = arc + straight * radius * math.cos(beta) + 0.5 * straight**2 * math.tan(beta)
    return square_butt_area(thickness, gap) + 2.0 * side


def fillet_area(leg: float, other_leg: float | None = None, angle_deg: float = 90.0) -> float:
    """Section of a flat-faced fillet [m2]: z1 z2 sin(angle)/2, half the product of the legs in a square corner.

    Parameters: leg [m], above 0; other_leg [m], above 0, the same as leg where left out; angle_deg [deg]
    between the members, 30 to 150. Returns: section [m2]. Raises: PhysicsRangeError outside.
    Source: TWI Job Knowledge 95 for the square corner (read); geometry (computed).
    Example: A leg of 1/2 in, 12.7 mm: 1/8 in2, 80.6 mm2.
    >>> round(fillet_area(12.7e-3) * 1e6, 1)
    80.6
    """
    angle = math.radians(within("angle between the members", angle_deg, 30.0, 150.0, "deg"))
    second = positive("leg", leg, "m") if other_leg is None else positive("other leg", other_leg, "m")
    return 0.5 * positive("leg", leg, "m") * second * math.sin(angle)


def outside_corner_area(thickness: float, covered: float = 0.0) -> Spread:
    """Section that brings an outside corner of two like sheets to its edge [m2]: from a flat face to a round one.

    The covering sheet's edge stands on the other's edge over a part of its thickness; the notch left is t by t - c.
    Low: a flat face across the notch, t (t - c)/2; high: a quarter ellipse in it, pi t (t - c)/4.
    Parameters: thickness t [m], above 0; covered c [m], 0 (corner to corner) to t (closed: no notch).
    Returns: section [m2]. Raises: PhysicsRangeError outside. Source: geometry (computed).
    Example: 3 mm sheets corner to corner: 4.5 mm2 with a flat face, 7.07 mm2 with a round one.
    >>> found = outside_corner_area(3e-3)
    >>> round(found.low * 1e6, 2), round(found.high * 1e6, 2)
    (4.5, 7.07)
    """
    left = positive("thickness", thickness, "m") - within("covered edge", covered, 0.0, thickness, "m")
    notch = thickness * left
    return Spread(0.5 * notch, 0.25 * math.pi * notch, (TableSource("geometry of the corner", "computed"),))


def cap_area(width: float, height: float) -> float:
    """Section of a cap above the surface, taken as a parabola [m2]: 2/3 w h.

    Parameters: width [m], above 0; height [m], 0 to half the width. Returns: section [m2].
    Raises: PhysicsRangeError outside. Source: geometry (computed); a circular cap is at most 18 % larger.
    Example: 6 mm wide and 1 mm high: 4 mm2.
    >>> round(cap_area(6e-3, 1e-3) * 1e6, 3)
    4.0
    """
    return 2.0 / 3.0 * positive("cap width", width, "m") * within("cap height", height, 0.0, 0.5 * width, "m")


def bead_mass(area: float, length: float, density: float) -> float:
    """Mass of metal in a bead [kg]: A L rho.

    Parameters: area [m2], 0 or more; length [m], above 0; density [kg/m3], 500 to 25000.
    Returns: mass [kg]. Raises: PhysicsRangeError outside. Source: definition (computed).
    Example: A steel fillet with a leg of 1/2 in weighs 0.424 lb a foot (filler maker's consumption pages).
    >>> round(bead_mass(fillet_area(12.7e-3), 0.3048, 7833.0) / 0.45359237, 3)
    0.424
    """
    within("density", density, 500.0, 25000.0, "kg/m3")
    return _area(area) * positive("seam length", length, "m") * density


def filler_mass(area: float, length: float, density: float, efficiency: float) -> float:
    """Mass of filler to buy for a bead [kg]: A L rho / E.

    Parameters: area [m2], length [m], density [kg/m3] as in `bead_mass`; efficiency E [-], the share that
    ends in the bead, 0.3 to 1 (`DEPOSITION`). Returns: mass [kg]. Raises: PhysicsRangeError outside.
    Source: filler maker's consumption pages, P = W L/E (read).
    Example: 1 m of a 3 mm aluminium fillet weighs 12.15 g; at a share of 0.95 it takes 12.8 g of wire.
    >>> round(filler_mass(4.5e-6, 1.0, 2700.0, 0.95) * 1e3, 1)
    12.8
    """
    return bead_mass(area, length, density) / _efficiency(efficiency)


def filler_length(area: float, length: float, rod_diameter: float, efficiency: float = 1.0) -> float:
    """Length of rod or wire that fills a bead [m]: A L / (pi d2/4) / E.

    The whole section counts as filler, so take the base metal melted into it off the section first.
    Parameters: area [m2], 0 or more; length of the seam [m], above 0; rod_diameter d [m], 0.1 to 20 mm;
    efficiency E [-], 0.3 to 1. Returns: filler length [m]. Raises: PhysicsRangeError outside.
    Source: equal volumes (computed).
    Example: 1 m of a 3 mm fillet, 4.5 mm2, takes 2.238 m of 1.6 mm rod.
    >>> round(filler_length(4.5e-6, 1.0, 1.6e-3), 3)
    2.238
    """
    within("rod diameter", rod_diameter, 0.1e-3, 20e-3, "m")
    rod = 0.25 * math.pi * rod_diameter**2
    return _area(area) * positive("seam length", length, "m") / rod / _efficiency(efficiency)


def rods_needed(filler: float, rod_length: float, stub: float) -> RodCount:
    """Whole rods that a filler length takes, when a stub of each is thrown away [-].

    Parameters: filler [m], 0 or more; rod_length [m], above 0; stub [m], 0 to below rod_length.
    Returns: number of rods [-] and what is left of the last above its stub [m].
    Raises: PhysicsRangeError outside. Source: arithmetic (computed).
    Example: 0.95 m of filler from rods of 1 m with stubs of 0.1 m: two rods, 0.85 m left of the second.
    >>> found = rods_needed(0.95, 1.0, 0.1)
    >>> found.rods, round(found.left_over, 3)
    (2, 0.85)
    """
    within("stub", stub, 0.0, positive("rod length", rod_length, "m"), "m")
    usable = positive("usable rod", rod_length - stub, "m")
    rods = math.ceil(within("filler length", filler, 0.0, math.inf, "m") / usable - 1e-9)
    return RodCount(rods, max(0.0, rods * usable - filler))


def _gap(gap: float) -> float:
    return within("gap", gap, 0.0, math.inf, "m")


def _area(area: float) -> float:
    return within("section", area, 0.0, math.inf, "m2")


def _efficiency(efficiency: float) -> float:
    return within("deposition efficiency", efficiency, 0.3, 1.0)


def _depth(thickness: float, root_face: float) -> float:
    """Depth of the bevel above the root face [m]."""
    return positive("thickness", thickness, "m") - within("root face", root_face, 0.0, thickness, "m")


def _half_tangent(included_deg: float) -> float:
    return math.tan(0.5 * math.radians(within("included angle", included_deg, *INCLUDED, "deg")))
