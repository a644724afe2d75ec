"""The nouns: a job, its members, the machine. Plain frozen data, no rules and no reading of files."""

from __future__ import annotations

from typing import NamedTuple

from advisor.units.quantities import Quantity

RESTRICTED_SERVICES = ("structural", "pressure", "lifting", "vehicle", "occupied-space", "food", "fuel")


class Member(NamedTuple):
    """One part of the joint. metal: alloy or grade and temper as written; surface: states, most important first."""

    metal: str
    thickness: Quantity
    form: str = ""
    width: Quantity | None = None
    length: Quantity | None = None
    surface: tuple[str, ...] = ()


class DutyPoint(NamedTuple):
    """A rated point of a machine: current [A] and duty [%] of a ten-minute cycle."""

    current: float
    percent: float


class Machine(NamedTuple):
    """A welding power source. current_type: `ac-dc` or `dc`; low, high: current range [A]; empty means not stated."""

    name: str = ""
    current_type: str = ""
    low: float | None = None
    high: float | None = None
    duty: tuple[DutyPoint, ...] = ()
    balance_control: bool | None = None
    frequency_control: bool | None = None
    torch_cooling: str = ""
    torch_limit: float | None = None


class Box(NamedTuple):
    """A part that is a box of plates: inside length, width, height [mm]; open_top: five sides instead of six;
    pause: time between seams [s]; order: names of the seams in the order to weld, or empty."""

    length: float
    width: float
    height: float
    open_top: bool = True
    pause: float = 30.0
    order: tuple[str, ...] = ()


class Bracket(NamedTuple):
    """A part that is an angle of two plates: the two legs and the width along the corner [mm]."""

    leg: float
    other_leg: float
    width: float


class Frame(NamedTuple):
    """A part that is a rectangular frame: outer length and width, outer size of its square section [mm]."""

    length: float
    width: float
    section: float


class Job(NamedTuple):
    """A seam to be welded: one or two members, the joint and what the part is for.

    assumed: what the user left out and what was taken instead, in words to be shown.
    """

    members: tuple[Member, ...]
    joint: str
    weld: str
    process: str = "141"
    name: str = ""
    position: str = "PA"
    leg: Quantity | None = None
    length: Quantity | None = None
    access: str = ""
    backing: str = ""
    service: tuple[str, ...] = ("ordinary",)
    closed_volume: bool = False
    used_container: bool = False
    place: str = "indoors"
    filler: str = ""
    solvent: str = ""
    gas: str = ""
    tungsten_type: str = ""
    transfer: str = ""
    electrode: str = ""
    wire_diameter: Quantity | None = None
    electrode_diameter: Quantity | None = None
    machine: Machine | None = None
    part: Box | None = None
    shape: Bracket | Frame | None = None
    inch_first: bool = False
    assumed: tuple[str, ...] = ()

    @property
    def restricted(self) -> tuple[str, ...]:
        """The services of this job that belong to qualified procedures and licensed practice."""
        return tuple(service for service in self.service if service in RESTRICTED_SERVICES)
