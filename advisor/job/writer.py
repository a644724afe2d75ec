"""A job back as the mapping a job file holds: what `job_reader.JobBuilder` reads makes the same job again."""

from __future__ import annotations

from typing import Any

from advisor.job.job import Box, Bracket, Job, Machine, Member
from advisor.units.quantities import Quantity

_WORDS = ("access", "backing", "place", "filler", "solvent", "gas", "tungsten_type", "transfer", "electrode")


def job_data(job: Job) -> dict[str, Any]:
    """The job as plain data, every quantity with its unit as it was typed."""
    data: dict[str, Any] = {"kind": "job", "schema": 1}
    if job.name:
        data["name"] = job.name
    data |= {"process": job.process, "members": [_member(member) for member in job.members]}
    data |= {"joint": job.joint, "weld": job.weld, "position": job.position}
    data |= _quantities(leg=job.leg, length=job.length)
    data |= _quantities(wire_diameter=job.wire_diameter, electrode_diameter=job.electrode_diameter)
    data |= {name: getattr(job, name) for name in _WORDS if getattr(job, name)}
    data["service"] = list(job.service)
    data |= {name: True for name in ("closed_volume", "used_container") if getattr(job, name)}
    if job.machine is not None:
        data["machine"] = _machine(job.machine)
    if job.part is not None:
        data["part"] = _part(job.part)
    if job.shape is not None:
        name = "bracket" if isinstance(job.shape, Bracket) else "frame"
        data["part"] = {name: [f"{side:.6g} mm" for side in job.shape]}
    data["units"] = "inch" if job.inch_first else "metric"
    return data


def _quantities(**given: Quantity | None) -> dict[str, str]:
    return {name: _text(value) for name, value in given.items() if value is not None}


def _text(quantity: Quantity) -> str:
    # A gauge means nothing without its metal's table, so its thickness is written out.
    return f"{quantity.value:.6g} mm" if quantity.unit in ("ga", "gauge") else quantity.text.strip()


def _member(member: Member) -> dict[str, Any]:
    data: dict[str, Any] = {"metal": member.metal, "thickness": _text(member.thickness)}
    if member.form:
        data["form"] = member.form
    data |= _quantities(width=member.width, length=member.length)
    data["surface"] = list(member.surface)
    return data


def _machine(machine: Machine) -> dict[str, Any]:
    data: dict[str, Any] = {"kind": "machine", "schema": 1, "name": machine.name}
    if machine.current_type:
        data["current_type"] = machine.current_type
    amps = {"lowest_current": machine.low, "highest_current": machine.high, "torch_limit": machine.torch_limit}
    data |= {name: f"{value:g} A" for name, value in amps.items() if value is not None}
    if machine.duty:
        data["duty"] = [
            {"current": f"{point.current:g} A", "percent": f"{point.percent:g} %"} for point in machine.duty
        ]
    controls = {"balance_control": machine.balance_control, "frequency_control": machine.frequency_control}
    data |= {name: value for name, value in controls.items() if value is not None}
    if machine.torch_cooling:
        data["torch_cooling"] = machine.torch_cooling
    return data


def _part(box: Box) -> dict[str, Any]:
    data: dict[str, Any] = {"box": [f"{side:.6g} mm" for side in (box.length, box.width, box.height)]}
    data |= {"open_top": box.open_top, "pause": f"{box.pause:.6g} s"}
    if box.order:
        data["order"] = list(box.order)
    return data
