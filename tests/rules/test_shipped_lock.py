"""A shipped rule that says something else without a new version fails here, and so does a lock left behind.

After a change that is meant (version raised, history entry added):
    prestrike rules lock --built-in --renew -o tests/rules/shipped.lock.json
It refuses a file that changed under its old version; after a merge of many changes made under one version, --accept.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from advisor.diagnostics import PrestrikeError
from advisor.resources import rules_folder
from advisor.rulebook.listing import Layer
from advisor.rulebook.review.file_versions import FileVersion, FileVersionChange, differences
from advisor.shop_rules.lock import check_lock, lock_of, read_lock, write_lock

Run = Callable[..., Any]
LOCK = Path(__file__).with_name("shipped.lock.json")
RENEW = "prestrike rules lock --built-in --renew -o tests/rules/shipped.lock.json"
ONE = Path("holding") / "heat-limits.yaml"


def changed(folder: Path, lock: Path = LOCK) -> list[FileVersionChange]:
    found = check_lock(read_lock(lock), lock_of([Layer("built-in", folder)], ""))
    return [item for item in found if item.kind != "worded"]


def test_no_shipped_rule_changed_without_a_version() -> None:
    silent = [item.file for item in changed(rules_folder()) if item.kind == "unversioned"]
    assert not silent, f"raise the version and add a history entry in {', '.join(silent)}; then {RENEW}"


def test_the_lock_holds_every_shipped_file_as_it_is() -> None:
    behind = [f"{item.file} ({item.kind})" for item in changed(rules_folder())]
    assert not behind, f"the lock is behind: {', '.join(behind)}; run {RENEW}"


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The shipped rules with a fresh lock beside them."""
    folder = tmp_path / "rules"
    shutil.copytree(rules_folder(), folder)
    write_lock(tmp_path / "lock.json", lock_of([Layer("built-in", folder)], ""), renew=False, accept=False)
    return folder


def edit(path: Path, *pairs: tuple[str, str]) -> None:
    text = path.read_text(encoding="utf-8")
    for old, new in pairs:
        assert old in text
        text = text.replace(old, new, 1)
    path.write_text(text, encoding="utf-8")


VERSION = ("version: 1.3.0", "version: 1.4.0")


def test_one_number_changed_is_caught_until_the_version_says_so(copy: Path) -> None:
    lock = copy.parent / "lock.json"
    assert changed(copy, lock) == []
    edit(copy / ONE, ("value: 120 degC", "value: 150 degC"))
    assert [(item.kind, item.file) for item in changed(copy, lock)] == [("unversioned", ONE.as_posix())]
    now = lock_of([Layer("built-in", copy)], "")
    with pytest.raises(PrestrikeError, match=r"its version is 1\.3\.0 as before"):
        write_lock(lock, now, renew=True, accept=False)
    edit(copy / ONE, VERSION)
    assert [(item.kind, item.old, item.new) for item in changed(copy, lock)] == [("changed", "1.3.0", "1.4.0")]
    write_lock(lock, lock_of([Layer("built-in", copy)], ""), renew=True, accept=False)
    assert changed(copy, lock) == []


def test_a_version_without_its_history_entry_is_a_finding(copy: Path, prestrike: Run) -> None:
    path = copy.parent / "one.yaml"
    shutil.copy(copy / ONE, path)
    edit(path, VERSION)
    ran = prestrike("rules", "check", "--rules", str(path))
    assert ran.code == 2 and "version 1.4.0 has no history entry on top" in ran.out


def test_comments_layout_history_and_notes_say_nothing_to_a_job(copy: Path) -> None:
    edit(copy / ONE, ("rules:\n", "# a remark\nrules:\n"), ("notes: ", "notes:   "))
    assert changed(copy, copy.parent / "lock.json") == []


def test_files_that_come_and_go_are_told(copy: Path) -> None:
    (copy / "new.yaml").write_text((copy / ONE).read_text(encoding="utf-8"), encoding="utf-8")
    (copy / ONE).unlink()
    kinds = {(item.kind, item.file) for item in changed(copy, copy.parent / "lock.json")}
    assert kinds == {("added", "new.yaml"), ("removed", ONE.as_posix())}


def test_the_kinds_of_difference() -> None:
    old = FileVersion("shop", "a.yaml", "a", "1.0.0", "h1", "m1")
    for new, kind in (
        (old._replace(sha256="h2"), "worded"),
        (old._replace(sha256="h2", meaning="m2"), "unversioned"),
        (old._replace(sha256="h2", meaning="m2", version="1.0.1"), "changed"),
        (old._replace(sha256="h2", meaning=""), "edited"),
    ):
        assert [item.kind for item in differences([old], [new])] == [kind]
    assert differences([old], [old]) == []


def test_the_command_checks_a_lock_and_a_saved_answer(prestrike: Run, tmp_path: Path) -> None:
    lock, saved, own = tmp_path / "l.json", tmp_path / "a.json", tmp_path / "own"
    own.mkdir()
    shutil.copy(rules_folder() / ONE, own / "mine.yaml")
    text = (own / "mine.yaml").read_text(encoding="utf-8")
    for name in ("preheat.", "interpass."):
        text = text.replace(f"id: {name}", f"id: mine.{name}")
    (own / "mine.yaml").write_text(text, encoding="utf-8")
    rules = ("--rules", str(own))
    assert prestrike("rules", "lock", "-o", str(lock), *rules).code == 0
    assert prestrike("rules", "lock", "-o", str(lock), *rules).code == 2
    answer = prestrike("setup", "--metal", "6061", "--thickness", "3.2 mm", "--joint", "tee", "--json", *rules)
    saved.write_text(answer.out, encoding="utf-8")
    for path in (lock, saved):
        same = prestrike("rules", "lock", "--check", str(path), *rules)
        assert same.code == 0 and "nothing differs" in same.out, same.out
    edit(own / "mine.yaml", ("value: 120 degC", "value: 90 degC"))
    for path, word in ((lock, "ITS VERSION NOT"), (saved, "other bytes")):
        ran = prestrike("rules", "lock", "--check", str(path), *rules)
        assert ran.code == 2 and "mine.yaml" in ran.out and word in ran.out
    told = prestrike("rules", "lock", "--check", str(lock), "--json", *rules).json["changed"]
    assert [(item["layer"], item["file"], item["kind"]) for item in told] == [("shop", "mine.yaml", "unversioned")]
    gone = prestrike("rules", "lock", "--check", str(lock))
    assert gone.code == 2 and "not here" in gone.out


@pytest.mark.parametrize("text", ["{", "[]", "{}", '{"format": 9, "files": []}', '{"format": 1, "files": [{"a": 1}]}'])
def test_what_is_no_lock_is_told(tmp_path: Path, text: str) -> None:
    path = tmp_path / "x.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(PrestrikeError, match=r"x\.json"):
        read_lock(path)
