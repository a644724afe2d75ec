"""The fillet leg a person asks for: it stands in place of the advised one, with the throat that follows from it."""

from __future__ import annotations

from advisor.answer.answer import Setting
from advisor.rulebook.settle import Step
from advisor.units.formatting import mm_and_inch


def with_leg(numbers: dict[str, Setting], leg: float) -> str:
    """Put the leg [mm] in place of the advised one. Returns what to say: its throat, and what is advised."""
    advised = numbers.get("fillet_leg")
    said = f"the leg of {mm_and_inch(leg)} you ask for makes a throat of {mm_and_inch(leg / 2**0.5)}"
    if advised is None:
        return f"{said}; no rule here gives a leg to hold it against"
    step = Step("wanted", "the leg asked for", low=leg, start=leg, high=leg, because="You gave --leg.")
    numbers["fillet_leg"] = advised._replace(
        low=leg, start=leg, high=leg, note="the leg you ask for", trail=(*advised.trail, step)
    )
    span = f"{mm_and_inch(advised.low)} to {mm_and_inch(advised.high)}"
    if leg > advised.high * 1.01:
        return f"{said}; that is more than the {span} advised: it takes more heat, and bends the part more"
    if leg < advised.low * 0.99:
        return f"{said}; that is less than the {span} advised: it may not fuse to the corner"
    return f"{said}; advised: {span}"
