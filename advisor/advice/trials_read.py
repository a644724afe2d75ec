"""The trials as they stand, from the journal or from a file that was exported."""

from __future__ import annotations

from pathlib import Path

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.journal.trial import Trial
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

    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise PrestrikeError(Diagnostic("cannot-read", f"cannot read the file: {error}", str(path))) from None
    return standing((from_csv if kind == ".csv" else from_json)(text, str(path), schema_file))
