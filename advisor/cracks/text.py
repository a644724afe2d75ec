"""Hot cracking of the bead, as text and JSON."""

from __future__ import annotations

from typing import Any

from advisor.cracks.answer import NO_ROD, BeadMeasure, BeadMix, CracksAnswer
from advisor.cracks.knowledge import SHOWN
from advisor.show import wording
from advisor.show.lines import caution_lines, code_lines, refusal_lines, stop_lines, wrap
from advisor.units.quantities import UnitTable, in_both_systems

FORMAT = 1
_MOST_OTHERS = 7
VERDICT_WORDS = {
    "peak": "IN THE CRACK PEAK",
    "shoulder": "OUT OF THE PEAK, BUT NOT CLEAR",
    "clear": "CLEAR OF THE PEAK",
    "unknown": "NO RULE COVERS THIS BEAD",
}
_SHORT = {"peak": "peak", "shoulder": "shoulder", "clear": "clear", "unknown": "no rule"}
_STANDING = {"first": "first choice", "also": "also usable", "avoid": "advised against", "": ""}


def cracks_json(answer: CracksAnswer) -> dict[str, Any]:
    """The answer as JSON data. Contents in mass percent."""
    return {
        "format": FORMAT,
        "status": answer.status,
        "practice_only": bool(answer.job.restricted),
        "materials": list(answer.materials),
        "family": answer.family,
        "bead": _mix_json(answer.mix) if answer.mix else None,
        "others": [_mix_json(mix) for mix in answer.others],
        "notes": list(answer.notes),
        "refusals": [item._asdict() for item in answer.refusals],
        "cautions": [item._asdict() for item in answer.cautions],
        "codes": [item._asdict() for item in answer.codes],
        "left_out": list(answer.left_out),
        "ruleset": {"content_hash": answer.content_hash},
    }


def _mix_json(mix: BeadMix) -> dict[str, Any]:
    return {
        "filler": None if mix.rod == NO_ROD else mix.rod,
        "base_share": {**mix.dilution._asdict()},
        "contents": {
            name: {key: None if value is None else round(value, 3) for key, value in measured._asdict().items()}
            for name, measured in mix.measured.items()
        },
        "verdict": mix.verdict,
        "worst": mix.worst,
        "brittle": mix.brittle is not None,
        "zones": [
            {"id": zone.id, "system": zone.system, "verdict": zone.verdict, "because": zone.because,
             "sources": list(zone.sources), "evidence": list(zone.evidence)}
            for zone in (*mix.zones, *([mix.brittle] if mix.brittle else []))
        ],
        "clear_from_filler_share": mix.clear_from,
        "rules_say": mix.standing or None,
    }  # fmt: skip


def cracks_text(answer: CracksAnswer, units: UnitTable) -> str:
    """The answer as text of 80 columns."""
    lines = [*_head(answer, units), *stop_lines(answer.job.restricted)]
    if answer.status == "refused":
        lines += refusal_lines(answer.refusals)
    if answer.mix is not None:
        lines += _bead(answer, answer.mix)
        lines += _verdict(answer.mix)
    elif answer.status == "no-rule":
        lines += ["", VERDICT_WORDS["unknown"]]
    if answer.status != "refused":
        lines += _others(answer)
    lines += [""] if answer.notes and answer.mix is not None else []
    for note in answer.notes:
        lines += wrap(note, "    ", "  - ")
    lines += caution_lines(answer.cautions) + code_lines(answer.codes) + ["", *_foot(answer)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _head(answer: CracksAnswer, units: UnitTable) -> list[str]:
    job = answer.job
    metals = " to ".join(answer.materials)
    if answer.loose:
        return wrap(f"Does the bead crack as it freezes? {metals}, no joint given")
    sizes = " to ".join(
        in_both_systems(member.thickness.value, "length", inch_first=job.inch_first, table=units)
        for member in job.members
    )
    return wrap(f"Does the bead crack as it freezes? {metals}, {sizes}, {wording.JOINT_NAMES[job.joint]}")


def _bead(answer: CracksAnswer, mix: BeadMix) -> list[str]:
    share = mix.dilution
    lines = ["", f"THE BEAD, with {mix.rod}"]
    if mix.rod != NO_ROD:
        text = f"{share.low:.0%} to {share.high:.0%}" if share.low < share.high else f"{share.middle:.0%}"
        lines += wrap(f"base metal in the bead: {text} ({share.how})", "    ", "  ")
    lines.append(f"  {'mass %':<12}{'base':>8}{'rod':>8}{'bead':>9}   from - to")
    for name in SHOWN[answer.family]:
        measured = mix.measured.get(name)
        if measured is not None:
            lines.append(_row(name, measured))
    return lines


def _row(name: str, measured: BeadMeasure) -> str:
    def cell(value: float | None) -> str:
        return "-" if value is None else f"{value:.0f}" if name == "UCS" else _plain(value)

    span = f"{cell(measured.low)} - {cell(measured.high)}" + (", where it holds" if measured.partly else "")
    return f"  {name:<12}{cell(measured.base):>8}{cell(measured.rod):>8}{cell(measured.middle):>9}   {span}"


def _plain(value: float) -> str:
    return f"{value:.3f}" if 0 < value < 0.1 else f"{value:.2f}"


def _verdict(mix: BeadMix) -> list[str]:
    words = VERDICT_WORDS[mix.verdict]
    if mix.brittle is not None:
        words += ", BUT BRITTLE" if mix.verdict == "clear" else ", AND BRITTLE"
    lines = ["", f"VERDICT: {words}"]
    for zone in mix.zones:
        lines += wrap(f"{zone.system}: {zone.because}.", "  ")
        lines += _sources(zone.sources)
    if mix.verdict == "unknown":
        lines += wrap("No curve or index here was made for a bead like this, so nothing is said either way.", "  ")
    elif mix.worst != mix.verdict:
        lines += wrap(
            f"Not for every melt: at the unlucky end of the limits and of the dilution it is '{_SHORT[mix.worst]}'.",
            "  ",
        )
    if mix.brittle is not None:
        lines += wrap(f"Brittle: {mix.brittle.because}.", "  ")
        lines += _sources(mix.brittle.sources)
    if mix.clear_from is not None and mix.brittle is None and mix.verdict not in ("clear", "unknown"):
        lines += wrap(
            f"Clear from {mix.clear_from:.0%} of filler in the bead up (here about {1 - mix.dilution.middle:.0%}): "
            "open the joint with a gap or bevel and feed more rod.",
            "  ",
        )
    if mix.standing == "avoid":
        lines += wrap(f"The filler rules advise against {mix.rod}: {mix.because}", "  ")
    return lines


def _sources(sources: tuple[str, ...]) -> list[str]:
    return [line for source in sources for line in wrap(f"{source}]", "     ", "    [")]


def _others(answer: CracksAnswer) -> list[str]:
    named = [mix for mix in answer.others if mix.standing or mix.rod == NO_ROD]
    shown = (named if len(named) > 1 else list(answer.others))[:_MOST_OTHERS]
    if not shown:
        return []
    lines = ["", f"{'WHICH FILLER MOVES IT':<24}{'bead is':<19}{'clear from':<13}the filler rules say"]
    for mix in shown:
        clear = "-" if mix.clear_from is None else f"{mix.clear_from:.0%} filler"
        word = _SHORT[mix.verdict] + (", brittle" if mix.brittle else "")
        row = f"  {mix.rod:<22}{word:<19}{clear:<13}"
        lines.append(f"{row}{_STANDING[mix.standing]}")
    return lines


def _foot(answer: CracksAnswer) -> list[str]:
    lines = wrap(
        "Mixing is linear in mass shares; nothing burns off. Limits are those of the standards, not of your melt: the "
        "mill's certificate is better. Restraint, craters and heat count as much: fill craters, tack well, and break a "
        "coupon of this metal and rod first."
    )
    for item in answer.left_out:
        lines += wrap(wording.left_out_text(item), "  ")
    return [*lines, f"rules {answer.content_hash[:12]}; for practice, not a qualified procedure"]
