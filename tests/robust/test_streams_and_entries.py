"""Output on any terminal and behind any pipe, errors as JSON, and what is no file in a shop's folder."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from advisor.diagnostics import PrestrikeError
from advisor.reading import MOST_DEPTH, parse_json, read_bytes

Run = Callable[..., Any]
PLATE = ("--metal", "6061-T6", "--joint", "butt")
RULES = ("--rules", "own")


def _dangling(path: Path) -> None:
    path.symlink_to("nowhere.yaml")


def _loop(path: Path) -> None:
    path.symlink_to(path.name)


def _pipe(path: Path) -> None:
    os.mkfifo(path)


def _endless(path: Path) -> None:
    path.symlink_to("/dev/zero")


def _unreadable(path: Path) -> None:
    # A regular file that no one can read, not even the superuser.
    path.symlink_to("/proc/self/mem")


def _socket(path: Path) -> None:
    here = Path.cwd()
    os.chdir(path.parent)
    try:
        socket.socket(socket.AF_UNIX).bind(path.name)
    finally:
        os.chdir(here)


def _long_number(path: Path) -> None:
    path.write_text("kind: rules\nschema: " + "9" * 5000 + "\n", encoding="utf-8")


def _folder_link(path: Path) -> None:
    path.symlink_to("/tmp")


ENTRIES = (_dangling, _loop, _pipe, _endless, _unreadable, _socket, _long_number, _folder_link)


def test_a_bad_entry_in_the_shops_folder_is_left_out_and_named(prestrike: Run, tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    for make in ENTRIES:
        make(own / f"{make.__name__}.yaml")
    ran = prestrike("setup", *PLATE, "--thickness", "3 mm", *RULES, cwd=tmp_path)
    assert ran.code == 2 and "DIAL IN" in ran.out, ran.err
    for make in ENTRIES:
        assert f"LEFT OUT, the answer is without it: own/{make.__name__}.yaml" in ran.err
    assert "_long_number.yaml:2:9: long-number" in ran.err
    assert "cannot be written" not in ran.err and "could not be written" not in ran.err


@pytest.mark.parametrize("path", ("/dev/zero", "/dev/null", "/tmp", "/proc/self/mem", "x" * 300, "a\0b", "\ud800"))
def test_what_is_no_file_is_never_read(path: str) -> None:
    with pytest.raises(PrestrikeError):
        read_bytes(path)


@pytest.mark.parametrize(
    ("text", "code", "column"),
    (
        ("[" * 100_000, "too-deep", 0),
        ("[" * (MOST_DEPTH + 2) + "]" * (MOST_DEPTH + 2), "too-deep", 0),
        ("[1, NaN]", "not-json", 5),
        ("[1e999]", "not-json", 2),
        ("[" + "9" * 5000 + "]", "not-json", 2),
        ('["\\ud800"]', "not-json", 0),
    ),
)
def test_json_that_no_one_can_use_is_refused_with_its_place(text: str, code: str, column: int) -> None:
    with pytest.raises(PrestrikeError) as caught:
        parse_json(text, "saved.json")
    assert (caught.value.diagnostics[0].code, caught.value.diagnostics[0].column) == (code, column)


@pytest.mark.parametrize(
    "words",
    (
        ("setup", *PLATE, "--thicknes", "3 mm"),
        ("setup", *PLATE, "--thickness"),
        ("setup", *PLATE, "--thickness", ""),
        ("setup", *PLATE, "--thickness", "3 mm\udcff"),
        ("nonsense",),
        ("rules", "nonsense"),
        ("rules", "show"),
        ("recheck", "nowhere.json"),
        ("trial", "export", "x.zz"),
    ),
)
def test_every_error_is_json_where_json_is_asked_for(prestrike: Run, words: tuple[str, ...]) -> None:
    ran = prestrike(*words, "--json")
    assert ran.code == 2
    found = json.loads(ran.out)
    assert found["errors"] and all(item["code"] and item["message"] for item in found["errors"])


@pytest.mark.parametrize("env", ({"PYTHONIOENCODING": "ascii"}, {"LC_ALL": "C", "PYTHONUTF8": "0", "LANG": "C"}))
def test_a_plain_terminal_is_no_fault(prestrike_process: Run, env: dict[str, str]) -> None:
    plain = {**env, "PYTHONCOERCECLOCALE": "0"}
    ran = prestrike_process("setup", *PLATE, "--thickness", "3 mm", env=plain)
    assert ran.code == 0 and ran.out.isascii() and " deg" in ran.out and "\\x" not in ran.out
    ran = prestrike_process("setup", *PLATE, "--thickness", "3 mm", "--json", env=plain)
    assert ran.code == 0 and ran.out.isascii() and ran.json["status"] == "advised"


@pytest.mark.parametrize(("size", "code"), (("3 mm", 0), ("zz", 2)))
def test_a_reader_that_goes_leaves_the_exit_code(cache: Path, size: str, code: int) -> None:
    """The other end of the pipe is closed before anything is written."""
    ends = os.pipe()
    os.close(ends[0])
    words = [sys.executable, "-m", "advisor.cli.main", "setup", *PLATE, "--thickness", size, "--json"]
    done = subprocess.run(words, stdout=ends[1], stderr=subprocess.PIPE, text=True, check=False, env={**os.environ})
    os.close(ends[1])
    assert (done.returncode, done.stderr) == (code, "")


def test_a_full_disk_is_told(cache: Path) -> None:
    with open("/dev/full", "w", encoding="utf-8") as full:
        words = [sys.executable, "-m", "advisor.cli.main", "materials", "list"]
        done = subprocess.run(words, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 2 and "cannot-write: the answer could not be written" in done.stderr


def test_a_folder_of_the_whole_computer_is_no_folder_of_rules(prestrike: Run) -> None:
    ran = prestrike("rules", "where", "--rules", "/")
    assert ran.code == 2 and "more than 10000 files and folders" in ran.out


@pytest.mark.parametrize("part", ("members", "machine", "part", "joint"))
def test_a_saved_job_that_was_changed_by_hand_is_named(prestrike: Run, tmp_path: Path, part: str) -> None:
    saved = prestrike("setup", "advisor/demo/coolant-tank.yaml", "--json").json
    saved["job"]["as_given"][part] = [[1]]
    path = tmp_path / "saved.json"
    path.write_text(json.dumps(saved), encoding="utf-8")
    for words in (("recheck",), ("rules", "diff"), ("rules", "new", "135 A", "--from")):
        ran = prestrike(*words, str(path))
        assert ran.code == 2 and f"job.as_given.{part}" in ran.err, (words, ran.err)
