"""The questions of `prestrike faults`, line by line: any terminal will do, and it may end at any of them."""

from __future__ import annotations

import textwrap

from advisor.diagnostics import PrestrikeError
from advisor.faults.answer import Diagnostician
from advisor.faults.hazards import HazardListener
from advisor.faults.text import dangers_text

_KEYS = "y yes, n no, Enter not known, q enough"
_WIDTH = 78


def ask_at_terminal(doctor: Diagnostician, most: int) -> None:
    """At most so many questions, the most telling first; anything but yes or no leaves a sign open."""
    if not any(item.present for item in doctor.said.values()) and not _first_words(doctor):
        return
    asked: list[str] = []
    while len(asked) < most and not doctor.model.believe(doctor.statements).settled:
        question = next(iter(doctor.questions(asked)), None)
        if question is None:
            return
        asked.append(question.id)
        answer = _line(f"{question.ask} [{_KEYS}]")
        if answer is None or answer[:1] == "q":
            return
        if answer[:1] in ("y", "n"):
            doctor.state(question.id, answer[0] == "y", "answer", question.ask)


def _first_words(doctor: Diagnostician) -> bool:
    """What is seen, in words: asked until something is known or nothing is said. False where the input ends."""
    while True:
        answer = _line("What is seen, or what was done? In your words; Enter to be asked.")
        if answer is None or answer in ("q", "quit"):
            return False
        if not answer:
            return True
        print(dangers_text(HazardListener(doctor.rulebook.index).hear([answer])), end="")
        try:
            doctor.hear(answer)
            return True
        except PrestrikeError as error:
            print(error)


def _line(text: str) -> str | None:
    print("\n".join(textwrap.wrap(text, _WIDTH)))
    try:
        return input("> ").strip().casefold()
    except (EOFError, KeyboardInterrupt):
        print()
        return None
