"""How much of a bead is base metal, from the groove and the pool: sections of simple shape.

A butt bead is a trapezoid as wide as the pool at the face and as the melted root at the back, with a cap and a root
bead on it; what the groove leaves open, the cap and the root bead are filler. A fillet is a triangle of filler with a
lens of base metal melted under each leg. No base is lost and no filler is melted off beside the joint.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.physics.groove import cap_area, fillet_area
from advisor.physics.ranges import positive, within

LENS = 2.0 / 3.0  # a parabola's share of its rectangle


@dataclass(frozen=True)
class Pool:
    """Melted section of a butt: width at the face, width at the back (0 where not through), cap and root bead [m]."""

    face: float
    back: float
    cap: float
    root: float

    def __post_init__(self) -> None:
        within("width at the back", self.back, 0.0, positive("pool width", self.face, "m"), "m")
        within("cap height", self.cap, 0.0, 0.5 * self.face, "m")
        within("root bead height", self.root, 0.0, 0.5 * self.back, "m")


def butt_base_share(thickness: float, open_section: float, pool: Pool) -> float:
    """Dilution of a butt bead: share that was base metal [-].

    1 - (open section + cap + root bead)/(thickness (face + back)/2 + cap + root bead).
    Parameters: thickness [m], above 0; open_section [m2] of the groove before welding, 0 to what the pool melts;
    pool [m]. Returns: share [-], 0 to 1. Raises: PhysicsRangeError where the pool does not reach the groove's faces.
    Source: geometry (computed).
    Example: 3 mm with a 1 mm gap, melted 7 mm wide at the face and 5 mm at the back: 15 of 18 mm2 are base metal.
    >>> round(butt_base_share(3e-3, 3e-6, Pool(7e-3, 5e-3, 0.0, 0.0)), 3)
    0.833
    """
    trapezoid = 0.5 * (pool.face + pool.back) * positive("thickness", thickness, "m")
    within("open section of the groove", open_section, 0.0, trapezoid, "m2", "the pool must melt the groove's faces")
    added = cap_area(pool.face, pool.cap) + (cap_area(pool.back, pool.root) if pool.back > 0.0 else 0.0)
    return 1.0 - (open_section + added) / (trapezoid + added)


def fillet_base_share(leg: float, depth: float, convexity: float = 0.0) -> float:
    """Dilution of a fillet: share that was base metal [-], two lenses of a depth under legs alike.

    Parameters: leg [m], above 0; depth [m] melted into each member, 0 to the leg; convexity [m] of the face, 0 to half
    its width. Returns: share [-], 0 to 1. Raises: PhysicsRangeError outside. Source: geometry (computed).
    Example: Legs of 6 mm melted 0.9 mm deep: 7.2 mm2 of base metal in 25.2 mm2.
    >>> round(fillet_base_share(6e-3, 0.9e-3), 3)
    0.286
    """
    base = 2.0 * LENS * positive("leg", leg, "m") * within("melted depth", depth, 0.0, leg, "m")
    filler = fillet_area(leg) + cap_area(2.0**0.5 * leg, convexity)
    return base / (base + filler)
