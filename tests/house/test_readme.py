"""Commands shown in README.md and in the help of each command work as they stand there."""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from advisor.cli.main import COMMANDS

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SHOWN = sorted({text for text in re.findall(r"`(prestrike [^`]+)`", README) if not re.search(r"[A-Z]{3,}", text)})


@pytest.mark.parametrize("text", SHOWN)
def test_commands_in_the_readme_work(prestrike: Callable[..., Any], text: str, tmp_path: Path) -> None:
    (tmp_path / "advisor").symlink_to(ROOT / "advisor")
    ran = prestrike(*shlex.split(text)[1:], cwd=tmp_path)
    assert ran.code in (0, 2) and "Traceback" not in ran.err
    assert ran.code == 0 or "no job" in ran.err or "no metal" in ran.err or "Missing" in ran.err or "Usage" in ran.err


def test_the_readme_is_short_and_says_nothing_twice() -> None:
    assert len(README.split()) <= 900
    lines = [line for line in README.splitlines() if len(line) > 40]
    assert len(lines) == len(set(lines))


def test_the_output_in_the_readme_is_what_the_demo_prints(prestrike: Callable[..., Any]) -> None:
    shown = README.split("## What an answer looks like")[1].split('"Print')[0]
    printed = prestrike("setup", "advisor/demo/coolant-tank.yaml").out.splitlines()
    assert [line for line in shown.splitlines() if line and line.removeprefix("    ") not in printed] == []


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_an_example(prestrike: Callable[..., Any], name: str) -> None:
    ran = prestrike(name, "--help")
    text = ran.out
    if "Commands:" in text:
        for sub in re.findall(r"^  (\w+) ", text.split("Commands:")[1], re.MULTILINE):
            assert "Example:" in prestrike(name, sub, "--help").out, sub
    else:
        assert "Example: prestrike" in text


def test_the_two_commands_open_the_readme() -> None:
    blocks = re.findall(r"(?m)^    (.+)$", README.split("## ")[0])
    assert len(blocks) == 2
    assert "prestrike setup advisor/demo/coolant-tank.yaml" in blocks[0] and "pytest" in blocks[1]
