"""The gas a seam takes while the torch is on, whether the cup runs smooth, and what is left in the cylinder."""

from __future__ import annotations

from typing import NamedTuple

from advisor.answer.answer import Advice
from advisor.answer.span import Span
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.physics import gas as g

LITRE, LITRE_PER_MINUTE, BAR, KILO = 1e-3, 1e-3 / 60, 1e5, 1e3
SHOP_C = 20.0
# Regulators no longer hold their flow when the gauge falls to a few bar (habit); what lies below is not counted on.
KEPT_BACK_BAR = 5.0


class GasUse(NamedTuple):
    """Gas of the job, litres at 15 degC and 1 atm. flow [L/min]; before, after: gas time of each start [s]."""

    name: str
    flow: Span
    before: Span
    after: Span
    torch_on: Span
    litres: Span


class Cup(NamedTuple):
    """Flow through the cup. bore [mm]; reynolds of the flow; limit [L/min]: where a long pipe turns turbulent."""

    bore: float
    reynolds: Span
    limit: tuple[float, float]
    text: str


class Cylinder(NamedTuple):
    """What the user has: water volume [L], gauge [bar], temperature [degC]."""

    volume: float
    gauge: float
    temperature: float


class CylinderLeft(NamedTuple):
    """A cylinder before and after. held, left [L]; gauge_after [bar]; jobs: whole jobs like this one; low end first.

    Ends go with those of the use: `left.low` is what remains where most is used.
    """

    cylinder: Cylinder
    held: float
    left: Span
    gauge_after: Span
    jobs: Span
    compressibility: float


def gas_use(advice: Advice, name: str, arc: Span, starts: Span) -> GasUse | None:
    """The gas of an advice for an arc time [s] and a number of starts; None where no flow is advised."""
    flow = advice.settings.get("gas_flow")
    if flow is None:
        return None
    rate = Span(flow.low, flow.start, flow.high)
    before, after = (_seconds(advice, topic) for topic in ("preflow", "postflow"))
    torch_on = arc.plus(starts.by(before.plus(after)))
    return GasUse(name, rate, before, after, torch_on, rate.by(torch_on).times(1 / 60))


def _seconds(advice: Advice, topic: str) -> Span:
    setting = advice.settings.get(topic)
    return Span.of(0.0) if setting is None else Span(setting.low, setting.start, setting.high)


def cup_flow(advice: Advice, use: GasUse, temperature: float = SHOP_C) -> Cup | None:
    """How near the advised flow comes to turbulence in the advised cup; None without a cup or for another gas."""
    bore = advice.settings.get("nozzle_bore")
    if bore is None or use.name != "argon":
        return None
    across = bore.start * 1e-3
    numbers = use.flow.map(lambda flow: g.nozzle_reynolds(flow * LITRE_PER_MINUTE, across, temperature))
    limit = g.laminar_flow(across, temperature)
    most = limit.low / LITRE_PER_MINUTE, limit.high / LITRE_PER_MINUTE
    return Cup(bore.start, numbers, most, _cup_text(numbers))


def _cup_text(reynolds: Span) -> str:
    low, high = g.PIPE_TRANSITION
    if reynolds.high < low:
        return "smooth over the whole range"
    if reynolds.start < low:
        return "smooth at the start; the upper end comes into the range where it may swirl in air"
    if reynolds.start < high:
        return "on the edge of turbulence: a wider cup or a gas lens, rather than more flow"
    return "past the edge of turbulence: a wider cup or a gas lens, rather than more flow"


def left_in(cylinder: Cylinder, litres: Span) -> CylinderLeft:
    """What a cylinder of argon holds and what is left of it after so many litres.

    Raises PrestrikeError for a cylinder outside what is known of argon (300 bar, -10 to 50 degC, 1000 L).
    """
    volume, pressure = cylinder.volume * LITRE, cylinder.gauge * BAR + g.ATMOSPHERE
    held = g.cylinder_gas(volume, pressure, cylinder.temperature) / LITRE
    kept = g.cylinder_gas(volume, KEPT_BACK_BAR * BAR + g.ATMOSPHERE, cylinder.temperature) / LITRE
    left = Span(held - litres.high, held - litres.start, held - litres.low)
    after = left.map(lambda rest: _gauge(rest, volume, cylinder.temperature))
    usable = max(held - kept, 0.0)
    jobs = Span(usable / litres.high, usable / litres.start, usable / litres.low)
    return CylinderLeft(cylinder, held, left, after, jobs, g.argon_compressibility(pressure, cylinder.temperature))


def _gauge(litres: float, volume: float, temperature: float) -> float:
    if litres <= 0:
        return 0.0
    return max(0.0, (g.cylinder_pressure(litres * LITRE, volume, temperature) - g.ATMOSPHERE) / BAR)


def need_argon(name: str) -> None:
    """Raise where a cylinder is to be followed that holds another gas."""
    if name != "argon":
        text = f"the content of a cylinder is known here for argon only, and this job's gas is {name}"
        raise PrestrikeError(Diagnostic("gas", text, subject="cylinder", help="leave --cylinder out, or --gas argon"))
