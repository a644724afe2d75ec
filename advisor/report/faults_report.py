"""A diagnosis on the terminal and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from advisor.advice.answer import Caution
from advisor.advice.diagnosis_knowledge import Observation, Remedy
from advisor.advice.faults import Bearing, Diagnosis, NextCheck, Said, Suspect, leading
from advisor.report import wording
from advisor.report.terminal import wrap

_DETAILED = 3
_FLAT = (
    "No single cause stands out: what was said fits several about equally well, or more than one is at work. "
    "Do not change everything at once; do the next check."
)


def faults_text(found: Diagnosis) -> str:
    """The answer as text 80 columns wide."""
    lines = _head(found)
    if not any(item.present for item in found.said):
        lines += ["", *wrap("Nothing is said to be seen yet: these are only the commonest causes.")]
    elif not found.settled:
        lines += ["", *wrap(_FLAT)]
    lines += ["", "CAUSES" + " " * 61 + "probability"]
    for number, suspect in enumerate(leading(found)):
        lines += _suspect(suspect, number < _DETAILED)
    lines += [f"{'no single cause of this list':<72}{_percent(found.none_alone):>6}"]
    lines += _check(found) + _questions(found) + _caution_lines(found.cautions) + _foot(found)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _head(found: Diagnosis) -> list[str]:
    metal = " to ".join(found.case.materials) or "metal not said"
    lines = [f"What went wrong: {metal}"]
    for item in found.said:
        mark = "+" if item.present else "-"
        lines += wrap(f"{item.observation.name} ({item.observation.alias}){_taken_from(item)}", "    ", f"  {mark} ")
    return lines


def _taken_from(item: Said) -> str:
    known = {item.observation.alias, item.observation.id, item.observation.name}
    return "" if not item.words or item.words in known else f", from: {item.words}"


def _percent(p: float) -> str:
    return f"{100 * p:.0f} %" if p >= 0.01 else "<1 %"


def _suspect(suspect: Suspect, detailed: bool) -> list[str]:
    first = f"{suspect.alias} {suspect.name}"
    head = wrap(first)
    lines = [f"{head[0]:<72}{_percent(suspect.probability):>6}" if len(head[0]) < 72 else head[0], *head[1:]]
    if len(head[0]) >= 72:
        lines[-1] = f"{lines[-1]:<72}{_percent(suspect.probability):>6}"
    if not detailed:
        return lines
    lines += wrap(suspect.because, "    ", "    ")
    for mark, bearings in (("for", suspect.speaks_for), ("against", suspect.speaks_against)):
        if bearings:
            lines += wrap(f"{mark}: {'; '.join(_bearing(item) for item in bearings)}", "      ", "    ")
    for remedy in suspect.remedies:
        lines += wrap(_remedy(remedy), "      ", "    do: ")
    return lines


def _bearing(item: Bearing) -> str:
    name = item.observation.name if item.present else f"not: {item.observation.name}"
    factor = item.factor if item.factor >= 1 else 1 / item.factor
    times = "times as likely" if item.factor >= 1 else "times less likely"
    known = f", {wording.known_short(item.evidence)}" if item.evidence else ""
    return f"{name} ({factor:.1f} {times}{known})"


def _remedy(remedy: Remedy) -> str:
    text = remedy.do.rstrip(".")
    if remedy.number:
        text += f" ({remedy.number})"
    if remedy.never:
        text += f". Never {remedy.never}"
    return f"{text}. [{remedy.source}; {wording.known_short(remedy.evidence)}]"


def _check(found: Diagnosis) -> list[str]:
    if found.next_check is None:
        return ["", *wrap("No check of the catalogue would tell more. Break one, or ask someone who can look at it.")]
    check = found.next_check.check
    lines = ["", "NEXT CHECK", *wrap(f"{check.alias} {check.do.rstrip('.')}. About {check.minutes:g} min.", "  ", "  ")]
    if check.needs:
        lines += wrap(f"Needs: {check.needs}.", "  ", "  ")
    if check.read:
        lines += wrap(f"Read it: {check.read}", "  ", "  ")
    if check.caution:
        lines += wrap(check.caution, "     ", "  !! ")
    signs = " or ".join(f"--seen {sign.alias} / --not {sign.alias}" for sign in found.next_check.would_tell)
    lines += wrap(f"Then say: {signs}", "  ", "  ")
    if found.other_checks:
        others = "; ".join(f"{item.check.alias} {item.check.do.rstrip('.')}" for item in found.other_checks[:2])
        lines += wrap(f"Else: {others}.", "  ", "  ")
    return lines


def _questions(found: Diagnosis) -> list[str]:
    if not found.questions:
        return []
    lines = ["", "NOT KNOWN, AND WOULD TELL MOST"]
    for item in found.questions:
        lines += wrap(f"{item.ask} ({item.alias})", "    ", "  ? ")
    return lines


def _caution_lines(found: Sequence[Caution]) -> list[str]:
    lines = ["", "CAUTIONS"]
    lines += wrap(
        "A crack, a lack of fusion or a leak in anything that carries load, pressure, fuel or people: take it out of "
        "use, and let licensed practice decide. This names likely causes; it passes no part.",
        "    ",
        "!!  ",
    )
    for caution in found:
        mark = "!! " if caution.level == "danger" else "!  "
        lines += wrap(f"{caution.hazard.rstrip('.')}: {caution.do.rstrip('.')}.", "    ", f"{mark} ")
    return lines


def _foot(found: Diagnosis) -> list[str]:
    text = "Probabilities follow from judged strengths of signs, one answer in five taken to be wrong; no handbook "
    return [
        "",
        *wrap(text + "prints such percentages. How it is worked out: advisor/advice/diagnosis.py."),
        f"rules {found.content_hash[:12]}",
    ]


def faults_json(found: Diagnosis) -> dict[str, Any]:
    """The answer as JSON data."""
    return {
        "status": "advised",
        "metals": sorted(found.case.metals),
        "process": found.case.process or "141",
        "said": [_said_json(item) for item in found.said],
        "settled": found.settled,
        "verdict": found.suspects[0].id if found.settled else "no-single-cause",
        "causes": [_suspect_json(item) for item in found.suspects],
        "no_single_cause": {"probability": round(found.none_alone, 4), "named": not found.settled},
        "next_check": _check_json(found.next_check) if found.next_check else None,
        "other_checks": [_check_json(item) for item in found.other_checks],
        "not_known": [_observation_json(item) for item in found.questions],
        "cautions": [caution._asdict() for caution in found.cautions],
        "rules": found.content_hash,
    }


def _observation_json(item: Observation) -> dict[str, Any]:
    return {"id": item.id, "alias": item.alias, "name": item.name, "ask": item.ask}


def _said_json(item: Said) -> dict[str, Any]:
    return {
        "observation": item.observation.id,
        "alias": item.observation.alias,
        "name": item.observation.name,
        "present": item.present,
        "how": item.how,
        "from": item.words,
    }


def _suspect_json(item: Suspect) -> dict[str, Any]:
    return {
        "id": item.id,
        "alias": item.alias,
        "name": item.name,
        "probability": round(item.probability, 4),
        "because": item.because,
        "for": [_bearing_json(bearing) for bearing in item.speaks_for],
        "against": [_bearing_json(bearing) for bearing in item.speaks_against],
        "remedies": [remedy._asdict() for remedy in item.remedies],
    }


def _bearing_json(item: Bearing) -> dict[str, Any]:
    return {
        "observation": item.observation.id,
        "alias": item.observation.alias,
        "present": item.present,
        "factor": round(item.factor, 3),
        "source": item.source,
        "evidence": item.evidence,
    }


def _check_json(item: NextCheck) -> dict[str, Any]:
    return {
        "id": item.check.id,
        "alias": item.check.alias,
        "do": item.check.do,
        "read": item.check.read,
        "needs": item.check.needs,
        "caution": item.check.caution,
        "minutes": item.check.minutes,
        "gain_bits": round(item.worth.gain, 4),
        "bits_per_minute": round(item.worth.rate, 4),
        "tells": [_observation_json(sign) for sign in item.would_tell],
    }


def signs_text(signs: Sequence[Observation]) -> str:
    """The signs it knows, one a line: alias, name, ISO 6520-1 numbers."""
    lines = []
    for item in sorted(signs, key=lambda sign: sign.alias):
        numbers = f" [ISO 6520-1 {', '.join(item.imperfections)}]" if item.imperfections else ""
        lines += wrap(f"{item.name}{numbers}", " " * 6, f"{item.alias:<6}")
    return "\n".join(lines) + "\n"
