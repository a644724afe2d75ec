"""The finished answer of one job: what `setup`, `heat`, `consumables` and the bench sheet say of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any, NamedTuple

from advisor.answer.answer import Advice, Instruction
from advisor.consumables.answer import JobConsumables, UseRequest, job_consumables
from advisor.diagnostics import PrestrikeError
from advisor.heat.answer import HeatAnswer, heat_answer
from advisor.job.job import Job
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import TORCH
from advisor.setup.text import render
from advisor.sheet.data import sheet_data
from advisor.units.quantities import UnitTable


class Finished(NamedTuple):
    """One job and all that is said of it."""

    job: Job
    advice: Advice
    text: str
    heat: HeatAnswer
    used: JobConsumables | None
    sheet: Mapping[str, Any]

    def steps(self) -> Iterator[Instruction]:
        """Every step of the answer, the machine's ways out included."""
        for found in self.advice.steps.values():
            yield from found
        if self.advice.machine is not None:
            yield from self.advice.machine.steps

    def said(self) -> Iterator[tuple[str, str]]:
        """Every instruction and caution: (rule id, its words)."""
        for step in self.steps():
            yield step.rule_id, ". ".join(part for part in (step.do, step.never, step.judge) if part)
        for caution in self.advice.cautions:
            yield caution.rule_id, f"{caution.hazard}. {caution.do}"
        for note in self.advice.notes:
            yield "a note", note
        for name, part in (("aim", self.advice.unequal), ("machine", self.advice.machine), ("box", self.advice.warm)):
            if part is not None:
                yield f"the sentence of the {name}", part.message

    def has(self, *words: str) -> list[str]:
        """Ids of the steps whose words hold all of these."""
        return [rule for rule, text in self.said() if all(word in text.casefold() for word in words)]


def finish(rulebook: Rulebook, units: UnitTable, data: Mapping[str, Any]) -> Finished | None:
    """The finished answer; None for a job that cannot be read (two metals with one surface word, for instance)."""
    try:
        job = JobBuilder(rulebook, units).build(data)
    except PrestrikeError:
        return None
    heat = heat_answer(rulebook, job)
    used = None
    if heat.advice.status == "advised" and job.process not in TORCH and (job.length is not None or job.part):
        used = job_consumables(rulebook, job, UseRequest())
    sheet = sheet_data(heat, units, (), date(2026, 1, 2), False)
    return Finished(job, heat.advice, render(heat.advice, units), heat, used, sheet)
