"""A small share of the kills (`tests/robust/kills.py`): at any moment each file is the old one or the new one."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.robust import kills


@pytest.fixture
def place(cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.chdir(tmp_path)
    for name in ("PRESTRIKE_CONFIG", "PRESTRIKE_JOURNAL", "COLUMNS"):
        monkeypatch.setenv(name, "")  # put back at the end
    kills.prepare(tmp_path)
    yield tmp_path


@pytest.mark.parametrize("name", kills.COMMANDS)
def test_a_killed_command_leaves_whole_files(place: Path, name: str) -> None:
    if name == "trial export":
        kills.kill_journal(place, 0, random.Random(0))
    counts = kills.kill_often(place, name, 2, random.Random(name))
    assert counts["killed"] >= 1 and not counts["traceback"]
    assert not [what for what in counts if what.startswith("broken")]


def test_what_was_acknowledged_is_kept(place: Path) -> None:
    counts = kills.kill_journal(place, 3, random.Random(1))
    assert counts["acknowledged"] >= 1 and counts["lost"] == 0 and counts["integrity ok"] == 1


def test_eight_writers_at_once(place: Path) -> None:
    counts = kills.eight_writers(place, 1)
    assert counts["acknowledged"] == 8 and counts["lost"] == 0 and counts["integrity ok"] == 1
    assert not counts["wrong codes"] and not counts["tracebacks"] and not counts["drafts left"]


@pytest.mark.parametrize(("now", "said"), [
    ({"a": b"old"}, "old"), ({"a": b"new"}, "new"), ({"a": b"ne"}, "broken: ['a']"), ({}, "broken: ['a']"),
])  # fmt: skip
def test_the_judge_can_find_a_half_file(now: dict[str, bytes], said: str) -> None:
    assert kills.judge(now, {"a": b"old"}, {"a": b"new"}) == said
