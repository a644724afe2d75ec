"""Hazards that plain words name are told first, whatever else is understood; everyday words raise none."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from advisor.faults.hazards import HazardListener
from advisor.shop.rules_in_force import open_rules
from tests.conftest import ROOT

Run = Callable[..., Any]
PHRASES = yaml.safe_load((ROOT / "tests/faults/hazard-phrases.yaml").read_text(encoding="utf-8"))
RAISED = [(hazard, text) for hazard, texts in PHRASES["danger"].items() for text in texts]


@pytest.fixture(scope="module")
def listener(cache: Path) -> HazardListener:
    return HazardListener(open_rules().index)


def test_there_are_enough_phrases_and_every_hazard_has_some(listener: HazardListener) -> None:
    assert len(RAISED) >= 80 and len(PHRASES["harmless"]) >= 80
    assert {hazard.entry["id"] for hazard in listener.hazards} == PHRASES["danger"].keys()


@pytest.mark.parametrize(("hazard", "text"), RAISED)
def test_a_danger_is_heard(listener: HazardListener, hazard: str, text: str) -> None:
    assert hazard in {danger.id for danger in listener.hear([text])}
    assert hazard in {danger.id for danger in listener.hear([f"black soot; {text.upper()}, pinholes"])}


@pytest.mark.parametrize("text", PHRASES["harmless"])
def test_everyday_words_raise_no_danger(listener: HazardListener, text: str) -> None:
    assert listener.hear([text]) == ()


def test_every_phrase_of_the_rules_is_heard_alone(listener: HazardListener) -> None:
    for hazard in listener.hazards:
        for phrase in hazard.entry["words"]:
            assert hazard.entry["id"] in {danger.id for danger in listener.hear([phrase.replace("*", "e")])}, phrase


@pytest.mark.parametrize(
    ("words", "known"), [("used brake cleaner", False), ("pores, I used brake cleaner", True), ("florbl petrol", False)]
)
def test_the_danger_stands_first_with_what_to_do_also_where_nothing_else_is_known(
    prestrike: Run, words: str, known: bool
) -> None:
    ran = prestrike("faults", "--metal", "A36", "--seen", words)
    assert ran.out.startswith("DANGER\n!!  ") and ("NEXT CHECK" in ran.out) == known
    assert any(do in " ".join(ran.out.split()) for do in ("see a doctor now", "Do not weld, braze, cut or grind it"))
    assert all(len(line) <= 80 for line in ran.out.splitlines())
    assert known or ("names no sign" in ran.err and ran.code == 2)
    found = prestrike("faults", "--metal", "A36", "--seen", words, "--json").json
    assert next(iter(found)) == "dangers" and found["dangers"][0]["do"] and found["dangers"][0]["heard"] == [words]
    assert known or found["errors"][0]["code"] == "unknown-sign"


def test_the_danger_comes_before_every_other_error(prestrike: Run) -> None:
    for more in (("--metal", "unobtainium"), ("--joint", "zz"), ("--trial", "none"), ("job-that-is-not-there.yaml",)):
        ran = prestrike("faults", *more, "--seen", "sealed tank")
        assert ran.code == 2 and ran.out.startswith("DANGER") and ran.err, more
    assert prestrike("faults", "--metal", "magnesium").out.startswith("DANGER")


def test_what_is_said_not_to_be_there_raises_none(prestrike: Run) -> None:
    ran = prestrike("faults", "--metal", "A36", "--seen", "black soot", "--not", "galvanised steel")
    assert ran.code == 0 and "DANGER" not in ran.out
    assert prestrike("faults", "--metal", "A36", "--seen", "black soot", "--json").json["dangers"] == []


def test_a_shop_adds_a_hazard_of_its_own_and_cannot_silence_ours(prestrike: Run, tmp_path: Path) -> None:
    own = tmp_path / "own.yaml"
    text = """kind: hazards
ruleset: shop-hazards
version: 1.0.0
schema: 1
history:
  - {version: 1.0.0, date: 2026-11-27, change: first set}
sources:
  - {id: own, title: Notes of this shop, kind: shop-habit, evidence: common-practice}
hazards:
  - id: HERE
    order: 1
    hazard: The blue dip tank holds nitric acid
    do: Rinse the part for 5 min before you heat it
    words: [blue dip]
    source: [{doc: own}]
"""
    own.write_text(text.replace("HERE", "hazard-shop-dip"), encoding="utf-8")
    asked = ("faults", "--metal", "A36", "--rules", str(own), "--seen", "blue dip, then brake cleaner", "--json")
    assert [item["id"] for item in prestrike(*asked).json["dangers"]] == ["hazard-shop-dip", "hazard-chlorinated"]
    own.write_text(text.replace("HERE", "hazard-chlorinated"), encoding="utf-8")
    clash = prestrike(*asked)
    assert clash.code == 2 and "phosgene" in clash.json["dangers"][0]["hazard"]
    assert clash.json["errors"][0]["code"] == "duplicate-id" and "choose another id" in clash.json["errors"][0]["help"]


def test_a_trial_s_words_are_heard_too(prestrike: Run, tmp_path: Path) -> None:
    journal = ("--journal", str(tmp_path / "journal.sqlite"))
    seam = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")
    made = prestrike(
        "trial", "add", *seam, "--used", "current=120 A", "--verdict", "bad", "--seen", "used brake cleaner", *journal
    )
    assert made.code == 0, made.err
    trial = prestrike("trial", "list", "--json", *journal).json["trials"][0]["id"]
    assert prestrike("faults", "--trial", trial, *journal).out.startswith("DANGER")
