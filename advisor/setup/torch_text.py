"""What a flame job is answered with on a terminal: filler and its room, flux, flame, gap, steps before and after."""

from __future__ import annotations

from advisor.answer.answer import Advice, Option
from advisor.show import wording
from advisor.show.lines import rows, step_lines, steps, wrap
from advisor.units.quantities import UnitTable

_WORKED = (
    ("brazing_margin", "Room to melting"),
    ("filler_solidus", "Solid below"),
    ("filler_liquidus", "All liquid at"),
    ("working_temperature", "Worked at"),
    ("filler_diameter", "Filler rod"),
    ("lens_shade", "Lens shade"),
)
_EDGE = (
    ("joint_gap", "Gap at heat"),
    ("overlap", "Overlap"),
    ("clean_width", "Clean each side"),
    ("machining_stock", "Machining stock"),
)


def torch_lines(advice: Advice, units: UnitTable, brief: bool, prep_only: bool) -> list[str]:
    """The body of the answer; cautions and codes follow it as with every process."""
    lines: list[str] = []
    if not prep_only:
        lines += _fire(advice, units)
    if brief:
        return lines
    lines += _joint(advice, units)
    lines += steps("CLEAN AND FLUX, in this order", advice.steps["cleaning_step"], units)
    lines += steps("HOLD", advice.steps["holding_step"], units)
    if not prep_only:
        lines += steps("AT THE FLAME", advice.steps["technique_step"], units)
        lines += steps("FIRST, A COUPON", advice.steps["coupon_step"], units)
        lines += steps("AFTER THE FLAME", advice.steps["after_step"], units)
    return lines


def _fire(advice: Advice, units: UnitTable) -> list[str]:
    title = "WORK WITH, FOR A PRACTICE COUPON" if advice.practice_only else "WORK WITH"
    lines = ["", f"{title:<18}{'start':<21}{'range':<26}how known" if len(title) < 18 else title]
    for topic, label in (("filler", "Filler"), ("flux", "Flux"), ("flame", "Flame")):
        options = advice.choices.get(topic, [])
        if options:
            lines += wrap(wording.first_options(options), " " * 18, f"{label:<18}")
        if topic == "filler":
            lines += _why_filler(advice, options)
    lines += rows(_WORKED, advice.settings, advice, units)
    return lines


def _why_filler(advice: Advice, options: list[Option]) -> list[str]:
    """What the first filler is, and which were struck out for want of room."""
    lines: list[str] = []
    for option in options:
        if option.rank == 1 and option.reasons:
            lines += wrap(option.reasons[0].because, "    ", "    ")
    struck = [option.name for option in options if any(item.rule_id == "brazing_margin" for item in option.reasons)]
    if struck:
        lines += wrap(f"Struck out for want of room: {', '.join(struck)} (prestrike why filler).", "    ", "    ")
    return lines


def _joint(advice: Advice, units: UnitTable) -> list[str]:
    lines = ["", "EDGE AND JOINT"]
    lines += rows(_EDGE, advice.preparation, advice, units)
    for step in advice.steps["edge_step"]:
        lines += step_lines(step, units, "-")
    return lines
