"""Wire feed: what the wire lays down. Feed, wire, travel and bead area hang together by volume alone."""

from __future__ import annotations

import math

from advisor.physics.ranges import positive, within

THICKEST_WIRE = 4e-3  # m
FASTEST_FEED = 1.0  # m/s


def wire_area(diameter: float) -> float:
    """Cross-section of a round wire [m2].

    Parameters: diameter [m], above 0 to 4e-3. Returns: area [m2]. Raises: PhysicsRangeError outside.
    Source: geometry (definition).
    """
    positive("wire diameter", diameter, "m")
    within("wire diameter", diameter, 0.0, THICKEST_WIRE, "m")
    return math.pi * diameter**2 / 4


def melted_volume(feed: float, diameter: float) -> float:
    """Volume of wire melted in a second [m3/s]: feed times cross-section.

    Parameters: feed [m/s], above 0 to 1; diameter [m], above 0 to 4e-3. Returns: volume rate [m3/s].
    Raises: PhysicsRangeError outside. Source: geometry (definition).
    """
    positive("wire feed", feed, "m/s")
    within("wire feed", feed, 0.0, FASTEST_FEED, "m/s")
    return feed * wire_area(diameter)


def bead_area(feed: float, diameter: float, travel: float, share_laid: float = 0.95) -> float:
    """Cross-section of metal laid along a seam [m2]: what is melted, less spatter, over the travel.

    Parameters: feed [m/s], above 0 to 1; diameter [m], above 0 to 4e-3; travel [m/s], above 0; share_laid [-],
    above 0 to 1: the rest is spatter. Returns: area [m2]. Raises: PhysicsRangeError outside.
    Source: continuity; a share laid of 0.93 to 0.98 for gas metal arc (filler maker's guide, read).
    """
    positive("travel", travel, "m/s")
    positive("share laid", share_laid, "")
    within("share laid", share_laid, 0.0, 1.0, "")
    return share_laid * melted_volume(feed, diameter) / travel


def melted_per_ampere(feed: float, diameter: float, current: float) -> float:
    """Volume of wire that each ampere melts in a second [m3/(A s)]: nearly the same for all wires of a metal.

    Parameters: feed [m/s], above 0 to 1; diameter [m], above 0 to 4e-3; current [A], above 0.
    Returns: specific melting [m3/(A s)]. Raises: PhysicsRangeError outside. Source: definition.
    """
    positive("current", current, "A")
    return melted_volume(feed, diameter) / current
