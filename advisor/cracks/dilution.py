"""How much base metal a bead takes up: from the joint's groove and the pool a hand holds, as a range."""

from __future__ import annotations

import math
from typing import NamedTuple

from advisor.answer.answer import Advice
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.heat.pair import POOL_HALF_WIDTH
from advisor.job.job import Job
from advisor.physics.bead_share import Pool, butt_base_share, fillet_base_share
from advisor.physics.dilution import FILLER_SHARES
from advisor.physics.groove import single_v_area
from advisor.units.formatting import mm_and_inch
from advisor.units.quantities import UnitTable, parse_quantity

# What a hand leaves, as shares of widths or in mm: (most filler, most base). This project's judgement; the square butt
# it gives lies inside the published 20 to 40 % of filler.
POOL_TIMES = (0.75, 1.25)
NARROW_SHEET = (3.0, 2.0)  # a pool is seldom wider than 3 t + 2 mm on sheet
MELT_IN = (1.0, 3.0)  # mm that pool and root are wider than the groove, both sides together
BACK_OF_FACE = (0.5, 0.8)
CAP_OF_FACE = (0.3, 0.1)
ROOT_OF_BACK = (0.2, 0.05)
FILLET_DEPTH = ((0.5, 0.2), (1.5, 0.5))  # mm, and at most this share of the thickness
FILLET_CONVEX = (0.1, 0.0)  # of the face


class Dilution(NamedTuple):
    """Base metal's share of the bead: with the most filler, in the middle, with the least filler [-]; and how known."""

    low: float
    middle: float
    high: float
    how: str
    evidence: str


ALL_BASE = Dilution(1.0, 1.0, 1.0, "no filler: the bead is base metal", "computed")


def given(text: str, units: UnitTable) -> Dilution:
    """The user's own: `70 %` or `60 % to 80 %`, base metal's share. Raises PrestrikeError."""
    parts = [part for part in text.replace(" to ", ";").split(";") if part.strip()]
    if len(parts) not in (1, 2):
        raise _no_share(text)
    shares = sorted(parse_quantity(part.strip(), "percent", table=units, allow_zero=True).value / 100 for part in parts)
    if shares[-1] > 1.0:
        raise _no_share(text)
    return Dilution(shares[0], sum(shares) / len(shares), shares[-1], "as given by --dilution", "trial")


def _no_share(text: str) -> PrestrikeError:
    repair = "give the base metal's share of the bead: --dilution '70 %', or '60 % to 80 %'"
    return PrestrikeError(Diagnostic("dilution", f"'{text}' is no share of a bead", help=repair))


def published() -> Dilution:
    """Where no joint is given: from the leanest published butt (square) to the richest (single V)."""
    least, most = FILLER_SHARES["square butt"].low, FILLER_SHARES["single V"].high
    how = "no joint given: from a square butt (20 % filler) to a single V (80 %), as published"
    return Dilution(1 - most, 1 - 0.5 * (least + most), 1 - least, how, "read")


def of_job(job: Job, advice: Advice) -> Dilution:
    """From the groove the advice gives and a pool of about a quarter inch."""
    thickness = min(member.thickness.value for member in job.members)
    if job.weld == "fillet":
        return _fillet(job, advice, thickness)
    ends = (_butt(job, advice, thickness, 0), _butt(job, advice, thickness, 1))
    how = f"computed for a {job.joint} joint of {mm_and_inch(thickness)}"
    if "groove_angle" in advice.preparation and job.joint == "butt":
        how += f", V of {advice.preparation['groove_angle'].start:.0f} deg"
    return Dilution(min(ends), sum(ends) / 2, max(ends), how + ", pool about 6 mm (1/4 in) wide", "computed")


def _fillet(job: Job, advice: Advice, thickness: float) -> Dilution:
    leg = job.leg.value if job.leg else thickness
    if job.leg is None and "fillet_leg" in advice.preparation:
        leg = advice.preparation["fillet_leg"].start
    shares = []
    for (depth, share), convex in zip(FILLET_DEPTH, FILLET_CONVEX, strict=True):
        melted = min(depth, share * thickness, leg)
        shares.append(fillet_base_share(leg / 1e3, melted / 1e3, convex * math.sqrt(2) * leg / 1e3))
    how = f"computed for a fillet of {mm_and_inch(leg)} legs, melted 0.5 to 1.5 mm into each member"
    return Dilution(min(shares), sum(shares) / 2, max(shares), how, "computed")


def _butt(job: Job, advice: Advice, t: float, end: int) -> float:
    """Base share at one end of the range: 0 the most filler, 1 the least."""
    section, opening, gap = _groove(job, advice, t, end)
    face = min(2 * POOL_HALF_WIDTH, NARROW_SHEET[0] * t + NARROW_SHEET[1]) * POOL_TIMES[end]
    if job.joint == "edge":
        face = max(face, 2 * t)
    face = max(face, opening + MELT_IN[end])
    back = min(gap + MELT_IN[end], face) if opening > gap else BACK_OF_FACE[end] * face
    back = max(back, gap)
    pool = Pool(*(x / 1e3 for x in (face, back, CAP_OF_FACE[end] * face, ROOT_OF_BACK[end] * back)))
    return butt_base_share(t / 1e3, section / 1e6, pool)


def _groove(job: Job, advice: Advice, t: float, end: int) -> tuple[float, float, float]:
    """Open section [mm2], its width at the face and its gap [mm]."""
    if job.joint == "corner-open":
        return t * t, 2 * t, 0.0
    if job.joint == "corner-half-open":
        return 0.5 * t * t, t, 0.0
    numbers = advice.preparation
    gap = _end(advice, "root_gap", 1 - end)
    if job.joint != "butt" or "groove_angle" not in numbers:
        return gap * t, gap, gap
    angle, root_face = _end(advice, "groove_angle", 1 - end), min(_end(advice, "root_face", end), t)
    opening = gap + 2 * (t - root_face) * math.tan(math.radians(angle / 2))
    return single_v_area(t / 1e3, gap / 1e3, root_face / 1e3, angle) * 1e6, opening, gap


def _end(advice: Advice, topic: str, high: int) -> float:
    setting = advice.preparation.get(topic)
    return 0.0 if setting is None else setting.high if high else setting.low
