"""Words of a job that change nothing are named, in text and in JSON; words that count never are."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.flags.test_every_flag import call

TEE = ("-m", "6061-T6", "-t", "3 mm", "--joint", "tee")


def idle(*arguments: str) -> list[dict[str, Any]]:
    code, out, err = call(*arguments, "--json")
    assert code in (0, 3, 4), err
    found: list[dict[str, Any]] = json.loads(out)["no_effect"]
    return found


@pytest.mark.parametrize("command", ["setup", "prep", "strength", "inspect", "cracks", "heat"])
def test_a_backing_on_a_lap_is_named(command: str) -> None:
    arguments = (command, "-m", "6061-T6", "-t", "3 mm", "--joint", "lap", "--backing", "copper")
    assert {"word": "backing", "value": "copper"} in idle(*arguments)
    assert "--backing copper" in call(*arguments)[1]


def test_a_word_that_counts_is_not_named() -> None:
    assert not idle("setup", "-m", "6061-T6", "-t", "3 mm", "--joint", "butt", "--backing", "copper")
    assert "No effect" not in call("setup", *TEE)[1]


def test_two_words_of_one_effect_both_count() -> None:
    """Either alone brings the caution, so that taking away one changes nothing: both count all the same."""
    assert not idle("setup", *TEE, "--used-container", "--place", "confined", "--solvent", "chlorinated")


def test_a_key_of_a_job_file_is_named_as_it_is_written(tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(
        "kind: job\nschema: 1\nmembers: [{metal: 6061-T6, thickness: 3 mm}]\njoint: lap\nbacking: copper\n",
        encoding="utf-8",
    )
    assert "No effect on this answer: backing copper." in call("setup", str(job))[1]


def test_a_column_of_many_jobs_is_named_in_its_answer(tmp_path: Path) -> None:
    table = tmp_path / "jobs.csv"
    table.write_text("metal,thickness,joint,backing\n6061-T6,3 mm,lap,copper\n", encoding="utf-8")
    assert call("setup", "--jobs", str(table), "-o", str(tmp_path / "out"))[0] == 0
    assert "No effect on this answer: backing copper." in (tmp_path / "out" / "0001.txt").read_text(encoding="utf-8")


def test_a_fault_told_without_a_whole_job_names_what_it_did_not_use() -> None:
    _, out, _ = call("faults", "-m", "aluminium", "--seen", "black soot", "--leg", "3 mm")
    assert "No effect on this answer: --leg 3 mm." in out
    assert call("faults", "-m", "aluminium", "--seen", "black soot", "--units", "zz")[0] == 2


def answer(*arguments: str) -> dict[str, Any]:
    code, out, err = call(*arguments, "--json")
    assert code == 0, err
    found: dict[str, Any] = json.loads(out)
    return found


def test_a_leg_stands_in_place_of_the_advised_one_with_its_throat() -> None:
    """Throat of an equal-legged fillet: leg / sqrt 2 (AWS A3.0)."""
    found = answer("setup", *TEE, "--leg", "6 mm")
    leg = found["preparation"]["numbers"]["fillet_leg"]
    assert (leg["low"], leg["start"], leg["high"]) == (6, 6, 6)
    assert any("throat of 4.2 mm" in note and "more than" in note for note in found["notes"])
    assert any("less than" in note for note in answer("setup", *TEE, "--leg", "2 mm")["notes"])


@pytest.mark.parametrize("command", ["setup", "prep", "strength", "inspect", "cracks", "consumables"])
def test_a_leg_of_a_groove_weld_is_refused(command: str) -> None:
    code, _, err = call(command, *TEE[:4], "--joint", "butt", "--leg", "3 mm", "--length", "300 mm")
    assert code == 2 and "a leg of 3 mm is of a fillet" in err and "--weld fillet" in err


@pytest.mark.parametrize("gas", ["co2", "C25", "98/2", "M21", "tri-mix"])
def test_an_active_gas_on_tungsten_is_refused(gas: str) -> None:
    code, _, err = call("setup", *TEE, "--gas", gas)
    assert code == 2 and f"gas '{gas}' is not used with process 141" in err


@pytest.mark.parametrize("process", ["TIG", "MIG", "stick"])
def test_a_length_tells_what_the_seam_takes_as_consumables_do(process: str) -> None:
    job = ("-m", "A36", "-t", "3 mm", "--joint", "tee", "--process", process, "--length")
    seam = answer("setup", *job, "300 mm")["seam"]
    used = answer("consumables", *job, "300 mm")["joints"][0]
    assert seam["tacks"] == used["tacks"] > 0 and seam["arc_s"][0] < seam["arc_s"][2]
    assert answer("setup", *job, "600 mm")["seam"]["arc_s"][1] > 1.8 * seam["arc_s"][1]
    assert "SEAM  300 mm" in call("prep", *job, "300 mm")[1]


def test_a_filler_at_hand_stands_first_with_the_reason_of_the_better_one() -> None:
    text = call("setup", *TEE, "--filler", "4043")[1]
    assert "ER4043, as you have it" in text
    found = answer("setup", *TEE, "--filler", "4043")
    assert [item["name"] for item in found["choices"]["filler"] if item.get("yours")] == ["ER4043"]
    assert any(note.startswith("you have ER4043") for note in found["notes"])
