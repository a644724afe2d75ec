"""Edge preparation and what goes with it: groove, root, edge break, clean width, tacks, allowances."""

from __future__ import annotations

from typing import NamedTuple

from advisor.answer.answer import Setting
from advisor.answer.settings import settled
from advisor.rulebook.choices import Option, rank
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.settle import Step
from advisor.setup.tack_plan import tack_plan

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
_IN_WORDS = {
    "none": "nothing",
    "temporary-bar": "a bar",
    "grooved-bar": "a grooved bar",
    "copper": "copper",
    "purge": "argon",
}
PLATE, SHORT_OF_CORNER = 6.35, 1.6  # mm: 1/4 in, 1/16 in
# What only a bevelled edge has, and the words that name one.
_AT_BEVEL, _BEVELLED = ("groove_angle", "root_face"), ("V", "bevel")
# What stands behind the root, as rules look at it, by how its option begins.
_BEHIND = (
    ("grooved bar", "grooved-bar"),
    ("tight copper", "temporary-bar"),
    ("flat bar", "temporary-bar"),
    ("copper", "copper"),
    ("argon", "purge"),
    ("none", "none"),
)


class Prepared(NamedTuple):
    """Numbers and ranked choices of the preparation."""

    numbers: dict[str, Setting]
    choices: dict[str, list[Option]]
    notes: tuple[str, ...] = ()


def prepare(rulebook: Rulebook, facts: dict[str, Fact], upper: float, seam: float | None = None) -> Prepared:
    """What is decided about edges and holding before the arc, as far as rules cover it.

    facts: gains what stands behind the root and how the seam is tacked, for what comes after. upper: thickness of the
    first member, the upper one of a lap; seam: its length [mm].
    """
    choices = {topic: rank(rulebook.match(topic, facts)) for topic in CHOICES}
    facts["backing"] = facts.get("backing") or _behind(_best(choices["backing"]))
    numbers = {}
    for topic in NUMBERS:
        setting = settled(rulebook, topic, facts)
        if setting is not None:
            numbers[topic] = setting
    edge = _best(choices["groove"])
    if not any(word in edge for word in _BEVELLED):
        numbers = {topic: setting for topic, setting in numbers.items() if topic not in _AT_BEVEL}
    _no_hotter_than_between_runs(numbers)
    if facts["joint"] == "lap":
        _inside_the_edge(numbers, upper)
    if seam is not None:
        facts["tacking"] = _tack_evenly(numbers, seam)
    mine = _not_as_advised(str(facts["backing"]), choices["backing"])
    return Prepared(numbers, {topic: options for topic, options in choices.items() if options}, mine)


def _best(options: list[Option]) -> str:
    return next((option.name for option in options if option.rank == 1), "")


def _behind(option: str) -> str | None:
    return next((fact for words, fact in _BEHIND if option.startswith(words)), None)


def _not_as_advised(behind: str, options: list[Option]) -> tuple[str, ...]:
    """Said where what stands behind the root is not what is advised first."""
    best = _best(options)
    if not best or behind == "None" or _behind(best) in (behind, None):
        return ()
    return (f"behind the root you have {_IN_WORDS[behind]}; advised first: {best}",)


def _no_hotter_than_between_runs(numbers: dict[str, Setting]) -> None:
    """Metal is no hotter before the first run than it may be between runs."""
    before, between = numbers.get("preheat"), numbers.get("interpass")
    if before is None or between is None or before.start <= between.start:
        return
    most = between.start
    because = "Before the first run the metal may be no hotter than between runs."
    step = Step("limit", "held to the interpass limit", low=most, start=most, high=most, because=because)
    numbers["preheat"] = before._replace(low=most, start=most, high=most, trail=(*before.trail, step))


def _inside_the_edge(numbers: dict[str, Setting], upper: float) -> None:
    """A fillet along an edge is no larger than the sheet, and from 1/4 in up stays 1/16 in short of its corner (AWS
    D1.1, from memory, as the rules of the joints have it)."""
    leg = numbers.get("fillet_leg")
    most = upper if upper < PLATE else upper - SHORT_OF_CORNER
    if leg is None or leg.high <= most:
        return
    low, start, high = (min(value, most) for value in (leg.low, leg.start, leg.high))
    because = "A larger fillet only melts the corner of the upper sheet away."
    step = Step("limit", "held inside the edge it lies on", low=low, start=start, high=high, because=because)
    numbers["fillet_leg"] = leg._replace(low=low, start=start, high=high, trail=(*leg.trail, step))


def _tack_evenly(numbers: dict[str, Setting], seam: float) -> str | None:
    """The pitch that divides this seam [mm] evenly, none where one tack holds it. Returns how the seam is tacked."""
    plan = tack_plan(seam, numbers.get("tack_length"), numbers.get("tack_pitch"))
    if plan is None:
        return None
    pitch, size = numbers["tack_pitch"], numbers["tack_length"]
    if size.start > plan.size:
        numbers["tack_length"] = size._replace(low=min(size.low, plan.size), start=plan.size, high=plan.size)
    if len(plan.tacks) == 1:
        del numbers["tack_pitch"]
        return "one"
    even = plan.tacks[1].place - plan.tacks[0].place
    low, high = min(pitch.low, even), max(pitch.high, even)
    because = "Tacks stand in even spaces along the seam, no further apart than the settled pitch."
    step = Step("limit", f"{len(plan.tacks)} tacks on {seam:g} mm", low=low, start=even, high=high, because=because)
    numbers["tack_pitch"] = pitch._replace(low=low, start=even, high=high, trail=(*pitch.trail, step))
    return "several"
