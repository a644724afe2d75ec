"""Which drawings a sheet carries, made from the answer: every measure comes from the answer, none is made up here."""

from __future__ import annotations

from advisor.answer.answer import Advice
from advisor.heat.answer import HeatAnswer
from advisor.show.drawing import Drawing
from advisor.show.drawing_joints import Edges, JointSection, section
from advisor.show.drawing_seam import Stretch, part_drawing, seam_drawing
from advisor.show.drawing_torch import Aim, Torch, aim_drawing, side_drawing
from advisor.show.wording import JOINT_NAMES
from advisor.units.quantities import UnitTable, in_both_systems

_IN_WORDS = {"root_gap": "gap ", "fillet_leg": "leg ", "root_face": "face ", "overlap": "overlap ", "edge_break": "",
             "tungsten_stickout": "stick-out ", "arc_length": "arc "}  # fmt: skip
_POINT = 40.0
_TORCH = ("tungsten_diameter", "nozzle_bore", "tungsten_stickout", "arc_length", "torch_tilt")


def drawings(answer: HeatAnswer, units: UnitTable) -> list[Drawing]:
    """The joint as prepared, the torch over it, the torch from the side, the tacks, and the part where there is one."""
    advice = answer.advice
    if advice.status != "advised":
        return []
    size = _SizeText(advice, units)
    edges = _edges(advice, size)
    joint = section(edges)
    found = [_prepared(advice, edges, joint)]
    torch = _torch(advice, size)
    if torch is not None:
        found.append(aim_drawing(joint, torch, _aim(advice, size), "aim"))
        thick = max(member.thickness.value for member in advice.job.members)
        found.append(side_drawing(torch, thick, "side"))
    seam = _seam(answer, size)
    if seam is not None:
        found.append(seam_drawing(seam, "seam"))
    if answer.part is not None and advice.job.part is not None:
        box = advice.job.part
        names = [item.seam for item in answer.part.seams]
        found.append(part_drawing((box.length, box.width, box.height), names, "part"))
    return found


class _SizeText:
    """Numbers in words, the user's own system first."""

    def __init__(self, advice: Advice, units: UnitTable) -> None:
        self.inch_first = advice.job.inch_first
        self.units = units

    def words(self, value: float, dimension: str = "length") -> str:
        return in_both_systems(value, dimension, inch_first=self.inch_first, table=self.units)

    def first(self, value: float, dimension: str = "length") -> str:
        """Without the second system, for the room inside a drawing."""
        return self.words(value, dimension).split(" (")[0]


def _edges(advice: Advice, size: _SizeText) -> Edges:
    job, numbers = advice.job, advice.preparation
    first, second = job.members[0].thickness.value, job.members[-1].thickness.value
    text = {"thickness_1": size.first(first), "thickness_2": size.first(second)}
    if job.joint == "corner-half-open":
        text["cover"] = f"cover {size.first(second / 2)}"
    for name in ("root_gap", "root_face", "groove_angle", "edge_break", "fillet_leg", "overlap"):
        if name in numbers:
            text[name] = _IN_WORDS.get(name, "") + size.first(numbers[name].start, numbers[name].dimension)

    def value(name: str) -> float | None:
        return numbers[name].start if name in numbers else None

    return Edges(
        joint=job.joint,
        thickness=(first, second),
        gap=value("root_gap"),
        root_face=value("root_face"),
        angle=value("groove_angle"),
        edge_break=value("edge_break"),
        leg=value("fillet_leg") if job.weld == "fillet" else None,
        overlap=value("overlap"),
        groove=_groove(advice),
        text=text,
    )


def _groove(advice: Advice) -> str:
    return next((item.name for item in advice.preparation_choices.get("groove", []) if item.rank == 1), "")


def _prepared(advice: Advice, edges: Edges, joint: JointSection) -> Drawing:
    words = f"Section of the {JOINT_NAMES[edges.joint]} before welding: {edges.groove or 'edges as cut'}."
    if edges.leg and any(shape.kind == "weld" for shape in joint.shapes):
        words += " Dashed: the fillet to come."
    if "bevel" in edges.groove and edges.angle is None:
        words += " The bevel is not drawn, because no rule gives its angle."
    title = "Edges and joint, as prepared"
    return Drawing("edges", title, words, joint.shapes, joint.dimensions, joint.angles, joint.notes)


def _torch(advice: Advice, size: _SizeText) -> Torch | None:
    found = advice.settings
    if any(name not in found for name in _TORCH):
        return None
    text = {name: _IN_WORDS.get(name, "") + size.first(found[name].start, found[name].dimension) for name in _TORCH}
    tip, rod = found.get("tungsten_tip_angle"), found.get("filler_diameter")
    rounded = any(item.name == "AC" and item.rank == 1 for item in advice.choices.get("polarity", []))
    tungsten, bore, stickout, arc, tilt = (found[name].start for name in _TORCH)
    return Torch(
        tungsten,
        bore,
        stickout,
        arc,
        tilt,
        # On AC the end rounds itself; on DC it is ground to a point, here drawn without a rule where none gives it.
        tip=tip.start if tip else None if rounded else _POINT,
        for_show=tip is None and not rounded,
        rod=rod.start if rod else None,
        text=text,
    )


def _aim(advice: Advice, size: _SizeText) -> Aim | None:
    if advice.unequal is None or "offset_mm" not in advice.unequal.detail:
        return None
    if advice.unequal.aimed == "seam":
        return None
    offset = float(advice.unequal.detail["offset_mm"])
    index = -1 if offset >= 0 else 0
    return Aim(offset, size.first(abs(offset)), advice.materials[index])


def _seam(answer: HeatAnswer, size: _SizeText) -> Stretch | None:
    numbers, plan = answer.advice.preparation, answer.tacks
    if plan is not None and answer.advice.job.length is not None:
        length = answer.advice.job.length.value
        tacks = [(tack.place, tack.turn) for tack in plan.tacks]
        text = {"tack_length": f"tack {size.first(plan.size)}", "length": f"seam {size.first(length)}"}
        if len(tacks) > 1:
            text["tack_space"] = size.first(tacks[1][0] - tacks[0][0])
        lengths = [(item.begins, item.ends, item.turn) for item in answer.lengths]
        return Stretch(length, plan.size, tacks, lengths, True, text)
    if "tack_length" not in numbers or "tack_pitch" not in numbers:
        return None
    tack, pitch = numbers["tack_length"].start, numbers["tack_pitch"].start
    length = pitch * 1.5 + tack
    places = [((length - pitch) / 2, 1), ((length + pitch) / 2, 2)]
    text = {"tack_length": f"tack {size.first(tack)}", "tack_space": size.first(pitch)}
    return Stretch(length, tack, places, (), False, text)
