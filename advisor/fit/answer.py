"""A ring pressed or shrunk into a welded body: interference, pressure, stresses, grip, ways in, and the seam."""

from __future__ import annotations

from dataclasses import replace

from advisor.answer import steps
from advisor.answer.answer import Refusal
from advisor.answer.settings import settled
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.fit.metals import RING_METALS, body_metal, ring_metal, with_own
from advisor.fit.parts import AssemblyMethod, FitAnswer, FitJob, FitMetal, FitState, SeamUnderHoop
from advisor.fit.seam import seam_under_hoop
from advisor.job.facts import Workpiece, joint_facts
from advisor.job.job import Job
from advisor.job.material import Material, find_material
from advisor.physics import shrink_fit
from advisor.rulebook.choices import rank
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.setup.alternatives import offered
from advisor.setup.answer import status_of

__all__ = [
    "RING_METALS",
    "AssemblyMethod",
    "FitAnswer",
    "FitJob",
    "FitMetal",
    "FitState",
    "SeamUnderHoop",
    "fit_answer",
    "held_at",
]

PA = 1e6
OVEN_MARGIN = 20.0  # K below a limit: what a kitchen oven overshoots (this project's judgement)
ELASTIC = 0.02  # of the diameter; beyond, no metal stays elastic
Own = tuple[float, float, float]


def fit_answer(
    rulebook: Rulebook, job: Job, fit: FitJob, ring: str, own: tuple[Own, Own] = ((0, 0, 0), (0, 0, 0))
) -> FitAnswer:
    """Everything about a fit. job: the body as one member with its wall as thickness; ring: the ring's metal.

    own: the user's E [MPa], Poisson's ratio, expansion [1e-6/K] for body and ring, 0 where not given.
    Raises PrestrikeError for bad input.
    """
    check(fit)
    material = find_material(job.members[0].metal, rulebook.index)
    piece = Workpiece(material, fit.wall)
    welded = job.process if fit.seam_penetration is not None else ""
    body = with_own(body_metal(material, fit.wall, job.members[0].form, welded), *own[0])
    inside = with_own(ring_metal(ring, rulebook), *own[1])
    weld_facts = joint_facts(job, (material,))
    facts: dict[str, Fact] = {**weld_facts, "process": None, "task": "fit"}
    refused: tuple[Refusal, ...] = ()
    if fit.seam_penetration is not None:
        refused = offered(rulebook, job, steps.refusals(rulebook, weld_facts), status_of)
    loss = shrink_fit.smoothing_loss(shrink_fit.SMOOTHING.high, fit.roughness * 1e-3) * 1e3
    held = _all_held(fit, body, inside, loss)
    worst = max(held, key=lambda item: item.pressure)
    seam = None if refused else seam_under_hoop(fit, body, worst, job, piece, _filler(rulebook, job, weld_facts))
    limit = _heat_limit(rulebook, facts, material)
    press = _press_force(fit, next(item for item in held if item.name == MOST))
    answer = FitAnswer(
        status="refused" if refused else "advised",
        job=fit,
        body=body,
        ring=inside,
        restricted=job.restricted,
        smoothing=loss,
        held=held,
        seam=seam,
        loosens_c=_loosens(fit, body, inside, loss),
        heat_limit=limit,
        ways=_ways(fit, body, inside, limit[0] if limit else None, press),
        press_force=press,
        flags=(),
        notes=_notes(fit, inside, limit),
        cautions=steps.cautions(rulebook, facts),
        codes=steps.codes(rulebook, facts),
        refusals=refused,
        trail=_trail(fit, body, inside, loss, worst),
        inch_first=job.inch_first,
        content_hash=rulebook.content_hash,
    )
    return replace(answer, flags=_flags(answer))


LEAST, MOST = "least interference", "greatest interference"


def check(fit: FitJob) -> None:
    """Sizes that cannot be. Raises PrestrikeError with the repair."""
    if fit.ring_inner >= fit.bore:
        text = f"the ring's inside, {fit.ring_inner:g} mm, is not smaller than its outside"
        raise _bad(text, "--ring-inner", "give a smaller one, or 'solid'")
    if fit.body_outer <= fit.bore:
        text = f"the body's outside, {fit.body_outer:g} mm, is not larger than its bore, {fit.bore:g} mm"
        raise _bad(text, "--body-outer", "give the outside diameter, or --wall")
    if fit.interference[1] <= 0.0:
        text = f"at most {fit.interference[1]:.4g} mm interference: the ring falls in"
        raise _bad(text, "--interference", "a fit needs interference, such as '0.04 mm' or --fit H7/p6")
    if fit.interference[1] > ELASTIC * fit.bore:
        text = f"{fit.interference[1]:g} mm on {fit.bore:g} mm is more than any metal stretches and springs back"
        raise _bad(text, "--interference", "interference is some thousandths of the diameter at most")
    if fit.seam_penetration is not None and fit.seam_penetration > fit.wall * 1.001:
        text = f"the seam's penetration, {fit.seam_penetration:g} mm, is more than the wall, {fit.wall:g} mm"
        raise _bad(text, "--seam-penetration", "give the depth reached, at most the wall")


def _bad(message: str, subject: str, help: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("fit", message, subject=subject, help=help))


def held_at(fit: FitJob, body: FitMetal, ring: FitMetal, name: str, interference: float, celsius: float) -> FitState:
    """The fit with an interference [mm, on the diameter, at room temperature] at a temperature [degC]."""
    radius = 0.5e-3 * fit.bore
    hub = shrink_fit.Ring(radius, 0.5e-3 * fit.body_outer, body.modulus * PA, body.poisson)
    shaft = shrink_fit.Ring(0.5e-3 * fit.ring_inner, radius, ring.modulus * PA, ring.poisson)
    now = interference
    if celsius != fit.room_c:
        alphas = body.expansion * 1e-6, ring.expansion * 1e-6
        rise = celsius - fit.room_c
        now = shrink_fit.interference_at(interference * 1e-3, 2 * radius, *alphas, rise) * 1e3
    p = shrink_fit.pressure(max(now, 0.0) * 0.5e-3, hub, shaft)
    stress = shrink_fit.hoop_stress(p, hub, shaft)
    grip = None
    if fit.width is not None:
        grip = shrink_fit.pull_out_force(p, radius, fit.width * 1e-3, fit.friction[0])
    return FitState(
        name,
        celsius,
        now,
        p / PA,
        stress.hub_bore / PA,
        stress.hub_outside / PA,
        stress.shaft_outside / PA,
        stress.shaft_bore / PA,
        shrink_fit.equivalent_at_bore(p, hub) / PA,
        shrink_fit.hub_growth(p, hub) * 1e3,
        shrink_fit.ring_closing(p, shaft) * 1e3,
        grip,
        None if grip is None else grip * radius,
    )


def _all_held(fit: FitJob, body: FitMetal, ring: FitMetal, loss: float) -> tuple[FitState, ...]:
    """Least interference with what smoothing takes, greatest without: the worse for grip, the worse for stress."""
    low, high = fit.interference[0] - loss, fit.interference[1]
    found = [held_at(fit, body, ring, LEAST, low, fit.room_c), held_at(fit, body, ring, MOST, high, fit.room_c)]
    for celsius in fit.service_c:
        found.append(held_at(fit, body, ring, f"{LEAST}, in use", low, celsius))
        found.append(held_at(fit, body, ring, f"{MOST}, in use", high, celsius))
    return tuple(found)


def _loosens(fit: FitJob, body: FitMetal, ring: FitMetal, loss: float) -> float | None:
    """Temperature of both at which the least interference is gone [degC]; None where it never is."""
    faster = (body.expansion - ring.expansion) * 1e-6 * fit.bore
    low = fit.interference[0] - loss
    if abs(faster) < 1e-12 or low <= 0.0:
        return None
    celsius = fit.room_c + low / faster
    return celsius if -273.0 < celsius < 600.0 else None


def _heat_limit(rulebook: Rulebook, facts: dict[str, Fact], material: Material) -> tuple[float, str] | None:
    own: dict[str, Fact] = {**facts, "base": material.family, "alloy": material.id}
    setting = settled(rulebook, "fit_heat", own)
    if setting is None:
        return None
    strictest = min(setting.said, key=lambda voice: voice.high)
    return setting.start, f"{strictest.source} [{strictest.rule_id}]"


def _press_force(fit: FitJob, most: FitState) -> float | None:
    """Force to press it home cold [N]: the greatest interference with the higher friction."""
    if fit.width is None:
        return None
    return shrink_fit.pull_out_force(most.pressure * PA, 0.5e-3 * fit.bore, fit.width * 1e-3, fit.friction[1])


def _ways(
    fit: FitJob, body: FitMetal, ring: FitMetal, limit: float | None, press: float | None
) -> tuple[AssemblyMethod, ...]:
    usable = None if limit is None else limit - OVEN_MARGIN
    baths: list[tuple[str, float, float]] = [("heat the body", fit.room_c, 0.0)]
    freezer = shrink_fit.COLD_BATHS["freezer"]
    baths.append(("heat the body, ring from the freezer", freezer, ring.expansion * 1e-6 * (fit.room_c - freezer)))
    if ring.cold is not None:
        for index, bath in enumerate(("dry ice", "liquid nitrogen")):
            baths.append((f"ring from {bath}", shrink_fit.COLD_BATHS[bath], ring.cold[index]))
    ways = [_warm_way(fit, body, usable, *bath) for bath in baths]
    text = "press it cold"
    if press is not None:
        text += f": up to {press / 1e3:.3g} kN at friction {fit.friction[1]:g}, oiled less; scrapes the bore"
    return (*ways, AssemblyMethod("press", True, fit.room_c, fit.room_c, 0.0, text))


def _warm_way(
    fit: FitJob, body: FitMetal, usable: float | None, name: str, ring_c: float, shrinkage: float
) -> AssemblyMethod:
    """How hot the body must be for the greatest interference and the clearance, with the ring at a temperature."""
    needed = fit.interference[1] + fit.clearance - shrinkage * fit.bore
    rise = max(0.0, needed / (body.expansion * 1e-6 * fit.bore))
    body_c = fit.room_c + rise
    possible = usable is None or body_c <= usable or rise == 0.0
    clearance = rise * body.expansion * 1e-6 * fit.bore + shrinkage * fit.bore - fit.interference[1]
    warm = f"body at {body_c:.0f} °C" if rise else "body at room temperature"
    cold = f", ring at {ring_c:.0f} °C" if ring_c < fit.room_c else ""
    end = f"leaves {clearance:.3f} mm on the diameter"
    if not possible and usable is not None:
        most = fit.interference[1] - shrinkage * fit.bore
        at_limit = (usable - fit.room_c) * body.expansion * 1e-6 * fit.bore - most
        end = f"over the {usable:.0f} °C to be used, where {max(at_limit, 0):.3f} mm would be left"
    return AssemblyMethod(name, possible, body_c, ring_c, clearance, f"{name}: {warm}{cold}, {end}")


def _filler(rulebook: Rulebook, job: Job, facts: dict[str, Fact]) -> str:
    if job.filler:
        return job.filler
    option = next((item for item in rank(rulebook.match("filler", facts)) if item.rank == 1), None)
    return option.name if option else ""


def _flags(answer: FitAnswer) -> tuple[str, ...]:
    flags = []
    seam = answer.seam
    if seam is not None and seam.flagged:
        flags.append(f"SEAM {seam.verdict.upper()}: {seam.text}")
    for item in answer.held:
        flags += _member_flags(answer, item)
        if item.interference <= 0.0:
            flags.append(f"LOOSE at {item.celsius:g} °C with the {item.name.removesuffix(', in use')}: it may turn")
    if not any(way.possible for way in answer.ways if way.name != "press"):
        flags.append(
            "NO WARM WAY: no heat or cold here opens it far enough below the limit; less interference, or press"
        )
    return tuple(dict.fromkeys(flags))


def _member_flags(answer: FitAnswer, item: FitState) -> list[str]:
    flags = []
    for metal, stress, what in (
        (answer.body, item.von_mises, "BODY YIELDS at its bore"),
        (answer.ring, max(abs(item.ring_outside), abs(item.ring_bore)), "RING YIELDS"),
    ):
        if metal is not None and metal.proof is not None and stress > metal.proof:
            flags.append(f"{what}: {stress:.0f} MPa over {metal.proof:.0f} MPa, so the figures no longer hold")
    body = answer.body
    if body is not None and body.proof_beside is not None and item.von_mises > body.proof_beside:
        text = f"BODY YIELDS BESIDE ITS SEAM: {item.von_mises:.0f} MPa at the bore over {body.proof_beside:.0f} MPa"
        flags.append(f"{text}, so it grips less there than the figures say")
    return flags


def _notes(fit: FitJob, ring: FitMetal, limit: tuple[float, str] | None) -> tuple[str, ...]:
    notes = [fit.how]
    if fit.seam_penetration is None:
        notes.append("no seam across the hoop tension named; if one runs along the body's wall give --seam-penetration")
    if limit is not None:
        notes.append(f"body kept {OVEN_MARGIN:.0f} K under {limit[0]:.0f} °C ({limit[1]}): ovens overshoot")
    if fit.width is None:
        notes.append("no grip or pressing force without --width")
    if ring.label == "bearing steel":
        notes.append("a bearing loses inside play as its ring closes: see how much its bore closes, and its play class")
    return tuple(notes)


def _trail(fit: FitJob, body: FitMetal, ring: FitMetal, loss: float, worst: FitState) -> tuple[str, ...]:
    lines = [
        f"p = delta/(R [((ro2 + R2)/(ro2 - R2) + nu_o)/Eo + ((R2 + ri2)/(R2 - ri2) - nu_i)/Ei]) with delta "
        f"{worst.interference / 2:.4f}, R {fit.bore / 2:g}, ro {fit.body_outer / 2:g}, ri {fit.ring_inner / 2:g} mm, "
        f"Eo {body.modulus / 1e3:g}, Ei {ring.modulus / 1e3:g} GPa, nu {body.poisson:g} and {ring.poisson:g} "
        f"= {worst.pressure:.2f} MPa at the worst [Lame; Shigley, via two reference pages, printed source]",
        f"smoothing takes {loss * 1e3:.1f} um off the least interference: 0.8 x (Rz + Rz) = 0.8 x "
        f"{fit.roughness * 1e3:.1f} um [DIN 7190:2001; the 2017 edition halves it]; none is taken off for stress",
        f"clearance for assembly {fit.clearance:.3f} mm [D/1000 after DIN 7190, recalled, unless given]",
    ]
    for name, metal in (("body", body), ("ring", ring)):
        said = "; ".join(f"{what}: {source.document}, {source.evidence}" for what, source in metal.sources)
        lines.append(
            f"{name} {metal.label}: E {metal.modulus / 1e3:g} GPa, nu {metal.poisson:g}, {metal.expansion:g}e-6/K"
            + (f", proof {metal.proof:.0f} MPa" if metal.proof else "")
            + f" [{said}]"
        )
    return tuple(lines)
