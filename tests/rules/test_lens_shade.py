"""Lens shade against the printed tables, swept over the current for every process and family of metals.

Typed from AS/NZS 1338.1 (minimum shade number of filters, as reproduced in a machine's manual), 29 CFR 1910.133(a)(5)
and California title 8 sec. 3382 Table EP-1, apart from the rule files.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from advisor.job.reader import JobBuilder
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.rulebook.settle import Settled, settle
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import compute
from advisor.units.quantities import UnitTable

# (up to this current [A], least shade)
Bands = tuple[tuple[float, int], ...]
TIG: Bands = ((100, 10), (200, 11), (250, 12), (350, 13), (math.inf, 14))
STICK: Bands = ((100, 8), (200, 10), (300, 11), (400, 12), (math.inf, 13))
WIRE: Bands = ((150, 10), (250, 11), (300, 12), (400, 13), (math.inf, 14))
WIRE_BRIGHT: Bands = ((250, 12), (math.inf, 13))
OSHA: dict[str, Bands] = {
    "141": ((150, 8), (math.inf, 10)),
    "111": ((60, 7), (160, 8), (250, 10), (math.inf, 11)),
    "131": ((60, 7), (math.inf, 10)),
    "135": ((60, 7), (math.inf, 10)),
}
FAMILIES = ("aluminium", "carbon-steel", "low-alloy-steel", "stainless")
BRIGHT = {"aluminium", "stainless"}
PAIRS = [(family,) for family in FAMILIES] + [("carbon-steel", "stainless"), ("low-alloy-steel", "stainless")]
TUNGSTENS = (1.0, 1.6, 2.4, 3.2, 4.0, 4.8)


def band(bands: Bands, current: float) -> int:
    return next(shade for most, shade in bands if current <= most)


def least(process: str, bases: tuple[str, ...], current: float) -> int:
    """The darkest of the printed minimums."""
    if process == "141":
        table = TIG
    elif process == "111":
        table = STICK
    else:
        table = WIRE_BRIGHT if BRIGHT & set(bases) else WIRE
    return max(band(table, current), band(OSHA[process], current))


def shade(book: Rulebook, process: str, bases: tuple[str, ...], current: float, tungsten: float | None) -> Settled:
    facts: dict[str, Fact] = {
        "process": process, "base": bases[-1], "bases": frozenset(bases), "current": current,
        "tungsten_diameter": tungsten,
    }  # fmt: skip
    found = settle(book, "lens_shade", facts, compute)
    assert found is not None, (process, bases, current)
    return found


@pytest.mark.parametrize("bases", PAIRS, ids="+".join)
@pytest.mark.parametrize("process", ["141", "131", "135", "111"])
def test_shade_is_never_under_a_printed_minimum_and_never_falls(
    rulebook: Rulebook, process: str, bases: tuple[str, ...]
) -> None:
    for tungsten in TUNGSTENS if process == "141" else (None,):
        currents = [*range(5, 350, 1)]
        found = [shade(rulebook, process, bases, float(current), tungsten) for current in currents]
        for current, settled in zip(currents, found, strict=True):
            assert settled.low >= least(process, bases, current), (current, tungsten)
            assert settled.low <= settled.start <= settled.high
            assert settled.start == int(settled.start), "a filter has a whole number"
        for (before, one), (after, two) in pairwise(zip(currents, found, strict=True)):
            assert one.start <= two.start, (before, after, tungsten)


def test_a_thicker_tungsten_is_never_read_through_a_lighter_filter(rulebook: Rulebook) -> None:
    """A thicker tungsten goes with more current, so both sweeps together never fall either."""
    for bases in PAIRS:
        for current in range(5, 350, 5):
            starts = [shade(rulebook, "141", bases, float(current), size).start for size in TUNGSTENS[:5]]
            assert starts == sorted(starts), (bases, current)


@pytest.mark.parametrize(("tungsten", "wanted"), [(1.6, 11), (2.4, 11), (4.0, 11)])
def test_california_for_gas_shielded_arcs_on_other_metals_than_iron(
    rulebook: Rulebook, tungsten: float, wanted: int
) -> None:
    for current in range(20, 250, 5):
        assert shade(rulebook, "141", ("aluminium",), float(current), tungsten).low >= wanted


@pytest.mark.parametrize("process", ["141", "131", "135", "111"])
@pytest.mark.parametrize("metal", ["6061-T6", "5052-H32", "3003", "A36", "4130", "304", "316L"])
def test_the_whole_answer_keeps_to_it(rulebook: Rulebook, units: UnitTable, process: str, metal: str) -> None:
    """By thickness, as a person asks: the current rises, and with it the shade."""
    seen: list[tuple[float, float]] = []
    for tenths in range(8, 100, 3):
        data = {"members": [{"metal": metal, "thickness": f"{tenths / 10} mm"}], "joint": "tee", "process": process}
        advice = advise(rulebook, JobBuilder(rulebook, units).build(data))
        if advice.status == "advised":
            current, found = advice.settings["current"].start, advice.settings["lens_shade"].start
            family = {"6": "aluminium", "5": "aluminium", "A": "carbon-steel", "4": "low-alloy-steel"}.get(metal[0])
            bases = (family or ("stainless" if metal in ("304", "316L") else "aluminium"),)
            assert found >= least(process, bases, current), (tenths, current)
            seen.append((current, found))
    shades = [found for _, found in sorted(seen)]
    assert shades == sorted(shades), seen
