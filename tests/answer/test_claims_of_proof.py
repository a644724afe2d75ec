"""What a screen claims of a plan is what the plan says of itself: no proof, no word of one."""

from __future__ import annotations

import pytest

from advisor.blanks.text import proof_of
from advisor.physics.nesting import Nest


@pytest.mark.parametrize(
    ("used", "bound", "said"),
    [
        (1.0, 1.0, "proven the least"),
        (1.0, 0.9991, "at most 0.1 % above the least possible"),
        (1.00001, 1.0, "at most 0.1 % above the least possible"),
        (4.0, 1.0, "at most 300.0 % above the least possible"),
    ],
)
def test_the_word_of_proof_follows_the_bound(used: float, bound: float, said: str) -> None:
    assert proof_of(Nest((), used, bound, 1e-3)) == said
