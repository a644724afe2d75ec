"""Outside a valid range there is a message with name, value, unit and range, and no number."""

from __future__ import annotations

import math

import pytest

from advisor.diagnostics import Exit, PrestrikeError
from advisor.physics.ranges import PhysicsRangeError, positive, within


@pytest.mark.parametrize("value", [0.5, 1.0, 2.0])
def test_a_value_inside_comes_back(value: float) -> None:
    assert within("thickness", value, 0.5, 2.0, "mm") == value


@pytest.mark.parametrize("value", [0.49, 2.01, math.nan, math.inf, -math.inf])
def test_a_value_outside_raises_and_names_everything(value: float) -> None:
    with pytest.raises(PhysicsRangeError) as caught:
        within("thickness", value, 0.5, 2.0, "mm")
    finding = caught.value.diagnostics[0]
    assert finding.code == "out-of-range"
    assert finding.subject == "thickness"
    assert "from 0.5 to 2 mm" in finding.message
    assert f"{value:.4g} mm" in finding.message
    assert isinstance(caught.value, PrestrikeError)
    assert caught.value.exit_code is Exit.BAD_INPUT


def test_an_open_end_is_said_in_words() -> None:
    with pytest.raises(PhysicsRangeError, match="from 3 W"):
        within("power", 1.0, 3.0, math.inf, "W")
    with pytest.raises(PhysicsRangeError, match="up to 3 W"):
        within("power", 4.0, -math.inf, 3.0, "W")


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_positive_refuses_zero_and_below_and_what_is_not_a_number(value: float) -> None:
    with pytest.raises(PhysicsRangeError):
        positive("travel", value, "m/s")


def test_positive_returns_the_value() -> None:
    assert positive("travel", 1e-3, "m/s") == 1e-3


def test_a_length_is_said_in_millimetres() -> None:
    with pytest.raises(PhysicsRangeError) as caught:
        within("thickness", 0.06, 0.0002, 0.05, "m")
    assert caught.value.diagnostics[0].message == "thickness is 60 mm; valid from 0.2 to 50 mm"
    assert caught.value.value == 0.06
