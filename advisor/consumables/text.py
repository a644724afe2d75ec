"""What a job uses up, as text and JSON."""

from __future__ import annotations

from typing import Any

from advisor.answer.span import Span
from advisor.consumables.answer import ASSUMED, JobConsumables
from advisor.consumables.gas import KEPT_BACK_BAR, SHOP_C, Cup, CylinderLeft, GasUse
from advisor.consumables.prices import Cost
from advisor.consumables.seam import ROD_LENGTHS, Consumables, Duty, FillerUse
from advisor.setup.as_json import number
from advisor.show import lines as shared
from advisor.show.lines import wrap
from advisor.show.wording import known_short
from advisor.units.quantities import UnitTable, in_both_systems, range_in_both_systems

FORMAT = 1
_HOW = (
    "The range is that of the advice carried through: least opening, leg and cap at the fastest travel, against the "
    "largest at the slowest. Buy for the upper end; expect the likely one. All of the bead is counted as rod. The "
    "figures are worked out here from advised numbers; who says those: prestrike why NAME."
)


def consumables_text(answer: JobConsumables, units: UnitTable) -> str:
    """The answer as text of 80 columns."""
    first = answer.joints[0].advice
    inch = first.job.inch_first
    lines = [first.job.name[: shared.WIDTH]] if first.job.name else []
    lines += shared.restricted(first)
    for joint in answer.joints:
        lines += _joint(joint, units, inch)
    if len([joint for joint in answer.joints if joint.status == "advised"]) > 1:
        lines += _together(answer, units, inch)
    if answer.left is not None:
        lines += _cylinder(answer.left, inch)
    if answer.costs:
        lines += _costs(answer)
    if answer.arc.high > 0:
        lines += ["", *wrap(f"ELECTRODE  {answer.electrode}.", "  ", "")] if answer.electrode else []
        lines += ["", *wrap(_HOW), *_assumed(answer)]
    cautions = {item.rule_id: item for joint in answer.joints for item in joint.advice.cautions}
    merged = first._replace(cautions=tuple(cautions.values()))
    lines += shared.cautions(merged) + shared.codes(merged)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def in_short(answer: JobConsumables, units: UnitTable) -> str:
    """What a job uses up in one sentence, for the sheet; empty where nothing is known."""
    inch = answer.joints[0].advice.job.inch_first
    said = []
    rods = [joint.filler.rods.number for joint in answer.joints if joint.filler and joint.filler.rods]
    if answer.mass.high:
        count = f", {sum(item.start for item in rods):.0f} rods" if rods else ""
        said.append(f"filler {in_both_systems(answer.mass.start, 'mass', inch_first=inch, table=units)}{count}")
    if answer.arc.high:
        said.append(f"arc {answer.arc.start / 60:.1f} min ({_minutes(answer.arc)[1]})")
    if answer.gas.high:
        spread = range_in_both_systems(answer.gas.low, answer.gas.high, "volume", inch_first=inch, table=units)
        said.append(f"gas {in_both_systems(answer.gas.start, 'volume', inch_first=inch, table=units)}, range {spread}")
    return f"Uses up, likely: {'; '.join(said)}. All of it: prestrike consumables." if said else ""


def _assumed(answer: JobConsumables) -> list[str]:
    """What no rule gives, and was taken for a hand-held rod all the same."""
    if answer.joints[0].advice.job.process != "141":
        return []
    taken = "; ".join(f"{item.what} ({item.source}, {known_short(item.evidence)})" for item in ASSUMED)
    return wrap(f"Taken besides: {taken}.")


def _joint(joint: Consumables, units: UnitTable, inch: bool) -> list[str]:
    advice = joint.advice._replace(job=joint.advice.job._replace(name=""))
    lines = [*([""] if joint.name else []), *shared.head(advice, units)]
    if joint.name and joint.name != joint.advice.job.name:
        lines.insert(1, joint.name.upper())
    if joint.status == "refused":
        return [*lines, *shared.refused(advice)]
    if joint.status == "no-rule":
        return [*lines, *shared.no_rule(advice)]
    lines += ["", f"{'':<18}{'likely':<22}range"]
    lines += _row("Seams", f"{len(joint.lengths)}, together {_size(joint.length, units, inch)}")
    lines += _metal(joint, units, inch) + _time_and_gas(joint, units, inch)
    for note in joint.notes:
        lines += wrap(f"{note}.", "    ", "  - ")
    if joint.missing:
        lines += ["", "NOT COMPUTED", *(line for item in joint.missing for line in wrap(item, "    ", "  - "))]
    return lines


def _metal(joint: Consumables, units: UnitTable, inch: bool) -> list[str]:
    lines: list[str] = []
    if joint.section is not None:
        lines += wrap(joint.section.shape, " " * 18, f"{'Edges':<18}")
        lines += _span("Weld section", joint.section.area, "area", units, inch)
        for part in joint.section.parts:
            if part.area.high > 0 and len(joint.section.parts) > 1:
                lines += _span(f"  {part.name}", part.area, "area", units, inch)
    if joint.passes is not None:
        lines += _count("Runs", joint.passes)
    filler = joint.filler
    if filler is not None:
        lines += _span(f"Filler {filler.name}"[:17], filler.mass, "mass", units, inch)
        size = in_both_systems(filler.diameter, "length", inch_first=inch, table=units)
        lines += _row("  length", f"{filler.length.start:.2g} m", f"{_plain(filler.length, 'm')} of {size}")
        if filler.rods is not None:
            lines += _count("  rods", filler.rods.number, f"of {_size(filler.rods.length, units, inch)}")
    return lines


def _time_and_gas(joint: Consumables, units: UnitTable, inch: bool) -> list[str]:
    lines: list[str] = []
    if joint.arc is not None:
        lines += _row("Arc time", *_minutes(joint.arc))
        lines += _count("Starts", joint.starts, f"of them {joint.tacks} tacks" if joint.tacks else "")
    gas = joint.gas
    if gas is not None:
        lines += _row("Torch on", *_minutes(gas.torch_on))
        lines += _span(f"Gas {gas.name}"[:17], gas.litres, "volume", units, inch)
    if joint.cup is not None:
        low, high = (
            in_both_systems(value, "gas_flow", inch_first=inch, table=units).split(" (")[0] for value in joint.cup.limit
        )
        text = (
            f"Re {joint.cup.reynolds.start:.0f} ({joint.cup.reynolds.low:.0f}-{joint.cup.reynolds.high:.0f}) in a "
            f"{_size(joint.cup.bore, units, inch)} bore: {joint.cup.text}. A long pipe of that bore turns turbulent at "
            f"{low} to {high}; a gas lens bears more."
        )
        lines += wrap(text, " " * 18, f"{'Cup':<18}")
    if joint.duty is not None:
        text = (
            f"{joint.duty.percent:.0f} % at {joint.duty.current:.0f} A: {joint.duty.text}; at least "
            f"{joint.duty.clock.start / 60:.0f} min on the clock"
        )
        lines += wrap(text, " " * 18, f"{'Machine':<18}")
    return lines


def _together(answer: JobConsumables, units: UnitTable, inch: bool) -> list[str]:
    lines = ["", f"{'ALL TOGETHER':<18}{'likely':<22}range"]
    lines += _span("Filler", answer.mass, "mass", units, inch)
    lines += _row("Arc time", *_minutes(answer.arc))
    lines += _row("Torch on", *_minutes(answer.torch_on))
    lines += _span("Gas", answer.gas, "volume", units, inch)
    if answer.clock is not None:
        lines += _row("On the clock", *_minutes(answer.clock))
    return lines


def _cylinder(left: CylinderLeft, inch: bool) -> list[str]:
    c = left.cylinder

    def gauge(bar: float) -> str:
        return f"{bar * 14.5038:.0f} psi ({bar:.0f} bar)" if inch else f"{bar:.0f} bar ({bar * 14.5038:.0f} psi)"

    text = (
        f"{c.volume:g} L at {gauge(c.gauge)}, {c.temperature:.0f} °C holds {left.held:.0f} L of argon (as gas at 15 °C "
        f"and 1 atm; real gas, Z {left.compressibility:.3f}). "
    )
    if left.left.high <= 0:
        text += f"It is NOT ENOUGH: even the least use is {-left.left.high:.0f} L more than it holds."
    elif left.left.start <= 0:
        text += f"It is likely NOT ENOUGH: the likely use is {-left.left.start:.0f} L more than it holds."
    else:
        text += (
            f"After the job {left.left.start:.0f} L ({left.left.low:.0f} to {left.left.high:.0f}) are left, and the "
            f"gauge shows {gauge(left.gauge_after.start)} at the same temperature ({left.gauge_after.low:.0f} to "
            f"{left.gauge_after.high:.0f} bar). "
        )
        text += "At the upper end it is NOT ENOUGH. " if left.left.low <= 0 else ""
        text += (
            f"It does {left.jobs.start:.0f} jobs like this ({left.jobs.low:.0f} to {left.jobs.high:.0f}), keeping "
            f"{KEPT_BACK_BAR:.0f} bar back for the regulator."
        )
    return ["", *wrap(text, "  ", "CYLINDER  ")]


def _costs(answer: JobConsumables) -> list[str]:
    lines = ["", "COST, at your own prices"]
    for cost in (*answer.costs, *((answer.cost,) if answer.cost else ())):
        span = f"{cost.money.low:.2f} to {cost.money.high:.2f} {cost.label}"
        lines += _row(cost.thing.capitalize(), f"{cost.money.start:.2f} {cost.label}", span)
    if len(answer.costs) > 1 and answer.cost is None:
        lines += wrap("Two currencies: not added up.", "  ")
    return lines


def _row(label: str, start: str, span: str = "") -> list[str]:
    line = f"{label:<18}{start:<22}{span}" if len(start) < 22 else f"{label:<18}{start}"
    if len(start) < 22 and len(line) <= shared.WIDTH:
        return [line]
    return [line] + ([f"{'':<40}{span}"] if span else [])


def _span(label: str, span: Span, kind: str, units: UnitTable, inch: bool) -> list[str]:
    start = in_both_systems(span.start, kind, inch_first=inch, table=units)
    if span.high - span.low <= 1e-6 * abs(span.high):
        return _row(label, start)
    return _row(label, start, range_in_both_systems(span.low, span.high, kind, inch_first=inch, table=units))


def _plain(span: Span, unit: str) -> str:
    return "" if span.low == span.high else f"{span.low:.2g}-{span.high:.2g} {unit}"


def _count(label: str, span: Span, more: str = "") -> list[str]:
    both = "" if span.low == span.high else f"{span.low:.0f} to {span.high:.0f}"
    return _row(label, f"{span.start:.0f}", f"{both}{', ' if both and more else ''}{more}")


def _minutes(span: Span) -> tuple[str, str]:
    return f"{span.start / 60:.1f} min", f"{span.low / 60:.1f}-{span.high / 60:.1f} min"


def _size(mm: float, units: UnitTable, inch: bool) -> str:
    return in_both_systems(mm, "length", inch_first=inch, table=units)


def consumables_json(answer: JobConsumables) -> dict[str, Any]:
    """The answer as JSON data."""
    return {
        "format": FORMAT,
        "status": max((joint.status for joint in answer.joints), key=("advised", "no-rule", "refused").index),
        "practice_only": answer.joints[0].advice.practice_only,
        "joints": [_joint_json(joint) for joint in answer.joints],
        "together": {
            "filler_g": _span_json(answer.mass),
            "arc_s": _span_json(answer.arc),
            "torch_on_s": _span_json(answer.torch_on),
            "gas_L": _span_json(answer.gas),
            "clock_s": _span_json(answer.clock),
        },
        "cylinder": _left_json(answer.left),
        "costs": [_cost_json(cost) for cost in answer.costs],
        "cost": _cost_json(answer.cost) if answer.cost else None,
        "electrode": answer.electrode,
        "evidence": "computed",
        "assumed": [item._asdict() for item in ASSUMED],
        "gas_reference": "15 degC, 1 atm",
    }


def _joint_json(joint: Consumables) -> dict[str, Any]:
    section = joint.section
    return {
        "name": joint.name,
        "status": joint.status,
        "joint": joint.advice.job.joint,
        "weld": joint.advice.job.weld,
        "lengths_mm": [number(length) for length in joint.lengths],
        "edges": section.shape if section else None,
        "section_mm2": _span_json(section.area) if section else None,
        "parts_mm2": {part.name: _span_json(part.area) for part in section.parts} if section else {},
        "runs": _span_json(joint.passes),
        "filler": _filler_json(joint.filler) if joint.filler else None,
        "arc_s": _span_json(joint.arc),
        "starts": _span_json(joint.starts),
        "tacks": joint.tacks,
        "gas": _gas_json(joint.gas) if joint.gas else None,
        "cup": _cup_json(joint.cup) if joint.cup else None,
        "duty": _duty_json(joint.duty) if joint.duty else None,
        "notes": list(joint.notes),
        "missing": list(joint.missing),
        "refusals": [item._asdict() for item in joint.advice.refusals],
        "no_rule": [item._asdict() for item in joint.advice.no_rule],
        "cautions": [item._asdict() for item in joint.advice.cautions],
        "codes": [item._asdict() for item in joint.advice.codes],
    }


def _filler_json(filler: FillerUse) -> dict[str, Any]:
    rods = filler.rods
    return {
        "name": filler.name,
        "diameter_mm": filler.diameter,
        "density_kg_m3": number(filler.density),
        "length_m": _span_json(filler.length),
        "mass_g": _span_json(filler.mass),
        "rods": _span_json(rods.number) if rods else None,
        "rod_length_mm": rods.length if rods else None,
        "stub_mm": _span_json(rods.stub) if rods else None,
        "usual_rod_lengths_mm": list(ROD_LENGTHS),
    }


def _gas_json(gas: GasUse) -> dict[str, Any]:
    return {
        "name": gas.name,
        "flow_L_min": _span_json(gas.flow),
        "preflow_s": _span_json(gas.before),
        "postflow_s": _span_json(gas.after),
        "torch_on_s": _span_json(gas.torch_on),
        "litres": _span_json(gas.litres),
    }


def _cup_json(cup: Cup) -> dict[str, Any]:
    return {
        "bore_mm": cup.bore,
        "reynolds": _span_json(cup.reynolds),
        "laminar_limit_L_min": [number(value) for value in cup.limit],
        "temperature_C": SHOP_C,
        "text": cup.text,
    }


def _duty_json(duty: Duty) -> dict[str, Any]:
    return {
        "current_A": number(duty.current),
        "percent": number(duty.percent),
        "clock_s": _span_json(duty.clock),
        "text": duty.text,
    }


def _left_json(left: CylinderLeft | None) -> dict[str, Any] | None:
    if left is None:
        return None
    return {
        "volume_L": left.cylinder.volume,
        "gauge_bar": number(left.cylinder.gauge),
        "temperature_C": left.cylinder.temperature,
        "held_L": number(left.held),
        "left_L": _span_json(left.left),
        "gauge_after_bar": _span_json(left.gauge_after),
        "jobs": _span_json(left.jobs),
        "Z": number(left.compressibility),
    }


def _cost_json(cost: Cost) -> dict[str, Any]:
    return {"thing": cost.thing, "money": _span_json(cost.money), "currency": cost.label}


def _span_json(span: Span | None) -> dict[str, float | None] | None:
    return None if span is None else {name: number(value) for name, value in span._asdict().items()}
