"""Groups of weld lines under a force at an arm: elastic line method, then stresses on the throat.

Every seam is a line without width; forces per length follow from the group's length, centroid and moments of
inertia per unit throat, and divided by the throat they are stresses. Nothing yields, nothing presses on the parts.
Axes: x across and y up in the plane of the seams (the face that is welded to), z out of it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.physics.ranges import positive, within
from advisor.physics.tables import NotCoveredError, TableSource

LINE_METHOD = TableSource("Blodgett, Design of Weldments, welds treated as a line", "memory")
ONE_LINE, TWO_LINES, TOP_BOTTOM, ALL_ROUND, TUBE = "one-line", "two-lines", "top-bottom", "all-round", "tube"
THREE_SIDES = "three-sides"
GROUPS = (ONE_LINE, TWO_LINES, TOP_BOTTOM, THREE_SIDES, ALL_ROUND, TUBE)
_TUBE_PIECES = 72  # a circle as straight pieces; its moments come out within 0.2 %


@dataclass(frozen=True)
class WeldLine:
    """A straight seam in the plane of the joint, from (x0, y0) to (x1, y1) [m]."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length(self) -> float:
        """Its length [m]."""
        return math.hypot(self.x1 - self.x0, self.y1 - self.y0)

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle [m, m]."""
        return 0.5 * (self.x0 + self.x1), 0.5 * (self.y0 + self.y1)


@dataclass(frozen=True)
class GroupProperties:
    """A group's length [m], centroid [m, m], and moments per unit throat about it [m3]: ixx, iyy, and ixy."""

    length: float
    x: float
    y: float
    ixx: float
    iyy: float
    ixy: float

    @property
    def polar(self) -> float:
        """Polar moment per unit throat [m3]."""
        return self.ixx + self.iyy


@dataclass(frozen=True)
class Wrench:
    """What is put on a group at its centroid: forces fx, fy, fz [N] and moments mx, my, mz [N m]."""

    fx: float = 0.0
    fy: float = 0.0
    fz: float = 0.0
    mx: float = 0.0
    my: float = 0.0
    mz: float = 0.0


@dataclass(frozen=True)
class LineForce:
    """Force per length of seam at the worst point [N/m]: out of the plane, across the seam in it, along it.

    x, y: where, from the centroid [m].
    """

    out: float
    across: float
    along: float
    x: float
    y: float

    @property
    def size(self) -> float:
        """Their resultant [N/m]."""
        return math.sqrt(self.out**2 + self.across**2 + self.along**2)


@dataclass(frozen=True)
class ThroatStress:
    """Stresses on a fillet's throat [Pa]: square to it, across it, along it."""

    sigma_perp: float
    tau_perp: float
    tau_par: float

    @property
    def equivalent(self) -> float:
        """sqrt(s2 + 3 (tp2 + tl2)) [Pa]."""
        return math.sqrt(self.sigma_perp**2 + 3.0 * (self.tau_perp**2 + self.tau_par**2))


def group_lines(group: str, height: float, width: float = 0.0) -> tuple[WeldLine, ...]:
    """The seams of a group a shop knows by name [m], centred on nothing in particular.

    `one-line`: one upright seam; `two-lines`: two upright seams, width apart; `top-bottom`: two level seams of that
    width, height apart; `three-sides`: those two and the upright between their left ends; `all-round`: a rectangle;
    `tube`: a circle of diameter height.
    Parameters: group (no unit); height [m], above 0; width [m], 0 or more, above 0 where the group has one.
    Returns: lines [m]. Raises: NotCoveredError for another group; PhysicsRangeError outside.
    Source: geometry (computed).
    Example: Two upright seams, 100 mm high and 50 mm apart.
    >>> [(line.x0, round(line.length, 3)) for line in group_lines(TWO_LINES, 0.1, 0.05)]
    [(-0.025, 0.1), (0.025, 0.1)]
    """
    h = 0.5 * positive("height of the weld group", height, "m")
    w = 0.5 * within("width of the weld group", width, 0.0, math.inf, "m")
    if group in (TOP_BOTTOM, THREE_SIDES, ALL_ROUND):
        positive("width of the weld group", width, "m", f"'{group}' needs a width")
    left, right = WeldLine(-w, -h, -w, h), WeldLine(w, -h, w, h)
    top, bottom = WeldLine(-w, h, w, h), WeldLine(-w, -h, w, -h)
    if group == TUBE:
        at = [2.0 * math.pi * i / _TUBE_PIECES for i in range(_TUBE_PIECES + 1)]
        points = [(h * math.cos(angle), h * math.sin(angle)) for angle in at]
        return tuple(WeldLine(*points[i], *points[i + 1]) for i in range(_TUBE_PIECES))
    known = {
        ONE_LINE: (WeldLine(0.0, -h, 0.0, h),),
        TWO_LINES: (left, right),
        TOP_BOTTOM: (top, bottom),
        THREE_SIDES: (top, bottom, left),
        ALL_ROUND: (left, right, top, bottom),
    }
    if group not in known:
        raise NotCoveredError(f"no weld group '{group}'", "group", f"known here: {', '.join(GROUPS)}")
    return known[group]


def properties(lines: Sequence[WeldLine]) -> GroupProperties:
    """Length, centroid and moments per unit throat of a group [m, m3].

    Parameters: lines [m], at least one with a length. Returns: properties [m, m3]. Raises: PhysicsRangeError for a
    group without length. Source: geometry (computed); Blodgett's table of such groups (memory) is reproduced.
    Example: Legs of 56 mm on a back of 190 mm: centroid 10.4 mm from the back (Shigley, example 9-1).
    >>> found = properties(group_lines(THREE_SIDES, 0.190, 0.056))
    >>> round(found.length * 1e3), round((found.x + 0.028) * 1e3, 1)
    (302, 10.4)
    """
    total = positive("length of the weld group", sum(line.length for line in lines), "m")
    x = sum(line.length * line.middle[0] for line in lines) / total
    y = sum(line.length * line.middle[1] for line in lines) / total
    ixx = iyy = ixy = 0.0
    for line in lines:
        dx, dy, length = line.x1 - line.x0, line.y1 - line.y0, line.length
        mx, my = line.middle[0] - x, line.middle[1] - y
        ixx += length * (dy * dy / 12.0 + my * my)
        iyy += length * (dx * dx / 12.0 + mx * mx)
        ixy += length * (dx * dy / 12.0 + mx * my)
    return GroupProperties(total, x, y, ixx, iyy, ixy)


def bending_modulus(lines: Sequence[WeldLine]) -> float:
    """Section modulus of a group per unit throat, bent about its level axis [m2]: ixx over the farthest height.

    Parameters: lines [m]. Returns: modulus [m2], 0 where every seam lies on the axis. Raises: as `properties`.
    Source: Blodgett (memory), reproduced from geometry (computed).
    Example: Two upright seams of 120 mm: d2/3 = 4800 mm2 (Blodgett's table).
    >>> round(bending_modulus(group_lines(TWO_LINES, 0.12, 0.05)) * 1e6, 1)
    4800.0
    """
    found = properties(lines)
    far = max(abs(end - found.y) for line in lines for end in (line.y0, line.y1))
    return found.ixx / far if far > 0.0 else 0.0


def line_forces(lines: Sequence[WeldLine], wrench: Wrench) -> list[LineForce]:
    """Force per length at the ends of every seam of a group [N/m].

    Parameters: lines [m]; wrench [N, N m] at the centroid. Returns: forces [N/m], two a line.
    Raises: PhysicsRangeError where the group has no stiffness against a moment. Source: elastic line method,
    Blodgett (memory).
    Example: 5 kN up on two upright seams of 100 mm: 25 N/mm along each, at both ends.
    >>> [round(force.along / 1e3, 3) for force in line_forces(group_lines(TWO_LINES, 0.1, 0.01), Wrench(fy=5e3))]
    [25.0, 25.0, 25.0, 25.0]
    """
    p = properties(lines)
    forces = []
    for line in lines:
        ux, uy = (line.x1 - line.x0) / line.length, (line.y1 - line.y0) / line.length
        for x, y in ((line.x0 - p.x, line.y0 - p.y), (line.x1 - p.x, line.y1 - p.y)):
            qx = wrench.fx / p.length - _ratio(wrench.mz, p.polar) * y
            qy = wrench.fy / p.length + _ratio(wrench.mz, p.polar) * x
            out = wrench.fz / p.length + _bending(p, wrench, x, y)
            forces.append(LineForce(out, qx * uy - qy * ux, qx * ux + qy * uy, x, y))
    return forces


def worst_line_force(lines: Sequence[WeldLine], wrench: Wrench) -> LineForce:
    """The largest resultant force per length in a group [N/m].

    Parameters, Raises: as `line_forces` [m, N, N m]. Returns: force [N/m]. Source: as `line_forces` (memory).
    Example: 5 kN at an arm of 200 mm on two upright seams of 100 mm: M/Sw = 300 N/mm out and 25 N/mm along.
    >>> worst = worst_line_force(group_lines(TWO_LINES, 0.1, 0.01), Wrench(fy=-5e3, mx=1e3))
    >>> round(abs(worst.out) / 1e3, 3), round(abs(worst.along) / 1e3, 3)
    (300.0, 25.0)
    """
    return max(line_forces(lines, wrench), key=lambda force: force.size)


def fillet_throat(force: LineForce, throat: float) -> ThroatStress:
    """Stresses on the throat of an equal-leg fillet under a force per length [Pa], for its worse side.

    The throat lies at 45 degrees: (out + across)/(a sqrt 2) square to it, (out - across)/(a sqrt 2) across it,
    along/a along it; which sign `across` has depends on the side the seam lies, so the worse is given.
    Parameters: force [N/m]; throat a [m], above 0. Returns: stresses [Pa]. Raises: PhysicsRangeError outside.
    Source: EN 1993-1-8 figure 4.5 (memory); statics (computed).
    Example: 300 N/mm out of the plane on a throat of 5 mm: 60/sqrt 2 = 42.43 MPa square to it and across it.
    >>> stress = fillet_throat(LineForce(300e3, 0.0, 0.0, 0.0, 0.0), 5e-3)
    >>> round(stress.sigma_perp / 1e6, 2), round(stress.tau_perp / 1e6, 2)
    (42.43, 42.43)
    """
    a = positive("throat", throat, "m")
    one, other = (force.out + force.across) / (a * math.sqrt(2.0)), (force.out - force.across) / (a * math.sqrt(2.0))
    along = force.along / a
    sides = (ThroatStress(one, other, along), ThroatStress(other, one, along))
    return max(sides, key=lambda stress: stress.equivalent)


def butt_throat(force: LineForce, penetration: float) -> ThroatStress:
    """Stresses in a butt seam under a force per length [Pa]: out/s square to it, across/s and along/s in shear.

    Parameters: force [N/m]; penetration s [m], above 0. Returns: stresses [Pa]. Raises: PhysicsRangeError outside.
    Source: statics (computed).
    Example: 300 N/mm out and 25 N/mm along through 5 mm: 60 MPa pulled and 5 MPa sheared.
    >>> stress = butt_throat(LineForce(300e3, 0.0, 25e3, 0.0, 0.0), 5e-3)
    >>> round(stress.sigma_perp / 1e6, 3), round(stress.tau_par / 1e6, 3)
    (60.0, 5.0)
    """
    s = positive("penetration", penetration, "m")
    return ThroatStress(force.out / s, force.across / s, force.along / s)


def _ratio(moment: float, stiffness: float) -> float:
    if moment == 0.0:
        return 0.0
    return moment / positive("stiffness of the weld group", stiffness, "m3", "these seams cannot carry that moment")


def _bending(p: GroupProperties, wrench: Wrench, x: float, y: float) -> float:
    """Force per length out of the plane from bending about both axes, for a group that need not be symmetric."""
    if wrench.mx == 0.0 and wrench.my == 0.0:
        return 0.0
    if abs(p.ixy) <= 1e-9 * max(p.ixx, p.iyy):
        return _ratio(wrench.mx, p.ixx) * y - _ratio(wrench.my, p.iyy) * x
    determinant = p.ixx * p.iyy - p.ixy**2
    a = (wrench.mx * p.iyy + wrench.my * p.ixy) / determinant
    b = (-wrench.my * p.ixx - wrench.mx * p.ixy) / determinant
    return a * y + b * x
