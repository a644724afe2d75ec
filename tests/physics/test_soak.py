"""The part in time: against a fine explicit solution, the first law, lumped cooling, and laws of order."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from advisor.physics.buildup_part import ChillBar, HeatedPart, Plate, PlateLine, SeamLine, box
from advisor.physics.heat_buildup import History, Run, default_cell, follow, tapered
from advisor.physics.heat_split import PlateMember
from advisor.physics.moving_source import Arc, HeatedSeam, peak_rise
from advisor.physics.ranges import PhysicsRangeError
from tests.physics.fine_box import FineBox, Metal, fine_pair_peaks
from tests.physics.oracles import lumped

ALUMINIUM = Plate("any", 0.1, 0.1, 3e-3, 167.0, 2.42e6, 582.0, 10.0, 0.2, 1.0)
STEEL = Plate("any", 0.1, 0.1, 3e-3, 41.0, 4.5e6, 1480.0, 10.0, 0.8, 1.0)
SMALL = (0.08, 0.06, 0.04)


def pair(like: Plate, length: float, width: float, contact: float = 1.0) -> HeatedPart:
    """Two plates in one plane, joined along their long edges."""
    one = replace(like, name="one", length=length, width=width)
    line = (0.0, 0.0), (length, 0.0)
    return HeatedPart(
        (one, replace(one, name="two")), (SeamLine("seam", PlateLine(0, *line), PlateLine(1, *line), contact),)
    )


def stored(part: HeatedPart, history: History) -> float:
    """Heat in the part above 20 degC at the end [J]."""
    return float(sum(p.capacity * (t - 20.0) for p, t in zip(part.plates, history.mean_c[-1], strict=True)))


@pytest.mark.parametrize(("like", "power", "travel", "h"), [(ALUMINIUM, 450.0, 4e-3, 4e-3), (STEEL, 350.0, 2e-3, 2e-3)])
def test_a_small_box_against_a_fine_transient(like: Plate, power: float, travel: float, h: float) -> None:
    """Explicit finite volumes on the same box, written apart. Asked: 10 %; held: 1 % at the end of every pause."""
    part = box(SMALL, like)
    metal = Metal(like.conductivity, like.heat_capacity, like.thickness, 10.0, like.emissivity, 1.0)
    fine = FineBox(SMALL, h, metal)
    runs = tuple(Run(seam.name, power, travel, pause=15.0 if n else 0.0) for n, seam in enumerate(part.seams[:5]))
    history = follow(part, runs, taper=False, after=15.0)
    ends = [record.begins for record in history.runs[1:]] + [float(history.times[-1])]
    for run, end in zip(runs, ends, strict=True):
        one, other = run.seam.split("-")
        fine.weld(one, other, power, travel)
        fine.advance(15.0)
        for number, (name, mean) in enumerate(
            (plate.name, np.interp(end, history.times, history.mean_c[:, n])) for n, plate in enumerate(part.plates)
        ):
            assert mean - 20.0 == pytest.approx(fine.means()[name] - 20.0, rel=0.01, abs=0.5), (run.seam, number)


@pytest.mark.parametrize(
    ("like", "power", "travel", "h", "line", "size"),
    [
        (ALUMINIUM, 600.0, 4e-3, 2e-3, 7e-3, (0.16, 0.08)),
        (STEEL, 500.0, 3e-3, 1e-3, 4.5e-3, (0.1, 0.04)),
    ],
)
def test_local_temperature_makes_the_steady_pool_right(
    like: Plate, power: float, travel: float, h: float, line: float, size: tuple[float, float]
) -> None:
    """Fine transient: the peak beside the seam is the steady rise on metal at the local temperature, within 6 %."""
    cold = replace(like, convection=0.0, emissivity=0.0)
    metal = Metal(like.conductivity, like.heat_capacity, like.thickness, 0.0, 0.0, 0.0)
    x, peak = fine_pair_peaks(size, h, metal, power, travel, 2e-3, line)
    member = PlateMember(like.thickness, like.conductivity, like.heat_capacity, like.solidus_c)
    steady = peak_rise(HeatedSeam(member, member, Arc(travel, 2e-3)), power, line)
    record = follow(pair(cold, *size), (Run("seam", power, travel),), taper=False).runs[0]
    for share in (0.5, 0.75, 0.9):
        here = float(np.interp(share * size[0], x, peak))
        assert steady + record.at(share)[0] == pytest.approx(here, rel=0.06)


def test_heat_is_kept_where_nothing_is_lost() -> None:
    """First law, no losses: what the arc gave is in the part."""
    part = box(SMALL, replace(ALUMINIUM, convection=0.0, emissivity=0.0))
    runs = tuple(Run(seam.name, 400.0, 4e-3, pause=5.0) for seam in part.seams[:4])
    history = follow(part, runs, taper=False)
    given_heat = sum(400.0 * (record.ends - record.begins) for record in history.runs)
    assert stored(part, history) == pytest.approx(given_heat, rel=1e-9)


def test_a_plate_left_alone_cools_as_one_lump() -> None:
    """C5.5 golden, and Newton with Stefan: 300 to 60 degC; the thin edges are left out of the area here."""
    plate = replace(
        ALUMINIUM, conductivity=167.0, heat_capacity=2700.0 * 896.0, emissivity=0.1, faces=2.0, start_c=300.0
    )
    lump = lumped.Lump(plate.capacity, 0.02, 10.0, 0.1)
    seconds = lumped.cooling_time(lump, 300.0, 60.0)
    history = follow(HeatedPart((plate,), ()), (), after=seconds)
    assert history.mean_c[-1][0] == pytest.approx(60.0, abs=0.3)
    assert seconds == pytest.approx(601.59 * 0.0212 / 0.02, rel=1e-4)


def test_a_cold_wide_plate_needs_no_taper_but_a_small_box_does() -> None:
    wide = follow(pair(STEEL, 0.3, 0.2), (Run("seam", 500.0, 3e-3),))
    assert wide.runs[0].at(0.5)[1] == pytest.approx(500.0, rel=0.01)
    part = box((0.15, 0.1, 0.08), ALUMINIUM)
    small = follow(part, tuple(Run(seam.name, 900.0, 2.5e-3, pause=10.0) for seam in part.seams))
    starts = [record.steps[0] for record in small.runs]
    assert starts[0] == pytest.approx((20.0, 900.0))
    assert starts[-1][0] > 200.0 and starts[-1][1] < 650.0
    for record in small.runs:
        for local, power in zip(record.local_c, record.power, strict=True):
            assert power == pytest.approx(900.0 * max(0.0, (582.0 - local) / 562.0))


def test_twice_as_fine_cells_change_little() -> None:
    part = box((0.12, 0.08, 0.06), ALUMINIUM)
    runs = tuple(Run(seam.name, 700.0, 3e-3, pause=10.0) for seam in part.seams)
    coarse, fine = (follow(part, runs, cell=cell) for cell in (10e-3, 5e-3))
    assert coarse.mean_c[-1] == pytest.approx(fine.mean_c[-1], rel=0.03)
    for one, other in zip(coarse.runs, fine.runs, strict=True):
        assert one.at(0.0)[1] == pytest.approx(other.at(0.0)[1], rel=0.05)
        assert one.at(0.5)[1] == pytest.approx(other.at(0.5)[1], rel=0.05)


def quick(pause: float, start_c: float = 20.0, taper: bool = False, power: float = 300.0) -> History:
    """Three seams of a small box in few cells."""
    part = box(SMALL, replace(ALUMINIUM, start_c=start_c))
    runs = tuple(Run(seam.name, power, 4e-3, pause=pause) for seam in part.seams[:3])
    return follow(part, runs, taper=taper, cell=10e-3)


@settings(max_examples=25, deadline=None)
@given(pause=st.floats(0.0, 200.0), more=st.floats(0.01, 300.0))
@example(0.0, 1.0)
def test_longer_pauses_never_end_hotter_at_one_power(pause: float, more: float) -> None:
    """The part as a whole: single plates may end a little hotter, the others having had time to pass heat on."""
    part = box(SMALL, ALUMINIUM)
    assert stored(part, quick(pause + more)) <= stored(part, quick(pause)) + 1e-6


def more_put_in(one: History, other: History) -> float:
    """Heat [J] the second history was given more than the first, where it was given more."""
    pairs = zip(one.runs, other.runs, strict=True)
    return float(sum(np.maximum(b.power - a.power, 0.0).mean() * (b.ends - b.begins) for a, b in pairs))


@settings(max_examples=25, deadline=None)
@given(pause=st.floats(0.0, 200.0), more=st.floats(0.01, 300.0))
@example(0.0, 1.0)
def test_with_tapered_power_longer_pauses_end_hotter_by_no_more_than_the_pool_was_given(
    pause: float, more: float
) -> None:
    """A rested part is welded with more power to keep the pool, and may end a little hotter for it (at 0 and 1 s)."""
    part = box(SMALL, ALUMINIUM)
    short, long = quick(pause, taper=True), quick(pause + more, taper=True)
    assert stored(part, long) <= stored(part, short) + more_put_in(short, long) + 1e-6


@settings(max_examples=10, deadline=None)
@given(start_c=st.floats(20.0, 150.0), more=st.floats(1.0, 100.0), pause=st.floats(0.0, 60.0))
def test_a_hotter_part_never_needs_more_power(start_c: float, more: float, pause: float) -> None:
    cool, hot = (quick(pause, start, taper=True) for start in (start_c, start_c + more))
    for one, other in zip(cool.runs, hot.runs, strict=True):
        assert np.all(other.power <= one.power + 1e-6)


def test_preheat_lowers_the_first_power() -> None:
    found = quick(0.0, 120.0, taper=True).runs[0].steps[0]
    assert found == pytest.approx((120.0, 300.0 * (582.0 - 120.0) / 562.0))


def test_the_wait_ends_at_the_interpass_limit() -> None:
    part = box(SMALL, ALUMINIUM)
    first = Run(part.seams[0].name, 450.0, 4e-3)
    second = Run(part.seams[1].name, 450.0, 4e-3, interpass_c=100.0)
    history = follow(part, (first, second), taper=False)
    assert history.runs[1].hottest_before_c == pytest.approx(100.0, abs=0.5)
    assert history.runs[1].waited > 30.0
    assert history.runs[0].waited == 0.0
    cool = follow(part, (first, replace(second, pause=10.0, interpass_c=400.0)), taper=False)
    assert cool.runs[1].waited == pytest.approx(10.0)
    assert np.all(np.diff(history.times) > 0.0)


def test_a_chill_bar_takes_heat_and_keeps_it() -> None:
    plain = pair(replace(ALUMINIUM, convection=0.0, emissivity=0.0), 0.1, 0.05)
    bar = ChillBar(PlateLine(0, (0.0, 0.02), (0.1, 0.02)), 0.02, 2000.0, 300.0)
    chilled = replace(plain, chills=(bar,))
    run = (Run("seam", 500.0, 4e-3),)
    without, beside = (follow(part, run, taper=False, after=600.0) for part in (plain, chilled))
    assert beside.mean_c[-1].max() < without.mean_c[-1].min()
    total = sum(plate.capacity for plate in plain.plates)
    shared = 500.0 * 25.0 / (total + 300.0)  # first law: all at one temperature in the end
    assert beside.mean_c[-1] - 20.0 == pytest.approx(shared, rel=0.02)


def test_unwelded_edges_keep_heat_apart() -> None:
    run = (Run("bottom-front", 400.0, 4e-3),)
    apart, touching = (follow(box(SMALL, ALUMINIUM, contact=c), run, taper=False, after=30.0) for c in (0.0, 0.3))
    assert apart.mean_c[-1][3] == pytest.approx(20.0)
    assert touching.mean_c[-1][3] > 30.0


def test_running_a_seam_the_other_way_mirrors_a_symmetric_part() -> None:
    part = pair(ALUMINIUM, 0.1, 0.05)
    forth, back = (follow(part, (Run("seam", 500.0, 4e-3, backward=b),)) for b in (False, True))
    assert forth.mean_c[-1] == pytest.approx(back.mean_c[-1])
    assert forth.runs[0].power == pytest.approx(back.runs[0].power)
    turned = replace(part, seams=(part.seams[0].reversed(),))
    again = follow(turned, (Run("seam", 500.0, 4e-3),))
    assert again.runs[0].power == pytest.approx(forth.runs[0].power)


def test_a_tee_leads_heat_three_ways() -> None:
    """The standing plate ends on a line inside the other: two thirds of the heat go into the through plate."""
    base = replace(ALUMINIUM, name="base", length=0.1, width=0.1, convection=0.0, emissivity=0.0)
    web = replace(base, name="web", width=0.05)
    seam = SeamLine("tee", PlateLine(1, (0.0, 0.0), (0.1, 0.0)), PlateLine(0, (0.0, 0.05), (0.1, 0.05)))
    part = HeatedPart((base, web), (seam,))
    history = follow(part, (Run("tee", 500.0, 4e-3),), taper=False)
    assert stored(part, history) == pytest.approx(500.0 * 25.0, rel=1e-9)
    share = base.capacity * (history.mean_c[-1][0] - 20.0) / (500.0 * 25.0)
    assert share == pytest.approx(2 / 3, abs=0.02)


def test_a_dwell_adds_its_heat() -> None:
    part = pair(replace(ALUMINIUM, convection=0.0, emissivity=0.0), 0.1, 0.05)
    plain, dwelt = (follow(part, (Run("seam", 500.0, 4e-3, dwell=d),), taper=False) for d in (0.0, 3.0))
    assert stored(part, dwelt) - stored(part, plain) == pytest.approx(1500.0, rel=1e-6)
    assert dwelt.runs[0].ends == pytest.approx(28.0)


def test_a_run_on_a_part_already_hot_says_that_it_runs_away() -> None:
    part = pair(replace(ALUMINIUM, start_c=500.0), 0.08, 0.04)
    hot = follow(part, (Run("seam", 300.0, 6e-3),), taper=False)
    assert hot.runs[0].runs_away is not None
    assert follow(pair(ALUMINIUM, 0.08, 0.04), (Run("seam", 200.0, 6e-3),)).runs[0].runs_away is None


@pytest.mark.parametrize(("open_top", "plates", "seams"), [(True, 5, 8), (False, 6, 12)])
def test_a_box_has_its_plates_and_seams(open_top: bool, plates: int, seams: int) -> None:
    part = box((0.3, 0.2, 0.15), ALUMINIUM, open_top)
    assert (len(part.plates), len(part.seams)) == (plates, seams)
    lengths = sorted(round(seam.first.length, 6) for seam in part.seams)
    assert lengths == sorted(([0.3, 0.2] * 2 + [0.15] * 4) if open_top else [0.3, 0.2, 0.15] * 4)
    assert all("bottom" in seam.name for seam in part.seams[:4])
    area = sum(plate.length * plate.width for plate in part.plates)
    assert area == pytest.approx(2 * (0.3 * 0.15 + 0.2 * 0.15) + 0.06 * (1 if open_top else 2))
    assert default_cell(part) == pytest.approx((area / 1500) ** 0.5)


def test_tapered_is_the_linear_law() -> None:
    assert tapered(1000.0, 582.0, 20.0, 20.0) == 1000.0
    assert tapered(1000.0, 582.0, 20.0, 301.0) == pytest.approx(500.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: tapered(1000.0, 582.0, 20.0, 582.0),
        lambda: tapered(1000.0, 20.0, 20.0, 20.0),
        lambda: Run("seam", 0.0, 3e-3),
        lambda: Run("seam", 500.0, 3e-3, pause=-1.0),
        lambda: Run("seam", 500.0, 3e-3, dwell=500.0),
        lambda: replace(ALUMINIUM, thickness=0.1),
        lambda: replace(ALUMINIUM, faces=3.0),
        lambda: PlateLine(0, (0.0, 0.0), (0.1, 0.1)),
        lambda: PlateLine(0, (0.0, 0.0), (0.0, 0.0)),
        lambda: SeamLine("s", PlateLine(0, (0.0, 0.0), (0.1, 0.0)), PlateLine(1, (0.0, 0.0), (0.2, 0.0))),
        lambda: HeatedPart(
            (ALUMINIUM,), (SeamLine("s", PlateLine(0, (0.0, 0.0), (0.2, 0.0)), PlateLine(0, (0.0, 0.1), (0.2, 0.1))),)
        ),
        lambda: ChillBar(PlateLine(0, (0.0, 0.0), (0.1, 0.0)), 0.0, 1000.0, 100.0),
        lambda: follow(pair(ALUMINIUM, 0.1, 0.05), (), cell=1e-4),
        lambda: follow(pair(ALUMINIUM, 0.1, 0.05), (Run("seam", 500.0, 4e-3, interpass_c=10.0),)),
        lambda: follow(
            pair(replace(ALUMINIUM, convection=0.0, emissivity=0.0, start_c=200.0), 0.1, 0.05),
            (Run("seam", 500.0, 4e-3, interpass_c=100.0),),
        ),
        lambda: follow(pair(ALUMINIUM, 0.05, 0.02), (Run("seam", 2000.0, 3e-3),), taper=False),
    ],
)
def test_outside_the_range_there_is_no_number(call: object) -> None:
    with pytest.raises(PhysicsRangeError):
        call()  # type: ignore[operator]


def test_an_unknown_seam_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        follow(pair(ALUMINIUM, 0.1, 0.05), (Run("other", 500.0, 4e-3),))
