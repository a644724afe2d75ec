"""Dew point: how much colder metal may be than the shop before water sits on it."""

from __future__ import annotations

import math

from advisor.physics.ranges import within

# Magnus form over water, -45 to 60 degC.
SLOPE = 17.62
OFFSET = 243.12  # degC


def dew_point_c(air_c: float, humidity: float) -> float:
    """Temperature at which the air of a shop leaves water on a surface [degC].

    Td = 243.12 g/(17.62 - g), g = ln RH + 17.62 T/(243.12 + T).
    Parameters: air_c T [degC], -45 to 60; humidity RH [-], 0.01 to 1. Returns: dew point [degC].
    Raises: PhysicsRangeError outside. Source: Magnus form with Sonntag's 1990 constants, WMO-No. 8 (memory).
    Example: Air of 20 degC at 50 % leaves water on what is at 9.3 degC or colder (DIN 4108-3).
    >>> round(dew_point_c(20.0, 0.5), 1)
    9.3
    """
    within("air temperature", air_c, -45.0, 60.0, "degC")
    within("relative humidity", humidity, 0.01, 1.0, "", "give it as a share, 0.5 for 50 %")
    exponent = math.log(humidity) + SLOPE * air_c / (OFFSET + air_c)
    return OFFSET * exponent / (SLOPE - exponent)


def dew_point_margin(surface_c: float, air_c: float, humidity: float) -> float:
    """How far a surface is above the dew point of the air [K]; at 0 and below it is wet.

    Parameters: surface_c [degC] of the metal, -60 to 1000; air_c [degC], -45 to 60; humidity [-], 0.01 to
    1. Returns: margin [K], any sign. Raises: PhysicsRangeError outside. Source: as `dew_point_c` (memory).
    Example: Stock of 5 degC in a shop of 20 degC at 50 % is 4.3 K below the dew point: water sits on it.
    >>> round(dew_point_margin(5.0, 20.0, 0.5), 1)
    -4.3
    """
    return within("surface temperature", surface_c, -60.0, 1000.0, "degC") - dew_point_c(air_c, humidity)
