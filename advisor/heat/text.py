"""Where the heat goes, as text and JSON."""

from __future__ import annotations

from typing import Any

from advisor.heat.answer import HeatAnswer
from advisor.heat.pair import PairHeat
from advisor.heat.part import PartHeat
from advisor.heat.sentences import ON_SEAM
from advisor.setup.as_json import number
from advisor.show.lines import wrap
from advisor.units.quantities import UnitTable, in_both_systems

FORMAT = 1


def heat_json(answer: HeatAnswer) -> dict[str, Any]:
    """The answer as JSON data."""
    advice = answer.advice
    return {
        "format": FORMAT,
        "status": advice.status,
        "practice_only": advice.practice_only,
        "unequal": _pair_json(answer.pair) if answer.pair else None,
        "part": _part_json(answer.part) if answer.part else None,
        "steel": [item._asdict() for item in answer.steel],
        "strike": answer.strike._asdict() if answer.strike else None,
        "heat_input_kJ_mm": number(answer.heat_input),
        "seam": answer.seam._asdict() if answer.seam else None,
        "reach": [item._asdict() for item in answer.reach],
        "tacks": _tacks_json(answer),
        "lengths": [item._asdict() for item in answer.lengths],
        "chill": list(answer.chill),
        "missing": list(answer.missing),
        "refusals": [item._asdict() for item in advice.refusals],
        "cautions": [item._asdict() for item in advice.cautions],
        "codes": [item._asdict() for item in advice.codes],
        "ruleset": {"content_hash": advice.content_hash},
    }


def _tacks_json(answer: HeatAnswer) -> dict[str, Any] | None:
    plan = answer.tacks
    if plan is None:
        return None
    places = [{**tack._asdict(), "place": number(tack.place)} for tack in plan.tacks]
    return {"size_mm": number(plan.size), "pitch_mm": number(plan.pitch), "tacks": places}


def _pair_json(pair: PairHeat) -> dict[str, Any]:
    def both(values: tuple[float, float]) -> list[float | None]:
        return [number(value) for value in values]

    return {
        "offset": round(pair.offset, 4) + 0.0,  # never -0.0
        "offset_unit": "mm toward the second member",
        "offset_spread": [round(value, 4) + 0.0 for value in pair.offset_spread],
        "power": number(pair.power),
        "power_unit": "W net",
        "equal_pair_power": both(pair.equal_pair_power),
        "mean_equal_pair_power": number(sum(pair.equal_pair_power) / 2),
        "thick_only_power": number(pair.thick_only_power),
        "arc_share": both(pair.arc_share),
        "half_width_centred": [round(value, 4) for value in pair.half_width_centred],
        "half_width_aimed": [round(value, 4) for value in pair.half_width_aimed],
        "melt_back_centred": both(pair.melt_back_centred),
        "melt_back_aimed": both(pair.melt_back_aimed),
        "conditions": {
            "travel_mm_s": pair.conditions.travel,
            "half_width_mm": pair.conditions.half_width,
            "arc_radius_sigma_mm": pair.conditions.arc_radius,
            "heat_paths": pair.paths,
        },
        "evidence": "computed",
    }


def _part_json(part: PartHeat) -> dict[str, Any]:
    return {
        "interpass_C": part.interpass,
        "net_power_W": number(part.power),
        "travel_mm_s": number(part.travel),
        "total_s": number(part.total_seconds),
        "arc_s": number(part.arc_seconds),
        "hottest_at_end_C": {
            f"efficiency {efficiency:g}": number(value)
            for efficiency, value in zip(part.efficiencies, part.end_c, strict=True)
        },
        "seams": [
            {
                **seam._asdict(),
                "currents": [number(value) for value in seam.currents],
                "waited": number(seam.waited),
                "begins": number(seam.begins),
                "ends": number(seam.ends),
                "metal_before": number(seam.metal_before),
                "hottest_part": number(seam.hottest_part),
            }
            for seam in part.seams
        ],
        "evidence": "computed",
    }


def heat_text(answer: HeatAnswer, units: UnitTable) -> str:
    """The answer as text of 80 columns."""
    from advisor.show import lines as shared

    advice = answer.advice
    lines = shared.head(advice, units)
    if advice.status == "refused":
        lines += shared.refused(advice)
    if answer.pair is not None:
        lines += _pair_text(answer, answer.pair, units)
    if answer.strike is not None:
        lines += _strike_text(answer)
    if answer.part is not None:
        lines += _part_text(answer.part, units)
    lines += _holding_text(answer, units) + _machine_text(answer)
    if answer.steel:
        lines += [
            "",
            "STEEL",
            *(line for item in answer.steel for line in wrap(f"{item.name}: {item.text}", "    ", "  ")),
        ]
    if answer.missing:
        lines += ["", "NOT COMPUTED", *(line for item in answer.missing for line in wrap(item, "    ", "  - "))]
    lines += shared.cautions(advice) + shared.codes(advice)
    lines += ["", "All of this is computed: steady conduction in flat plates, no filler."]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _pair_text(answer: HeatAnswer, pair: PairHeat, units: UnitTable) -> list[str]:
    names = _names(answer, units)
    inch_first = answer.advice.job.inch_first

    def size(mm: float) -> str:
        return in_both_systems(mm, "length", inch_first=inch_first, table=units)

    lines = ["", "WHERE TO AIM"]
    toward = names[1] if pair.offset >= 0 else names[0]
    if abs(pair.offset) < ON_SEAM:
        lines += wrap("On the joint line: both members take the heat alike.", "  ")
    else:
        low, high = sorted(abs(value) for value in pair.offset_spread)
        lines += wrap(
            f"{size(abs(pair.offset))} onto the {toward} ({low:.1f} to {high:.1f} mm for an arc between tight "
            "and wide). "
            f"Share of the arc: {pair.arc_share[0]:.0%} on {names[0]}, {pair.arc_share[1]:.0%} on {names[1]}.",
            "  ",
        )
    lines += wrap(
        f"Melted half width aimed: {pair.half_width_aimed[0]:.1f} and {pair.half_width_aimed[1]:.1f} mm; with the "
        "arc on the "
        f"line: {pair.half_width_centred[0]:.1f} and {pair.half_width_centred[1]:.1f} mm.",
        "  ",
    )
    lines += wrap(_melt_back(pair, names), "  ")
    mean = sum(pair.equal_pair_power) / 2
    lines += ["", "POWER FOR THE PAIR"]
    lines += wrap(
        f"{pair.power:.0f} W into the metal; the mean of what each would need with its like "
        f"({pair.equal_pair_power[0]:.0f} "
        f"and {pair.equal_pair_power[1]:.0f} W) is {mean:.0f} W. Setting for the heavy one alone would put in "
        f"{pair.thick_only_power / pair.power - 1:.0%} more than this aimed pair needs.",
        "  ",
    )
    c = pair.conditions
    lines += wrap(
        f"For {in_both_systems(c.travel * 60, 'speed', inch_first=inch_first, table=units)}, a pool "
        f"{size(2 * c.half_width)} wide, arc radius (sigma) {c.arc_radius:g} mm. "
        "Arc efficiency is known only to 0.5-0.8, so take ratios, not watts.",
        "  ",
    )
    return lines


def _holding_text(answer: HeatAnswer, units: UnitTable) -> list[str]:
    lines: list[str] = []
    plan = answer.tacks
    inch_first = answer.advice.job.inch_first
    unit = "in" if inch_first else "mm"

    def place(mm: float) -> str:
        return f"{mm / units.factors['length', 'in'][0]:.1f}" if inch_first else f"{mm:.0f}"

    if plan is not None:
        places = ", ".join(f"{place(tack.place)} ({tack.turn})" for tack in plan.tacks)
        size = in_both_systems(plan.size, "length", inch_first=inch_first, table=units)
        order = max(plan.tacks, key=lambda tack: tack.turn).why
        lines += [
            "",
            *wrap(
                f"TACKS  {len(plan.tacks)} of {size}, at {unit} from the end (turn): {places}; {order}.",
                "  ",
                "",
            ),
        ]
    if answer.lengths:
        steps = ", ".join(f"{length.turn}: {place(length.begins)} to {place(length.ends)}" for length in answer.lengths)
        lines += wrap(f"ORDER  back-step in {unit}: {steps}; {answer.lengths[0].why}.", "  ", "")
    for text in answer.chill:
        lines += wrap(f"CHILL BAR pays {text}.", "  ", "")
    return lines


def _machine_text(answer: HeatAnswer) -> list[str]:
    lines: list[str] = []
    if answer.heat_input is not None:
        how = f"(k = {answer.code_factor:g} of EN 1011-1, settled volts, amps and travel)"
        lines += ["", f"HEAT INPUT  {answer.heat_input:.2f} kJ/mm {how}"]
    if answer.seam is not None:
        lines += wrap(f"ARC TIME  {answer.seam.text}.", "  ", "")
    if answer.reach:
        lines.append("IF THE MACHINE IS SHORT OF CURRENT")
        for way in answer.reach:
            lines += wrap(way.text, "    ", "  - ")
    return lines


def _names(answer: HeatAnswer, units: UnitTable) -> tuple[str, str]:
    job = answer.advice.job
    labels = [
        f"{in_both_systems(member.thickness.value, 'length', inch_first=job.inch_first, table=units)} {material}"
        for material, member in zip(answer.advice.materials, job.members, strict=True)
    ]
    return labels[0], labels[-1]


def _melt_back(pair: PairHeat, names: tuple[str, str]) -> str:
    index = 0 if pair.melt_back_centred[0] >= pair.melt_back_centred[1] else 1
    return (
        f"Melting back: if the edges lose touch, the {names[index]} edge runs away at "
        f"{pair.melt_back_aimed[index]:.2f} of "
        f"its melting rise when aimed, {pair.melt_back_centred[index]:.2f} when centred (1 is a joint of two "
        "alike; more is "
        "nearer to a hole)."
    )


def _strike_text(answer: HeatAnswer) -> list[str]:
    strike = answer.strike
    if strike is None or strike.puddle is None or strike.through is None:
        return ["", *wrap(f"Standing start: not given; {strike.why_not if strike else ''}", "  ")]
    return [
        "",
        *wrap(
            f"STANDING START on the thin member, arc held still: a puddle in {strike.puddle[0]:.1f} to "
            f"{strike.puddle[1]:.1f} s, "
            f"melted through from {strike.through[0]:.1f} to {strike.through[1]:.1f} s on (efficiency 0.8 to 0.5).",
            "  ",
            "",
        ),
    ]


def _part_text(part: PartHeat, units: UnitTable) -> list[str]:
    limit = (
        f"wait until the metal along the seam is at {part.interpass:.0f} °C or less"
        if part.interpass
        else "no limit known"
    )
    lines = ["", f"SEAM BY SEAM ({limit})"]
    lines.append(f"  {'seam':<15}{'wait':>7}{'metal':>8}   {'start':>6}{'middle':>8}{'end':>6}   why this turn")
    for seam in part.seams:
        start, middle, end = (f"{value:.0f} A" for value in seam.currents)
        row = f"  {seam.seam:<15}{seam.waited:>5.0f} s{seam.metal_before:>5.0f} °C   {start:>6}{middle:>8}{end:>6}   "
        lines += wrap(seam.why, " " * len(row), row)
    first, last = part.warm_current
    lines += wrap(
        f"Start the box at {first:.0f} A and be at {last:.0f} A along the last seam; ease off in the last "
        "centimetre of every "
        "seam that ends at an open edge (the end column).",
        "  ",
    )
    lines += wrap(
        f"{part.total_seconds / 60:.0f} minutes in all, {part.arc_seconds / 60:.1f} of arc at {part.travel:.1f} "
        "mm/s. Hottest "
        f"place a minute after: {part.end_c[0]:.0f} °C ({part.end_c[1]:.0f} to {part.end_c[2]:.0f} °C for "
        "efficiency 0.5 to 0.8).",
        "  ",
    )
    return lines
