"""Many jobs at once, the demo folder, and what the shell completes."""

from __future__ import annotations

import csv
import json
import os
import pty
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.bench.bench_batch import write_jobs

ROOT = Path(__file__).resolve().parents[2]
Run = Callable[..., Any]


def rows_of(folder: Path) -> list[dict[str, str]]:
    with (folder / "summary.csv").open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def test_one_bad_row_is_named_by_line_and_the_rest_is_done(prestrike: Run, tmp_path: Path) -> None:
    jobs, out = tmp_path / "jobs.csv", tmp_path / "out"
    write_jobs(jobs, 20, bad=7)
    ran = prestrike("setup", "--jobs", str(jobs), "-o", str(out))
    assert ran.code == 2
    # The header is line 1, so the row at index 7 is line 9.
    assert ran.err.startswith(f"{jobs}:9:") and "has no unit" in ran.err
    assert ran.err.count("missing-unit") == 1
    assert len(list(out.glob("*.txt"))) == 19
    rows = rows_of(out)
    assert [row["status"] for row in rows].count("advised") == 19
    assert rows[7]["status"] == "bad" and rows[7]["where"] == f"{jobs}:9"
    assert "19 advised, 1 bad" in ran.out


def test_a_batch_says_what_a_single_setup_says(prestrike: Run, tmp_path: Path) -> None:
    write_jobs(tmp_path / "jobs.csv", 2, bad=99)
    prestrike("setup", "--jobs", str(tmp_path / "jobs.csv"), "-o", str(tmp_path / "out"), "--json")
    alone = prestrike(
        "setup", "--metal", "5052-H32", "--thickness", "1.74 mm", "--joint", "butt", "--service", "ordinary", "--json"
    ).json
    together = json.loads((tmp_path / "out" / "0002-part-1.json").read_text(encoding="utf-8"))
    assert together["settings"] == alone["settings"]


def test_a_folder_of_jobs_and_rows_that_end_in_each_way(prestrike: Run, tmp_path: Path) -> None:
    prestrike("demo", str(tmp_path / "jobs"))
    (tmp_path / "jobs" / "bad.yaml").write_text("kind: job\nschema: 1\njoint: butt\nmembers: []\n", encoding="utf-8")
    ran = prestrike("setup", "--jobs", str(tmp_path / "jobs"), "-o", str(tmp_path / "out"))
    assert ran.code == 2 and "bad.yaml:4" in ran.err
    statuses = {Path(row["where"]).stem: row["status"] for row in rows_of(tmp_path / "out")}
    assert statuses == {"bad": "bad", "coolant-tank": "advised", "guard-bracket": "advised"}
    table = tmp_path / "ends.csv"
    table.write_text(
        'name,metal,thickness,joint,service\n"two\nlines",A36,3 mm,tee,lifting\nno,7075,3 mm,butt,\n'
        "far,6061,60 mm,butt,\n",
        encoding="utf-8",
    )
    ran = prestrike("setup", "--jobs", str(table), "-o", str(tmp_path / "ends"))
    assert ran.code == 0
    rows = rows_of(tmp_path / "ends")
    assert [row["status"] for row in rows] == ["advised", "refused", "no-rule"]
    assert [row["where"].rpartition(":")[2] for row in rows] == ["2", "4", "5"]
    assert "practice coupons only" in rows[0]["said"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("metal,thicknes,joint\n", "did you mean 'thickness'"),
        ("metal,joint\n", "no column thickness"),
        ("metal,metal,thickness,joint\n", "a column stands twice"),
        ('metal,thickness,joint\nA36,"3 mm,butt\n', "jobs.csv:2:1: not-csv"),
        ("metal,thickness,joint\nA36,3 mm,butt,more\n", ":2:1: too-many-cells"),
        ("metal,thickness,joint\nA36,,butt\n", "thickness is empty"),
        ("metal,thickness,joint,closed_volume\nA36,3 mm,butt,perhaps\n", "neither yes nor no"),
    ],
)
def test_a_table_that_cannot_be_read_says_why(prestrike: Run, tmp_path: Path, text: str, said: str) -> None:
    (tmp_path / "jobs.csv").write_text(text, encoding="utf-8")
    ran = prestrike("setup", "--jobs", str(tmp_path / "jobs.csv"), "-o", str(tmp_path / "out"))
    assert ran.code == 2
    assert said in ran.err, ran.err


def test_a_job_beside_a_batch_is_refused(prestrike: Run, tmp_path: Path) -> None:
    write_jobs(tmp_path / "jobs.csv", 2, bad=99)
    assert prestrike("setup", "--jobs", str(tmp_path / "jobs.csv"), "--joint", "tee").code == 2


def test_the_bar_shows_in_a_terminal_and_not_in_a_pipe(prestrike: Run, cache: Path, tmp_path: Path) -> None:
    write_jobs(tmp_path / "jobs.csv", 5, bad=99)
    command = ("setup", "--jobs", str(tmp_path / "jobs.csv"), "-o", str(tmp_path / "out"))
    assert prestrike(*command).err == ""
    master, slave = pty.openpty()
    environment = {**os.environ, "PRESTRIKE_CACHE": str(cache), "PYTHONPATH": str(ROOT), "NO_COLOR": "1"}
    subprocess.run(
        [sys.executable, "-m", "advisor.cli.main", *command], stderr=slave, stdout=subprocess.DEVNULL, check=True,
        env=environment,
    )  # fmt: skip
    os.close(slave)
    shown = os.read(master, 65536).decode()
    assert f"[{'#' * 30}] 5/5" in shown and "\x1b" not in shown


def test_the_demo_folder_is_written_once_and_answers(prestrike: Run, tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    assert prestrike("demo", str(folder)).code == 0
    names = {path.name for path in (ROOT / "advisor" / "demo").glob("*.yaml")}
    assert {path.name for path in folder.iterdir()} == names | {"trials.csv"}
    for name in names - {"bench-machine.yaml"}:
        assert prestrike("setup", str(folder / name)).code == 0
    (folder / "coolant-tank.yaml").write_text("mine", encoding="utf-8")
    assert prestrike("demo", str(folder)).code == 2
    assert (folder / "coolant-tank.yaml").read_text(encoding="utf-8") == "mine"
    assert prestrike("demo", str(folder), "--force").code == 0


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("prestrike setup --metal 60", {"6061", "6063"}),
        ("prestrike sheet --metal 505", {"5052", "5052-H32"}),
        ("prestrike setup --joint corner-", {"corner-open", "corner-closed", "corner-inside", "corner-half-open"}),
        ("prestrike sh", {"sheet"}),
    ],
)
def test_the_shell_completes_metals_joints_and_commands(cache: Path, line: str, wanted: set[str]) -> None:
    words = line.split()
    environment = {
        **os.environ, "PRESTRIKE_CACHE": str(cache), "PYTHONPATH": str(ROOT), "_PRESTRIKE_COMPLETE": "complete_bash",
        "COMP_WORDS": line, "COMP_CWORD": str(len(words) - 1),
    }  # fmt: skip
    code = "import sys; sys.argv = ['prestrike']; from advisor.cli.main import run; run()"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=environment, check=False)
    assert wanted <= set(ran.stdout.split()), ran.stdout + ran.stderr
