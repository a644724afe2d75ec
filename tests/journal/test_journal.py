"""The journal: nothing overwritten, several writers, killed writers, older files, out and in again."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.diagnostics import PrestrikeError
from advisor.journal import schema
from advisor.journal.exchange import from_csv, from_json, to_csv, to_json
from advisor.journal.photos import photo_of, state_of
from advisor.journal.store import Journal, standing
from advisor.journal.trial import Photo, Trial, TrialCase, new_id, now_text
from advisor.resources import schema_file

CASE = TrialCase("141", ("5052",), "tee", "PB", 3.2, 3.2)


def trial(amps: float = 120.0, **more: object) -> Trial:
    return Trial(new_id(), now_text(), CASE, {"current": amps}, "good")._replace(**more)  # type: ignore[arg-type]


def in_child(work: Callable[[], None]) -> int:
    """Run work in a process of its own; gives its id."""
    child = os.fork()
    if child:
        return child
    try:
        work()
        os._exit(0)
    except BaseException:
        os._exit(1)


def test_eight_processes_add_five_hundred_trials_each(tmp_path: Path) -> None:
    path = tmp_path / "new" / "journal.sqlite"

    def writer() -> None:
        with Journal(path) as journal:
            for number in range(500):
                journal.add(trial(100.0 + number))

    children = [in_child(writer) for _ in range(8)]
    assert [os.waitpid(child, 0)[1] for child in children] == [0] * 8
    with Journal(path) as journal:
        rows = journal.rows()
        assert len(rows) == 4000 and len({row.id for row in rows}) == 4000
        assert journal.check() == "ok"


def lines_of(stream: int, many: int) -> bytes:
    """What a writer has told, read until it told of so many trials."""
    text = b""
    while text.count(b"\n") < many:
        text += os.read(stream, 65536)
    return text


def test_a_writer_killed_at_200_random_moments_loses_nothing_acknowledged(tmp_path: Path) -> None:
    """Moments are counted in trials told and a part of one, so that a busy machine still lets the writers write; every
    fourth writer is killed by the clock alone, also before it has opened the file."""
    path, chance, acknowledged = tmp_path / "journal.sqlite", random.Random(20261125), set()
    for number in range(200):
        reader, writer = os.pipe()

        def endless(writer: int = writer) -> None:
            with Journal(path) as journal:
                while True:
                    kept = journal.add(trial(note="x" * 2000))
                    os.write(writer, f"{kept.id}\n".encode())

        child = in_child(endless)
        os.close(writer)
        text = lines_of(reader, chance.randint(1, 7)) if number % 4 else b""
        time.sleep(chance.uniform(0, 0.003 if text else 0.02))
        os.kill(child, signal.SIGKILL)
        assert os.WIFSIGNALED(os.waitpid(child, 0)[1])
        with os.fdopen(reader, "rb") as stream:
            text += stream.read()
        acknowledged.update(text.rpartition(b"\n")[0].decode().split())
        # As it is after every kill: the file opens, is whole, and holds all that was told.
        with Journal(path) as journal:
            assert journal.check() == "ok"
            kept = {row[0] for row in journal.db.execute("SELECT id FROM trials")}
            assert acknowledged <= kept
    # At most one trial a kill was written and not yet acknowledged.
    assert len(kept) - len(acknowledged) <= 200
    assert len(acknowledged) > 500


def test_killed_while_others_write(tmp_path: Path) -> None:
    """Two that are let live add all of theirs while a third is killed over and over."""
    path, chance, told = tmp_path / "journal.sqlite", random.Random(3), set()

    def steady() -> None:
        with Journal(path) as journal:
            for number in range(150):
                journal.add(trial(100.0 + number))

    others = [in_child(steady) for _ in range(2)]
    for _ in range(20):
        reader, writer = os.pipe()

        def endless(writer: int = writer) -> None:
            with Journal(path) as journal:
                while True:
                    os.write(writer, f"{journal.add(trial()).id}\n".encode())

        child = in_child(endless)
        os.close(writer)
        text = lines_of(reader, chance.randint(1, 3))
        time.sleep(chance.uniform(0, 0.003))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with os.fdopen(reader, "rb") as stream:
            text += stream.read()
        told.update(text.rpartition(b"\n")[0].decode().split())
    assert [os.waitpid(other, 0)[1] for other in others] == [0, 0]
    with Journal(path) as journal:
        kept = [row.id for row in journal.rows()]
        assert journal.check() == "ok" and told <= set(kept)
    assert 300 + len(told) <= len(kept) <= 300 + len(told) + 20


def test_killed_while_the_file_is_made(tmp_path: Path) -> None:
    chance = random.Random(7)
    for number in range(25):
        path = tmp_path / f"{number}.sqlite"
        child = in_child(lambda path=path: Journal(path).close())  # type: ignore[misc]
        time.sleep(chance.uniform(0, 0.006))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        with Journal(path) as journal:
            journal.add(trial())
            assert len(journal.rows()) == 1 and journal.check() == "ok"


def test_the_file_itself_refuses_to_change_or_lose_a_trial(tmp_path: Path) -> None:
    with Journal(tmp_path / "j.sqlite") as journal:
        kept = journal.add(trial())
        for statement in ("UPDATE trials SET verdict='bad'", "DELETE FROM trials"):
            with pytest.raises(sqlite3.IntegrityError, match="only added"):
                journal.db.execute(statement)
        assert journal.get(kept.id) == kept


def test_corrections_are_new_rows(tmp_path: Path) -> None:
    with Journal(tmp_path / "j.sqlite") as journal:
        first = journal.add(trial(120))
        second = journal.add(trial(125, corrects=first.id))
        other = journal.add(trial(90))
        third = journal.add(trial(130, corrects=second.id))
        assert [row.used["current"] for row in journal.rows()] == [120, 125, 90, 130]
        assert journal.standing() == [third, other]
        journal.add(trial(130, corrects=first.id, withdrawn=True))
        assert journal.standing() == [other]
        with pytest.raises(PrestrikeError, match="no trial 'nowhere'"):
            journal.add(trial(corrects="nowhere"))
        assert len(journal.rows()) == 5


def test_a_taken_id_is_never_written_over(tmp_path: Path) -> None:
    with Journal(tmp_path / "j.sqlite") as journal:
        first = journal.add(trial(120))
        again = journal.add(trial(130, id=first.id))
        assert again.id != first.id and journal.get(first.id) == first


def test_an_older_file_is_brought_forward_with_its_rows(tmp_path: Path) -> None:
    path, old = tmp_path / "old.sqlite", trial(photos=(Photo("/a.jpg", "0" * 64),))
    db = sqlite3.connect(path)
    for statement in schema.STEPS[0]:
        db.execute(statement)
    db.execute("PRAGMA user_version=1")
    with Journal(tmp_path / "new.sqlite") as journal:
        journal.add(old)
        rows = journal.db.execute("SELECT * FROM trials").fetchall()
    db.executemany("INSERT INTO trials VALUES (?,?,?,?,?,?)", rows)
    db.commit()
    db.close()
    with Journal(path) as journal:
        assert journal.rows() == [old]
        assert journal.db.execute("SELECT path FROM photos").fetchall() == [("/a.jpg",)]
        assert journal.db.execute("PRAGMA user_version").fetchone() == (schema.VERSION,)


def test_a_newer_file_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "j.sqlite"
    Journal(path).close()
    db = sqlite3.connect(path)
    db.execute("PRAGMA user_version=99")
    db.close()
    with pytest.raises(PrestrikeError, match="format 99"):
        Journal(path)


def test_a_file_that_is_no_journal_is_told(tmp_path: Path) -> None:
    path = tmp_path / "j.sqlite"
    path.write_bytes(b"not a database at all" * 100)
    with pytest.raises(PrestrikeError, match="cannot be used"):
        Journal(path)


def test_photos_by_path_and_hash(tmp_path: Path) -> None:
    path = tmp_path / "bead.jpg"
    path.write_bytes(b"picture")
    photo = photo_of(path)
    # SHA-256 of b"picture", by sha256sum of coreutils.
    assert photo.sha256 == "2cea274d0bedc39ec4ab6ba9e59ec889e3ed6fb56a1cf088a64d9b383378dc97"
    assert state_of(photo) == "same"
    path.write_bytes(b"other")
    assert state_of(photo) == "changed"
    path.unlink()
    assert state_of(photo) == "missing"


words = st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\x00"), max_size=20)
numbers = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)
topics = st.sampled_from(["current", "gas_flow", "ac_balance"])
trials = st.builds(
    Trial,
    id=st.uuids().map(str),
    made_at=st.just("2026-11-25T20:00:00+00:00"),
    case=st.builds(
        TrialCase, st.just("141"), st.lists(st.sampled_from(["5052", "6061"]), min_size=1, max_size=2).map(tuple),
        st.just("tee"), st.just("PB"), st.floats(0.1, 50), st.floats(0.1, 50), words, words,
    ),
    used=st.dictionaries(topics, numbers),
    verdict=st.sampled_from(["good", "usable", "bad"]),
    seen=st.lists(words, max_size=3).map(tuple),
    note=words, by=words,
    chosen=st.dictionaries(st.sampled_from(["filler", "gas"]), words.filter(bool)),
    advised=st.dictionaries(topics, st.tuples(numbers, numbers, numbers)),
    rules=words,
    job=st.dictionaries(words, words, max_size=2),
    photos=st.lists(st.builds(Photo, words.filter(bool), st.just("a" * 64)), max_size=2).map(tuple),
    withdrawn=st.booleans(),
)  # fmt: skip


@settings(max_examples=80, deadline=None)
@given(st.lists(trials, max_size=4))
def test_out_and_in_again_is_the_same(rows: list[Trial]) -> None:
    assert from_json(to_json(rows), "f", schema_file).whole() == rows
    assert from_csv(to_csv(rows), "f", schema_file).whole() == rows


def test_import_adds_what_is_new_and_refuses_what_differs(tmp_path: Path) -> None:
    with Journal(tmp_path / "a.sqlite") as one, Journal(tmp_path / "b.sqlite") as two:
        first = one.add(trial(120))
        one.add(trial(125, corrects=first.id))
        assert two.bring_in(from_csv(to_csv(one.rows()), "f", schema_file).whole()) == (2, 0, [])
        assert two.bring_in(one.rows()) == (0, 2, [])
        assert two.standing() == one.standing()
        new, here, refused = two.bring_in([first._replace(note="changed"), trial(99), trial(98, corrects="none")])
        assert (new, here) == (1, 0)
        assert [(place, finding.code) for place, finding in refused] == [(0, "other-content"), (2, "unknown-trial")]
        assert len(two.rows()) == 3 and two.get(first.id) == first


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("id,verdct\n", "unknown column 'verdct'"),
        ("id,made_at\n", "column 'verdict' is missing"),
        ("{", "no JSON"),
        ('{"format": 1, "trials": [{"id": "x"}]}', "required property"),
        ('{"format": 1, "trials": [], "more": 1}', "more"),
        ('{"format": 2, "trials": []}', "format 1"),
        ("[]", "no export"),
        ('{"format": NaN, "trials": []}', "NaN"),
    ],
)
def test_broken_imports_are_told(text: str, said: str) -> None:
    read = from_csv if text.startswith("id") else from_json
    with pytest.raises(PrestrikeError, match=said):
        read(text, "f", schema_file).whole()


def test_a_cell_a_spreadsheet_would_run_is_defused() -> None:
    text = to_csv([trial(note="=1+1")])
    assert ",'=1+1," in text
    assert from_csv(text, "f", schema_file).whole()[0].note == "=1+1"


def test_standing_of_nothing() -> None:
    assert standing([]) == []
