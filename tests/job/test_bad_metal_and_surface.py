"""Metals and surfaces that cannot be: each is one clear error that says the repair; hazards show for every process."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

Run = Callable[..., Any]
JOB = ("--thickness", "3 mm", "--joint", "butt")


@pytest.mark.parametrize(
    ("metal", "surface", "family_word"),
    [
        ("6061", "rusty", "steel"),
        ("6061", "galvanised", "steel"),
        ("5052-H32", "mill-scale", "steel"),
        ("A36", "anodised", "aluminium"),
        ("304", "anodised", "aluminium"),
    ],
)
def test_a_surface_the_metal_cannot_have(prestrike: Run, metal: str, surface: str, family_word: str) -> None:
    """Rust and mill scale are iron oxides, zinc dips are for steel, anodic films for aluminium."""
    ran = prestrike("setup", "--metal", metal, *JOB, "--surface", surface)
    assert ran.code == 2 and f"cannot be {surface}" in ran.err and family_word in ran.err and "help:" in ran.err


@pytest.mark.parametrize("surface", ["oily", "painted", "clean", "mill-finish"])
@pytest.mark.parametrize("metal", ["6061", "A36", "304"])
def test_surfaces_any_metal_can_have(prestrike: Run, metal: str, surface: str) -> None:
    assert prestrike("setup", "--metal", metal, *JOB, "--surface", surface).code == 0


def test_a_coat_said_with_the_metal_is_sent_to_the_surface(prestrike: Run) -> None:
    ran = prestrike("setup", "--metal", "galvanised steel", *JOB)
    assert ran.code == 2 and "--surface galvanised" in ran.err


@pytest.mark.parametrize(
    ("written", "meant"), [("6061T6", "6061-T6"), ("6061,T6", "6061-T6"), ("5052 h32", "5052-H32"), ("1,0038", "S235")]
)
def test_ways_of_writing_a_metal(prestrike: Run, written: str, meant: str) -> None:
    ran = prestrike("materials", "show", written)
    assert ran.code == 0 and ran.out.startswith(f"{meant}:")


def test_a_temper_of_aluminium_on_steel(prestrike: Run) -> None:
    ran = prestrike("materials", "show", "304-T6")
    assert ran.code == 2 and "temper of aluminium" in ran.err


@pytest.mark.parametrize("process", ["MIG", "MAG", "stick"])
def test_the_arc_burns_by_any_process(prestrike: Run, process: str) -> None:
    """The cautions and the code of the work show whatever makes the arc."""
    ran = prestrike("setup", "--metal", "A36", *JOB, "--process", process, "--service", "lifting", "--json")
    assert ran.code == 0 and ran.json["practice_only"] is True
    ids = {item["rule_id"] for item in ran.json["cautions"]}
    assert {"caution.eyes-skin", "caution.fire", "caution.shock", "caution.fume", "caution.pacemaker"} <= ids
    assert {"code.lifting", "code.local"} <= {item["rule_id"] for item in ran.json["codes"]}


def test_brazing_keeps_the_cautions_of_fire(prestrike: Run) -> None:
    ran = prestrike("setup", "--metal", "A36", *JOB, "--process", "brazing", "--json")
    ids = {item["rule_id"] for item in ran.json["cautions"]}
    assert {"caution.fire", "caution.fume", "caution.hot-metal"} <= ids
    assert "caution.eyes-skin" not in ids, "there is no arc"


@pytest.mark.parametrize(
    ("flag", "word", "caution"),
    [("--tungsten", "thoriated", "caution.thoriated"), ("--solvent", "brake cleaner", "caution.chlorinated")],
)
def test_a_shop_word_brings_the_caution(prestrike: Run, flag: str, word: str, caution: str) -> None:
    ran = prestrike("setup", "--metal", "6061", *JOB, flag, word, "--json")
    assert ran.code == 0 and caution in {item["rule_id"] for item in ran.json["cautions"]}
    plain = prestrike("setup", "--metal", "6061", *JOB, "--json")
    assert caution not in {item["rule_id"] for item in plain.json["cautions"]}
