"""A box that warms seam by seam: temperatures, the current that keeps the pool the same, the waits."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.heat.seam_order import box_order
from advisor.job.facts import Workpiece
from advisor.job.job import Box
from advisor.rulebook.checked_yaml import kept_numbers

# Arc efficiency of TIG lies anywhere from 0.5 to 0.8 (pre-1970 and later measurements disagree); the middle is used
# and the part is followed at both ends too.
EFFICIENCIES = (0.65, 0.5, 0.8)
START_C = 20.0


class SeamHeat(NamedTuple):
    """One seam of the sequence. currents [A] at its start, middle, end; waited [s] before it; metal [degC]."""

    seam: str
    why: str
    waited: float
    begins: float
    ends: float
    metal_before: float
    currents: tuple[float, float, float]
    hottest_part: float


class PartHeat(NamedTuple):
    """The whole sequence. interpass: limit kept [degC]; end_c: hottest plate at the end for each efficiency."""

    seams: tuple[SeamHeat, ...]
    interpass: float | None
    power: float
    travel: float
    total_seconds: float
    arc_seconds: float
    end_c: tuple[float, float, float]
    times: tuple[float, ...]
    plates: tuple[str, ...]
    temperatures: tuple[tuple[float, ...], ...]
    efficiencies: tuple[float, ...] = EFFICIENCIES

    @property
    def warm_current(self) -> tuple[float, float]:
        """Start current of the first seam and middle current of the last [A]."""
        return self.seams[0].currents[0], self.seams[-1].currents[1]


def part_heat(box: Box, wall: Workpiece, current: float, travel_mm_s: float, interpass: float | None) -> PartHeat:
    """The sequence of a box of one sheet, welded right on cold metal at `current` [A].

    Raises PrestrikeError where the metal has no figures or the physics does not reach (a part that would melt).
    """
    figures = {name: wall.material.value(name) for name in ("conductivity", "density", "specific_heat", "solidus")}
    if any(value is None for value in figures.values()):
        text = f"{wall.material.label} lacks figures of heat, so the part cannot be followed"
        raise PrestrikeError(Diagnostic("no-figure", text, help="name the alloy, or its nearest kin"))
    inputs: dict[str, Any] = {
        "box": list(box),
        "thickness": wall.thickness,
        "figures": figures,
        "current": round(current, 1),
        "travel": round(travel_mm_s, 3),
        "interpass": interpass,
    }
    kept = kept_numbers("part", inputs, lambda: _follow(inputs, box))
    return _from_kept(kept, interpass, travel_mm_s)


def _follow(inputs: dict[str, Any], box: Box) -> dict[str, Any]:
    runs = [_one(inputs, box, efficiency) for efficiency in EFFICIENCIES]
    main = runs[0]
    main["end_c"] = [run["end"] for run in runs]
    return main


def _one(inputs: dict[str, Any], box: Box, efficiency: float) -> dict[str, Any]:
    from advisor.physics.heat_buildup import Run, follow
    from advisor.physics.heat_input import conventional_load_voltage

    part = _part(inputs, box)
    order = box_order([seam.name for seam in part.seams], box.order)
    current = inputs["current"]
    power = efficiency * conventional_load_voltage("141", current) * current
    runs = tuple(
        Run(place.seam, power, inputs["travel"] * 1e-3, box.pause if index else 0.0, inputs["interpass"])
        for index, place in enumerate(order)
    )
    history = follow(part, runs, cold_c=START_C, after=60.0)
    means = history.mean_c
    return {
        "power": power,
        "end": float(max(history.hottest_c[-1])),
        "times": [float(time) for time in history.times],
        "plates": [plate.name for plate in part.plates],
        "temperatures": [[float(value) for value in row] for row in means.T],
        "seams": [
            _record(record, place.why, current, power) for record, place in zip(history.runs, order, strict=True)
        ],
    }


def _part(inputs: dict[str, Any], box: Box) -> Any:
    from advisor.physics.buildup_part import Plate
    from advisor.physics.buildup_part import box as box_part

    figures = inputs["figures"]
    like = Plate(
        "wall",
        0.1,
        0.1,
        inputs["thickness"] * 1e-3,
        figures["conductivity"],
        figures["density"] * figures["specific_heat"],
        figures["solidus"],
        start_c=START_C,
    )
    return box_part((box.length * 1e-3, box.width * 1e-3, box.height * 1e-3), like, box.open_top)


def _record(record: Any, why: str, current: float, cold_power: float) -> dict[str, Any]:
    powers = record.power
    middle = len(powers) // 2
    places = [0, middle, -1]
    return {
        "seam": record.run.seam,
        "why": why,
        "waited": float(record.waited),
        "begins": float(record.begins),
        "ends": float(record.ends),
        "metal_before": float(record.hottest_before_c),
        "currents": [_current(current, float(powers[place]) / cold_power) for place in places],
        "hottest_part": float(max(record.local_c)),
    }


def _current(current: float, ratio: float) -> float:
    from advisor.physics.heat_input import current_ratio_for_power

    return current_ratio_for_power(current, min(max(ratio, 0.01), 1.0))


def _from_kept(data: dict[str, Any], interpass: float | None, travel: float) -> PartHeat:
    seams: Sequence[SeamHeat] = [SeamHeat(**{**row, "currents": tuple(row["currents"])}) for row in data["seams"]]
    return PartHeat(
        tuple(seams),
        interpass,
        data["power"],
        travel,
        seams[-1].ends,
        sum(seam.ends - seam.begins for seam in seams),
        (data["end_c"][0], data["end_c"][1], data["end_c"][2]),
        tuple(data["times"]),
        tuple(data["plates"]),
        tuple(tuple(row) for row in data["temperatures"]),
    )
