"""After the arc: from what was seen and done to causes by probability, the next check, and what to change."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from advisor.answer.answer import Advice, Caution
from advisor.answer.steps import cautions
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.faults.case import FaultCase
from advisor.faults.hazards import Danger
from advisor.faults.knowledge import Check, Knowledge, Observation, Remedy, read_knowledge
from advisor.faults.model import Belief, Model, Statement, Statements, StatementWeight
from advisor.faults.next_check import CheckValue, best_checks, best_questions
from advisor.faults.recognise import Recognised, SignRecogniser
from advisor.rulebook.conditions import attributes_in, holds
from advisor.rulebook.library import Rulebook

# What the job says of these is sure both ways: other facts are sure only where they hold.
_SURE = frozenset(("alloys", "series", "free_machining"))
# A statement that changes a cause by less than this factor is not worth a word.
_WORTH_SAYING = 1.15
_MOST_NAMED = 8
_AGAINST_ADVICE = "filler-against-advice"
_CLEANED_LONG_AGO = "cleaned-long-ago"
# Cleaning lasts a shift where no rule says how long [s].
_SHIFT = 8 * 3600.0


class Bearing(NamedTuple):
    """What one statement does to a cause, with who says that the sign bears on it."""

    observation: Observation
    present: bool
    factor: float
    source: str
    evidence: str


class Suspect(NamedTuple):
    """A cause with its probability, what speaks for and against it, and what to change."""

    id: str
    alias: str
    name: str
    because: str
    prior: float
    probability: float
    speaks_for: tuple[Bearing, ...]
    speaks_against: tuple[Bearing, ...]
    remedies: tuple[Remedy, ...]


class StatementTaken(NamedTuple):
    """A statement as it was taken. how: seen, guess, answer, fact, inside; words: what it was taken from."""

    observation: Observation
    present: bool
    how: str
    words: str


class UnknownWords(NamedTuple):
    """Words that name no sign, with what may have been meant."""

    text: str
    findings: tuple[Diagnostic, ...]


class NextCheck(NamedTuple):
    """The check that tells most for the least trouble."""

    check: Check
    worth: CheckValue
    would_tell: tuple[Observation, ...]


class Diagnosis(NamedTuple):
    """The answer. settled: one cause may be named; none_alone: probability that no single cause explains it; unheld:
    topics of settings used that no sign speaks of; dangers: hazards that the words name."""

    case: FaultCase
    said: tuple[StatementTaken, ...]
    suspects: tuple[Suspect, ...]
    none_alone: float
    settled: bool
    next_check: NextCheck | None
    other_checks: tuple[NextCheck, ...]
    questions: tuple[Observation, ...]
    lost: tuple[UnknownWords, ...]
    unheld: tuple[str, ...]
    cautions: tuple[Caution, ...]
    content_hash: str
    dangers: tuple[Danger, ...] = ()


class Diagnostician:
    """Holds the knowledge, the case and the statements made so far. Statements may be added and taken back."""

    def __init__(self, rulebook: Rulebook, case: FaultCase) -> None:
        self.rulebook = rulebook
        self.case = case
        self.knowledge: Knowledge = read_knowledge(rulebook.index)
        self.model = Model(self.knowledge, case.metals, case.process)
        self.listener = SignRecogniser(self.model.observations)
        self.said: dict[str, StatementTaken] = {}
        self.lost: list[UnknownWords] = []
        for item in _facts(self.model, case):
            self.said[item.observation.id] = item

    def hear(self, text: str, present: bool = True) -> list[StatementTaken]:
        """Take what a person says. Raises PrestrikeError where nothing in it is known or it contradicts itself."""
        found = []
        for heard in self._listen(text):
            # A denial named as not seen stays denied: the words "no soot" given to --not mean the soot.
            there = heard.present if present else False
            found.append(self.state(heard.id, there, "guess" if heard.guessed else "seen", text))
        return found

    def _listen(self, text: str) -> list[Recognised]:
        try:
            return self.listener.listen(text)
        except PrestrikeError:
            if len(self.knowledge.observations) > len(self.model.observations):
                self._elsewhere(text)
            raise

    def _elsewhere(self, text: str) -> None:
        """Say so where a text names a sign that only other metals or processes have."""
        try:
            names = [
                heard.id for heard in SignRecogniser(self.knowledge.observations).listen(text) if not heard.guessed
            ]
        except PrestrikeError:
            return
        for item in (self.knowledge.observations[name] for name in names):
            if item.metals and self.case.metals.isdisjoint(item.metals):
                only, flag = " and ".join(item.metals), "--metal"
            else:
                only, flag = f"process {' and '.join(item.processes)}", "--process"
            message = f"'{text}' is {item.alias} {item.name}: a sign of {only} only"
            raise PrestrikeError(Diagnostic("unknown-sign", message, subject="seen", help=f"see to {flag}"))

    def hear_all(self, texts: Iterable[str], present: bool = True) -> list[UnknownWords]:
        """Take several texts; those that name no sign are kept as lost. Raises PrestrikeError for a contradiction."""
        lost = []
        for text in texts:
            try:
                self.hear(text, present)
            except PrestrikeError as error:
                if any(finding.code != "unknown-sign" for finding in error.diagnostics):
                    raise
                lost.append(UnknownWords(text, tuple(error.diagnostics)))
        self.lost += lost
        return lost

    def state(self, observation: str, present: bool, how: str, words: str = "") -> StatementTaken:
        """Take a statement on one sign. A person's word goes before what the job implies."""
        before = self.said.get(observation)
        people = ("seen", "guess", "answer")
        both = before is not None and before.how in people and how in people
        if before is not None and both and before.present != present:
            message = f"'{self.model.observations[observation].name}' is said to be there and not to be there"
            raise PrestrikeError(Diagnostic("contradiction", message, help="say one of the two"))
        self.said[observation] = StatementTaken(self.model.observations[observation], present, how, words)
        return self.said[observation]

    def cleaned_ago(self, seconds: float) -> None:
        """Say how long before the arc the joint was cleaned [s]."""
        if _CLEANED_LONG_AGO in self.model.observations:
            steps = self.case.advice.steps.get("cleaning_step", ()) if self.case.advice else ()
            lasts = [step.lasts for step in steps if step.lasts]
            words = f"cleaned {seconds / 3600:.3g} h before"
            self.state(_CLEANED_LONG_AGO, seconds > min(lasts, default=_SHIFT), "answer", words)

    def take_back(self, observation: str) -> None:
        """Forget a statement."""
        self.said.pop(observation, None)

    def words_seen(self) -> list[str]:
        """What a person said, as a trial keeps it: their words, or the sign's name where an id was given."""
        found = []
        for item in self.said.values():
            if item.how not in ("fact", "inside"):
                spelled = (item.observation.alias.casefold(), item.observation.id)
                words = item.observation.name if item.words.casefold() in spelled else item.words
                found.append(words if item.present else f"not: {item.observation.name}")
        return list(dict.fromkeys(found))

    @property
    def statements(self) -> Statements:
        """What the model is told."""
        return {name: Statement(item.present, item.how) for name, item in self.said.items()}

    def questions(self, asked: Iterable[str] = ()) -> list[Observation]:
        """What to ask next, most telling first."""
        return [self.model.observations[item.id] for item in best_questions(self.model, self.statements, asked)]

    def diagnosis(self) -> Diagnosis:
        """The answer as it stands."""
        statements = self.statements
        belief = self.model.believe(statements)
        checks = [self._next(worth, statements) for worth in best_checks(self.model, statements)]
        return Diagnosis(
            case=self.case,
            said=tuple(self.said[name] for name in sorted(self.said)),
            suspects=self._suspects(belief, statements),
            none_alone=belief.none_alone,
            settled=belief.settled and any(item.present for item in self.said.values()),
            next_check=checks[0] if checks else None,
            other_checks=tuple(checks[1:4]),
            questions=tuple(self._one_of_a_kind(self.questions()))[:3],
            lost=tuple(self.lost),
            unheld=tuple(sorted(set(self.case.used) - self._held())),
            cautions=cautions(self.rulebook, self.case.facts),
            content_hash=self.rulebook.content_hash,
        )

    def _held(self) -> set[str]:
        """Topics whose setting can be held against the advice."""
        topics = {item.setting["topic"] for item in self.model.observations.values() if item.setting}
        return topics & set(self.case.advice.settings) if self.case.advice else set()

    def _one_of_a_kind(self, items: Sequence[Observation]) -> list[Observation]:
        """Of signs that exclude one another only the first: the answer to one answers the rest."""
        first: dict[str, Observation] = {}
        for item in items:
            first.setdefault(self.model.variable_of(item.id), item)
        return list(first.values())

    def _next(self, worth: CheckValue, statements: Statements) -> NextCheck:
        check = self.model.checks[worth.id]
        signs = [self.model.observations[name] for name in check.tells if name in self.model.observations]
        return NextCheck(check, worth, tuple(sign for sign in signs if sign.id not in statements))

    def _suspects(self, belief: Belief, statements: Statements) -> tuple[Suspect, ...]:
        return tuple(self._suspect(name, p, statements) for name, p in belief.ranked)

    def _suspect(self, name: str, probability: float, statements: Statements) -> Suspect:
        cause = self.model.causes[name]
        bearings = [self._bearing(name, weight) for weight in self.model.weigh(name, statements)]
        return Suspect(
            name,
            cause.alias,
            cause.name,
            cause.because,
            self.model.prior[name],
            probability,
            tuple(item for item in bearings if item.factor >= _WORTH_SAYING),
            tuple(item for item in bearings if item.factor <= 1 / _WORTH_SAYING),
            tuple(item for item in self.knowledge.remedies.values() if name in item.causes and self._fits(item)),
        )

    def _fits(self, remedy: Remedy) -> bool:
        return not remedy.metals or not self.case.metals or not self.case.metals.isdisjoint(remedy.metals)

    def _bearing(self, cause: str, weight: StatementWeight) -> Bearing:
        sign = self.model.causes[cause].signs.get(weight.observation)
        source, evidence = (sign.source, sign.evidence) if sign else ("no source speaks of it for this cause", "")
        return Bearing(self.model.observations[weight.observation], weight.present, weight.factor, source, evidence)


def _facts(model: Model, case: FaultCase) -> list[StatementTaken]:
    """What the job says of itself: its facts, and settings beside the advised range."""
    found = []
    for item in model.observations.values():
        if item.job is not None and item.id not in case.silent:
            present = holds(item.job, case.facts)
            if present or (attributes_in(item.job) <= _SURE and attributes_in(item.job) <= case.facts.keys()):
                found.append(StatementTaken(item, present, "fact", "the job"))
        if item.setting and case.advice is not None:
            found += _beside_range(item, case.used, case.advice)
    against = model.observations.get(_AGAINST_ADVICE)
    if against is not None and case.advice is not None and _advised_against(case.advice):
        found.append(StatementTaken(against, True, "fact", "the rod of the job"))
    return found


def _beside_range(item: Observation, used: Mapping[str, float], advice: Advice) -> list[StatementTaken]:
    topic = item.setting["topic"]
    setting = advice.settings.get(topic)
    if setting is None or topic not in used:
        return []
    below, above = used[topic] < setting.low * 0.999, used[topic] > setting.high * 1.001
    present = below if item.setting["side"] == "below" else above
    how = "fact" if present else "inside"
    return [StatementTaken(item, present, how, f"{setting.label} {used[topic]:g} {setting.unit}")]


def _advised_against(advice: Advice) -> bool:
    wanted = advice.job.filler
    return bool(wanted) and any(option.name == wanted and option.avoided for option in advice.choices.get("filler", []))


def leading(diagnosis: Diagnosis, most: int = _MOST_NAMED) -> Sequence[Suspect]:
    """The suspects worth a line: those at least a tenth as likely as the first."""
    first = diagnosis.suspects[0].probability if diagnosis.suspects else 0.0
    return [item for item in diagnosis.suspects[:most] if item.probability >= first / 10]
