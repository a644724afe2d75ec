"""`prestrike compare`: the ways to make a part side by side, with reasons."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.compare.answer import Prices, compare
from advisor.consumables.prices import parse_price
from advisor.diagnostics import Diagnostic, PrestrikeError, exit_for
from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told

BoxSides = Annotated[str, typer.Option("--box", help="A box by its three inside sides: '300 mm, 200 mm, 150 mm'.")]
BracketSides = Annotated[str, typer.Option("--bracket", help="Two legs and the width: '60 mm, 40 mm, 50 mm'.")]
FrameSides = Annotated[
    str, typer.Option("--frame", help="Outer length, width and square section: '600 mm, 400 mm, 30 mm'.")
]
Ways = Annotated[list[str] | None, typer.Option("--way", help="Only this way, such as tig-folded; repeat it.")]
FillerPrice = Annotated[str, typer.Option("--price-filler", help="Your price: '12 EUR/kg' or '$9/lb'.")]
GasPrice = Annotated[str, typer.Option("--price-gas", help="Your price: '25 EUR/m3' or '80 EUR / 2.1 m3'.")]
Why = Annotated[bool, typer.Option("--why", help="With every figure its trail, and the command that gives it alone.")]

# The joint a part is welded with, where none is given.
_JOINTS = {"box": "corner-half-open", "bracket": "tee", "frame": "butt"}


@takes_job
def command(
    flags: Flags,
    box: BoxSides = "",
    bracket: BracketSides = "",
    frame: FrameSides = "",
    way: Ways = None,
    price_filler: FillerPrice = "",
    price_gas: GasPrice = "",
    why: Why = False,
    json: AsJson = False,
) -> None:
    """Ways to make a part side by side: TIG, wire, stick, brazing, soldering, folding; what decides, and why.

    Example: prestrike compare --metal 6061-T6 --thickness "3.2 mm" --box "120 mm, 80 mm, 60 mm" --service leak-tight
    """
    _part(flags, {"box": box, "bracket": bracket, "frame": frame})
    rulebook, units, job = job_from(flags)
    prices = Prices(
        parse_price(price_filler, "mass", units, "price-filler") if price_filler else None,
        parse_price(price_gas, "volume", units, "price-gas") if price_gas else None,
    )
    answer = compare(rulebook, job, way or (), prices)
    from advisor.compare.text import compare_json, compare_text

    idle = told(job, lambda other: compare_json(compare(rulebook, other, way or (), prices)))
    show(lambda: compare_json(answer), lambda: compare_text(answer, units, why), as_json=json, flags=flags, idle=idle)
    sys.exit(exit_for(answer.status, bool(answer.left_out)))


def _part(flags: Flags, given: dict[str, str]) -> None:
    """The part from flags into the job's words, with the joint it is welded with where none is given."""
    shapes = {name: text for name, text in given.items() if text}
    if len(shapes) > 1:
        text = f"--{' and --'.join(shapes)} given: a part is one of them"
        raise PrestrikeError(Diagnostic("part", text, help="give one"))
    for name, text in shapes.items():
        flags.words["part"] = {name: [side.strip() for side in text.split(",")]}
        if name == "box":
            flags.words["part"]["open_top"] = not flags.words.get("closed_volume")
        if not flags.words["joint"] and flags.job is None:
            flags.words["joint"] = _JOINTS[name]
    if not shapes and flags.job is None and flags.metal:
        repair = "add --box '300 mm, 200 mm, 150 mm', --bracket or --frame, or a job file with `part:`"
        raise PrestrikeError(Diagnostic("missing-part", "no part is given to compare ways for", help=repair))
