"""Why a number or choice is what it is: every rule that spoke, in what order, and those that nearly did."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from advisor.answer.answer import Advice, Setting
from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.facts import joint_facts, member_facts, workpieces
from advisor.job.material import find_material
from advisor.rulebook.choices import Option
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import NearMiss, Rulebook

STEPS = {
    "cleaning": "cleaning_step",
    "holding": "holding_step",
    "coupon": "coupon_step",
    "panel": "panel_step",
    "technique": "technique_step",
    "edge": "edge_step",
    "tungsten": "tungsten_diameter",
    "voltage": "arc_voltage",
    "travel": "travel_speed",
    "cup": "nozzle_bore",
    "nozzle": "nozzle_bore",
    "rod": "filler_diameter",
    "balance": "ac_balance",
    "frequency": "ac_frequency",
    "preparation": "groove",
    "cautions": "caution",
    "codes": "code",
    "refused": "refusal",
    "amps": "current",
    "margin": "brazing_margin",
    "gap": "joint_gap",
    "after": "after_step",
}


class Why(NamedTuple):
    """The trail of one topic. spoke: rules that fired (with their text, for topics of words)."""

    topic: str
    label: str
    setting: Setting | None
    options: tuple[Option, ...]
    spoke: tuple[Any, ...]
    near: tuple[NearMiss, ...]
    advice: Advice


def explain(rulebook: Rulebook, advice: Advice, quantity: str) -> Why:
    """The trail of a quantity of an answer. Raises PrestrikeError for a quantity no rule speaks of."""
    topics = rulebook.vocabulary.topics
    name = quantity.strip().casefold().replace("-", "_").replace(" ", "_")
    name = STEPS.get(name, name)
    if name not in topics:
        known = [*topics, *STEPS]
        raise PrestrikeError(
            Diagnostic("unknown-quantity", f"nothing here is called '{quantity}'", help=did_you_mean(name, known))
        )
    facts = _facts(rulebook, advice)
    setting = advice.settings.get(name) or advice.preparation.get(name)
    options = advice.choices.get(name) or advice.preparation_choices.get(name) or []
    return Why(
        name,
        topics[name].label,
        setting,
        tuple(options),
        tuple(rulebook.match(name, facts)),
        tuple(_nearest(rulebook, name, facts)),
        advice,
    )


def _facts(rulebook: Rulebook, advice: Advice) -> Mapping[str, Fact]:
    """The facts as they stood when the last settings were settled."""
    materials = tuple(find_material(member.metal, rulebook.index) for member in advice.job.members)
    facts = joint_facts(advice.job, materials)
    for topic, options in advice.choices.items():
        best = next((option.name for option in options if option.rank == 1), None)
        facts[topic] = facts.get(topic) or best
    for topic in advice.settings.keys() & rulebook.vocabulary.attributes.keys():
        facts[topic] = advice.settings[topic].start
    if "brazing_margin" in advice.settings:
        from advisor.setup.torch import control_of

        facts["heat_control"] = control_of(advice.settings)
        facts["filler"] = advice.settings["brazing_margin"].note.split(" on ")[0]
    return member_facts(facts, workpieces(advice.job, materials)[0])


def _nearest(rulebook: Rulebook, topic: str, facts: Mapping[str, Fact], most: int = 8) -> list[NearMiss]:
    """Rules that failed on one thing only come first: those nearly spoke."""
    missed = rulebook.near_misses(topic, facts)
    return sorted(missed, key=lambda miss: (_failures(miss, facts), miss.rule.id))[:most]


def _failures(miss: NearMiss, facts: Mapping[str, Fact]) -> int:
    from advisor.rulebook.conditions import holds

    condition = miss.rule.when
    parts = condition[1] if condition[0] == "all" else [condition]
    return sum(not holds(part, facts) for part in parts)
