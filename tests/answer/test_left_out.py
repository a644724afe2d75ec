"""A shop file that cannot be used: every command that answers names it with its place and ends with exit code 2."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

PLATE = ("--metal", "6061-T6", "--thickness", "3 mm", "--joint", "tee")
BOX = ("--metal", "6061-T6", "--thickness", "3 mm", "--box", "100 mm, 80 mm, 50 mm")
RING = ("--metal", "6061-T6", "--bore", "62 mm", "--ring-inner", "52 mm", "--wall", "8 mm", "--fit", "P7/bearing")

COMMANDS: dict[str, tuple[str, ...]] = {
    "setup": ("setup", *PLATE),
    "prep": ("prep", *PLATE),
    "why": ("why", "current", *PLATE),
    "heat": ("heat", *PLATE),
    "sheet": ("sheet", *PLATE, "-o", "sheet.md"),
    "consumables": ("consumables", *PLATE, "--length", "100 mm"),
    "strength": ("strength", *PLATE, "--leg", "4 mm", "--length", "80 mm"),
    "inspect": ("inspect", *PLATE),
    "cracks": ("cracks", *PLATE),
    "compare": ("compare", *BOX),
    "blanks": ("blanks", *BOX),
    "fit": ("fit", *RING),
    "faults": ("faults", *PLATE, "--seen", "O08"),
    "faults of a metal": ("faults", "--metal", "aluminium", "--seen", "O08"),
    "learn": ("learn", "--journal", str(Path("advisor/demo/trials.csv").resolve())),
}


@pytest.mark.parametrize("name", COMMANDS)
def test_a_broken_shop_file_is_named_and_the_exit_code_tells(
    prestrike: Callable[..., Any], tmp_path: Path, name: str
) -> None:
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "broken.yaml").write_text("kind: rules\nrulset: mine\n", encoding="utf-8")
    ran = prestrike(*COMMANDS[name], "--rules", str(folder), cwd=tmp_path)
    assert ran.code == 2, (ran.out[-500:], ran.err)
    assert "LEFT OUT" in ran.err and "broken.yaml:2" in ran.err and "did you mean 'ruleset'?" in ran.err
    (folder / "broken.yaml").unlink()
    sound = prestrike(*COMMANDS[name], "--rules", str(folder), cwd=tmp_path)
    assert sound.code == 0 and "LEFT OUT" not in sound.err


def test_a_batch_says_so_too(prestrike: Callable[..., Any], tmp_path: Path) -> None:
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "broken.yaml").write_text("kind: rules\nrulset: mine\n", encoding="utf-8")
    (tmp_path / "jobs.csv").write_text("metal,thickness,joint\n6061,3 mm,tee\n", encoding="utf-8")
    ran = prestrike("setup", "--jobs", "jobs.csv", "-o", "out", "--rules", str(folder), cwd=tmp_path)
    assert ran.code == 2 and "broken.yaml:2" in ran.err and (tmp_path / "out" / "summary.csv").is_file()
