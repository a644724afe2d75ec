"""A part as one lump. P: published; C: golden (our own arithmetic)."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics.ranges import PhysicsRangeError
from tests.physics.oracles import lumped
from tests.physics.oracles.lumped import Lump

VOLUME = 0.1 * 0.1 * 0.003
AREA = 2 * 0.1 * 0.1 + 4 * 0.1 * 0.003
ALUMINIUM = 2700.0 * 896.0 * VOLUME
STEEL = 7850.0 * 486.0 * VOLUME


def test_p5_1_steel_ball_of_the_course_page() -> None:
    """Lumped-capacitance course page: D 20 mm, h 1000, rho 7800, c 500 -> tau 13 s."""
    radius = 0.010
    volume, area = 4 / 3 * math.pi * radius**3, 4 * math.pi * radius**2
    assert lumped.time_constant(Lump(7800.0 * 500.0 * volume, area, 1000.0)) == pytest.approx(13.0, rel=1e-9)


def test_c5_4_plate_golden() -> None:
    assert pytest.approx(72.58, abs=5e-3) == ALUMINIUM
    assert pytest.approx(0.0212) == AREA
    assert lumped.adiabatic_rise(20e3, ALUMINIUM) == pytest.approx(275.57, abs=5e-3)
    assert lumped.biot(15.0, VOLUME, AREA, 167.0) == pytest.approx(1.27e-4, abs=5e-7)


@pytest.mark.parametrize(("emissivity", "golden"), [(0.0, 666.16), (0.1, 601.59)])
def test_c5_5_aluminium_cooling_golden(emissivity: float, golden: float) -> None:
    lump = Lump(ALUMINIUM, AREA, 10.0, emissivity)
    assert lumped.cooling_time(lump, 300.0, 60.0) == pytest.approx(golden, abs=6e-3)


@pytest.mark.parametrize(("emissivity", "golden"), [(0.0, 1050.54), (0.8, 574.39)])
def test_c5_6_steel_cooling_golden(emissivity: float, golden: float) -> None:
    lump = Lump(STEEL, AREA, 10.0, emissivity)
    assert lumped.cooling_time(lump, 300.0, 60.0) == pytest.approx(golden, abs=6e-3)


def test_c5_7_heating_golden() -> None:
    lump = Lump(ALUMINIUM, AREA, 10.0)
    assert lumped.heated_c(lump, 500.0, 60.0, 20.0) == pytest.approx(399.163, abs=6e-4)
    assert 20.0 + lumped.adiabatic_rise(30e3, ALUMINIUM) == pytest.approx(433.360, abs=6e-4)
    assert lumped.time_constant(lump) == pytest.approx(342.340, abs=6e-4)


@given(start=st.floats(40.0, 600.0), share=st.floats(0.05, 0.95))
def test_cooling_by_convection_alone_is_newtons_exponential(start: float, share: float) -> None:
    """Newton's law of cooling, closed form."""
    lump = Lump(ALUMINIUM, AREA, 8.0)
    end = 20.0 + share * (start - 20.0)
    exact = lumped.time_constant(lump) * math.log(1 / share)
    assert lumped.cooling_time(lump, start, end) == pytest.approx(exact, rel=1e-6)
    assert lumped.heated_c(lump, 0.0, exact, start) == pytest.approx(end, rel=1e-9)


def test_levelling_time_of_a_small_aluminium_plate_golden() -> None:
    assert lumped.levelling_time(0.05, 69e-6) == pytest.approx(36.0, abs=0.5)


@pytest.mark.parametrize(
    "call",
    [
        lambda: lumped.cooling_time(Lump(ALUMINIUM, AREA, 10.0), 300.0, 20.0),
        lambda: lumped.cooling_time(Lump(ALUMINIUM, AREA, 10.0), 50.0, 60.0),
        lambda: lumped.heated_c(Lump(ALUMINIUM, AREA, 10.0, 0.1), 500.0, 60.0, 20.0),
        lambda: lumped.time_constant(Lump(ALUMINIUM, AREA, 0.0, 0.1)),
        lambda: Lump(0.0, AREA, 10.0),
        lambda: Lump(ALUMINIUM, AREA, 10.0, 1.5),
        lambda: lumped.adiabatic_rise(-1.0, ALUMINIUM),
    ],
)
def test_outside_the_range_there_is_no_number(call: object) -> None:
    with pytest.raises(PhysicsRangeError):
        call()  # type: ignore[operator]
