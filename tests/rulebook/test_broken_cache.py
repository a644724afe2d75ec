"""A cache that is torn, foreign or stale is made anew, and never changes an answer or ends in a traceback."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from advisor.rulebook.compiled_cache import Store

Run = Callable[..., Any]
SETUP = ("setup", "--metal", "6061", "--thickness", "3.2 mm", "--joint", "butt", "--json")


def cut_in_half(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def noise(path: Path) -> None:
    path.write_bytes(b"\x00\xff not a file of ours" * 500)


def empty(path: Path) -> None:
    path.write_bytes(b"")


def of_another_program(path: Path) -> None:
    path.unlink()
    with sqlite3.connect(path) as db:
        db.execute("CREATE TABLE kept (something INTEGER)")
        db.execute("CREATE TABLE meta (key TEXT, value INTEGER)")


def with_a_hole(path: Path) -> None:
    raw = bytearray(path.read_bytes())
    middle = len(raw) // 2
    raw[middle : middle + 8192] = bytes(8192)
    path.write_bytes(raw)


HARMS = (cut_in_half, noise, empty, of_another_program, with_a_hole)


@pytest.fixture(scope="module")
def warm(prestrike: Run, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str, str]:
    """A warm cache, and what setup and the check say."""
    folder = tmp_path_factory.mktemp("warm")
    env = {"PRESTRIKE_CACHE": str(folder)}
    checked = prestrike("rules", "check", env=env)
    answer = prestrike(*SETUP, env=env)
    assert (checked.code, answer.code) == (0, 0)
    return folder, answer.out, checked.out


@pytest.mark.parametrize("harm", HARMS, ids=lambda harm: harm.__name__)
@pytest.mark.parametrize("pattern", ("files.sqlite", "seen-*"))
def test_a_harmed_file_of_the_cache_changes_nothing(
    prestrike: Run, warm: tuple[Path, str, str], tmp_path: Path, pattern: str, harm: Callable[[Path], None]
) -> None:
    folder, answer, checked = warm
    cache = tmp_path / "cache"
    shutil.copytree(folder, cache)
    env = {"PRESTRIKE_CACHE": str(cache)}
    harmed = sorted(cache.glob(pattern))
    assert harmed
    for path in harmed:
        harm(path)
    if pattern == "files.sqlite":
        # The index is what setup reads; without it the harmed files must be compiled again.
        for path in cache.glob("rules-*.sqlite"):
            path.unlink()
        again = prestrike("rules", "check", env=env)
        assert (again.code, again.out) == (0, checked), again.err
    ran = prestrike(*SETUP, env=env)
    assert (ran.code, ran.out) == (0, answer), ran.err


@pytest.mark.parametrize("harm", (cut_in_half, noise, empty, of_another_program), ids=lambda harm: harm.__name__)
def test_a_harmed_index_is_made_anew(
    prestrike: Run, warm: tuple[Path, str, str], tmp_path: Path, harm: Callable[[Path], None]
) -> None:
    folder, answer, _ = warm
    cache = tmp_path / "cache"
    shutil.copytree(folder, cache)
    for path in cache.glob("rules-*.sqlite"):
        harm(path)
    ran = prestrike(*SETUP, env={"PRESTRIKE_CACHE": str(cache)})
    assert (ran.code, ran.out) == (0, answer), ran.err


def test_a_row_changed_by_hand_is_not_believed(tmp_path: Path) -> None:
    path = tmp_path / "files.sqlite"
    Store(path).put({"a": {"amps": 135}, "b": {"amps": 90}})
    with sqlite3.connect(path) as db:
        db.execute("UPDATE kept SET payload=? WHERE key='a'", ('{"amps": 999}',))
    assert Store(path).get(["a", "b"]) == {"b": {"amps": 90}}


def test_a_row_of_one_key_is_not_believed_under_another(tmp_path: Path) -> None:
    path = tmp_path / "files.sqlite"
    Store(path).put({"a": {"amps": 135}})
    with sqlite3.connect(path) as db:
        db.execute("UPDATE kept SET key='c'")
    assert Store(path).get(["c"]) == {}


@pytest.mark.parametrize("part", ("payload", "pages"))
def test_an_index_harmed_behind_its_note_is_taken_away_and_made_anew(
    prestrike: Run, warm: tuple[Path, str, str], tmp_path: Path, part: str
) -> None:
    """The size is as noted, so only reading it tells."""
    folder, answer, _ = warm
    cache = tmp_path / "cache"
    shutil.copytree(folder, cache)
    env = {"PRESTRIKE_CACHE": str(cache)}
    (path,) = cache.glob("rules-*.sqlite")
    if part == "payload":
        with sqlite3.connect(path) as db:
            db.execute("UPDATE meta SET value = '{' || substr(value, 2) || '{' WHERE key = 'units'")
        for seen in cache.glob("seen-*"):
            digest, _, _ = seen.read_text(encoding="ascii").partition(" ")
            seen.write_text(f"{digest} {path.stat().st_size}", encoding="ascii")
    else:
        raw = path.read_bytes()
        path.write_bytes(raw[:4096] + bytes(len(raw) - 4096))
    first = prestrike(*SETUP, env=env)
    assert first.code == 0 or (first.code == 2 and "damaged-cache" in first.out)
    again = prestrike(*SETUP, env=env)
    assert (again.code, again.out) == (0, answer), again.err
