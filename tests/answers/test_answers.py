"""Finished answers do not contradict themselves. A small share of what `python -m tests.answers.run 2400` reads."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from advisor.rulebook.library import Rulebook
from advisor.units.quantities import UnitTable
from tests.answers.checks import CHECKS
from tests.answers.finished import Finished, finish
from tests.answers.run import count
from tests.answers.stand_ins import quick

SHARE = 100


def test_a_share_of_generated_answers_holds_together(rulebook: Rulebook) -> None:
    found = count(SHARE)
    assert found.jobs == SHARE
    assert found.statuses["advised"] > SHARE / 2
    assert not found.found, [f"{name}: {what}: {where[0]}" for (name, what), where in found.found.items()]


def test_the_generator_gives_the_same_jobs_for_the_same_seed() -> None:
    from tests.answers.jobs import generated

    assert list(generated(30, 4)) == list(generated(30, 4)) != list(generated(30, 5))


def _answer(rulebook: Rulebook, units: UnitTable, **words: Any) -> Finished:
    data = {"members": [{"metal": "6061-T6", "thickness": "3.2 mm"}], "joint": "tee", **words}
    with quick():
        found = finish(rulebook, units, data)
    assert found is not None
    return found


def _kinds(check: str, answer: Finished) -> list[str]:
    return [kind for kind, _ in CHECKS[check](answer)]


MACHINE = {"kind": "machine", "schema": 1, "name": "m", "current_type": "ac-dc", "highest_current": "100 A"}
LAP = [{"metal": "A36", "thickness": "3 mm"}]


@pytest.mark.parametrize(
    ("check", "words", "settings", "preparation"),
    [
        ("machine", {"machine": MACHINE}, {"current": {"high": 140.0}}, {}),
        ("ranges", {}, {"current": {"start": 1.0}}, {}),
        ("heat_limits", {}, {}, {"preheat": {"high": 150.0}}),
        ("clean_time", {}, {}, {"clean_lasts": {"start": 16200.0}}),
        ("gap", {"joint": "butt"}, {}, {"root_gap": {"start": 1.0, "high": 1.0}}),
        ("leg", {"joint": "lap", "members": LAP}, {}, {"fillet_leg": {"start": 4.0}}),
        ("tacks", {"length": "300 mm"}, {}, {"tack_pitch": {"start": 75.7}}),
    ],
)
def test_each_check_finds_a_number_that_was_changed(
    rulebook: Rulebook,
    units: UnitTable,
    check: str,
    words: Mapping[str, Any],
    settings: Mapping[str, Mapping[str, float]],
    preparation: Mapping[str, Mapping[str, float]],
) -> None:
    answer = _answer(rulebook, units, **words)
    assert not _kinds(check, answer)
    advice = answer.advice
    changed = advice._replace(
        settings={name: item._replace(**settings.get(name, {})) for name, item in advice.settings.items()},
        preparation={name: item._replace(**preparation.get(name, {})) for name, item in advice.preparation.items()},
    )
    assert _kinds(check, answer._replace(advice=changed))


@pytest.mark.parametrize(
    ("check", "words"),
    [
        ("tip", "Grind a taper three diameters long"),
        ("opposite", "Take chill bars away; put a heavy copper bar there"),
        ("repeated", "Measure the root gap after tacking, and measure the root gap after tacking the part"),
        ("clean_width", "Grind it bright, 60 mm each side"),
        ("heat_limits", "Preheat to 300 °C"),
        ("do_not", "Do not weld it"),
    ],
)
def test_each_check_finds_words_that_were_added(rulebook: Rulebook, units: UnitTable, check: str, words: str) -> None:
    answer = _answer(rulebook, units, joint="butt", **({"gas": "helium"} if check == "tip" else {}))
    assert not _kinds(check, answer)
    edge = answer.advice.steps["edge_step"]
    added = [edge[0]._replace(do=part, rule_id=f"added-{turn}") for turn, part in enumerate(words.split(";"))]
    added.append(added[0]._replace(rule_id="added-again")) if check == "repeated" else None
    changed = answer.advice._replace(steps={**answer.advice.steps, "edge_step": (*edge, *added)})
    assert _kinds(check, answer._replace(advice=changed))


def test_an_aim_no_hand_can_hold_is_called_on_the_seam(rulebook: Rulebook, units: UnitTable) -> None:
    data = {
        "members": [{"metal": "304", "thickness": "3 mm"}, {"metal": "304", "thickness": "3.2 mm"}],
        "joint": "butt",
    }
    found = finish(rulebook, units, data)
    assert found is not None and found.advice.unequal is not None
    assert abs(found.advice.unequal.detail["offset_mm"]) < 0.5
    assert found.advice.unequal.message.startswith("Aim on the seam")
    assert "thicker member" not in found.text


def test_a_machine_that_cannot_set_balance_is_not_told_a_balance(rulebook: Rulebook, units: UnitTable) -> None:
    answer = _answer(rulebook, units, machine={**MACHINE, "balance_control": False, "frequency_control": False})
    assert not {"ac_balance", "ac_frequency"} & answer.advice.settings.keys()
    assert {"ac_balance", "ac_frequency"} <= _answer(rulebook, units, machine=MACHINE).advice.settings.keys()


def test_a_seam_beyond_the_machine_has_no_range_and_says_so(rulebook: Rulebook, units: UnitTable) -> None:
    heavy = [{"metal": "6061-T6", "thickness": "8 mm"}]
    answer = _answer(rulebook, units, machine=MACHINE, members=heavy)
    current, verdict = answer.advice.settings["current"], answer.advice.machine
    assert verdict is not None and verdict.status == "short"
    assert current.low == current.start == current.high > 100
    assert "ends at 100 A" in verdict.message
