"""What each start rule says for one job: low, middle and high, before the sources are brought together."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from advisor.rulebook.conditions import Facts
from advisor.rulebook.index import NOMINAL
from advisor.rulebook.rule import Rule
from advisor.rulebook.vocabulary import Vocabulary

Compute = Callable[[str, Mapping[str, Any]], float]


class SourceValue(NamedTuple):
    """One source's answer in the house unit. weight: rank of its document times that of its evidence.

    row: how the numbers came from the rule; carried: adjusts that carried it over to this case.
    """

    rule: Rule
    low: float
    middle: float
    high: float
    weight: float
    row: str
    carried: tuple[str, ...] = ()

    @property
    def lineage(self) -> str:
        """Documents that share a lineage count once."""
        return self.rule.sources[0].lineage


def middle_of(low: float, high: float) -> float:
    """Geometric mean where both are above zero (settings scale), else the arithmetic one."""
    return math.sqrt(low * high) if low > 0 else (low + high) / 2


def weight_of(rule: Rule, vocabulary: Vocabulary) -> float:
    """Weight of a rule's best source."""
    return max(
        vocabulary.source_weight.get(source.kind, 1.0) * vocabulary.evidence_weight.get(source.evidence, 1.0)
        for source in rule.sources
    )


def source_values(rules: Sequence[Rule], facts: Facts, vocabulary: Vocabulary, compute: Compute) -> list[SourceValue]:
    """The voices of all start rules that have an answer for these facts."""
    voices = []
    for rule in rules:
        voice = _voice(rule, facts, vocabulary, compute)
        if voice is not None:
            voices.append(voice)
    return voices


def _voice(rule: Rule, facts: Facts, vocabulary: Vocabulary, compute: Compute) -> SourceValue | None:
    body = rule.body
    weight = weight_of(rule, vocabulary)
    if "compute" in body:
        given = _arguments(body["with"], facts)
        if given is None:
            return None
        value = compute(body["compute"], given)
        return SourceValue(rule, value, value, value, weight, f"{body['compute']}({_shown(given)})")
    if "over" not in body:
        low, high = body["low"], body["high"]
        return SourceValue(rule, low, middle_of(low, high), high, weight, "as printed")
    driver = facts.get(body["over"])
    if not isinstance(driver, (int, float)) or isinstance(driver, bool):
        return None
    if "rows" in body:
        found = interpolate(body["rows"], float(driver))
        if found is None:
            return None
        low, high, how = found
        return SourceValue(rule, low, middle_of(low, high), high, weight, how)
    return _of_sizes(rule, body["sizes"], float(driver), weight)


def _arguments(data: Mapping[str, Any], facts: Facts) -> dict[str, Any] | None:
    given: dict[str, Any] = {}
    for name, value in data.items():
        if isinstance(value, dict):
            fact = facts.get(value["attribute"])
            if fact is None:
                return None
            given[name] = fact
        else:
            given[name] = value
    return given


def _shown(given: Mapping[str, Any]) -> str:
    parts = [f"{name} {value:.4g}" if isinstance(value, float) else f"{name} {value}" for name, value in given.items()]
    return ", ".join(parts)


def interpolate(rows: Sequence[Sequence[float]], x: float) -> tuple[float, float, str] | None:
    """(low, high, how) of a table at x: linear between rows, None beyond its ends.

    Within 1 % of an end row the end row itself counts: the same stock is sold as 3.175 and as 3.2 mm.
    """
    first, last = rows[0], rows[-1]
    if x < first[0] * (1 - NOMINAL) or x > last[0] * (1 + NOMINAL):
        return None
    if x <= first[0]:
        return first[1], first[2], f"row at {first[0]:.4g}"
    if x >= last[0]:
        return last[1], last[2], f"row at {last[0]:.4g}"
    for left, right in pairwise(rows):
        if x <= right[0]:
            if math.isclose(x, right[0], rel_tol=1e-9):
                return right[1], right[2], f"row at {right[0]:.4g}"
            share = (x - left[0]) / (right[0] - left[0])
            low = left[1] + share * (right[1] - left[1])
            high = left[2] + share * (right[2] - left[2])
            return low, high, f"between rows at {left[0]:.4g} and {right[0]:.4g}"
    return None


def _of_sizes(rule: Rule, sizes: Sequence[Sequence[float]], x: float, weight: float) -> SourceValue | None:
    """Of a banded table, the sizes whose band holds x; the middle is the one in whose band x sits most centrally."""
    serving = [row for row in sizes if row[1] <= x <= row[2]]
    if not serving:
        return None

    def off_centre(row: Sequence[float]) -> float:
        return abs(math.log(x / middle_of(max(row[1], 1e-9), row[2])))

    best = min(serving, key=off_centre)
    low, high = min(row[0] for row in serving), max(row[0] for row in serving)
    return SourceValue(rule, low, best[0], high, weight, f"band {best[1]:.4g} to {best[2]:.4g}")


def converted(voices: Sequence[SourceValue], adjusts: Sequence[Rule], facts: Facts) -> list[SourceValue]:
    """Voices printed for another case, carried over to this one by the adjusts that say how."""
    return [_carried(voice, adjusts, facts) for voice in voices]


def _carried(voice: SourceValue, adjusts: Sequence[Rule], facts: Facts) -> SourceValue:
    for rule in adjusts:
        printed = voice.rule.printed_for.get(rule.carries)
        if printed is None or facts.get(rule.carries) in printed:
            continue
        low, middle, high = (apply(rule, number) for number in (voice.low, voice.middle, voice.high))
        voice = voice._replace(low=low, middle=middle, high=high, carried=(*voice.carried, rule.id))
    return voice


def apply(rule: Rule, number: float) -> float:
    """An adjust rule applied to a number."""
    if "factor" in rule.body:
        return number * float(rule.body["factor"])
    return number + float(rule.body["offset"])
