"""From the data of one rule file to compiled rules: quantities in house units, names checked, places kept.

A compiled rule is plain JSON data (a dict), because it lives in the index; `rule.py` gives it its face.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, did_you_mean
from advisor.rulebook.reading.condition_reader import ConditionReader
from advisor.rulebook.reading.yaml_text import Document, PathKey
from advisor.rulebook.vocabulary import EFFECTS_BY_FORM, Topic, Vocabulary

EFFECTS = ("start", "adjust", "limit", "choose", "step", "caution", "refer", "refuse")
CompiledRule = dict[str, Any]
_UNUSED = "take it out, or cite it"
ParseNumber = Callable[[Any, str], float]


class Computation(NamedTuple):
    """A function rules may name. parameters: name -> dimension; result: dimension of what it returns."""

    function: Callable[..., float]
    parameters: Mapping[str, str]
    result: str


class Tools(NamedTuple):
    """What reading rules needs from outside: words, unit parsing, functions that rules may name.

    unit_rows: the unit table kept in the index, so that a warm start needs no unit library.
    """

    vocabulary: Vocabulary
    parse: ParseNumber
    computations: Mapping[str, Computation]
    unit_rows: list[list[Any]]


class RuleFileReader:
    """Reads the rules of one document that already keeps the schema."""

    def __init__(self, document: Document, tools: Tools, layer: str) -> None:
        self.document = document
        self.tools = tools
        self.layer = layer
        self.found: list[Diagnostic] = []
        self.subject = ""
        self.conditions = ConditionReader(tools.vocabulary, tools.parse, self.report)

    def report(self, diagnostic: Diagnostic, path: PathKey, at_key: bool = False) -> None:
        """Note a finding at a place of this document."""
        named = Diagnostic(diagnostic.code, diagnostic.message, subject=self.subject, help=diagnostic.help)
        self.found.append(self.document.place(named, path, at_key=at_key))

    def complain(self, code: str, message: str, path: PathKey, help: str = "", at_key: bool = False) -> None:
        self.report(Diagnostic(code, message, help=help), path, at_key)

    def read(self) -> list[CompiledRule]:
        """All rules of the file. Findings are in `found`; with any finding the rules must not be used."""
        data = self.document.data
        documents = self._documents(data["sources"])
        self._check_history(data)
        compiled = [self._rule(rule, ("rules", index), documents) for index, rule in enumerate(data["rules"])]
        used = {citation["doc"] for rule in data["rules"] for citation in rule["source"]}
        for index, entry in enumerate(data["sources"]):
            if entry["id"] not in used:
                self.subject = ""
                self.complain(
                    "unused-source", f"source '{entry['id']}' is cited by no rule", ("sources", index), _UNUSED
                )
        return compiled

    def _check_history(self, data: Mapping[str, Any]) -> None:
        versions = [entry["version"] for entry in data["history"]]
        if versions[0] != data["version"]:
            message = f"version {data['version']} has no history entry on top (it holds {versions[0]})"
            repair = f"write '{versions[0]}', or add the newest change on top of the history"
            self.complain("history", message, ("version",), repair)

    def _documents(self, entries: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
        documents: dict[str, dict[str, Any]] = {}
        for index, entry in enumerate(entries):
            if entry["id"] in documents:
                message = f"source '{entry['id']}' stands twice"
                self.complain("duplicate-id", message, ("sources", index), "take it out, or give it another id")
            if entry["kind"] not in self.tools.vocabulary.source_weight:
                repair = did_you_mean(entry["kind"], self.tools.vocabulary.source_weight)
                message = f"'{entry['kind']}' is no kind of source"
                self.complain("unknown-value", message, ("sources", index, "kind"), repair)
            documents[entry["id"]] = entry
        return documents

    def _rule(self, rule: dict[str, Any], path: PathKey, documents: dict[str, dict[str, Any]]) -> CompiledRule:
        self.subject = rule["id"]
        topic = self._topic(rule, path)
        effect = self._effect_name(rule, topic, path)
        line, column = self.document.values.get(path, (0, 0))
        compiled: CompiledRule = {
            "id": rule["id"],
            "topic": rule["topic"],
            "layer": self.layer,
            "ruleset": self.document.data["ruleset"],
            "version": self.document.data["version"],
            "file": self.document.file,
            "line": line,
            "column": column,
            "places": {key: self._place(path, key) for key in ("id", "overrides") if key in rule},
            "when": self.conditions.read(rule["when"], (*path, "when")),
            "printed_for": self._printed_for(rule.get("printed_for", {}), (*path, "printed_for")),
            "carries": self._carries(rule, effect, path),
            "effect": effect,
            "body": self._body(rule, effect, topic, path) if effect and topic else {},
            "sources": self._sources(rule["source"], documents, (*path, "source")),
            "because": rule["because"],
            "examples": self._examples(rule["examples"], topic, (*path, "examples")),
        }
        for key in ("overrides", "reason", "differs"):
            if key in rule:
                compiled[key] = rule[key]
        if topic is not None and topic.guarded:
            compiled["guarded"] = True
        if ("overrides" in rule) != ("reason" in rule):
            repair = "add 'reason: say why yours is better here'" if "overrides" in rule else "take out 'reason'"
            at_key = (*path, "reason" if "reason" in rule else "overrides")
            self.complain("override", "'overrides' and 'reason' go together", at_key, repair, True)
        return compiled

    def _place(self, path: PathKey, key: str) -> list[Any]:
        """Line, column and source line of a value, for findings between files."""
        line, column = self.document.values[*path, key]
        return [line, column, self.document.lines[line - 1][:200]]

    def _topic(self, rule: dict[str, Any], path: PathKey) -> Topic | None:
        topic = self.tools.vocabulary.topics.get(rule["topic"])
        if topic is None:
            repair = did_you_mean(rule["topic"], self.tools.vocabulary.topics)
            self.complain("unknown-topic", f"unknown topic '{rule['topic']}'", (*path, "topic"), repair)
        return topic

    def _effect_name(self, rule: dict[str, Any], topic: Topic | None, path: PathKey) -> str:
        named = [effect for effect in EFFECTS if effect in rule]
        if len(named) != 1:
            has = ", ".join(named) if named else "none"
            self.complain(
                "effect",
                f"a rule has exactly one effect, this has {has}",
                path,
                f"one of {', '.join(EFFECTS)}",
            )
            return ""
        if topic and named[0] not in EFFECTS_BY_FORM[topic.form]:
            allowed = " or ".join(EFFECTS_BY_FORM[topic.form])
            message = f"topic '{topic.name}' takes {allowed}, not {named[0]}"
            repair = f"write {allowed} here, or choose a topic that takes {named[0]}"
            self.complain("effect", message, (*path, named[0]), repair, at_key=True)
            return ""
        return named[0]

    def _printed_for(self, data: dict[str, Any], path: PathKey) -> dict[str, list[str]]:
        printed: dict[str, list[str]] = {}
        for key, value in data.items():
            attribute = self.tools.vocabulary.attributes.get(key)
            if attribute is None or attribute.type not in ("choice", "text"):
                repair = did_you_mean(key, self.tools.vocabulary.attributes)
                self.complain("unknown-attribute", f"'{key}' is no choice of a job", (*path, key), repair, True)
                continue
            listed = value if isinstance(value, list) else [value]
            for item in listed:
                if attribute.choices and item not in attribute.choices:
                    repair = did_you_mean(str(item), attribute.choices)
                    self.complain("unknown-value", f"'{item}' is no value of '{key}'", (*path, key), repair)
            printed[key] = [str(item) for item in listed]
        return printed

    def _carries(self, rule: dict[str, Any], effect: str, path: PathKey) -> str:
        carries = rule.get("carries", "")
        if carries and effect != "adjust":
            self.complain(
                "carries",
                "only an adjust carries a row over to another case",
                (*path, "carries"),
                "take out 'carries'",
                at_key=True,
            )
        if carries and carries not in self.tools.vocabulary.attributes:
            repair = did_you_mean(carries, self.tools.vocabulary.attributes)
            self.complain("unknown-attribute", f"unknown attribute '{carries}'", (*path, "carries"), repair)
        return str(carries)

    def _sources(
        self, citations: list[dict[str, Any]], documents: dict[str, dict[str, Any]], path: PathKey
    ) -> list[dict[str, Any]]:
        sources = []
        for index, citation in enumerate(citations):
            document = documents.get(citation["doc"])
            if document is None:
                repair = did_you_mean(citation["doc"], documents)
                message = f"source '{citation['doc']}' is not listed in this file"
                self.complain("unknown-source", message, (*path, index, "doc"), repair)
                continue
            # Keys in the order of `rule.Source`, which is made of them by place.
            sources.append(
                {
                    "doc": citation["doc"],
                    "title": document["title"],
                    "author": document.get("author", ""),
                    "year": document.get("year", 0),
                    "kind": document["kind"],
                    "lineage": document.get("lineage", document["title"]),
                    "at": citation.get("at", document.get("section", "")),
                    "evidence": citation.get("evidence", document["evidence"]),
                }
            )
        return sources

    def _body(self, rule: dict[str, Any], effect: str, topic: Topic, path: PathKey) -> dict[str, Any]:
        from advisor.rulebook.reading.effect_reader import EffectReader

        return EffectReader(self, topic).read(effect, rule[effect], (*path, effect))

    def _examples(self, entries: list[dict[str, Any]], topic: Topic | None, path: PathKey) -> list[dict[str, Any]]:
        examples = []
        for index, entry in enumerate(entries):
            place = (*path, index)
            facts = self._facts(entry["job"], (*place, "job"))
            gives = dict(entry.get("gives", {}))
            if ("fires" in entry) == ("gives" in entry):
                both = "fires" in entry
                repair = "keep one of the two: take this one out" if both else "add 'fires: true'"
                where = (*place, "fires") if both else place
                self.complain("example", "an example says either 'fires' or 'gives'", where, repair, both)
            for key in ("low", "high", "value", "size"):
                if key in gives and topic:
                    gives[key] = self.conditions.number(gives[key], topic.dimension, (*place, "gives", key))
            line, _ = self.document.values.get(place, (0, 0))
            examples.append({"facts": facts, "fires": entry.get("fires", True), "gives": gives, "line": line})
        return examples

    def _facts(self, data: dict[str, Any], path: PathKey) -> dict[str, Any]:
        facts: dict[str, Any] = {}
        for key, value in data.items():
            attribute = self.tools.vocabulary.attributes.get(key)
            if attribute is None:
                repair = did_you_mean(key, self.tools.vocabulary.attributes)
                self.complain("unknown-attribute", f"unknown attribute '{key}'", (*path, key), repair, True)
            elif attribute.type in ("quantity", "number"):
                facts[key] = self.conditions.number(value, attribute.dimension, (*path, key))
            else:
                listed = value if isinstance(value, list) else [value]
                for item in listed:
                    if attribute.choices and str(item) not in attribute.choices:
                        repair = did_you_mean(str(item), attribute.choices)
                        self.complain("unknown-value", f"'{item}' is no value of '{key}'", (*path, key), repair)
                plain = [item if isinstance(item, bool) else str(item) for item in listed]
                facts[key] = plain if attribute.type == "set" else plain[0]
        return facts
