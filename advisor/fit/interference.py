"""From what was asked to the interference: measured sizes, limits on the diameter, or an ISO 286 fit."""

from __future__ import annotations

import re
from dataclasses import dataclass

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.physics.iso_fits import BEARING_SOURCE, SOURCE, fit_limits

NEAR = 0.02  # of the bore: farther apart, the two sizes are not of one fit


@dataclass(frozen=True)
class InterferenceRequest:
    """Interference on the diameter [mm] as least and most, or an ISO fit, or the ring's measured outside [mm]."""

    limits: tuple[float, float] | None
    fit: str
    ring_outer: float


def interference_asked(asked: InterferenceRequest, bore: float) -> tuple[tuple[float, float], str]:
    """Least and most interference on the diameter [mm], and where it is from. bore [mm]. Raises PrestrikeError."""
    if asked.limits is not None and asked.fit:
        raise _bad("interference and a fit are given", "--fit", "give one of them")
    if asked.ring_outer and abs(asked.ring_outer - bore) > NEAR * bore:
        text = f"the ring's outside, {asked.ring_outer:g} mm, and the bore, {bore:g} mm, are not of one fit"
        raise _bad(text, "--ring-outer", "check both")
    if asked.limits is not None:
        least, most = asked.limits
        said = f"{least:.4g} to {most:.4g} mm" if least < most else f"{most:.4g} mm"
        return asked.limits, f"interference as given, {said} on the diameter"
    if asked.fit:
        if not re.fullmatch(r"\s*[A-Z]{1,2}\d+\s*/\s*([a-z]{1,2}\d+|bearing)\s*", asked.fit):
            raise _bad(f"'{asked.fit}' is no fit", "--fit", "write bore/ring, such as H7/p6, P7/h6 or N7/bearing")
        found = fit_limits(asked.fit, bore * 1e-3)
        hole, shaft = ([round(value * 1e6, 1) for value in (each.low, each.high)] for each in (found.hole, found.shaft))
        source = BEARING_SOURCE.document if asked.fit.endswith("bearing") else SOURCE.document
        how = (
            f"{asked.fit} on {bore:g} mm: bore {hole[0]:+g} to {hole[1]:+g}, ring {shaft[0]:+g} to {shaft[1]:+g} um "
            f"[{source}, recalled]"
        )
        return (found.least * 1e3, found.most * 1e3), how
    if not asked.ring_outer:
        raise _bad("no interference", "--interference", "give --interference '0.04 mm', --fit H7/p6, or --ring-outer")
    found_mm = asked.ring_outer - bore
    return (found_mm, found_mm), f"ring {asked.ring_outer:g} mm in a bore of {bore:g} mm as measured"


def _bad(message: str, subject: str, help: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("fit", message, subject=subject, help=help))
