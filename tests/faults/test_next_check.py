"""The next check shortens the way to the cause: beads drawn from the model, checks by worth and in fixed order."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest

from advisor.faults.knowledge import read_knowledge
from advisor.faults.model import Model, Statement
from advisor.faults.next_check import best_checks, best_questions, expected_gain
from advisor.rulebook.library import Rulebook
from tests.faults.simulation import draw, world_of

_BEADS = 40
_WRONG = 0.2
Step = tuple[str, tuple[str, ...]]
Choose = Callable[[Model, dict[str, Statement], Sequence[str]], Step | None]


@pytest.fixture(scope="module")
def model(rulebook: Rulebook) -> Model:
    return Model(read_knowledge(rulebook.index), ["aluminium"], "141")


def in_fixed_order(model: Model, said: dict[str, Statement], done: Sequence[str]) -> Step | None:
    """Every question in the order of its number, then every check in the order of its number."""
    asked = [item for item in model.observations.values() if item.about in ("symptom", "deed")]
    steps = [(item.id, (item.id,)) for item in sorted(asked, key=lambda item: item.alias)]
    steps += [(check.id, check.tells) for check in sorted(model.checks.values(), key=lambda check: check.alias)]
    return next((step for step in steps if step[0] not in done and step[0] not in said), None)


def by_what_it_tells(model: Model, said: dict[str, Statement], done: Sequence[str]) -> Step | None:
    """The question or check that is expected to tell most."""
    offers = [*best_questions(model, said, done)[:1], *best_checks(model, said, done)[:1]]
    best = max(offers, key=lambda worth: worth.gain, default=None)
    if best is None:
        return None
    return best.id, model.checks[best.id].tells if best.id in model.checks else (best.id,)


def steps_needed(model: Model, cause: str, truth: dict[str, bool], first: str, choose: Choose, seed: int) -> int:
    """How many questions and checks until the true cause is first, a fifth of what they tell being wrong."""
    rng = np.random.default_rng(seed)
    wrong = {name: bool(rng.random() < _WRONG) for name in sorted(truth)}
    said = {first: Statement(True, "seen")}
    done: list[str] = []
    while model.believe(said).ranked[0][0] != cause:
        step = choose(model, said, done)
        if step is None:
            break
        done.append(step[0])
        for name in step[1]:
            if name in truth and name not in said:
                said[name] = Statement(truth[name] ^ wrong[name])
    return len(done)


def test_mean_checks_to_the_true_cause_are_at_least_30_percent_fewer_than_in_fixed_order(model: Model) -> None:
    world = world_of(model)
    beads = draw(world, 4 * _BEADS, np.random.default_rng(7))
    found: dict[str, list[int]] = {"told": [], "fixed": []}
    for bead in range(4 * _BEADS):
        cause = world.outcomes[beads.truth[bead]]
        truth = {
            name: bool(present[bead, at])
            for names, present in zip(world.signs, beads.present, strict=True)
            for at, name in enumerate(names)
        }
        shown = [name for name, there in truth.items() if there and model.observations[name].about == "symptom"]
        if cause not in model.causes or not shown or len(found["told"]) == _BEADS:
            continue
        found["told"].append(steps_needed(model, cause, truth, shown[0], by_what_it_tells, bead))
        found["fixed"].append(steps_needed(model, cause, truth, shown[0], in_fixed_order, bead))
    assert len(found["told"]) == _BEADS
    assert np.mean(found["told"]) <= 0.7 * np.mean(found["fixed"]), {name: np.mean(n) for name, n in found.items()}


def test_no_answer_is_expected_to_tell_less_than_nothing_or_more_than_is_not_known(model: Model) -> None:
    for said in ({}, {"soot": Statement(True, "seen")}, {"crack-somewhere": Statement(True, "seen")}):
        unknown = model.believe(said).entropy()
        for name in model.observations:
            assert 0.0 <= expected_gain(model, said, (name,)) <= unknown


def test_a_check_is_named_only_where_one_of_its_signs_was_seen_and_still_tells(model: Model) -> None:
    said = {"crack-beside": Statement(True, "seen")}
    for worth in best_checks(model, said):
        check = model.checks[worth.id]
        assert not check.after or "crack-beside" in check.after
        assert any(name not in said for name in check.tells)
    assert "look-at-the-tungsten" not in {worth.id for worth in best_checks(model, said)}


@pytest.mark.parametrize(
    ("seen", "wanted"),
    [
        # What handbooks and threads would look at first; any of them is sensible.
        (["soot", "crust"], {"look-at-the-tungsten", "bead-without-rod-on-clean-scrap", "torch-upright"}),
        (["dirty-when-rod-added"], {"wipe-the-rod", "watch-the-rod"}),
        (["tungsten-balls"], {"balance-step", "look-at-leads", "look-at-the-tungsten", "measure-stick-out"}),
        (["crack-somewhere"], {"where-is-the-crack", "more-rod"}),
        (["crater-crack"], {"more-rod", "look-at-the-crater"}),
        (["drops-through"], {"less-heat", "read-the-dials", "measure-the-joint"}),
        (
            ["no-bead-on-back"],
            {
                "more-current",
                "look-at-the-back",
                "saw-and-etch",
                "break-a-coupon",
                "read-the-dials",
                "measure-the-joint",
            },
        ),
        (["distorted"], {"look-at-the-tacks"}),
        (
            ["pores-somewhere"],
            {"where-are-the-pores", "bead-without-rod-on-clean-scrap", "wipe-the-joint", "look-at-the-stock"},
        ),
        (
            ["pores-all-over", "gone-on-clean-scrap"],
            {"wipe-the-joint", "second-pass", "same-settings-on-the-part", "look-at-the-stock"},
        ),
    ],
)
def test_the_next_check_is_a_sensible_one(model: Model, seen: list[str], wanted: set[str]) -> None:
    assert best_checks(model, {name: Statement(True, "seen") for name in seen})[0].id in wanted


def test_what_is_decided_is_not_asked_again(model: Model) -> None:
    said = {"pores-at-start": Statement(True, "seen")}
    asked = {worth.id for worth in best_questions(model, said)}
    assert not asked & {"pores-at-stop", "pores-all-over", "pores-in-line", "pores-somewhere", "pores-at-start"}
