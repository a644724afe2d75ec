"""`prestrike ask`: a guided form, line by line, for any terminal or a pipe."""

from __future__ import annotations

import json
import sys
import textwrap
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from advisor.ask.questions import QUESTIONS, AnswerChecks, Question, job_data
from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.job.reader import JobBuilder
from advisor.reading import is_there, read_json
from advisor.shop.rules_in_force import open_rules, units_of
from advisor.writing import write_whole

_WORDS = "Enter takes what stands in brackets, - leaves it out. ? helps; also: back, quit."
# What an optional question holds when nothing was said: it was asked, and left out.
_LEFT_OUT = ""
WIDTH = 78


def command(
    output: Annotated[Path, typer.Option("--output", "-o", help="The job file to write.")] = Path("job.yaml"),
    force: Annotated[bool, typer.Option("--force", help="Write over a file of that name.")] = False,
) -> None:
    """Ask for what matters, one question at a time, and write a job file. What was answered is kept if you stop.

    Example: prestrike ask -o tank.yaml
    """
    if is_there(output) and not force:
        repair = "name another with -o, or add --force"
        raise PrestrikeError(Diagnostic("exists", f"{output} is already there", help=repair))
    rulebook = open_rules()
    place = AnswerChecks(rulebook, units_of(rulebook))
    form = Form(place, Path(f"{output}.draft"))
    try:
        finished = form.run()
    except KeyboardInterrupt:
        finished = False
    if not finished:
        print(f"\nKept in {form.draft}. Go on with: prestrike ask -o {output}")
        sys.exit(Exit.BAD_INPUT)
    data = job_data(form.answers)
    JobBuilder(rulebook, place.units).build(data)
    _write(output, data, force)
    form.draft.unlink(missing_ok=True)
    print(f"\nWritten: {output}\nNow: prestrike setup {output}")
    print("With the same file: prep, heat, sheet, consumables, strength, inspect, faults.")


class Form:
    """Asks, checks and keeps the answers. After each answer the draft holds all of them."""

    def __init__(self, place: AnswerChecks, draft: Path) -> None:
        self.place = place
        self.draft = draft
        self.answers: dict[str, str] = {}
        if is_there(draft):
            self.answers = _kept(draft)
            print(f"Going on from {draft}: {len(self.answers)} answers kept.")

    def run(self) -> bool:
        """Ask until all is answered: True; or until quit or the end of the input: False."""
        print(_WORDS)
        went_back = ""
        while (question := self._next(went_back)) is not None:
            line = self._line(question)
            word = (line or "").strip().casefold()
            went_back = ""
            if line is None or word in ("quit", "q"):
                return False
            if word in ("?", "help"):
                print(self._help(question))
                went_back = question.name
            elif word in ("back", "<"):
                went_back = self._before(question)
            else:
                self._take(question, line.strip())
        return True

    def _asked(self) -> list[Question]:
        """The questions that matter for what is known so far."""
        return [question for question in QUESTIONS if question.matters(self.answers, self.place)]

    def _next(self, wanted: str) -> Question | None:
        if wanted:
            return next(question for question in QUESTIONS if question.name == wanted)
        return next((question for question in self._asked() if question.name not in self.answers), None)

    def _before(self, question: Question) -> str:
        """The question before this one; its answer stays as the default."""
        names = [item.name for item in self._asked()]
        index = names.index(question.name)
        if index == 0:
            print("This is the first question.")
        return names[max(index - 1, 0)]

    def _default(self, question: Question) -> str:
        return self.answers.get(question.name) or question.default(self.answers, self.place)

    def _line(self, question: Question) -> str | None:
        default = self._default(question)
        shown = f" [{default}]" if default else " [leave out]" if question.optional else ""
        choices = question.choices(self.answers, self.place)
        listed = "\n" + textwrap.fill(", ".join(choices), WIDTH) if choices and question.name == "joint" else ""
        print(f"\n{question.ask}{shown}{listed}\n> ", end="", flush=True)
        line = sys.stdin.readline()
        return line if line else None

    def _help(self, question: Question) -> str:
        text = question.help.replace("{listed}", ", ".join(question.choices(self.answers, self.place)))
        return "\n".join(line for paragraph in text.split("\n") for line in textwrap.wrap(paragraph, WIDTH))

    def _take(self, question: Question, said: str) -> None:
        said = said or self._default(question)
        if not said and not question.optional:
            print("This one is needed. ? tells how to find out.")
            return
        try:
            answer = question.check(said, self.answers, self.place) if said and said != "-" else _LEFT_OUT
        except PrestrikeError as error:
            for finding in error.diagnostics:
                print(textwrap.fill(f"{finding.message}. {finding.help}".rstrip(" ."), WIDTH))
            return
        self.answers[question.name] = answer
        self._forget()
        _keep(self.draft, self.answers)

    def _forget(self) -> None:
        """An answer changed on the way back may make later ones pointless."""
        for question in QUESTIONS:
            if question.name in self.answers and not question.matters(self.answers, self.place):
                del self.answers[question.name]


def _kept(draft: Path) -> dict[str, str]:
    names = {question.name for question in QUESTIONS}
    found = read_json(draft, "move it away, or name another file with -o")
    if not isinstance(found, dict) or not all(isinstance(value, str) for value in found.values()):
        text = f"{draft} is no draft of this form"
        raise PrestrikeError(Diagnostic("bad-draft", text, help="move it away, or name another file with -o"))
    return {name: value for name, value in found.items() if name in names}


def _keep(draft: Path, answers: Mapping[str, str]) -> None:
    write_whole(draft, json.dumps(answers, ensure_ascii=False, indent=1))


def _write(output: Path, data: Mapping[str, Any], force: bool) -> None:
    import yaml

    text = yaml.safe_dump(dict(data), sort_keys=False, allow_unicode=True, width=100)
    write_whole(output, "# Made by prestrike ask.\n" + text, new=not force)
