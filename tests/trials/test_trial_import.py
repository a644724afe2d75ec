"""`trial import`: a row that cannot be is refused by its place, and the others come in."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
GOOD = {
    "id": "g1", "made_at": "2026-11-01T15:00:00+00:00", "verdict": "good", "process": "141", "joint": "butt",
    "position": "PA", "thinner": "1.6", "thicker": "1.6", "used.current": "65", "metals": '["5052"]',
}  # fmt: skip
BAD = {
    "used.current": ["-5", "0", "nan", "inf", "1e999", "1_6", "\u0661\u0662", "65 A", "0x10"],
    "thinner": ["1_6", "0", "-1", "", "2.0"],
    "made_at": ["2026-13-45T15:00:00+00:00", "2026-02-30T15:00:00+00:00", "yesterday", "", "2026-11-01T15:00:00"],
    "process": ["999", "", "welding"],
    "joint": ["butterfly", ""],
    "position": ["PZ"],
    "metals": ['["unobtainium"]', "[]", "5052", '["5052", "5052", "5052"]', "{}"],
    "verdict": ["fine"],
}


def table(rows: list[dict[str, str]]) -> str:
    out = io.StringIO()
    writer = csv.DictWriter(out, list(GOOD), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def test_each_bad_row_is_refused_by_its_line_and_all_others_come_in(own: Run, tmp_path: Path) -> None:
    rows: list[dict[str, str]] = []
    wrong: list[tuple[int, str]] = []
    for field, values in BAD.items():
        for value in values:
            rows += [GOOD | {"id": f"g{len(rows)}"}, GOOD | {"id": f"b{len(rows)}", field: value}]
            wrong.append((len(rows) + 1, f"{field}={value}"))
    (tmp_path / "trials.csv").write_text(table(rows), encoding="utf-8")
    ran = own("trial", "import", "trials.csv")
    assert ran.code == 2
    assert f"{len(wrong)} trials added, 0 were here already, {len(wrong)} refused" in ran.out
    for line, what in wrong:
        assert f"trials.csv:{line}:1: " in ran.err, what
    kept = own("trial", "list", "--json").json["trials"]
    assert [row["id"] for row in kept] == [row["id"] for row in rows if row["id"].startswith("g")]
    again = own("trial", "import", "trials.csv")
    assert again.code == 2 and f"0 trials added, {len(wrong)} were here already" in again.out


def test_json_rows_likewise(own: Run, tmp_path: Path) -> None:
    case = {"process": "141", "metals": ["5052"], "joint": "butt", "position": "PA", "thinner": 1.6, "thicker": 1.6}
    good = {"id": "g", "made_at": GOOD["made_at"], "case": case, "used": {"current": 65}, "verdict": "good"}
    rows = [
        good, {**good, "id": "b1", "used": {"current": -5}}, {**good, "id": "b2", "case": {**case, "joint": "knot"}},
        {**good, "id": "b3", "used": {"curent": 5}}, {**good, "id": "b4", "made_at": "2026-99-01T"}, 7,
        {**good, "id": "g2"},
    ]  # fmt: skip
    (tmp_path / "trials.json").write_text(json.dumps({"format": 1, "trials": rows}), encoding="utf-8")
    ran = own("trial", "import", "trials.json")
    assert ran.code == 2 and "2 trials added, 0 were here already, 5 refused" in ran.out
    assert all(f"trials/{place}" in ran.err for place in range(1, 6))


@pytest.mark.parametrize("used", ["current=-5 A", "current=0 A", "passes=1_6", "passes=nan", "gas_flow=0 L/min"])
def test_what_cannot_be_set_is_not_logged_either(own: Run, used: str) -> None:
    ran = own("trial", "add", "--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee", "--used", used,
              "--verdict", "good")  # fmt: skip
    assert ran.code == 2 and not ran.out


def test_notes_come_back_the_same_and_are_never_shown_raw(own_process: Run, tmp_path: Path) -> None:
    """A formula, an escape sequence, a backslash of one's own: harmless on the way, the same in the other journal."""
    notes = ["=1+1", "+1", "-1", "@x", "\t=1", "'=1", "\x1b[31mred\x07", "C:\\users\\u0041", "two\nlines", "\u202eback"]
    for note in notes:
        seam = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")
        ran = own_process("trial", "add", *seam, "--current", "120 A", "--verdict", "good", "--note", note)
        assert ran.code == 0, ran.err
    assert own_process("trial", "export", "out.csv").code == 0
    text = (tmp_path / "out.csv").read_text(encoding="utf-8")
    assert "\x1b" not in text and "\u202e" not in text
    column = [row["note"] for row in csv.DictReader(io.StringIO(text, newline=""))]
    assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in column)
    assert own_process("trial", "import", "out.csv", "--journal", str(tmp_path / "two.sqlite")).code == 0
    there = own_process("trial", "list", "--json", "--journal", str(tmp_path / "two.sqlite"))
    assert [row["note"] for row in there.json["trials"]] == notes
    assert "\x1b" not in there.out and "\u202e" not in there.out
    shown = own_process("trial", "show", there.json["trials"][6]["id"])
    assert "\x1b" not in shown.out and "\\u001b[31mred" in shown.out
