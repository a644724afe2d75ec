"""Argon against CoolProp (independent library), a published consumption figure, and laws."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import gas as g
from advisor.physics.ranges import PhysicsRangeError

LITRE_PER_MIN = 1e-3 / 60
BAR = 1e5


def test_p8_1_published_consumption() -> None:
    """thefabricator.com, shielding gas consumption: 100 ft3 at 45 ft3/h last 2 h 13 min."""
    foot3 = 0.3048**3
    assert g.time_left(100 * foot3, 45 * foot3 / 3600) / 60 == pytest.approx(133, abs=0.5)


@pytest.mark.parametrize("temperature_c", [-20.0, 0.0, 20.0, 60.0, 100.0, 200.0, 300.0])
def test_density_and_viscosity_against_coolprop(temperature_c: float) -> None:
    kelvin = temperature_c + 273.15
    density = PropsSI("D", "T", kelvin, "P", 101325.0, "Argon")
    viscosity = PropsSI("V", "T", kelvin, "P", 101325.0, "Argon")
    assert g.argon_density(temperature_c) == pytest.approx(density, rel=0.0015)
    limit = 0.004 if temperature_c <= 100 else 0.015
    assert g.argon_viscosity(temperature_c) == pytest.approx(viscosity, rel=limit)


@pytest.mark.parametrize("pressure_bar", [1.01325, 10.0, 50.0, 150.0, 200.0, 300.0])
@pytest.mark.parametrize("temperature_c", [-10.0, 5.0, 15.0, 30.0, 50.0])
def test_compressibility_against_coolprop(pressure_bar: float, temperature_c: float) -> None:
    outside = PropsSI("Z", "T", temperature_c + 273.15, "P", pressure_bar * BAR, "Argon")
    assert g.argon_compressibility(pressure_bar * BAR, temperature_c) == pytest.approx(outside, abs=0.0012)


def test_second_virial_coefficient_is_argons() -> None:
    """Dymond and Smith (memory): B of argon is -15.5 cm3/mol at 300 K."""
    u = (300.0 - 288.15) / 100
    second = g.SECOND[0] + g.SECOND[1] * u + g.SECOND[2] * u * u
    assert second * 1e6 == pytest.approx(-15.5, abs=0.8)


@pytest.mark.parametrize(("cup", "golden"), [(5, 1593), (7, 1138), (8, 996)])
def test_c8_1_reynolds_golden(cup: int, golden: float) -> None:
    assert g.nozzle_reynolds(8 * LITRE_PER_MIN, g.cup_bore(cup)) == pytest.approx(golden, rel=0.001)


@pytest.mark.parametrize(("cup", "golden"), [(5, 10.04), (7, 14.06), (8, 16.07)])
def test_c8_1_laminar_flow_golden(cup: int, golden: float) -> None:
    limit = g.laminar_flow(g.cup_bore(cup))
    assert limit.low / LITRE_PER_MIN == pytest.approx(golden, rel=0.001)
    assert limit.high == pytest.approx(1.15 * limit.low)


@pytest.mark.parametrize(("litres", "content"), [(10, 2106), (20, 4211), (50, 10528)])
def test_c8_2_cylinder_content_golden(litres: float, content: float) -> None:
    """Golden from CoolProp: litres of gas at 15 degC and 1 atm."""
    assert g.cylinder_gas(litres * 1e-3, 200 * BAR) * 1e3 == pytest.approx(content, rel=0.001)


def test_c8_2_mass_factor_and_time_golden() -> None:
    assert g.cylinder_mass(10e-3, 200 * BAR) == pytest.approx(3.560, rel=0.001)
    assert g.cylinder_mass(20e-3, 200 * BAR) == pytest.approx(7.120, rel=0.001)
    assert g.argon_compressibility(200 * BAR, 15.0) == pytest.approx(0.9368, abs=0.001)
    minutes = g.time_left(g.cylinder_gas(20e-3, 200 * BAR), 10 * LITRE_PER_MIN) / 60
    assert minutes == pytest.approx(421, abs=1)


@given(st.floats(1.0, 300.0), st.floats(1.0, 300.0), st.floats(-10.0, 50.0))
def test_more_pressure_is_more_gas(one: float, other: float, temperature_c: float) -> None:
    low, high = sorted((one, other))
    contents = [g.cylinder_gas(0.01, p * BAR, temperature_c) for p in (low, high)]
    assert contents[0] <= contents[1] * (1 + 1e-9)


@given(st.floats(-10.0, 49.0), st.floats(10.0, 300.0))
def test_the_same_gauge_holds_less_gas_when_warm(temperature_c: float, pressure_bar: float) -> None:
    cold = g.cylinder_gas(0.01, pressure_bar * BAR, temperature_c)
    assert g.cylinder_gas(0.01, pressure_bar * BAR, temperature_c + 1) < cold


@given(st.floats(1.0, 30.0), st.floats(4.0, 25.0), st.floats(-20.0, 250.0))
def test_reynolds_follows_flow_over_bore_and_falls_with_temperature(litres: float, bore: float, hot: float) -> None:
    flow, cup = litres * LITRE_PER_MIN, bore * 1e-3
    base = g.nozzle_reynolds(flow, cup, hot)
    assert g.nozzle_reynolds(2 * flow, 2 * cup, hot) == pytest.approx(base)
    assert g.nozzle_reynolds(flow, cup, hot + 50) < base
    assert g.laminar_flow(cup, hot).low * base / flow == pytest.approx(2000.0)
    density, viscosity = g.argon_density(hot), g.argon_viscosity(hot)
    assert g.nozzle_velocity(flow, cup) * cup * density / viscosity == pytest.approx(base)


@given(st.floats(1.0, 290.0), st.floats(-10.0, 50.0))
def test_the_pressure_of_a_content_is_the_one_it_came_from(pressure_bar: float, temperature_c: float) -> None:
    content = g.cylinder_gas(0.02, pressure_bar * BAR, temperature_c)
    assert g.cylinder_pressure(content, 0.02, temperature_c) == pytest.approx(pressure_bar * BAR, abs=5.0)


def test_pressure_left_against_coolprop() -> None:
    """A 10 L cylinder from 150 bar absolute at 20 degC, less 500 L of gas at 15 degC and 1 atm: CoolProp at the end."""
    free = PropsSI("D", "T", 288.15, "P", 101325.0, "Argon")
    held = 0.010 * PropsSI("D", "T", 293.15, "P", 150 * BAR, "Argon")
    left = PropsSI("P", "T", 293.15, "D", (held - 0.5 * free) / 0.010, "Argon")
    ours = g.cylinder_pressure(g.cylinder_gas(0.010, 150 * BAR, 20.0) - 0.5, 0.010, 20.0)
    assert ours == pytest.approx(left, rel=0.002)


def test_gas_used_counts_the_postflow() -> None:
    """10 L/min for 3 min of arc and 6 starts of 8 s: 38 L."""
    assert g.gas_used(10 * LITRE_PER_MIN, 180.0, 48.0) * 1e3 == pytest.approx(38.0)


def test_cup_numbers_are_sixteenths_of_an_inch() -> None:
    assert g.cup_bore(8) == pytest.approx(0.0127)


@pytest.mark.parametrize(
    "call",
    [
        lambda: g.argon_density(400.0),
        lambda: g.argon_density(20.0, 1e6),
        lambda: g.argon_viscosity(-30.0),
        lambda: g.cup_bore(2),
        lambda: g.nozzle_reynolds(0.0, 0.01),
        lambda: g.nozzle_reynolds(1e-4, 12.7),
        lambda: g.argon_compressibility(0.0, 15.0),
        lambda: g.argon_compressibility(310 * BAR, 15.0),
        lambda: g.argon_compressibility(100 * BAR, 60.0),
        lambda: g.cylinder_gas(20.0, 200 * BAR),
        lambda: g.cylinder_pressure(10.0, 0.01),
        lambda: g.cylinder_pressure(-1.0, 0.01),
        lambda: g.time_left(1.0, 0.0),
        lambda: g.gas_used(1e-4, -1.0),
    ],
)
def test_outside_the_formulas(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()
