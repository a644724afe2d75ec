"""Conditions of a rule in their compiled form, evaluated against the facts of a job (`condition_reader.py` compiles).

Compiled forms (plain JSON lists, so they live in the index):
``["all", [c...]]``, ``["any", [c...]]``, ``["not", c]``, ``["in", attribute, [values]]``,
``["range", attribute, low, low_included, high, high_included, "text"]``.
A fact that is missing makes a condition false; `not` turns that into true.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Condition = list[Any]
Fact = str | float | bool | frozenset[str] | None
Facts = Mapping[str, Fact]

_ALMOST = 1e-9


def holds(condition: Condition, facts: Facts) -> bool:
    """True where the facts meet the condition."""
    kind = condition[0]
    if kind == "in":
        fact = facts.get(condition[1])
        if fact is None:
            return False
        if isinstance(fact, frozenset):
            return not fact.isdisjoint(condition[2])
        return fact in condition[2]
    if kind == "range":
        return _in_range(condition, facts.get(condition[1]))
    if kind == "all":
        return all(holds(part, facts) for part in condition[1])
    if kind == "any":
        return any(holds(part, facts) for part in condition[1])
    return not holds(condition[1], facts)


def _in_range(condition: Condition, fact: Fact) -> bool:
    if not isinstance(fact, (int, float)) or isinstance(fact, bool):
        return False
    _, _, low, low_in, high, high_in, _ = condition
    if low is not None:
        slack = _ALMOST * max(abs(low), 1.0)
        if fact < low - slack or (not low_in and fact <= low + slack):
            return False
    if high is not None:
        slack = _ALMOST * max(abs(high), 1.0)
        if fact > high + slack or (not high_in and fact >= high - slack):
            return False
    return True


def first_failure(condition: Condition, facts: Facts) -> str:
    """In words, the first part of the condition that the facts do not meet; empty where all hold."""
    if holds(condition, facts):
        return ""
    if condition[0] == "all":
        return next(first_failure(part, facts) for part in condition[1] if not holds(part, facts))
    has = _fact_text(facts.get(condition[1])) if condition[0] in ("in", "range") else ""
    return f"wants {in_words(condition)}{f', job has {has}' if has else ''}"


def in_words(condition: Condition) -> str:
    """The condition as a phrase, e.g. ``thickness from 1.6 mm to 6 mm``."""
    kind = condition[0]
    if kind == "in":
        return f"{condition[1]} {' or '.join(_plain(value) for value in condition[2])}"
    if kind == "range":
        return f"{condition[1]} {condition[6]}"
    if kind == "not":
        return f"not ({in_words(condition[1])})"
    joiner = " and " if kind == "all" else " or "
    parts = [in_words(part) for part in condition[1]]
    return joiner.join(parts) if len(parts) < 2 or kind == "all" else f"({joiner.join(parts)})"


def _plain(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _fact_text(fact: Fact) -> str:
    if fact is None:
        return "nothing stated"
    if isinstance(fact, frozenset):
        return ", ".join(sorted(fact)) or "none"
    if isinstance(fact, float):
        return f"{fact:.4g}"
    return _plain(fact)


def attributes_in(condition: Condition) -> set[str]:
    """Names of all attributes a condition looks at."""
    if condition[0] in ("in", "range"):
        return {condition[1]}
    parts = condition[1] if condition[0] in ("all", "any") else [condition[1]]
    found: set[str] = set()
    for part in parts:
        found |= attributes_in(part)
    return found
