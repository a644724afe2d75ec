"""The rules of the house: files and functions stay short, schemas are closed, an answer imports nothing heavy."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted((ROOT / "advisor").rglob("*.py"))
ALL = sorted(path for path in ROOT.rglob("*.py") if not {".venv", "build", "_data"} & set(path.parts))
HEAVY = ("pint", "jsonschema", "yaml", "scipy", "numpy", "jinja2", "rich", "matplotlib", "tabulate", "platformdirs")


def module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize("path", ALL, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_files_stay_under_400_lines_and_functions_short(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count("\n") < 400
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            body = node.body[1:] if ast.get_docstring(node) else node.body
            length = (node.end_lineno or 0) - body[0].lineno + 1 if body else 0
            assert length <= 60, f"{node.name} has {length} lines"


def test_only_quantities_import_the_unit_library() -> None:
    users = [module_name(path) for path in SOURCES if any(name.split(".")[0] == "pint" for name in imports(path))]
    assert all(name.startswith("advisor.units.") for name in users)


# A user's file read in another way could be a pipe that never ends, or a fault without its place.
_READS = {"read_text", "read_bytes", "exists", "is_file", "is_dir", "iterdir"}


@pytest.mark.parametrize("path", SOURCES, ids=module_name)
def test_users_files_are_read_in_one_way(path: Path) -> None:
    """`advisor.reading` reads; elsewhere only what came with the program is read directly, and files are written."""
    if module_name(path) in ("advisor.reading", "advisor.writing", "advisor.resources", "advisor.sheet.page"):
        return
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        if isinstance(node.func, ast.Attribute) and node.func.attr in _READS:
            of = ast.unparse(node.func.value)
            assert "schema" in of or of in ("demo_folder()", "entry") or path.name == "compiled_cache.py", ast.unparse(
                node
            )
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        if name == "open":
            modes = {arg.value for arg in node.args if isinstance(arg, ast.Constant)}
            assert ast.unparse(node.func) == "os.open" or modes & {"w", "x", "wb", "xb"}, ast.unparse(node)


def test_top_level_is_as_designed() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False).stdout.split(
        "\n"
    )
    names = {line.split("/")[0] for line in listed if line}
    visible = {name for name in names if not name.startswith(".")}
    assert visible <= {"README.md", "DEVELOPERS.md", "pyproject.toml", "advisor", "rules", "tests", "schemas"}


def _objects(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        if "properties" in node:
            yield node
        for value in node.values():
            yield from _objects(value)
    elif isinstance(node, list):
        for item in node:
            yield from _objects(item)


@pytest.mark.parametrize("path", sorted((ROOT / "schemas").glob("*.json")), ids=lambda path: path.name)
def test_schemas_are_closed_at_every_level(path: Path) -> None:
    from jsonschema import Draft202012Validator

    schema = json.loads(path.read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    for node in _objects(schema):
        if node.get("type") == "object" or "object" in node.get("type", ()):
            assert node.get("additionalProperties") is False, list(node["properties"])


def test_a_warm_setup_imports_nothing_heavy() -> None:
    code = (
        "import sys; sys.argv=['prestrike','setup','--metal','6061-T6','--thickness','1/8 in','--joint','butt']\n"
        "from advisor.cli.main import run\n"
        "try:\n run()\nexcept SystemExit:\n pass\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules], file=sys.stderr)"
    )
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, check=False)
    warm = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert warm.stderr.strip().splitlines()[-1] == "[]"
