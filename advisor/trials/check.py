"""Whether a trial can be: words the rules know, sizes a machine can be set to, a day of the calendar."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.material import find_material
from advisor.journal.trial import Trial
from advisor.rulebook.library import Rulebook

# What cannot be 0 while an arc burns; other settings may be 0, such as a root gap or a pre-flow.
_ABOVE_ZERO = ("current", "voltage", "speed", "gas_flow", "wire_feed", "frequency")
_ABOVE_ZERO_NAMES = ("tungsten_diameter", "filler_diameter", "nozzle_bore", "wire_diameter", "electrode_diameter",
                     "passes", "fillet_leg")  # fmt: skip
# May be below 0.
_SIGNED = ("temperature", "temperature_difference", "angle")


def amount_fault(rulebook: Rulebook, name: str, value: float) -> str:
    """Why a setting cannot be this amount [house unit]; empty where it can."""
    topic = rulebook.vocabulary.topics.get(name)
    if topic is None or topic.form != "number":
        return f"'{name}' is no setting"
    if (topic.dimension in _ABOVE_ZERO or name in _ABOVE_ZERO_NAMES) and value <= 0:
        return f"{topic.label}: {value:g} is not above 0"
    if topic.dimension == "percent" and not 0 <= value <= 100:
        return f"{topic.label}: {value:g} is not between 0 and 100 %"
    if topic.dimension not in _SIGNED and value < 0:
        return f"{topic.label}: {value:g} is below 0"
    return ""


def trial_faults(rulebook: Rulebook, trial: Trial) -> Iterator[Diagnostic]:
    """What is wrong with a trial that comes from elsewhere, each with its field and the repair."""
    try:
        day = datetime.fromisoformat(trial.made_at)
        if day.tzinfo is None:
            yield _finding("wrong-date", f"'{trial.made_at}' names no time zone", "made_at", "add +00:00 for UTC")
    except ValueError:
        yield _finding("wrong-date", f"'{trial.made_at}' is no date", "made_at", "as 2026-11-01T15:00:00+00:00")
    for name in ("process", "joint", "position"):
        word, known = getattr(trial.case, name), rulebook.vocabulary.attributes[name].choices
        if word not in known:
            yield _finding("unknown-value", f"'{word}' is no {name} known here", name, did_you_mean(word, known))
    for metal in trial.case.metals:
        try:
            find_material(metal, rulebook.index)
        except PrestrikeError as error:
            yield error.diagnostics[0]._replace(subject="metals")
    if trial.case.thinner > trial.case.thicker:
        text = f"thinner is {trial.case.thinner:g} mm and thicker {trial.case.thicker:g} mm"
        yield _finding("wrong-form", text, "thinner", "swap the two")
    for name, value in trial.used.items():
        if fault := amount_fault(rulebook, name, value):
            settings = [key for key, topic in rulebook.vocabulary.topics.items() if topic.form == "number"]
            repair = "mend the row" if name in settings else did_you_mean(name, settings)
            yield _finding("wrong-amount", fault, f"used.{name}", repair)
    if not trial.used and not trial.chosen and not trial.withdrawn:
        yield _finding("nothing-used", "a trial says what was dialled in", "used", "fill in used.current")


def _finding(code: str, message: str, subject: str, repair: str) -> Diagnostic:
    return Diagnostic(code, message, subject=subject, help=repair)
