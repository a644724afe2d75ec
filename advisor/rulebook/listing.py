"""The rule files of all layers: found, and read. One that cannot be read is listed with its fault, never left out."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.reading import ReadingError, is_folder, is_there, read_bytes
from advisor.rulebook.rule import LAYERS

if TYPE_CHECKING:
    from advisor.rulebook.reading.compile import RuleFile

# Folders within folders: no shop needs more, and a walk has to end.
MAX_FOLDERS = 20
# What a folder of rules may hold in all: `--rules /` is a slip, and would read the whole computer.
MAX_ENTRIES = 10_000


class Layer(NamedTuple):
    """A layer's name and its folder (or single file) of rule files."""

    name: str
    path: Path


class Listed(NamedTuple):
    """A rule file of a layer, not yet read. shown_as: its name in messages; stamp: size and times of change; fault: why
    it cannot be read, where that is known already."""

    layer: str
    path: str
    shown_as: str
    stamp: tuple[int, int, int]
    fault: str = ""


def listing(layers: Sequence[Layer]) -> list[Listed]:
    """The rule files of all layers, in layer order, then by name. Raises PrestrikeError for a folder not there."""
    return [item for layer in layers for item in _listed(layer)]


def _listed(layer: Layer) -> list[Listed]:
    root = str(layer.path)
    if is_folder(root):
        base = "rules" if layer.name == LAYERS[0] else root
        found: list[Listed] = []
        if _walk(root, base, layer.name, found, MAX_FOLDERS, MAX_ENTRIES) < 0:
            text = f"holds more than {MAX_ENTRIES} files and folders, so it is no folder of rules"
            return [_unread(layer.name, root, base, text)]
        return sorted(found, key=lambda item: item.shown_as)
    if is_there(root):
        return [_entry(layer.name, root, root, lambda: os.stat(root))]
    text = f"no such folder or file for the {layer.name} rules"
    raise PrestrikeError(Diagnostic("cannot-read", text, root, help="name a folder or file that exists"))


def _walk(folder: str, shown: str, layer: str, found: list[Listed], most: int, left: int) -> int:
    """Add what the folder holds. most: folders within folders; left: entries that may still be looked at. Gives how
    many are left then, below zero where there were too many."""
    try:
        with os.scandir(folder) as looked:
            entries = list(islice(looked, left + 1)) if most else []
    except OSError as error:
        found.append(_unread(layer, folder, shown, f"cannot read the folder: {error.strerror}"))
        return left
    left -= len(entries)
    if not most:
        found.append(_unread(layer, folder, shown, f"folders nested deeper than {MAX_FOLDERS}"))
    for entry in entries:
        name = f"{shown}/{entry.name}"
        if entry.name.startswith("."):
            continue
        if entry.is_dir(follow_symlinks=False):
            left = _walk(entry.path, name, layer, found, most - 1, left)
        elif entry.is_symlink() and is_folder(entry.path):
            found.append(_unread(layer, entry.path, name, "a link to a folder is not followed"))
        elif entry.name.endswith((".yaml", ".yml")):
            found.append(_entry(layer, entry.path, name, entry.stat))
        if left < 0:
            break
    return left


def _entry(layer: str, path: str, shown: str, look: Callable[[], os.stat_result]) -> Listed:
    """A file as it is listed: one that cannot even be looked at is listed with its fault, not passed over."""
    try:
        shown.encode()
        return Listed(layer, path, shown, _stamp(look()))
    except UnicodeEncodeError:
        return _unread(layer, path, shown, "the name of this file is not UTF-8 text")
    except OSError as error:
        return _unread(layer, path, shown, f"cannot read the file: {error.strerror}")


def _unread(layer: str, path: str, shown: str, fault: str) -> Listed:
    return Listed(layer, path, shown.encode(errors="backslashreplace").decode(), (0, 0, 0), fault)


def _stamp(found: os.stat_result) -> tuple[int, int, int]:
    return found.st_size, found.st_mtime_ns, found.st_ctime_ns


def gather(layers: Sequence[Layer]) -> list[RuleFile]:
    """The rule files of all layers with their bytes; one that cannot be read has none, and says why."""
    return read_files(listing(layers))


def read_files(listed: Sequence[Listed]) -> list[RuleFile]:
    """The listed files with their bytes."""
    return [_read(item) for item in listed]


def _read(item: Listed) -> RuleFile:
    from advisor.rulebook.reading.compile import RuleFile
    from advisor.rulebook.reading.yaml_text import MAX_BYTES

    path, repair = Path(item.path), "mend it, or take it out of the folder"
    if item.fault:
        return RuleFile(
            item.layer, path, item.shown_as, b"", (Diagnostic("cannot-read", item.fault, item.shown_as, help=repair),)
        )
    try:
        return RuleFile(item.layer, path, item.shown_as, read_bytes(path, MAX_BYTES, item.shown_as, repair))
    except ReadingError as error:
        return RuleFile(item.layer, path, item.shown_as, b"", tuple(error.diagnostics))
