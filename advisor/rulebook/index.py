"""The compiled index: one SQLite file for one exact set of rule files.

Candidates for a job are found without reading the other rules: each rule is hung on its rarest required
`attribute = value` term, and an R-tree holds (term, span of the indexed quantity), so the time for a job
depends on the rules that may fire, not on how many there are.
"""

from __future__ import annotations

import json
import sqlite3
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.rulebook.conditions import Condition, Fact, Facts
from advisor.rulebook.rule import Rule
from advisor.writing import draft_of, move_into_place

FORMAT = 6
_NO_TERM = ""
_FAR = 1e30
# Stock sold in inches and in millimetres differs by up to 0.8 % (1/8 in is 3.175 mm, sold as 3.2 mm): tables
# reach 1 % past their end rows, and not further.
NOMINAL = 0.01

_SCHEMA = """
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE rules (n INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, topic TEXT NOT NULL, payload TEXT NOT NULL);
CREATE INDEX rules_topic ON rules (topic);
CREATE TABLE terms (term TEXT PRIMARY KEY, n INTEGER NOT NULL) WITHOUT ROWID;
CREATE VIRTUAL TABLE anchors USING rtree (id, term_low, term_high, low, high, +rule INTEGER, +topic TEXT);
CREATE TABLE entries (kind TEXT NOT NULL, id TEXT NOT NULL, payload TEXT NOT NULL,
                      PRIMARY KEY (kind, id)) WITHOUT ROWID;
CREATE TABLE names (kind TEXT NOT NULL, name TEXT NOT NULL, id TEXT NOT NULL, PRIMARY KEY (kind, name)) WITHOUT ROWID;
"""


def required_terms(condition: Condition) -> list[tuple[str, list[Any]]]:
    """(attribute, values) pairs of which the job must have one value each, whatever else holds."""
    if condition[0] == "in":
        return [(condition[1], condition[2])]
    if condition[0] == "all":
        return [pair for part in condition[1] for pair in required_terms(part)]
    return []


def required_span(condition: Condition, attribute: str) -> tuple[float, float]:
    """The span of a quantity outside which the condition cannot hold."""
    if condition[0] == "range" and condition[1] == attribute:
        low, high = condition[2], condition[4]
        return (-_FAR if low is None else low, _FAR if high is None else high)
    if condition[0] == "all":
        spans = [required_span(part, attribute) for part in condition[1]]
        return max((low for low, _ in spans), default=-_FAR), min((high for _, high in spans), default=_FAR)
    return -_FAR, _FAR


def _span(rule: Mapping[str, Any], attribute: str) -> tuple[float, float]:
    low, high = required_span(rule["when"], attribute)
    body = rule["body"]
    if rule["effect"] == "start" and body.get("over") == attribute and "rows" in body:
        low = max(low, body["rows"][0][0] * (1 - NOMINAL))
        high = min(high, body["rows"][-1][0] * (1 + NOMINAL))
    return low, high


def _term(attribute: str, value: Fact) -> str:
    return f"{attribute}\x1f{value}"


class IndexWriter:
    """Writes an index beside its final name and moves it there when whole, so that readers never see a part."""

    def __init__(self, path: Path, indexed_attribute: str) -> None:
        self.path = path
        self.indexed = indexed_attribute
        self.draft = draft_of(path)
        self.draft.unlink(missing_ok=True)
        self.db = sqlite3.connect(self.draft)
        self.db.executescript("PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF;" + _SCHEMA)

    def add_rules(self, rules: Sequence[Mapping[str, Any]]) -> None:
        """Store compiled rules and hang each on its rarest required term."""
        frequency: Counter[tuple[str, str]] = Counter()
        for rule in rules:
            for attribute, values in required_terms(rule["when"]):
                frequency.update((rule["topic"], _term(attribute, value)) for value in values)
        term_numbers: dict[str, int] = {}
        anchors: list[tuple[int, int, float, float, int, str]] = []
        rows = []
        for number, rule in enumerate(rules, 1):
            payload = {key: value for key, value in rule.items() if key != "examples"}
            rows.append((number, rule["id"], rule["topic"], json.dumps(payload, separators=(",", ":"))))
            low, high = _span(rule, self.indexed)
            for term in self._anchor_terms(rule, frequency):
                term_number = term_numbers.setdefault(term, len(term_numbers) + 1)
                anchors.append((term_number, term_number, low, max(low, high), number, rule["topic"]))
        self.db.executemany("INSERT INTO rules VALUES (?,?,?,?)", rows)
        self.db.executemany("INSERT INTO terms VALUES (?,?)", term_numbers.items())
        insert = "INSERT INTO anchors (term_low, term_high, low, high, rule, topic) VALUES (?,?,?,?,?,?)"
        self.db.executemany(insert, sorted(anchors))

    def _anchor_terms(self, rule: Mapping[str, Any], frequency: Counter[tuple[str, str]]) -> list[str]:
        topic = rule["topic"]
        choices = required_terms(rule["when"])
        if not choices:
            return [_term(_NO_TERM, None)]

        def crowd(pair: tuple[str, list[Any]]) -> int:
            return sum(frequency[topic, _term(pair[0], value)] for value in pair[1])

        attribute, values = min(choices, key=crowd)
        return [_term(attribute, value) for value in values]

    def add_entries(self, kind: str, entries: Iterable[tuple[str, Mapping[str, Any], Iterable[str]]]) -> None:
        """Store catalogue entries: (id, payload, names that lead to it)."""
        for entry_id, payload, names in entries:
            self.db.execute("INSERT INTO entries VALUES (?,?,?)", (kind, entry_id, json.dumps(payload)))
            for name in names:
                self.db.execute("INSERT OR IGNORE INTO names VALUES (?,?,?)", (kind, name, entry_id))

    def finish(self, meta: Mapping[str, Any]) -> None:
        """Write the meta data and put the index in place."""
        self.db.executemany("INSERT INTO meta VALUES (?,?)", [(key, json.dumps(value)) for key, value in meta.items()])
        self.db.commit()
        self.db.close()
        move_into_place(self.draft, self.path)


class Index:
    """Reads one index file."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self.db = sqlite3.connect(f"file:{path}?mode=ro&immutable=1", uri=True)
        self._rules: dict[int, Rule] = {}
        self._hung: dict[tuple[str, float | None], Mapping[str, Sequence[int]]] = {}

    def is_whole(self) -> bool:
        """Whether every page of the file hangs together: reads all of it, so not for the way to a warm answer."""
        found: tuple[str] = self.db.execute("PRAGMA quick_check(1)").fetchone()
        return found == ("ok",)

    def forget(self) -> None:
        """Drop what has been read, as if just opened."""
        self._rules.clear()
        self._hung.clear()

    def _asked(self, query: str, values: Sequence[Any] = ()) -> list[Any]:
        try:
            return self.db.execute(query, values).fetchall()
        except (sqlite3.Error, UnicodeError) as error:
            raise self._torn(error) from None

    def _data(self, text: Any) -> Any:
        try:
            return json.loads(text)
        except (ValueError, TypeError, RecursionError) as error:
            raise self._torn(error) from None

    def _rule(self, payload: Any) -> Rule:
        data = self._data(payload)
        try:
            return Rule.from_payload(data)
        except (LookupError, TypeError, ValueError, AttributeError) as error:
            raise self._torn(error) from None

    def _torn(self, error: Exception) -> PrestrikeError:
        """The file was whole when it was written: it is taken away, and made anew at the next start."""
        with suppress(OSError):
            self.path.unlink(missing_ok=True)
        text = f"the compiled rules in the cache were damaged ({error}), and are taken away"
        repair = "ask again: they are made anew. Check the disk if it comes back"
        return PrestrikeError(Diagnostic("damaged-cache", text, str(self.path), help=repair))

    def meta(self, key: str) -> Any:
        """A value of the meta table; None where it is not there."""
        rows = self._asked("SELECT value FROM meta WHERE key=?", (key,))
        return self._data(rows[0][0]) if rows else None

    def candidates(self, topic: str, facts: Facts, indexed: str) -> list[Rule]:
        """Rules of a topic whose anchor the job meets, in the order of their ids."""
        terms = [_term(_NO_TERM, None)]
        for attribute, fact in facts.items():
            if isinstance(fact, frozenset):
                terms.extend(_term(attribute, value) for value in fact)
            elif isinstance(fact, (str, bool)):
                terms.append(_term(attribute, fact))
        value = facts.get(indexed)
        found: set[int] = set()
        for term in terms:
            found.update(self._hung_on(term, value).get(topic, ()))
        self._load(found)
        return sorted((self._rules[number] for number in found), key=lambda rule: rule.id)

    def _hung_on(self, term: str, value: Fact) -> Mapping[str, Sequence[int]]:
        """Rule numbers by topic that hang on a term and whose span holds the value; asked once for all topics."""
        key = (term, value if isinstance(value, float) else None)
        if key not in self._hung:
            query = "SELECT rule, topic FROM terms JOIN anchors ON term_low=n AND term_high=n WHERE term=?"
            arguments: list[Any] = [term]
            if key[1] is not None:
                query += " AND low<=? AND high>=?"
                arguments += [key[1], key[1]]
            by_topic: dict[str, list[int]] = {}
            for number, topic in self._asked(query, arguments):
                by_topic.setdefault(topic, []).append(number)
            self._hung[key] = by_topic
        return self._hung[key]

    def _load(self, numbers: set[int]) -> None:
        missing = sorted(numbers - self._rules.keys())
        for start in range(0, len(missing), 500):
            part = missing[start : start + 500]
            marks = ",".join("?" * len(part))
            for number, payload in self._asked(f"SELECT n, payload FROM rules WHERE n IN ({marks})", part):
                self._rules[number] = self._rule(payload)

    def rules(self, topic: str = "") -> list[Rule]:
        """All rules, or all of one topic, by id. Reads every row: not for the way to an answer."""
        query = (
            "SELECT payload FROM rules WHERE topic=? ORDER BY id" if topic else "SELECT payload FROM rules ORDER BY id"
        )
        return [self._rule(row[0]) for row in self._asked(query, (topic,) if topic else ())]

    def rule_by_id(self, rule_id: str) -> Rule | None:
        """One rule by its id."""
        rows = self._asked("SELECT payload FROM rules WHERE id=?", (rule_id,))
        return self._rule(rows[0][0]) if rows else None

    def rule_ids(self) -> list[str]:
        """All rule ids, sorted."""
        return [row[0] for row in self._asked("SELECT id FROM rules ORDER BY id")]

    def entry(self, kind: str, name: str) -> dict[str, Any] | None:
        """A catalogue entry by one of its names (already folded)."""
        rows = self._asked(
            "SELECT e.payload FROM names n JOIN entries e ON e.kind=n.kind AND e.id=n.id WHERE n.kind=? AND n.name=?",
            (kind, name),
        )
        return self._data(rows[0][0]) if rows else None

    def entries(self, kind: str) -> list[dict[str, Any]]:
        """All catalogue entries of a kind, by id."""
        rows = self._asked("SELECT payload FROM entries WHERE kind=? ORDER BY id", (kind,))
        return [self._data(row[0]) for row in rows]

    def names(self, kind: str) -> list[str]:
        """All names that lead to entries of a kind."""
        return [row[0] for row in self._asked("SELECT name FROM names WHERE kind=? ORDER BY name", (kind,))]
