"""Checked YAML files kept by their content, so that a job file that was good once is not checked again."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from contextvars import ContextVar
from pathlib import Path
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.reading import ReadingError, is_file, read_bytes, read_json
from advisor.resources import cache_folder
from advisor.writing import make_folder, write_whole

MAX_KEPT = 1_000_000
_ONLY_KEPT: ContextVar[bool] = ContextVar("_ONLY_KEPT", default=False)


class NotKeptError(Exception):
    """Numbers that are not kept were asked for where nothing long is to be computed."""


@contextmanager
def only_kept() -> Iterator[None]:
    """Inside, numbers that are not kept are not computed: NotKeptError is raised for them."""
    token = _ONLY_KEPT.set(True)
    try:
        yield
    finally:
        _ONLY_KEPT.reset(token)


def checked_yaml(path: Path, kind: str, schema_file: Callable[[str], Path]) -> Mapping[str, Any]:
    """The data of a YAML file of a kind that keeps its schema. Raises PrestrikeError with places otherwise."""
    key = _key(path, kind, schema_file)
    kept = cache_folder() / f"{kind}-{key}.json" if key else None
    if kept is not None and is_file(kept):
        try:
            return dict(read_json(kept))
        except (ReadingError, TypeError, ValueError):
            pass  # a broken copy is no harm: the file itself is read below
    data = read_and_check(path, kind, schema_file)
    if kept is not None:
        _write(kept, data)
    return data


def read_and_check(path: Path, kind: str, schema_file: Callable[[str], Path]) -> Mapping[str, Any]:
    """Read and check without the kept copy."""
    from advisor.rulebook.reading.schema_check import kind_of, schema_findings
    from advisor.rulebook.reading.yaml_text import read_yaml

    document = read_yaml(path)
    found = kind_of(document)
    if found != kind:
        repair = f"start the file with 'kind: {kind}'"
        finding = Diagnostic("unknown-value", f"this is a {found} file, a {kind} file is wanted", help=repair)
        raise PrestrikeError(document.place(finding, ("kind",)))
    findings = schema_findings(document, schema_file(kind))
    if findings:
        raise PrestrikeError(findings)
    data: Mapping[str, Any] = document.data
    return data


def _key(path: Path, kind: str, schema_file: Callable[[str], Path]) -> str:
    try:
        whole = hashlib.sha256(schema_file(kind).read_bytes() + read_bytes(path, MAX_KEPT))
    except ReadingError:
        return ""  # told below, where the file is read
    return whole.hexdigest()[:24]


def _write(kept: Path, data: Mapping[str, Any]) -> None:
    """A cache that cannot be written keeps nothing, and that is no fault."""
    with suppress(PrestrikeError):
        make_folder(kept.parent)
        write_whole(kept, json.dumps(data), durable=False)


def kept_numbers(name: str, inputs: Mapping[str, Any], make: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    """Numbers kept by the inputs they were computed from, and by the version of the program that computed them."""
    from advisor import __version__

    text = json.dumps([__version__, inputs], sort_keys=True)
    kept = cache_folder() / f"{name}-{hashlib.sha256(text.encode()).hexdigest()[:24]}.json"
    try:
        return dict(read_json(kept))
    except (ReadingError, TypeError, ValueError):
        if _ONLY_KEPT.get():
            raise NotKeptError(name) from None
        made = make()
    _write(kept, made)
    return made
