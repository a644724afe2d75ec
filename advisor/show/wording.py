"""Phrases every report shares: numbers in both unit systems, where a number is known from, plain names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from advisor.answer.answer import Setting
from advisor.job.job import Job
from advisor.job.words import TUNGSTEN_COLOURS
from advisor.rulebook.choices import Option
from advisor.rulebook.rule import LAYERS
from advisor.units.quantities import UnitTable, in_both_systems, range_in_both_systems

PROCESS_NAMES = {
    "141": "TIG (ISO 4063: 141)",
    "131": "MIG (131)",
    "135": "MAG (135)",
    "111": "stick (111)",
    "912": "torch brazing (912)",
    "942": "torch soldering (942)",
}
JOINT_NAMES = {
    "butt": "butt joint",
    "corner-open": "open outside corner",
    "corner-half-open": "half-open outside corner",
    "corner-closed": "closed outside corner",
    "corner-inside": "inside corner",
    "tee": "tee joint",
    "lap": "lap joint",
    "edge": "edge joint",
}
POSITION_NAMES = {
    "PA": "flat (PA)",
    "PB": "horizontal fillet (PB)",
    "PC": "horizontal (PC)",
    "PD": "overhead fillet (PD)",
    "PE": "overhead (PE)",
    "PF": "vertical up (PF)",
    "PG": "vertical down (PG)",
}
# What is chosen at machine and torch, as every report orders it.
CHOICE_NAMES = (
    ("electrode", "Electrode"),
    ("polarity", "Polarity"),
    ("transfer", "Transfer"),
    ("tungsten_type", "Tungsten type"),
    ("filler", "Filler"),
    ("flux", "Flux"),
    ("flame", "Flame"),
    ("gas", "Gas"),
)
# In words a beginner understands; order is the order of trust.
_EVIDENCE_WORDS = (
    ("trial", "own trial", "tried"),
    ("read", "printed source", "print"),
    ("computed", "calculation", "calc"),
    ("memory", "recalled, unchecked", "recall"),
    ("common-practice", "shop habit", "habit"),
)
EVIDENCE_KEY = (
    "How known: print = read in the document named (how many, independent); recall = a document remembered, not "
    "re-read; habit = custom of the trade, no document; calc = worked out; tried = this shop's own trials. "
    "Two or more prints are worth trusting; recall or habit alone is a guess to test on the coupon. "
    "Who says what: prestrike why NAME."
)


def stop_text(
    services: Sequence[str],
    procedure: str = "a qualified welding procedure",
    then: str = "What follows is for PRACTICE COUPONS ONLY.",
) -> str:
    """What restricted work is told before all else; empty for other work."""
    if not services:
        return ""
    return (
        f"STOP: {', '.join(services)} work. The part itself belongs to {procedure} and licensed practice; the codes "
        f"are named below. {then}"
    )


def left_out_text(finding: Mapping[str, object]) -> str:
    """A rule file that could not be used, in one line."""
    return f"LEFT OUT: {finding.get('file', '')}:{finding.get('line', '')} {finding['message']}"


def known_from(counts: Mapping[str, int]) -> str:
    """Where a number is known from, counted: `3 printed sources, 1 shop habit`."""
    parts: list[str] = []
    for evidence, one, _ in _EVIDENCE_WORDS:
        count = counts.get(evidence, 0)
        if count:
            plural = "s" if count > 1 and not one.endswith("unchecked") else ""
            parts.append(f"{count} {one}{plural}")
    return ", ".join(parts)


def known_mark(counts: Mapping[str, int]) -> str:
    """The same as a short mark: `print 3 +habit`."""
    parts: list[str] = []
    for evidence, _, short in _EVIDENCE_WORDS:
        count = counts.get(evidence, 0)
        if count:
            parts.append(f"{short} {count}" if evidence in ("trial", "read") and not parts else short)
    return " +".join(parts[:2])


def known_short(evidence: str) -> str:
    """One evidence in words."""
    return next((one for key, one, _ in _EVIDENCE_WORDS if key == evidence), evidence)


def layer_mark(layer: str) -> str:
    """What marks a rule that was not shipped: ` [shop rule]`."""
    return "" if layer == LAYERS[0] else f" [{layer} rule]"


def start_text(setting: Setting, inch_first: bool, units: UnitTable) -> str:
    """The start value in both systems."""
    if setting.dimension == "count":
        return f"{setting.start:.0f}"
    return in_both_systems(setting.start, setting.dimension, inch_first=inch_first, table=units)


def also(setting: Setting) -> str:
    """What a shop would say besides: the number of the cup, in sixteenths of an inch."""
    return f" #{setting.start / (25.4 / 16):.0f}" if setting.name == "nozzle_bore" else ""


def range_text(setting: Setting, inch_first: bool, units: UnitTable) -> str:
    """The working range in both systems; empty where it is one value."""
    if setting.high - setting.low <= 1e-6 * max(abs(setting.high), 1):
        return ""
    if setting.dimension == "count":
        return f"{setting.low:.0f} to {setting.high:.0f}"
    return range_in_both_systems(setting.low, setting.high, setting.dimension, inch_first=inch_first, table=units)


def wanted(job: Job, topic: str) -> str:
    """What the user has and the settings are for: filler, gas and the like; empty where nothing was said."""
    named = ("electrode", "transfer", "gas", "filler", "tungsten_type")
    return str(getattr(job, topic)) if topic in named else ""


def _with_colour(name: str) -> str:
    """A tungsten electrode with the colour of its end; any other name as it is."""
    return f"{name} {TUNGSTEN_COLOURS[name]}" if name in TUNGSTEN_COLOURS else name


def first_options(options: Sequence[Option], most: int = 3, have: str = "") -> str:
    """The advised options in order: `ER5356 (else ER4043; or ER4943)`; what the user has stands first."""
    names = [_with_colour(option.name) + layer_mark(option.layer) for option in options if option.rank][:most]
    if have:
        rest = [name for name in names if name.split()[0] != have]
        first = bool(names) and names[0].split()[0] == have
        return f"{_with_colour(have)}, as you have it" + (f" (advised: {'; or '.join(rest)})" if not first else "")
    if not names:
        return "none advised"
    return names[0] + (f" (else {'; or '.join(names[1:])})" if len(names) > 1 else "")
