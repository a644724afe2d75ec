"""A box of plates by fine explicit finite volumes: the outside check of the soak network.

Its own geometry (cells have places in space, and edges are glued where they meet in space), its own time
stepping (forward Euler at a fraction of the stable step). Shares no code with the solver under test.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Real = NDArray[Any]


@dataclass
class Metal:
    conductivity: float
    heat_capacity: float
    thickness: float
    convection: float
    emissivity: float
    faces: float


class FineBox:
    """Five sides of an open box; axis 0 length, 1 width, 2 height; all cells `h` square."""

    def __init__(self, size: tuple[float, float, float], h: float, metal: Metal) -> None:
        self.h, self.metal, self.counts = h, metal, [round(s / h) for s in size]
        sides = {"bottom": (2, 0), "front": (1, 0), "right": (0, 1), "back": (1, 1), "left": (0, 0)}
        self.places: dict[str, Real] = {}
        self.shape: dict[str, tuple[int, int]] = {}
        for name, (normal, end) in sides.items():
            axes = [axis for axis in range(3) if axis != normal]
            grids = np.meshgrid(*[(np.arange(self.counts[a]) + 0.5) * h for a in axes], indexing="ij")
            place = np.zeros((*grids[0].shape, 3))
            place[..., axes[0]], place[..., axes[1]] = grids
            place[..., normal] = end * self.counts[normal] * h
            self.places[name], self.shape[name] = place.reshape(-1, 3), grids[0].shape
        self.temperature = {name: np.full(self.shape[name], 20.0) for name in sides}
        self.glued: list[tuple[str, NDArray[np.intp], str, NDArray[np.intp]]] = []

    def edge(self, name: str, other: str) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Matching cells of two sides that meet: those a half cell each from the corner line, in order."""
        from scipy.spatial import cKDTree

        distance, index = cKDTree(self.places[other]).query(self.places[name])
        here = np.flatnonzero(distance < 0.8 * self.h)
        return here, index[here]

    def glue(self, name: str, other: str) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        here, there = self.edge(name, other)
        self.glued.append((name, here, other, there))
        return here, there

    def advance(self, seconds: float, heat: dict[str, Real] | None = None) -> None:
        """Forward in time under steady heat [W per cell]."""
        m, h = self.metal, self.h
        limit = 0.2 * h * h * m.heat_capacity / m.conductivity
        count = max(1, int(np.ceil(seconds / limit)))
        dt = seconds / count
        spread, capacity = m.conductivity * m.thickness, m.heat_capacity * m.thickness * h * h
        for _ in range(count):
            flow = {}
            for name, t in self.temperature.items():
                q = np.zeros_like(t)
                d0, d1 = spread * np.diff(t, axis=0), spread * np.diff(t, axis=1)
                q[:-1] += d0
                q[1:] -= d0
                q[:, :-1] += d1
                q[:, 1:] -= d1
                kelvin = t + 273.15
                radiated = m.emissivity * 5.670374419e-8 * (kelvin**4 - 293.15**4)
                q -= m.faces * h * h * (m.convection * (t - 20.0) + radiated)
                flow[name] = q.ravel() if heat is None or name not in heat else q.ravel() + heat[name]
            for name, here, other, there in self.glued:
                passed = spread * (self.temperature[other].ravel()[there] - self.temperature[name].ravel()[here])
                flow[name][here] += passed
                flow[other][there] -= passed
            for name, t in self.temperature.items():
                t += dt / capacity * flow[name].reshape(t.shape)

    def weld(self, name: str, other: str, power: float, travel: float) -> None:
        """Glue two sides and run an arc along the corner, half its heat on each, a cell at a time."""
        here, there = self.glue(name, other)
        order = np.argsort(self.places[name][here].sum(axis=1))
        for cell in order:
            heat = {name: np.zeros(self.temperature[name].size), other: np.zeros(self.temperature[other].size)}
            heat[name][here[cell]] = heat[other][there[cell]] = 0.5 * power
            self.advance(self.h / travel, heat)

    def means(self) -> dict[str, float]:
        return {name: float(t.mean()) for name, t in self.temperature.items()}


def fine_pair_peaks(
    size: tuple[float, float], h: float, metal: Metal, power: float, travel: float, sigma: float, line: float
) -> tuple[Real, Real]:
    """Places [m] along a seam down the middle of a flat plate, and the peak [degC] reached `line` to its side.

    Gaussian arc from one end to the other, explicit finite volumes, no loss, 20 s of cooling followed.
    """
    length, half = size
    x = (np.arange(round(length / h)) + 0.5) * h
    y = (np.arange(round(2 * half / h)) + 0.5) * h - half
    across = np.exp(-0.5 * (y / sigma) ** 2)
    across /= across.sum()
    row = int(np.argmin(np.abs(y - line)))
    assert abs(y[row] - line) < 1e-9, "the line must run through cell middles"
    spread, capacity = metal.conductivity * metal.thickness, metal.heat_capacity * metal.thickness * h * h
    dt = 0.2 * h * h * metal.heat_capacity / metal.conductivity
    peak: Real
    t, peak = np.full((x.size, y.size), 20.0), np.full(x.size, 20.0)
    for number in range(int((length / travel + 20.0) / dt)):
        q = np.zeros_like(t)
        d0, d1 = spread * np.diff(t, axis=0), spread * np.diff(t, axis=1)
        q[:-1] += d0
        q[1:] -= d0
        q[:, :-1] += d1
        q[:, 1:] -= d1
        arc = travel * (number + 0.5) * dt
        if arc < length:
            along = np.exp(-0.5 * ((x - arc) / sigma) ** 2) * h / (sigma * np.sqrt(2 * np.pi))
            q += power * np.outer(along, across)
        t += dt / capacity * q
        np.maximum(peak, t[:, row], out=peak)
    return x, peak
