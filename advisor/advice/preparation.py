"""Edge preparation and what goes with it: groove, root, edge break, clean width, tacks, allowances."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from advisor.advice.answer import Setting
from advisor.advice.settings import settled
from advisor.rulebook.choices import Option, rank
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook

NUMBERS = (
    "groove_angle",
    "root_face",
    "root_gap",
    "edge_break",
    "fillet_leg",
    "overlap",
    "joint_gap",
    "clean_width",
    "clean_lasts",
    "tack_length",
    "tack_pitch",
    "preheat_wanted",
    "preheat",
    "interpass",
    "machining_stock",
    "bore_clearance",
)
CHOICES = ("groove", "backing", "cut_method")


class Prepared(NamedTuple):
    """Numbers and ranked choices of the preparation."""

    numbers: dict[str, Setting]
    choices: dict[str, list[Option]]


def prepare(rulebook: Rulebook, facts: Mapping[str, Fact]) -> Prepared:
    """What is decided about edges and holding before the arc, as far as rules cover it."""
    numbers = {}
    for topic in NUMBERS:
        setting = settled(rulebook, topic, facts)
        if setting is not None:
            numbers[topic] = setting
    choices = {topic: rank(rulebook.match(topic, facts)) for topic in CHOICES}
    return Prepared(numbers, {topic: options for topic, options in choices.items() if options})
