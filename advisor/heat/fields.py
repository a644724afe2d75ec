"""Temperature fields of a pair for pictures: the arc on the joint line, and the arc where it should be."""

from __future__ import annotations

from typing import Any, NamedTuple

from advisor.heat.answer import HeatAnswer

_POINTS = 81
START_C = 20.0


class Field(NamedTuple):
    """A field on a grid. ahead, across, aim [mm]; temperature [degC], rows across; widths: melted halves [mm]."""

    title: str
    ahead: Any
    across: Any
    temperature: Any
    aim: float
    solidus: tuple[float, float]
    widths: tuple[float, float]
    names: tuple[str, str]


def pair_fields(answer: HeatAnswer) -> tuple[Field, Field]:
    """Centred and aimed, with the same power. The answer must hold a pair."""
    import numpy as np

    from advisor.physics.arc_aim import fold
    from advisor.physics.heat_split import PlateMember
    from advisor.physics.moving_source import rise_field
    from advisor.physics.seam_modes import Arc, HeatedSeam

    pair = answer.pair
    assert pair is not None
    members = [PlateMember(*figures) for figures in pair.members]
    arc = Arc(pair.conditions.travel * 1e-3, pair.conditions.arc_radius * 1e-3)
    seam = HeatedSeam(*fold(pair.paths, *members), arc)
    reach = 3.0 * pair.conditions.half_width
    ahead = np.linspace(-2 * reach, reach, _POINTS)
    across = np.linspace(-reach, reach, _POINTS)
    names = tuple(f"{member.thickness * 1e3:g} mm" for member in members)

    def field(title: str, aim: float, widths: tuple[float, float]) -> Field:
        rise = rise_field(seam, pair.power, aim * 1e-3, ahead * 1e-3, across * 1e-3)
        solidus = (members[0].solidus_c, members[1].solidus_c)
        return Field(title, ahead, across, START_C + rise, aim, solidus, widths, (names[0], names[1]))

    return (
        field("Arc on the joint line", 0.0, pair.half_width_centred),
        field(f"Arc {abs(pair.offset):.1f} mm onto the heavy side", pair.offset, pair.half_width_aimed),
    )
