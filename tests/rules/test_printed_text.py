"""Limits and steps against the printed text they cite, typed from each document apart from the rule files."""

from __future__ import annotations

from typing import Any

import pytest

from advisor.job.reader import JobBuilder
from advisor.resources import rules_folder
from advisor.rulebook.library import Rulebook
from advisor.rulebook.reading.yaml_text import read_yaml
from advisor.setup.answer import advise
from advisor.units.quantities import UnitTable


def shipped(name: str) -> dict[str, Any]:
    data: dict[str, Any] = read_yaml(rules_folder() / f"{name}.yaml").data
    return data


def entry(name: str, part: str, identity: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in shipped(name)[part] if one["id"] == identity)
    return found


def documents(source: list[dict[str, Any]]) -> set[str]:
    return {one["doc"] for one in source if one.get("evidence") != "memory"}


# Filler maker's table on preheat and interpass temperature of aluminium (migal.co), highest preheat and interpass in
# degrees C: alloys that do not harden by heat 120 / 120; 6xxx and hardenable castings 120 / 100; 7xxx 100 / 80.
CEILINGS = {
    "3003": (120, 120),
    "5052": (120, 120),
    "6061": (120, 100),
    "6082": (120, 100),
    "7005": (100, 80),
    "7020": (100, 80),
}


@pytest.mark.parametrize("metal", CEILINGS)
def test_no_alloy_is_let_run_hotter_than_its_row(rulebook: Rulebook, units: UnitTable, metal: str) -> None:
    job = JobBuilder(rulebook, units).build({"members": [{"metal": metal, "thickness": "6 mm"}], "joint": "butt"})
    advice = advise(rulebook, job)
    found = {**advice.settings, **advice.preparation}
    for topic, most in zip(("preheat", "interpass"), CEILINGS[metal], strict=True):
        # Within a kelvin of the printed figure, whatever unit the answer is held in.
        high = found[topic].high
        assert min(abs(high - most), abs(high - most - 273.15)) < 1 or high < most, (metal, topic, high)


def test_undersize_fillets_are_limited_under_every_load() -> None:
    """AWS D1.1, Table 6.1 (2000 and 2004), row (6): marked for static, cyclic and tubular connections alike."""
    row = entry("inspection/limits-aws", "limits", "aws-fillet-under")
    assert {one["level"]: one["plus"] for one in row["levels"]} == {"static": "2 mm", "cyclic": "2 mm"}


@pytest.mark.parametrize("identity", ["overlap", "burn-through", "root-porosity"])
def test_level_b_rows_cite_the_sheet_that_prints_level_b(identity: str) -> None:
    """Level B comparison sheet: no overlap, burn-through or root porosity. The level C sheet prints only level C."""
    row = entry("inspection/limits-iso-5817-shape", "limits", identity)
    for level, sheet in (("B", "RB"), ("C", "RC")):
        found = next(one for one in row["levels"] if one["level"] == level)
        assert found["allows"] == "none" and documents(found.get("source", row["source"])) == {sheet}


def test_a_crack_is_taken_out_as_the_handbook_prints() -> None:
    """Gas Tungsten Arc Welding Handbook: p. 278, no grinding wheels on nonferrous metals but small rotary carbide
    tools; p. 280, .010 to .015 in (.25 to .38 mm) deeper. AWS D1.1:2015, 5.25.1.4: 2 in [50 mm] beyond each end."""
    steps = " ".join(entry("inspection/repairs", "repairs", "crack-grind-out")["do"])
    assert "0.25 to 0.38 mm (0.010 to 0.015 in)" in steps and "50 mm (2 in) past each end" in steps
    assert "carbide burr, no grinding wheel" in steps


def test_every_grinding_of_a_repair_spares_aluminium() -> None:
    """Gas Tungsten Arc Welding Handbook, p. 278: no grinding wheel on nonferrous metals."""
    for one in shipped("inspection/repairs")["repairs"]:
        for step in one["do"]:
            if one["id"] in ("lack-of-fusion", "incomplete-root", "too-much") and "rind" in step:
                assert "aluminium: burr" in step or "steel: or grind" in step, step


def test_undersize_and_excess_follow_the_clause_on_repairs() -> None:
    """AWS D1.1:2015: 5.25.1.1 excessive weld metal is removed; 5.25.1.2 undersize: prepared, weld metal added."""
    for identity, clause in (("size", "5.25.1.2"), ("too-much", "5.25.1.1")):
        source = entry("inspection/repairs", "repairs", identity)["source"]
        assert any(one["doc"] == "D11" and clause in one["at"] for one in source)


def test_scale_comes_off_with_a_hard_wheel() -> None:
    """Article on preparation: a hard rock wheel, for wire wheels and zirconia flap wheels polish the scale; notes of a
    power-source maker: a stone disc, not a flap disc."""
    step = entry("cleaning/steel", "rules", "clean.fe.scale")["step"]
    assert step["with"] == "a hard grinding wheel, not a flap disc"


def test_flux_residue_names_no_time() -> None:
    """Flux maker's article on flame brazing of aluminium: corrosive residue is washed off; it prints no time."""
    hazard = entry("safety/torch", "rules", "caution.torch.residue")["caution"]["hazard"]
    assert "eats the aluminium through" in hazard and "week" not in hazard


# Rows as printed: (file, entry, element, low %, high %, document)
ROWS = [
    # Wrought alloys table: 2011 with lead and bismuth 0.20 to 0.60 each
    ("aluminium-refused", "2011", "Pb", "0.2 %", "0.6 %", "WROUGHT"),
    ("aluminium-refused", "2011", "Bi", "0.2 %", "0.6 %", "WROUGHT"),
    # Stockist's page of AlZn4,5Mg1: zirconium and titanium together 0.08 to 0.25
    ("aluminium-7xxx-and-castings", "7020", "Ti", None, "0.25 %", "STOCK7020"),
]


@pytest.mark.parametrize(("name", "metal", "element", "low", "high", "document"), ROWS)
def test_composition_rows(name: str, metal: str, element: str, low: str | None, high: str, document: str) -> None:
    rows = entry(f"materials/{name}", "materials", metal)["composition"]
    found = next(one for one in rows if one["element"] == element)
    assert (found.get("low"), found["high"]) == (low, high) and document in documents(found["source"])


def test_gauges_follow_the_printed_columns() -> None:
    """Sheet shop's table of metal gauges (mrlmfg.com), in: steel and aluminium."""
    printed = {
        "steel": {3: 0.2391, 10: 0.1345, 12: 0.1046, 14: 0.0747, 16: 0.0598, 18: 0.0478, 20: 0.0359, 24: 0.0239},
        "aluminium": {10: 0.1019, 12: 0.0808, 14: 0.0641, 16: 0.0508, 18: 0.0403, 20: 0.0320, 24: 0.0201},
    }
    for kind, column in printed.items():
        table = next(
            one for one in shipped("materials/gauges")["gauges"] if kind in one["families"] or one["id"] == kind
        )
        rows = {one["gauge"]: float(str(one["thickness"]).split()[0]) for one in table["rows"]}
        assert {gauge: rows[gauge] for gauge in column} == pytest.approx(column, abs=0.00006)
