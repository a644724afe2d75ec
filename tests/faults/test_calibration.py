"""What is stated against what is so, on beads drawn from the model itself with a fifth of the answers wrong."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.faults.knowledge import read_knowledge
from advisor.faults.model import Model, Statement
from advisor.faults.scale import SEEN
from advisor.rulebook.library import Rulebook
from tests.faults.simulation import World, draw, one_sign_each, posterior, reliability, told, world_of

_WRONG = 0.2
_BEADS = 12_000
# How much of what is there a person mentions unasked; that little of a bead is told is why cases are hard.
_MENTIONED = 0.4


@pytest.fixture(scope="module", params=["aluminium", "stainless"])
def world(request: pytest.FixtureRequest, rulebook: Rulebook) -> World:
    return world_of(Model(read_knowledge(rulebook.index), [request.param], "141"))


def test_the_arrays_are_the_model(world: World) -> None:
    rng = np.random.default_rng(1)
    places, signs = one_sign_each(world, rng, 5, 8)
    for row, chosen in zip(places, signs, strict=True):
        answers = rng.random(len(row)) < 0.5
        logs = np.log(world.prior)
        said = {}
        for place, sign, yes in zip(row, chosen, answers, strict=True):
            said[world.signs[place][sign]] = Statement(bool(yes))
            logs = logs + np.log(told(world, place, Statement(bool(yes)))[sign])
        belief = world.model.believe(said)
        assert posterior(logs) == pytest.approx([belief.probabilities[name] for name in world.outcomes], abs=1e-9)


def test_stated_70_percent_is_right_60_to_80_percent_of_the_time_with_a_fifth_of_answers_wrong(world: World) -> None:
    rng = np.random.default_rng(20)
    beads = draw(world, _BEADS, rng)
    places, signs = one_sign_each(world, rng, _BEADS, len(world.signs))
    wrong = rng.random(places.shape) < _WRONG
    logs = np.tile(np.log(world.prior), (_BEADS, 1))
    for place in range(len(world.signs)):
        bead, at = np.nonzero(places == place)
        sign = signs[bead, at]
        answer = beads.present[place][bead, sign] ^ wrong[bead, at]
        yes, no = (np.log(told(world, place, Statement(present))) for present in (True, False))
        logs[bead] += np.where(answer[:, None], yes[sign], no[sign])
    _is_calibrated(posterior(logs), beads.truth)


def test_stated_70_percent_is_right_60_to_80_percent_of_the_time_when_a_fifth_of_what_is_mentioned_is_wrong(
    world: World,
) -> None:
    rng = np.random.default_rng(21)
    beads = draw(world, _BEADS, rng)
    logs = np.tile(np.log(world.prior), (_BEADS, 1))
    mentions = np.zeros(2)
    for place, present in enumerate(beads.present):
        # Of signs that exclude one another one at most is mentioned: a person says where the pores are once.
        chance = np.where(present, _MENTIONED, _MENTIONED * SEEN.when_not / SEEN.when_there)
        mentioned = rng.random(present.shape) < chance
        mentioned &= np.cumsum(mentioned, axis=1) == 1
        mentions += (mentioned & ~present).sum(), mentioned.sum()
        bead, sign = np.nonzero(mentioned)
        logs[bead] += np.log(told(world, place, Statement(True, "seen")))[sign]
    assert 0.15 < mentions[0] / mentions[1] < 0.25
    _is_calibrated(posterior(logs), beads.truth)


def _is_calibrated(stated: np.ndarray, truth: np.ndarray) -> None:
    causes = stated[:, :-1]
    top, right = causes.max(axis=1), causes.argmax(axis=1) == truth
    for low, high, least, most in ((0.65, 0.75, 0.60, 0.80), (0.35, 0.45, 0.30, 0.50), (0.85, 0.95, 0.80, 1.0)):
        share, count = reliability(top, right, low, high)
        assert count > 80 and least <= share <= most, (low, high, share, count)
