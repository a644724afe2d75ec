"""The narrowest case a rule of one's own may speak for: metals, joint, position and sizes of one job, and no more."""

from __future__ import annotations

from typing import Any, NamedTuple

from advisor.job.facts import workpieces
from advisor.job.job import Job
from advisor.job.material import find_material
from advisor.rulebook.library import Rulebook

# Stock sold in inches and in millimetres differs by less than this; a rule made at one size serves no other.
SAME_SIZE = 0.01


class Scope(NamedTuple):
    """A case. metals: material ids of the members; thinner, thicker: thickness [mm]; gas: where the job names one."""

    process: str
    metals: tuple[str, ...]
    joint: str
    position: str
    gas: str
    thinner: float
    thicker: float
    machine: str = ""

    @property
    def alike(self) -> bool:
        """True for members of one metal and one thickness."""
        return len(set(self.metals)) == 1 and self.thicker <= self.thinner * (1 + SAME_SIZE)

    def words(self) -> dict[str, Any]:
        """The conditions that hold whatever the size, as a rule's `when` says them."""
        words: dict[str, Any] = {"process": self.process}
        kinds = sorted(set(self.metals))
        if self.alike:
            words["alloy"] = kinds[0]
        else:
            words |= {"alloys": kinds[0]} if len(kinds) == 1 else {"all": [{"alloys": name} for name in kinds]}
        words |= {"joint": self.joint, "position": self.position}
        if self.gas:
            words["gas"] = self.gas
        if self.machine:
            words["machine"] = self.machine
        return words

    def sizes(self) -> dict[str, dict[str, str]]:
        """The conditions on both sizes of unequal members; empty for like ones, whose table says the size."""
        if self.alike:
            return {}
        return {"thinner": around(self.thinner), "thicker": around(self.thicker)}

    def facts(self, thickness: float | None = None) -> dict[str, Any]:
        """Facts of a job in this case, as an example writes them. thickness: another size of like members [mm]."""
        facts: dict[str, Any] = {"process": self.process}
        kinds = sorted(set(self.metals))
        if self.alike:
            facts |= {"alloy": kinds[0], "thickness": size(self.thinner if thickness is None else thickness)}
        else:
            facts |= {"alloys": kinds, "thinner": size(self.thinner), "thicker": size(thickness or self.thicker)}
        facts |= {"joint": self.joint, "position": self.position}
        facts |= {name: value for name, value in (("gas", self.gas), ("machine", self.machine)) if value}
        return facts


def size(value: float) -> str:
    """A size as rules write it [mm]."""
    return f"{value:.4g} mm"


def around(value: float) -> dict[str, str]:
    """The range of sizes that are the same stock."""
    return {"from": size(value * (1 - SAME_SIZE)), "to": size(value * (1 + SAME_SIZE))}


def scope_of(rulebook: Rulebook, job: Job, *, of_machine: bool = False) -> Scope:
    """The case of a job. of_machine: hold it to the job's machine too. Raises PrestrikeError for an unknown metal."""
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    thin, thick = sorted(piece.thickness for piece in workpieces(job, materials))
    machine = job.machine.name if of_machine and job.machine is not None else ""
    metals = tuple(material.id for material in materials)
    return Scope(job.process, metals, job.joint, job.position, job.gas, thin, thick, machine)
