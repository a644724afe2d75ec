"""Compiled files kept by their content in one SQLite file of the cache, so that touching one file costs one file.

A row carries a hash of itself: a torn, foreign or hand-made row is no harm, since what does not match is made anew.
"""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

MOST_ROWS = 20_000
_TABLE = (
    "CREATE TABLE IF NOT EXISTS kept (key TEXT PRIMARY KEY, payload TEXT NOT NULL, mark TEXT NOT NULL) WITHOUT ROWID"
)


@lru_cache(maxsize=1)
def program_hash() -> str:
    """A hash of the code that reads rules: what an older program kept is not trusted."""
    whole = hashlib.sha256()
    package = Path(__file__).resolve().parent.parent
    for path in sorted(
        [
            *package.glob("*.py"),
            *package.glob("units/*.py"),
            *package.rglob("rulebook/**/*.py"),
            package / "shop" / "computations.py",
        ]
    ):
        whole.update(path.read_bytes())
    return whole.hexdigest()[:16]


def mark_of(key: str, payload: str) -> str:
    """The hash that tells a whole row."""
    return hashlib.sha256(f"{key}\0{payload}".encode()).hexdigest()[:24]


class Store:
    """Rows of JSON by key. Every failure of the file itself is a miss: the store is thrown away, never trusted."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.db: sqlite3.Connection | None = None
        try:
            self.db = self._open()
        except (sqlite3.Error, OSError):
            self._start_anew()

    def _open(self) -> sqlite3.Connection:
        db = sqlite3.connect(self.path, timeout=30)
        db.execute(_TABLE)
        return db

    def _start_anew(self) -> None:
        try:
            if self.db is not None:
                self.db.close()
            self.path.unlink(missing_ok=True)
            self.db = self._open()
        except (sqlite3.Error, OSError):
            self.db = None

    def get(self, keys: Sequence[str]) -> dict[str, Any]:
        """The kept values of those keys that are there and whole."""
        found: dict[str, Any] = {}
        try:
            for key in keys if self.db else ():
                row = self.db.execute("SELECT payload, mark FROM kept WHERE key=?", (key,)).fetchone()  # type: ignore[union-attr]
                if row and row[1] == mark_of(key, row[0]):
                    found[key] = json.loads(row[0])
        except (sqlite3.Error, ValueError, TypeError):
            self._start_anew()
        return found

    def put(self, items: Mapping[str, Any]) -> None:
        """Keep values; a store that cannot be written keeps nothing."""
        if self.db is None or not items:
            return
        rows = [(key, text, mark_of(key, text)) for key, text in ((k, json.dumps(v)) for k, v in items.items())]
        try:
            with self.db:
                count = self.db.execute("SELECT count(*) FROM kept").fetchone()[0]
                if count + len(rows) > MOST_ROWS:
                    self.db.execute("DELETE FROM kept")
                self.db.executemany("INSERT OR REPLACE INTO kept VALUES (?,?,?)", rows)
        except sqlite3.Error:
            self._start_anew()
