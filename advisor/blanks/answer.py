"""From a finished part to what is sawn: pieces with allowances, bars to buy, how far out it will come."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from advisor.answer.answer import Advice
from advisor.blanks import tolerances
from advisor.blanks.pieces import Extra, Piece, box_pieces, bracket_pieces, frame_pieces
from advisor.blanks.plan import PartPlan, joint_of
from advisor.blanks.shrinkage import SeamShrinkage, SizeLoss, expected, seam_shrink
from advisor.consumables.bead_section import bead_section
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.job import Job
from advisor.job.material import find_material
from advisor.physics.nesting import Nest as Nest
from advisor.physics.nesting import Stock, nest
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise

MM = 1e-3
# Width of the cut [mm]: a metal bandsaw takes 1 to 2, a cold saw 2 to 3 (habit).
KERF = 2.0
# Left for machining on each face of a small welded part [mm] (habit), where no rule was asked for it.
STOCK_HABIT = (1.0, 2.0)
CLEARANCE_HABIT = 25.0


class CutRequest(NamedTuple):
    """What the user adds [mm]. skim: off outside faces and free edges; None: what the advice leaves on free edges.

    shrink None: as printed; tolerance None: ISO 2768-m; gap: left between edges that butt.

    stocks: bars there are; end_trim: cut off the end of every bar first; chamfer of outer corners; bore to be made.
    """

    skim: float | None = None
    trim: float = 0.0
    shrink: float | None = None
    kerf: float = KERF
    end_trim: float = 0.0
    tolerance: float | None = None
    chamfer: float | None = None
    bore: float | None = None
    gap: float = 0.0
    stocks: tuple[Stock, ...] = ()


class Strip(NamedTuple):
    """Pieces sawn from one width of strip or bar [mm]: (name, length, number); run: all with their kerfs [mm]."""

    width: float
    thickness: float
    pieces: tuple[tuple[str, float, int], ...]
    run: float
    nest: Nest | None


@dataclass(frozen=True)
class Blanks:
    """The cut list. assembled: inside sizes before welding [mm] (outside ones of frames and brackets); skim [mm]."""

    advice: Advice
    plan: PartPlan
    pieces: tuple[Piece, ...]
    assembled: tuple[float, ...]
    skim: float
    wish: CutRequest
    shrink: SeamShrinkage | None
    outs: tuple[SizeLoss, ...]
    strips: tuple[Strip, ...]
    area: float
    mass: float | None
    square: tolerances.Square | None
    notes: tuple[str, ...]


def blanks(rulebook: Rulebook, job: Job, plan: PartPlan, wish: CutRequest = CutRequest()) -> Blanks:  # noqa: B008 - a constant
    """The blanks of a part. Raises PrestrikeError for a part that its own walls do not fit, and for stock too short."""
    corner = joint_of(plan, job)
    advice = advise(rulebook, corner)
    thickness = corner.members[0].thickness.value
    material = find_material(corner.members[0].metal, rulebook.index)
    section, _ = bead_section(advice) if advice.status == "advised" else (None, "")
    shrink = seam_shrink(advice, material, section, thickness)
    skim = _skim(advice, wish)
    _skin(wish, thickness)
    faces = wish.skim or 0.0
    outs = _outs(plan, shrink, wish)
    target = tuple(out.size + out.allow for out in outs)
    pieces, assembled = _pieces(plan, target, thickness, faces, Extra(wish.trim, skim, wish.gap))
    area = sum(piece.number * piece.cut[0] * piece.cut[1] for piece in pieces)
    density = material.value("density")
    solid = plan.kind in ("box", "bracket")
    return Blanks(
        advice,
        plan,
        pieces,
        assembled,
        skim,
        wish,
        shrink,
        outs,
        _strips(pieces, wish),
        area,
        area * thickness * density * 1e-6 if density and solid else None,
        tolerances.square(min(plan.sizes)),
        tuple(_notes(advice, plan, thickness, wish, outs)),
    )


def _skim(advice: Advice, wish: CutRequest) -> float:
    """Stock on the free edges [mm]. The outside of a sheet box has none to lose, so only the user may ask for that."""
    if wish.skim is not None:
        return wish.skim
    stock = advice.preparation.get("machining_stock")
    return round(stock.start, 1) if stock else 0.0


def _skin(wish: CutRequest, thickness: float) -> None:
    if wish.skim is not None and wish.skim >= thickness:
        text = f"skimming {wish.skim:g} mm takes a wall of {thickness:g} mm away"
        raise PrestrikeError(Diagnostic("skim", text, subject="skim", help="skim less, or take thicker plate"))


def _outs(plan: PartPlan, shrink: SeamShrinkage | None, wish: CutRequest) -> tuple[SizeLoss, ...]:
    """Each size, the seams it crosses and those beside it."""
    names, seams = _crossed(plan)
    beside = plan.sizes if plan.kind == "box" else (0.0,) * len(plan.sizes)
    return tuple(
        expected(name, size, crossed, along, shrink, wish.shrink)
        for name, size, crossed, along in zip(names, plan.sizes, seams, beside, strict=True)
    )


def _crossed(plan: PartPlan) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """Names of the sizes, and how many seams each crosses."""
    if plan.kind == "box":
        return ("length", "width", "height"), (2, 2, 1 if plan.open_top else 2)
    if plan.kind == "bracket":
        stops = {"base": (0, 1), "upright": (1, 0)}[plan.main.through]
        return ("base", "upright"), stops if plan.main.style in ("closed", "half-open") else (1, 1)
    return ("length", "width", "height")[: len(plan.sizes)], (2,) * len(plan.sizes)


def _pieces(
    plan: PartPlan, target: tuple[float, ...], thickness: float, faces: float, extra: Extra
) -> tuple[tuple[Piece, ...], tuple[float, ...]]:
    """The pieces and the sizes they stand at before welding: inside ones of a box, outside ones else."""
    if plan.kind == "box":
        inside = _inside(plan, target, thickness, faces)
        return box_pieces(inside, thickness, plan.corners, plan.open_top, extra), inside
    if plan.kind == "bracket":
        _room("bracket", min(target), thickness)
        return bracket_pieces((target[0], target[1]), plan.section, thickness, plan.main, extra), target
    _room(plan.kind, min(target), 2 * plan.section)
    return frame_pieces(target, plan.section, plan.main, extra), target


def _inside(plan: PartPlan, target: tuple[float, ...], thickness: float, skim: float) -> tuple[float, float, float]:
    """Inside sizes of a box before welding. Measured outside, its faces are skimmed to size afterwards."""
    length, width, height = target
    if plan.measure == "inside":
        return length, width, height
    both = 2 * (thickness - skim)
    up = both if not plan.open_top else thickness - skim
    for size, walls in ((length, both), (width, both), (height, up)):
        _room("box", size, walls)
    return length - both, width - both, height - up


def _room(kind: str, size: float, walls: float) -> None:
    if size <= walls:
        text = f"a {kind} of {size:.1f} mm has no room: its metal alone takes {walls:.1f} mm of that"
        raise PrestrikeError(Diagnostic("sizes", text, subject=kind, help="check the sizes and the thickness"))


def _strips(pieces: Sequence[Piece], wish: CutRequest) -> tuple[Strip, ...]:
    """Pieces grouped by the width of strip most of them share; each group laid on the stock lengths."""
    groups: dict[tuple[float, float], list[tuple[str, float, int]]] = {}
    left = list(pieces)
    while left:
        width = _shared_width(left)
        mine = [piece for piece in left if width in _widths(piece)]
        for piece in mine:
            across, along = sorted(piece.cut) if _near(min(piece.cut), width) else sorted(piece.cut, reverse=True)
            groups.setdefault((across, piece.thickness), []).append((piece.name, along, piece.number))
        left = [piece for piece in left if piece not in mine]
    return tuple(_strip(width, thick, rows, wish) for (width, thick), rows in groups.items())


def _widths(piece: Piece) -> tuple[float, float]:
    length, width = piece.cut
    return round(length, 2), round(width, 2)


def _near(one: float, other: float) -> bool:
    return abs(one - other) < 0.01


def _shared_width(pieces: Sequence[Piece]) -> float:
    """The width that serves most pieces; of those the narrowest."""
    votes: dict[float, int] = {}
    for piece in pieces:
        for width in set(_widths(piece)):
            votes[width] = votes.get(width, 0) + piece.number
    return min(votes, key=lambda width: (-votes[width], width))


def _strip(width: float, thickness: float, rows: list[tuple[str, float, int]], wish: CutRequest) -> Strip:
    run = sum((length + wish.kerf) * number for _, length, number in rows)
    found = None
    if wish.stocks:
        stocks = [Stock(stock.length - wish.end_trim * MM, stock.count) for stock in wish.stocks]
        found = nest([length * MM for _, length, _ in rows], [number for *_, number in rows], stocks, wish.kerf * MM)
    return Strip(width, thickness, tuple(rows), run, found)


def _notes(advice: Advice, plan: PartPlan, thickness: float, wish: CutRequest, outs: Sequence[SizeLoss]) -> list[str]:
    found = []
    if wish.skim and plan.kind == "box":
        found.append(
            f"skimmed by {wish.skim:g} mm outside, the wall ends at {thickness - wish.skim:.1f} mm: take thicker sheet "
            f"if it must keep {thickness:.1f}"
        )
    if wish.trim:
        found.append(f"edges that run through stand {wish.trim:g} mm proud: trim them flush after welding")
    advised = advice.preparation.get("root_gap")
    if not wish.gap and advised is not None and advised.start > 0.05:
        found.append(
            f"the pieces are cut to touch, while a root gap of {advised.low:.1f} to {advised.high:.1f} mm is advised: "
            "give it as --gap and the butting ends come out shorter"
        )
    if any(corner.style == "mitre" for corner in plan.corners.values()):
        found.append("mitres are measured to the long point; the bevel takes none of the length away")
    if wish.chamfer is not None:
        found.append(_chamfer(plan.main.style, thickness, wish.chamfer))
    if wish.bore is not None:
        found.append(_bore(advice, wish.bore, outs))
    return found


def _chamfer(style: str, thickness: float, chamfer: float) -> str:
    """How much weld a chamfer of the outer corner leaves over the root."""
    share = {"open": 2.0, "half-open": 1.5}.get(style)
    if share is not None:
        left = (share * thickness - chamfer) / math.sqrt(2)
        return (
            f"a chamfer of {chamfer:g} mm leaves {left:.1f} mm of weld over the root of a full corner"
            if left > 0
            else f"a chamfer of {chamfer:g} mm cuts through the root of the corner: make it smaller"
        )
    if style == "mitre":
        return f"a chamfer of {chamfer:g} mm takes the outer {chamfer / math.sqrt(2):.1f} mm of the mitre's seam away"
    if chamfer < thickness:
        return (
            f"a chamfer of {chamfer:g} mm ends {thickness - chamfer:.1f} mm short of the joint line and spares the seam"
        )
    return f"a chamfer of {chamfer:g} mm reaches the joint line, {thickness:g} mm from the corner: make it smaller"


def _bore(advice: Advice, bore: float, outs: Sequence[SizeLoss]) -> str:
    stock = advice.preparation.get("machining_stock")
    clearance = advice.preparation.get("bore_clearance")
    most = stock.high if stock else STOCK_HABIT[1]
    moved = max(out.shrinks[1] for out in outs) / 2
    rough = bore - 2 * (most + moved)
    away = clearance.start if clearance else CLEARANCE_HABIT
    if rough <= 0:
        return f"a bore of {bore:g} mm is made whole after welding; keep its edge {away:.0f} mm from any seam"
    return (
        f"a bore of {bore:g} mm: before welding no larger than {rough:.1f} mm ({most:g} mm of stock and {moved:.1f} mm "
        f"for where it may move, all round); finish it after, its edge {away:.0f} mm from any seam"
    )
