"""Heat input of an arc: arc energy, code heat input, net power, and how sure each factor is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.ranges import positive, within
from advisor.physics.tables import Spread, TableSource, entry

VOLTS = (5.0, 60.0)  # an arc; figures of 200 V and more are supply-side volts
LOAD_LINE_CURRENT = 600.0  # A; above it the standard's voltage no longer rises (memory, IEC 60974-1)
TIG_LINE_SCATTER = 1.5  # V, either side of the load line
TIG_LINE_CURRENTS = (75.0, 140.0)  # A, the currents at which that scatter was seen

_HEAT_FACTS = "heat-input pages of a steel maker and of a welding encyclopedia, quoting EN 1011-1 Table 1"
_EN_READ = TableSource(_HEAT_FACTS, "read")
_EN_MEMORY = TableSource("EN 1011-1:2009 Table 1", "memory")
_LOAD_LINES = TableSource("IEC 60974-1 load lines, in a welding handbook p. 341 (as IEC 974)", "read")


@dataclass(frozen=True)
class CitedFactor:
    """A bare factor [-] with its source and what must be said with it."""

    value: float
    source: TableSource
    note: str = ""


# By ISO 4063 number; a group number (12, 15) serves all its members.
CODE_FACTORS: dict[str, CitedFactor] = {
    "111": CitedFactor(0.8, _EN_READ),
    "114": CitedFactor(0.8, _EN_READ),
    "12": CitedFactor(1.0, _EN_READ),
    "131": CitedFactor(0.8, _EN_MEMORY),
    "135": CitedFactor(0.8, _EN_READ),
    "136": CitedFactor(0.8, _EN_READ),
    "137": CitedFactor(0.8, _EN_READ),
    "141": CitedFactor(0.6, _EN_READ),
    "142": CitedFactor(0.6, _EN_MEMORY, "TIG without filler had the number 141 when the table was made"),
    "15": CitedFactor(0.6, _EN_READ),
}

# (volts at no current, volts per ampere) by ISO 4063 number.
LOAD_LINES: dict[str, tuple[float, float]] = {
    "111": (20.0, 0.04),
    "131": (14.0, 0.05),
    "135": (14.0, 0.05),
    "136": (14.0, 0.05),
    "141": (10.0, 0.04),
    "142": (10.0, 0.04),
}


@dataclass(frozen=True)
class MeasuredEfficiency:
    """Arc efficiency [-] as measured: process and circumstances, low and high, source."""

    what: str
    low: float
    high: float
    source: TableSource


MEASURED_EFFICIENCIES: tuple[MeasuredEfficiency, ...] = (
    MeasuredEfficiency(
        "GTAW DCEN, whole literature 1955 to 2011",
        0.36,
        0.90,
        TableSource("Stenbacka, Choquet, Hurtig, IIW XII-2070-12, 2012", "read"),
    ),
    MeasuredEfficiency(
        "GTAW DCEN, plausible 95 % range",
        0.73,
        0.82,
        TableSource("Stenbacka, Choquet, Hurtig, IIW XII-2070-12, 2012", "read"),
    ),
    MeasuredEfficiency(
        "GTAW DCEN on A36 steel", 0.67, 0.67, TableSource("DuPont and Marder, Welding Journal, December 1995", "read")
    ),
    MeasuredEfficiency(
        "consumable electrode on A36 steel",
        0.84,
        0.84,
        TableSource("DuPont and Marder, Welding Journal, December 1995", "read"),
    ),
    MeasuredEfficiency(
        "plasma on A36 steel", 0.47, 0.47, TableSource("DuPont and Marder, Welding Journal, December 1995", "read")
    ),
    MeasuredEfficiency(
        "variable-polarity plasma on 1100 aluminium, no dependence on balance",
        0.51,
        0.51,
        TableSource("Fuerschbach, Welding Journal 77(2), 1998", "read"),
    ),
    MeasuredEfficiency(
        "GTAW, older textbook data",
        0.21,
        0.48,
        TableSource("course page on weld cross-section and energy input", "read"),
    ),
    MeasuredEfficiency(
        "TIG AC, before 1970", 0.22, 0.48, TableSource("Christensen et al. 1965, via Easterling Table 1", "memory")
    ),
    MeasuredEfficiency(
        "TIG DC, before 1970", 0.36, 0.46, TableSource("Christensen et al. 1965, via Easterling Table 1", "memory")
    ),
    MeasuredEfficiency(
        "GTAW on 3 mm duplex S32001, from bead geometry",
        0.87,
        0.87,
        TableSource("Chacon-Fernandez et al., abstract", "read"),
    ),
)

# Between the variable-polarity figure on aluminium and the modern review; the sources disagree and no
# calorimeter value for AC TIG on aluminium was found, so thermal answers are given at all three.
TIG_EFFICIENCIES: tuple[float, float, float] = (0.5, 0.65, 0.8)
TIG_EFFICIENCY_SPREAD = Spread(
    TIG_EFFICIENCIES[0], TIG_EFFICIENCIES[2], tuple(item.source for item in MEASURED_EFFICIENCIES)
)


def arc_energy(voltage: float, current: float, travel: float) -> float:
    """Electrical energy of the arc per length of weld [J/m]: E = U I/v.

    For a steady arc; where current or voltage pulse or alternate use `heat_input_of_energy` with the
    mean of the instantaneous power, since mean volts times mean amperes is not it.
    Parameters: voltage [V] at the arc, 5 to 60; current [A], above 0; travel [m/s], above 0.
    Returns: arc energy [J/m]. Raises: PhysicsRangeError outside.
    Source: EN 1011-1:2009 cl. 8.7 (formula read on a welding encyclopedia page, clause from memory).
    Example: 20 V, 300 A at 2.5 mm/s: 2400 J/mm (welding course page).
    >>> round(arc_energy(20.0, 300.0, 2.5e-3) / 1e3, 1)
    2400.0
    """
    return arc_power(voltage, current) / positive("travel", travel, "m/s")


def arc_power(voltage: float, current: float) -> float:
    """Electrical power of a steady arc [W]: U I.

    Parameters: voltage [V] at the arc, 5 to 60; current [A], above 0. Returns: power [W].
    Raises: PhysicsRangeError outside. Source: definition.
    Example: 20 V and 200 A: 4000 W.
    >>> arc_power(20.0, 200.0)
    4000.0
    """
    within("arc voltage", voltage, *VOLTS, "V", "arc volts are about 10 to 40 V; this looks like supply-side volts")
    return voltage * positive("current", current, "A")


def heat_input(voltage: float, current: float, travel: float, factor: float) -> float:
    """Heat input per length of weld [J/m]: Q = k U I/v.

    Parameters: voltage [V], 5 to 60; current [A], above 0; travel [m/s], above 0; factor k [-], 0 to 1
    (`code_factor` gives that of the code). Returns: heat input [J/m].
    Raises: PhysicsRangeError outside. Source: EN 1011-1:2009 cl. 8.7 (formula read, clause from memory).
    Example: 20 V, 500 A at 20 mm/min with a factor of 0.9: 27.0 kJ/mm (GATE question).
    >>> round(heat_input(20.0, 500.0, 20e-3 / 60, 0.9) / 1e6, 1)
    27.0
    """
    return _share("heat-input factor", factor) * arc_energy(voltage, current, travel)


def heat_input_of_energy(energy: float, length: float, factor: float) -> float:
    """Heat input per length of weld [J/m] from measured energy: Q = k E/L, with E the power summed over time.

    The form for pulsed, AC and waveform-controlled arcs. Parameters: energy [J] delivered over the run,
    above 0; length [m] of the run, above 0; factor k [-], 0 to 1. Returns: heat input [J/m].
    Raises: PhysicsRangeError outside. Source: ISO/TR 18491:2015 (memory).
    Example: 12 kJ over 100 mm with a factor of 0.6: 72 J/mm.
    >>> round(heat_input_of_energy(12e3, 0.1, 0.6) / 1e3, 1)
    72.0
    """
    return _share("heat-input factor", factor) * positive("arc energy", energy, "J") / positive("length", length, "m")


def net_power(voltage: float, current: float, efficiency: float) -> float:
    """Power that enters the work [W]: q = eta U I.

    Parameters: voltage [V], 5 to 60; current [A], above 0; efficiency eta [-], 0 to 1.
    Returns: net power [W]. Raises: PhysicsRangeError outside.
    Source: AWS Welding Handbook vol. 1 form (read on course pages).
    Example: 20 V, 200 A, efficiency 0.9: 3600 W (AWS Welding Handbook vol. 1).
    >>> round(net_power(20.0, 200.0, 0.9), 1)
    3600.0
    """
    return _share("arc efficiency", efficiency) * arc_power(voltage, current)


def tig_net_power(voltage: float, current: float) -> Spread:
    """Net power of a TIG arc as the span the measured efficiencies leave open [W].

    Parameters: voltage [V], 5 to 60; current [A], above 0. Returns: low and high [W], at 0.5 and 0.8.
    Raises: PhysicsRangeError outside. Source: those of `MEASURED_EFFICIENCIES` (read, memory); choosing
    0.5 and 0.8 out of them is this project's judgement (computed).
    Example: 10 V and 100 A: 500 to 800 W enter the work.
    >>> found = tig_net_power(10.0, 100.0)
    >>> round(found.low, 1), round(found.high, 1)
    (500.0, 800.0)
    """
    power = arc_power(voltage, current)
    return Spread(TIG_EFFICIENCY_SPREAD.low * power, TIG_EFFICIENCY_SPREAD.high * power, TIG_EFFICIENCY_SPREAD.sources)


def code_factor(process: str) -> CitedFactor:
    """The factor k that codes put on arc energy [-], with its source.

    Parameters: process, an ISO 4063 number such as `141` (no unit). Returns: factor [-] and source.
    Raises: NotCoveredError for a process outside the table.
    Source: EN 1011-1:2009 Table 1 (read in copies for most rows, memory for 131 and 142).
    Example: TIG, process 141: 0.6 (no unit).
    >>> code_factor("141").value
    0.6
    """
    group = process[:2]
    return entry(CODE_FACTORS, group if group in CODE_FACTORS else process, "ISO 4063 process")


def conventional_load_voltage(process: str, current: float) -> float:
    """Conventional load voltage at a current [V]: TIG 10 + 0.04 I, stick 20 + 0.04 I, MIG/MAG 14 + 0.05 I.

    For a power source under test; an arc may lie either side of it (`tig_voltage_spread`), so a meter
    reading goes first. Parameters: process, an ISO 4063 number; current [A], above 0 to 600.
    Returns: voltage [V]. Raises: PhysicsRangeError above 600 A, NotCoveredError for another process.
    Source: IEC 60974-1 (lines read in a handbook, 600 A limit from memory).
    Example: TIG at 100 A: 14 V.
    >>> conventional_load_voltage("141", 100.0)
    14.0
    """
    positive("current", current, "A")
    within("current", current, 0.0, LOAD_LINE_CURRENT, "A")
    base, slope = entry(LOAD_LINES, process, "ISO 4063 process")
    return base + slope * current


def tig_voltage_spread(current: float) -> Spread:
    """Arc voltage to expect of a TIG arc in argon [V]: the load line, 1.5 V either side.

    Parameters: current [A], 75 to 140, where the scatter was seen. Returns: low and high [V].
    Raises: PhysicsRangeError outside. Source: power-source manual, pipe root runs, against the load line
    (read; 1.3 V below to 1.3 V above, rounded out).
    Example: At 100 A: 12.5 to 15.5 V.
    >>> found = tig_voltage_spread(100.0)
    >>> found.low, found.high
    (12.5, 15.5)
    """
    within("current", current, *TIG_LINE_CURRENTS, "A", "outside this span only the load line itself is known")
    line = conventional_load_voltage("141", current)
    manual = TableSource("power-source manual, table of TIG root runs on steel pipe", "read")
    return Spread(line - TIG_LINE_SCATTER, line + TIG_LINE_SCATTER, (_LOAD_LINES, manual))


def _share(name: str, value: float) -> float:
    """A factor above 0 and at most 1."""
    return within(name, positive(name, value), 0.0, 1.0)


def current_ratio_for_power(current: float, ratio: float) -> float:
    """Current [A] of a TIG arc on the load line whose power is `ratio` times that at `current`.

    The arc efficiency cancels, so no figure for it is needed: what holds is the ratio.
    Parameters: current [A], above 0 to 600; ratio [-], 0.01 to 10. Returns: current [A], the positive root
    of (10 + 0.04 I) I = ratio (10 + 0.04 I0) I0. Raises: PhysicsRangeError outside.
    Source: IEC 60974-1 load line (read in a handbook); the root is derived (computed).
    Example: Half the power of 150 A, which burn at 16 V: 88.6 A at 13.5 V.
    >>> round(current_ratio_for_power(150.0, 0.5), 1)
    88.6
    """
    wanted = within("power ratio", ratio, 0.01, 10.0) * conventional_load_voltage("141", current) * current
    base, slope = LOAD_LINES["141"]
    return (-base + math.sqrt(base * base + 4.0 * slope * wanted)) / (2.0 * slope)
