"""What the rules cover on plain jobs: gaps, jumps, and a map of thickness against joint for each metal.

A plain job is flat, of ordinary service, with two like members. Along the thickness everything is exact that hangs on
facts of the job: the ends of all conditions and tables are known, and between two ends nothing changes. What hangs on
a settled number (the electrode on the current) is asked at the stock sizes and in the middle of each stretch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any, NamedTuple

from advisor.job.facts import joint_facts
from advisor.job.material import find_material
from advisor.job.reader import JobBuilder
from advisor.rulebook.choices import rank
from advisor.rulebook.conditions import Condition, Fact, attributes_in, holds
from advisor.rulebook.library import Rulebook
from advisor.rulebook.review.regions import Interval, join_intervals, meet_intervals, reach, rest_of, spans
from advisor.rulebook.rule import Rule
from advisor.rulebook.settle import Settled, settle
from advisor.shop.rules_in_force import compute, units_of
from advisor.units.quantities import parse_quantity

MOVING = frozenset(("thickness", "thinner", "thicker"))
# Facts that are numbers settled on the way, in their order.
SETTLED = ("current", "tungsten_diameter", "nozzle_bore")
CHOSEN = ("polarity", "gas", "tungsten_type", "filler")
# Independent tables of one seam differ by this factor (`least_spread` of a topic, measured by leaving each source out
# in turn): a start that leaps further at one thickness leaps further than the sources differ among themselves.
LEAP = 1.2
# A power source of standard grade holds its current within 10 % of the dial (IEC 60974-14, recalled): a fall that is
# smaller is less than the dial itself is off.
FALL = 0.9
_BESIDE = 1e-6


class Domain(NamedTuple):
    """What the rules of a process set out to cover; sizes, low, high: thickness [mm]."""

    process: str
    metals: tuple[str, ...]
    joints: tuple[str, ...]
    low: float
    high: float
    sizes: tuple[float, ...]
    needs: tuple[str, ...]
    grows: tuple[str, ...]


class Gap(NamedTuple):
    """A stretch of thickness [mm] of the domain for which no rule of a topic speaks. exact: ends are rule ends."""

    topic: str
    metal: str
    joint: str
    low: float
    high: float
    exact: bool


class Jump(NamedTuple):
    """A start that falls or leaps as the thickness [mm] grows. kind: falls or leaps."""

    kind: str
    topic: str
    metal: str
    joint: str
    at: float
    to: float
    before: float
    after: float


class MetalCoverage(NamedTuple):
    """One metal walked through. sources: joint -> for each stock size the number of independent sources of the
    current, and whether all else that is needed is there."""

    metal: str
    gaps: tuple[Gap, ...]
    jumps: tuple[Jump, ...]
    sources: dict[str, list[tuple[int, bool]]]


def domains(data: Mapping[str, Any]) -> list[Domain]:
    """The domains a vocabulary states. Raises PrestrikeError for a size that is none."""

    def size(text: str) -> float:
        return parse_quantity(text, "length").value

    return [
        Domain(
            item["process"],
            tuple(item["metals"]),
            tuple(item["joints"]),
            size(item["from"]),
            size(item["to"]),
            tuple(size(text) for text in item["sizes"]),
            tuple(item["needs"]),
            tuple(item["grows"]),
        )
        for item in data.get("domains", ())
    ]


def walk(book: Rulebook, domain: Domain, metal: str) -> MetalCoverage:
    """Gaps, jumps and map of one metal of a domain."""
    gaps: list[Gap] = []
    jumps: list[Jump] = []
    sources: dict[str, list[tuple[int, bool]]] = {}
    for joint in domain.joints:
        line = _Line(book, domain, metal, joint)
        mine = [gap for topic in domain.needs for gap in line.gaps(topic)]
        gaps += mine
        jumps += [jump for topic in domain.grows for jump in line.jumps(topic)]
        sources[joint] = [
            (line.voices(at), not any(gap.low <= at <= gap.high for gap in mine if gap.topic != "current"))
            for at in domain.sizes
        ]
    return MetalCoverage(metal, tuple(gaps), tuple(jumps), sources)


@dataclass(eq=False, repr=False)
class _Line:
    """Plain jobs of one metal and joint, along the thickness."""

    book: Rulebook
    domain: Domain
    metal: str
    joint: str
    plain: dict[str, Fact] = field(init=False)
    rules: dict[str, list[Rule]] = field(default_factory=dict)
    known: dict[float, dict[str, Fact]] = field(default_factory=dict)
    numbers: dict[tuple[str, float], Settled | None] = field(default_factory=dict)
    cuts: list[float] = field(init=False)
    by_current: bool = field(init=False)

    def __post_init__(self) -> None:
        data = {
            "process": self.domain.process,
            "members": [{"metal": self.metal, "thickness": f"{self.domain.low:g} mm"}],
            "joint": self.joint,
        }
        job = JobBuilder(self.book, units_of(self.book)).build(data)
        materials = tuple(find_material(member.metal, self.book.index) for member in job.members)
        self.plain = joint_facts(job, materials)
        ends = {end for topic in CHOSEN for rule in self._speaking(topic) for end in self._ends(rule, self.plain)}
        self.cuts = [self.domain.low, *sorted(ends), self.domain.high]
        self.by_current = any(_needs_settled(rule) for topic in CHOSEN for rule in self._speaking(topic))

    def _speaking(self, topic: str) -> list[Rule]:
        """Rules of a topic that give it something to say, whatever is settled before it."""
        if topic not in self.rules:
            found = self.book.index.rules(topic)
            speaking = [rule for rule in found if rule.effect == "start" or _offers(rule)]
            fixed = {"process", "base", "alloy", "joint", "pair"}
            self.rules[topic] = [rule for rule in speaking if _may_hold(rule.when, self.plain, fixed)]
        return self.rules[topic]

    def _ends(self, rule: Rule, facts: Mapping[str, Fact]) -> list[float]:
        low, high = self.domain.low, self.domain.high
        return [end for item in _spans(rule, facts) for end in (item[0], item[2]) if low < end < high]

    def facts(self, at: float) -> dict[str, Fact]:
        """Facts of the job at a thickness, with what is chosen."""
        if at not in self.known:
            facts = {**self.plain, "thickness": at, "thinner": at, "thicker": at}
            middle = self._middle(at)
            if middle is not None:
                chosen = self.facts(middle)
                self.known[at] = {**facts, **{topic: chosen[topic] for topic in CHOSEN}}
                return self.known[at]
            for topic in CHOSEN:
                if topic == "tungsten_type" and self.by_current:
                    self.known[at] = facts
                    facts["current"] = self._start("current", at)
                options = rank(self.book.match(topic, facts))
                best = next((option for option in options if option.rank == 1), None)
                facts[topic] = best.name if best else None
            self.known[at] = facts
        return self.known[at]

    def _middle(self, at: float) -> float | None:
        """The middle of the stretch a thickness lies in, where all that is chosen is the same in it."""
        if self.by_current:
            return None
        for low, high in pairwise(self.cuts):
            if low < at < high and at != (low + high) / 2:
                return (low + high) / 2
        return None

    def _start(self, topic: str, at: float) -> float | None:
        found = self.number(topic, at)
        return found.start if found else None

    def number(self, topic: str, at: float) -> Settled | None:
        """The settled number of a topic at a thickness, with all settled before it."""
        key = (topic, at)
        if key not in self.numbers:
            facts = self.facts(at)
            for before in SETTLED[: SETTLED.index(topic) if topic in SETTLED else len(SETTLED)]:
                if before not in facts:
                    facts[before] = self._start(before, at)
            self.numbers[key] = settle(self.book, topic, facts, compute)
        return self.numbers[key]

    def voices(self, at: float) -> int:
        """How many independent sources speak of the current at a thickness."""
        found = self.number("current", at)
        return len({voice.lineage for voice in found.voices}) if found else 0

    def gaps(self, topic: str) -> Iterator[Gap]:
        """Stretches of the domain in which no rule of the topic speaks."""
        form = self.book.vocabulary.topics[topic].form
        silent: list[Interval] = []
        for low, high in pairwise(self.cuts):
            facts = self.facts((low + high) / 2)
            rules = [rule for rule in self._speaking(topic) if not _needs_settled(rule)]
            covered = join_intervals(span for rule in rules for span in _spans(rule, facts))
            silent += meet_intervals([(low, True, high, True)], rest_of(covered))
        settled_ones = any(_needs_settled(rule) for rule in self._speaking(topic))
        for low, low_in, high, high_in in join_intervals(silent):
            if high <= low * (1 + _BESIDE) and not (low_in and high_in):
                continue
            if not settled_ones:
                yield Gap(topic, self.metal, self.joint, low, high, True)
            else:
                yield from self._asked(topic, low, high, form)

    def _asked(self, topic: str, low: float, high: float, form: str) -> Iterator[Gap]:
        """Gaps of a topic that hangs on settled numbers: asked at stock sizes and between them."""
        inside = sorted({low, high, *(size for size in self.domain.sizes if low < size < high)})
        points = sorted({*inside, *((a + b) / 2 for a, b in pairwise(inside))})
        # At an end of the stretch another rule may still speak: ask a hair inside.
        asked = [min(max(at, low * (1 + _BESIDE)), high * (1 - _BESIDE)) for at in points]
        speaks = [self._speaks(topic, at, form) for at in asked]
        start: float | None = None
        for number, at in enumerate(points):
            if not speaks[number] and start is None:
                start = self._turn(topic, form, points[number - 1], at) if number else at
            if start is not None and (speaks[number] or number == len(points) - 1):
                end = self._turn(topic, form, at, points[number - 1]) if speaks[number] else at
                yield Gap(topic, self.metal, self.joint, start, end, False)
                start = None

    def _turn(self, topic: str, form: str, speaking: float, silent: float) -> float:
        """The thickness at which a topic falls silent, by halving."""
        for _ in range(10):
            middle = (speaking + silent) / 2
            speaking, silent = (middle, silent) if self._speaks(topic, middle, form) else (speaking, middle)
        return silent

    def _speaks(self, topic: str, at: float, form: str) -> bool:
        if form == "number":
            return self.number(topic, at) is not None
        return bool(rank(self.book.match(topic, self.facts(at))))

    def jumps(self, topic: str) -> Iterator[Jump]:
        """Where the start of a topic falls, or leaps at one thickness, as the metal gets thicker."""
        low, high = self.domain.low, self.domain.high
        ends = {*self.cuts[1:-1]}
        for left, right in pairwise(self.cuts):
            facts = self.facts((left + right) / 2)
            ends |= {end for rule in self._speaking(topic) for end in self._ends(rule, facts)}
        turns = {at for rule in self._speaking(topic) for at in _turns(rule) if low < at < high}
        points = sorted({low, high, *self.domain.sizes, *turns, *(end * side for end in ends for side in _SIDES)})
        starts = [(at, self._start(topic, at)) for at in points]
        known = [(at, start) for at, start in starts if start is not None]
        sizes = self.book.vocabulary.topics[topic].sizes
        leap = max(self.book.vocabulary.topics[topic].least_spread, LEAP)
        for at, to, before, after in _falls(known):
            yield Jump("falls", topic, self.metal, self.joint, at, to, before, after)
        for (at, before), (to, after) in pairwise(known):
            if to <= at * (1 + 3 * _BESIDE) and _leaps(before, after, sizes, leap):
                yield Jump("leaps", topic, self.metal, self.joint, at, to, before, after)


def _falls(starts: Sequence[tuple[float, float]]) -> Iterator[tuple[float, float, float, float]]:
    """(from, to, before, after) of every unbroken fall that is large enough to count."""
    top = 0
    for index in range(1, len(starts) + 1):
        if index < len(starts) and starts[index][1] <= starts[index - 1][1]:
            continue
        while top + 1 < index and starts[top + 1][1] == starts[top][1]:
            top += 1
        bottom = next((n for n in range(top, index) if starts[n][1] == starts[index - 1][1]), top)
        if starts[bottom][1] < starts[top][1] * FALL:
            yield starts[top][0], starts[bottom][0], starts[top][1], starts[bottom][1]
        top = index


_SIDES = (1 - _BESIDE, 1.0, 1 + _BESIDE)


def _leaps(before: float, after: float, sizes: Sequence[float], leap: float) -> bool:
    if not sizes:
        return before > 0 and after > before * leap
    return sum(before < size <= after for size in sizes) > 1


def _offers(rule: Rule) -> bool:
    return rule.effect == "choose" and bool({"first", "also", "only"} & set(rule.body))


def _spans(rule: Rule, facts: Mapping[str, Fact]) -> tuple[Interval, ...]:
    """Where along the thickness a rule speaks, all other facts as given."""
    there = spans(rule.when, _fixed_terms(rule.when, facts), MOVING)
    return meet_intervals(there, reach(rule.body)) if rule.body.get("over") in MOVING else there


def _fixed_terms(condition: Condition, facts: Mapping[str, Fact]) -> dict[int, bool]:
    if condition[0] in ("in", "range"):
        return {id(condition): holds(condition, facts)}
    parts = condition[1] if condition[0] in ("all", "any") else [condition[1]]
    return {key: value for part in parts for key, value in _fixed_terms(part, facts).items()}


def _turns(rule: Rule) -> list[float]:
    """Where along the thickness a table bends."""
    return [row[0] for row in rule.body["rows"]] if "rows" in rule.body and rule.body["over"] in MOVING else []


def _needs_settled(rule: Rule) -> bool:
    asked = attributes_in(rule.when) | {rule.body.get("over", "")}
    asked |= {item["attribute"] for item in rule.body.get("with", {}).values() if isinstance(item, dict)}
    return not asked.isdisjoint(SETTLED)


def _may_hold(condition: Condition, facts: Mapping[str, Fact], fixed: set[str]) -> bool:
    """Whether a condition can hold by the facts that stay fixed; the others are left open."""
    kind = condition[0]
    if kind == "all":
        return all(_may_hold(part, facts, fixed) for part in condition[1])
    if kind == "any":
        return any(_may_hold(part, facts, fixed) for part in condition[1])
    if kind == "in" and condition[1] in fixed:
        return holds(condition, facts)
    return True
