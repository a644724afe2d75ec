"""A saved answer and the answer to the same job now: what changed, and by how much. Both as the JSON answers hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.reading import is_folder, names_in

_STEPS = ("cleaning", "holding", "panel", "technique", "after", "coupon", "identify")


class AnswerChange(NamedTuple):
    """One thing that changed. where: setting, choice, step, caution ...; old, new: empty where it was not there;
    percent: by how much a number moved."""

    where: str
    what: str
    old: str
    new: str
    percent: float | None = None


def changes_between(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[AnswerChange]:
    """What changed between two answers to one job, most weighty first. Words that only explain do not count.

    Raises PrestrikeError where the saved one is not as `setup --json` gives it.
    """
    try:
        return _changes(old, new)
    except (KeyError, TypeError, AttributeError, ValueError) as error:
        text = f"this saved answer is not as 'setup --json' gives it ({type(error).__name__} {error})"
        raise PrestrikeError(Diagnostic("no-answer", text, help="save it again")) from None


def _changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[AnswerChange]:
    found = []
    if old["status"] != new["status"]:
        found.append(AnswerChange("status", "status", old["status"], new["status"]))
    found += _texts("refusal", old["refusals"], new["refusals"], "reason")
    found += _texts("no rule", old["no_rule"], new["no_rule"], "message")
    found += _texts("caution", old["cautions"], new["cautions"], "hazard", "do")
    found += _texts("code", old["codes"], new["codes"], "code")
    found += _numbers(old["settings"], new["settings"])
    found += _numbers(old["preparation"]["numbers"], new["preparation"]["numbers"])
    found += _choices(old["choices"], new["choices"])
    found += _choices(old["preparation"]["choices"], new["preparation"]["choices"])
    found += _texts("step", old["preparation"]["steps"], new["preparation"]["steps"], "do")
    for name in _STEPS:
        # An answer saved before there were such steps holds none.
        found += _texts("step", old.get(name, ()), new.get(name, ()), "do")
    return found


def _numbers(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[AnswerChange]:
    found = []
    for name in [*old, *(name for name in new if name not in old)]:
        before, after = old.get(name), new.get(name)
        left, right = _number(before), _number(after)
        if left == right:
            continue
        percent = None
        if before and after and before["unit"] == after["unit"] and before["unit"] != "degC" and before["start"]:
            percent = 100 * (after["start"] - before["start"]) / before["start"]
        found.append(AnswerChange("setting", name.replace("_", " "), left, right, percent))
    return found


def _number(setting: Mapping[str, Any] | None) -> str:
    if setting is None:
        return ""
    low, start, high = (setting[key] for key in ("low", "start", "high"))
    text = f"{start:g} {setting['unit']}".strip()
    text += "" if low == high else f" ({low:g}-{high:g})"
    return text + ("" if setting["layer"] == "built-in" else f" [{setting['layer']} rule]")


def _choices(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[AnswerChange]:
    found = []
    for name in [*old, *(name for name in new if name not in old)]:
        left, right = _ranked(old.get(name, ())), _ranked(new.get(name, ()))
        if left != right:
            found.append(AnswerChange("choice", name.replace("_", " "), left, right))
    return found


def _ranked(options: Sequence[Mapping[str, Any]]) -> str:
    """The options advised, best first, and those advised against."""
    advised = sorted((item for item in options if item["rank"]), key=lambda item: int(item["rank"]))
    against = sorted(item["name"] for item in options if not item["advised"])
    text = ", ".join(item["name"] for item in advised)
    return text + (f"; not {', '.join(against)}" if against else "")


def _texts(
    where: str, old: Sequence[Mapping[str, Any]], new: Sequence[Mapping[str, Any]], *keys: str
) -> list[AnswerChange]:
    before = ["; ".join(str(item[key]) for key in keys) for item in old]
    after = ["; ".join(str(item[key]) for key in keys) for item in new]
    gone = [AnswerChange(where, where, text, "") for text in before if text not in after]
    return gone + [AnswerChange(where, where, "", text) for text in after if text not in before]


def saved_files(paths: Sequence[Path]) -> list[Path]:
    """The files named, and the JSON files of the folders named. Raises PrestrikeError where there is none."""
    found: list[Path] = []
    for path in paths:
        found += [item for item in names_in(path) if item.suffix == ".json"] if is_folder(path) else [path]
    if not found:
        repair = "save answers with: prestrike setup JOB.yaml --json > SAVED.json"
        raise PrestrikeError(Diagnostic("no-answer", "no saved answer is there", str(paths[0]), help=repair))
    return found


def whole(answer: Mapping[str, Any], path: Path) -> Mapping[str, Any]:
    """The answer, where it has all that is compared. Raises PrestrikeError for one that is cut short."""
    parts = (
        "status",
        "settings",
        "preparation",
        "choices",
        "cautions",
        "codes",
        "refusals",
        "ruleset",
        *(name for name in _STEPS if name not in ("panel", "after")),
    )
    missing = [name for name in parts if name not in answer]
    if missing:
        text = f"this saved answer has no '{missing[0]}'"
        repair = "save it again with: prestrike setup JOB.yaml --json > SAVED.json"
        raise PrestrikeError(Diagnostic("no-answer", text, str(path), help=repair))
    return answer
