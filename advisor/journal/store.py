"""The journal file: opened, added to, read.

Safe with several processes at once (write-ahead log, writers wait for one another) and with a process killed at any
moment: a trial is there when `add` has returned (synchronous=FULL), or not at all.
"""

from __future__ import annotations

import json
import sqlite3
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.journal.schema import bring_up
from advisor.journal.trial import Trial, new_id
from advisor.reading import is_file, is_there, parse_json
from advisor.resources import journal_file
from advisor.writing import make_folder

WAIT_SECONDS = 60.0
_RESTORE = "put a copy of it in its place, or name another with --journal"


def journal_at(path: Path | None, *, create: bool = False) -> Journal:
    """The journal at a path, or the user's own. create: start one where there is none. Raises PrestrikeError."""
    return Journal(path or journal_file(), create=create)


class Journal:
    """One open journal. Use it in a `with`, or close it."""

    def __init__(self, path: Path, *, create: bool = True) -> None:
        self.path = path
        if is_there(path) and not is_file(path):
            text = "this is no file, so it is no journal"
            raise PrestrikeError(Diagnostic("not-a-file", text, str(path), help="name another with --journal"))
        if not create and not is_file(path):
            text = "there is no journal yet"
            raise PrestrikeError(Diagnostic("no-journal", text, str(path), help="log a seam: prestrike trial add"))
        try:
            make_folder(path.parent, help="name another with --journal")
            self.db = sqlite3.connect(path, timeout=WAIT_SECONDS, isolation_level=None)
            _with_patience(self._prepare)
        except sqlite3.Error as error:
            raise _unreadable(path, error) from None

    def _prepare(self) -> None:
        self.db.execute("PRAGMA journal_mode=WAL")
        self.db.execute("PRAGMA synchronous=FULL")
        self.db.execute("PRAGMA foreign_keys=ON")
        bring_up(self.db, str(self.path))

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self.db.close()

    @contextmanager
    def _writing(self) -> Iterator[None]:
        # Locked from the start, so that two writers wait instead of failing when they find each other.
        self.db.execute("BEGIN IMMEDIATE")
        try:
            yield
            self.db.execute("COMMIT")
        except BaseException:
            if self.db.in_transaction:
                self.db.execute("ROLLBACK")
            raise

    def add(self, trial: Trial) -> Trial:
        """Add a trial; it is on the disk when this returns. Gives it back with the id it was kept under."""
        return self.add_all([trial])[0]

    def add_all(self, trials: Sequence[Trial]) -> list[Trial]:
        """Add trials, all or none. An id that is taken is replaced by a new one where the trial has none of its own."""
        try:
            with self._writing():
                return [self._insert(trial) for trial in trials]
        except sqlite3.Error as error:
            raise _unreadable(self.path, error) from None

    def _insert(self, trial: Trial) -> Trial:
        if trial.corrects and self.get(trial.corrects) is None:
            raise self._unknown(trial.corrects)
        while not trial.id or self.get(trial.id) is not None:
            trial = trial._replace(id=new_id())
        payload = json.dumps(trial.as_json(), ensure_ascii=False, allow_nan=False)
        row = (trial.id, trial.made_at, trial.verdict, trial.corrects, payload)
        self.db.execute("INSERT INTO trials (id, made_at, verdict, corrects, payload) VALUES (?,?,?,?,?)", row)
        photos = [(trial.id, photo.path, photo.sha256) for photo in dict.fromkeys(trial.photos)]
        self.db.executemany("INSERT OR IGNORE INTO photos VALUES (?,?,?)", photos)
        return trial

    def bring_in(self, trials: Sequence[Trial]) -> tuple[int, int, list[tuple[int, Diagnostic]]]:
        """Add trials of another journal: (how many were new, how many were here, what was refused by its place).

        A trial is refused where its id is here with other content, since nothing is overwritten, and where the trial
        it corrects is not here. Those that hold are on the disk together when this returns.
        """
        new, here = 0, 0
        refused: list[tuple[int, Diagnostic]] = []
        try:
            with self._writing():
                for place, trial in enumerate(trials):
                    old = self.get(trial.id)
                    if old == trial:
                        here += 1
                    elif finding := self._refusal(trial, old):
                        refused.append((place, finding))
                    else:
                        self._insert(trial)
                        new += 1
        except sqlite3.Error as error:
            raise _unreadable(self.path, error) from None
        return new, here, refused

    def _refusal(self, trial: Trial, old: Trial | None) -> Diagnostic | None:
        if old is not None:
            text = f"trial '{trial.id}' is here with other content"
            return Diagnostic("other-content", text, help="what has changed is a correction: prestrike trial correct")
        if trial.corrects and self.get(trial.corrects) is None:
            text = f"no trial '{trial.corrects}', which '{trial.id}' corrects"
            return Diagnostic("unknown-trial", text, subject="corrects", help="import that one too, above this one")
        return None

    def get(self, trial_id: str) -> Trial | None:
        """One row by its id, as it was written."""
        found = self._asked("SELECT payload FROM trials WHERE id=?", trial_id)
        return self._trial(found[0][0]) if found else None

    def _asked(self, query: str, *values: str) -> list[Any]:
        try:
            return self.db.execute(query, values).fetchall()
        except (sqlite3.Error, UnicodeError, OverflowError) as error:
            raise _unreadable(self.path, error) from None

    def _trial(self, payload: Any) -> Trial:
        """The trial of a row. Raises PrestrikeError where the row is not what `add` wrote."""
        try:
            return Trial.from_json(parse_json(payload, str(self.path)))
        except (PrestrikeError, LookupError, TypeError, ValueError, AttributeError):
            text = "the journal is damaged: a row is no trial"
            raise PrestrikeError(Diagnostic("damaged-journal", text, str(self.path), help=_RESTORE)) from None

    def find(self, text: str) -> Trial:
        """One row by its id or the end of it. Raises PrestrikeError where none or several have it."""
        exact = self.get(text)
        if exact is not None:
            return exact
        rows = self._asked("SELECT id FROM trials") if text else []
        ids = [row[0] for row in rows if str(row[0]).endswith(text)]
        found = self.get(ids[0]) if len(ids) == 1 else None
        if found is None:
            raise self._unknown(text)
        return found

    def _unknown(self, text: str) -> PrestrikeError:
        ids = [str(row[0]) for row in self._asked("SELECT id FROM trials ORDER BY n DESC LIMIT 500")]
        repair = did_you_mean(text, ids) if ids else "the journal is empty"
        return PrestrikeError(Diagnostic("unknown-trial", f"no trial '{text}'", str(self.path), help=repair))

    def rows(self) -> list[Trial]:
        """Every row in the order it was written."""
        return [self._trial(row[0]) for row in self._asked("SELECT payload FROM trials ORDER BY n")]

    def standing(self) -> list[Trial]:
        """The trials as they stand: each with its last correction in its place, those taken back left out."""
        return standing(self.rows())

    def check(self) -> str:
        """`ok`, or what SQLite finds wrong with the file."""
        return str(self._asked("PRAGMA integrity_check")[0][0])


def standing(rows: Sequence[Trial]) -> list[Trial]:
    """The last word on each trial, in the order of the first ones."""
    root: dict[str, str] = {}
    last: dict[str, Trial] = {}
    for trial in rows:
        first = root.get(trial.corrects, trial.corrects) or trial.id
        root[trial.id] = first
        last[first] = trial
    return [trial for trial in last.values() if not trial.withdrawn]


def chain(rows: Sequence[Trial], trial: Trial) -> list[Trial]:
    """Every row that speaks of the same trial, first one first."""
    root: dict[str, str] = {}
    for row in rows:
        root[row.id] = root.get(row.corrects, row.corrects) or row.id
    return [row for row in rows if root[row.id] == root.get(trial.id, trial.id)]


def _with_patience(work: Callable[[], None]) -> None:
    """Turning the log on needs the file alone for a moment, and SQLite does not wait for that by itself."""
    deadline = time.monotonic() + WAIT_SECONDS
    while True:
        try:
            work()
            return
        except sqlite3.OperationalError as error:
            if "locked" not in str(error) or time.monotonic() > deadline:
                raise
            time.sleep(0.01)


def _unreadable(path: Path, error: Exception) -> PrestrikeError:
    text = f"the journal cannot be used: {error}"
    repair = "check the disk and its rights; an export made earlier can be imported into a new file"
    return PrestrikeError(Diagnostic("journal", text, str(path), help=repair))
