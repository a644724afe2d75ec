"""The torch over the joint, in section and from the side, and the tacks along the seam: true to scale, dimensioned."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from advisor.show.drawing import Angle, Dimension, Drawing, Note, Point, Shape, box, turned
from advisor.show.drawing_joints import JointSection

NOZZLE_WALL = 1.2
_FOR_SHOW = " The tungsten's point is for show: no rule gives its angle here."
NOZZLE_SHOWN = 0.9  # length of nozzle drawn, in bores


class Torch(NamedTuple):
    """Sizes of the torch [mm, deg]; tip: included angle, None for a rounded end; for_show: no rule gives the
    tip. text: name -> number in words."""

    tungsten: float
    bore: float
    stickout: float
    arc: float
    tilt: float
    tip: float | None = None
    rod: float | None = None
    text: Mapping[str, str] = MappingProxyType({})
    for_show: bool = False


class Aim(NamedTuple):
    """Where to aim: offset [mm] from the joint line onto the second member (negative: onto the first)."""

    offset: float
    text: str
    heavy: str


def torch_shapes(torch: Torch, tip: Point, comes_from: float) -> list[Shape]:
    """Tungsten and nozzle standing over a point at the arc's length, drawn upright and then turned."""
    base = (tip[0], tip[1] + torch.arc)
    half, face = torch.tungsten / 2, base[1] + torch.stickout
    top = face + torch.bore * NOZZLE_SHOWN
    cone = half / math.tan(math.radians((torch.tip or 90) / 2))
    # A tungsten on AC ends round: a half circle of its own diameter.
    end = (
        [(base[0] + half, base[1] + cone), base, (base[0] - half, base[1] + cone)]
        if torch.tip
        else [
            (base[0] + half * math.cos(a), base[1] + half - half * math.sin(a))
            for a in (k * math.pi / 8 for k in range(9))
        ]
    )
    tungsten = ((base[0] - half, top), (base[0] + half, top), *end)
    inner, outer = torch.bore / 2, torch.bore / 2 + NOZZLE_WALL
    walls = [box(base[0] - outer, face, base[0] - inner, top), box(base[0] + inner, face, base[0] + outer, top)]
    arc = Shape("arc", (base, tip), "arc", closed=False)
    shapes = [Shape("tungsten", tungsten, "tungsten"), *(Shape("nozzle", wall, "nozzle") for wall in walls), arc]
    axis = Shape("axis", (tip, (tip[0], top + torch.bore * 0.35)), "torch axis", closed=False)
    return [shape._replace(points=turned(shape.points, tip, comes_from - 90)) for shape in (*shapes, axis)]


def aim_drawing(joint: JointSection, torch: Torch, aim: Aim | None, name: str) -> Drawing:
    """The torch over the section: the point the arc stands over, and how far that is from the joint line."""
    offset = aim.offset if aim else 0.0
    away = joint.along[1] if offset >= 0 else joint.along[0]
    tip = (joint.line[0] + away[0] * abs(offset), joint.line[1] + away[1] * abs(offset))
    plates = [shape for shape in joint.shapes if shape.kind != "weld"]
    dimensions: tuple[Dimension, ...] = ()
    if aim and offset:
        push = (0.0, -1.0) if away[0] else (-1.0, 0.0)
        beyond = _clear_of(plates, joint.line, push)
        dimensions = (Dimension("aim_offset", f"aim {aim.text}", joint.line, tip, push, 1, beyond),)
    return Drawing(
        name,
        "Torch over the joint",
        _aim_words(joint, aim) + (_FOR_SHOW if torch.for_show else ""),
        (*plates, *torch_shapes(torch, tip, joint.torch)),
        dimensions,
        most=(280.0, 220.0),
    )


def _clear_of(plates: list[Shape], point: Point, push: Point) -> float:
    """How far from a point, along a direction, the plates end [mm]."""
    return max((x - point[0]) * push[0] + (y - point[1]) * push[1] for shape in plates for x, y in shape.points)


def _aim_words(joint: JointSection, aim: Aim | None) -> str:
    where = (
        f"The arc stands {aim.text} off the joint line, over the {aim.heavy}."
        if aim and aim.offset
        else "The arc stands over the joint line."
    )
    way = {90: "straight above", 45: "midway between the faces", 0: "square to the outer face"}[round(joint.torch)]
    return f"{where} Torch from {way}; nozzle, tungsten and arc to scale."


def side_drawing(torch: Torch, thickness: float, name: str) -> Drawing:
    """Seen from the side: the torch leans back so that it points ahead; the rod comes from the front."""
    long = max(2.6 * torch.bore, 24.0)
    high = torch.arc + torch.stickout + torch.bore * (NOZZLE_SHOWN + 0.35)
    plate = Shape("plate-2", box(-0.28 * long, -thickness, 0.5 * long, 0), "member")
    bead = Shape("bead", ((-0.26 * long, 0), (-0.26 * long, 0.5), (-1.0, 0.5), (0.6, 0)), "bead")
    shapes = [plate, bead, *torch_shapes(torch, (0, 0), 90 + torch.tilt)]
    if torch.rod:
        rod = box(1.1 * torch.tungsten, -0.2, 0.52 * long, torch.rod)
        shapes.append(Shape("rod", turned(rod, (0, 0), 15), "filler rod"))
    shapes.append(Shape("axis", ((0, 0), (0, high)), "upright", closed=False))
    arrow = Note("", (0.46 * long, -thickness - 2.5), (-70.0, 0.0))
    words = Note("travel", (0.46 * long - 1, -thickness - 2.5), (-4.0, -14.0), arrow=False)
    return Drawing(
        name,
        "From the side",
        f"Travel is to the right; the torch leans back {torch.text['torch_tilt']} from upright and points ahead. "
        "The rod comes in low from the front, its end kept inside the gas.",
        tuple(shapes),
        _torch_sizes(torch),
        (Angle("torch_tilt", torch.text["torch_tilt"], (0, 0), 90, 90 + torch.tilt, high),),
        (arrow, words),
        caption="Lean back from upright and push; rod low from the front.",
        most=(280.0, 220.0),
    )


def _torch_sizes(torch: Torch) -> tuple[Dimension, ...]:
    """Bore, stick-out and arc length, along the axis of the leaning torch."""
    turn = math.radians(torch.tilt)
    across = (-math.cos(turn), -math.sin(turn))
    face = torch.arc + torch.stickout
    outer = torch.bore / 2 + NOZZLE_WALL
    sizes = [
        ("tungsten_stickout", (-torch.tungsten / 2, torch.arc), (-torch.tungsten / 2, face), outer),
        ("arc_length", (0.0, 0.0), (0.0, torch.arc), outer),
    ]
    found = []
    for name, start, end, beyond in sizes:
        if name in torch.text:
            first, second = turned([start, end], (0, 0), torch.tilt)
            found.append(Dimension(name, torch.text[name], first, second, across, 1, beyond))
    return tuple(found)
