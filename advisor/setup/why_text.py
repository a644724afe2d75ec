"""The trail of one quantity as text and JSON."""

from __future__ import annotations

import textwrap
from typing import Any

from advisor.answer.answer import Setting, Step
from advisor.setup.as_json import number, option_json, setting_json
from advisor.setup.why import Why
from advisor.show.rule_lines import rule_json
from advisor.show.wording import known_from, known_short, layer_mark, start_text
from advisor.units.quantities import UnitTable, range_in_both_systems

WIDTH = 80


def why_json(why: Why) -> dict[str, Any]:
    """The trail as JSON data."""
    return {
        "status": why.advice.status,
        "topic": why.topic,
        "setting": setting_json(why.setting) if why.setting else None,
        "options": [option_json(option) for option in why.options],
        "spoke": [rule_json(rule) for rule in why.spoke],
        "nearly": [
            {"rule": miss.rule.id, "failed": miss.failed, "source": miss.rule.sources[0].label()} for miss in why.near
        ],
        "ruleset": {"content_hash": why.advice.content_hash},
    }


def why_text(why: Why, units: UnitTable, inch_first: bool) -> str:
    """The trail as text."""
    lines = [f"WHY {why.label.upper()}"]
    if why.setting is not None:
        lines += _setting(why.setting, units, inch_first)
    elif why.options:
        lines += _options(why)
    elif why.spoke:
        lines += _spoke(why)
    else:
        lines += _wrap("No rule spoke for this job." if why.advice.status == "advised" else _status(why))
    if why.near:
        lines += ["", "NEARLY SPOKE"]
        for miss in why.near:
            lines += _wrap(f"{miss.rule.id}: {miss.failed}", "  ")
    lines += ["", f"rules {why.advice.content_hash[:12]}; see one whole with: prestrike rules show ID"]
    return "\n".join(lines) + "\n"


def _status(why: Why) -> str:
    reasons = [refusal.reason for refusal in why.advice.refusals] + [item.message for item in why.advice.no_rule]
    return " ".join(reasons) or "No rule spoke for this job."


def _wrap(text: str, indent: str = "", first: str | None = None) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent if first is None else first, subsequent_indent=indent + "  "
    )


def _setting(setting: Setting, units: UnitTable, inch_first: bool) -> list[str]:
    span = range_in_both_systems(setting.low, setting.high, setting.dimension, inch_first=inch_first, table=units)
    lines = [f"Start {start_text(setting, inch_first, units)}; working range {span}"]
    lines += _wrap(f"Known from {known_from(setting.counts)}.{' ' + setting.note if setting.note else ''}")
    lines += ["", "WHO SAYS WHAT, carried over to this case"]
    for said in sorted(setting.said, key=lambda item: (item.member, item.low)):
        numbers = range_in_both_systems(said.low, said.high, setting.dimension, inch_first=inch_first, table=units)
        member = f"{said.member}: " if said.member else ""
        lines += _wrap(f"{numbers:<16} {member}{said.source} [{known_short(said.evidence)}]", "  ")
        if said.differs:
            lines += _wrap(f"may differ: {said.differs}", "      ")
    spread = range_in_both_systems(
        setting.spread_low, setting.spread_high, setting.dimension, inch_first=inch_first, table=units
    )
    lines += [f"  Full published spread: {spread}", "", "STEP BY STEP (low / start / high)"]
    for index, step in enumerate(setting.trail, 1):
        lines += _step(step, index, setting)
    return lines


def _step(step: Step, index: int, setting: Setting) -> list[str]:
    values = [step.low, step.start, step.high]
    shown = " / ".join(f"{number(value):g}" for value in values if value is not None)
    head = f"{index}. {step.kind}: {shown} {setting.unit}" if shown else f"{index}. {step.kind}:"
    lines = _wrap(f"{head}  {step.text}", "  ")
    if step.rule_id:
        source = f"; {step.source}" if step.source else ""
        lines += _wrap(f"rule {step.rule_id}{source} [{known_short(step.evidence)}]{layer_mark(step.layer)}", "      ")
    if step.because:
        lines += _wrap(step.because, "      ")
    return lines


def _options(why: Why) -> list[str]:
    lines = []
    for option in why.options:
        mark = f"{option.rank}." if option.rank else "no"
        lines += ["", f"{mark:<3} {option.name}"]
        for reason in option.reasons:
            lines += _wrap(f"{reason.verdict}: {reason.because}", "      ")
            known = f"[{known_short(reason.evidence)}]{layer_mark(reason.layer)}"
            lines += _wrap(f"rule {reason.rule_id}; {reason.source} {known}", "        ")
    return lines


def _spoke(why: Why) -> list[str]:
    lines = []
    for rule in why.spoke:
        said = rule.body.get("do") or rule.body.get("hazard") or rule.body.get("code") or rule.body.get("reason", "")
        lines += ["", *_wrap(str(said), "  ")]
        lines += _wrap(rule.because, "      ")
        source = rule.sources[0]
        known = f"[{known_short(source.evidence)}]{layer_mark(rule.layer)}"
        lines += _wrap(f"rule {rule.id}; {source.label()} {known}", "      ")
    return lines
