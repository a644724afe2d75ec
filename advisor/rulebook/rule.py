"""A rule as the rest of the program sees it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from advisor.rulebook.conditions import Condition

LAYERS = ("built-in", "shop", "machine", "job")


class Source(NamedTuple):
    """One citation: document, place in it, and how the number is known. lineage: documents that share it
    repeat one another's numbers, and count once."""

    doc: str
    title: str
    author: str
    year: int
    kind: str
    lineage: str
    at: str
    evidence: str

    def label(self) -> str:
        """`Author, Title (year), place`, as much of it as is known."""
        name = f"{self.author}, {self.title}" if self.author else self.title
        if self.year:
            name += f" ({self.year})"
        return f"{name}, {self.at}" if self.at else name


class Rule(NamedTuple):
    """A compiled rule. body: the effect with every quantity in the house unit of its topic; differs: why its
    numbers may stand apart from other sources'."""

    id: str
    topic: str
    layer: str
    ruleset: str
    version: str
    file: str
    line: int
    when: Condition
    printed_for: Mapping[str, list[str]]
    carries: str
    effect: str
    body: Mapping[str, Any]
    sources: tuple[Source, ...]
    because: str
    overrides: str = ""
    reason: str = ""
    differs: str = ""

    @classmethod
    def from_payload(cls, data: Mapping[str, Any]) -> Rule:
        """The rule of one row of the index."""
        return cls(
            id=data["id"],
            topic=data["topic"],
            layer=data["layer"],
            ruleset=data["ruleset"],
            version=data["version"],
            file=data["file"],
            line=data["line"],
            when=data["when"],
            printed_for=data["printed_for"],
            carries=data["carries"],
            effect=data["effect"],
            body=data["body"],
            sources=tuple(Source._make(source.values()) for source in data["sources"]),
            because=data["because"],
            overrides=data.get("overrides", ""),
            reason=data.get("reason", ""),
            differs=data.get("differs", ""),
        )

    @property
    def evidence(self) -> str:
        """The evidence of its first source."""
        return self.sources[0].evidence
