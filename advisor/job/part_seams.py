"""The joints a job is made of, with the lengths of their seams: its own seam, and the corners of its box."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from advisor.job.job import Box, Job


class SeamGroup(NamedTuple):
    """Seams of one joint: what they are called, the job of that joint, lengths [mm]."""

    name: str
    job: Job
    lengths: tuple[float, ...]


def box_seams(box: Box) -> tuple[float, ...]:
    """Lengths of the seams of a box [mm], inside measure: floor, uprights, and the lid's where closed."""
    floor = (box.length, box.length, box.width, box.width)
    return (*floor, *([box.height] * 4), *(() if box.open_top else floor))


def seam_groups(job: Job, seams: Sequence[float] = ()) -> tuple[SeamGroup, ...]:
    """The joints of a job. seams [mm]: given by hand, they are all there is and of the job's own joint.

    The corners of a box are the job's own joint where that is a corner; else half-open corners in the first member's
    sheet, as `heat` follows them.
    """
    if seams:
        return (SeamGroup("", job, tuple(seams)),)
    own = (SeamGroup("", job, (job.length.value,)),) if job.length else ()
    if job.part is None:
        return own
    if job.joint.startswith("corner"):
        return (SeamGroup("corners of the box", job, box_seams(job.part)),)
    corners = job._replace(members=job.members[:1], joint="corner-half-open", weld="groove", position="PA", leg=None)
    return (*own, SeamGroup("corners of the box", corners, box_seams(job.part)))
