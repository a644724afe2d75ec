"""Conditions of a rule from YAML to their compiled form: names, values and units checked, places kept."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.rulebook.conditions import Condition
from advisor.rulebook.reading.repairs import quantity_repair, wrong_type
from advisor.rulebook.reading.yaml_text import PathKey
from advisor.rulebook.vocabulary import Attribute, Vocabulary

Report = Callable[[Diagnostic, PathKey, bool], None]
ParseNumber = Callable[[Any, str], float]

_BOUNDS = {"from": (0, True), "above": (0, False), "to": (1, True), "below": (1, False)}


class ConditionReader:
    """Reads `when` mappings. `parse` turns a quantity text into a house-unit number or raises PrestrikeError."""

    def __init__(self, vocabulary: Vocabulary, parse: ParseNumber, report: Report) -> None:
        self.vocabulary = vocabulary
        self.parse = parse
        self.report = report

    def read(self, data: Any, path: PathKey) -> Condition:
        """The compiled condition of a mapping; several keys mean all of them."""
        if not isinstance(data, dict):
            self._complain("wrong-type", "a condition is a mapping of attribute to value", path)
            return ["all", []]
        parts = [self._entry(key, value, (*path, key)) for key, value in data.items()]
        return parts[0] if len(parts) == 1 else ["all", parts]

    def _entry(self, key: str, value: Any, path: PathKey) -> Condition:
        if key in ("all", "any"):
            if not isinstance(value, list) or not value:
                self._complain("wrong-type", f"'{key}' takes a list of conditions", path)
                return ["all", []]
            return [key, [self.read(item, (*path, index)) for index, item in enumerate(value)]]
        if key == "not":
            return ["not", self.read(value, path)]
        attribute = self.vocabulary.attributes.get(key)
        if attribute is None:
            known = [*self.vocabulary.attributes, "all", "any", "not"]
            self._complain("unknown-attribute", f"unknown attribute '{key}'", path, did_you_mean(key, known), True)
            return ["all", []]
        if isinstance(value, dict):
            return self._range(attribute, value, path)
        return self._membership(attribute, value, path)

    def _range(self, attribute: Attribute, data: dict[str, Any], path: PathKey) -> Condition:
        if attribute.type not in ("quantity", "number"):
            self._complain("wrong-type", f"'{attribute.name}' is no quantity, so it takes no range", path)
            return ["all", []]
        bounds: list[float | None] = [None, None]
        included = [True, True]
        for key, value in data.items():
            if key not in _BOUNDS:
                repair = did_you_mean(key, _BOUNDS)
                self._complain("unknown-key", f"unknown key '{key}' in a range", (*path, key), repair, True)
                continue
            side, inclusive = _BOUNDS[key]
            if bounds[side] is not None:
                message, repair = f"'{key}' bounds the same side twice", "keep one of the two: take this one out"
                self._complain("double-bound", message, (*path, key), repair, True)
            bounds[side], included[side] = self.number(value, attribute.dimension, (*path, key)), inclusive
        low, high = bounds
        if low is not None and high is not None and low > high:
            message = f"the range of '{attribute.name}' ends below its start"
            self._complain("reversed-range", message, path, f"swap {' and '.join(data)}")
        if not data:
            self._complain("empty-range", "an empty range", path, "give from, above, to or below")
        words = " ".join(f"{key} {value}" for key, value in data.items())
        return ["range", attribute.name, low, included[0], high, included[1], words]

    def number(self, value: Any, dimension: str, path: PathKey) -> float:
        """A number in the house unit of `dimension`; complains and gives NaN where it is none."""
        try:
            return self.parse(value, dimension)
        except PrestrikeError as error:
            first = error.diagnostics[0]
            repair = quantity_repair(first, value, dimension)
            self.report(Diagnostic(first.code, first.message, help=repair), path, False)
            return math.nan

    def _membership(self, attribute: Attribute, value: Any, path: PathKey) -> Condition:
        listed = value if isinstance(value, list) else [value]
        if attribute.type in ("quantity", "number"):
            message = f"'{attribute.name}' takes a range such as {{from: ..., to: ...}}"
            repair = f"write '{{from: {listed[0]}, to: {listed[-1]}}}'" if listed else "give from, above, to or below"
            self._complain("wrong-type", message, path, repair)
        if attribute.type == "flag" and not all(isinstance(item, bool) for item in listed):
            repair = wrong_type(listed[0], ["boolean"], "true or false") if listed else "write true or false"
            self._complain("wrong-type", f"'{attribute.name}' is true or false", path, repair)
        if not listed:
            self._complain("empty-list", f"no value for '{attribute.name}'", path)
        values = [item if isinstance(item, bool) else str(item) for item in listed]
        for index, item in enumerate(values):
            if attribute.choices and item not in attribute.choices:
                place = (*path, index) if isinstance(value, list) else path
                message = f"'{item}' is no value of '{attribute.name}'"
                self._complain("unknown-value", message, place, did_you_mean(str(item), attribute.choices))
        return ["in", attribute.name, values]

    def _complain(self, code: str, message: str, path: PathKey, help: str = "", at_key: bool = False) -> None:
        self.report(Diagnostic(code, message, help=help), path, at_key)
