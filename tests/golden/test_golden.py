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

# name -> (arguments, exit code)
CASES: dict[str, tuple[tuple[str, ...], int]] = {
    "setup-tank": (("setup", TANK), 0),
    "setup-bracket-inches": (("setup", BRACKET), 0),
    "setup-stainless": (("setup", "--metal", "304", *PLATE), 0),
    "setup-restricted": (("setup", "--metal", "A36", *PLATE, "--service", "lifting"), 0),
    "setup-refused": (("setup", "--metal", "7075", *PLATE), 4),
    "setup-no-rule": (("setup", "--metal", "6061", "--thickness", "60 mm", "--joint", "butt"), 3),
    "prep-tank": (("prep", TANK), 0),
    "why-current": (("why", "current", TANK), 0),
    "heat-pair": (("heat", *PAIR, "--travel", "2 mm/s", "--half-width", "4 mm", "--arc-radius", "2 mm"), 0),
    "heat-tank": (("heat", TANK), 0),
    "heat-steel-json": (("heat", "--metal", "4130", *PLATE, "--json"), 0),
    "rules-check": (("rules", "check"), 0),
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
