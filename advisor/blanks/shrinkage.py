"""How much a welded box, frame or bracket comes out small and out of square: ranges, and where no figure is printed.

Published rules of thumb are for carbon steel. For other metals only a bound follows from the heat: no seam can shrink
by more than its heat could if all of it contracted freely.
"""

from __future__ import annotations

from typing import NamedTuple

from advisor.answer.answer import Advice
from advisor.consumables.bead_section import BeadSection
from advisor.diagnostics import PrestrikeError
from advisor.job.material import Material
from advisor.physics import shrinkage as s

MM, MM2 = 1e-3, 1e-6
# Arc efficiency of TIG at the end that gives most heat (review of measurements, 0.5 to 0.8, read).
MOST_EFFICIENCY = 0.8


class SeamShrinkage(NamedTuple):
    """What one seam does. across: [mm] a seam; along: [mm] a metre of seam, or None; lean: [mm] a 100 mm, or None.

    sure: whether printed figures stand behind it; else `across` runs from nothing to a bound. because: in words.
    """

    across: tuple[float, float]
    along: tuple[float, float] | None
    lean: tuple[float, float] | None
    sure: bool
    because: str


class SizeLoss(NamedTuple):
    """Of one size of the part [mm]: how much smaller it may come out; allow: what was added for it."""

    name: str
    size: float
    shrinks: tuple[float, float]
    allow: float


def seam_shrink(
    advice: Advice, material: Material, section: BeadSection | None, thickness: float
) -> SeamShrinkage | None:
    """What a seam of this advice does, thickness [mm]; None where neither a rule nor the heat is known."""
    if advice.status != "advised":
        return None
    if material.family != "carbon-steel":
        return _bounded(advice, material, thickness)
    if advice.job.weld == "fillet":
        return _steel_fillet(advice, thickness)
    return _steel_groove(advice, section, thickness) or _bounded(advice, material, thickness)


def _steel_groove(advice: Advice, section: BeadSection | None, thickness: float) -> SeamShrinkage | None:
    if section is None or section.area.high <= 0:
        return None
    gap = advice.preparation.get("root_gap")
    ends = [
        s.transverse_butt(max(area, 1e-3) * MM2, thickness * MM, (gap.high if gap else 0.0) * MM)
        for area in (section.area.low, section.area.high)
    ]
    current = advice.settings["current"].start
    along = sorted(
        (s.allowance("butt, longitudinal", 1.0).high / MM, s.longitudinal_butt(current, 1.0, thickness * MM) / MM)
    )
    text = (
        "across: 0.1 Aw/t (read, attributed to Blodgett) to 0.2 Aw/t + 0.05 gap (Spraragen and Ettinger, recalled); "
        "along: TWI (read) and King (recalled); lean: not printed for a corner"
    )
    return SeamShrinkage((ends[0].low / MM, ends[1].high / MM), (along[0], along[1]), None, True, text)


def _steel_fillet(advice: Advice, thickness: float) -> SeamShrinkage | None:
    legs = _legs(advice)
    if legs is None:
        return None
    low, high = (min(leg, thickness) for leg in legs)
    across = [s.transverse_tee(leg * MM, thickness * MM) / MM for leg in (low, high)]
    text = "across: 1.02 mm leg/t of the AWS handbook for two fillets (recalled)"
    if low <= 0.75 * thickness:
        across.append(s.allowance("fillet, transverse").high / MM)
        text += ", 0.8 mm a fillet of TWI (read)"
    slopes = [2 * s.angular_flange(0.1, leg * MM, thickness * MM) / 0.1 * 100 for leg in (low, high)]
    text += (
        "; along: 0.8 mm in 3 m of TWI (read); lean: Blodgett's rise of a flange (recalled), with nothing to hold it"
    )
    along = s.allowance("fillet, longitudinal", 1.0).high / MM
    return SeamShrinkage((min(across), max(across)), (along, along), (slopes[0], slopes[1]), True, text)


def _legs(advice: Advice) -> tuple[float, float] | None:
    if advice.job.leg is not None:
        return advice.job.leg.value, advice.job.leg.value
    leg = advice.preparation.get("fillet_leg")
    return (leg.low, leg.high) if leg else None


def _bounded(advice: Advice, material: Material, thickness: float) -> SeamShrinkage | None:
    """Nothing to the bound of free contraction, at the start settings and the highest efficiency."""
    figures = [material.value(name) for name in ("expansion", "density", "specific_heat")]
    speed, volts = advice.settings.get("travel_speed"), advice.settings.get("arc_voltage")
    if any(figure is None for figure in figures) or speed is None or volts is None:
        return None
    expansion, density, heat = (figure or 0.0 for figure in figures)
    per_metre = MOST_EFFICIENCY * volts.start * advice.settings["current"].start / (speed.start * MM / 60)
    try:
        most = s.free_contraction(per_metre, thickness * MM, expansion * 1e-6, density * heat) / MM
    except PrestrikeError:
        return None
    text = (
        f"no figure per weld was found in print for {material.name}; {most:.2f} mm a seam is the bound of free "
        "contraction (computed), and the cold metal beside the seam holds most of it back"
    )
    return SeamShrinkage((0.0, most), None, None, False, text)


def expected(
    name: str, size: float, seams: int, along: float, shrink: SeamShrinkage | None, allow_each: float | None
) -> SizeLoss:
    """What a size of the part does: it crosses so many seams, and seams of length `along` [mm] run beside it.

    allow_each: [mm] a seam as the user measured it; else half way where figures are printed, nothing where not.
    """
    if shrink is None:
        return SizeLoss(name, size, (0.0, 0.0), (allow_each or 0.0) * seams)
    low, high = (seams * value for value in shrink.across)
    if shrink.along is not None:
        low, high = low + shrink.along[0] * along / 1000, high + shrink.along[1] * along / 1000
    allow = allow_each * seams if allow_each is not None else 0.5 * (low + high) if shrink.sure else 0.0
    return SizeLoss(name, size, (low, high), round(allow, 1) if allow_each is None else allow)
