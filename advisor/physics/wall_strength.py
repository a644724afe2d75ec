"""Yield of a sheet wall beside its seam, as welded, and its stiffness: what a leak test may ask of it.

Aluminium softens beside the seam, so the 0.2 % proof strength of the heat-affected zone counts, the lower of the two
codes' figures. Steel does not soften; the least the grade promises counts. Cold-worked stainless is taken as annealed.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.physics.aluminium_strength import haz_strength
from advisor.physics.aluminium_tables import HAZ_ROWS, WELDED_US
from advisor.physics.constants import MPA
from advisor.physics.ranges import positive
from advisor.physics.tables import NotCoveredError, TableSource

# Young's modulus [Pa] by family: EN 1999-1-1 cl. 3.2.5, EN 1993-1-1 cl. 3.2.6, EN 1993-1-4 (memory).
MODULUS = {"aluminium": 70e9, "carbon-steel": 210e9, "low-alloy-steel": 210e9, "stainless": 200e9}
_GRADES = TableSource("least yield of the grade: EN 10025-2, EN 10130, ASTM A36, A572, A240", "memory")
_SHEET = TableSource("least yield of drawing sheet DC01, EN 10130, for a grade not listed", "memory")
_LEAST = 140.0 * MPA
_YIELDS = {
    "A36": 250.0 * MPA,
    "S235": 235.0 * MPA,
    "S275": 275.0 * MPA,
    "S355": 355.0 * MPA,
    "A572": 345.0 * MPA,
    "DC01": _LEAST,
    "304": 205.0 * MPA,
    "316": 205.0 * MPA,
    "304L": 170.0 * MPA,
    "316L": 170.0 * MPA,
}


@dataclass(frozen=True)
class WallStrength:
    """Yield of a welded wall beside its seam [Pa], and where from."""

    proof: float
    sources: tuple[TableSource, ...]


def welded_proof(metal: str, family: str, process: str, thickness: float) -> WallStrength:
    """Yield (0.2 % proof) of a sheet wall beside its seam [Pa], the lowest any temper and code gives.

    Parameters: metal, material name such as `6061`; family such as `aluminium`; process `141` or `131`, others count as
    `131` (no units); thickness [m], above 0. Returns: strength [Pa] with sources. Raises: NotCoveredError where no
    figure is at hand. Source: EN 1999-1-1 Table 3.2 (mostly memory), Aluminum Design Manual (read and memory), grades
    of steel (memory).
    Example: 6063 after TIG: 0.8 of the 60 MPa of temper T5, 48 MPa.
    >>> welded_proof("6063", "aluminium", "141", 3e-3).proof / 1e6
    48.0
    """
    positive("thickness", thickness, "m")
    if family == "aluminium":
        return _aluminium(metal, process, thickness)
    if metal in _YIELDS:
        return WallStrength(_YIELDS[metal], (_GRADES,))
    if family == "carbon-steel":
        return WallStrength(_LEAST, (_SHEET,))
    raise NotCoveredError(f"no yield of {metal} as welded is at hand", "metal", "test with water and no pressure")


def _aluminium(metal: str, process: str, thickness: float) -> WallStrength:
    kind = process if process == "141" else "131"
    rows = [row for row in HAZ_ROWS if row.alloy == metal and thickness <= row.thickest]
    found = [(haz.fo, haz.sources) for haz in (haz_strength(row, kind, thickness) for row in rows)]
    found += [(row.fty[0], (row.source,)) for row in WELDED_US if row.alloy.split("-")[0] == metal]
    if not found:
        raise NotCoveredError(f"no yield of {metal} as welded is at hand", "metal", "test with water and no pressure")
    proof, sources = min(found, key=lambda item: item[0])
    return WallStrength(proof, sources)
