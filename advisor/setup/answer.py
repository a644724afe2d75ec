"""The main answer: from a job to settings, preparation, cleaning, holding, cautions and codes.

Decisions that others rest on come first: polarity and gas, then current, then what the current asks for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from advisor.answer import steps
from advisor.answer.answer import Advice, NoRule, Refusal, Setting
from advisor.answer.settings import each_member, mean_of_members, settled
from advisor.heat.sentences import aim_of, unequal_members, warm_part
from advisor.job.facts import Workpiece, joint_facts, pair_name, workpieces
from advisor.job.job import Job
from advisor.job.material import Material, find_material
from advisor.job.words import TORCH
from advisor.rulebook.choices import Option, rank
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.settle import covered
from advisor.setup import preparation
from advisor.setup.decisions import ProcessPlan, plan_of
from advisor.setup.machine_limits import can_set, within
from advisor.setup.wanted_leg import with_leg

STEP_TOPICS = (
    "edge_step",
    "cleaning_step",
    "holding_step",
    "panel_step",
    "technique_step",
    "after_step",
    "coupon_step",
    "identify_step",
)


@dataclass(eq=False, repr=False)
class _Draft:
    """What has been decided so far."""

    rulebook: Rulebook
    job: Job
    materials: tuple[Material, ...]
    pieces: Sequence[Workpiece]
    facts: dict[str, Fact]
    settings: dict[str, Setting] = field(default_factory=dict)
    choices: dict[str, list[Option]] = field(default_factory=dict)
    no_rule: list[NoRule] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    refused: tuple[Refusal, ...] = ()
    wanted_current: Setting | None = None
    found: Sequence[tuple[Workpiece, Setting]] = ()
    lacking: Sequence[Workpiece] = ()


def advise(rulebook: Rulebook, job: Job) -> Advice:
    """The whole answer for a job. Raises PrestrikeError where a metal is not known."""
    draft = _draft(rulebook, job)
    draft.notes.extend(job.assumed)
    draft.notes.extend(dict.fromkeys(f"{item.label}: {item.uncertain}" for item in draft.materials if item.uncertain))
    refused = _refused_or_decided(draft)
    if refused:
        from advisor.setup.alternatives import offered

        refused = offered(rulebook, job, refused, status_of)
    advice = _finish(draft, refused)
    if job.length is None or advice.status != "advised":
        return advice
    # What a seam takes is asked for by few jobs: an answer without a length does not load it.
    from advisor.consumables.seam_use import seam_use

    return advice._replace(seam=seam_use(rulebook, advice, job.length.value))


def status_of(rulebook: Rulebook, job: Job) -> str:
    """Only the verdict of `advise`: advised, no-rule or refused."""
    draft = _draft(rulebook, job)
    return _status(draft, _refused_or_decided(draft))


def _draft(rulebook: Rulebook, job: Job) -> _Draft:
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    return _Draft(rulebook, job, materials, workpieces(job, materials), joint_facts(job, materials))


def _refused_or_decided(draft: _Draft) -> tuple[Refusal, ...]:
    refused = steps.refusals(draft.rulebook, draft.facts)
    if not refused:
        _decide(draft)
    return refused or draft.refused


def _status(draft: _Draft, refused: Sequence[Refusal]) -> str:
    return "refused" if refused else "no-rule" if draft.no_rule else "advised"


def _decide(draft: _Draft) -> None:
    if draft.job.process in TORCH:
        from advisor.setup.torch import decide

        decide(draft)
        return
    plan, topics = plan_of(draft.job.process), draft.rulebook.vocabulary.topics
    for topic in plan.order:
        if not can_set(draft.job.machine, topic):
            continue
        if topics[topic].form == "ranked":
            _choose(draft, topic)
        elif topic in plan.by_member:
            _settle_by_member(draft, topic)
        else:
            _settle(draft, topic)
        if topic == "current" and topic in draft.settings:
            _hold_to_machine(draft)
        if topic in plan.needed and topic not in draft.settings:
            draft.no_rule.extend(_not_covered(draft, plan, topic))
            return


def _hold_to_machine(draft: _Draft) -> None:
    """What comes after the current follows what the machine can give; what the seam wants is kept for its verdict."""
    draft.wanted_current = draft.settings["current"]
    draft.settings["current"] = within(draft.job.machine, draft.wanted_current)
    draft.facts["current"] = draft.settings["current"].start


def _choose(draft: _Draft, topic: str) -> None:
    """Rank the options; what the user asked for stands as the fact, and is told where rules advise against it."""
    options = rank(draft.rulebook.match(topic, draft.facts))
    draft.choices[topic] = options
    wanted = draft.facts.get(topic)
    if not wanted:
        best = next((option for option in options if option.rank == 1), None)
        draft.facts[topic] = best.name if best else None
        return
    option = next((item for item in options if item.name == wanted), None)
    if option is None:
        draft.notes.append(
            f"no rule speaks of {wanted} as {topic.replace('_', ' ')} for this job: nothing here checks it"
        )
    elif option.avoided:
        reason = next(item for item in option.reasons if item.verdict == "avoid")
        draft.notes.append(f"you asked for {wanted}: advised against. {reason.because}")
    elif option.rank > 1:
        draft.notes.append(_second_to(wanted, option, options))


def _second_to(wanted: Fact, option: Option, options: Sequence[Option]) -> str:
    """What an option asked for is good for, and which one is advised before it, each with the reason of its rule."""
    best = next(item for item in options if item.rank == 1)
    own, first = option.reasons[0].because, best.reasons[0].because
    if own == first:
        return f"you have {wanted}, and {best.name} is advised first. Of both: {own}"
    return f"you have {wanted}: {own} Advised first, {best.name}: {first}"


def _settle(draft: _Draft, topic: str) -> None:
    """Settle a number for the joint; a size the user has is taken as it is, and told where rules say another."""
    setting = settled(draft.rulebook, topic, draft.facts)
    if setting is None:
        return
    mine = draft.facts.get(topic)
    if isinstance(mine, float):
        if not setting.low * 0.99 <= mine <= setting.high * 1.01:
            said = f"{setting.low:g}" if setting.low == setting.high else f"{setting.low:g} to {setting.high:g}"
            draft.notes.append(f"you have {mine:g} {setting.unit} {setting.label.lower()}; the rules say {said}")
        setting = setting._replace(low=mine, start=mine, high=mine, note="the size you have")
    draft.settings[topic] = setting
    if topic in draft.rulebook.vocabulary.attributes:
        draft.facts[topic] = setting.start


def _settle_by_member(draft: _Draft, topic: str) -> None:
    pairs = each_member(draft.rulebook, topic, draft.facts, draft.pieces)
    draft.found = [(piece, setting) for piece, setting in pairs if setting is not None]
    if len(draft.found) < len(pairs):
        draft.lacking = [piece for piece, setting in _once(pairs) if setting is None]
        return
    draft.settings[topic] = mean_of_members(draft.found)
    draft.facts[topic] = draft.settings[topic].start
    if draft.job.wire_diameter is not None:
        draft.notes.extend(_held_by_wire(draft.settings[topic]))


def _held_by_wire(setting: Setting) -> list[str]:
    """What the wire at hand does to the current: once for each limit that acted."""
    acted = [step for step in setting.trail if step.kind == "limit" and "not reached" not in step.text]
    return list(dict.fromkeys(f"your wire holds the current to a {step.text} A: {step.because}" for step in acted))


def _once(pairs: Sequence[tuple[Workpiece, Any]]) -> list[tuple[Workpiece, Any]]:
    seen: dict[tuple[str, float], tuple[Workpiece, Any]] = {}
    for pair in pairs:
        seen.setdefault((pair[0].material.id, pair[0].thickness), pair)
    return list(seen.values())


def _not_covered(draft: _Draft, plan: ProcessPlan, topic: str) -> list[NoRule]:
    pieces = draft.lacking if topic in plan.by_member else [min(draft.pieces, key=lambda piece: piece.thickness)]
    return [_lack(draft, topic, piece) for piece in pieces]


def _lack(draft: _Draft, topic: str, piece: Workpiece) -> NoRule:
    facts = {**draft.facts, "base": piece.material.family, "alloy": piece.material.id, "thickness": piece.thickness}
    span = covered(draft.rulebook, topic, facts, "thickness")
    job, name = draft.job, topic.replace("_", " ")
    kind = "".join(f", {draft.facts[fact]}" for fact in ("electrode", "transfer") if draft.facts.get(fact))
    what = f"{piece.material.label}, {piece.thickness:g} mm, process {job.process}{kind}, {job.joint} joint"
    text = f"no rule gives {'an' if name[0] in 'aeiou' else 'a'} {name} for {what}"
    if span is None:
        return NoRule(topic, text)
    return NoRule(topic, f"{text}; the rules cover {span[0]:g} to {span[1]:g} mm", span[0], span[1], "mm")


def _finish(draft: _Draft, refused: tuple[Any, ...]) -> Advice:
    rulebook, facts = draft.rulebook, draft.facts
    status = _status(draft, refused)
    advised = status == "advised"
    seam = draft.job.length.value if draft.job.length else None
    prepared = (
        preparation.prepare(rulebook, facts, draft.pieces[0].thickness, seam)
        if advised
        else preparation.Prepared({}, {})
    )
    if advised and draft.job.leg is not None:
        draft.notes.append(with_leg(prepared.numbers, draft.job.leg.value))
    verdict = None
    torch = draft.job.process in TORCH
    arc = advised and not torch
    unequal = unequal_members(draft.job, draft.found, draft.settings) if arc else None
    if arc:
        facts["aim"] = aim_of(unequal, draft.pieces)
    if arc and draft.job.machine is not None and draft.wanted_current is not None:
        from advisor.setup import machine

        best = next((item.name for item in draft.choices["polarity"] if item.rank == 1), "")
        reach = steps.steps(rulebook, "reach_step", facts)
        verdict = machine.verdict(draft.job.machine, draft.wanted_current, best, reach)
    return Advice(
        status=status,
        job=draft.job,
        materials=tuple(material.label for material in draft.materials),
        pair=pair_name(draft.materials),
        practice_only=bool(draft.job.restricted),
        settings=draft.settings if advised or torch else {},
        choices=draft.choices if advised or torch else {},
        preparation=prepared.numbers,
        preparation_choices=prepared.choices,
        steps=_one_time(_steps(rulebook, facts), prepared.numbers.get("clean_lasts")) if advised else {},
        cautions=steps.cautions(rulebook, facts),
        codes=steps.codes(rulebook, facts),
        refusals=refused,
        no_rule=tuple(draft.no_rule),
        machine=verdict,
        unequal=unequal,
        warm=warm_part(rulebook, draft.job, draft.pieces[0], prepared.numbers) if arc else None,
        notes=(*draft.notes, *prepared.notes),
        rulesets=tuple(rulebook.rulesets),
        content_hash=rulebook.content_hash,
        left_out=tuple(finding.as_json() for finding in rulebook.left_out),
        replaced=tuple(rulebook.replaced),
    )


def _steps(rulebook: Rulebook, facts: Mapping[str, Fact]) -> dict[str, Any]:
    return {topic: steps.steps(rulebook, topic, facts) for topic in STEP_TOPICS}


def _one_time(found: dict[str, Any], lasting: Setting | None) -> dict[str, Any]:
    """The cleaning steps with the one time that cleaned metal stays good [s]."""
    if lasting is None:
        return found
    cleaning = found["cleaning_step"]
    timed = tuple(step._replace(lasts=lasting.start) if step.lasts is not None else step for step in cleaning)
    return {**found, "cleaning_step": timed}
