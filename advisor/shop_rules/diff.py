"""Two sets of rules, or a saved answer and the rules in force, compared in words and numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.rulebook.listing import Layer, listing, read_files
from advisor.rulebook.reading.yaml_text import Document
from advisor.rulebook.review.compare import EntryChange as EntryChange
from advisor.rulebook.review.compare import Percent, compare
from advisor.rulebook.review.compare import RulesDiff as RulesDiff
from advisor.rulebook.review.compare import ValueChange as ValueChange
from advisor.units.quantities import HOUSE_UNITS, UnitTable, parse_quantity


def documents_of(layers: Sequence[Layer]) -> list[Document]:
    """The files of these layers as YAML documents. Raises PrestrikeError for one that cannot be read."""
    return [file.document() for file in read_files(listing(layers))]


def diff_of(old: Sequence[Layer], new: Sequence[Layer], units: UnitTable) -> RulesDiff:
    """What differs between the rules of two sets of folders or files."""
    return compare(documents_of(old), documents_of(new), percent_in(units), spelling_in(units))


def percent_in(units: UnitTable) -> Percent:
    """How far two written values are apart, in per cent of the old; None where they are no numbers of one dimension."""

    def percent(old: Any, new: Any) -> float | None:
        pair = _pair(old, new, units)
        if pair is None:
            return None
        left, right = pair
        if abs(left - right) <= 1e-9 * max(abs(left), abs(right)):
            return 0.0
        return 100 * (right - left) / left if left > 0 else None

    return percent


def spelling_in(units: UnitTable) -> Callable[[str], str]:
    """The one spelling of a length: in millimetres. Anything else stays as it is written."""

    def spelling(text: str) -> str:
        if not text[:1].isdigit():
            return text
        try:
            return f"{parse_quantity(text, 'length', table=units).value:.6g} mm"
        except PrestrikeError:
            return text

    return spelling


def _pair(old: Any, new: Any, units: UnitTable) -> tuple[float, float] | None:
    if isinstance(old, bool) or isinstance(new, bool):
        return None
    if isinstance(old, (int, float)) and isinstance(new, (int, float)):
        return float(old), float(new)
    if not (isinstance(old, str) and isinstance(new, str) and old[:1].isdigit() and new[:1].isdigit()):
        return None
    for kind in HOUSE_UNITS:
        # A temperature has no per cent: its zero is a matter of the scale.
        if kind == "temperature" or not any(of == kind for of, _ in units.factors):
            continue
        try:
            return tuple(parse_quantity(text, kind, table=units, allow_zero=True).value for text in (old, new))  # type: ignore[return-value]
        except PrestrikeError:
            continue
    return None


class RuleStatement(NamedTuple):
    """What a rule says in an answer. said: numbers or words, in the order of the answer."""

    rule: str
    where: str
    old: str
    new: str


def spoken(answer: Mapping[str, Any]) -> dict[tuple[str, str], str]:
    """(where, rule id) -> what it says there, for every rule that a JSON answer names."""
    found: dict[tuple[str, str], str] = {}
    numbers = {**answer["settings"], **answer["preparation"]["numbers"]}
    for name, setting in numbers.items():
        for step in setting["trail"]:
            if step["rule"]:
                found[name, step["rule"]] = _step(step, setting["unit"])
    for name, options in {**answer["choices"], **answer["preparation"]["choices"]}.items():
        for option in options:
            for reason in option["reasons"]:
                before, says = found.get((name, reason["rule"]), ""), f"{reason['verdict']} {option['name']}"
                found[name, reason["rule"]] = f"{before}; {says}" if before else says
    lists = (("preparation", answer["preparation"]["steps"]), *((name, answer.get(name, ())) for name in _STEPS))
    for name, steps in lists:
        found |= {(name, step["rule"]): step["do"] for step in steps}
    for name, word in (("cautions", "hazard"), ("codes", "code"), ("refusals", "reason")):
        found |= {(name, item["rule_id"]): item[word] for item in answer[name]}
    return found


_STEPS = ("cleaning", "holding", "panel", "technique", "after", "coupon", "identify")


def _step(step: Mapping[str, Any], unit: str) -> str:
    if step["kind"] in ("adjust", "limit"):
        return str(step["text"])
    low, high = step["low"], step["high"]
    return f"{low:g} {unit}".strip() if low == high else f"{low:g} to {high:g} {unit}".strip()


def spoken_changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[RuleStatement]:
    """Rules that say something else now than in a saved answer, or that spoke only then or only now.

    Raises PrestrikeError where the saved one is not as `setup --json` gives it.
    """
    try:
        before, after = spoken(old), spoken(new)
    except (LookupError, TypeError, AttributeError, ValueError) as error:
        text = f"this saved answer is not as 'setup --json' gives it ({type(error).__name__} {error})"
        raise PrestrikeError(Diagnostic("no-answer", text, help="save it again")) from None
    keys = [*before, *(key for key in after if key not in before)]
    return [
        RuleStatement(rule, where, before.get((where, rule), ""), after.get((where, rule), ""))
        for where, rule in keys
        if before.get((where, rule)) != after.get((where, rule))
    ]
