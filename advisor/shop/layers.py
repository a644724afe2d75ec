"""Where rules of one's own live, and in which order they stand above the shipped ones."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from advisor.reading import is_there
from advisor.resources import config_folder
from advisor.rulebook.library import Rulebook
from advisor.rulebook.listing import Layer
from advisor.rulebook.rule import LAYERS

PROJECT = Path(".prestrike") / "rules"


class LayerFolder(NamedTuple):
    """A place where a layer's rules may live. why: how it was found; there: whether anything is there."""

    layer: str
    path: Path
    why: str
    there: bool


def places(start: Path | None = None) -> list[LayerFolder]:
    """Every place that is looked at, lowest layer first. start: folder the job is worked in, else the current one."""
    config = config_folder()
    found = [
        _place("shop", config / "rules", "rules of this shop"),
        _place("machine", config / "machine-rules", "rules of one machine"),
    ]
    project = project_folder(start or Path.cwd())
    if project is not None:
        found.append(LayerFolder("job", project, "rules of the job at hand", True))
    else:
        found.append(LayerFolder("job", (start or Path.cwd()) / PROJECT, "rules of the job at hand", False))
    return found


def _place(layer: str, path: Path, why: str) -> LayerFolder:
    return LayerFolder(layer, path, why, is_there(path))


def project_folder(start: Path) -> Path | None:
    """The nearest `.prestrike/rules` of a folder or of one above it."""
    for folder in (start, *start.parents):
        if is_there(folder / PROJECT):
            return folder / PROJECT
    return None


def standing_layers() -> list[Layer]:
    """The layers in force without any flag: those of `places` that exist."""
    return [Layer(place.layer, place.path) for place in places() if place.there]


class LayerRead(NamedTuple):
    """A layer with what was read of it. files: name, version and hash of each file used; rules: how many speak."""

    layer: str
    path: Path
    why: str
    there: bool
    files: tuple[dict[str, str], ...]
    rules: int


def layers_read(layers: Sequence[Layer], book: Rulebook) -> list[LayerRead]:
    """Every layer in order with what was read, and the places that were looked at in vain."""
    looked = {place.path: place for place in places()}
    items: list[Layer | LayerFolder] = [*layers, *(place for place in looked.values() if not place.there)]
    speaking = Counter(rule.file for rule in book.index.rules())
    found = []
    for item in sorted(items, key=_order):
        name = item.name if isinstance(item, Layer) else item.layer
        files = tuple(file for file in book.rulesets if file["layer"] == name and _within(file["file"], item, name))
        place = looked.get(item.path)
        why = "shipped with the program" if name == LAYERS[0] else place.why if place else "named by --rules"
        rules = sum(speaking[file["file"]] for file in files)
        found.append(LayerRead(name, item.path, why, place is None or place.there, files, rules))
    return found


def _order(item: Layer | LayerFolder) -> int:
    return LAYERS.index(item.name if isinstance(item, Layer) else item.layer)


def _within(file: str, item: Layer | LayerFolder, name: str) -> bool:
    return name == LAYERS[0] or file == str(item.path) or file.startswith(f"{item.path}/")
