"""`prestrike blanks`: from the finished size of a box, frame, stand or bracket to the cut list and the bars to buy."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.blanks.answer import KERF, CutRequest, blanks
from advisor.blanks.plan import PartPlan, corners_of, default_joint, split_sizes, style_of
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.flags.counted import counted
from advisor.flags.options import AsJson, Flags, job_from, takes_job
from advisor.flags.telling import show, told
from advisor.job.job import Job
from advisor.physics.nesting import Stock
from advisor.setup.printing import exit_of
from advisor.units.quantities import UnitTable, parse_quantity

Box = Annotated[str, typer.Option("--box", help="A box of plate: length, width, height, inside.")]
Frame = Annotated[str, typer.Option(help="A flat frame of bar or tube: length, width, outside.")]
Stand = Annotated[str, typer.Option(help="Two frames on four posts: length, width, height, outside.")]
Bracket = Annotated[str, typer.Option(help="An L of plate: base and upright, outside.")]
Section = Annotated[str, typer.Option(help="Side of the square bar or tube; width of a bracket.")]
Outside = Annotated[bool, typer.Option("--outside", help="The sizes of the box are outside ones.")]
Lid = Annotated[bool, typer.Option("--lid", help="The box has a lid: six sides.")]
CornerStyle = Annotated[
    list[str] | None,
    typer.Option("--corner", help="closed, half-open, open, mitre, lap; or of one place: 'floor=closed'."),
]
Through = Annotated[
    list[str] | None,
    typer.Option(help="Who runs through: floor or walls; front, sides or around; lid; long, short; posts; base."),
]
Skim = Annotated[str, typer.Option(help="To be machined off outside faces and free edges.")]
Trim = Annotated[str, typer.Option(help="Left proud on edges that run through, to trim flush.")]
Shrinkage = Annotated[str, typer.Option(help="What one seam shrinks across, as your coupon says; '0 mm' adds none.")]
Kerf = Annotated[str, typer.Option(help=f"Width of the saw cut; else {KERF:g} mm.")]
EndTrim = Annotated[str, typer.Option(help="Cut off the end of each bar to square it.")]
Tolerance = Annotated[str, typer.Option(help="Of the sawn pieces, plus or minus; else ISO 2768-m.")]
Chamfer = Annotated[str, typer.Option(help="Chamfer of the outer corners after welding.")]
Gap = Annotated[str, typer.Option(help="Root gap left where edges butt or are mitred; else they touch.")]
Bore = Annotated[str, typer.Option(help="A bore to be finished after welding.")]
StockBars = Annotated[
    list[str] | None,
    typer.Option("--stock", help="Bars of each width to saw from: '3000 mm', '2 x 1200 mm'; repeat it."),
]


@takes_job
def command(
    flags: Flags,
    box: Box = "",
    frame: Frame = "",
    stand: Stand = "",
    bracket: Bracket = "",
    section: Section = "",
    outside: Outside = False,
    lid: Lid = False,
    corner: CornerStyle = None,
    through: Through = None,
    skim: Skim = "",
    trim: Trim = "",
    shrinkage: Shrinkage = "",
    kerf: Kerf = "",
    end_trim: EndTrim = "",
    tolerance: Tolerance = "",
    chamfer: Chamfer = "",
    bore: Bore = "",
    gap: Gap = "",
    stock: StockBars = None,
    json: AsJson = False,
) -> None:
    """The pieces to saw for a finished box, frame, stand or bracket, the bars they come from, and how far out it comes.

    Example: prestrike blanks --metal 5052 --thickness "3.2 mm" --box "300 mm, 200 mm, 150 mm" --stock "3000 mm"
    """
    said = {"box": box, "frame": frame, "stand": stand, "bracket": bracket}
    named = [kind for kind, text in said.items() if text]
    if len(named) > 1:
        raise PrestrikeError(Diagnostic("part", f"{' and '.join(named)} at once", help="one part at a time"))
    kind = named[0] if named else "box"
    _of_kind(kind, {"section": section, "outside": outside, "lid": lid})
    if flags.job is None and not flags.words["joint"]:
        flags.words["joint"] = default_joint(kind, corner or ())
    rulebook, units, job = job_from(flags)
    reading = _BlankLengths(units)
    corners = corners_of(kind, corner or (), through or (), _style(kind, job))
    plan = _plan(job, kind, said[kind], reading, (section, outside, lid))._replace(corners=corners)
    wish = CutRequest(
        reading.maybe(skim, zero=True),
        reading.one(trim),
        reading.maybe(shrinkage, zero=True),
        KERF if not kerf else reading.one(kerf),
        reading.one(end_trim),
        reading.maybe(tolerance),
        reading.maybe(chamfer),
        reading.maybe(bore),
        reading.one(gap),
        tuple(Stock(length * 1e-3, count) for count, length in (counted(text, units, "bar") for text in stock or ())),
    )
    answer = blanks(rulebook, job, plan, wish)
    from advisor.blanks.text import blanks_json, blanks_text

    # The bars follow from the pieces: they need not be laid out again to see whether a word counts.
    pieces_only = wish._replace(stocks=())
    idle = told(job, lambda other: blanks_json(blanks(rulebook, other, plan, pieces_only), units))
    show(lambda: blanks_json(answer, units), lambda: blanks_text(answer, units), as_json=json, flags=flags, idle=idle)
    sys.exit(exit_of(answer.advice))


def _of_kind(kind: str, said: dict[str, str | bool]) -> None:
    """Flags that say something of another kind of part are a slip."""
    wrong = ("section",) if kind == "box" else ("outside", "lid")
    why = "a box is made of plate, as thick as --thickness" if kind == "box" else f"a {kind} is measured outside, open"
    found = [
        Diagnostic("other-part", f"--{flag} is not used for a {kind}: {why}", subject=f"--{flag}", help="leave it out")
        for flag in wrong
        if said[flag]
    ]
    if found:
        raise PrestrikeError(found)


class _BlankLengths:
    """Reads sizes in the units of the rulebook, to mm."""

    def __init__(self, units: UnitTable) -> None:
        self.units = units

    def one(self, text: str) -> float:
        """The size, 0 where nothing is said."""
        return self.maybe(text, zero=True) or 0.0

    def maybe(self, text: str, zero: bool = False) -> float | None:
        """The size, or None where nothing is said."""
        return parse_quantity(text, "length", table=self.units, allow_zero=zero).value if text else None

    def several(self, text: str, least: int, most: int, what: str) -> tuple[float, ...]:
        """The sizes of `300 mm, 200 mm, 150 mm`."""
        parts = split_sizes(text, least, most, what)
        return tuple(parse_quantity(part, "length", table=self.units).value for part in parts)


def _style(kind: str, job: Job) -> str:
    if kind == "frame":
        return "lap" if job.joint == "lap" else "mitre"
    return "closed" if kind == "stand" else style_of(job.joint)


def _plan(job: Job, kind: str, text: str, reading: _BlankLengths, more: tuple[str, bool, bool]) -> PartPlan:
    section, outside, lid = more
    if kind == "box":
        return _box(job, text, reading, outside, lid)
    sizes = reading.several(text, *{"frame": (2, 2), "stand": (3, 3), "bracket": (2, 2)}[kind], kind)
    side = reading.maybe(section)
    if side is None:
        what = "the side of its square bar or tube" if kind != "bracket" else "its width"
        text = f"a {kind} needs {what}"
        raise PrestrikeError(Diagnostic("section", text, subject="section", help="add --section '40 mm'"))
    return PartPlan(kind, sizes, "outside", {}, False, side)


def _box(job: Job, text: str, reading: _BlankLengths, outside: bool, lid: bool) -> PartPlan:
    measure = "outside" if outside else "inside"
    if text:
        return PartPlan("box", reading.several(text, 3, 3, "box"), measure, {}, not lid)
    if job.part is None:
        repair = "add --box '300 mm, 200 mm, 150 mm' (or --frame, --stand, --bracket), or `part:` in the job file"
        raise PrestrikeError(Diagnostic("part", "no part is named", subject="part", help=repair))
    sizes = (job.part.length, job.part.width, job.part.height)
    return PartPlan("box", sizes, measure, {}, job.part.open_top and not lid)
