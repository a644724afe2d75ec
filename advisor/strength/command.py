"""`prestrike strength`: what a seam carries, which part gives way first, and what a load uses of it."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.diagnostics import Diagnostic, PrestrikeError, exit_for
from advisor.flags.numbers import Lengths, number_of
from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told
from advisor.physics.weld_group import GROUPS
from advisor.strength.answer import Load, StressedSeam, strength_answer
from advisor.units.quantities import UnitTable

Throat = Annotated[str, typer.Option(help="Throat of the fillet, such as '3 mm'; or give --leg.")]
Penetration = Annotated[str, typer.Option(help="Depth of a groove weld reached every time; else the whole thickness.")]
Seams = Annotated[int, typer.Option(help="1, or 2 equal seams that share the load (both sides of a plate).")]
FullEnds = Annotated[bool, typer.Option("--full-ends", help="Full size to both ends, so the whole length counts.")]
Held = Annotated[bool, typer.Option("--held", help="The parts of a one-sided partial seam cannot tilt.")]
LapWidth = Annotated[str, typer.Option(help="Width of a lap in sheet under 4 mm.")]
Overlap = Annotated[
    str, typer.Option(help="How far the parts of a lap lie over each other; else the least is assumed.")
]
LoadText = Annotated[str, typer.Option("--load", help="A hanging weight '50 kg' or a force '2 kN'.")]
Clamp = Annotated[str, typer.Option(help="A clamp force that pulls across the seam, such as '3 kN'.")]
Direction = Annotated[str, typer.Option(help="along, across or worst: how the load lies to the seam.")]
Arm = Annotated[str, typer.Option(help="From the welded face out to the load: a bracket is bent.")]
Offset = Annotated[
    str, typer.Option(help="Arm in the plane of the seams, from their middle: a lapped bracket is twisted.")
]
Group = Annotated[
    str, typer.Option(help="one-line, two-lines, top-bottom, three-sides, all-round, tube: how the seams lie.")
]
GroupHeight = Annotated[str, typer.Option(help="Height of the group, or a tube's diameter; else --length.")]
GroupWidth = Annotated[str, typer.Option(help="Width of the group.")]
Pressure = Annotated[str, typer.Option(help="Pressure on a flat wall, such as '10 kPa' or '1 psi'.")]
Panel = Annotated[str, typer.Option(help="The wall's two sides: '300 mm, 200 mm'.")]

DIRECTIONS = ("along", "across", "worst")


@takes_job
def command(
    flags: Flags,
    throat: Throat = "",
    penetration: Penetration = "",
    seams: Seams = 1,
    full_ends: FullEnds = False,
    held: Held = False,
    lap_width: LapWidth = "",
    overlap: Overlap = "",
    load: LoadText = "",
    clamp: Clamp = "",
    direction: Direction = "",
    arm: Arm = "",
    offset: Offset = "",
    group: Group = "",
    group_height: GroupHeight = "",
    group_width: GroupWidth = "",
    pressure: Pressure = "",
    panel: Panel = "",
    json: AsJson = False,
) -> None:
    """What a seam of this size and depth carries, which part governs, and what a load uses of it: figures, no verdict.

    Example: prestrike strength -m 6061-T6 -t "3 mm" --joint tee --leg "4 mm" --length "80 mm" --load "20 kg"
    --arm "150 mm"
    """
    rulebook, units, job = job_from(flags)
    length = Lengths(units)
    seam = StressedSeam(
        throat=length.of(throat, "throat"),
        penetration=length.of(penetration, "penetration"),
        count=_count(seams),
        full_ends=full_ends,
        held=held,
        lap_width=length.of(lap_width, "lap-width"),
        overlap=length.of(overlap, "overlap"),
    )
    wanted = Load(
        **_weight(load, units),
        clamp=number_of(clamp, "force", units, "--clamp"),
        direction=_word(direction, "direction", DIRECTIONS),
        arm=length.of(arm, "arm"),
        offset=length.of(offset, "offset"),
        group=_word(group, "group", GROUPS),
        height=length.of(group_height, "group-height"),
        width=length.of(group_width, "group-width"),
        pressure=number_of(pressure, "pressure", units, "--pressure") * 1e3,
        panel=_panel(panel, units),
    )
    _needs(wanted)
    answer = strength_answer(rulebook, job, seam, wanted)
    from advisor.strength.text import strength_json, strength_text

    idle = told(job, lambda other: strength_json(strength_answer(rulebook, other, seam, wanted)))
    show(lambda: strength_json(answer), lambda: strength_text(answer, units), as_json=json, flags=flags, idle=idle)
    sys.exit(exit_for(answer.status, bool(rulebook.left_out)))


def _weight(text: str, units: UnitTable) -> dict[str, float]:
    """A load given as a mass or as a force."""
    if not text:
        return {}
    found: list[Diagnostic] = []
    for kind, share in (("mass", 1e-3), ("force", 1.0)):
        try:
            return {kind: number_of(text, kind, units, "--load") * share}
        except PrestrikeError as error:
            found += error.diagnostics
    help = "write for example '50 kg' or '2 kN'"
    told = next((item for item in found if item.code not in ("wrong-dimension", "unknown-unit")), None)
    if told is None:
        told = found[0]._replace(message=f"'{text}' is no weight and no force")
    raise PrestrikeError(told._replace(help=help))


def _word(text: str, flag: str, known: tuple[str, ...]) -> str:
    from advisor.diagnostics import did_you_mean

    if text and text not in known:
        message = f"'{text}' is no {flag}"
        raise PrestrikeError(Diagnostic("unknown-word", message, subject=f"--{flag}", help=did_you_mean(text, known)))
    return text


def _count(seams: int) -> int:
    if seams not in (1, 2):
        raise PrestrikeError(Diagnostic("seams", f"{seams} seams", subject="--seams", help="give 1 or 2"))
    return seams


def _panel(text: str, units: UnitTable) -> tuple[float, float] | None:
    if not text:
        return None
    sides = [number_of(side.strip(), "length", units, "--panel") for side in text.split(",")]
    if len(sides) != 2 or not all(sides):
        raise PrestrikeError(
            Diagnostic("panel", f"'{text}' is no wall", subject="--panel", help="write '300 mm, 200 mm'")
        )
    return sides[0], sides[1]


def _needs(load: Load) -> None:
    """Flags that say how a load lies, without a load, are a slip."""
    lies = load.arm or load.offset or load.direction or load.group or load.height or load.width
    if lies and not (load.mass or load.force or load.clamp):
        message = "an arm, a direction or a group says how a load lies, and no load is given"
        raise PrestrikeError(Diagnostic("load", message, subject="--load", help="add --load '50 kg'"))
    if load.panel and not load.pressure:
        raise PrestrikeError(
            Diagnostic("load", "a wall without its pressure", subject="--panel", help="add --pressure '10 kPa'")
        )
