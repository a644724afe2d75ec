"""Trials out of the journal and in again, as JSON and as CSV; what goes out and comes in again is the same."""

from __future__ import annotations

import csv
import io
import json
import math
import re
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.journal.trial import Trial
from advisor.plain_text import csv_cell, csv_text, shown
from advisor.reading import ReadingError, csv_rows, parse_json

FORMAT = 1
_PLAIN = ("id", "made_at", "verdict", "note", "by", "rules", "cause", "corrects")
_CASE = ("process", "joint", "position", "thinner", "thicker", "gas", "machine")
_USED, _CHOSEN = "used.", "chosen."
_JSON = ("metals", "seen", "withdrawn", "advised", "job", "photos")
# Not all that Python takes for a number: `1_6` is none, nor is `nan`.
_NUMBER = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?", re.ASCII)


class Came(NamedTuple):
    """What a file brought: its trials, each with the place of its row, and the findings on rows that do not hold."""

    trials: list[tuple[Trial, Diagnostic]]
    refused: list[Diagnostic]

    def whole(self) -> list[Trial]:
        """The trials, where none was refused. Raises PrestrikeError otherwise."""
        if self.refused:
            raise PrestrikeError(self.refused)
        return [trial for trial, _ in self.trials]


def to_json(trials: Sequence[Trial]) -> str:
    """The trials as a JSON document (`schemas/trials.schema.json`)."""
    return json.dumps(as_data(trials), indent=1, ensure_ascii=False) + "\n"


def as_data(trials: Sequence[Trial]) -> dict[str, Any]:
    """The trials as the plain data of that document."""
    return {"format": FORMAT, "trials": [trial.as_json() for trial in trials]}


def from_json(text: str, name: str, schema_file: Callable[[str], Path]) -> Came:
    """The trials of such a document. Raises PrestrikeError where it is no such document at all."""
    data = parse_json(text, name)
    if not isinstance(data, dict) or not isinstance(data.get("trials"), list) or data.get("format") != FORMAT:
        text = f"this is no export of trials in format {FORMAT}"
        raise PrestrikeError(Diagnostic("wrong-form", text, name, help="make one with: prestrike trial export"))
    if unknown := sorted(set(data) - {"format", "trials"}):
        raise PrestrikeError(Diagnostic("unknown-key", f"unknown key '{unknown[0]}'", name, help="take it out"))
    rows = [(item, Diagnostic("", "", name, subject=f"trials/{at}")) for at, item in enumerate(data["trials"])]
    return _checked(rows, schema_file)


def _checked(rows: Sequence[tuple[Any, Diagnostic]], schema_file: Callable[[str], Path]) -> Came:
    """Each row by itself, so that one that does not hold keeps none of the others out. rows: with their places."""
    from jsonschema import Draft202012Validator

    schema = json.loads(schema_file("trials").read_text(encoding="utf-8"))
    validator = Draft202012Validator(schema["properties"]["trials"]["items"])
    came = Came([], [])
    for item, place in rows:
        errors = sorted(validator.iter_errors(item), key=lambda error: list(map(str, error.path)))
        came.refused.extend(placed(_schema_finding(error.message, error.path), place) for error in errors[:5])
        if not errors:
            came.trials.append((Trial.from_json(item), place))
    return came


def _schema_finding(message: str, path: Sequence[Any]) -> Diagnostic:
    field = "/".join(str(step) for step in path)
    return Diagnostic("schema", message[:200], subject=field, help="mend the row, and import the file again")


def placed(finding: Diagnostic, place: Diagnostic) -> Diagnostic:
    """A finding on a row, with the place of the row."""
    subject = "/".join(filter(None, (place.subject, finding.subject)))
    return finding._replace(file=place.file, line=place.line, column=place.column, subject=subject)


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
        writer.writerow([*map(csv_cell, row), *(shown(json.dumps(data[name], ensure_ascii=False)) for name in _JSON)])
    return out.getvalue()


def from_csv(text: str, name: str, schema_file: Callable[[str], Path]) -> Came:
    """The trials of such a table; columns may stand in any order. Raises PrestrikeError for a header that is none."""
    lines = csv_rows(text, name)
    header = next(lines, (1, []))[1]
    _check_header(header, name)
    rows: list[tuple[Any, Diagnostic]] = []
    refused: list[Diagnostic] = []
    for line, cells in lines:
        if any(cell.strip() for cell in cells):
            _read_row(header, cells, Diagnostic("", "", name, line, 1), rows, refused)
    came = _checked(rows, schema_file)
    return Came(came.trials, sorted([*refused, *came.refused], key=lambda finding: finding.line))


def _read_row(
    header: Sequence[str],
    cells: Sequence[str],
    place: Diagnostic,
    rows: list[tuple[Any, Diagnostic]],
    refused: list[Diagnostic],
) -> None:
    if len(cells) != len(header):
        text = f"{len(cells)} cells where the first line names {len(header)}"
        refused.append(placed(Diagnostic("wrong-form", text, help="a comma in a cell wants quotes"), place))
        return
    values = {key: cell if key in _JSON else csv_text(cell) for key, cell in zip(header, cells, strict=True)}
    try:
        rows.append((_row(values), place))
    except PrestrikeError as error:
        refused.extend(placed(finding, place) for finding in error.diagnostics)


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


def _row(values: Mapping[str, str]) -> dict[str, Any]:
    def number(key: str) -> float:
        if not _NUMBER.fullmatch(values[key].strip()) or not math.isfinite(float(values[key])):
            text = f"'{values[key]}' is no number"
            raise PrestrikeError(Diagnostic("wrong-type", text, subject=key, help="a plain number, such as 1.6"))
        return float(values[key])

    data: dict[str, Any] = {key: values[key] for key in _PLAIN if key in values}
    for key in _JSON:
        if values.get(key):
            try:
                data[key] = parse_json(values[key], key)
            except ReadingError:
                text = f"column '{key}' holds no JSON"
                raise PrestrikeError(Diagnostic("not-json", text, subject=key, help='write it as ["5052"]')) from None
    case: dict[str, Any] = {key: values[key] for key in _CASE if key in values}
    case |= {"thinner": number("thinner"), "thicker": number("thicker"), "metals": data.pop("metals", [])}
    data["case"] = case
    data["used"] = {key.removeprefix(_USED): number(key) for key in values if key.startswith(_USED) and values[key]}
    data["chosen"] = {
        key.removeprefix(_CHOSEN): values[key] for key in values if key.startswith(_CHOSEN) and values[key]
    }
    return data
