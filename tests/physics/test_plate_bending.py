"""Walls of a box: Roark's coefficients against plate theory solved anew, golden panels, laws."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from advisor.physics import plate_bending as p
from advisor.physics.ranges import PhysicsRangeError
from advisor.physics.tables import NotCoveredError

NU = 0.3
RATIOS = [1.0, 0.93, 1 / 1.2, 0.75, 0.6, 0.5, 0.4, 1 / 3, 0.22]


def coefficients(ratio: float, edges: str) -> tuple[float, float]:
    """Ours: stress over p b2/t2 and bulge over p b4/(E t3)."""
    wall = p.Wall(1.0 / ratio, 1.0, 0.02, 70e9)
    pressure = 1.0
    stress = p.bending_stress(wall, pressure, edges) / pressure * wall.thickness**2
    return stress, p.bulge(wall, pressure, edges) / pressure * wall.modulus * wall.thickness**3


def navier(ratio: float) -> tuple[float, float]:
    """Simply supported plate, Navier's double sine series, short side 1."""
    long = 1.0 / ratio
    odd = np.arange(1, 122, 2)
    m, n = np.meshgrid(odd, odd)
    term = (
        16.0 * np.sin(m * math.pi / 2) * np.sin(n * math.pi / 2) / (m * n * math.pi**6 * (m**2 / long**2 + n**2) ** 2)
    )
    moment = math.pi**2 * (NU * m**2 / long**2 + n**2) * term
    return 6.0 * float(moment.sum()), 12.0 * (1 - NU**2) * float(term.sum())


def ritz_clamped(ratio: float, order: int = 7) -> tuple[float, float]:
    """Clamped plate, Ritz with (1 - x2)2 (1 - y2)2 times even powers on the unit square, short side 1."""
    points, weights = np.polynomial.legendre.leggauss(40)
    half_x, half_y = 0.5 / ratio, 0.5
    ring = np.polynomial.Polynomial([1.0, 0.0, -2.0, 0.0, 1.0])
    base = [ring * np.polynomial.Polynomial([0.0] * (2 * i) + [1.0]) for i in range(order)]

    def gram(one: int, other: int) -> NDArray[np.float64]:
        rows = np.array([each.deriv(one)(points) if one else each(points) for each in base])
        cols = np.array([each.deriv(other)(points) if other else each(points) for each in base])
        return np.asarray((rows * weights) @ cols.T, dtype=np.float64)

    stiff = np.kron(gram(2, 2), gram(0, 0)) / half_x**4 + np.kron(gram(0, 0), gram(2, 2)) / half_y**4
    stiff += (np.kron(gram(2, 0), gram(0, 2)) + np.kron(gram(0, 2), gram(2, 0))) / (half_x * half_y) ** 2
    load = np.array([float((each(points) * weights).sum()) for each in base])
    found = np.linalg.solve(stiff, np.kron(load, load)).reshape(order, order)
    centre = float(found[0, 0])
    bend = sum(found[0, j] * base[j].deriv(2)(1.0) for j in range(order)) / half_y**2
    return 6.0 * abs(float(bend)), 12.0 * (1 - NU**2) * centre


@pytest.mark.parametrize("ratio", RATIOS)
def test_supported_wall_against_naviers_series(ratio: float) -> None:
    stress, bulge = coefficients(ratio, p.SUPPORTED)
    outside_stress, outside_bulge = navier(ratio)
    assert stress == pytest.approx(outside_stress, rel=0.015)
    assert bulge == pytest.approx(outside_bulge, rel=0.015)


@pytest.mark.parametrize("ratio", RATIOS)
def test_clamped_wall_against_ritz(ratio: float) -> None:
    stress, bulge = coefficients(ratio, p.CLAMPED)
    outside_stress, outside_bulge = ritz_clamped(ratio)
    assert stress == pytest.approx(outside_stress, rel=0.02)
    assert bulge == pytest.approx(outside_bulge, rel=0.025)


def test_long_wall_is_a_strip() -> None:
    """A strip of unit width: clamped p b2/12 and b4/384, supported p b2/8 and 5 b4/384, with D for E I."""
    stress, bulge = coefficients(1e-6, p.CLAMPED)
    assert stress == pytest.approx(6 / 12, rel=1e-3)
    assert bulge == pytest.approx(12 * (1 - NU**2) / 384, rel=2e-3)
    stress, bulge = coefficients(1e-6, p.SUPPORTED)
    assert stress == pytest.approx(6 / 8, rel=1e-3)
    assert bulge == pytest.approx(12 * (1 - NU**2) * 5 / 384, rel=2e-3)


@pytest.mark.parametrize(
    ("side_mm", "thick_mm", "kpa", "golden_mpa"),
    [(200, 1.6, 3.5, 17), (200, 1.6, 6.9, 33), (300, 3.0, 3.5, 11), (300, 3.0, 6.9, 21), (300, 3.0, 20.7, 64)],
)
def test_square_clamped_panels_golden(side_mm: float, thick_mm: float, kpa: float, golden_mpa: float) -> None:
    wall = p.Wall(side_mm / 1e3, side_mm / 1e3, thick_mm / 1e3, 70e9)
    assert p.bending_stress(wall, kpa * 1e3, p.CLAMPED) / 1e6 == pytest.approx(golden_mpa, abs=0.51)


def test_bulge_and_force_of_a_panel_golden() -> None:
    wall = p.Wall(0.3, 0.3, 3e-3, 70e9)
    assert p.bulge(wall, 20.7e3, p.CLAMPED) * 1e3 == pytest.approx(1.2, abs=0.05)
    assert p.wall_force(wall, 3.5e3) == pytest.approx(310, abs=6)
    assert p.wall_force(wall, 20.7e3) == pytest.approx(1860, abs=6)


def test_a_thin_panel_that_would_stretch_is_refused() -> None:
    """200 x 200 x 1.6 mm at 20.7 kPa would bulge by its own thickness."""
    with pytest.raises(PhysicsRangeError, match="bulge"):
        p.bending_stress(p.Wall(0.2, 0.2, 1.6e-3, 70e9), 20.7e3, p.CLAMPED)


walls = st.builds(
    lambda short, ratio, slender: p.Wall(short / ratio, short, short / slender, 70e9),
    st.floats(0.05, 1.0),
    st.floats(0.1, 1.0),
    st.floats(10.0, 300.0),
)


@given(walls, st.floats(1e6, 100e6))
def test_the_safe_pressure_is_safe_for_both_edges(wall: p.Wall, allowable: float) -> None:
    found = p.safe_leak_pressure(wall, allowable)
    assert found.pressure <= p.OPEN_TUBE
    for edges in (p.CLAMPED, p.SUPPORTED):
        assert p.bending_stress(wall, found.pressure * (1 - 1e-9), edges) <= allowable * (1 + 1e-9)
        assert p.bulge(wall, found.pressure * (1 - 1e-9), edges) <= 0.5 * wall.thickness
    assert found.stress <= allowable * (1 + 1e-9)


@given(walls)
def test_a_stronger_or_thicker_wall_never_bears_less(wall: p.Wall) -> None:
    base = p.safe_leak_pressure(wall, 20e6).pressure
    assert p.safe_leak_pressure(wall, 40e6).pressure >= base
    thicker = p.Wall(wall.long, wall.short, wall.thickness * 1.5, wall.modulus)
    assert p.safe_leak_pressure(thicker, 20e6).pressure >= base


@given(walls, st.floats(0.1, 10.0))
def test_stress_knows_no_size_only_shape(wall: p.Wall, times: float) -> None:
    grown = p.Wall(wall.long * times, wall.short * times, wall.thickness * times, wall.modulus)
    assert p.bending_stress(grown, 1.0, p.CLAMPED) == pytest.approx(p.bending_stress(wall, 1.0, p.CLAMPED))
    assert p.bulge(grown, 1.0, p.SUPPORTED) == pytest.approx(times * p.bulge(wall, 1.0, p.SUPPORTED))


def test_each_limit_can_govern() -> None:
    assert p.safe_leak_pressure(p.Wall(0.3, 0.3, 3e-3, 70e9), 50e6).limited_by == p.BY_TUBE
    assert p.safe_leak_pressure(p.Wall(1.0, 1.0, 1e-3, 70e9), 100e6).limited_by == p.BY_BULGE
    assert p.safe_leak_pressure(p.Wall(0.3, 0.3, 3e-3, 70e9), 5e6).limited_by == p.BY_STRESS


@pytest.mark.parametrize(
    "call",
    [
        lambda: p.Wall(0.2, 0.3, 1e-3, 70e9),
        lambda: p.Wall(0.3, 0.3, 0.1, 70e9),
        lambda: p.Wall(0.3, 0.3, 3e-3, 70.0),
        lambda: p.bulge(p.Wall(0.3, 0.3, 3e-3, 70e9), -1.0, p.CLAMPED),
        lambda: p.safe_leak_pressure(p.Wall(0.3, 0.3, 3e-3, 70e9), 0.0),
    ],
)
def test_outside_the_theory(call: object) -> None:
    assert callable(call)
    with pytest.raises(PhysicsRangeError):
        call()


def test_other_edges_are_not_covered() -> None:
    with pytest.raises(NotCoveredError, match="free"):
        p.bulge(p.Wall(0.3, 0.3, 3e-3, 70e9), 100.0, "free")
