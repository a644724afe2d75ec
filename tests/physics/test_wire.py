"""What the wire lays down, against a wire maker's table of lengths per pound and legs printed beside feeds."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.physics.ranges import PhysicsRangeError
from tests.physics.oracles.wire import bead_area, melted_per_ampere, melted_volume, wire_area

INCH, POUND = 25.4e-3, 0.45359237
STEEL, ALUMINIUM = 7850.0, 2700.0  # kg/m3


@pytest.mark.parametrize(
    ("diameter_in", "density", "inches_per_pound"),
    [(0.030, STEEL, 4956), (0.035, STEEL, 3648), (0.045, STEEL, 2196), (1 / 16, STEEL, 1152), (3 / 64, ALUMINIUM, 6408),
     (1 / 16, ALUMINIUM, 3372)],
)  # fmt: skip
def test_length_of_a_pound(diameter_in: float, density: float, inches_per_pound: float) -> None:
    """MIG handbook of a wire maker, section on deposition: inches of wire to the pound (its diameters are rounded)."""
    length = POUND / (density * wire_area(diameter_in * INCH)) / INCH
    assert length == pytest.approx(inches_per_pound, rel=0.08)


@pytest.mark.parametrize(
    ("diameter", "inches_per_minute_an_ampere"), [(0.61e-3, 3.5), (0.762e-3, 2.0), (0.889e-3, 1.6), (1.143e-3, 1.0)]
)
def test_each_ampere_melts_the_same_volume(diameter: float, inches_per_minute_an_ampere: float) -> None:
    """Power-source manuals print feed per ampere for four wires; by volume they agree within 9 % of 0.42 mm3/(A s)."""
    feed = inches_per_minute_an_ampere * INCH / 60
    assert melted_per_ampere(feed, diameter, 1.0) == pytest.approx(0.42e-9, rel=0.09)


@pytest.mark.parametrize(
    ("current", "diameter", "per_ampere", "travel_cm_min", "legs_mm"),
    [(105, 0.889e-3, 1.6, 55, (2.5, 3.0)), (130, 0.889e-3, 1.6, 55, (3.0, 3.5)), (150, 1.143e-3, 1.0, 50, (3.0, 4.0))],
)  # fmt: skip
def test_feed_makes_the_leg_printed_beside_it(
    current: float, diameter: float, per_ampere: float, travel_cm_min: float, legs_mm: tuple[float, float]
) -> None:
    """Fillets of 1.6, 2.3 and 3.2 mm in a manual's CO2 table: feed by the other manuals' rule fills the leg printed.

    A fillet of leg z holds z2/2; a bead stands up to a third fuller than that.
    """
    area = bead_area(current * per_ampere * INCH / 60, diameter, travel_cm_min / 100 / 60) * 1e6
    low, high = (leg**2 / 2 for leg in legs_mm)
    assert low <= area <= high * 1.34


@given(
    feed=st.floats(0.01, 0.5), diameter=st.floats(0.5e-3, 1.6e-3), travel=st.floats(1e-3, 0.03), share=st.floats(0.8, 1)
)
def test_volume_is_kept(feed: float, diameter: float, travel: float, share: float) -> None:
    assert bead_area(feed, diameter, travel, share) * travel == pytest.approx(share * melted_volume(feed, diameter))


@pytest.mark.parametrize(
    ("feed", "diameter", "travel", "share"),
    [(0.1, -1e-3, 0.01, 1), (0.1, 5e-3, 0.01, 1), (0, 1e-3, 0.01, 1), (2, 1e-3, 0.01, 1), (0.1, 1e-3, 0, 1),
     (0.1, 1e-3, 0.01, 1.1), (float("nan"), 1e-3, 0.01, 1)],
)  # fmt: skip
def test_out_of_range(feed: float, diameter: float, travel: float, share: float) -> None:
    with pytest.raises(PhysicsRangeError):
        bead_area(feed, diameter, travel, share)
