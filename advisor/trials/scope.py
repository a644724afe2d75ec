"""Which trials are of one kind of seam, and what is published for each of them."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from advisor.answer.answer import Setting
from advisor.diagnostics import PrestrikeError
from advisor.job.job import Job
from advisor.job.reader import JobBuilder
from advisor.journal.trial import Trial
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise
from advisor.shop.scope import SAME_SIZE, Scope
from advisor.units.quantities import UnitTable


class ScopeRequest(NamedTuple):
    """What was asked for; empty words and zeros leave it open. metals: material ids; thinnest, thickest: [mm]."""

    metals: tuple[str, ...] = ()
    joint: str = ""
    position: str = ""
    process: str = ""
    machine: str = ""
    thinnest: float = 0.0
    thickest: float = 0.0

    def takes(self, trial: Trial) -> bool:
        """True where a trial is of the kind asked for."""
        case = trial.case
        return (
            (not self.metals or set(case.metals) == set(self.metals))
            and self.joint in ("", case.joint)
            and self.position in ("", case.position)
            and self.process in ("", case.process)
            and (not self.machine or case.machine.casefold() == self.machine.casefold())
            and (not self.thinnest or case.thinner >= self.thinnest * (1 - SAME_SIZE))
            and (not self.thickest or case.thicker <= self.thickest * (1 + SAME_SIZE))
        )


class SeamKind(NamedTuple):
    """One kind of seam: the scope a rule of it would have (sizes: what was tried), and its trials."""

    scope: Scope
    trials: tuple[Trial, ...]


def gas_of(trial: Trial) -> str:
    """The gas that was really used, where it was said."""
    return trial.chosen.get("gas", trial.case.gas)


def seams_of(trials: Sequence[Trial], wanted: ScopeRequest) -> list[SeamKind]:
    """The kinds of seam among the trials asked for; those with most trials first. Unequal members are held to both
    their sizes, like ones are one kind whatever their thickness."""
    found: list[tuple[Scope, list[Trial]]] = []
    for trial in trials:
        if not wanted.takes(trial):
            continue
        scope = _scope(trial, wanted)
        mine = next((item for item in found if _same(item[0], scope)), None)
        if mine is None:
            found.append((scope, [trial]))
        else:
            mine[1].append(trial)
    seams = [SeamKind(_spanning(scope, group), tuple(group)) for scope, group in found]
    return sorted(seams, key=lambda seam: (-len(seam.trials), seam.scope))


def _scope(trial: Trial, wanted: ScopeRequest) -> Scope:
    case = trial.case
    machine = case.machine if wanted.machine else ""
    metals = tuple(sorted(set(case.metals)))
    return Scope(case.process, metals, case.joint, case.position, gas_of(trial), case.thinner, case.thicker, machine)


def _same(one: Scope, other: Scope) -> bool:
    if one._replace(thinner=0, thicker=0) != other._replace(thinner=0, thicker=0) or one.alike != other.alike:
        return False
    return one.alike or (same_size(one.thinner, other.thinner) and same_size(one.thicker, other.thicker))


def same_size(one: float, other: float) -> bool:
    """True for sizes that are the same stock [mm]."""
    return abs(one - other) <= SAME_SIZE * max(one, other)


def _spanning(scope: Scope, trials: Sequence[Trial]) -> Scope:
    """For like members the scope keeps one size only to say that they are alike: rules of it have a table."""
    if not scope.alike:
        return scope
    size = min(trial.case.thinner for trial in trials)
    return scope._replace(thinner=size, thicker=size)


class Published:
    """What the shipped rules say for the job of each trial; each different job is asked once."""

    def __init__(self, shipped: Rulebook, units: UnitTable) -> None:
        self.shipped = shipped
        self.units = units
        self._known: dict[str, Mapping[str, Setting] | str] = {}

    def settings(self, trial: Trial) -> Mapping[str, Setting] | str:
        """Every number of the answer, or why there is none."""
        data = job_of(trial)
        if isinstance(data, str):
            return data
        key = json.dumps({name: value for name, value in data.items() if name != "name"}, sort_keys=True)
        if key not in self._known:
            self._known[key] = self._ask(data)
        return self._known[key]

    def _ask(self, data: Mapping[str, Any]) -> Mapping[str, Setting] | str:
        try:
            advice = advise(self.shipped, built(self.shipped, self.units, data))
        except PrestrikeError as error:
            return f"its job cannot be read any more: {error.diagnostics[0].message}"
        if advice.status == "refused":
            return "the work is not advised: " + advice.refusals[0].reason
        if advice.no_rule:
            return advice.no_rule[0].message
        return advice.settings


def built(book: Rulebook, units: UnitTable, data: Mapping[str, Any]) -> Job:
    """The job of such a mapping. Raises PrestrikeError."""
    return JobBuilder(book, units).build(data)


def job_of(trial: Trial) -> Mapping[str, Any] | str:
    """The job of a trial as a job file holds it, with the gas that was really used; else why it cannot be told."""
    data: dict[str, Any] = dict(trial.job)
    case = trial.case
    if not data:
        sizes = [case.thinner, case.thicker]
        if len(set(case.metals)) > 1 and not same_size(*sizes):
            return "it does not say which metal is the thicker one"
        metals = [case.metals[0], case.metals[-1]]
        members = [{"metal": metal, "thickness": f"{size:g} mm"} for metal, size in zip(metals, sizes, strict=True)]
        data = {"process": case.process, "members": members, "joint": case.joint, "position": case.position}
    gas = gas_of(trial)
    if gas:
        data["gas"] = gas
    return data
