"""`prestrike sheet`: the bench sheet of a job, for paper or a phone."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.flags.options import Flags, job_from, takes_job
from advisor.flags.telling import no_effect_text, told
from advisor.heat.answer import HeatAnswer, heat_answer
from advisor.job.job import Job
from advisor.journal.trial import Trial
from advisor.reading import is_file
from advisor.resources import journal_file
from advisor.rulebook.library import Rulebook
from advisor.setup.printing import advised, exit_of
from advisor.sheet.current_curve import CurrentCurve, current_curves, with_trials
from advisor.units.quantities import UnitTable
from advisor.writing import write_whole

ENDINGS = (".html", ".htm", ".md", ".pdf")
Output = Annotated[Path, typer.Option("--output", "-o", help="FILE.html, FILE.md or FILE.pdf (needs Chromium).")]
Paper = Annotated[str, typer.Option(help="A4 or letter.")]


@takes_job
def command(flags: Flags, output: Output = Path("sheet.html"), paper: Paper = "A4") -> None:
    """One page for the bench: settings in large type, drawings, steps to tick, curves, cautions, a strip to fill in.

    Example: prestrike sheet advisor/demo/coolant-tank.yaml -o tank.html
    """
    from advisor.sheet import page as sheet

    ending = output.suffix.lower()
    if ending not in ENDINGS:
        repair = f"name it {output.stem or 'sheet'}.html, .md or .pdf"
        raise PrestrikeError(Diagnostic("wrong-form", f"'{output.name}' is no kind of sheet known here", help=repair))
    size = next((known for known in sheet.PAPERS if known.casefold() == paper.casefold()), "")
    if not size:
        raise PrestrikeError(Diagnostic("wrong-paper", f"'{paper}' is no paper known here", help="A4 or letter"))
    rulebook, units, job = job_from(flags)
    answer = heat_answer(rulebook, job)
    from advisor.sheet.curves import plots_missing
    from advisor.sheet.data import sheet_data

    plots = ending != ".md" and not plots_missing()
    data = sheet_data(answer, units, curves_of(rulebook, answer), date.today(), plots, uses_of(rulebook, answer, units))
    page = sheet.markdown(data) if ending == ".md" else sheet.html(data, size)
    write_whole(output, sheet.printed(page) if ending == ".pdf" else page)
    print(f"{output}: {answer.advice.status}")
    print(no_effect_text(told(job, lambda other: _data(rulebook, other)), flags), end="")
    sys.exit(exit_of(answer.advice))


def _data(rulebook: Rulebook, job: Job) -> dict[str, Any]:
    """What the sheet is made of, as plain data."""
    from advisor.heat.text import heat_json

    return {**advised(rulebook, job), "heat": heat_json(heat_answer(rulebook, job))}


def uses_of(rulebook: Rulebook, answer: HeatAnswer, units: UnitTable) -> str:
    """Rods, minutes and gas of the job's own seams; empty where it gives no length and no part."""
    job = answer.advice.job
    if answer.advice.status != "advised" or (job.length is None and job.part is None):
        return ""
    from advisor.consumables.answer import UseRequest, job_consumables
    from advisor.consumables.text import in_short

    return in_short(job_consumables(rulebook, job, UseRequest()), units)


def curves_of(rulebook: Rulebook, answer: HeatAnswer) -> tuple[CurrentCurve, ...]:
    advice = answer.advice
    if advice.status != "advised" or advice.job.process == "111":
        return ()  # the current of stick follows the electrode, not the thickness
    chosen = {}
    for topic in ("polarity", "transfer", "gas"):
        best = next((option.name for option in advice.choices.get(topic, []) if option.rank == 1), None)
        chosen[topic] = getattr(advice.job, topic, "") or best
    return with_trials(current_curves(rulebook, advice.job, chosen), advice.job, _trials())


def _trials() -> list[Trial]:
    """The standing trials of this shop; none where no seam was logged yet."""
    from advisor.journal.store import Journal, standing

    if not is_file(journal_file()):
        return []
    with Journal(journal_file(), create=False) as journal:
        return standing(journal.rows())
