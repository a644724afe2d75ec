"""Golden: what each command prints, held so that a change of wording or number is seen. Ours only, no outside truth.

After a change that is meant: PRESTRIKE_GOLDEN=write python -m pytest tests/golden, then read the difference.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
HERE = Path(__file__).parent
TANK = "advisor/demo/coolant-tank.yaml"
BRACKET = "advisor/demo/guard-bracket.yaml"
PLATE = ("--thickness", "3.2 mm", "--joint", "butt")
PAIR = ("--metal", "6061", "--thickness", "3.2 mm", "--thickness", "6.4 mm", "--joint", "butt")
SHEET = ("--thickness", "1.5 mm", "--joint", "lap", "--process", "brazing")
SMALL = ("--box", "120 mm, 80 mm, 60 mm", "--service", "leak-tight")
TWO = ("--way", "tig-folded", "--way", "brazing")
FRAME = ("--frame", "24 in, 16 in, 1 1/4 in", "--way", "tig-mitred", "--way", "brazing")

# name -> (arguments, exit code)
CASES: dict[str, tuple[tuple[str, ...], int]] = {
    "setup-tank": (("setup", TANK), 0),
    "setup-bracket-inches": (("setup", BRACKET), 0),
    "setup-stainless": (("setup", "--metal", "304", *PLATE), 0),
    "setup-restricted": (("setup", "--metal", "A36", *PLATE, "--service", "lifting"), 0),
    "setup-refused": (("setup", "--metal", "7075", *PLATE), 4),
    "setup-wire-steel": (("setup", "--process", "135", "--metal", "A36", "-t", "3 mm", "--joint", "tee"), 0),
    "setup-wire-aluminium": (("setup", "--process", "131", "--metal", "6061", "-t", "4 mm", "--joint", "butt"), 0),
    "setup-stick": (("setup", "--process", "111", "--metal", "A36", "-t", "6 mm", "--joint", "tee"), 0),
    "setup-no-rule": (("setup", "--metal", "6061", "--thickness", "60 mm", "--joint", "butt"), 3),
    "prep-tank": (("prep", TANK), 0),
    "why-current": (("why", "current", TANK), 0),
    "setup-brazing": (("setup", "--metal", "3003", *SHEET), 0),
    "setup-brazing-refused": (("setup", "--metal", "6061-T6", *SHEET), 4),
    "why-margin": (("why", "brazing_margin", "--metal", "6061-T6", *SHEET), 4),
    "compare-box-6061": (("compare", "--metal", "6061-T6", "--thickness", "3.2 mm", *SMALL), 0),
    "compare-box-3003-why": (("compare", "--metal", "3003-H14", "--thickness", "2 mm", *SMALL, *TWO, "--why"), 0),
    "compare-frame-json": (("compare", "--metal", "A36", "--thickness", "16 ga", *FRAME, "--json"), 0),
    "heat-pair": (("heat", *PAIR, "--travel", "2 mm/s", "--half-width", "4 mm", "--arc-radius", "2 mm"), 0),
    "heat-tank": (("heat", TANK), 0),
    "heat-steel-json": (("heat", "--metal", "4130", *PLATE, "--json"), 0),
    "consumables-tank": (
        ("consumables", TANK, "--cylinder", "10 L", "--pressure", "150 bar", "--price-filler", "12 EUR/kg"),
        0,
    ),
    "consumables-bracket-inches": (("consumables", BRACKET, "--seam", "2 x 8 in"), 0),
    "blanks-tank": (("blanks", TANK, "--stock", "3000 mm"), 0),
    "blanks-stand-inches": (
        ("blanks", "--metal", "A36", "--thickness", "1/8 in", "--stand", "24 x 16 x 30 in", "--section", "1 1/2 in"),
        0,
    ),
    "strength-bracket": (
        (
            "strength",
            "--metal",
            "6061-T6",
            "--thickness",
            "3 mm",
            "--joint",
            "tee",
            "--leg",
            "4 mm",
            "--length",
            "80 mm",
            "--load",
            "20 kg",
            "--arm",
            "150 mm",
        ),
        0,
    ),
    "strength-restricted": (
        (
            "strength",
            "--metal",
            "S275",
            "--thickness",
            "6 mm",
            "--joint",
            "lap",
            "--leg",
            "5 mm",
            "--length",
            "100 mm",
            "--load",
            "5 kN",
            "--service",
            "structural",
        ),
        0,
    ),
    "strength-no-rule": (("strength", "--metal", "S235", "--thickness", "3 mm", "--joint", "tee", "--leg", "4 mm"), 3),
    "strength-json": (
        ("strength", "--metal", "304", "--thickness", "5 mm", "--joint", "butt", "--penetration", "3 mm", "--json"),
        0,
    ),
    "fit-seam-opens": (
        (
            "fit",
            "--metal",
            "6061-T6",
            "--bore",
            "62 mm",
            "--ring-inner",
            "52 mm",
            "--wall",
            "8 mm",
            "--fit",
            "P7/bearing",
            "--width",
            "16 mm",
            "--seam-penetration",
            "3 mm",
            "--service-temperature",
            "80 degC",
        ),
        0,
    ),
    "fit-bush-inches": (
        (
            "fit",
            "--metal",
            "S235",
            "--ring-metal",
            "bronze",
            "--bore",
            "1 in",
            "--ring-inner",
            "3/4 in",
            "--body-outer",
            "1 3/4 in",
            "--interference",
            "1 thou, 2 thou",
            "--width",
            "1 in",
        ),
        0,
    ),
    "inspect-tank": (("inspect", TANK), 0),
    "inspect-found-inches": (
        ("inspect", "--metal", "A36", "--thickness", "1/8 in", "--joint", "butt", "--found", "undercut 0.02 in"),
        0,
    ),
    "inspect-leak-refused": (("inspect", TANK, "--wall", "1200 mm, 900 mm", "--pressure", "20 kPa"), 4),
    "cracks-6061-bare": (("cracks", "--metal", "6061", *PLATE, "--filler", "none"), 0),
    "cracks-5052-4043": (("cracks", "--metal", "5052", *PLATE, "--filler", "4043"), 0),
    "cracks-2024": (("cracks", "--metal", "2024"), 4),
    "cracks-stainless-json": (("cracks", "--metal", "304", *PLATE, "--json"), 0),
    "learn-too-few": (("learn", "--journal", "advisor/demo/trials.csv", "--to", "1/16 in"), 3),
    "rules-diff": (("rules", "diff", "tests/golden/rules-old.yaml", "tests/golden/rules-new.yaml"), 0),
    "rules-lock": (("rules", "lock", "--built-in", "--check", "tests/rules/shipped.lock.json"), 0),
    "rules-check": (("rules", "check"), 0),
    "rules-test": (("rules", "test"), 0),
    "rules-show": (("rules", "show", "caution.closed-volume"), 0),
    "faults-soot": (("faults", "--metal", "5052", "--seen", "black soot", "--seen", "O09", "--not", "O13"), 0),
    "faults-job": (
        ("faults", TANK, "--used", "current=60 A", "--seen", "bead sits on top", "--cleaned-ago", "2 d"),
        0,
    ),
    "faults-unknown-word": (("faults", "--metal", "304", "--seen", "grey sugar on the back", "--seen", "florbl"), 2),
    "materials-list": (("materials", "list"), 0),
    "materials-show": (("materials", "show", "A356"), 0),
}


def masked(text: str) -> str:
    """Without the content hash, which every edit of a rule changes, and without digits beyond what is meant."""
    text = re.sub(r"\b[0-9a-f]{12,64}\b", "HASH", text)
    return re.sub(r"\d+\.\d{6,}(?:e-?\d+)?", lambda found: f"{float(found[0]):.5g}", text)


@pytest.mark.parametrize("name", CASES)
def test_output_is_as_last_agreed(prestrike: Run, name: str) -> None:
    arguments, code = CASES[name]
    ran = prestrike(*arguments)
    assert ran.code == code, ran.err
    if "--json" in arguments:
        json.loads(ran.out)
    else:
        assert max(len(line) for line in ran.out.splitlines()) <= 80
    kept = HERE / f"{name}.txt"
    if os.environ.get("PRESTRIKE_GOLDEN") == "write":
        kept.write_text(masked(ran.out), encoding="utf-8")
    assert masked(ran.out) == kept.read_text(encoding="utf-8")


def test_no_kept_output_without_its_case() -> None:
    assert {path.stem for path in HERE.glob("*.txt")} == set(CASES)
