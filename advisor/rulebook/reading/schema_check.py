"""JSON Schema as the contract of every YAML file, with findings a person can act on.

Schemas are closed and use no `oneOf`, so the failing branch is never guessed: `kind` picks the schema first.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.rulebook.reading.repairs import missing_key, wrong_form, wrong_type
from advisor.rulebook.reading.yaml_text import Document, PathKey

_TYPE_WORDS = {
    "object": "a mapping (key: value)",
    "array": "a list",
    "string": "text",
    "number": "a bare number",
    "integer": "a whole number",
    "boolean": "true or false",
}


@lru_cache(maxsize=32)
def _validator(schema_file: Path) -> Any:
    from jsonschema import Draft202012Validator

    schema = json.loads(schema_file.read_text(encoding="utf-8"))
    return Draft202012Validator(schema)


def schema_findings(document: Document, schema_file: Path) -> list[Diagnostic]:
    """All places where the document breaks the schema; empty where it keeps it.

    Unknown keys come first and alone for their mapping, since a misspelt key also leaves a required one missing.
    """
    validator = _validator(schema_file)
    errors = sorted(validator.iter_errors(document.data), key=lambda error: (len(error.absolute_path), error.message))
    unknown = [error for error in errors if error.validator in ("additionalProperties", "unevaluatedProperties")]
    spoilt = {tuple(error.absolute_path) for error in unknown}
    found: list[Diagnostic] = []
    for error in errors:
        path: PathKey = tuple(error.absolute_path)
        if error in unknown:
            found.extend(_unknown_keys(document, error, path))
        elif not (error.validator == "required" and path in spoilt):
            found.append(_finding(document, error, path))
    return found


def data_findings(data: Any, name: str, schema_file: Path, within: str = "") -> list[Diagnostic]:
    """All places where plain data, such as that of a JSON file shown as `name`, breaks the schema. within: what leads
    to the data in its file; the path of each finding is its subject."""
    found = []
    for error in sorted(_validator(schema_file).iter_errors(data), key=lambda error: str(error.absolute_path)):
        code, message, repair = _explain(error, data)
        subject = ".".join(str(step) for step in (*filter(None, [within]), *error.absolute_path))
        found.append(Diagnostic(code, message[:200], name, subject=subject, help=repair))
    return found


def _unknown_keys(document: Document, error: Any, path: PathKey) -> Iterator[Diagnostic]:
    known = list(error.schema.get("properties", {}))
    taken = set(error.instance)
    for key in error.instance:
        if key in known:
            continue
        free = [name for name in known if name not in taken] or known
        repair = did_you_mean(str(key), free)
        yield document.place(
            Diagnostic("unknown-key", f"unknown key '{key}'", help=repair, subject=_subject(document, path)),
            (*path, key),
            at_key=True,
        )


def _finding(document: Document, error: Any, path: PathKey) -> Diagnostic:
    code, message, repair = _explain(error, document.data)
    return document.place(Diagnostic(code, message, subject=_subject(document, path), help=repair), path)


def _explain(error: Any, whole: Any) -> tuple[str, str, str]:
    value = error.instance
    shown = _shown(value)
    if error.validator == "required":
        missing = [key for key in error.validator_value if key not in value]
        return "missing-key", f"key '{missing[0]}' is missing", missing_key(missing[0], value, whole)
    if error.validator == "type":
        wanted = error.validator_value
        names = [wanted] if isinstance(wanted, str) else wanted
        words = " or ".join(_TYPE_WORDS.get(name, name) for name in names)
        return "wrong-type", f"{shown} stands where {words} belongs", wrong_type(value, names, words)
    if error.validator in ("enum", "const"):
        allowed = error.validator_value if error.validator == "enum" else [error.validator_value]
        repair = did_you_mean(str(value), [str(item) for item in allowed])
        if len(allowed) == 1:
            repair = f"write '{allowed[0]}'"
        return "unknown-value", f"{shown} is not allowed here", repair
    if error.validator == "pattern":
        return (
            "wrong-form",
            f"{shown} has not the form wanted",
            wrong_form(value, error.validator_value, error.schema.get("description", "see the schema")),
        )
    if error.validator in ("minItems", "minLength", "minProperties"):
        return "empty", "this may not be empty", "write at least one"
    return "schema", error.message, "see the schema"


def _shown(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 60 else text[:57] + "..."


def _subject(document: Document, path: PathKey) -> str:
    """The id of the rule or entry a path lies in, where it has one."""
    data, subject = document.data, ""
    for step in path:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            return subject
        if isinstance(data, dict) and isinstance(data.get("id"), str):
            subject = data["id"]
    return subject


def kind_of(document: Document) -> str:
    """The `kind` a document states. Raises PrestrikeError where it states none."""
    data = document.data
    if not isinstance(data, dict):
        raise PrestrikeError(
            document.place(Diagnostic("wrong-type", "the file is no mapping", help="start with 'kind: rules'"), ())
        )
    kind = data.get("kind")
    if isinstance(kind, str):
        return kind
    near = next((key for key in data if did_you_mean(str(key), ["kind"]).startswith("did")), None)
    if near is not None:
        message, place = f"unknown key '{near}'", (near,)
        raise PrestrikeError(
            document.place(Diagnostic("unknown-key", message, help="did you mean 'kind'?"), place, at_key=True)
        )
    raise PrestrikeError(
        document.place(
            Diagnostic(
                "missing-key", "key 'kind' is missing", help="start with 'kind: rules', or what else the file is"
            ),
            (),
        )
    )
