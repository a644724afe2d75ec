"""What the machine makes of this seam: arc time in the duty cycle; what preheat, helium or a bevel would bring."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from advisor.answer.settings import settled
from advisor.diagnostics import PrestrikeError
from advisor.job.facts import Workpiece
from advisor.job.job import Job, Machine
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook

START_C = 20.0
# Land left under a bevel: the 1 to 2 mm the groove rules give, middle; the root pass then melts a sheet of that.
LAND_MM = 2.0


class SeamTime(NamedTuple):
    """Arc time of the seam [s] at a current [A], the duty there, and how the ten-minute cycle takes it."""

    length_mm: float
    seconds: float
    current: float
    duty_percent: float | None
    text: str


class Reach(NamedTuple):
    """A way to need less current: the current it would then take [A], and how it is known."""

    way: str
    current: float
    text: str
    evidence: str


def seam_time(job: Job, current: float, travel_mm_min: float) -> SeamTime | None:
    """How long the arc burns on this seam, and whether the machine bears it in one go; None without a length."""
    if job.length is None:
        return None
    seconds = job.length.value / travel_mm_min * 60
    if job.machine is None or not job.machine.duty:
        text = f"{job.length.value:g} mm at {travel_mm_min:.0f} mm/min is {seconds:.0f} s of arc"
        return SeamTime(job.length.value, seconds, current, None, text)
    return _with_duty(job.machine, job.length.value, seconds, current)


def _with_duty(machine: Machine, length: float, seconds: float, current: float) -> SeamTime:
    from advisor.physics.duty_cycle import arc_minutes, duty_at

    at = min(current, machine.high or current)
    try:
        duty = duty_at(at, [(point.current, point.percent / 100) for point in machine.duty], machine.high)
    except PrestrikeError as error:
        text = f"{seconds:.0f} s of arc; duty not given: {error.diagnostics[0].message}"
        return SeamTime(length, seconds, at, None, text)
    allowed = arc_minutes(duty) * 60
    if duty >= 1.0 or seconds <= allowed:
        text = f"{seconds:.0f} s of arc: inside the {allowed:.0f} s in any ten minutes that {at:.0f} A allows"
    else:
        parts = math.ceil(seconds / allowed)
        rest = 600 - allowed
        text = (
            f"{seconds:.0f} s of arc, but {at:.0f} A allows {allowed:.0f} s in any ten minutes: weld it in "
            f"{parts} lengths "
            f"with {rest / 60:.1f} min of rest after each full one"
        )
    return SeamTime(length, seconds, at, duty * 100, text)


def ways_to_reach(
    rulebook: Rulebook, facts: Mapping[str, Fact], piece: Workpiece, current: float, preheat_c: float | None
) -> tuple[Reach, ...]:
    """What would lower the current this seam takes: preheat within its limit, helium, a bevel down to a land."""
    found = [_preheated(piece, current, preheat_c), _helium(facts, current), _bevelled(rulebook, facts, piece)]
    return tuple(reach for reach in found if reach is not None)


def _preheated(piece: Workpiece, current: float, preheat_c: float | None) -> Reach | None:
    from advisor.physics.heat_input import current_ratio_for_power

    solidus = piece.material.value("solidus")
    if preheat_c is None or solidus is None or preheat_c <= START_C:
        return None
    ratio = (solidus - preheat_c) / (solidus - START_C)
    needed = current_ratio_for_power(current, ratio)
    text = (
        f"preheated to its limit of {preheat_c:.0f} °C it takes {needed:.0f} A instead of "
        f"{current:.0f}, since the pool needs {1 - ratio:.0%} less power"
    )
    return Reach("preheat", needed, text, "computed")


def _helium(facts: Mapping[str, Fact], current: float) -> Reach | None:
    """Mathers Table 6.5 (read) prints 14-20 V for helium; 17 V at 80-120 A against the argon load line there."""
    from advisor.physics.heat_input import conventional_load_voltage, current_ratio_for_power

    if facts.get("base") != "aluminium":
        return None
    ratio = conventional_load_voltage("141", 100.0) / 17.0
    needed = current_ratio_for_power(current, ratio)
    text = (
        f"in helium the arc stands at about 17 V where argon stands at 14 (100 A), so the same power comes at about "
        f"{needed:.0f} A; a mix lies between"
    )
    return Reach("helium", needed, text, "computed")


def _bevelled(rulebook: Rulebook, facts: Mapping[str, Fact], piece: Workpiece) -> Reach | None:
    if piece.thickness <= 2 * LAND_MM:
        return None
    land = settled(rulebook, "current", {**facts, "thickness": LAND_MM, "alloy": piece.material.id})
    if land is None:
        return None
    text = (
        f"bevelled to a {LAND_MM:g} mm land the root pass takes what {LAND_MM:g} mm sheet takes, {land.start:.0f} A, "
        "and the rest is fill"
    )
    return Reach("bevel", land.start, text, land.evidence)
