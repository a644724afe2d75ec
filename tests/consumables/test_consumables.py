"""What a job uses up: sections and masses against published and hand-worked figures, gas against CoolProp."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from advisor.answer.span import Span
from advisor.consumables import seam as c
from advisor.consumables.answer import UseRequest, job_consumables
from advisor.consumables.gas import Cylinder, left_in
from advisor.consumables.prices import parse_price
from advisor.diagnostics import PrestrikeError
from advisor.job.job import DutyPoint, Job, Machine
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise
from advisor.units.quantities import UnitTable

Run = Callable[..., Any]
Make = Callable[..., Job]
JOINTS = ("butt", "corner-open", "corner-half-open", "corner-closed", "corner-inside", "tee", "lap", "edge")
POUND, INCH = 453.59237, 25.4


@pytest.fixture
def job(rulebook: Rulebook, units: UnitTable) -> Make:
    def make(metal: str, thickness: str, joint: str, **more: Any) -> Job:
        data = {"members": [{"metal": metal, "thickness": thickness}], "joint": joint, **more}
        return JobBuilder(rulebook, units).build(data)

    return make


def used(rulebook: Rulebook, asked: Job, lengths: Sequence[float], **more: Any) -> c.Consumables:
    """What seams of these lengths [mm] take, by the advice for the job."""
    return c.consumables(rulebook, advise(rulebook, asked._replace(part=None, length=None)), lengths, **more)


def test_p7_1_filler_makers_fillet_through_the_whole_advice(rulebook: Rulebook, job: Make) -> None:
    """Filler maker's consumption pages: a 1/2 in fillet in steel weighs 0.424 lb/ft; a bare rod gives 98 % of itself.

    The low end is the flat fillet. The density is that of the rules (7850 to 7870 kg/m3 against 0.283 lb/in3).
    """
    found = used(rulebook, job("A36", "9.5 mm", "tee", leg="1/2 in"), [12 * INCH])
    assert found.filler is not None
    assert found.filler.mass.low / POUND == pytest.approx(0.424 / 0.98, rel=0.005)


def test_c7_3_aluminium_fillet_golden(rulebook: Rulebook, job: Make) -> None:
    """A 4 mm leg at 2.69 g/cm3 is 21.52 g/m, 1.768 m of 2.4 mm rod; our density is that of the base metal."""
    found = used(rulebook, job("6061", "3.2 mm", "tee", leg="4 mm"), [1000.0])
    assert found.filler is not None and found.filler.diameter == 2.4
    assert found.filler.mass.low == pytest.approx(21.52 / 2690 * found.filler.density / 0.98, rel=0.001)
    assert found.filler.length.low == pytest.approx(1.768 / 0.98, rel=0.001)


def test_a_single_v_against_its_polygon(rulebook: Rulebook, job: Make) -> None:
    """The groove at the start values: gap times thickness and the two triangles of the bevels."""
    found = used(rulebook, job("A36", "6.4 mm", "butt"), [500.0])
    numbers = found.advice.preparation
    gap, face = numbers["root_gap"].start, numbers["root_face"].start
    half = math.radians(numbers["groove_angle"].start / 2)
    assert found.section is not None
    groove = next(part.area for part in found.section.parts if part.name == "groove")
    assert groove.start == pytest.approx(gap * 6.4 + (6.4 - face) ** 2 * math.tan(half))
    assert groove.low < groove.start < groove.high


def test_arc_time_is_length_times_runs_over_travel(rulebook: Rulebook, job: Make) -> None:
    found = used(rulebook, job("304", "1.6 mm", "lap"), [400.0, 200.0])
    travel = found.advice.settings["travel_speed"]
    size = found.advice.preparation["tack_length"].start
    assert found.arc is not None and found.passes == Span.of(1.0)
    assert found.arc.low == pytest.approx(600 / travel.high * 60)
    assert found.arc.start == pytest.approx((600 + found.tacks * size) / travel.start * 60)


def test_gas_counts_every_start(rulebook: Rulebook, job: Make) -> None:
    found = used(rulebook, job("A36", "3.2 mm", "tee"), [250.0] * 4)
    gas = found.gas
    assert gas is not None and found.arc is not None and found.starts.start == 4 + found.tacks
    seconds = found.arc.start + found.starts.start * (gas.before.start + gas.after.start)
    assert gas.litres.start == pytest.approx(gas.flow.start / 60 * seconds)
    assert gas.torch_on.start > found.arc.start


@pytest.mark.parametrize("metal", ["5052-H32", "6061-T6", "A36", "4130", "304"])
@pytest.mark.parametrize("joint", JOINTS)
@pytest.mark.parametrize("thickness", ["1.6 mm", "3.2 mm", "6.4 mm"])
def test_every_joint_has_its_figures_or_says_why_not(
    rulebook: Rulebook, job: Make, metal: str, joint: str, thickness: str
) -> None:
    found = used(rulebook, job(metal, thickness, joint), [300.0])
    assert found.status == "advised"
    assert (found.filler is None) == any(item.startswith("filler") for item in found.missing)
    assert found.arc is not None and found.gas is not None
    spans = [found.arc, found.gas.litres, *((found.filler.mass, found.filler.length) if found.filler else ())]
    for span in spans:
        assert 0 <= span.low <= span.start <= span.high < math.inf
    assert found.arc.low > 0


def test_twice_the_seam_is_twice_the_metal_and_never_more_rods(rulebook: Rulebook, job: Make) -> None:
    one, two = (used(rulebook, job("5052", "3.2 mm", "tee"), [700.0] * count) for count in (1, 2))
    assert one.filler and two.filler and one.filler.rods and two.filler.rods and one.arc and two.arc
    assert two.filler.mass.start == pytest.approx(2 * one.filler.mass.start)
    assert two.arc.start == pytest.approx(2 * one.arc.start)
    assert two.filler.rods.number.high <= 2 * one.filler.rods.number.high


def test_both_sides_of_a_fillet_are_two(rulebook: Rulebook, job: Make) -> None:
    one, two = (used(rulebook, job("A36", "3.2 mm", "tee"), [300.0], sides=sides) for sides in (1, 2))
    assert one.section and two.section and one.passes and two.passes
    assert two.section.area == one.section.area.times(2) and two.passes == one.passes.times(2)


@pytest.mark.parametrize("process", ["131", "135", "111"])
def test_another_process_is_asked_for_by_its_own_law(rulebook: Rulebook, job: Make, process: str) -> None:
    """Whether rules cover it or not: a status, and no figure without one."""
    metal = "5052" if process == "131" else "A36"
    found = used(rulebook, job(metal, "3.2 mm", "tee", process=process), [300.0])
    assert found.status in ("advised", "no-rule")
    assert found.status == "advised" or (found.filler, found.arc, found.gas) == (None, None, None)
    assert process in c.PROCESS_USE


@pytest.mark.parametrize("lengths", [[], [0.0], [100.0, -1.0], [math.nan], [math.inf]])
def test_a_seam_without_length_is_bad_input(rulebook: Rulebook, job: Make, lengths: list[float]) -> None:
    with pytest.raises(PrestrikeError):
        used(rulebook, job("A36", "3.2 mm", "tee"), lengths)


def test_c8_2_cylinder_golden_and_against_coolprop() -> None:
    """10 L at 200 bar absolute and 15 degC hold 2106 L; what is left of 150 bar at 20 degC after 500 L, by CoolProp."""
    full = left_in(Cylinder(10.0, 200.0 - 1.01325, 15.0), Span(1.0, 1.0, 1.0))
    assert full.held == pytest.approx(2106, rel=0.001)
    assert full.compressibility == pytest.approx(PropsSI("Z", "T", 288.15, "P", 200e5, "Argon"), abs=0.001)
    after = left_in(Cylinder(10.0, 150.0, 20.0), Span(400.0, 500.0, 600.0))
    free = PropsSI("D", "T", 288.15, "P", 101325.0, "Argon")
    held = 0.010 * PropsSI("D", "T", 293.15, "P", 150e5 + 101325.0, "Argon")
    outside = PropsSI("P", "T", 293.15, "D", (held - 0.5 * free) / 0.010, "Argon") / 1e5 - 1.01325
    assert after.gauge_after.start == pytest.approx(outside, rel=0.003)
    assert after.gauge_after.low < after.gauge_after.start < after.gauge_after.high


def test_p8_1_published_consumption_as_a_cylinder() -> None:
    """thefabricator.com: 100 ft3 at 45 ft3/h last 2 h 13 min; here as the jobs of one minute that 100 ft3 does."""
    foot3 = 28.316846592
    kept = left_in(Cylinder(20.0, 5.0, 15.0), Span.of(1.0)).held
    gauge = next(bar for bar in range(5, 300) if left_in(Cylinder(20.0, bar, 15.0), Span.of(1.0)).held >= 100 * foot3)
    found = left_in(Cylinder(20.0, gauge, 15.0), Span.of(45 * foot3 / 60))
    assert found.jobs.start == pytest.approx(133 - kept / (45 * foot3 / 60), abs=1.5)


@pytest.mark.parametrize(
    ("arc", "duty", "clock"),
    [(300.0, 0.6, 300.0), (360.0, 0.6, 360.0), (361.0, 0.6, 601.0), (720.0, 0.6, 960.0), (5000.0, 1.0, 5000.0)],
)
def test_p9_2_minutes_of_arc_in_any_ten(arc: float, duty: float, clock: float) -> None:
    """AWS glossary: 60 % is 6 minutes in 10. So 6 min go through, the seventh waits for the next ten."""
    assert c.clock_time(arc, duty) == pytest.approx(clock)


@given(st.floats(1.0, 1e5), st.floats(0.05, 1.0))
def test_no_ten_minutes_hold_more_arc_than_the_duty(arc: float, duty: float) -> None:
    clock = c.clock_time(arc, duty)
    assert clock >= arc * (1 - 1e-9)
    assert arc <= duty * 600 * math.ceil(clock / 600 - 1e-9) * (1 + 1e-9)


def test_the_duty_of_the_machine_file(rulebook: Rulebook, job: Make) -> None:
    machine = Machine("plate", "ac-dc", 5.0, 200.0, (DutyPoint(100.0, 60.0),))
    found = used(rulebook, job("A36", "1.6 mm", "tee", machine=machine), [3000.0])
    current = found.advice.settings["current"].start
    assert found.duty is not None
    assert found.duty.percent == pytest.approx(min(100.0, 60 * (100 / current) ** 2), rel=1e-3)


def test_the_box_and_its_own_seam_are_two_joints(prestrike: Run) -> None:
    ran = prestrike("consumables", "advisor/demo/coolant-tank.yaml", "--json")
    assert ran.code == 0, ran.err
    one, corners = ran.json["joints"]
    assert one["lengths_mm"] == [300] and sorted(corners["lengths_mm"]) == [150] * 4 + [200] * 2 + [300] * 2
    together = ran.json["together"]["gas_L"]["start"]
    assert together == pytest.approx(sum(joint["gas"]["litres"]["start"] for joint in ran.json["joints"]), rel=0.01)


def test_cost_is_price_times_amount_in_any_currency(prestrike: Run) -> None:
    ran = prestrike(
        "consumables", "--metal", "A36", "--thickness", "1/8 in", "--joint", "tee", "--seam", "4 x 12 in",
        "--price-filler", "$9/lb", "--price-gas", "60 $ / 80 ft3", "--json",
    )  # fmt: skip
    found = ran.json
    filler, gas = found["costs"]
    assert filler["currency"] == "$"
    assert filler["money"]["start"] == pytest.approx(found["together"]["filler_g"]["start"] / POUND * 9, rel=0.001)
    litres = found["together"]["gas_L"]["start"]
    assert gas["money"]["start"] == pytest.approx(litres / (80 * 28.316846592) * 60, rel=0.001)
    assert found["cost"]["money"]["high"] == pytest.approx(filler["money"]["high"] + gas["money"]["high"], rel=0.001)


def test_two_currencies_are_not_added(rulebook: Rulebook, units: UnitTable, job: Make) -> None:
    prices = parse_price("9 EUR/kg", "mass", units, "f"), parse_price("£20 / m3", "volume", units, "g")
    wanted = UseRequest((300.0,), filler_price=prices[0], gas_price=prices[1])
    found = job_consumables(rulebook, job("A36", "3.2 mm", "tee"), wanted)
    assert len(found.costs) == 2 and found.cost is None


@pytest.mark.parametrize("text", ["12", "EUR/kg", "12,5 EUR/kg", "0 EUR/kg", "-3 EUR/kg", "12 EUR", "12 EUR/m3", ""])
def test_what_is_no_price(units: UnitTable, text: str) -> None:
    with pytest.raises(PrestrikeError):
        parse_price(text, "mass", units, "price-filler")


@pytest.mark.parametrize(
    ("more", "code", "said"),
    [
        (("--seam", "0 mm"), 2, "zero"),
        (("--seam", "0 x 30 mm"), 2, "0 of a seam"),
        ((), 2, "no seam length"),
        (("--seam", "1 m", "--cylinder", "10 L"), 2, "gauge"),
        (("--seam", "1 m", "--cylinder", "80 ft3", "--pressure", "150 bar"), 2, "water volume"),
        (("--seam", "1 m", "--cylinder", "10 L", "--pressure", "400 bar"), 2, "beyond what is known"),
        (("--seam", "1 m", "--cylinder", "10 L", "--pressure", "90 bar", "--gas", "helium"), 2, "argon only"),
        (("--seam", "1 m", "--rod-length", "1000 mm", "--stub", "1 m"), 2, "nothing to weld"),
    ],
)
def test_bad_input_says_what_and_how(prestrike: Run, more: tuple[str, ...], code: int, said: str) -> None:
    ran = prestrike("consumables", "--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee", *more)
    assert ran.code == code and said in ran.err + ran.out and "Traceback" not in ran.err


def test_too_little_gas_is_said(prestrike: Run, tmp_path: Path) -> None:
    ran = prestrike(
        "consumables", "--metal", "5052", "--thickness", "6 mm", "--joint", "tee", "--seam", "20 x 1 m",
        "--cylinder", "2 L", "--pressure", "50 bar",
    )  # fmt: skip
    assert ran.code == 0 and "NOT ENOUGH" in ran.out
