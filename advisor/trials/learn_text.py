"""What trials teach, as text of 80 columns and as JSON."""

from __future__ import annotations

import math
import textwrap
from collections import Counter
from typing import Any

from advisor.answer.answer import Setting
from advisor.reading import is_there
from advisor.setup.as_json import number
from advisor.shop.scope import Scope
from advisor.show import wording
from advisor.trials.answer import LearnAnswer
from advisor.trials.factors import LEAST, Learnt
from advisor.units.quantities import in_both_systems, range_in_both_systems

_MOST_LISTED = 12


def learn_text(found: LearnAnswer) -> str:
    """The whole as text: one kind of seam in full, or the list of kinds there are."""
    if len(found.seams) > 1:
        return _seams(found)
    seam = found.seams[0]
    plural = "S" if len(seam.trials) > 1 else ""
    lines = _wrapped(f"LEARNT FROM {len(seam.trials)} TRIAL{plural}: {scope_text(seam.scope)}")
    counts = Counter(trial.verdict for trial in seam.trials)
    said = ", ".join(f"{counts[verdict]} {verdict}" for verdict in ("good", "usable", "bad") if counts[verdict])
    lines += _wrapped(f"{said}. Only good ones move a number.")
    if not found.learnt:
        lines += ["", *_wrapped("None of them says a setting that can be learnt, such as --current.")]
    for item in found.learnt:
        lines += ["", *_setting(item, found)]
    return "\n".join([*lines, *_file(found)])


def scope_text(scope: Scope) -> str:
    """A kind of seam in words."""
    sizes = "" if scope.alike else f" {scope.thinner:.4g}/{scope.thicker:.4g} mm"
    words = [f"{'+'.join(scope.metals)}{sizes}", wording.JOINT_NAMES[scope.joint]]
    words += [wording.POSITION_NAMES[scope.position], wording.PROCESS_NAMES[scope.process], scope.gas, scope.machine]
    return ", ".join(word for word in words if word)


def _seams(found: LearnAnswer) -> str:
    lines = [f"The trials are of {len(found.seams)} kinds of seam; a rule is learnt for one of them:", ""]
    for seam in found.seams:
        scope = seam.scope
        good = sum(trial.verdict == "good" for trial in seam.trials)
        sizes = sorted({trial.case.thinner for trial in seam.trials})
        span = f"{sizes[0]:.4g}" + (f"-{sizes[-1]:.4g}" if sizes[-1] > sizes[0] else "") + " mm"
        flags = [f"--metal {metal}" for metal in scope.metals] + [f"--joint {scope.joint} --position {scope.position}"]
        count = f"{len(seam.trials)} trial{'s' if len(seam.trials) > 1 else ''}, {good} good"
        lines += _wrapped(f"{count}: {scope_text(scope)}, {span}")
        lines += [f"    prestrike learn {' '.join(flags)}"]
    return "\n".join(lines)


def _setting(item: Learnt, found: LearnAnswer) -> list[str]:
    label = item.topic.label
    if item.found is None:
        return _wrapped(f"{label}: no good trial to learn from.") + _left_out(item)
    lines = [label.upper()]
    counted = len(item.counted) - len(item.slips)
    lines += _wrapped(
        f"{item.factor:.2f} times the published start; nine in ten between {item.found.low:.2f} and "
        f"{item.found.high:.2f}. It rests on {counted} good trial{'s' if counted != 1 else ''}; good beads scatter "
        f"{100 * (math.exp(item.found.scatter) - 1):.0f} % about it."
    )
    if item.status == "too-few":
        lines += _wrapped(f"Too few: {LEAST} good trials are the least a rule is made of. Nothing is proposed.")
    if item.status == "disagree":
        lines += _wrapped("The trials disagree, so nothing is proposed:")
        lines += [line for text in item.disagree for line in _wrapped(text, "- ")]
    if item.status == "proposed":
        lines += _table(item, found)
    for text in item.notes:
        lines += _wrapped(text[0].upper() + text[1:] + ".")
    if item.slips:
        lines += _wrapped(f"Taken for a slip, and not counted: {', '.join(item.slips)}. Put it right with 'prestrike "
                          "trial correct ID' if it is one.")  # fmt: skip
    return lines + _left_out(item)


def _left_out(item: Learnt) -> list[str]:
    lines: list[str] = []
    for trial_id, why in item.left_out[:_MOST_LISTED]:
        lines += _wrapped(f"Left out {trial_id}: {why}")
    more = len(item.left_out) - _MOST_LISTED
    return lines + ([f"... and {more} more left out"] if more > 0 else [])


def _table(item: Learnt, found: LearnAnswer) -> list[str]:
    changed = {change.size: change for change in found.changed if change.topic == item.topic.name}
    lines = []
    for row in item.rows:
        change = changed.get(row.size)
        at = in_both_systems(row.size, "length", inch_first=found.inch, table=found.units)
        lines.append(f"  {at}, {row.trials} good trial{'s' if row.trials != 1 else ''}")
        rows: list[tuple[str, tuple[float, float, float] | None]] = [("published", row.published)]
        if change is not None:
            rows += [("now", _three(change.before)), ("with the rule", _three(change.after))]
        lines += [f"    {name:<14}{_numbers(values, item.topic.dimension, found)}" for name, values in rows]
    return lines


def _three(setting: Setting | None) -> tuple[float, float, float] | None:
    return None if setting is None else (setting.low, setting.start, setting.high)


def _numbers(values: tuple[float, float, float] | None, dimension: str, found: LearnAnswer) -> str:
    if values is None:
        return "no rule"
    low, start, high = values
    text = in_both_systems(start, dimension, inch_first=found.inch, table=found.units)
    if high - low <= 1e-6 * high:
        return text
    span = range_in_both_systems(low, high, dimension, inch_first=found.inch, table=found.units)
    return f"{text}, range {span}"


def _file(found: LearnAnswer) -> list[str]:
    if found.made is None or found.target is None:
        return []
    if found.done:
        return ["", f"written: {found.target}", "next: prestrike rules check, then prestrike setup for such a job"]
    lines = ["", "THE RULE", *found.made.text.rstrip().splitlines(), ""]
    there = "; one learnt before stands there, add --replace" if is_there(found.target) else ""
    return [*lines, f"Not written. --write puts it into{there}", f"  {found.target}"]


def _wrapped(text: str, first: str = "") -> list[str]:
    return textwrap.wrap(text, 80, initial_indent=first, subsequent_indent=" " * max(len(first), 2))


def learn_json(found: LearnAnswer) -> dict[str, Any]:
    """The same as JSON data. Numbers in house units (mm, A, L/min, s); factors are ratios."""
    return {
        "seams": [
            {
                "scope": {**seam.scope._asdict(), "metals": list(seam.scope.metals)},
                "trials": [trial.id for trial in seam.trials],
            }
            for seam in found.seams
        ],
        "learnt": [_learnt_json(item, found) for item in found.learnt],
        "rule": None
        if found.made is None
        else {"ids": list(found.made.rule_ids), "file": str(found.target), "text": found.made.text},
        "written": found.done,
    }


def _learnt_json(item: Learnt, found: LearnAnswer) -> dict[str, Any]:
    estimate = item.found
    changed = {change.size: change for change in found.changed if change.topic == item.topic.name}
    rows = []
    for row in item.rows:
        data: dict[str, Any] = {"thickness_mm": number(row.size), "trials": row.trials}
        data["published"] = [number(value) for value in row.published]
        data["proposed"] = [number(value) for value in (row.low, row.start, row.high)]
        if row.size in changed:
            pair = (("now", changed[row.size].before), ("with_rule", changed[row.size].after))
            data |= {name: [number(v) for v in _three(s) or ()] or None for name, s in pair}
        rows.append(data)
    return {
        "topic": item.topic.name,
        "status": item.status,
        "factor": number(item.factor) if estimate else None,
        "interval_90": [number(estimate.low), number(estimate.high)] if estimate else None,
        "scatter_percent": number(100 * (math.exp(estimate.scatter) - 1)) if estimate else None,
        "counted": item.ids(),
        "usable": item.ids("usable"),
        "bad": item.ids("bad"),
        "slips": list(item.slips),
        "left_out": [{"id": trial_id, "why": why} for trial_id, why in item.left_out],
        "disagree": list(item.disagree),
        "notes": list(item.notes),
        "rows": rows,
    }
