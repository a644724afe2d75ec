"""What is left of a metal's strength beside a seam, as shares of what it had: for comparing ways to make a part."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.job.material import Material
from advisor.physics import aluminium_strength as aluminium
from advisor.physics.aluminium_tables import AS_WELDED, AS_WELDED_SOURCE, SHEET, HazRow
from advisor.physics.tables import NotCoveredError, TableSource

NO_SOFTENING = TableSource(
    "EN 1993-1-8 and EN 1993-1-4: no softened zone up to S460 and in annealed stainless", "memory"
)
# What a product form is called in the strength tables; the first that has a row counts.
FORMS: dict[str, tuple[str, ...]] = {
    "": (SHEET, "extrusion", "drawn tube"),
    "sheet": (SHEET,),
    "plate": (SHEET,),
    "bar": ("extrusion", "drawn tube"),
    "extrusion": ("extrusion",),
    "tube": ("extrusion", "drawn tube"),
}
# Natural ageing at 10 °C or more, EN 1999-1-1 cl. 6.1.6.2 (memory).
_WAIT = {"6": "reached 3 days after welding, kept at 10 °C or more", "7": "reached 30 days after welding"}
_UNHARDENED = {"S235", "S275", "S355", "A36", "A572", "A500", "304", "304L", "316", "316L"}


@dataclass(frozen=True)
class Beside:
    """Strength beside a seam over strength before welding.

    proof, tensile: shares [-]; reach: how far the softened zone goes each way [mm], 0 where none, None where no rule
    gives it; proof_before, tensile_before, proof_after, tensile_after: characteristic strengths [MPa], None for
    steel, which keeps its own; printed: shares (proof, tensile) that a filler maker's typical figures give, a second
    voice, or None.
    """

    label: str
    proof: float
    tensile: float
    reach: float | None
    proof_before: float | None
    tensile_before: float | None
    proof_after: float | None
    tensile_after: float | None
    printed: tuple[float, float] | None
    sources: tuple[TableSource, ...]
    note: str = ""


def table_row(material: Material, thickness: float, form: str = "") -> HazRow:
    """The strength table's row for an aluminium part. thickness [mm]. Raises NotCoveredError where there is none."""
    if material.cast or form in ("casting", "forging"):
        text = f"no welded strength of {material.label} as a casting or forging in the tables"
        raise NotCoveredError(text, "form", "cut and pull a coupon")
    if not material.temper:
        raise NotCoveredError(
            f"{material.name} without a temper: the tables go by temper",
            "metal",
            f"name it, such as {material.name}-{_usual_temper(material)}",
        )
    faults = []
    for name in FORMS.get(form, (SHEET,)):
        try:
            return aluminium.haz_row(material.id, material.temper, name, thickness * 1e-3)
        except NotCoveredError as error:
            faults.append(error)
    raise faults[0]


def strength_beside(material: Material, thickness: float, process: str = "141", form: str = "") -> Beside:
    """What a metal keeps beside a seam. thickness [mm]; process 141 or 131 (ISO 4063); form as in a job.

    Raises NotCoveredError where no table covers the metal, temper, size or process.
    """
    if material.family != "aluminium":
        if material.id not in _UNHARDENED:
            text = f"no rule for the strength of {material.label} beside a seam"
            raise NotCoveredError(text, "metal", "hardened, cold-drawn or unknown steel: cut and pull a coupon")
        return Beside(material.label, 1.0, 1.0, 0.0, None, None, None, None, None, (NO_SOFTENING,))
    row = table_row(material, thickness, form)
    zone = aluminium.haz_strength(row, process, thickness * 1e-3, material.temper)
    return Beside(
        material.label,
        zone.fo / row.fo,
        zone.fu / row.fu,
        _reach(process, thickness, material.id),
        row.fo / 1e6,
        row.fu / 1e6,
        zone.fo / 1e6,
        zone.fu / 1e6,
        _printed(material),
        (*zone.sources, *((AS_WELDED_SOURCE,) if _printed(material) else ())),
        _WAIT.get(material.id[:1], ""),
    )


def _reach(process: str, thickness: float, alloy: str) -> float | None:
    """How far the zone reaches [mm]; None where the standard gives no figure."""
    from advisor.diagnostics import PrestrikeError

    try:
        return aluminium.haz_extent(process, thickness * 1e-3, alloy) * 1e3
    except PrestrikeError:
        return None


def _printed(material: Material) -> tuple[float, float] | None:
    """Shares (proof, tensile) from typical as-welded figures; the least where there are several fillers."""
    rows = [row for row in AS_WELDED if row.alloy == material.id and row.temper == material.temper]
    if not rows:
        return None
    return min(row.welded[1] / row.parent[1] for row in rows), min(row.welded[0] / row.parent[0] for row in rows)


def _usual_temper(material: Material) -> str:
    usual = ("T6", "H32", "H22", "H24", "H14", "O")
    return next((temper for temper in usual if temper in material.tempers), "O")
