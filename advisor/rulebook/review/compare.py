"""Two sets of rule files compared by what they say: which rules came, went or changed, and which key from what to what.

Works on the data of the files, whatever their kind: entries of a list are known by their id or name, rows of a table
by the size they stand at, so that a row put in the middle is one row more and not a change of all that follow.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from advisor.rulebook.reading.yaml_text import Document

# Keys that name an item of a list, best first.
_NAMES = ("id", "name", "at", "size", "doc", "element", "gauge", "observation", "kind", "evidence", "job")
_NOT_COMPARED = ("kind", "schema", "ruleset", "version", "history", "notes")
Step = tuple[str, str]
Percent = Callable[[Any, Any], float | None]
# The one spelling of a size, so that a row at 1/8 in is the row at 3.175 mm.
Spelling = Callable[[str], str]


class ValueChange(NamedTuple):
    """One key. key: the way to it in words; old, new: as written, None where it was not there; percent: by how much,
    where both are numbers of one dimension."""

    key: str
    old: Any
    new: Any
    percent: float | None = None


class EntryChange(NamedTuple):
    """One rule or entry. kind: added, removed or changed; what: the list it stands in; values: what changed in it."""

    kind: str
    what: str
    id: str
    file: str
    values: tuple[ValueChange, ...] = ()
    moved_from: str = ""


class VersionChange(NamedTuple):
    """The version of a ruleset before and after; empty where it was not there."""

    ruleset: str
    old: str
    new: str


class RulesDiff(NamedTuple):
    """Everything that differs."""

    versions: tuple[VersionChange, ...]
    entries: tuple[EntryChange, ...]


def compare(old: Sequence[Document], new: Sequence[Document], percent: Percent, spelling: Spelling = str) -> RulesDiff:
    """What differs between two sets of files. percent: how far two written values are apart, None where not told; 0
    means the same size written otherwise, which is no change. spelling: the one spelling of a size."""
    before, after = _entries(old), _entries(new)
    found = []
    for key in sorted({*before, *after}):
        change = _entry(key, before.get(key), after.get(key), percent, spelling)
        if change is not None:
            found.append(change)
    return RulesDiff(_versions(old, new), tuple(found))


def _versions(old: Sequence[Document], new: Sequence[Document]) -> tuple[VersionChange, ...]:
    before, after = _by_ruleset(old), _by_ruleset(new)
    pairs = [(name, before.get(name, ""), after.get(name, "")) for name in sorted({*before, *after})]
    return tuple(VersionChange(*pair) for pair in pairs if pair[1] != pair[2])


def _by_ruleset(documents: Sequence[Document]) -> dict[str, str]:
    found: dict[str, str] = {}
    for document in documents:
        data = document.data if isinstance(document.data, dict) else {}
        name = _owner(document)
        found[name] = str(data.get("version", ""))
    return found


def _owner(document: Document) -> str:
    """The ruleset, or for other kinds of file the kind and the name of the file."""
    data = document.data
    return str(data["ruleset"]) if "ruleset" in data else f"{data.get('kind', '?')} {document.file.rsplit('/', 1)[-1]}"


def _entries(documents: Sequence[Document]) -> dict[Step, tuple[str, Any]]:
    """(list, id) -> (file, data) of every entry; what is no list of entries counts as one of its own."""
    found: dict[Step, tuple[str, Any]] = {}
    for document in documents:
        if not isinstance(document.data, dict):
            continue
        for key, value in document.data.items():
            if key in _NOT_COMPARED:
                continue
            if not isinstance(value, list):
                found[key, _owner(document)] = (document.file, {key: value})
                continue
            for name, item in _named(value):
                # Sources are numbered within their file; all else is one namespace.
                entry = f"{name} of {_owner(document)}" if key == "sources" else name
                found[key, entry] = (document.file, item)
    return found


def _entry(
    key: Step, old: tuple[str, Any] | None, new: tuple[str, Any] | None, percent: Percent, spelling: Spelling
) -> EntryChange | None:
    what, name = key
    if old is None or new is None:
        file, data = new if new is not None else old if old is not None else ("", None)
        kind = "added" if new is not None else "removed"
        return EntryChange(kind, what, name, file, tuple(_summary(data, kind, spelling)))
    values = tuple(_values(old[1], new[1], percent, spelling))
    if not values:
        return None
    moved = old[0] if old[0].rsplit("/", 1)[-1] != new[0].rsplit("/", 1)[-1] else ""
    return EntryChange("changed", what, name, new[0], values, moved)


def _summary(data: Any, kind: str, spelling: Spelling) -> list[ValueChange]:
    """What an added or removed entry says, without its name and its examples."""
    said = _flat({key: value for key, value in data.items() if key not in ("id", "examples")}, spelling) if data else {}
    return [ValueChange(key, *((None, value) if kind == "added" else (value, None))) for key, value in said.items()]


def _values(old: Any, new: Any, percent: Percent, spelling: Spelling) -> list[ValueChange]:
    before, after = _flat(old, spelling), _flat(new, spelling)
    found = []
    for key in [*before, *(key for key in after if key not in before)]:
        left, right = before.get(key), after.get(key)
        if left == right:
            continue
        apart = percent(left, right) if left is not None and right is not None else None
        if apart != 0:
            found.append(ValueChange(key, left, right, apart))
    return found


def _flat(data: Any, spelling: Spelling, way: str = "") -> dict[str, Any]:
    """Every plain value by the way to it in words: `start, rows at 3.2 mm, low`."""
    if isinstance(data, Mapping):
        found: dict[str, Any] = {}
        for key, value in data.items():
            found |= _flat(value, spelling, f"{way}, {key}" if way else str(key))
        return found
    if isinstance(data, list) and data and all(isinstance(item, Mapping) for item in data):
        found = {}
        for name, item in _named(data, spelling):
            found |= _flat(_without_name(item, name), spelling, f"{way} {name}".strip())
        return found
    return {way: data}


def _without_name(item: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    """The item without the key it is known by, which would only say its name again; one that is nothing else stays."""
    rest = {key: value for key, value in item.items() if not name.startswith(f"{key} ") and key not in ("id", "name")}
    return rest or item


def _named(items: Sequence[Any], spelling: Spelling = str) -> list[tuple[str, Any]]:
    """Each item of a list with the name it is known by; where none names them all, its place."""
    if all(isinstance(item, Mapping) for item in items):
        for key in _NAMES:
            names = [spelling(_word(item.get(key, ""))) for item in items]
            if all(names) and len(set(names)) == len(names):
                return [(name if key in ("id", "name") else f"{key} {name}", item) for name, item in
                        zip(names, items, strict=True)]  # fmt: skip
    return [(str(place), item) for place, item in enumerate(items, 1)]


def _word(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_word(item)}" for key, item in value.items())
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "/".join(_word(item) for item in value) if isinstance(value, list) else str(value)
