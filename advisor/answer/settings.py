"""Numbers of the answer: settled for the joint, or for each member and brought together for an unequal pair."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.answer.answer import PublishedValue, Setting
from advisor.job.facts import Workpiece, member_facts
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.rule import LAYERS
from advisor.rulebook.settle import Settled, Step, settle
from advisor.rulebook.source_values import SourceValue
from advisor.shop.rules_in_force import compute
from advisor.units.quantities import HOUSE_UNITS

Facts = Mapping[str, Fact]


def settled(rulebook: Rulebook, topic: str, facts: Facts) -> Setting | None:
    """The setting of a topic for these facts; None where no rule covers them."""
    found = settle(rulebook, topic, facts, compute)
    return as_setting(rulebook, found) if found else None


def as_setting(rulebook: Rulebook, found: Settled) -> Setting:
    """A settled number as a setting of the answer."""
    low, high = found.spread
    return Setting(
        name=found.topic,
        label=rulebook.vocabulary.topics[found.topic].label,
        low=found.low,
        start=found.start,
        high=found.high,
        unit=HOUSE_UNITS[found.dimension],
        dimension=found.dimension,
        evidence=found.evidence,
        counts=found.counts,
        layer=found.layer,
        spread_low=low,
        spread_high=high,
        said=tuple(_said(voice) for voice in found.voices),
        trail=found.trail,
    )


def _said(voice: SourceValue) -> PublishedValue:
    source = voice.rule.sources[0]
    return PublishedValue(source.label(), voice.low, voice.high, source.evidence, voice.rule.id, voice.rule.differs)


def each_member(
    rulebook: Rulebook, topic: str, joint: Facts, pieces: Sequence[Workpiece]
) -> list[tuple[Workpiece, Setting | None]]:
    """The setting each member would need welded to its like."""
    return [(piece, settled(rulebook, topic, member_facts(joint, piece))) for piece in pieces]


def mean_of_members(pairs: Sequence[tuple[Workpiece, Setting]]) -> Setting:
    """The mean of what each member would need welded to its like.

    For thin plates the power for the pair is the mean of the two equal pairs' powers: each plate takes from the
    joint line what half of its own like pair would take (thin-plate conduction, computed in physics/heat_split.py).
    """
    (first_piece, first), (second_piece, second) = pairs
    if first_piece.thickness == second_piece.thickness and first_piece.material.id == second_piece.material.id:
        return first
    mean = Step(
        "together",
        "mean of the two members, each as if welded to its like",
        low=(first.low + second.low) / 2,
        start=(first.start + second.start) / 2,
        high=(first.high + second.high) / 2,
        evidence="computed",
    )
    said = tuple(item._replace(member=label) for label, setting in _labelled(pairs) for item in setting.said)
    trail = tuple(
        step._replace(text=f"{label}: {step.text}") for label, setting in _labelled(pairs) for step in setting.trail
    )
    return first._replace(
        layer=max(first.layer, second.layer, key=LAYERS.index),
        low=(first.low + second.low) / 2,
        start=(first.start + second.start) / 2,
        high=(first.high + second.high) / 2,
        evidence="computed",
        counts=_fewer(first.counts, second.counts),
        spread_low=min(first.spread_low, second.spread_low),
        spread_high=max(first.spread_high, second.spread_high),
        said=said,
        trail=(*trail, mean),
        note="mean of the two members, each as if welded to its like",
    )


def _labelled(pairs: Sequence[tuple[Workpiece, Setting]]) -> list[tuple[str, Setting]]:
    return [(f"{piece.material.label} {piece.thickness:g} mm", setting) for piece, setting in pairs]


def _fewer(first: Mapping[str, int], second: Mapping[str, int]) -> dict[str, int]:
    """A pair is known no better than the member with fewer sources."""
    return dict(first if sum(first.values()) <= sum(second.values()) else second)
