"""A file is whole or untouched: full disks, links, rights, two writers at once, and every command that writes."""

from __future__ import annotations

import json
import os
import resource
import stat
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from advisor import writing
from advisor.diagnostics import PrestrikeError
from advisor.writing import write_whole

ROOT = Path(__file__).resolve().parents[2]
OLD = "the old text, whole\n"


@contextmanager
def full_disk(most: int) -> Iterator[None]:
    """No file can grow beyond so many bytes, as on a disk with no more room."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_full_disk_leaves_the_old_file_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "sheet.html"
    path.write_text(OLD)
    with full_disk(1000), pytest.raises(PrestrikeError) as caught:
        write_whole(path, "new " * 1000)
    assert caught.value.diagnostics[0].code == "cannot-write"
    assert caught.value.diagnostics[0].file == str(path) and caught.value.diagnostics[0].help
    assert path.read_text() == OLD and names(tmp_path) == ["sheet.html"]


def test_a_full_disk_leaves_no_part_of_a_new_file(tmp_path: Path) -> None:
    with full_disk(1000), pytest.raises(PrestrikeError, match="File too large"):
        write_whole(tmp_path / "trials.csv", "new " * 1000, new=True)
    assert names(tmp_path) == []


@pytest.mark.parametrize("broken", ["fsync", "replace", "chmod"])
def test_any_step_that_fails_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, broken: str) -> None:
    path = tmp_path / "a.txt"
    path.write_text(OLD)

    def fails(*_: object) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(writing.os, broken, fails)
    with pytest.raises(PrestrikeError, match="Input/output error"):
        write_whole(path, "new")
    assert path.read_text() == OLD and names(tmp_path) == ["a.txt"]


def test_a_file_keeps_its_rights_and_a_link_stays_a_link(tmp_path: Path) -> None:
    path, link = tmp_path / "a.txt", tmp_path / "link.txt"
    path.write_text(OLD)
    path.chmod(0o640)
    link.symlink_to(path)
    write_whole(link, "new")
    assert link.is_symlink() and path.read_text() == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_new_file_has_the_rights_of_any_new_file(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.txt", "new")
    (tmp_path / "b.txt").write_text("new")
    assert (tmp_path / "a.txt").stat().st_mode == (tmp_path / "b.txt").stat().st_mode


def test_what_is_no_ordinary_file_is_never_replaced(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    for name in ("folder", "pipe", "loop", "no/such/folder.txt", "n" * 300, "nul\0name", "half\ud800"):
        with pytest.raises(PrestrikeError) as caught:
            write_whole(tmp_path / name, "new")
        assert caught.value.diagnostics[0].code == "cannot-write", name
    assert names(tmp_path) == ["folder", "loop", "pipe"]


def test_of_writers_that_want_a_new_file_one_wins(tmp_path: Path) -> None:
    path = tmp_path / "trials.csv"
    won: list[str] = []
    lost: list[str] = []

    def write(text: str) -> None:
        try:
            write_whole(path, text, new=True)
            won.append(text)
        except PrestrikeError as error:
            lost.append(error.diagnostics[0].code)

    threads = [threading.Thread(target=write, args=(str(number) * 5000,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(won) == 1 and lost == ["exists"] * 7
    assert path.read_text() == won[0] and names(tmp_path) == ["trials.csv"]


def test_drafts_of_killed_programs_are_taken_away_and_those_of_others_are_not(tmp_path: Path) -> None:
    old, fresh = tmp_path / ".prestrike-1-1.tmp", tmp_path / ".prestrike-2-1.tmp"
    for path in (old, fresh):
        path.write_text("half")
    os.utime(old, (1, 1))
    write_whole(tmp_path / "a.txt", "new")
    assert names(tmp_path) == [fresh.name, "a.txt"]


SEAM = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")
# Every command that writes a file of the user's: (file it writes, arguments, what is typed).
COMMANDS = {
    "sheet.html": ("sheet", *SEAM, "-o", "sheet.html"),
    "sheet.md": ("sheet", *SEAM, "-o", "sheet.md"),
    "heat.svg": ("heat", *SEAM, "--picture", "heat.svg"),
    "rules.lock.json": ("rules", "lock", "--built-in", "--renew", "-o", "rules.lock.json"),
    "demo/coolant-tank.yaml": ("demo", "demo", "--force"),
    "out/summary.csv": ("setup", "--jobs", "jobs.csv", "-o", "out"),
}


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_on_a_full_disk(name: str, cache: Path, tmp_path: Path) -> None:
    """Run once to warm the cache, then on a disk with no room: exit code 2, the old file as it was, nothing beside."""
    target = tmp_path / name
    target.parent.mkdir(exist_ok=True)
    (tmp_path / "jobs.csv").write_text("name,metal,thickness,joint\na,5052,3.2 mm,tee\n")
    env = {
        **os.environ, "PYTHONPATH": str(ROOT), "PRESTRIKE_CONFIG": str(tmp_path / "config"), "COLUMNS": "80",
        "PRESTRIKE_JOURNAL": str(tmp_path / "journal.sqlite"),
    }  # fmt: skip

    def run(*arguments: str, most: int | None = None) -> subprocess.CompletedProcess[str]:
        limit = None if most is None else lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
        return subprocess.run(
            [sys.executable, "-m", "advisor.cli.main", *arguments], cwd=tmp_path, env=env, capture_output=True,
            text=True, check=False, preexec_fn=limit,
        )  # fmt: skip

    done = run(*COMMANDS[name])
    assert done.returncode == 0, done.stderr
    assert target.is_file()
    before = target.read_bytes()
    here = names(target.parent)
    failed = run(*COMMANDS[name], most=16)
    assert failed.returncode == 2, failed.stderr
    assert "cannot-write" in failed.stderr and "Traceback" not in failed.stderr
    assert target.read_bytes() == before
    assert names(target.parent) == here


def test_a_reading_error_is_called_so(cache: Path, tmp_path: Path) -> None:
    """A folder where a job file is wanted cannot be read; nothing was to be written."""
    (tmp_path / "job.yaml").mkdir()
    done = subprocess.run(
        [sys.executable, "-m", "advisor.cli.main", "setup", "job.yaml", "--json"], cwd=tmp_path, check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 2
    assert "could not be written" not in done.stdout + done.stderr
    assert json.loads(done.stdout)["errors"][0]["code"] in ("cannot-read", "not-a-file")
