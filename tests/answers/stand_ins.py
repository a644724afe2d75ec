"""Quick stand-ins for the two long heat computations, so that thousands of answers can be read in minutes.

What is checked here is that the lines of an answer agree, whatever the solver finds; the solvers have tests of their
own. The stand-in aim goes to the heavier member by a share of the difference that depends on the travel, from none
to far, now and then to the lighter one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any
from unittest.mock import patch

from advisor.heat.seam_order import box_order
from advisor.job.job import Box

SHARES = (0.02, 0.1, 0.25, 0.5, -0.3)


@contextmanager
def quick() -> Iterator[None]:
    """Within it pairs and boxes are not solved but stood in for, and nothing of them is kept."""
    pair, part = "advisor.heat.pair", "advisor.heat.part"
    with (
        patch(f"{pair}.kept_numbers", _computed),
        patch(f"{part}.kept_numbers", _computed),
        patch(f"{pair}._solve", _pair),
        patch(f"{part}._follow", _box),
    ):
        yield


def _computed(kind: str, inputs: Mapping[str, Any], compute: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    return compute()


def _pair(inputs: Mapping[str, Any]) -> dict[str, Any]:
    first, second = (figures["thickness"] for figures in inputs["members"])
    travel, half_width, _ = inputs["conditions"]
    offset = (second - first) * SHARES[int(travel * 100) % len(SHARES)]
    wide = [half_width * 1e-3] * 2
    return {
        "offset": offset * 1e-3,
        "power": 900.0,
        "equal_pair_power": [800.0, 1000.0],
        "arc_share": [0.5, 0.5],
        "half_width_centred": wide,
        "half_width_aimed": wide,
        "melt_back_centred": [1.1, 0.9],
        "melt_back_aimed": [1.0, 1.0],
        "offset_spread": [offset * 0.8, offset * 1.2],
    }


def _box(inputs: Mapping[str, Any], box: Box) -> dict[str, Any]:
    from advisor.heat.part import _part

    part = _part(dict(inputs), box)
    order = box_order([seam.name for seam in part.seams], box.order)
    current = inputs["current"]
    seams = [
        {
            "seam": place.seam, "why": place.why, "waited": 20.0 * turn, "begins": 100.0 * turn,
            "ends": 100.0 * turn + 60.0, "metal_before": 20.0 + 5 * turn, "hottest_part": 300.0,
            "currents": [current * (1 - 0.02 * turn), current * (0.9 - 0.02 * turn), current * (0.8 - 0.02 * turn)],
        }
        for turn, place in enumerate(order)
    ]  # fmt: skip
    plates = [plate.name for plate in part.plates]
    ends = [80.0, 70.0, 90.0]
    return {"power": 900.0, "end": 80.0, "end_c": ends, "times": [0.0, 100.0], "plates": plates,
            "temperatures": [[20.0, 80.0] for _ in plates], "seams": seams}  # fmt: skip
