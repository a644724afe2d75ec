"""Lines that every answer prints: folded text, rows of settings, steps, cautions, codes, refusals."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from advisor.answer.answer import Advice, Caution, Code, Instruction, Refusal, Setting
from advisor.show import wording
from advisor.units.quantities import UnitTable, in_both_systems

WIDTH = 80


def wrap(text: str, indent: str = "", first: str | None = None) -> list[str]:
    """Text folded to the width; `first` starts the first line."""
    return textwrap.wrap(text, WIDTH, initial_indent=indent if first is None else first, subsequent_indent=indent) or [
        indent
    ]


def stop_lines(services: Sequence[str], **words: str) -> list[str]:
    """The stop at the head of restricted work; nothing for other work. words: see `wording.stop_text`."""
    text = wording.stop_text(services, **words)
    return ["", "=" * WIDTH, *wrap(text), "=" * WIDTH] if text else []


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


def caution_lines(found: Sequence[Caution], title: str = "CAUTIONS") -> list[str]:
    """Every caution, gravest first; they cannot be switched off."""
    return ["", title, *(line for caution in found for line in caution_text(caution))]


def caution_text(caution: Caution) -> list[str]:
    """The hazard and what to do about it, with the mark of its level. No report prints the one without the other."""
    text = f"{caution.hazard.rstrip('.')}: {caution.do.rstrip('.')}."
    return wrap(text + wording.layer_mark(caution.layer), "    ", "!!  " if caution.level == "danger" else "!   ")


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


def refused(advice: Advice) -> list[str]:
    return refusal_lines(advice.refusals)


def no_rule(advice: Advice) -> list[str]:
    lines = ["", "NO RULE COVERS THIS"]
    for item in advice.no_rule:
        lines += wrap(item.message, "  ")
    lines += wrap("Nothing is guessed beyond the tables. Ask a welding engineer or a published procedure.", "  ")
    return lines


def cautions(advice: Advice) -> list[str]:
    return caution_lines(advice.cautions)


def codes(advice: Advice) -> list[str]:
    return code_lines(advice.codes)
