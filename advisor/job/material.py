"""A metal as the user names it, and the material entry it means."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.words import SURFACE_WORDS
from advisor.rulebook.index import Index
from advisor.rulebook.names import fold

# Tempers as in ISO 2107 / ANSI H35.1: F, O, W, H1xx..H3xx, T1..T10 with suffix digits.
# Written close to the number only T and H with their digits are read: 316F is a steel of its own.
_TEMPER = re.compile(r"(?:[\s\-_/,]+(T\d{1,5}|H\d{1,3}|O|F|W)|(?<=\d)(T\d{1,5}|H\d{1,3}))\s*\Z", re.IGNORECASE)


class Material(NamedTuple):
    """A material entry with the temper the user gave. composition: element -> {low, high} in mass percent."""

    id: str
    name: str
    family: str
    series: str
    filler_group: str
    heat_treatable: bool
    cast: bool
    unknown: bool
    free_machining: bool
    temper: str
    uncertain: str
    composition: Mapping[str, Mapping[str, Any]]
    properties: tuple[Mapping[str, Any], ...]
    bench: tuple[Mapping[str, Any], ...]
    tempers: tuple[str, ...]
    notes: str
    as_written: str

    @property
    def label(self) -> str:
        """Name with temper."""
        return f"{self.name}-{self.temper}" if self.temper else self.name

    def most(self, element: str) -> float:
        """The most of an element the grade allows [mass %]; 0 where it is not listed."""
        limits = self.composition.get(element)
        if limits is None:
            return 0.0
        return float(limits["high"] if limits["high"] is not None else limits["low"])

    def value(self, name: str) -> float | None:
        """A property in its house unit: the entry for this temper, else one without a temper, else the first."""
        found = [item for item in self.properties if item["name"] == name]
        for wanted in (self.temper, ""):
            for item in found:
                if item.get("temper", "") == wanted:
                    return float(item["value"])
        return float(found[0]["value"]) if found else None


def find_material(text: str, index: Index) -> Material:
    """The material a name means. Raises PrestrikeError with the nearest name where none is known."""
    name = text.strip()
    entry = index.entry("material", fold(name))
    temper = ""
    if entry is None:
        match = _TEMPER.search(name)
        if match:
            temper = (match.group(1) or match.group(2)).upper()
            entry = index.entry("material", fold(name[: match.start()]))
    if entry is None:
        raise _unknown(text, index)
    if temper and entry["family"] != "aluminium":
        raise _no_temper(text, temper, entry["name"])
    if temper and not _made_in(temper, entry):
        raise _unknown_temper(text, temper, entry)
    return _from_entry(entry, temper, text)


def _from_entry(entry: Mapping[str, Any], temper: str, text: str) -> Material:
    return Material(
        id=entry["id"],
        name=entry["name"],
        family=entry["family"],
        series=entry.get("series", "unknown"),
        filler_group=entry["filler_group"],
        heat_treatable=bool(entry.get("heat_treatable", False)),
        cast=bool(entry.get("cast", False)),
        unknown=bool(entry.get("unknown", False)),
        free_machining=bool(entry.get("free_machining", False)),
        temper=temper,
        uncertain=entry.get("uncertain", ""),
        composition=entry["composition"],
        properties=tuple(entry["properties"]),
        bench=tuple(entry["bench"]),
        tempers=tuple(entry.get("tempers", ())),
        notes=entry.get("notes", ""),
        as_written=text,
    )


def _unknown(text: str, index: Index) -> PrestrikeError:
    shown = {fold(name): name for entry in index.entries("material") for name in _spellings(entry)}
    near = did_you_mean(fold(_TEMPER.sub("", text.strip())), shown)
    if near.startswith("did"):
        word = near.split("'")[1]
        help_text = f"did you mean '{shown[word]}'?"
    elif coat := _coat_in(text, shown):
        help_text = f"name the metal alone and its surface apart: --surface {coat} (in a file, surface: {coat})"
    else:
        help_text = "see 'prestrike materials list', or say 'unknown aluminium' or 'unknown steel'"
    return PrestrikeError(
        Diagnostic("unknown-metal", f"'{text}' is no metal known here", subject="metal", help=help_text)
    )


def _coat_in(text: str, known: Mapping[str, str]) -> str:
    """The surface state inside a metal's name, where what is left is a metal: 'galvanised steel' -> galvanised."""
    words = text.casefold().split()
    for word in words:
        rest = fold(" ".join(other for other in words if other != word))
        if word in SURFACE_WORDS and rest in known:
            return SURFACE_WORDS[word]
    return ""


def _no_temper(text: str, temper: str, name: str) -> PrestrikeError:
    message = f"'{text}': {temper} is a temper of aluminium, and {name} is none"
    return PrestrikeError(Diagnostic("no-temper", message, subject="metal", help=f"write '{name}', or check the metal"))


# ISO 2107, from memory: what may follow a temper where it was relieved by stretching or by compression, and the 2 of
# what its user heat-treated; and the quarter-hard to full-hard steps of what is hardened by cold work.
_MAY_FOLLOW = ("51", "510", "511", "52", "54", "2")
_COLD_WORKED = re.compile(r"H[123][2468]")


def _made_in(temper: str, entry: Mapping[str, Any]) -> bool:
    """Whether the metal is made in this temper; yes where its tempers are not listed."""
    known = _tempers(entry)
    if not known or temper in known or any(temper == base + more for base in known for more in _MAY_FOLLOW):
        return True
    return bool(_COLD_WORKED.fullmatch(temper)) and any(_COLD_WORKED.fullmatch(base) for base in known)


def _tempers(entry: Mapping[str, Any]) -> list[str]:
    named = (item.get("temper", "") for item in entry["properties"])
    return list(dict.fromkeys([*entry.get("tempers", ()), *filter(None, named)])) if entry.get("tempers") else []


def _unknown_temper(text: str, temper: str, entry: Mapping[str, Any]) -> PrestrikeError:
    message = f"'{text}': {temper} is no temper known here of {entry['name']}"
    repair = f"tempers known: {', '.join(_tempers(entry))}; or leave the temper out"
    return PrestrikeError(Diagnostic("unknown-temper", message, subject="metal", help=repair))


def _spellings(entry: Mapping[str, Any]) -> list[str]:
    return [entry["id"], entry["name"], *entry["designations"]]


def all_materials(index: Index) -> list[Material]:
    """Every material entry, by id."""
    return [_from_entry(entry, "", entry["id"]) for entry in index.entries("material")]
