"""`prestrike fit`: a ring pressed or shrunk into a welded body, and whether a seam across the tension opens."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.diagnostics import Diagnostic, PrestrikeError, exit_for
from advisor.fit.answer import FitJob, check, fit_answer
from advisor.fit.interference import InterferenceRequest, interference_asked
from advisor.flags.completion import metals
from advisor.flags.numbers import Lengths, number_of
from advisor.flags.options import AsJson, print_json, rules_opened
from advisor.job.job import Job
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.shop.rules_in_force import units_of
from advisor.units.quantities import PLAUSIBLE, UnitTable, is_inch_unit, parse_quantity

Metal = Annotated[
    str,
    typer.Option("--metal", "-m", help="The body: alloy or grade and temper, such as 6061-T6.", autocompletion=metals),
]
RingMetal = Annotated[
    str, typer.Option(help="The ring: 'bearing steel', bronze, 'cast iron', or any metal known here.")
]
Bore = Annotated[str, typer.Option(help="The body's bore, such as '62 mm'.")]
RingOuter = Annotated[str, typer.Option(help="The ring's outside as measured; with --bore it gives the interference.")]
RingInner = Annotated[str, typer.Option(help="The ring's inside, or 'solid'.")]
BodyOuter = Annotated[str, typer.Option(help="The body's outside diameter; or give --wall.")]
Wall = Annotated[str, typer.Option(help="The body's wall round the bore, the thinnest place.")]
Interference = Annotated[str, typer.Option(help="On the diameter: '0.05 mm', or least and most '0.03 mm, 0.06 mm'.")]
Fit = Annotated[str, typer.Option("--fit", help="ISO 286 fit, bore/ring: H7/p6, P7/h6, N7/bearing.")]
Width = Annotated[str, typer.Option(help="Width of the ring, along the axis.")]
SeamDepth = Annotated[str, typer.Option("--seam-penetration", help="Depth of a seam that runs along the body's wall.")]
InUse = Annotated[list[str] | None, typer.Option("--service-temperature", help="Temperature in use; may be repeated.")]
Clearance = Annotated[str, typer.Option(help="Clearance on the diameter for assembly; else D/1000.")]
Friction = Annotated[float | None, typer.Option(help="Friction; else 0.15 for grip and 0.20 for pressing.")]
Roughness = Annotated[str, typer.Option(help="Rz of bore and ring: '6.3 um', or each '6.3 um, 4 um'.")]
Process = Annotated[str, typer.Option(help="How the seam was welded: 141, 131, 135, 111.")]
Filler = Annotated[str, typer.Option(help="Filler of the seam, such as ER5356.")]
Form = Annotated[str, typer.Option(help="Form of the body: sheet, plate, bar, extrusion, tube, casting.")]
Service = Annotated[list[str] | None, typer.Option(help="ordinary, machined-after, vehicle, lifting, pressure ...")]
BodyModulus = Annotated[str, typer.Option(help="Your own stiffness E of the body, such as '70 GPa'.")]
RingModulus = Annotated[str, typer.Option(help="Your own stiffness E of the ring.")]
BodyPoisson = Annotated[float, typer.Option(help="Your own Poisson's ratio of the body.")]
RingPoisson = Annotated[float, typer.Option(help="Your own Poisson's ratio of the ring.")]
Rules = Annotated[list[Path] | None, typer.Option("--rules", help="A folder or file of shop rules.")]
Units = Annotated[str, typer.Option(help="metric or inch first; else the system you typed.")]

MOST_ROUGH = 0.2  # mm, both surfaces together
_TINY = re.compile(r"([0-9]+\.?[0-9]*|\.[0-9]+)\s*(\S.*)")


def command(
    metal: Metal = "",
    ring_metal: RingMetal = "bearing steel",
    bore: Bore = "",
    ring_outer: RingOuter = "",
    ring_inner: RingInner = "",
    body_outer: BodyOuter = "",
    wall: Wall = "",
    interference: Interference = "",
    fit: Fit = "",
    width: Width = "",
    seam_penetration: SeamDepth = "",
    service_temperature: InUse = None,
    clearance: Clearance = "",
    friction: Friction = None,
    roughness: Roughness = "",
    process: Process = "",
    filler: Filler = "",
    form: Form = "",
    service: Service = None,
    body_modulus: BodyModulus = "",
    ring_modulus: RingModulus = "",
    body_poisson: BodyPoisson = 0.0,
    ring_poisson: RingPoisson = 0.0,
    rules: Rules = None,
    units: Units = "",
    json: AsJson = False,
) -> None:
    """Press or shrink a ring into a welded body: pressure, stress, grip, heat to put it in, and the seam across it.

    Example: prestrike fit -m 6061-T6 --bore "62 mm" --ring-inner "52 mm" --wall "8 mm" --fit P7/bearing
    --width "16 mm" --seam-penetration "3 mm" --service-temperature "80 degC"
    """
    rulebook = rules_opened(rules)
    table = units_of(rulebook)
    _given({"--metal": metal, "--bore": bore, "--ring-inner": ring_inner})
    size = _FitLengths(table)
    hole = size.of(bore, "bore")
    outside = _outside(size, hole, body_outer, wall)
    asked = InterferenceRequest(size.pair(interference, "interference"), fit, size.of(ring_outer, "ring-outer"))
    limits, how = interference_asked(asked, hole)
    rough, how_rough = _roughness(size, roughness, "bearing" in ring_metal)
    wanted = FitJob(
        bore=hole,
        ring_inner=0.0 if ring_inner.strip().casefold() == "solid" else size.of(ring_inner, "ring-inner"),
        body_outer=outside,
        interference=limits,
        how=f"{how}; {how_rough}",
        width=size.of(width, "width") or None,
        roughness=rough,
        seam_penetration=size.of(seam_penetration, "seam-penetration") or None,
        service_c=tuple(
            number_of(text, "temperature", table, "--service-temperature") for text in service_temperature or ()
        ),
        clearance=size.of(clearance, "clearance") or 1e-3 * hole,
        friction=_friction(friction),
    )
    check(wanted)
    data = {
        "members": [{"metal": metal, "thickness": f"{0.5 * (outside - hole):.9g} mm", "form": form}],
        "joint": "butt",
        "process": process,
        "filler": filler,
        "service": service or [],
        "units": units,
    }
    own = (
        (number_of(body_modulus, "stress", table, "--body-modulus"), body_poisson, 0.0),
        (number_of(ring_modulus, "stress", table, "--ring-modulus"), ring_poisson, 0.0),
    )
    job = JobBuilder(rulebook, table).build(data)
    _finish(
        rulebook, job, (wanted, ring_metal, own), (table, json, units == "inch" or (not units and _inch(bore, table)))
    )


def _finish(
    rulebook: Rulebook,
    job: Job,
    asked: tuple[FitJob, str, tuple[tuple[float, float, float], tuple[float, float, float]]],
    shown: tuple[UnitTable, bool, bool],
) -> None:
    table, as_json, inch_first = shown
    answer = fit_answer(rulebook, job._replace(inch_first=inch_first), *asked)
    if as_json:
        from advisor.fit.text import fit_json

        print_json(fit_json(answer))
    else:
        from advisor.fit.text import fit_text

        print(fit_text(answer, table), end="")
    sys.exit(exit_for(answer.status, bool(rulebook.left_out)))


class _FitLengths(Lengths):
    """Lengths of flags, and the tiny ones of a fit."""

    def pair(self, text: str, flag: str) -> tuple[float, float] | None:
        """One length, or two by a comma: least and most."""
        if not text:
            return None
        sizes = [self._small(part.strip(), flag) for part in text.split(",")]
        if len(sizes) > 2:
            raise _fault(f"'{text}' is more than least and most", flag, "write '0.03 mm, 0.06 mm'")
        return min(sizes), max(sizes)

    def _small(self, text: str, flag: str) -> float:
        size = self.tiny(text, flag)
        if size == 0.0:
            raise _fault(f"'{text}' is zero", flag, "a fit needs interference, such as '0.04 mm'")
        return size

    def tiny(self, text: str, flag: str) -> float:
        """A length that may be smaller than any a shop cuts to, or zero; its other faults are those of any length."""
        match = _TINY.fullmatch(text.strip())
        factor = self.units.factors.get(("length", match[2])) if match else None
        if match and factor and 0.0 <= float(match[1]) * factor[0] < PLAUSIBLE["length"][0]:
            return float(match[1]) * factor[0]
        return self.of(text, flag)


def _roughness(size: _FitLengths, text: str, ground: bool) -> tuple[float, str]:
    """Rz of both surfaces together [mm], and how it was come by. ground: the ring is a bearing's."""
    if not text and ground:
        return 8.8e-3, "bore taken as finely turned, Rz 6.3 um, bearing as ground, 2.5 um (shop habit)"
    if not text:
        return 12.6e-3, "surfaces taken as finely turned, Rz 6.3 um each (shop habit); give --roughness"
    parts = [part.strip() for part in text.split(",")]
    if len(parts) > 2:
        raise _fault(f"'{text}' is more than two surfaces", "roughness", "write '6.3 um' or '6.3 um, 4 um'")
    values = [size.tiny(part, "roughness") for part in parts]
    total = sum(values) if len(values) == 2 else 2 * values[0]
    if total > MOST_ROUGH:
        raise _fault(f"'{text}' is rougher than a sawn face", "roughness", "write for example '6.3 um'")
    return total, f"roughness Rz given, {total * 1e3:.3g} um for both"


def _outside(size: _FitLengths, bore: float, body_outer: str, wall: str) -> float:
    if not body_outer and not wall:
        raise _fault("the body needs its outside or its wall", "body-outer", "add --wall '8 mm'")
    outside = size.of(body_outer, "body-outer")
    by_wall = bore + 2 * size.of(wall, "wall") if wall else outside
    if outside and abs(outside - by_wall) > 0.01 * outside:
        text = f"a wall of {wall} makes the body {by_wall:g} mm outside, not {outside:g} mm"
        raise _fault(text, "wall", "give one of them, or correct it")
    return outside or by_wall


def _friction(friction: float | None) -> tuple[float, float]:
    if friction is None:
        return 0.15, 0.20
    if not 0.01 <= friction <= 1.0:
        raise _fault(f"friction {friction:g}", "friction", "give a number from 0.01 to 1, such as 0.12")
    return friction, friction


def _given(flags: dict[str, str]) -> None:
    missing = [flag for flag, text in flags.items() if not text]
    if missing:
        help = 'such as -m 6061-T6 --bore "62 mm" --ring-inner "52 mm"'
        raise PrestrikeError(
            [
                Diagnostic("missing", f"no {flag[2:].replace('-', ' ')} given", subject=flag, help=help)
                for flag in missing
            ]
        )


def _inch(text: str, table: UnitTable) -> bool:
    return is_inch_unit(parse_quantity(text, "length", table=table).unit)


def _fault(message: str, flag: str, help: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("fit", message, subject=f"--{flag}", help=help))
