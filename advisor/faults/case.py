"""The case a fault is looked for in: as much of the job as is known, from a whole job down to no more than a metal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from advisor.answer.answer import Advice
from advisor.job.facts import joint_facts
from advisor.job.job import Job
from advisor.job.material import Material, find_material
from advisor.job.words import JOINTS, PROCESSES, SERVICES, SURFACES, USED, standard_word
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise

_WORDS: Mapping[str, Mapping[str, str]] = {"joint": JOINTS, "process": PROCESSES, **USED}
_LISTED: Mapping[str, Mapping[str, str]] = {"surface": SURFACES, "service": SERVICES, "form": {"cast": "casting"}}


class FaultCase(NamedTuple):
    """What is known of the job. metals: families; advice: the job's own advice, where the job is whole;
    used: settings used, in house units; silent: observations on which the job is not to speak."""

    metals: frozenset[str]
    process: str
    facts: Mapping[str, Fact]
    materials: tuple[str, ...]
    advice: Advice | None = None
    used: Mapping[str, float] = {}
    silent: frozenset[str] = frozenset()


def whole_case(rulebook: Rulebook, job: Job, used: Mapping[str, float]) -> FaultCase:
    """The case of a whole job. used: settings used, by topic, in house units."""
    advice = advise(rulebook, job)
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    facts = _known(joint_facts(job, materials), materials)
    families = frozenset(material.family for material in materials)
    return FaultCase(families, job.process, facts, advice.materials, advice, dict(used))


def with_words(job: Job, chosen: Mapping[str, str]) -> Job:
    """The job with what was really taken: filler, gas, tungsten type."""
    return job._replace(
        filler=chosen.get("filler", job.filler),
        gas=chosen.get("gas", job.gas),
        tungsten_type=chosen.get("tungsten_type", job.tungsten_type),
    )


def loose_case(rulebook: Rulebook, metals: Sequence[str], words: Mapping[str, Any]) -> FaultCase:
    """The case where only some words are known: metals, joint, process, surface and the like."""
    materials = tuple(find_material(metal, rulebook.index) for metal in metals)
    facts: dict[str, Fact] = {}
    if materials:
        facts = {
            "base": materials[0].family,
            "bases": frozenset(material.family for material in materials),
            "alloy": materials[0].id,
            "alloys": frozenset(material.id for material in materials),
            "series": frozenset(material.series for material in materials),
            "free_machining": any(material.free_machining for material in materials),
            "cast": any(material.cast for material in materials),
        }
        facts = _known(facts, materials)
    for name, aliases in _WORDS.items():
        if words.get(name):
            facts[name] = standard_word(str(words[name]), name, rulebook.vocabulary, aliases)
    for name, aliases in _LISTED.items():
        if words.get(name):
            listed = [part for text in words[name] for part in str(text).split(",")]
            facts[name] = frozenset(standard_word(part, name, rulebook.vocabulary, aliases) for part in listed)
    for name in ("closed_volume", "used_container"):
        facts[name] = bool(words.get(name))
    process = str(facts.setdefault("process", "141"))
    families = frozenset(material.family for material in materials)
    return FaultCase(families, process, facts, tuple(material.label for material in materials))


def _known(facts: Mapping[str, Fact], materials: Sequence[Material]) -> dict[str, Fact]:
    """Facts without those a metal of unknown grade only guesses at; a casting is a form."""
    found = dict(facts)
    if any(material.unknown for material in materials):
        for name in ("alloys", "series", "free_machining"):
            found.pop(name, None)
    if any(material.cast for material in materials):
        form = found.get("form")
        found["form"] = (form if isinstance(form, frozenset) else frozenset()) | {"casting"}
    return found
