"""Each stated limit of the algebraic formulas from both sides: at it a number, just beyond it a refusal."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from advisor.physics import aluminium_strength as al
from advisor.physics import (
    brazing,
    cooling_time,
    dew_point,
    dilution,
    duty_cycle,
    gas,
    groove,
    heat_input,
    leak_test,
    preheat,
    shrink_fit,
    shrinkage,
)
from advisor.physics import plate_bending as pb
from advisor.physics import steel_strength as steel
from advisor.physics.ranges import PhysicsRangeError

Call = Callable[..., Any]
NONE = math.inf  # no limit there, or one that is itself refused

ZONE = al.HazStrength(92e6, 140e6, ())
ROW = al.haz_row("6061", "T6", "extrusion", 0.003)
S235 = steel.STEELS["S235"]
HUB, SHAFT = shrink_fit.Ring(0.02, 0.03, 69e9, 0.33), shrink_fit.Ring(0.0, 0.02, 207e9, 0.29)
WALL = pb.Wall(0.3, 0.3, 3e-3, 70e9)


def beyond(limit: float, direction: int) -> float:
    """A little beyond a limit: one part in a thousand, or a millionth beyond zero."""
    return limit + direction * max(abs(limit) * 1e-3, 1e-6)


# function, its other arguments, the argument tried, lower and upper limit (both allowed themselves)
CLOSED: list[tuple[Call, dict[str, Any], str, float, float]] = [
    (heat_input.arc_power, {"current": 100.0}, "voltage", 5.0, 60.0),
    (heat_input.conventional_load_voltage, {"process": "141"}, "current", NONE, 600.0),
    (heat_input.tig_voltage_spread, {}, "current", 75.0, 140.0),
    (heat_input.net_power, {"voltage": 12.0, "current": 100.0}, "efficiency", NONE, 1.0),
    (preheat.SteelChemistry, {}, "c", 0.0, 2.1),
    (preheat.SteelChemistry, {"c": 0.1}, "cr", 0.0, 8.0),
    (preheat.method_b_preheat_c, {"thickness_mm": 20, "hydrogen_ml_100g": 5, "heat_input_kj_mm": 1}, "cet", 0.2, 0.5),
    (
        preheat.method_b_preheat_c,
        {"cet": 0.3, "hydrogen_ml_100g": 5, "heat_input_kj_mm": 1},
        "thickness_mm",
        10.0,
        90.0,
    ),
    (
        preheat.method_b_preheat_c,
        {"cet": 0.3, "thickness_mm": 20, "heat_input_kj_mm": 1},
        "hydrogen_ml_100g",
        1.0,
        20.0,
    ),
    (preheat.method_b_preheat_c, {"cet": 0.3, "thickness_mm": 20, "hydrogen_ml_100g": 5}, "heat_input_kj_mm", 0.5, 4.0),
    (
        preheat.method_b_preheat_c,
        {"cet": 0.3, "thickness_mm": 20, "hydrogen_ml_100g": 5, "heat_input_kj_mm": 1},
        "yield_n_mm2",
        0.0,
        1000.0,
    ),
    (preheat.method_a_without_preheat, {"hydrogen_ml_100g": 4, "heat_input_kj_mm": 1}, "ce", 0.30, 0.49),
    (preheat.method_a_without_preheat, {"ce": 0.43, "hydrogen_ml_100g": 4}, "heat_input_kj_mm", 1.0, 2.0),
    (preheat.d1_1_minimum, {"category": "B"}, "thickness_mm", 3.0, NONE),
    (cooling_time.cooling_time_thick, {"heat_input_kj_mm": 1.0}, "start_c", -20.0, 450.0),
    (cooling_time.cooling_time_thick, {"heat_input_kj_mm": 1.0, "start_c": 20.0}, "factor", 0.3, 1.0),
    (cooling_time.transition_thickness_mm, {"heat_input_kj_mm": 1.0, "start_c": 20.0}, "thick_factor", 0.3, 1.0),
    (duty_cycle.duty_by_square, {"current": 50.0, "rated_current": 100.0}, "rated_duty", 0.01, 1.0),
    (duty_cycle.current_at_duty, {"rated_current": 100.0, "rated_duty": 0.2}, "duty", NONE, 1.0),
    (duty_cycle.current_at_duty, {"rated_current": 100.0, "duty": 1.0}, "rated_duty", 0.01, 1.0),
    (duty_cycle.greatest_current, {"rated": [(100.0, 0.5)]}, "duty", 0.01, 1.0),
    (duty_cycle.arc_minutes, {}, "duty", 0.0, 1.0),
    (groove.single_v_area, {"thickness": 5e-3, "gap": 1e-3, "root_face": 1e-3}, "included_deg", 0.0, 150.0),
    (groove.single_bevel_area, {"thickness": 5e-3, "gap": 1e-3, "root_face": 1e-3}, "bevel_deg", 0.0, 75.0),
    (groove.fillet_area, {"leg": 3e-3}, "angle_deg", 30.0, 150.0),
    (groove.cap_area, {"width": 4e-3}, "height", 0.0, 2e-3),
    (groove.bead_mass, {"area": 1e-6, "length": 1.0}, "density", 500.0, 25000.0),
    (groove.filler_length, {"area": 1e-6, "length": 1.0}, "rod_diameter", 0.1e-3, 20e-3),
    (groove.filler_length, {"area": 1e-6, "length": 1.0, "rod_diameter": 2e-3}, "efficiency", 0.3, 1.0),
    (groove.rods_needed, {"filler": 1.0, "rod_length": 1.0}, "stub", 0.0, NONE),
    (gas.argon_density, {}, "temperature_c", -20.0, 300.0),
    (gas.argon_density, {"temperature_c": 20.0}, "pressure", 50e3, 200e3),
    (gas.argon_viscosity, {}, "temperature_c", -20.0, 300.0),
    (gas.cup_bore, {}, "number", 3, 24),
    (gas.nozzle_reynolds, {"flow": 1e-4}, "bore", 1e-3, 50e-3),
    (gas.nozzle_velocity, {"flow": 1e-4}, "bore", 1e-3, 50e-3),
    (gas.argon_compressibility, {"pressure": 1e7}, "temperature_c", -10.0, 50.0),
    (gas.argon_compressibility, {"temperature_c": 15.0}, "pressure", NONE, 30.1e6),
    (gas.cylinder_mass, {"pressure": 1e7}, "volume", NONE, 1.0),
    (gas.time_left, {"flow": 1e-4}, "gas", 0.0, NONE),
    (gas.gas_used, {"flow": 1e-4}, "arc_time", 0.0, NONE),
    (gas.gas_used, {"flow": 1e-4, "arc_time": 1.0}, "flow_times", 0.0, NONE),
    (shrinkage.transverse_butt, {"area": 1e-5, "thickness": 5e-3}, "gap", 0.0, NONE),
    (shrinkage.transverse_tee, {"thickness": 5e-3}, "leg", NONE, 5e-3),
    (shrinkage.longitudinal_bowing, {"area": 1e-5, "length": 1.0, "inertia": 1e-8}, "offset", 0.0, NONE),
    (shrinkage.free_contraction, {"net_heat": 1e5, "thickness": 3e-3, "heat_capacity": 3e6}, "expansion", 1e-6, 40e-6),
    (shrinkage.free_contraction, {"net_heat": 1e5, "thickness": 3e-3, "expansion": 1e-5}, "heat_capacity", 1e6, 6e6),
    (steel.fillet_shear_design, {"beta_w": 0.9}, "fu", 200e6, 800e6),
    (steel.fillet_shear_design, {"fu": 400e6}, "beta_w", 0.8, 1.0),
    (steel.fillet_shear_design, {"fu": 400e6, "beta_w": 0.9}, "gamma", 1.0, 3.0),
    (steel.effective_length, {"throat": 3e-3}, "length", 36e-3, NONE),
    (steel.effective_length, {"throat": 6e-3}, "length", 48e-3, NONE),
    (steel.fillet_resistance, {"length": 0.1, "material": 5e-3, "steel": S235}, "throat", 3e-3, NONE),
    (steel.fillet_resistance, {"length": 0.1, "throat": 3e-3, "steel": S235}, "material", 4e-3, NONE),
    (steel.full_strength_throat_ratio, {"steel": S235}, "gamma_m0", 1.0, 3.0),
    (steel.partial_throat_d1_1, {"depth": 8e-3, "process": "111"}, "included_deg", 45.0, 120.0),
    (steel.sheet_side_fillet, {"thickness": 2e-3, "width": 0.1, "fu": 360e6}, "length", 16e-3, NONE),
    (steel.sheet_side_fillet, {"thickness": 2e-3, "width": 0.1, "length": 0.05}, "fu", 200e6, 800e6),
    (steel.sheet_side_fillet, {"thickness": 2e-3, "width": 0.1, "length": 0.05, "fu": 4e8}, "gamma", 1.0, 3.0),
    (steel.sheet_end_fillet, {"thickness": 2e-3, "width": 0.1, "fu": 360e6}, "length", 16e-3, 0.1),
    (al.haz_strength, {"row": ROW, "process": "141"}, "thickness", NONE, 20e-3),
    (al.haz_extent, {"process": "141", "alloy": "6061"}, "thickness", NONE, 6e-3),
    (al.haz_extent, {"process": "131", "alloy": "6061", "thickness": 3e-3}, "interpass_c", -20.0, 120.0),
    (al.tig_softening_dwight, {"alloy": "6061"}, "softening", 0.2, 1.0),
    (al.fillet_shear_design, {"weld_metal": 170e6}, "gamma_mw", 1.0, 3.0),
    (al.fillet_along, {"throat": 3e-3, "thickness": 5e-3, "weld_metal": 170e6, "haz": ZONE}, "length", 24e-3, NONE),
    (al.butt_strength, {"thickness": 3e-3, "weld_metal": 170e6, "haz": ZONE, "parent_fo": 2e8}, "gamma_mw", 1.0, 3.0),
    (shrink_fit.Ring, {"inner": 0.0, "outer": 0.02, "poisson": 0.3}, "modulus", 1e9, 700e9),
    (shrink_fit.Ring, {"inner": 0.0, "outer": 0.02, "modulus": 69e9}, "poisson", 0.0, 0.5),
    (shrink_fit.pressure, {"hub": HUB, "shaft": SHAFT}, "interference", 0.0, 0.02 / 50),
    (
        shrink_fit.pull_out_force,
        {"fit_pressure": 1e6, "radius": 0.02, "length": 0.03},
        "friction",
        0.01,
        1.0,
    ),
    (shrink_fit.heating_rise, {"interference": 1e-5, "clearance": 1e-5, "diameter": 0.04}, "expansion", 1e-6, 40e-6),
    (
        shrink_fit.interference_at,
        {"interference": 0.0, "diameter": 0.04, "hub_expansion": 2e-5, "shaft_expansion": 1e-5},
        "rise",
        -250.0,
        600.0,
    ),
    (shrink_fit.rigid_disc_stress, {"expansion": 1e-5, "modulus": 2e11}, "drop", 0.0, 600.0),
    (shrink_fit.rigid_disc_stress, {"expansion": 1e-5, "drop": 50.0}, "modulus", 1e9, 700e9),
    (shrink_fit.thin_ring_pressure, {"hoop": 1e8, "diameter": 0.1}, "thickness", NONE, 5e-3),
    (shrink_fit.seam_stress, {"tension": 1e5, "wall": 5e-3}, "penetration", NONE, 5e-3),
    (brazing.brazing_margin, {"working_c": 580.0}, "base_solidus_c", 200.0, 1600.0),
    (brazing.brazing_margin, {"base_solidus_c": 640.0}, "working_c", 150.0, 1200.0),
    (brazing.control_demand, {}, "margin", -1500.0, 1500.0),
    (brazing.margin_holds, {"margin": 20.0}, "control_error", 0.0, 1000.0),
    (pb.Wall, {"long": 0.3, "short": 0.2, "modulus": 70e9}, "thickness", NONE, 0.05),
    (pb.Wall, {"long": 0.3, "thickness": 1e-3, "modulus": 70e9}, "short", 4e-3, 0.3),
    (pb.Wall, {"long": 0.3, "short": 0.2, "thickness": 1e-3}, "modulus", 1e9, 700e9),
    (leak_test.expected_gauge, {"start_gauge": 1e3, "start_c": 20.0}, "end_c", -40.0, 100.0),
    (leak_test.expected_gauge, {"start_c": 20.0, "end_c": 20.0}, "start_gauge", -100e3, 1e6),
    (leak_test.temperature_swing, {"gauge": 1e3, "temperature_c": 20.0}, "barometer", 50e3, 110e3),
    (leak_test.pressure_lost, {"start_gauge": 1e3, "start_c": 20.0, "end_c": 20.0}, "end_gauge", -100e3, 1e6),
    (leak_test.water_head, {}, "pressure", 0.0, NONE),
    (dew_point.dew_point_c, {"humidity": 0.5}, "air_c", -45.0, 60.0),
    (dew_point.dew_point_c, {"air_c": 20.0}, "humidity", 0.01, 1.0),
    (dew_point.dew_point_margin, {"air_c": 20.0, "humidity": 0.5}, "surface_c", -60.0, 1000.0),
    (dilution.bead_composition, {"base": {"Mg": 1.0}, "filler": {"Mg": 5.0}}, "base_share", 0.0, 1.0),
    (dilution.filler_share_for, {"base": 1.0, "filler": 5.0}, "wanted", 1.0, 5.0),
    (dilution.base_share, {"bead": 2e-5}, "melted_base", 0.0, 2e-5),
    (dilution.mg2si_content, {"silicon": 1.0}, "magnesium", 0.0, 100.0),
    (dilution.crack_peak_side, {"element": "Si"}, "content", 0.0, 100.0),
]

# function, its other arguments, the argument that must be above zero
ABOVE_ZERO: list[tuple[Call, dict[str, Any], str]] = [
    (heat_input.arc_energy, {"voltage": 12.0, "current": 100.0}, "travel"),
    (heat_input.arc_power, {"voltage": 12.0}, "current"),
    (heat_input.heat_input_of_energy, {"length": 1.0, "factor": 0.6}, "energy"),
    (heat_input.heat_input_of_energy, {"energy": 1e3, "factor": 0.6}, "length"),
    (heat_input.conventional_load_voltage, {"process": "141"}, "current"),
    (heat_input.net_power, {"voltage": 12.0, "current": 100.0}, "efficiency"),
    (cooling_time.cooling_time_thin, {"heat_input_kj_mm": 1.0, "start_c": 20.0}, "thickness_mm"),
    (cooling_time.cooling_time_thick, {"start_c": 20.0}, "heat_input_kj_mm"),
    (preheat.method_a_without_preheat, {"ce": 0.43, "heat_input_kj_mm": 1.0}, "hydrogen_ml_100g"),
    (groove.square_butt_area, {"gap": 1e-3}, "thickness"),
    (groove.fillet_area, {"leg": 3e-3}, "other_leg"),
    (groove.filler_length, {"area": 1e-6, "rod_diameter": 2e-3}, "length"),
    (gas.nozzle_reynolds, {"bore": 0.01}, "flow"),
    (gas.time_left, {"gas": 1.0}, "flow"),
    (shrinkage.longitudinal_butt, {"length": 1.0, "thickness": 3e-3}, "current"),
    (shrinkage.angular_flange, {"leg": 2e-3, "thickness": 3e-3}, "width"),
    (steel.throat_of_leg, {}, "leg"),
    (steel.leg_of_throat, {}, "throat"),
    (al.fillet_shear_design, {}, "weld_metal"),
    (al.butt_strength, {"weld_metal": 170e6, "haz": ZONE, "parent_fo": 2e8}, "thickness"),
    (shrink_fit.ring_tension, {"fit_pressure": 1e6}, "radius"),
    (shrink_fit.heating_rise, {"interference": 1e-5, "clearance": 1e-5, "expansion": 1e-5}, "diameter"),
    (pb.safe_leak_pressure, {"wall": WALL}, "allowable"),
    (leak_test.leak_rate, {"lost": 10.0, "duration": 10.0}, "volume"),
    (leak_test.leak_rate, {"lost": 10.0, "volume": 0.01}, "duration"),
    (dilution.base_share, {"melted_base": 0.0}, "bead"),
]


def named(case: Any) -> str:
    return f"{case.__module__.rsplit('.', 1)[-1]}.{case.__name__}" if callable(case) else str(case)[:24]


@pytest.mark.parametrize(("function", "others", "argument", "low", "high"), CLOSED, ids=named)
def test_a_limit_holds_and_beyond_it_is_refused(
    function: Call, others: dict[str, Any], argument: str, low: float, high: float
) -> None:
    for limit, direction in ((low, -1), (high, 1)):
        if limit == NONE:
            continue
        assert function(**others, **{argument: limit}) is not None
        with pytest.raises(PhysicsRangeError):
            function(**others, **{argument: beyond(limit, direction)})


@pytest.mark.parametrize(("function", "others", "argument"), ABOVE_ZERO, ids=named)
def test_zero_and_below_are_refused(function: Call, others: dict[str, Any], argument: str) -> None:
    for bad in (0.0, -1.0, math.nan, math.inf):
        with pytest.raises(PhysicsRangeError):
            function(**others, **{argument: bad})


@pytest.mark.parametrize(("function", "others", "argument", "low", "high"), CLOSED, ids=named)
def test_what_is_not_a_number_is_never_let_in(
    function: Call, others: dict[str, Any], argument: str, low: float, high: float
) -> None:
    with pytest.raises(PhysicsRangeError):
        function(**others, **{argument: math.nan})
