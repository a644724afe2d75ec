"""The ways a part can be made up: which joints, how many seams and how long, which bends, by which process."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.job import Box, Bracket, Frame, Job
from advisor.job.part_seams import box_seams

PLATES, FOLDED, GROOVED, TUBE, MITRED, NOTCHED = "plates", "folded", "grooved", "tube", "mitred", "notched"


class MethodSeams(NamedTuple):
    """Seams of one joint: what they are called, joint and weld, lengths [mm]."""

    what: str
    joint: str
    weld: str
    lengths: tuple[float, ...]


class Method(NamedTuple):
    """A way to make the part. folds: lengths of the bends [mm]."""

    name: str
    label: str
    process: str
    made_from: str
    seams: tuple[MethodSeams, ...]
    folds: tuple[float, ...] = ()

    @property
    def number(self) -> int:
        """Number of seams."""
        return sum(len(group.lengths) for group in self.seams)

    @property
    def length(self) -> float:
        """All seams together [mm]."""
        return sum(sum(group.lengths) for group in self.seams)


def ways_of(job: Job, family: str, only: Sequence[str] = ()) -> tuple[Method, ...]:
    """The ways to make the job's part. family: of its metal; only: names or processes to keep.

    Raises PrestrikeError for a job without a part and for a way that does not exist.
    """
    if job.part is not None:
        ways = _box(job.part, job, family)
    elif isinstance(job.shape, Bracket):
        ways = _bracket(job.shape, family)
    elif isinstance(job.shape, Frame):
        ways = _frame(job.shape, family)
    else:
        repair = "add --box '300 mm, 200 mm, 150 mm', --bracket or --frame, or `part:` in the job file"
        raise PrestrikeError(Diagnostic("missing-part", "no part is given to compare ways for", help=repair))
    return _kept(ways, only)


def wire_process(family: str) -> str:
    """The wire-feed process a metal takes: 131 for aluminium, 135 for steel."""
    return "131" if family == "aluminium" else "135"


def _kept(ways: tuple[Method, ...], only: Sequence[str]) -> tuple[Method, ...]:
    known = {way.name for way in ways}
    for name in only:
        if name not in known:
            repair = did_you_mean(name, sorted(known))
            text = f"there is no way '{name}' to make this part"
            raise PrestrikeError(Diagnostic("unknown-way", text, subject="way", help=repair))
    return tuple(way for way in ways if not only or way.name in only)


def _box(box: Box, job: Job, family: str) -> tuple[Method, ...]:
    corner = job.joint if job.joint.startswith("corner") else "corner-half-open"
    weld = job.weld if job.joint.startswith("corner") else "groove"
    floor = (box.length, box.length, box.width, box.width)
    lid = () if box.open_top else floor
    uprights = (box.height,) * 4
    plates = (MethodSeams("corner of the plates", corner, weld, box_seams(box)),)
    folded = (MethodSeams("upright corner" + (" and lid edge" if lid else ""), corner, weld, (*uprights, *lid)),)
    grooved = (*folded, MethodSeams("bend groove, inside", "corner-inside", "fillet", floor))
    tube = (MethodSeams("edge of an end plate", corner, weld, (*floor, *lid)),)
    lapped = (
        MethodSeams("lapped upright corner" + (" and lid edge" if lid else ""), "lap", "fillet", (*uprights, *lid)),
    )
    return (
        Method("tig-plates", "TIG, plates or bar", "141", PLATES, plates),
        Method("tig-folded", "TIG, folded sheet", "141", FOLDED, folded, floor),
        Method("tig-grooved", "TIG, grooved bends", "141", GROOVED, grooved, floor),
        Method("tig-tube", "TIG, tube and ends", "141", TUBE, tube),
        Method("wire", "wire-feed, plates", wire_process(family), PLATES, plates),
        Method("stick", "stick, plates", "111", PLATES, plates),
        Method("brazing", "torch brazing, folded", "912", FOLDED, lapped, floor),
        Method("soldering", "soldering, folded", "942", FOLDED, lapped, floor),
    )


def _bracket(bracket: Bracket, family: str) -> tuple[Method, ...]:
    both = (MethodSeams("side of the tee", "tee", "fillet", (bracket.width, bracket.width)),)
    once = (MethodSeams("tee, filler drawn through", "tee", "fillet", (bracket.width,)),)
    return (
        Method("tig-plates", "TIG, two plates", "141", PLATES, both),
        Method("folded", "folded, no weld", "", FOLDED, (), (bracket.width,)),
        Method("wire", "wire-feed, two plates", wire_process(family), PLATES, both),
        Method("stick", "stick, two plates", "111", PLATES, both),
        Method("brazing", "torch brazing, plates", "912", PLATES, once),
        Method("soldering", "soldering, plates", "942", PLATES, once),
    )


def _frame(frame: Frame, family: str) -> tuple[Method, ...]:
    size = frame.section
    slant = size * math.sqrt(2.0)
    # A mitre cuts the square section slantwise: two faces keep their width, two become slanted.
    round_mitre = 2 * size + 2 * slant
    mitred = (MethodSeams("mitred corner, all round", "butt", "groove", (round_mitre,) * 4),)
    # Folded over one face, which stays whole; the fourth corner closes the frame.
    notched = (
        MethodSeams("folded corner, three faces", "butt", "groove", (size + 2 * slant,) * 3),
        MethodSeams("closing corner, all round", "butt", "groove", (round_mitre,)),
    )
    butted = (MethodSeams("butted corner, all round", "tee", "fillet", (4 * size,) * 4),)
    return (
        Method("tig-mitred", "TIG, mitred", "141", MITRED, mitred),
        Method("tig-notched", "TIG, notched and folded", "141", NOTCHED, notched, (size,) * 3),
        Method("wire", "wire-feed, mitred", wire_process(family), MITRED, mitred),
        Method("stick", "stick, mitred", "111", MITRED, mitred),
        Method("brazing", "torch brazing, butted", "912", PLATES, butted),
        Method("soldering", "soldering, butted", "942", PLATES, butted),
    )


def part_words(job: Job, size: Callable[[float], str]) -> str:
    """The part in words. size: words for a length in mm."""
    if job.part is not None:
        box = job.part
        lid = "open on top" if box.open_top else "closed"
        return f"box {size(box.length)} x {size(box.width)} x {size(box.height)} inside, {lid}"
    if isinstance(job.shape, Bracket):
        legs = f"{size(job.shape.leg)} x {size(job.shape.other_leg)}"
        return f"bracket {legs}, {size(job.shape.width)} wide"
    if isinstance(job.shape, Frame):
        frame = job.shape
        return f"frame {size(frame.length)} x {size(frame.width)} of {size(frame.section)} square section"
    return ""
