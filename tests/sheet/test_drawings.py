"""Every distance drawn is the number of the JSON answer, measured on the SVG itself: once between the ends of its
dimension line, and once on the polygons of plates, weld, torch and tacks."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from tests.sheet.conftest import Made
from tests.sheet.jobs import FILES, JOBS

Polygon = list[tuple[float, float]]
ADVISED = [name for name in (*JOBS, *FILES) if name not in ("refused", "no-rule")]


class Svg:
    """One drawing of a page, in millimetres."""

    def __init__(self, page: str, name: str) -> None:
        found = re.search(rf'<svg[^>]*data-drawing="{name}".*?</svg>', page, re.DOTALL)
        assert found is not None, name
        self.text = found[0]
        self.scale = float(re.search(r'data-scale="([^"]+)"', self.text)[1])  # type: ignore[index]

    def dimensions(self) -> dict[str, float]:
        """name -> distance between the two ends as drawn [mm]."""
        ends = (
            r'data-name="(\w+)" data-mm="[^"]+" data-x1="([^"]+)" data-y1="([^"]+)" data-x2="([^"]+)" data-y2="([^"]+)"'
        )
        return {
            name: math.dist((float(x1), float(y1)), (float(x2), float(y2))) / self.scale
            for name, x1, y1, x2, y2 in re.findall(ends, self.text)
        }

    def part(self, name: str) -> list[Polygon]:
        """The polygons of a part [mm]."""
        return [
            [(float(x) / self.scale, -float(y) / self.scale) for x, y in (p.split(",") for p in points.split())]
            for points in re.findall(rf'data-part="{name}"[^>]* points="([^"]+)"', self.text)
        ]


def numbers(made: Made) -> dict[str, float]:
    """All numbers of the JSON answer by name."""
    given = {name: item["start"] for name, item in made.advice["preparation"]["numbers"].items()}
    given |= {name: item["start"] for name, item in made.advice["settings"].items()}
    members = made.advice["job"]["members"]
    given["thickness_1"], given["thickness_2"] = members[0]["thickness_mm"], members[-1]["thickness_mm"]
    given["cover"] = given["thickness_2"] / 2
    unequal = made.advice["unequal"] or {}
    given["aim_offset"] = abs(unequal.get("offset_mm", 0.0))
    return given


def close(value: float, wanted: float) -> bool:
    """As near as four figures of JSON and three decimals of a drawing unit."""
    return math.isclose(value, wanted, rel_tol=1e-3, abs_tol=0.002)


@pytest.mark.parametrize("name", ADVISED)
def test_every_dimension_is_the_number_of_the_answer(sheets: dict[str, Made], name: str) -> None:
    given = numbers(sheets[name])
    for drawing in ("edges", "aim", "side"):
        for dimension, value in Svg(sheets[name].html, drawing).dimensions().items():
            assert close(value, given[dimension]), f"{drawing} {dimension}: {value} is not {given[dimension]}"


def spread(points: Polygon, axis: int) -> float:
    return max(p[axis] for p in points) - min(p[axis] for p in points)


# joint -> the axis across which each member's thickness lies (0: left to right, 1: up).
ACROSS: dict[str, tuple[int, int]] = {
    "butt": (1, 1),
    "tee": (0, 1),
    "lap": (1, 1),
    "corner-open": (1, 0),
    "corner-half-open": (1, 0),
    "corner-closed": (1, 0),
    "corner-inside": (0, 1),
    "edge": (0, 0),
}


@pytest.mark.parametrize("name", ADVISED)
def test_plates_are_as_thick_as_the_members(sheets: dict[str, Made], name: str) -> None:
    made = sheets[name]
    svg, joint = Svg(made.html, "edges"), made.advice["job"]["joint"]
    first, second = svg.part("member 1")[0], svg.part("member 2")[0]
    given = numbers(made)
    assert close(spread(first, ACROSS[joint][0]), given["thickness_1"])
    assert close(spread(second, ACROSS[joint][1]), given["thickness_2"])


def gap(first: Polygon, second: Polygon, axis: int) -> float:
    """The room between two plates along an axis."""
    low = max(min(p[axis] for p in first), min(p[axis] for p in second))
    high = min(max(p[axis] for p in first), max(p[axis] for p in second))
    return low - high


@pytest.mark.parametrize("name", ADVISED)
def test_the_gap_is_the_room_between_the_plates(sheets: dict[str, Made], name: str) -> None:
    made = sheets[name]
    joint, given = made.advice["job"]["joint"], numbers(made)
    svg = Svg(made.html, "edges")
    axis = 0 if joint in ("butt", "edge") else 1
    assert close(gap(svg.part("member 1")[0], svg.part("member 2")[0], axis), given["root_gap"])


def test_the_v_has_the_angle_and_the_root_face_of_the_answer(sheets: dict[str, Made]) -> None:
    made = sheets["butt-steel-v"]
    given, plate = numbers(made), Svg(made.html, "edges").part("member 1")[0]
    by_height = sorted((p for p in plate if p[0] > min(q[0] for q in plate) + 1), key=lambda p: p[1])
    root, land, top = by_height
    assert close(land[1] - root[1], given["root_face"])
    flank = math.degrees(math.atan2(land[0] - top[0], top[1] - land[1]))
    assert abs(2 * flank - given["groove_angle"]) < 0.1


def test_a_bevelled_upright_has_the_angle_and_the_root_face_of_the_answer(sheets: dict[str, Made]) -> None:
    made = sheets["tee-bevel"]
    given, upright = numbers(made), Svg(made.html, "edges").part("member 1")[0]
    right = max(p[0] for p in upright)
    by_height = sorted(upright, key=lambda p: p[1])
    heel, toe = sorted(by_height[:2])
    shoulder = min((p for p in upright if close(p[0], right)), key=lambda p: p[1])
    assert close(toe[0] - heel[0], given["root_face"])
    bevel = math.degrees(math.atan2(shoulder[1] - toe[1], shoulder[0] - toe[0]))
    assert abs(bevel - given["groove_angle"]) < 0.1


@pytest.mark.parametrize("name", ["tee-tank", "lap", "lap-inches", "corner-inside"])
def test_the_fillet_has_two_legs_of_the_answer(sheets: dict[str, Made], name: str) -> None:
    (weld,) = Svg(sheets[name].html, "edges").part("fillet to come")
    leg = numbers(sheets[name])["fillet_leg"]
    assert close(spread(weld, 0), leg)
    assert close(spread(weld, 1), leg)


def test_the_lap_covers_what_the_answer_says(sheets: dict[str, Made]) -> None:
    svg = Svg(sheets["lap"].html, "edges")
    upper, lower = svg.part("member 1")[0], svg.part("member 2")[0]
    covered = min(max(p[0] for p in upper), max(p[0] for p in lower)) - max(
        min(p[0] for p in upper), min(p[0] for p in lower)
    )
    assert close(covered, numbers(sheets["lap"])["overlap"])


@pytest.mark.parametrize("name", ADVISED)
def test_the_torch_stands_where_the_answer_aims(sheets: dict[str, Made], name: str) -> None:
    made = sheets[name]
    given, svg = numbers(made), Svg(made.html, "aim")
    (arc,) = svg.part("arc")
    assert close(math.dist(*arc), given["arc_length"])
    side = Svg(made.html, "side")
    (tungsten,) = side.part("tungsten")
    axis = side.part("torch axis")[0]
    lean = math.degrees(math.atan2(axis[0][0] - axis[1][0], axis[1][1] - axis[0][1]))
    assert abs(lean - given["torch_tilt"]) < 0.05
    assert close(math.dist(tungsten[0], tungsten[1]), given["tungsten_diameter"])
    left, right = side.part("nozzle")
    bore = min(math.dist(p, q) for p in left for q in right)
    assert close(bore, given["nozzle_bore"])


@pytest.mark.parametrize("name", ["tee-tank", "butt-stainless", "corner-closed"])
def test_tacks_lie_where_the_plan_puts_them(sheets: dict[str, Made], name: str) -> None:
    made = sheets[name]
    svg, plan = Svg(made.html, "seam"), made.heat["tacks"]
    for turn, tack in sorted((tack["turn"], tack) for tack in plan["tacks"]):
        (block,) = svg.part(f"tack {turn}")
        assert close((max(p[0] for p in block) + min(p[0] for p in block)) / 2, tack["place"])
        assert close(spread(block, 0), plan["size_mm"])


def test_words_in_a_drawing_say_what_is_drawn(sheets: dict[str, Made]) -> None:
    svg = Svg(sheets["tee-tank"].html, "edges").text
    given = numbers(sheets["tee-tank"])
    assert f"leg {given['fillet_leg']:.2g} mm" in svg
    assert f"{given['thickness_2']:.2g} mm" in svg


def test_the_current_curve_marks_the_job_and_numbers_every_source(sheets: dict[str, Made]) -> None:
    made = sheets["corner-inside"]
    page, current = made.html, made.advice["settings"]["current"]
    assert f"this job {current['start']:.0f} A" in page
    listed: list[dict[str, Any]] = made.data["curves"][0]["sources"]
    spoke = {item["source"] for item in current["spread"]["sources"]}
    assert spoke <= {item["source"] for item in listed}
    drawn = re.search(r'<svg class="curve".*?</svg>', page, re.DOTALL)
    assert drawn is not None
    for item in listed:
        assert re.search(rf">{item['number']}</text>", drawn[0])
