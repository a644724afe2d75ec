"""Ranked options: what choose rules put first, allow, and advise against, brought into one order with reasons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from advisor.rulebook.conditions import Condition
from advisor.rulebook.rule import LAYERS, Rule


class Reason(NamedTuple):
    """Why a rule speaks for or against an option. verdict: first, also, avoid, only."""

    verdict: str
    rule_id: str
    because: str
    source: str
    evidence: str
    layer: str = LAYERS[0]


@dataclass(eq=False, repr=False)
class Option:
    """One option with its rank (1 is best; 0 for options advised against) and its reasons."""

    name: str
    rank: int = 0
    reasons: list[Reason] = field(default_factory=list)

    @property
    def layer(self) -> str:
        """The highest layer that speaks of it."""
        return max((reason.layer for reason in self.reasons), key=LAYERS.index, default=LAYERS[0])

    @property
    def avoided(self) -> bool:
        """True where some rule advises against it."""
        return any(reason.verdict == "avoid" for reason in self.reasons)


def rank(rules: Sequence[Rule]) -> list[Option]:
    """Options in order. Rules of the highest layer that names a `first` or `only` replace lower ones' firsts.

    Order: not advised against; then how closely the rules that put it first fit the job (a rule with more conditions
    speaks for a narrower case); then how many put it first; how many allow it; the order rules list it in.
    """
    options: dict[str, Option] = {}
    order: dict[str, int] = {}
    closeness: dict[str, int] = {}
    top = max((LAYERS.index(rule.layer) for rule in rules if "first" in rule.body or "only" in rule.body), default=0)
    only: set[str] | None = None
    for rule in rules:
        if "only" in rule.body:
            only = set(rule.body["only"]) if only is None else only & set(rule.body["only"])
        for verdict in ("first", "only", "also", "avoid"):
            if verdict in ("first", "also") and LAYERS.index(rule.layer) < top:
                continue
            for place, name in enumerate(rule.body.get(verdict, ())):
                option = options.setdefault(name, Option(name))
                option.reasons.append(_reason(rule, verdict))
                order[name] = min(order.get(name, 99), place)
                if verdict == "first":
                    closeness[name] = max(closeness.get(name, 0), narrowness(rule.when))
    if only is not None:
        options = {name: option for name, option in options.items() if name in only}

    def key(option: Option) -> tuple[bool, int, int, int, int, str]:
        firsts = sum(reason.verdict == "first" for reason in option.reasons)
        alsos = sum(reason.verdict == "also" for reason in option.reasons)
        return (
            option.avoided,
            -closeness.get(option.name, 0),
            -firsts,
            -alsos,
            order[option.name],
            option.name,
        )

    ordered = sorted(options.values(), key=key)
    for number, option in enumerate([item for item in ordered if not item.avoided], 1):
        option.rank = number
    return ordered


def narrowness(condition: Condition) -> int:
    """How many things a condition asks of the job."""
    if condition[0] == "all":
        return sum(narrowness(part) for part in condition[1])
    if condition[0] == "any":
        return min((narrowness(part) for part in condition[1]), default=0)
    return 1


def _reason(rule: Rule, verdict: str) -> Reason:
    source = rule.sources[0]
    return Reason(verdict, rule.id, rule.because, source.label(), source.evidence, rule.layer)
