"""The cut list: a virtual part is put together from the pieces and measured; allowances; bad input."""

from __future__ import annotations

import importlib.util
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.blanks import tolerances
from advisor.blanks.answer import Blanks, CutRequest, blanks
from advisor.blanks.pieces import Corner, Extra, Piece, box_pieces, bracket_pieces, frame_pieces
from advisor.blanks.plan import PartPlan, corners_of, joint_of
from advisor.diagnostics import PrestrikeError
from advisor.job.job import Job
from advisor.job.reader import JobBuilder
from advisor.physics.nesting import Stock
from advisor.rulebook.library import Rulebook
from advisor.units.quantities import UnitTable

_spec = importlib.util.spec_from_file_location("virtual_part", Path(__file__).with_name("virtual_part.py"))
assert _spec is not None and _spec.loader is not None
v = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(v)

Run = Callable[..., Any]
STYLES = ("closed", "half-open", "open", "mitre")
# Share of the square corner, thickness by thickness, that is left for weld metal (geometry).
VOID = {"closed": 0.0, "half-open": 0.5, "open": 1.0, "mitre": 0.0}

corner = st.sampled_from(STYLES)
CORNERS = st.fixed_dictionaries({
    "floor": st.builds(Corner, corner, st.sampled_from(("floor", "walls"))),
    "uprights": st.builds(Corner, corner, st.sampled_from(("front", "sides", "around"))),
    "lid": st.builds(Corner, corner, st.sampled_from(("lid", "walls"))),
})  # fmt: skip
SIZE = st.floats(30.0, 900.0)


def side(piece: Piece, across: bool, turned: bool = False) -> Any:
    """A piece in section, along its length or its width."""
    ends = piece.across if across else piece.along
    first, last = (ends[1], ends[0]) if turned else ends
    return v.Side(piece.net[1 if across else 0], piece.thickness, first.kind, last.kind)


def sections(pieces: tuple[Piece, ...], inside: tuple[float, float, float], open_top: bool) -> list[Any]:
    """Plan, and the two upright sections: (polygons, width, height, style places of their corners)."""
    named = {piece.name: piece for piece in pieces}
    front, sides, floor = named["front and back"], named["sides"], named["floor"]
    length, width, height = inside
    plan = v.ring([side(front, False, True), side(sides, False, True)] * 2, length, width)
    found = [(plan, length, width, ["uprights"] * 4)]
    for wall, along, across in ((sides, length, False), (front, width, True)):
        up = side(wall, True)
        down = v.Side(up.length, up.thickness, up.last, up.first)
        lid = side(named["lid"], across) if not open_top else None
        if lid is None:
            polygons = v.ring([side(floor, across), up, up, up], along, height)[:2]
            # The other wall is its mirror image.
            polygons.append([(along - x, y) for x, y in reversed(polygons[1])])
            found.append((polygons, along, height, ["floor", "floor"]))
        else:
            polygons = v.ring([side(floor, across), up, lid, down], along, height)
            found.append((polygons, along, height, ["floor", "floor", "lid", "lid"]))
    return found


@settings(max_examples=60, deadline=None)
@given(SIZE, SIZE, SIZE, st.floats(0.8, 9.5), CORNERS, st.booleans())
def test_the_virtual_box_has_the_finished_size_to_a_tenth(
    length: float, width: float, height: float, thick: float, corners: dict[str, Corner], open_top: bool
) -> None:
    inside = (length, width, height)
    pieces = box_pieces(inside, thick, corners, open_top)
    for polygons, wide, high, places in sections(pieces, inside, open_top):
        shared = sum(v.overlap(a, b) for i, a in enumerate(polygons) for b in polygons[:i])
        assert shared < 1e-6 * thick, "two pieces want the same place"
        low_x, low_y, high_x, high_y = v.extent(polygons)
        top = high if open_top and len(places) == 2 else high + thick
        assert (low_x, low_y) == pytest.approx((-thick, -thick), abs=0.05)
        assert (high_x, high_y) == pytest.approx((wide + thick, top), abs=0.05)
        for near in (0.02, 0.5 * high, high - 0.02):
            right = v.free_way(polygons, (0.5 * wide, near), (1.0, 0.0), wide)
            left = v.free_way(polygons, (0.5 * wide, near), (-1.0, 0.0), wide)
            assert right + left == pytest.approx(wide, abs=0.1)
        for near in (0.02, 0.5 * wide, wide - 0.02):
            down = v.free_way(polygons, (near, 0.5 * high), (0.0, -1.0), high)
            assert down == pytest.approx(0.5 * high, abs=0.05)
        corner_squares = [
            [(-thick, -thick), (0.0, -thick), (0.0, 0.0), (-thick, 0.0)],
            [(wide, -thick), (wide + thick, -thick), (wide + thick, 0.0), (wide, 0.0)],
            [(wide, high), (wide + thick, high), (wide + thick, high + thick), (wide, high + thick)],
            [(-thick, high), (0.0, high), (0.0, high + thick), (-thick, high + thick)],
        ]
        for square, place in zip(corner_squares, places, strict=False):
            filled = sum(v.overlap(polygon, square) for polygon in polygons)
            assert 1 - filled / thick**2 == pytest.approx(VOID[corners[place].style], abs=1e-6)


def test_the_measuring_would_see_a_wrong_piece() -> None:
    """The check itself: a side half a millimetre long, or short, does not go unseen."""
    corners = {
        place: Corner("closed", run) for place, run in (("floor", "floor"), ("uprights", "front"), ("lid", "lid"))
    }
    pieces = box_pieces((300.0, 200.0, 100.0), 3.0, corners, True)
    for wrong in (0.5, -0.5):
        spoiled = tuple(
            piece._replace(inside=(piece.inside[0] + wrong, piece.inside[1])) if piece.name == "sides" else piece
            for piece in pieces
        )
        polygons = sections(spoiled, (300.0, 200.0, 100.0), True)[0][0]
        shared = sum(v.overlap(a, b) for i, a in enumerate(polygons) for b in polygons[:i])
        filled = sum(v.overlap(p, [(-3.0, 200.0), (0.0, 200.0), (0.0, 203.0), (-3.0, 203.0)]) for p in polygons)
        hole = v.free_way(polygons, (150.0, 199.9), (1.0, 0.0), 300.0) + v.free_way(
            polygons, (150.0, 199.9), (-1.0, 0.0), 300.0
        )
        low = v.extent(polygons)
        seen = shared > 0.1 or filled < 8.9 or abs(hole - 300.0) > 0.1 or low != (-3.0, -3.0, 303.0, 203.0)
        assert seen


@given(SIZE, SIZE, SIZE, st.floats(0.8, 9.5))
def test_calipers_on_a_closed_box(length: float, width: float, height: float, thick: float) -> None:
    """Front and back run through, the floor under all: what a person would measure on the pieces alone."""
    plan = {"floor": Corner("closed", "floor"), "uprights": Corner("closed", "front"), "lid": Corner("closed", "lid")}
    floor, front, sides, lid = box_pieces((length, width, height), thick, plan, False)
    assert sides.net[0] == pytest.approx(width), "the sides stand between front and back"
    assert front.net[0] - 2 * thick == pytest.approx(length)
    assert front.net[1] == sides.net[1] == pytest.approx(height)
    assert floor.net == lid.net == pytest.approx((length + 2 * thick, width + 2 * thick))


@given(st.floats(150.0, 2000.0), st.floats(150.0, 2000.0), st.floats(10.0, 60.0))
def test_flat_frames_fill_their_outline(long: float, short: float, bar: float) -> None:
    """Area of the bars against that of the ring; a mitred bar is a trapezium."""
    ring = long * short - (long - 2 * bar) * (short - 2 * bar)
    for style, runs in (("mitre", "long"), ("closed", "long"), ("closed", "short"), ("closed", "around")):
        pieces = frame_pieces((long, short), bar, Corner(style, runs))
        off = bar if style == "mitre" else 0.0
        assert sum(piece.number * (piece.net[0] - off) * bar for piece in pieces) == pytest.approx(ring)
    lap = frame_pieces((long, short), bar, Corner("lap", "long"))
    assert [piece.net[0] for piece in lap] == pytest.approx([long, short])


@given(st.floats(150.0, 2000.0), st.floats(150.0, 2000.0), st.floats(150.0, 2000.0), st.floats(10.0, 60.0))
def test_stands_fill_the_edges_of_their_cuboid(long: float, short: float, high: float, bar: float) -> None:
    """Twelve square bars along the edges share eight corner cubes: 4 w2 (a + b + c) - 16 w3."""
    volume = 4 * bar**2 * (long + short + high) - 16 * bar**3
    for style, runs in (
        ("closed", "long"),
        ("closed", "short"),
        ("closed", "around"),
        ("closed", "posts"),
        ("mitre", "long"),
    ):
        pieces = frame_pieces((long, short, high), bar, Corner(style, runs))
        off = {piece.name: bar if "45° mitre" in {end.kind for end in piece.along} else 0.0 for piece in pieces}
        made = sum(piece.number * (piece.net[0] - off[piece.name]) * bar**2 for piece in pieces)
        assert made == pytest.approx(volume)


@pytest.mark.parametrize(("style", "runs", "sizes"), [
    ("closed", "base", (100.0, 77.0)), ("closed", "upright", (97.0, 80.0)), ("half-open", "base", (98.5, 77.0)),
    ("open", "base", (97.0, 77.0)), ("mitre", "base", (100.0, 80.0)),
])  # fmt: skip
def test_brackets_by_hand(style: str, runs: str, sizes: tuple[float, float]) -> None:
    """100 x 80 mm outside of 3 mm plate."""
    pieces = bracket_pieces((100.0, 80.0), 40.0, 3.0, Corner(style, runs))
    assert tuple(piece.net[0] for piece in pieces) == pytest.approx(sizes)


@pytest.fixture
def make(rulebook: Rulebook, units: UnitTable) -> Callable[..., Blanks]:
    def made(metal: str = "A36", thickness: str = "3 mm", **more: Any) -> Blanks:
        job: Job = JobBuilder(rulebook, units).build(
            {"members": [{"metal": metal, "thickness": thickness}], "joint": more.pop("joint", "corner-closed"),
             "service": more.pop("service", "ordinary")}
        )  # fmt: skip
        kind, sizes = more.pop("kind", "box"), more.pop("sizes", (300.0, 200.0, 150.0))
        corners = corners_of(kind, more.pop("corner", ()), more.pop("through", ()), more.pop("style", "closed"))
        plan = PartPlan(kind, sizes, more.pop("measure", "inside"), corners, more.pop("open_top", True), 40.0)
        return blanks(rulebook, job, plan, CutRequest(**more))

    return made


def test_outside_measure_skim_and_rim(make: Callable[..., Blanks]) -> None:
    """Welded, then 1 mm skimmed off every outside face and the rim: the finished outside size comes out."""
    found = make(measure="outside", skim=1.0, shrink=0.0)
    floor, front, sides = found.pieces
    assert floor.cut[0] - 2 * 1.0 == pytest.approx(300.0), "the floor runs under all, to the outside faces"
    assert sides.cut[0] + 2 * 3.0 - 2 * 1.0 == pytest.approx(200.0)
    assert front.cut[1] + 3.0 - 2 * 1.0 == pytest.approx(150.0), "rim and bottom are skimmed"


def test_trim_stands_proud_on_what_runs_through_only(make: Callable[..., Blanks]) -> None:
    plain, proud = make(shrink=0.0), make(shrink=0.0, trim=0.5)
    grown = [(b.cut[0] - a.cut[0], b.cut[1] - a.cut[1]) for a, b in zip(plain.pieces, proud.pieces, strict=True)]
    assert grown == [pytest.approx((1.0, 1.0)), pytest.approx((1.0, 0.0)), pytest.approx((0.0, 0.0))]


def test_machined_after_leaves_what_the_rule_says(make: Callable[..., Blanks]) -> None:
    found = make(service="machined-after")
    stock = found.advice.preparation["machining_stock"]
    assert stock.low <= found.skim <= stock.high and make().skim == 0.0
    bare = make(shrink=0.0, service="machined-after")
    assert bare.pieces[0].cut == pytest.approx((306.0, 206.0)), "on the rim only: a sheet wall has none to lose"
    assert bare.pieces[1].cut[1] == pytest.approx(150.0 + bare.skim)


def test_a_measured_shrinkage_is_added_once_a_seam(make: Callable[..., Blanks]) -> None:
    plain, added = make(shrink=0.0), make(shrink=0.4)
    assert plain.assembled == pytest.approx((300.0, 200.0, 150.0))
    assert added.assembled == pytest.approx((300.8, 200.8, 150.4)), "an open box crosses two seams, and one in height"


def test_steel_gets_printed_shrinkage_and_aluminium_a_bound_only(make: Callable[..., Blanks]) -> None:
    steel, light = make("A36"), make("5052")
    assert steel.shrink is not None and steel.shrink.sure and steel.outs[0].allow > 0
    assert light.shrink is not None and not light.shrink.sure
    assert light.outs[0].allow == 0 and light.outs[0].shrinks[1] > 0
    assert "no figure per weld" in light.shrink.because


def test_a_steel_fillet_lies_between_handbook_and_twi(make: Callable[..., Blanks]) -> None:
    """AWS handbook: 1.02 mm leg/t for two fillets (C6.2: leg 4 on 5 mm, 0.816 mm); TWI: 0.8 mm a fillet."""
    found = make("A36", "6 mm", joint="corner-inside")
    assert found.shrink is not None
    low, high = found.shrink.across
    leg = found.advice.preparation["fillet_leg"]
    assert low == pytest.approx(min(0.8, 1.02 * leg.low / 6)) and high <= 1.02 + 1e-9
    assert found.shrink.lean is not None


def test_nesting_of_the_cut_list_with_two_stock_lengths(make: Callable[..., Blanks]) -> None:
    found = make(shrink=0.0, kerf=2.0, stocks=(Stock(0.7, 1), Stock(2.0)))
    for strip in found.strips:
        assert strip.nest is not None and strip.nest.over < 0.02
        cut = sum(len(plan.pieces) * plan.bars for plan in strip.nest.plans)
        assert cut == sum(number for *_, number in strip.pieces)
    assert sum(number for strip in found.strips for *_, number in strip.pieces) == 5


def test_general_tolerances_as_printed() -> None:
    """ISO 2768-1 class m and ISO 13920 class A, read in copies."""
    assert [tolerances.of(tolerances.CUT, size) for size in (3.0, 30.0, 100.0, 400.0, 401.0, 2000.0)] == [
        0.1, 0.2, 0.3, 0.5, 0.8, 1.2,
    ]  # fmt: skip
    assert [tolerances.of(tolerances.WELDED["A"], size) for size in (100.0, 400.0, 500.0)] == [1.0, 1.0, 2.0]
    assert tolerances.of(tolerances.CUT, 1e5) is None
    found = tolerances.square(400.0)
    assert found is not None
    # 20 and 45 minutes of arc, which the standard rounds to 6 and 13 mm in a metre.
    assert (found.fine, found.usual) == (2.4, 5.2)
    assert found.fine == pytest.approx(400 * math.tan(math.radians(20 / 60)), rel=0.05)


def test_every_style_has_a_joint_to_ask_advice_for(rulebook: Rulebook, units: UnitTable) -> None:
    job = JobBuilder(rulebook, units).build({"members": [{"metal": "304", "thickness": "2 mm"}], "joint": "lap"})
    for style in STYLES:
        plan = PartPlan("box", (1.0, 1.0, 1.0), "inside", corners_of("box", (style,), (), "open"))
        assert joint_of(plan, job).joint.startswith("corner-")


def test_extra_metal_is_never_in_the_net_size() -> None:
    plan = {"floor": Corner("closed", "floor"), "uprights": Corner("closed", "front"), "lid": Corner("closed", "lid")}
    plain = box_pieces((300.0, 200.0, 100.0), 3.0, plan, True)
    more = box_pieces((300.0, 200.0, 100.0), 3.0, plan, True, Extra(0.5, 1.0))
    assert [piece.net for piece in plain] == [piece.net for piece in more]
    assert more[1].cut == pytest.approx((307.0, 101.0))


def test_a_root_gap_shortens_what_butts_and_mitres_not_what_runs_through() -> None:
    """2 mm gaps in a frame of 40 mm bar, 600 x 400: two beside a butting bar; a mitre loses g/sqrt(2)."""
    extra = Extra(gap=2.0)
    butted = frame_pieces((600.0, 400.0), 40.0, Corner("closed", "long"), extra)
    assert [piece.net[0] for piece in butted] == pytest.approx([600.0, 400.0 - 80.0 - 4.0])
    mitred = frame_pieces((600.0, 400.0), 40.0, Corner("mitre", "long"), extra)
    # The bevelled face stands back half a gap, square to itself: 1 mm at 45 degrees is 1.414 mm along the bar.
    assert [piece.net[0] for piece in mitred] == pytest.approx([600.0 - 2 * 1.41421, 400.0 - 2 * 1.41421])


@pytest.mark.parametrize(
    ("more", "code", "said"),
    [
        (("--box", "300 mm, 200 mm"), 2, "3 sizes"),
        (("--box", "300 mm, 200 mm, 0 mm"), 2, "zero"),
        (("--box", "3 mm, 200 mm, 90 mm", "--outside"), 2, "no room"),
        (("--box", "300, 200, 150 mm", "--stock", "250 mm"), 2, "short by 53.2 mm"),
        (("--box", "300, 200, 150 mm", "--stock", "1 x 600 mm"), 2, "short by at least"),
        (("--box", "300, 200, 150 mm", "--corner", "flor=open"), 2, "'floor'"),
        (("--box", "300, 200, 150 mm", "--through", "roof"), 2, "cannot run through"),
        (("--frame", "300 x 200 mm"), 2, "--section"),
        (("--box", "300 x 200 x 150 mm", "--skim", "4 mm"), 2, "takes a wall"),
        ((), 2, "no part is named"),
        (("--box", "300 x 200 x 150 mm", "--thickness", "60 mm"), 3, "floor"),
    ],
)
def test_bad_input_says_what_and_how(prestrike: Run, more: tuple[str, ...], code: int, said: str) -> None:
    thick = () if "--thickness" in more else ("--thickness", "3.2 mm")
    ran = prestrike("blanks", "--metal", "5052", *thick, *more)
    assert ran.code == code and said in ran.err + ran.out and "Traceback" not in ran.err


def test_the_tank_of_the_demo_in_json(prestrike: Run) -> None:
    ran = prestrike("blanks", "advisor/demo/coolant-tank.yaml", "--stock", "2 m", "--json")
    assert ran.code == 0, ran.err
    found = ran.json
    assert found["part"]["sizes_mm"] == [300, 200, 150] and found["skim_mm"] > 0
    assert {piece["name"]: piece["number"] for piece in found["pieces"]} == {
        "floor": 1,
        "front and back": 2,
        "sides": 2,
    }
    assert all(strip["above_least"] <= 0.02 for strip in found["strips"])


def test_corners_said_place_by_place() -> None:
    found = corners_of("box", ("closed", "lid=open"), ("floor=walls", "around"), "half-open")
    assert found == {
        "floor": Corner("closed", "walls"), "uprights": Corner("closed", "around"), "lid": Corner("open", "lid"),
    }  # fmt: skip
    with pytest.raises(PrestrikeError):
        corners_of("frame", ("half-open",), (), "mitre")
