"""Catalogue files: materials, gauges, knowledge of faults. Same care as rules: units, sources, unique names."""

from __future__ import annotations

from typing import Any

from advisor.diagnostics import Diagnostic, did_you_mean
from advisor.rulebook.names import fold
from advisor.rulebook.reading.condition_reader import ConditionReader
from advisor.rulebook.reading.knowledge import read_knowledge
from advisor.rulebook.reading.rule_reader import Tools
from advisor.rulebook.reading.yaml_text import Document, PathKey

_PROPERTY_DIMENSIONS = {
    "solidus": "temperature",
    "liquidus": "temperature",
    "density": "density",
    "conductivity": "conductivity",
    "specific_heat": "specific_heat",
    "expansion": "expansion",
    "resistivity": "resistivity",
}
Entry = tuple[str, str, dict[str, Any], list[str]]


class CatalogueReader:
    """Reads the entries of one materials or gauges file that keeps its schema."""

    def __init__(self, document: Document, tools: Tools) -> None:
        self.document = document
        self.tools = tools
        self.found: list[Diagnostic] = []
        self.subject = ""
        self.numbers = ConditionReader(tools.vocabulary, tools.parse, self.report)
        self.documents = {entry["id"]: entry for entry in document.data["sources"]}
        self.cited: set[str] = set()

    def report(self, diagnostic: Diagnostic, path: PathKey, at_key: bool = False) -> None:
        """Note a finding at a place of this document."""
        named = Diagnostic(diagnostic.code, diagnostic.message, subject=self.subject, help=diagnostic.help)
        self.found.append(self.document.place(named, path, at_key=at_key))

    def read(self) -> list[Entry]:
        """(kind, id, payload, names) of every entry of the file."""
        data = self.document.data
        if data["history"][0]["version"] != data["version"]:
            message = f"version {data['version']} has no history entry on top"
            self.report(Diagnostic("history", message, help="add the newest change first"), ("version",))
        entries = self._entries(data["kind"])
        for index, entry in enumerate(data["sources"]):
            if entry["kind"] not in self.tools.vocabulary.source_weight:
                repair = did_you_mean(entry["kind"], self.tools.vocabulary.source_weight)
                message = f"'{entry['kind']}' is no kind of source"
                self.report(Diagnostic("unknown-value", message, help=repair), ("sources", index, "kind"))
            if entry["id"] not in self.cited:
                message = f"source '{entry['id']}' is cited by no entry"
                self.report(Diagnostic("unused-source", message), ("sources", index, "id"))
        return entries

    def _entries(self, kind: str) -> list[Entry]:
        if kind == "materials":
            return self._materials()
        return self._gauges() if kind == "gauges" else read_knowledge(self, kind)

    def cite(self, citations: list[dict[str, Any]], path: PathKey) -> list[dict[str, str]]:
        """The documents cited, each with its place and evidence."""
        sources = []
        for index, citation in enumerate(citations):
            document = self.documents.get(citation["doc"])
            if document is None:
                repair = did_you_mean(citation["doc"], self.documents)
                message = f"source '{citation['doc']}' is not listed in this file"
                self.report(Diagnostic("unknown-source", message, help=repair), (*path, index, "doc"))
                continue
            self.cited.add(citation["doc"])
            sources.append(
                {
                    "title": document["title"],
                    "at": citation.get("at", document.get("section", "")),
                    "evidence": citation.get("evidence", document["evidence"]),
                }
            )
        return sources

    def _materials(self) -> list[Entry]:
        entries: list[Entry] = []
        for index, item in enumerate(self.document.data["materials"]):
            self.subject = item["id"]
            path: PathKey = ("materials", index)
            payload = {key: value for key, value in item.items() if key not in ("composition", "properties", "bench")}
            payload["source"] = self.cite(item["source"], (*path, "source"))
            payload["file"] = self.document.file
            payload["composition"] = self.composition(item.get("composition", []), (*path, "composition"))
            payload["properties"] = self._properties(item.get("properties", []), (*path, "properties"))
            payload["bench"] = [
                {**test, "source": self.cite(test["source"], (*path, "bench", at, "source"))}
                for at, test in enumerate(item.get("bench", []))
            ]
            names = [fold(name) for name in (item["id"], item["name"], *item["designations"])]
            entries.append(("material", item["id"], payload, names))
        return entries

    def composition(self, rows: list[dict[str, Any]], path: PathKey) -> dict[str, dict[str, Any]]:
        """Limits of each element [mass %] with their sources."""
        composition: dict[str, dict[str, Any]] = {}
        for index, row in enumerate(rows):
            place = (*path, index)
            low = self.numbers.number(row["low"], "mass_percent", (*place, "low")) if "low" in row else 0.0
            high = self.numbers.number(row["high"], "mass_percent", (*place, "high")) if "high" in row else None
            if high is not None and low > high:
                self.report(Diagnostic("reversed-range", "low is above high", help="swap them"), (*place, "low"))
            if row["element"] in composition:
                self.report(Diagnostic("duplicate-id", f"{row['element']} stands twice"), (*place, "element"))
            composition[row["element"]] = {
                "low": low,
                "high": high,
                "source": self.cite(row["source"], (*place, "source")),
            }
        return composition

    def _properties(self, rows: list[dict[str, Any]], path: PathKey) -> list[dict[str, Any]]:
        properties = []
        for index, row in enumerate(rows):
            place = (*path, index)
            value = self.numbers.number(row["value"], _PROPERTY_DIMENSIONS[row["name"]], (*place, "value"))
            properties.append({**row, "value": value, "source": self.cite(row["source"], (*place, "source"))})
        return properties

    def _gauges(self) -> list[Entry]:
        entries: list[Entry] = []
        for index, item in enumerate(self.document.data["gauges"]):
            self.subject = item["id"]
            path: PathKey = ("gauges", index)
            rows: dict[str, float] = {}
            for at, row in enumerate(item["rows"]):
                place = (*path, "rows", at)
                if str(row["gauge"]) in rows:
                    self.report(Diagnostic("duplicate-id", f"gauge {row['gauge']} stands twice"), (*place, "gauge"))
                rows[str(row["gauge"])] = self.numbers.number(row["thickness"], "length", (*place, "thickness"))
            payload = {
                "id": item["id"],
                "name": item.get("name", item["id"]),
                "families": item["families"],
                "rows": rows,
                "source": self.cite(item["source"], (*path, "source")),
            }
            entries.append(("gauge", item["id"], payload, item["families"]))
        return entries
