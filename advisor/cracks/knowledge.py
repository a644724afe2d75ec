"""Knowledge of cracking from the rules: fillers with their limits, and the zones a composition may lie in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from advisor.job.job import Job
from advisor.physics.dilution import mg2si_content
from advisor.physics.hot_cracking import equivalents_ratio, ucs
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError
from advisor.rulebook.library import Rulebook

Contents = Mapping[str, float]
Limits = Mapping[str, Mapping[str, Any]]
# Worst first. A brittle bead is told apart: it does not crack as it freezes.
VERDICTS = ("peak", "shoulder", "clear")
LOW, MIDDLE, HIGH = range(3)
IMPURITY = 1 / 3  # of the most allowed (this project's judgement)
_NO_FUSION = ("912", "942")
_PUT_IN = ("C", "Mn")


def fusion_only(job: Job, why: str) -> None:
    """Raises NotCoveredError for brazing and soldering."""
    if job.process in _NO_FUSION:
        repair = "ISO 18279 classifies the imperfections of brazed joints"
        raise NotCoveredError(why, "process", repair)


class CompositionSpan(NamedTuple):
    """A measure of a composition and its bounds, in mass percent or bare; above and below leave the bound out."""

    measure: str
    low: float | None
    high: float | None
    open_low: bool
    open_high: bool

    def holds(self, measures: Contents) -> bool:
        """True where the measure is known and lies within."""
        value = measures.get(self.measure)
        if value is None:
            return False
        if self.low is not None and (value < self.low or (self.open_low and value == self.low)):
            return False
        return not (self.high is not None and (value > self.high or (self.open_high and value == self.high)))


class Zone(NamedTuple):
    """A region of compositions and what is known of it."""

    id: str
    system: str
    metals: frozenset[str]
    verdict: str
    bead: tuple[CompositionSpan, ...]
    base: tuple[CompositionSpan, ...]
    filler: tuple[CompositionSpan, ...]
    because: str
    sources: tuple[str, ...]
    evidence: tuple[str, ...]

    def holds(self, bead: Contents, base: Contents, filler: Contents) -> bool:
        """True where bead, base and filler all lie in it."""
        pairs = ((self.bead, bead), (self.base, base), (self.filler, filler))
        return all(span.holds(measures) for spans, measures in pairs for span in spans)


class RodComposition(NamedTuple):
    """A filler with its limits."""

    name: str
    metals: frozenset[str]
    limits: Limits
    sources: tuple[str, ...]


def zones(rulebook: Rulebook) -> tuple[Zone, ...]:
    """Every zone of the rules, by id."""
    return tuple(_zone(entry) for entry in rulebook.index.entries("crack-zone"))


def rods(rulebook: Rulebook) -> tuple[RodComposition, ...]:
    """Every filler of the rules, by id."""
    return tuple(
        RodComposition(entry["id"], frozenset(entry["metals"]), entry["composition"], source_texts(entry["source"]))
        for entry in rulebook.index.entries("filler")
    )


def source_texts(sources: Iterable[Mapping[str, str]]) -> tuple[str, ...]:
    """Each source as title, place and evidence."""
    return tuple(
        f"{item['title']}{', ' + item['at'] if item['at'] else ''} ({_SHORT.get(item['evidence'], item['evidence'])})"
        for item in sources
    )


_SHORT = {"memory": "recalled", "common-practice": "shop habit"}


def _zone(entry: Mapping[str, Any]) -> Zone:
    return Zone(
        entry["id"],
        entry["system"],
        frozenset(entry["metals"]),
        entry["verdict"],
        _spans(entry.get("bead", ())),
        _spans(entry.get("base", ())),
        _spans(entry.get("filler", ())),
        entry["because"],
        source_texts(entry["source"]),
        tuple(item["evidence"] for item in entry["source"]),
    )


def _spans(spans: Iterable[Mapping[str, Any]]) -> tuple[CompositionSpan, ...]:
    return tuple(
        CompositionSpan(
            span["measure"],
            span.get("from", span.get("above")),
            span.get("to", span.get("below")),
            "above" in span,
            "below" in span,
        )
        for span in spans
    )


def contents_at(limits: Limits, end: int) -> dict[str, float]:
    """Contents at the low end of the limits, in their middle, or at their high end [mass %].

    What has no lower limit is an impurity, of which a melt holds far less than it may: its middle is `IMPURITY`. Carbon
    and manganese are put in, whether or not a least is stated.
    """
    found = {}
    for element, limit in limits.items():
        low = float(limit["low"])
        high = float(limit["high"]) if limit["high"] is not None else low
        found[element] = (low, 0.5 * (low + high) if low > 0 or element in _PUT_IN else IMPURITY * high, high)[end]
    return found


def measures(contents: Contents, family: str) -> dict[str, float]:
    """Contents with what follows from them: Mg2Si, P+S, UCS or Creq/Nieq where they hold."""
    found = dict(contents)
    if family == "aluminium":
        magnesium, silicon = contents.get("Mg", 0.0), contents.get("Si", 0.0)
        found.update({name: contents.get(name, 0.0) for name in ("Si", "Mg", "Cu", "Zn")})
        found["Mg2Si"] = mg2si_content(magnesium, silicon)
        if silicon > 0:
            found["Mg/Si"] = magnesium / silicon
        return found
    found["P+S"] = contents.get("P", 0.0) + contents.get("S", 0.0)
    try:
        if family == "stainless":
            found["Creq/Nieq"] = equivalents_ratio(contents)
        elif family == "carbon-steel":
            found["UCS"] = ucs(contents)
    except PhysicsRangeError:
        # Outside what the index was made for: no zone of it can hold then, and the answer says that none does.
        return found
    return found


_STEEL = ("C", "Si", "Mn", "P", "S", "UCS")
# What is worth showing of a bead, by family.
SHOWN = {
    "aluminium": ("Si", "Mg", "Cu", "Zn", "Mg2Si"),
    "carbon-steel": _STEEL,
    "low-alloy-steel": _STEEL[:-1],
    "stainless": ("C", "Cr", "Ni", "Mo", "P+S", "Creq/Nieq"),
}
