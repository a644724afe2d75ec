"""A refusal never sends a person to what is refused too: every way it offers is asked for, and must be advised."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from itertools import product
from typing import Any

import pytest

from advisor.answer.answer import Advice
from advisor.job.job import Job
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.setup.alternatives import changed
from advisor.setup.answer import advise, status_of
from advisor.units.quantities import UnitTable

PROCESSES = ("141", "131", "135", "111", "912", "942")
JOINTS = ("lap", "butt")
EVERY_JOINT = ("lap", "butt", "tee", "corner-open", "corner-half-open", "corner-closed", "edge")
EVERY_THICKNESS = ("0.8 mm", "3 mm", "12 mm")
# PRESTRIKE_CROSS=full asks every metal by every process at every joint and thickness; it takes minutes.
FULL_CROSS = os.environ.get("PRESTRIKE_CROSS") == "full"
PAIRS = (("6061", "A36"), ("2219", "5083"), ("7075", "6061"), ("303", "304"), ("A356", "6061"), ("A36", "304"))
# What would send a person to a process or a metal that nobody has asked the rules about.
UNCHECKED = re.compile(r"\b(weld|braze|solder|TIG|MIG|stick|wire feed|process|make the part|turn it)\b|\b\d{4}\b", re.I)


def job_of(rulebook: Rulebook, units: UnitTable, metals: tuple[str, ...], **words: Any) -> Job:
    thickness = words.pop("thickness", "2 mm")
    data = {"members": [{"metal": metal, "thickness": thickness} for metal in metals], **words}
    return JobBuilder(rulebook, units).build(data)


def cases(rulebook: Rulebook, full: bool) -> Iterator[tuple[tuple[str, ...], str, str, str]]:
    """Metals, process, joint and thickness: all of them crossed, or each metal and process at one joint in turn."""
    metals = [(entry["id"],) for entry in rulebook.index.entries("material")]
    assert len(metals) > 40
    if full:
        yield from product([*metals, *PAIRS], PROCESSES, EVERY_JOINT, EVERY_THICKNESS)
        return
    for number, (names, process) in enumerate(product([*metals, *PAIRS], PROCESSES)):
        yield names, process, JOINTS[number % 3 == 0], ("2 mm", "5 mm")[number % 2]


def refused(rulebook: Rulebook, units: UnitTable, full: bool) -> Iterator[tuple[Job, Advice]]:
    """Every job of the cases that is refused, with its answer."""
    for names, process, joint, thickness in cases(rulebook, full):
        job = job_of(rulebook, units, names, process=process, joint=joint, thickness=thickness)
        advice = advise(rulebook, job)
        if advice.status == "refused":
            yield job, advice


def not_advised(rulebook: Rulebook, job: Job, advice: Advice) -> Iterator[tuple[Any, ...]]:
    """The ways of a refusal that are not advised when asked for, or not named in what is said."""
    for refusal in advice.refusals:
        if not refusal.instead.strip():
            yield (*case_of(job), refusal.rule_id, "nothing instead")
        for way in refusal.ways:
            status = advise(rulebook, changed(rulebook, job, way, status_of)).status
            if status != "advised" or next(iter(way.values())) not in refusal.instead:
                yield (*case_of(job), refusal.rule_id, way, status)


def case_of(job: Job) -> tuple[Any, ...]:
    return tuple(member.metal for member in job.members), job.process, job.joint, job.members[0].thickness.value


@pytest.mark.parametrize("full", [False, pytest.param(True, marks=pytest.mark.skipif(not FULL_CROSS, reason="long"))])
def test_every_way_offered_is_advised(rulebook: Rulebook, units: UnitTable, full: bool) -> None:
    offers, without, wrong = 0, 0, []
    for job, advice in refused(rulebook, units, full):
        without += sum(not refusal.ways for refusal in advice.refusals)
        offers += sum(len(refusal.ways) for refusal in advice.refusals)
        wrong += not_advised(rulebook, job, advice)
    assert not wrong, wrong[:20]
    assert offers > 60 and without > 10


def test_what_remains_names_no_process_and_no_metal(rulebook: Rulebook) -> None:
    """Words that are always shown are not computed, so they may not name what could be refused."""
    rules = rulebook.index.rules("refusal")
    assert len(rules) >= 20
    named = {rule.id: rule.body["instead"] for rule in rules if UNCHECKED.search(rule.body["instead"])}
    assert not named


@pytest.mark.parametrize("metal", ["7075", "2024", "2011", "2007", "2014", "2017A", "2030", "6012", "6020", "6262"])
def test_brazing_does_not_send_to_a_refused_arc(rulebook: Rulebook, units: UnitTable, metal: str) -> None:
    advice = advise(rulebook, job_of(rulebook, units, (metal,), process="912", joint="lap"))
    assert advice.status == "refused"
    for refusal in advice.refusals:
        assert not {"141", "131", "135", "111"} & {way.get("process") for way in refusal.ways}
        assert "weld" not in refusal.instead.lower()


@pytest.mark.parametrize("thickness", ["2 mm", "60 mm"])
def test_a_way_without_a_rule_is_not_offered(rulebook: Rulebook, units: UnitTable, thickness: str) -> None:
    advice = advise(rulebook, job_of(rulebook, units, ("5052",), process="111", joint="tee", thickness=thickness))
    assert advice.status == "refused"
    assert bool(advice.refusals[0].ways) == (thickness == "2 mm")
    assert "bolt" in advice.refusals[0].instead.lower()


def test_of_an_unlike_pair_only_the_refused_member_is_changed(rulebook: Rulebook, units: UnitTable) -> None:
    job = job_of(rulebook, units, ("7075-T6", "5083"), process="141", joint="lap")
    other = changed(rulebook, job, {"metal": "6082"}, status_of)
    assert [member.metal for member in other.members] == ["6082", "5083"]


def test_a_used_container_is_offered_no_way(rulebook: Rulebook, units: UnitTable) -> None:
    job = job_of(rulebook, units, ("7075",), process="912", joint="lap", used_container=True)
    assert all(not refusal.ways for refusal in advise(rulebook, job).refusals)
