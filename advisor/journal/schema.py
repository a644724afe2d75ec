"""The tables of the journal and how an older file is brought up to them: one step a version, never back."""

from __future__ import annotations

import sqlite3

from advisor.diagnostics import Diagnostic, PrestrikeError

# Index + 1 is the version a step leads to. Steps are never edited once they were used: a new one is added.
STEPS: tuple[tuple[str, ...], ...] = (
    (
        """CREATE TABLE trials (
            n INTEGER PRIMARY KEY AUTOINCREMENT,
            id TEXT NOT NULL UNIQUE,
            made_at TEXT NOT NULL,
            verdict TEXT NOT NULL,
            corrects TEXT NOT NULL DEFAULT '',
            payload TEXT NOT NULL)""",
        "CREATE INDEX trials_corrects ON trials (corrects)",
    ),
    (
        # Nothing is ever overwritten: the file itself refuses it, whatever program asks.
        "CREATE TRIGGER trials_stay BEFORE UPDATE ON trials BEGIN SELECT RAISE(ABORT, 'trials are only added'); END",
        "CREATE TRIGGER trials_keep BEFORE DELETE ON trials BEGIN SELECT RAISE(ABORT, 'trials are only added'); END",
        """CREATE TABLE photos (
            trial TEXT NOT NULL REFERENCES trials (id),
            path TEXT NOT NULL,
            sha256 TEXT NOT NULL,
            PRIMARY KEY (trial, path))""",
        """INSERT INTO photos SELECT t.id, json_extract(p.value, '$.path'), json_extract(p.value, '$.sha256')
            FROM trials t, json_each(t.payload, '$.photos') p""",
        "CREATE INDEX photos_sha256 ON photos (sha256)",
    ),
)
VERSION = len(STEPS)


def bring_up(db: sqlite3.Connection, shown: str) -> None:
    """Bring the file up to this version, in one transaction that only one process does.

    Raises PrestrikeError for a file made by a newer version: it is left as it is.
    """
    found = _version(db)
    if found > VERSION:
        text = f"the journal has format {found}, this program knows {VERSION}"
        raise PrestrikeError(Diagnostic("newer-journal", text, shown, help="use the newer prestrike that wrote it"))
    if found == VERSION:
        return
    db.execute("BEGIN EXCLUSIVE")
    try:
        for number in range(_version(db), VERSION):
            for statement in STEPS[number]:
                db.execute(statement)
        db.execute(f"PRAGMA user_version={VERSION}")
        db.execute("COMMIT")
    except BaseException:
        db.execute("ROLLBACK")
        raise


def _version(db: sqlite3.Connection) -> int:
    return int(db.execute("PRAGMA user_version").fetchone()[0])
