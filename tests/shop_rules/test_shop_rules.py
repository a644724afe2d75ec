"""Rules of one's own: where they live, how one is started, broken, mended, used, and shown."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
SEAM = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")
RULE = """kind: rules
ruleset: {name}
version: 1.0.0
schema: 1
history:
  - {{version: 1.0.0, date: 2026-11-25, change: first set}}
sources:
  - {{id: own, title: Notes of this shop, kind: shop-habit, evidence: common-practice}}
rules:
  - id: {id}
    topic: current
    when: {{process: "141", alloy: "5052", joint: tee}}
    start: {{over: thickness, rows: [{{at: 3.2 mm, value: {value}}}]}}
    source: [{{doc: own}}]
    because: Tried on the bench.
    {more}
    examples:
      - {{job: {{process: "141", alloy: "5052", joint: tee, thickness: 3.2 mm}}, gives: {{value: {value}}}}}
"""


def put(path: Path, id: str = "shop.current.a", value: str = "135 A", more: str = "") -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(RULE.format(name=path.stem, id=id, value=value, more=more), encoding="utf-8")
    return path


def current(own: Run, *more: str) -> tuple[float, str]:
    setting = own("setup", *SEAM, "--json", *more).json["settings"]["current"]
    return setting["start"], setting["layer"]


def test_the_walk_scaffold_break_see_mend_use_and_why(own: Run, tmp_path: Path) -> None:
    made = own("rules", "new", "135 A", *SEAM, "--write")
    assert made.code == 0
    path = Path(re.search(r"written: (.+)", made.out)[1])  # type: ignore[index]
    good = path.read_text(encoding="utf-8")
    assert good.startswith("# yaml-language-server: $schema=file://")
    assert own("rules", "check").code == 0

    path.write_text(good.replace("    topic: current", "    topc: current"), encoding="utf-8")
    broken = own("rules", "check")
    line = next(n for n, text in enumerate(good.splitlines(), 1) if "topic: current" in text)
    assert broken.code == 2
    assert f"{path}:{line}:5: unknown-key: unknown key 'topc'" in broken.out
    shown, caret = broken.out.splitlines()[1:3]
    assert shown.endswith("|     topc: current") and caret.index("^") == shown.index("topc")
    assert "did you mean 'topic'?" in broken.out
    told = own("setup", *SEAM)
    assert told.code == 2 and "LEFT OUT" in told.out and path.name in told.out.replace("\n  ", "")
    assert "[shop rule]" not in told.out
    assert own("rules", "where").code == 2

    path.write_text(good, encoding="utf-8")
    used = own("setup", *SEAM)
    assert used.code == 0 and re.search(r"Current +135 A", used.out) and "[shop rule]" in used.out
    why = own("why", "current", *SEAM)
    told = " ".join(why.out.split())
    assert "set-aside" in told and "[shop rule]" in told and "rule shop.current.5052.tee-pa-3-2mm" in told
    elsewhere = own("setup", "--metal", "5052", "--thickness", "4 mm", "--joint", "tee")
    assert "[shop rule]" not in elsewhere.out


def test_layers_stand_above_one_another_in_order(own: Run, tmp_path: Path) -> None:
    shipped = current(own)
    assert shipped[1] == "built-in" and shipped[0] not in (101, 102, 103, 104)
    for value, (layer, folder) in enumerate(
        (("shop", "config/rules"), ("machine", "config/machine-rules"), ("job", ".prestrike/rules")), 101
    ):
        put(tmp_path / folder / "r.yaml", f"{layer}.current.a", f"{value} A")
        assert current(own) == (value, layer)
    where = own("rules", "where", "--json").json
    assert [item["layer"] for item in where["layers"]] == ["built-in", "shop", "machine", "job"]
    assert [item["rules"] for item in where["layers"]][1:] == [1, 1, 1]
    named = put(tmp_path / "mine.yaml", "named.current.a", "104 A")
    assert current(own, "--rules", str(named)) == (103, "job")


def test_a_project_folder_is_found_from_below(own: Run, prestrike: Run, tmp_path: Path) -> None:
    put(tmp_path / ".prestrike" / "rules" / "r.yaml", "job.current.a", "99 A")
    below = tmp_path / "parts" / "left"
    below.mkdir(parents=True)
    ran = prestrike("setup", *SEAM, cwd=below, env={"PRESTRIKE_CONFIG": str(tmp_path / "none")})
    assert re.search(r"Current +99 A", ran.out) and "[job rule]" in ran.out


def test_same_id_without_overrides_names_both_files(own: Run, tmp_path: Path) -> None:
    first = put(tmp_path / "config" / "rules" / "a.yaml", "shop.current.a")
    second = put(tmp_path / ".prestrike" / "rules" / "b.yaml", "shop.current.a")
    ran = own("setup", *SEAM)
    assert ran.code == 2 and str(first) in ran.err and str(second) in ran.err and "overrides" in ran.err


def test_a_replaced_rule_is_told_with_its_reason(own: Run, tmp_path: Path) -> None:
    rule = own("why", "current", *SEAM, "--json").json["setting"]["spread"]["sources"][0]["rule"]
    more = f"overrides: {rule}\n    reason: Our machine reads high."
    path = put(tmp_path / "config" / "rules" / "a.yaml", more=more)
    ran = own("setup", *SEAM, "--json").json["ruleset"]["replaced"]
    assert [(item["id"], item["reason"]) for item in ran] == [(rule, "Our machine reads high.")]
    assert "Our machine reads high." in " ".join(own("setup", *SEAM).out.split())
    put(path, more=f"overrides: {rule}x\n    reason: A slip.")
    assert "did you mean" in own("setup", *SEAM).err


def test_no_rule_of_ones_own_takes_a_caution_away(own: Run, tmp_path: Path) -> None:
    caution = own("setup", *SEAM, "--json").json["cautions"][0]["rule_id"]
    put(tmp_path / "config" / "rules" / "a.yaml", more=f"overrides: {caution}\n    reason: We know.")
    ran = own("setup", *SEAM)
    assert ran.code == 2 and "cannot be replaced" in ran.err


@pytest.mark.parametrize(
    ("said", "topic", "mark"),
    [("ER5356", "filler", r"Filler +ER5356 \[shop rule\]"), ("Wipe twice", "cleaning_step", r"Wipe twice\. \[shop"),
     ("Hot lid: Wear gloves", "caution", r"Hot lid: Wear gloves. \[shop rule\]"),
     ("9 L/min", "gas-flow", r"Gas flow +9 L/min")],
)  # fmt: skip
def test_other_kinds_of_rule_are_started_too(own: Run, said: str, topic: str, mark: str) -> None:
    assert own("rules", "new", said, "--topic", topic, *SEAM, "--write").code == 0
    assert own("rules", "check").code == 0
    assert re.search(mark, own("setup", *SEAM).out)


def test_a_pair_is_held_to_both_sizes(own: Run) -> None:
    pair = ("--metal", "5052", "--thickness", "3.2 mm", "--metal", "6061", "--thickness", "1/4 in", "--joint", "tee")
    assert own("rules", "new", "150 A", *pair, "--write").code == 0
    assert own("rules", "check").code == 0
    assert re.search(r"Current +150 A", own("setup", *pair).out)
    other = ("--metal", "5052", "--thickness", "3.2 mm", "--metal", "6061", "--thickness", "5 mm", "--joint", "tee")
    assert "[shop rule]" not in own("setup", *other).out


def test_a_rule_from_the_last_answer_and_from_a_saved_one(own: Run, tmp_path: Path) -> None:
    saved = tmp_path / "saved.json"
    saved.write_text(own("setup", *SEAM, "--json").out, encoding="utf-8")
    last = own("rules", "new", "135 A")
    assert last.code == 0 and 'alloy: "5052"' in last.out
    assert own("rules", "new", "135 A", "--from", str(saved)).out == last.out
    assert own("rules", "new", "135", *SEAM).code == 2
    assert "write '135 A'" in own("rules", "new", "135", *SEAM).err
    saved.write_text("{}", encoding="utf-8")
    assert "no saved answer" in own("rules", "new", "135 A", "--from", str(saved)).err


def test_nothing_is_overwritten(own: Run) -> None:
    assert own("rules", "new", "135 A", *SEAM, "--write").code == 0
    again = own("rules", "new", "140 A", *SEAM, "--write")
    assert again.code == 2 and "exists" in again.err
