"""Finite elements for two plates under a moving Gaussian arc: the outside check of the seam solver.

Everything that matters is scikit-fem's: quadratic elements, assembly, sparse solve. Shares nothing with
the solver under test but the statement of the problem.
"""

# mypy: disable-error-code="untyped-decorator"
from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import skfem
from numpy.typing import NDArray
from scipy.sparse.linalg import splu
from skfem.helpers import dot, grad

from advisor.physics.seam_modes import HeatedSeam

Real = NDArray[np.float64]


def graded(inner: float, step: float, outer: float, growth: float) -> Real:
    """0 to outer: even steps up to inner, then each longer than the last."""
    places = list(np.linspace(0.0, inner, max(1, round(inner / step)) + 1))
    while places[-1] < outer:
        step *= growth
        places.append(places[-1] + step)
    places[-1] = outer
    if places[-1] - places[-2] < 0.3 * step:
        del places[-2]
    return np.array(places)


@dataclass
class PairElements:
    """A mesh, its factorised matrix, and what is needed to load it at any aim."""

    seam: HeatedSeam
    basis: Any
    free: Any
    factor: Any

    def solve(self, aim: float) -> Real:
        """Nodal rise per watt."""
        sigma = self.seam.arc.sigma

        @skfem.LinearForm
        def arc_heat(test: Any, w: Any) -> Any:
            square = (w.x[0] ** 2 + (w.x[1] - aim) ** 2) / (2 * sigma**2)
            return np.exp(-square) / (2 * np.pi * sigma**2) * test

        load = arc_heat.assemble(self.basis)
        rise = np.zeros(self.basis.N)
        rise[self.free] = self.factor.solve(load[self.free])
        return rise

    def line_peak(self, rise: Real, y: float) -> float:
        """Highest value on the row of nodes at y, by a parabola through the top three."""
        place = self.basis.doflocs
        row = np.flatnonzero(np.abs(place[1] - y) < 1e-9)
        assert row.size > 3, f"no row of nodes at {y}"
        row = row[np.argsort(place[0, row])]
        values, x = rise[row], place[0, row]
        top = int(np.argmax(values))
        a, b, c = np.polyfit(x[top - 1 : top + 2] - x[top], values[top - 1 : top + 2], 2)
        return float(c - b * b / (4 * a))

    def half_width(self, rise: Real, side: int, wanted: float) -> float:
        """Distance from the seam at which the peak falls to `wanted`; rows of nodes, log interpolation."""
        rows = np.unique(np.round(self.basis.doflocs[1] * side, 12))
        rows = rows[(rows >= 0.0) & (rows < 20e-3)]
        peaks = np.array([self.line_peak(rise, side * y) for y in rows])
        last = int(np.flatnonzero(peaks >= wanted)[-1])
        near = slice(max(last - 1, 0), last + 3)
        line = np.polyfit(np.log(peaks[near]), rows[near], 3)
        return float(np.polyval(line, np.log(wanted)))


def pair_elements(seam: HeatedSeam, step: float, behind: float, ahead: float, inner: float, growth: float = 1.3) -> Any:
    """Quadratic elements of size `step` within `inner` of the arc, growing outward; plates of finite width."""
    x = np.concatenate([-graded(inner, step, behind, growth)[:0:-1], graded(inner, step, ahead, growth)])
    y = np.concatenate(
        [-graded(inner, step, seam.first.width, growth)[:0:-1], graded(inner, step, seam.second.width, growth)]
    )
    mesh = skfem.MeshQuad.init_tensor(x, y)
    basis = skfem.Basis(mesh, skfem.ElementQuad2())
    one, two = seam.first, seam.second

    def pick(w: Any, first: float, second: float) -> Any:
        return np.where(w.x[1] < 0.0, first, second)

    @skfem.BilinearForm
    def conduction(u: Any, v: Any, w: Any) -> Any:
        spread = pick(w, one.conductivity * one.thickness, two.conductivity * two.thickness)
        carried = seam.arc.travel * pick(w, one.heat_capacity * one.thickness, two.heat_capacity * two.thickness)
        lost = pick(w, one.face_loss, two.face_loss)
        return spread * dot(grad(u), grad(v)) - carried * grad(u)[0] * v + lost * u * v

    matrix = conduction.assemble(basis)
    fixed = basis.get_dofs(lambda p: np.isclose(p[0], ahead)).flatten()
    free = np.setdiff1d(np.arange(basis.N), fixed)
    return PairElements(seam, basis, free, splu(matrix[free][:, free].tocsc()))
