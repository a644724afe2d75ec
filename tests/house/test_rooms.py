"""The rooms of the house: imports go downward only, questions use one another as declared, no circles, small rooms."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "advisor"
SOURCES = sorted(PACKAGE.rglob("*.py"))
QUESTIONS = (
    "setup", "heat", "strength", "fit", "cracks", "inspection", "consumables", "blanks", "compare", "faults", "trials",
    "shop_rules", "sheet", "ask", "metals",
)  # fmt: skip
# Top floor first. What stands directly in the package lies at the ground.
FLOORS = (
    ("cli",), QUESTIONS, ("flags",), ("show",), ("answer",), ("shop",), ("job",), ("journal",), ("rulebook",),
    ("physics",), ("units",), ("resources", "reading", "writing", "plain_text", "diagnostics", "advisor"),
)  # fmt: skip
# Which question uses which other question, and for what.
DECLARED = {
    "setup": {"heat": "its two sentences on heat", "consumables": "the line on what its seam takes"},
    "heat": {"setup": "the advice it works out the heat of"},
    "cracks": {"setup": "filler advised", "heat": "size of the pool"},
    "fit": {"strength": "what the seam beside the bore carries", "setup": "the verdict on other ways"},
    "strength": {"setup": "the verdict on other ways"},
    "inspection": {"setup": "bead advised", "heat": "size of the pool", "cracks": "fillers of a repair"},
    "consumables": {"setup": "advice it multiplies"},
    "blanks": {"setup": "edges advised", "consumables": "section of the bead, which makes it shrink"},
    "compare": {"setup": "each way's advice", "consumables": "each way's use", "strength": "strength kept"},
    "faults": {"setup": "advice to hold the case against", "trials": "the trial a cause belongs to"},
    "trials": {"setup": "published starts", "faults": "the cause a trial is logged with"},
    "shop_rules": {"setup": "answers asked again"},
    "sheet": {"setup": "the answer", "heat": "the answer", "consumables": "the answer"},
}
# Formulas that no question uses yet.
WAITING = {"advisor.physics.dew_point", "advisor.physics.hot_properties"}
MOST_FILES = 25
MOST_FORMULAS = 45


def module_of(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


MODULES = {module_of(path): path for path in SOURCES}


def room_of(module: str) -> str:
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else parts[0]


FLOOR_OF = {room: number for number, floor in enumerate(FLOORS) for room in floor}


def _is_type_checking(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test)


def imports_of(path: Path, *, types_too: bool = True) -> Iterator[str]:
    """Modules of the package that a file imports, wherever the import stands."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    hidden = {inner for node in ast.walk(tree) if _is_type_checking(node) for inner in ast.walk(node)}
    for node in ast.walk(tree):
        if node in hidden and not types_too:
            continue
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name in MODULES)
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.split(".")[0] == "advisor":
            for alias in node.names:
                full = f"{node.module}.{alias.name}"
                yield full if full in MODULES else node.module


def test_every_file_stands_in_a_known_room() -> None:
    assert {room_of(module) for module in MODULES} <= set(FLOOR_OF)


@pytest.mark.parametrize("module", MODULES)
def test_imports_go_downward_only(module: str) -> None:
    mine = FLOOR_OF[room_of(module)]
    upward = [name for name in imports_of(MODULES[module]) if FLOOR_OF[room_of(name)] < mine]
    assert not upward


@pytest.mark.parametrize("question", QUESTIONS)
def test_questions_use_one_another_as_declared(question: str) -> None:
    used = {
        room_of(name)
        for module, path in MODULES.items()
        if room_of(module) == question
        for name in imports_of(path)
        if room_of(name) in QUESTIONS and room_of(name) != question
    }
    assert used == set(DECLARED.get(question, {})), "the declared list and the imports differ"


@pytest.mark.parametrize("module", [name for name in MODULES if name.split(".")[-1].endswith("text")])
def test_text_knows_neither_rules_nor_physics(module: str) -> None:
    below = [name for name in imports_of(MODULES[module]) if room_of(name) in ("rulebook", "physics")]
    assert not below


def test_no_circle_of_files() -> None:
    waiting = {
        module: {name for name in imports_of(path, types_too=False) if name != module}
        for module, path in MODULES.items()
    }
    while True:
        free = [module for module, needs in waiting.items() if not needs & set(waiting)]
        if not free:
            break
        for module in free:
            del waiting[module]
    assert not waiting, f"these import one another in a circle, or wait for one: {sorted(waiting)}"


def test_no_room_is_crowded() -> None:
    for folder in {path.parent for path in SOURCES}:
        files = [path for path in folder.glob("*.py") if path.name != "__init__.py"]
        assert len(files) <= (MOST_FORMULAS if folder.name == "physics" else MOST_FILES), folder


def test_every_formula_serves_a_question() -> None:
    used = {name for path in SOURCES for name in imports_of(path)}
    idle = [name for name in MODULES if name.startswith("advisor.physics.") and name not in used]
    assert set(idle) == WAITING


def test_no_two_classes_share_a_name() -> None:
    places: dict[str, list[str]] = {}
    for module, path in MODULES.items():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
                places.setdefault(node.name, []).append(module)
    twice = {name: where for name, where in places.items() if len(where) > 1}
    assert not twice
