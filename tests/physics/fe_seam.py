"""Finite elements for a ring under pressure with a seam that goes through part of its wall: the outside check of the
two stresses that `shrink_fit.seam_stress` gives. Elements, assembly and solve are scikit-fem's."""

from __future__ import annotations

import numpy as np
import skfem
from skfem.helpers import dot
from skfem.models.elasticity import linear_elasticity


def ligament_stress(
    radius: float, wall: float, depth: float, from_outside: bool = True, steps: tuple[int, int] = (16, 60)
) -> tuple[float, float]:
    """Even and largest linearised stress in the seam for a pressure of 1 in the bore, plane stress.

    Half the ring: the seam's plane at angle 0, held only over the seam's depth, the rest of it a free slit.
    """
    modulus, nu = 70e3, 0.33
    radii = np.linspace(radius, radius + wall, steps[0] + 1)
    angles = np.pi * np.linspace(0.0, 1.0, steps[1] + 1) ** 1.8
    flat = skfem.MeshQuad.init_tensor(radii, angles)
    r, a = flat.p
    mesh = skfem.MeshQuad(np.vstack([r * np.cos(a), r * np.sin(a)]), flat.t)
    element = skfem.ElementVector(skfem.ElementQuad2())
    basis = skfem.Basis(mesh, element)
    stiffness = linear_elasticity(modulus * nu / (1 - nu**2), modulus / 2 / (1 + nu)).assemble(basis)
    bore = np.intersect1d(
        mesh.facets_satisfying(lambda x: np.abs(np.hypot(*x) - radius) < 2e-3 * radius), mesh.boundary_facets()
    )
    load = skfem.LinearForm(lambda v, w: -dot(w.n, v)).assemble(skfem.FacetBasis(mesh, element, facets=bore))
    places = basis.doflocs
    upright = np.zeros(basis.N, dtype=bool)
    upright[np.concatenate([basis.nodal_dofs[1], basis.facet_dofs[1], basis.interior_dofs[1]])] = True
    on_plane = np.abs(places[1]) < 1e-9
    low, high = (radius + wall - depth, radius + wall) if from_outside else (radius, radius + depth)
    seam = np.where(upright & on_plane & (places[0] > low - 1e-9) & (places[0] < high + 1e-9))[0]
    far = np.where(upright & on_plane & (places[0] < 0))[0]
    pinned = np.where(~upright & on_plane & (np.abs(places[0] + radius) < 1e-9))[0]
    moved = skfem.solve(*skfem.condense(stiffness, load, D=np.concatenate([seam, far, pinned])))
    reaction = stiffness @ moved - load
    pull = -reaction[seam].sum()
    bending = -(reaction[seam] * (places[0, seam] - 0.5 * (low + high))).sum()
    even = pull / depth
    return float(even), float(even + abs(6.0 * bending / depth**2))
