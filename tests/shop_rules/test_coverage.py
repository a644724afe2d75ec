"""Gaps, jumps and the map on seeded rule sets, against asking the whole advice for every job of a fine grid."""

from __future__ import annotations

import shutil
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.job.reader import JobBuilder
from advisor.resources import rules_folder, schema_file
from advisor.rulebook.library import Rulebook, open_rulebook
from advisor.rulebook.listing import Layer
from advisor.rulebook.reading.rule_reader import Tools
from advisor.rulebook.reading.yaml_text import read_yaml
from advisor.rulebook.vocabulary import Vocabulary
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import make_tools, open_rules, units_of
from advisor.shop_rules.coverage import FALL, LEAP, Domain, MetalCoverage, domains, walk

HEAD = """kind: rules
ruleset: seeded
version: 1.0.0
schema: 1
history: [{version: 1.0.0, date: 2026-11-25, change: seeded}]
sources: [{id: S, title: Seeded, kind: shop-habit, evidence: common-practice}]
rules:
"""
RULE = """  - id: seeded.r{number}
    topic: {topic}
    when: {{{when}}}
    {effect}
    source: [{{doc: S}}]
    because: Seeded.
    examples: [{{job: {{place: outdoors}}, fires: false}}]
"""
METALS, JOINTS = ("6061", "304"), ("butt", "tee")
# Off every end a seeded rule can have (halves of a millimetre, and 1 % beside them).
GRID = [round(1.0371 + 0.1371 * number, 4) for number in range(34)]
DOMAIN = Domain("141", METALS, JOINTS, 1.0, 6.0, (1.2, 2.2, 3.2, 4.2, 5.2), ("current", "gas", "preflow"), ("current",))


@cache
def tools() -> Tools:
    return make_tools(Vocabulary.from_data(read_yaml(rules_folder() / "vocabulary.yaml").data))


def text_of(rules: list[tuple[str, str, str]]) -> str:
    made = [RULE.format(number=n, topic=t, when=w, effect=e) for n, (t, w, e) in enumerate(rules)]
    return HEAD + "".join(made)


def book_of(folder: Path, text: str) -> Rulebook:
    """Shipped words and metals with seeded rules only."""
    rules = folder / "rules"
    if not rules.is_dir():
        rules.mkdir()
        shutil.copy(rules_folder() / "vocabulary.yaml", rules)
        for path in (rules_folder() / "materials").glob("*.yaml"):
            if "kind: materials" in path.read_text(encoding="utf-8"):
                shutil.copy(path, rules)
    (rules / "seeded.yaml").write_text(text, encoding="utf-8")
    return open_rulebook([Layer("built-in", rules)], schema_file, folder, lambda _: tools())


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("seeded")


halves = st.integers(2, 12).map(lambda number: number / 2)


@st.composite
def seeded(draw: st.DrawFn) -> str:
    rules: list[tuple[str, str, str]] = []
    for topic in draw(st.lists(st.sampled_from(("current", "current", "gas", "preflow")), min_size=2, max_size=7)):
        terms = []
        if draw(st.booleans()):
            terms.append(f"joint: {draw(st.sampled_from(JOINTS))}")
        if draw(st.booleans()):
            terms.append(f"base: {draw(st.sampled_from(('aluminium', 'stainless')))}")
        low, high = sorted((draw(halves), draw(halves)))
        form = draw(st.sampled_from(("none", "from", "below", "both", "not")))
        attribute = draw(st.sampled_from(("thickness", "thinner")))
        span = {"from": f"from: {low} mm", "below": f"below: {high} mm", "both": f"from: {low} mm, below: {high} mm"}
        if form in span and (form != "both" or low < high):
            terms.append(f"{attribute}: {{{span[form]}}}")
        elif form == "not":
            terms.append(f"not: {{{attribute}: {{above: {low} mm, to: {high} mm}}}}")
        if topic == "current" and draw(st.booleans()):
            terms.append(f"gas: {draw(st.sampled_from(('argon', 'helium')))}")
        if topic == "gas":
            effect = f"choose: {{first: [{draw(st.sampled_from(('argon', 'helium')))}]}}"
        elif topic == "preflow":
            effect = "start: {value: 1 s}"
        elif low < high and draw(st.booleans()):
            rows = f"{{at: {low} mm, value: 60 A}}, {{at: {high} mm, value: 140 A}}"
            effect = f"start: {{over: thickness, rows: [{rows}]}}"
        else:
            effect = f"start: {{value: {draw(st.sampled_from((60, 90, 140)))} A}}"
        rules.append((topic, ", ".join(terms), effect))
    return text_of(rules)


def answers(book: Rulebook, metal: str, joint: str, at: float) -> dict[str, Any]:
    """What the whole advice says of one plain job: the start of each topic it covers."""
    data = {"members": [{"metal": metal, "thickness": f"{at} mm"}], "joint": joint}
    found = advise(book, JobBuilder(book, units_of(book)).build(data))
    said: dict[str, Any] = {name: setting.start for name, setting in found.settings.items()}
    said |= {name: True for name, options in found.choices.items() if options}
    return said


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(text=seeded())
def test_gaps_are_those_that_asking_the_advice_for_every_job_finds(folder: Path, text: str) -> None:
    book = book_of(folder, text)
    for metal in METALS:
        walked = walk(book, DOMAIN, metal)
        for joint in JOINTS:
            mine = [gap for gap in walked.gaps if gap.joint == joint]
            for at in GRID:
                said = answers(book, metal, joint, at)
                silent = {gap.topic for gap in mine if gap.low <= at <= gap.high}
                assert ("current" in silent) == ("current" not in said), (text, metal, joint, at)
                if "current" in said:  # the advice decides no more where no current is known
                    assert silent == {topic for topic in DOMAIN.needs if topic not in said}, (text, metal, joint, at)


def walked_one(folder: Path, *rules: tuple[str, str, str], domain: Domain = DOMAIN) -> MetalCoverage:
    return walk(book_of(folder, text_of(list(rules))), domain, "6061")


def test_a_gap_of_one_size_and_one_between_tables_are_told_with_their_ends(folder: Path) -> None:
    point = walked_one(
        folder,
        ("current", "thickness: {below: 3 mm}", "start: {value: 60 A}"),
        ("current", "thickness: {above: 3 mm}", "start: {value: 60 A}"),
    )
    assert {(gap.low, gap.high) for gap in point.gaps if gap.topic == "current"} == {(3.0, 3.0)}
    rows = "start: {{over: thickness, rows: [{{at: {} mm, value: 60 A}}, {{at: {} mm, value: 90 A}}]}}"
    between = walked_one(folder, ("current", "", rows.format(1, 2)), ("current", "", rows.format(4, 6)))
    gaps = [(gap.low, gap.high) for gap in between.gaps if gap.topic == "current" and gap.joint == "tee"]
    # Tables reach 1 % past their end rows, since the same stock is sold in inches and in millimetres.
    assert gaps == [pytest.approx((2.02, 3.96))]
    assert [count for count, _ in between.sources["tee"]] == [1, 0, 0, 1, 1]


def test_a_gap_in_a_number_that_hangs_on_the_current_is_found_through_it(folder: Path) -> None:
    domain = DOMAIN._replace(needs=("tungsten_diameter",))
    rows = "{at: 1 mm, value: 20 A}, {at: 6 mm, value: 120 A}"
    sizes = "{size: 1.6 mm, from: 20 A, to: 50 A}, {size: 2.4 mm, from: 70 A, to: 120 A}"
    found = walked_one(
        folder,
        ("current", "", f"start: {{over: thickness, rows: [{rows}]}}"),
        ("tungsten_diameter", "", f"start: {{over: current, sizes: [{sizes}]}}"),
        domain=domain,
    )
    (gap,) = [gap for gap in found.gaps if gap.joint == "butt"]
    assert not gap.exact
    # 50 to 70 A is 2.5 to 3.5 mm.
    assert (gap.low, gap.high) == pytest.approx((2.5, 3.5), abs=0.01)


def test_falls_and_leaps_are_told_with_thickness_and_sizes_and_small_ones_are_not(folder: Path) -> None:
    def jumps(*starts: tuple[str, int]) -> list[tuple[str, float, float, float]]:
        rules = [("current", f"thickness: {{{span}}}", f"start: {{value: {amps} A}}") for span, amps in starts]
        found = walked_one(folder, *rules)
        return [(jump.kind, round(jump.at, 3), jump.before, jump.after) for jump in found.jumps if jump.joint == "butt"]

    below, above = "below: 3 mm", "from: 3 mm"
    assert jumps((below, 100), (above, 80)) == [("falls", 3.0, 100.0, 80.0)]
    assert jumps((below, 100), (above, 130)) == [("leaps", 3.0, 100.0, 130.0)]
    assert jumps((below, 100), (above, round(100 * FALL) + 1)) == []
    assert jumps((below, 100), (above, round(100 * LEAP) - 1)) == []


def test_a_slow_fall_within_one_table_is_told_as_one(folder: Path) -> None:
    rows = "{at: 1 mm, value: 100 A}, {at: 2 mm, value: 120 A}, {at: 6 mm, value: 90 A}"
    found = walked_one(folder, ("current", "", f"start: {{over: thickness, rows: [{rows}]}}"))
    (jump,) = [jump for jump in found.jumps if jump.joint == "butt"]
    assert jump.kind == "falls"
    assert (jump.before, jump.after) == pytest.approx((120, 90))
    assert (jump.at, jump.to) == pytest.approx((2, 6))


def test_the_stated_domain_names_metals_joints_and_topics_that_there_are() -> None:
    book = open_rules()
    ids = {entry["id"] for entry in book.index.entries("material")}
    for domain in domains(book.index.meta("vocabulary")):
        assert set(domain.metals) <= ids
        assert set(domain.joints) <= set(book.vocabulary.attributes["joint"].choices)
        assert domain.process in book.vocabulary.attributes["process"].choices
        assert {*domain.needs, *domain.grows} <= set(book.vocabulary.topics)


def test_the_shipped_map_is_what_the_advice_says_at_the_stock_sizes() -> None:
    book = open_rules()
    (domain,) = [domain for domain in domains(book.index.meta("vocabulary")) if domain.process == "141"]
    domain = domain._replace(joints=("butt", "tee"), needs=("current", "tungsten_diameter", "gas_flow"), grows=())
    walked = walk(book, domain, "304")
    for joint in domain.joints:
        for at, (count, rest) in zip(domain.sizes, walked.sources[joint], strict=True):
            said = answers(book, "304", joint, at)
            assert (count > 0) == ("current" in said)
            assert rest == all(topic in said for topic in domain.needs[1:])
