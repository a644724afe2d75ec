"""Every flag of every command that answers for a job: another value gives another answer, or the answer names the flag.

The flags come from the application. A flag without a row in the tables below fails, so that a new one gets its own.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.flags.test_every_flag import FLAGS, call

MACHINE = "advisor/demo/bench-machine.yaml"
PLATE = {"--metal": "6061-T6", "--thickness": "3 mm", "--joint": "butt"}
TEE = {**PLATE, "--joint": "tee"}
STEEL = {"--metal": "A36", "--thickness": "3 mm", "--joint": "tee"}
MIG, STICK = {**STEEL, "--process": "MIG"}, {**STEEL, "--process": "stick"}


class Case(NamedTuple):
    """A job in which a flag matters, and two things to say with it; None says nothing, True is a flag of its own."""

    job: dict[str, str]
    one: str | bool | None
    other: str | bool | None


# Flags that describe a job, each in a job where it matters to whoever welds it.
JOB = {
    "--metal": Case(PLATE, "6061-T6", "304"),
    "--thickness": Case(PLATE, "2 mm", "3 mm"),
    "--joint": Case(PLATE, "butt", "corner-open"),
    "--weld": Case(TEE, "fillet", "groove"),
    "--position": Case(PLATE, "PA", "PF"),
    "--process": Case(STEEL, "TIG", "MIG"),
    "--surface": Case(STEEL, "clean", "galvanised"),
    "--form": Case(PLATE, "sheet", "casting"),
    "--service": Case(PLATE, "leak-tight", "anodised-after"),
    "--machine": Case(PLATE, None, MACHINE),
    "--filler": Case(PLATE, "ER4043", "ER5356"),
    "--access": Case(PLATE, "one-side", "both-sides"),
    "--backing": Case(PLATE, "none", "copper"),
    "--place": Case(PLATE, "indoors", "confined"),
    "--solvent": Case(PLATE, "acetone", "chlorinated"),
    "--gas": Case(PLATE, "argon", "helium"),
    "--tungsten": Case(PLATE, "WLa15", "WTh20"),
    "--transfer": Case(MIG, "short-circuit", "spray"),
    "--wire": Case(MIG, "0.6 mm", "0.9 mm"),
    "--electrode": Case(STICK, "E6013", "E7018"),
    "--electrode-diameter": Case(STICK, "2.5 mm", "3.2 mm"),
    "--leg": Case(TEE, "3 mm", "5 mm"),
    "--length": Case(PLATE, "200 mm", "400 mm"),
    "--closed-volume": Case(PLATE, None, True),
    "--used-container": Case(PLATE, None, True),
}
# What a command needs beside the job. A box stands for a part; a seam makes --length needless, and that is told.
NEEDS: dict[str, tuple[str, ...]] = {
    "setup": (),
    "prep": (),
    "why": ("current",),
    "heat": (),
    "compare": ("--box", "300 mm, 200 mm, 150 mm"),
    "consumables": ("--seam", "300 mm"),
    "blanks": ("--box", "300 mm, 200 mm, 150 mm"),
    "strength": ("--length", "80 mm"),
    "sheet": (),
    "faults": ("--seen", "porosity"),
    "cracks": (),
    "inspect": (),
}
# Flags that say how and where the answer is printed, or which rules are read.
PRINTING = {"--json", "--brief", "--units", "--rules", "--output", "--jobs", "--picture", "--paper", "--list", "--why"}
PART = {"blanks": {**PLATE, "--joint": "corner-closed"}}
BOX = "300 mm, 200 mm, 150 mm"
LOADED = {**TEE, "--leg": "4 mm", "--length": "80 mm", "--load": "20 kg"}
FRAMED = {"--metal": "A36", "--thickness": "3 mm", "--frame": "600 mm, 400 mm", "--section": "40 mm"}
BOXED = {**PLATE, "--joint": "corner-closed", "--box": BOX}
SEAM = {**PLATE, "--seam": "300 mm"}
GAUGED = {**SEAM, "--cylinder": "10 L", "--pressure": "150 bar"}
TESTED = {**PLATE, "--box": BOX, "--pressure": "3 kPa"}
READ = {**PLATE, "--box": BOX, "--start": "3.5 kPa, 20 degC", "--end": "2.5 kPa, 20 degC", "--after": "30 min"}
# Flags of one command.
OWN: dict[str, dict[str, Case]] = {
    "heat": {
        "--travel": Case({**PLATE, "--metal": "5052"}, None, "2 mm/s"),
        "--half-width": Case(PLATE, None, "4 mm"),
        "--arc-radius": Case(PLATE, None, "2 mm"),
        "--box": Case(PLATE, None, BOX),
    },
    "compare": {
        "--box": Case(PLATE, BOX, "200 mm, 100 mm, 100 mm"),
        "--bracket": Case(PLATE, "60 mm, 40 mm, 50 mm", "90 mm, 40 mm, 50 mm"),
        "--frame": Case(PLATE, "600 mm, 400 mm, 30 mm", "500 mm, 400 mm, 30 mm"),
        "--way": Case({**PLATE, "--box": BOX}, None, "tig-folded"),
        "--price-filler": Case({**PLATE, "--box": BOX}, "12 EUR/kg", "20 EUR/kg"),
        "--price-gas": Case({**PLATE, "--box": BOX}, "25 EUR/m3", "40 EUR/m3"),
    },
    "consumables": {
        "--seam": Case(PLATE, "300 mm", "4 x 300 mm"),
        "--sides": Case(SEAM, "1", "2"),
        "--rod-length": Case(SEAM, "1000 mm", "500 mm"),
        "--stub": Case(SEAM, "20 mm", "200 mm"),
        "--cylinder": Case(GAUGED, "10 L", "20 L"),
        "--pressure": Case(GAUGED, "150 bar", "100 bar"),
        "--temperature": Case(GAUGED, "5 degC", "35 degC"),
        "--price-filler": Case(SEAM, "12 EUR/kg", "20 EUR/kg"),
        "--price-gas": Case(SEAM, "25 EUR/m3", "40 EUR/m3"),
    },
    "blanks": {
        "--box": Case(BOXED, BOX, "200 mm, 100 mm, 100 mm"),
        "--frame": Case(FRAMED, "600 mm, 400 mm", "500 mm, 400 mm"),
        "--stand": Case(
            {**STEEL, "--joint": "tee", "--section": "40 mm"}, "600 mm, 400 mm, 700 mm", "600 mm, 400 mm, 500 mm"
        ),
        "--bracket": Case({**PLATE, "--section": "40 mm", "--joint": "tee"}, "60 mm, 40 mm", "90 mm, 40 mm"),
        "--section": Case(FRAMED, "40 mm", "30 mm"),
        "--outside": Case(BOXED, None, True),
        "--lid": Case(BOXED, None, True),
        "--corner": Case({**PLATE, "--box": BOX}, "closed", "open"),
        "--through": Case(BOXED, "floor", "walls"),
        "--skim": Case(BOXED, "0 mm", "1 mm"),
        "--trim": Case(BOXED, None, "1 mm"),
        "--shrinkage": Case(BOXED, "0 mm", "1 mm"),
        "--kerf": Case(FRAMED, "1 mm", "3 mm"),
        "--end-trim": Case({**FRAMED, "--stock": "3000 mm"}, None, "20 mm"),
        "--tolerance": Case(BOXED, "0.5 mm", "1 mm"),
        "--chamfer": Case(BOXED, "1 mm", "3 mm"),
        "--bore": Case(BOXED, "10 mm", "20 mm"),
        "--gap": Case(BOXED, None, "1 mm"),
        "--stock": Case(FRAMED, "3000 mm", "6000 mm"),
    },
    "strength": {
        "--throat": Case({**TEE, "--length": "80 mm"}, "3 mm", "4 mm"),
        "--penetration": Case(PLATE, "2 mm", "3 mm"),
        "--seams": Case(LOADED, "1", "2"),
        "--full-ends": Case({**LOADED, "--leg": "5 mm", "--metal": "S235", "--thickness": "6 mm"}, None, True),
        "--held": Case({**PLATE, "--thickness": "6 mm", "--metal": "S235", "--penetration": "4 mm"}, None, True),
        "--lap-width": Case(
            {**STEEL, "--metal": "S235", "--joint": "lap", "--leg": "3 mm", "--length": "80 mm"}, "30 mm", "60 mm"
        ),
        "--overlap": Case({**TEE, "--joint": "lap"}, "10 mm", "60 mm"),
        "--load": Case(LOADED, "20 kg", "40 kg"),
        "--clamp": Case({**LOADED, "--clamp": "3 kN"}, "3 kN", "4 kN"),
        "--direction": Case(LOADED, "along", "across"),
        "--arm": Case(LOADED, "100 mm", "200 mm"),
        "--offset": Case(LOADED, "100 mm", "200 mm"),
        "--group": Case(
            {**LOADED, "--arm": "100 mm", "--group-width": "50 mm", "--group-height": "80 mm"}, "two-lines", "all-round"
        ),
        "--group-height": Case(
            {**LOADED, "--arm": "100 mm", "--group": "all-round", "--group-width": "50 mm"}, "80 mm", "60 mm"
        ),
        "--group-width": Case({**LOADED, "--arm": "100 mm", "--group": "all-round"}, "50 mm", "60 mm"),
        "--pressure": Case({**TEE, "--panel": "300 mm, 200 mm"}, "5 kPa", "10 kPa"),
        "--panel": Case({**TEE, "--pressure": "5 kPa"}, "300 mm, 200 mm", "200 mm, 100 mm"),
    },
    "cracks": {"--dilution": Case(PLATE, "40 %", "70 %")},
    "inspect": {
        "--level": Case(PLATE, "B", "D"),
        "--face-width": Case(PLATE, "6 mm", "9 mm"),
        "--root-width": Case(PLATE, "3 mm", "5 mm"),
        "--found": Case(PLATE, "undercut 0.2 mm", "undercut 0.9 mm"),
        "--wall": Case({**PLATE, "--pressure": "3 kPa"}, "300 mm, 200 mm", "200 mm, 100 mm"),
        "--box": Case(PLATE, BOX, "200 mm, 100 mm, 100 mm"),
        "--volume": Case(READ, "9 L", "5 L"),
        "--pressure": Case(TESTED, "1 kPa", "3 kPa"),
        "--start": Case(READ, "3.5 kPa, 20 degC", "3.4 kPa, 20 degC"),
        "--end": Case(READ, "3.2 kPa, 18 degC", "3.1 kPa, 18 degC"),
        "--after": Case(READ, "30 min", "60 min"),
    },
    "faults": {
        "--seen": Case({"--metal": "6061"}, "porosity", "black soot"),
        "--not": Case({"--metal": "6061", "--seen": "porosity"}, None, "black soot"),
        "--used": Case({**PLATE, "--seen": "porosity"}, None, "gas_flow=2 L/min"),
        "--cleaned-ago": Case({**PLATE, "--seen": "porosity"}, "10 min", "48 h"),
        "--job": Case({"--seen": "porosity"}, None, "advisor/demo/coolant-tank.yaml"),
    },
}
# Commands whose every flag is tried.
ASKED = ("setup", "prep", "why", "strength", "cracks", "inspect", "consumables")
# What only acts at a terminal, or on the journal: tests/faults/test_faults.py.
JOURNAL = {"--ask", "--trial", "--accept", "--layer", "--journal"}


def words(given: dict[str, str], flag: str, value: str | bool | None) -> list[str]:
    rest = [text for name, said in given.items() if name != flag for text in (name, said)]
    return rest if value is None else [*rest, flag] if value is True else [*rest, flag, str(value)]


def ask(command: str, arguments: list[str], folder: Path) -> tuple[int, Any, str]:
    """The exit code, the answer without its job, and all that was printed."""
    if command == "sheet":
        page = folder / "sheet.md"
        code, out, err = call(command, *arguments, "-o", str(page))
        return code, page.read_text(encoding="utf-8") if code == 0 else "", out + err
    code, out, err = call(command, *arguments, "--json")
    answer = json.loads(out) if out else {}
    answer.pop("job", None)
    idle = answer.pop("no_effect", [])
    return code, answer, err + json.dumps([*idle, *answer.get("errors", [])])


def effect(command: str, flag: str, case: Case, folder: Path) -> str:
    """Empty where the flag counts or is named; else what is wrong."""
    own = flag in OWN.get(command, {})
    given = {**case.job, **({} if own or flag == "--joint" else PART.get(command, {}))}
    needs = [] if flag in NEEDS[command] or (own and command != "why") else list(NEEDS[command])
    one = ask(command, [*needs, *words(given, flag, case.one)], folder)
    other = ask(command, [*needs, *words(given, flag, case.other)], folder)
    if 1 in (one[0], other[0]):
        return f"{command} {flag}: exit 1 {one[2][:200]} {other[2][:200]}"
    name = {"--wire": "wire_diameter", "--tungsten": "tungsten_type"}.get(flag, flag[2:].replace("-", "_"))
    named = any(name in text or flag in text for text in (one[2], other[2]))
    return "" if named or one[1] != other[1] else f"{command} {flag}: nothing changes and nothing says so"


def test_every_flag_has_a_case() -> None:
    missing = [
        str(flag)
        for flag in FLAGS
        if flag.command[0] in NEEDS
        and flag.name
        not in {*JOB, *OWN.get(flag.command[0], {}), *PRINTING, *(JOURNAL if flag.command[0] == "faults" else ())}
    ]
    assert not missing


@pytest.mark.parametrize("command", ASKED)
def test_every_flag_counts_or_is_named(command: str, tmp_path: Path) -> None:
    own = OWN.get(command, {})
    offered = [flag.name for flag in FLAGS if flag.command == (command,)]
    cases = {name: own.get(name) or JOB[name] for name in offered if name in own or name in JOB}
    found = [effect(command, name, case, tmp_path) for name, case in cases.items()]
    assert not [text for text in found if text]
