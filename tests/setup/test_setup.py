"""`prestrike setup` as a person or a script meets it: exit codes, JSON contract, cautions that cannot be lost."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

Run = Callable[..., Any]
ROOT = Path(__file__).resolve().parents[2]
SCHEMA = Draft202012Validator(json.loads((ROOT / "schemas/advice.schema.json").read_text(encoding="utf-8")))
UNITS = {
    "current": "A", "tungsten_diameter": "mm", "filler_diameter": "mm", "nozzle_bore": "mm", "gas_flow": "L/min",
    "arc_voltage": "V", "travel_speed": "mm/min",
}  # fmt: skip
METALS = ("6061-T6", "A36", "304")
JOINTS = ("butt", "tee", "lap", "corner", "edge", "fillet")
SIZES = ("0.8 mm", "1/16 in", "2 mm", "1/8 in", "4.8 mm", "6 mm", "1/4 in", "8 mm", "9.5 mm", "3/8 in")


def ask(prestrike: Run, *arguments: str) -> Any:
    ran = prestrike("setup", *arguments, "--json")
    assert ran.err == ""
    SCHEMA.validate(ran.json)
    return ran


@pytest.mark.parametrize("metal", METALS)
@pytest.mark.parametrize("joint", JOINTS)
def test_every_setting_is_there_for_every_metal_and_joint(prestrike: Run, metal: str, joint: str) -> None:
    for size in (SIZES[0], SIZES[3], SIZES[-1]):
        ran = ask(prestrike, "--metal", metal, "--thickness", size, "--joint", joint)
        assert ran.code == 0
        for name, unit in UNITS.items():
            found = ran.json["settings"][name]
            assert found["unit"] == unit
            assert found["low"] <= found["start"] <= found["high"]
            assert found["trail"] and found["spread"]["sources"]
        for choice in ("polarity", "filler", "tungsten_type", "gas"):
            assert ran.json["choices"][choice][0]["rank"] == 1
        assert ran.json["cleaning"] and ran.json["holding"] and ran.json["coupon"]
        assert ran.json["preparation"]["choices"]["groove"][0]["rank"] == 1


@pytest.mark.parametrize("metal", ["7075", "7075-T6", "2024", "2024-T3", "2011", "6262-T9", "12L14", "303"])
def test_alloys_that_must_not_be_welded_are_refused(prestrike: Run, metal: str) -> None:
    ran = ask(prestrike, "--metal", metal, "--thickness", "3 mm", "--joint", "butt")
    assert ran.code == 4
    assert ran.json["status"] == "refused"
    assert ran.json["refusals"][0]["reason"] and ran.json["refusals"][0]["instead"]
    assert ran.json["settings"] == {}


def test_aluminium_to_steel_is_refused(prestrike: Run) -> None:
    ran = ask(prestrike, "--metal", "6061", "--metal", "A36", "--thickness", "3 mm", "--joint", "lap")
    assert ran.code == 4


def test_plate_beyond_the_tables_names_what_is_covered(prestrike: Run) -> None:
    ran = ask(prestrike, "--metal", "6061-T6", "--thickness", "60 mm", "--joint", "butt")
    assert ran.code == 3
    assert ran.json["no_rule"][0]["covered_high"] < 60
    text = prestrike("setup", "--metal", "6061-T6", "--thickness", "60 mm", "--joint", "butt")
    assert text.code == 3 and "the rules cover" in " ".join(text.out.split())


CAUTIONS = [
    (["--metal", "A36", "--surface", "galvanised"], "caution.galvanised"),
    (["--metal", "304"], "caution.stainless.chromium"),
    (["--metal", "A36", "--solvent", "chlorinated"], "caution.chlorinated"),
    (["--metal", "304", "--tungsten", "WTh20"], "caution.thoriated"),
    (["--metal", "304", "--tungsten", "2 % thoriated"], "caution.thoriated"),
    (["--metal", "304", "--tungsten", "WTh30"], "caution.thoriated"),
    (["--metal", "304", "--tungsten", "red"], "caution.thoriated"),
    (["--metal", "304"], "caution.capture"),
    (["--metal", "A36", "--process", "111", "--place", "outdoors"], "caution.voltage"),
    (["--metal", "3003", "--process", "912"], "caution.torch.store"),
    (["--metal", "6061", "--closed-volume"], "caution.closed-volume"),
    (["--metal", "A36", "--used-container", "--service", "fuel"], "caution.used-container"),
]


@pytest.mark.parametrize(("arguments", "rule"), CAUTIONS)
def test_hazards_bring_their_caution(prestrike: Run, arguments: list[str], rule: str) -> None:
    ran = ask(prestrike, *arguments, "--thickness", "2 mm", "--joint", "lap")
    assert rule in [caution["rule_id"] for caution in ran.json["cautions"]]
    plain = prestrike("setup", *arguments, "--thickness", "2 mm", "--joint", "lap", "--brief")
    caution = next(item for item in ran.json["cautions"] if item["rule_id"] == rule)
    assert caution["hazard"].split(":")[0][:40] in " ".join(plain.out.split())


@pytest.mark.parametrize("service", ["structural", "pressure", "lifting", "vehicle", "occupied-space", "food", "fuel"])
def test_restricted_service_says_so_first(prestrike: Run, service: str) -> None:
    arguments = ("--metal", "6061-T6", "--thickness", "3 mm", "--joint", "tee", "--service", service)
    ran = ask(prestrike, *arguments)
    assert ran.json["practice_only"] is True
    assert "practice coupons only" in ran.json["restricted"]["message"]
    assert any(code["restricted"] for code in ran.json["codes"])
    text = " ".join(prestrike("setup", *arguments).out.split())
    assert text.index("PRACTICE COUPONS ONLY") < text.index("Current ")


BAD = [
    (["--metal", "6061", "--thickness", "1,5 mm", "--joint", "butt"], "decimal-comma"),
    (["--metal", "6061", "--thickness", "3.2", "--joint", "butt"], "missing-unit"),
    (["--metal", "6061", "--thickness", "0 mm", "--joint", "butt"], "not-positive"),
    (["--metal", "6061", "--thickness", "-3 mm", "--joint", "butt"], "not-positive"),
    (["--metal", "6061", "--thickness", "nan mm", "--joint", "butt"], "not-finite"),
    (["--metal", "60611", "--thickness", "3 mm", "--joint", "butt"], "unknown-metal"),
    (["--metal", "6061", "--thickness", "3 mm", "--joint", "but"], "unknown-value"),
    (["--metal", "6061", "--thickness", "3 mm"], "missing-joint"),
    (["--thickness", "3 mm", "--joint", "butt"], "missing-metal"),
    (["--metal", "6061", "--thickness", "3 mm", "--joint", "butt", "--position", "sideways"], "unknown-value"),
    (["nowhere.yaml"], "cannot-read"),
]


@pytest.mark.parametrize(("arguments", "code"), BAD)
def test_bad_input_is_one_clear_error(prestrike: Run, arguments: list[str], code: str) -> None:
    ran = prestrike("setup", *arguments)
    assert ran.code == 2
    assert (code in ran.err and "help:" in ran.err) or code == "cannot-read"
    assert "Traceback" not in ran.err and ran.out == ""
    as_json = prestrike("setup", *arguments, "--json")
    assert as_json.json["errors"][0]["code"] == code


def test_near_misses_suggest(prestrike: Run) -> None:
    assert "6061" in prestrike("setup", "--metal", "60611", "--thickness", "3 mm", "--joint", "butt").err
    assert "'butt'" in prestrike("setup", "--metal", "6061", "--thickness", "3 mm", "--joint", "but").err
    assert "--metal" in prestrike("setup", "--metl", "6061").err


def test_a_machine_that_cannot_is_told_so_and_nothing_is_clipped(prestrike: Run, tmp_path: Path) -> None:
    machine = tmp_path / "small.yaml"
    machine.write_text("kind: machine\nschema: 1\ncurrent_type: ac-dc\nhighest_current: 120 A\n", encoding="utf-8")
    ran = ask(prestrike, "--metal", "6061", "--thickness", "6 mm", "--joint", "butt", "--machine", str(machine))
    assert ran.json["machine"]["status"] == "short"
    assert ran.json["machine"]["instead"]
    assert ran.json["settings"]["current"]["start"] > 120
    machine.write_text("kind: machine\nschema: 1\ncurrent_type: dc\nhighest_current: 200 A\n", encoding="utf-8")
    ran = ask(prestrike, "--metal", "6061", "--thickness", "2 mm", "--joint", "butt", "--machine", str(machine))
    assert ran.json["machine"]["status"] == "wrong-current"


def test_a_misspelt_key_in_a_job_names_line_and_nearest(prestrike: Run, tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    text = (ROOT / "advisor/demo/guard-bracket.yaml").read_text(encoding="utf-8").replace("thickness:", "thicknes:")
    job.write_text(text, encoding="utf-8")
    ran = prestrike("setup", str(job))
    line = text.splitlines().index("    thicknes: 1/8 in") + 1
    assert ran.code == 2
    assert f"job.yaml:{line}:5: unknown-key" in ran.err and "did you mean 'thickness'?" in ran.err


def test_both_unit_systems_the_users_first(prestrike: Run) -> None:
    metric = prestrike("setup", "--metal", "304", "--thickness", "3.2 mm", "--joint", "butt").out
    inch = prestrike("setup", "--metal", "304", "--thickness", "1/8 in", "--joint", "butt").out
    assert "3.2 mm (1/8 in)" in metric
    assert "1/8 in (3.2 mm)" in inch


def test_gauge_only_where_the_metal_is_known(prestrike: Run) -> None:
    """Machinery's Handbook: 16 gauge is 0.0598 in of steel (manufacturers' standard), 0.0508 in of aluminium."""
    steel = ask(prestrike, "--metal", "A36", "--thickness", "16 ga", "--joint", "butt").json
    aluminium = ask(prestrike, "--metal", "3003", "--thickness", "16 ga", "--joint", "butt").json
    assert steel["job"]["members"][0]["thickness_mm"] == pytest.approx(0.0598 * 25.4, rel=1e-3)
    assert aluminium["job"]["members"][0]["thickness_mm"] == pytest.approx(0.0508 * 25.4, rel=1e-3)


def test_lines_keep_to_80_columns(prestrike: Run) -> None:
    for job in ("coolant-tank.yaml", "guard-bracket.yaml"):
        out = prestrike("setup", str(ROOT / "advisor/demo" / job)).out
        assert max(len(line) for line in out.splitlines()) <= 80
