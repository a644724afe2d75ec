"""US practice for steel seams: figures every handbook prints, and limits."""

from __future__ import annotations

import pytest

from advisor.physics import steel_us as u
from advisor.physics.constants import KSI
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

MM, INCH, KIP = 1e-3, 25.4e-3, 4448.2216152605
E70 = 70 * KSI


def test_a_sixteenth_of_leg_carries_1_392_kip_an_inch() -> None:
    """AISC Manual part 8 (memory): phi Rn = 1.392 D l kip for E70, D in sixteenths of an inch; 1.5 times across."""
    found = u.aisc_fillet(INCH / 16 * 0.70711, E70)
    assert found.along * INCH / KIP == pytest.approx(1.392, abs=5e-4)
    assert found.across / found.along == pytest.approx(1.5)


def test_plate_of_a36() -> None:
    """AISC 360 J4 (memory): 0.9 x 36 = 32.4 ksi in tension, 0.6 x 36 = 21.6 ksi in shear."""
    found = u.aisc_base(INCH, u.US_STEELS["A36"])
    assert found.across / INCH / KSI == pytest.approx(32.4)
    assert found.along / INCH / KSI == pytest.approx(21.6)


@pytest.mark.parametrize(("thinner", "leg"), [(5.0, 3), (6.3, 3), (8.0, 5), (12.7, 5), (16.0, 6), (19.0, 6), (25.0, 8)])
def test_least_leg(thinner: float, leg: float) -> None:
    """AISC 360 Table J2.4 in millimetres (memory)."""
    assert u.aisc_least_leg(thinner * MM) / MM == pytest.approx(leg)


def test_greatest_leg_along_an_edge() -> None:
    assert u.most_edge_leg(5 * MM) == 5 * MM
    assert u.most_edge_leg(6 * MM) == pytest.approx(4 * MM)


def test_sheet_fillets() -> None:
    """AISI S100 J2.5 (memory): along 0.60 (1 - 0.01 L/t) t Fu to 25, then 0.55 x 0.75 t Fu; across 0.65 t Fu."""
    fu = 400e6
    short = u.aisi_sheet_fillet(2 * MM, 20 * MM, 2 * MM, fu, E70)
    long = u.aisi_sheet_fillet(2 * MM, 100 * MM, 2 * MM, fu, E70)
    assert short.along == pytest.approx(0.60 * 0.90 * 2 * MM * fu)
    assert long.along == pytest.approx(0.55 * 0.75 * 2 * MM * fu)
    assert long.across == pytest.approx(0.65 * 2 * MM * fu)
    held = u.aisi_sheet_fillet(3 * MM, 100 * MM, 1.5 * MM, fu, E70)
    assert held.across == pytest.approx(0.60 * 0.75 * 1.5 * MM * E70)


def test_partial_groove() -> None:
    """AISC 360 Table J2.5 (memory): 0.75 x 0.60 FEXX along, 0.80 x 0.60 FEXX across."""
    found = u.aisc_partial_groove(5 * MM, E70)
    assert found.along == pytest.approx(0.45 * E70 * 5 * MM)
    assert found.across == pytest.approx(0.48 * E70 * 5 * MM)


def test_long_fillets() -> None:
    """AISC 360 J2.2b (memory): all to 100 legs, 0.6 at 300, then 180 legs and no more."""
    assert u.aisc_long_factor(100 * MM, 5 * MM) == 1.0
    assert u.aisc_long_factor(1500 * MM, 5 * MM) == pytest.approx(0.6)
    assert u.aisc_long_factor(3000 * MM, 5 * MM) * 3000 == pytest.approx(180 * 5)


def test_strength_in_a_fillers_name() -> None:
    assert u.electrode_strength("ER70S-2") == u.electrode_strength("E7018") == pytest.approx(E70)
    assert u.electrode_strength("ER80S-D2") == pytest.approx(80 * KSI)
    for name in ("ER308L", "ER5356", "", "none"):
        with pytest.raises(NotCoveredError):
            u.electrode_strength(name)


@pytest.mark.parametrize(
    "call",
    [
        lambda: u.aisc_fillet(0.0, E70),
        lambda: u.aisc_fillet(3 * MM, 70.0),
        lambda: u.aisi_sheet_fillet(6 * MM, 50 * MM, 3 * MM, 400e6, E70),
        lambda: u.aisc_least_leg(-1.0),
    ],
)
def test_outside(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()
