"""Torch brazing and soldering: the room below the metal's melting, against published melting points."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.job.facts import joint_facts
from advisor.job.job import Job
from advisor.job.material import find_material
from advisor.job.reader import JobBuilder
from advisor.physics import brazing
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise
from advisor.setup.torch import control_of, margins
from advisor.setup.why import explain
from advisor.units.quantities import UnitTable

Run = Callable[..., Any]


def job_of(rulebook: Rulebook, units: UnitTable, *metals: str, **words: Any) -> Job:
    data = {
        "members": [{"metal": metal, "thickness": "2 mm"} for metal in metals],
        "joint": "lap",
        "process": "912",
        **words,
    }
    return JobBuilder(rulebook, units).build(data)


# Base solidus: Aluminum Standards and Data, typical values (1100 and 3003 1190 degF, 5005 1170, 6061 1080, 6063 1140).
# BAlSi-4: AWS A5.8, all liquid at 1080 degF. So the room in degF, over 1.8 in K.
PUBLISHED = [
    ("3003", (1190 - 1080) / 1.8, "ordinary"),
    ("1100", (1190 - 1080) / 1.8, "ordinary"),
    ("5005", (1170 - 1080) / 1.8, "ordinary"),
    ("6063", (1140 - 1080) / 1.8, "close"),
    ("6061-T6", 0.0, "none"),
]


@pytest.mark.parametrize(("metal", "room", "control"), PUBLISHED)
def test_room_of_published_alloys(rulebook: Rulebook, units: UnitTable, metal: str, room: float, control: str) -> None:
    advice = advise(rulebook, job_of(rulebook, units, metal))
    assert advice.settings["brazing_margin"].start == pytest.approx(room, abs=0.1)
    assert control_of(advice.settings) == control
    assert advice.status == ("refused" if control == "none" else "advised")
    if control == "none":
        assert [item.rule_id for item in advice.refusals] == ["refusal.braze.margin"]
        assert "942" in advice.refusals[0].instead


# AWS A5.8 by way of Machinery's Handbook, 31st ed., Tables 1a and 1b: solidus and liquidus in degF.
A58 = [
    ("A36", "BAg-7", 1145, 1205),
    ("A36", "BAg-5", 1250, 1370),
    ("304", "BAg-24", 1220, 1305),
    ("A36", "RBCuZn-C", 1590, 1630),
    ("A36", "RBCuZn-D", 1690, 1715),
    ("3003", "BAlSi-4", 1070, 1080),
]


@pytest.mark.parametrize(("metal", "filler", "solidus", "liquidus"), A58)
def test_fillers_melt_where_the_standard_says(
    rulebook: Rulebook, units: UnitTable, metal: str, filler: str, solidus: float, liquidus: float
) -> None:
    found = advise(rulebook, job_of(rulebook, units, metal, filler=filler)).settings
    assert found["filler_solidus"].start == pytest.approx((solidus - 32) / 1.8, abs=0.6)
    assert found["filler_liquidus"].start == pytest.approx((liquidus - 32) / 1.8, abs=0.6)


def test_rules_and_physics_hold_the_same_table(rulebook: Rulebook, units: UnitTable) -> None:
    """The fillers that stand in both: ours against ours, so that one is not mended without the other."""
    job = job_of(rulebook, units, "3003")
    materials = (find_material("3003", rulebook.index),)
    rooms = {room.filler: room for room in margins(rulebook, job, materials, joint_facts(job, materials))}
    for name in ("BAlSi-2", "BAlSi-3", "BAlSi-4", "BAlSi-5"):
        assert rooms[name].liquidus == pytest.approx(brazing.FILLERS[name].liquidus_c, abs=1.0)


# Published verdicts: magnesium over 2 % not brazeable (Aluminum Standards and Data: 5052 and up); castings; 2xxx and
# 7xxx begin to melt far below the filler (935 and 890 degF, same document).
REFUSED = {
    "5052": "refusal.braze.magnesium",
    "5083": "refusal.braze.magnesium",
    "A356": "refusal.braze.casting",
    "unknown aluminium": "refusal.braze.unknown",
    "2014": "refusal.braze.margin",
    "7075": "refusal.braze.magnesium",
    "6082": "refusal.braze.margin",
}


@pytest.mark.parametrize("metal", REFUSED)
def test_what_must_not_be_brazed(rulebook: Rulebook, units: UnitTable, metal: str) -> None:
    advice = advise(rulebook, job_of(rulebook, units, metal))
    assert advice.status == "refused"
    assert REFUSED[metal] in {item.rule_id for item in advice.refusals}
    assert all(item.instead for item in advice.refusals)


@pytest.mark.parametrize("filler", ["BAg-1", "bag-1a", "BAg-2", "BAG-27"])
def test_cadmium_is_refused_however_it_is_spelt(rulebook: Rulebook, units: UnitTable, filler: str) -> None:
    advice = advise(rulebook, job_of(rulebook, units, "A36", filler=filler))
    assert [item.rule_id for item in advice.refusals] == ["refusal.braze.cadmium"]


def test_a_filler_asked_for_by_its_rod_number(rulebook: Rulebook, units: UnitTable) -> None:
    """4047 is BAlSi-4 (AWS A5.8 and A5.10 hold the same alloy)."""
    advice = advise(rulebook, job_of(rulebook, units, "3003", filler="4047"))
    assert advice.choices["filler"][0].name == "BAlSi-4"
    assert advice.settings["filler_liquidus"].start == pytest.approx(582.2, abs=0.1)


def test_brass_needs_its_own_flux(rulebook: Rulebook, units: UnitTable) -> None:
    silver = advise(rulebook, job_of(rulebook, units, "A36"))
    brass = advise(rulebook, job_of(rulebook, units, "A36", filler="RBCuZn-C"))
    assert silver.choices["flux"][0].name.startswith("silver-brazing flux")
    assert brass.choices["flux"][0].name.startswith("borax")
    assert brass.settings["working_temperature"].low > silver.settings["working_temperature"].high


def test_flux_follows_magnesium(rulebook: Rulebook, units: UnitTable) -> None:
    low, high = (advise(rulebook, job_of(rulebook, units, metal)) for metal in ("3003", "6063"))
    assert "non-corrosive" in low.choices["flux"][0].name
    assert "chloride" in high.choices["flux"][0].name


@pytest.mark.parametrize("process", ["912", "942"])
@pytest.mark.parametrize("metal", ["3003", "A36", "304"])
def test_cautions_of_flame_and_flux_show(rulebook: Rulebook, units: UnitTable, process: str, metal: str) -> None:
    advice = advise(rulebook, job_of(rulebook, units, metal, process=process))
    shown = " ".join(item.hazard + item.do for item in advice.cautions)
    for word in ("fluorides", "cadmium", "phosgene", "Flashback", "Fire starts unseen"):
        assert word in shown
    assert advice.codes


def test_thick_parts_have_no_rule(rulebook: Rulebook, units: UnitTable) -> None:
    job = job_of(rulebook, units, "3003", members=[{"metal": "3003", "thickness": "30 mm"}])
    assert advise(rulebook, job).status == "no-rule"


def test_why_tells_the_margin_of_a_refused_job(rulebook: Rulebook, units: UnitTable) -> None:
    advice = advise(rulebook, job_of(rulebook, units, "6061"))
    trail = explain(rulebook, advice, "brazing_margin")
    assert trail.setting is not None and [step.evidence for step in trail.setting.trail] == ["read", "read", "computed"]
    assert [rule.id for rule in explain(rulebook, advice, "refusal").spoke] == ["refusal.braze.margin"]


_METALS = ("1100", "3003", "5005", "6060", "6061", "6063", "6082", "5052", "A356", "A36", "304")


@given(first=st.sampled_from(_METALS), second=st.sampled_from(_METALS), process=st.sampled_from(("912", "942")))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_refusing_does_not_depend_on_the_order_of_members(
    rulebook: Rulebook, units: UnitTable, first: str, second: str, process: str
) -> None:
    one = advise(rulebook, job_of(rulebook, units, first, second, process=process))
    other = advise(rulebook, job_of(rulebook, units, second, first, process=process))
    assert one.status == other.status
    assert {item.rule_id for item in one.refusals} == {item.rule_id for item in other.refusals}
    if "brazing_margin" in one.settings:
        assert one.settings["brazing_margin"].start == other.settings["brazing_margin"].start


@given(first=st.sampled_from(_METALS[:8]), second=st.sampled_from(_METALS[:8]))
@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_pair_has_no_more_room_than_either_alone(
    rulebook: Rulebook, units: UnitTable, first: str, second: str
) -> None:
    """The margin falls with the solidus: the pair's is that of the lower melting member."""

    def room(*metals: str) -> dict[str, float]:
        job = job_of(rulebook, units, *metals)
        materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
        found = margins(rulebook, job, materials, joint_facts(job, materials))
        return {item.filler: item.margin for item in found}

    pair, alone, other = room(first, second), room(first), room(second)
    for filler, margin in pair.items():
        assert margin == pytest.approx(min(alone[filler], other[filler]))


def test_order_of_flags_changes_nothing(prestrike: Run) -> None:
    flags = [("--metal", "6061"), ("--thickness", "2 mm"), ("--joint", "lap"), ("--process", "brazing")]
    answers = [prestrike("setup", *(w for pair in order for w in pair)) for order in (flags, flags[::-1])]
    assert answers[0].out == answers[1].out and {ran.code for ran in answers} == {4}


@pytest.mark.parametrize("name", ["setup", "prep", "heat", "consumables"])
def test_every_command_takes_a_flame_job(prestrike: Run, name: str) -> None:
    more = ("--seam", "60 mm") if name == "consumables" else ()
    ran = prestrike(name, "-m", "3003", "-t", "2 mm", "--joint", "lap", "--process", "912", *more)
    assert ran.code == 0, ran.err
    assert max(map(len, ran.out.splitlines())) <= 80


# Sign and the cause named for it: NAVEDTRA 14250 ch. 6 (a joint that moves is weak), the flux maker's article (chloride
# residue corrodes), the article on cleaning (black or green flux was overheated), the 40 degC rule.
SIGNS = {
    "crack in the braze": "C55",
    "white crust later": "C56",
    "flux black": "C52",
    "part sagged": "C53",
}


@pytest.mark.parametrize("sign", SIGNS)
def test_faults_of_a_flame(prestrike: Run, sign: str) -> None:
    ran = prestrike("faults", "--metal", "3003", "--process", "brazing", "--seen", sign, "--json")
    assert ran.code == 0, ran.err
    assert ran.json["causes"][0]["alias"] == SIGNS[sign]


def test_an_arc_has_no_faults_of_a_flame(prestrike: Run) -> None:
    arc = prestrike("faults", "--metal", "3003", "--seen", "black soot", "--json").json
    flame = prestrike("faults", "--metal", "3003", "--process", "brazing", "--seen", "flux black", "--json").json
    named = [{cause["alias"] for cause in data["causes"]} for data in (arc, flame)]
    assert not named[0] & named[1]
