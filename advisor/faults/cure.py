"""What an accepted cause does to the next setup: a rule file of one's own with visible adjusts and steps.

The file holds for the very seam of the trial and no other. It stands in a layer of one's own, so that setup reads it
like any rule: nothing is looked up on the way to an answer, `why` shows the trial as its source, and ceilings and
floors, which act after every adjust, hold as before. A change that would only undo what was set against the advice is
not written: there the advice stands, and the text says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from advisor.answer.answer import Advice, Setting
from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.faults.knowledge import Cause, Knowledge, Remedy
from advisor.journal.trial import Trial
from advisor.reading import is_file
from advisor.rulebook.library import Rulebook
from advisor.rulebook.names import fold
from advisor.shop.new_rule import Scaffold, folder_of, write_new
from advisor.shop.rule_text import file_head, flow, scalar, slug
from advisor.shop.scope import Scope, around, scope_of
from advisor.units.quantities import HOUSE_UNITS

# No single trial changes a setting by more than this.
_LEAST, _MOST = 0.5, 2.0
# Below this change a new setting is the old one.
_SAME = 0.005
_COMMENTS = (
    "Written when a cause was accepted. It holds for this one seam; to take it back, delete the file or run",
    "prestrike faults --trial {trial} --accept none",
)


class Cure(NamedTuple):
    """What acceptance does. changes: what the next setup will show; kept: what stays and why; made: the file."""

    cause: Cause
    changes: tuple[str, ...]
    kept: tuple[str, ...]
    made: Scaffold


class Accepted(NamedTuple):
    """What acceptance did. cause: None where it was taken back; trial: id of the row written; gone: files deleted."""

    cause: Cause | None
    trial: str
    changes: tuple[str, ...]
    kept: tuple[str, ...]
    file: str
    gone: tuple[str, ...] = ()


def find_cause(knowledge: Knowledge, name: str) -> Cause:
    """A cause by id or alias (C27). Raises PrestrikeError with the nearest."""
    for cause in knowledge.causes.values():
        if fold(name) in (fold(cause.id), fold(cause.alias)):
            return cause
    names = [word for cause in knowledge.causes.values() for word in (cause.id, cause.alias)]
    repair = did_you_mean(name, names)
    raise PrestrikeError(Diagnostic("unknown-cause", f"'{name}' is no cause", subject="accept", help=repair))


def cure(rulebook: Rulebook, knowledge: Knowledge, cause: Cause, advice: Advice, trial: Trial) -> Cure:
    """The rules that an accepted cause of a trial makes for the next setup of the same seam."""
    scope = scope_of(rulebook, advice.job)
    remedies = [item for item in knowledge.remedies.values() if cause.id in item.causes]
    changes: list[str] = []
    kept: list[str] = []
    rules: list[str] = []
    for remedy in remedies:
        setting = _setting(advice, remedy)
        if setting is not None:
            effect, text = _adjusted(remedy, setting, trial)
            if effect:
                rules += _rule(scope, trial, cause, remedy.change["topic"], ["    adjust:", f"      {effect}"])
            (changes if effect else kept).append(text)
        if remedy.step:
            rules += _rule(scope, trial, cause, remedy.step, _step(remedy), remedy.id)
            changes.append(f"{_label(rulebook, remedy.step)}: {remedy.do}")
    seen = "; ".join(trial.seen) or "what was seen was not noted"
    source = {"id": "trial", "title": f"Trial {trial.id}: {seen}", "kind": "own-trials", "evidence": "trial"}
    head = file_head(_name(trial), "first set", source, [line.format(trial=trial.id) for line in _COMMENTS])
    text = "\n".join([*head, *rules]) + "\n"
    return Cure(cause, tuple(changes), tuple(kept), Scaffold(f"cure.{slug(trial.id)}", text, f"{_name(trial)}.yaml"))


def write_cure(found: Cure, layer: str, project: Path) -> Path:
    """Write the file into its layer. Raises PrestrikeError where a cause was accepted for this trial before."""
    return write_new(folder_of(layer, project), found.made)


def take_back(trial_ids: Sequence[str], project: Path) -> list[Path]:
    """Delete what was accepted for a trial (all rows of it), in every layer. Gives the files that were deleted."""
    gone = []
    for layer in ("shop", "job"):
        for name in trial_ids:
            path = folder_of(layer, project) / f"cure-{slug(name)}.yaml"
            if is_file(path):
                path.unlink()
                gone.append(path)
    return gone


def _name(trial: Trial) -> str:
    return f"cure-{slug(trial.id)}"


def _label(rulebook: Rulebook, topic: str) -> str:
    return rulebook.vocabulary.topics[topic].label


def _setting(advice: Advice, remedy: Remedy) -> Setting | None:
    topic = remedy.change.get("topic", "")
    return advice.settings.get(topic) or advice.preparation.get(topic)


def _adjusted(remedy: Remedy, setting: Setting, trial: Trial) -> tuple[str, str]:
    """(the adjust as YAML, what it does in words). Empty adjust: the advice stays, and the words say why."""
    used = trial.used.get(setting.name)
    aim = _aim(remedy, setting.start if used is None else used)
    lower = aim < (setting.start if used is None else used)
    if used is not None and (used > setting.high * 1.001 if lower else used < setting.low * 0.999):
        side = "above" if lower else "below"
        text = f"{setting.label}: {used:g} {setting.unit} was {side} the advised range; the advice stays as it is"
        return "", text
    factor = min(max(aim / setting.start, _LEAST), _MOST) if setting.start else 1.0
    factor = min(factor, 1.0) if lower else max(factor, 1.0)
    if abs(factor - 1.0) < _SAME:
        return "", f"{setting.label}: {setting.start:g} {setting.unit} is already on the safe side of what was used"
    was, new = f"{setting.start:.4g}", f"{setting.start * factor:.4g} {setting.unit}".strip()
    if setting.dimension == "percent" or "offset" in remedy.change:
        step = setting.start * factor - setting.start
        return f"offset: {scalar(f'{step:.4g} {HOUSE_UNITS[setting.dimension]}')}", f"{setting.label}: {was} to {new}"
    return f"factor: {factor:.4g}", f"{setting.label}: {was} to {new}"


def _aim(remedy: Remedy, value: float) -> float:
    """The next value [house unit] of a setting that was `value`."""
    if "factor" in remedy.change:
        return value * float(remedy.change["factor"])
    return value + float(str(remedy.change["offset"]).split()[0])


def _step(remedy: Remedy) -> list[str]:
    text = remedy.do.rstrip(".") + (f" ({remedy.number})" if remedy.number else "")
    never = [f"      never: {scalar(remedy.never)}"] if remedy.never else []
    return ["    step:", "      order: 9  # before the shipped steps", f"      do: {scalar(text)}", *never]


def _rule(scope: Scope, trial: Trial, cause: Cause, topic: str, effect: Sequence[str], part: str = "") -> Iterator[str]:
    yield f"  - id: cure.{slug(trial.id)}.{slug(topic)}{'.' + slug(part) if part else ''}"
    yield f"    topic: {topic}"
    yield "    when:"
    for key, value in _conditions(scope).items():
        yield f"      {key}: {flow(value)}"
    yield from effect
    yield "    source: [{doc: trial}]"
    yield f"    because: {scalar(f'The cause accepted for that trial: {cause.name}.')}"
    yield "    examples:"
    yield f"      - {{job: {flow(scope.facts())}, fires: true}}"


def _conditions(scope: Scope) -> Mapping[str, Any]:
    sizes = {"thickness": around(scope.thinner)} if scope.alike else scope.sizes()
    return {**scope.words(), **sizes}
