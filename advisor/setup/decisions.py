"""What is decided for each process, and in which order: each decision may look at those before it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class ProcessPlan(NamedTuple):
    """The order of topics. needed: without these there is no answer; by_member: settled for each member apart."""

    order: tuple[str, ...]
    needed: tuple[str, ...] = ("current",)
    by_member: tuple[str, ...] = ("current",)


_TIG = ProcessPlan(
    (
        "polarity",
        "gas",
        "current",
        "tungsten_type",
        "filler",
        "tungsten_diameter",
        "nozzle_bore",
        "filler_diameter",
        "gas_flow",
        "arc_voltage",
        "travel_speed",
        "passes",
        "tungsten_tip_angle",
        "tungsten_tip_flat",
        "tungsten_stickout",
        "arc_length",
        "torch_tilt",
        "preflow",
        "postflow",
        "downslope",
        "ac_balance",
        "ac_frequency",
        "lens_shade",
    )
)
# The mode of transfer decides gas and current; the wire must carry the current; the feed makes it.
_WIRE = ProcessPlan(
    (
        "polarity",
        "transfer",
        "gas",
        "current",
        "filler",
        "wire_diameter",
        "wire_feed_speed",
        "arc_voltage",
        "gas_flow",
        "travel_speed",
        "passes",
        "contact_distance",
        "gas_nozzle",
        "torch_tilt",
        "lens_shade",
    )
)
# The covering decides polarity, its core the current: thickness only says which core.
_STICK = ProcessPlan(
    (
        "electrode",
        "polarity",
        "electrode_diameter",
        "current",
        "arc_voltage",
        "travel_speed",
        "passes",
        "arc_length",
        "electrode_lean",
        "holding_oven",
        "out_of_oven",
        "lens_shade",
    ),
    needed=("electrode_diameter", "current"),
    by_member=(),
)
_PLANS: Mapping[str, ProcessPlan] = {"131": _WIRE, "135": _WIRE, "111": _STICK}


def plan_of(process: str) -> ProcessPlan:
    """The plan of a process, an ISO 4063 number; that of TIG where none is made."""
    return _PLANS.get(process, _TIG)
