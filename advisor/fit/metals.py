"""Stiffness, expansion and proof strength of the two members of a fit, each with its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from advisor.diagnostics import PrestrikeError
from advisor.fit.parts import FitMetal
from advisor.job.material import Material, find_material
from advisor.physics.shrink_fit import COLD_SHRINKAGE, COLD_SOURCE
from advisor.physics.tables import TableSource
from advisor.rulebook.library import Rulebook
from advisor.strength.softened import strength_beside, table_row

_EN_STEEL = TableSource("EN 1993-1-1 cl. 3.2.6: E 210 GPa, Poisson 0.3, 12e-6/K", "memory")
_EN_STAINLESS = TableSource("EN 1993-1-4 cl. 2.1.3 for E 200 GPa, EN 10088-1 for 16e-6/K", "memory")
_EN_ALUMINIUM = TableSource("EN 1999-1-1 cl. 3.2.5: E 70 GPa, 23e-6/K; Poisson 0.33 from handbooks", "memory")
_HANDBOOK = TableSource("machine-design handbooks, typical values", "memory")
# E [MPa], Poisson's ratio, expansion [1e-6/K] by family.
_FAMILY: dict[str, tuple[float, float, float, TableSource]] = {
    "aluminium": (70e3, 0.33, 23.0, _EN_ALUMINIUM),
    "carbon-steel": (210e3, 0.3, 12.0, _EN_STEEL),
    "low-alloy-steel": (210e3, 0.3, 12.0, _EN_STEEL),
    "stainless": (200e3, 0.3, 16.0, _EN_STAINLESS),
}
# Rings that are never welded and so have no entry among the metals: E, Poisson, expansion, proof, cold group.
RING_METALS: dict[str, tuple[float, float, float, float | None, str]] = {
    "bearing steel": (208e3, 0.3, 12.0, 1500.0, "carbon-steel"),
    "bronze": (110e3, 0.34, 18.0, None, "bronze"),
    "brass": (105e3, 0.34, 19.0, None, "bronze"),
    "cast iron": (110e3, 0.26, 10.5, None, "cast-iron"),
}
_ALSO = {
    "bearing-steel": "bearing steel",
    "bearing": "bearing steel",
    "52100": "bearing steel",
    "100cr6": "bearing steel",
    "cast-iron": "cast iron",
}


def ring_metal(text: str, rulebook: Rulebook) -> FitMetal:
    """The ring's metal, from the metals of the rules or the few that are only fitted. Raises PrestrikeError."""
    name = _ALSO.get(text.strip().casefold(), text.strip().casefold())
    if name not in RING_METALS:
        try:
            return body_metal(find_material(text, rulebook.index), 5.0)
        except PrestrikeError as error:
            help = f"for a ring also: {', '.join(RING_METALS)}"
            raise PrestrikeError(
                [item._replace(subject="--ring-metal", help=help) for item in error.diagnostics]
            ) from None
    modulus, poisson, expansion, proof, cold = RING_METALS[name]
    sources = (("stiffness, expansion", _HANDBOOK), ("cold shrinkage", COLD_SOURCE))
    return FitMetal(name, modulus, poisson, expansion, proof, COLD_SHRINKAGE[cold], sources)


def body_metal(material: Material, wall: float, form: str = "", welded: str = "") -> FitMetal:
    """A metal of the rules as a member. wall [mm] chooses the strength row; welded: the process of a seam in it."""
    modulus, poisson, expansion, source = _FAMILY[material.family]
    sources = [("stiffness, Poisson's ratio", source)]
    said = material.value("expansion")
    if said:
        item = next(each for each in material.properties if each["name"] == "expansion")
        expansion = said
        sources.append(("expansion", _citation(item)))
    else:
        sources.append(("expansion", source))
    proof, where = _proof(material, wall, form)
    if where is not None:
        sources.append(("proof strength", where))
    sources.append(("cold shrinkage", COLD_SOURCE))
    cold = COLD_SHRINKAGE["carbon-steel" if material.family == "low-alloy-steel" else material.family]
    beside = _beside(material, wall, form, welded) if welded else None
    return FitMetal(material.label, modulus, poisson, expansion, proof, cold, tuple(sources), beside)


def with_own(metal: FitMetal, modulus: float, poisson: float, expansion: float) -> FitMetal:
    """The metal with the user's own figures where given (0 means not given). modulus [MPa], expansion [1e-6/K]."""
    own = TableSource("the user's own figure", "trial")
    sources = metal.sources + tuple(
        (name, own)
        for name, value in (("stiffness", modulus), ("Poisson's ratio", poisson), ("expansion", expansion))
        if value
    )
    return replace(
        metal,
        modulus=modulus or metal.modulus,
        poisson=poisson or metal.poisson,
        expansion=expansion or metal.expansion,
        sources=sources,
    )


def _proof(material: Material, wall: float, form: str) -> tuple[float | None, TableSource | None]:
    if material.family == "aluminium":
        try:
            row = table_row(material, wall, form)
        except PrestrikeError:
            return None, None
        return row.fo / 1e6, row.source
    from advisor.strength.steel import yield_strength

    return yield_strength(material)


def _beside(material: Material, wall: float, form: str, process: str) -> float | None:
    """Proof strength beside a seam [MPa]; None where it is not less, or no table gives it."""
    try:
        return strength_beside(material, wall, process, form).proof_after
    except PrestrikeError:
        return None


def _citation(item: Mapping[str, Any]) -> TableSource:
    """Where an entry's property is from."""
    cited = item["source"][0]
    return TableSource(str(cited["title"]), cited["evidence"])
