"""A part as the user says it: a box, a frame, a stand or a bracket with its sizes, and how its corners meet."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from advisor.blanks.pieces import PLACES, STYLES, Corner
from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.job import Job

KINDS = ("box", "frame", "stand", "bracket")
# Who may run through at the corner of a frame, a stand, a bracket; the first by default.
RUNS: dict[str, tuple[str, ...]] = {
    "frame": ("long", "short", "around"),
    "stand": ("long", "short", "around", "posts"),
    "bracket": ("base", "upright"),
}
_STYLES_OF: dict[str, tuple[str, ...]] = {
    "box": STYLES,
    "bracket": STYLES,
    "frame": ("mitre", "closed", "lap"),
    "stand": ("closed", "mitre"),
}
_SAME = {
    "butt-on": "closed",
    "butt": "closed",
    "full-overlap": "closed",
    "inside": "closed",
    "corner-closed": "closed",
    "corner-inside": "closed",
    "corner-half-open": "half-open",
    "half": "half-open",
    "corner-open": "open",
    "edge-to-edge": "open",
    "miter": "mitre",
    "mitred": "mitre",
    "lap-over": "lap",
}
_JOINT_OF = {
    "closed": "corner-closed",
    "half-open": "corner-half-open",
    "open": "corner-open",
    "mitre": "corner-closed",
    "lap": "lap",
}


class PartPlan(NamedTuple):
    """kind; finished sizes [mm]; measure: inside or outside; section [mm]: of bars, or width of a bracket's legs."""

    kind: str
    sizes: tuple[float, ...]
    measure: str
    corners: Mapping[str, Corner]
    open_top: bool = True
    section: float = 0.0

    @property
    def main(self) -> Corner:
        """The corner that the advice is asked for."""
        return self.corners["uprights" if self.kind == "box" else "corner"]


def style_of(joint: str) -> str:
    """The corner style a joint of a job means; half-open where it is no corner, as `heat` takes it."""
    return {"corner-open": "open", "corner-closed": "closed", "corner-inside": "closed"}.get(joint, "half-open")


def joint_of(plan: PartPlan, job: Job) -> Job:
    """The job of the plan's corners: its own where its joint fits them, else the corner joint of their style."""
    style = plan.main.style
    fits = {"closed": ("corner-closed", "corner-inside", "tee"), "lap": ("lap",)}.get(style, ())
    if job.joint in fits or job.joint == _JOINT_OF[style] or plan.kind in ("frame", "stand"):
        return job._replace(members=job.members[:1], part=None)
    return job._replace(
        members=job.members[:1], part=None, joint=_JOINT_OF[style], weld="groove", position="PA", leg=None
    )


def default_joint(kind: str, styles: Sequence[str]) -> str:
    """The joint of a part given by flags alone."""
    said = next((_SAME.get(text, text) for text in styles if "=" not in text), "")
    if kind in ("frame", "stand"):
        return "lap" if said == "lap" else "butt"
    return _JOINT_OF.get(said, "corner-half-open")


def corners_of(kind: str, styles: Sequence[str], through: Sequence[str], style: str) -> dict[str, Corner]:
    """The corners of a part from what was said: `half-open` for all, `floor=closed` for one place.

    styles, through: as given by flags; style: where nothing was said. Raises PrestrikeError for words not known.
    """
    places = PLACES if kind == "box" else {"corner": RUNS[kind]}
    said = dict.fromkeys(places, style)
    for text in styles:
        place, _, word = text.rpartition("=")
        chosen = _style(kind, word.strip())
        for name in _places(place.strip(), places):
            said[name] = chosen
    runs = _runs(kind, places, through)
    return {place: Corner(said[place], runs[place]) for place in places}


def _style(kind: str, word: str) -> str:
    known = _STYLES_OF[kind]
    found = _SAME.get(word.casefold(), word.casefold())
    # On a box of plate, one plate laid over the edge of the other is a closed corner.
    found = "closed" if found == "lap" and found not in known else found
    if found not in known:
        text = f"'{word}' is no corner of a {kind}"
        raise PrestrikeError(Diagnostic("corner", text, subject="corner", help=did_you_mean(word, known)))
    return found


def _places(place: str, places: Mapping[str, tuple[str, ...]]) -> Sequence[str]:
    if not place:
        return tuple(places)
    if place not in places:
        text = f"'{place}' is no place of this part"
        raise PrestrikeError(Diagnostic("corner", text, subject="corner", help=did_you_mean(place, places)))
    return (place,)


def _runs(kind: str, places: Mapping[str, tuple[str, ...]], through: Sequence[str]) -> dict[str, str]:
    """Who runs through at each place; `walls` may be said of floor and lid at once, or of one: `floor=walls`."""
    runs = {place: options[0] for place, options in places.items()}
    for text in through:
        place, _, word = (part.strip() for part in text.rpartition("="))
        fitting = [name for name, options in places.items() if word in options and place in ("", name)]
        if not fitting:
            known = sorted({option for options in places.values() for option in options})
            text = f"'{text}' cannot run through in a {kind}"
            raise PrestrikeError(Diagnostic("through", text, subject="through", help=did_you_mean(word, known)))
        for name in fitting:
            runs[name] = word
    return runs


def split_sizes(text: str, least: int, most: int, what: str) -> list[str]:
    """The sizes of `300 mm, 200 mm, 150 mm` or `300 x 200 x 150 mm`. Raises PrestrikeError for too few or too many."""
    parts = [part.strip() for part in re.split(r",(?!\d)|[x×]", text) if part.strip()]
    if parts and len(parts) > 1:
        unit = re.sub(r"^[0-9./\s\-+]+", "", parts[-1])
        parts = [part if re.search(r"[^0-9./\s\-+]", part) else f"{part} {unit}" for part in parts]
    if not least <= len(parts) <= most:
        wanted = f"{least}" if least == most else f"{least} or {most}"
        text = f"{what} has {wanted} sizes, '{text}' has {len(parts)}"
        raise PrestrikeError(Diagnostic("sizes", text, subject=what, help="write for example '300 mm, 200 mm'"))
    return parts
