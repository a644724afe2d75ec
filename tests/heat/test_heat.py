"""`prestrike heat`: the pair, the box, the limits. The physics is held against outside solutions in tests/physics."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
TRAVEL = ("--travel", "2 mm/s")
WIDTHS = ("--half-width", "4 mm", "--arc-radius", "2 mm")
CONDITIONS = (*TRAVEL, *WIDTHS)


def heat(prestrike: Run, *arguments: str) -> Any:
    ran = prestrike("heat", *arguments, "--json")
    assert ran.err == ""
    return ran


def pair(prestrike: Run, first: str, second: str, *more: str, metal: str = "6061") -> dict[str, Any]:
    travel = () if "--travel" in more else TRAVEL
    members = ("--metal", metal, "--thickness", first, "--thickness", second)
    found: dict[str, Any] = heat(prestrike, *members, "--joint", "butt", *travel, *WIDTHS, *more).json["unequal"]
    return found


@pytest.mark.parametrize("travel", ["1.5 mm/s", "2 mm/s", "3 mm/s"])
def test_the_power_of_the_pair_is_the_mean_of_the_two_equal_pairs(prestrike: Run, travel: str) -> None:
    """Thin-plate conduction: the field of a pair is that of plates of the mean thickness (physics/heat_split.py)."""
    found = pair(prestrike, "3.2 mm", "6.4 mm", "--travel", travel)
    assert found["power"] == pytest.approx(sum(found["equal_pair_power"]) / 2, rel=0.02)
    assert found["half_width_aimed"] == pytest.approx([4.0, 4.0], abs=0.04)
    assert found["offset"] > 0
    assert found["thick_only_power"] > found["power"]


def test_equal_members_take_the_arc_on_the_line(prestrike: Run) -> None:
    assert abs(pair(prestrike, "3.2 mm", "3.2 mm")["offset"]) < 0.01


def test_mirror_and_units_change_nothing(prestrike: Run) -> None:
    one, other = pair(prestrike, "3.2 mm", "6.4 mm"), pair(prestrike, "6.4 mm", "3.2 mm")
    assert one["offset"] == pytest.approx(-other["offset"], abs=1e-3)
    assert one["half_width_centred"] == pytest.approx(other["half_width_centred"][::-1], abs=1e-3)
    metric, inch = pair(prestrike, "3.175 mm", "6.35 mm"), pair(prestrike, "1/8 in", "1/4 in")
    assert metric["offset"] == pytest.approx(inch["offset"], abs=1e-3)


def test_the_heavier_side_always_gets_more(prestrike: Run) -> None:
    offsets = [pair(prestrike, "2 mm", second)["offset"] for second in ("2.5 mm", "4 mm", "8 mm")]
    assert offsets == sorted(offsets) and offsets[0] > 0


def test_unlike_metals_with_their_own_solidus(prestrike: Run) -> None:
    found = heat(
        prestrike, "--metal", "A36", "--metal", "304", "--thickness", "3 mm", "--joint", "butt", *CONDITIONS
    ).json["unequal"]
    assert found["offset"] < 0, "mild steel leads heat better, so the arc sits on it"


def test_aluminium_to_steel_is_refused(prestrike: Run) -> None:
    ran = heat(prestrike, "--metal", "6061", "--metal", "A36", "--thickness", "3 mm", "--joint", "butt")
    assert ran.code == 4 and ran.json["unequal"] is None and ran.json["refusals"]


def test_beyond_the_physics_no_number_is_given(prestrike: Run) -> None:
    ran = heat(
        prestrike, "--metal", "6061", "--thickness", "3 mm", "--thickness", "9.5 mm", "--joint", "butt", "--half-width",
        "2 mm",
    )  # fmt: skip
    assert ran.json["unequal"] is None
    assert any("thickness over half width" in text for text in ran.json["missing"])


def test_a_thin_steel_joint_is_outside_method_b_and_says_so(prestrike: Run) -> None:
    """EN 1011-2 Method B holds from 10 mm up (validity recalled): at 3 mm no preheat may be printed."""
    ran = heat(prestrike, "--metal", "4130", "--thickness", "3 mm", "--joint", "butt")
    method_b = next(item for item in ran.json["steel"] if "Method B" in item["name"])
    assert method_b["value"] is None and "10" in method_b["text"]
    assert any(item["name"] == "hardness" for item in ran.json["steel"])


def box(prestrike: Run, *more: str) -> dict[str, Any]:
    arguments = ("--metal", "5052-H32", "--thickness", "3.2 mm", "--joint", "corner", "--box", "300 mm, 200 mm, 150 mm")
    found: dict[str, Any] = heat(prestrike, *arguments, *more).json["part"]
    return found


def test_a_box_seam_by_seam(prestrike: Run) -> None:
    found = box(prestrike)
    assert len(found["seams"]) == 8
    for seam in found["seams"]:
        assert seam["metal_before"] <= found["interpass_C"] + 0.5
        assert seam["why"]
    first, last = found["seams"][0], found["seams"][-1]
    assert last["currents"][1] < first["currents"][1], "a warm part never needs more current"
    low, middle, high = (found["hottest_at_end_C"][f"efficiency {value}"] for value in ("0.5", "0.65", "0.8"))
    assert low < middle < high


def test_the_setup_of_a_job_with_a_box_says_it_in_two_sentences(prestrike: Run) -> None:
    ran = prestrike("setup", "advisor/demo/coolant-tank.yaml", "--json")
    assert "Aim" in ran.json["unequal"]["message"] and "onto the 6.4 mm" in ran.json["unequal"]["message"]
    warm = ran.json["warm_part"]
    assert warm["last_current"] < warm["first_current"]
    own = heat(prestrike, "advisor/demo/coolant-tank.yaml").json
    assert own["unequal"]["offset"] == pytest.approx(ran.json["unequal"]["offset_mm"], abs=1e-3)


def test_pictures_are_written_or_refused(prestrike: Run, tmp_path: Path) -> None:
    arguments = ("heat", "--metal", "304", "--thickness", "2 mm", "--thickness", "4 mm", "--joint", "butt")
    for name in ("field.svg", "field.png"):
        ran = prestrike(*arguments, "--picture", str(tmp_path / name))
        assert ran.code == 0, ran.err
        assert (tmp_path / name).stat().st_size > 10_000
    ran = prestrike(*arguments, "--picture", str(tmp_path / "field.gif"))
    assert ran.code == 2 and "svg" in ran.err


@pytest.mark.parametrize("sides", ["300 mm, 200 mm", "300, 200, 150", "0 mm, 1 mm, 1 mm"])
def test_a_box_of_nonsense_is_one_error(prestrike: Run, sides: str) -> None:
    ran = prestrike("heat", "--metal", "5052", "--thickness", "3 mm", "--joint", "corner", "--box", sides)
    assert ran.code == 2 and "help:" in ran.err and "Traceback" not in ran.err


@pytest.mark.parametrize(("metal", "first"), [("5052", "middle"), ("304", "ends")])
def test_tacks_leave_no_space_wider_than_the_pitch(prestrike: Run, metal: str, first: str) -> None:
    """The turn is that of the cited pages: the middle and outwards (TWI), for stainless the ends first (ASSDA)."""
    found = heat(prestrike, "--metal", metal, "--thickness", "3.2 mm", "--joint", "butt", "--length", "500 mm").json
    plan = found["tacks"]
    places = [tack["place"] for tack in plan["tacks"]]
    assert places[0] == pytest.approx(plan["size_mm"] / 2, rel=0.01)
    assert places[-1] == pytest.approx(500 - plan["size_mm"] / 2, rel=0.01)
    gaps = [right - left for left, right in pairwise(places)]
    assert max(gaps) <= plan["pitch_mm"] * 1.001
    assert sorted(tack["turn"] for tack in plan["tacks"]) == list(range(1, len(places) + 1))
    ends = {plan["tacks"][0]["turn"], plan["tacks"][-1]["turn"]}
    assert ends == ({1, 2} if first == "ends" else {len(places) - 1, len(places)})


def test_the_machine_side(prestrike: Run) -> None:
    """Duty by the square rule from 200 A at 25 %: at 100 A it is 100 %, as the rule says (P9.1's rule)."""
    found = heat(prestrike, "advisor/demo/coolant-tank.yaml").json
    twice = heat(prestrike, "advisor/demo/coolant-tank.yaml", "--length", "600 mm").json["seam"]
    assert found["seam"]["length_mm"] == 300
    assert twice["seconds"] == pytest.approx(2 * found["seam"]["seconds"])
    assert twice["duty_percent"] == found["seam"]["duty_percent"]
    ways = {way["way"]: way for way in found["reach"]}
    assert set(ways) == {"preheat", "helium", "bevel"}
    current = prestrike("setup", "advisor/demo/coolant-tank.yaml", "--json").json["settings"]["current"]["start"]
    assert all(way["current"] < current for way in ways.values())
