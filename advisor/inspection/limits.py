"""Limits of imperfections with the figures worked out for one job: thickness, throat, widths of the bead."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from advisor.answer.answer import Advice
from advisor.cracks.knowledge import source_texts
from advisor.heat.pair import POOL_HALF_WIDTH
from advisor.job.job import Job
from advisor.rulebook.library import Rulebook
from advisor.units.formatting import mm_and_inch

ISO_LEVELS = ("D", "C", "B")
DEFAULT_LEVEL = "C"
ROOT_OF_FACE = 0.5  # width at the back where it was not measured (this project's judgement)
THINNEST = 0.5  # mm, scope of both standards (read)
NAMES = {
    "thickness": "thickness",
    "nominal": "thickness",
    "throat": "throat",
    "face-width": "face width",
    "root-width": "root width",
}


class Basis(NamedTuple):
    """What the figures are worked out from [mm], and what was taken for want of a measurement."""

    thickness: float
    throat: float
    face: float
    root: float
    weld: str
    assumed: tuple[str, ...]

    def of(self, name: str) -> float:
        """The length a limit is a share of [mm]."""
        if name == "nominal":
            return self.throat if self.weld == "fillet" else self.thickness
        return {"thickness": self.thickness, "throat": self.throat, "face-width": self.face, "root-width": self.root}[
            name
        ]


class LimitFigure(NamedTuple):
    """What one level allows. size [mm], percent of area or degrees, where it gives one; formula: in words."""

    level: str
    allows: str
    size: float | None
    percent: float | None
    degrees: float | None
    formula: str
    evidence: str
    sources: tuple[str, ...]


class Limit(NamedTuple):
    """A limit for this job. stand_in: a steel row shown for want of the aluminium one."""

    id: str
    imperfection: str
    also: tuple[str, ...]
    name: str
    code: str
    stand_in: bool
    measure: str
    note: str
    figures: Mapping[str, LimitFigure]

    @property
    def numbers(self) -> frozenset[str]:
        """ISO 6520-1 numbers it speaks of."""
        return frozenset((self.imperfection, *self.also))


def basis(job: Job, advice: Advice, face: float = 0.0, root: float = 0.0) -> Basis:
    """What limits are worked out from. face, root: widths the user measured [mm], 0 where not."""
    thickness = min(member.thickness.value for member in job.members)
    leg, assumed = thickness, []
    if job.leg is not None:
        leg = job.leg.value
    elif "fillet_leg" in advice.preparation:
        leg = advice.preparation["fillet_leg"].start
        assumed += [f"leg {mm_and_inch(leg)} as advised (--leg)"] if job.weld == "fillet" else []
    elif job.weld == "fillet":
        assumed.append("leg as the thickness (--leg)")
    fillet = job.weld == "fillet"
    if not face:
        face = math.sqrt(2) * leg if fillet else 2 * POOL_HALF_WIDTH
        assumed.append(f"bead {mm_and_inch(face)} wide (--face-width)")
    if not root:
        root = ROOT_OF_FACE * face
        assumed += [] if fillet else [f"back {mm_and_inch(root)} wide (--root-width)"]
    if thickness < THINNEST:
        assumed.append(f"rows from {THINNEST:g} mm up, where ISO 5817 and ISO 10042 begin: this sheet is thinner")
    return Basis(thickness, leg / math.sqrt(2), face, root, job.weld, tuple(assumed))


def limits_for(rulebook: Rulebook, family: str, found: Basis) -> tuple[Limit, ...]:
    """The limits that hold for a metal, weld and thickness; a metal's own row before a stand-in."""
    rows = [
        entry
        for entry in rulebook.index.entries("limit")
        if family in (*entry["metals"], *entry.get("stand_in", ()))
        and entry.get("weld", found.weld) == found.weld
        and _covers(entry, found.thickness)
    ]
    own = {entry["imperfection"] for entry in rows if family in entry["metals"] and _has_every_level(entry)}
    kept = [row for row in rows if family in row["metals"] or row["imperfection"] not in own]
    return tuple(
        sorted((_limit(entry, family, found) for entry in kept), key=lambda item: (item.imperfection, item.id))
    )


def _has_every_level(entry: Mapping[str, Any]) -> bool:
    return {level["level"] for level in entry["levels"]} >= set(ISO_LEVELS)


def _covers(entry: Mapping[str, Any], thickness: float) -> bool:
    if thickness < entry.get("from", 0.0) or ("above" in entry and thickness <= entry["above"]):
        return False
    return bool(thickness <= entry.get("to", math.inf))


def _limit(entry: Mapping[str, Any], family: str, found: Basis) -> Limit:
    return Limit(
        entry["id"],
        entry["imperfection"],
        tuple(entry.get("also", ())),
        entry["name"],
        entry["code"],
        family not in entry["metals"],
        entry.get("measure", ""),
        entry.get("note", ""),
        {level["level"]: _figure(level, entry, found) for level in entry["levels"]},
    )


def _figure(level: Mapping[str, Any], entry: Mapping[str, Any], found: Basis) -> LimitFigure:
    sources = level.get("source", entry["source"])
    size = None
    if level["allows"] in ("size", "short"):
        share = level.get("times", 0.0) * found.of(level["of"]) if "of" in level else 0.0
        size = min(share + level.get("plus", 0.0), level.get("most", math.inf))
    return LimitFigure(
        level["level"],
        level["allows"],
        size,
        level.get("percent"),
        level.get("degrees"),
        _formula(level, found),
        sources[0]["evidence"],
        source_texts(sources),
    )


def _formula(level: Mapping[str, Any], found: Basis) -> str:
    if level["allows"] not in ("size", "short"):
        return ""
    parts = [f"{level['plus']:g} mm"] if level.get("plus") else []
    if level.get("times"):
        name = "throat" if level["of"] == "nominal" and found.weld == "fillet" else NAMES[level["of"]]
        parts.append(f"{level['times']:g} x {name}")
    text = " + ".join(parts)
    return f"{text}, at most {level['most']:g} mm" if "most" in level else text


def judged(limit: Limit, size: float) -> dict[str, bool | None]:
    """Whether each level allows a size found [mm]; None where the level gives no size for it."""
    verdicts: dict[str, bool | None] = {}
    for level, figure in limit.figures.items():
        if figure.allows == "none":
            verdicts[level] = False
        elif figure.allows == "allowed":
            verdicts[level] = True
        else:
            verdicts[level] = None if figure.size is None else size <= figure.size * (1 + 1e-9)
    return verdicts
