"""What a seam carries, as text of 80 columns and as JSON."""

from __future__ import annotations

import textwrap
from typing import Any

from advisor.show import wording
from advisor.show.lines import WIDTH, caution_lines, code_lines, refusal_lines, stop_lines, wrap
from advisor.strength.answer import Beside, Loaded, SeamStrength, StrengthAnswer, Use, WeakPlace
from advisor.strength.parts import ACROSS, ALONG, BASE, HAZ, WELD, Overlap, TableSource
from advisor.units.quantities import UnitTable, in_both_systems

FORMAT = 1
_KINDS = {WELD: "weld metal", HAZ: "the softened zone beside the seam", BASE: "the base metal"}


def strength_json(answer: StrengthAnswer) -> dict[str, Any]:
    """The answer as JSON data."""
    return {
        "format": FORMAT,
        "status": answer.status,
        "practice_only": answer.practice_only,
        "materials": list(answer.materials),
        "seam": _seam_json(answer.seam) if answer.seam else None,
        "beside": [_beside_json(item) for item in answer.beside],
        "load": _loaded_json(answer.loaded) if answer.loaded else None,
        "assumed": list(answer.assumed),
        "missing": list(answer.missing),
        "refusals": [item._asdict() for item in answer.refusals],
        "cautions": [item._asdict() for item in answer.cautions],
        "codes": [item._asdict() for item in answer.codes],
        "ruleset": {"content_hash": answer.content_hash},
    }


def _seam_json(seam: SeamStrength) -> dict[str, Any]:
    governing = {}
    for direction in (ALONG, ACROSS):
        place, force = seam.governing(direction), seam.force(direction)
        governing[direction] = {
            "place": place.name,
            "part": place.kind,
            "N_per_mm": round(seam.per_mm(direction), 3),
            "N": None if force is None else round(force, 2),
        }
    return {
        "standard": seam.standard,
        "kind": seam.kind,
        "throat_mm": round(seam.throat, 4),
        "leg_mm": round(seam.leg, 4) or None,
        "effective_length_mm": None if seam.effective is None else round(seam.effective, 3),
        "seams": seam.count,
        "governing": governing,
        "places": [_place_json(place) for place in seam.places],
        "other_methods": [_place_json(place) for place in seam.other_methods],
        "sizes": [{"text": text, **_source(source)} for text, source in seam.sizes],
        "overlap": _overlap_json(seam.overlap) if seam.overlap else None,
        "warnings": list(seam.warnings),
        "notes": list(seam.notes),
    }


def _overlap_json(overlap: Overlap) -> dict[str, Any]:
    return {
        "mm": round(overlap.given, 3) or None,
        "least_mm": round(overlap.least, 3),
        "short": overlap.short,
        "text": overlap.words(lambda mm: f"{mm:.4g} mm"),
        **_source(overlap.source),
    }


def _place_json(place: WeakPlace) -> dict[str, Any]:
    return {
        "place": place.name,
        "part": place.kind,
        "along_N_per_mm": round(place.along, 3),
        "across_N_per_mm": round(place.across, 3),
        "formula": place.formula,
        **_source(place.source),
    }


def _source(source: TableSource) -> dict[str, str]:
    return {"source": source.document, "evidence": source.evidence}


def _beside_json(item: Beside) -> dict[str, Any]:
    return {
        "metal": item.label,
        "proof_share": round(item.proof, 4),
        "tensile_share": round(item.tensile, 4),
        "reach_mm": item.reach,
        "proof_MPa": [item.proof_before, item.proof_after],
        "tensile_MPa": [item.tensile_before, item.tensile_after],
        "printed_shares": list(item.printed) if item.printed else None,
        "sources": [_source(source) for source in item.sources],
    }


def _loaded_json(loaded: Loaded) -> dict[str, Any]:
    return {
        "what": loaded.what,
        "force_N": round(loaded.force, 3),
        "moment_Nm": round(loaded.moment, 3),
        "worst_N_per_mm": round(loaded.line.size / 1e3, 4),
        "share": round(loaded.governs.share, 4),
        "margin": round(loaded.governs.margin, 3),
        "load_factor": loaded.load_factor,
        "share_with_load_factor": round(loaded.share_factored, 4),
        "governs": loaded.governs.place,
        "part": loaded.governs.kind,
        "uses": [{"place": use.place, "part": use.kind, "share": round(use.share, 4), "formula": use.formula}
                 for use in loaded.uses],
        "formula": loaded.formula,
        **_source(loaded.source),
        "notes": list(loaded.notes),
    }  # fmt: skip


def strength_text(answer: StrengthAnswer, units: UnitTable) -> str:
    """The answer as text of 80 columns."""
    lines = _head(answer, units)
    if answer.practice_only:
        lines += stop_lines(answer.job.restricted, then=_FIGURES_ONLY)
    if answer.status == "refused":
        lines += refusal_lines(answer.refusals)
    if answer.seam is not None:
        lines += _carries(answer, answer.seam, units)
    if answer.loaded is not None:
        lines += _load_lines(answer, answer.loaded, units)
    if answer.beside:
        lines += ["", "BESIDE THE SEAM"]
        for item in answer.beside:
            lines += wrap(_beside_text(item, answer.job.inch_first, units), "  ")
    if answer.seam is not None:
        lines += _trail(answer.seam, answer.loaded)
    if answer.missing:
        title = "NO RULE COVERS THIS" if answer.status == "no-rule" else "NOT COMPUTED"
        lines += ["", title, *(line for item in answer.missing for line in wrap(f"{item}.", "    ", "  - "))]
    lines += caution_lines(answer.cautions) + code_lines(answer.codes) + ["", *wrap(_CLOSE)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


_FIGURES_ONLY = "The figures are for understanding and for PRACTICE COUPONS ONLY."
_CLOSE = (
    "Figures for a sound seam of the size given, at rest, once loaded: no shocks, no shaking, no heat. They are no "
    "verdict that a part is safe. Load factors above 1 and who may decide belong to the codes named."
)


def _head(answer: StrengthAnswer, units: UnitTable) -> list[str]:
    job = answer.job
    parts = [
        f"{label} {in_both_systems(member.thickness.value, 'length', inch_first=job.inch_first, table=units)}"
        for label, member in zip(answer.materials, job.members, strict=True)
    ]
    lines = [job.name[:WIDTH]] if job.name else []
    lines += wrap(
        f"{wording.PROCESS_NAMES[job.process]}, {wording.JOINT_NAMES[job.joint]}, {job.weld} weld: {' to '.join(parts)}"
    )
    for text in answer.assumed:
        lines += wrap(text, "    ", "  - ")
    return lines


def force_text(newtons: float, inch_first: bool, units: UnitTable) -> str:
    """A force in both systems: `3.2 kN (720 lbf)`."""
    metric = f"{newtons / 1e3:.3g} kN" if abs(newtons) >= 1e3 else f"{newtons:.3g} N"
    inch = f"{_figures(newtons / units.factors['force', 'lbf'][0])} lbf"
    return f"{inch} ({metric})" if inch_first else f"{metric} ({inch})"


def _per_mm(value: float, inch_first: bool, units: UnitTable) -> str:
    in_lbf = value * units.factors["length", "in"][0] / units.factors["force", "lbf"][0]
    metric, inch = f"{_figures(value)} N/mm", f"{_figures(in_lbf)} lbf/in"
    return f"{inch} ({metric})" if inch_first else f"{metric} ({inch})"


def _figures(value: float) -> str:
    from advisor.units.formatting import plain_number

    return plain_number(value, 3)


def _carries(answer: StrengthAnswer, seam: SeamStrength, units: UnitTable) -> list[str]:
    inch_first = answer.job.inch_first

    def size(mm: float) -> str:
        return in_both_systems(mm, "length", inch_first=inch_first, table=units)

    what = f"throat {size(seam.throat)}" if seam.kind == "fillet" else f"depth {size(seam.throat)}"
    leg = f", leg {size(seam.leg)}" if seam.leg else ""
    seams = "2 seams share the load" if seam.count > 1 else "1 seam"
    lines = ["", *wrap(f"WHAT IT CARRIES  design strength after {seam.standard}", "  ", "")]
    lines += wrap(f"{seam.kind}, {what}{leg}, {seams}", "  ")
    for direction in (ALONG, ACROSS):
        force = seam.force(direction)
        text = f"{direction + ' the seam':<18}{_per_mm(seam.per_mm(direction), inch_first, units):<26}"
        if force is not None and seam.effective is not None:
            text += f"{force_text(force, inch_first, units)} on {seam.effective:.4g} mm"
        lines.append(f"  {text}")
        lines += wrap(f"gives way first: {seam.governing(direction).name}", " " * 22, " " * 20)
    if seam.overlap:
        lines += wrap(seam.overlap.words(size), "    ", "!!  " if seam.overlap.short else "  ")
    for warning in seam.warnings:
        lines += wrap(warning, "    ", "!   ")
    lines += ["", f"  {'part':<44}{'along':>10}{'across':>10}  N/mm"]
    for place in (*seam.places, *seam.other_methods):
        name = textwrap.wrap(place.name, 44, initial_indent="  ", subsequent_indent="      ")
        lines += name[:-1]
        lines.append(f"{name[-1]:<46}{place.along:>10.0f}{place.across:>10.0f}")
    return lines


def _load_lines(answer: StrengthAnswer, loaded: Loaded, units: UnitTable) -> list[str]:
    use = loaded.governs
    force = force_text(loaded.force, answer.job.inch_first, units)
    lines = ["", *wrap(f"UNDER THE LOAD  {loaded.what}: {force}", "  ", "")]
    lines += wrap(
        f"uses {use.share:.1%} of the design strength, margin {use.margin:.3g} times; {use.place} governs "
        f"({_KINDS[use.kind]})",
        "  ",
    )
    lines += wrap(
        f"with the load times {loaded.load_factor:g}, as codes ask for loads that come and go: "
        f"{loaded.share_factored:.1%}",
        "  ",
    )
    if use.share > 1.0:
        lines += wrap("!! MORE THAN THE SEAM'S DESIGN STRENGTH", "  ")
    elif loaded.share_factored > 1.0:
        lines += wrap("!  more than the design strength once the load is multiplied as codes ask", "  ")
    for other in loaded.uses[1:]:
        lines += wrap(f"{other.share:>7.1%}  {other.place}", " " * 11, "  ")
    for note in loaded.notes:
        lines += wrap(note, "    ", "  - ")
    return lines


def _beside_text(item: Beside, inch_first: bool, units: UnitTable) -> str:
    if item.tensile_before is None:
        return f"{item.label}: nothing lost, all of it stays ({wording.known_short(item.sources[0].evidence)})."
    text = (
        f"{item.label}: {item.tensile:.0%} of the tensile strength stays ({item.tensile_before:.0f} -> "
        f"{item.tensile_after:.0f} MPa), {item.proof:.0%} of the proof strength ({item.proof_before:.0f} -> "
        f"{item.proof_after:.0f} MPa)"
    )
    if item.reach:
        text += f", {in_both_systems(item.reach, 'length', inch_first=inch_first, table=units)} each way"
    if item.printed:
        text += f"; a filler maker prints {item.printed[1]:.0%} and {item.printed[0]:.0%} as typical"
    return f"{text}. {item.note}".rstrip() + ("." if item.note else "")


def _trail(seam: SeamStrength, loaded: Loaded | None) -> list[str]:
    lines = ["", "HOW EACH FIGURE COMES ABOUT"]
    for place in (*seam.places, *seam.other_methods):
        known = wording.known_short(place.source.evidence)
        lines += wrap(f"{place.name}: {place.formula} [{place.source.document}; {known}]", "    ", "  - ")
    if loaded is not None:
        known = wording.known_short(loaded.source.evidence)
        lines += wrap(f"load: {loaded.formula} [{loaded.source.document}; {known}]", "    ", "  - ")
        for use in loaded.uses:
            lines += wrap(_use_text(use), "    ", "  - ")
    sizes = list(seam.sizes)
    if seam.overlap:
        sizes.append((f"least overlap {seam.overlap.least:.4g} mm", seam.overlap.source))
    for text, source in sizes:
        lines += wrap(f"{text} [{source.document}; {wording.known_short(source.evidence)}]", "    ", "  - ")
    for note in seam.notes:
        lines += wrap(note, "    ", "  - ")
    return lines


def _use_text(use: Use) -> str:
    return f"{use.share:.1%} of {use.place}: {use.formula}"
