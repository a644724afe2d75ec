"""The answer on a terminal 80 columns wide. Plain text: no colour carries meaning, so pipes lose nothing."""

from __future__ import annotations

from advisor.answer.answer import Advice
from advisor.show import wording
from advisor.show.lines import (
    cautions,
    codes,
    head,
    no_rule,
    refused,
    restricted,
    rows,
    step_lines,
    steps,
    wrap,
)
from advisor.units.quantities import UnitTable

# Short names keep a line inside 80 columns; the full labels stand in `why` and in JSON.
_DIAL = (
    ("electrode_diameter", "Electrode, core"),
    ("wire_diameter", "Wire"),
    ("wire_feed_speed", "Wire feed"),
    ("current", "Current"),
    ("ac_balance", "AC balance, EN"),
    ("ac_frequency", "AC frequency"),
    ("arc_voltage", "Arc voltage"),
    ("tungsten_diameter", "Tungsten"),
    ("tungsten_tip_angle", "  tip angle"),
    ("tungsten_tip_flat", "  tip flat"),
    ("tungsten_stickout", "  stick-out"),
    ("filler_diameter", "Filler rod"),
    ("nozzle_bore", "Nozzle bore"),
    ("gas_flow", "Gas flow"),
    ("preflow", "Pre-flow"),
    ("postflow", "Post-flow"),
    ("downslope", "Down-slope"),
    ("travel_speed", "Travel"),
    ("passes", "Passes"),
    ("arc_length", "Arc length"),
    ("contact_distance", "Tip to work"),
    ("gas_nozzle", "Gas nozzle bore"),
    ("torch_tilt", "Torch tilt"),
    ("electrode_lean", "Electrode lean"),
    ("holding_oven", "Holding oven"),
    ("out_of_oven", "Out of it, most"),
    ("lens_shade", "Lens shade"),
)
_EDGE = (
    ("groove_angle", "Included angle"),
    ("root_face", "Root face"),
    ("root_gap", "Root gap"),
    ("edge_break", "Edge break"),
    ("fillet_leg", "Fillet leg"),
    ("overlap", "Overlap, least"),
    ("clean_width", "Clean each side"),
    ("clean_lasts", "Clean for"),
    ("tack_length", "Tack length"),
    ("tack_pitch", "Tack pitch"),
    ("preheat_wanted", "Preheat wanted"),
    ("preheat", "Preheat, most"),
    ("interpass", "Interpass, most"),
    ("machining_stock", "Machining stock"),
    ("bore_clearance", "Bores off by"),
)
_BRIEF = (
    "electrode_diameter",
    "wire_diameter",
    "wire_feed_speed",
    "current",
    "ac_balance",
    "tungsten_diameter",
    "filler_diameter",
    "nozzle_bore",
    "gas_flow",
    "postflow",
)


def render(advice: Advice, units: UnitTable, *, brief: bool = False, prep_only: bool = False) -> str:
    """The answer as text. brief: settings, aim and cautions only; prep_only: edge, cleaning and holding only."""
    lines = [*head(advice, units), *restricted(advice)]
    if advice.status == "refused":
        lines += refused(advice)
    elif advice.status == "no-rule":
        lines += no_rule(advice)
    else:
        lines += _advised(advice, units, brief, prep_only)
    lines += cautions(advice) + codes(advice) + _foot(advice)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _advised(advice: Advice, units: UnitTable, brief: bool, prep_only: bool) -> list[str]:
    if "brazing_margin" in advice.settings:
        from advisor.setup.torch_text import torch_lines

        return torch_lines(advice, units, brief, prep_only)
    lines: list[str] = []
    if not prep_only:
        lines += _dial(advice, units, brief) + _aim(advice) + _machine(advice)
    lines += _seam(advice)
    if brief:
        return lines
    lines += _edge(advice, units)
    lines += steps("CLEAN, in this order", advice.steps["cleaning_step"], units)
    lines += steps("HOLD AND TACK", advice.steps["holding_step"], units)
    if not prep_only:
        lines += steps("AT THE PANEL, the first time", advice.steps["panel_step"], units)
        lines += steps("AT THE ARC", advice.steps["technique_step"], units)
        lines += steps("FIRST, A COUPON", advice.steps["coupon_step"], units)
        lines += steps("AFTER THE WELD", advice.steps["after_step"], units)
    return lines + steps("WHICH ALLOY IS IT?", advice.steps["identify_step"], units)


def _dial(advice: Advice, units: UnitTable, brief: bool) -> list[str]:
    title = "DIAL IN, FOR A PRACTICE COUPON" if advice.practice_only else "DIAL IN"
    lines = ["", f"{title:<18}{'start':<21}{'range':<26}how known" if len(title) < 18 else title]
    for topic, label in wording.CHOICE_NAMES:
        options = advice.choices.get(topic, [])
        if options:
            text = wording.first_options(options, have=wording.wanted(advice.job, topic))
            lines += wrap(text, " " * 18, f"{label:<18}")
    lines += rows([item for item in _DIAL if not brief or item[0] in _BRIEF], advice.settings, advice, units)
    current = advice.settings["current"]
    if current.spread_low < current.low * 0.98 or current.spread_high > current.high * 1.02:
        text = (
            f"published {current.spread_low:.0f} to {current.spread_high:.0f} A; who says what: prestrike why current"
        )
        lines += wrap(text, "  ", "  ")
    return lines


def _aim(advice: Advice) -> list[str]:
    lines = []
    if advice.unequal is not None:
        lines += ["", *wrap(advice.unequal.message, "", "AIM   ")]
    if advice.warm is not None:
        lines += wrap(advice.warm.message, "", "HEAT  ")
    return lines


def _seam(advice: Advice) -> list[str]:
    return ["", *wrap(advice.seam.message, "", "SEAM  ")] if advice.seam is not None else []


def _machine(advice: Advice) -> list[str]:
    found = advice.machine
    if found is None:
        return []
    lines = ["", *wrap(found.message, "", "MACHINE   ")]
    if found.arc_minutes is not None and found.duty_percent is not None:
        lines += wrap(
            f"Duty there: {found.duty_percent:.0f} %, so {found.arc_minutes:.1f} minutes of arc in any ten.", "  "
        )
    for step in found.steps:
        lines += wrap(step.do, "    ", "  - ")
    return lines


def _edge(advice: Advice, units: UnitTable) -> list[str]:
    lines = ["", "EDGE AND JOINT"]
    for topic, label in (("groove", "Preparation"), ("backing", "Backing"), ("cut_method", "Cut by")):
        options = advice.preparation_choices.get(topic, [])
        if options:
            lines += wrap(wording.first_options(options), " " * 18, f"{label:<18}")
    lines += rows(_EDGE, advice.preparation, advice, units)
    for step in advice.steps["edge_step"]:
        lines += step_lines(step, units, "-")
    return lines


def _foot(advice: Advice) -> list[str]:
    lines = [""]
    for item in advice.left_out:
        lines += wrap(wording.left_out_text(item), "  ")
    for item in advice.replaced:
        lines += wrap(f"rule {item['id']} replaced by {item['by']} ({item['in']}): {item['reason']}", "  ")
    lines += wrap(wording.EVIDENCE_KEY) if advice.status == "advised" else []
    lines.append(f"rules {advice.content_hash[:12]}; start values for practice, not a qualified procedure")
    return lines
