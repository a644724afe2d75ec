"""Old formats moved forward. The steps are made here, since the shipped program has had one format only."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from advisor.diagnostics import PrestrikeError
from advisor.resources import rules_folder
from advisor.rulebook.reading.migrate import Edit, Step, migrate
from advisor.rulebook.reading.yaml_text import Document, parse_yaml

OLD = """# our own rules
kind: rules   # what it is
schema: 1  # the format
colour: red   # kept
list:
  - {colour: blue}  # and this
"""


def renamed(old: str, new: str) -> Step:
    def step(document: Document) -> list[Edit]:
        return [Edit(*place, old, new) for path, place in document.keys.items() if path[-1] == old]

    return step


def test_two_steps_in_turn_and_every_comment_stays() -> None:
    made = migrate(OLD.encode(), "own.yaml", {1: renamed("colour", "tint"), 2: renamed("tint", "shade")}, 3)
    assert made.numbers == (1, 2, 3)
    assert made.after == OLD.replace("colour", "shade").replace("schema: 1", "schema: 3")
    assert parse_yaml(made.after.encode(), "own.yaml").data["list"] == [{"shade": "blue"}]


@pytest.mark.parametrize(
    ("text", "newest", "said"),
    [
        (OLD, 2, "no step"),
        (OLD.replace("schema: 1", "schema: 9"), 1, "newer"),
        (OLD.replace("schema: 1  #", "#"), 1, "no format number"),
    ],
)
def test_what_cannot_be_moved_says_why_with_its_place(text: str, newest: int, said: str) -> None:
    with pytest.raises(PrestrikeError) as caught:
        migrate(text.encode(), "own.yaml", {}, newest)
    (finding,) = caught.value.diagnostics
    assert said in finding.message and finding.line >= 1 and finding.help


def test_an_edit_that_misses_its_word_changes_nothing() -> None:
    with pytest.raises(PrestrikeError, match="expected"):
        migrate(OLD.encode(), "own.yaml", {1: lambda _: [Edit(1, 1, "x", "y")]}, 2)


def test_every_shipped_file_is_in_the_newest_format_and_comes_back_as_it_is() -> None:
    for path in rules_folder().rglob("*.yaml"):
        made = migrate(path.read_bytes(), path.name)
        assert made.after == made.before and len(made.numbers) == 1


def test_the_command_looks_at_own_files_only(prestrike: Callable[..., Any], tmp_path: Path) -> None:
    (tmp_path / "own.yaml").write_text(OLD, encoding="utf-8")
    ran = prestrike("rules", "migrate", "--rules", str(tmp_path), "--write")
    assert ran.code == 0 and "1 files looked at, 0 written" in ran.out
    (tmp_path / "new.yaml").write_text(OLD.replace("schema: 1", "schema: 7"), encoding="utf-8")
    ran = prestrike("rules", "migrate", "--rules", str(tmp_path), "--json")
    assert ran.code == 2 and ran.json["findings"][0]["line"] == 3
