"""From a job to the named facts that rules look at."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from advisor.job.job import Job, Machine
from advisor.job.material import Material
from advisor.rulebook.conditions import Fact

# Which of two families gives the settings that do not depend on thickness, for a pair of unlike metals.
_FAMILY_ORDER = ("stainless", "low-alloy-steel", "carbon-steel", "aluminium")


class Workpiece(NamedTuple):
    """A member with its material: thickness [mm]."""

    material: Material
    thickness: float


def workpieces(job: Job, materials: tuple[Material, ...]) -> tuple[Workpiece, Workpiece]:
    """The two members of the joint; a job that names one joins it to its like."""
    pieces = [Workpiece(m, member.thickness.value) for m, member in zip(materials, job.members, strict=True)]
    return (pieces[0], pieces[-1])


def pair_name(materials: tuple[Material, ...]) -> str:
    """Filler groups sorted and joined by +; one name for like members."""
    return "+".join(sorted({material.filler_group for material in materials}))


def joint_facts(job: Job, materials: tuple[Material, ...]) -> dict[str, Fact]:
    """Facts of the whole joint. The thickness in question is the thinner one, as for edges, tacks and grooves."""
    pieces = workpieces(job, materials)
    thin, thick = sorted(piece.thickness for piece in pieces)
    families = {material.family for material in materials}
    base = next(family for family in _FAMILY_ORDER if family in families)
    facts: dict[str, Fact] = {
        "process": job.process,
        "base": base,
        "bases": frozenset(families),
        "alloy": next(material.id for material in materials if material.family == base),
        "alloys": frozenset(material.id for material in materials),
        "series": frozenset(material.series for material in materials),
        "pair": pair_name(materials),
        "temper": frozenset(material.temper for material in materials if material.temper),
        "heat_treatable": any(material.heat_treatable for material in materials),
        "cast": any(material.cast for material in materials) or any(m.form == "casting" for m in job.members),
        "free_machining": any(material.free_machining for material in materials),
        "unknown_alloy": any(material.unknown for material in materials),
        "base_mg": max(material.most("Mg") for material in materials),
        "base_si": max(material.most("Si") for material in materials),
        "thickness": thin,
        "thinner": thin,
        "thicker": thick,
        "thickness_ratio": thick / thin,
        "form": frozenset(member.form for member in job.members if member.form),
        "surface": frozenset(state for member in job.members for state in member.surface),
        "joint": job.joint,
        "weld": job.weld,
        "position": job.position,
        "access": job.access or "one-side",
        "backing": job.backing or None,
        "service": frozenset(job.service),
        "restricted": bool(job.restricted),
        "closed_volume": job.closed_volume,
        "used_container": job.used_container,
        "place": job.place,
        "part": _part(job),
        "solvent": job.solvent or None,
        "gas": job.gas or None,
        "tungsten_type": job.tungsten_type or None,
        "filler": job.filler or None,
        "transfer": job.transfer or None,
        "electrode": job.electrode or None,
        "wire_diameter": job.wire_diameter.value if job.wire_diameter else None,
        "electrode_diameter": job.electrode_diameter.value if job.electrode_diameter else None,
    }
    facts.update(_machine_facts(job.machine))
    return facts


def _part(job: Job) -> str | None:
    if job.part is not None:
        return "box"
    return type(job.shape).__name__.casefold() if job.shape is not None else None


def _machine_facts(machine: Machine | None) -> dict[str, Fact]:
    if machine is None:
        return {}
    facts: dict[str, Fact] = {
        "machine": machine.name or None,
        "balance_control": machine.balance_control,
        "frequency_control": machine.frequency_control,
        "current_type": machine.current_type or None,
        "torch_cooling": machine.torch_cooling or None,
    }
    return {name: fact for name, fact in facts.items() if fact is not None}


def member_facts(joint: Mapping[str, Fact], piece: Workpiece) -> dict[str, Fact]:
    """The joint's facts with one member's own metal and thickness in question, as if welded to its like."""
    return {
        **joint,
        "base": piece.material.family,
        "alloy": piece.material.id,
        "thickness": piece.thickness,
    }
