"""A part cut into cells: heat capacities, conductances between cells and across seams, losses, and one step in time.

Finite volumes, one layer through the thickness. A seam passes no more heat before it is welded than its
contact allows, and as solid metal from the moment its run starts. The step is a two-stage implicit
Runge-Kutta method (Alexander 1977: second order, damps what it cannot resolve); radiation, slow beside
conduction, is taken explicitly on both stages.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, diags_array
from scipy.sparse.linalg import splu

from advisor.physics.buildup_part import SNAP, ChillBar, HeatedPart, Plate, PlateLine
from advisor.physics.ranges import positive, within

Real = NDArray[np.float64]
Whole = NDArray[np.intp]
Links = tuple[NDArray[Any], NDArray[Any], Real]  # cell, cell, conductance [W/K]

STEFAN_BOLTZMANN = 5.670374419e-8
KELVIN = 273.15
MOST_CELLS = 20_000
STAGE = 1.0 - 1.0 / math.sqrt(2.0)


@dataclass(frozen=True)
class Patch:
    """The cells of one plate: first of them, how many along u and v, their sizes [m]."""

    plate: Plate
    first: int
    along: int
    across: int

    @property
    def du(self) -> float:
        """Cell size along u [m]."""
        return self.plate.length / self.along

    @property
    def dv(self) -> float:
        """Cell size along v [m]."""
        return self.plate.width / self.across

    @property
    def cells(self) -> slice:
        """Where the cells of this plate lie among all."""
        return slice(self.first, self.first + self.along * self.across)


@dataclass(frozen=True)
class Track:
    """The cells a line runs through: cell, from where to where along the line [m], resistance from the
    cell's middle to the line, per length [m K/W], and the ways heat leaves it: 1 on an edge, else 2."""

    cells: Whole
    starts: Real
    ends: Real
    resistance: float
    ways: int


@dataclass(frozen=True)
class Grid:
    """A part as cells. Links are (cell, cell, conductance [W/K]); a chill bar is one more cell at the end."""

    part: HeatedPart
    patches: tuple[Patch, ...]
    capacity: Real
    convection: Real  # W/K of each cell
    radiation: Real  # eps sigma A [W/K4] of each cell
    links: Links
    tracks: tuple[tuple[Track, Track], ...]
    start_c: Real


def cut(part: HeatedPart, cell: float) -> Grid:
    """A part cut into cells of about a size [m], at least two each way.

    Raises: PhysicsRangeError where that makes more than 20 000 cells.
    Parameters: part [m]; cell [m], above 0. Source: finite volumes (computed).
    Example: A plate of 100 x 60 mm in cells of 10 mm has 60 of them.
    >>> plate = Plate("any", 0.1, 0.06, 3e-3, 167.0, 2.42e6, 582.0)
    >>> cut(HeatedPart((plate,), ()), 10e-3).capacity.size
    60
    """
    positive("cell", cell, "m")
    return cut_into(part, [(max(2, round(p.length / cell)), max(2, round(p.width / cell))) for p in part.plates])


def cut_into(part: HeatedPart, counts: list[tuple[int, int]]) -> Grid:
    """A part cut into a given number of cells along and across every plate.

    Parameters: part [m]; counts for every plate, 1 or more (no unit). Raises: PhysicsRangeError for more than 20 000
    cells. Source: finite volumes (computed).
    Example: A plate cut into 4 by 3 cells holds the heat of the whole plate [J/K].
    >>> plate = Plate("any", 0.1, 0.06, 3e-3, 167.0, 2.42e6, 582.0)
    >>> round(float(cut_into(HeatedPart((plate,), ()), [(4, 3)]).capacity.sum()) / plate.capacity, 6)
    1.0
    """
    patches, count = [], 0
    for plate, (along, across) in zip(part.plates, counts, strict=True):
        patches.append(Patch(plate, count, along, across))
        count += along * across
    within("cells", count, 1, MOST_CELLS, help="larger cells")
    columns = [np.full(patch.along * patch.across, value) for patch in patches for value in _cell_values(patch)]
    capacity, convection, radiation, start = (np.concatenate(columns[kind::4]) for kind in range(4))
    bars = np.array([chill.capacity for chill in part.chills])
    none = np.zeros(bars.size)
    links = [_inner_links(patch) for patch in patches]
    links += [_chill_links(patches, chill, count + index) for index, chill in enumerate(part.chills)]
    joined = tuple(np.concatenate([link[kind] for link in links]) for kind in range(3))
    tracks = tuple((track(patches, seam.first), track(patches, seam.second)) for seam in part.seams)
    return Grid(
        part,
        tuple(patches),
        np.concatenate([capacity, bars]),
        np.concatenate([convection, none]),
        np.concatenate([radiation, none]),
        (joined[0].astype(np.intp), joined[1].astype(np.intp), joined[2]),
        tracks,
        np.concatenate([start, np.full(bars.size, part.ambient_c)]),
    )


def _cell_values(patch: Patch) -> tuple[float, float, float, float]:
    """Capacity [J/K], convection [W/K], radiation [W/K4], start temperature [degC] of one cell."""
    plate, area = patch.plate, patch.du * patch.dv
    radiation = plate.faces * plate.emissivity * STEFAN_BOLTZMANN * area
    return area * plate.thickness * plate.heat_capacity, plate.faces * plate.convection * area, radiation, plate.start_c


def _inner_links(patch: Patch) -> Links:
    """Conductances between neighbouring cells of one plate; cells run along u first."""
    number = patch.first + np.arange(patch.along * patch.across).reshape(patch.across, patch.along)
    spread = patch.plate.conductivity * patch.plate.thickness
    along = number[:, :-1].ravel(), number[:, 1:].ravel(), spread * patch.dv / patch.du
    across = number[:-1].ravel(), number[1:].ravel(), spread * patch.du / patch.dv
    one = np.concatenate([along[0], across[0]])
    other = np.concatenate([along[1], across[1]])
    value = np.concatenate([np.full(along[0].size, along[2]), np.full(across[0].size, across[2])])
    return one, other, value


def _chill_links(patches: list[Patch], chill: ChillBar, bar: int) -> Links:
    """Conductances from the cells under a chill bar to the bar. The strip is shared among the cells of its line."""
    under = track(patches, chill.line)
    conductance = chill.contact * chill.breadth * (under.ends - under.starts)
    return under.cells, np.full(under.cells.size, bar), conductance


def track(patches: list[Patch], line: PlateLine) -> Track:
    """The cells a line runs through. On an edge it is half a cell from their middles; inside a plate it
    parts the row it runs in, whose halves lie a quarter cell off on both sides.
    Parameters: patches, line [m]. Raises: nothing (the part checks its lines). Source: geometry (computed).
    Example: A line along the edge of a plate of 100 mm runs through its first 10 cells of 10 mm.
    >>> plate = Plate("any", 0.1, 0.06, 3e-3, 167.0, 2.42e6, 582.0)
    >>> found = track([Patch(plate, 0, 10, 6)], PlateLine(0, (0.0, 0.0), (0.1, 0.0)))
    >>> found.cells.tolist(), found.ways
    ([0, 1, 2, 3, 4, 5, 6, 7, 8, 9], 1)
    """
    patch = patches[line.plate]
    axis = 0 if line.start[1] == line.end[1] else 1
    sizes, counts = (patch.du, patch.dv), (patch.along, patch.across)
    extent = (patch.plate.length, patch.plate.width)
    place = line.start[1 - axis]
    row = min(int(place / sizes[1 - axis] + SNAP), counts[1 - axis] - 1)
    on_edge = place < SNAP or place > extent[1 - axis] - SNAP
    depth = sizes[1 - axis] * (0.5 if on_edge else 0.125)
    low, high = sorted((line.start[axis], line.end[axis]))
    edges = np.linspace(0.0, extent[axis], counts[axis] + 1)
    inside = np.flatnonzero((edges[1:] > low + SNAP) & (edges[:-1] < high - SNAP))
    begin, end = np.maximum(edges[inside], low) - low, np.minimum(edges[inside + 1], high) - low
    if line.start[axis] > line.end[axis]:
        begin, end, inside = (high - low - end)[::-1], (high - low - begin)[::-1], inside[::-1]
    cells = inside + row * patch.along if axis == 0 else row + inside * patch.along
    resistance = depth / (patch.plate.conductivity * patch.plate.thickness)
    return Track(patch.first + cells, begin, end, resistance, 1 if on_edge else 2)


def overlap(one: Track, low: float, high: float) -> Real:
    """Length [m] each cell of a track shares with a stretch of its line.

    Parameters: one, the track; low, high [m] from the start of its line. Raises: nothing. Source: geometry (computed).
    Example: A stretch from 15 to 30 mm shares 5 mm with the second cell of 10 mm and 10 mm with the third.
    >>> plate = Plate("any", 0.04, 0.06, 3e-3, 167.0, 2.42e6, 582.0)
    >>> found = track([Patch(plate, 0, 4, 6)], PlateLine(0, (0.0, 0.0), (0.04, 0.0)))
    >>> [round(float(each) * 1e3, 3) for each in overlap(found, 15e-3, 30e-3)]
    [0.0, 5.0, 10.0, 0.0]
    """
    shared: Real = np.clip(np.minimum(one.ends, high) - np.maximum(one.starts, low), 0.0, None)
    return shared


def seam_links(grid: Grid, index: int, share: float) -> Links:
    """Conductances across a seam, of which a share [0..1] is made.

    Parameters: grid; index of the seam, share 0 to 1 (no units). Returns: cells and conductances [W/K]. Raises:
    nothing. Source: two resistances in a row (derived).
    Example: Two plates of 3 mm, 167 W/(m K), cells of 10 mm: 0.501 W/K from each cell to its neighbour across the seam.
    >>> from advisor.physics.buildup_part import SeamLine
    >>> plate, line = Plate("any", 0.04, 0.06, 3e-3, 167.0, 2.42e6, 582.0), ((0.0, 0.0), (0.04, 0.0))
    >>> grid = cut(HeatedPart((plate, plate), (SeamLine("run", PlateLine(0, *line), PlateLine(1, *line)),)), 10e-3)
    >>> [round(float(each), 3) for each in seam_links(grid, 0, 1.0)[2]]
    [0.501, 0.501, 0.501, 0.501]
    """
    first, second = grid.tracks[index]
    shared = np.array([overlap(second, low, high) for low, high in zip(first.starts, first.ends, strict=True)])
    here, there = np.nonzero(shared > 0.0)
    value = share * shared[here, there] / (first.resistance + second.resistance)
    return first.cells[here], second.cells[there], value


def stiffness(grid: Grid, welded: frozenset[int]) -> Any:
    """Conduction and convection as one sparse matrix [W/K], with the given seams solid.

    Parameters: grid; welded, the seams by number (no unit). Raises: nothing. Source: finite volumes (computed).
    Example: A plate of 40 x 60 mm that loses 10 W/(m2 K) from both faces loses 0.048 W/K in all.
    >>> plate = Plate("any", 0.04, 0.06, 3e-3, 167.0, 2.42e6, 582.0, convection=10.0)
    >>> round(float(stiffness(cut(HeatedPart((plate,), ()), 10e-3), frozenset()).sum()), 6)
    0.048
    """
    links = [grid.links]
    for index, seam in enumerate(grid.part.seams):
        share = 1.0 if index in welded else seam.contact
        if share > 0.0:
            links.append(seam_links(grid, index, share))
    one, other, value = (np.concatenate([link[kind] for link in links]) for kind in range(3))
    count = grid.capacity.size
    off = coo_matrix((-np.tile(value, 2), (np.concatenate([one, other]), np.concatenate([other, one]))), (count, count))
    own = np.bincount(one, value, count) + np.bincount(other, value, count) + grid.convection
    return (off.tocsc() + diags_array(own)).tocsc()


class Stepper:
    """Takes steps in time; keeps the factors of every matrix it has met."""

    def __init__(self, grid: Grid) -> None:
        self.grid = grid
        self._matrices: dict[frozenset[int], Any] = {}
        self._factors: dict[tuple[frozenset[int], float], Any] = {}

    def _radiated(self, temperature: Real) -> Real:
        """Radiation and the ambient part of the convection [W]: what is not in the matrix."""
        ambient = self.grid.part.ambient_c
        fourth = (temperature + KELVIN) ** 4 - (ambient + KELVIN) ** 4
        return self.grid.convection * ambient - self.grid.radiation * fourth

    def step(self, temperature: Real, heat: Real, seconds: float, welded: frozenset[int]) -> Real:
        """Temperatures [degC] after a step under steady heat [W] in every cell."""
        if welded not in self._matrices:
            self._matrices[welded] = stiffness(self.grid, welded)
        matrix = self._matrices[welded]
        key = welded, round(seconds, 9)
        if key not in self._factors:
            self._factors[key] = splu((matrix * (STAGE * seconds) + diags_array(self.grid.capacity)).tocsc())
        factor = self._factors[key]
        first = factor.solve(heat + self._radiated(temperature) - matrix @ temperature)
        middle = temperature + (1.0 - STAGE) * seconds * first
        second = factor.solve(heat + self._radiated(middle) - matrix @ middle)
        return np.asarray(middle + STAGE * seconds * second)
