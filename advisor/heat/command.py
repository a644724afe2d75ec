"""`prestrike heat`: where the heat goes in the joint, and how the part warms seam by seam."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.flags.numbers import number_of
from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told
from advisor.heat.answer import heat_answer
from advisor.heat.pair import Conditions
from advisor.setup.printing import exit_of
from advisor.units.quantities import UnitTable

Travel = Annotated[str, typer.Option(help="Travel for the aim, such as '2 mm/s'; else the settled one.")]
HalfWidth = Annotated[str, typer.Option(help="Half width of the melted edge wanted, such as '4 mm'.")]
Radius = Annotated[str, typer.Option(help="Arc radius (sigma of a Gaussian), such as '2 mm'.")]
BoxSides = Annotated[str, typer.Option("--box", help="A box by its three sides: '300 mm, 200 mm, 150 mm'.")]
Picture = Annotated[Path | None, typer.Option(help="Write the fields and the history to FILE.svg or FILE.png.")]


@takes_job
def command(
    flags: Flags,
    travel: Travel = "",
    half_width: HalfWidth = "",
    arc_radius: Radius = "",
    box: BoxSides = "",
    picture: Picture = None,
    json: AsJson = False,
) -> None:
    """Where to aim on unequal members and with what power; a box seam by seam with currents and waits.

    Example: prestrike heat --metal 6061 --thickness "3.2 mm" --thickness "6.4 mm" --joint butt --travel "2 mm/s"
    """
    if box:
        flags.words["part"] = {"box": [side.strip() for side in box.split(",")]}
    rulebook, units, job = job_from(flags)
    wanted = _conditions(travel, half_width, arc_radius, units)
    answer = heat_answer(rulebook, job, wanted)
    if picture is not None and answer.pair is not None:
        from advisor.heat.picture import draw

        draw(answer, picture)
    from advisor.heat.text import heat_json, heat_text

    idle = told(job, lambda other: heat_json(heat_answer(rulebook, other, wanted)))
    show(lambda: heat_json(answer), lambda: heat_text(answer, units), as_json=json, flags=flags, idle=idle)
    sys.exit(exit_of(answer.advice))


def _conditions(travel: str, half_width: str, arc_radius: str, units: UnitTable) -> Conditions:
    return Conditions(
        number_of(travel, "speed", units) / 60,
        number_of(half_width, "length", units),
        number_of(arc_radius, "length", units),
    )
