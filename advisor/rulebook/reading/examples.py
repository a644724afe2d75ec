"""Runs the examples that stand beside each rule: they are its tests."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from advisor.diagnostics import Diagnostic
from advisor.rulebook.conditions import Fact, first_failure, holds
from advisor.rulebook.reading.rule_reader import Tools
from advisor.rulebook.reading.yaml_text import Document, PathKey
from advisor.rulebook.rule import Rule
from advisor.rulebook.source_values import source_values
from advisor.units.quantities import HOUSE_UNITS


def run_examples(rules: Sequence[Mapping[str, Any]], document: Document, tools: Tools) -> dict[str, Any]:
    """Every example of every rule of a file: {"total", "firing", "findings"}, findings as plain data.

    A rule of which no example fires is a finding.
    """
    total = firing = 0
    found: list[Diagnostic] = []
    for index, data in enumerate(rules):
        rule = Rule.from_payload(data)
        for at, example in enumerate(data["examples"]):
            total += 1
            firing += bool(example["fires"])
            wrong = _wrong(rule, example, tools)
            if wrong is not None:
                where, message, repair = wrong
                path: PathKey = ("rules", index, "examples", at, *where)
                finding = Diagnostic("example", message, subject=rule.id, help=repair)
                found.append(document.place(finding, path, at_key=where == ("gives",)))
        if not any(example["fires"] for example in data["examples"]):
            message, repair = "no example of this rule fires", "add an example of a job that it speaks for"
            place = ("rules", index, "examples")
            found.append(document.place(Diagnostic("example", message, subject=rule.id, help=repair), place))
    return {"total": total, "firing": firing, "findings": [finding._asdict() for finding in found]}


def facts_of(example: Mapping[str, Any]) -> dict[str, Fact]:
    """The facts of an example: lists are sets, whole numbers are numbers."""
    facts: dict[str, Fact] = {}
    for name, value in example["facts"].items():
        facts[name] = frozenset(value) if isinstance(value, list) else value
    return facts


Wrong = tuple[PathKey, str, str]
_NOT_FIRING = "write 'fires: false' in its place, or change the example's job"


def _wrong(rule: Rule, example: Mapping[str, Any], tools: Tools) -> Wrong | None:
    """Where in the example, what is wrong, and the repair; None where it holds."""
    facts = facts_of(example)
    fires = holds(rule.when, facts)
    gives = example["gives"]
    if fires and rule.effect == "start":
        voices = source_values(
            [rule], facts, tools.vocabulary, lambda name, given: tools.computations[name].function(**given)
        )
        fires = bool(voices)
        if fires and gives:
            voice = voices[0]
            said = {"low": voice.low, "high": voice.high, "value": voice.middle, "size": voice.middle}
            return _differs(gives, said, tools.vocabulary.topics[rule.topic].dimension)
    if fires != bool(example["fires"]):
        return _other_way(rule, facts, fires, stated="gives" if gives else "fires")
    if gives and rule.effect == "choose":
        first = (rule.body.get("first") or rule.body.get("only") or [""])[0]
        if first == gives.get("first"):
            return None
        return (("gives", "first"), f"puts '{first}' first, example says '{gives.get('first')}'", f"write '{first}'")
    if gives and rule.effect in ("adjust", "limit"):
        keys = {"factor": rule.body.get("factor"), "value": rule.body.get("offset")}
        keys |= {"low": rule.body.get("floor"), "high": rule.body.get("ceiling")}
        return _differs(gives, keys, tools.vocabulary.topics[rule.topic].dimension)
    return None


def _other_way(rule: Rule, facts: Mapping[str, Fact], fires: bool, stated: str) -> Wrong:
    if fires:
        return ("fires",), "should stay silent but fires", "write 'true', or narrow the rule's 'when'"
    why = first_failure(rule.when, facts) or "its table does not reach this job"
    if stated == "gives":
        return ("gives",), f"should fire but does not: {why}", _NOT_FIRING
    return ("fires",), f"should fire but does not: {why}", "write 'false', or widen the rule's 'when'"


def _differs(gives: Mapping[str, Any], said: Mapping[str, Any], dimension: str) -> Wrong | None:
    unit = HOUSE_UNITS.get(dimension, "")
    for key, wanted in gives.items():
        got = said.get(key)
        if got is None:
            return ("gives", key), f"the rule has no {key}", f"give one of {', '.join(k for k in said if said[k])}"
        if not math.isclose(got, wanted, rel_tol=2e-3, abs_tol=1e-6):
            mine = f"{got:.5g} {unit}".strip() if key != "factor" else f"{got:.5g}"
            message = f"the rule gives {key} {mine}, the example says {wanted:.5g}"
            return ("gives", key), message, f"write '{mine}' if the rule is right"
    return None
