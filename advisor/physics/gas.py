"""Argon as shielding gas: density, viscosity, flow through the cup, what is left in the cylinder.

Pure argon only: mixtures and helium have other constants. Flow and cylinder content are volumes of gas at
15 degC and 1 atm, as flowmeters and suppliers state them, unless a name says otherwise.
"""

from __future__ import annotations

import math

from advisor.physics.ranges import positive, within
from advisor.physics.tables import Spread, TableSource

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018
MOLAR_MASS = 39.948e-3  # kg/mol, argon
ATMOSPHERE = 101325.0  # Pa
ZERO_C = 273.15
REFERENCE_C = 15.0  # degC at which content and flow are stated

SUTHERLAND = 144.0  # K, argon
VISCOSITY_20 = 2.2307e-5  # Pa s at 20 degC
# Virial coefficients of argon over u = (T - 288.15 K)/100 K, in m3/mol and its powers. Fitted here to the
# equation of Tegeler, Span and Wagner (1999) as CoolProp gives it, -10 to 50 degC, up to 300 bar: Z within 0.1 %.
SECOND = (-17.348e-6, 21.738e-6, -7.414e-6)
THIRD = (9.440e-10, -1.880e-10)
FOURTH = 2.3105e-14
MOST_PRESSURE = 30.1e6  # Pa absolute

PIPE_TRANSITION = (2000.0, 2300.0)
_PIPES = TableSource("general fluid mechanics, flow in long pipes; limits of a real nozzle differ", "common-practice")


def argon_density(temperature_c: float, pressure: float = ATMOSPHERE) -> float:
    """Density of argon near atmospheric pressure [kg/m3], as an ideal gas: p M/(R T).

    Parameters: temperature_c [degC], -20 to 300; pressure [Pa] absolute, 50e3 to 200e3.
    Returns: density [kg/m3], within 0.2 %. Raises: PhysicsRangeError outside.
    Source: ideal gas law with CODATA constants (computed; error from CoolProp).
    Example: At 20 degC and 1 atm: 1.661 kg/m3 (CoolProp: 1.662).
    >>> round(argon_density(20.0), 3)
    1.661
    """
    within("argon pressure", pressure, 50e3, 200e3, "Pa")
    return pressure * MOLAR_MASS / (GAS_CONSTANT * _kelvin(temperature_c, -20.0, 300.0))


def argon_viscosity(temperature_c: float) -> float:
    """Viscosity of argon near atmospheric pressure [Pa s], after Sutherland.

    mu = mu0 (T/T0)^1.5 (T0 + S)/(T + S), S = 144 K, mu0 at 20 degC.
    Parameters: temperature_c [degC], -20 to 300. Returns: viscosity [Pa s], within 0.4 % up to 100 degC and
    1.5 % up to 300. Raises: PhysicsRangeError outside.
    Source: White, Viscous Fluid Flow, for S (memory); mu0 from CoolProp (computed).
    Example: At 100 degC: 27.1 uPa s (CoolProp: 27.2).
    >>> round(argon_viscosity(100.0) * 1e6, 1)
    27.1
    """
    ratio = _kelvin(temperature_c, -20.0, 300.0) / (ZERO_C + 20.0)
    at_20 = ZERO_C + 20.0 + SUTHERLAND
    return VISCOSITY_20 * math.pow(ratio, 1.5) * at_20 / (ZERO_C + temperature_c + SUTHERLAND)


def cup_bore(number: int) -> float:
    """Bore of a gas cup by its number [m]: sixteenths of an inch.

    Parameters: number [-], 3 to 24. Returns: bore [m]. Raises: PhysicsRangeError outside.
    Source: trade numbering of ceramic cups (memory).
    Example: Cup number 8 is 8/16 in wide, 12.7 mm.
    >>> round(cup_bore(8) * 1e3, 2)
    12.7
    """
    return within("cup number", number, 3, 24) / 16.0 * 0.0254


def nozzle_reynolds(flow: float, bore: float, temperature_c: float = 20.0, pressure: float = ATMOSPHERE) -> float:
    """Reynolds number of argon leaving a round cup [-]: 4 rho V/(pi D mu).

    Parameters: flow V [m3/s] at the cup's own temperature and pressure, above 0; bore D [m], 1 to 50 mm;
    temperature_c [degC], -20 to 300; pressure [Pa] absolute, 50e3 to 200e3. Returns: Reynolds number [-].
    Raises: PhysicsRangeError outside. Source: general fluid mechanics (common-practice).
    Example: 8 l/min through cup number 5, 7.94 mm wide: 1592 (no unit).
    >>> round(nozzle_reynolds(8e-3 / 60, cup_bore(5)))
    1592
    """
    within("cup bore", bore, 1e-3, 50e-3, "m")
    inertia = 4.0 * argon_density(temperature_c, pressure) * positive("gas flow", flow, "m3/s")
    return inertia / (math.pi * bore * argon_viscosity(temperature_c))


def laminar_flow(bore: float, temperature_c: float = 20.0, pressure: float = ATMOSPHERE) -> Spread:
    """Flow of argon at which a long pipe of the cup's bore would turn turbulent [m3/s].

    A cup is short and a gas lens evens its flow, so this is where to look for trouble, not where it starts.
    Parameters: bore [m], 1 to 50 mm; temperature_c [degC], -20 to 300; pressure [Pa] absolute, 50e3 to
    200e3. Returns: flow low to high [m3/s], at Re 2000 and 2300. Raises: PhysicsRangeError outside.
    Source: pipe transition (common-practice); Tomc and Tusek 2004 on the part of the nozzle (read, abstract).
    Example: Cup number 5: from 10.0 to 11.6 l/min.
    >>> limit = laminar_flow(cup_bore(5))
    >>> round(limit.low * 60e3, 1), round(limit.high * 60e3, 1)
    (10.0, 11.6)
    """
    per_flow = nozzle_reynolds(1.0, bore, temperature_c, pressure)
    tusek = TableSource("Tomc and Tusek 2004, abstract", "read")
    return Spread(PIPE_TRANSITION[0] / per_flow, PIPE_TRANSITION[1] / per_flow, (_PIPES, tusek))


def nozzle_velocity(flow: float, bore: float) -> float:
    """Mean velocity of gas leaving a round cup [m/s]: V/(pi D2/4).

    Parameters: flow [m3/s], above 0; bore [m], 1 to 50 mm. Returns: velocity [m/s].
    Raises: PhysicsRangeError outside. Source: continuity (computed).
    Example: 8 l/min through cup number 8, 12.7 mm wide: 1.05 m/s.
    >>> round(nozzle_velocity(8e-3 / 60, cup_bore(8)), 2)
    1.05
    """
    return positive("gas flow", flow, "m3/s") / (0.25 * math.pi * within("cup bore", bore, 1e-3, 50e-3, "m") ** 2)


def argon_compressibility(pressure: float, temperature_c: float) -> float:
    """Compressibility factor of argon in a cylinder [-]: Z = p V/(n R T), below 1 here.

    Parameters: pressure [Pa] absolute, above 0 to 30.1e6; temperature_c [degC], -10 to 50.
    Returns: Z [-], within 0.1 %. Raises: PhysicsRangeError outside.
    Source: virial fit to Tegeler, Span and Wagner 1999 as given by CoolProp (computed).
    Example: At 200 bar and 15 degC: 0.937 (CoolProp: 0.9368).
    >>> round(argon_compressibility(200e5, 15.0), 3)
    0.937
    """
    within("cylinder pressure", positive("cylinder pressure", pressure, "Pa"), 0.0, MOST_PRESSURE, "Pa")
    kelvin = _kelvin(temperature_c, -10.0, 50.0)
    u = (kelvin - 288.15) / 100.0
    second = SECOND[0] + SECOND[1] * u + SECOND[2] * u * u
    third = THIRD[0] + THIRD[1] * u
    ideal = pressure / (GAS_CONSTANT * kelvin)  # mol/m3
    density, factor = ideal, 1.0
    for _ in range(60):
        factor = 1.0 + density * (second + density * (third + density * FOURTH))
        change = ideal / factor - density
        density += change
        if abs(change) < 1e-9 * ideal:
            break
    return factor


def cylinder_mass(volume: float, pressure: float, temperature_c: float = REFERENCE_C) -> float:
    """Mass of argon in a cylinder [kg]: p V M/(Z R T).

    Parameters: volume [m3] of water, above 0 to 1; pressure [Pa] absolute, above 0 to 30.1e6 (a gauge
    shows 1 atm less); temperature_c [degC], -10 to 50. Returns: mass [kg]. Raises: PhysicsRangeError
    outside. Source: definition of Z (computed).
    Example: A cylinder of 10 l at 200 bar holds 3.56 kg.
    >>> round(cylinder_mass(10e-3, 200e5), 2)
    3.56
    """
    within("cylinder volume", positive("cylinder volume", volume, "m3"), 0.0, 1.0, "m3")
    factor = argon_compressibility(pressure, temperature_c)
    return pressure * volume * MOLAR_MASS / (factor * GAS_CONSTANT * (ZERO_C + temperature_c))


def cylinder_gas(volume: float, pressure: float, temperature_c: float = REFERENCE_C) -> float:
    """Argon in a cylinder, as the volume it fills at 15 degC and 1 atm [m3].

    Parameters: volume [m3] of water, above 0 to 1; pressure [Pa] absolute, above 0 to 30.1e6;
    temperature_c [degC], -10 to 50. Returns: gas [m3]. Raises: PhysicsRangeError outside.
    Source: as `cylinder_mass` (computed).
    Example: A cylinder of 10 l at 200 bar holds 2.1 m3.
    >>> round(cylinder_gas(10e-3, 200e5), 1)
    2.1
    """
    free = cylinder_mass(1.0, ATMOSPHERE, REFERENCE_C)
    return cylinder_mass(volume, pressure, temperature_c) / free


def cylinder_pressure(gas: float, volume: float, temperature_c: float = REFERENCE_C) -> float:
    """Pressure in a cylinder that holds so much argon [Pa] absolute; `cylinder_gas` turned round.

    Parameters: gas [m3] at 15 degC and 1 atm, 0 or more; volume [m3] of water, above 0 to 1; temperature_c
    [degC], -10 to 50. Returns: pressure [Pa] absolute, within 1 Pa. Raises: PhysicsRangeError outside, so also for
    more gas than 30.1 MPa would hold. Source: as `cylinder_mass` (computed).
    Example: 1 m3 of argon in a cylinder of 10 l: 96 bar absolute.
    >>> round(cylinder_pressure(1.0, 10e-3) / 1e5)
    96
    """
    most = cylinder_gas(volume, MOST_PRESSURE, temperature_c)
    within("gas in the cylinder", gas, 0.0, most, "m3")
    low, high = 0.0, MOST_PRESSURE
    while high - low > 1.0:
        middle = 0.5 * (low + high)
        if cylinder_gas(volume, middle, temperature_c) < gas:
            low = middle
        else:
            high = middle
    return high


def time_left(gas: float, flow: float) -> float:
    """Time a store of gas lasts at a steady flow [s]: V/flow.

    Parameters: gas [m3], 0 or more; flow [m3/s], above 0, both at the same reference. Returns: time [s].
    Raises: PhysicsRangeError outside. Source: thefabricator.com article on gas consumption (read):
    100 ft3 at 45 ft3/h last 2 h 13 min.
    Example: 100 ft3 at 45 ft3/h last 133 min, which are 2 h 13 min.
    >>> round(time_left(100 * 0.3048**3, 45 * 0.3048**3 / 3600) / 60)
    133
    """
    return within("gas", gas, 0.0, math.inf, "m3") / positive("gas flow", flow, "m3/s")


def gas_used(flow: float, arc_time: float, flow_times: float = 0.0) -> float:
    """Gas a job takes [m3]: flow times arc time and all the pre- and postflow.

    Parameters: flow [m3/s], above 0; arc_time [s], 0 or more; flow_times [s], pre- and postflow of all
    starts together, 0 or more. Returns: gas [m3]. Raises: PhysicsRangeError outside.
    Source: arithmetic (computed).
    Example: 10 l/min for 60 s of arc and 20 s of flow before and after: 13.3 l.
    >>> round(gas_used(10e-3 / 60, 60.0, 20.0) * 1e3, 1)
    13.3
    """
    total = within("arc time", arc_time, 0.0, math.inf, "s") + within(
        "pre- and postflow", flow_times, 0.0, math.inf, "s"
    )
    return positive("gas flow", flow, "m3/s") * total


def _kelvin(temperature_c: float, low: float, high: float) -> float:
    return within("gas temperature", temperature_c, low, high, "degC") + ZERO_C
