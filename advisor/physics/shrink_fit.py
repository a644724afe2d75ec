"""Shrink fits: pressure, hoop stress, grip and heating of a ring on a shaft, and a welded seam in that ring.

Elastic, rings alike along their length, no yielding: compare the stresses with the proof strength (of the
heat-affected zone where the ring is welded). Heating a 6xxx-T6 ring above 120 to 150 degC costs strength.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from advisor.physics.ranges import positive, within
from advisor.physics.tables import Spread, TableSource

THIN_RING = 0.05  # t/D up to which a ring's stress is taken as even through its wall
FRICTION = Spread(0.15, 0.20, (TableSource("course text on shrink fits", "read"),))
HEATING_LIMIT_6XXX_C = (120.0, 150.0)  # degC; a 6xxx-T6 ring loses strength above about this


@dataclass(frozen=True)
class Ring:
    """One member of a fit: inner and outer radius [m], Young's modulus [Pa], Poisson's ratio [-].

    inner 0 is a solid shaft. Raises PhysicsRangeError unless 0 <= inner < outer, modulus 1e9 to 700e9,
    Poisson's ratio 0 to 0.5.
    """

    inner: float
    outer: float
    modulus: float
    poisson: float

    def __post_init__(self) -> None:
        positive("outer radius", self.outer, "m")
        within("inner radius", self.inner, 0.0, math.nextafter(self.outer, 0.0), "m")
        within("Young's modulus", self.modulus, 1e9, 700e9, "Pa", "give it in Pa, such as 69e9 for aluminium")
        within("Poisson's ratio", self.poisson, 0.0, 0.5)


@dataclass(frozen=True)
class HoopStress:
    """Hoop stresses of a fit [Pa], tension positive: hub at its bore and outside, shaft outside and at its bore.

    A solid shaft has one stress all over, given twice.
    """

    hub_bore: float
    hub_outside: float
    shaft_outside: float
    shaft_bore: float


@dataclass(frozen=True)
class SeamStress:
    """Stress in the metal of a seam along a ring [Pa]: even over its depth, and with the bending its offset adds.

    A one-sided seam lies off the middle of the wall; a ring that may bend freely there reaches `bent` at the
    root, one held round by its shaft stays near `even`.
    """

    even: float
    bent: float


# Lost to crests pressed flat, on the diameter, as a share of the sum of both roughness heights Rz [-]. The newer
# edition of the standard halves it; the larger is safe for grip, none at all for stress.
SMOOTHING = Spread(
    0.4,
    0.8,
    (
        TableSource("DIN 7190-1:2017, factor as told in a shaft-and-bearing manual", "read"),
        TableSource("DIN 7190:2001, factor as told in the same manual", "read"),
    ),
)
# Clearance for assembly on the diameter, over the diameter [-].
ASSEMBLY_CLEARANCE = (1e-3, TableSource("DIN 7190, joining clearance 1/1000 of the diameter", "memory"))
# Shrinkage of metals on the way from 20 degC to dry ice (-78 degC) and to liquid nitrogen (-196 degC) [-].
COLD_BATHS = {"freezer": -18.0, "dry ice": -78.0, "liquid nitrogen": -196.0}
COLD_SHRINKAGE: dict[str, tuple[float, float]] = {
    "carbon-steel": (1.05e-3, 1.95e-3),
    "stainless": (1.5e-3, 2.8e-3),
    "aluminium": (2.1e-3, 3.9e-3),
    "bronze": (1.6e-3, 3.1e-3),
    "cast-iron": (0.95e-3, 1.7e-3),
}
COLD_SOURCE = TableSource("low-temperature expansion tables (NIST, White), rounded", "memory")


def smoothing_loss(share: float, roughness_sum: float) -> float:
    """Interference on the diameter that is lost as crests flatten [m]: share times the sum of both Rz.

    Parameters: share [-], 0 to 1 (`SMOOTHING`); roughness_sum [m], Rz of bore and ring added, 0 to 0.2 mm.
    Returns: loss [m]. Raises: PhysicsRangeError outside. Source: DIN 7190 (read at second hand).
    Example: 0.8 of 10 um of roughness: 8 um are lost.
    >>> round(smoothing_loss(0.8, 10e-6) * 1e6, 3)
    8.0
    """
    rough = within("sum of roughness heights", roughness_sum, 0.0, 0.2e-3, "m")
    return within("share", share, 0.0, 1.0) * rough


def hub_growth(fit_pressure: float, hub: Ring) -> float:
    """How much the outside of a hub grows on the diameter [m]: 4 p R2 ro/(E (ro2 - R2)).

    Parameters: fit_pressure p [Pa], 0 or more; hub [m, Pa]. Returns: growth [m]. Raises: PhysicsRangeError outside.
    Source: Lame (computed).
    Example: An aluminium hub, 40 mm bore and 60 mm outside, grows by 30.3 um under 21.8 MPa.
    >>> round(hub_growth(21.8e6, Ring(20e-3, 30e-3, 69e9, 0.33)) * 1e6, 1)
    30.3
    """
    p = within("pressure", fit_pressure, 0.0, math.inf, "Pa")
    return 4.0 * p * hub.inner**2 * hub.outer / (hub.modulus * (hub.outer**2 - hub.inner**2))


def ring_closing(fit_pressure: float, shaft: Ring) -> float:
    """How much the bore of a pressed ring closes on the diameter [m]: 4 p R2 ri/(E (R2 - ri2)).

    Parameters: fit_pressure p [Pa], 0 or more; shaft [m, Pa], the ring inside. Returns: closing [m], 0 if solid.
    Raises: PhysicsRangeError outside. Source: Lame (computed).
    Example: A steel ring, 20 mm bore and 40 mm outside, closes by 5.2 um under 20 MPa.
    >>> round(ring_closing(20e6, Ring(10e-3, 20e-3, 207e9, 0.29)) * 1e6, 1)
    5.2
    """
    p = within("pressure", fit_pressure, 0.0, math.inf, "Pa")
    return 4.0 * p * shaft.outer**2 * shaft.inner / (shaft.modulus * (shaft.outer**2 - shaft.inner**2))


def equivalent_at_bore(fit_pressure: float, hub: Ring) -> float:
    """Von Mises stress at a hub's bore [Pa]: from the hoop stress and -p across it.

    Parameters: fit_pressure p [Pa], 0 or more; hub [m, Pa]. Returns: stress [Pa]. Raises: PhysicsRangeError outside.
    Source: Lame (memory), reduced here (computed).
    Example: A hub of 40 mm bore and 60 mm outside under 10 MPa, hoop stress 26 MPa: 32.2 MPa.
    >>> round(equivalent_at_bore(10e6, Ring(20e-3, 30e-3, 69e9, 0.33)) / 1e6, 1)
    32.2
    """
    p = within("pressure", fit_pressure, 0.0, math.inf, "Pa")
    hoop = p * _spread(hub.outer, hub.inner)
    return math.sqrt(hoop**2 + hoop * p + p**2)


def pressure(interference: float, hub: Ring, shaft: Ring) -> float:
    """Pressure between hub and shaft [Pa].

    p = delta/{R [((ro2 + R2)/(ro2 - R2) + nu_o)/Eo + ((R2 + ri2)/(R2 - ri2) - nu_i)/Ei]}, R the fit radius.
    Parameters: interference delta [m] on the radius (half of that on the diameter), 0 or more, at most R/50;
    hub, shaft [m, Pa]: hub.inner and shaft.outer agree within that interference. Returns: pressure [Pa].
    Raises: PhysicsRangeError outside. Source: Shigley, via two engineering reference pages (read).
    Example: An aluminium ring of 40 and 60 mm on a solid steel shaft, 20 um on the radius: 21.79 MPa.
    >>> round(pressure(20e-6, Ring(20e-3, 30e-3, 69e9, 0.33), Ring(0.0, 20e-3, 207e9, 0.292)) / 1e6, 2)
    21.79
    """
    radius = _fit_radius(hub, shaft)
    within("radial interference", interference, 0.0, radius / 50.0, "m", "beyond that no metal stays elastic")
    give = (_spread(hub.outer, radius) + hub.poisson) / hub.modulus
    give += (_spread(radius, shaft.inner) - shaft.poisson) / shaft.modulus
    return interference / (radius * give)


def interference_for(wanted: float, hub: Ring, shaft: Ring) -> float:
    """Radial interference that gives a pressure [m]; `pressure` turned round.

    Parameters: wanted [Pa], 0 or more; hub, shaft as in `pressure` [m, Pa]. Returns: interference [m] on the
    radius. Raises: PhysicsRangeError outside. Source: as `pressure` (read).
    Example: A hub of 100 and 250 mm, 70 GPa, on a shaft of 50 and 100 mm, 210 GPa: 21.72 MPa take 32.4 um on the
    radius.
    >>> hub, shaft = Ring(50e-3, 125e-3, 70e9, 0.25), Ring(25e-3, 50e-3, 210e9, 0.3)
    >>> round(interference_for(21.724e6, hub, shaft) * 1e6, 1)
    32.4
    """
    radius = _fit_radius(hub, shaft)
    unit = radius * 1e-6
    needed = within("pressure", wanted, 0.0, math.inf, "Pa") / pressure(unit, hub, shaft) * unit
    return within("radial interference", needed, 0.0, radius / 50.0, "m", "no elastic fit reaches that pressure")


def hoop_stress(fit_pressure: float, hub: Ring, shaft: Ring) -> HoopStress:
    """Hoop stresses that a fit pressure causes [Pa].

    Hub: p (ro2 + R2)/(ro2 - R2) at the bore, 2 p R2/(ro2 - R2) outside. Shaft: -p (R2 + ri2)/(R2 - ri2)
    outside, -2 p R2/(R2 - ri2) at its bore; solid, -p. Parameters: fit_pressure p [Pa], 0 or more; hub,
    shaft as in `pressure` [m, Pa]. Returns: four stresses [Pa]. Raises: PhysicsRangeError outside.
    Source: Lame; Shigley, Roark (memory).
    Example: A hub of 100 and 250 mm on a shaft of 50 and 100 mm under 21.72 MPa: 30 MPa at the hub's bore.
    >>> hub, shaft = Ring(50e-3, 125e-3, 70e9, 0.25), Ring(25e-3, 50e-3, 210e9, 0.3)
    >>> round(hoop_stress(21.724e6, hub, shaft).hub_bore / 1e6, 2)
    30.0
    """
    radius = _fit_radius(hub, shaft)
    p = within("pressure", fit_pressure, 0.0, math.inf, "Pa")
    outside = 2.0 * p * radius**2 / (hub.outer**2 - radius**2)
    shaft_outside = -p * _spread(radius, shaft.inner)
    bore = -2.0 * p * radius**2 / (radius**2 - shaft.inner**2) if shaft.inner > 0.0 else -p
    return HoopStress(p * _spread(hub.outer, radius), outside, shaft_outside, bore)


def pull_out_force(fit_pressure: float, radius: float, length: float, friction: float) -> float:
    """Axial force that slides the fit [N]: 2 pi R L mu p.

    Parameters: fit_pressure p [Pa], 0 or more; radius R [m], above 0; length L [m], above 0; friction mu
    [-], 0.01 to 1 (`FRICTION` gives 0.15 to 0.20). Returns: force [N]. Raises: PhysicsRangeError outside.
    Source: course text on shrink fits (read).
    Example: 21.724 MPa on 100 mm diameter and 100 mm length with friction 0.15: 102.4 kN.
    >>> round(pull_out_force(21.724e6, 50e-3, 100e-3, 0.15) / 1e3, 1)
    102.4
    """
    within("friction", friction, 0.01, 1.0)
    area = 2.0 * math.pi * positive("radius", radius, "m") * positive("length", length, "m")
    return area * friction * within("pressure", fit_pressure, 0.0, math.inf, "Pa")


def torque(fit_pressure: float, radius: float, length: float, friction: float) -> float:
    """Torque that turns the fit [N m]: 2 pi R2 L mu p.

    Parameters: as `pull_out_force` [Pa, m, m, -]. Returns: torque [N m]. Raises: PhysicsRangeError outside.
    Source: as `pull_out_force` (read).
    Example: 21.724 MPa on 100 mm diameter and 100 mm length with friction 0.15: 5.12 kN m.
    >>> round(torque(21.724e6, 50e-3, 100e-3, 0.15) / 1e3, 2)
    5.12
    """
    return pull_out_force(fit_pressure, radius, length, friction) * radius


def heating_rise(interference: float, clearance: float, diameter: float, expansion: float) -> float:
    """Temperature rise that opens a ring for assembly [K]: (delta_d + clearance)/(alpha D).

    Parameters: interference delta_d [m] on the diameter, 0 or more; clearance [m] on the diameter wanted
    for handling, 0 or more; diameter D [m], above 0; expansion alpha [1/K], 1e-6 to 40e-6.
    Returns: rise [K]. Raises: PhysicsRangeError outside. Source: free expansion (computed).
    Example: A tyre 6 mm smaller than a wheel of 1 m, 1.2e-5 1/K: 503 K.
    >>> round(heating_rise(6e-3, 0.0, 0.994, 1.2e-5))
    503
    """
    grow = within("interference", interference, 0.0, math.inf, "m") + within("clearance", clearance, 0.0, math.inf, "m")
    return grow / (_expansion(expansion) * positive("diameter", diameter, "m"))


def interference_at(
    interference: float, diameter: float, hub_expansion: float, shaft_expansion: float, rise: float
) -> float:
    """Interference on the diameter after both members warm alike [m]: delta_d + (alpha_i - alpha_o) D dT.

    An aluminium ring on a steel shaft loosens when hot; below 0 there is a gap.
    Parameters: interference delta_d [m] cold, any sign; diameter D [m], above 0; hub_expansion alpha_o,
    shaft_expansion alpha_i [1/K], 1e-6 to 40e-6; rise dT [K], -250 to 600. Returns: interference [m].
    Raises: PhysicsRangeError outside. Source: free expansion (computed).
    Example: 0.04 mm on 40 mm, an aluminium ring on a steel shaft, 50 K warmer: 0.0162 mm are left.
    >>> round(interference_at(0.04e-3, 40e-3, 23.6e-6, 11.7e-6, 50.0) * 1e3, 4)
    0.0162
    """
    within("interference", interference, -1.0, 1.0, "m")
    within("temperature rise", rise, -250.0, 600.0, "K")
    difference = _expansion(shaft_expansion) - _expansion(hub_expansion)
    return interference + difference * positive("diameter", diameter, "m") * rise


def rigid_disc_stress(modulus: float, expansion: float, drop: float) -> float:
    """Hoop stress of a thin ring shrunk by cooling on to a disc that does not give [Pa]: E alpha dT.

    Parameters: modulus E [Pa], 1e9 to 700e9; expansion alpha [1/K], 1e-6 to 40e-6; drop dT [K] from the
    temperature at which the ring just fits, 0 or more, up to 600. Returns: stress [Pa].
    Raises: PhysicsRangeError outside. Source: strength-of-materials exercise on a locomotive tyre (read).
    Example: A steel tyre of 200 GPa and 11.7e-6 1/K that cools by 55 K: 128.7 MPa.
    >>> round(rigid_disc_stress(200e9, 11.7e-6, 55.0) / 1e6, 1)
    128.7
    """
    within("Young's modulus", modulus, 1e9, 700e9, "Pa")
    return modulus * _expansion(expansion) * within("temperature drop", drop, 0.0, 600.0, "K")


def thin_ring_pressure(hoop: float, thickness: float, diameter: float) -> float:
    """Pressure of a thin ring on what it holds [Pa]: 2 sigma t/D.

    Parameters: hoop sigma [Pa], 0 or more; thickness t [m], above 0, up to D/20; diameter D [m], above 0.
    Returns: pressure [Pa]. Raises: PhysicsRangeError outside. Source: as `rigid_disc_stress` (read).
    Example: 128.7 MPa in a tyre 12 mm thick on 2 m: 1.5444 MPa.
    >>> round(thin_ring_pressure(128.7e6, 12e-3, 2.0) / 1e6, 4)
    1.5444
    """
    within("hoop stress", hoop, 0.0, math.inf, "Pa")
    limit = THIN_RING * positive("diameter", diameter, "m")
    within("thickness", positive("thickness", thickness, "m"), 0.0, limit, "m", "a thick ring needs `pressure`")
    return 2.0 * hoop * thickness / diameter


def ring_tension(fit_pressure: float, radius: float) -> float:
    """Tension carried round a ring per length along its axis [N/m]: p R, whatever the wall.

    Parameters: fit_pressure p [Pa], 0 or more; radius R [m] of the bore, above 0. Returns: tension [N/m].
    Raises: PhysicsRangeError outside. Source: equilibrium of half the ring (computed).
    Example: 10 MPa at a radius of 20 mm: 200 N/mm.
    >>> round(ring_tension(10e6, 20e-3) / 1e3, 3)
    200.0
    """
    return within("pressure", fit_pressure, 0.0, math.inf, "Pa") * positive("radius", radius, "m")


def seam_stress(tension: float, wall: float, penetration: float) -> SeamStress:
    """Stress in a seam along a ring, welded from one side to part of the wall [Pa].

    Even: N/s. With free bending from the offset (t - s)/2: N/s (1 + 3 (t - s)/s), at the root, the larger.
    Parameters: tension N [N/m], 0 or more (`ring_tension`); wall t [m], above 0; penetration s [m] that is
    always reached, above 0, up to the wall. Returns: both stresses [Pa]. Raises: PhysicsRangeError outside.
    Source: equilibrium and beam bending (computed).
    Example: 100 N/mm through 2.5 of 5 mm: 40 MPa if held straight, 160 MPa if free to bend.
    >>> found = seam_stress(1e5, 5e-3, 2.5e-3)
    >>> round(found.even / 1e6, 3), round(found.bent / 1e6, 3)
    (40.0, 160.0)
    """
    within("tension", tension, 0.0, math.inf, "N/m")
    positive("wall", wall, "m")
    depth = within("penetration", positive("penetration", penetration, "m"), 0.0, wall, "m")
    even = tension / depth
    return SeamStress(even, even * (1.0 + 3.0 * (wall - depth) / depth))


def _expansion(expansion: float) -> float:
    return within("thermal expansion", expansion, 1e-6, 40e-6, "1/K")


def _fit_radius(hub: Ring, shaft: Ring) -> float:
    """The radius both members share [m]; a hub bored to 1 part in 50 of the shaft still counts as the same."""
    positive("hub bore", hub.inner, "m")
    within("hub bore", hub.inner, 0.98 * shaft.outer, 1.02 * shaft.outer, "m", "hub and shaft must meet")
    return hub.inner


def _spread(outer: float, inner: float) -> float:
    """(outer2 + inner2)/(outer2 - inner2) [-]."""
    return (outer**2 + inner**2) / (outer**2 - inner**2)
