"""The one error of the physics floor: a value outside the range in which a formula holds."""

from __future__ import annotations

import math

from advisor.diagnostics import Diagnostic, PrestrikeError

# Formulas count in metres; who reads the message thinks in millimetres.
_SAID = {"m": (1e3, "mm"), "m/s": (1e3, "mm/s")}


class PhysicsRangeError(PrestrikeError):
    """A value outside a formula's valid range. Carries what a message needs: name, value, unit, range."""

    def __init__(self, name: str, value: float, low: float, high: float, unit: str, help: str = "") -> None:
        self.name, self.value, self.low, self.high, self.unit = name, value, low, high, unit
        message = f"{name} is {_shown(value, unit)}; valid {_span(low, high, unit)}"
        super().__init__(Diagnostic(code="out-of-range", message=message, subject=name, help=help))


def _shown(value: float, unit: str) -> str:
    """The value with its unit, four figures."""
    factor, said = _SAID.get(unit, (1.0, unit))
    return f"{value * factor:.4g} {said}".rstrip()


def _span(low: float, high: float, unit: str) -> str:
    """The valid range in words: from, to, or both."""
    if math.isinf(high):
        return f"from {_shown(low, unit)}"
    if math.isinf(low):
        return f"up to {_shown(high, unit)}"
    factor, _ = _SAID.get(unit, (1.0, unit))
    return f"from {low * factor:.4g} to {_shown(high, unit)}"


def within(name: str, value: float, low: float, high: float, unit: str = "", help: str = "") -> float:
    """The value itself, when it lies in the closed range; a not-a-number never does.

    Parameters: name of the quantity as a person says it; value, low, high [unit], either end may be
    infinite; unit as text, empty for a bare number; help: the repair, one sentence.
    Returns: value [unit]. Raises: PhysicsRangeError outside the range.
    Source: definition of a closed range.
    Example: 3 mm lies in the range from 1 to 5 mm and is given back in metres.
    >>> within("gap", 3e-3, 1e-3, 5e-3, "m")
    0.003
    """
    if not low <= value <= high or math.isinf(value):
        raise PhysicsRangeError(name, value, low, high, unit, help)
    return value


def positive(name: str, value: float, unit: str = "", help: str = "") -> float:
    """The value itself, when it is finite and above zero.

    Parameters: as `within`. Returns: value [unit]. Raises: PhysicsRangeError at or below zero.
    Source: definition.
    Example: 3 mm is above zero and is given back in metres.
    >>> positive("thickness", 3e-3, "m")
    0.003
    """
    if not 0.0 < value < math.inf:
        raise PhysicsRangeError(name, value, 0.0, math.inf, unit, help or f"{name} must be above zero")
    return value
