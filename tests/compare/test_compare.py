"""Ways to make a part side by side: geometry by hand, figures against the single commands, brazing by the metal."""

from __future__ import annotations

import math
import shlex
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.compare.answer import Comparison, MethodAnswer, compare
from advisor.diagnostics import PrestrikeError
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.units.quantities import UnitTable

Run = Callable[..., Any]
BOX = ("--box", "120 mm, 80 mm, 60 mm")


def comparison(rulebook: Rulebook, units: UnitTable, metal: str, thickness: str, part: Any, **words: Any) -> Comparison:
    data = {"members": [{"metal": metal, "thickness": thickness}], "joint": "corner-half-open", "part": part, **words}
    return compare(rulebook, JobBuilder(rulebook, units).build(data))


def way(answer: Comparison, name: str) -> MethodAnswer:
    return next(item for item in answer.ways if item.way.name == name)


def test_6061_box_is_refused_for_brazing_and_3003_is_not(prestrike: Run) -> None:
    """The margin: 6061 begins to melt at 1080 degF, as the filler does (Aluminum Standards and Data; AWS A5.8)."""
    refused = prestrike("compare", "-m", "6061-T6", "-t", "3.2 mm", *BOX, "--json").json
    fits = prestrike("compare", "-m", "3003-H14", "-t", "2 mm", *BOX, "--json").json
    first, second = (next(w for w in data["ways"] if w["way"] == "brazing") for data in (refused, fits))
    assert first["status"] == "refused" and first["refusals"][0]["rule_id"] == "refusal.braze.margin"
    assert second["status"] == "advised" and second["figures"]["margin"]["start"] == pytest.approx(110 / 1.8, abs=0.1)
    assert refused["status"] == fits["status"] == "advised"


# By hand: an open box has 2 L + 2 W round its floor and 4 H; folded, the floor edges are bends; of tube, no uprights.
HAND = {"tig-plates": (8, 640.0), "tig-folded": (4, 240.0), "tig-grooved": (8, 640.0), "tig-tube": (4, 400.0)}


@pytest.mark.parametrize("name", HAND)
def test_seams_of_an_open_box_by_hand(rulebook: Rulebook, units: UnitTable, name: str) -> None:
    answer = comparison(rulebook, units, "6061-T6", "3 mm", {"box": ["120 mm", "80 mm", "60 mm"]})
    found = way(answer, name).way
    assert (found.number, found.length) == HAND[name]


def test_a_lid_adds_its_edges(rulebook: Rulebook, units: UnitTable) -> None:
    part = {"box": ["120 mm", "80 mm", "60 mm"]}
    open_top = comparison(rulebook, units, "3003", "2 mm", part)
    closed = comparison(rulebook, units, "3003", "2 mm", {**part, "open_top": False})
    for name in ("tig-plates", "tig-folded", "tig-tube", "brazing"):
        assert way(closed, name).way.length - way(open_top, name).way.length == pytest.approx(400.0)


def test_frame_corners_by_hand(rulebook: Rulebook, units: UnitTable) -> None:
    """A mitre through 30 mm square tube: two faces 30 mm, two 30 sqrt 2; folded, one face of three stays whole."""
    answer = comparison(rulebook, units, "A36", "2 mm", {"frame": ["600 mm", "400 mm", "30 mm"]})
    corner = 60 + 60 * math.sqrt(2)
    assert way(answer, "tig-mitred").way.length == pytest.approx(4 * corner)
    assert way(answer, "tig-notched").way.length == pytest.approx(4 * corner - 3 * 30)


def test_a_folded_bracket_needs_no_weld(rulebook: Rulebook, units: UnitTable) -> None:
    answer = comparison(rulebook, units, "5052-H32", "1/8 in", {"bracket": ["60 mm", "40 mm", "50 mm"]})
    found = way(answer, "folded")
    assert (found.status, found.way.number) == ("advised", 0)
    # Aluminum Standards and Data, 90 degree bends: 5052-H32, 1/8 in: 1 1/2 thicknesses.
    assert found.figures["bend"].start == pytest.approx(1.5 * 25.4 / 8, rel=0.01)


@pytest.mark.parametrize(("metal", "name"), [("6061-T6", "tig-grooved"), ("A36", "wire"), ("A36", "stick")])
def test_figures_are_those_of_the_single_commands(prestrike: Run, metal: str, name: str) -> None:
    """Each trail holds the commands that give the same: run, their sums must be what `compare` shows."""
    data = prestrike("compare", "-m", metal, "-t", "3.2 mm", *BOX, "--way", name, "--json").json
    figures = data["ways"][0]["figures"]
    answers = [prestrike(*shlex.split(line)[1:], "--json") for line in figures["arc"]["trail"]]
    assert answers and all(ran.code == 0 for ran in answers)
    joints = [joint for ran in answers for joint in ran.json["joints"]]
    for figure, value in (
        ("arc", lambda joint: joint["arc_s"]),
        ("filler", lambda joint: joint["filler"]["mass_g"]),
        ("gas", lambda joint: joint["gas"]["litres"]),
    ):
        for end in ("low", "start", "high") if figure in figures else ():
            assert figures[figure][end] == pytest.approx(sum(value(joint)[end] for joint in joints), rel=2e-3)
    assert {"arc", "filler", "heat"} <= set(figures) and ("gas" in figures) == (name != "stick")
    heats = [line.split("; ")[-1] for line in figures["heat"]["trail"]]
    alone = [prestrike(*shlex.split(line)[1:], "--json").json["heat_input_kJ_mm"] for line in heats]
    assert figures["heat"]["start"] == pytest.approx(max(alone), rel=2e-3)


def test_margin_is_that_of_why(prestrike: Run) -> None:
    data = prestrike("compare", "-m", "3003-H14", "-t", "2 mm", *BOX, "--way", "brazing", "--json").json
    figure = data["ways"][0]["figures"]["margin"]
    alone = prestrike(*shlex.split(figure["trail"][-1])[1:], "--json").json["setting"]
    assert [figure[end] for end in ("low", "start", "high")] == [alone[end] for end in ("low", "start", "high")]


def test_anodised_colour_follows_the_filler(rulebook: Rulebook, units: UnitTable) -> None:
    """5356 white, 4043 grey, 4047 (BAlSi-4) grey to black: AWS A5.10 classes, distributor's table."""
    part = {"box": ["120 mm", "80 mm", "60 mm"]}
    plain = comparison(rulebook, units, "6061-T6", "3 mm", part)
    asked = comparison(rulebook, units, "6061-T6", "3 mm", part, service=["anodised-after"])
    assert "dark grey" in way(plain, "tig-plates").words["way_finish"][0].do
    assert "white" in way(asked, "tig-plates").words["way_finish"][0].do
    brazed = comparison(rulebook, units, "3003", "2 mm", part)
    assert "dark grey" in way(brazed, "brazing").words["way_finish"][0].do


def test_money_only_at_the_users_prices(prestrike: Run) -> None:
    """2 g of filler at 12 a kilogram is 0.024: by hand."""
    plain = prestrike("compare", "-m", "6061-T6", "-t", "3.2 mm", *BOX, "--way", "tig-folded", "--json").json
    priced = prestrike(
        "compare", "-m", "6061-T6", "-t", "3.2 mm", *BOX, "--way", "tig-folded", "--price-filler", "12 EUR/kg", "--json"
    ).json
    assert not [name for name in plain["ways"][0]["figures"] if name.startswith("cost")]
    figures = priced["ways"][0]["figures"]
    assert figures["cost_filler"]["start"] == pytest.approx(figures["filler"]["start"] * 12 / 1000, rel=2e-3)
    assert figures["cost_filler"]["unit"] == "EUR" and "cost_gas" not in figures


def test_every_figure_has_a_trail_and_every_refusal_a_way_out(rulebook: Rulebook, units: UnitTable) -> None:
    for metal in ("6061-T6", "3003-H14", "5052-H32", "A36", "304", "7075-T6"):
        answer = comparison(rulebook, units, metal, "2 mm", {"box": ["120 mm", "80 mm", "60 mm"]})
        for item in answer.ways:
            assert all(figure.trail for figure in item.figures.values())
            assert (item.status == "refused") == bool(item.refusals)
            assert all(refusal.instead for refusal in item.refusals)
            assert item.cautions or not item.way.seams


def test_all_refused_ends_with_4_and_no_part_is_bad_input(prestrike: Run) -> None:
    assert (
        prestrike("compare", "-m", "7075-T6", "-t", "3 mm", *BOX, "--way", "tig-plates", "--way", "brazing").code == 4
    )
    assert prestrike("compare", "-m", "6061-T6", "-t", "60 mm", *BOX).code == 3
    for bad in ((), ("--box", "1 mm, 2 mm"), (*BOX, "--way", "glue"), (*BOX, "--frame", "1 m, 1 m, 20 mm")):
        ran = prestrike("compare", "-m", "6061-T6", "-t", "3 mm", *bad)
        assert ran.code == 2 and "help:" in ran.err


def test_two_shapes_in_a_file_are_told_apart(rulebook: Rulebook, units: UnitTable) -> None:
    with pytest.raises(PrestrikeError, match="at once"):
        comparison(
            rulebook, units, "3003", "2 mm", {"box": ["1 m", "1 m", "1 m"], "bracket": ["60 mm", "40 mm", "50 mm"]}
        )


@given(st.permutations(["--metal 6061-T6", "--thickness 3mm", "--box 120mm,80mm,60mm", "--service leak-tight"]))
@settings(max_examples=3, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_order_of_flags_changes_nothing(prestrike: Run, order: list[str]) -> None:
    words = [word.replace("mm", " mm") for flag in order for word in flag.split()]
    assert prestrike("compare", *words).out == prestrike(
        "compare", "--box", "120 mm,80 mm,60 mm", "-m", "6061-T6", "-t", "3 mm", "--service", "leak-tight"
    ).out  # fmt: skip


@given(
    sides=st.tuples(*[st.floats(20, 900)] * 3),
    factor=st.floats(1.1, 3.0),
)
@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_folding_never_has_more_seam_than_plates_and_a_box_scales(
    rulebook: Rulebook, units: UnitTable, sides: tuple[float, float, float], factor: float
) -> None:
    from advisor.compare.methods import ways_of
    from advisor.job.job import Box

    base = JobBuilder(rulebook, units).build(
        {"members": [{"metal": "3003", "thickness": "2 mm"}], "joint": "corner-half-open"}
    )
    small = {item.name: item for item in ways_of(base._replace(part=Box(*sides)), "aluminium")}
    large = {
        item.name: item for item in ways_of(base._replace(part=Box(*(side * factor for side in sides))), "aluminium")
    }
    assert small["tig-folded"].length < small["tig-plates"].length
    assert small["tig-tube"].length < small["tig-plates"].length
    for name, item in small.items():
        assert large[name].length == pytest.approx(item.length * factor)


def test_no_likely_value_of_a_range_is_called_the_most(rulebook: Rulebook, units: UnitTable) -> None:
    """`At most` is false of a figure whose own range goes above it."""
    answer = comparison(rulebook, units, "6061", "3.2 mm", {"box": ["300 mm", "200 mm", "150 mm"]})
    figures = [figure for item in answer.ways for figure in item.figures.values()]
    assert any(figure.name == "shrinkage" and figure.high > figure.start for figure in figures)
    for figure in figures:
        if "at most" in f"{figure.label} {figure.note}":
            assert figure.high <= figure.start
