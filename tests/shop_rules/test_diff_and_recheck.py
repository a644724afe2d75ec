"""`rules diff` and `recheck`: what changed between rules, and in the answers that were saved."""

from __future__ import annotations

import copy
import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.resources import rules_folder, schema_file
from advisor.rulebook.listing import Layer
from advisor.rulebook.reading.yaml_text import parse_yaml
from advisor.rulebook.review.compare import RulesDiff, compare
from advisor.shop_rules.diff import diff_of, percent_in
from advisor.shop_rules.recheck import changes_between
from advisor.units.quantities import UnitTable

Run = Callable[..., Any]
SEAM = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")
FILE = """kind: rules
ruleset: own
version: {version}
schema: 1
history:
  - {{version: {version}, date: 2026-11-25, change: some}}
sources:
  - {{id: own, title: Notes of this shop, kind: shop-habit, evidence: common-practice}}
rules:
  - id: shop.current.a
    topic: current
    when: {{process: "141", alloy: "5052", joint: tee}}
    start: {{over: thickness, rows: [{rows}]}}
    source: [{{doc: own}}]
    because: Tried on the bench.
    examples:
      - {{job: {{process: "141", alloy: "5052", joint: tee, thickness: 3.2 mm}}, fires: true}}
"""
ROWS = "{at: 2 mm, value: 80 A}, {at: 3.2 mm, low: 120 A, high: 130 A}"


def file(path: Path, rows: str = ROWS, version: str = "1.0.0") -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(FILE.format(rows=rows, version=version), encoding="utf-8")
    return path


def diff(old: Path, new: Path, units: UnitTable) -> RulesDiff:
    return diff_of([Layer("shop", old)], [Layer("shop", new)], units)


def test_which_key_from_what_to_what(tmp_path: Path, units: UnitTable) -> None:
    old = file(tmp_path / "old.yaml")
    new = file(tmp_path / "new.yaml", ROWS.replace("low: 120 A", "low: 126 A"), "1.1.0")
    found = diff(old, new, units)
    assert [tuple(version) for version in found.versions] == [("own", "1.0.0", "1.1.0")]
    (entry,) = found.entries
    assert (entry.kind, entry.id) == ("changed", "shop.current.a")
    ((key, before, after, percent),) = entry.values
    assert (key, before, after) == ("start, rows at 3.2 mm, low", "120 A", "126 A")
    assert percent == pytest.approx(5)


def test_a_row_put_between_is_one_row_more(tmp_path: Path, units: UnitTable) -> None:
    old = file(tmp_path / "old.yaml")
    new = file(tmp_path / "new.yaml", ROWS.replace(", {at: 3.2", ", {at: 2.5 mm, value: 100 A}, {at: 3.2"))
    (entry,) = diff(old, new, units).entries
    assert [value.key for value in entry.values] == ["start, rows at 2.5 mm, value"]
    assert all(value.old is None for value in entry.values)


@pytest.mark.parametrize(
    ("old", "new", "percent"),
    [
        ("1/8 in", "3.175 mm", 0.0),
        ("120 A", "120.0 A", 0.0),
        ("10 L/min", "12 L/min", 20.0),
        (0.9, 0.45, -50.0),
        ("100 degC", "110 degC", None),
        ("120 A", "4 mm", None),
        ("saw", "mill", None),
        (True, False, None),
    ],
)
def test_how_far_apart(units: UnitTable, old: Any, new: Any, percent: float | None) -> None:
    # 1/8 in is 3.175 mm by definition of the inch.
    assert percent_in(units)(old, new) == (None if percent is None else pytest.approx(percent))


def test_the_same_size_written_otherwise_is_no_change(tmp_path: Path, units: UnitTable) -> None:
    old = file(tmp_path / "old.yaml", "{at: 3.2 mm, value: 120 A}")
    assert diff(old, file(tmp_path / "new.yaml", "{at: 3.2 mm, value: 120.0 A}"), units).entries == ()
    old = file(tmp_path / "old.yaml", "{at: 3.175 mm, value: 120 A}")
    assert diff(old, file(tmp_path / "new.yaml", "{at: 1/8 in, value: 120 A}"), units).entries == ()


def test_a_folder_against_itself_and_without_one_file(tmp_path: Path, units: UnitTable) -> None:
    new = tmp_path / "rules"
    shutil.copytree(rules_folder(), new)
    assert diff(rules_folder(), new, units) == RulesDiff((), ())
    (new / "holding" / "heat-limits.yaml").unlink()
    found = diff(rules_folder(), new, units)
    assert {entry.kind for entry in found.entries} == {"removed"}
    assert "preheat.aluminium.navy" in {entry.id for entry in found.entries}
    assert {(v.ruleset, v.new) for v in found.versions} == {("heat-limits", "")}


names = st.sampled_from(["a.b", "c.d", "e.f", "g.h"])
rule_sets = st.dictionaries(names, st.fixed_dictionaries({"low": st.integers(1, 9), "high": st.integers(1, 9)}))


@settings(max_examples=60, deadline=None)
@given(rule_sets, rule_sets)
def test_as_a_plain_comparison_of_mappings_finds(old: dict[str, Any], new: dict[str, Any]) -> None:
    """Brute force over ids and keys."""

    def document(rules: dict[str, Any]) -> Any:
        data = {"kind": "rules", "ruleset": "r", "rules": [{"id": name, "start": body} for name, body in rules.items()]}
        return parse_yaml(json.dumps(data).encode(), "f")

    found = compare([document(old)], [document(new)], lambda left, right: None)
    kinds = {entry.id: entry.kind for entry in found.entries}
    wanted = {name: "removed" for name in old if name not in new} | {name: "added" for name in new if name not in old}
    wanted |= {name: "changed" for name in old if name in new and old[name] != new[name]}
    assert kinds == wanted
    for entry in found.entries:
        if entry.kind == "changed":
            keys = {f"start, {key}" for key in ("low", "high") if old[entry.id][key] != new[entry.id][key]}
            assert {value.key for value in entry.values} == keys


def test_the_command_and_bad_names(prestrike: Run, tmp_path: Path) -> None:
    old = file(tmp_path / "old.yaml")
    new = file(tmp_path / "new.yaml", ROWS.replace("130 A", "143 A"))
    ran = prestrike("rules", "diff", str(old), str(new))
    assert ran.code == 0 and "high: 130 A -> 143 A (+10 %)" in ran.out and "1 changed, 0 added" in ran.out
    assert "no difference" in prestrike("rules", "diff", str(old), str(old)).out
    told = prestrike("rules", "diff", str(old), str(new), "--json").json
    assert told["entries"][0]["values"][0]["new"] == "143 A"
    assert prestrike("rules", "diff", str(tmp_path / "none")).code == 2
    new.write_text("kind: [", encoding="utf-8")
    broken = prestrike("rules", "diff", str(old), str(new))
    assert broken.code == 2 and "new.yaml:2:1: yaml" in broken.err


@pytest.fixture
def saved(prestrike: Run, tmp_path: Path) -> Path:
    """An answer made with a shop rule of 120 to 130 A at 3.2 mm."""
    file(tmp_path / "rules" / "own.yaml")
    path = tmp_path / "tank.json"
    path.write_text(prestrike("setup", *SEAM, "--json", "--rules", str(tmp_path / "rules")).out, encoding="utf-8")
    return path


def test_recheck_says_what_changes_and_by_how_much(prestrike: Run, saved: Path, tmp_path: Path) -> None:
    rules = ("--rules", str(tmp_path / "rules"))
    same = prestrike("recheck", str(saved), *rules)
    assert same.code == 0 and "unchanged (the same rules)" in " ".join(same.out.split())
    file(tmp_path / "rules" / "own.yaml", ROWS.replace("120 A, high: 130 A", "132 A, high: 143 A"), "1.1.0")
    ran = prestrike("recheck", str(saved), *rules)
    told = " ".join(ran.out.split())
    # The geometric means of 120 and 130, and of 132 and 143: a tenth apart.
    assert ran.code == 0 and "current: 124.9 A" in told and "-> 137.4 A" in told and "(+10 %)" in told
    row = prestrike("recheck", str(saved), *rules, "--json").json["answers"][0]
    current = next(item for item in row["changed"] if item["what"] == "current")
    assert current["percent"] == pytest.approx(10, abs=0.1) and row["same_rules"] is False
    spoken = prestrike("rules", "diff", str(saved), *rules)
    told = " ".join(spoken.out.split())
    assert "current: shop.current.a 120 to 130 A -> 132 to 143 A" in told and "1.0.0 -> 1.1.0" in told
    without = " ".join(prestrike("recheck", str(saved)).out.split())
    assert "[shop rule] ->" in without


def test_a_bad_file_is_named_and_the_rest_is_done(prestrike: Run, saved: Path, tmp_path: Path) -> None:
    bad, cut = tmp_path / "bad.json", tmp_path / "cut.json"
    bad.write_text("{}", encoding="utf-8")
    data = json.loads(saved.read_text(encoding="utf-8"))
    del data["cautions"]
    cut.write_text(json.dumps(data), encoding="utf-8")
    data = json.loads(saved.read_text(encoding="utf-8"))
    data["job"]["as_given"]["members"][0]["metal"] = "unobtainium"
    (tmp_path / "metal.json").write_text(json.dumps(data), encoding="utf-8")
    ran = prestrike("recheck", str(tmp_path), "--rules", str(tmp_path / "rules"))
    assert ran.code == 2 and "1 answers asked again, 0 changed, 3 files could not be used" in ran.out
    assert "no saved answer" in ran.err and "no 'cautions'" in ran.err and "unobtainium" in ran.err
    assert "Traceback" not in ran.err
    assert prestrike("recheck", str(tmp_path / "rules")).code == 2


def test_every_part_of_an_answer_is_compared(saved: Path) -> None:
    """Whatever part a person acts on is changed in turn: each is seen, and nothing else."""
    old = json.loads(saved.read_text(encoding="utf-8"))
    assert changes_between(old, old) == []

    def edited(work: Callable[[Any], Any]) -> list[Any]:
        new = copy.deepcopy(old)
        work(new)
        return changes_between(old, new)

    edits: dict[str, Callable[[Any], Any]] = {
        "gas flow": lambda new: new["settings"]["gas_flow"].update(high=99),
        "tack length": lambda new: new["preparation"]["numbers"].pop("tack_length"),
        "filler": lambda new: new["choices"]["filler"][0].update(name="other"),
        "groove": lambda new: new["preparation"]["choices"].pop("groove"),
        "caution": lambda new: new["cautions"].pop(),
        "code": lambda new: new["codes"][0].update(code="other"),
        "step": lambda new: new["cleaning"].pop(),
        "status": lambda new: new.update(status="refused"),
        "refusal": lambda new: new["refusals"].append({"reason": "no"}),
    }
    for what, work in edits.items():
        assert {item.what for item in edited(work)} == {what}, what


@pytest.mark.parametrize("job", ["advisor/demo/coolant-tank.yaml", "advisor/demo/guard-bracket.yaml"])
def test_an_answer_holds_enough_to_be_asked_again(prestrike: Run, tmp_path: Path, job: str) -> None:
    from jsonschema import Draft202012Validator

    answer = prestrike("setup", job, "--json")
    Draft202012Validator(json.loads(schema_file("advice").read_text(encoding="utf-8"))).validate(answer.json)
    path = tmp_path / "a.json"
    path.write_text(answer.out, encoding="utf-8")
    assert "unchanged" in prestrike("recheck", str(path)).out
