"""The physics functions that rules may name, with their parameters and result in house units."""

from __future__ import annotations

from advisor.rulebook.reading.rule_reader import Computation


def _load_voltage(process: str, current: float) -> float:
    from advisor.physics.heat_input import conventional_load_voltage

    return conventional_load_voltage(process, current)


COMPUTATIONS: dict[str, Computation] = {
    "conventional_load_voltage": Computation(_load_voltage, {"process": "text", "current": "current"}, "voltage"),
}
