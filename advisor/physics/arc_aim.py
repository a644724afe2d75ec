"""Where to aim the arc, and with what power, so that two unequal members melt back alike.

The steady field is linear in power, so the aim alone decides the ratio of the rises at the two wanted
melted edges, and the power then follows: one set of waves and two lines serve every trial aim.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq

from advisor.physics.heat_split import PlateMember, arc_share, heat_paths
from advisor.physics.moving_source import melted_half_widths
from advisor.physics.ranges import PhysicsRangeError, within
from advisor.physics.seam_modes import (
    GAUSSIAN_REACH,
    Arc,
    Complex,
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

FARTHEST_AIM = 2.0  # arc radii beyond the wanted melted edge
MOST_THICKNESS = 3.0  # half widths: there the surface of a point source's pool is half as wide again
MELTS_THROUGH = 1.5  # half widths: there the underside still melts 0.65 to 0.77 as wide (both computed
# from Rosenthal's finite plate for aluminium and steel at 1.5 and 5 mm/s); at 2 it stays solid
AGREES = 0.01

Pair = tuple[float, float]


@dataclass(frozen=True)
class ArcAim:
    """What melts both members to one half width, and what a centred arc of the same power does instead.

    Pairs are (first member, second member). offset [m] toward the second member; power, equal_pair_power
    [W] net; half widths [m]; shares 0 to 1.

    melt_back: how near the edge of a member is to running away from the joint, as the rise it would reach
    at the wanted melted edge if no heat passed across the seam (a gap, or before the other edge wets),
    over the rise to its solidus. 1 is a joint of two of its like; above 1 the edge melts back farther
    than wanted as soon as it loses touch with the other; below 1 it cannot.
    """

    joint: str
    arc: Arc
    half_width: float
    offset: float
    power: float
    equal_pair_power: Pair
    arc_share: Pair
    half_width_centred: Pair
    half_width_aimed: Pair
    melt_back_centred: Pair
    melt_back_aimed: Pair
    thickness_ratio: float

    @property
    def mean_equal_pair_power(self) -> float:
        """Mean [W] of what each member would need joined to its like: near `power` for one metal."""
        return 0.5 * (self.equal_pair_power[0] + self.equal_pair_power[1])

    @property
    def melts_through(self) -> bool:
        """Whether the thickest member is thin enough against the pool for its underside to melt too."""
        return self.thickness_ratio <= MELTS_THROUGH

    @property
    def lighter(self) -> int:
        """0 or 1: the member a centred arc melts back sooner."""
        return int(self.melt_back_centred[1] > self.melt_back_centred[0])


def fold(joint: str, first: PlateMember, second: PlateMember) -> tuple[PlateMember, PlateMember]:
    """The two plates, side by side, that lead heat away as the members of a joint do.

    Butt, corner: as they are, a corner unfolded flat. Edge: the two plates stand side by side and lead
    heat away in parallel; unfolded flat, heat passing between their faces left out. Tee, lap: the second
    member leads heat both ways from the seam; its two halves are laid on each other as one plate of twice
    the thickness and loss, which takes both halves to be equally hot: exact for an arc shared by both
    sides, and favourable to the near half in a fillet run on one side. Contact between the faces of a lap
    and the metal of the fillet itself are left out.

    Raises: UnknownJointError. Source: heat paths, derived.
    Example: In a tee of two 3 mm plates the through plate leads heat away as one of 6 mm.
    >>> plate = PlateMember(3e-3, 167.0, 2.42e6, 582.0)
    >>> [round(each.thickness * 1e3, 1) for each in fold("tee", plate, plate)]
    [3.0, 6.0]
    """
    paths = heat_paths(joint)
    return _folded(first, paths[0]), _folded(second, paths[1])


def _folded(member: PlateMember, paths: int) -> PlateMember:
    return replace(member, thickness=paths * member.thickness, face_loss=paths * member.face_loss)


def aim_arc(
    first: PlateMember, second: PlateMember, arc: Arc, half_width: float, joint: str = "butt", fineness: int = 1
) -> ArcAim:
    """Aim and net power that melt both members to the same half width.

    Parameters: half_width [m], 0.5 to 30 mm, narrower than either member, at least a third of the thicker
    one (heat is taken as uniform through the thickness); fineness 1 or more, points of every sum.
    Returns: `ArcAim`. For tee and lap the equal-pair power of the second member counts both its paths.
    Raises: PhysicsRangeError outside these ranges, or where no aim within two arc radii of the wanted
    edge melts both alike. Source: steady conduction under a Gaussian arc (derived; see `moving_source`).
    Example: 3.2 mm 6061 to 6.4 mm at 3 mm/s, melted to 4 mm each way: aim 0.56 mm onto the thick plate, 1.10 kW net.
    >>> thin, thick = (PlateMember(each, 167.0, 2.42e6, 582.0) for each in (3.2e-3, 6.4e-3))
    >>> found = aim_arc(thin, thick, Arc(3e-3, 2e-3), 4e-3)
    >>> round(found.offset * 1e3, 2), round(found.power / 1e3, 2)
    (0.56, 1.1)
    """
    thickness_ratio = _checked(first, second, half_width)
    seam = HeatedSeam(*fold(joint, first, second), arc)
    offset, per_watt = _best_aim(seam, half_width, fineness)
    power = 1.0 / per_watt
    aimed = melted_half_widths(seam, power, offset)
    for name, width in zip(("first", "second"), aimed, strict=True):
        least, most = (1.0 - AGREES) * half_width, (1.0 + AGREES) * half_width
        within(f"melted half width of the {name} member", width, least, most, "m", "its edge stays solid at the seam")
    alone = [_alone(seam, index, half_width, (0.0, offset), fineness) for index in (0, 1)]
    share = arc_share(offset, arc.sigma)
    return ArcAim(
        joint=joint,
        arc=arc,
        half_width=half_width,
        offset=offset,
        power=power,
        equal_pair_power=(1.0 / alone[0][0], 1.0 / alone[1][0]),
        arc_share=(share, 1.0 - share),
        half_width_centred=melted_half_widths(seam, power),
        half_width_aimed=aimed,
        melt_back_centred=(power * alone[0][1], power * alone[1][1]),
        melt_back_aimed=(power * alone[0][2], power * alone[1][2]),
        thickness_ratio=thickness_ratio,
    )


def best_offset(first: PlateMember, second: PlateMember, arc: Arc, half_width: float, joint: str = "butt") -> float:
    """Offset [m] toward the second member that melts both edges to one half width: the aim of `aim_arc` alone.

    Parameters: as `aim_arc`. Returns: offset [m]. Raises: PhysicsRangeError as `aim_arc`. Source: as `aim_arc`.
    Example: 3.2 mm 6061 to 6.4 mm at 3 mm/s, melted to 4 mm each way: aim 0.56 mm onto the thick plate.
    >>> thin, thick = (PlateMember(each, 167.0, 2.42e6, 582.0) for each in (3.2e-3, 6.4e-3))
    >>> round(best_offset(thin, thick, Arc(3e-3, 2e-3), 4e-3) * 1e3, 2)
    0.56
    """
    _checked(first, second, half_width)
    return _best_aim(HeatedSeam(*fold(joint, first, second), arc), half_width, 1)[0]


def _checked(first: PlateMember, second: PlateMember, half_width: float) -> float:
    """Thickest member over the half width [-], once everything asked is in range."""
    within("half width", half_width, 0.5e-3, 30e-3, "m")
    narrowest = min(first.width, second.width)
    within("half width", half_width, 0.0, 0.99 * narrowest, "m", help="the member is narrower than that")
    ratio = max(first.thickness, second.thickness) / half_width
    return within("thickness over half width", ratio, 0.0, MOST_THICKNESS, help="no pool through a plate that thick")


def _lines(seam: HeatedSeam, half_width: float, fineness: int) -> tuple[Waves, Points, float]:
    """Waves and points for every aim up to the farthest, and that farthest aim [m]."""
    sigma = seam.arc.sigma
    farthest = half_width + FARTHEST_AIM * sigma
    waves = make_waves(seam, half_width + farthest, fineness)
    reach = farthest + GAUSSIAN_REACH * sigma
    return waves, points_across(waves, -reach, reach, (-half_width, half_width)), farthest


def _best_aim(seam: HeatedSeam, half_width: float, fineness: int) -> Pair:
    """Aim [m] at which both wanted edges reach their solidus together, and the share of that one watt does."""
    waves, points, farthest = _lines(seam, half_width, fineness)
    lines = [answers(waves, side * half_width, points) for side in (-1.0, 1.0)]

    def reached(aim: float) -> Pair:
        heat = gaussian(points, aim, seam.arc.sigma)
        first, second = (peak_along(waves, line @ heat)[0] for line in lines)
        return first / seam.rises[0], second / seam.rises[1]

    def lean(aim: float) -> float:
        first, second = reached(aim)
        return math.log(first / second)

    low, high = max(-farthest, -seam.first.width), min(farthest, seam.second.width)
    if not lean(low) > 0.0 > lean(high):
        edge = high if lean(high) >= 0.0 else low
        raise PhysicsRangeError("aim", edge, low, high, "m", "no aim melts both edges alike: members too unequal")
    aim = float(brentq(lean, low, high, xtol=1e-9))
    return aim, reached(aim)[0]


def _alone(seam: HeatedSeam, index: int, half_width: float, aims: Pair, fineness: int) -> tuple[float, float, float]:
    """One member joined to its like: share of its solidus that one watt reaches at the wanted edge, from a
    centred arc; then from the heat that lands on it alone, nothing passing across the seam, at both aims.

    A seam that no heat crosses is a joint to its mirror image under the mirrored heat.
    """
    member = seam.members[index]
    like = HeatedSeam(member, member, seam.arc)
    waves, points, _ = _lines(like, half_width, fineness)
    line: Complex = answers(waves, half_width, points)
    toward = (-1.0, 1.0)[index]

    def reached(heat: Real) -> float:
        return peak_along(waves, line @ heat)[0] / like.rises[0]

    mirrored = replace(points, y=toward * np.abs(points.y))
    open_joint = [reached(gaussian(mirrored, aim, seam.arc.sigma)) for aim in aims]
    return reached(gaussian(points, 0.0, seam.arc.sigma)), open_joint[0], open_joint[1]
