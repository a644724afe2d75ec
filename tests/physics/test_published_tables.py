"""The published tables typed in a second time: a slip of one figure in either copy shows.

Values from the documents named; the limits of the formulas are in `test_formula_limits.py`.
"""

from __future__ import annotations

import pytest

from advisor.physics import aluminium_strength as al
from advisor.physics import aluminium_tables as alt
from advisor.physics import brazing, cooling_time, dilution, groove, heat_input, preheat, shrink_fit, shrinkage
from advisor.physics import steel_strength as steel
from advisor.physics.constants import KSI

MPA = 1e6


def test_code_factors_of_en_1011_1() -> None:
    """EN 1011-1 Table 1: TIG and plasma 0.6, submerged arc 1.0, all other arcs 0.8."""
    found = {process: factor.value for process, factor in heat_input.CODE_FACTORS.items()}
    wire_and_stick = dict.fromkeys(("111", "114", "131", "135", "136", "137"), 0.8)
    assert found == {**wire_and_stick, "12": 1.0, "15": 0.6, "141": 0.6, "142": 0.6}


@pytest.mark.parametrize("process", heat_input.LOAD_LINES)
def test_load_lines_of_iec_60974_1(process: str) -> None:
    """At 100 A: stick 24 V, MIG/MAG 19 V, TIG 14 V."""
    expected = {"11": 24.0, "13": 19.0, "14": 14.0}[process[:2]]
    assert heat_input.conventional_load_voltage(process, 100.0) == pytest.approx(expected)
    assert heat_input.conventional_load_voltage(process, 200.0) - expected == pytest.approx(
        5.0 if process[:2] == "13" else 4.0
    )


def test_measured_efficiencies_as_published() -> None:
    """Stenbacka 2012; DuPont and Marder 1995; Fuerschbach 1998; Christensen 1965; Chacon-Fernandez."""
    spans = [(row.low, row.high) for row in heat_input.MEASURED_EFFICIENCIES]
    assert spans == [
        (0.36, 0.90),
        (0.73, 0.82),
        (0.67, 0.67),
        (0.84, 0.84),
        (0.47, 0.47),
        (0.51, 0.51),
        (0.21, 0.48),
        (0.22, 0.48),
        (0.36, 0.46),
        (0.87, 0.87),
    ]
    assert heat_input.TIG_EFFICIENCIES[1] == heat_input.TIG_EFFICIENCY_SPREAD.middle


@pytest.mark.parametrize(
    ("hydrogen", "row"),
    [
        (15.1, (25, 50, 40, 80)),
        (15.0, (30, 55, 50, 90)),
        (10.1, (30, 55, 50, 90)),
        (5.0, (50, 100, 100, 100)),
        (3.1, (50, 100, 100, 100)),
    ],
)
def test_method_a_rows(hydrogen: float, row: tuple[int, ...]) -> None:
    """EN 1011-2:2001 + A1:2003 Table C.1: CE 0.49 at 1.0 and 2.0 kJ/mm, CE 0.43 at 1.0 and 2.0."""
    cells = [(0.49, 1.0), (0.49, 2.0), (0.43, 1.0), (0.43, 2.0)]
    assert tuple(preheat.method_a_without_preheat(ce, hydrogen, heat).combined_mm for ce, heat in cells) == row


def test_method_a_row_of_least_hydrogen() -> None:
    """Same table, up to 3 ml/100 g: 100, 100, 100, and no figure for CE 0.49 at 1.0 kJ/mm."""
    for ce, heat in ((0.49, 2.0), (0.43, 1.0), (0.43, 2.0)):
        for hydrogen in (0.05, 3.0):
            assert preheat.method_a_without_preheat(ce, hydrogen, heat).combined_mm == 100.0


@pytest.mark.parametrize(("thickness", "row"), [(20.0, 0), (20.01, 1), (38.0, 1), (38.01, 2), (65.0, 2), (65.01, 3)])
def test_d1_1_rows_change_where_printed(thickness: float, row: int) -> None:
    """AWS D1.1:2015 Table 3.3: 3-20, over 20-38, over 38-65, over 65 mm; degF by category."""
    printed = {"A": (32, 150, 225, 300), "B": (32, 50, 150, 225), "C": (50, 150, 225, 300)}
    for category, fahrenheit in printed.items():
        assert preheat.d1_1_minimum(category, thickness).fahrenheit == fahrenheit[row]
    assert preheat.d1_1_minimum("A", 3.0).celsius == preheat.d1_1_minimum("B", 3.0).celsius == 0.0
    assert preheat.D1_1_COLD == 20.0


def test_pcm_weighs_vanadium_and_boron() -> None:
    """Ito and Bessyo: 0.1 % V counts 0.01, 0.002 % B counts 0.01."""
    assert preheat.pcm(preheat.SteelChemistry(0.10, v=0.1)) == pytest.approx(0.11)
    assert preheat.pcm(preheat.SteelChemistry(0.10, b=0.002)) == pytest.approx(0.11)
    assert preheat.ce_iiw(preheat.SteelChemistry(0.10, v=0.1, ni=0.15)) == pytest.approx(0.13)


def test_shape_factors_of_en_1011_2() -> None:
    """EN 1011-2 Annex D (memory): F2 low, F2 high, F3."""
    found = {name: (row.thin_low, row.thin_high, row.thick) for name, row in cooling_time.SHAPES.items()}
    assert found == {
        "run on plate": (1.0, 1.0, 1.0),
        "between runs in a butt": (0.9, 0.9, 0.9),
        "fillet at a corner": (0.9, 0.9, 0.67),
        "fillet at a tee": (0.45, 0.67, 0.67),
    }


def test_deposition_shares() -> None:
    """Filler maker's consumption pages; hardfacing page for bare rod."""
    found = {name: (row.low, row.high) for name, row in groove.DEPOSITION.items()}
    assert found == {
        "submerged arc": (0.99, 0.99),
        "solid wire": (0.93, 0.98),
        "stick": (0.59, 0.66),
        "bare rod": (0.98, 0.98),
    }


def test_shrinkage_figures() -> None:
    """TWI; Mathers 2002 p. 85: freezing 5 % aluminium, 3 % steel, a further 7 % on cooling."""
    found = {name: (row.low, row.high, row.per_length) for name, row in shrinkage.ALLOWANCES.items()}
    assert found == {
        "fillet, transverse": (0.8e-3, 0.8e-3, None),
        "60 degree V butt, transverse": (1.5e-3, 3.0e-3, None),
        "fillet, longitudinal": (0.8e-3, 0.8e-3, 3.0),
        "butt, longitudinal": (3e-3, 3e-3, 3.0),
    }
    assert {name: share for name, (share, _) in shrinkage.FREEZING.items()} == {"aluminium": 0.05, "carbon steel": 0.03}
    assert shrinkage.STEEL_COOLING_SHARE[0] == 0.07


def test_steel_grades() -> None:
    """EN 10025-2, EN 1993-1-1 Table 3.1: fy equals the grade's number, fu as listed, MPa."""
    fu = [(name, round(grade.fu / MPA)) for name, grade in steel.STEELS.items()]
    assert [each for _, each in fu] == [360, 410, 430, 470, 490, 510]
    for name, grade in steel.STEELS.items():
        assert grade.fy / MPA == pytest.approx(float(name[1:4]))


ZONES = {
    ("3003", "H14", "sheet"): (125, 145, 37, 90),
    ("3003", "H24", "sheet"): (115, 140, 37, 90),
    ("3103", "H14", "sheet"): (120, 140, 44, 90),
    ("3103", "H24", "sheet"): (110, 140, 44, 90),
    ("5005", "O", "sheet"): (35, 100, 35, 100),
    ("5005", "H14", "sheet"): (120, 145, 44, 100),
    ("5005", "H34", "sheet"): (110, 145, 44, 100),
    ("5052", "H12", "sheet"): (160, 210, 80, 170),
    ("5052", "H32", "sheet"): (130, 210, 80, 170),
    ("5052", "H14", "sheet"): (180, 230, 80, 170),
    ("5052", "H34", "sheet"): (150, 230, 80, 170),
    ("5083", "O", "sheet"): (125, 275, 125, 275),
    ("5083", "H12", "sheet"): (250, 305, 155, 275),
    ("5083", "H22", "sheet"): (215, 305, 155, 275),
    ("5083", "H14", "sheet"): (280, 340, 155, 275),
    ("5083", "H34", "sheet"): (250, 340, 155, 275),
    # Lloyd's Register, Rules for Linkspans, Pt 3 Ch 2 Table 2.1.2; 5086-H112 unwelded from a plate maker's table.
    ("5083", "H112", "sheet"): (125, 275, 125, 275),
    ("5083", "H116", "sheet"): (215, 305, 125, 275),
    ("5086", "O", "sheet"): (100, 240, 95, 240),
    ("5086", "H112", "sheet"): (105, 250, 95, 240),
    ("5086", "H116", "sheet"): (195, 275, 95, 240),
    # Unwelded from EN 485-2 (memory).
    ("5086", "H32", "sheet"): (185, 275, 95, 240),
    ("5086", "H34", "sheet"): (220, 300, 95, 240),
    ("5454", "O", "sheet"): (85, 215, 85, 215),
    ("5454", "H14", "sheet"): (220, 270, 105, 215),
    ("5454", "H34", "sheet"): (200, 270, 105, 215),
    ("5754", "O", "sheet"): (80, 190, 80, 190),
    ("5754", "H14", "sheet"): (190, 240, 100, 190),
    ("5754", "H34", "sheet"): (160, 240, 100, 190),
    ("6061", "T4", "sheet"): (110, 205, 95, 150),
    ("6061", "T651", "sheet"): (240, 290, 115, 175),
    ("6082", "T4", "sheet"): (110, 205, 100, 160),
    ("6082", "T6", "sheet"): (260, 310, 125, 185),
    ("7020", "T6", "sheet"): (280, 350, 205, 280),
    ("5083", "H112", "extrusion"): (110, 270, 110, 270),
    ("5083", "H22", "drawn tube"): (200, 280, 135, 270),
    ("5083", "H14", "drawn tube"): (235, 300, 135, 270),
    ("5754", "O", "extrusion"): (80, 180, 80, 180),
    ("5754", "H14", "drawn tube"): (180, 240, 100, 180),
    ("6060", "T6", "extrusion"): (140, 170, 60, 100),
    ("6060", "T66", "extrusion"): (160, 215, 65, 110),
    ("6061", "T4", "extrusion"): (110, 180, 95, 150),
    ("6061", "T6", "drawn tube"): (240, 260, 115, 175),
    ("6063", "T5", "extrusion"): (130, 175, 60, 100),
    ("6063", "T6", "extrusion"): (160, 195, 65, 110),
    ("6063", "T66", "extrusion"): (200, 245, 75, 130),
    ("6005A", "T6", "extrusion"): (225, 270, 115, 165),
    ("6082", "T6", "extrusion"): (250, 290, 125, 185),
}


@pytest.mark.parametrize("key", ZONES, ids="-".join)
def test_heat_affected_rows(key: tuple[str, str, str]) -> None:
    """EN 1999-1-1 Tables 3.2a (memory) and 3.2b (read), ship plate as said there: fo, fu, fo,haz, fu,haz in MPa."""
    row = al.haz_row(*key, 3e-3)
    assert tuple(round(each / MPA) for each in (row.fo, row.fu, row.fo_haz, row.fu_haz)) == ZONES[key]


def test_every_heat_affected_row_is_checked_and_ends_at_its_printed_thickness() -> None:
    thick = al.haz_row("6082", "T6", "sheet", 8e-3)
    assert tuple(round(each / MPA) for each in (thick.fo, thick.fu, thick.fo_haz, thick.fu_haz)) == (255, 300, 125, 185)
    rows = {id(al.haz_row(*key, 3e-3)) for key in ZONES} | {id(thick)}
    assert rows == {id(row) for row in alt.HAZ_ROWS}
    ship_h1, ship_5086 = [12.5] * 2, [12.5] * 5
    sheet = [15] * 3 + [12.5, 15, 12.5, 12.5] + [15] * 7 + ship_h1 + [15] * 2 + ship_5086 + [15] * 8
    sheet += [12.5, 6, 12.5, 12.5]
    printed = [*sheet, 200, 10, 5, 25, 10, 15, 3, 25, 20, 3, 25, 10, 5, 5]
    assert [row.thickest * 1e3 for row in alt.HAZ_ROWS] == pytest.approx(printed)


def test_weld_metal_of_en_1999_1_1() -> None:
    """EN 1999-1-1 Table 8.8 (memory), MPa."""
    found = {filler: {p: round(fw / MPA) for p, fw in row.items()} for filler, row in alt.WELD_METAL.items()}
    assert found["5356"] == {
        "5052": 170,
        "5083": 240,
        "5454": 220,
        "6005A": 180,
        "6060": 160,
        "6061": 190,
        "6082": 210,
        "7020": 260,
    }
    assert found["4043A"] == {"3103": 95, "6005A": 160, "6060": 150, "6061": 170, "6082": 190, "7020": 210}


def test_us_welded_and_filler_strengths() -> None:
    """Aluminum Design Manual, and ABS for 5083-H116 and 5086: tensile and yield as welded; fillet shear, ksi."""
    ksi = [tuple(round(each / KSI, 2) for each in (*row.ftu, row.fty[0])) for row in alt.WELDED_US]
    ships = [(40, 40, 24)] * 2 + [(35, 35, 19)] * 3 + [(35, 35, 14)]
    assert ksi == [(24, 24, 15), (24, 24, 11), (25, 25, 9.5), (39, 40, 18), *ships, (14, 14, 5), (11, 11, 3.5)]
    shear = {name: tuple(round(each / KSI, 2) for each in pair) for name, pair in alt.FILLET_SHEAR_US.items()}
    assert shear == {"4043": (11.5, 15.0), "5356": (17.0, 26.0)}


@pytest.mark.parametrize(
    ("thickness", "extent"), [(6.0, 20), (6.01, 30), (12.0, 30), (12.01, 35), (25.0, 35), (25.01, 40)]
)
def test_mig_extents_change_where_printed(thickness: float, extent: float) -> None:
    """EN 1999-1-1 cl. 6.1.6.3 (memory)."""
    assert al.haz_extent("131", thickness / 1e3, "6061") == pytest.approx(extent / 1e3)


@pytest.mark.parametrize(("alloy", "factor"), [("5083", 1.5), ("6061", 1.5), ("7020", 1.75)])
def test_interpass_rule_at_its_end(alloy: str, factor: float) -> None:
    """EN 1999-1-1 cl. 6.1.6.3 (memory) at 120 degC."""
    assert al.haz_extent("141", 3e-3, alloy, 120.0) == pytest.approx(factor * 30e-3)


def test_extents_of_other_sources_and_shrink_fit_figures() -> None:
    """Dwight: 25 mm each way; course text: friction 0.15 to 0.20; temper of 6xxx lost from 120-150 degC."""
    assert al.ONE_INCH_RULE[0] == 25e-3
    assert (shrink_fit.FRICTION.low, shrink_fit.FRICTION.high) == (0.15, 0.20)
    assert shrink_fit.HEATING_LIMIT_6XXX_C == (120.0, 150.0)


def test_brazing_figures() -> None:
    """Brazing pages: 560-615 degC, soldering below 450, 1 % Mg, 0.006-0.025 in; makers' melting ranges."""
    assert brazing.USUAL_RANGE_C == (560.0, 615.0)
    assert brazing.BRAZING_FROM_C == 450.0
    assert brazing.MOST_MAGNESIUM[0] == 1.0
    for ours, inch in zip(brazing.JOINT_CLEARANCE, (0.006, 0.025), strict=True):
        assert ours == pytest.approx(inch * 0.0254, abs=6e-6)
    melting = {name: (row.solidus_c, row.liquidus_c) for name, row in brazing.FILLERS.items() if row.range_c is None}
    assert melting == {"Al88Si12": (575.0, 585.0), "Zn98Al2": (376.0, 385.0), "Zn78Al22": (426.0, 482.0)}


def test_dilution_figures() -> None:
    """Filler maker's guide p. 19 and textbook shares; peaks of the cracking curves (memory)."""
    shares = {name: (row.low, row.high) for name, row in dilution.FILLER_SHARES.items()}
    assert shares == {"square butt": (0.2, 0.4), "single V": (0.6, 0.8)}
    peaks = {name: (row.low, row.high) for name, row in dilution.CRACK_PEAKS.items()}
    assert peaks == {"Si": (0.5, 1.0), "Mg": (1.0, 1.5), "Cu": (3.0, 3.0), "Mg2Si": (1.0, 1.0)}
