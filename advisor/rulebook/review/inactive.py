"""Rules that no job can make speak: dead ones (their own conditions exclude one another), and masked ones (a higher
layer has its own wherever they would speak, or an `overrides` takes their place)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from advisor.rulebook.conditions import Condition, in_words
from advisor.rulebook.index import required_terms
from advisor.rulebook.review.conflicts import region_of
from advisor.rulebook.review.regions import Box, Numbers, Sets, TooManyBoxes, Words, World, boxes_of, meet, minus
from advisor.rulebook.rule import LAYERS

Rule = Mapping[str, Any]


class Masked(NamedTuple):
    """A rule that is never heard, and the rules that stand before it."""

    rule: Rule
    by: tuple[Rule, ...]


def why_dead(rule: Rule, world: World) -> str:
    """Why no job can meet a rule's conditions; empty where one can. Conditions too long to multiply out pass."""
    try:
        if region_of(rule, world):
            return ""
    except TooManyBoxes:
        return ""
    parts = _parts(rule["when"])
    for at, part in enumerate(parts):
        if not boxes_of(part, world):
            return f"no job can have {in_words(part)}"
        for other in parts[:at]:
            met = (meet(a, b, world) for a in boxes_of(part, world) for b in boxes_of(other, world))
            if all(box is None for box in met):
                return f"no job has {in_words(other)} and {in_words(part)}"
    if boxes_of(rule["when"], world):
        return f"its table over {rule['body'].get('over')} does not reach where its conditions hold"
    return f"no job has all of: {in_words(rule['when'])}"


def _parts(condition: Condition) -> list[Condition]:
    if condition[0] != "all":
        return [condition]
    return [part for item in condition[1] for part in _parts(item)]


def masked(rules: Sequence[Rule], world: World) -> Iterator[Masked]:
    """Start rules, and choices without `avoid`, that a higher layer keeps from ever being heard.

    Not those of a guarded topic: its shipped numbers hold as a ceiling or a floor under any layer.
    """
    by_topic: dict[str, list[Rule]] = defaultdict(list)
    for rule in rules:
        if rule["effect"] == "start" or (rule["effect"] == "choose" and _puts_first(rule)):
            by_topic[rule["topic"]].append(rule)
    for topic, group in by_topic.items():
        if not world.vocabulary.topics[topic].guarded and len({rule["layer"] for rule in group}) > 1:
            yield from _masked_of(group, world)


def _puts_first(rule: Rule) -> bool:
    return "first" in rule["body"] or "also" in rule["body"]


def _stands(rule: Rule) -> bool:
    """Whether a rule keeps lower ones of its topic from being heard wherever its conditions hold.

    One that computes may lack what it computes from, and then the lower ones are heard.
    """
    if rule["effect"] == "start":
        return "compute" not in rule["body"]
    return "first" in rule["body"] or "only" in rule["body"]


def _masked_of(group: Sequence[Rule], world: World) -> Iterator[Masked]:
    regions: dict[str, list[Box]] = {}

    def region(rule: Rule) -> list[Box]:
        if rule["id"] not in regions:
            regions[rule["id"]] = region_of(rule, world)
        return regions[rule["id"]]

    # Higher rules by layer and by the open words they ask for: one for an alloy never covers one for any alloy.
    higher: dict[tuple[int, frozenset[str]], list[Rule]] = defaultdict(list)
    for rule in group:
        if rule["layer"] != LAYERS[0] and _stands(rule):
            higher[LAYERS.index(rule["layer"]), _open_words(rule, world)].append(rule)
    for rule in group:
        if rule["effect"] == "choose" and set(rule["body"]) - {"first", "also"}:
            continue
        rank, words = LAYERS.index(rule["layer"]), _open_words(rule, world)
        before = [other for (above, asked), some in higher.items() if above > rank and asked <= words for other in some]
        if not before:
            continue
        try:
            by = _takers(region(rule), before, region, world)
        except TooManyBoxes:
            continue
        if by:
            yield Masked(rule, by)


def _open_words(rule: Rule, world: World) -> frozenset[str]:
    """Attributes without a list of words of which a rule asks for one."""
    attributes = world.vocabulary.attributes
    asked = {name for name, _ in required_terms(rule["when"])}
    return frozenset(name for name in asked if attributes[name].type == "text")


def _takers(mine: list[Box], before: Sequence[Rule], region: Any, world: World) -> tuple[Rule, ...]:
    """Higher rules that together leave nothing of these boxes; none where something is left."""
    left, by = mine, []
    for other in before:
        useful = [box for box in region(other) if any(_could_cover(box, one, world) for one in left)]
        if not useful:
            continue
        smaller = left
        for box in useful:
            smaller = minus(smaller, box, world)
        if smaller != left:
            by.append(other)
        left = smaller
        if not left:
            return tuple(by)
    return ()


def _could_cover(box: Box, mine: Box, world: World) -> bool:
    """Whether taking `box` away can help to leave nothing of `mine`: it asks for no open word that mine leaves open.

    A rule for one alloy never covers a rule for any alloy: names of alloys have no end.
    """
    for name, term in box.items():
        one = mine.get(name)
        if isinstance(term, Words) and term.allowed is not None and not world.vocabulary.attributes[name].choices:
            is_flag = world.vocabulary.attributes[name].type == "flag"
            if not is_flag and (not isinstance(one, Words) or one.allowed is None):
                return False
        may_miss = (isinstance(term, (Words, Numbers)) and term.missing) or (isinstance(term, Sets) and not term.wanted)
        if name not in world.stated and one is None and not may_miss:
            return False
    return meet(box, mine, world) is not None
