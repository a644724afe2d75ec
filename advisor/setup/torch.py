"""Torch brazing (912) and soldering (942): the room a filler leaves below the metal's melting, and what goes with it.

A filler is settled by melting points, not by a current: every filler the rules name is held against the lowest
solidus of the members, and those that would melt with the part are struck out, with the figures.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple, Protocol

from advisor.answer.answer import NoRule, PublishedValue, Refusal, Setting
from advisor.answer.settings import settled
from advisor.answer.steps import refusals
from advisor.job.job import Job
from advisor.job.material import Material
from advisor.rulebook.choices import Option, Reason, rank
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.settle import Step, covered

CHOICES = ("flux", "flame")
NUMBERS = ("filler_solidus", "filler_liquidus", "working_temperature", "filler_diameter", "lens_shade")
TOO_CLOSE = ("none", "expert")
# Trade names of fillers, as people write them after ER or alone, and the class the rules speak of.
ALSO_CALLED = {
    "4047": "BAlSi-4",
    "4045": "BAlSi-5",
    "4343": "BAlSi-2",
    "4145": "BAlSi-3",
    "alsi12": "BAlSi-4",
    "al112": "BAlSi-4",
    "al104": "BAlSi-4",
    "alsi10": "BAlSi-5",
    "ag156": "BAg-7",
    "znal2": "Zn98Al2",
    "znal22": "Zn78Al22",
    "sn60pb40": "Sn60Pb40",
}


class Draft(Protocol):
    """What `setup` has decided so far, as far as a flame needs it."""

    rulebook: Rulebook
    job: Job
    materials: tuple[Material, ...]
    facts: dict[str, Fact]
    settings: dict[str, Setting]
    choices: dict[str, list[Option]]
    no_rule: list[NoRule]
    notes: list[str]
    refused: tuple[Refusal, ...]


class Room(NamedTuple):
    """A filler held against the metal. solidus, liquidus [degC]; margin [K]; control: how closely heat must be held."""

    filler: str
    base: str
    solidus: float
    liquidus: float
    margin: float
    control: str
    setting: Setting


def decide(draft: Draft) -> None:
    """Filler, flux, flame and numbers into the draft; refusals that the margin brings; a no-rule where none speaks."""
    options = rank(draft.rulebook.match("filler", draft.facts))
    wanted = _named(str(draft.facts.get("filler") or ""), options)
    rooms = {option.name: _room(draft, option.name) for option in options}
    _strike_out(options, {name: room for name, room in rooms.items() if room})
    chosen = _chosen(draft, options, wanted, rooms)
    draft.choices["filler"] = _asked_first(options, wanted)
    if chosen:
        draft.facts["filler"] = chosen
        _room_into(draft, rooms.get(chosen))
    draft.refused = refusals(draft.rulebook, draft.facts)
    if draft.refused or not _covered(draft, chosen):
        return
    for topic in CHOICES:
        draft.choices[topic] = rank(draft.rulebook.match(topic, draft.facts))
        draft.facts[topic] = next((option.name for option in draft.choices[topic] if option.rank == 1), None)
    for topic in NUMBERS:
        setting = settled(draft.rulebook, topic, draft.facts)
        if setting is not None:
            draft.settings[topic] = setting
    if "filler_diameter" not in draft.settings:
        draft.no_rule.append(_too_thick(draft))


def control_of(settings: Mapping[str, Setting]) -> str:
    """How closely the heat must be held by an answer's settled margin; empty where none is settled."""
    from advisor.physics.brazing import control_demand

    margin = settings.get("brazing_margin")
    return control_demand(margin.start) if margin else ""


def _named(text: str, options: Iterable[Option]) -> str:
    """The class a filler named by the user means, as the rules spell it; the user's own word where none fits."""
    if not text:
        return ""
    bare = text.upper().removeprefix("ER").casefold()
    if bare in ALSO_CALLED:
        return ALSO_CALLED[bare]
    return next((option.name for option in options if option.name.casefold() in (bare, text.casefold())), bare.upper())


def _room(draft: Draft, filler: str) -> Room | None:
    """The margin of a filler; None where a melting point is not known."""
    from advisor.physics.brazing import brazing_margin, control_demand

    liquid = settled(draft.rulebook, "filler_liquidus", {**draft.facts, "filler": filler})
    known = [(material.value("solidus"), material) for material in draft.materials]
    if liquid is None or any(value is None for value, _ in known):
        return None
    solidus, material = min(((value or 0.0, material) for value, material in known), key=lambda pair: pair[0])
    margin = brazing_margin(solidus, liquid.start)
    setting = _margin_setting(draft.rulebook, filler, material, liquid, solidus, margin)
    control = control_demand(margin)
    return Room(filler, material.label, solidus, liquid.start, margin, control, setting)


def _margin_setting(
    rulebook: Rulebook, filler: str, material: Material, liquid: Setting, solidus: float, margin: float
) -> Setting:
    """The margin as a number of the answer, with its trail: solidus of the base, liquidus of the filler, difference."""
    low, high = solidus - liquid.spread_high, solidus - liquid.spread_low
    source = next(item["source"][0] for item in material.properties if item["name"] == "solidus")
    counted = {"computed": 1}
    base = Step(
        "start",
        f"{material.label} begins to melt at {solidus:.0f} °C",
        start=solidus,
        source=str(source["title"]),
        evidence=str(source["evidence"]),
    )
    spread = liquid.spread_high - liquid.spread_low >= 1
    printed = f" (printed {liquid.spread_low:.0f} to {liquid.spread_high:.0f})" if spread else ""
    run = Step(
        "adjust",
        f"{filler} is all liquid at {liquid.start:.0f} °C{printed}",
        rule_id=liquid.said[0].rule_id,
        start=liquid.start,
        source=liquid.said[0].source,
        evidence=liquid.evidence,
    )
    left = Step("together", "base solidus less filler liquidus", low=low, start=margin, high=high, evidence="computed")
    said = tuple(
        PublishedValue(f"{item.source} for {filler}; {source['title']} for {material.label}", solidus - item.high,
             solidus - item.low, "computed", item.rule_id)
        for item in liquid.said
    )  # fmt: skip
    topic = rulebook.vocabulary.topics["brazing_margin"]
    return Setting(
        "brazing_margin", topic.label, low, margin, high, "K", topic.dimension, "computed", counted, "built-in", low,
        high, said, (base, run, left), f"{filler} on {material.label}",
    )  # fmt: skip


def _strike_out(options: list[Option], rooms: Mapping[str, Room]) -> None:
    """Advise against every filler that leaves too little room, with the figures; after the firsts, most room leads."""
    for option in options:
        room = rooms.get(option.name)
        if room and room.control in TOO_CLOSE and not option.avoided:
            because = (
                f"It is all liquid at {room.liquidus:.0f} °C and {room.base} begins to melt at {room.solidus:.0f} °C: "
                f"{room.margin:.0f} °C of room, where guidance wants about 40 and never under 5."
            )
            option.reasons.append(Reason("avoid", "brazing_margin", because, "worked out here", "computed"))
    options.sort(key=lambda option: (option.avoided, not _first(option), -_margin(rooms.get(option.name))))
    for place, option in enumerate(options, 1):
        option.rank = 0 if option.avoided else place


def _first(option: Option) -> bool:
    return any(reason.verdict == "first" for reason in option.reasons)


def _margin(room: Room | None) -> float:
    return room.margin if room else 0.0


def _chosen(draft: Draft, options: list[Option], wanted: str, rooms: Mapping[str, Room | None]) -> str:
    """The filler the answer stands on: the user's, else the best that fits, else the one with the most room."""
    if wanted:
        if wanted not in {option.name for option in options}:
            text = f"no rule speaks of {wanted} as filler for this job: nothing here checks it"
            draft.notes.append(text)
        elif any(option.name == wanted and option.avoided for option in options):
            reason = next(item for item in _of(options, wanted).reasons if item.verdict == "avoid")
            draft.notes.append(f"you asked for {wanted}: advised against. {reason.because}")
        return wanted
    best = next((option.name for option in options if option.rank == 1), "")
    struck = [room for room in rooms.values() if room and not _by_rule(_of(options, room.filler))]
    if best or not struck:
        return best
    return max(struck, key=lambda room: (room.margin, room.filler)).filler


def _asked_first(options: list[Option], wanted: str) -> list[Option]:
    """What the user asked for stands first, unless it is advised against."""
    if not any(option.name == wanted and option.rank for option in options):
        return options
    options = sorted(options, key=lambda option: (option.name != wanted, option.avoided, option.rank))
    for place, option in enumerate(options, 1):
        option.rank = 0 if option.avoided else place
    return options


def _of(options: Iterable[Option], name: str) -> Option:
    return next(option for option in options if option.name == name)


def _by_rule(option: Option) -> bool:
    """Struck out by a rule, not by its margin alone."""
    return any(reason.verdict == "avoid" and reason.rule_id != "brazing_margin" for reason in option.reasons)


def _room_into(draft: Draft, room: Room | None) -> None:
    if room is None:
        return
    draft.settings["brazing_margin"] = room.setting
    draft.facts["heat_control"] = room.control
    draft.notes.append(
        f"{room.base} begins to melt at {room.solidus:.0f} °C, {room.filler} is all liquid at {room.liquidus:.0f} °C: "
        f"{room.margin:.0f} °C of room ({_SAYS[room.control]})"
    )


_SAYS = {
    "ordinary": "40 or more is wanted: enough",
    "close": "under the 40 that is wanted: only with a practised hand",
    "expert": "under 5: no hand torch holds that",
    "none": "none: the part melts with the filler",
}


def _covered(draft: Draft, chosen: str) -> bool:
    if chosen and "brazing_margin" in draft.settings:
        return True
    pieces = ", ".join(material.label for material in draft.materials)
    text = f"no rule gives a filler with known melting for {pieces}, process {draft.job.process}"
    if chosen:
        text = f"no rule says where {chosen} melts, so its room below {pieces} cannot be told"
    draft.no_rule.append(NoRule("filler", text))
    return False


def _too_thick(draft: Draft) -> NoRule:
    """Rods are ruled for what a hand torch can heat: outside it nothing is said."""
    span = covered(draft.rulebook, "filler_diameter", draft.facts, "thickness")
    text = f"no rule for {draft.facts['thickness']:g} mm with process {draft.job.process}, worked by hand torch"
    if span is None:
        return NoRule("filler_diameter", text)
    return NoRule("filler_diameter", f"{text}; the rules cover {span[0]:g} to {span[1]:g} mm", *span, "mm")


def margins(rulebook: Rulebook, job: Job, materials: tuple[Material, ...], facts: Mapping[str, Any]) -> list[Room]:
    """Every filler of the rules against the metals of a job, most room first."""
    from types import SimpleNamespace

    draft: Any = SimpleNamespace(rulebook=rulebook, job=job, materials=materials, facts=dict(facts))
    found = [_room(draft, option.name) for option in rank(rulebook.match("filler", facts))]
    return sorted((room for room in found if room), key=lambda room: (-room.margin, room.filler))
