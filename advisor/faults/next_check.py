"""Which check to do next: expected information over trouble.

What a check is expected to tell is the mutual information between its outcome and the cause [bit]: how much is not
known now, less the mean of what would not be known after each outcome, with outcomes read wrongly as often as answers
are. It is divided by the minutes the check takes, changing over to it included.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import product
from typing import NamedTuple

from advisor.faults.knowledge import Check
from advisor.faults.model import Belief, Model, Statement, Statements
from advisor.faults.scale import CHANGEOVER, LEAST_GAIN

# Questions a person answers from memory cost little; these kinds of sign need no trial.
_ASKED = ("symptom", "deed")


class CheckValue(NamedTuple):
    """What a check or question is expected to tell [bit], its cost [minutes], and the one over the other."""

    id: str
    gain: float
    minutes: float

    @property
    def rate(self) -> float:
        """Bits a minute, changing over included."""
        return self.gain / (self.minutes + CHANGEOVER)


def expected_gain(model: Model, statements: Statements, tells: Sequence[str], now: Belief | None = None) -> float:
    """What answers on these signs are expected to tell of the cause [bit], 0 or more. now: the belief, if at hand."""
    now = now or model.believe(statements)
    open_signs = [name for name in tells if name in model.observations and name not in statements]
    variables = {model.variable_of(name) for name in open_signs}
    related = {name: said for name, said in statements.items() if model.variable_of(name) in variables}
    before = model.chances(related)
    start = [p / chance for p, chance in zip(now.probabilities.values(), before, strict=True)]
    gain = now.entropy()
    for outcome in product((True, False), repeat=len(open_signs)):
        answers = {name: Statement(present) for name, present in zip(open_signs, outcome, strict=True)}
        after = model.chances({**related, **answers})
        joint = [share * chance for share, chance in zip(start, after, strict=True)]
        gain -= sum(joint) * _entropy(joint)
    return max(gain, 0.0)


def _entropy(weights: Sequence[float]) -> float:
    total = sum(weights)
    return -sum(weight / total * math.log2(weight / total) for weight in weights if weight > 0.0)


def best_checks(model: Model, statements: Statements, done: Iterable[str] = ()) -> list[CheckValue]:
    """Checks that still tell something, the one that tells most for the least trouble first."""
    left_out, now = set(done), model.believe(statements)
    found = []
    for check in model.checks.values():
        if check.id in left_out or not _has_place(check, statements):
            continue
        if any(_open(model, statements, name) for name in check.tells):
            found.append(CheckValue(check.id, expected_gain(model, statements, check.tells, now), check.minutes))
    return _ordered(found)


def best_questions(model: Model, statements: Statements, asked: Iterable[str] = ()) -> list[CheckValue]:
    """Signs to ask about, the one that tells most first."""
    left_out, now = set(asked), model.believe(statements)
    found = [
        CheckValue(name, expected_gain(model, statements, (name,), now), 0.0)
        for name, item in model.observations.items()
        if item.about in _ASKED and name not in left_out and _open(model, statements, name)
    ]
    return _ordered(found)


def _has_place(check: Check, statements: Statements) -> bool:
    """True where one of the signs the check is for was seen, or nothing at all was seen."""
    seen = {name for name, said in statements.items() if said.present and said.how != "fact"}  # a fact is no symptom
    return not check.after or not seen or not seen.isdisjoint(check.after)


def _open(model: Model, statements: Statements, name: str) -> bool:
    """True where a sign may still be asked about: not stated, and not decided by one that excludes it."""
    if name in statements or name not in model.observations:
        return False
    variable = model.variable_of(name)
    held = [other for other, said in statements.items() if said.present and model.variable_of(other) == variable]
    return all(model.observations[other].covers for other in held)


def _ordered(found: Iterable[CheckValue]) -> list[CheckValue]:
    worth = [item for item in found if item.gain >= LEAST_GAIN]
    return sorted(worth, key=lambda item: (-item.rate, item.id))
