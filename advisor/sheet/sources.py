"""Where the numbers of a sheet come from, in as few words as small print allows: rules by id, documents by number."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from advisor.answer.answer import Advice

# One letter for each kind of evidence, told at the foot of the sheet.
MARKS = {"read": "P", "memory": "R", "common-practice": "H", "computed": "C", "trial": "T"}
MARKS_KEY = "P printed source read, R recalled and not re-read, H habit of the trade, C calculation, T own trial"
# The groups of steps on a sheet, in their turn.
STEPS = (
    ("edge_step", "Edge and joint"),
    ("cleaning_step", "Clean, in this order"),
    ("holding_step", "Hold and tack"),
    ("panel_step", "At the panel"),
    ("technique_step", "At the arc"),
    ("after_step", "After the weld"),
    ("coupon_step", "First, a coupon"),
    ("identify_step", "Which alloy is it?"),
)
_DOCUMENT = re.compile(r"^(?:Shop practice|TWI FAQ|.*?\((?:\d{4}|article)\))(?=, )")


class Sources:
    """Documents numbered as they are first named; the place within a document stands with its rule."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def number(self, source: str) -> int:
        """The number of the document of a source label."""
        return self._numbers.setdefault(document(source), len(self._numbers) + 1)

    def listed(self) -> list[dict[str, Any]]:
        """All documents named so far."""
        return [{"number": number, "source": name} for name, number in self._numbers.items()]


def document(source: str) -> str:
    """The document of a source label, without page or table where a year tells the two apart."""
    found = _DOCUMENT.match(source)
    return found[0] if found else source


def origins(advice: Advice, sources: Sources) -> list[dict[str, Any]]:
    """Each number with the rules behind it, each rule with its document's number and kind of evidence."""
    rows = []
    for setting in (*advice.settings.values(), *advice.preparation.values()):
        rules: dict[str, tuple[str, str]] = {}
        for said in setting.said:
            rules.setdefault(said.rule_id, (said.source, said.evidence))
        for step in setting.trail:
            if step.rule_id and step.source:
                rules.setdefault(step.rule_id, (step.source, step.evidence))
        cited = [
            {"rule": rule_id, "mark": f"{sources.number(source)}{MARKS.get(evidence, '')}"}
            for rule_id, (source, evidence) in rules.items()
        ]
        rows.append({"label": setting.label, "rules": cited})
    return rows


def other_rules(advice: Advice) -> list[dict[str, Any]]:
    """Rules behind choices, steps, cautions, codes and refusals, by id, as they stand on the sheet."""
    ranked = (
        option
        for found in (advice.choices, advice.preparation_choices)
        for options in found.values()
        for option in options
        if option.rank
    )
    groups: list[tuple[str, Iterable[str]]] = [
        ("Choices", (reason.rule_id for option in ranked for reason in option.reasons)),
        *((title, (step.rule_id for step in advice.steps.get(topic, ()))) for topic, title in STEPS),
        ("Cautions", (item.rule_id for item in advice.cautions)),
        ("Codes", (item.rule_id for item in advice.codes)),
        ("Refusals", (item.rule_id for item in advice.refusals)),
    ]
    found = [{"label": label, "rules": list(dict.fromkeys(rules))} for label, rules in groups]
    return [row for row in found if row["rules"]]


def rule_sets(advice: Advice) -> list[str]:
    """Rule sets gathered by version: `1.0.0: gauges, gas`."""
    versions: dict[str, list[str]] = {}
    for item in advice.rulesets:
        versions.setdefault(item["version"], []).append(item["name"])
    return [f"{version}: {', '.join(names)}" for version, names in sorted(versions.items())]
