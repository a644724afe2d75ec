"""What a shop's trials teach: its own factor on each published setting, and the table a rule of it would have.

Only good trials move the factor, and only from the published start: a rule that was learnt before teaches nothing. A
trial that went wrong is never counted as one that went well, and the range proposed stops short of its setting. The
table reaches over the sizes that were tried and no further, and its numbers over the multiples of the published start
that gave good beads.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from statistics import median
from typing import NamedTuple

from advisor.answer.answer import Setting
from advisor.journal.agreement import apart, lean, two_camps
from advisor.journal.estimate import NINETY, Estimate, estimate, prior_scale
from advisor.journal.trial import Trial
from advisor.rulebook.vocabulary import Topic, Vocabulary
from advisor.trials.scope import Published, SeamKind, same_size

LEAST = 3
# What is more probably a slip than a bead.
_SLIP = 0.5
# Of the way to a setting that went wrong, how far the range may go.
_SHORT_OF_BAD = 0.5
_WIDE = 1.2
_SCALED = ("current", "voltage", "gas_flow", "speed", "wire_feed", "time", "frequency", "percent", "angle", "length")


class TrialValue(NamedTuple):
    """One trial of one setting. size: thickness of the thinner member [mm]; used: what was set [house unit];
    ratio: used over the published start."""

    trial: Trial
    size: float
    used: float
    ratio: float
    published: Setting


class SizeRow(NamedTuple):
    """One size tried [mm]: how many good trials, what is published, and what is proposed [house unit]."""

    size: float
    trials: int
    published: tuple[float, float, float]
    low: float
    start: float
    high: float
    example: Trial


class Learnt(NamedTuple):
    """What the trials say of one setting. status: proposed, too-few, disagree or nothing.

    counted: the good entries behind the factor; slips: those of them taken for slips; left_out: id and why; disagree,
    notes: sentences; reach: factor either side of the start that gave good beads.
    """

    topic: Topic
    status: str
    counted: tuple[TrialValue, ...] = ()
    others: tuple[TrialValue, ...] = ()
    slips: tuple[str, ...] = ()
    left_out: tuple[tuple[str, str], ...] = ()
    found: Estimate | None = None
    factor: float = 1.0
    reach: float = 1.0
    rows: tuple[SizeRow, ...] = ()
    disagree: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    def ids(self, verdict: str = "good") -> list[str]:
        """Ids of the entries of a verdict, slips left out."""
        entries = self.counted if verdict == "good" else self.others
        return [e.trial.id for e in entries if e.trial.verdict == verdict and e.trial.id not in self.slips]


def why_not_learnt(topic: Topic) -> str:
    """Why no factor is learnt for a topic; empty where one is."""
    if topic.form != "number":
        return "it is a choice, not a number"
    if topic.strictest or topic.guarded:
        return "it keeps metal and people from harm, and is not for trials to move"
    if topic.sizes:
        return "it comes in stocked sizes; write a rule: prestrike rules new"
    return "" if topic.dimension in _SCALED else "it does not scale by a factor"


def topics_in(seam: SeamKind, vocabulary: Vocabulary) -> list[Topic]:
    """The settings that trials of a seam say, current first, that a factor can be learnt for."""
    named = {name for trial in seam.trials for name in trial.used}
    topics = [topic for topic in vocabulary.topics.values() if topic.name in named]
    return [topic for topic in topics if not why_not_learnt(topic)]


def learn(seam: SeamKind, topic: Topic, published: Published) -> Learnt:
    """What the trials of a seam teach of one setting."""
    entries, left_out = _entries(seam, topic, published)
    good = tuple(entry for entry in entries if entry.trial.verdict == "good")
    others = tuple(entry for entry in entries if entry.trial.verdict != "good")
    if not good:
        return Learnt(topic, "nothing", (), others, left_out=left_out)
    found = _estimate(good)
    slips = tuple(e.trial.id for e, share in zip(good, found.slips, strict=True) if share > _SLIP)
    kept = [entry for entry in good if entry.trial.id not in slips]
    learnt = Learnt(topic, "too-few", good, others, slips, left_out, found, found.factor)
    if len(kept) < LEAST:
        return learnt
    disagree = _disagreements(kept)
    ratios = [entry.ratio for entry in kept]
    factor = min(max(found.factor, min(ratios)), max(ratios))
    bad = [entry.ratio for entry in others if entry.trial.verdict == "bad"]
    reach = _reach(factor, found.scatter, ratios, bad)
    notes = _notes(found, factor, ratios, bad)
    learnt = learnt._replace(factor=factor, reach=reach, disagree=disagree, notes=notes)
    rows = _rows(kept, factor, reach)
    return learnt._replace(status="disagree" if disagree else "proposed", rows=rows)


def _entries(
    seam: SeamKind, topic: Topic, published: Published
) -> tuple[list[TrialValue], tuple[tuple[str, str], ...]]:
    entries, left_out = [], []
    for trial in seam.trials:
        if topic.name not in trial.used:
            continue
        settings = published.settings(trial)
        used = trial.used[topic.name]
        if isinstance(settings, str):
            left_out.append((trial.id, settings))
        elif topic.name not in settings or settings[topic.name].start <= 0:
            left_out.append((trial.id, f"nothing is published for its {topic.label.casefold()}"))
        elif used <= 0:
            left_out.append((trial.id, f"{used:g} is no multiple of what is published"))
        else:
            setting = settings[topic.name]
            entries.append(TrialValue(trial, trial.case.thinner, used, used / setting.start, setting))
    return entries, tuple(left_out)


def _estimate(entries: Sequence[TrialValue]) -> Estimate:
    scales = []
    for entry in entries:
        low, high = entry.published.spread_low, entry.published.spread_high
        scales.append(prior_scale(low, high) if low > 0 else prior_scale(1, 1))
    return estimate([entry.ratio for entry in entries], median(scales))


def _reach(factor: float, scatter: float, ratios: Sequence[float], bad: Sequence[float]) -> float:
    """How far either side of the start good beads were made: never past the farthest one, nor near a bad one that
    stands apart from them."""
    reach = min(NINETY * scatter, math.log(max(ratios) / factor), math.log(factor / min(ratios)))
    for ratio in bad:
        if not _among(ratio, factor, ratios, bad):
            reach = min(reach, _SHORT_OF_BAD * abs(math.log(ratio / factor)))
    return math.exp(max(reach, 0.0))


def _among(ratio: float, factor: float, ratios: Sequence[float], bad: Sequence[float]) -> bool:
    """True for a bad one that has as many good ones at least as far out on its side as bad ones up to there."""
    side = 1 if ratio >= factor else -1
    beyond = sum(side * (good - ratio) >= 0 for good in ratios)
    return beyond >= sum(0 <= side * (other - factor) <= side * (ratio - factor) for other in bad)


def _rows(kept: Sequence[TrialValue], factor: float, reach: float) -> tuple[SizeRow, ...]:
    rows = []
    for group in grouped(kept):
        published = tuple(median(getattr(e.published, name) for e in group) for name in ("low", "start", "high"))
        start = published[1] * factor
        size = min(e.size for e in group)
        row = SizeRow(size, len(group), (published[0], published[1], published[2]), start / reach, start, start * reach,
                  group[-1].trial)  # fmt: skip
        rows.append(row)
    return tuple(rows)


def grouped(entries: Sequence[TrialValue]) -> list[list[TrialValue]]:
    """Entries by size, thinnest first; the same stock sold in inches and in millimetres is one size."""
    groups: list[list[TrialValue]] = []
    for entry in sorted(entries, key=lambda item: item.size):
        if groups and same_size(groups[-1][0].size, entry.size):
            groups[-1].append(entry)
        else:
            groups.append([entry])
    return groups


_TOLD_APART: Mapping[str, Callable[[Trial], str]] = {
    "machine": lambda trial: trial.case.machine,
    "filler": lambda trial: trial.chosen.get("filler", ""),
    "welder": lambda trial: trial.by,
}


def _disagreements(kept: Sequence[TrialValue]) -> tuple[str, ...]:
    """What makes one factor wrong for all of them, in sentences; empty where they agree."""
    found = []
    for name, of in _TOLD_APART.items():
        found += _by_name(kept, name, of)
    leaning = lean([entry.ratio for entry in kept], [entry.size for entry in kept])
    if leaning is not None:
        sizes = sorted(entry.size for entry in kept)
        found.append(
            f"they lean with thickness: {leaning[0]:.2f} times the published start at {sizes[0]:.3g} mm, "
            f"{leaning[1]:.2f} at {sizes[-1]:.3g} mm; take a narrower band with --from and --to"
        )
    camps = None if found else two_camps([entry.ratio for entry in kept])
    if camps is not None:
        found.append(
            f"they fall into two camps that nothing logged tells apart: {camps.in_low} about {camps.low:.2f} and "
            f"{camps.in_high} about {camps.high:.2f} times the published start; find out what differed"
        )
    return tuple(found)


def _by_name(kept: Sequence[TrialValue], name: str, of: Callable[[Trial], str]) -> list[str]:
    groups: dict[str, list[TrialValue]] = {}
    for entry in kept:
        groups.setdefault(of(entry.trial), []).append(entry)
    known = [(word or "none named", _estimate(group)) for word, group in groups.items() if len(group) >= LEAST]
    for index, (word, first) in enumerate(known):
        for other, second in known[index + 1 :]:
            if apart(first, second):
                how = "take one with --machine" if name == "machine" else "log which, and learn from one of them"
                return [
                    f"by {name} they differ: {word} {first.factor:.2f}, {other} {second.factor:.2f} times the "
                    f"published start; {how}"
                ]
    return []


def _notes(found: Estimate, factor: float, ratios: Sequence[float], bad: Sequence[float]) -> tuple[str, ...]:
    notes = []
    if found.low <= 1 <= found.high:
        notes.append("the published start lies inside the interval: the trials do not speak against it")
    if found.scatter > math.log(_WIDE):
        notes.append(
            f"good beads were made {100 * (math.exp(found.scatter) - 1):.0f} % to either side: this setting may matter "
            "little, or something else changed that is not logged"
        )
    among = [ratio for ratio in bad if _among(ratio, factor, ratios, bad)]
    if among:
        what = "a bad trial was" if len(among) == 1 else f"{len(among)} bad trials were"
        notes.append(f"{what} set like good ones: it was not this setting alone that spoilt it")
    apart_from = [ratio for ratio in bad if ratio not in among]
    sides = ((sum(r < factor for r in apart_from), "below"), (sum(r >= factor for r in apart_from), "above"))
    if apart_from:
        where = " and ".join(f"{count} {word}" for count, word in sides if count)
        notes.append(f"bad trials lie apart ({where} the start); the range stops short of half way to the nearest")
    return tuple(notes)
