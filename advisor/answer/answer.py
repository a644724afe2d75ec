"""The answer: plain frozen data that every report renders and `schemas/advice.schema.json` describes."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from advisor.answer.span import Span
from advisor.job.job import Job
from advisor.rulebook.choices import Option as Option
from advisor.rulebook.rule import LAYERS
from advisor.rulebook.settle import Step as Step
from advisor.rulebook.vocabulary import Topic as Topic

BUILT_IN = LAYERS[0]


class PublishedValue(NamedTuple):
    """What one source says for this case, in the unit of the setting."""

    source: str
    low: float
    high: float
    evidence: str
    rule_id: str
    differs: str = ""
    member: str = ""


class Setting(NamedTuple):
    """A number to dial in or cut to. low..high: working range; start: where to begin; unit: house unit.

    evidence: best evidence behind it; counts: independent sources by evidence; spread: full published spread.
    """

    name: str
    label: str
    low: float
    start: float
    high: float
    unit: str
    dimension: str
    evidence: str
    counts: dict[str, int]
    layer: str
    spread_low: float
    spread_high: float
    said: tuple[PublishedValue, ...]
    trail: tuple[Step, ...]
    note: str = ""


class Instruction(NamedTuple):
    """One ordered step: what to do, with what, what must never touch it, how long it lasts [s], how to judge it."""

    order: float
    do: str
    why: str
    rule_id: str
    source: str
    evidence: str
    using: str = ""
    never: str = ""
    judge: str = ""
    lasts: float | None = None
    layer: str = BUILT_IN


class Caution(NamedTuple):
    """A hazard and what to do. level: danger, warning, note."""

    level: str
    hazard: str
    do: str
    rule_id: str
    source: str
    evidence: str
    layer: str = BUILT_IN


class Code(NamedTuple):
    """A code the work belongs to, and whom to defer to."""

    code: str
    about: str
    defer_to: str
    restricted: bool
    rule_id: str
    source: str
    evidence: str
    layer: str = BUILT_IN


class Refusal(NamedTuple):
    """Why the work is not advised, and what to do instead. ways: changes of the job that are advised, such as
    {"process": "141"}; `instead` says them in words, with what remains in any case."""

    reason: str
    instead: str
    rule_id: str
    source: str
    evidence: str
    layer: str = BUILT_IN
    ways: tuple[dict[str, str], ...] = ()


class NoRule(NamedTuple):
    """What no rule covers, and the range that is covered."""

    topic: str
    message: str
    covered_low: float | None = None
    covered_high: float | None = None
    unit: str = ""


class MachineVerdict(NamedTuple):
    """Whether the machine reaches the current. status: reaches, short, wrong-current, unknown."""

    status: str
    message: str
    steps: tuple[Instruction, ...] = ()
    duty_percent: float | None = None
    arc_minutes: float | None = None


class Unequal(NamedTuple):
    """Members that differ: where to aim and what current each would need alone.

    currents: (member label, start current [A]) of each welded to its like; aimed: at the `thicker` member, at the
    `other` one, or on the `seam`.
    """

    message: str
    currents: tuple[tuple[str, float], ...]
    mean_current: float
    habit_current: float
    detail: Mapping[str, Any] = MappingProxyType({})
    aimed: str = "seam"


class WarmPart(NamedTuple):
    """A part that warms as it is welded: the sentence, and its current at the start and along the last seam [A]."""

    message: str
    first_current: float
    last_current: float
    longest_wait: float


class SeamUse(NamedTuple):
    """A seam of this length [mm]: tacks, arc [s], rods; None where it is not known."""

    length: float
    tacks: int
    arc: Span | None
    rods: Span | None
    message: str


class Advice(NamedTuple):
    """The whole answer. status: advised, no-rule, refused."""

    status: str
    job: Job
    materials: tuple[str, ...]
    pair: str
    practice_only: bool
    settings: dict[str, Setting]
    choices: dict[str, list[Option]]
    preparation: dict[str, Setting]
    preparation_choices: dict[str, list[Option]]
    steps: dict[str, tuple[Instruction, ...]]
    cautions: tuple[Caution, ...]
    codes: tuple[Code, ...]
    refusals: tuple[Refusal, ...]
    no_rule: tuple[NoRule, ...]
    machine: MachineVerdict | None
    unequal: Unequal | None
    warm: WarmPart | None
    notes: tuple[str, ...]
    rulesets: tuple[dict[str, str], ...]
    content_hash: str
    left_out: tuple[dict[str, Any], ...] = ()
    replaced: tuple[dict[str, str], ...] = ()
    seam: SeamUse | None = None
