"""Figures of a way with their trails: each from the function behind a single command, and how to see it again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from advisor.answer.answer import Advice, Setting
from advisor.answer.span import Span, total
from advisor.compare.methods import Method
from advisor.consumables.prices import Price
from advisor.consumables.seam import Consumables
from advisor.diagnostics import PrestrikeError
from advisor.job.job import Job
from advisor.job.material import Material
from advisor.rulebook.library import Rulebook
from advisor.strength.softened import strength_beside

MM, MM2 = 1e-3, 1e-6
_OF_THE_METAL = "of the metal; the joint carries by its area"


class MethodFigure(NamedTuple):
    """A figure of a way: low to high and the likely value, house unit, and its trail, first word last step."""

    name: str
    label: str
    low: float
    start: float
    high: float
    unit: str
    dimension: str
    trail: tuple[str, ...]
    note: str = ""


def command(name: str, job: Job, lengths: Sequence[float] = ()) -> str:
    """The single command that gives the same figure."""
    member = job.members[0]
    words = [f'prestrike {name} --metal "{member.metal}" --thickness "{member.thickness.text.strip()}"']
    words.append(f"--joint {job.joint} --weld {job.weld} --process {job.process}")
    words += [f"--{flag} {value}" for flag, value in (("form", member.form), ("place", _unless(job.place, "indoors")),
                                                      ("filler", job.filler), ("gas", job.gas)) if value]  # fmt: skip
    if member.surface and member.surface != ("mill-finish",):
        words.append(f"--surface {','.join(member.surface)}")
    words += [f"--service {name}" for name in job.service if name != "ordinary"]
    words += ["--closed-volume"] if job.closed_volume else []
    words += [f"--access {job.access}"] if job.access else []
    words += [f"--backing {job.backing}"] if job.backing else []
    counted = {length: list(lengths).count(length) for length in lengths}
    words += [f'--seam "{count} x {length:.6g} mm"' for length, count in counted.items()]
    return " ".join(words)


def _unless(value: str, usual: str) -> str:
    return "" if value == usual else value


def _span(
    name: str, label: str, span: Span, unit: str, dimension: str, trail: Sequence[str], note: str = ""
) -> MethodFigure:
    return MethodFigure(name, label, span.low, span.start, span.high, unit, dimension, tuple(trail), note)


def bend_figure(setting: Setting) -> MethodFigure:
    """The least inside radius of the bends [mm]."""
    said, unit = setting.said, setting.unit
    trail = [f"{item.source}: {item.low:.3g} to {item.high:.3g} {unit} ({item.rule_id})" for item in said]
    span = Span(setting.low, setting.start, setting.high)
    return _span("bend", "inside bend radius, least", span, setting.unit, "length", trail)


def arc_figures(
    rulebook: Rulebook,
    material: Material,
    way: Method,
    used: Sequence[Consumables],
    filler_price: Price | None,
    gas_price: Price | None,
    missing: list[str],
) -> dict[str, MethodFigure]:
    """Arc minutes, filler, gas, heat, shrinkage, strength and cost of a way welded with an arc."""
    for item in used:
        missing.extend(item.missing)
    commands = [command("consumables", item.advice.job, item.lengths) for item in used]
    found: dict[str, MethodFigure] = {}
    arcs, masses = [item.arc for item in used], [item.filler.mass if item.filler else None for item in used]
    gases = [item.gas.litres if item.gas else None for item in used]
    for name, label, spans, unit, dimension in (
        ("arc", "arc on, with tacks", arcs, "s", "time"),
        ("filler", "filler metal", masses, "g", "mass"),
        ("gas", "shielding gas", gases, "L", "volume"),
    ):
        known = [span for span in spans if span is not None]
        if len(known) == len(used):
            found[name] = _span(name, label, total(known), unit, dimension, commands)
    found |= _heat(used, missing)
    found |= _shrinkage(material, used, found.get("heat"), missing)
    found |= kept(material, used[0].advice, missing)
    found |= _cost(found, filler_price, gas_price)
    return found


def _heat(used: Sequence[Consumables], missing: list[str]) -> dict[str, MethodFigure]:
    """Heat input of the hottest seam [kJ/mm], a run, and of all runs together [kJ]."""
    from advisor.physics.heat_input import code_factor

    each: list[Span] = []
    trail: list[str] = []
    whole = Span.of(0.0)
    sums: list[str] = []
    for item in used:
        job = item.advice.job
        named = [item.advice.settings.get(topic) for topic in ("arc_voltage", "current", "travel_speed")]
        if any(setting is None for setting in named):
            missing.append("heat: no rule gives current, voltage or travel here")
            return {}
        volts, amps, travel = (Span(s.low, s.start, s.high) for s in named if s is not None)
        factor = code_factor(job.process)
        span = volts.by(amps).times(factor.value * 60 / 1000).over(travel)
        each.append(span)
        runs = item.passes or Span.of(1.0)
        whole = whole.plus(span.by(runs).times(item.length))
        sums.append(f"{item.name}: {span.start:.3g} kJ/mm x {runs.start:g} runs x {item.length:.0f} mm")
        trail.append(
            f"{item.name}: {factor.value:g} x {volts.start:.3g} V x {amps.start:.3g} A / {travel.start / 60:.3g} mm/s "
            f"= {span.start:.3g} kJ/mm (k: {factor.source.document}); {command('heat', job)}"
        )
    most = max(each, key=lambda span: span.start)
    return {
        "heat": _span("heat", "heat into the seam, a run", most, "kJ/mm", "heat_input", trail),
        "heat_all": _span("heat_all", "heat into the part", whole, "kJ", "", sums),
    }


def _shrinkage(
    material: Material, used: Sequence[Consumables], heat: MethodFigure | None, missing: list[str]
) -> dict[str, MethodFigure]:
    """Across a seam [mm]: rules of thumb for carbon steel; for other metals only the bound of free contraction."""
    thickness = used[0].advice.job.members[0].thickness.value
    try:
        if material.family == "carbon-steel":
            return _steel_shrinkage(used[0], thickness)
        return _free_shrinkage(material, thickness, heat)
    except PrestrikeError as error:
        missing.append(f"shrinkage: {error.diagnostics[0].message}")
        return {}


def _steel_shrinkage(item: Consumables, thickness: float) -> dict[str, MethodFigure]:
    from advisor.physics.shrinkage import transverse_butt, transverse_tee

    if item.section is None:
        return {}
    label = "shrinkage across a seam"
    if item.advice.job.weld == "fillet":
        leg = item.advice.preparation.get("fillet_leg")
        if leg is None:
            return {}
        legs = (min(size, thickness) for size in (leg.low, leg.start, leg.high))
        sizes = Span(*(transverse_tee(size * MM, thickness * MM) / MM for size in legs))
        trail = [
            f"1.02 mm x leg/t with two fillets: leg {leg.start:.3g} mm, t {thickness:g} mm "
            "(AWS Welding Handbook vol. 1, memory)"
        ]
        return {"shrinkage": _span("shrinkage", label, sizes, "mm", "length", trail)}
    gap = item.advice.preparation.get("root_gap")
    area = item.section.area
    spread = transverse_butt(area.start * MM2, thickness * MM, (gap.start if gap else 0.0) * MM)
    low, high = spread.low / MM, spread.high / MM
    trail = [
        f"0.1 to 0.2 Aw/t + 0.05 gap: Aw {area.start:.3g} mm2, t {thickness:g} mm, "
        f"gap {gap.start if gap else 0:g} mm ({'; '.join(source.document for source in spread.sources)})"
    ]
    return {"shrinkage": _span("shrinkage", label, Span(low, (low + high) / 2, high), "mm", "length", trail)}


def _free_shrinkage(material: Material, thickness: float, heat: MethodFigure | None) -> dict[str, MethodFigure]:
    from advisor.physics.shrinkage import free_contraction

    figures = {name: material.value(name) for name in ("expansion", "density", "specific_heat")}
    if heat is None or any(value is None for value in figures.values()):
        return {}
    capacity = (figures["density"] or 0) * (figures["specific_heat"] or 0)
    expansion = (figures["expansion"] or 0) * 1e-6

    def bound(kilojoule: float) -> float:
        return free_contraction(kilojoule * 1e6, thickness * MM, expansion, capacity) / MM

    span = Span(bound(heat.low), bound(heat.start), bound(heat.high))
    trail = [
        f"free contraction of {heat.start:.3g} kJ/mm in {thickness:g} mm: q a/(rho c d), a {expansion * 1e6:.3g}e-6/K, "
        f"rho c {capacity / 1e6:.3g} MJ/m3K; an upper bound, no figure for this metal was found in print"
    ]
    label, note = "shrinkage across a seam, if free", "at each heat a real seam shrinks less"
    return {"shrinkage": _span("shrinkage", label, span, "mm", "length", trail, note)}


def kept(material: Material, advice: Advice, missing: list[str]) -> dict[str, MethodFigure]:
    """Strength beside the seam over that of the metal before [%]: tensile, with the proof share in the trail."""
    job = advice.job
    member = job.members[0]
    try:
        beside = strength_beside(material, member.thickness.value, job.process, member.form)
    except PrestrikeError as error:
        missing.append(f"strength beside the seam: {error.diagnostics[0].message}")
        return {}
    shares = [beside.tensile, *([beside.printed[1]] if beside.printed else [])]
    trail = [
        f"tensile {beside.tensile:.0%}, proof {beside.proof:.0%} of {beside.label} ("
        f"{'; '.join(source.document for source in beside.sources)}); {command('strength', job)}"
    ]
    if beside.printed:
        proof, tensile = beside.printed
        trail.append(f"typical figures of a filler maker: tensile {tensile:.0%}, proof {proof:.0%}")
    if beside.note:
        trail.append(beside.note)
    low, high = min(shares) * 100, max(shares) * 100
    note = "" if beside.reach is None or not beside.reach else f"{beside.reach:g} mm each way"
    span = Span(low, beside.tensile * 100, high)
    return {"kept": _span("kept", "tensile strength kept beside the seam", span, "%", "percent", trail, note)}


def torch_figures(material: Material, way: Method, advice: Advice, missing: list[str]) -> dict[str, MethodFigure]:
    """Margin, filler by volume and strength of a brazed or soldered way."""
    margin = advice.settings["brazing_margin"]
    trail = [f"{step.text}{f' ({step.source})' if step.source else ''}" for step in margin.trail]
    span = Span(margin.low, margin.start, margin.high)
    trail.append(command("why brazing_margin", advice.job))
    label = "room below the metal's melting"
    found = {"margin": _span("margin", label, span, "K", "temperature_difference", trail)}
    found |= _torch_volume(advice, way.length, missing)
    found |= _torch_kept(material, advice, missing)
    missing.append("flame time and fuel gas: no rule gives them; they go by the mass of the part")
    return found


def _torch_volume(advice: Advice, length: float, missing: list[str]) -> dict[str, MethodFigure]:
    gap, lap = advice.preparation.get("joint_gap"), advice.preparation.get("overlap")
    if gap is None or lap is None:
        missing.append("filler: no rule gives gap and overlap of this joint")
        return {}
    size = Span(gap.low, gap.start, gap.high).by(Span(lap.low, lap.start, lap.high)).times(length / 1000)
    trail = [
        f"gap {gap.start:.2g} mm x overlap {lap.start:.3g} mm x {length:.0f} mm of seam; what runs over comes on top"
    ]
    return {"filler_volume": _span("filler_volume", "filler in the joints", size, "cm3", "", trail)}


def _torch_kept(material: Material, advice: Advice, missing: list[str]) -> dict[str, MethodFigure]:
    """What torch heat leaves: steel that is not hardened keeps its strength; hard-rolled aluminium is annealed."""
    if material.family != "aluminium":
        found = kept(material, advice, missing)
        return {name: figure._replace(note=_OF_THE_METAL) for name, figure in found.items()}
    if material.temper == "O":
        whole = Span.of(100.0)
        return {"kept": _span("kept", "tensile strength kept", whole, "%", "percent", ["it was annealed before"])}
    if material.heat_treatable or not material.temper:
        missing.append("strength: the heated part is soft all over; no table gives a figure for it")
        return {}
    # The zone beside an arc weld in a work-hardened alloy has annealed properties (Dwight 1999, read).
    found = kept(material, advice._replace(job=advice.job._replace(process="131")), missing)
    text = "work-hardening is lost wherever it was hot: as the zone beside a weld, but over the whole heated part"
    return {
        name: figure._replace(trail=(*figure.trail[:1], text), note=f"all over; {_OF_THE_METAL}")
        for name, figure in found.items()
    }


def _cost(
    found: dict[str, MethodFigure], filler_price: Price | None, gas_price: Price | None
) -> dict[str, MethodFigure]:
    """Money at the user's own prices: of filler, of gas; nothing without a price."""
    made: dict[str, MethodFigure] = {}
    for name, amount, price in (("filler", found.get("filler"), filler_price), ("gas", found.get("gas"), gas_price)):
        if amount is not None and price is not None:
            span = Span(amount.low, amount.start, amount.high).times(price.each)
            trail = (f"{amount.start:.3g} {amount.unit} at your {price.text}",)
            made[f"cost_{name}"] = _span(f"cost_{name}", f"{name} cost", span, price.label, "", trail)
    return made
