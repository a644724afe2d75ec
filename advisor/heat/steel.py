"""The steel side: carbon equivalents, preheat by the standard methods inside their validity, cooling time, hardness."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from advisor.answer.answer import Advice
from advisor.diagnostics import PrestrikeError
from advisor.job.material import Material

# Diffusible hydrogen [ml/100 g] by the scales of EN 1011-2 (memory): TIG with clean rod and dry argon E, at most 3;
# solid wire, and a dried low-hydrogen electrode, D, at most 5; other coverings A, above 15, taken as 20.
TIG_HYDROGEN, LOW_HYDROGEN, MUCH_HYDROGEN = 3.0, 5.0, 20.0
# Hardness beside the seam: above CET 0.35 to 0.4 and a cooling time of a few seconds martensite forms (memory,
# EN 1011-2 and welding metallurgy texts); used as a warning only.
HARDENS_CE = 0.45


class SteelLine(NamedTuple):
    """One finding: what was asked, the value in words, or why there is none. known: evidence."""

    name: str
    value: float | None
    unit: str
    text: str
    evidence: str


def hydrogen(advice: Advice) -> float:
    """Diffusible hydrogen to reckon with [ml/100 g], by process and, for stick, by the covering."""
    if advice.job.process in ("131", "135"):
        return LOW_HYDROGEN
    if advice.job.process != "111":
        return TIG_HYDROGEN
    best = next((option.name for option in advice.choices.get("electrode", []) if option.rank == 1), "")
    return LOW_HYDROGEN if (advice.job.electrode or best) == "E7018" else MUCH_HYDROGEN


def steel_lines(
    material: Material, thickness: float, paths: int, heat_input: float, start_c: float, joint: str, diffusible: float
) -> tuple[SteelLine, ...]:
    """Carbon equivalents, preheat and cooling time of a carbon or low-alloy steel member; empty for others.

    thickness [mm]; paths: heat paths of the joint; heat_input [kJ/mm]; start_c [degC]; diffusible: hydrogen [ml/100 g].
    """
    if material.family not in ("carbon-steel", "low-alloy-steel") or not material.composition:
        return ()
    from advisor.physics import cooling_time, preheat

    steel = preheat.SteelChemistry(
        **{symbol.lower(): material.most(symbol) for symbol in ("C", "Si", "Mn", "Cr", "Mo", "V", "Ni", "Cu")}
    )
    ce, cet = preheat.ce_iiw(steel), preheat.cet(steel)
    combined = preheat.combined_thickness_mm([thickness] * paths)
    lines = [
        SteelLine("CE", ce, "%", f"CE (IIW) up to {ce:.2f}, worked out with the most the grade allows", "computed"),
        SteelLine("CET", cet, "%", f"CET up to {cet:.2f}", "computed"),
        SteelLine("Pcm", preheat.pcm(steel), "%", f"Pcm up to {preheat.pcm(steel):.2f}", "computed"),
        _tried(
            "preheat, EN 1011-2 Method B",
            "degC",
            lambda: preheat.method_b_preheat_c(cet, thickness, diffusible, heat_input),
            "Method B asks for {:.0f} °C",
        ),
        _tried(
            "preheat, EN 1011-2 Method A",
            "mm",
            lambda: preheat.method_a_without_preheat(ce, diffusible, heat_input).combined_mm,
            f"Method A needs no preheat up to {{:.0f}} mm combined thickness; this joint has {combined:.0f} mm",
        ),
        _tried(
            "t8/5",
            "s",
            lambda: cooling_time.cooling_time(heat_input, start_c, thickness, _shape(joint)).low,
            "from 800 to 500 °C in about {:.0f} s",
        ),
    ]
    if ce > HARDENS_CE or material.id == "4130":
        text = "the zone beside the seam can harden and crack: no draught, no quench, look again next day"
        lines.append(SteelLine("hardness", None, "", text, "memory"))
    return tuple(lines)


def _shape(joint: str) -> str:
    if joint == "tee":
        return "fillet at a tee"
    return "run on plate" if joint in ("butt", "edge") else "fillet at a corner"


def _tried(name: str, unit: str, compute: Callable[[], Any], text: str) -> SteelLine:
    """The value, or in the method's own words why it does not reach this joint: never a number from outside."""
    try:
        value = float(compute())
    except PrestrikeError as error:
        return SteelLine(name, None, unit, f"not given: {error.diagnostics[0].message}", "computed")
    return SteelLine(name, value, unit, text.format(value), "computed")
