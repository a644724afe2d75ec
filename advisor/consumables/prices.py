"""The user's own prices: `12 EUR/kg`, `$9 / lb`, `80 EUR / 2.1 m3`. Any currency label; none is converted."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from advisor.answer.span import Span, total
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.units.quantities import UnitTable, parse_quantity

_AMOUNT = r"(?P<amount>[0-9]+\.?[0-9]*|\.[0-9]+)"
_LABEL = r"(?P<label>[^\s0-9/.,+\-]+)"
_PRICE = (
    re.compile(rf"{_AMOUNT}\s*{_LABEL}\s*(?:/|per\b)\s*(?P<per>.+)"),
    re.compile(rf"{_LABEL}\s*{_AMOUNT}\s*(?:/|per\b)\s*(?P<per>.+)"),
)
_EXAMPLE = {"mass": "12 EUR/kg or $9/lb", "volume": "25 EUR/m3, or what a fill cost over what it held: 80 EUR / 2.1 m3"}


class Price(NamedTuple):
    """Money for one house unit (g, L) of a thing; label: the currency as the user wrote it."""

    each: float
    label: str
    text: str


class Cost(NamedTuple):
    """What a thing of the job costs, in the user's currency."""

    thing: str
    money: Span
    label: str


def parse_price(text: str, kind: str, units: UnitTable, flag: str) -> Price:
    """The price a text means. kind: mass or volume. Raises PrestrikeError with the repair."""
    said = text.strip()
    match = next((found for pattern in _PRICE if (found := pattern.fullmatch(said))), None)
    if match is None:
        reason = "has a comma" if re.search(r"[0-9],[0-9]", said) else "is no price: money for a quantity"
        raise _bad(f"'{text}' {reason}", kind, flag)
    amount = float(match["amount"])
    if amount <= 0:
        raise _bad(f"'{text}' is no price above zero", kind, flag)
    per = match["per"].strip()
    quantity = parse_quantity(per if re.match(r"[0-9.]", per) else f"1 {per}", kind, table=units)
    return Price(amount / quantity.value, match["label"], said)


def _bad(message: str, kind: str, flag: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("price", message, subject=flag, help=f"write for example {_EXAMPLE[kind]}"))


def total_cost(costs: Sequence[Cost]) -> Cost | None:
    """The sum, where all are in one currency and there is more than one."""
    if len(costs) < 2 or len({cost.label for cost in costs}) > 1:
        return None
    return Cost("together", total(cost.money for cost in costs), costs[0].label)
