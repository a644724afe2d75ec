"""Reading a leak test: pressure lost apart from what temperature and weather did."""

from __future__ import annotations

import math

from advisor.physics.constants import GRAVITY
from advisor.physics.ranges import positive, within

ATMOSPHERE = 101325.0  # Pa
ZERO_C = 273.15
WATER_DENSITY = 998.2  # kg/m3 at 20 degC


def expected_gauge(
    start_gauge: float,
    start_c: float,
    end_c: float,
    start_barometer: float = ATMOSPHERE,
    end_barometer: float = ATMOSPHERE,
) -> float:
    """Gauge pressure a tight, stiff box would show at another temperature [Pa]: p T2/T1, less the barometer.

    Parameters: start_gauge [Pa], -100e3 to 1e6; start_c, end_c [degC] of the air inside, -40 to 100;
    start_barometer, end_barometer [Pa], 50e3 to 110e3. Returns: gauge pressure [Pa], any sign.
    Raises: PhysicsRangeError outside. Source: ideal gas at constant volume (computed); walls that bulge
    make the swing smaller.
    Example: 3500 Pa set at 22 degC is 2790 Pa at 20 degC, without any leak.
    >>> round(expected_gauge(3500.0, 22.0, 20.0))
    2790
    """
    absolute = within("gauge pressure", start_gauge, -100e3, 1e6, "Pa") + _barometer(start_barometer)
    positive("absolute pressure", absolute, "Pa")
    return absolute * _kelvin(end_c) / _kelvin(start_c) - _barometer(end_barometer)


def pressure_lost(
    start_gauge: float,
    start_c: float,
    end_gauge: float,
    end_c: float,
    start_barometer: float = ATMOSPHERE,
    end_barometer: float = ATMOSPHERE,
) -> float:
    """Pressure lost by leaking, at the end temperature [Pa]: what a tight box would show less what this one shows.

    Below 0 the box gained, so a temperature or barometer reading is off, or the room leaks in.
    Parameters: start_gauge, end_gauge [Pa], -100e3 to 1e6; start_c, end_c [degC], -40 to 100;
    start_barometer, end_barometer [Pa], 50e3 to 110e3. Returns: loss [Pa], any sign.
    Raises: PhysicsRangeError outside. Source: as `expected_gauge` (computed).
    Example: A box set to 3500 Pa at 22 degC that shows 2500 Pa at 20 degC has lost 290 Pa by leaking.
    >>> round(pressure_lost(3500.0, 22.0, 2500.0, 20.0))
    290
    """
    tight = expected_gauge(start_gauge, start_c, end_c, start_barometer, end_barometer)
    return tight - within("gauge pressure", end_gauge, -100e3, 1e6, "Pa")


def temperature_swing(gauge: float, temperature_c: float, barometer: float = ATMOSPHERE) -> float:
    """Change of gauge pressure for each kelvin in a tight, stiff box [Pa/K]: p/T.

    Parameters: gauge [Pa], -100e3 to 1e6; temperature_c [degC], -40 to 100; barometer [Pa], 50e3 to 110e3.
    Returns: swing [Pa/K]. Raises: PhysicsRangeError outside. Source: as `expected_gauge` (computed).
    Example: At 6.9 kPa and 20 degC: 369 Pa for each kelvin.
    >>> round(temperature_swing(6.9e3, 20.0))
    369
    """
    within("gauge pressure", gauge, -100e3, 1e6, "Pa")
    return positive("absolute pressure", gauge + _barometer(barometer), "Pa") / _kelvin(temperature_c)


def leak_rate(volume: float, lost: float, duration: float) -> float:
    """Leak rate of a box [Pa m3/s]: V dp/dt (1 Pa m3/s is 10 mbar l/s).

    Parameters: volume [m3], above 0; lost [Pa], 0 or more (`pressure_lost`); duration [s], above 0.
    Returns: rate [Pa m3/s]. Raises: PhysicsRangeError outside. Source: definition of leak rate (computed).
    Example: 10 l that lose 1 mbar, 100 Pa, in 100 s: 0.1 mbar l/s, which is 0.01 Pa m3/s.
    >>> round(leak_rate(10e-3, 100.0, 100.0), 4)
    0.01
    """
    fall = within("pressure lost", lost, 0.0, math.inf, "Pa") / positive("duration", duration, "s")
    return positive("volume", volume, "m3") * fall


def stored_energy(volume: float, gauge: float, barometer: float = ATMOSPHERE) -> float:
    """Energy that air under pressure sets free when a box lets go [J]: 2.5 Pt V (1 - (Pa/Pt)^0.286).

    Pt is the absolute test pressure, Pa the barometer.
    Parameters: volume V [m3], above 0; gauge [Pa], 0 to 10e6; barometer [Pa], 50e3 to 110e3. Returns: energy [J].
    Raises: PhysicsRangeError outside. Source: ASME PCC-2-2008 Article 5.1 Appendix II, air (read).
    Example: 20 l of air at 600 kPa above the air outside: 15 kJ; at 3.5 kPa: 51 J.
    >>> round(stored_energy(0.02, 600e3) / 1e3), round(stored_energy(0.02, 3.5e3))
    (15, 51)
    """
    outside = _barometer(barometer)
    test = outside + within("gauge pressure", gauge, 0.0, 10e6, "Pa")
    return 2.5 * test * positive("volume", volume, "m3") * (1.0 - math.pow(outside / test, 0.286))


def water_pressure(head: float) -> float:
    """Pressure at the foot of a water column [Pa]: rho g h.

    Parameters: head [m], 0 or more. Returns: pressure [Pa], water at 20 degC. Raises: PhysicsRangeError outside.
    Source: hydrostatics (computed).
    Example: 350 mm of water press with 3426 Pa.
    >>> round(water_pressure(0.35))
    3426
    """
    return within("head", head, 0.0, math.inf, "m") * WATER_DENSITY * GRAVITY


def water_head(pressure: float) -> float:
    """Height of a water column that holds a pressure [m]: p/(rho g).

    Parameters: pressure [Pa], 0 or more. Returns: height [m], water at 20 degC. Raises: PhysicsRangeError
    outside. Source: hydrostatics (computed).
    Example: 35 kPa are held by 3.58 m of water (46 CFR 119.435 rounds to 3.5 m).
    >>> round(water_head(35e3), 2)
    3.58
    """
    return within("pressure", pressure, 0.0, math.inf, "Pa") / (WATER_DENSITY * GRAVITY)


def _barometer(pressure: float) -> float:
    return within("barometer", pressure, 50e3, 110e3, "Pa")


def _kelvin(temperature_c: float) -> float:
    return within("air temperature", temperature_c, -40.0, 100.0, "degC") + ZERO_C
