"""`prestrike inspect`: is the seam good enough, how to test it, and what to do about what was found."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.flags.numbers import number_of
from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told
from advisor.inspection.answer import InspectionRequest, inspect_answer
from advisor.inspection.leak import AirReading, LeakRequest, bad_walls
from advisor.inspection.limits import DEFAULT_LEVEL, ISO_LEVELS
from advisor.setup.printing import exit_of
from advisor.units.quantities import UnitTable, parse_quantity

Level = Annotated[str, typer.Option(help="Quality level: D moderate, C usual, B strictest.")]
FaceWidth = Annotated[str, typer.Option(help="Width of the bead, measured.")]
RootWidth = Annotated[str, typer.Option(help="Width of the bead at the back, measured.")]
FoundFlag = Annotated[
    list[str] | None,
    typer.Option("--found", help="What was found: 'porosity', 'undercut 0.4 mm', or an ISO 6520-1 number. Repeat it."),
]
WallSides = Annotated[list[str] | None, typer.Option("--wall", help="A flat wall of the box: '300 mm, 200 mm'.")]
BoxSides = Annotated[str, typer.Option("--box", help="The box by its three sides: '300 mm, 200 mm, 150 mm'.")]
Volume = Annotated[str, typer.Option(help="What the box holds, such as '9 L'.")]
Pressure = Annotated[str, typer.Option(help="Test pressure you mean to use, such as '3 kPa'.")]
Start = Annotated[str, typer.Option("--start", help="Leak test, first reading: '3.5 kPa, 20 degC'.")]
End = Annotated[str, typer.Option("--end", help="Leak test, last reading: '3.2 kPa, 18 degC'.")]
After = Annotated[str, typer.Option("--after", help="Time between the readings: '30 min'.")]


@takes_job
def command(
    flags: Flags,
    level: Level = "",
    face_width: FaceWidth = "",
    root_width: RootWidth = "",
    found: FoundFlag = None,
    wall: WallSides = None,
    box: BoxSides = "",
    volume: Volume = "",
    pressure: Pressure = "",
    start: Start = "",
    end: End = "",
    after: After = "",
    json: AsJson = False,
) -> None:
    """Limits for this job, where to look in which order, tests without a laboratory, and repairs.

    Example: prestrike inspect --metal 5052-H32 --thickness "3.2 mm" --joint tee --found "undercut 0.4 mm"
    """
    if box:
        flags.words["part"] = {"box": [side.strip() for side in box.split(",")]}
    rulebook, units, job = job_from(flags)
    leak = LeakRequest(
        tuple(_wall(text, units) for text in wall or ()),
        number_of(volume, "volume", units),
        number_of(pressure, "pressure", units) * 1e3,
        *_readings(start, end, units),
        number_of(after, "time", units),
    )
    if (leak.pressure or leak.start or leak.volume) and not (leak.walls or job.part):
        repair = "add --wall '300 mm, 200 mm' or --box '300 mm, 200 mm, 150 mm'"
        raise PrestrikeError(Diagnostic("no-wall", "a leak test needs the walls of the box", help=repair))
    asked = bool(wall or box or pressure or start)
    wanted = InspectionRequest(
        _level(level),
        number_of(face_width, "length", units),
        number_of(root_width, "length", units),
        tuple(found or ()),
        leak,
        asked,
    )
    answer = inspect_answer(rulebook, job, wanted, units)
    from advisor.inspection.text import inspect_json, inspect_text

    idle = told(job, lambda other: inspect_json(inspect_answer(rulebook, other, wanted, units)))
    show(lambda: inspect_json(answer), lambda: inspect_text(answer, units), as_json=json, flags=flags, idle=idle)
    code = exit_of(answer.advice)
    refused = asked and answer.leak is not None and answer.leak.air == "refused"
    # Limits do not need a current: what no rule sets at the arc can still be judged after it.
    sys.exit(Exit.REFUSED if refused else Exit.ADVISED if code is Exit.NO_RULE else code)


def _level(text: str) -> str:
    level = text.strip().upper() or DEFAULT_LEVEL
    if level not in ISO_LEVELS:
        raise PrestrikeError(Diagnostic("level", f"'{text}' is no quality level", help="give B, C or D"))
    return level


def _wall(text: str, units: UnitTable) -> tuple[float, float]:
    sides = [part.strip() for part in text.split(",")]
    if len(sides) != 2:
        raise bad_walls(text)
    lengths = [parse_quantity(side, "length", table=units).value for side in sides]
    return max(lengths), min(lengths)


def _readings(start: str, end: str, units: UnitTable) -> tuple[AirReading | None, AirReading | None]:
    if bool(start) != bool(end):
        repair = "give --start '3.5 kPa, 20 degC' and --end '3.2 kPa, 18 degC'"
        raise PrestrikeError(Diagnostic("reading", "a drop needs two readings", help=repair))
    return (_reading(start, units), _reading(end, units)) if start else (None, None)


def _reading(text: str, units: UnitTable) -> AirReading:
    parts = [part.strip() for part in text.split(",")]
    if len(parts) != 2:
        repair = "give pressure and temperature: '3.5 kPa, 20 degC'"
        raise PrestrikeError(Diagnostic("reading", f"'{text}' is no reading", help=repair))
    gauge = parse_quantity(parts[0], "pressure", table=units, allow_zero=True).value * 1e3
    return AirReading(gauge, parse_quantity(parts[1], "temperature", table=units).value)
