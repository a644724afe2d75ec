"""Heat input: published examples, the code's factors, the load lines, laws."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.diagnostics import Exit
from advisor.physics import heat_input as h
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

volts = st.floats(5.0, 60.0)
amps = st.floats(1.0, 600.0)
speeds = st.floats(1e-4, 0.1)


def test_p1_1_course_example() -> None:
    """Welding course page: 20 V, 300 A, 2.5 mm/s, k 1 -> 2400 J/mm."""
    assert h.heat_input(20.0, 300.0, 2.5e-3, 1.0) == pytest.approx(2400e3)
    assert h.arc_energy(20.0, 300.0, 2.5e-3) == pytest.approx(2.4e6)


def test_p1_2_gate_question() -> None:
    """GATE question: 500 A, 20 V, 20 mm/min, 0.9 -> 27.0 kJ/mm."""
    assert h.heat_input(20.0, 500.0, 20e-3 / 60, 0.9) == pytest.approx(27.0e6)


def test_p1_3_aws_handbook_net_heat() -> None:
    """AWS Welding Handbook vol. 1 case: 20 V, 200 A, 5 mm/s, f1 0.9 -> 720 J/mm."""
    assert h.net_power(20.0, 200.0, 0.9) / 5e-3 == pytest.approx(720e3)


@pytest.mark.parametrize(("current", "golden"), [(60, 12.4), (100, 14.0), (150, 16.0), (200, 18.0)])
def test_c1_1_tig_load_line_golden(current: float, golden: float) -> None:
    assert h.conventional_load_voltage("141", current) == pytest.approx(golden)


def test_load_lines_end_where_iec_60974_1_stops_rising() -> None:
    """IEC 60974-1: 34 V for TIG, 44 V for stick and for wire at 600 A."""
    assert h.conventional_load_voltage("141", 600.0) == pytest.approx(34.0)
    assert h.conventional_load_voltage("111", 600.0) == pytest.approx(44.0)
    assert h.conventional_load_voltage("135", 600.0) == pytest.approx(44.0)
    with pytest.raises(PhysicsRangeError, match="600 A"):
        h.conventional_load_voltage("141", 601.0)


@pytest.mark.parametrize(
    ("low_a", "high_a", "low_v", "high_v"),
    [(75, 90, 11, 13), (75, 100, 11, 13), (80, 105, 14, 16), (90, 110, 14, 16), (100, 120, 14, 16), (120, 140, 14, 16)],
)
def test_tig_voltage_spread_meets_the_manuals_root_runs(
    low_a: float, high_a: float, low_v: float, high_v: float
) -> None:
    """Power-source manual, TIG root runs on steel pipe: the middle of its volts lies in our spread."""
    spread = h.tig_voltage_spread(0.5 * (low_a + high_a))
    assert spread.low <= 0.5 * (low_v + high_v) <= spread.high


@pytest.mark.parametrize("current", [74.0, 141.0])
def test_no_voltage_spread_where_none_was_seen(current: float) -> None:
    with pytest.raises(PhysicsRangeError, match="from 75 to 140 A"):
        h.tig_voltage_spread(current)


@pytest.mark.parametrize(
    ("process", "factor"),
    [("141", 0.6), ("15", 0.6), ("151", 0.6), ("111", 0.8), ("131", 0.8), ("135", 0.8), ("136", 0.8), ("121", 1.0)],
)
def test_code_factors_of_en_1011_1(process: str, factor: float) -> None:
    """EN 1011-1 Table 1."""
    assert h.code_factor(process).value == factor


def test_a_process_outside_the_table_is_refused_with_a_near_name() -> None:
    with pytest.raises(NotCoveredError) as caught:
        h.code_factor("143")
    assert "did you mean '14" in caught.value.diagnostics[0].help
    assert caught.value.exit_code is Exit.NO_RULE


def test_supply_side_volts_are_refused() -> None:
    """A printed study gives 200 to 320 V for TIG: the mains side, not the arc."""
    with pytest.raises(PhysicsRangeError, match="arc voltage is 200 V"):
        h.arc_energy(200.0, 100.0, 2e-3)


def test_tig_power_spread_brackets_the_measured_efficiencies() -> None:
    """0.67 (DuPont and Marder), 0.78 (IIW mean) and 0.51 (Fuerschbach) lie between its ends."""
    spread = h.tig_net_power(10.0, 100.0)
    for measured in (0.51, 0.67, 0.78):
        assert spread.low <= measured * 1000.0 <= spread.high
    assert spread.middle == pytest.approx(650.0)
    assert all(source.document for source in spread.sources)


@given(volts, amps, speeds, st.floats(0.05, 1.0))
def test_heat_input_is_net_power_over_travel(voltage: float, current: float, travel: float, factor: float) -> None:
    per_length = h.heat_input(voltage, current, travel, factor)
    assert per_length == pytest.approx(h.net_power(voltage, current, factor) / travel)
    assert per_length <= h.arc_energy(voltage, current, travel) * (1 + 1e-12)


@given(volts, amps, speeds, st.floats(0.01, 100.0))
def test_a_run_and_its_energy_say_the_same(voltage: float, current: float, travel: float, seconds: float) -> None:
    """Steady arc: EN 1011-1 and ISO/TR 18491 agree."""
    of_energy = h.heat_input_of_energy(voltage * current * seconds, travel * seconds, 0.6)
    assert of_energy == pytest.approx(h.heat_input(voltage, current, travel, 0.6))


@given(volts, amps, speeds, st.floats(1.001, 3.0))
def test_faster_is_colder(voltage: float, current: float, travel: float, times: float) -> None:
    assert h.arc_energy(voltage, current, travel * times) < h.arc_energy(voltage, current, travel)


@pytest.mark.parametrize("factor", [0.0, -0.1, 1.01, float("nan")])
def test_factors_stay_between_none_and_all(factor: float) -> None:
    with pytest.raises(PhysicsRangeError):
        h.net_power(12.0, 100.0, factor)
