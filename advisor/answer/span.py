"""A figure that is known as a range with a start: what is worked out from the advice stays one."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple


class Span(NamedTuple):
    """low to high, and where to begin; low <= start <= high. The unit is that of the field it stands in."""

    low: float
    start: float
    high: float

    @classmethod
    def of(cls, value: float) -> Span:
        """A figure known as one number."""
        return cls(value, value, value)

    def map(self, rule: Callable[[float], float]) -> Span:
        """Each end through a rule that rises with its figure."""
        return Span(rule(self.low), rule(self.start), rule(self.high))

    def times(self, factor: float) -> Span:
        """All of it so many times, factor 0 or more."""
        return self.map(lambda value: value * factor)

    def by(self, other: Span) -> Span:
        """Product, end by end: both small, both at the start, both large."""
        return Span(self.low * other.low, self.start * other.start, self.high * other.high)

    def over(self, other: Span) -> Span:
        """Quotient: the least is the smallest over the largest."""
        return Span(self.low / other.high, self.start / other.start, self.high / other.low)

    def plus(self, other: Span) -> Span:
        """Sum, end by end."""
        return Span(self.low + other.low, self.start + other.start, self.high + other.high)


def total(spans: Iterable[Span]) -> Span:
    """Sum of any number, 0 of none."""
    found = Span.of(0.0)
    for span in spans:
        found = found.plus(span)
    return found
