"""The trials as they stand, from the journal or from a file that was exported."""

from __future__ import annotations

from pathlib import Path

from advisor.journal.trial import Trial
from advisor.reading import read_text
from advisor.resources import journal_file, schema_file


def standing_trials(path: Path | None = None) -> list[Trial]:
    """Every trial with its last correction, those taken back left out. path: another journal, or an export (.csv or
    .json). Raises PrestrikeError where there is none or it cannot be read."""
    kind = path.suffix.casefold() if path is not None else ""
    if path is None or kind not in (".csv", ".json"):
        from advisor.journal.store import Journal

        with Journal(path or journal_file(), create=False) as book:
            return book.standing()
    from advisor.journal.exchange import from_csv, from_json
    from advisor.journal.store import standing

    return standing((from_csv if kind == ".csv" else from_json)(read_text(path), str(path), schema_file).whole())
