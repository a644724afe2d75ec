"""Rules as YAML text a person reads and edits: comments, quoting, the line that lets an editor check while typing."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from advisor.resources import schema_file

_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./+_%°-]*\Z")
_READ_OTHERWISE = re.compile(r"-?[0-9]+(?:\.[0-9]+)?\Z|true\Z|false\Z|null\Z|yes\Z|no\Z", re.IGNORECASE)


def scalar(value: Any) -> str:
    """A value as YAML reads it back."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return f"{value:g}"
    text = str(value)
    if _PLAIN.match(text) and not _READ_OTHERWISE.match(text) and not text.endswith(" "):
        return text
    return json.dumps(text, ensure_ascii=False)


def flow(value: Any) -> str:
    """Plain data on one line."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flow(item)}" for key, item in value.items()) + "}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(flow(item) for item in value) + "]"
    return scalar(value)


def modeline() -> str:
    """The first line of a rule file: where an editor finds the schema that completes and checks it."""
    return f"# yaml-language-server: $schema={schema_file('rules').resolve().as_uri()}"


def slug(*words: str) -> str:
    """Lower case words joined by hyphens: `3.2 mm` is `3-2-mm`."""
    return re.sub(r"[^a-z0-9]+", "-", " ".join(words).casefold()).strip("-")


def file_head(
    ruleset: str,
    change: str,
    source: Mapping[str, Any],
    comments: Sequence[str],
    version: str = "1.0.0",
    older: Sequence[Mapping[str, Any]] = (),
) -> list[str]:
    """Everything of a rule file above its rules. older: history entries of the versions before."""
    return [
        modeline(),
        *(f"# {line}" for line in comments),
        "kind: rules",
        f"ruleset: {ruleset}",
        f"version: {version}",
        "schema: 1",
        "history:  # newest first; raise the version with every change",
        f"  - {{version: {version}, date: {date.today().isoformat()}, change: {scalar(change)}}}",
        *(f"  - {flow(entry)}" for entry in older),
        "sources:",
        *_block(source, "  - "),
        "rules:",
    ]


def _block(data: Mapping[str, Any], first: str) -> list[str]:
    lead = " " * len(first)
    return [f"{first if place == 0 else lead}{key}: {flow(value)}" for place, (key, value) in enumerate(data.items())]
