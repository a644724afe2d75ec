"""A diagnosis on the terminal."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.answer.answer import Caution
from advisor.faults.answer import Bearing, Diagnosis, StatementTaken, Suspect, UnknownWords, leading
from advisor.faults.cure import Accepted
from advisor.faults.hazards import Danger
from advisor.faults.knowledge import Observation, Remedy
from advisor.show import wording
from advisor.show.lines import caution_text, wrap

_DETAILED = 3
_FLAT = (
    "No single cause stands out: what was said fits several about equally well, or more than one is at work. "
    "Do not change everything at once; do the next check."
)


def faults_text(found: Diagnosis) -> str:
    """The answer as text 80 columns wide."""
    lines = [*_danger_lines(found.dangers), *_head(found)]
    if not any(item.present for item in found.said):
        lines += ["", *wrap("Nothing is said to be seen yet: these are only the commonest causes.")]
    elif not found.settled:
        lines += ["", *wrap(_FLAT)]
    lines += ["", "CAUSES" + " " * 61 + "probability"]
    for number, suspect in enumerate(leading(found)):
        lines += _suspect(suspect, number < _DETAILED)
    lines += _the_rest(found)
    lines += [f"{'no single cause of this list':<72}{_percent(found.none_alone):>6}"]
    lines += _check(found) + _questions(found) + _caution_lines(found.cautions) + _foot(found)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def dangers_text(dangers: Sequence[Danger]) -> str:
    """The hazards that the words name, each with what to do."""
    return "".join(f"{line}\n" for line in _danger_lines(dangers))


def _danger_lines(dangers: Sequence[Danger]) -> list[str]:
    if not dangers:
        return []
    lines = ["DANGER"]
    for danger in dangers:
        lines += wrap(f"{danger.hazard}.", "    ", "!!  ")
        lines += wrap(f"{danger.do}.", "    ", "    ")
    return [*lines, ""]


def _head(found: Diagnosis) -> list[str]:
    metal = " to ".join(found.case.materials) or "metal not said"
    lines = [f"What went wrong: {metal}"]
    for item in found.said:
        if item.how in ("fact", "inside") and not item.present:
            continue  # what the job is not need not be told
        mark = "+" if item.present else "-"
        lines += wrap(f"{item.observation.name} ({item.observation.alias}){_taken_from(item)}", "    ", f"  {mark} ")
    for lost in found.lost:
        lines += _lost(lost)
    for topic in found.unheld:
        lines += wrap(f"not held against the advice: {topic} (no sign speaks of it for this job)", "    ", "  ? ")
    return lines


def _lost(item: UnknownWords) -> list[str]:
    return wrap(f"not understood: '{item.text}'; {item.findings[0].help}", "    ", "  ? ")


def _taken_from(item: StatementTaken) -> str:
    known = {item.observation.alias, item.observation.id, item.observation.name}
    if not item.words or item.words in known:
        return ""
    if item.how == "guess":
        return f", a guess from: {item.words}; leave it out with --not {item.observation.alias}"
    return f", from: {item.words}"


def _percent(p: float) -> str:
    return f"{100 * p:.0f} %" if p >= 0.01 else "<1 %"


def sentence(suspect: Suspect) -> str:
    """The probability of a cause in one sentence: where it starts, and the statement that moves it most each way."""
    text = f"{_percent(suspect.prior)} before anything was said"
    for bearings, turn in ((suspect.speaks_for, "raised"), (suspect.speaks_against, "lowered")):
        if bearings:
            factor = max(bearings[0].factor, 1 / bearings[0].factor)
            not_seen = "" if bearings[0].present else "not "
            text += f", {turn} most by '{not_seen}{bearings[0].observation.name}' ({factor:.1f} times)"
    return f"{suspect.name}: {text}, now {_percent(suspect.probability)}."


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
        if remedy.caution:
            lines += wrap(remedy.caution, "       ", "    !! ")
    return lines


def _the_rest(found: Diagnosis) -> list[str]:
    """What is not listed above, so that the percentages add up."""
    rest = found.suspects[len(leading(found)) :]
    if not rest:
        return []
    text = f"{len(rest)} other causes together, none above {_percent(rest[0].probability)}"
    return [f"{text:<72}{_percent(sum(item.probability for item in rest)):>6}"]


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
    lines = ["", "NEXT CHECK", *wrap(f"{check.alias} {_ended(check.do)} About {check.minutes:g} min.", "  ", "  ")]
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


def _ended(text: str) -> str:
    return text if text.endswith(("?", ".")) else f"{text}."


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
    return [*lines, *(line for caution in found for line in caution_text(caution))]


def _foot(found: Diagnosis) -> list[str]:
    text = "Probabilities follow from judged strengths of signs, one answer in five taken to be wrong; no handbook "
    return [
        "",
        *wrap(text + "prints such percentages. How it is worked out: advisor/faults/model.py."),
        f"rules {found.content_hash[:12]}",
    ]


def accepted_text(done: Accepted) -> str:
    """What acceptance did, and how to take it back."""
    if done.cause is None:
        gone = "; ".join(done.gone) or "no file had been written"
        return "\n".join(wrap(f"Taken back in trial {done.trial}. Deleted: {gone}.")) + "\n"
    lines = wrap(f"Accepted {done.cause.alias} {done.cause.name}, in trial {done.trial}.")
    lines += ["The next setup of this seam will show:" if done.changes else "The next setup stays as it is."]
    for change in done.changes:
        lines += wrap(change, "    ", "  * ")
    for kept in done.kept:
        lines += wrap(kept, "    ", "  = ")
    lines += wrap(f"Written: {done.file}", "  ")
    lines += wrap(f"Take it back: prestrike faults --trial {done.trial} --accept none", "  ")
    return "\n".join(lines) + "\n"


def signs_text(signs: Sequence[Observation]) -> str:
    """The signs it knows, one a line: alias, name, ISO 6520-1 numbers."""
    lines = []
    for item in sorted(signs, key=lambda sign: sign.alias):
        numbers = f" [ISO 6520-1 {', '.join(item.imperfections)}]" if item.imperfections else ""
        lines += wrap(f"{item.name}{numbers}", " " * 6, f"{item.alias:<6}")
    return "\n".join(lines) + "\n"
