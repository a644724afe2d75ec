"""Rule files with letters and lines changed at random: findings or none, each with a place, and never anything else."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.rules.test_seeded_faults import GOOD, check

PIECES = [
    "",
    " ",
    "\t",
    "\n",
    ":",
    "- ",
    "{",
    "}",
    "[",
    "]",
    '"',
    "&a ",
    "*a",
    "!!python/x ",
    "#",
    "0",
    "mm",
    "ä",
    "\x00",
    "|",
]
LINES = GOOD.splitlines(keepends=True)


@given(st.lists(st.tuples(st.integers(0, len(GOOD) - 1), st.integers(0, 6), st.sampled_from(PIECES)), max_size=4))
@settings(max_examples=120, deadline=None)
def test_changed_letters_give_findings_with_a_place_or_none(changes: list[tuple[int, int, str]]) -> None:
    text = GOOD
    for at, gone, put in changes:
        text = text[:at] + put + text[at + gone :]
    for finding in check(text):
        assert finding["message"] and finding["line"] >= 1 and finding["column"] >= 1, finding


@given(st.permutations(range(len(LINES))), st.integers(2, len(LINES)))
@settings(max_examples=40, deadline=None)
def test_lines_swapped_and_lost_give_findings_with_a_place_or_none(order: list[int], kept: int) -> None:
    lines = list(LINES)
    first, second = order[0], order[1]
    lines[first], lines[second] = lines[second], lines[first]
    for finding in check("".join(lines[:kept])):
        assert finding["message"] and finding["line"] >= 1 and finding["column"] >= 1, finding
