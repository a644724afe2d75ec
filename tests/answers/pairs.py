"""Lines of opposite sense: words that must never stand in one answer together."""

from __future__ import annotations

from collections.abc import Iterator

from tests.answers.finished import Finished

# Each side: words that a line holds, all of them; one line that holds both sides is an alternative and is let be.
OPPOSITE: tuple[tuple[tuple[str, ...], tuple[str, ...], str], ...] = (
    (("lean the torch away",), ("half the angle",), "lean away, and half the angle"),
    (("aim the arc at the thicker",), ("into the corner at half",), "at the thicker member, and into the corner"),
    (("favour the lower sheet",), ("thicker member",), "the lower sheet, and the thicker member"),
    (("take chill bars",), ("put a heavy copper",), "chill bars away, and chill bars beside"),
    (("take chill bars",), ("copper chills",), "chill bars away, and chill bars beside"),
    (("open the gas no further",), ("about twice the flow",), "no more gas, and twice the gas"),
    (("largest cup",), ("smallest cup",), "the largest cup, and the smallest"),
    (("clamp square",), ("set parts off",), "clamp square, and set off"),
    (("use more current",), ("bring the current down",), "more current, and less"),
    (("drag",), ("push the gun",), "drag, and push"),
    (("no preheat",), ("preheat to",), "no preheat, and preheat"),
    (("brush with steel only",), ("never touched carbon steel",), "any steel brush, and none that touched steel"),
    (("oven",), ("out of the oven",), "into the oven, and out of it"),
    (("uphill",), ("downhill is",), "uphill, and downhill"),
    (("trim flush",), ("leave the cap",), "trim, and leave"),
    (("run-on and run-off tabs",), ("box:",), "tabs, and corners of a box"),
    (("raise the ac frequency",), ("lower the ac frequency",), "raise, and lower the frequency"),
)


def opposite_words(answer: Finished) -> Iterator[tuple[str, str]]:
    """(kind, detail) for each pair of lines of opposite sense."""
    said = [(rule, text.casefold()) for rule, text in answer.said()]
    for one, other, kind in OPPOSITE:
        firsts = {rule for rule, text in said if all(word in text for word in one)}
        seconds = {rule for rule, text in said if all(word in text for word in other)}
        for first in sorted(firsts - seconds):
            for second in sorted(seconds - firsts):
                yield kind, f"{first} and {second}"
