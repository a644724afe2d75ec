"""The trial commands: log, correct, list, show, out and in again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
SEAM = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")


def rows(own: Run, *more: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = own("trial", "list", "--json", *more).json["trials"]
    return found


def test_log_correct_and_take_back(own: Run, tmp_path: Path) -> None:
    photo = tmp_path / "bead.jpg"
    photo.write_bytes(b"picture")
    more = ("--current", "128 A", "--used", "gas flow=20 cfh", "--used", "filler=ER5356", "--seen", "even bead")
    assert own("trial", "add", *SEAM, *more, "--verdict", "good", "--photo", str(photo)).code == 0
    (first,) = rows(own)
    # 20 ft3/h is 20 x 28.3168 L in 60 minutes.
    assert first["used"] == {"current": 128.0, "gas_flow": pytest.approx(20 * 28.3168 / 60, rel=1e-4)}
    assert first["chosen"] == {"filler": "ER5356"} and first["case"]["metals"] == ["5052"]
    low, start, high = first["advised"]["current"]
    assert low < start < high
    assert own("trial", "correct", first["id"][-8:], "--verdict", "bad", "--seen", "cracked overnight").code == 0
    (second,) = rows(own)
    assert (second["verdict"], second["used"], second["corrects"]) == ("bad", first["used"], first["id"])
    assert [row["verdict"] for row in rows(own, "--all")] == ["good", "bad"]
    shown = own("trial", "show", second["id"]).out
    assert "cracked overnight" in shown and "(same)" in shown
    photo.write_bytes(b"another")
    assert "(changed)" in own("trial", "show", second["id"]).out
    assert own("trial", "correct", second["id"], "--withdraw").code == 0
    assert rows(own) == [] and len(rows(own, "--all")) == 3


def test_the_last_answer_is_what_a_trial_is_of(own: Run) -> None:
    assert own("setup", *SEAM).code == 0
    assert own("trial", "add", "--current", "131 A", "--verdict", "usable").code == 0
    assert rows(own)[0]["case"]["joint"] == "tee" and rows(own, "--joint", "butt") == []


@pytest.mark.parametrize("kind", ["csv", "json"])
def test_out_and_in_again(own: Run, tmp_path: Path, kind: str) -> None:
    own("trial", "add", *SEAM, "--current", "128 A", "--verdict", "good")
    path, other = tmp_path / f"out.{kind}", str(tmp_path / "other.sqlite")
    assert own("trial", "export", str(path)).code == 0
    assert own("trial", "export", str(path)).code == 2
    assert "1 trials added" in own("trial", "import", str(path), "--journal", other).out
    assert "0 trials added, 1 were here" in own("trial", "import", str(path), "--journal", other).out
    assert rows(own, "--journal", other) == rows(own)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--current", "128", "--verdict", "good"), "missing-unit"),
        (("--current", "128 A", "--verdict", "god"), "one of: good, usable, bad"),
        (("--current", "128 A",), "is no verdict"),
        (("--verdict", "good"), "what was dialled in"),
        (("--used", "gas_flw=9 L/min", "--verdict", "good"), "did you mean 'gas_flow'?"),
        (("--used", "gas_flow=9 mm", "--verdict", "good"), "wrong-dimension"),
        (("--current", "128 A", "--verdict", "good", "--photo", "none.jpg"), "check the path of the photo"),
    ],
)  # fmt: skip
def test_slips_are_told_and_nothing_is_logged(own: Run, tmp_path: Path, arguments: tuple[str, ...], said: str) -> None:
    ran = own("trial", "add", *SEAM, *arguments)
    assert ran.code == 2 and said in ran.err
    assert not (tmp_path / "journal.sqlite").exists()


def test_no_journal_yet(own: Run) -> None:
    assert "trial add" in own("trial", "list").err
