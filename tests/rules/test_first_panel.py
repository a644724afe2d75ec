"""What a first job needs to hear besides its numbers: panel, purge, second side, clamp, heavy member."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest


def texts(answer: dict[str, Any], *parts: str) -> str:
    steps = [step for part in parts for step in answer[part]]
    return " ".join(f"{step['do']} {step['never']}" for step in steps).casefold()


def ask(prestrike: Callable[..., Any], *words: str) -> dict[str, Any]:
    found: dict[str, Any] = prestrike("setup", *words, "--json").json
    return found


@pytest.mark.parametrize(
    ("process", "metal", "words"),
    [
        (
            "141",
            "6061-T6",
            ("alternating current", "foot pedal", "4t", "high-frequency", "electrode positive", "bare scale"),
        ),
        ("141", "304", ("torch on minus", "lift start", "foot pedal")),
        ("MIG", "A36", ("volts and the wire feed advised", "wire to positive", "inductance")),
        ("stick", "A36", ("hot start", "arc force")),
    ],
)
def test_the_panel_is_set_before_the_arc(
    prestrike: Callable[..., Any], process: str, metal: str, words: tuple[str, ...]
) -> None:
    said = texts(ask(prestrike, "--process", process, "-m", metal, "-t", "3 mm", "--joint", "butt"), "panel")
    assert [word for word in words if word not in said] == []


@pytest.mark.parametrize("process", ["141", "MIG", "stick"])
def test_every_arc_names_the_work_clamp(prestrike: Callable[..., Any], process: str) -> None:
    answer = ask(prestrike, "--process", process, "-m", "A36", "-t", "3 mm", "--joint", "tee")
    assert "work clamp on bright metal" in texts(answer, "holding")


def test_a_stainless_butt_says_how_to_purge(prestrike: Callable[..., Any]) -> None:
    # Four volumes, in low, vented past the joint, on until the first filler run: text of a welding course.
    said = texts(ask(prestrike, "-m", "304", "-t", "2 mm", "--joint", "butt"), "holding")
    assert all(
        word in said
        for word in ("vent", "four times the volume", "lowest point", "foil", "next run", "before the first tack")
    )


def test_thick_to_thin_starts_on_the_thick_member(prestrike: Callable[..., Any]) -> None:
    members = ("-m", "5052", "-t", "1.6 mm", "-m", "6061-T6", "-t", "6.4 mm")
    assert "start the arc on the thick member" in texts(ask(prestrike, *members, "--joint", "tee"), "technique")
    like = ask(prestrike, "-m", "5052", "-t", "3 mm", "--joint", "tee")
    assert "start the arc on the thick member" not in texts(like, "technique")


def test_a_6061_part_to_be_treated_after_says_how(prestrike: Callable[..., Any]) -> None:
    # 980 degF for an hour, then 8 h at 325, 5 h at 350 or 1 h at 400 degF: F. Armao, Practical Welding Today, 2011.
    words = ("-m", "6061-T6", "-t", "5 mm", "--joint", "butt", "--service", "heat-treated-after")
    said = texts(ask(prestrike, *words), "after")
    assert "980 °f" in said and "325 °f" in said


def test_steel_from_both_sides_is_ground_back(prestrike: Callable[..., Any]) -> None:
    for access, wanted in (("both-sides", True), ("one-side", False)):
        words = ("--process", "MIG", "-m", "A36", "-t", "6 mm", "--joint", "butt", "--access", access)
        answer = ask(prestrike, *words)
        said = " ".join(step["do"] for step in answer["preparation"]["steps"])
        assert ("gouge the root back" in said) is wanted
        assert ("strip may stay" in said) is not wanted


@pytest.mark.parametrize(
    ("word", "code"), [("gold", "WLa15"), ("blue", "WLa20"), ("grey", "WCe20"), ("gray", "WCe20"), ("white", "WZr8")]
)
def test_tungsten_by_the_colour_of_its_end(prestrike: Callable[..., Any], word: str, code: str) -> None:
    # ISO 6848 colours.
    answer = ask(prestrike, "-m", "6061-T6", "-t", "3 mm", "--joint", "butt", "--tungsten", word)
    assert answer["job"]["as_given"]["tungsten_type"] == code


@pytest.mark.parametrize(
    ("group", "gas", "process"),
    [("I1", "argon", "141"), ("I3", "argon-helium", "141"), ("M21", "argon-co2", "135"), ("C1", "co2", "135")],
)
def test_gas_by_its_group(prestrike: Callable[..., Any], group: str, gas: str, process: str) -> None:
    # ISO 14175 groups.
    metal = "6061-T6" if process == "141" else "A36"
    answer = ask(prestrike, "--process", process, "-m", metal, "-t", "3 mm", "--joint", "butt", "--gas", group)
    assert answer["job"]["as_given"]["gas"] == gas
