"""The last answer given, kept so that a trial or a rule can be made of it: lost with the cache, and no harm then."""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from advisor.answer.answer import Advice
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.writer import job_data
from advisor.reading import ReadingError, read_json
from advisor.resources import cache_folder, schema_file
from advisor.writing import write_whole

NAME = "last-answer.json"


def remember(advice: Advice) -> None:
    """Keep the job of an answer. A cache that cannot be written is not worth an error."""
    text = json.dumps({"job": job_data(advice.job), "rules": advice.content_hash})
    with suppress(PrestrikeError):
        write_whole(cache_folder() / NAME, text, durable=False)


def last_job() -> Mapping[str, Any]:
    """The job of the last answer. Raises PrestrikeError where there is none."""
    try:
        found: Mapping[str, Any] = dict(read_json(cache_folder() / NAME)["job"])
        if not _findings(found, NAME):
            return found
        raise KeyError(NAME)
    except (ReadingError, KeyError, TypeError, ValueError):
        repair = "give a job file or the flags of a job, or ask 'prestrike setup' first"
        raise PrestrikeError(
            Diagnostic("no-last-answer", "no job given, and no last answer kept", help=repair)
        ) from None


def saved_job(path: Path) -> Mapping[str, Any]:
    """The job of a saved answer (`setup --json`). Raises PrestrikeError where the file holds none."""
    found: Mapping[str, Any] = saved_answer(path)["job"]["as_given"]
    return found


def saved_answer(path: Path) -> dict[str, Any]:
    """A saved answer whole. Raises PrestrikeError for anything else."""
    repair = "save one with: prestrike setup JOB.yaml --json > SAVED.json"
    found = read_json(path, repair)
    job = found.get("job") if isinstance(found, dict) else None
    if not isinstance(job, dict) or not isinstance(job.get("as_given"), dict):
        raise PrestrikeError(Diagnostic("no-answer", "this is no saved answer", str(path), help=repair))
    if findings := _findings(job["as_given"], str(path)):
        raise PrestrikeError(findings)
    return dict(found)


def _findings(job: Mapping[str, Any], name: str) -> list[Diagnostic]:
    """Where a kept job is not what `setup` writes."""
    from advisor.rulebook.reading.schema_check import data_findings

    return data_findings(job, name, schema_file("job"), "job.as_given")
