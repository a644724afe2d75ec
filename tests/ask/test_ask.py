"""The guided form, by pipe and in a pseudo-terminal, stopped at every question in every way."""

from __future__ import annotations

import json
import os
import pty
import select
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from advisor.ask.questions import QUESTIONS

ROOT = Path(__file__).resolve().parents[2]
Run = Callable[..., Any]
# Two unlike members of a leak-tight box, every question that can matter asked: name -> what is typed.
TYPED: dict[str, str] = {
    "name": "Tank lid",
    "metal": "6061-T6",
    "thickness": "1/8 in",
    "surface": "",
    "same": "no",
    "metal_2": "5052-H32",
    "thickness_2": "1/4 in",
    "surface_2": "oily, mill-finish",
    "process": "",
    "joint": "tee",
    "access": "both-sides",
    "position": "",
    "length": "12 in",
    "service": "leak-tight, machined-after",
    "used_container": "",
    "closed_volume": "yes",
    "box": "12 in, 8 in, 6 in",
    "place": "",
    "filler": "ER5356",
    "highest_current": "200 A",
    "current_type": "",
    "balance_control": "",
}


def piped(folder: Path, typed: str, cache: Path, *more: str) -> subprocess.CompletedProcess[str]:
    environment = {
        **os.environ,
        "PRESTRIKE_CACHE": str(cache),
        "PYTHONPATH": str(ROOT),
        "TERM": "dumb",
        "NO_COLOR": "1",
    }
    return subprocess.run(
        [sys.executable, "-m", "advisor.cli.main", "ask", *more],
        input=typed, capture_output=True, text=True, cwd=folder, env=environment, check=False,
    )  # fmt: skip


def test_all_questions_are_in_the_walk() -> None:
    assert list(TYPED) == [question.name for question in QUESTIONS]


def test_by_pipe_it_writes_a_job_the_program_takes(prestrike: Run, cache: Path, tmp_path: Path) -> None:
    ran = piped(tmp_path, "".join(f"{line}\n" for line in TYPED.values()), cache)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    assert "\x1b" not in ran.stdout and max(map(len, ran.stdout.splitlines())) <= 80
    data = yaml.safe_load((tmp_path / "job.yaml").read_text(encoding="utf-8"))
    assert [member["metal"] for member in data["members"]] == ["6061-T6", "5052-H32"]
    assert data["part"]["box"] == ["12 in", "8 in", "6 in"]
    assert data["machine"] == {"highest_current": "200 A", "current_type": "ac-dc", "balance_control": True}
    assert not (tmp_path / "job.yaml.draft").exists()
    answer = prestrike("setup", str(tmp_path / "job.yaml"), "--json")
    assert answer.code == 0, answer.err
    job = answer.json["job"]
    assert (job["joint"], job["position"], job["closed_volume"]) == ("tee", "PB", True)


@pytest.mark.parametrize("stop", range(len(TYPED)))
def test_stopped_at_any_question_nothing_is_lost(cache: Path, tmp_path: Path, stop: int) -> None:
    lines = list(TYPED.values())
    ending = "quit\n" if stop % 2 else ""
    first = piped(tmp_path, "".join(f"{line}\n" for line in lines[:stop]) + ending, cache)
    assert first.returncode == 2
    assert not (tmp_path / "job.yaml").exists()
    if stop:
        kept = json.loads((tmp_path / "job.yaml.draft").read_text(encoding="utf-8"))
        assert list(kept) == list(TYPED)[:stop]
        assert all(kept[name] == TYPED[name] for name in kept if TYPED[name])
    second = piped(tmp_path, "".join(f"{line}\n" for line in lines[stop:]), cache)
    assert second.returncode == 0, second.stdout
    data = yaml.safe_load((tmp_path / "job.yaml").read_text(encoding="utf-8"))
    assert (data["name"], data["joint"], data["filler"]) == ("Tank lid", "tee", "ER5356")


class Terminal:
    """The form in a pseudo-terminal."""

    def __init__(self, folder: Path, cache: Path) -> None:
        environment = {**os.environ, "PRESTRIKE_CACHE": str(cache), "PYTHONPATH": str(ROOT), "TERM": "dumb"}
        self.master, slave = pty.openpty()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "advisor.cli.main", "ask"],
            stdin=slave, stdout=slave, stderr=slave, cwd=folder, env=environment, start_new_session=True,
            preexec_fn=lambda: __import__("fcntl").ioctl(0, __import__("termios").TIOCSCTTY, 0),
        )  # fmt: skip
        os.close(slave)
        self.seen = ""

    def wait_for(self, text: str) -> None:
        """Read until the text stands at the end of what was shown."""
        until = time.monotonic() + 20
        while not self.seen.rstrip(" ").endswith(text):
            ready = select.select([self.master], [], [], 0.5)[0]
            assert time.monotonic() < until, self.seen
            if ready:
                self.seen += os.read(self.master, 4096).decode()

    def type(self, text: str) -> None:
        self.wait_for("\n>")
        self.seen = ""
        os.write(self.master, text.encode())

    def end(self) -> int:
        """Read until the program is gone; one that waits for more answers fails instead of hanging."""
        until = time.monotonic() + 30
        try:
            while time.monotonic() < until:
                if select.select([self.master], [], [], 0.5)[0]:
                    data = os.read(self.master, 4096)
                    if not data:
                        break
                    self.seen += data.decode()
        except OSError:
            pass  # the other end has gone
        if time.monotonic() >= until:
            self.process.kill()
            raise AssertionError(f"still waiting: {self.seen}")
        os.close(self.master)
        return self.process.wait(timeout=10)


def test_in_a_terminal_with_help_slips_and_going_back(cache: Path, tmp_path: Path) -> None:
    form = Terminal(tmp_path, cache)
    form.type("Bracket\n")
    form.type("?\n")
    form.wait_for("\n>")
    assert "magnet" in form.seen and "5052 or 6061" in form.seen
    form.type("6O61\n")
    form.wait_for("\n>")
    assert "no metal known here" in form.seen
    form.type("A36\n")
    form.type("3,2 mm\n")
    form.wait_for("\n>")
    assert "decimal point" in form.seen
    form.type("3.2 mm\n")
    form.type("back\n")
    form.wait_for("\n>")
    assert "[3.2 mm]" in form.seen
    form.type("1/8 in\n")
    for line in ("", "", "", "lap", "", "", "", "", "", "", "", "", ""):
        form.type(f"{line}\n")
    assert form.end() == 0, form.seen
    data = yaml.safe_load((tmp_path / "job.yaml").read_text(encoding="utf-8"))
    assert data["members"] == [{"metal": "A36", "thickness": "1/8 in", "surface": ["mill-scale"]}]
    assert "machine" not in data and "length" not in data


@pytest.mark.parametrize("how", ["ctrl-c", "killed"])
@pytest.mark.parametrize("stop", [1, 8, 15, 20])
def test_interrupted_in_a_terminal_the_answers_are_kept(cache: Path, tmp_path: Path, stop: int, how: str) -> None:
    form = Terminal(tmp_path, cache)
    for line in list(TYPED.values())[:stop]:
        form.type(f"{line}\n")
    form.wait_for("\n>")
    if how == "ctrl-c":
        os.write(form.master, b"\x03")
        assert form.end() == 2
        assert "Kept in job.yaml.draft" in form.seen
    else:
        os.kill(form.process.pid, signal.SIGKILL)
        form.end()
    assert list(json.loads((tmp_path / "job.yaml.draft").read_text(encoding="utf-8"))) == list(TYPED)[:stop]


def test_it_asks_only_what_matters(cache: Path, tmp_path: Path) -> None:
    steel = ("Plate", "A36", "3 mm", "", "yes", "", "edge", "", "", "", "", "", "", "", "")
    ran = piped(tmp_path, "".join(f"{line}\n" for line in steel), cache)
    assert ran.returncode == 0, ran.stdout
    for question in ("second member", "box of sheet", "AC balance", "one side or both"):
        assert question not in ran.stdout


def test_a_file_that_is_there_is_not_written_over(cache: Path, tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text("mine", encoding="utf-8")
    assert piped(tmp_path, "", cache).returncode == 2
    assert (tmp_path / "job.yaml").read_text(encoding="utf-8") == "mine"
    (tmp_path / "other.yaml.draft").write_text("[1]", encoding="utf-8")
    assert "no draft of this form" in piped(tmp_path, "", cache, "-o", "other.yaml").stderr
