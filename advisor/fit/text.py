"""A fit as text of 80 columns and as JSON."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from advisor.fit.answer import FitAnswer, FitState, SeamUnderHoop
from advisor.fit.parts import HOLDS, FitMetal
from advisor.show.lines import caution_lines, code_lines, refusal_lines, stop_lines, wrap
from advisor.strength.text import force_text
from advisor.units.quantities import UnitTable, in_both_systems

FORMAT = 1


def fit_json(answer: FitAnswer) -> dict[str, Any]:
    """The answer as JSON data."""
    fit = answer.job
    return {
        "format": FORMAT,
        "status": answer.status,
        "practice_only": bool(answer.restricted),
        "flags": list(answer.flags),
        "sizes_mm": {
            "bore": fit.bore,
            "ring_inner": fit.ring_inner,
            "body_outer": fit.body_outer,
            "wall": round(fit.wall, 6),
            "width": fit.width,
        },
        "interference_mm": {
            "least": round(fit.interference[0], 6),
            "most": round(fit.interference[1], 6),
            "least_after_smoothing": round(fit.interference[0] - answer.smoothing, 6),
            "smoothing": round(answer.smoothing, 6),
            "how": fit.how,
        },
        "body": _metal_json(answer.body),
        "ring": _metal_json(answer.ring),
        "held": [_held_json(item) for item in answer.held],
        "seam": _seam_json(answer.seam) if answer.seam else None,
        "loosens_degC": _round(answer.loosens_c, 2),
        "heat_limit_degC": answer.heat_limit[0] if answer.heat_limit else None,
        "ways": [{key: _round(value, 3) for key, value in asdict(way).items()} for way in answer.ways],
        "press_force_N": _round(answer.press_force, 1),
        "notes": list(answer.notes),
        "trail": list(answer.trail),
        "refusals": [item._asdict() for item in answer.refusals],
        "cautions": [item._asdict() for item in answer.cautions],
        "codes": [item._asdict() for item in answer.codes],
        "ruleset": {"content_hash": answer.content_hash},
    }


def _round(value: Any, digits: int) -> Any:
    return round(value, digits) if isinstance(value, float) else value


def _metal_json(metal: FitMetal | None) -> dict[str, Any] | None:
    if metal is None:
        return None
    return {
        "metal": metal.label,
        "E_MPa": metal.modulus,
        "poisson": metal.poisson,
        "expansion_1e-6_per_K": metal.expansion,
        "proof_MPa": metal.proof,
        "proof_beside_seam_MPa": metal.proof_beside,
        "sources": [{"of": name, "source": each.document, "evidence": each.evidence} for name, each in metal.sources],
    }


def _held_json(item: FitState) -> dict[str, Any]:
    return {
        "case": item.name,
        "degC": item.celsius,
        "interference_mm": round(item.interference, 6),
        "pressure_MPa": round(item.pressure, 4),
        "hoop_MPa": {
            "body_bore": round(item.body_bore, 4),
            "body_outside": round(item.body_outside, 4),
            "ring_outside": round(item.ring_outside, 4),
            "ring_bore": round(item.ring_bore, 4),
        },
        "von_mises_body_bore_MPa": round(item.von_mises, 4),
        "body_grows_mm": round(item.growth, 6),
        "ring_bore_closes_mm": round(item.closing, 6),
        "pull_out_N": _round(item.pull_out, 2),
        "torque_Nm": _round(item.torque, 4),
    }


def _seam_json(seam: SeamUnderHoop) -> dict[str, Any]:
    return {
        "verdict": seam.verdict,
        "flagged": seam.flagged,
        "degC": seam.celsius,
        "tension_N_per_mm": round(seam.tension, 4),
        "stress_MPa": round(seam.even, 4),
        "stress_bent_MPa": round(seam.bent, 4),
        "carries_N_per_mm": _round(seam.carries, 4),
        "share": _round(seam.share, 4),
        "share_bent": _round(seam.share_bent, 4),
        "through": seam.full,
        "text": seam.text,
        "trail": list(seam.trail),
    }


def fit_text(answer: FitAnswer, units: UnitTable) -> str:
    """The answer as text of 80 columns."""
    lines = _head(answer, units)
    if answer.restricted:
        lines += stop_lines(answer.restricted, procedure="qualified procedures", then=_FIGURES_ONLY)
    for flag in answer.flags:
        lines += ["", *wrap(flag, "    ", "!!  ")] if flag == answer.flags[0] else wrap(flag, "    ", "!!  ")
    if answer.status == "refused":
        lines += refusal_lines(answer.refusals, "THE WELDED BODY IS NOT ADVISED")
    lines += _interference(answer) + _table(answer, units)
    if answer.seam is not None:
        lines += _seam_lines(answer.seam)
    lines += _putting_in(answer, units)
    lines += ["", "HOW THE FIGURES COME ABOUT"]
    for text in (*answer.notes, *answer.trail, *(answer.seam.trail if answer.seam else ())):
        lines += wrap(text, "    ", "  - ")
    lines += caution_lines(answer.cautions) + code_lines(answer.codes) + ["", *wrap(_CLOSE)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


_FIGURES_ONLY = "The figures are for understanding and for PRACTICE PIECES ONLY."
_CLOSE = (
    "Elastic rings alike along their length; a square body is counted as a round one of its thinnest wall, and the "
    "ends of the ring bite harder than this says. Figures, no verdict that a part is safe."
)


def _head(answer: FitAnswer, units: UnitTable) -> list[str]:
    fit = answer.job

    def size(mm: float) -> str:
        return in_both_systems(mm, "length", inch_first=answer.inch_first, table=units)

    ring = answer.ring.label if answer.ring else "ring"
    body = answer.body.label if answer.body else "body"
    inside = f"inside {size(fit.ring_inner)}" if fit.ring_inner else "solid"
    seam = ""
    if fit.seam_penetration is not None:
        seam = f", a seam along it {size(fit.seam_penetration)} deep"
    return wrap(f"{ring} ring, {inside}, into {body}: bore {size(fit.bore)}, wall {size(fit.wall)}{seam}")


def _interference(answer: FitAnswer) -> list[str]:
    low, high = answer.job.interference
    after = low - answer.smoothing
    span = _fine(high) if abs(high - low) < 1e-9 else f"{_fine(low)} to {_fine(high)}"
    text = (
        f"INTERFERENCE  on the diameter {span}; smoothing takes {answer.smoothing * 1e3:.1f} um, so count on "
        f"{_fine(after)} for grip and on {_fine(high)} for stress"
    )
    return ["", *wrap(text, "  ", "")]


def _fine(mm: float) -> str:
    return f"{mm:.3f} mm ({mm / 25.4:.4f} in)"


def _table(answer: FitAnswer, units: UnitTable) -> list[str]:
    """One column a case: a beginner reads down."""
    lines = ["", "HOW IT HOLDS"]
    rows: tuple[tuple[str, Callable[[FitState], str]], ...] = (
        ("pressure between", lambda item: _stress(item.pressure, units)),
        ("body, hoop at bore", lambda item: _stress(item.body_bore, units)),
        ("  at its outside", lambda item: _stress(item.body_outside, units)),
        ("  von Mises at bore", lambda item: _stress(item.von_mises, units)),
        ("ring, hoop outside", lambda item: _stress(item.ring_outside, units)),
        ("  at its bore", lambda item: _stress(item.ring_bore, units)),
        ("body grows", lambda item: f"{item.growth:.3f} mm"),
        ("ring's bore closes", lambda item: f"{item.closing:.3f} mm"),
        (
            "pulls out at",
            lambda item: "-" if item.pull_out is None else force_text(item.pull_out, answer.inch_first, units),
        ),
        ("turns at", lambda item: "-" if item.torque is None else _torque(item.torque, units)),
    )
    for start in range(0, len(answer.held), 2):
        pair = answer.held[start : start + 2]
        if start:
            lines.append("")
        heads = [f"{'least' if 'least' in item.name else 'greatest'}, {item.celsius:.0f} °C" for item in pair]
        lines.append(f"  {'':<22}{heads[0]:<28}{heads[1]}")
        lines.append(f"  {'interference':<22}{_fine(pair[0].interference):<28}{_fine(pair[1].interference)}")
        for name, value in rows:
            lines.append(f"  {name:<22}{value(pair[0]):<28}{value(pair[1])}")
    if answer.loosens_c is not None:
        way = "above" if answer.loosens_c > answer.job.room_c else "below"
        lines += wrap(f"With the least interference it lets go {way} {answer.loosens_c:.0f} °C, both alike warm.", "  ")
    return lines


def _stress(mpa: float, units: UnitTable) -> str:
    mpa = mpa or 0.0  # no minus before a zero
    return f"{mpa:.1f} MPa ({mpa / units.factors['stress', 'ksi'][0]:.2f} ksi)"


def _torque(newton_metres: float, units: UnitTable) -> str:
    return f"{newton_metres:.3g} N m ({newton_metres / units.factors['torque', 'ft lbf'][0]:.3g} ft lbf)"


def _seam_lines(seam: SeamUnderHoop) -> list[str]:
    lines = ["", *wrap(f"THE SEAM  {seam.verdict.upper()}: {seam.text}", "  ", "")]
    through = "through the wall" if seam.full else "of that depth"
    where = "at the bore" if seam.full else "at its root if the wall is free to bend there, at most"
    lines += wrap(
        f"{seam.tension:.0f} N per mm of width round the body at {seam.celsius:.0f} °C: {seam.even:.0f} MPa in the "
        f"seam {through} while the ring holds the wall round, {seam.bent:.0f} MPa {where}",
        "  ",
    )
    if seam.carries is not None and seam.share is not None and seam.share_bent is not None:
        lines += wrap(
            f"it carries {seam.carries:.0f} N/mm: used {seam.share:.0%} straight, {seam.share_bent:.0%} bent", "  "
        )
    if seam.verdict != HOLDS:
        lines += wrap(
            "Before assembly: weld it deeper (through, from both sides), take less interference, a thicker wall, "
            "turn the seam so that it runs round and not along, or bond the ring with a slip fit.",
            "  ",
        )
    return lines


def _putting_in(answer: FitAnswer, units: UnitTable) -> list[str]:
    lines = ["", "PUTTING IT IN"]
    for way in answer.ways:
        both = ""
        if way.body_c > answer.job.room_c:
            both = f" ({in_both_systems(way.body_c, 'temperature', table=units).split('(')[-1].rstrip(')')})"
        mark = "" if way.possible else "NOT "
        lines += wrap(f"{mark}{way.text}{both}", "    ", "  - ")
    return lines
