"""`prestrike faults`: answers, words not known, the job as evidence, the loop into setup, rules of one's own."""

from __future__ import annotations

import json
import os
import pty
import select
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import ROOT

Run = Callable[..., Any]
SEAM = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")
HEAD = """kind: {kind}
ruleset: {name}
version: 1.0.0
schema: 1
history:
  - {{version: 1.0.0, date: 2026-11-25, change: first set}}
sources:
  - {{id: own, title: Notes of this shop, kind: shop-habit, evidence: common-practice}}
{kind}:
"""


def test_json_answers_without_questions(prestrike: Run) -> None:
    ran = prestrike("faults", "--seen", "O08", "--seen", "O09", "--not", "O13", "--metal", "aluminium", "--json")
    assert ran.code == 0
    found = ran.json
    assert {"id", "alias", "probability"} <= set(found["causes"][0])
    assert found["next_check"]["alias"].startswith("T")
    assert found["verdict"] == "no-single-cause" and found["no_single_cause"]["named"]
    total = sum(cause["probability"] for cause in found["causes"]) + found["no_single_cause"]["probability"]
    assert total == pytest.approx(1.0, abs=0.01)
    assert not {"C06", "C25", "C38"} & {cause["alias"] for cause in found["causes"]}


@pytest.mark.parametrize(
    ("words", "alias"),
    [
        ("black soot", "O08"),
        ("rod balls up", "O15"),
        ("grey sugar on the back", "O21"),
        ("pinholes", "O40"),
        ("2017", "O40"),
        ("ISO 6520-1 104", "O23"),
        ("undercut", "O22"),
        ("o08", "O08"),
        ("O09, O08", "O08"),
        ("tungston is blue", "O12"),
        ("gas was not turned on", "D10"),
    ],
)
def test_words_numbers_and_slips_of_the_pen_are_understood(prestrike: Run, words: str, alias: str) -> None:
    said = prestrike("faults", "--metal", "304", "--seen", words, "--json").json["said"]
    assert alias in {item["alias"] for item in said if item["present"]}


@pytest.mark.parametrize("flag", ["leg", "length", "thickness", "wire", "electrode-diameter"])
def test_a_bad_size_is_an_error_also_where_no_job_is_given(prestrike: Run, flag: str) -> None:
    ran = prestrike("faults", "--metal", "304", "--seen", "soot", f"--{flag}", "zz")
    assert ran.code == 2 and "zz" in ran.err and "help:" in ran.err and not ran.out


@pytest.mark.parametrize("flag", ["joint", "weld", "process", "position", "backing", "place", "gas", "tungsten"])
def test_a_bad_word_is_an_error_also_where_no_job_is_given(prestrike: Run, flag: str) -> None:
    ran = prestrike("faults", "--metal", "304", "--seen", "soot", f"--{flag}", "zz")
    assert ran.code == 2 and "zz" in ran.err and "one of" in ran.err and not ran.out


def test_a_denial_within_the_words_is_a_denial(prestrike: Run) -> None:
    said = prestrike("faults", "--metal", "5052", "--seen", "porosity but no soot", "--json").json["said"]
    assert {item["alias"]: item["present"] for item in said if item["how"] == "seen"} == {"O40": True, "O08": False}


def test_words_not_known_are_told_with_the_nearest_and_nothing_is_dropped_in_silence(prestrike: Run) -> None:
    none = prestrike("faults", "--metal", "aluminium", "--seen", "florbl grumpf")
    assert none.code == 2 and "names no sign" in none.err and "the nearest known" in none.err
    some = prestrike("faults", "--metal", "aluminium", "--seen", "soot", "--seen", "florbl grumpf")
    assert some.code == 2 and "not understood: 'florbl grumpf'" in some.out and "NEXT CHECK" in some.out
    found = prestrike("faults", "--metal", "aluminium", "--seen", "soot", "--seen", "florbl", "--json")
    assert found.code == 2 and found.json["not_understood"][0]["text"] == "florbl"


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--seen", "O08", "--not", "O08"), "contradiction"),
        (("--metal", "5052", "--seen", "grey sugar on the back"), "a sign of carbon-steel and low-alloy-steel"),
        (("--metal", "A36", "--seen", "my electrode keeps sticking"), "process 111"),
        (("--seen", "O31"), "one of"),
        (("--metal", "unobtainium", "--seen", "O08"), "unobtainium"),
        (("--seen", "O08", "--used", "current=90"), "metal"),
        ((*SEAM, "--used", "current=ninety"), "ninety"),
        ((*SEAM, "--used", "curent=90 A"), "current"),
        ((*SEAM, "--seen", "O08", "--accept", "C999"), "no cause"),
        (("--metal", "5052", "--seen", "O08", "--accept", "C18"), "no-job"),
        ((*SEAM, "--seen", "O08", "--accept", "C18"), "nothing-used"),
        (("--trial", "nope"), "journal"),
        (("--seen", "O08", "--cleaned-ago", "soon"), "soon"),
        (("--seen", "O08", "--cleaned-ago", "-3 h"), "3"),
    ],
)
def test_bad_input_ends_with_2_and_says_what_to_do(own: Run, arguments: tuple[str, ...], words: str) -> None:
    ran = own("faults", *arguments)
    assert ran.code == 2 and "Traceback" not in ran.err
    assert words in ran.err


def test_settings_beside_the_advice_and_cleaning_long_ago_are_evidence(own: Run) -> None:
    plain = own("faults", *SEAM, "--seen", "O18", "--json").json
    low = own("faults", *SEAM, "--seen", "O18", "--used", "current=60 A", "--json").json
    assert probability(low, "C27") > probability(plain, "C27") + 0.2
    old = own("faults", *SEAM, "--seen", "O16", "--cleaned-ago", "3 d", "--json").json
    fresh = own("faults", *SEAM, "--seen", "O16", "--cleaned-ago", "20 min", "--json").json
    assert probability(old, "C02") > probability(fresh, "C02")


def probability(found: dict[str, Any], alias: str) -> float:
    return float(next(cause["probability"] for cause in found["causes"] if cause["alias"] == alias))


def test_the_loop_closes_and_opens_again(own: Run, tmp_path: Path) -> None:
    before = own("setup", *SEAM, "--json").json["settings"]["current"]
    assert own("trial", "add", *SEAM, "--current", "130 A", "--verdict", "bad", "--seen", "burned through").code == 0
    trial = own("trial", "list", "--json").json["trials"][0]
    found = own("faults", "--trial", trial["id"], "--json").json
    assert "O20" in {item["alias"] for item in found["said"]} and found["causes"][0]["alias"] == "C28"
    done = own("faults", "--trial", trial["id"], "--accept", "C28", "--json").json["accepted"]
    assert any("Current" in change for change in done["changes"])
    after = own("setup", *SEAM, "--json").json["settings"]["current"]
    # The next start is the current that was used, times the remedy's 0.9.
    assert after["start"] == pytest.approx(130 * 0.9, rel=0.01) and after["start"] < before["start"]
    step = next(step for step in after["trail"] if step["kind"] == "adjust" and "Trial" in step["source"])
    assert trial["id"][:8] in step["source"] and step["evidence"] == "trial"
    # Another thickness is another seam: nothing moves there.
    other = ("--metal", "5052", "--thickness", "2 mm", "--joint", "tee")
    assert "Trial" not in own("setup", *other, "--json").out
    assert own("rules", "check").code == 0
    row = own("trial", "list", "--json").json["trials"][0]
    assert row["cause"] == "too-hot" and own("trial", "show", row["id"]).out.count("too-hot") == 1
    assert own("faults", "--trial", row["id"], "--accept", "C27").code == 2
    assert own("faults", "--trial", row["id"], "--accept", "none").code == 0
    again = own("faults", "--trial", row["id"], "--accept", "none")
    assert again.code == 2 and "no cause is accepted" in again.err
    assert own("setup", *SEAM, "--json").json["settings"]["current"]["start"] == before["start"]


def test_a_cause_known_at_once_is_logged_with_the_trial(own: Run) -> None:
    ran = own("trial", "add", *SEAM, "--current", "130 A", "--verdict", "bad", "--cause", "C28")
    assert ran.code == 0 and "Current" in ran.out
    assert own("trial", "list", "--json").json["trials"][0]["cause"] == "too-hot"
    assert own("setup", *SEAM, "--json").json["settings"]["current"]["layer"] == "shop"
    nothing = own("trial", "add", *SEAM, "--current", "130 A", "--verdict", "bad", "--cause", "C99")
    assert nothing.code == 2 and len(own("trial", "list", "--json").json["trials"]) == 1


def test_what_was_set_against_the_advice_moves_no_advice(own: Run) -> None:
    ran = own("faults", *SEAM, "--used", "current=60 A", "--seen", "O18", "--accept", "C27")
    assert ran.code == 0 and "below the advised range; the advice stays" in ran.out
    assert "Trial" not in json.dumps(own("setup", *SEAM, "--json").json["settings"]["current"]["trail"])


def test_accepting_never_passes_a_limit(own: Run) -> None:
    """Gas flow has a ceiling; raising it by a trial stops there."""
    found = own("setup", *SEAM, "--json").json["settings"]["gas_flow"]
    used = f"gas_flow={found['high']:g} L/min"
    assert own("faults", *SEAM, "--used", used, "--seen", "O12", "--accept", "C10").code == 0
    after = own("setup", *SEAM, "--json").json["settings"]["gas_flow"]
    limits = [step["high"] for step in after["trail"] if step["kind"] == "limit" and step["high"] is not None]
    assert after["start"] > found["start"] and all(after["high"] <= limit + 1e-9 for limit in limits)


def test_a_shop_adds_a_sign_a_cause_a_check_and_a_remedy(own: Run, tmp_path: Path) -> None:
    rules = tmp_path / "own"
    rules.mkdir()
    sign = '  - {id: smells-of-fish, alias: X01, name: smells of fish, about: symptom, common: rare, ask: "Does it?",'
    sign += " words: [smells of fish, fishy smell], source: [{doc: own}]}\n"
    cause = "  - {id: coolant-left, alias: X02, name: our coolant left in the joint, because: It boils., prior: low,"
    cause += (
        " signs: [{observation: smells-of-fish, speaks: strongly-for, source: [{doc: own}]}], source: [{doc: own}]}\n"
    )
    check = "  - {id: sniff, alias: X03, do: Sniff at the joint, tells: [smells-of-fish], minutes: 1,"
    check += " source: [{doc: own}]}\n"
    remedy = "  - {id: rinse, causes: [coolant-left], do: Rinse with hot water and dry, step: cleaning_step,"
    remedy += " source: [{doc: own}]}\n"
    for kind, text in (("observations", sign), ("causes", cause), ("checks", check), ("remedies", remedy)):
        (rules / f"{kind}.yaml").write_text(HEAD.format(kind=kind, name=f"shop-{kind}") + text, encoding="utf-8")
    ran = own("faults", "--metal", "5052", "--rules", str(rules), "--seen", "a fishy smell", "--json")
    assert ran.code == 0, ran.out
    assert ran.json["causes"][0]["alias"] == "X02"
    assert ran.json["causes"][0]["remedies"][0]["do"] == "Rinse with hot water and dry"
    checks = own("faults", "--metal", "5052", "--rules", str(rules), "--seen", "O32", "--json").json
    assert checks["next_check"]["alias"] != "X03"  # it tells of a rare thing
    (rules / "causes.yaml").write_text(
        HEAD.format(kind="causes", name="shop-causes") + cause.replace("smells-of-fish", "smells-of-fsh"),
        encoding="utf-8",
    )
    broken = own("faults", "--metal", "5052", "--rules", str(rules), "--seen", "O08")
    assert broken.code == 2 and "smells-of-fish" in own("rules", "check", str(rules)).out + broken.err + broken.out


def test_at_a_terminal_it_asks_no_more_than_it_may_and_stops_when_told() -> None:
    shown = at_a_terminal("faults", "--metal", "aluminium", "--ask", "2", answers=["black soot", "n", "y"])
    assert shown.count("[y yes") == 2 and "NEXT CHECK" in shown
    shown = at_a_terminal("faults", "--metal", "aluminium", "--seen", "O08", answers=["q"])
    assert shown.count("[y yes") == 1 and "NEXT CHECK" in shown


def at_a_terminal(*arguments: str, answers: list[str]) -> str:
    """What a person sees who answers line by line at a dumb terminal."""
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update({"TERM": "dumb", "COLUMNS": "80", "PYTHONPATH": str(ROOT)})
        os.execv(sys.executable, [sys.executable, "-m", "advisor.cli.main", *arguments])
    shown, left, end = b"", list(answers), time.monotonic() + 60
    while time.monotonic() < end:
        ready, _, _ = select.select([terminal], [], [], 0.2)
        try:
            if ready:
                shown += os.read(terminal, 65536)
            elif left and shown.rstrip().endswith(b">"):
                os.write(terminal, left.pop(0).encode() + b"\n")
                shown += b" "
        except OSError:
            break
    os.waitpid(child, 0)
    return shown.decode(errors="replace")
