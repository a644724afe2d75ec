"""Ordered steps, cautions, codes and refusals: what the rules say in words."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.answer.answer import Caution, Code, Instruction, Refusal
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook

Facts = Mapping[str, Fact]
_LEVELS = ("danger", "warning", "note")


def steps(rulebook: Rulebook, topic: str, facts: Facts) -> tuple[Instruction, ...]:
    """The steps of a topic in the order to do them."""
    found = []
    for rule in rulebook.match(topic, facts):
        body, source = rule.body, rule.sources[0]
        found.append(
            Instruction(
                order=float(body["order"]),
                do=body["do"],
                why=rule.because,
                rule_id=rule.id,
                source=source.label(),
                evidence=source.evidence,
                using=body.get("with", ""),
                never=body.get("never", ""),
                judge=body.get("judge", ""),
                lasts=body.get("lasts"),
                layer=rule.layer,
            )
        )
    return tuple(sorted(found, key=lambda step: (step.order, step.rule_id)))


def cautions(rulebook: Rulebook, facts: Facts) -> tuple[Caution, ...]:
    """Every caution that applies, gravest first. There is no way to switch them off."""
    found = []
    for rule in rulebook.match("caution", facts):
        body, source = rule.body, rule.sources[0]
        said = body["level"], body["hazard"], body["do"]
        found.append(Caution(*said, rule.id, source.label(), source.evidence, rule.layer))
    return tuple(sorted(found, key=lambda item: (_LEVELS.index(item.level), item.rule_id)))


def codes(rulebook: Rulebook, facts: Facts) -> tuple[Code, ...]:
    """The codes the work belongs to, restricted work first."""
    found = []
    for rule in rulebook.match("code", facts):
        body, source = rule.body, rule.sources[0]
        found.append(
            Code(
                body["code"],
                body["about"],
                body["defer_to"],
                bool(body.get("restricted", False)),
                rule.id,
                source.label(),
                source.evidence,
                rule.layer,
            )
        )
    return tuple(sorted(found, key=lambda item: (not item.restricted, item.rule_id)))


def refusals(rulebook: Rulebook, facts: Facts) -> tuple[Refusal, ...]:
    """Reasons not to advise the work at all, with every way that the rules name: `alternatives.offered` sifts them."""
    found = []
    for rule in rulebook.match("refusal", facts):
        source = rule.sources[0]
        said = rule.body["reason"], rule.body["instead"]
        ways = tuple(dict(way) for way in rule.body.get("ways", ()))
        found.append(Refusal(*said, rule.id, source.label(), source.evidence, rule.layer, ways))
    return tuple(found)
