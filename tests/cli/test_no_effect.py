"""Words of a job that change nothing are named, in text and in JSON; words that count never are."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.cli.test_every_flag import call

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
    code, _, err = call("faults", "-m", "aluminium", "--seen", "black soot", "--units", "zz")
    assert code == 2 and "no system of units" in err
