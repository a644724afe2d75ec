"""`prestrike compare`: the ways to make a part side by side, by what decides between them.

Nothing is figured out here that another command does not give: settings are those of `setup`, filler, time and gas
those of `consumables`, heat that of `heat`, strength that of `strength`; each figure says how to see it again.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import NamedTuple

from advisor.answer import steps
from advisor.answer.answer import Advice, Caution, Code, Instruction, NoRule, Refusal, Setting
from advisor.answer.settings import settled
from advisor.compare.figures import MethodFigure, arc_figures, bend_figure, torch_figures
from advisor.compare.methods import Method, MethodSeams, part_words, ways_of
from advisor.consumables.prices import Price
from advisor.consumables.seam import Consumables, consumables
from advisor.job.facts import joint_facts
from advisor.job.job import Job
from advisor.job.material import Material, find_material
from advisor.job.words import TORCH
from advisor.rulebook.conditions import Fact
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise

WORDS = ("way_leak", "way_finish", "way_skill", "way_note")
_ORDER = ("advised", "no-rule", "refused")
# Figure, what its least (or, with -1, its most) means.
_STANDS_OUT = (
    ("heat", "least heat per length of arc seam", 1.0),
    ("heat_all", "least heat into the part by arc", 1.0),
    ("arc", "fewest minutes of arc", 1.0),
    ("kept", "most strength kept beside the seam", -1.0),
)


class Prices(NamedTuple):
    """The user's own prices; None where not given."""

    filler: Price | None = None
    gas: Price | None = None


class MethodAnswer(NamedTuple):
    """A way with its verdict. status: advised, no-rule, refused; words: what rules say of it, by topic."""

    way: Method
    status: str
    fillers: tuple[str, ...]
    figures: Mapping[str, MethodFigure]
    words: Mapping[str, tuple[Instruction, ...]]
    refusals: tuple[Refusal, ...]
    no_rule: tuple[NoRule, ...]
    notes: tuple[str, ...]
    missing: tuple[str, ...]
    cautions: tuple[Caution, ...]
    codes: tuple[Code, ...]


class Comparison(NamedTuple):
    """All ways: those that fit first, then by length of seam and minutes of arc. decides: what stands out."""

    job: Job
    part: str
    material: str
    ways: tuple[MethodAnswer, ...]
    decides: tuple[str, ...]
    cautions: tuple[Caution, ...]
    codes: tuple[Code, ...]
    content_hash: str
    left_out: bool

    @property
    def status(self) -> str:
        """The best any way reached."""
        return min((item.status for item in self.ways), key=_ORDER.index)


def compare(rulebook: Rulebook, job: Job, only: Sequence[str] = (), prices: Prices | None = None) -> Comparison:
    """The ways to make the job's part. only: names of ways to keep. Raises PrestrikeError for a job without a part."""
    material = find_material(job.members[0].metal, rulebook.index)
    ways = ways_of(job, material.family, only)
    found = [_answer(rulebook, job, material, way, prices or Prices()) for way in ways]
    found.sort(key=_place)
    return Comparison(
        job,
        part_words(job, lambda mm: f"{mm:g} mm"),
        material.label,
        tuple(found),
        _decides(job, [item for item in found if item.status == "advised"]),
        _merged_cautions(found),
        _merged_codes(found),
        rulebook.content_hash,
        bool(rulebook.left_out),
    )


def way_job(job: Job, way: Method, group: MethodSeams) -> Job:
    """The job of one group of seams: the wall joined to its like, by the way's process, in the flat."""
    return job._replace(
        members=job.members[:1],
        process=way.process,
        joint=group.joint,
        weld=group.weld,
        position="PA",
        leg=None,
        length=None,
        part=None,
        shape=None,
        filler=job.filler if job.process == way.process else "",
        gas=job.gas if job.process == way.process else "",
        machine=job.machine if way.process not in TORCH else None,
        name="",
    )


def _answer(rulebook: Rulebook, job: Job, material: Material, way: Method, prices: Prices) -> MethodAnswer:
    used = [_used(rulebook, way_job(job, way, group), group) for group in way.seams]
    advices = [item.advice for item in used]
    status = max((advice.status for advice in advices), key=_ORDER.index, default="advised")
    bend = _bend(rulebook, job, material, way)
    figures: dict[str, MethodFigure] = {}
    missing: list[str] = []
    if status == "advised" and used:
        if way.process in TORCH:
            figures = torch_figures(material, way, advices[0], missing)
        else:
            figures = arc_figures(rulebook, material, way, used, prices.filler, prices.gas, missing)
    if status == "advised" and bend:
        figures["bend"] = bend
    if status == "advised" and way.made_from == "folded" and bend is None:
        missing.append("bend: no rule gives a radius for this metal, temper and thickness; bend a scrap first")
    fillers = tuple(dict.fromkeys(name for advice in advices if (name := _filler(advice))))
    return MethodAnswer(
        way,
        status,
        fillers if status == "advised" else (),
        figures,
        _words(rulebook, job, way, material, fillers) if status == "advised" else {},
        tuple({item.rule_id: item for advice in advices for item in advice.refusals}.values()),
        tuple({item.message: item for advice in advices for item in advice.no_rule}.values()),
        _notes(job, advices),
        tuple(dict.fromkeys(missing)),
        tuple({item.rule_id: item for advice in advices for item in advice.cautions}.values()),
        tuple({item.rule_id: item for advice in advices for item in advice.codes}.values()),
    )


def _used(rulebook: Rulebook, job: Job, group: MethodSeams) -> Consumables:
    if job.process in TORCH:
        return Consumables(advise(rulebook, job), group.what, group.lengths)
    return consumables(rulebook, advise(rulebook, job._replace(part=None, length=None)), group.lengths, name=group.what)


def _filler(advice: Advice) -> str:
    if advice.job.filler:
        return advice.job.filler
    return next((option.name for option in advice.choices.get("filler", []) if option.rank == 1), "")


def _bend(rulebook: Rulebook, job: Job, material: Material, way: Method) -> MethodFigure | None:
    if way.made_from != "folded" or not way.folds:
        return None
    facts = _facts(job, way, material, ())
    setting: Setting | None = settled(rulebook, "bend_radius", facts)
    return bend_figure(setting) if setting else None


def _facts(job: Job, way: Method, material: Material, fillers: Sequence[str]) -> dict[str, Fact]:
    group = way.seams[0] if way.seams else MethodSeams("", "tee", "fillet", ())
    facts = joint_facts(way_job(job, way, group), (material,))
    return {**facts, "made_from": way.made_from, "filler": fillers[0] if fillers else None}


def _words(
    rulebook: Rulebook, job: Job, way: Method, material: Material, fillers: Sequence[str]
) -> dict[str, tuple[Instruction, ...]]:
    facts = _facts(job, way, material, fillers)
    found = {topic: steps.steps(rulebook, topic, facts) for topic in WORDS}
    return {topic: said for topic, said in found.items() if said}


def _notes(job: Job, advices: Sequence[Advice]) -> tuple[str, ...]:
    """What an answer says of the way that is not already said of the job; a machine that does not reach."""
    notes = [note for advice in advices for note in advice.notes if note not in job.assumed]
    notes += [advice.machine.message for advice in advices if advice.machine and advice.machine.status != "reaches"]
    return tuple(dict.fromkeys(notes))


def _place(item: MethodAnswer) -> tuple[int, bool, float, float, str]:
    """Those that fit first; solder last of them, since it seals and does not carry; then the least seam, least arc."""
    minutes = item.figures.get("arc")
    arc = minutes.start if minutes else 0.0
    return (_ORDER.index(item.status), item.way.process == "942", item.way.length, arc, item.way.name)


def _merged_cautions(found: Sequence[MethodAnswer]) -> tuple[Caution, ...]:
    """Cautions of the ways that are advised, gravest first; of all where none is."""
    kept = [item for item in found if item.status == "advised" and item.cautions] or list(found)
    merged: dict[str, Caution] = {}
    for caution in (caution for item in kept for caution in item.cautions):
        # Rules of several processes may warn of one hazard: the fuller one stays.
        other = merged.get(caution.hazard)
        if other is None or len(caution.do) > len(other.do):
            merged[caution.hazard] = caution
    levels = ("danger", "warning", "note")
    return tuple(sorted(merged.values(), key=lambda item: (levels.index(item.level), item.rule_id)))


def _merged_codes(found: Sequence[MethodAnswer]) -> tuple[Code, ...]:
    merged: dict[str, Code] = {}
    for code in (code for item in found for code in item.codes):
        other = merged.get(code.code)
        if other is None or len(code.about) > len(other.about):
            merged[code.code] = code
    return tuple(sorted(merged.values(), key=lambda item: (not item.restricted, item.rule_id)))


def _decides(job: Job, fit: Sequence[MethodAnswer]) -> tuple[str, ...]:
    """What stands out among the ways that fit: shortest seam, least heat, least arc, most strength kept."""
    if not fit:
        return ("no way is advised: the reasons stand with each",)
    said = [_least("shortest seam", fit, lambda item: item.way.length)]
    for name, words, sign in _STANDS_OUT:
        having = [item for item in fit if name in item.figures]
        if len({round(item.figures[name].start, 3) for item in having}) > 1:
            said.append(_least(words, having, partial(_signed, name, sign)))
    if "leak-tight" in job.service:
        said.append("it must be tight: every corner and stop of a seam is a place to leak, so less seam comes first")
    if "anodised-after" in job.service:
        said.append("it will be anodised: look at how each filler takes colour")
    return tuple(said)


def _signed(name: str, sign: float, item: MethodAnswer) -> float:
    return sign * item.figures[name].start


def _least(words: str, items: Sequence[MethodAnswer], size: Callable[[MethodAnswer], float]) -> str:
    least = min(size(item) for item in items)
    names = [item.way.label for item in items if size(item) <= least + 1e-9 * max(abs(least), 1.0)]
    return f"{words}: {'; '.join(names)}"
