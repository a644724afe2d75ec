"""What the machine at hand can give: a range beyond it is not offered, and what it cannot set is not advised."""

from __future__ import annotations

from advisor.answer.answer import Setting
from advisor.job.job import Machine
from advisor.rulebook.settle import Step

_CONTROLS = {"ac_balance": "balance_control", "ac_frequency": "frequency_control"}


def can_set(machine: Machine | None, topic: str) -> bool:
    """Whether a number can be set at all; only a machine that states it has no such control cannot."""
    control = _CONTROLS.get(topic)
    return machine is None or control is None or getattr(machine, control) is not False


def within(machine: Machine | None, wanted: Setting) -> Setting:
    """The current that this machine can give of what the seam wants.

    A seam that lies wholly outside keeps its start alone, as what the seam wants: no range is offered there.
    """
    if machine is None:
        return wanted
    name = machine.name or "this machine"
    least, most = machine.low or 0.0, machine.high if machine.high is not None else float("inf")
    if least <= wanted.low and wanted.high <= most:
        return wanted
    if most < wanted.low or wanted.high < least:
        low = start = high = wanted.start
        text = f"{name} cannot give it: what the seam wants stands alone, without a range"
    else:
        low, start, high = (min(max(value, least), most) for value in (wanted.low, wanted.start, wanted.high))
        text = f"held to what {name} gives"
    step = Step("limit", text, low=low, start=start, high=high, because="A range beyond the machine cannot be set.")
    return wanted._replace(low=low, start=start, high=high, trail=(*wanted.trail, step))
