"""Whether the machine at hand can do the seam: never a clipped number, always said."""

from __future__ import annotations

from advisor.answer.answer import Instruction, MachineVerdict, Setting
from advisor.job.job import Machine
from advisor.physics.duty_cycle import arc_minutes, duty_at
from advisor.physics.ranges import PhysicsRangeError


def verdict(
    machine: Machine | None, current: Setting, polarity: str, reach: tuple[Instruction, ...]
) -> MachineVerdict | None:
    """What the machine can do of the current the seam wants. reach: steps that help a short machine."""
    if machine is None:
        return None
    name = machine.name or "this machine"
    if polarity == "AC" and machine.current_type == "dc":
        text = (
            f"{name} gives direct current only: it cannot clean aluminium oxide in argon. Use an AC machine "
            "(helium with the electrode negative is specialist work)."
        )
        if machine.high is not None and machine.high < current.start:
            text += f" Nor does it reach the start of {current.start:.0f} A: it ends at {machine.high:g} A."
        return MachineVerdict("wrong-current", text, reach)
    if machine.low is not None and current.high < machine.low:
        text = f"{name} goes down to {machine.low:g} A only; the seam wants {current.low:.0f}-{current.high:.0f} A."
        return MachineVerdict("short", text)
    if machine.high is None:
        return MachineVerdict("unknown", f"{name}: its highest current is not stated, so its reach is not checked.")
    if machine.high < current.low:
        text = (
            f"{name} ends at {machine.high:g} A; the seam wants {current.low:.0f}-{current.high:.0f} A. "
            "It cannot do this seam as it stands."
        )
        return MachineVerdict("short", text, reach)
    if machine.high < current.start:
        text = (
            f"{name} ends at {machine.high:g} A; the seam wants {current.start:.0f} A to start with. The range above "
            "ends where the machine does, with nothing in hand for a cold start."
        )
        return _with_duty(MachineVerdict("short", text, reach), machine, machine.high)
    start = max(current.start, machine.low or 0.0)
    text = f"{name} reaches the start of {start:.0f} A"
    text += "." if machine.high >= current.high else f"; the range above ends where it does, at {machine.high:g} A."
    if start > current.start:
        text += f" The seam would start at {current.start:.0f} A, and the machine goes no lower than {start:g} A."
    text += torch_note(machine, start)
    return _with_duty(MachineVerdict("reaches", text), machine, start)


def torch_note(machine: Machine, current: float) -> str:
    """A warning where the torch is rated below the current; empty otherwise."""
    if machine.torch_limit is None or current <= machine.torch_limit:
        return ""
    return (
        f" The torch is rated {machine.torch_limit:g} A: at {current:.0f} A it overheats; use a larger or a "
        "water-cooled one, or short runs well inside its duty."
    )


def _with_duty(found: MachineVerdict, machine: Machine, current: float) -> MachineVerdict:
    if not machine.duty:
        return found
    points = [(point.current, point.percent / 100) for point in machine.duty]
    try:
        share = duty_at(current, points, machine.high)
    except PhysicsRangeError as error:
        text = f"{found.message} {error.diagnostics[0].message}"
        return MachineVerdict(found.status, text, found.steps)
    minutes = arc_minutes(share)
    return MachineVerdict(found.status, found.message, found.steps, share * 100, minutes)
