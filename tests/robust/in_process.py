"""Runs command lines in this process, one after another, each with a limit of time, and says what broke."""

from __future__ import annotations

import io
import json
import os
import shutil
import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any, NamedTuple

from advisor.cli.main import main

ROOT = Path(__file__).resolve().parents[2]
# What a command may end with; 1 is a fault of the program.
ALLOWED = (0, 2, 3, 4)
# An answer takes well under a second of work. Waiting is given longer, since a busy machine makes everything wait.
WORK_SECONDS, WAIT_SECONDS = 60, 900
LONG = os.environ.get("PRESTRIKE_ROBUST") == "long"


class TookTooLong(BaseException):
    """Raised by the alarm; nothing that catches faults catches it."""


class Ended(NamedTuple):
    """How a command line ended. code: None where it hung."""

    code: int | None
    out: str
    err: str


def run(arguments: Sequence[str], said: str = "") -> Ended:
    """One command line, with `said` on standard input."""

    def alarm(*_: Any) -> None:
        raise TookTooLong

    out, err, before = io.StringIO(), io.StringIO(), sys.stdin
    signal.signal(signal.SIGALRM, alarm)
    signal.signal(signal.SIGPROF, alarm)
    signal.setitimer(signal.ITIMER_REAL, WAIT_SECONDS)
    signal.setitimer(signal.ITIMER_PROF, WORK_SECONDS)
    sys.stdin = io.StringIO(said)
    try:
        with redirect_stdout(out), redirect_stderr(err):
            code: int | None = int(main(list(arguments)))
    except TookTooLong:
        code = None
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.setitimer(signal.ITIMER_PROF, 0)
        sys.stdin = before
    return Ended(code, out.getvalue(), err.getvalue())


def fault_of(arguments: Sequence[str], ended: Ended) -> str:
    """What is wrong with an end, or an empty string."""
    if ended.code is None:
        return f"no end within {WORK_SECONDS} s of work or {WAIT_SECONDS} s of waiting"
    if ended.code not in ALLOWED:
        return f"exit code {ended.code}: {(ended.err or ended.out)[-300:]}"
    if "Traceback (most recent call last)" in ended.out + ended.err:
        return "a traceback"
    if ended.code == 2 and not (ended.out + ended.err).strip():
        return "exit code 2 without a word"
    if "--json" in arguments and not {"--help", "--jobs", "--", "ask", "demo"} & set(arguments):
        return _json_fault(ended.out)
    return ""


def _json_fault(out: str) -> str:
    def no_constant(word: str) -> float:
        raise ValueError(f"{word} in JSON")

    try:
        json.loads(out, parse_constant=no_constant)
    except ValueError as error:
        return f"standard output is no JSON: {error}: {out[:200]!r}"
    return ""


@contextmanager
def workplace(folder: Path) -> Iterator[Path]:
    """A folder to work in, with a configuration, a journal and a home of its own; put back at the end."""
    names = {"PRESTRIKE_CONFIG": "config", "PRESTRIKE_JOURNAL": "journal.sqlite", "HOME": "."}
    before, was = {name: os.environ.get(name) for name in names}, Path.cwd()
    folder.mkdir(parents=True, exist_ok=True)
    os.environ.update({name: str(folder / place) for name, place in names.items()})
    os.chdir(folder)
    try:
        yield folder
    finally:
        os.chdir(was)
        for name, value in before.items():
            os.environ.pop(name, None) if value is None else os.environ.update({name: value})


def fresh_files(folder: Path) -> None:
    """Fill the folder with one of each file that the program reads, and with things that are no files."""
    for item in folder.iterdir():
        shutil.rmtree(item) if item.is_dir() and not item.is_symlink() else item.unlink()
    for source in (ROOT / "advisor" / "demo").iterdir():
        if source.is_file():
            shutil.copy(source, folder / source.name)
    (folder / "jobs.csv").write_text(
        "name,metal,thickness,joint,metal_2,thickness_2,service\nlid,5052-H32,3.2 mm,tee,6061-T6,6.4 mm,leak-tight\n"
        "post,mild steel,1/8 in,butt,,,\nbad,unobtainium,3 mm,butt,,,\n",
        encoding="utf-8",
    )
    (folder / "photo.jpg").write_bytes(bytes(range(256)) * 8)
    (folder / "empty").write_bytes(b"")
    (folder / "folder").mkdir()
    (folder / "config" / "rules").mkdir(parents=True)
    (folder / "nowhere.yaml").symlink_to("not-there.yaml")
    (folder / "round.json").symlink_to("round.json")
    (folder / "zero.csv").symlink_to("/dev/zero")
    os.mkfifo(folder / "pipe.yaml")
    made = run(["rules", "new", "135 A", "coolant-tank.yaml"])
    assert made.code == 0, made.err
    (folder / "own.yaml").write_text(made.out, encoding="utf-8")
    made = run(["setup", "coolant-tank.yaml", "--json"])
    assert made.code == 0, made.err
    (folder / "saved.json").write_text(made.out, encoding="utf-8")
    assert run(["rules", "lock", "--built-in", "-o", "rules.lock.json"]).code == 0
    assert run(["trial", "import", "trials.csv"]).code == 0
    assert run(["trial", "export", "trials.json"]).code == 0
