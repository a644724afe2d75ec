"""Steps read as the work goes: set up before the first tack, and every list of steps is on every form of the answer."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import product

import pytest

from advisor.answer.answer import Advice
from advisor.heat.answer import HeatAnswer
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import STEP_TOPICS, advise
from advisor.setup.as_json import advice_json
from advisor.sheet.data import sheet_data
from advisor.sheet.sources import STEPS as ON_SHEET
from advisor.shop_rules.diff import _STEPS as COMPARED
from advisor.shop_rules.recheck import _STEPS as RECHECKED
from advisor.units.quantities import UnitTable

METALS = ("6061-T6", "5086", "A36", "304", "4130")
PROCESSES = ("141", "131", "135", "111")
JOINTS = ("butt", "tee", "lap", "corner-half-open", "corner-closed")
# Ids of holding steps that only make sense before anything is fixed, and of those that speak of welding itself.
BEFORE = ("hold.jig", "hold.chill", "clamp.bright", "purge.close", "purge.vent", "purge.flush", "purge.thin-fillet",
          "hold.stainless", "hold.tabs", "hold.preset", "hold.vent")  # fmt: skip
WHILE = ("purge.while", "purge.stop", "hold.order", "hold.balance", "hold.let-cool", "hold.frame-order")


@pytest.fixture(scope="module")
def answers(rulebook: Rulebook, units: UnitTable) -> list[Advice]:
    def every() -> Iterator[Advice]:
        for metal, process, joint in product(METALS, PROCESSES, JOINTS):
            members = [{"metal": metal, "thickness": "2 mm", "form": form} for form in ("sheet", "tube")]
            data = {"members": members, "joint": joint, "process": process, "service": ["leak-tight"]}
            yield advise(rulebook, JobBuilder(rulebook, units).build(data))

    found = [advice for advice in every() if advice.status == "advised"]
    assert len(found) > 40
    return found


def test_what_is_set_up_stands_before_the_first_tack(answers: list[Advice]) -> None:
    seen = set()
    for advice in answers:
        ids = [step.rule_id for step in advice.steps["holding_step"]]
        tacks = [place for place, name in enumerate(ids) if name.startswith("hold.tack")]
        assert tacks, ids
        for place, name in enumerate(ids):
            seen.add(name)
            assert name not in BEFORE or place < tacks[0], (name, ids)
            assert name not in WHILE or place > tacks[-1], (name, ids)
    assert {"clamp.bright", "purge.flush", "purge.while", "hold.tabs", "hold.frame-order", "hold.stainless"} <= seen


def test_no_step_is_said_twice(answers: list[Advice]) -> None:
    for advice in answers:
        said = [step.do for steps in advice.steps.values() for step in steps]
        assert len(said) == len(set(said))
        everything = " ".join(said).casefold()
        assert everything.count("work clamp on bright") == 1
        assert everything.count("foil") <= 1


def test_the_panel_agrees_with_the_arc(answers: list[Advice]) -> None:
    """The panel sets what is advised; only the steps at the arc trim it, volts before feed."""
    for advice in answers:
        panel = " ".join(step.do for step in advice.steps["panel_step"])
        assert panel
        assert "feed first" not in panel


def test_purge_steps_only_where_the_root_is_purged(rulebook: Rulebook, units: UnitTable) -> None:
    for backing, purged in (("purge", True), ("copper", False)):
        data = {"members": [{"metal": "304", "thickness": "2 mm"}], "joint": "butt", "backing": backing}
        advice = advise(rulebook, JobBuilder(rulebook, units).build(data))
        told = [step for step in advice.steps["holding_step"] if step.rule_id.startswith("purge.")]
        assert bool(told) is purged


def test_every_list_of_steps_is_on_sheet_json_recheck_and_diff() -> None:
    topics = set(STEP_TOPICS)
    assert {topic for topic, _ in ON_SHEET} == topics
    short = {topic.removesuffix("_step") for topic in topics} - {"edge"}
    assert set(RECHECKED) == set(COMPARED) == short


@pytest.mark.parametrize(
    ("words", "titles"),
    [
        ({"metal": "6061-T6", "joint": "butt", "service": ["heat-treated-after"]}, ("At the panel", "After the weld")),
        ({"metal": "3003", "joint": "lap", "process": "912"}, ("After the flame",)),
        ({"metal": "A36", "joint": "tee", "process": "135"}, ("At the panel",)),
    ],
)
def test_sheets_show_panel_and_afterwards(
    rulebook: Rulebook, units: UnitTable, words: dict[str, object], titles: tuple[str, ...]
) -> None:
    metal = words.pop("metal")
    data = {"members": [{"metal": metal, "thickness": "3 mm"}], **words}
    advice = advise(rulebook, JobBuilder(rulebook, units).build(data))
    nothing = HeatAnswer(advice, None, None, (), None, None, None, (), None, (), (), ())
    shown = sheet_data(nothing, units, [], date(2026, 11, 27), False)
    found = [group["title"] for group in shown["steps"]]
    assert [title for title in titles if title not in found] == []
    at_work = next(place for place, title in enumerate(found) if title in ("At the arc", "At the flame"))
    assert all((found.index(title) > at_work) is title.startswith("After") for title in titles)
    assert "after" in advice_json(advice)
