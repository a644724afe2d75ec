"""Cooling time from 800 to 500 degC of a steel weld, EN 1011-2 Annex D: thick and thin plate, and which governs.

Unalloyed and low-alloy steel only. Symbols as in the standard: heat input in kJ/mm with the factor k in
it, thickness in mm, start temperature (preheat or interpass) in degC, time in s.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.ranges import positive, within
from advisor.physics.tables import TableSource, entry

START = (-20.0, 450.0)  # degC; the forms diverge at 500
THICK, THIN, EITHER = "thick", "thin", "thin or thick"

_TABLE = TableSource("EN 1011-2:2001 Annex D, table of shape factors", "memory")


@dataclass(frozen=True)
class ShapeFactors:
    """Shape factors of a joint [-]: F2 for thin plate from low to high, F3 for thick plate."""

    thin_low: float
    thin_high: float
    thick: float
    source: TableSource = _TABLE


# F3 of a tee follows from three equal heat paths instead of two (2/3); (2/3)^2 is 0.44 for F2 (computed).
SHAPES: dict[str, ShapeFactors] = {
    "run on plate": ShapeFactors(1.0, 1.0, 1.0),
    "between runs in a butt": ShapeFactors(0.9, 0.9, 0.9),
    "fillet at a corner": ShapeFactors(0.9, 0.9, 0.67),
    "fillet at a tee": ShapeFactors(0.45, 0.67, 0.67),
}


@dataclass(frozen=True)
class CoolingTime:
    """Cooling time from 800 to 500 degC, low to high [s], and the regime that governs.

    The two ends differ only where the standard gives F2 as a span. transition_mm: the thickness [mm] at
    which both regimes agree, at the low and the high F2. regime: `thin`, `thick`, or `thin or thick`
    where the span of F2 straddles the thickness.
    """

    low: float
    high: float
    transition_mm: tuple[float, float]
    regime: str
    source: TableSource


def cooling_time_thick(heat_input_kj_mm: float, start_c: float, factor: float = 1.0) -> float:
    """Cooling time of thick plate, heat flowing three ways [s].

    t = (6700 - 5 T0) Q [1/(500 - T0) - 1/(800 - T0)] F3.
    Parameters: heat_input_kj_mm Q [kJ/mm], above 0; start_c T0 [degC], -20 to 450; factor F3 [-], 0.3 to 1.
    Returns: time [s]. Raises: PhysicsRangeError outside.
    Source: EN 1011-2:2001 Annex D, formula 3.2 of a steel maker's welding handbook, edition 2, p. 17 (read).
    Example: 1.5 kJ/mm on thick plate at 20 degC: 7.9 s (exercise to EN 1011-2).
    >>> round(cooling_time_thick(1.5, 20.0), 1)
    7.9
    """
    q, start = _checked(heat_input_kj_mm, start_c, factor)
    return (6700.0 - 5.0 * start) * q * (1.0 / (500.0 - start) - 1.0 / (800.0 - start)) * factor


def cooling_time_thin(heat_input_kj_mm: float, start_c: float, thickness_mm: float, factor: float = 1.0) -> float:
    """Cooling time of thin plate, heat flowing two ways [s].

    t = (4300 - 4.3 T0) 1e5 Q2/d2 [1/(500 - T0)2 - 1/(800 - T0)2] F2.
    Parameters: heat_input_kj_mm Q [kJ/mm], above 0; start_c T0 [degC], -20 to 450; thickness_mm d [mm],
    above 0; factor F2 [-], 0.3 to 1. Returns: time [s]. Raises: PhysicsRangeError outside.
    Source: EN 1011-2:2001 Annex D, formula 3.1 of a steel maker's welding handbook, edition 2, p. 17 (read).
    Example: 1.0 kJ/mm on 10 mm plate at 20 degC: 11.36 s.
    >>> round(cooling_time_thin(1.0, 20.0, 10.0), 2)
    11.36
    """
    q, start = _checked(heat_input_kj_mm, start_c, factor)
    spread = 1.0 / (500.0 - start) ** 2 - 1.0 / (800.0 - start) ** 2
    return (4300.0 - 4.3 * start) * 1e5 * (q / positive("thickness", thickness_mm, "mm")) ** 2 * spread * factor


def transition_thickness_mm(
    heat_input_kj_mm: float, start_c: float, thin_factor: float = 1.0, thick_factor: float = 1.0
) -> float:
    """Thickness at which thin and thick plate cool alike [mm]; thinner plate is governed by the thin form.

    dt = sqrt{(4300 - 4.3 T0)/(6700 - 5 T0) 1e5 Q F2/F3 [1/(500 - T0) + 1/(800 - T0)]}.
    Parameters: heat_input_kj_mm Q [kJ/mm], above 0; start_c T0 [degC], -20 to 450; thin_factor F2 and
    thick_factor F3 [-], 0.3 to 1. Returns: thickness [mm]. Raises: PhysicsRangeError outside.
    Source: derived by equating the two forms (computed); with F2 = F3 = 1 also EN 1011-2 (memory).
    Example: 1.5 kJ/mm at 20 degC: plate under 17.95 mm cools as thin plate.
    >>> round(transition_thickness_mm(1.5, 20.0), 2)
    17.95
    """
    q, start = _checked(heat_input_kj_mm, start_c, thin_factor)
    within("shape factor", thick_factor, 0.3, 1.0)
    ratio = (4300.0 - 4.3 * start) / (6700.0 - 5.0 * start) * thin_factor / thick_factor
    return math.sqrt(ratio * 1e5 * q * (1.0 / (500.0 - start) + 1.0 / (800.0 - start)))


def cooling_time(heat_input_kj_mm: float, start_c: float, thickness_mm: float, joint: str) -> CoolingTime:
    """Cooling time of a named joint from 800 to 500 degC [s], by the regime that governs its thickness.

    Parameters: heat_input_kj_mm Q [kJ/mm], above 0; start_c T0 [degC], -20 to 450; thickness_mm d [mm],
    above 0; joint, a name in `SHAPES` (no unit). Returns: time low to high [s], transition thickness [mm]
    and regime. Raises: PhysicsRangeError outside; NotCoveredError for another joint.
    Source: EN 1011-2:2001 Annex D (forms read, shape factors memory, transition computed).
    Example: 1.5 kJ/mm on 15 mm plate at 20 degC: thin plate governs, 11.36 s.
    >>> found = cooling_time(1.5, 20.0, 15.0, "run on plate")
    >>> found.regime, round(found.low, 2)
    ('thin', 11.36)
    """
    shape = entry(SHAPES, joint, "joint shape")
    thick = cooling_time_thick(heat_input_kj_mm, start_c, shape.thick)
    spans, times, regimes = [], [], []
    for factor in (shape.thin_low, shape.thin_high):
        spans.append(transition_thickness_mm(heat_input_kj_mm, start_c, factor, shape.thick))
        thin = cooling_time_thin(heat_input_kj_mm, start_c, thickness_mm, factor)
        regimes.append(THIN if thickness_mm < spans[-1] else THICK)
        times.append(thin if regimes[-1] == THIN else thick)
    regime = regimes[0] if regimes[0] == regimes[1] else EITHER
    return CoolingTime(times[0], times[1], (spans[0], spans[1]), regime, shape.source)


def _checked(heat_input_kj_mm: float, start_c: float, factor: float) -> tuple[float, float]:
    """Heat input and start temperature, all three inputs inside their ranges."""
    within("shape factor", factor, 0.3, 1.0)
    return positive("heat input", heat_input_kj_mm, "kJ/mm"), within("start temperature", start_c, *START, "degC")
