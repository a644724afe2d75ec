"""What a sheet says, as plain data for its templates: nothing is decided here, only put in order and in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from advisor.answer.answer import Advice, Instruction, Setting
from advisor.heat.answer import HeatAnswer
from advisor.job.job import Job
from advisor.job.words import TORCH
from advisor.sheet.current_curve import CurrentCurve
from advisor.sheet.drawings import drawings
from advisor.sheet.sources import MARKS_KEY, STEPS, Sources, origins, other_rules, rule_sets
from advisor.show import wording
from advisor.show.drawing import svg
from advisor.units.quantities import UnitTable, in_both_systems

LONGEST_NAME = 160
# What is set at machine and torch, large; then what is measured once and looked up.
_LARGE = ("tungsten_diameter", "filler_diameter", "nozzle_bore", "gas_flow", "ac_balance", "postflow")
_LARGE_WIRE = ("wire_diameter", "wire_feed_speed", "arc_voltage", "gas_flow")
_LARGE_TORCH = ("brazing_margin", "filler_diameter", "lens_shade")
_LARGE_BY_PROCESS = {
    "131": _LARGE_WIRE,
    "135": _LARGE_WIRE,
    "111": ("electrode_diameter", "arc_length"),
    "912": _LARGE_TORCH,
    "942": _LARGE_TORCH,
}
_EDGE_FIRST = ("groove", "backing", "cut_method")
_MARKS = {"danger": "DANGER", "warning": "Warning", "note": "Note"}


def sheet_data(
    answer: HeatAnswer, units: UnitTable, curves: Sequence[CurrentCurve], today: date, plots: bool, uses: str = ""
) -> dict[str, Any]:
    """The whole sheet as data. plots: whether curves can be drawn; uses: what the job uses up, in a sentence."""
    advice = answer.advice
    sources = Sources()
    for curve in curves:
        for line in curve.sources:
            sources.number(line.source)
    return {
        **_top(advice, units),
        **_settings(advice, units),
        **_work(advice, units),
        "drawings": [
            {"title": drawing.title, "words": drawing.caption or drawing.alt, "svg": svg(drawing), "name": drawing.name}
            for drawing in drawings(answer, units)
        ],
        "curves": _curves(answer, curves, sources) if plots else [],
        "no_plots": bool(curves) and not plots,
        "seams": _seams(answer, units),
        "uses": uses,
        "marks_key": MARKS_KEY,
        "origins": origins(advice, sources),
        "others": other_rules(advice),
        "sources": sources.listed(),
        "rulesets": rule_sets(advice),
        "hash": advice.content_hash,
        "date": today.isoformat(),
        "log": _LOGS.get(advice.job.process, _LOG),
    }


def _top(advice: Advice, units: UnitTable) -> dict[str, Any]:
    """What stands above all: the job, a stop, a refusal, what no rule covers."""
    return {
        "title": _shortened(advice.job.name) or "Bench sheet",
        "head": _head(advice, units),
        "status": advice.status,
        "stop": wording.stop_text(advice.job.restricted) if advice.practice_only else "",
        "refusals": [
            {"reason": item.reason, "instead": item.instead, "from": f"{item.rule_id}; {item.source}"}
            for item in advice.refusals
        ],
        "no_rule": [item.message for item in advice.no_rule],
        "notes": [*advice.notes, *_left_out(advice)],
    }


def _settings(advice: Advice, units: UnitTable) -> dict[str, Any]:
    """What is dialled in, and the numbers of the edge."""
    found = advice.settings
    large = _LARGE_BY_PROCESS.get(advice.job.process, _LARGE)
    main = _main(advice)
    edge_names = [(name, _CHOICE_NAMES[name]) for name in _EDGE_FIRST]
    return {
        "current": _number(found[main], advice, units) if main else None,
        "choices": _choices(wording.CHOICE_NAMES, advice.choices, advice.job),
        "large": [_number(found[name], advice, units) for name in large if name in found],
        "small": [_number(item, advice, units) for name, item in found.items() if name not in (*large, main)],
        "spread": _spread(advice),
        "said": _said(advice),
        "aim": advice.unequal.message if advice.unequal else "",
        "machine": _machine(advice),
        "edge": [_number(setting, advice, units) for setting in advice.preparation.values()],
        "edge_choices": _choices(edge_names, advice.preparation_choices, advice.job),
    }


def _main(advice: Advice) -> str:
    """The setting that stands first and largest: the current of an arc, the heat a filler is worked at with a flame."""
    if advice.status != "advised":
        return ""
    return next((name for name in ("current", "working_temperature", "filler_liquidus") if name in advice.settings), "")


def _work(advice: Advice, units: UnitTable) -> dict[str, Any]:
    """What is done and ticked, what can hurt, and whose rules apply."""
    return {
        "steps": [
            {"title": _title(title, advice), "items": [_step(step, units) for step in advice.steps[topic]]}
            for topic, title in STEPS
            if topic != "coupon_step" and advice.steps.get(topic)
        ],
        "coupon": [_step(step, units) for step in advice.steps.get("coupon_step", ())],
        "cautions": [
            {
                "mark": _MARKS.get(item.level, item.level),
                "level": item.level,
                "hazard": item.hazard.rstrip("."),
                "do": item.do.rstrip("."),
            }
            for item in advice.cautions
        ],
        "codes": [
            {"code": item.code, "about": item.about.rstrip("."), "defer": item.defer_to.rstrip(".")}
            for item in advice.codes
        ],
    }


def _title(title: str, advice: Advice) -> str:
    """What a flame has instead of an arc, and of tacks."""
    if advice.job.process not in TORCH:
        return title
    return title.replace("arc", "flame").replace("the weld", "the flame").replace("Hold and tack", "Hold")


_CHOICE_NAMES = {"groove": "Preparation", "backing": "Backing", "cut_method": "Cut by"}
_LOG = ("Date", "Current", "Balance", "Rod", "Gas, cup", "Travel", "What was seen", "Change next")
_LOG_WIRE = ("Date", "Wire feed", "Volts", "Wire", "Gas", "Travel", "What was seen", "Change next")
_LOG_STICK = ("Date", "Current", "Polarity", "Electrode", "From oven", "Travel", "What was seen", "Change next")
_LOG_TORCH = ("Date", "Filler", "Flux", "Flame", "Gap", "Overlap", "What was seen", "Change next")
_LOGS = {"131": _LOG_WIRE, "135": _LOG_WIRE, "111": _LOG_STICK, "912": _LOG_TORCH, "942": _LOG_TORCH}


def _shortened(name: str) -> str:
    """A name as it was given, in one line; a name longer than a line or two says how long it was."""
    line = " ".join(name.split())
    if len(line) <= LONGEST_NAME:
        return line
    return f"{line[:LONGEST_NAME]} ... ({len(name)} characters)"


def _head(advice: Advice, units: UnitTable) -> dict[str, Any]:
    job = advice.job
    members = [
        {
            "metal": _shortened(material),
            "thickness": in_both_systems(member.thickness.value, "length", inch_first=job.inch_first, table=units),
            "more": ", ".join(word for word in (member.form, *member.surface) if word),
        }
        for material, member in zip(advice.materials, job.members, strict=True)
    ]
    return {
        "process": wording.PROCESS_NAMES[job.process],
        "joint": wording.JOINT_NAMES[job.joint],
        "weld": f"{job.weld} weld",
        "position": wording.POSITION_NAMES[job.position],
        "service": ", ".join(job.service),
        "machine": _shortened(job.machine.name) if job.machine and job.machine.name else "",
        "members": members,
    }


def _left_out(advice: Advice) -> list[str]:
    return [
        *(wording.left_out_text(item) for item in advice.left_out),
        *(f"rule {item['id']} replaced by {item['by']} ({item['in']}): {item['reason']}" for item in advice.replaced),
    ]


def _number(setting: Setting, advice: Advice, units: UnitTable) -> dict[str, Any]:
    first = advice.job.inch_first
    known = wording.known_mark(setting.counts)
    start, _, other = wording.start_text(setting, first, units).partition(" (")
    return {
        "name": setting.name,
        "label": setting.label,
        "start": start + wording.also(setting),
        "other": f"({other}" if other else "",
        "range": wording.range_text(setting, first, units),
        "known": known + ("" if setting.layer == "built-in" else f" [{setting.layer} rule]"),
        "note": setting.note,
    }


def _choices(names: Iterable[tuple[str, str]], found: dict[str, Any], job: Job) -> list[dict[str, str]]:
    rows = []
    for name, label in names:
        ranked = [option.name for option in found.get(name, []) if option.rank][:3]
        have = wording.wanted(job, name)
        if have and found.get(name):
            ranked = [have, *(option for option in ranked if option != have)]
        if ranked:
            rows.append({"name": name, "label": label, "first": ranked[0], "else": "; or ".join(ranked[1:])})
    return rows


def _spread(advice: Advice) -> str:
    current = advice.settings.get("current")
    if current is None or (current.spread_low >= current.low * 0.98 and current.spread_high <= current.high * 1.02):
        return ""
    return f"published {current.spread_low:.0f} to {current.spread_high:.0f} A"


def _said(advice: Advice) -> list[dict[str, str]]:
    current = advice.settings.get("current")
    if current is None:
        return []
    return [
        {
            "source": said.source,
            "span": f"{said.low:.0f} to {said.high:.0f} A" if said.high - said.low >= 1 else f"{said.low:.0f} A",
            "member": said.member,
            "known": wording.known_short(said.evidence),
        }
        for said in current.said
    ]


def _machine(advice: Advice) -> list[str]:
    found = advice.machine
    if found is None:
        return []
    words = [found.message]
    if found.arc_minutes is not None and found.duty_percent is not None:
        words.append(f"Duty there: {found.duty_percent:.0f} %, so {found.arc_minutes:.1f} minutes of arc in any ten.")
    return words + [step.do for step in found.steps]


def _curves(answer: HeatAnswer, curves: Sequence[CurrentCurve], sources: Sources) -> list[dict[str, Any]]:
    from advisor.sheet.curves import current_curve, part_curve

    found: list[dict[str, Any]] = []
    for number, curve in enumerate(curves, 1):
        title = f"Published current against thickness, {curve.metal}"
        numbers = [sources.number(line.source) for line in curve.sources]
        named = [
            {"number": mark, "source": line.source, "known": wording.known_short(line.evidence)}
            for mark, line in zip(numbers, curve.sources, strict=True)
        ]
        drawn = current_curve(curve, numbers, answer.advice, f"curve-{number}")
        words = "Each source by its number; grey band: the settled working range."
        if curve.trials:
            words += " Own trials: filled good, open usable, cross bad."
        found.append({"title": title, "svg": drawn, "sources": named, "words": words})
    if answer.part is not None:
        title = "Temperature of the part against time, computed"
        found.append({"title": title, "svg": part_curve(answer.part, "warm"), "sources": [], "words": ""})
    return found


def _seams(answer: HeatAnswer, units: UnitTable) -> list[dict[str, str]]:
    if answer.part is None:
        return []
    return [
        {
            "turn": str(turn),
            "seam": seam.seam,
            "current": " / ".join(f"{amps:.0f}" for amps in seam.currents) + " A",
            "wait": in_both_systems(seam.waited, "time", table=units) if seam.waited else "-",
            "metal": in_both_systems(seam.metal_before, "temperature", table=units),
            "why": seam.why,
        }
        for turn, seam in enumerate(answer.part.seams, 1)
    ]


def _step(step: Instruction, units: UnitTable) -> dict[str, str]:
    return {
        "do": step.do.rstrip(".") + (f", with {step.using}" if step.using else "") + ".",
        "never": f"Never {step.never.removeprefix('never ').rstrip('.')}." if step.never else "",
        "judge": f"Good when: {step.judge.rstrip('.')}." if step.judge else "",
        "lasts": f"Good for {in_both_systems(step.lasts, 'time', table=units)}." if step.lasts is not None else "",
        "rule": step.rule_id,
    }
