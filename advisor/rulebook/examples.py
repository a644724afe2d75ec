"""Runs the examples that stand beside each rule: they are its tests."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic
from advisor.rulebook.conditions import Fact, first_failure, holds
from advisor.rulebook.index import Index
from advisor.rulebook.rule import Rule
from advisor.rulebook.vocabulary import Vocabulary
from advisor.rulebook.voices import Compute, hear


class ExampleRun(NamedTuple):
    """How many examples were run, how many fire and do not, and what went wrong."""

    total: int
    firing: int
    silent: int
    findings: tuple[Diagnostic, ...]


def run_examples(index: Index, vocabulary: Vocabulary, compute: Compute) -> ExampleRun:
    """Every example of every rule. A rulebook without examples is a finding."""
    total = firing = 0
    findings: list[Diagnostic] = []
    for rule_id, examples in index.examples():
        rule = index.rule_by_id(rule_id)
        if rule is None:
            continue
        for example in examples:
            total += 1
            firing += bool(example["fires"])
            wrong = _wrong(rule, example, vocabulary, compute)
            if wrong:
                findings.append(Diagnostic("example", wrong, rule.file, example["line"], 1, rule.id))
        if not any(example["fires"] for example in examples):
            findings.append(Diagnostic("example", "no example of this rule fires", rule.file, rule.line, 1, rule.id))
    if total == 0:
        findings.append(Diagnostic("example", "no examples were found", help="write examples beside the rules"))
    return ExampleRun(total, firing, total - firing, tuple(findings))


def facts_of(example: Mapping[str, Any]) -> dict[str, Fact]:
    """The facts of an example: lists are sets, whole numbers are numbers."""
    facts: dict[str, Fact] = {}
    for name, value in example["facts"].items():
        facts[name] = frozenset(value) if isinstance(value, list) else value
    return facts


def _wrong(rule: Rule, example: Mapping[str, Any], vocabulary: Vocabulary, compute: Compute) -> str:
    facts = facts_of(example)
    fires = holds(rule.when, facts)
    gives = example["gives"]
    if fires and rule.effect == "start":
        voices = hear([rule], facts, vocabulary, compute)
        fires = bool(voices)
        if fires and gives:
            voice = voices[0]
            said = {"low": voice.low, "high": voice.high, "value": voice.middle, "size": voice.middle}
            return _differs(gives, said)
    if fires != bool(example["fires"]):
        why = first_failure(rule.when, facts) or "its table does not reach this job"
        return f"should {'fire' if example['fires'] else 'stay silent'} but does not{f': {why}' if not fires else ''}"
    if gives and rule.effect == "choose":
        first = (rule.body.get("first") or rule.body.get("only") or [""])[0]
        return "" if first == gives.get("first") else f"puts '{first}' first, example says '{gives.get('first')}'"
    if gives and rule.effect in ("adjust", "limit"):
        keys = {"factor": rule.body.get("factor"), "value": rule.body.get("offset")}
        keys |= {"low": rule.body.get("floor"), "high": rule.body.get("ceiling")}
        return _differs(gives, keys)
    return ""


def _differs(gives: Mapping[str, Any], said: Mapping[str, Any]) -> str:
    for key, wanted in gives.items():
        got = said.get(key)
        if got is None or not math.isclose(got, wanted, rel_tol=2e-3, abs_tol=1e-6):
            return f"gives {key} {got if got is None else f'{got:.5g}'}, example says {wanted:.5g}"
    return ""
