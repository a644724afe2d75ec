"""Margin between where a brazing filler works and where the base metal starts to melt."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.physics.ranges import within
from advisor.physics.tables import TableSource, entry

USUAL_MARGIN = 40.0  # K
LEAST_MARGIN = 5.0  # K, with close control and a short time at heat
MARGIN_SOURCE = TableSource("aluminium-guide.com, brazing of aluminium alloys", "read")
USUAL_RANGE_C = (560.0, 615.0)  # degC, most Al-Si brazing (read, same page)
BRAZING_FROM_C = 450.0  # degC liquidus; below it is soldering (read, same page)
MOST_MAGNESIUM = (1.0, TableSource("filler maker's page on aluminium brazing alloys", "read"))  # mass %, flux brazing
JOINT_CLEARANCE = (0.15e-3, 0.64e-3)  # m, torch brazing (0.006 to 0.025 in; read with the BAlSi rows)

ORDINARY, CLOSE, EXPERT, NONE = "ordinary", "close", "expert", "none"


@dataclass(frozen=True)
class Filler:
    """A brazing or soldering filler: solidus, liquidus and brazing range [degC], and source."""

    solidus_c: float
    liquidus_c: float
    range_c: tuple[float, float] | None
    source: TableSource


_HANDBOOK = TableSource("brazing handbook page quoting AWS A5.8-1981", "read")
_MAKER = TableSource("filler maker's page on aluminium brazing alloys", "read")

FILLERS: dict[str, Filler] = {
    "BAlSi-2": Filler(577.0, 613.0, (599.0, 621.0), _HANDBOOK),
    "BAlSi-3": Filler(
        521.0, 585.0, (571.0, 604.0), TableSource("AWS A5.8; lower end misprinted in the copy", "memory")
    ),
    "BAlSi-4": Filler(577.0, 582.0, (582.0, 604.0), _HANDBOOK),
    "BAlSi-5": Filler(577.0, 591.0, (588.0, 604.0), _HANDBOOK),
    "Al88Si12": Filler(575.0, 585.0, None, _MAKER),
    "Zn98Al2": Filler(376.0, 385.0, None, _MAKER),
    "Zn78Al22": Filler(426.0, 482.0, None, _MAKER),
}


def brazing_margin(base_solidus_c: float, working_c: float) -> float:
    """Room between the filler's working temperature and the base metal's solidus [K]; below 0 the base melts first.

    Parameters: base_solidus_c [degC], 200 to 1600; working_c [degC] of the filler, at least its liquidus,
    150 to 1200. Returns: margin [K], any sign. Raises: PhysicsRangeError outside.
    Source: definition (computed).
    Example: 3003 starts to melt at 643 degC; a filler worked at 582 degC leaves 61 K.
    >>> brazing_margin(643.0, 582.0)
    61.0
    """
    return within("base solidus", base_solidus_c, 200.0, 1600.0, "degC") - within(
        "working temperature", working_c, 150.0, 1200.0, "degC"
    )


def filler_margin(base_solidus_c: float, filler: str) -> float:
    """Margin with a filler of the table worked at its liquidus, the best case [K].

    Parameters: base_solidus_c [degC], 200 to 1600; filler, a name in `FILLERS` (no unit).
    Returns: margin [K], any sign. Raises: PhysicsRangeError outside; NotCoveredError for another filler.
    Source: the filler's row (read, memory).
    Example: 6061 starts to melt at 582 degC; Zn78Al22, liquid at 482 degC, leaves 100 K.
    >>> filler_margin(582.0, "Zn78Al22")
    100.0
    """
    return brazing_margin(base_solidus_c, entry(FILLERS, filler, "filler").liquidus_c)


def control_demand(margin: float) -> str:
    """How closely the heat must be held for a margin [K], in a word.

    `ordinary` from 40 K, `close` from 5 K, `expert` above 0 (no guidance allows it), `none` at 0 and below:
    the base melts with the filler. Parameters: margin [K], -1500 to 1500. Returns: the word (no unit).
    Raises: PhysicsRangeError outside. Source: aluminium-guide.com on brazing (read): about 40 K below the
    solidus, down to 5 K with precise control and a short cycle.
    Example: 5052 under BAlSi-4 has a margin of 25 K: less than the usual 40 K, more than 5 K.
    >>> control_demand(25.0)
    'close'
    """
    within("margin", margin, -1500.0, 1500.0, "K")
    if margin <= 0.0:
        return NONE
    if margin < LEAST_MARGIN:
        return EXPERT
    return CLOSE if margin < USUAL_MARGIN else ORDINARY


def margin_holds(margin: float, control_error: float) -> bool:
    """Whether a margin is larger than the error of the heat control (no unit).

    Parameters: margin [K], -1500 to 1500; control_error [K] either side, 0 or more, to 1000.
    Returns: true where margin > error. Raises: PhysicsRangeError outside. Source: definition (computed).
    Example: A margin of 25 K does not hold where the heat control errs by 30 K.
    >>> margin_holds(25.0, 30.0)
    False
    """
    within("margin", margin, -1500.0, 1500.0, "K")
    return margin > within("control error", control_error, 0.0, 1000.0, "K")
