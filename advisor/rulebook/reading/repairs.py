"""Repairs that can be applied as they stand: the help of a finding says what to write, in quotes, at its place."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from typing import Any

from advisor.diagnostics import Diagnostic
from advisor.units.quantities import HOUSE_UNITS

_NUMBER = re.compile(r"\s*([+-]?[0-9][0-9 /.]*[0-9]|[0-9]+)")
# What a file is missing most often, with a first value to put in.
_FIRST_VALUES: Mapping[str, str] = {
    "kind": "rules",
    "ruleset": "my-rules",
    "version": "1.0.0",
    "schema": "1",
    "because": "say why in one sentence",
    "reason": "say why yours is better here",
    "when": "{}",
    "title": "Notes of this shop",
    "evidence": "common-practice",
    "change": "first set",
    "sources": "[{id: own, title: Notes of this shop, kind: shop-habit, evidence: common-practice}]",
    "rows": "[{at: 3.2 mm, value: 1.6 mm}]",
    "do": "say what to do",
}


def quantity_repair(error: Diagnostic, value: Any, dimension: str) -> str:
    """The help for a quantity that cannot be read: the same number with a unit of the dimension wanted."""
    number = _NUMBER.match(str(value))
    if number is None or error.code not in ("missing-unit", "wrong-dimension", "unknown-unit", "wrong-type"):
        return error.help
    near = re.fullmatch(r"did you mean '(.+)'\?", error.help)
    unit = near[1] if near else HOUSE_UNITS.get(dimension, "")
    better = f"{number[1].strip()} {unit}".strip()
    return f"did you mean '{better}'?" if near or not error.help else f"did you mean '{better}'? {error.help}"


def missing_key(key: str, data: Mapping[str, Any], whole: Any) -> str:
    """The help for a key that is missing, with a value where one can be told. data: the mapping; whole: the file."""
    value = _FIRST_VALUES.get(key, "")
    if key == "source":
        value = f"[{{doc: {_first_document(whole)}}}]"
    if key == "history" and isinstance(data.get("version"), str):
        value = f"[{{version: {data['version']}, date: {_today()}, change: first set}}]"
    if key == "date":
        value = _today()
    if key == "doc":
        value = _first_document(whole)
    if key == "id" and isinstance(data.get("topic"), str):
        value = f"my.{data['topic'].replace('_', '-')}"
    return f"add '{key}: {value}'" if value else f"add '{key}:'"


def _today() -> str:
    from datetime import date

    return date.today().isoformat()


def _first_document(whole: Any) -> str:
    try:
        return str(whole["sources"][0]["id"])
    except (KeyError, IndexError, TypeError):
        return "own"


def wrong_form(value: Any, pattern: str, description: str) -> str:
    """The help for text that has not the form wanted: the nearest text that has it, else the form in words."""
    for better in _nearly(str(value)):
        if re.search(pattern, better):
            return f"did you mean '{better}'? {description}"
    return description


def _nearly(text: str) -> Sequence[str]:
    words = re.findall(r"[A-Za-z0-9]+", text)
    low = [word.lower() for word in words]
    day = re.fullmatch(r"([0-9]{1,2})[./-]([0-9]{1,2})[./-]([0-9]{4})", text.strip())
    short = re.fullmatch(r"([0-9]{4})[./-]([0-9]{1,2})[./-]([0-9]{1,2})", text.strip())
    dates = [f"{day[3]}-{int(day[2]):02d}-{int(day[1]):02d}"] if day else []
    dates += [f"{short[1]}-{int(short[2]):02d}-{int(short[3]):02d}"] if short else []
    numbers = [*re.findall(r"[0-9]+", text), "0", "0"][:3]
    versions = [".".join(numbers)] if re.match(r"[vV]?[0-9]", text) else []
    folded = re.sub(r"[^a-z0-9.]+", "-", text.lower()).strip("-.")
    dotted = [re.sub(r"\.+", ".", folded), ".".join(low), f"my.{'-'.join(low)}"]
    return [*dates, *versions, *dotted, "-".join(low), "-".join(words)]


def wrong_type(value: Any, wanted: Sequence[str], words: str) -> str:
    """The help for a value of another type than wanted."""
    if "string" in wanted and isinstance(value, (int, float)):
        size = "" if isinstance(value, bool) else "; a size takes its unit, such as 3.2 mm"
        return f"write '\"{json.dumps(value)}\"', in quotes{size}"
    if "array" in wanted and isinstance(value, (str, int, float)) and not isinstance(value, bool):
        return f"write '[{value}]', a list"
    if isinstance(value, str) and {"number", "integer"} & set(wanted) and (number := _NUMBER.match(value)):
        return f"write '{number[1].strip()}', {words}"
    if wanted == ["boolean"] and str(value).lower() in ("yes", "no", "on", "off", "0", "1"):
        return f"write '{'true' if str(value).lower() in ('yes', 'on', '1') else 'false'}'"
    return f"write {words}"
