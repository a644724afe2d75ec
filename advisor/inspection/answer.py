"""`prestrike inspect`: limits, the order to look in, bench tests, the leak test, and repairs of what was found."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from advisor.answer.answer import Advice
from advisor.cracks.knowledge import fusion_only, source_texts
from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.inspection.leak import LeakAnswer, LeakRequest, leak_answer
from advisor.inspection.limits import Basis, Limit, basis, judged, limits_for
from advisor.job.facts import joint_facts, workpieces
from advisor.job.job import Job
from advisor.job.material import find_material
from advisor.rulebook.conditions import Condition, Fact, holds
from advisor.rulebook.library import Rulebook
from advisor.rulebook.names import fold
from advisor.setup.answer import advise
from advisor.units.quantities import QuantityError, UnitTable, parse_quantity

_SIZE = re.compile(r"(?P<what>.*?)[\s,:]+(?P<size>(?:[+\-−]?[0-9.][0-9./ \-]*|nan |inf )\s*[a-zA-Z\"″]+)\s*\Z")


class Look(NamedTuple):
    """One thing to look at, with the limits that speak of it."""

    id: str
    look: str
    using: str
    judge: str
    limits: tuple[Limit, ...]
    sources: tuple[str, ...]


class CouponSize(NamedTuple):
    """A measure of a coupon [mm]."""

    what: str
    value: float
    sources: tuple[str, ...]


class BenchTest(NamedTuple):
    """A bench test."""

    id: str
    name: str
    destroys: bool
    needs: tuple[str, ...]
    do: str
    passes: str
    caution: str
    stop: str
    sizes: tuple[CouponSize, ...]
    sources: tuple[str, ...]


class Repair(NamedTuple):
    """What to do about an imperfection. verdict: leave, dress, grind-out, scrap, ask."""

    id: str
    imperfections: tuple[str, ...]
    verdict: str
    when: str
    do: tuple[str, ...]
    again: str
    machining: str
    caution: str
    sources: tuple[str, ...]


class Found(NamedTuple):
    """Something found: its words, ISO 6520-1 numbers, size [mm] or none, the limits that speak of it, repairs.

    allowed: whether each level allows the size: limit id -> level -> yes, no, no figure.
    """

    text: str
    numbers: tuple[str, ...]
    size: float | None
    limits: tuple[Limit, ...]
    allowed: Mapping[str, Mapping[str, bool | None]]
    repairs: tuple[Repair, ...]


class InspectionRequest(NamedTuple):
    """What the user wants to know. face, root: widths measured [mm]; found: what was found, in words; leak_asked: the
    leak test before all else."""

    level: str
    face: float = 0.0
    root: float = 0.0
    found: tuple[str, ...] = ()
    leak: LeakRequest = LeakRequest()
    leak_asked: bool = False


class InspectAnswer(NamedTuple):
    """All of it."""

    advice: Advice
    level: str
    basis: Basis
    limits: tuple[Limit, ...]
    looks: tuple[Look, ...]
    tests: tuple[BenchTest, ...]
    leak: LeakAnswer | None
    found: tuple[Found, ...]
    leak_asked: bool = False


def inspect_answer(rulebook: Rulebook, job: Job, wanted: InspectionRequest, units: UnitTable) -> InspectAnswer:
    """How to judge the seam of a job. Raises PrestrikeError for bad input."""
    fusion_only(job, "the limits here are for fusion welds, not for brazed or soldered joints")
    advice = advise(rulebook, job)
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    facts = joint_facts(job, materials)
    family = str(facts["base"])
    measured = basis(job, advice, wanted.face, wanted.root)
    limits = limits_for(rulebook, family, measured)
    chosen = _Chosen(rulebook, facts, family, job.weld)
    return InspectAnswer(
        advice,
        wanted.level,
        measured,
        limits,
        tuple(_look(entry, limits) for entry in chosen.entries("look")),
        tuple(_test(entry, chosen, measured.thickness) for entry in chosen.entries("test")),
        leak_answer(job, workpieces(job, materials), wanted.leak),
        tuple(_found(text, chosen, limits, units) for text in wanted.found),
        wanted.leak_asked,
    )


class _Chosen:
    """The entries of the rules that are for this job."""

    def __init__(self, rulebook: Rulebook, facts: Mapping[str, Fact], family: str, weld: str) -> None:
        self.rulebook, self.facts, self.family, self.weld = rulebook, facts, family, weld

    def holds(self, entry: Mapping[str, Any]) -> bool:
        """True where metal, weld and job are those of the entry."""
        if self.family not in entry.get("metals", (self.family,)) or entry.get("weld", self.weld) != self.weld:
            return False
        job: Condition | None = entry.get("job")
        return job is None or holds(job, self.facts)

    def entries(self, kind: str) -> list[dict[str, Any]]:
        """The entries of a kind, in their order."""
        found = [entry for entry in self.rulebook.index.entries(kind) if self.holds(entry)]
        return sorted(found, key=lambda entry: (entry["order"], entry["id"]))


def _look(entry: Mapping[str, Any], limits: Sequence[Limit]) -> Look:
    numbers = set(entry.get("imperfections", ()))
    return Look(
        entry["id"],
        entry["look"],
        entry["with"],
        entry["judge"],
        tuple(limit for limit in limits if limit.imperfection in numbers),
        source_texts(entry["source"]),
    )


def _test(entry: Mapping[str, Any], chosen: _Chosen, thickness: float) -> BenchTest:
    sizes = [
        CouponSize(size["what"], size["times"] * thickness + size.get("plus", 0.0), source_texts(size["source"]))
        for size in entry.get("sizes", ())
        if chosen.holds(size)
    ]
    return BenchTest(
        entry["id"],
        entry["name"],
        bool(entry.get("destroys", False)),
        tuple(entry.get("needs", ())),
        entry["do"],
        entry["passes"],
        entry["caution"],
        entry["stop"],
        tuple(sizes),
        source_texts(entry["source"]),
    )


def _found(text: str, chosen: _Chosen, limits: Sequence[Limit], units: UnitTable) -> Found:
    what, size = _split(text, units)
    entries = chosen.entries("repair")
    numbers = _numbers(what, chosen, entries)
    named = [entry for entry in entries if _speaks(entry, what, numbers)]
    rows = tuple(limit for limit in limits if limit.numbers & numbers)
    # A word that stands in the name of a row means that row, not its neighbours that are repaired alike.
    rows = tuple(limit for limit in rows if fold(what) in fold(limit.name)) or rows
    allowed = {limit.id: judged(limit, size) for limit in rows} if size is not None else {}
    return Found(text, tuple(sorted(numbers)), size, rows, allowed, tuple(_repair(entry) for entry in named))


def _split(text: str, units: UnitTable) -> tuple[str, float | None]:
    """`undercut 0.4 mm` -> its words and its size [mm]."""
    match = _SIZE.fullmatch(text.strip())
    if match is None:
        return text.strip(), None
    try:
        return match["what"].strip(), parse_quantity(match["size"], "length", table=units).value
    except QuantityError as error:
        raise PrestrikeError(error.diagnostics[0]._replace(subject="--found")) from None


def _numbers(what: str, chosen: _Chosen, entries: Sequence[Mapping[str, Any]]) -> frozenset[str]:
    """ISO 6520-1 numbers a text means. Raises PrestrikeError where none is known."""
    every = chosen.rulebook.index.entries("repair")
    rows = chosen.rulebook.index.entries("limit")
    if re.fullmatch(r"[0-9]{3,4}", what):
        known = {number for entry in every for number in entry["imperfections"]}
        known |= {number for row in rows for number in (row["imperfection"], *row.get("also", ()))}
        if what in known:
            return frozenset((what,))
        raise _unknown(what, sorted(known))
    named = {fold(name): set(entry["imperfections"]) for entry in every for name in entry["names"]}
    for entry in entries:
        for name in entry["names"]:
            named[fold(name)] |= set(entry["imperfections"])
    if fold(what) in named:
        return frozenset(named[fold(what)])
    raise _unknown(what, [name for entry in every for name in entry["names"]])


def _unknown(what: str, known: Sequence[str]) -> PrestrikeError:
    repair = (
        did_you_mean(what, known) or "say for example porosity, crack, undercut, or an ISO 6520-1 number such as 2011"
    )
    return PrestrikeError(Diagnostic("unknown-imperfection", f"'{what}' is no imperfection known here", help=repair))


def _speaks(entry: Mapping[str, Any], what: str, numbers: frozenset[str]) -> bool:
    if re.fullmatch(r"[0-9]{3,4}", what):
        return what in entry["imperfections"]
    if fold(what) in {fold(name) for name in entry["names"]}:
        return True
    # What to mind when any of these is welded again.
    return entry["order"] >= _AGAIN and bool(numbers & set(entry["imperfections"]))


_AGAIN = 200


def _repair(entry: Mapping[str, Any]) -> Repair:
    return Repair(
        entry["id"],
        tuple(entry["imperfections"]),
        entry["verdict"],
        entry["when"],
        tuple(entry["do"]),
        entry.get("again", ""),
        entry.get("machining", ""),
        entry.get("caution", ""),
        source_texts(entry["source"]),
    )
