"""Numbers that keep metal and people from harm: a rule of one's own may make them stricter, never looser."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from advisor.diagnostics import PrestrikeError
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.rulebook.listing import Layer
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import open_rules
from advisor.units.quantities import UnitTable

# Metals of all families that have a ceiling for preheat or between passes.
METALS = ("5052", "6061", "5083", "7005", "304", "4130")
GUARDED = ("preheat", "interpass", "lens_shade")
RULE = """kind: rules
ruleset: own
version: 1.0.0
schema: 1
history:
  - {{version: 1.0.0, date: 2026-11-25, change: first set}}
sources:
  - {{id: own, title: Notes of this shop, kind: shop-habit, evidence: common-practice}}
rules:
  - id: shop.own
    topic: {topic}
    when: {{process: "141"}}
    {effect}
    source: [{{doc: own}}]
    because: It is how we do it.
    {more}
    examples:
      - {{job: {{process: "141"}}, fires: true}}
"""
Numbers = dict[tuple[str, str], tuple[float, float, float]]


def numbers_of(book: Rulebook, units: UnitTable) -> Numbers:
    """Low, start, high by metal and topic, of 6 mm butts."""
    found: Numbers = {}
    for metal in METALS:
        job = JobBuilder(book, units).build({"members": [{"metal": metal, "thickness": "6 mm"}], "joint": "butt"})
        advice = advise(book, job)
        for name, item in {**advice.settings, **advice.preparation}.items():
            if name in GUARDED:
                found[metal, name] = (item.low, item.start, item.high)
    return found


@pytest.fixture
def with_rule(tmp_path: Path, units: UnitTable) -> Callable[..., Numbers]:
    def made(topic: str, effect: str, layer: str = "shop", more: str = "") -> Numbers:
        path = tmp_path / "own.yaml"
        path.write_text(RULE.format(topic=topic, effect=effect, more=more), encoding="utf-8")
        book = open_rules([Layer(layer, path)])
        assert not book.left_out, book.left_out
        return numbers_of(book, units)

    return made


@pytest.mark.parametrize("layer", ["shop", "machine", "job"])
@pytest.mark.parametrize(
    ("topic", "effect"),
    [
        ("preheat", "start: {value: 400 degC}"),
        ("interpass", "start: {low: 30 degC, high: 400 degC}"),
        ("preheat", "adjust: {factor: 2.0}"),
        ("interpass", "adjust: {offset: 150 degC}"),
        ("preheat", "limit: {floor: 380 degC}"),
        ("lens_shade", "start: {value: 5}"),
        ("lens_shade", "adjust: {factor: 0.5}"),
        ("lens_shade", "limit: {ceiling: 4}"),
    ],
)
def test_no_layer_loosens_them(
    with_rule: Callable[..., Numbers], rulebook: Rulebook, units: UnitTable, layer: str, topic: str, effect: str
) -> None:
    shipped, own = numbers_of(rulebook, units), with_rule(topic, effect, layer)
    assert any(name == topic for _, name in shipped)
    for key, (low, _, high) in shipped.items():
        if key[1] == "lens_shade":
            assert own[key][0] >= low, key
        else:
            assert own[key][2] <= high, key


@pytest.mark.parametrize(
    ("topic", "effect", "numbers"),
    [
        ("preheat", "start: {value: 60 degC}", (60, 60, 60)),
        ("interpass", "limit: {ceiling: 50 degC}", (50, 50, 50)),
        ("lens_shade", "start: {value: 14}", (14, 14, 14)),
    ],
)
def test_every_layer_may_make_them_stricter(
    with_rule: Callable[..., Numbers], topic: str, effect: str, numbers: tuple[float, ...]
) -> None:
    assert with_rule(topic, effect)["6061", topic] == pytest.approx(numbers)


def test_where_nothing_is_shipped_ones_own_stands(with_rule: Callable[..., Numbers], rulebook: Rulebook) -> None:
    assert with_rule("preheat", "start: {value: 150 degC}")["304", "preheat"] == pytest.approx((150, 150, 150))


@pytest.mark.parametrize("target", ["preheat.aluminium.navy", "interpass.aluminium.7xxx", "shade.z49"])
def test_none_of_their_rules_can_be_replaced(with_rule: Callable[..., Numbers], target: str) -> None:
    with pytest.raises(PrestrikeError, match="keeps people from harm cannot be replaced"):
        with_rule("preheat", "start: {value: 400 degC}", more=f"overrides: {target}\n    reason: We know better.")


def test_the_trail_says_that_it_was_held(rulebook: Rulebook, tmp_path: Path, units: UnitTable) -> None:
    path = tmp_path / "own.yaml"
    path.write_text(RULE.format(topic="preheat", effect="start: {value: 400 degC}", more=""), encoding="utf-8")
    book = open_rules([Layer("shop", path)])
    job = JobBuilder(book, units).build({"members": [{"metal": "6061", "thickness": "6 mm"}], "joint": "butt"})
    trail = advise(book, job).preparation["preheat"].trail
    assert any("held to the shipped ceiling" in step.text for step in trail)
