"""What the hoop tension of a fit does to a seam that crosses it with the depth it really has."""

from __future__ import annotations

from advisor.diagnostics import PrestrikeError
from advisor.fit.parts import HOLDS, MAY_OPEN, OPENS, UNKNOWN, FitJob, FitMetal, FitState, SeamUnderHoop
from advisor.job.facts import Workpiece
from advisor.job.job import Job
from advisor.physics import shrink_fit
from advisor.strength.answer import SeamStrength, StressedSeam, seam_strength
from advisor.strength.parts import ACROSS, FULL, PARTIAL

PA = 1e6


def seam_under_hoop(
    fit: FitJob, body: FitMetal, worst: FitState, job: Job, piece: Workpiece, filler: str
) -> SeamUnderHoop | None:
    """The seam's stress and what it carries; None where no seam was named.

    Even: tension over the depth. Bent: with the bending its offset from the middle of the wall adds, if the wall is
    free to bend there; a seam through the whole wall has the thick ring's own peak at the bore instead.
    """
    if fit.seam_penetration is None:
        return None
    wall, depth = fit.wall, min(fit.seam_penetration, fit.wall)
    full = depth >= wall * 0.999
    tension = shrink_fit.ring_tension(worst.pressure * PA, 0.5e-3 * fit.bore) / 1e3
    stress = shrink_fit.seam_stress(tension * 1e3, wall * 1e-3, depth * 1e-3)
    even, bent = stress.even / PA, worst.body_bore if full else stress.bent / PA
    trail = [
        f"tension round the body N = p R = {worst.pressure:.2f} x {fit.bore / 2:g} = {tension:.1f} N per mm of width, "
        f"at {worst.celsius:g} °C and the greatest interference",
        f"in the seam N/s = {tension:.1f}/{depth:.2f} = {even:.1f} MPa",
        f"at the bore p (ro2 + R2)/(ro2 - R2) = {bent:.1f} MPa (Lame)"
        if full
        else f"free to bend: N/s (1 + 3 (t - s)/s) with wall t {wall:.2f} mm = {bent:.1f} MPa at the root",
    ]
    carries, said = _carries(job, piece, depth, full, filler)
    trail.append(said)
    verdict = _verdict(tension, bent / even if even else 1.0, carries, (even, body.proof))
    return SeamUnderHoop(verdict, worst.celsius, tension, even, bent, carries, full, _TEXTS[verdict], tuple(trail))


_TEXTS = {
    OPENS: "the hoop tension alone is more than the seam carries: it opens as the ring goes in",
    MAY_OPEN: "the seam carries the tension only while the ring holds the wall round; bent about its root it opens",
    HOLDS: "the seam carries the tension, straight and bent about its root",
    UNKNOWN: "no rule gives this seam a strength: cut and pull a coupon of the same depth first",
}


def _verdict(tension: float, bending: float, carries: float | None, stress: tuple[float, float | None]) -> str:
    if carries is None:
        even, proof = stress
        return OPENS if proof is not None and even > proof else UNKNOWN
    if tension > carries:
        return OPENS
    return MAY_OPEN if tension * bending > carries else HOLDS


def _carries(job: Job, piece: Workpiece, depth: float, full: bool, filler: str) -> tuple[float | None, str]:
    """Design strength of the seam pulled across, held straight [N/mm], and how it comes about."""
    seam = StressedSeam(penetration=depth, held=True)
    try:
        found: SeamStrength = seam_strength(job, (piece, piece), seam, FULL if full else PARTIAL, filler)
    except PrestrikeError as error:
        first = error.diagnostics[0]
        return None, f"strength of the seam: {first.message}" + (f"; {first.help}" if first.help else "")
    place = found.governing(ACROSS)
    source = f"{place.source.document}, {place.source.evidence}"
    return place.across, f"carries {place.across:.1f} N/mm: {place.name}, {place.formula} [{source}]"
