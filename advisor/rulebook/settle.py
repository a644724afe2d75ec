"""Brings the sources together: one start value, a working range, the published spread beside it, and the trail.

How the start is chosen
-----------------------
1. Only the start rules of the highest layer that has any are heard; lower ones are set aside and shown.
2. Each source gives a middle: the geometric mean of its low and high. Rows printed for another joint or position
   are first carried over by the adjusts that say how. Documents that repeat one another count once.
3. The start is the weighted median of those middles, on a logarithmic scale and smoothed between the two sources
   that straddle it, so that one outlying table cannot drag it and a small change of weight does not make it leap.
   Weights: kind of document times kind of evidence (`rules/vocabulary.yaml`).
4. The working range is what the sources print. A topic may ask for a range a person can use (`usable_ratio`, 1.7 for
   current): then it is the window of that high/low that holds the start and touches the most sources by weight, and
   never narrower than `least_spread` either side, since independent tables differ by that much on the same seam
   (measured by leaving each out in turn); a range of the shop's own trials stays as it was tried. What is cut off is
   not lost: the full published spread stands beside it.
5. A ceiling (`strictest: true`) is the lowest any source allows; nothing is averaged.
6. Then the other adjusts multiply, limits clamp, and the trail keeps every step.
7. Numbers that keep metal and people from harm are held to the shipped ones: whatever starts, adjusts and limits of
   higher layers say, a ceiling (`strictest`) is never raised, and a `never_below` number never goes below the lowest
   that the shipped rules alone give. Making either stricter is free.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from advisor.rulebook.conditions import Facts
from advisor.rulebook.library import Rulebook
from advisor.rulebook.rule import LAYERS, Rule
from advisor.rulebook.source_values import Compute, SourceValue, apply, converted, middle_of, source_values
from advisor.rulebook.vocabulary import Topic

_WINDOW_STEPS = 60
# A hair below one: what differs by less than this is equal, whatever the unit.
_UNDER = 1 - 1e-9
_EVIDENCE_RANK = ("trial", "read", "computed", "memory", "common-practice")


class Step(NamedTuple):
    """One step of the trail. kind: start, set-aside, together, adjust, limit."""

    kind: str
    text: str
    rule_id: str = ""
    low: float | None = None
    start: float | None = None
    high: float | None = None
    source: str = ""
    evidence: str = ""
    because: str = ""
    layer: str = LAYERS[0]


class Settled(NamedTuple):
    """A settled number in the house unit of its topic. evidence: the best evidence behind it; counts: independent
    sources by evidence; layer: the highest whose rules acted; voices: who says what, carried over to this case."""

    topic: str
    dimension: str
    low: float
    start: float
    high: float
    evidence: str
    counts: dict[str, int]
    layer: str
    voices: tuple[SourceValue, ...]
    trail: tuple[Step, ...]

    @property
    def spread(self) -> tuple[float, float]:
        """Lowest and highest number any source gives."""
        return min(voice.low for voice in self.voices), max(voice.high for voice in self.voices)

    def scaled(self, factor: float, step: Step) -> Settled:
        """The same with low, start and high multiplied, and the step noted."""
        return self._replace(
            low=self.low * factor,
            start=self.start * factor,
            high=self.high * factor,
            trail=(
                *self.trail,
                step._replace(low=self.low * factor, start=self.start * factor, high=self.high * factor),
            ),
        )


def settle(rulebook: Rulebook, topic_name: str, facts: Facts, compute: Compute) -> Settled | None:
    """The settled number of a topic for these facts, or None where no start rule covers them."""
    topic = rulebook.vocabulary.topics[topic_name]
    rules = rulebook.match(topic_name, facts)
    settled = _settle(rulebook, topic, rules, facts, compute)
    if settled is None or not topic.guarded or settled.layer == LAYERS[0]:
        return settled
    shipped = [rule for rule in rules if rule.layer == LAYERS[0]]
    return _held(settled, _settle(rulebook, topic, shipped, facts, compute), topic)


def _settle(rulebook: Rulebook, topic: Topic, rules: Sequence[Rule], facts: Facts, compute: Compute) -> Settled | None:
    starts = [rule for rule in rules if rule.effect == "start"]
    adjusts = [rule for rule in rules if rule.effect == "adjust"]
    voices = source_values(starts, facts, rulebook.vocabulary, compute)
    if not voices:
        return None
    top = max((voice.rule.layer for voice in voices), key=LAYERS.index)
    heard = converted([voice for voice in voices if voice.rule.layer == top], [r for r in adjusts if r.carries], facts)
    aside = [voice for voice in voices if voice.rule.layer != top]
    low, start, high = combine(heard, topic)
    trail = [_aside_step(voice, top) for voice in aside] + [_voice_step(voice) for voice in heard]
    trail.append(Step("together", _together_text(heard, topic, low, high), low=low, start=start, high=high))
    counts = _counts(heard)
    evidence = min(counts, key=_EVIDENCE_RANK.index)
    settled = Settled(topic.name, topic.dimension, low, start, high, evidence, counts, top, tuple(heard), tuple(trail))
    settled = _adjust(settled, [rule for rule in adjusts if not rule.carries])
    settled = _snap(settled, topic)
    settled = _limit(settled, [rule for rule in rules if rule.effect == "limit"])
    return settled._replace(layer=_highest_layer(settled, adjusts))


def _held(settled: Settled, shipped: Settled | None, topic: Topic) -> Settled:
    """Held to what the shipped rules alone give, where a higher layer would loosen it."""
    if shipped is None:
        return settled
    numbers = (settled.low, settled.start, settled.high)
    if topic.strictest:
        low, start, high = (min(number, shipped.high) for number in numbers)
        text = "held to the shipped ceiling: rules of one's own may lower it, never raise it"
    else:
        low, start, high = (max(number, shipped.low) for number in numbers)
        text = "held to the lowest shipped number: rules of one's own may raise it, never lower it"
    if (low, start, high) == numbers:
        return settled
    step = Step("limit", text, low=low, start=start, high=high)
    return settled._replace(low=low, start=start, high=high, trail=(*settled.trail, step))


def _highest_layer(settled: Settled, adjusts: Sequence[Rule]) -> str:
    """The highest layer whose rules took part."""
    carried = {rule_id for voice in settled.voices for rule_id in voice.carried}
    layers = [step.layer for step in settled.trail if step.kind != "set-aside"]
    layers += [rule.layer for rule in adjusts if rule.id in carried]
    return max(layers, key=LAYERS.index)


def combine(voices: Sequence[SourceValue], topic: Topic) -> tuple[float, float, float]:
    """(low, start, high) of several voices; see the module's text for how."""
    by_lineage: dict[str, list[SourceValue]] = {}
    for voice in voices:
        by_lineage.setdefault(voice.lineage, []).append(voice)
    pairs, spans = [], []
    for group in by_lineage.values():
        weight = max(voice.weight for voice in group)
        pairs.append((sum(voice.middle for voice in group) / len(group), weight))
        spans.append((min(voice.low for voice in group), max(voice.high for voice in group), weight))
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    if topic.strictest:
        least = min(span[1] for span in spans)
        return least, least, least
    if topic.sizes:
        return low, plain_median(pairs, upper=topic.never_below), high
    start = smooth_median(pairs)
    if topic.usable_ratio and low > 0:
        # Tables differ from one another; a shop's own trials say themselves how far good beads reach.
        least = 1.0 if all(voice.rule.evidence == "trial" for voice in voices) else topic.least_spread
        low, high = usable_window(spans, start, topic.usable_ratio, least)
    return min(low, start), start, max(high, start)


def usable_window(
    spans: Sequence[tuple[float, float, float]], start: float, ratio: float, least: float
) -> tuple[float, float]:
    """(low, high) of the window of high/low `ratio` that holds `start` and touches the most weight of sources.

    spans: (low, high, weight) of each source. Where all sources fit into one window it is no wider than they are, but
    reaches at least `least` times either side of the start.
    """
    lowest, highest = min(span[0] for span in spans), max(span[1] for span in spans)
    low, high = lowest, highest
    if highest > lowest * ratio:
        low, high = _best_window(spans, start, ratio)
        low, high = max(low, lowest), min(high, highest)
    low, high = min(low, start / least), max(high, start * least)
    if high > low * ratio:
        # The least spread may push one end out: give back at the other, keeping the start inside.
        low, high = (
            (max(low, start / least), low * ratio) if start / low > high / start / _UNDER else (high / ratio, high)
        )
        low = max(low, high / ratio)
    return min(low, start), max(high, start)


def _best_window(spans: Sequence[tuple[float, float, float]], start: float, ratio: float) -> tuple[float, float]:
    best, best_key = (start / math.sqrt(ratio), start * math.sqrt(ratio)), (-1.0, 0.0)
    for step in range(_WINDOW_STEPS + 1):
        low = start / ratio * ratio ** (step / _WINDOW_STEPS)
        high = low * ratio
        touched = sum(weight for left, right, weight in spans if right >= low * _UNDER and left <= high / _UNDER)
        off_centre = abs(math.log(low * math.sqrt(ratio) / start))
        # Rounded, so that a tie is a tie in amperes and in milliamperes: the lower window then stands.
        key = (round(touched, 9), -round(off_centre, 9))
        if key > best_key:
            best, best_key = (low, high), key
    return best


def plain_median(pairs: Sequence[tuple[float, float]], *, upper: bool = False) -> float:
    """Weighted median that is one of the values; at a tie the smaller one, or the larger one where `upper`."""
    ordered = sorted(pairs, reverse=upper)
    half = sum(weight for _, weight in ordered) / 2
    passed = 0.0
    for value, weight in ordered:
        passed += weight
        if passed >= half - 1e-12:
            return value
    return ordered[-1][0]


def smooth_median(pairs: Sequence[tuple[float, float]]) -> float:
    """Weighted median, interpolated between the centres of the weights (on a log scale where all are positive)."""
    # Values equal but for the last digits stand in the order of their weights, in amperes as in milliamperes.
    ordered = sorted(pairs, key=lambda pair: (float(f"{pair[0]:.9g}"), pair[1]))
    if ordered[0][0] == ordered[-1][0]:
        return ordered[0][0]
    logs = all(value > 0 for value, _ in ordered)
    values = [math.log(value) if logs else value for value, _ in ordered]
    centres, passed = [], 0.0
    for _, weight in ordered:
        centres.append(passed + weight / 2)
        passed += weight
    half = passed / 2
    found = values[-1]
    if half <= centres[0]:
        found = values[0]
    else:
        for index in range(1, len(values)):
            if half <= centres[index]:
                share = (half - centres[index - 1]) / (centres[index] - centres[index - 1])
                found = values[index - 1] + share * (values[index] - values[index - 1])
                break
    return math.exp(found) if logs else found


def _counts(voices: Sequence[SourceValue]) -> dict[str, int]:
    """Independent sources by evidence: documents of one lineage count once, by the best evidence among them."""
    best: dict[str, str] = {}
    for voice in voices:
        evidence = voice.rule.evidence
        best[voice.lineage] = min(best.get(voice.lineage, evidence), evidence, key=_EVIDENCE_RANK.index)
    return dict(Counter(best.values()))


def _voice_step(voice: SourceValue) -> Step:
    source = voice.rule.sources[0]
    carried = f"; carried over by {', '.join(voice.carried)}" if voice.carried else ""
    text = f"{voice.row}; weight {voice.weight:g}{carried}"
    return Step(
        "start",
        text,
        voice.rule.id,
        voice.low,
        voice.middle,
        voice.high,
        source.label(),
        source.evidence,
        voice.rule.because,
        voice.rule.layer,
    )


def _aside_step(voice: SourceValue, top: str) -> Step:
    source = voice.rule.sources[0]
    text = f"set aside: the {top} layer has its own"
    return Step("set-aside", text, voice.rule.id, voice.low, voice.middle, voice.high, source.label(), source.evidence)


def _together_text(voices: Sequence[SourceValue], topic: Topic, low: float, high: float) -> str:
    lineages = len({voice.lineage for voice in voices})
    text = "one source" if lineages == 1 else f"weighted median of {lineages} independent sources"
    if topic.strictest:
        return text if lineages == 1 else f"the strictest of {lineages} independent sources"
    widest = (min(voice.low for voice in voices), max(voice.high for voice in voices))
    if topic.usable_ratio and (low > widest[0] * 1.001 or high < widest[1] * 0.999):
        text += f"; range held to high/low {topic.usable_ratio:g}, where most sources are touched"
    return text


def _rule_step(kind: str, rule: Rule, text: str) -> Step:
    source = rule.sources[0]
    label, evidence = source.label(), source.evidence
    return Step(kind, text, rule.id, source=label, evidence=evidence, because=rule.because, layer=rule.layer)


def _adjust(settled: Settled, adjusts: Sequence[Rule]) -> Settled:
    for rule in sorted(adjusts, key=lambda item: (LAYERS.index(item.layer), item.id)):
        if "factor" in rule.body:
            factor = float(rule.body["factor"])
            settled = settled.scaled(factor, _rule_step("adjust", rule, f"times {factor:g}"))
            continue
        low, start, high = (apply(rule, value) for value in (settled.low, settled.start, settled.high))
        step = _rule_step("adjust", rule, f"offset {rule.body['offset']:+g}")._replace(low=low, start=start, high=high)
        settled = settled._replace(low=low, start=start, high=high, trail=(*settled.trail, step))
    return settled


def _snap(settled: Settled, topic: Topic) -> Settled:
    """To the nearest stocked size, where the topic has sizes."""
    if not topic.sizes:
        return settled

    def nearest(value: float) -> float:
        return min(topic.sizes, key=lambda size: (abs(math.log(size / max(value, 1e-9))), size))

    low, start, high = nearest(settled.low), nearest(settled.start), nearest(settled.high)
    step = Step("together", "nearest stocked sizes", low=low, start=start, high=high)
    return settled._replace(low=low, start=start, high=high, trail=(*settled.trail, step))


def _limit(settled: Settled, limits: Sequence[Rule]) -> Settled:
    for rule in sorted(limits, key=lambda item: item.id):
        floor, ceiling = rule.body.get("floor", -math.inf), rule.body.get("ceiling", math.inf)
        low, start, high = (min(max(v, floor), ceiling) for v in (settled.low, settled.start, settled.high))
        words = [f"{key} {value:g}" for key, value in sorted(rule.body.items())]
        acted = (low, start, high) != (settled.low, settled.start, settled.high)
        step = _rule_step("limit", rule, f"{', '.join(words)}{'' if acted else ' (not reached)'}")
        step = step._replace(low=low, start=start, high=high, layer=rule.layer if acted else LAYERS[0])
        settled = settled._replace(low=low, start=start, high=high, trail=(*settled.trail, step))
    return settled


def covered(rulebook: Rulebook, topic_name: str, facts: Facts, driver: str) -> tuple[float, float] | None:
    """The span of `driver` for which start rules exist when all other facts stay: what a no-rule answer names."""
    spans: list[tuple[float, float]] = []
    loose = {name: fact for name, fact in facts.items() if name != driver}
    for rule in rulebook.index.rules(topic_name):
        if rule.effect != "start" or rule.body.get("over") != driver:
            continue
        first, last = _ends(rule.body)
        for at in (first, last, middle_of(first, last)):
            if rule in rulebook.match(topic_name, {**loose, driver: at}):
                spans.append((first, last))
                break
    return (min(low for low, _ in spans), max(high for _, high in spans)) if spans else None


def _ends(body: Mapping[str, Any]) -> tuple[float, float]:
    """First and last value of the driver in a table of rows or of sizes with their bands."""
    if "rows" in body:
        return body["rows"][0][0], body["rows"][-1][0]
    return min(row[1] for row in body["sizes"]), max(row[2] for row in body["sizes"])
