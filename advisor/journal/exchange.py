"""Trials out of the journal and in again, as JSON and as CSV; what goes out and comes in again is the same."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.journal.trial import Trial
from advisor.reading import ReadingError, csv_rows, parse_json

FORMAT = 1
_PLAIN = ("id", "made_at", "verdict", "note", "by", "rules", "cause", "corrects")
_CASE = ("process", "joint", "position", "thinner", "thicker", "gas", "machine")
_USED, _CHOSEN = "used.", "chosen."
_JSON = ("metals", "seen", "withdrawn", "advised", "job", "photos")
# A spreadsheet takes a cell that starts so for a formula.
_FORMULA = ("=", "+", "-", "@", "'", "\t", "\r")


def to_json(trials: Sequence[Trial]) -> str:
    """The trials as a JSON document (`schemas/trials.schema.json`)."""
    return json.dumps(as_data(trials), indent=1, ensure_ascii=False) + "\n"


def as_data(trials: Sequence[Trial]) -> dict[str, Any]:
    """The trials as the plain data of that document."""
    return {"format": FORMAT, "trials": [trial.as_json() for trial in trials]}


def from_json(text: str, name: str, schema_file: Callable[[str], Path]) -> list[Trial]:
    """The trials of such a document. Raises PrestrikeError naming the place of each fault."""
    return _checked(parse_json(text, name), name, schema_file)


def _checked(data: Any, name: str, schema_file: Callable[[str], Path]) -> list[Trial]:
    from jsonschema import Draft202012Validator

    schema = json.loads(schema_file("trials").read_text(encoding="utf-8"))
    errors = sorted(Draft202012Validator(schema).iter_errors(data), key=lambda error: list(map(str, error.path)))
    if errors:
        found = [
            Diagnostic("schema", error.message[:200], name, subject="/".join(str(step) for step in error.path))
            for error in errors[:20]
        ]
        raise PrestrikeError(found)
    return [Trial.from_json(item) for item in data["trials"]]


def to_csv(trials: Sequence[Trial]) -> str:
    """The trials as CSV with one column for each setting used. Numbers are in house units (mm, A, L/min, s)."""
    used = sorted({topic for trial in trials for topic in trial.used})
    chosen = sorted({topic for trial in trials for topic in trial.chosen})
    header = [*_PLAIN, *_CASE, *(_USED + topic for topic in used), *(_CHOSEN + topic for topic in chosen), *_JSON]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(header)
    for trial in trials:
        data = trial.as_json()
        row = [data[name] for name in _PLAIN] + [data["case"][name] for name in _CASE]
        row += [trial.used.get(topic, "") for topic in used] + [trial.chosen.get(topic, "") for topic in chosen]
        data["metals"] = data["case"]["metals"]
        row += [json.dumps(data[name], ensure_ascii=False) for name in _JSON]
        writer.writerow([_cell(value) for value in row])
    return out.getvalue()


def _cell(value: Any) -> str:
    if isinstance(value, float):
        return repr(value)
    text = str(value)
    return f"'{text}" if text.startswith(_FORMULA) else text


def from_csv(text: str, name: str, schema_file: Callable[[str], Path]) -> list[Trial]:
    """The trials of such a table; columns may stand in any order. Raises PrestrikeError naming line and column."""
    lines = csv_rows(text, name)
    header = next(lines, (1, []))[1]
    _check_header(header, name)
    rows = []
    for line, cells in lines:
        if not cells:
            continue
        if len(cells) != len(header):
            text = f"{len(cells)} cells where the first line names {len(header)}"
            raise PrestrikeError(Diagnostic("wrong-form", text, name, line, 1))
        values = {key: cell.removeprefix("'") for key, cell in zip(header, cells, strict=True)}
        rows.append(_row(values, name, line))
    return _checked({"format": FORMAT, "trials": rows}, name, schema_file)


def _check_header(header: Sequence[str], name: str) -> None:
    known = [*_PLAIN, *_CASE, *_JSON]
    if len(set(header)) != len(header):
        raise PrestrikeError(Diagnostic("duplicate-key", "a column stands twice", name, 1, 1))
    for key in header:
        if key not in known and not key.startswith((_USED, _CHOSEN)):
            repair = did_you_mean(key, known)
            raise PrestrikeError(Diagnostic("unknown-key", f"unknown column '{key}'", name, 1, 1, help=repair))
    for key in ("id", "made_at", "verdict", "process", "metals", "joint", "position", "thinner", "thicker"):
        if key not in header:
            raise PrestrikeError(Diagnostic("missing-key", f"column '{key}' is missing", name, 1, 1))


def _row(values: Mapping[str, str], name: str, line: int) -> dict[str, Any]:
    def number(key: str) -> float:
        try:
            return float(values[key])
        except ValueError:
            text = f"'{values[key]}' is no number"
            raise PrestrikeError(Diagnostic("wrong-type", text, name, line, 1, key)) from None

    data: dict[str, Any] = {key: values[key] for key in _PLAIN if key in values}
    for key in _JSON:
        if values.get(key):
            try:
                data[key] = parse_json(values[key], name)
            except ReadingError:
                text = f"column '{key}' holds no JSON"
                raise PrestrikeError(Diagnostic("not-json", text, name, line, 1, key)) from None
    case: dict[str, Any] = {key: values[key] for key in _CASE if key in values}
    case |= {"thinner": number("thinner"), "thicker": number("thicker"), "metals": data.pop("metals", [])}
    data["case"] = case
    data["used"] = {key.removeprefix(_USED): number(key) for key in values if key.startswith(_USED) and values[key]}
    data["chosen"] = {
        key.removeprefix(_CHOSEN): values[key] for key in values if key.startswith(_CHOSEN) and values[key]
    }
    return data
