"""The answer as JSON data, following `schemas/advice.schema.json`."""

from __future__ import annotations

from typing import Any

from advisor.answer.answer import Advice, Instruction, Setting
from advisor.job.writer import job_data
from advisor.rulebook.choices import Option
from advisor.rulebook.settle import Step
from advisor.show.wording import wanted

FORMAT = 1
PRACTICE = "for practice coupons only: the part itself belongs to a qualified procedure and licensed practice"


def advice_json(advice: Advice) -> dict[str, Any]:
    """The whole answer."""
    job = advice.job
    return {
        "format": FORMAT,
        "status": advice.status,
        "practice_only": advice.practice_only,
        "restricted": {"services": list(job.restricted), "message": PRACTICE} if advice.practice_only else None,
        "job": job_json(advice),
        "settings": {name: setting_json(setting) for name, setting in advice.settings.items()},
        "choices": {
            name: [option_json(option, wanted(job, name)) for option in options]
            for name, options in advice.choices.items()
        },
        "preparation": {
            "numbers": {name: setting_json(setting) for name, setting in advice.preparation.items()},
            "choices": {
                name: [option_json(option) for option in options]
                for name, options in advice.preparation_choices.items()
            },
            "steps": _steps(advice, "edge_step"),
        },
        "cleaning": _steps(advice, "cleaning_step"),
        "holding": _steps(advice, "holding_step"),
        "panel": _steps(advice, "panel_step"),
        "technique": _steps(advice, "technique_step"),
        "after": _steps(advice, "after_step"),
        "coupon": _steps(advice, "coupon_step"),
        "identify": _steps(advice, "identify_step"),
        "unequal": _unequal(advice),
        "warm_part": advice.warm._asdict() if advice.warm else None,
        "seam": _seam(advice),
        "machine": _machine(advice),
        "cautions": [item._asdict() for item in advice.cautions],
        "codes": [item._asdict() for item in advice.codes],
        "refusals": [item._asdict() for item in advice.refusals],
        "no_rule": [item._asdict() for item in advice.no_rule],
        "notes": list(advice.notes),
        "ruleset": {
            "content_hash": advice.content_hash,
            "versions": [dict(item) for item in advice.rulesets],
            "left_out": [dict(item) for item in advice.left_out],
            "replaced": [dict(item) for item in advice.replaced],
        },
    }


def number(value: float | None) -> float | None:
    """Rounded to what a source could mean: four significant digits."""
    return None if value is None else float(f"{value:.4g}")


def job_json(advice: Advice) -> dict[str, Any]:
    """The job as it was understood."""
    job = advice.job
    members = [
        {
            "metal": member.metal,
            "material": material,
            "thickness_mm": number(member.thickness.value),
            "form": member.form,
            "surface": list(member.surface),
        }
        for member, material in zip(job.members, advice.materials, strict=True)
    ]
    return {
        "name": job.name,
        "process": job.process,
        "joint": job.joint,
        "weld": job.weld,
        "position": job.position,
        "members": members,
        "pair": advice.pair,
        "service": list(job.service),
        "access": job.access,
        "backing": job.backing,
        "place": job.place,
        "closed_volume": job.closed_volume,
        "machine": job.machine.name if job.machine else None,
        "as_given": job_data(job),
    }


def setting_json(setting: Setting) -> dict[str, Any]:
    """One number with its range, evidence, published spread and trail."""
    return {
        "low": number(setting.low),
        "start": number(setting.start),
        "high": number(setting.high),
        "unit": setting.unit,
        "evidence": setting.evidence,
        "evidence_counts": dict(setting.counts),
        "layer": setting.layer,
        "note": setting.note,
        "spread": {
            "low": number(setting.spread_low),
            "high": number(setting.spread_high),
            "sources": [
                {
                    "source": said.source,
                    "low": number(said.low),
                    "high": number(said.high),
                    "evidence": said.evidence,
                    "rule": said.rule_id,
                    "differs": said.differs,
                    "member": said.member,
                }
                for said in setting.said
            ],
        },
        "trail": [step_json(step) for step in setting.trail],
    }


def step_json(step: Step) -> dict[str, Any]:
    """One step of a trail."""
    return {
        "kind": step.kind,
        "text": step.text,
        "rule": step.rule_id,
        "low": number(step.low),
        "start": number(step.start),
        "high": number(step.high),
        "source": step.source,
        "evidence": step.evidence,
        "because": step.because,
        "layer": step.layer,
    }


def _seam(advice: Advice) -> dict[str, Any] | None:
    """What a seam of the job's length takes."""
    use = advice.seam
    if use is None:
        return None
    spans = {"arc_s": use.arc, "rods": use.rods}
    return {
        "message": use.message,
        "length_mm": number(use.length),
        "tacks": use.tacks,
        **{name: [number(value) for value in span] if span else None for name, span in spans.items()},
    }


def option_json(option: Option, have: str = "") -> dict[str, Any]:
    """One option of a ranked choice. have: what the user has."""
    return {
        **({"yours": True} if have and option.name == have else {}),
        "name": option.name,
        "rank": option.rank,
        "advised": not option.avoided,
        "reasons": [
            {
                "verdict": reason.verdict,
                "because": reason.because,
                "rule": reason.rule_id,
                "source": reason.source,
                "evidence": reason.evidence,
                "layer": reason.layer,
            }
            for reason in option.reasons
        ],
    }


def _steps(advice: Advice, topic: str) -> list[dict[str, Any]]:
    return [instruction_json(step) for step in advice.steps.get(topic, ())]


def instruction_json(step: Instruction) -> dict[str, Any]:
    """One ordered step."""
    return {
        "order": step.order,
        "do": step.do,
        "with": step.using,
        "never": step.never,
        "judge": step.judge,
        "lasts_s": number(step.lasts),
        "because": step.why,
        "rule": step.rule_id,
        "source": step.source,
        "evidence": step.evidence,
        "layer": step.layer,
    }


def _unequal(advice: Advice) -> dict[str, Any] | None:
    found = advice.unequal
    if found is None:
        return None
    return {
        "message": found.message,
        "each_alone_A": [{"member": label, "current": number(amps)} for label, amps in found.currents],
        "mean_current_A": number(found.mean_current),
        "habit_current_A": number(found.habit_current),
        **found.detail,
    }


def _machine(advice: Advice) -> dict[str, Any] | None:
    found = advice.machine
    if found is None:
        return None
    return {
        "status": found.status,
        "message": found.message,
        "instead": [instruction_json(step) for step in found.steps],
        "duty_percent": number(found.duty_percent),
        "arc_minutes_in_ten": number(found.arc_minutes),
    }
