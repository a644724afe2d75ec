"""The words rules may use: attributes of a job, topics rules speak of, kinds of source and their rank."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

# What effects a topic of each form takes. The form says how its rules are settled.
EFFECTS_BY_FORM: dict[str, tuple[str, ...]] = {
    "number": ("start", "adjust", "limit"),
    "ranked": ("choose",),
    "steps": ("step",),
    "cautions": ("caution",),
    "codes": ("refer",),
    "refusals": ("refuse",),
}
EVIDENCE = ("read", "memory", "common-practice", "trial", "computed")


class Attribute(NamedTuple):
    """A named property of a job. type: choice, set, text, quantity, number or flag."""

    name: str
    type: str
    help: str
    choices: tuple[str, ...] = ()
    dimension: str = ""


class Topic(NamedTuple):
    """What a rule speaks of. form: see EFFECTS_BY_FORM; sizes: stocked sizes in the house unit, where it has them;
    usable_ratio: most high/low of its working range (0: as printed); least_spread: least factor either side of the
    start; strictest: the lowest number of all sources holds, and no layer above the shipped one may raise it;
    never_below: no layer above the shipped one may go below the lowest shipped number."""

    name: str
    form: str
    label: str
    dimension: str = ""
    sizes: tuple[float, ...] = ()
    help: str = ""
    usable_ratio: float = 0.0
    least_spread: float = 1.0
    strictest: bool = False
    never_below: bool = False

    @property
    def guarded(self) -> bool:
        """True where the number keeps metal or people from harm: shipped rules of it cannot be replaced."""
        return self.strictest or self.never_below


class Vocabulary(NamedTuple):
    """All words, by name. `source_weight` ranks kinds of document; `evidence_weight` ranks how a number is known."""

    attributes: Mapping[str, Attribute]
    topics: Mapping[str, Topic]
    source_weight: Mapping[str, float]
    evidence_weight: Mapping[str, float]

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> Vocabulary:
        """Build from the data of `vocabulary.yaml` (already checked against its schema)."""
        attributes = {
            item["name"]: Attribute(
                item["name"],
                item["type"],
                item["help"],
                tuple(str(choice) for choice in item.get("choices", ())),
                item.get("dimension", ""),
            )
            for item in data["attributes"]
        }
        topics = {
            item["name"]: Topic(
                item["name"],
                item["form"],
                item["label"],
                item.get("dimension", ""),
                tuple(float(size) for size in item.get("sizes", ())),
                item.get("help", ""),
                float(item.get("usable_ratio", 0)),
                float(item.get("least_spread", 1)),
                bool(item.get("strictest", False)),
                bool(item.get("never_below", False)),
            )
            for item in data["topics"]
        }
        source_weight = {item["kind"]: float(item["weight"]) for item in data["source_kinds"]}
        evidence_weight = {item["evidence"]: float(item["weight"]) for item in data["evidence_weights"]}
        return cls(attributes, topics, source_weight, evidence_weight)
