"""What a seam carries, and what is left beside it: the public face of the strength figures.

Figures of the standards inside their validity, never a verdict: what hangs on a seam belongs to whoever answers for it.
"""

from __future__ import annotations

from dataclasses import replace

from advisor.answer import steps
from advisor.answer.settings import settled
from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.job.facts import Workpiece, joint_facts, workpieces
from advisor.job.job import Job
from advisor.job.material import find_material
from advisor.physics.steel_us import aisc_least_leg, most_edge_leg
from advisor.physics.tables import NotCoveredError
from advisor.rulebook.choices import rank
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.setup.alternatives import offered
from advisor.setup.answer import status_of
from advisor.strength.load import Joined, Load, apply_load
from advisor.strength.overlap import ONE_END, overlap_of
from advisor.strength.parts import (
    FILLET,
    FULL,
    PARTIAL,
    Loaded,
    SeamStrength,
    StrengthAnswer,
    StressedSeam,
    Use,
    WeakPlace,
)
from advisor.strength.softened import Beside, strength_beside

__all__ = [
    "Beside",
    "Load",
    "Loaded",
    "SeamStrength",
    "StrengthAnswer",
    "StressedSeam",
    "Use",
    "WeakPlace",
    "seam_strength",
    "strength_answer",
    "strength_beside",
]

ONE_SIDE = (
    "a fillet on one side only must not be bent about its root: the figure across holds where the parts cannot tilt "
    "(EN 1993-1-8 cl. 4.12, recalled)"
)
ARC = ("141", "131", "135", "111")
PRESSURE_EQUIPMENT = 50e3  # Pa over the air outside, where Directive 2014/68/EU begins (0.5 bar; memory)


def strength_answer(rulebook: Rulebook, job: Job, seam: StressedSeam, load: Load | None = None) -> StrengthAnswer:
    """What the job's seam carries, and what a load uses of it. Raises PrestrikeError for bad input only."""
    load = load or Load()
    assumed: list[str] = list(job.assumed)
    if load.pressure > PRESSURE_EQUIPMENT and "pressure" not in job.service:
        job = job._replace(service=(*job.service, "pressure"))
        assumed.append("more than 0.5 bar makes it pressure equipment, so service: pressure was added")
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    facts: dict[str, Fact] = {**joint_facts(job, materials), "task": "strength"}
    refused = offered(rulebook, job, steps.refusals(rulebook, facts), status_of)
    missing: list[str] = []
    found: SeamStrength | None = None
    loaded: Loaded | None = None
    beside: list[Beside] = []
    if not refused:
        pieces = workpieces(job, materials)
        beside = _beside(job, pieces, missing)
        found, loaded = _figures(rulebook, job, pieces, facts, (seam, load), (assumed, missing))
    status = "refused" if refused else "advised" if found else "no-rule"
    return StrengthAnswer(
        status=status,
        job=job,
        materials=tuple(material.label for material in materials),
        practice_only=bool(job.restricted),
        seam=found,
        beside=tuple(beside),
        loaded=loaded,
        cautions=steps.cautions(rulebook, facts),
        codes=steps.codes(rulebook, facts),
        refusals=refused,
        missing=tuple(dict.fromkeys(missing)),
        assumed=tuple(assumed),
        content_hash=rulebook.content_hash,
    )


def _figures(
    rulebook: Rulebook,
    job: Job,
    pieces: tuple[Workpiece, Workpiece],
    facts: dict[str, Fact],
    asked: tuple[StressedSeam, Load],
    said: tuple[list[str], list[str]],
) -> tuple[SeamStrength | None, Loaded | None]:
    seam, load = asked
    assumed, missing = said
    try:
        seam, kind = _sized(rulebook, job, pieces, facts, seam, assumed)
        filler = job.filler or _first_filler(rulebook, facts, assumed)
        found = seam_strength(job, pieces, seam, kind, filler)
        warnings, overlap = _size_warnings(job, pieces, found), overlap_of(rulebook, job, facts, seam)
        found = replace(found, warnings=warnings, overlap=overlap)
        if kind == FILLET and seam.count == 1:
            found = replace(found, notes=(*found.notes, ONE_END if job.joint == "lap" else ONE_SIDE))
    except PrestrikeError as error:
        if _bad_input(error):
            raise
        missing.append(_words(error))
        return None, None
    if not load.given:
        return found, None
    try:
        return found, apply_load(load, found, Joined(pieces, _forms(job), job.joint, job.process, seam))
    except PrestrikeError as error:
        if _bad_input(error):
            raise
        missing.append(_words(error))
        return found, None


def seam_strength(
    job: Job, pieces: tuple[Workpiece, Workpiece], seam: StressedSeam, kind: str, filler: str
) -> SeamStrength:
    """What a seam of this size carries. kind: fillet, full- or partial-penetration butt (`strength_parts`).

    Raises NotCoveredError (no standard covers it) or PhysicsRangeError (outside a formula's range).
    """
    if job.process not in ARC:
        text = f"no rule for the strength of a seam made by process {job.process}"
        raise NotCoveredError(text, "process", "cut and pull a coupon; known here: 141, 131, 135, 111")
    families = {piece.material.family for piece in pieces}
    if families == {"aluminium"}:
        from advisor.strength.aluminium import aluminium_seam

        return aluminium_seam(pieces, _forms(job), job.joint, seam, kind, (job.process, filler))
    if "aluminium" in families:
        raise NotCoveredError("no rule for a seam between aluminium and steel", "metal", "bolt or bond them")
    from advisor.strength.steel import steel_seam

    return steel_seam(pieces, job.joint, seam, kind, filler)


def _size_warnings(job: Job, pieces: tuple[Workpiece, Workpiece], found: SeamStrength) -> tuple[str, ...]:
    """Fillet sizes that the standards would not have."""
    if found.kind != FILLET or not found.leg:
        return ()
    warnings = []
    thin = min(piece.thickness for piece in pieces)
    most = most_edge_leg(thin * 1e-3) * 1e3
    if job.joint == "lap" and found.leg > most * 1.01:
        warnings.append(
            f"leg {found.leg:.2g} mm is over the greatest along a lapped edge of {thin:g} mm, {most:g} mm: the edge "
            "melts away and the throat is not there (AISC 360-16 J2.2b, AWS D1.1, recalled)"
        )
    if found.standard.startswith("AISC"):
        least = aisc_least_leg(thin * 1e-3) * 1e3
        if found.leg < least * 0.99:
            warnings.append(f"leg {found.leg:.2g} mm is under the least, {least:g} mm (AISC 360-16 J2.4, recalled)")
    return tuple(warnings)


def _forms(job: Job) -> tuple[str, str]:
    return job.members[0].form, job.members[-1].form


def _sized(
    rulebook: Rulebook,
    job: Job,
    pieces: tuple[Workpiece, Workpiece],
    facts: dict[str, Fact],
    seam: StressedSeam,
    assumed: list[str],
) -> tuple[StressedSeam, str]:
    """The seam with its size, and its kind; what was not given is settled from the rules and said."""
    thin = min(piece.thickness for piece in pieces)
    if job.length and not seam.length:
        seam = replace(seam, length=job.length.value)
    if job.weld == "fillet":
        return _sized_fillet(rulebook, job, facts, seam, assumed), FILLET
    if seam.leg or seam.throat:
        raise _bad("a leg or a throat is of a fillet, and this seam is a groove weld", "give --penetration", "leg")
    if not seam.penetration:
        assumed.append(f"penetration taken as the whole {thin:g} mm: true only where the root shows on every coupon")
        return replace(seam, penetration=thin), FULL
    if seam.penetration > thin * 1.001:
        text = f"penetration {seam.penetration:g} mm is more than the thinner part, {thin:g} mm"
        raise _bad(text, "give the depth reached, at most the thinner part", "penetration")
    if seam.penetration * seam.count > thin * 1.001:
        raise _bad("two seams of that depth are more than the thinner part", "give each one's depth", "penetration")
    full = seam.penetration * seam.count >= thin * 0.999
    return seam, FULL if full else PARTIAL


def _sized_fillet(
    rulebook: Rulebook, job: Job, facts: dict[str, Fact], seam: StressedSeam, assumed: list[str]
) -> StressedSeam:
    root2 = 2.0**0.5
    leg = seam.leg or (job.leg.value if job.leg else 0.0)
    if leg and seam.throat and abs(leg / root2 - seam.throat) > 0.02 * seam.throat:
        text = f"leg {leg:g} mm makes a throat of {leg / root2:.2f} mm, not {seam.throat:g} mm"
        raise _bad(text, "give one of the two; a fillet of unlike legs has no rule here", "throat")
    if not leg and not seam.throat:
        setting = settled(rulebook, "fillet_leg", facts)
        if setting is None:
            raise _bad("no size of the fillet", "add --leg '4 mm' or --throat '3 mm'", "leg")
        leg = setting.start
        assumed.append(f"fillet leg taken as {leg:.2g} mm, as the preparation advises; give --leg or --throat")
    throat = seam.throat or leg / root2
    if seam.penetration:
        if facts["base"] == "aluminium":
            assumed.append("penetration past the corner is not counted for a fillet in aluminium")
        else:
            throat += seam.penetration
            assumed.append(
                f"throat {throat:.2f} mm with the penetration past the corner, which counts only where tests "
                "show it every time (EN 1993-1-8 cl. 4.5.2)"
            )
    return replace(seam, leg=leg or throat * root2, throat=throat)


def _first_filler(rulebook: Rulebook, facts: dict[str, Fact], assumed: list[str]) -> str:
    option = next((item for item in rank(rulebook.match("filler", facts)) if item.rank == 1), None)
    if option is None:
        return ""
    # The order is that of the rules: cracking and corrosion first, strength is told here.
    assumed.append(f"filler taken as {option.name}, the first advised for this pair")
    return option.name


def _beside(job: Job, pieces: tuple[Workpiece, Workpiece], missing: list[str]) -> list[Beside]:
    found: dict[tuple[str, float], Beside] = {}
    for piece, form in zip(pieces, _forms(job), strict=True):
        try:
            found[piece.material.label, piece.thickness] = strength_beside(
                piece.material, piece.thickness, job.process, form
            )
        except PrestrikeError as error:
            missing.append(_words(error))
    return list(found.values())


def _words(error: PrestrikeError) -> str:
    first = error.diagnostics[0]
    return f"{first.message}; {first.help}" if first.help else first.message


def _bad_input(error: PrestrikeError) -> bool:
    return error.exit_code is Exit.BAD_INPUT and error.diagnostics[0].code != "out-of-range"


def _bad(message: str, help: str, subject: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("seam", message, subject=subject, help=help))
