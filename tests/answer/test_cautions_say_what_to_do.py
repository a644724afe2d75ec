"""No caution is ever shown without its instruction: every command, as text, as a page and as JSON."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from advisor.cli.main import COMMANDS
from advisor.rulebook.library import Rulebook

Run = Callable[..., Any]
PLATE = ("--metal", "6061-T6", "--thickness", "3 mm", "--joint", "butt")
TANK = "advisor/demo/coolant-tank.yaml"
BOX = ("--metal", "6061-T6", "--thickness", "3 mm", "--box", "120 mm, 80 mm, 60 mm")
JOURNAL = "advisor/demo/trials.csv"
# command -> ways to ask it that show cautions. A new command must be entered here or below.
SHOWN: dict[str, tuple[tuple[str, ...], ...]] = {
    "setup": (
        PLATE,
        (*PLATE, "--brief"),
        (TANK, "--brief"),
        ("--metal", "7075", *PLATE[2:]),
        ("--metal", "7075", *PLATE[2:], "--brief"),
        ("--metal", "304", *PLATE[2:], "--process", "stick", "--brief"),
        ("--metal", "3003", "-t", "1.5 mm", "--joint", "lap", "--process", "brazing", "--brief"),
        ("--metal", "6061", "--thickness", "60 mm", "--joint", "butt"),
    ),
    "prep": (PLATE,),
    "heat": (PLATE,),
    "compare": (BOX,),
    "consumables": ((*PLATE, "--length", "300 mm"),),
    "blanks": (BOX,),
    "strength": ((*PLATE[:4], "--joint", "tee", "--leg", "4 mm", "--length", "80 mm", "--load", "20 kg"),),
    "fit": (
        ("--metal", "6061-T6", "--bore", "62 mm", "--ring-inner", "52 mm", "--wall", "8 mm", "--fit", "P7/bearing",
         "--width", "16 mm"),
    ),
    "faults": (("--metal", "6061", "--seen", "black soot"),),
    "cracks": (PLATE,),
    "inspect": (PLATE, (*PLATE, "--found", "undercut 0.5 mm")),
}  # fmt: skip
PAGES = ("sheet",)
# These repeat an answer's own lines one at a time, ask, or speak of no job.
WITHOUT = {"why", "ask", "demo", "rules", "materials", "trial", "learn", "recheck"}
CASES = [(name, *words) for name, asked in SHOWN.items() for words in asked]


@pytest.fixture(scope="module")
def instructions(rulebook: Rulebook) -> dict[str, set[str]]:
    """Every hazard the rules know, with what rules say to do about it."""
    found: dict[str, set[str]] = {}
    for rule in rulebook.index.rules("caution"):
        found.setdefault(plain(rule.body["hazard"]), set()).add(plain(rule.body["do"]))
    return found


def plain(text: str) -> str:
    return " ".join(re.sub(r"[*!]+", " ", text).split()).rstrip(".")


def hazards_without(text: str, instructions: dict[str, set[str]]) -> tuple[int, list[str]]:
    """(hazards shown, those that what to do does not follow at once)."""
    text, shown, bare = plain(text), 0, []
    for hazard, ways in instructions.items():
        for place in re.finditer(re.escape(hazard) + r"(?=[.:])", text):
            shown += 1
            after = text[place.end() :].lstrip(".: ")
            if not any(after.startswith(do) for do in ways):
                bare.append(hazard)
    return shown, bare


def dicts(value: Any) -> Iterator[dict[str, Any]]:
    if isinstance(value, dict):
        yield value
    for item in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from dicts(item)


def test_every_command_is_looked_at() -> None:
    assert set(COMMANDS) == set(SHOWN) | set(PAGES) | WITHOUT


@pytest.mark.parametrize("words", CASES, ids=" ".join)
def test_text(prestrike: Run, instructions: dict[str, set[str]], words: tuple[str, ...]) -> None:
    ran = prestrike(*words)
    assert ran.code in (0, 3, 4), ran.err
    shown, bare = hazards_without(ran.out, instructions)
    assert shown >= 3, "no caution was shown"
    assert not bare
    assert max(len(line) for line in ran.out.splitlines()) <= 80


@pytest.mark.parametrize("words", [case for case in CASES if "--brief" not in case], ids=" ".join)
def test_json(prestrike: Run, instructions: dict[str, set[str]], words: tuple[str, ...]) -> None:
    found = [item for item in dicts(prestrike(*words, "--json").json) if "hazard" in item]
    assert len(found) >= 3, "no caution was shown"
    for item in found:
        assert plain(item["do"]) in instructions[plain(item["hazard"])]


@pytest.mark.parametrize("kind", ["html", "md"])
def test_sheet(prestrike: Run, instructions: dict[str, set[str]], kind: str, tmp_path: Path) -> None:
    page = tmp_path / f"sheet.{kind}"
    ran = prestrike("sheet", *PLATE, "-o", str(page))
    assert ran.code == 0, ran.err
    text = page.read_text(encoding="utf-8")
    if kind == "html":
        text = html.unescape(re.sub(r"<[^>]+>", " ", re.sub(r"(?s)<(style|svg).*?</\1>", " ", text)))
        text = re.sub(r"\s+([.:])", r"\1", text)
    shown, bare = hazards_without(text, instructions)
    assert shown >= 3 and not bare


def test_batch(prestrike: Run, instructions: dict[str, set[str]], tmp_path: Path) -> None:
    rows = tmp_path / "jobs.csv"
    rows.write_text("metal,thickness,joint\n6061-T6,3 mm,butt\n304,2 mm,tee\n", encoding="utf-8")
    for more in ((), ("--brief",), ("--json",)):
        out = tmp_path / "-".join(("out", *more))
        ran = prestrike("setup", "--jobs", str(rows), "--output", str(out), *more)
        assert ran.code == 0, ran.err
        for answer in sorted(path for path in out.iterdir() if path.suffix in (".txt", ".json")):
            text = answer.read_text(encoding="utf-8")
            if answer.suffix == ".json":
                assert all(item["do"] for item in dicts(json.loads(text)) if "hazard" in item)
            else:
                shown, bare = hazards_without(text, instructions)
                assert shown >= 3 and not bare
