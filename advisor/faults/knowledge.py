"""What is known about faults, as the model reads it: observations, causes, checks, remedies of all layers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from advisor.faults.scale import COMMON
from advisor.rulebook.index import Index


class Observation(NamedTuple):
    """A sign that is there or not. rate: how common whatever the cause [-]; group: signs of which one holds at most;
    covers: signs of the group of which it says only that one holds."""

    id: str
    alias: str
    name: str
    about: str
    rate: float
    ask: str
    words: tuple[str, ...]
    words_against: tuple[str, ...]
    group: str
    covers: tuple[str, ...]
    imperfections: tuple[str, ...]
    metals: tuple[str, ...]
    processes: tuple[str, ...]
    job: list[Any] | None
    setting: Mapping[str, str]


class Sign(NamedTuple):
    """How an observation bears on a cause, and who says so."""

    speaks: str
    source: str
    evidence: str


class Cause(NamedTuple):
    """A cause. prior: high, medium, low; metals, processes: empty means all."""

    id: str
    alias: str
    name: str
    because: str
    prior: str
    metals: tuple[str, ...]
    processes: tuple[str, ...]
    signs: Mapping[str, Sign]


class Check(NamedTuple):
    """A check. tells: observations it answers; minutes: its cost; after: for cases where one of these was seen."""

    id: str
    alias: str
    do: str
    tells: tuple[str, ...]
    minutes: float
    after: tuple[str, ...]
    needs: str
    read: str
    caution: str
    metals: tuple[str, ...]
    processes: tuple[str, ...]
    source: str
    evidence: str


class Remedy(NamedTuple):
    """What to change for some causes. change: topic with factor or offset for the next setup, or empty; step: the list
    of steps of the next setup that it joins, or empty."""

    id: str
    causes: tuple[str, ...]
    do: str
    number: str
    never: str
    caution: str
    change: Mapping[str, Any]
    step: str
    metals: tuple[str, ...]
    source: str
    evidence: str


class Knowledge(NamedTuple):
    """All of it, each by id in the order of the ids."""

    observations: Mapping[str, Observation]
    causes: Mapping[str, Cause]
    checks: Mapping[str, Check]
    remedies: Mapping[str, Remedy]


def read_knowledge(index: Index) -> Knowledge:
    """The knowledge kept in the index."""
    return Knowledge(
        {entry["id"]: _observation(entry) for entry in index.entries("observation")},
        {entry["id"]: _cause(entry) for entry in index.entries("cause")},
        {entry["id"]: _check(entry) for entry in index.entries("check")},
        {entry["id"]: _remedy(entry) for entry in index.entries("remedy")},
    )


def _observation(entry: Mapping[str, Any]) -> Observation:
    return Observation(
        entry["id"],
        entry["alias"],
        entry["name"],
        entry["about"],
        COMMON[entry["common"]],
        entry["ask"],
        tuple(entry["words"]),
        tuple(entry.get("words_against", ())),
        entry.get("one_of", ""),
        tuple(entry.get("covers", ())),
        tuple(entry.get("imperfections", ())),
        tuple(entry.get("metals", ())),
        tuple(entry.get("processes", ())),
        entry.get("job"),
        entry.get("setting", {}),
    )


def _cause(entry: Mapping[str, Any]) -> Cause:
    signs = {
        item["observation"]: Sign(item["speaks"], label(item["source"][0]), item["source"][0]["evidence"])
        for item in entry["signs"]
    }
    return Cause(
        entry["id"],
        entry["alias"],
        entry["name"],
        entry["because"],
        entry["prior"],
        tuple(entry.get("metals", ())),
        tuple(entry.get("processes", ())),
        signs,
    )


def _check(entry: Mapping[str, Any]) -> Check:
    source = entry["source"][0]
    return Check(
        entry["id"],
        entry["alias"],
        entry["do"],
        tuple(entry["tells"]),
        float(entry["minutes"]),
        tuple(entry.get("after", ())),
        entry.get("needs", ""),
        entry.get("read", ""),
        entry.get("caution", ""),
        tuple(entry.get("metals", ())),
        tuple(entry.get("processes", ())),
        label(source),
        source["evidence"],
    )


def _remedy(entry: Mapping[str, Any]) -> Remedy:
    source = entry["source"][0]
    return Remedy(
        entry["id"],
        tuple(entry["causes"]),
        entry["do"],
        entry.get("number", ""),
        entry.get("never", ""),
        entry.get("caution", ""),
        entry.get("change", {}),
        entry.get("step", ""),
        tuple(entry.get("metals", ())),
        label(source),
        source["evidence"],
    )


def label(source: Mapping[str, str]) -> str:
    """A source in words: title and place."""
    return f"{source['title']}, {source['at']}" if source["at"] else source["title"]
