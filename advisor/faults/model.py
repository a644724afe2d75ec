"""The model that ranks causes: one main cause a case, or none that stands alone, and signs that follow from it.

Method: naive Bayes over single causes with a background rate for every sign and with statements that may be wrong.
Chosen over a noisy-or network because what is published are words (`supports`, `against`) for one cause at a time: its
leak and inhibition numbers would all be invented, and it would spread the blame over several causes where a person
changes one thing next. Each cause is explained in one sentence: where it starts, and the factor by which each statement
makes it more or less likely than the average case. What naive Bayes takes too lightly is met where it matters:

- Signs that exclude one another (pores at the start, at the stop, all over; pore walls bright or dark) are states of
  one variable, so that saying the same twice does not count twice.
- Every statement may be wrong: a fifth of the answers, and of what is mentioned unasked, is taken to be
  (`diagnosis_scale.py`); tested on beads drawn from the model (`tests/faults/test_calibration.py`).
- A sign that only shop habit ties to a cause counts less than one that a document ties to it.
- What is not said says nothing: no sign is taken as missing because nobody spoke of it.
- An outcome of its own stands for "no single cause": signs there as often as in the mixture of all causes. It wins
  where the statements fit no cause well; and where several fit about equally well none is named.

The same statements give the same numbers in any order, and taking one back restores what was before, because
everything is computed anew from the set of statements, in the order of their ids.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from advisor.faults.knowledge import Cause, Check, Knowledge, Observation
from advisor.faults.scale import (
    FACT,
    GUESSED,
    INSIDE,
    JUDGED,
    LEADS_BY,
    LEAST,
    NO,
    NO_FACT,
    PRIOR,
    SEEN,
    SETTLED,
    SPEAKS,
    UNSETTLED,
    YES,
    StatementTrust,
)

NO_SINGLE_CAUSE = "no-single-cause"
_MOST_OF_A_GROUP = 0.97


class Statement(NamedTuple):
    """Something said about one sign. how: seen (volunteered), guess (volunteered in words not quite known), answer,
    fact, inside (a setting used that lies inside its advised range)."""

    present: bool
    how: str = "answer"

    @property
    def reading(self) -> StatementTrust:
        """How far to trust it. A denial counts as an answer, also where it was volunteered."""
        if self.how == "fact":
            return FACT if self.present else NO_FACT
        if self.how == "inside":
            return INSIDE
        if not self.present:
            return NO
        return {"seen": SEEN, "guess": GUESSED}.get(self.how, YES)


Statements = Mapping[str, Statement]


class StatementWeight(NamedTuple):
    """What one statement does to a cause: factor against the average case [-]."""

    observation: str
    present: bool
    factor: float


class Belief(NamedTuple):
    """Probabilities of the causes and of no single cause."""

    probabilities: Mapping[str, float]

    @property
    def ranked(self) -> list[tuple[str, float]]:
        """Causes by probability, most likely first; equal ones by id."""
        named = [(name, p) for name, p in self.probabilities.items() if name != NO_SINGLE_CAUSE]
        return sorted(named, key=lambda item: (-item[1], item[0]))

    @property
    def none_alone(self) -> float:
        """Probability that no single cause explains the case."""
        return self.probabilities[NO_SINGLE_CAUSE]

    @property
    def settled(self) -> bool:
        """True where one cause may be named: likely enough, ahead of the next, and ahead of no single cause."""
        ranked = self.ranked
        if not ranked:
            return False
        second = ranked[1][1] if len(ranked) > 1 else 0.0
        first = ranked[0][1]
        return first >= SETTLED and first >= LEADS_BY * second and first > self.none_alone

    def entropy(self) -> float:
        """How much is not known [bit]."""
        return -math.fsum(p * math.log2(p) for p in self.probabilities.values() if p > 0.0)


# Torch brazing and soldering (ISO 4063).
FLAME = frozenset({"912", "942"})
# A variable: its states, each the set of signs that are there in it.
States = tuple[frozenset[str], ...]


class Model:
    """The model for one metal family and process. Empty: not known, so nothing is ruled out."""

    def __init__(self, knowledge: Knowledge, metals: Iterable[str] = (), process: str = "") -> None:
        self.metals, self.process = frozenset(metals), process
        self.causes: dict[str, Cause] = {
            name: cause for name, cause in sorted(knowledge.causes.items()) if self.applies(cause)
        }
        self.observations: dict[str, Observation] = {
            name: item for name, item in sorted(knowledge.observations.items()) if self.applies(item)
        }
        self.checks: dict[str, Check] = {
            name: check for name, check in sorted(knowledge.checks.items()) if self.applies(check)
        }
        total = math.fsum(PRIOR[cause.prior] for cause in self.causes.values())
        self.prior = {name: (1 - UNSETTLED) * PRIOR[c.prior] / total for name, c in self.causes.items()}
        self._variable_of: dict[str, str] = {name: item.group or name for name, item in self.observations.items()}
        self._members: dict[str, list[str]] = {}
        for name, variable in self._variable_of.items():
            self._members.setdefault(variable, []).append(name)
        self._tables: dict[str, tuple[States, dict[str, tuple[float, ...]]]] = {}
        self.outcomes: tuple[str, ...] = (*self.causes, NO_SINGLE_CAUSE)
        self._log_prior = [math.log(p) for p in (*self.prior.values(), UNSETTLED)]
        self._vectors: dict[tuple[str, tuple[tuple[str, Statement], ...]], tuple[float, ...]] = {}

    def applies(self, item: Cause | Observation | Check) -> bool:
        """True where an entry may speak for this metal and process."""
        metal = not item.metals or not self.metals or not self.metals.isdisjoint(item.metals)
        if FLAME.intersection(item.processes) or (self.process in FLAME and not isinstance(item, Observation)):
            # A flame has faults of its own, and none of those of an arc: it must be named to be meant.
            return metal and self.process in item.processes
        return metal and (not item.processes or not self.process or self.process in item.processes)

    def rate(self, observation: str, cause: str) -> float:
        """Probability that a sign is there under a cause [-], before any grouping."""
        sign = self.causes[cause].signs.get(observation)
        base = self.observations[observation].rate
        if sign is None:
            return base
        odds = math.log(base / (1 - base)) + SPEAKS[sign.speaks]
        judged = sign.evidence == "common-practice" and self.observations[observation].about == "symptom"
        return max(1 / (1 + math.exp(-odds)), LEAST[sign.speaks] * (JUDGED if judged else 1.0))

    def table(self, variable: str) -> tuple[States, dict[str, tuple[float, ...]]]:
        """The states of a variable and their probabilities under each cause and under no single cause."""
        if variable not in self._tables:
            members = self._members[variable]
            states = self._states(members)
            rows = {cause: self._row(cause, members, len(states)) for cause in self.causes}
            share = 1 - UNSETTLED
            mixed = tuple(
                math.fsum(self.prior[cause] / share * row[at] for cause, row in rows.items())
                for at in range(len(states))
            )
            self._tables[variable] = states, {**rows, NO_SINGLE_CAUSE: mixed}
        return self._tables[variable]

    def _states(self, members: Sequence[str]) -> States:
        """One state for each single sign with what covers it, one for cover alone, one for nothing."""
        single, covering = self._parts(members)
        states = [frozenset({name, *(c for c in covering if name in self.observations[c].covers)}) for name in single]
        return (*states, *(frozenset({name}) for name in covering), frozenset())

    def _parts(self, members: Sequence[str]) -> tuple[list[str], list[str]]:
        covering = [name for name in members if self.observations[name].covers]
        return [name for name in members if name not in covering], covering

    def _row(self, cause: str, members: Sequence[str], count: int) -> tuple[float, ...]:
        single, covering = self._parts(members)
        shares = [self.rate(name, cause) for name in single]
        taken = math.fsum(shares)
        # A covering sign alone stands for places the catalogue has no name for.
        shares += [max(self.rate(name, cause) - taken, 0.1 * self.rate(name, cause)) for name in covering]
        total = math.fsum(shares)
        if total > _MOST_OF_A_GROUP:
            shares = [share * _MOST_OF_A_GROUP / total for share in shares]
        return (*shares, 1 - math.fsum(shares)) if count == len(shares) + 1 else tuple(shares)

    def likelihoods(self, variable: str, said: tuple[tuple[str, Statement], ...]) -> tuple[float, ...]:
        """Probability of what was said about one variable, under each of `outcomes`."""
        key = (variable, said)
        if key not in self._vectors:
            states, rows = self.table(variable)
            told = [math.prod(_told(state, name, statement) for name, statement in said) for state in states]
            self._vectors[key] = tuple(
                math.fsum(share * chance for share, chance in zip(rows[outcome], told, strict=True))
                for outcome in self.outcomes
            )
        return self._vectors[key]

    def _by_variable(self, statements: Statements) -> dict[str, tuple[tuple[str, Statement], ...]]:
        grouped: dict[str, list[tuple[str, Statement]]] = {}
        for name in sorted(statements):
            if name in self._variable_of:
                grouped.setdefault(self._variable_of[name], []).append((name, statements[name]))
        return {variable: tuple(said) for variable, said in sorted(grouped.items())}

    def variable_of(self, observation: str) -> str:
        """The variable a sign is a state of; empty where the sign says nothing here."""
        return self._variable_of.get(observation, "")

    def chances(self, statements: Statements) -> list[float]:
        """Probability of all that was said, under each of `outcomes`."""
        vectors = [self.likelihoods(variable, said) for variable, said in self._by_variable(statements).items()]
        return [math.prod(column) for column in _columns(vectors, len(self.outcomes))]

    def believe(self, statements: Statements) -> Belief:
        """Probabilities after what was said. Statements on signs of other metals or processes say nothing."""
        vectors = [self.likelihoods(variable, said) for variable, said in self._by_variable(statements).items()]
        weights = [
            math.fsum((start, *map(math.log, column)))
            for start, column in zip(self._log_prior, _columns(vectors, len(self.outcomes)), strict=True)
        ]
        top = max(weights)
        raised = [math.exp(weight - top) for weight in weights]
        total = math.fsum(raised)
        return Belief({name: value / total for name, value in zip(self.outcomes, raised, strict=True)})

    def weigh(self, cause: str, statements: Statements) -> list[StatementWeight]:
        """What each statement does to a cause, strongest first; of signs that exclude one another, all together."""
        found = []
        for variable, said in self._by_variable(statements).items():
            chance = self.likelihoods(variable, said)
            factor = chance[self.outcomes.index(cause)] / chance[-1]
            shown = next((item for item in said if item[1].present), said[0])
            found.append(StatementWeight(shown[0], shown[1].present, factor))
        return sorted(found, key=lambda weight: (-abs(math.log(weight.factor)), weight.observation))


def _columns(vectors: Sequence[tuple[float, ...]], count: int) -> Iterable[tuple[float, ...]]:
    """What each vector says of each outcome; nothing said is no factor."""
    return zip(*vectors, strict=True) if vectors else [()] * count


def _told(state: frozenset[str], name: str, statement: Statement) -> float:
    reading = statement.reading
    return reading.when_there if name in state else reading.when_not
