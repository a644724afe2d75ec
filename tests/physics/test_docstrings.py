"""Every public function of physics says its units, its valid range and its source, and shows an example that runs."""

from __future__ import annotations

import ast
import doctest
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PHYSICS = Path(__file__).resolve().parents[2] / "advisor" / "physics"
EVIDENCE = re.compile(r"read|memory|common-practice|trial|computed|derived|definition|\blaw\b|as `\w+`|own\b")
LEANS = re.compile(r"[Aa]s (in )?`\w+`")  # says that the rest is as at another function
UNIT = re.compile(r"\[[^\]]+\]|no units?\b")
# What an example's sentence may count in.
SAID_UNIT = re.compile(
    r"\b(mm2?|cm4|m3?|um|in2?|ft3|l|deg[CF]?|[KVWJNA]|k[AJWN]|kip|[kM]?Pa|bar|ksi|s|min|kg|g|lb)\b|1/m|%|no unit"
    r"|\b(cells?|bars?|sides|steps|share)\b"
)
RANGE = re.compile(r"Raises\b|[Aa]s `\w+`")


def functions(path: Path) -> Iterator[tuple[str, ast.FunctionDef]]:
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield f"{path.stem}.{node.name}", node


def classes(path: Path) -> Iterator[tuple[str, ast.ClassDef]]:
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            yield f"{path.stem}.{node.name}", node


MODULES = sorted(path for path in PHYSICS.glob("*.py") if path.stem != "__init__")
FUNCTIONS = dict(pair for path in MODULES for pair in functions(path))
CLASSES = dict(pair for path in MODULES for pair in classes(path))


def text_of(node: ast.FunctionDef | ast.ClassDef) -> str:
    return " ".join((ast.get_docstring(node) or "").split())


def section(text: str, name: str) -> str:
    """What a docstring says after `Name:` (or `Name, Other:`) up to the next such heading."""
    heading = r"(?:(?:Parameters|Returns|Raises|Equation|Source|Example)(?:, | and )?)+:"
    found = re.search(rf"{name}(?:(?:, | and )\w+)*: (.*?)(?= {heading} |$)", text)
    return found.group(1) if found else ""


def is_number(annotation: ast.expr | None) -> bool:
    """A bare number, or several; a dataclass names the units of its own fields."""
    return annotation is not None and bool(re.search(r"\b(float|int)\b", ast.unparse(annotation)))


def numbers_of(node: ast.FunctionDef) -> list[str]:
    """Parameters that are bare numbers."""
    every = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    return [each.arg for each in every if is_number(each.annotation)]


def test_there_is_something_to_check() -> None:
    assert len(FUNCTIONS) > 100
    assert len(CLASSES) > 20


@pytest.mark.parametrize("name", [name for name, node in FUNCTIONS.items() if is_number(node.returns)])
def test_function_says_in_which_unit_its_number_is(name: str) -> None:
    text = text_of(FUNCTIONS[name])
    assert UNIT.search(text.split("Parameters:")[0] + section(text, "Returns")) or LEANS.match(text), "no unit"


@pytest.mark.parametrize("name", FUNCTIONS)
def test_function_names_its_source_and_how_surely_it_was_seen(name: str) -> None:
    text = text_of(FUNCTIONS[name])
    source = section(text, "Source")
    assert source or LEANS.match(text), "no Source"
    assert EVIDENCE.search(source or text), "a source without its evidence"


@pytest.mark.parametrize("name", [name for name, node in FUNCTIONS.items() if numbers_of(node)])
def test_function_names_its_numbers_and_their_units(name: str) -> None:
    text = text_of(FUNCTIONS[name])
    assert UNIT.search(text) or LEANS.search(text), "no [unit]"
    missing = [each for each in numbers_of(FUNCTIONS[name]) if not re.search(rf"\b{each}\b", text)]
    assert not missing or LEANS.search(text), f"{missing}: numbers without a word about them"


@pytest.mark.parametrize("name", [name for name, node in FUNCTIONS.items() if numbers_of(node)])
def test_function_says_where_it_holds(name: str) -> None:
    assert RANGE.search(text_of(FUNCTIONS[name])), "no Raises: a formula says what it refuses"


@pytest.mark.parametrize("name", FUNCTIONS)
def test_function_shows_an_example_with_its_units(name: str) -> None:
    """The suite runs it: pytest collects doctests (--doctest-modules)."""
    doc = ast.get_docstring(FUNCTIONS[name]) or ""
    shown = doctest.DocTestParser().get_examples(doc)
    assert any(each.want.strip() for each in shown), "no >>> with its result"
    assert any(re.search(rf"\b{name.split('.')[1]}\(", each.source) for each in shown), "the example does not call it"
    sentence = section(text_of(FUNCTIONS[name]), "Example").split(">>>")[0]
    assert re.search(r"\w", sentence), "no sentence 'Example: ...' before the code"
    assert SAID_UNIT.search(sentence), f"no unit in: {sentence}"


@pytest.mark.parametrize("name", FUNCTIONS)
def test_function_has_a_docstring_that_opens_with_one_sentence(name: str) -> None:
    first = (ast.get_docstring(FUNCTIONS[name]) or "").split("\n\n")[0]
    assert first, "no docstring"
    assert re.search(r"[.:]( |$|\n)|\]", first), "no opening sentence"


@pytest.mark.parametrize("name", CLASSES)
def test_class_is_documented(name: str) -> None:
    assert text_of(CLASSES[name])


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_module_says_what_it_holds(path: Path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
