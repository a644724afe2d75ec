"""A loaded lap reaches five times its thinner part, and 25 mm at least: AISC 360 J2.2b, AWS D1.1."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

PROCESSES = ("TIG", "MIG", "stick")


def least(metal: str, *words: str, prestrike: Callable[..., Any]) -> float:
    found = prestrike("prep", "-m", metal, "--joint", "lap", *words, "--json").json
    value: float = found["preparation"]["numbers"]["overlap"]["start"]
    return value


@pytest.mark.parametrize("metal", ["6061-T6", "A36", "304"])
@pytest.mark.parametrize(("thickness", "plain", "loaded"), [("1.5 mm", 7.5, 25), ("4 mm", 20, 25), ("6 mm", 30, 30)])
def test_the_least_overlap_of_a_lap(
    prestrike: Callable[..., Any], metal: str, thickness: str, plain: float, loaded: float
) -> None:
    assert least(metal, "-t", thickness, prestrike=prestrike) == pytest.approx(plain)
    found = least(metal, "-t", thickness, "--service", "structural", prestrike=prestrike)
    assert found == pytest.approx(loaded)


def test_the_thinner_part_counts_in_either_order(prestrike: Callable[..., Any]) -> None:
    for first, second in (("2 mm", "6 mm"), ("6 mm", "2 mm")):
        words = ("-t", first, "-m", "6061-T6", "-t", second)
        assert least("6061-T6", *words, prestrike=prestrike) == pytest.approx(10)


def test_every_sheet_prints_the_overlap(prestrike: Callable[..., Any]) -> None:
    words = ("-m", "A36", "-t", "1/8 in", "--joint", "lap", "--process", "MIG")
    assert "Overlap, least    5/8 in (16 mm)" in prestrike("prep", *words).out


def strength(prestrike: Callable[..., Any], *words: str) -> Any:
    return prestrike("strength", *words)


@pytest.mark.parametrize(
    ("metal", "thickness", "process"),
    [("6061-T6", "3 mm", "TIG"), ("5086-H116", "3 mm", "MIG"), ("S235", "5 mm", "stick"), ("A36", "3 mm", "MIG")],
)
def test_strength_looks_at_the_overlap(prestrike: Callable[..., Any], metal: str, thickness: str, process: str) -> None:
    words = ("-m", metal, "-t", thickness, "--process", process, "--joint", "lap", "--leg", "5 mm", "--length", "80 mm")
    for given, short in (("24 mm", True), ("25 mm", False), ("1 in", False), ("40 mm", False)):
        found = strength(prestrike, *words, "--overlap", given, "--json").json["seam"]["overlap"]
        assert found["short"] is short and found["least_mm"] == 25
        text = " ".join(strength(prestrike, *words, "--overlap", given).out.split())
        assert ("IS TOO SHORT" in text) is short
        assert "needs 25 mm (1 in)" in text
    assumed = strength(prestrike, *words, "--json").json["seam"]["overlap"]
    assert assumed["mm"] is None and not assumed["short"]
    assert "overlap taken as 25 mm (1 in)" in " ".join(strength(prestrike, *words).out.split())


def test_the_rule_that_decides_is_named(prestrike: Callable[..., Any]) -> None:
    words = ("-m", "S275", "--joint", "lap", "--leg", "5 mm", "--length", "80 mm", "--json")
    for thickness, wanted in (("4 mm", "not less than 1 in"), ("10 mm", "five times")):
        assert wanted in strength(prestrike, *words, "-t", thickness).json["seam"]["overlap"]["source"]


def test_inches_first_stay_first(prestrike: Callable[..., Any]) -> None:
    words = ("-m", "A36", "-t", "1/4 in", "--joint", "lap", "--leg", "3/16 in", "--overlap", "3/4 in")
    text = " ".join(strength(prestrike, *words).out.split())
    assert "THE OVERLAP OF 3/4 in (19 mm) IS TOO SHORT: a lap that carries needs 1 1/4 in (31.8 mm)" in text


@pytest.mark.parametrize("overlap", ["9", "-3 mm", "3 kg", "zz"])
def test_what_is_no_overlap_is_refused(prestrike: Callable[..., Any], overlap: str) -> None:
    found = strength(prestrike, "-m", "S235", "-t", "5 mm", "--joint", "lap", "--leg", "5 mm", "--overlap", overlap)
    assert found.code == 2 and "--overlap" in found.err


def test_another_joint_has_no_overlap(prestrike: Callable[..., Any]) -> None:
    found = strength(prestrike, "-m", "S235", "-t", "5 mm", "--joint", "tee", "--leg", "5 mm", "--overlap", "30 mm")
    assert found.code == 2 and "an overlap is of a lap joint" in found.err


def test_a_lap_welded_along_one_end_is_told_of(prestrike: Callable[..., Any]) -> None:
    words = ("-m", "S235", "-t", "5 mm", "--joint", "lap", "--leg", "5 mm", "--json")
    for seams, told in (("1", True), ("2", False)):
        notes = " ".join(strength(prestrike, *words, "--seams", seams).json["seam"]["notes"])
        assert ("along one end only" in notes) is told
