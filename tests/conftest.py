"""One place for what many tests need: the command, in this process or one of its own, with a cache of its own."""

from __future__ import annotations

import gc
import io
import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from advisor.cli.main import main
from advisor.rulebook.library import Rulebook
from advisor.shop.rules_in_force import open_rules, units_of
from advisor.units.quantities import UnitTable

ROOT = Path(__file__).resolve().parents[1]


@dataclass(frozen=True)
class Ran:
    """What a command printed and how it ended."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)


@pytest.fixture(scope="session", autouse=True)
def cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """All tests compile into one cache, and read rules and trials, that are not the user's."""
    folder = tmp_path_factory.mktemp("cache")
    own = {
        "PRESTRIKE_CACHE": folder,
        "PRESTRIKE_CONFIG": folder / "config",
        "PRESTRIKE_JOURNAL": folder / "journal.sqlite",
    }
    before = {name: os.environ.get(name) for name in own}
    os.environ.update({name: str(path) for name, path in own.items()})
    yield folder
    for name, value in before.items():
        if value is None:
            del os.environ[name]
        else:
            os.environ[name] = value


@contextmanager
def surroundings(cwd: Path, environment: dict[str, str]) -> Iterator[None]:
    """Work in a folder, with some variables of the environment set, and put all back after."""
    before, old = Path.cwd(), {name: os.environ.get(name) for name in environment}
    os.environ.update(environment)
    os.chdir(cwd)
    try:
        yield
    finally:
        os.chdir(before)
        for name, value in old.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


@pytest.fixture(scope="session")
def prestrike(cache: Path) -> Callable[..., Ran]:
    """Run the command in this process, 80 columns wide, as its entry point would."""

    def run(*arguments: str, cwd: Path | None = None, env: dict[str, str] | None = None) -> Ran:
        environment = {"PRESTRIKE_CACHE": str(cache), "COLUMNS": "80", "NO_COLOR": "1", "TERM": "dumb", **(env or {})}
        out, err = io.StringIO(), io.StringIO()
        stdin, sys.stdin = sys.stdin, io.StringIO()
        collecting = gc.isenabled()
        try:
            with surroundings(cwd or ROOT, environment), redirect_stdout(out), redirect_stderr(err):
                code = int(main(list(arguments)))
        finally:
            sys.stdin = stdin
            if collecting:
                gc.enable()
        return Ran(code, out.getvalue(), err.getvalue())

    return run


@pytest.fixture(scope="session")
def prestrike_process(cache: Path) -> Callable[..., Ran]:
    """Run the command in a process of its own, 80 columns wide: for what only a whole process shows."""

    def run(*arguments: str, cwd: Path | None = None, env: dict[str, str] | None = None) -> Ran:
        environment = {
            **os.environ, "PRESTRIKE_CACHE": str(cache), "COLUMNS": "80", "NO_COLOR": "1", "TERM": "dumb",
            "PYTHONPATH": str(ROOT), **(env or {}),
        }  # fmt: skip
        done = subprocess.run(
            [sys.executable, "-m", "advisor.cli.main", *arguments],
            capture_output=True, text=True, cwd=cwd or ROOT, env=environment, check=False, stdin=subprocess.DEVNULL,
        )  # fmt: skip
        return Ran(done.returncode, done.stdout, done.stderr)

    return run


@pytest.fixture
def own(prestrike: Callable[..., Ran], tmp_path: Path) -> Callable[..., Ran]:
    """The command in a folder of its own, with a configuration and a journal of its own."""

    def run(*arguments: str) -> Ran:
        env = {"PRESTRIKE_JOURNAL": str(tmp_path / "journal.sqlite"), "PRESTRIKE_CONFIG": str(tmp_path / "config")}
        return prestrike(*arguments, cwd=tmp_path, env=env)

    return run


@pytest.fixture
def own_process(prestrike_process: Callable[..., Ran], tmp_path: Path) -> Callable[..., Ran]:
    """The same in a process of its own: what is printed goes through its standard output."""

    def run(*arguments: str) -> Ran:
        env = {"PRESTRIKE_JOURNAL": str(tmp_path / "journal.sqlite"), "PRESTRIKE_CONFIG": str(tmp_path / "config")}
        return prestrike_process(*arguments, cwd=tmp_path, env=env)

    return run


@pytest.fixture(scope="session")
def rulebook(cache: Path) -> Rulebook:
    return open_rules()


@pytest.fixture(scope="session")
def units(rulebook: Rulebook) -> UnitTable:
    return units_of(rulebook)
