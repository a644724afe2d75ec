"""How much metal a seam takes in section, from the advised edges and leg: low, start and high.

The range is that of the advice itself: the smallest opening and leg with the least cap, against the largest with the
fullest cap the quality level allows. All of it is taken as filler, which is the careful way to count rods.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from advisor.answer.answer import Advice, Setting
from advisor.answer.span import Span, total
from advisor.physics import groove as g

MM, MM2 = 1e-3, 1e-6
# Cap height [mm] a shop aims at: just proud of the sheet, and a millimetre (habit). The most is level B of ISO 5817:
# 1 mm + 0.1 of the bead width, 5 mm for a butt and 3 mm for a fillet (read in the edition of 2007).
LEAST_CAP, USUAL_CAP = 0.3, 1.0
MOST_CAP = {"groove": 5.0, "fillet": 3.0}
# Each edge of a groove is melted about this far back [mm] (habit).
WASH = 1.0
# A root bead fills at most the groove of a backing bar: 2 t wide and t/4 deep (Mathers, Fig. 5.12, p. 80, read).
ROOT_WIDTH, ROOT_DEPTH = 2.0, 0.25
# A bead is as wide as its pool: 1/4 in is what a textbook trains beginners to hold (Gas Tungsten Arc Welding Handbook,
# 2021, p. 138, read); 2 t is the width of the backing groove.
POOL_WIDTH = 6.4


class SectionPart(NamedTuple):
    """A share of the section [mm2]: groove, fillet, cap, root bead."""

    name: str
    area: Span


@dataclass(frozen=True)
class BeadSection:
    """Weld metal in section [mm2]. shape: the edges it was worked out for; sides: faces that carry a bead."""

    shape: str
    area: Span
    parts: tuple[SectionPart, ...]
    sides: int = 1
    notes: tuple[str, ...] = ()


def bead_section(advice: Advice, sides: int = 0) -> tuple[BeadSection | None, str]:
    """The section of one seam of the advice, or None and the reason why it is not worked out.

    sides: faces welded, 0 for what the preparation says.
    """
    thickness = min(member.thickness.value for member in advice.job.members)
    if advice.job.weld == "fillet":
        return _fillet(advice, sides)
    name = _edges(advice)
    for word, build in _GROOVES:
        if word in name:
            return build(advice, name, thickness, sides)
    return None, f"no section is known for '{name or advice.job.joint}'"


def _edges(advice: Advice) -> str:
    options = advice.preparation_choices.get("groove", [])
    return next((option.name for option in options if option.rank == 1), "")


def _fillet(advice: Advice, sides: int) -> tuple[BeadSection | None, str]:
    leg = _fillet_leg(advice)
    if leg is None:
        return None, "no rule gives a fillet leg for this job: give it with --leg"
    faces = sides or (2 if "both sides" in _edges(advice) else 1)
    flat = leg.map(lambda value: g.fillet_area(value * MM) / MM2)
    face = leg.map(lambda value: value * 2**0.5)
    # A fillet is flat to slightly full: no crown at the low end, a tenth of the face width at the start.
    crown = Span(0.0, _cap(face.start, min(0.1 * face.start, USUAL_CAP)), _cap(face.high, _most(face.high, "fillet")))
    parts = tuple(SectionPart(name, area.times(faces)) for name, area in (("fillet", flat), ("crown", crown)))
    return _made(f"fillet, {faces} side{'s' if faces > 1 else ''}", parts, faces), ""


def _fillet_leg(advice: Advice) -> Span | None:
    if advice.job.leg is not None:
        return Span.of(advice.job.leg.value)
    return _span(advice.preparation.get("fillet_leg"))


def _square(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    gap = _span(advice.preparation.get("root_gap")) or Span.of(0.0)
    groove = gap.map(lambda value: g.square_butt_area(thickness * MM, value * MM) / MM2)
    wide = sorted((2.0 * thickness, POOL_WIDTH))
    return _grooved(advice, name, Span(wide[0], (wide[0] * wide[1]) ** 0.5, wide[1]), groove, sides)


def _melted_through(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    return None, f"'{name}': the far fillet is of the sheet's own metal, and no section of it is printed"


def _single_v(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    return _bevelled(advice, name, sides, g.single_v_area, lambda deep, angle: 2 * deep * _tan(angle / 2))


def _single_bevel(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    """One face only is bevelled, so its angle is the whole angle of the groove."""
    return _bevelled(advice, name, sides, g.single_bevel_area, lambda deep, angle: deep * _tan(angle))


def _double_v(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    return _bevelled(advice, name, sides, g.double_v_area, lambda deep, angle: deep * _tan(angle / 2))


def _tan(degrees: float) -> float:
    return math.tan(math.radians(degrees))


def _bevelled(
    advice: Advice,
    name: str,
    sides: int,
    area: Callable[[float, float, float, float], float],
    mouth: Callable[[float, float], float],
) -> tuple[BeadSection | None, str]:
    """area: section of thickness, gap, land [m] and angle [deg]; mouth: width a bevel of that depth and angle opens."""
    thick = min(member.thickness.value for member in advice.job.members)
    gap, face, angle = (_span(advice.preparation.get(topic)) for topic in ("root_gap", "root_face", "groove_angle"))
    if angle is None:
        return None, f"no rule gives the angle of '{name}' here"
    gap = gap or Span.of(0.0)
    # The deepest bevel goes with the thinnest land, so the land runs the other way.
    land = (face or Span.of(0.0)).map(lambda value: min(value, thick))
    lands = (land.high, land.start, land.low)
    groove = [
        area(thick * MM, opening * MM, flat * MM, degrees) / MM2
        for opening, flat, degrees in zip(gap, lands, angle, strict=True)
    ]
    width = [
        opening + mouth(thick - flat, degrees) + 2 * WASH
        for opening, flat, degrees in zip(gap, lands, angle, strict=True)
    ]
    return _grooved(advice, name, Span(*width), Span(*groove), sides)


def _grooved(advice: Advice, name: str, width: Span, groove: Span, sides: int) -> tuple[BeadSection | None, str]:
    """A butt with its caps: one a side; seen from one side only, a root bead hangs through."""
    thickness = min(member.thickness.value for member in advice.job.members)
    faces = sides or (2 if "both sides" in name or "back run" in name or name == "double V" else 1)
    cap = Span(
        _cap(width.low, LEAST_CAP),
        _cap(width.start, min(USUAL_CAP, _most(width.start, "groove"))),
        _cap(width.high, _most(width.high, "groove")),
    )
    parts = [SectionPart("groove", groove), SectionPart("cap", cap.times(faces))]
    if faces == 1:
        full = _cap(ROOT_WIDTH * thickness, ROOT_DEPTH * thickness)
        parts.append(SectionPart("root bead", Span(0.0, 0.5 * full, full)))
    return _made(name, tuple(parts), faces), ""


def _corner(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    covered = 0.5 * thickness if "half" in name else 0.0
    found = g.outside_corner_area(thickness * MM, covered * MM)
    area = Span(found.low / MM2, found.middle / MM2, found.high / MM2)
    note = "a thin corner may be melted together with little or no rod, where the alloy bears it"
    return _made(name, (SectionPart("corner", area),), sides or 1, note), ""


def _closed_corner(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    """Flush plates leave no groove: the seam is a cap over the joint line."""
    wide = sorted((2.0 * thickness, POOL_WIDTH))
    width = Span(wide[0], (wide[0] * wide[1]) ** 0.5, wide[1])
    cap = Span(
        0.0,
        _cap(width.start, min(USUAL_CAP, _most(width.start, "groove"))),
        _cap(width.high, _most(width.high, "groove")),
    )
    return _made(
        name, (SectionPart("cap", cap),), sides or 1, "flush plates may be melted together with little rod"
    ), ""


def _edge(advice: Advice, name: str, thickness: float, sides: int) -> tuple[BeadSection | None, str]:
    if name.startswith("another"):
        return None, "an edge joint this thick is advised against, so no section is given"
    width = sum(member.thickness.value for member in (advice.job.members * 2)[:2])
    most = _most(width, "groove")
    cap = Span(0.0, _cap(width, min(USUAL_CAP, 0.25 * width)), _cap(width, min(most, 0.5 * width)))
    return _made(name, (SectionPart("cap", cap),), sides or 1), ""


# A word of the advised edge -> how its section is drawn; the first that fits.
_GROOVES: tuple[tuple[str, Callable[[Advice, str, float, int], tuple[BeadSection | None, str]]], ...] = (
    ("double V", _double_v),
    ("single V", _single_v),
    ("single bevel", _single_bevel),
    ("bevel on the upright", _single_bevel),
    ("corner to corner", _corner),
    ("overlapped by half", _corner),
    ("full overlap", _closed_corner),
    ("edges flush", _edge),
    ("another joint", _edge),
    ("melted through", _melted_through),
    ("square", _square),
)


def _made(shape: str, parts: tuple[SectionPart, ...], sides: int, note: str = "") -> BeadSection:
    return BeadSection(shape, total(part.area for part in parts), parts, sides, (note,) if note else ())


def _cap(width: float, height: float) -> float:
    """Section of a cap [mm2]."""
    return g.cap_area(width * MM, min(height, 0.5 * width) * MM) / MM2


def _most(width: float, weld: str) -> float:
    """Highest cap [mm] that level B of ISO 5817 lets stand."""
    return min(1.0 + 0.1 * width, MOST_CAP[weld])


def _span(setting: Setting | None) -> Span | None:
    return None if setting is None else Span(setting.low, setting.start, setting.high)
