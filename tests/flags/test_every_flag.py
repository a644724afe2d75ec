"""Every flag of every command: empty it is refused, nonsense is refused, and what is typed is never dropped unsaid.

The flags come from the application itself, so that a new one is covered here without a word of this file changing.
"""

from __future__ import annotations

import contextlib
import io
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
import typer

from advisor.cli import main

JOB = ("--metal", "6061-T6", "--thickness", "3 mm", "--joint", "butt")
# What a person may write freely: any text but an empty one is sense there.
FREE = {"--note", "--by", "--seen", "--because", "--cause"}


class Flag(NamedTuple):
    """One flag of one command."""

    command: tuple[str, ...]
    name: str
    takes_value: bool
    repeats: bool

    def __str__(self) -> str:
        return " ".join((*self.command, self.name))


def call(*arguments: str) -> tuple[int, str, str]:
    """The command in this process: its exit code, what it printed, and its errors."""
    out, err = io.StringIO(), io.StringIO()
    before = sys.argv
    sys.argv = ["prestrike", *arguments]
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err), pytest.raises(SystemExit) as ended:
            main.run()
    finally:
        sys.argv = before
    code = ended.value.code
    return (code if isinstance(code, int) else 0), out.getvalue(), err.getvalue()


def flags() -> Iterator[Flag]:
    """Every flag of every command, from the application."""
    whole: Any = typer.main.get_command(main.build_app(list(main.COMMANDS)))
    for name, command in whole.commands.items():
        inner = getattr(command, "commands", None)
        for path, leaf in [((name, sub), item) for sub, item in inner.items()] if inner else [((name,), command)]:
            for item in leaf.params:
                longest = max(item.opts, key=len)
                if longest.startswith("--") and longest != "--help":
                    yield Flag(path, longest, not item.is_flag, bool(item.multiple))


FLAGS = list(flags())
VALUED = [flag for flag in FLAGS if flag.takes_value]


def test_the_flags_of_every_command_are_looked_at() -> None:
    commands = {flag.command[0] for flag in FLAGS}
    assert commands >= set(main.COMMANDS) - {"demo", "ask"}
    assert len(VALUED) > 300


def test_an_empty_value_is_refused_by_every_flag() -> None:
    """Exit code 2, the flag named, and no traceback."""
    wrong = []
    for flag in VALUED:
        for empty in ("", "  "):
            code, _, err = call(*flag.command, f"{flag.name}={empty}")
            if code != 2 or f"{flag.name} is given empty" not in err:
                wrong.append(f"{flag}: {code} {err[:80]}")
    assert not wrong


def test_a_flag_that_counts_once_is_refused_twice() -> None:
    """The last of two used to win in silence."""
    wrong = []
    for flag in VALUED:
        code, _, err = call(*flag.command, f"{flag.name}=1", f"{flag.name}=1")
        if not flag.repeats and (code != 2 or f"{flag.name} is given twice" not in err):
            wrong.append(f"{flag}: {code} {err[:80]}")
    assert not wrong


def shared(command: str) -> list[Flag]:
    """The flags of a command that describe a job."""
    of_setup = {flag.name for flag in VALUED if flag.command == ("setup",)}
    return [flag for flag in VALUED if flag.command == (command,) and flag.name in of_setup]


@pytest.mark.parametrize("command", ["setup", "prep", "heat", "consumables", "strength", "cracks", "inspect", "faults"])
def test_nonsense_is_refused_by_every_flag_of_a_job(command: str) -> None:
    wrong = []
    for flag in shared(command):
        if flag.name in FREE | {"--output", "--jobs"}:
            continue
        rest = [
            text for name, text in zip(JOB[::2], JOB[1::2], strict=True) if name != flag.name for text in (name, text)
        ]
        code, out, err = call(command, *rest, f"{flag.name}=zz-nonsense")
        if code != 2 or "Traceback" in err:
            wrong.append(f"{flag}: {code} {(err or out)[:80]}")
    assert not wrong


@pytest.mark.parametrize(
    ("process", "flag", "value"),
    [
        ("TIG", "--wire", "0.8 mm"),
        ("TIG", "--electrode", "E7018"),
        ("TIG", "--electrode-diameter", "3.2 mm"),
        ("TIG", "--transfer", "spray"),
        ("MIG", "--tungsten", "WLa15"),
        ("MIG", "--electrode", "E7018"),
        ("stick", "--transfer", "spray"),
        ("stick", "--gas", "argon"),
        ("stick", "--wire", "0.8 mm"),
        ("stick", "--tungsten", "WLa15"),
        ("brazing", "--gas", "argon"),
    ],
)
@pytest.mark.parametrize("command", ["setup", "heat", "strength", "sheet"])
def test_a_word_of_another_process_is_refused(command: str, process: str, flag: str, value: str) -> None:
    code, _, err = call(command, "-m", "A36", "-t", "3 mm", "--joint", "tee", "--process", process, flag, value)
    assert code == 2 and f"'{value}' is not used with process" in err and "leave it out" in err


def without_job(text: str) -> Any:
    """The answer, without the job it was given."""
    answer = json.loads(text)
    answer.pop("job", None)
    return answer


@pytest.mark.parametrize("metal", ["6061-T6", "304", "A36"])
def test_every_backing_gives_another_answer(metal: str) -> None:
    """Mathers p. 79 and p. 80: nothing behind, a flat bar, a grooved one and argon ask for different roots."""
    answers = []
    for backing in ("none", "temporary-bar", "grooved-bar", "copper", "purge"):
        code, out, err = call("setup", "-m", metal, "-t", "3 mm", "--joint", "butt", "--backing", backing, "--json")
        assert code == 0, err
        answers.append(without_job(out))
    assert all(one != other for i, one in enumerate(answers) for other in answers[:i])


def test_no_gap_over_a_bar() -> None:
    """Mathers p. 79: no root gap on a backing bar, or the arc strikes the bar."""
    for backing, most in (("none", 2.0), ("copper", 0.0)):
        _, out, _ = call("setup", "-m", "5083", "-t", "6 mm", "--joint", "butt", "--backing", backing, "--json")
        assert json.loads(out)["preparation"]["numbers"]["root_gap"]["high"] == most


def test_an_unknown_temper_names_those_known() -> None:
    code, _, err = call("setup", "-m", "5052-H99", "-t", "3 mm", "--joint", "butt")
    assert code == 2 and "H32" in err and "H116" in err
    for sold in ("5052-H36", "6061-T6511", "6061-T62"):
        assert call("materials", "show", sold)[0] == 0


@pytest.mark.parametrize("flag", [("--section", "40 mm")])
def test_a_box_of_plate_has_no_section(flag: tuple[str, str]) -> None:
    code, _, err = call("blanks", *JOB[:4], "--box", "300 mm, 200 mm, 150 mm", *flag)
    assert code == 2 and "not used for a box" in err


def test_a_service_said_twice_is_refused() -> None:
    code, _, err = call("setup", *JOB, "--service", "leak-tight", "--service", "tank")
    assert code == 2 and "leak-tight is said twice" in err


def test_an_unknown_column_of_many_jobs_names_the_nearest(tmp_path: Path) -> None:
    table = tmp_path / "jobs.csv"
    table.write_text("metal,thickness,joint,backng\n5052,3 mm,butt,none\n", encoding="utf-8")
    code, _, err = call("setup", "--jobs", str(table), "-o", str(tmp_path / "out"))
    assert code == 2 and "did you mean 'backing'?" in err


def test_an_unknown_key_of_a_job_file_names_the_nearest(tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(
        "kind: job\nschema: 1\nmembers: [{metal: '5052', thickness: 3 mm}]\njoint: butt\nbackng: none\n",
        encoding="utf-8",
    )
    code, _, err = call("setup", str(job))
    assert code == 2 and "backing" in err and "job.yaml:5" in err
