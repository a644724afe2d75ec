"""Laws of the model, and that it says what the catalogue says."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.faults.knowledge import Knowledge, read_knowledge
from advisor.faults.model import Model, Statement
from advisor.faults.recognise import SignRecogniser
from advisor.rulebook.library import Rulebook
from advisor.shop.rules_in_force import open_rules

METALS = ("aluminium", "carbon-steel", "low-alloy-steel", "stainless")
PROCESSES = ("141", "131", "135", "111")
WORD = {"++": "strongly-for", "+": "for", "-": "against", "--": "strongly-against"}


@pytest.fixture(scope="module")
def knowledge(rulebook: Rulebook) -> Knowledge:
    return read_knowledge(rulebook.index)


def every_model(knowledge: Knowledge) -> list[Model]:
    named = [Model(knowledge, [metal], process) for metal in METALS for process in PROCESSES]
    return [*named, Model(knowledge), Model(knowledge, ["aluminium", "stainless"], "141")]


_SAID = st.dictionaries(
    st.integers(0, 200), st.tuples(st.booleans(), st.sampled_from(["seen", "answer", "fact"])), max_size=9
)


@settings(max_examples=60, deadline=None)
@given(_SAID, st.randoms())
def test_the_order_of_answers_never_changes_the_result(picked: dict[int, tuple[bool, str]], rng: random.Random) -> None:
    model = Model(read_knowledge(open_rules().index), ["aluminium"], "141")
    said = named(model, picked)
    shuffled = list(said.items())
    rng.shuffle(shuffled)
    assert model.believe(said).probabilities == model.believe(dict(shuffled)).probabilities


@settings(max_examples=60, deadline=None)
@given(_SAID, st.integers(0, 200), st.booleans())
def test_withdrawing_an_answer_restores_exactly_what_was(
    picked: dict[int, tuple[bool, str]], more: int, yes: bool
) -> None:
    model = Model(read_knowledge(open_rules().index), ["stainless"], "141")
    said = named(model, picked)
    name = list(model.observations)[more % len(model.observations)]
    said.pop(name, None)
    before = model.believe(said).probabilities
    model.believe({**said, name: Statement(yes)})
    assert model.believe(said).probabilities == before
    assert sum(before.values()) == pytest.approx(1.0)


def named(model: Model, picked: dict[int, tuple[bool, str]]) -> dict[str, Statement]:
    names = list(model.observations)
    return {names[at % len(names)]: Statement(yes, how) for at, (yes, how) in picked.items()}


def test_every_cause_can_be_reached(knowledge: Knowledge) -> None:
    """All that speaks strongly for a cause puts it first, for some metal and process it may have."""
    for cause in knowledge.causes.values():
        model = Model(knowledge, cause.metals[:1], (cause.processes or ("",))[0])
        signs = [name for name, sign in cause.signs.items() if sign.speaks == "strongly-for"]
        said = {name: Statement(True, "seen") for name in signs if name in model.observations}
        assert model.believe(said).ranked[0][0] == cause.id, cause.alias


def test_no_cause_exceeds_95_percent_on_one_observation(knowledge: Knowledge) -> None:
    for model in every_model(knowledge):
        for name in model.observations:
            for how in ("seen", "answer", "fact"):
                for present in (True, False):
                    top = model.believe({name: Statement(present, how)}).ranked[0]
                    assert top[1] <= 0.95, (name, how, present, top)


def test_what_cannot_be_is_ruled_out_by_metal_and_process(knowledge: Knowledge) -> None:
    steel = Model(knowledge, ["carbon-steel"], "141")
    assert not {"balance-too-positive", "balance-too-negative", "no-back-gas", "oxide-left"} & set(steel.causes)
    assert not {"damp-electrodes", "wire-polarity", "strike-technique"} & set(steel.causes)
    aluminium = Model(knowledge, ["aluminium"], "141")
    assert not {"scale-or-rust", "torch-positive", "no-back-gas"} & set(aluminium.causes)
    assert "damp-electrodes" in Model(knowledge, ["carbon-steel"], "111").causes
    assert not {"tungsten-contaminated", "rod-handling"} & set(Model(knowledge, ["carbon-steel"], "135").causes)


def test_a_sign_that_speaks_for_a_cause_raises_it_and_one_against_lowers_it(knowledge: Knowledge) -> None:
    model = Model(knowledge, ["aluminium"], "141")
    for cause in model.causes.values():
        for name, sign in cause.signs.items():
            if name not in model.observations or model.observations[name].group:
                continue
            factor = model.weigh(cause.id, {name: Statement(True, "seen")})[0].factor
            raised = sign.speaks in ("for", "strongly-for")
            assert factor > 1.0 if raised else factor < 1.0, (cause.alias, name, factor)


def test_aliases_and_strengths_are_those_of_the_matrix_first_agreed(knowledge: Knowledge) -> None:
    """Golden: `matrix.txt` is our judged matrix of causes O01 to O30, priors H M L, typed a second time."""
    aliases = {cause.alias: cause for cause in knowledge.causes.values()}
    signs = {item.alias: item.id for item in knowledge.observations.values()}
    assert {f"O{n:02d}" for n in range(1, 31)} <= set(signs) and {f"C{n:02d}" for n in range(1, 43)} <= set(aliases)
    cells = 0
    for line in (Path(__file__).parent / "matrix.txt").read_text(encoding="utf-8").splitlines():
        alias, prior, *row = line.split()
        cause = aliases[alias]
        assert cause.prior[0].upper() == prior
        for cell in row:
            sign, strength = cell.split(":")
            assert cause.signs[signs[sign]].speaks == WORD[strength], (alias, cell)
            cells += 1
    assert cells == 257


def test_every_phrase_of_the_catalogue_is_heard_as_its_own_sign_and_no_other(knowledge: Knowledge) -> None:
    listener = SignRecogniser(knowledge.observations)
    for item in knowledge.observations.values():
        for phrase in item.words:
            heard = listener.listen(phrase)
            assert [(found.id, found.present, found.guessed) for found in heard] == [(item.id, True, False)], phrase
        for phrase in item.words_against:
            assert [(found.id, found.present) for found in listener.listen(phrase)] == [(item.id, False)], phrase


def test_every_sign_has_words_and_every_cause_a_check_and_a_remedy_that_joins_the_next_setup(
    knowledge: Knowledge,
) -> None:
    told = {name for check in knowledge.checks.values() for name in check.tells}
    for cause in knowledge.causes.values():
        strong = {name for name, sign in cause.signs.items() if sign.speaks == "strongly-for"}
        assert strong & told, cause.alias
        remedies = [item for item in knowledge.remedies.values() if cause.id in item.causes]
        assert remedies and all(item.step for item in remedies), cause.alias
