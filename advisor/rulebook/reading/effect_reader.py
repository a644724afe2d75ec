"""The eight effects of a rule, from YAML to their compiled body."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from advisor.diagnostics import did_you_mean
from advisor.rulebook.reading.yaml_text import PathKey
from advisor.rulebook.vocabulary import Attribute, Topic

if TYPE_CHECKING:
    from advisor.rulebook.reading.rule_reader import RuleFileReader

_START_FORMS = "give value, or low and high, or over with rows, or over with sizes, or compute"


class EffectReader:
    """Reads the body of one rule of one topic."""

    def __init__(self, reader: RuleFileReader, topic: Topic) -> None:
        self.reader = reader
        self.topic = topic

    def read(self, effect: str, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        """The compiled body; findings go to the reader."""
        if effect == "start":
            return self._start(data, path)
        if effect == "adjust":
            return self._adjust(data, path)
        if effect == "limit":
            return self._limit(data, path)
        if effect == "choose":
            return self._choose(data, path)
        if effect == "step" and "lasts" in data:
            return {**data, "lasts": self._number(data["lasts"], "time", (*path, "lasts"))}
        return dict(data)

    def _number(self, value: Any, dimension: str, path: PathKey) -> float:
        return self.reader.conditions.number(value, dimension, path)

    def _mine(self, value: Any, path: PathKey) -> float:
        return self._number(value, self.topic.dimension, path)

    def _start(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        forms = [form for form in ("value", "low", "rows", "sizes", "compute") if form in data]
        if len(forms) != 1:
            self.reader.complain("start", f"a start has one form, this has {len(forms)}", path, _START_FORMS)
            return {}
        if ("over" in data) != (forms[0] in ("rows", "sizes")):
            self.reader.complain("start", "'over' goes with rows or sizes", path, _START_FORMS)
            return {}
        if ("with" in data) != (forms[0] == "compute"):
            self.reader.complain("start", "'with' goes with compute", path, _START_FORMS)
            return {}
        if forms[0] == "compute":
            return self._compute(data, path)
        if forms[0] == "rows":
            return self._rows(data, path)
        if forms[0] == "sizes":
            return self._sizes(data, path)
        low, high = self._pair(data, path)
        return {"low": low, "high": high}

    def _pair(self, data: dict[str, Any], path: PathKey) -> tuple[float, float]:
        if "value" in data:
            if "low" in data or "high" in data:
                self.reader.complain("start", "either value or low and high", path, _START_FORMS)
            value = self._mine(data["value"], (*path, "value"))
            return value, value
        if "low" not in data or "high" not in data:
            self.reader.complain("start", "low and high go together", path, _START_FORMS)
            return 0.0, 0.0
        low, high = self._mine(data["low"], (*path, "low")), self._mine(data["high"], (*path, "high"))
        if low > high:
            self.reader.complain(
                "reversed-range",
                f"low {data['low']} is above high {data['high']}",
                (*path, "low"),
                "swap low and high",
            )
        return low, high

    def _driver(self, data: dict[str, Any], path: PathKey) -> Attribute | None:
        attributes = self.reader.tools.vocabulary.attributes
        attribute = attributes.get(data["over"])
        if attribute is None:
            repair = did_you_mean(data["over"], attributes)
            self.reader.complain("unknown-attribute", f"unknown attribute '{data['over']}'", (*path, "over"), repair)
        elif attribute.type not in ("quantity", "number"):
            self.reader.complain("wrong-type", f"'{attribute.name}' is no quantity", (*path, "over"))
            return None
        return attribute

    def _rows(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        driver = self._driver(data, path)
        rows: list[list[float]] = []
        for index, row in enumerate(data["rows"] if driver else []):
            place = (*path, "rows", index)
            at = self._number(row["at"], driver.dimension if driver else "", (*place, "at"))
            low, high = self._pair(row, place)
            if rows and at <= rows[-1][0]:
                same = at == rows[-1][0]
                message = f"rows must rise, and {row['at']} does not come after {data['rows'][index - 1]['at']}"
                repair = "take this row out" if same else "put this row before the one above it"
                self.reader.complain("row-order", message, place, repair)
            rows.append([at, low, high])
        return {"over": data["over"], "rows": rows}

    def _sizes(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        driver = self._driver(data, path)
        sizes: list[list[float]] = []
        for index, row in enumerate(data["sizes"] if driver else []):
            place = (*path, "sizes", index)
            size = self._mine(row["size"], (*place, "size"))
            low = self._number(row["from"], driver.dimension if driver else "", (*place, "from"))
            high = self._number(row["to"], driver.dimension if driver else "", (*place, "to"))
            if low > high:
                self.reader.complain("reversed-range", "'to' is below 'from'", (*place, "to"), "swap from and to")
            sizes.append([size, low, high])
        return {"over": data["over"], "sizes": sizes}

    def _compute(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        computations = self.reader.tools.computations
        computation = computations.get(data["compute"])
        if computation is None:
            repair = did_you_mean(data["compute"], computations)
            self.reader.complain(
                "unknown-function", f"unknown function '{data['compute']}'", (*path, "compute"), repair
            )
            return {}
        if computation.result != self.topic.dimension:
            message = f"'{data['compute']}' gives {computation.result}, topic wants {self.topic.dimension}"
            self.reader.complain("wrong-dimension", message, (*path, "compute"))
        given: dict[str, Any] = {}
        for name, value in data["with"].items():
            place = (*path, "with", name)
            if name not in computation.parameters:
                repair = did_you_mean(name, computation.parameters)
                self.reader.complain(
                    "unknown-key", f"'{data['compute']}' has no parameter '{name}'", place, repair, True
                )
                continue
            given[name] = self._argument(value, computation.parameters[name], place)
        for name in computation.parameters:
            if name not in data["with"]:
                self.reader.complain("missing-key", f"parameter '{name}' is missing", (*path, "with"), f"add '{name}:'")
        return {"compute": data["compute"], "with": given}

    def _argument(self, value: Any, dimension: str, path: PathKey) -> Any:
        """A parameter is a quantity, or the name of an attribute of the job."""
        attributes = self.reader.tools.vocabulary.attributes
        if isinstance(value, str) and value in attributes:
            return {"attribute": value}
        if isinstance(value, str) and value.isidentifier():
            repair = did_you_mean(value, attributes)
            self.reader.complain("unknown-attribute", f"unknown attribute '{value}'", path, repair)
            return 0.0
        return self._number(value, dimension, path)

    def _adjust(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        if len(data) != 1:
            where = (*path, "offset") if "offset" in data else path
            repair = "keep one of the two: take this one out" if data else "add 'factor: 1.1'"
            message = "an adjust is one factor or one offset"
            self.reader.complain("adjust", message, where, repair, "offset" in data)
            return {"factor": 1.0}
        if "factor" in data:
            factor = float(data["factor"])
            if not 0.05 <= factor <= 20:
                self.reader.complain("absurd-size", f"factor {factor} is not between 0.05 and 20", (*path, "factor"))
            return {"factor": factor}
        return {"offset": self._offset(data["offset"], (*path, "offset"))}

    def _offset(self, value: Any, path: PathKey) -> float:
        text = str(value).strip()
        sign = -1.0 if text.startswith("-") else 1.0
        return sign * self._mine(text.lstrip("+-").strip() if isinstance(value, str) else abs(value), path)

    def _limit(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        if not data:
            self.reader.complain("limit", "a limit has a floor, a ceiling or both", path, "give floor or ceiling")
        body = {key: self._mine(value, (*path, key)) for key, value in data.items()}
        if "floor" in body and "ceiling" in body and body["floor"] > body["ceiling"]:
            self.reader.complain(
                "reversed-range", "the floor is above the ceiling", (*path, "floor"), "swap floor and ceiling"
            )
        return body

    def _choose(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        if not data:
            self.reader.complain("choose", "a choice names options under first, also, avoid or only", path)
        seen: dict[str, str] = {}
        for key, options in data.items():
            for index, option in enumerate(options):
                if option in seen:
                    message = f"option '{option}' stands under '{seen[option]}' and again under '{key}'"
                    self.reader.complain("double-option", message, (*path, key, index), "keep one of the two")
                seen[option] = key
        return {key: list(options) for key, options in data.items()}
