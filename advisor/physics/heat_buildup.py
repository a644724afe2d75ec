"""How a part warms, run by run: temperatures in time, the metal ahead of the arc, the taper, the waits.

The arc's own pool is smaller than a cell and is not followed here: it is the steady field of
`moving_source` on metal at the *local temperature*, what the metal at the arc has from all other heat.
That is the part's temperature under the arc less what the same steady arc makes of endless plates cut into
the same cells, so the coarseness of the cells falls out of the difference. What is left is earlier runs,
heat thrown back from edges and neighbours, preheat; minus losses and chill bars. While the field of the
arc is still building up that difference is short of the truth, and the metal's temperature without the
arc stands in: the pool is then smaller than wanted, unless the arc stands until the puddle has its full
width before it moves off (`dwell`, by `strike.puddle_time`).

Because a 2D steady field is linear, a pool stays the same when the power follows

    q = q0 (Tm - T_local)/(Tm - T0),        q0 the power right on metal at T0.

Constant properties, no latent heat, no filler metal's heat, nothing lost to a jig but through chill bars.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import exp1

from advisor.physics.buildup_grid import Grid, Real, Stepper, Track, cut, cut_into, overlap
from advisor.physics.buildup_part import SNAP, HeatedPart, Plate, PlateLine, SeamLine
from advisor.physics.ranges import PhysicsRangeError, positive, within

CELLS = 1500
SMALLEST_CELL = 3e-3
LONGEST_STEP = 16.0
LONGEST_WAIT = 4 * 3600.0
LONGEST_DWELL = 120.0
STANDING_STEPS = 4
FOLLOWED_CELLS = 12
REACH = 1.7  # times sqrt(a t): an edge that far changes the arc's own rise by under 1 % (computed)


@dataclass(frozen=True)
class Run:
    """One run of weld along a seam, and the pause before it.

    power [W] net, right on metal at `cold_c` of `follow`; travel [m/s], 0.1 to 100 mm/s; pause [s] before
    it, 0 or more; interpass_c [degC], wait beyond the pause until the metal along the seam is no hotter;
    backward, from the end of the seam to its start; dwell [s], how long the arc stands at the start until
    the puddle has formed, 0 to 120.
    """

    seam: str
    power: float
    travel: float
    pause: float = 0.0
    interpass_c: float | None = None
    backward: bool = False
    dwell: float = 0.0

    def __post_init__(self) -> None:
        positive("net power", self.power, "W")
        within("travel", self.travel, 0.1e-3, 0.1, "m/s")
        within("pause", self.pause, 0.0, LONGEST_WAIT, "s")
        within("dwell", self.dwell, 0.0, LONGEST_DWELL, "s")


@dataclass(frozen=True)
class RunRecord:
    """What became of one run: when [s], how long was waited before it [s], and along it the local
    temperature [degC] and the power [W] at places from its start [m]; melt_c, the lower solidus of its plates."""

    run: Run
    melt_c: float
    begins: float
    ends: float
    waited: float
    hottest_before_c: float
    places: Real
    local_c: Real
    power: Real

    @property
    def runs_away(self) -> float | None:
        """Share 0 to 1 of the run at which the metal would melt without the arc, None where it never does."""
        hot = np.flatnonzero(self.local_c >= self.melt_c)
        return float(self.places[hot[0]] / self.places[-1]) if hot.size else None

    def at(self, share: float) -> tuple[float, float]:
        """Local temperature [degC] and power [W] at a share 0 to 1 of the run."""
        place = within("share of the run", share, 0.0, 1.0) * float(self.places[-1])
        return float(np.interp(place, self.places, self.local_c)), float(np.interp(place, self.places, self.power))

    @property
    def steps(self) -> tuple[tuple[float, float], ...]:
        """Local temperature [degC] and power [W] at start, middle and end: a taper a person can follow.

        The end is a tenth of the run before it stops: closer, heat thrown back from the edge of the part
        makes the pool run, and the arc is being faded out anyway.
        """
        return self.at(0.0), self.at(0.5), self.at(0.9)


@dataclass(frozen=True)
class History:
    """The whole job in time: mean and hottest cell of every plate [degC], one row per time [s]; every run."""

    times: Real
    mean_c: Real
    hottest_c: Real
    runs: tuple[RunRecord, ...]


def default_cell(part: HeatedPart) -> float:
    """Cell size [m] that cuts a part into about 1500 cells, none under 3 mm.

    Parameters: part [m]. Raises: nothing. Source: own choice; the tests hold a box cut so to
    a fine solution (computed).
    Example: Two plates of 100 x 100 mm: cells of 3.7 mm.
    >>> plate = Plate("any", 0.1, 0.1, 3e-3, 167.0, 2.42e6, 582.0)
    >>> round(default_cell(HeatedPart((plate, plate), ())) * 1e3, 1)
    3.7
    """
    area = sum(plate.length * plate.width for plate in part.plates)
    return max(SMALLEST_CELL, math.sqrt(area / CELLS))


def tapered(power: float, melt_c: float, cold_c: float, local_c: float) -> float:
    """Power [W] that keeps the pool the same on metal that has warmed: q0 (Tm - T)/(Tm - T0).

    Parameters: power q0 [W], above 0; melt_c Tm, cold_c T0 [degC], T0 below Tm; local_c T [degC].
    Raises: PhysicsRangeError where the metal is at its melting point without the arc.
    Source: linearity of 2D conduction with a power (Rosenthal 1941; derived).
    Example: 1 kW on metal of 20 degC that melts at 582 degC is 644 W at 220 degC.
    >>> round(tapered(1000.0, 582.0, 20.0, 220.0))
    644
    """
    span = positive("melting point above cold metal", melt_c - cold_c, "K")
    if not local_c < melt_c:
        raise PhysicsRangeError("local temperature", local_c, -math.inf, melt_c, "degC", "the part melts: wait")
    return positive("net power", power, "W") * (melt_c - local_c) / span


def follow(
    part: HeatedPart,
    runs: tuple[Run, ...],
    taper: bool = True,
    cold_c: float = 20.0,
    after: float = 0.0,
    cell: float | None = None,
) -> History:
    """The temperatures of a part through a sequence of runs.

    Parameters: runs in order; taper: power follows the local temperature, otherwise it stays as given;
    cold_c [degC], metal on which the powers given are right; after [s], cooling followed past the last
    run; cell [m], size of the cells, chosen where left out.
    Returns: `History`; a run that melts its metal away says so in `runs_away`, tapered power is 0 there.
    Raises: PhysicsRangeError for an interpass limit that is not reached, and where a whole plate would
    melt. KeyError for a seam the part has not.
    Source: heat conduction by finite volumes (computed); see the head of this module for the local temperature.
    Example: A run of 450 W at 4 mm/s along an 80 mm seam of a small aluminium box takes 20 s.
    >>> from advisor.physics.buildup_part import box
    >>> part = box((0.08, 0.06, 0.04), Plate("any", 0.1, 0.1, 3e-3, 167.0, 2.42e6, 582.0))
    >>> record = follow(part, (Run("bottom-front", 450.0, 4e-3),)).runs[0]
    >>> round(record.ends - record.begins, 3), record.runs_away
    (20.0, None)
    """
    for run in runs:
        part.seam(run.seam)
    return _Clock(part, taper, cold_c, default_cell(part) if cell is None else cell).tell(runs, after)


def _heat_shares(grid: Grid, index: int) -> tuple[float, float]:
    """Shares of the arc's heat that go into the two plates at a seam: as they lead it away."""
    seam = grid.part.seams[index]
    plates = (grid.part.plates[line.plate] for line in (seam.first, seam.second))
    pairs = zip(grid.tracks[index], plates, strict=True)
    first, second = (track.ways * plate.conductivity * plate.thickness for track, plate in pairs)
    return first / (first + second), second / (first + second)


def _under(grid: Grid, index: int, low: float, high: float) -> Real:
    """Heat of one watt spread over a stretch of a seam [W per cell]."""
    heat = np.zeros(grid.capacity.size)
    for track, share in zip(grid.tracks[index], _heat_shares(grid, index), strict=True):
        shared = overlap(track, low, high)
        np.add.at(heat, track.cells, share * shared / shared.sum())
    return heat


def _stretches(track: Track, backward: bool) -> list[tuple[float, float]]:
    """The stretches of a seam the arc passes in one step each: cell by cell of its first plate."""
    found = list(zip(track.starts.tolist(), track.ends.tolist(), strict=True))
    return found[::-1] if backward else found


class _Clock:
    """A part, its temperatures, the time, and what has been written down so far."""

    def __init__(self, part: HeatedPart, taper: bool, cold_c: float, cell: float) -> None:
        self.grid = cut(part, cell)
        self.stepper = Stepper(self.grid)
        self.taper, self.cold_c = taper, cold_c
        self.temperature = self.grid.start_c.copy()
        self.coldest = min(float(self.temperature.min()), part.ambient_c)
        self.welded: frozenset[int] = frozenset()
        self.time = 0.0
        self.rows: list[tuple[float, list[float], list[float]]] = []
        self.steady: dict[tuple[int, float], float] = {}
        self.nothing = np.zeros(self.grid.capacity.size)

    def tell(self, runs: tuple[Run, ...], after: float) -> History:
        """Go through all runs and the cooling after them."""
        self._write()
        records = [self._run(run) for run in runs]
        self._pause(within("cooling followed", after, 0.0, 10 * LONGEST_WAIT, "s"))
        times, mean, hottest = zip(*self.rows, strict=True)
        return History(np.array(times), np.array(mean), np.array(hottest), tuple(records))

    def _write(self) -> None:
        plates = [self.temperature[patch.cells] for patch in self.grid.patches]
        self.rows.append((self.time, [float(p.mean()) for p in plates], [float(p.max()) for p in plates]))

    def _step(self, heat: Real, seconds: float, unlit: Real | None = None) -> Real:
        """One step; returns what `unlit`, the same part without the arc, has come to in the meantime."""
        self.temperature = self.stepper.step(self.temperature, heat, seconds, self.welded)
        self.time += seconds
        self._write()
        return self.nothing if unlit is None else self.stepper.step(unlit, self.nothing, seconds, self.welded)

    def _pause(self, seconds: float) -> None:
        """Cool for a time, in steps that double."""
        step, left = 0.5, seconds
        while left > 1e-9:
            taken = min(step, left)
            self._step(self.nothing, taken)
            left -= taken
            step = min(2.0 * step, LONGEST_STEP)

    def _hottest_on(self, index: int) -> float:
        """Hottest metal [degC] along a seam."""
        return max(float(self.temperature[track.cells].max()) for track in self.grid.tracks[index])

    def _wait(self, index: int, limit_c: float) -> None:
        """Cool until the metal along a seam is at a limit; the last step is cut where it gets there."""
        if not limit_c > self.grid.part.ambient_c:
            raise PhysicsRangeError("interpass limit", limit_c, self.grid.part.ambient_c, math.inf, "degC")
        begun, step = self.time, 0.5
        while self._hottest_on(index) > limit_c:
            waited = self.time - begun
            within("wait", waited, 0.0, LONGEST_WAIT, "s", help="the interpass limit is not reached: cool it")
            before, hot = self.temperature, self._hottest_on(index)
            self._step(self.nothing, step)
            now = self._hottest_on(index)
            if now <= limit_c:
                self._cut_last(before, step, (hot - limit_c) / (hot - now))
            step = min(2.0 * step, LONGEST_STEP)

    def _cut_last(self, before: Real, step: float, share: float) -> None:
        """Take back the last part of a step of cooling."""
        self.rows.pop()
        self.temperature = before + share * (self.temperature - before)
        self.time -= (1.0 - share) * step
        self._write()

    def _run(self, run: Run) -> RunRecord:
        """Pause, wait, and weld one seam."""
        index, rested = self.grid.part.seam(run.seam), self.time
        self._pause(run.pause)
        if run.interpass_c is not None:
            self._wait(index, run.interpass_c)
        begins, before = self.time, self._hottest_on(index)
        self.welded |= {index}
        melt_c = self._melt_c(index)
        places, local, power = (np.array(values) for values in self._weld(run, index, melt_c))
        self._check_whole()
        return RunRecord(run, melt_c, begins, self.time, begins - rested, before, places, local, power)

    def _melt_c(self, index: int) -> float:
        """Lower solidus [degC] of the two plates of a seam."""
        seam = self.grid.part.seams[index]
        return min(self.grid.part.plates[line.plate].solidus_c for line in (seam.first, seam.second))

    def _check_whole(self) -> None:
        """Raise where a plate as a whole is past its solidus: nothing here describes that."""
        for patch in self.grid.patches:
            mean = float(self.temperature[patch.cells].mean())
            name = f"mean temperature of plate {patch.plate.name}"
            within(name, mean, -math.inf, patch.plate.solidus_c, "degC", "the part melts: wait between runs")

    def _weld(self, run: Run, index: int, melt_c: float) -> tuple[list[float], list[float], list[float]]:
        """Move the arc along a seam: places, local temperature there and power, at the start and after
        every stretch."""
        steady = self._steady_rise(index, run.travel)
        stretches = _stretches(self.grid.tracks[index][0], run.backward)
        under = _under(self.grid, index, *stretches[0])
        unlit = self.temperature
        places, local = [0.0], [max(self.coldest, float(under @ unlit))]
        powers = [self._power(run, melt_c, local[0])]
        for _ in range(STANDING_STEPS if run.dwell else 0):
            unlit = self._step(powers[0] * under, run.dwell / STANDING_STEPS, unlit)
        for low, high in stretches:
            under = _under(self.grid, index, low, high)
            unlit = self._step(powers[-1] * under, (high - low) / run.travel, unlit)
            thrown_back = float(under @ self.temperature) - powers[-1] * steady
            places.append(places[-1] + high - low)
            local.append(max(self.coldest, float(under @ unlit), thrown_back))
            powers.append(self._power(run, melt_c, local[-1]))
        return places, local, powers

    def _power(self, run: Run, melt_c: float, local_c: float) -> float:
        """Power [W] for metal at a local temperature; none where it melts by itself."""
        if not self.taper:
            return run.power
        return tapered(run.power, melt_c, self.cold_c, local_c) if local_c < melt_c else 0.0

    def _steady_rise(self, index: int, travel: float) -> float:
        """The arc's own rise under itself on endless plates, worked out once for every seam and travel."""
        key = index, travel
        if key not in self.steady:
            self.steady[key] = steady_rise(self.grid, index, travel)
        return self.steady[key]


def steady_rise(grid: Grid, index: int, travel: float) -> float:
    """Steady rise [K/W] of the cells under the arc on a seam of endless plates cut alike, no loss.

    Followed over twelve cells, the rest added: heat given a time t ago adds exp(-v2 t/(4 a))/(4 pi k d t).
    Parameters: grid; index of the seam (no unit); travel [m/s], above 0. Raises: PhysicsRangeError where the plates
    take too many cells. Source: line source in a thin plate (derived); the near field by the same cells (computed).
    Example: Two plates of 3 mm 6061 in cells of 4 mm at 4 mm/s: 1.06 K/W under the arc.
    >>> plate = Plate("any", 0.2, 0.1, 3e-3, 167.0, 2.42e6, 582.0)
    >>> line = PlateLine(0, (0.0, 0.0), (0.2, 0.0))
    >>> part = HeatedPart((plate, plate), (SeamLine("run", line, replace(line, plate=1)),))
    >>> round(steady_rise(cut(part, 4e-3), 0, 4e-3), 2)
    1.06
    """
    track = grid.tracks[index][0]
    size = float(np.median(track.ends - track.starts))
    seconds = FOLLOWED_CELLS * size / travel
    plain, margin = _endless(grid, index, size, FOLLOWED_CELLS, seconds)
    stepper, temperature = Stepper(plain), np.zeros(plain.capacity.size)
    for number in range(margin, margin + FOLLOWED_CELLS):
        under = _under(plain, 0, number * size, (number + 1) * size)
        temperature = stepper.step(temperature, under, size / travel, frozenset({0}))
    return float(under @ temperature) + _tail(plain, travel, seconds)


def _tail(plain: Grid, travel: float, seconds: float) -> float:
    """Rise [K/W] from heat given longer ago: E1(v2 t/(4 a))/(4 pi k d), over both sides of the seam."""
    sides = [(patch.plate, track.ways) for patch, track in zip(plain.patches, plain.tracks[0], strict=True)]
    spreads = [ways * plate.conductivity * plate.thickness for plate, ways in sides]
    stores = [ways * plate.heat_capacity * plate.thickness for plate, ways in sides]
    diffusivity = sum(spreads) / sum(stores)
    return float(exp1(travel**2 * seconds / (4.0 * diffusivity))) / (2.0 * math.pi * sum(spreads))


def _endless(grid: Grid, index: int, step: float, count: int, seconds: float) -> tuple[Grid, int]:
    """The two plates of a seam grown until the run cannot feel their edges; cells before its start."""
    seam = grid.part.seams[index]
    plates, lines, counts, margins = [], [], [], []
    for line in (seam.first, seam.second):
        patch = grid.patches[line.plate]
        diffusivity = patch.plate.conductivity / patch.plate.heat_capacity
        margins.append(math.ceil(REACH * math.sqrt(diffusivity * seconds) / step) + 1)
    margin = max(margins)
    for number, line in enumerate((seam.first, seam.second)):
        patch = grid.patches[line.plate]
        along_u = line.start[1] == line.end[1]
        depth, place = (patch.dv, line.start[1]) if along_u else (patch.du, line.start[0])
        extent = patch.plate.width if along_u else patch.plate.length
        rows = math.ceil(margin * step / depth)
        on_edge = place < SNAP or place > extent - SNAP
        across = rows if on_edge else 2 * rows + 1
        plates.append(_bare(patch.plate, (count + 2 * margin) * step, across * depth))
        height = 0.0 if on_edge else (rows + 0.5) * depth
        lines.append(PlateLine(number, (0.0, height), (plates[-1].length, height)))
        counts.append((count + 2 * margin, across))
    part = HeatedPart(tuple(plates), (SeamLine("run", lines[0], lines[1], contact=1.0),), (), 0.0)
    return cut_into(part, counts), margin


def _bare(plate: Plate, length: float, width: float) -> Plate:
    """The same metal and thickness, no losses, at 0 degC, of another size."""
    return replace(plate, length=length, width=width, convection=0.0, emissivity=0.0, start_c=0.0)
