"""The index finds what a walk through every rule finds, and the answer does not hang on names or order of files."""

from __future__ import annotations

import shutil
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.job.reader import JobBuilder
from advisor.resources import rules_folder, schema_file
from advisor.rulebook.conditions import Fact, holds
from advisor.rulebook.library import Rulebook, open_rulebook
from advisor.rulebook.listing import Layer
from advisor.rulebook.rule import Rule
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import make_tools, open_rules, units_of

BASES = ("aluminium", "carbon-steel", "low-alloy-steel", "stainless")


def words(book: Rulebook, attribute: str) -> st.SearchStrategy[str | None]:
    return st.sampled_from([None, *book.vocabulary.attributes[attribute].choices])


@st.composite
def some_facts(draw: st.DrawFn, book: Rulebook) -> dict[str, Fact]:
    base = draw(st.sampled_from(BASES))
    facts: dict[str, Fact] = {"base": base, "bases": frozenset({base, draw(st.sampled_from(BASES))})}
    for name in ("process", "joint", "position", "weld", "place", "solvent", "backing", "access"):
        facts[name] = draw(words(book, name))
    for name in ("surface", "service"):
        facts[name] = frozenset(draw(st.lists(st.sampled_from(book.vocabulary.attributes[name].choices), max_size=3)))
    thickness = draw(st.floats(0.3, 60))
    facts.update(thickness=thickness, thinner=thickness, thicker=thickness * draw(st.floats(1, 4)))
    facts["closed_volume"] = draw(st.booleans())
    facts["current"] = draw(st.floats(5, 400))
    return facts


def reaches(rule: Rule, thickness: float) -> bool:
    """A table that ends before this thickness has nothing to say and need not be found."""
    if rule.effect != "start" or rule.body.get("over") != "thickness" or "rows" not in rule.body:
        return True
    return bool(rule.body["rows"][0][0] <= thickness <= rule.body["rows"][-1][0])


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_the_index_finds_what_a_walk_through_all_rules_finds(data: st.DataObject) -> None:
    book = open_rules()
    facts = data.draw(some_facts(book))
    thickness = float(str(facts["thickness"]))
    for topic in book.vocabulary.topics:
        walked = [rule for rule in book.index.rules(topic) if holds(rule.when, facts)]
        found = [rule.id for rule in book.match(topic, facts)]
        assert found == sorted(found) and set(found) <= {rule.id for rule in walked}
        assert set(found) >= {rule.id for rule in walked if reaches(rule, thickness)}


def test_files_by_other_names_in_other_order_give_the_same_answer(tmp_path: Path) -> None:
    shuffled = tmp_path / "rules"
    shuffled.mkdir()
    files = sorted(rules_folder().rglob("*.yaml"), key=lambda path: path.name[::-1])
    for number, path in enumerate(files):
        name = path.name if path.name == "vocabulary.yaml" else f"{len(files) - number:02d}.yaml"
        shutil.copyfile(path, shuffled / name)
    renamed = open_rulebook([Layer("built-in", shuffled)], schema_file, tmp_path, make_tools)
    for metal, joint in (("6061-T6", "tee"), ("A36", "butt"), ("304", "lap")):
        first, second = (_answer(book, metal, joint) for book in (open_rules(), renamed))
        assert first == second
        assert first["current"][1] > 0


def _answer(book: Rulebook, metal: str, joint: str) -> dict[str, tuple[float, float, float]]:
    data = {"members": [{"metal": metal, "thickness": "3.2 mm"}], "joint": joint}
    found = advise(book, JobBuilder(book, units_of(book)).build(data)).settings
    return {name: (setting.low, setting.start, setting.high) for name, setting in found.items()}
