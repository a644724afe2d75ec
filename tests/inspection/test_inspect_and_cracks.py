"""`prestrike inspect` and `prestrike cracks` from the command line: exit codes, JSON, shop rules, harm."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]
BUTT = ("--thickness", "3.2 mm", "--joint", "butt")
BOX = ("--box", "300 mm, 200 mm, 150 mm")

SHOP_LIMITS = """\
kind: limits
ruleset: shop-limits
version: 1.0.0
schema: 1
history:
  - {version: 1.0.0, date: 2026-11-25, change: first set}
sources:
  - {id: shop, title: Our drawing for guards, kind: shop-habit, evidence: common-practice}
limits:
  - id: shop-undercut
    imperfection: "5011"
    name: undercut on guards
    code: our drawing
    metals: [aluminium]
    levels: [{level: C, allows: size, plus: 0.1 mm}]
    source: [{doc: shop}]
"""


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("inspect", "--metal", "6061", *BUTT, "--level", "A"), 2, "B, C or D"),
        (("inspect", "--metal", "6061", *BUTT, "--found", "undercut 0.4 kg"), 2, "unit of mass"),
        (("inspect", "--metal", "6061", *BUTT, "--pressure", "1 bar"), 2, "--wall"),
        (("inspect", "--metal", "6061", *BUTT, "--wall", "300 mm"), 2, "two sides"),
        (("inspect", "--metal", "6061", *BUTT, *BOX, "--start", "3 kPa, 20 degC"), 2, "two readings"),
        (("cracks", "--metal", "6061", "--filler", "9999"), 2, "ER9999"),
        (("cracks", "--metal", "6061", "--dilution", "1 %; 2 %; 3 %"), 2, "share of"),
        (("cracks", "--metal", "4130"), 3, ""),
        (("cracks", "--metal", "12L14"), 4, ""),
        (("inspect", "--metal", "A36", *BUTT, "--service", "fuel", *BOX), 4, ""),
    ],
)
def test_exit_codes_and_repairs(prestrike: Run, arguments: tuple[str, ...], code: int, words: str) -> None:
    ran = prestrike(*arguments)
    assert ran.code == code and words in ran.err and "Traceback" not in ran.err


def test_json_says_the_same(prestrike: Run) -> None:
    found = prestrike("inspect", "--metal", "5052", *BUTT, *BOX, "--found", "5011", "--json").json
    assert found["leak"]["air"] == "allowed" and found["leak"]["pressure_Pa"] == 3500.0
    assert found["found"][0]["numbers"] == ["5011"] and found["cautions"] and found["codes"]
    bead = prestrike("cracks", "--metal", "6061", "--filler", "none", *BUTT, "--json").json
    assert bead["bead"]["verdict"] == "peak" and bead["bead"]["filler"] is None
    assert all(zone["sources"] for zone in bead["bead"]["zones"])


def test_cautions_stand_and_restricted_work_is_stopped_first(prestrike: Run) -> None:
    for command in ("inspect", "cracks"):
        ran = prestrike(command, "--metal", "A36", *BUTT, "--service", "lifting")
        assert ran.out.index("STOP: lifting work") < ran.out.index("CAUTIONS") < ran.out.index("LICENSED PRACTICE")
        assert max(len(line) for line in ran.out.splitlines()) <= 80


def test_a_shop_adds_its_own_limit(prestrike: Run, tmp_path: Path) -> None:
    (tmp_path / "limits.yaml").write_text(SHOP_LIMITS, encoding="utf-8")
    ran = prestrike("inspect", "--metal", "6061", *BUTT, "--found", "undercut", "--rules", str(tmp_path))
    assert "undercut on guards (5011): at most 0.1 mm" in ran.out and "ISO 5817 C, undercut" in ran.out
    (tmp_path / "limits.yaml").write_text(SHOP_LIMITS.replace("allows: size", "allow: size"), encoding="utf-8")
    ran = prestrike("inspect", "--metal", "6061", *BUTT, "--found", "undercut", "--rules", str(tmp_path))
    assert ran.code == 2 and "LEFT OUT" in ran.out and "limits.yaml:15" in ran.out
