"""Conductivity and specific heat of steel and aluminium against temperature (Eurocodes 3 and 9)."""

from __future__ import annotations

from advisor.physics.ranges import within

PLAIN, ALLOYED = "plain", "alloyed"


def steel_conductivity(temperature_c: float) -> float:
    """Conductivity of carbon steel [W/(m K)]. Parameters: temperature_c [degC], 20 to 1200.

    Raises: PhysicsRangeError outside. Source: EN 1993-1-2 cl. 3.4.1.3 (read in a copy; slope 0.0333
    from memory, the copy prints 0.033, which misses the 800 degC step).
    Example: At 300 degC: 44.01 W/(m K).
    >>> round(steel_conductivity(300.0), 2)
    44.01
    """
    within("temperature", temperature_c, 20.0, 1200.0, "degC")
    return 54.0 - 0.0333 * temperature_c if temperature_c < 800.0 else 27.3


def steel_specific_heat(temperature_c: float) -> float:
    """Specific heat of carbon steel [J/(kg K)], with the peak of the phase change near 735 degC.

    Parameters: temperature_c [degC], 20 to 1200. Raises: PhysicsRangeError outside.
    Source: EN 1993-1-2 cl. 3.4.1.2 (read in a copy).
    Example: At 300 degC 564.7 J/(kg K); at 735 degC, the peak of the phase change, 5000 J/(kg K).
    >>> round(steel_specific_heat(300.0), 1), round(steel_specific_heat(735.0), 1)
    (564.7, 5000.0)
    """
    t = within("temperature", temperature_c, 20.0, 1200.0, "degC")
    if t < 600.0:
        return 425.0 + 0.773 * t - 1.69e-3 * t**2 + 2.22e-6 * t**3
    if t < 735.0:
        return 666.0 + 13002.0 / (738.0 - t)
    return 545.0 + 17820.0 / (t - 731.0) if t < 900.0 else 650.0


def aluminium_conductivity(temperature_c: float, family: str) -> float:
    """Conductivity of aluminium [W/(m K)]. Parameters: temperature_c [degC], 0 to 500; family `plain`
    (3xxx, 6xxx) or `alloyed` (5xxx, 7xxx).

    Raises: PhysicsRangeError outside; ValueError for another family.
    Source: EN 1999-1-2 (memory; no copy seen).
    Example: 6061 at 300 degC: 211 W/(m K); 5052: 170 W/(m K).
    >>> round(aluminium_conductivity(300.0, "plain"), 1), round(aluminium_conductivity(300.0, "alloyed"), 1)
    (211.0, 170.0)
    """
    within("temperature", temperature_c, 0.0, 500.0, "degC")
    if family == PLAIN:
        return 0.07 * temperature_c + 190.0
    if family == ALLOYED:
        return 0.1 * temperature_c + 140.0
    raise ValueError(f"family is '{PLAIN}' or '{ALLOYED}', not '{family}'")


def aluminium_specific_heat(temperature_c: float) -> float:
    """Specific heat of aluminium [J/(kg K)]. Parameters: temperature_c [degC], 0 to 500.

    Raises: PhysicsRangeError outside. Source: EN 1999-1-2 (memory; no copy seen).
    Example: At 300 degC: 1026 J/(kg K).
    >>> round(aluminium_specific_heat(300.0), 1)
    1026.0
    """
    return 0.41 * within("temperature", temperature_c, 0.0, 500.0, "degC") + 903.0
