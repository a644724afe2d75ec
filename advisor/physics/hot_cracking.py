"""Indexes of solidification cracking of steel beads: UCS of carbon steel, WRC-1992 equivalents of stainless."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.physics.ranges import within

# Contents the UCS formula holds for [mass %]; carbon below 0.08 counts as 0.08.
UCS_RANGES = {
    "C": (0.0, 0.23),
    "S": (0.0, 0.050),
    "P": (0.0, 0.045),
    "Si": (0.0, 0.65),
    "Mn": (0.45, 1.6),
    "Nb": (0.0, 0.07),
}
LEAST_CARBON = 0.08
# Axes of the WRC-1992 diagram [mass %] (memory).
CHROMIUM_AXIS, NICKEL_AXIS = (17.0, 31.0), (9.0, 18.0)


def ucs(contents: Mapping[str, float]) -> float:
    """Units of crack susceptibility of a carbon-steel bead [-]: 230 C + 190 S + 75 P + 45 Nb - 12.3 Si - 5.4 Mn - 1.

    Parameters: contents [mass %] by symbol, within `UCS_RANGES`; what is missing counts as 0. Returns: UCS [-]; under
    10 resists, over 30 cracks. Raises: PhysicsRangeError outside. Source: EN 1011-2:2001 Annex E (memory), made for
    submerged arc; S and P below the lower ends of its range only lower the result, so they are let through.
    Example: 0.12 % C, 0.015 % S and P, 0.30 % Si, 1.0 % Mn: 27.6 + 2.85 + 1.125 - 3.69 - 5.4 - 1 = 21.485.
    >>> round(ucs({"C": 0.12, "S": 0.015, "P": 0.015, "Si": 0.30, "Mn": 1.0}), 3)
    21.485
    """
    c = {name: within(name, contents.get(name, 0.0), *span, "%") for name, span in UCS_RANGES.items()}
    carbon = max(c["C"], LEAST_CARBON)
    return 230.0 * carbon + 190.0 * c["S"] + 75.0 * c["P"] + 45.0 * c["Nb"] - 12.3 * c["Si"] - 5.4 * c["Mn"] - 1.0


def chromium_equivalent(contents: Mapping[str, float]) -> float:
    """Chromium equivalent of a stainless bead [mass %]: Cr + Mo + 0.7 Nb.

    Parameters: contents [mass %] by symbol, each 0 to 100. Returns: equivalent [mass %].
    Raises: PhysicsRangeError outside. Source: WRC-1992 diagram (memory).
    Example: 18 % Cr, 2.5 % Mo and 1 % Nb: 21.2 %.
    >>> round(chromium_equivalent({"Cr": 18.0, "Mo": 2.5, "Nb": 1.0}), 2)
    21.2
    """
    return _get(contents, "Cr") + _get(contents, "Mo") + 0.7 * _get(contents, "Nb")


def nickel_equivalent(contents: Mapping[str, float]) -> float:
    """Nickel equivalent of a stainless bead [mass %]: Ni + 35 C + 20 N + 0.25 Cu.

    Parameters: contents [mass %] by symbol, each 0 to 100. Returns: equivalent [mass %].
    Raises: PhysicsRangeError outside. Source: WRC-1992 diagram (formula read on a web page; the rest memory).
    Example: 11 % Ni, 0.02 % C, 0.05 % N and 0.4 % Cu: 12.8 %.
    >>> round(nickel_equivalent({"Ni": 11.0, "C": 0.02, "N": 0.05, "Cu": 0.4}), 2)
    12.8
    """
    parts = (("Ni", 1.0), ("C", 35.0), ("N", 20.0), ("Cu", 0.25))
    return sum(times * _get(contents, name) for name, times in parts)


def equivalents_ratio(contents: Mapping[str, float]) -> float:
    """Creq/Nieq of an austenitic stainless bead [-]: above about 1.5 it freezes as ferrite first.

    Parameters: contents [mass %] by symbol, with equivalents on the axes of the diagram, Creq 17 to 31 and Nieq 9 to
    18. Returns: ratio [-]. Raises: PhysicsRangeError outside. Source: WRC-1992 diagram (memory).
    Example: 308L with 20 % Cr, 10 % Ni, 0.02 % C and 0.05 % N: 20/11.7 = 1.71, so it freezes as ferrite first.
    >>> round(equivalents_ratio({"Cr": 20.0, "Ni": 10.0, "C": 0.02, "N": 0.05}), 2)
    1.71
    """
    chromium = within("chromium equivalent", chromium_equivalent(contents), *CHROMIUM_AXIS, "%")
    return chromium / within("nickel equivalent", nickel_equivalent(contents), *NICKEL_AXIS, "%")


def _get(contents: Mapping[str, float], name: str) -> float:
    return within(name, contents.get(name, 0.0), 0.0, 100.0, "%")
