"""The cut list, as text and JSON."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

from advisor.blanks import tolerances
from advisor.blanks.answer import Blanks, Nest, Strip
from advisor.blanks.pieces import End, Piece
from advisor.blanks.shrinkage import SizeLoss
from advisor.setup.as_json import number
from advisor.show import lines as shared
from advisor.show.lines import wrap
from advisor.units.quantities import UnitTable, in_both_systems

FORMAT = 1
_SHEET = (
    "Laying rectangles on a sheet is not worked out here: what is given are strips of one width, or bars. Cutting one "
    "strip for all pieces of a width makes them alike, which squares the part."
)


def blanks_text(answer: Blanks, units: UnitTable) -> str:
    """The cut list as text of 80 columns."""
    advice = answer.advice
    inch = advice.job.inch_first
    lines = [*shared.head(advice, units), *shared.restricted(advice)]
    if advice.status == "refused":
        lines += shared.refused(advice)
        return _end(answer, lines)
    if advice.status == "no-rule":
        lines += shared.no_rule(advice)
    lines += _finished(answer, inch) + _cut_list(answer, inch)
    for strip in answer.strips:
        lines += _strip(strip, answer, inch)
    lines += _materials(answer, inch, units) + _expect(answer, inch)
    if answer.notes:
        lines += ["", "NOTE", *(line for item in answer.notes for line in wrap(f"{item}.", "    ", "  - "))]
    return _end(answer, lines)


def _end(answer: Blanks, lines: list[str]) -> str:
    lines += shared.cautions(answer.advice) + shared.codes(answer.advice)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def size_text(mm: float, inch_first: bool) -> str:
    """A length to a tenth of a millimetre, a thousandth of an inch and the nearest 64th."""
    inches = mm / 25.4
    nearest = Fraction(round(inches * 64), 64)
    whole, rest = divmod(nearest.numerator, nearest.denominator)
    part = f"{whole} {rest}/{nearest.denominator}" if rest and whole else str(nearest) if rest else str(whole)
    metric, imperial = f"{mm + 1e-9:.1f} mm", f"{inches:.3f} in ({part})"
    return f"{imperial}  {metric}" if inch_first else f"{metric}  {imperial}"


def _short(mm: float, inch_first: bool) -> str:
    return f"{mm / 25.4:.3f} in" if inch_first else f"{mm + 1e-9:.1f} mm"


def _finished(answer: Blanks, inch: bool) -> list[str]:
    plan = answer.plan
    sizes = " x ".join(_short(size, inch) for size in plan.sizes)
    top = "" if plan.kind != "box" else ", open top" if plan.open_top else ", with lid"
    places = [place for place in plan.corners if place != "lid" or not plan.open_top]
    how = "; ".join(
        f"{place} {plan.corners[place].style}" + (f", {_runner(answer, place)}" if _runner(answer, place) else "")
        for place in places
    )
    lines = ["", *wrap(f"FINISHED {plan.kind.upper()}  {sizes} {plan.measure}{top}", "  ", "")]
    lines += wrap(f"corners: {how}", "  ", "  ")
    added = ", ".join(f"{out.name} {out.allow:.1f} mm" for out in answer.outs if out.allow)
    if added:
        lines += wrap(f"added for shrinkage: {added}", "  ", "  ")
    return [*lines, *wrap(f"before welding it stands {_stood(answer, inch)}", "  ", "  ")]


def _stood(answer: Blanks, inch: bool) -> str:
    def said(sizes: tuple[float, ...], where: str) -> str:
        return f"{' x '.join(_short(size, inch) for size in sizes)} {where}"

    if answer.plan.kind != "box":
        return said(answer.assembled, "outside")
    (length, width, height), wall = answer.assembled, answer.pieces[0].thickness
    rim = answer.skim if answer.plan.open_top else wall
    outside = (length + 2 * wall, width + 2 * wall, height + wall + rim)
    return f"{said(answer.assembled, 'inside')}, {said(outside, 'outside')}"


def _runner(answer: Blanks, place: str) -> str:
    corner = answer.plan.corners[place]
    if corner.style not in ("closed", "half-open"):
        return ""
    verb = "runs through" if corner.style == "closed" else "covers"
    if corner.through == "around":
        return f"each {verb} one end" if corner.style == "closed" else "each covers one end"
    plural = corner.through in ("walls", "sides", "posts")
    return f"{corner.through} {verb.replace('runs', 'run').replace('covers', 'cover') if plural else verb}"


def _cut_list(answer: Blanks, inch: bool) -> list[str]:
    lines = ["", "CUT"]
    for piece in answer.pieces:
        length, width = piece.cut
        lines.append(f"  {piece.number} {piece.name}")
        lines += [f"      {size_text(length, inch):<38} {_tolerance(answer, length, inch)}"]
        if answer.plan.kind in ("box", "bracket"):
            lines += [f"    x {size_text(width, inch):<38} {_tolerance(answer, width, inch)}"]
        lines += wrap(_edges(piece, answer), "      ", "      ")
    return lines


def _tolerance(answer: Blanks, size: float, inch: bool) -> str:
    found = tolerance_of(answer, size)
    if found is None:
        return "(no general tolerance that long)"
    return f"± {found / 25.4:.3f} in ({found:.1f} mm)" if inch else f"± {found:.1f} mm ({found / 25.4:.3f} in)"


def tolerance_of(answer: Blanks, size: float) -> float | None:
    """Plus or minus of a sawn size [mm]: the user's, else ISO 2768-m."""
    return answer.wish.tolerance or tolerances.of(tolerances.CUT, size)


def _edges(piece: Piece, answer: Blanks) -> str:
    both = [_pair(piece.along, "ends")]
    if answer.plan.kind == "box":
        both.append(_pair(piece.across, "long edges"))
    return "; ".join(both)


def _pair(ends: tuple[End, End], name: str) -> str:
    def said(end: End) -> str:
        return end.kind + (f", {end.stock:g} mm left on" if end.stock else "")

    first, second = (said(end) for end in ends)
    return f"{name}: {first}" if first == second else f"{name}: one {first}, one {second}"


def _strip(strip: Strip, answer: Blanks, inch: bool) -> list[str]:
    kind = "STRIP" if answer.plan.kind in ("box", "bracket") else "BAR"
    lines = [
        "",
        f"{kind} {size_text(strip.width, inch)}: {_short(strip.run, inch)} with kerfs of {answer.wish.kerf:g} mm",
    ]
    found = strip.nest
    if found is None:
        return lines
    for plan in found.plans:
        names = [f"{strip.pieces[piece][0]} {_short(strip.pieces[piece][1], inch)}" for piece in plan.pieces]
        stock = answer.wish.stocks[plan.stock].length * 1e3
        rest = _short(plan.left * 1e3, inch)
        lines += wrap(f"{plan.bars} x {_short(stock, inch)}: {' + '.join(names)}; left {rest}", "      ", "    ")
    lines += wrap(f"stock used {_short(used(strip, answer), inch)}, {proof_of(found)}", "    ", "    ")
    return lines


def proof_of(found: Nest) -> str:
    """How near to the least the plan is: the share is rounded up, so that `at most` stays true."""
    if found.proven:
        return "proven the least"
    return f"at most {math.ceil(found.over * 1000 - 1e-9) / 10:.1f} % above the least possible"


def used(strip: Strip, answer: Blanks) -> float:
    """Stock a strip uses [mm], with the ends cut off square."""
    plans = strip.nest.plans if strip.nest else ()
    return sum(plan.bars * answer.wish.stocks[plan.stock].length * 1e3 for plan in plans)


def _materials(answer: Blanks, inch: bool, units: UnitTable) -> list[str]:
    if answer.plan.kind not in ("box", "bracket"):
        return []
    square = f"{answer.area / 1e6:.3f} m² ({answer.area / 304.8**2:.2f} ft²)"
    text = f"All pieces together {square}"
    if answer.mass is not None:
        text += f", {in_both_systems(answer.mass, 'mass', inch_first=inch, table=units)}"
    return ["", *wrap(f"{text}. {_SHEET}", "  ", "  ")]


def _expect(answer: Blanks, inch: bool) -> list[str]:
    lines = ["", "HOW FAR OUT TO EXPECT IT"]
    if answer.shrink is None:
        lines += wrap("Shrinkage is not estimated: no settings are advised for these corners.", "  ", "  ")
    else:
        lines += [line for out in answer.outs for line in _out(out, answer, inch)]
        lines += wrap(f"{answer.shrink.because}.", "  ", "  ")
        if answer.shrink.lean is not None:
            low, high = answer.shrink.lean
            text = (
                f"A wall held by nothing would lean {low:.1f} to {high:.1f} mm in 100 mm toward its fillet; tacked "
                "all round it leans far less and bows instead."
            )
            lines += wrap(text, "  ", "  ")
    if answer.square is not None:
        text = (
            f"Square: welded parts of class A of ISO 13920 keep {answer.square.fine:.1f} mm over the shorter leg of "
            f"{answer.square.leg:.0f} mm, class B {answer.square.usual:.1f} mm."
        )
        lines += wrap(text, "  ", "  ")
    lines += wrap(_diagonals(answer), "  ", "  ")
    return [
        *lines,
        *wrap("Weld a coupon of your own, measure what a seam takes, and give it as --shrinkage.", "  ", "  "),
    ]


def _out(out: SizeLoss, answer: Blanks, inch: bool) -> list[str]:
    cut = tolerance_of(answer, out.size) or 0.0
    low, high = out.size + out.allow - out.shrinks[1] - cut, out.size + out.allow - out.shrinks[0] + cut
    sure = answer.shrink is not None and answer.shrink.sure
    by = (
        f"{out.shrinks[0]:.1f} to {out.shrinks[1]:.1f} mm"
        if sure
        else f"at the start values by no more than {out.shrinks[1]:.1f} mm"
    )
    text = (
        f"{out.name.capitalize():<8} {_short(out.size, inch)}: shrinks {by}, so {_short(low, inch)}"
        f"{'' if sure else ' at the least'} to {_short(high, inch)} with the sawing"
    )
    allowed = tolerances.of(tolerances.WELDED["A"], out.size)
    return wrap(text + (f" (class A: ± {allowed:g} mm)" if allowed else ""), "    ", "  ")


def _diagonals(answer: Blanks) -> str:
    long, short = sorted(answer.plan.sizes[:2], reverse=True)
    per = math.hypot(long, short) / (2 * long)
    return (
        f"Diagonals {math.hypot(long, short):.1f} mm: a difference of 1 mm between them is {per:.2f} mm out of square "
        f"over the {short:.0f} mm side."
    )


def blanks_json(answer: Blanks, units: UnitTable) -> dict[str, Any]:
    """The cut list as JSON data."""
    plan = answer.plan
    return {
        "format": FORMAT,
        "status": answer.advice.status,
        "practice_only": answer.advice.practice_only,
        "part": {
            "kind": plan.kind,
            "sizes_mm": list(plan.sizes),
            "measure": plan.measure,
            "open_top": plan.open_top,
            "section_mm": plan.section or None,
            "corners": {place: corner._asdict() for place, corner in plan.corners.items()},
        },
        "assembled_mm": [round(size, 3) for size in answer.assembled],
        "pieces": [_piece_json(piece, answer) for piece in answer.pieces],
        "strips": [_strip_json(strip, answer) for strip in answer.strips],
        "kerf_mm": answer.wish.kerf,
        "skim_mm": answer.skim,
        "area_m2": number(answer.area / 1e6),
        "mass_g": number(answer.mass),
        "shrinkage": answer.shrink._asdict() if answer.shrink else None,
        "expect": [out._asdict() for out in answer.outs],
        "square": answer.square._asdict() if answer.square else None,
        "notes": list(answer.notes),
        "refusals": [item._asdict() for item in answer.advice.refusals],
        "no_rule": [item._asdict() for item in answer.advice.no_rule],
        "cautions": [item._asdict() for item in answer.advice.cautions],
        "codes": [item._asdict() for item in answer.advice.codes],
        "evidence": "computed",
    }


def _piece_json(piece: Piece, answer: Blanks) -> dict[str, Any]:
    length, width = piece.cut
    return {
        "name": piece.name,
        "number": piece.number,
        "length_mm": round(length, 3),
        "width_mm": round(width, 3),
        "thickness_mm": piece.thickness,
        "net_mm": [round(size, 3) for size in piece.net],
        "length_in": round(length / 25.4, 4),
        "width_in": round(width / 25.4, 4),
        "tolerance_mm": [tolerance_of(answer, length), tolerance_of(answer, width)],
        "ends": [end._asdict() for end in piece.along],
        "edges": [end._asdict() for end in piece.across],
    }


def _strip_json(strip: Strip, answer: Blanks) -> dict[str, Any]:
    found = strip.nest
    return {
        "width_mm": round(strip.width, 3),
        "thickness_mm": strip.thickness,
        "run_mm": round(strip.run, 2),
        "bars": None
        if found is None
        else [
            {
                "stock_mm": round(answer.wish.stocks[plan.stock].length * 1e3, 3),
                "bars": plan.bars,
                "pieces": [strip.pieces[piece][0] for piece in plan.pieces],
                "lengths_mm": [round(strip.pieces[piece][1], 3) for piece in plan.pieces],
                "left_mm": round(plan.left * 1e3, 2),
            }
            for plan in found.plans
        ],
        "used_mm": round(used(strip, answer), 2) if found else None,
        "above_least": round(found.over, 6) if found else None,
        "proven_least": found.proven if found else None,
    }
