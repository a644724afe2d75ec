"""Steel and aluminium properties against temperature: corners of the Eurocode curves and golden values."""

from __future__ import annotations

import pytest

from advisor.physics import hot_properties
from advisor.physics.ranges import PhysicsRangeError


def test_c4_4_steel_properties_golden() -> None:
    assert hot_properties.steel_conductivity(300.0) == pytest.approx(44.01, abs=5e-3)
    assert hot_properties.steel_specific_heat(300.0) == pytest.approx(564.7, abs=0.05)


def test_c4_5_aluminium_properties_golden() -> None:
    assert hot_properties.aluminium_specific_heat(300.0) == pytest.approx(1026.0, abs=0.5)
    assert hot_properties.aluminium_conductivity(300.0, "plain") == pytest.approx(211.0)
    assert hot_properties.aluminium_conductivity(300.0, "alloyed") == pytest.approx(170.0)
    with pytest.raises(ValueError, match="family"):
        hot_properties.aluminium_conductivity(300.0, "6061")


def test_steel_specific_heat_joins_at_its_corners() -> None:
    """EN 1993-1-2: the pieces meet within 1 % at 600 and 900 degC and peak at 735."""
    for corner in (600.0, 900.0):
        below, above = (hot_properties.steel_specific_heat(corner + side) for side in (-1e-6, 1e-6))
        assert below == pytest.approx(above, rel=0.01)
    assert hot_properties.steel_specific_heat(735.0) == pytest.approx(5000.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: hot_properties.steel_conductivity(1201.0),
        lambda: hot_properties.steel_specific_heat(10.0),
        lambda: hot_properties.aluminium_specific_heat(501.0),
        lambda: hot_properties.aluminium_conductivity(-1.0, "plain"),
    ],
)
def test_outside_the_range_there_is_no_number(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()
