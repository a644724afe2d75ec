"""Regions of jobs: where a rule can speak, where two rules meet, what is left of one when others are taken away.

A region is a list of boxes; a box says for some attributes what a job may state there. Conditions become boxes by
multiplying out `any`; a negated term is a term of its own, so nothing is approximated. An attribute without a word in
a box is free, also to be missing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from advisor.rulebook.conditions import Condition
from advisor.rulebook.index import NOMINAL
from advisor.rulebook.vocabulary import Vocabulary
from advisor.units.quantities import HOUSE_UNITS

MOST_BOXES = 400
# low, low included, high, high included
Interval = tuple[float, bool, float, bool]
EVERYWHERE: Interval = (-math.inf, False, math.inf, False)


class TooManyBoxes(Exception):
    """A condition with more alternatives than can be multiplied out."""


class Words(NamedTuple):
    """One word of a job. allowed: these only (None: any); banned: none of these; missing: may be not stated."""

    allowed: frozenset[Any] | None
    banned: frozenset[Any] = frozenset()
    missing: bool = False


class Sets(NamedTuple):
    """A set of words. wanted: of each group at least one; banned: none of these."""

    wanted: tuple[frozenset[Any], ...] = ()
    banned: frozenset[Any] = frozenset()


class Numbers(NamedTuple):
    """A number. intervals: apart and rising; missing: may be not stated."""

    intervals: tuple[Interval, ...]
    missing: bool = False


Term = Words | Sets | Numbers
Box = Mapping[str, Term]


class World(NamedTuple):
    """What is known of every job, so that regions no job can lie in are not reported.

    stated: attributes every job states. within: (word, set) pairs, the word is always one of the set. rising:
    attributes whose numbers never fall in this order. implies: attribute -> value -> {attribute: the only value}.
    """

    vocabulary: Vocabulary
    stated: frozenset[str] = frozenset()
    within: tuple[tuple[str, str], ...] = ()
    rising: tuple[str, ...] = ()
    implies: Mapping[str, Mapping[str, Mapping[str, Any]]] = {}


def meet_intervals(first: Sequence[Interval], second: Sequence[Interval]) -> tuple[Interval, ...]:
    """What lies in both."""
    found = []
    for a in first:
        for b in second:
            low, low_in = max((a[0], not a[1]), (b[0], not b[1]))
            high, high_in = min((a[2], a[3]), (b[2], b[3]))
            if low < high or (low == high and not low_in and high_in):
                found.append((low, not low_in, high, high_in))
    return tuple(found)


def join_intervals(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """The same points as few intervals, rising and apart."""
    found: list[Interval] = []
    for low, low_in, high, high_in in sorted(intervals, key=lambda item: (item[0], not item[1])):
        if found and (low < found[-1][2] or (low == found[-1][2] and (low_in or found[-1][3]))):
            last = found[-1]
            end = max((last[2], last[3]), (high, high_in))
            found[-1] = (last[0], last[1], *end)
        else:
            found.append((low, low_in, high, high_in))
    return tuple(found)


def rest_of(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """All numbers outside."""
    found: list[Interval] = []
    low, low_in = -math.inf, False
    for interval in join_intervals(intervals):
        if low < interval[0] or (low == interval[0] and low_in and not interval[1]):
            found.append((low, low_in, interval[0], not interval[1]))
        low, low_in = interval[2], not interval[3]
    if low < math.inf:
        found.append((low, low_in, math.inf, False))
    return tuple(found)


def range_intervals(condition: Condition) -> tuple[Interval, ...]:
    """The interval of a compiled range; none where it holds no number, as above 1 mm and below 1 mm."""
    _, _, low, low_in, high, high_in, _ = condition
    interval = (
        -math.inf if low is None else low,
        low is not None and low_in,
        math.inf if high is None else high,
        high is not None and high_in,
    )
    return meet_intervals((EVERYWHERE,), (interval,))


def boxes_of(condition: Condition, world: World, negated: bool = False) -> list[Box]:
    """The boxes in which a condition holds (or, negated, does not). Raises TooManyBoxes."""
    kind = condition[0]
    if kind == "not":
        return boxes_of(condition[1], world, not negated)
    if kind in ("in", "range"):
        box = {condition[1]: _term(condition, world, negated)}
        return [box] if _possible(box, world) else []
    parts = [boxes_of(part, world, negated) for part in condition[1]]
    if (kind == "all") == negated:
        return _counted([box for part in parts for box in part])
    found: list[Box] = [{}]
    for part in parts:
        found = _counted([met for one in found for other in part if (met := meet(one, other, world)) is not None])
    return found


def _counted(boxes: list[Box]) -> list[Box]:
    if len(boxes) > MOST_BOXES:
        raise TooManyBoxes
    return boxes


def _term(condition: Condition, world: World, negated: bool) -> Term:
    name = condition[1]
    attribute = world.vocabulary.attributes[name]
    missing = negated and name not in world.stated
    if condition[0] == "range":
        intervals = range_intervals(condition)
        return Numbers(rest_of(intervals) if negated else intervals, missing)
    values = frozenset(condition[2])
    if attribute.type == "set":
        return Sets((), values) if negated else Sets((values,))
    known: frozenset[Any] | None = frozenset(attribute.choices) or None
    if attribute.type == "flag":
        known = frozenset((True, False))
    if not negated:
        return Words(values if known is None else values & known)
    return Words(None, values, missing) if known is None else Words(known - values, missing=missing)


def meet(first: Box, second: Box, world: World) -> Box | None:
    """The box of jobs in both; None where no job can be in both."""
    box = dict(first)
    for name, term in second.items():
        box[name] = _meet_terms(box[name], term) if name in box else term
    return box if _possible(box, world) else None


def _meet_terms(first: Term, second: Term) -> Term:
    if isinstance(first, Words) and isinstance(second, Words):
        both = [item.allowed for item in (first, second) if item.allowed is not None]
        allowed = both[0] & both[-1] if both else None
        banned = first.banned | second.banned
        return Words(allowed if allowed is None else allowed - banned, banned, first.missing and second.missing)
    if isinstance(first, Sets) and isinstance(second, Sets):
        return Sets((*first.wanted, *second.wanted), first.banned | second.banned)
    if isinstance(first, Numbers) and isinstance(second, Numbers):
        return Numbers(meet_intervals(first.intervals, second.intervals), first.missing and second.missing)
    # One attribute asked for in two ways, such as a number in a list: no job has both.
    return Words(frozenset())


def _possible(box: Box, world: World) -> bool:
    return all(map(_has_job, box.values())) and _hangs_together(box, world)


def _has_job(term: Term) -> bool:
    if isinstance(term, Words):
        return term.missing or term.allowed is None or bool(term.allowed)
    if isinstance(term, Sets):
        return all(not group <= term.banned for group in term.wanted)
    return term.missing or bool(term.intervals)


def _hangs_together(box: Box, world: World) -> bool:
    for word, group in world.within:
        one, many = box.get(word), box.get(group)
        if not isinstance(one, Words) or not isinstance(many, Sets) or one.missing or one.allowed is None:
            continue
        if one.allowed <= many.banned:
            return False
    floor = -math.inf
    for name in world.rising:
        term = box.get(name)
        if isinstance(term, Numbers) and not term.missing:
            if term.intervals[-1][2] < floor:
                return False
            floor = max(floor, term.intervals[0][0])
    return not any(_contradicts(box[name], brought, box) for name, brought in world.implies.items() if name in box)


def _contradicts(term: Term, brought: Mapping[str, Mapping[str, Any]], box: Box) -> bool:
    """Each word allowed here brings another word that the box does not allow."""
    if not isinstance(term, Words) or not term.allowed or term.missing:
        return False
    return all(_outruled(brought.get(value, {}), box) for value in term.allowed)


def _outruled(brought: Mapping[str, Any], box: Box) -> bool:
    for name, value in brought.items():
        term = box.get(name)
        if isinstance(term, Words) and not term.missing and term.allowed is not None and value not in term.allowed:
            return True
    return False


def minus(boxes: Sequence[Box], taken: Box, world: World) -> list[Box]:
    """What is left of the boxes without `taken`. Raises TooManyBoxes."""
    left: list[Box] = []
    for box in boxes:
        if meet(box, taken, world) is None:
            left.append(box)
            continue
        inside: Box | None = box
        for name, term in taken.items():
            for outside in _outside(name, term, world):
                if inside is not None and (piece := meet(inside, {name: outside}, world)) is not None:
                    left.append(piece)
            inside = None if inside is None else meet(inside, {name: term}, world)
    return _counted(left)


def _outside(name: str, term: Term, world: World) -> list[Term]:
    """Terms that hold just where this one does not."""
    may_miss = name not in world.stated
    if isinstance(term, Numbers):
        return [Numbers(rest_of(term.intervals), may_miss and not term.missing)]
    if isinstance(term, Sets):
        banned = [Sets((term.banned,))] if term.banned else []
        return [*(Sets((), group) for group in term.wanted), *banned]
    missing = may_miss and not term.missing
    attribute = world.vocabulary.attributes[name]
    known = (True, False) if attribute.type == "flag" else attribute.choices
    if known:
        return [Words(frozenset(known) - (term.allowed or frozenset()), missing=missing)]
    outside: list[Term] = [Words(term.banned, missing=missing)]
    return outside if term.allowed is None else [Words(None, term.allowed, missing)]


def spans(condition: Condition, holds_there: Mapping[int, bool], moving: frozenset[str]) -> tuple[Interval, ...]:
    """Where on a moving number a condition holds, all else fixed. holds_there: id(term) -> does a fixed term hold."""
    kind = condition[0]
    if kind == "range" and condition[1] in moving:
        return range_intervals(condition)
    if kind in ("in", "range"):
        return (EVERYWHERE,) if holds_there[id(condition)] else ()
    if kind == "not":
        return rest_of(spans(condition[1], holds_there, moving))
    parts = [spans(part, holds_there, moving) for part in condition[1]]
    if kind == "any":
        return join_intervals(interval for part in parts for interval in part)
    found: tuple[Interval, ...] = (EVERYWHERE,)
    for part in parts:
        found = meet_intervals(found, part)
    return found


def reach(body: Mapping[str, Any]) -> tuple[Interval, ...]:
    """Where on its driving number a start table has an answer; everywhere for one without a table."""
    if "rows" in body:
        return ((body["rows"][0][0] * (1 - NOMINAL), True, body["rows"][-1][0] * (1 + NOMINAL), True),)
    if "sizes" in body:
        return join_intervals((low, True, high, True) for _, low, high in body["sizes"])
    return (EVERYWHERE,)


def in_words(box: Box, world: World) -> str:
    """A box as a phrase with units: ``joint butt or tee; thickness from 3 mm to below 5 mm``."""
    parts = [_term_words(name, term, world) for name, term in box.items()]
    return "; ".join(part for part in parts if part) or "every job"


def _term_words(name: str, term: Term, world: World) -> str:
    if isinstance(term, Numbers):
        unit = HOUSE_UNITS.get(world.vocabulary.attributes[name].dimension, "")
        words = " or ".join(interval_words(interval, unit) for interval in term.intervals)
        if term.missing:
            words = f"{words} or not stated" if words else "not stated"
        return f"{name} {words}" if words != "any" or term.missing else ""
    if isinstance(term, Sets):
        wanted = [f"{name} has {_listed(group - term.banned)}" for group in term.wanted]
        return "; ".join([*wanted, *([f"{name} without {_listed(term.banned)}"] if term.banned else [])])
    if term.allowed is None:
        return f"{name} other than {_listed(term.banned)}" if term.banned else f"{name} stated"
    words = _listed(term.allowed)
    return f"{name} {words}{' or not stated' if term.missing and words else 'not stated' if term.missing else ''}"


def _listed(values: Iterable[Any]) -> str:
    words = {True: "yes", False: "no"}
    return " or ".join(sorted(words[value] if isinstance(value, bool) else str(value) for value in values))


def interval_words(interval: Interval, unit: str) -> str:
    """An interval in words with its unit."""
    low, low_in, high, high_in = interval
    unit = f" {unit}" if unit else ""
    if low == high:
        return f"{_number(low)}{unit}"
    parts = []
    if low > -math.inf:
        parts.append(f"{'from' if low_in else 'above'} {_number(low)}{unit}")
    if high < math.inf:
        parts.append(f"{'to' if high_in else 'below'} {_number(high)}{unit}")
    return " ".join(parts) or "any"


def _number(value: float) -> str:
    return f"{value:.4g}"
