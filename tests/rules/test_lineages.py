"""`N independent sources` is counted, so copies of one table must share a lineage: what shipped rules say of it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import combinations

import pytest

from advisor.rulebook.rule import Rule
from advisor.shop.rules_in_force import open_rules

# One document or table under several wordings of its title: every start rule of a topic that names it is one voice.
ONE_DOCUMENT = (
    re.compile(r"welding dictionary"),
    re.compile(r"^Power-source manual, TIG settings by joint"),
    re.compile(r"^Shop practice, "),
    re.compile(r"ANSI Z49\.1"),
    re.compile(r"Machinery's Handbook"),
)
# Rows that two tables may share by chance; more is a copy.
CHANCE_ROWS = 3


def starts(topic: str) -> list[Rule]:
    """The start rules of a topic."""
    return [rule for rule in open_rules().index.rules(topic) if rule.effect == "start"]


def copies(rules: Iterable[Rule]) -> list[tuple[str, str]]:
    """Pairs of start rules with more equal rows than chance gives, that count as two sources."""
    tables = [(rule, {tuple(row) for row in rule.body["rows"]}) for rule in rules if "rows" in rule.body]
    return [
        (one.id, other.id)
        for (one, these), (other, those) in combinations(tables, 2)
        if len(these & those) > CHANCE_ROWS and one.sources[0].lineage != other.sources[0].lineage
    ]


def split(rules: Iterable[Rule]) -> list[tuple[str, ...]]:
    """Lineages under which one document is counted more than once."""
    found = []
    for pattern in ONE_DOCUMENT:
        sources = [rule.sources[0] for rule in rules]
        lineages = {source.lineage for source in sources if pattern.search(source.title)}
        if len(lineages) > 1:
            found.append(tuple(sorted(lineages)))
    return found


def topics() -> list[str]:
    """Topics whose numbers are not rounded to stocked sizes: equal sizes alone show no copy."""
    found = open_rules().vocabulary.topics.values()
    return [topic.name for topic in found if topic.form == "number" and not topic.sizes]


@pytest.mark.parametrize("topic", topics())
def test_no_copied_table_counts_twice(topic: str) -> None:
    assert copies(starts(topic)) == []


@pytest.mark.parametrize("topic", topics())
def test_no_document_counts_twice(topic: str) -> None:
    assert split(starts(topic)) == []


def test_a_copy_under_another_title_is_found() -> None:
    """The gaps of one CO2 table stand in a second manual: without the shared lineage both checks speak."""
    gaps = starts("root_gap")
    alone = [
        rule._replace(sources=(rule.sources[0]._replace(lineage=rule.sources[0].title), *rule.sources[1:]))
        for rule in gaps
    ]
    assert ("root-gap.mag.co2", "root-gap.mag.co2-second") in copies(alone)
    flows = starts("gas_flow")
    titled = [rule._replace(sources=(rule.sources[0]._replace(lineage=rule.sources[0].title),)) for rule in flows]
    assert any("dictionary" in name for group in split(titled) for name in group)
