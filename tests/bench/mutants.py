"""Mutation score: small faults put into the code one at a time, and whether the tests that import it notice.

    python -m tests.bench.mutants                                  300 mutants of physics and rulebook
    python -m tests.bench.mutants --module advisor.physics.groove  one module, every mutant with --count 0

Each mutant runs in a process of its own, forked from one that has loaded pytest and numpy but nothing of the program.
It runs the module's own examples and the test file named after it, then the other tests that import the module, until
the first failure. No file is changed. The
same seed draws the same mutants. A mutant that outlasts its time counts as noticed.
"""

from __future__ import annotations

import argparse
import ast
import importlib.abc
import importlib.util
import os
import random
import signal
import sys
import tempfile
import time
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import ModuleType
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("advisor.physics", "advisor.rulebook")
SEED, COUNT = 12, 300
MOST_TEST_FILES = 8  # of a module; those named after it come first
EXTRA_SECONDS, TIMES_BASE = 20.0, 4.0
PASSED = (0, 5)  # as pytest ends: all passed, or no test found

SWAPPED: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult, ast.Mod: ast.Mult, ast.And: ast.Or, ast.Or: ast.And,
}  # fmt: skip


class Mutant(NamedTuple):
    """One fault: module, line, what stood there, what stands there now, and the module's source with it."""

    module: str
    line: int
    before: str
    after: str
    source: str


def path_of(module: str) -> Path:
    return ROOT / (module.replace(".", "/") + ".py")


def modules_in(package: str) -> list[str]:
    names = sorted(path.stem for path in (ROOT / package.replace(".", "/")).glob("*.py"))
    return [f"{package}.{name}" for name in names if name != "__init__"]


def places_in(module: str) -> int:
    """In how many ways a module can be changed."""
    return len(_places(ast.parse(path_of(module).read_text(encoding="utf-8"))))


def mutant_of(module: str, number: int) -> Mutant:
    """One change of a module, counted in the order of its code."""
    tree = ast.parse(path_of(module).read_text(encoding="utf-8"))
    node, kind = _places(tree)[number]
    before = ast.unparse(node)
    after = _changed(tree, node, kind)
    return Mutant(module, getattr(node, "lineno", 0), before, after, ast.unparse(ast.fix_missing_locations(tree)))


def _places(tree: ast.Module) -> list[tuple[ast.AST, str]]:
    """Nodes that can be changed, each with the kind of change; nothing in annotations and error texts."""
    found: list[tuple[ast.AST, str]] = []

    def look(node: ast.AST) -> None:
        found.extend((node, kind) for kind in _kinds(node))
        for name, child in ast.iter_fields(node):
            if name in ("annotation", "returns", "decorator_list") or isinstance(node, (ast.Raise, ast.JoinedStr)):
                continue
            for each in child if isinstance(child, list) else [child]:
                if isinstance(each, ast.AST):
                    look(each)

    look(tree)
    return found


def _kinds(node: ast.AST) -> list[str]:
    if isinstance(node, ast.Compare):
        return ["compare"]
    if isinstance(node, (ast.BinOp, ast.BoolOp, ast.AugAssign)):
        return ["operator"] if type(node.op) in SWAPPED else []
    if isinstance(node, ast.UnaryOp):
        return ["bare"] if isinstance(node.op, (ast.USub, ast.Not)) else []
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        return ["constant"]
    if isinstance(node, ast.Return) and node.value is not None:
        return ["nothing"] if not (isinstance(node.value, ast.Constant) and node.value.value is None) else []
    return ["branches"] if isinstance(node, ast.IfExp) else []


def _changed(tree: ast.Module, node: ast.AST, kind: str) -> str:
    """Make the change in the tree; its text."""
    if isinstance(node, ast.Compare):
        swapped = SWAPPED[type(node.ops[0])]()
        assert isinstance(swapped, ast.cmpop)
        node.ops[0] = swapped
    elif isinstance(node, (ast.BinOp, ast.BoolOp, ast.AugAssign)):
        node.op = SWAPPED[type(node.op)]()  # type: ignore[assignment]
    elif isinstance(node, ast.Constant):
        node.value = _other(node.value)
    elif isinstance(node, ast.Return):
        node.value = ast.Constant(None)
    elif isinstance(node, ast.IfExp):
        node.body, node.orelse = node.orelse, node.body
    elif isinstance(node, ast.UnaryOp):
        operand = node.operand
        _Replace(node, operand).visit(tree)
        return ast.unparse(operand)
    return ast.unparse(node)


def _other(value: object) -> int | float:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return value + 1
    assert isinstance(value, float)
    return value * 1.25 if value else 1.0


class _Replace(ast.NodeTransformer):
    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self.old, self.new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        return self.new if node is self.old else super().generic_visit(node)


def imports_of(path: Path) -> set[str]:
    """Dotted names that a file imports, at its head or inside a function."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {each.name for each in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{each.name}" for each in node.names}
    return found


def tests_of(module: str, imports: dict[Path, set[str]]) -> list[Path]:
    """Test files that import a module, or else those that import a module which imports it; its own name first."""
    users = {module}
    for _ in range(3):
        found = [path for path, names in imports.items() if path.name.startswith("test_") and names & users]
        if found:
            break
        users |= {_module(path) for path, names in imports.items() if names & users and "tests" not in path.parts}
    stem = module.rsplit(".", 1)[1]
    return sorted(found, key=lambda path: (stem not in path.stem, str(path)))[:MOST_TEST_FILES]


def _module(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts)


class _Changed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Loads one module from a source of its own."""

    def __init__(self, module: str, source: str) -> None:
        self.module, self.source = module, source

    def find_spec(self, name: str, path: object = None, target: object = None) -> ModuleSpec | None:
        if name != self.module:
            return None
        return importlib.util.spec_from_file_location(name, path_of(name), loader=self)

    def exec_module(self, module: ModuleType) -> None:
        exec(compile(self.source, str(path_of(self.module)), "exec"), module.__dict__)


def survives(module: str, source: str, tests: list[Path], seconds: float) -> bool:
    """Whether the tests pass with this source; run in a fork."""
    child = os.fork()
    if child == 0:
        _run_child(module, source, tests, seconds)
    _, status = os.waitpid(child, 0)
    return os.WIFEXITED(status) and os.WEXITSTATUS(status) == 0


def _run_child(module: str, source: str, tests: list[Path], seconds: float) -> None:
    import pytest
    from hypothesis import settings

    signal.alarm(max(1, int(seconds)))  # its default action ends the process
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    with tempfile.TemporaryDirectory() as cache:
        # The program keeps compiled rules and results under a hash of its code: a changed one gets a cache of its own.
        os.environ["XDG_CACHE_HOME"] = cache
        settings.register_profile("mutants", database=None, derandomize=True, deadline=None)
        settings.load_profile("mutants")
        sys.meta_path.insert(0, _Changed(module, source))
        try:
            importlib.import_module(module)
            nearest, others = [path_of(module), *tests[:1]], tests[1:]
            code = int(pytest.main([*_options(tests), *map(str, nearest)]))
            if code in PASSED and others:
                code = int(pytest.main([*_options(tests), *map(str, others)]))
        except BaseException:
            code = 1
    os._exit(0 if code in PASSED else 1)


def _options(tests: list[Path]) -> list[str]:
    """Tests of physics need nothing of conftest.py, which loads the whole program."""
    plain = all("physics" in path.parts for path in tests)
    return ["-x", "-q", "-p", "no:cacheprovider", *(["--noconftest"] if plain else [])]


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--module", action="append", help="only this module; may be given several times")
    options.add_argument("--count", type=int, default=COUNT, help="mutants drawn; 0 for all")
    options.add_argument("--seed", type=int, default=SEED)
    asked = options.parse_args()
    modules = asked.module or [module for package in PACKAGES for module in modules_in(package)]
    places = [(module, number) for module in modules for number in range(places_in(module))]
    print(f"{len(places)} mutants in {len(modules)} modules", flush=True)
    if asked.count and asked.count < len(places):
        places = sorted(random.Random(asked.seed).sample(places, asked.count))
    drawn = [mutant_of(*place) for place in places]
    survivors = _survivors(drawn)
    print(f"noticed {len(drawn) - len(survivors)} of {len(drawn)}: {1 - len(survivors) / len(drawn):.1%}")
    for each in survivors:
        print(f"survives: {path_of(each.module).relative_to(ROOT)}:{each.line}: {each.before}  ->  {each.after}")


def _survivors(drawn: list[Mutant]) -> list[Mutant]:
    os.chdir(ROOT)
    import hypothesis  # noqa: F401  loaded once, before the forks
    import numpy  # noqa: F401
    import pytest  # noqa: F401
    import scipy.optimize
    import scipy.sparse.linalg  # noqa: F401

    files = [*(ROOT / "advisor").rglob("*.py"), *(ROOT / "tests").rglob("*.py")]
    imports = {path: imports_of(path) for path in files}
    seconds: dict[str, float] = {}
    survivors = []
    for mutant in drawn:
        tests = tests_of(mutant.module, imports)
        if mutant.module not in seconds:
            begun = time.monotonic()
            if not survives(mutant.module, path_of(mutant.module).read_text(encoding="utf-8"), tests, 600.0):
                raise SystemExit(f"{mutant.module}: the tests fail without any change")
            seconds[mutant.module] = time.monotonic() - begun
            named = ", ".join(path.stem for path in tests)
            print(f"{mutant.module}: {seconds[mutant.module]:.1f} s ({named})", flush=True)
        if survives(mutant.module, mutant.source, tests, EXTRA_SECONDS + TIMES_BASE * seconds[mutant.module]):
            survivors.append(mutant)
            print(f"  survives at line {mutant.line}: {mutant.before}  ->  {mutant.after}", flush=True)
    return survivors


if __name__ == "__main__":
    main()
