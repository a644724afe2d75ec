"""Beads drawn from the model itself, many at once, for tests of calibration and of the next check."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from advisor.faults.model import NO_SINGLE_CAUSE, Model, Statement
from advisor.faults.scale import UNSETTLED

Floats = NDArray[np.float64]


class World(NamedTuple):
    """A model as arrays. outcomes: causes and last no single cause; prior [outcome];
    shares: for each variable [outcome, state]; signs: for each variable its signs; there: [sign, state] of each."""

    model: Model
    outcomes: tuple[str, ...]
    prior: Floats
    shares: tuple[Floats, ...]
    signs: tuple[tuple[str, ...], ...]
    there: tuple[NDArray[np.bool_], ...]


def world_of(model: Model) -> World:
    """The arrays of a model."""
    outcomes = (*model.causes, NO_SINGLE_CAUSE)
    prior = np.array([*model.prior.values(), UNSETTLED])
    variables = sorted({model.variable_of(name) for name in model.observations})
    shares, signs, there = [], [], []
    for variable in variables:
        states, rows = model.table(variable)
        members = tuple(name for name in model.observations if model.variable_of(name) == variable)
        shares.append(np.array([rows[outcome] for outcome in outcomes]))
        signs.append(members)
        there.append(np.array([[name in state for state in states] for name in members]))
    return World(model, outcomes, prior / prior.sum(), tuple(shares), tuple(signs), tuple(there))


class Beads(NamedTuple):
    """Beads drawn. truth: outcome of each; present: for each variable [bead, sign]."""

    truth: NDArray[np.int64]
    present: tuple[NDArray[np.bool_], ...]


def draw(world: World, count: int, rng: np.random.Generator) -> Beads:
    """Beads whose cause and signs are drawn as the model says."""
    truth = rng.choice(len(world.outcomes), size=count, p=world.prior)
    present = []
    for shares, there in zip(world.shares, world.there, strict=True):
        edges = np.cumsum(shares, axis=1)[truth]
        state = (rng.random((count, 1)) > edges[:, :-1]).sum(axis=1)
        present.append(there[:, state].T)
    return Beads(truth, tuple(present))


def told(world: World, place: int, statement: Statement) -> Floats:
    """[sign, outcome] probability of a statement on each sign of a variable."""
    reading = statement.reading
    chance = np.where(world.there[place], reading.when_there, reading.when_not)
    return chance @ world.shares[place].T


def posterior(logs: Floats) -> Floats:
    """Probabilities from log weights, over the last axis."""
    raised = np.exp(logs - logs.max(axis=-1, keepdims=True))
    return np.asarray(raised / raised.sum(axis=-1, keepdims=True))


def reliability(stated: Floats, right: NDArray[np.bool_], low: float, high: float) -> tuple[float, int]:
    """(share that is right, how many) of the beads whose stated probability lies between."""
    chosen = (stated >= low) & (stated < high)
    return float(right[chosen].mean()) if chosen.any() else float("nan"), int(chosen.sum())


def one_sign_each(world: World, rng: np.random.Generator, count: int, most: int) -> Sequence[NDArray[np.int64]]:
    """For each bead some variables to ask about, and one sign of each: [bead, most] places and signs."""
    places = np.array([rng.permutation(len(world.signs))[:most] for _ in range(count)])
    sizes = np.array([len(names) for names in world.signs])
    return places, (rng.random(places.shape) * sizes[places]).astype(int)
