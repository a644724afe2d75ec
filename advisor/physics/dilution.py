"""What a bead is made of: base metal and filler mixed by their shares, and where aluminium beads crack."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from advisor.physics.ranges import PhysicsRangeError, positive, within
from advisor.physics.tables import Spread, TableSource, entry

# Molar masses [g/mol], IUPAC.
MAGNESIUM, SILICON = 24.305, 28.085
BELOW, INSIDE, ABOVE = "below", "inside", "above"

_GUIDE = TableSource("filler maker's technical guide to aluminium, p. 19", "read")
_CURVES = TableSource("Pumphrey; Dudas and Collins, Welding Journal 1966", "memory")

# Filler's share of the bead by joint [-].
FILLER_SHARES: dict[str, Spread] = {
    "square butt": Spread(0.20, 0.40, (_GUIDE, TableSource("textbook range, upper end", "memory"))),
    "single V": Spread(0.60, 0.80, (_GUIDE,)),
}


@dataclass(frozen=True)
class CrackPeak:
    """Content of an aluminium bead at which hot cracking is worst: low and high [mass %], and sources."""

    low: float
    high: float
    sources: tuple[TableSource, ...]


CRACK_PEAKS: dict[str, CrackPeak] = {
    "Si": CrackPeak(0.5, 1.0, (TableSource("filler supplier's page on hot cracking (about 1 %)", "read"), _CURVES)),
    "Mg": CrackPeak(1.0, 1.5, (_CURVES,)),
    "Cu": CrackPeak(3.0, 3.0, (_CURVES,)),
    "Mg2Si": CrackPeak(1.0, 1.0, (_CURVES,)),
}
SAFE_SILICON = (2.0, TableSource("rod maker's page on 6061 cracking", "read"))  # mass %, above it sensitivity falls


def bead_composition(base: Mapping[str, float], filler: Mapping[str, float], base_share: float) -> dict[str, float]:
    """Composition of a bead mixed of base metal and filler [mass %]: D base + (1 - D) filler, element by element.

    Burn-off is not counted; magnesium and zinc lose some. Parameters: base, filler [mass %] by chemical
    symbol, each 0 to 100 and together at most 100; base_share D [-], 0 (all filler) to 1 (no filler).
    Returns: contents [mass %]. Raises: PhysicsRangeError outside.
    Source: linear mixing; a filler maker's technical guide p. 19 gives figures that follow it (read).
    Example: Equal shares of 6061 and 5356 make a bead with 3.0 % Mg and 0.3 % Si.
    >>> bead_composition({"Mg": 1.0, "Si": 0.6}, {"Mg": 5.0}, 0.5)
    {'Mg': 3.0, 'Si': 0.3}
    """
    share = within("base share", base_share, 0.0, 1.0)
    _composition("base", base)
    _composition("filler", filler)
    names = dict.fromkeys((*base, *filler))
    return {name: share * base.get(name, 0.0) + (1.0 - share) * filler.get(name, 0.0) for name in names}


def filler_share_for(wanted: float, base: float, filler: float) -> float:
    """Filler's share of the bead that brings one element to a content [-].

    Parameters: wanted, base, filler [mass %], each 0 to 100, wanted between the other two, which differ.
    Returns: share [-], 0 to 1. Raises: PhysicsRangeError where no mixture reaches it.
    Source: linear mixing turned round (computed).
    Example: 2 % Si in a bead of 6061 (0.6 % Si) takes a share of 0.318 of 4043 (5 % Si).
    >>> round(filler_share_for(2.0, 0.6, 5.0), 3)
    0.318
    """
    for name, content in (("base content", base), ("filler content", filler)):
        within(name, content, 0.0, 100.0, "%")
    within("wanted content", wanted, min(base, filler), max(base, filler), "%", "no mixture of the two reaches it")
    if math.isclose(base, filler):
        raise PhysicsRangeError("filler content", filler, 0.0, 100.0, "%", "base and filler are alike here")
    return (wanted - base) / (filler - base)


def base_share(melted_base: float, bead: float) -> float:
    """Dilution: share of a bead that was base metal [-], from its etched section.

    Parameters: melted_base [m2], section of base metal melted, 0 to bead; bead [m2], whole section, above 0.
    Returns: share [-]. Raises: PhysicsRangeError outside. Source: definition of dilution, AWS A3.0 (memory).
    Example: 8 mm2 of melted base metal in a bead of 20 mm2 are a share of 0.4.
    >>> round(base_share(8e-6, 20e-6), 3)
    0.4
    """
    return within("melted base section", melted_base, 0.0, positive("bead section", bead, "m2"), "m2") / bead


def mg2si_content(magnesium: float, silicon: float) -> float:
    """Mg2Si that a content of magnesium and silicon can form [mass %]: limited by the scarcer of the two.

    Parameters: magnesium, silicon [mass %], each 0 to 100. Returns: Mg2Si [mass %].
    Raises: PhysicsRangeError outside. Source: stoichiometry with IUPAC molar masses (computed).
    Example: 1 % Mg with silicon to spare forms 1.58 % Mg2Si, which is 63.4 % Mg by mass.
    >>> round(mg2si_content(1.0, 10.0), 2)
    1.58
    """
    compound = 2.0 * MAGNESIUM + SILICON
    by_magnesium = within("magnesium", magnesium, 0.0, 100.0, "%") * compound / (2.0 * MAGNESIUM)
    return min(by_magnesium, within("silicon", silicon, 0.0, 100.0, "%") * compound / SILICON)


def crack_peak_side(element: str, content: float) -> str:
    """On which side of the cracking peak an aluminium bead's content lies, in a word (no unit).

    `below`, `inside` or `above`; the curve rises to its peak and falls beyond it, so pure metal and rich
    beads are its safe ends.
    Parameters: element, `Si`, `Mg`, `Cu` or `Mg2Si` (no unit); content [mass %], 0 to 100.
    Returns: the word (no unit). Raises: PhysicsRangeError outside; NotCoveredError for another element.
    Source: the peak's row in `CRACK_PEAKS` (mostly memory).
    Example: 3 % Mg, as 5356 gives on 6061, is beyond the peak at 1.0 to 1.5 %.
    >>> crack_peak_side("Mg", 3.0)
    'above'
    """
    peak = entry(CRACK_PEAKS, element, "element")
    within(f"{element} content", content, 0.0, 100.0, "%")
    if content < peak.low:
        return BELOW
    return INSIDE if content <= peak.high else ABOVE


def _composition(name: str, contents: Mapping[str, float]) -> None:
    for element, content in contents.items():
        within(f"{element} in the {name}", content, 0.0, 100.0, "%")
    within(f"elements of the {name} together", sum(contents.values()), 0.0, 100.0 + 1e-9, "%")
