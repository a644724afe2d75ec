"""What the seam of a job takes, in one line of its answer: tacks, minutes of arc, rods."""

from __future__ import annotations

from advisor.answer.answer import Advice, SeamUse
from advisor.answer.span import Span
from advisor.consumables.seam import PROCESS_USE, RodSize, consumables
from advisor.rulebook.library import Rulebook
from advisor.units.formatting import mm_and_inch

# Straight lengths as they are sold [mm]: 36 in and 1000 mm.
_INCH_ROD, _METRIC_ROD = 914.4, 1000.0


def seam_use(rulebook: Rulebook, advice: Advice, length: float) -> SeamUse | None:
    """What a seam of this length [mm] takes by the advice; None for a flame."""
    job = advice.job
    if job.process not in PROCESS_USE:
        return None
    rod = RodSize(_INCH_ROD if job.inch_first else _METRIC_ROD)
    found = consumables(rulebook, advice, (length,), rod=rod)
    rods = found.filler.rods.number if found.filler and found.filler.rods else None
    return SeamUse(length, found.tacks, found.arc, rods, _message(length, found.tacks, found.arc, rods, rod[0]))


def _message(length: float, tacks: int, arc: Span | None, rods: Span | None, rod: float) -> str:
    said = [f"{tacks} tack{'' if tacks == 1 else 's'}"] if tacks else []
    if arc is not None:
        said.append(f"about {_minutes(arc.start)} of arc ({_minutes(arc.low)} to {_minutes(arc.high)})")
    if rods is not None:
        count = f"{rods.low:.0f} to {rods.high:.0f} rods" if rods.low < rods.high else f"rods: {rods.high:.0f}"
        said.append(f"{count} of {mm_and_inch(rod)}")
    return f"{mm_and_inch(length)} long: {', '.join(said) or 'no rule counts what it takes'}."


def _minutes(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 90 else f"{seconds / 60:.1f} min"
