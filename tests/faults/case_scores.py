"""Diagnosis cases and how well they are solved: by the model, and by two baselines.

Run it to see the table, with every case that the model misses: python -m tests.faults.case_scores
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

import yaml

from advisor.faults.answer import Diagnostician
from advisor.faults.case import loose_case
from advisor.faults.recognise import key_words
from advisor.rulebook.library import Rulebook
from advisor.shop.rules_in_force import open_rules

HALVES = ("tune", "test")


class DiagnosisCase(NamedTuple):
    """A case: what is said, and the causes (C numbers) any of which is right; none where none can be named."""

    id: str
    metal: str
    process: str
    seen: tuple[str, ...]
    not_seen: tuple[str, ...]
    causes: tuple[str, ...]


class Score(NamedTuple):
    """How a half of the cases went. unsettled: cases without one cause, and how many of them were said to be so."""

    cases: int
    first: int
    first_three: int
    unsettled: int
    said_unsettled: int
    missed: tuple[str, ...]

    def share(self, hits: int) -> float:
        """A share of the cases that have a cause [-]."""
        return hits / self.cases


@cache
def cases(half: str) -> tuple[DiagnosisCase, ...]:
    """The cases of a half."""
    data = yaml.safe_load((Path(__file__).parent / f"cases-{half}.yaml").read_text(encoding="utf-8"))
    return tuple(
        DiagnosisCase(
            item["id"],
            str(item["metal"]),
            item.get("process", "141"),
            tuple(item["seen"]),
            tuple(item.get("not", ())),
            tuple(item["causes"]),
        )
        for item in data["cases"]
    )


@cache
def rulebook() -> Rulebook:
    """The shipped rules."""
    return open_rules()


class Answer(NamedTuple):
    """Causes (C numbers) with their probability, most likely first; whether one is named; what was not understood."""

    ranked: tuple[tuple[str, float], ...]
    settled: bool
    lost: tuple[str, ...]


@cache
def doctor_for(metal: str, process: str) -> Diagnostician:
    """A diagnostician of the case's metal and process, with nothing said."""
    return Diagnostician(rulebook(), loose_case(rulebook(), [metal], {"process": process}))


@cache
def answer_to(case: DiagnosisCase) -> Answer:
    """The causes as `prestrike faults` ranks them, and what was not understood."""
    doctor = doctor_for(case.metal, case.process)
    before = dict(doctor.said)
    try:
        lost = [*doctor.hear_all(case.seen), *doctor.hear_all(case.not_seen, present=False)]
        belief = doctor.model.believe(doctor.statements)
    finally:
        doctor.said = before
    ranked = tuple((doctor.model.causes[name].alias, p) for name, p in belief.ranked)
    return Answer(ranked, belief.settled, tuple(item.text for item in lost))


def by_model(case: DiagnosisCase) -> tuple[list[str], bool]:
    """Causes, most likely first, and whether one is named."""
    answer = answer_to(case)
    return [alias for alias, _ in answer.ranked], answer.settled


def by_commonest(case: DiagnosisCase) -> tuple[list[str], bool]:
    """Baseline: always the three causes that most cases of the tune half have."""
    found: dict[str, int] = {}
    for item in cases("tune"):
        for cause in item.causes[:1]:
            found[cause] = found.get(cause, 0) + 1
    return sorted(found, key=lambda cause: (-found[cause], cause))[:3], True


def by_keywords(case: DiagnosisCase) -> tuple[list[str], bool]:
    """Baseline: causes by how many words of the case stand in their name, reason, remedies or strong signs."""
    doctor = doctor_for(case.metal, case.process)
    said = {word for text in case.seen for word in key_words(_as_words(doctor, text))}
    scores = {}
    for cause in doctor.model.causes.values():
        texts = [cause.name, cause.because]
        texts += [r.do for r in doctor.knowledge.remedies.values() if cause.id in r.causes]
        texts += [doctor.model.observations[sign].name for sign in cause.signs if sign in doctor.model.observations]
        scores[cause.alias] = len(said & {word for text in texts for word in key_words(text)})
    ranked = sorted(scores, key=lambda alias: (-scores[alias], alias))
    return ranked, scores[ranked[0]] > scores[ranked[1]]


def _as_words(doctor: Diagnostician, text: str) -> str:
    return next((item.name for item in doctor.model.observations.values() if item.alias == text), text)


def score(half: Sequence[DiagnosisCase], answer: Callable[[DiagnosisCase], tuple[list[str], bool]]) -> Score:
    """How an answerer does on a half."""
    first = three = unsettled = said = 0
    missed = []
    for case in half:
        ranked, settled = answer(case)
        if not case.causes:
            unsettled += 1
            said += not settled
            continue
        first += ranked[0] in case.causes
        three += not set(case.causes).isdisjoint(ranked[:3])
        if ranked[0] not in case.causes:
            missed.append(f"{case.id}: {', '.join(ranked[:3])} for {', '.join(case.causes)}")
    return Score(len(half) - unsettled, first, three, unsettled, said, tuple(missed))


def main() -> None:
    """Print the table."""
    for half in HALVES:
        for name, answer in (("model", by_model), ("commonest", by_commonest), ("keywords", by_keywords)):
            found = score(cases(half), answer)
            print(
                f"{half} {name:<10} first {found.first}/{found.cases} ({found.share(found.first):.0%}), in three "
                f"{found.first_three}/{found.cases} ({found.share(found.first_three):.0%}), "
                f"no single cause {found.said_unsettled}/{found.unsettled}"
            )
            if name == "model" and half == "tune":
                print("".join(f"    {line}\n" for line in found.missed), end="")


if __name__ == "__main__":
    main()
