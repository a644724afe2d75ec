"""How to judge a seam, as text and JSON. Asked for what was found or a leak test, the text gives that alone."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from advisor.inspection.answer import BenchTest, Found, InspectAnswer, Look, Repair
from advisor.inspection.leak_text import leak_json, leak_text
from advisor.inspection.limits import ISO_LEVELS, Limit, LimitFigure
from advisor.show import lines as shared
from advisor.show import wording
from advisor.show.lines import wrap
from advisor.units.formatting import plain_number
from advisor.units.quantities import UnitTable

FORMAT = 1
VERDICTS = {
    "leave": "LEAVE IT",
    "dress": "DRESS OR FILL IT",
    "grind-out": "GRIND IT OUT",
    "scrap": "SCRAP IT OR CUT IT OUT",
    "ask": "THINK FIRST",
}


def inspect_json(answer: InspectAnswer) -> dict[str, Any]:
    """The answer as JSON data. Lengths in mm."""
    advice = answer.advice
    return {
        "format": FORMAT,
        "status": advice.status,
        "practice_only": advice.practice_only,
        "level": answer.level,
        "basis": {**answer.basis._asdict(), "assumed": list(answer.basis.assumed)},
        "limits": [_limit_json(limit) for limit in answer.limits],
        "looks": [_plain(look) | {"limits": [limit.id for limit in look.limits]} for look in answer.looks],
        "tests": [_plain(test) | {"sizes": [_plain(size) for size in test.sizes]} for test in answer.tests],
        "leak": leak_json(answer.leak) if answer.leak else None,
        "found": [
            _plain(item)
            | {"limits": [limit.id for limit in item.limits], "repairs": [_plain(repair) for repair in item.repairs]}
            for item in answer.found
        ],
        "refusals": [item._asdict() for item in advice.refusals],
        "cautions": [item._asdict() for item in advice.cautions],
        "codes": [item._asdict() for item in advice.codes],
        "left_out": list(advice.left_out),
        "ruleset": {"content_hash": advice.content_hash},
    }


def _plain(item: Look | BenchTest | Repair | Found | Any) -> dict[str, Any]:
    return {name: list(value) if isinstance(value, tuple) else value for name, value in item._asdict().items()}


def _limit_json(limit: Limit) -> dict[str, Any]:
    return {
        **_plain(limit),
        "figures": {
            level: {**_plain(figure), "size": None if figure.size is None else round(figure.size, 4)}
            for level, figure in limit.figures.items()
        },
    }


def inspect_text(answer: InspectAnswer, units: UnitTable) -> str:
    """The answer as text of 80 columns."""
    advice = answer.advice
    lines = [*shared.head(advice, units), *shared.stop_lines(advice.job.restricted)]
    if advice.status == "refused":
        lines += shared.refused(advice)
        lines += _found_only(answer) if answer.found else []
    elif answer.found:
        lines += _found_only(answer)
    elif answer.leak is not None and answer.leak_asked:
        lines += leak_text(answer.leak, advice.job.inch_first, units)
    else:
        lines += _all(answer, units)
    lines += shared.cautions(advice) + shared.codes(advice)
    for item in advice.left_out:
        lines += wrap(wording.left_out_text(item), "  ")
    lines += ["", f"rules {advice.content_hash[:12]}; levels rate workmanship, not fitness for a purpose"]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _found_only(answer: InspectAnswer) -> list[str]:
    lines: list[str] = []
    for item in answer.found:
        lines += _found_text(item, answer)
    return [*lines, *_basis(answer)]


def _all(answer: InspectAnswer, units: UnitTable) -> list[str]:
    lines = ["", f"LOOK, in this order (level {answer.level} where a figure stands)"]
    for number, look in enumerate(answer.looks, 1):
        lines += wrap(f"{look.look}, with {look.using}. Good when: {look.judge}.", "    ", f"{number}.".ljust(4))
        for limit in look.limits:
            lines += _limit_line(limit, answer)
    lines += _table(answer)
    lines += ["", "TEST A COUPON, or the part where it says so"]
    for test in answer.tests:
        lines += _test_text(test, answer)
    if answer.leak is not None:
        lines += leak_text(answer.leak, answer.advice.job.inch_first, units)
    lines += [
        "",
        *wrap(
            "STOP AND SEE A PROFESSIONAL where a person's safety hangs on the seam: what lifts, carries, holds "
            "pressure or fuel, moves on a road. None of the tests here shows that it is sound."
        ),
        *wrap(
            "Something found? prestrike inspect ... --found porosity (or an ISO 6520-1 number). Why it came: "
            "prestrike faults."
        ),
    ]
    return lines


def _limit_line(limit: Limit, answer: InspectAnswer) -> list[str]:
    figure = limit.figures.get(answer.level)
    if figure is None:
        return []
    text = f"{limit.name} ({limit.imperfection}): {_words(figure, answer)}"
    if figure.formula:
        text += f" = {figure.formula}"
    if limit.measure:
        text += f". Measure: {limit.measure}"
    return wrap(text + ".", "        ", "      - ")


def _words(figure: LimitFigure, answer: InspectAnswer) -> str:
    """What a level allows, in a phrase."""
    phrase = {
        "none": "none",
        "allowed": "allowed",
        "share": f"{figure.percent or 0:g} % of the area",
        "angle": f"at least {figure.degrees or 0:g}°",
    }.get(figure.allows)
    if phrase is None:
        phrase = f"at most {_length(figure.size or 0.0, answer)}"
        phrase += ", short lengths only" if figure.allows == "short" else ""
    return phrase + _RECALLED.get(figure.evidence, "")


_RECALLED = {"memory": " [recalled]", "common-practice": " [habit]"}


def _length(mm: float, answer: InspectAnswer) -> str:
    return f"{mm / 25.4:.3f} in" if answer.advice.job.inch_first else f"{plain_number(mm, 2)} mm"


def _table(answer: InspectAnswer) -> list[str]:
    unit = "in" if answer.advice.job.inch_first else "mm"
    lines = ["", f"ALL LEVELS, {unit:<36}{'D':<12}{'C':<12}B"]
    for limit in answer.limits:
        if set(limit.figures) & set(ISO_LEVELS):
            lines += _table_row(limit, answer)
    lines += wrap("sh: over short lengths only; *: recalled, not re-read.", "  ", "  ")
    if any(limit.stand_in for limit in answer.limits):
        lines += wrap(
            "The aluminium standard is ISO 10042; its table was not at hand. Rows without a mark of their own are "
            "those of ISO 5817, the steel standard, as a stand-in; rows marked 10042 are recalled.",
            "  ",
        )
    lines += _basis(answer)
    others = [limit for limit in answer.limits if not set(limit.figures) & set(ISO_LEVELS)]
    if others:
        lines += ["", "AWS, for comparison (written for plate thicker than sheet)"]
    for limit in others:
        said = "; ".join(f"{level} {_words(figure, answer)}" for level, figure in limit.figures.items())
        note = f" ({limit.note})" if limit.note else ""
        lines += wrap(f"{limit.code}, {limit.name}: {said}{note}.", "    ", "  - ")
    return lines


def _table_row(limit: Limit, answer: InspectAnswer) -> list[str]:
    mark = " (10042)" if limit.code == "ISO 10042" else ""
    cells = [_cell(limit.figures.get(level), answer) for level in ISO_LEVELS]
    label = f"{limit.imperfection:<5}{limit.name}{mark}"
    row = f"{cells[0]:<12}{cells[1]:<12}{cells[2]}"
    if len(label) <= 47:
        return [f"  {label:<46}{row}"]
    return [f"  {label}", f"  {'':<46}{row}"]


def _cell(figure: LimitFigure | None, answer: InspectAnswer) -> str:
    if figure is None:
        return "-"
    star = "*" if figure.evidence == "memory" else ""
    if figure.size is not None:
        size = f"{figure.size / 25.4:.3f}" if answer.advice.job.inch_first else plain_number(figure.size, 2)
        return f"{size}{' sh' if figure.allows == 'short' else ''}{star}"
    words = {"share": f"{figure.percent} %", "angle": f">={figure.degrees}°"}
    return words.get(figure.allows, figure.allows) + star


def _basis(answer: InspectAnswer) -> list[str]:
    found = answer.basis
    text = f"Worked out for {_length(found.thickness, answer)} thick"
    if found.weld == "fillet":
        text += f", throat {_length(found.throat, answer)}"
    if found.assumed:
        text += "; taken: " + ", ".join(found.assumed)
    return wrap(text + ".", "  ")


def _test_text(test: BenchTest, answer: InspectAnswer) -> list[str]:
    name = test.name + (" (the coupon is lost)" if test.destroys else "")
    lines = wrap(f"{name}: {test.do}.", "    ", "  - ")
    if test.needs:
        lines += wrap(f"Needs {'; '.join(test.needs)}.", "    ")
    for size in test.sizes:
        lines += wrap(f"{size.what}: {_length(size.value, answer)}.", "    ")
    lines += wrap(f"Passes: {test.passes}.", "    ")
    lines += wrap(f"Careful: {test.caution}.", "    ", "  ! ")
    return lines + wrap(f"Stop: {test.stop}.", "    ")


def _found_text(item: Found, answer: InspectAnswer) -> list[str]:
    lines = ["", f"FOUND: {item.text}"]
    for limit in item.limits:
        figure = limit.figures.get(answer.level)
        if figure is not None:
            said = f"{limit.code} {answer.level}, {limit.name} ({limit.imperfection}): {_words(figure, answer)}"
            lines += wrap(said + _judged(item, limit, answer), "    ", "  - ")
        elif not set(limit.figures) & set(ISO_LEVELS):
            said = "; ".join(f"{level} {_words(each, answer)}" for level, each in limit.figures.items())
            lines += wrap(f"{limit.code}, {limit.name}: {said}", "    ", "  - ")
    for repair in item.repairs:
        lines += _repair_text(repair)
    if not item.repairs:
        lines += wrap("No rule here says how to repair it: cut it out and weld anew, or ask a welder.", "  ")
    return lines


def _judged(item: Found, limit: Limit, answer: InspectAnswer) -> str:
    levels = item.allowed.get(limit.id, {})
    if answer.level not in levels or levels[answer.level] is None:
        return ""
    good: Sequence[str] = [level for level in ISO_LEVELS if levels.get(level)]
    if levels[answer.level]:
        short = limit.figures[answer.level].allows == "short"
        return ": WITHIN" + (" if the length is short" if short else "")
    return ": OVER" + (f"; within {', '.join(good)}" if good else " at every level")


def _repair_text(repair: Repair) -> list[str]:
    lines = wrap(f"{VERDICTS[repair.verdict]}, when: {repair.when}.", "  ", "")
    lines = ["", *lines]
    for number, step in enumerate(repair.do, 1):
        lines += wrap(step + ".", "     ", f"  {number}. ")
    if repair.again:
        lines += wrap(f"Weld again: {repair.again}.", "     ")
    if repair.machining:
        lines += wrap(f"Machining: {repair.machining}.", "     ")
    if repair.caution:
        lines += wrap(f"{repair.caution}.", "     ", "  !  ")
    for source in repair.sources:
        lines += wrap(f"{source}]", "      ", "     [")
    return lines
