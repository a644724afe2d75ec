"""Leak-test readings: the published swing, the gas law, and a box that only changed rooms."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics import leak_test as t
from advisor.physics.ranges import PhysicsRangeError

gauges = st.floats(0.0, 50e3)
warmth = st.floats(-10.0, 60.0)


def test_one_kelvin_in_a_sealed_box_golden() -> None:
    """At 6.9 kPa and 20 degC: 0.37 kPa, 38 mm of water, for each kelvin."""
    swing = t.temperature_swing(6.9e3, 20.0)
    assert swing == pytest.approx(370.0, abs=2.0)
    assert t.water_head(swing) * 1e3 == pytest.approx(38.0, abs=0.5)


def test_water_heads_of_the_rule_books() -> None:
    """46 CFR 119.435: 35 kPa by a standpipe of 3.5 m; open tube: 3.5 kPa, 350 mm (both rounded)."""
    assert t.water_head(35e3) == pytest.approx(3.5, rel=0.03)
    assert t.water_head(3.5e3) == pytest.approx(0.35, rel=0.03)


@given(gauges, warmth, warmth, st.floats(90e3, 105e3), st.floats(90e3, 105e3))
def test_a_tight_box_moved_between_rooms_has_lost_nothing(
    gauge: float, cold: float, warm: float, before: float, after: float
) -> None:
    shown = t.expected_gauge(gauge, cold, warm, before, after)
    assert t.pressure_lost(gauge, cold, shown, warm, before, after) == pytest.approx(0.0, abs=1e-6)
    back = t.expected_gauge(shown, warm, cold, after, before)
    assert back == pytest.approx(gauge, abs=1e-6)


def test_a_cold_night_looks_like_a_leak() -> None:
    """3.5 kPa set at 22 degC reads 0 at about 12.2 degC without any hole; by Charles's law 104.8/295.15."""
    assert t.expected_gauge(3500.0, 22.0, 22.0 - 295.15 * 3500 / 104825) == pytest.approx(0.0, abs=1e-6)


@given(gauges, warmth)
def test_swing_is_the_slope_of_the_expected_gauge(gauge: float, start: float) -> None:
    step = t.expected_gauge(gauge, start, start + 1.0) - t.expected_gauge(gauge, start, start)
    assert step == pytest.approx(t.temperature_swing(gauge, start))


def test_leak_rate_in_both_units() -> None:
    """10 litres losing 1 mbar in 100 s: 0.1 mbar l/s, which is 0.01 Pa m3/s."""
    assert t.leak_rate(10e-3, 100.0, 100.0) == pytest.approx(0.01)


@pytest.mark.parametrize(
    "call",
    [
        lambda: t.expected_gauge(-101e3, 20.0, 20.0),
        lambda: t.expected_gauge(-95e3, 20.0, 20.0, 90e3),
        lambda: t.expected_gauge(1e3, 20.0, 293.0),
        lambda: t.pressure_lost(1e3, 20.0, 1e3, 20.0, 1013.0),
        lambda: t.leak_rate(0.0, 10.0, 10.0),
        lambda: t.leak_rate(0.01, -5.0, 10.0),
        lambda: t.water_head(-1.0),
    ],
)
def test_outside_the_gas_law(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()


@pytest.mark.parametrize("gauge", [3.5e3, 20e3, 600e3])
def test_stored_energy_is_the_work_of_expansion(gauge: float) -> None:
    """Integral of p dV along p V^1.4, from the test pressure down to the atmosphere, by the trapezium rule."""
    start, volume, steps = t.ATMOSPHERE + gauge, 0.02, 20000
    end = volume * (start / t.ATMOSPHERE) ** (1 / 1.4)
    width = (end - volume) / steps
    pressures = [start * (volume / (volume + i * width)) ** 1.4 for i in range(steps + 1)]
    work = width * (sum(pressures) - 0.5 * (pressures[0] + pressures[-1]))
    assert t.stored_energy(volume, gauge) == pytest.approx(work, rel=2e-3)


def test_stored_energy_in_the_us_form_of_the_code() -> None:
    """ASME PCC-2 Article 5.1 App. II: 360 Pt V (1 - (Pa/Pt)^0.286) ft-lb, psia and ft3. 100 psig in 1 ft3."""
    foot_pounds = 360 * 114.7 * (1 - (14.7 / 114.7) ** 0.286)
    assert t.stored_energy(0.0283168, 100 * 6894.757, 14.7 * 6894.757) == pytest.approx(foot_pounds * 1.35582, rel=1e-3)


def test_water_pressure_turns_water_head_round() -> None:
    """3.5 m of water are the 35 kPa of 46 CFR 119.435."""
    assert t.water_pressure(3.5) == pytest.approx(35e3, rel=0.03)
    assert t.water_head(t.water_pressure(0.15)) == pytest.approx(0.15)
