"""Everything that writes goes through `advisor/writing.py`: no other file is opened for writing anywhere."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted(path for path in (ROOT / "advisor").rglob("*.py") if path.name != "writing.py")
# Calls that write, whatever they are called on.
WRITES = {
    "write_text", "write_bytes", "NamedTemporaryFile", "mkstemp", "copy", "copy2", "copyfile", "copytree", "touch",
    "mkdir", "makedirs", "link", "symlink", "hardlink_to", "symlink_to", "truncate", "to_csv_file", "ftruncate",
}  # fmt: skip
# Of `os` and `shutil` only: the same words mean something else on a text or a mapping.
OS_WRITES = {"replace", "rename", "renames", "move", "write"}
SHUTIL_ONLY = {"copy"}
# SQLite keeps its own files whole: the journal, and two files of the cache.
DATABASES = {"advisor/journal/store.py", "advisor/rulebook/index.py", "advisor/rulebook/compiled_cache.py"}


def mode_of(call: ast.Call, place: int) -> str:
    """The mode an `open` is given; `r` where none stands. place: of the mode among the arguments."""
    given = [word.value for word in call.keywords if word.arg == "mode"] + call.args[place : place + 1]
    return str(given[0].value) if given and isinstance(given[0], ast.Constant) else "?" if given else "r"


def writing_calls(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """(line, what is called) of everything that may write a file."""
    for call in (node for node in ast.walk(tree) if isinstance(node, ast.Call)):
        text = ast.unparse(call.func)
        owner, _, name = text.rpartition(".")
        if name == "open" and call.args and ast.unparse(call.args[0]) == "os.devnull":
            continue
        if name == "open" and owner == "os":
            if "O_RDONLY" not in ast.unparse(call.args[1]):
                yield call.lineno, text
        elif name == "open" and owner not in ("Image", "webbrowser"):
            if set(mode_of(call, 1 if not owner or owner == "io" else 0)) & set("wxa+?"):
                yield call.lineno, text
        elif name == "savefig":
            # A picture goes to memory first, and then says which form it has.
            if not any(word.arg == "format" for word in call.keywords):
                yield call.lineno, text
        elif (name in OS_WRITES and owner in ("os", "shutil")) or (
            name in WRITES and (name not in SHUTIL_ONLY or owner == "shutil")
        ):
            yield call.lineno, text


def _writes(owner: str, name: str) -> bool:
    if name in OS_WRITES and owner in ("os", "shutil"):
        return True
    return name in WRITES and (name not in SHUTIL_ONLY or owner == "shutil")


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_nothing_else_opens_a_file_for_writing(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert not [*writing_calls(tree)], "use advisor.writing.write_whole or make_folder"
    name = path.relative_to(ROOT).as_posix()
    opens = any(isinstance(node, ast.Attribute) and ast.unparse(node) == "sqlite3.connect" for node in ast.walk(tree))
    assert not opens or name in DATABASES


@pytest.mark.parametrize("line", [
    "path.write_text('a')", "open(path, 'w')", "path.open('x')", "path.open(mode='a')", "open(path, mode)",
    "os.replace(a, b)", "figure.savefig(path)", "shutil.copy(a, b)", "path.mkdir()", "os.open(path, os.O_WRONLY)",
    "path.open('r+b')", "io.open(path, 'w')",
])  # fmt: skip
def test_the_check_finds_each_way(line: str) -> None:
    assert [*writing_calls(ast.parse(line))]


@pytest.mark.parametrize("line", [
    "path.open('rb')", "open(path)", "text.replace('a', 'b')", "rule._replace(id=1)", "mapping.copy()",
    "figure.savefig(out, format='svg')", "os.open(path, os.O_RDONLY)",
])  # fmt: skip
def test_the_check_leaves_reading_alone(line: str) -> None:
    assert not [*writing_calls(ast.parse(line))]
