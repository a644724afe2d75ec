"""Rules of one layer that cannot both hold, with the region of jobs in which they meet.

What counts as a conflict
-------------------------
- start and start: the same voice gives two ranges with no number in common, more than 1 % apart. A voice is one
  document (one lineage, one title); in the layers of one's own all notes, habits and trials of the shop are one voice.
  Two documents that disagree are no conflict: the spread between sources is shown, not hidden. Tables are compared
  only where both were printed (`printed_for`), since elsewhere they are carried over.
- limit and limit: the floor of one lies above the ceiling of the other.
- adjust and adjust: both carry the same attribute over, with different factors; a row would be carried twice.
- choose and choose: both say `only` and share no option, or one says `only` and the other `avoid` for all of them.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from advisor.rulebook.index import NOMINAL, required_span, required_terms
from advisor.rulebook.review.regions import (
    Box,
    Interval,
    Numbers,
    TooManyBoxes,
    World,
    boxes_of,
    join_intervals,
    meet,
    reach,
)
from advisor.rulebook.rule import LAYERS
from advisor.rulebook.source_values import interpolate

Rule = Mapping[str, Any]
# Evidence that is a shop's own word.
OWN_WORD = ("trial", "common-practice")
_FEW = 24
# Numbers this near are the same number, as the same stock is sold in inches and in millimetres.
_UNDER = 1 - NOMINAL


class Conflict(NamedTuple):
    """Two rules that cannot both hold. says: what they say against one another; boxes: where."""

    first: Rule
    second: Rule
    says: str
    boxes: tuple[Box, ...]

    @property
    def explained(self) -> str:
        """Why this is told as a note and not as an error: the rules say why, or only the edges of two bands meet."""
        differs = self.first.get("differs") or self.second.get("differs")
        if differs:
            return str(differs)
        return "only the edges of two bands meet" if all(map(_is_edge, self.boxes)) else ""


def _is_edge(box: Box) -> bool:
    numbers = [term for term in box.values() if isinstance(term, Numbers)]
    return any(all(interval[0] == interval[2] for interval in term.intervals) for term in numbers)


def voice_of(rule: Rule) -> tuple[str, str]:
    """Who speaks in a start rule."""
    source = rule["sources"][0]
    if rule["layer"] != LAYERS[0] and source["evidence"] in OWN_WORD:
        return ("", "own word")
    return (source["lineage"], source["title"])


def region_of(rule: Rule, world: World, *, printed: bool = False) -> list[Box]:
    """Where a rule has something to say; printed: only the case its numbers were printed for. Raises TooManyBoxes."""
    condition = rule["when"]
    if printed and rule["printed_for"]:
        condition = ["all", [condition, *(["in", key, values] for key, values in rule["printed_for"].items())]]
    boxes = boxes_of(condition, world)
    body = rule["body"]
    if rule["effect"] != "start":
        return boxes
    needed: dict[str, Any] = {}
    if "over" in body:
        needed[body["over"]] = Numbers(reach(body))
    return [met for box in boxes if (met := meet(box, needed, world)) is not None]


def conflicts(
    rules: Sequence[Rule], world: World, concerning: Callable[[Rule], bool] | None = None
) -> Iterator[Conflict]:
    """Every conflict between two of the rules. concerning: only pairs of which one rule is such."""
    groups: dict[tuple[Any, ...], list[Rule]] = defaultdict(list)
    for rule in rules:
        if rule["effect"] in ("limit", "choose"):
            groups[rule["layer"], rule["topic"], rule["effect"]].append(rule)
        elif rule["effect"] == "adjust" and rule["carries"]:
            groups[rule["layer"], rule["topic"], "adjust", rule["carries"]].append(rule)
        elif rule["effect"] == "start":
            groups[rule["layer"], rule["topic"], "start", voice_of(rule)].append(rule)
    for key, group in groups.items():
        if concerning is None or any(concerning(rule) for rule in group):
            yield from _among(group, key[2], world, concerning)


def _among(
    group: Sequence[Rule], effect: str, world: World, concerning: Callable[[Rule], bool] | None
) -> Iterator[Conflict]:
    boxes: dict[int, list[Box]] = {}

    def region(number: int) -> list[Box]:
        if number not in boxes:
            try:
                boxes[number] = region_of(group[number], world, printed=True)
            except TooManyBoxes:
                boxes[number] = []
        return boxes[number]

    for a, b in sorted(_pairs(group, concerning)):
        if not _may_clash(group[a], group[b], effect):
            continue
        found = _clash(group[a], group[b], effect, region(a), region(b), world)
        if found is not None:
            yield found


def _pairs(group: Sequence[Rule], concerning: Callable[[Rule], bool] | None) -> set[tuple[int, int]]:
    """Pairs that share a word in each attribute that both ask for, found by dealing the rules out word by word."""
    asked = [_asked_words(rule) for rule in group]
    wanted = [concerning is None or concerning(rule) for rule in group]
    spans = [required_span(rule["when"], "thickness") for rule in group]
    found: set[tuple[int, int]] = set()
    piles: list[tuple[list[int], frozenset[str]]] = [(list(range(len(group))), frozenset())]
    while piles:
        pile, used = piles.pop()
        if not any(wanted[number] for number in pile):
            continue
        count = Counter(name for number in pile for name in asked[number] if name not in used and name not in _SETS)
        name = max(count, key=lambda key: (count[key], key)) if len(pile) > _FEW and count else ""
        if not name:
            pairs = ((a, b) for at, a in enumerate(pile) for b in pile[at + 1 :] if wanted[a] or wanted[b])
            near = ((a, b) for a, b in pairs if spans[a][0] <= spans[b][1] and spans[b][0] <= spans[a][1])
            found.update((a, b) for a, b in near if _share(asked[a], asked[b]))
            continue
        free = [number for number in pile if name not in asked[number]]
        by_word: dict[Any, list[int]] = defaultdict(list)
        for number in pile:
            for word in asked[number].get(name, ()):
                by_word[word].append(number)
        piles += [(sorted([*free, *some]), used | {name}) for some in by_word.values()]
        piles.append((free, used | {name}))
    return found


def _asked_words(rule: Rule) -> dict[str, set[Any]]:
    found: dict[str, set[Any]] = {}
    for name, values in required_terms(rule["when"]):
        # Asked for twice, a word must be in both lists; a set may meet each list with another word.
        found[name] = set(values) if name not in found or name in _SETS else found[name] & set(values)
    return found


def _share(first: Mapping[str, set[Any]], second: Mapping[str, set[Any]]) -> bool:
    # A set-valued attribute may hold both words; those few pairs are settled exactly later on.
    return not any(
        name in second and name not in _SETS and words.isdisjoint(second[name]) for name, words in first.items()
    )


_SETS = frozenset(("bases", "alloys", "series", "temper", "form", "surface", "service"))


def _may_clash(first: Rule, second: Rule, effect: str) -> bool:
    if effect == "adjust":
        return bool(first["body"] != second["body"])
    if effect == "limit":
        return bool(_crossed(first["body"], second["body"]))
    return effect == "start" or bool(_no_option(first["body"], second["body"]))


def _clash(
    first: Rule, second: Rule, effect: str, mine: Sequence[Box], theirs: Sequence[Box], world: World
) -> Conflict | None:
    met = [box for one in mine for other in theirs if (box := meet(one, other, world)) is not None]
    if effect != "start":
        says = {"limit": _crossed, "choose": _no_option, "adjust": _twice}[effect](first["body"], second["body"])
        return Conflict(first, second, says, tuple(met)) if met else None
    apart = [box for one in met for box in _apart(first["body"], second["body"], one)]
    return Conflict(first, second, _ranges(first["body"], second["body"], apart[0]), tuple(apart)) if apart else None


def _crossed(first: Mapping[str, Any], second: Mapping[str, Any]) -> str:
    for one, other in ((first, second), (second, first)):
        floor, ceiling = one.get("floor", -math.inf), other.get("ceiling", math.inf)
        if floor > ceiling:
            return f"floor {floor:.4g} is above ceiling {ceiling:.4g}"
    return ""


def _twice(first: Mapping[str, Any], second: Mapping[str, Any]) -> str:
    texts = [", ".join(f"{key} {value:g}" for key, value in body.items()) for body in (first, second)]
    return f"one row is carried over twice, {texts[0]} and {texts[1]}"


def _no_option(first: Mapping[str, Any], second: Mapping[str, Any]) -> str:
    for one, other in ((first, second), (second, first)):
        only = set(one.get("only", ()))
        if only and "only" in other and only.isdisjoint(other["only"]):
            return f"only {', '.join(sorted(only))} against only {', '.join(sorted(other['only']))}"
        if only and only <= set(other.get("avoid", ())):
            return f"only {', '.join(sorted(only))}, and all of it to be avoided"
    return ""


def range_at(body: Mapping[str, Any], at: float) -> tuple[float, float] | None:
    """(low, high) a start gives where its driving number is `at`."""
    if "rows" in body:
        found = interpolate(body["rows"], at)
        return found[:2] if found else None
    if "sizes" in body:
        serving = [size for size, low, high in body["sizes"] if low <= at <= high]
        return (min(serving), max(serving)) if serving else None
    return body["low"], body["high"]


def _hull(body: Mapping[str, Any], box: Box) -> tuple[float, float]:
    """Lowest and highest number a start gives anywhere in a box."""
    if "over" not in body:
        return body["low"], body["high"]
    term = box[body["over"]]
    assert isinstance(term, Numbers)
    found = []
    for interval in term.intervals:
        for at in (interval[0], interval[2], *(edge for edge in _edges(body) if interval[0] < edge < interval[2])):
            found += [got for got in (range_at(body, at),) if got]
    if not found:  # only reached where all edges lie outside by a rounding
        return -math.inf, math.inf
    return min(low for low, _ in found), max(high for _, high in found)


def _edges(body: Mapping[str, Any]) -> list[float]:
    ends = [end for interval in reach(body) for end in (interval[0], interval[2])]
    if "rows" in body:
        return sorted({*ends, *(row[0] for row in body["rows"])})
    return sorted({*ends, *(edge for row in body.get("sizes", ()) for edge in row[1:])})


def _apart(first: Mapping[str, Any], second: Mapping[str, Any], box: Box) -> list[Box]:
    """The part of a box where two starts have no number in common."""
    if "compute" in first or "compute" in second:
        return []
    drivers = {body["over"] for body in (first, second) if "over" in body}
    if len(drivers) != 1:
        (low, high), (from_, to) = _hull(first, box), _hull(second, box)
        return [box] if high < from_ * _UNDER or to < low * _UNDER else []
    driver = drivers.pop()
    term = box[driver]
    assert isinstance(term, Numbers)
    edges = sorted({edge for body in (first, second) if "over" in body for edge in _edges(body)})
    pieces: list[Interval] = []
    for interval in term.intervals:
        pieces += _apart_within(first, second, interval, edges)
    joined = join_intervals(pieces)
    return [{**box, driver: Numbers(joined)}] if joined else []


def _apart_within(
    first: Mapping[str, Any], second: Mapping[str, Any], interval: Interval, edges: Sequence[float]
) -> Iterator[Interval]:
    def gap(at: float) -> float:
        mine, theirs = range_at(first, at), range_at(second, at)
        if mine is None or theirs is None:
            return -1.0
        return max(theirs[0] * _UNDER - mine[1], mine[0] * _UNDER - theirs[1])

    low, low_in, high, high_in = interval
    cuts = [low, *(edge for edge in edges if low < edge < high), high]
    for number, cut in enumerate(cuts):
        inside = (number > 0 or low_in) and (number < len(cuts) - 1 or high_in)
        if inside and gap(cut) > 0:
            yield (cut, True, cut, True)
        if number + 1 < len(cuts) and cut < cuts[number + 1]:
            yield from _between(gap, cut, cuts[number + 1], first, second)


def _between(
    gap: Callable[[float], float], left: float, right: float, first: Mapping[str, Any], second: Mapping[str, Any]
) -> Iterator[Interval]:
    """Where within an open piece, in which both are straight lines, they are apart."""
    third = (right - left) / 3
    crossings: list[float] = []
    for sign in (0, 1):
        values = []
        for at in (left + third, right - third):
            mine, theirs = range_at(first, at), range_at(second, at)
            if mine is None or theirs is None:
                return
            values.append((theirs[0] * _UNDER - mine[1], mine[0] * _UNDER - theirs[1])[sign])
        slope = (values[1] - values[0]) / third
        if slope:
            at = left + third - values[0] / slope
            crossings += [at] if left < at < right else []
    cuts = [left, *sorted(crossings), right]
    for low, high in pairwise(cuts):
        if gap((low + high) / 2) > 0:
            yield (low, False, high, False)


def _ranges(first: Mapping[str, Any], second: Mapping[str, Any], box: Box) -> str:
    drivers = {body["over"] for body in (first, second) if "over" in body}
    ranges, where = [_hull(body, box) for body in (first, second)], ""
    if len(drivers) == 1:
        term = box[driver := drivers.pop()]
        assert isinstance(term, Numbers)
        at = _inside(term.intervals[0])
        ranges, where = [range_at(body, at) or (0.0, 0.0) for body in (first, second)], f" (at {driver} {at:.4g})"
    texts = [f"{low:.4g}" if low == high else f"{low:.4g} to {high:.4g}" for low, high in ranges]
    return f"one says {texts[1]}, the other {texts[0]}{where}"


def _inside(interval: Interval) -> float:
    """A number within an interval that has at least one end."""
    low, _, high, _ = interval
    return low if high == math.inf else high if low == -math.inf else (low + high) / 2
