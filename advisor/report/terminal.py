"""The answer on a terminal 80 columns wide. Plain text: no colour carries meaning, so pipes lose nothing."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from advisor.advice.answer import Advice, Caution, Code, Instruction, Refusal, Setting
from advisor.quantities import UnitTable, in_both_systems
from advisor.report import wording

WIDTH = 80
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
        from advisor.report.torch_report import torch_lines

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


def wrap(text: str, indent: str = "", first: str | None = None) -> list[str]:
    """Text folded to the width; `first` starts the first line."""
    return textwrap.wrap(text, WIDTH, initial_indent=indent if first is None else first, subsequent_indent=indent) or [
        indent
    ]


def head(advice: Advice, units: UnitTable) -> list[str]:
    job = advice.job
    parts = [
        f"{material} {in_both_systems(member.thickness.value, 'length', inch_first=job.inch_first, table=units)}"
        for material, member in zip(advice.materials, job.members, strict=True)
    ]
    lines = [job.name[:WIDTH]] if job.name else []
    weld = f", {job.weld} weld"
    lines += wrap(
        f"{wording.PROCESS_NAMES[job.process]}, {wording.JOINT_NAMES[job.joint]}{weld}, "
        f"{wording.POSITION_NAMES[job.position]}: {' to '.join(parts)}"
    )
    for note in advice.notes:
        lines += wrap(note, "  ", "  - ")
    return lines


def restricted(advice: Advice) -> list[str]:
    return stop_lines(advice.job.restricted)


def stop_lines(services: Sequence[str], **words: str) -> list[str]:
    """The stop at the head of restricted work; nothing for other work. words: see `wording.stop_text`."""
    text = wording.stop_text(services, **words)
    return ["", "=" * WIDTH, *wrap(text), "=" * WIDTH] if text else []


def refused(advice: Advice) -> list[str]:
    return refusal_lines(advice.refusals)


def refusal_lines(refusals: Sequence[Refusal], title: str = "NOT ADVISED") -> list[str]:
    return ["", title, *(line for refusal in refusals for line in refusal_text(refusal))]


def refusal_text(refusal: Refusal, indent: str = "  ") -> list[str]:
    """Why not, what to do instead, and who says so."""
    known = wording.known_short(refusal.evidence)
    return [
        *wrap(refusal.reason, indent),
        *wrap(f"Instead: {refusal.instead}", indent),
        *wrap(f"[{refusal.rule_id}; {refusal.source}; {known}]", indent),
    ]


def no_rule(advice: Advice) -> list[str]:
    lines = ["", "NO RULE COVERS THIS"]
    for item in advice.no_rule:
        lines += wrap(item.message, "  ")
    lines += wrap("Nothing is guessed beyond the tables. Ask a welding engineer or a published procedure.", "  ")
    return lines


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


def rows(named: Sequence[tuple[str, str]], found: Mapping[str, Setting], advice: Advice, units: UnitTable) -> list[str]:
    """A row for each setting there is, in the order named. named: (topic, label)."""
    shown = [(found[name], label) for name, label in named if name in found]
    return [line for setting, label in shown for line in row(setting, label, advice.job.inch_first, units)]


def row(setting: Setting, label: str, inch_first: bool, units: UnitTable) -> list[str]:
    """Label, start, range, how known: each column as wide as it must be, a second line where it does not fit."""
    start = wording.start_text(setting, inch_first, units) + wording.also(setting)
    span = wording.range_text(setting, inch_first, units)
    known = wording.known_mark(setting.counts) + wording.layer_mark(setting.layer)
    line = f"{label:<18}{start:<21}{span:<26}{known}"
    if len(start) <= 20 and len(span) <= 25 and len(line) <= WIDTH:
        return [line]
    first = f"{label:<18}{start:<21}{span}" if len(start) <= 20 else f"{label:<18}{start}"
    second = "" if len(start) <= 20 else f"{'':<39}{span}"
    tail = f"{known:>{WIDTH - 65}}" if len(known) > 15 else known
    lines = [first, second] if second else [first]
    if second and len(second) < 65:
        lines[-1] = f"{second:<65}{known}"
    else:
        lines.append(f"{'':<65}{tail}" if len(known) <= 15 else f"{known:>{WIDTH}}")
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


def steps(title: str, steps: Sequence[Instruction], units: UnitTable) -> list[str]:
    if not steps:
        return []
    lines = ["", title]
    for number, step in enumerate(steps, 1):
        lines += step_lines(step, units, f"{number}.")
    return lines


def step_lines(step: Instruction, units: UnitTable, mark: str) -> list[str]:
    text = step.do.rstrip(".") + (f", with {step.using}" if step.using else "") + "."
    if step.never:
        text += f" Never {step.never.removeprefix('never ').rstrip('.')}."
    if step.judge:
        text += f" Good when: {step.judge.rstrip('.')}."
    if step.lasts is not None:
        text += f" Good for {in_both_systems(step.lasts, 'time', table=units)}."
    return wrap(text + wording.layer_mark(step.layer), "    ", f"{mark:<4}")


def cautions(advice: Advice) -> list[str]:
    return caution_lines(advice.cautions)


def caution_lines(found: Sequence[Caution], title: str = "CAUTIONS") -> list[str]:
    """Every caution, gravest first; they cannot be switched off."""
    return ["", title, *(line for caution in found for line in caution_text(caution))]


def caution_text(caution: Caution) -> list[str]:
    """The hazard and what to do about it, with the mark of its level. No report prints the one without the other."""
    text = f"{caution.hazard.rstrip('.')}: {caution.do.rstrip('.')}."
    return wrap(text + wording.layer_mark(caution.layer), "    ", "!!  " if caution.level == "danger" else "!   ")


def codes(advice: Advice) -> list[str]:
    return code_lines(advice.codes)


def code_lines(found: Sequence[Code]) -> list[str]:
    """The codes the work belongs to."""
    lines = ["", "CODES AND LICENSED PRACTICE COME BEFORE THIS ADVICE"]
    for code in found:
        text = f"{code.code}: {code.about.rstrip('.')}. Defer to {code.defer_to.rstrip('.')}."
        lines += wrap(text + wording.layer_mark(code.layer), "    ", "    ")
    if not found:
        text = "None is named for this work here; where a machine or a person depends on it, ask for it."
        lines += wrap(text, "    ")
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
