"""A diagnosis as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from advisor.diagnostics import PrestrikeError
from advisor.faults.answer import Bearing, Diagnosis, NextCheck, StatementTaken, Suspect, UnknownWords
from advisor.faults.cure import Accepted
from advisor.faults.hazards import Danger
from advisor.faults.knowledge import Observation
from advisor.faults.text import sentence


def faults_json(found: Diagnosis) -> dict[str, Any]:
    """The answer as JSON data."""
    return {
        **dangers_json(found.dangers),
        "status": "advised",
        "metals": sorted(found.case.metals),
        "process": found.case.process or "141",
        "said": [_said_json(item) for item in found.said],
        "settled": found.settled,
        "verdict": found.suspects[0].id if found.settled else "no-single-cause",
        "causes": [_suspect_json(item) for item in found.suspects],
        "no_single_cause": {"probability": round(found.none_alone, 4), "named": not found.settled},
        "next_check": _check_json(found.next_check) if found.next_check else None,
        "other_checks": [_check_json(item) for item in found.other_checks],
        "not_understood": [_lost_json(item) for item in found.lost],
        "not_held_against_the_advice": list(found.unheld),
        "not_known": [_observation_json(item) for item in found.questions],
        "cautions": [caution._asdict() for caution in found.cautions],
        "rules": found.content_hash,
    }


def dangers_json(dangers: Sequence[Danger]) -> dict[str, Any]:
    """The hazards that the words name: the first key of the answer, where there are any or not."""
    return {"dangers": [danger._asdict() | {"heard": list(danger.heard)} for danger in dangers]}


def stopped_json(dangers: Sequence[Danger], error: PrestrikeError) -> dict[str, Any]:
    """Dangers heard where no answer could be given, and why not."""
    findings = [finding.as_json() for finding in error.diagnostics]
    return {**dangers_json(dangers), "status": "error", "errors": findings}


def _observation_json(item: Observation) -> dict[str, Any]:
    return {"id": item.id, "alias": item.alias, "name": item.name, "ask": item.ask}


def _said_json(item: StatementTaken) -> dict[str, Any]:
    return {
        "observation": item.observation.id,
        "alias": item.observation.alias,
        "name": item.observation.name,
        "present": item.present,
        "how": item.how,
        "guessed": item.how == "guess",
        "from": item.words,
    }


def _suspect_json(item: Suspect) -> dict[str, Any]:
    return {
        "id": item.id,
        "alias": item.alias,
        "name": item.name,
        "probability": round(item.probability, 4),
        "before": round(item.prior, 4),
        "sentence": sentence(item),
        "because": item.because,
        "for": [_bearing_json(bearing) for bearing in item.speaks_for],
        "against": [_bearing_json(bearing) for bearing in item.speaks_against],
        "remedies": [remedy._asdict() for remedy in item.remedies],
    }


def _bearing_json(item: Bearing) -> dict[str, Any]:
    return {
        "observation": item.observation.id,
        "alias": item.observation.alias,
        "present": item.present,
        "factor": round(item.factor, 3),
        "source": item.source,
        "evidence": item.evidence,
    }


def _check_json(item: NextCheck) -> dict[str, Any]:
    return {
        "id": item.check.id,
        "alias": item.check.alias,
        "do": item.check.do,
        "read": item.check.read,
        "needs": item.check.needs,
        "caution": item.check.caution,
        "minutes": item.check.minutes,
        "gain_bits": round(item.worth.gain, 4),
        "bits_per_minute": round(item.worth.rate, 4),
        "tells": [_observation_json(sign) for sign in item.would_tell],
    }


def _lost_json(item: UnknownWords) -> dict[str, Any]:
    return {"text": item.text, "help": item.findings[0].help}


def accepted_json(done: Accepted | None) -> dict[str, Any]:
    """What acceptance did, or nothing."""
    if done is None:
        return {}
    cause = {"id": done.cause.id, "alias": done.cause.alias} if done.cause else None
    data = done._asdict() | {"cause": cause, "changes": list(done.changes), "kept": list(done.kept)}
    return {"accepted": data | {"gone": list(done.gone)}}
