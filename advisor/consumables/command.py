"""`prestrike consumables`: rods, arc time, gas, what is left in the cylinder, and what it costs."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.consumables.answer import UseRequest, cylinder_of, job_consumables, worst_exit
from advisor.consumables.prices import Price, parse_price
from advisor.consumables.seam import RodSize
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.flags.counted import counted
from advisor.flags.numbers import number_of
from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told
from advisor.units.quantities import UnitTable, parse_quantity

Seam = Annotated[list[str] | None, typer.Option(help="A seam, or several alike: '300 mm' or '4 x 300 mm'; repeat it.")]
Sides = Annotated[int, typer.Option(help="Faces to be welded, 1 or 2; else as the preparation says.", min=0, max=2)]
RodLength = Annotated[
    str, typer.Option(help="Length of a rod as you buy it; else 1000 mm, or 36 in for a job in inches.")
]
Stub = Annotated[str, typer.Option(help="What you throw away of each rod; else 25 to 100 mm.")]
CylinderVolume = Annotated[str, typer.Option("--cylinder", help="Water volume stamped on the cylinder: '10 L'.")]
Gauge = Annotated[str, typer.Option("--pressure", help="What its gauge shows: '150 bar' or '2200 psi'.")]
Temperature = Annotated[str, typer.Option(help="Temperature of the cylinder.")]
FillerPrice = Annotated[str, typer.Option("--price-filler", help="Your price: '12 EUR/kg' or '$9/lb'.")]
GasPrice = Annotated[str, typer.Option("--price-gas", help="Your price: '25 EUR/m3' or '80 EUR / 2.1 m3'.")]


@takes_job
def command(
    flags: Flags,
    seam: Seam = None,
    sides: Sides = 0,
    rod_length: RodLength = "",
    stub: Stub = "",
    cylinder: CylinderVolume = "",
    pressure: Gauge = "",
    temperature: Temperature = "20 degC",
    price_filler: FillerPrice = "",
    price_gas: GasPrice = "",
    json: AsJson = False,
) -> None:
    """What the job uses up: filler and rods, minutes of arc, gas and what is left of it, cost at your own prices.

    Example: prestrike consumables --metal 5052 --thickness "3.2 mm" --joint tee --seam "4 x 300 mm"
    """
    rulebook, units, job = job_from(flags)
    wanted = UseRequest(
        tuple(length for text in seam or () for length in seam_lengths(text, units)),
        _rod(rod_length or ("36 in" if job.inch_first else "1000 mm"), stub, units),
        sides,
        cylinder_of(
            number_of(cylinder, "volume", units, "cylinder") or None,
            _bar(pressure, units),
            parse_quantity(temperature, "temperature", table=units).value,
        ),
        _price(price_filler, "mass", units, "price-filler"),
        _price(price_gas, "volume", units, "price-gas"),
    )
    answer = job_consumables(rulebook, job, wanted)
    from advisor.consumables.text import consumables_json, consumables_text

    idle = told(job, lambda other: consumables_json(job_consumables(rulebook, other, wanted)))
    show(
        lambda: consumables_json(answer), lambda: consumables_text(answer, units), as_json=json, flags=flags, idle=idle
    )
    sys.exit(worst_exit(answer.joints))


def seam_lengths(text: str, units: UnitTable) -> list[float]:
    """Lengths [mm] of `300 mm` or `4 x 300 mm`."""
    count, length = counted(text, units, "seam")
    return [length] * (count or 1)


def _rod(length: str, stub: str, units: UnitTable) -> RodSize:
    whole = parse_quantity(length, "length", table=units).value
    left = parse_quantity(stub, "length", table=units, allow_zero=True).value if stub else None
    if whole < 200 or (left is not None and left >= whole):
        text = f"a rod of {whole:g} mm" + (f" with a stub of {left:g} mm" if left is not None else "")
        raise PrestrikeError(
            Diagnostic("rod", f"{text} leaves nothing to weld with", help="rods are 36 in or 1000 mm long")
        )
    return RodSize(whole, left)


def _bar(text: str, units: UnitTable) -> float | None:
    return number_of(text, "pressure", units, "pressure") / 100 or None


def _price(text: str, kind: str, units: UnitTable, flag: str) -> Price | None:
    return parse_price(text, kind, units, flag) if text else None
