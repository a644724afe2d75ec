"""Rules as tables, text and JSON."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Sequence
from typing import Any

from advisor.rulebook.conditions import in_words
from advisor.rulebook.rule import Rule


def rule_rows(rules: Sequence[Rule]) -> list[dict[str, Any]]:
    """Short JSON of several rules."""
    return [
        {
            "id": rule.id,
            "topic": rule.topic,
            "effect": rule.effect,
            "layer": rule.layer,
            "evidence": rule.evidence,
            "file": rule.file,
            "line": rule.line,
        }
        for rule in rules
    ]


def rule_table(rules: Sequence[Rule]) -> str:
    """Several rules as a table."""
    from tabulate import tabulate

    rows = [(rule.id, rule.topic, rule.effect, rule.evidence, rule.layer) for rule in rules]
    return str(tabulate(rows, headers=("id", "topic", "effect", "evidence", "layer"), tablefmt="simple"))


def rule_json(rule: Rule) -> dict[str, Any]:
    """One rule whole."""
    data = rule._asdict()
    data["sources"] = [source._asdict() for source in rule.sources]
    data["when_in_words"] = in_words(rule.when)
    return data


def rule_text(rule: Rule) -> str:
    """One rule as text of 80 columns."""
    rows = [
        ("Rule", rule.id),
        ("Topic", f"{rule.topic} ({rule.effect})"),
        ("When", in_words(rule.when) or "always"),
        ("Says", json.dumps(rule.body, ensure_ascii=False)),
        ("Printed for", "; ".join(f"{key} {', '.join(value)}" for key, value in rule.printed_for.items())),
        ("Carries over", rule.carries),
        ("Because", rule.because),
        ("Differs", rule.differs),
    ]
    rows += [("Source", f"{source.label()} [{source.evidence}]") for source in rule.sources]
    rows += [("Ruleset", f"{rule.ruleset} {rule.version}, {rule.layer}"), ("File", f"{rule.file}:{rule.line}")]
    rows += [("Replaces", f"{rule.overrides}: {rule.reason}" if rule.overrides else "")]
    lines: list[str] = []
    for label, value in rows:
        if value:
            lines += textwrap.wrap(value, 80, initial_indent=f"{label:<14}", subsequent_indent=" " * 14)
    return "\n".join(lines)
