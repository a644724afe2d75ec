"""Ways to make a part side by side: a table of what decides, then each way with its reasons."""

from __future__ import annotations

from typing import Any

from advisor.compare.answer import Comparison, MethodAnswer
from advisor.compare.figures import MethodFigure
from advisor.compare.methods import part_words
from advisor.setup.as_json import number
from advisor.show import lines as shared
from advisor.show import wording
from advisor.show.lines import wrap
from advisor.units.quantities import UnitTable, in_both_systems, range_in_both_systems

FORMAT = 1
_HEADS = (
    f"   {'way':<24}{'':<9}{'seams':>12}{'arc':>7}{'filler':>8}{'heat':>8}{'kept':>7}",
    f"   {'':<24}{'':<9}{'':>12}{'min':>7}{'g':>8}{'kJ/mm':>8}{'%':>7}",
)
_STATUS = {"advised": "fits", "no-rule": "no rule", "refused": "refused"}
_TOPICS = {"way_leak": "Tight", "way_finish": "Anodised", "way_skill": "Skill", "way_note": "How"}
_HOW = (
    "arc: minutes with the arc on, tacks included. heat: kJ per mm of the hottest seam, a run (code factor, settled "
    "volts, amps, travel). kept: tensile strength beside the seam, of that before. Likely values; the ranges stand "
    "below and in --json. Trails: --why. Ways that fit stand first, the least seam before others; solder last, since "
    "it seals and does not carry."
)

_PIECES_ONLY = "What follows is for PRACTICE PIECES ONLY."


def compare_json(answer: Comparison) -> dict[str, Any]:
    """The comparison as JSON data, every figure with its trail."""
    return {
        "format": FORMAT,
        "status": answer.status,
        "practice_only": bool(answer.job.restricted),
        "part": answer.part,
        "material": answer.material,
        "thickness_mm": number(answer.job.members[0].thickness.value),
        "ways": [_way_json(item) for item in answer.ways],
        "decides": list(answer.decides),
        "cautions": [item._asdict() for item in answer.cautions],
        "codes": [item._asdict() for item in answer.codes],
        "ruleset": {"content_hash": answer.content_hash},
    }


def _way_json(item: MethodAnswer) -> dict[str, Any]:
    way = item.way
    return {
        "way": way.name,
        "label": way.label,
        "process": way.process or None,
        "made_from": way.made_from,
        "status": item.status,
        "seams": {
            "number": way.number,
            "length_mm": number(way.length),
            "groups": [{**group._asdict(), "lengths": [number(mm) for mm in group.lengths]} for group in way.seams],
            "folds_mm": [number(mm) for mm in way.folds],
        },
        "fillers": list(item.fillers),
        "figures": {name: _figure_json(figure) for name, figure in item.figures.items()},
        "reasons": {topic: [step._asdict() for step in steps] for topic, steps in item.words.items()},
        "refusals": [refusal._asdict() for refusal in item.refusals],
        "no_rule": [lack._asdict() for lack in item.no_rule],
        "notes": list(item.notes),
        "missing": list(item.missing),
    }


def _figure_json(figure: MethodFigure) -> dict[str, Any]:
    return {
        "label": figure.label,
        "low": number(figure.low),
        "start": number(figure.start),
        "high": number(figure.high),
        "unit": figure.unit,
        "note": figure.note,
        "trail": list(figure.trail),
    }


def compare_text(answer: Comparison, units: UnitTable, why: bool = False) -> str:
    """The comparison as text of 80 columns. why: with the trail of every figure."""
    job = answer.job
    inch = job.inch_first
    size = in_both_systems(job.members[0].thickness.value, "length", inch_first=inch, table=units)
    lines = [job.name[: shared.WIDTH]] if job.name else []
    part = part_words(job, lambda mm: in_both_systems(mm, "length", inch_first=inch, table=units))
    lines += wrap(f"WAYS TO MAKE: {part}; {answer.material} {size}")
    for note in job.assumed:
        lines += wrap(note, "  ", "  - ")
    lines += shared.stop_lines(job.restricted, procedure="a qualified procedure", then=_PIECES_ONLY)
    lines += ["", *_HEADS]
    for place, item in enumerate(answer.ways, 1):
        lines.append(_row(item, place, units, inch))
    lines += ["", *wrap(_HOW, "  ")]
    lines += ["", "WHAT STANDS OUT", *(line for said in answer.decides for line in wrap(said, "    ", "  - "))]
    for place, item in enumerate(answer.ways, 1):
        lines += _way(item, place, units, inch, why)
    lines += shared.caution_lines(answer.cautions, "CAUTIONS of the ways that fit")
    lines += shared.code_lines(answer.codes)
    lines += ["", f"rules {answer.content_hash[:12]}; start values for practice, not a qualified procedure"]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _row(item: MethodAnswer, place: int, units: UnitTable, inch: bool) -> str:
    figures = item.figures
    seams = f"{item.way.number}, {_metres(item.way.length, units, inch)}" if item.way.number else "none"
    arc, filler, heat = figures.get("arc"), figures.get("filler"), figures.get("heat")
    cells = (
        f"{arc.start / 60:.1f}" if arc else "-",
        f"{filler.start:.0f}" if filler else "-",
        f"{heat.start:.2f}" if heat else "-",
        f"{figures['kept'].start:.0f}" if "kept" in figures else "-",
    )
    start = f"{place:>2} {item.way.label:<24}{_STATUS[item.status]:<9}"
    return f"{start}{seams:>12}{cells[0]:>7}{cells[1]:>8}{cells[2]:>8}{cells[3]:>7}"


def _metres(mm: float, units: UnitTable, inch: bool) -> str:
    return f"{mm / units.factors['length', 'in'][0] / 12:.1f} ft" if inch else f"{mm / 1000:.2f} m"


def _way(item: MethodAnswer, place: int, units: UnitTable, inch: bool, why: bool) -> list[str]:
    title = f"{place}. {item.way.label.upper()} ({item.way.name})"
    lines = ["", f"{title}: {_STATUS[item.status]}"]
    if item.status == "advised":
        lines += wrap(_seams(item, units, inch), "      ", "    ")
    for refusal in item.refusals:
        lines += shared.refusal_text(refusal, "    ")
    for lack in item.no_rule:
        lines += wrap(lack.message, "    ")
    for figure in item.figures.values():
        lines += _figure(figure, units, inch, why)
    for topic, steps in item.words.items():
        text = "; ".join(step.do.rstrip(".") for step in steps)
        known = ", ".join(dict.fromkeys(wording.known_short(step.evidence) for step in steps))
        lines += wrap(f"{_TOPICS[topic]}: {text} [{known}]", "      ", "    ")
        if why:
            for step in steps:
                lines += wrap(f"{step.why} ({step.rule_id}; {step.source})", "          ", "        ")
    for text in (*item.notes, *(f"not known: {lack}" for lack in item.missing)):
        lines += wrap(text, "      ", "    - ")
    return lines


def _seams(item: MethodAnswer, units: UnitTable, inch: bool) -> str:
    def size(mm: float) -> str:
        return in_both_systems(mm, "length", inch_first=inch, table=units)

    parts = [f"{len(group.lengths)} x {group.what}, {size(sum(group.lengths))}" for group in item.way.seams]
    if item.way.folds:
        parts.append(f"{len(item.way.folds)} bend{'s' if len(item.way.folds) > 1 else ''}")
    filler = f"; filler {', '.join(item.fillers)}" if item.fillers else ""
    return f"{'; '.join(parts)}{filler}"


def _figure(figure: MethodFigure, units: UnitTable, inch: bool, why: bool) -> list[str]:
    note = f" ({figure.note})" if figure.note and figure.note not in figure.label else ""
    lines = wrap(f"{figure.label}: {_value(figure, units, inch)}{note}", "      ", "    ")
    if why:
        for step in figure.trail:
            lines += wrap(step, "          ", "        ")
    return lines


def _value(figure: MethodFigure, units: UnitTable, inch: bool) -> str:
    """The likely value, and its range where it is one; in both systems where there are two."""
    spread = figure.high - figure.low > 1e-3 * max(abs(figure.high), 1e-9)
    if figure.name == "arc":
        text = f"{figure.start / 60:.1f} min"
        return text + (f" ({figure.low / 60:.1f} to {figure.high / 60:.1f})" if spread else "")
    if figure.dimension in ("", "percent", "heat_input"):
        text = f"{figure.start:.3g} {figure.unit}"
        return text + (f" ({figure.low:.3g} to {figure.high:.3g})" if spread else "")
    text = in_both_systems(figure.start, figure.dimension, inch_first=inch, table=units)
    if not spread:
        return text
    ends = range_in_both_systems(figure.low, figure.high, figure.dimension, inch_first=inch, table=units)
    return f"{text}, range {ends}"
