"""`prestrike cracks`: what the bead is made of, where that lies against the crack peaks, and which rod moves it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from typing import NamedTuple

from advisor.answer import steps
from advisor.answer.answer import Caution, Code, Refusal
from advisor.cracks.dilution import ALL_BASE, Dilution, of_job, published
from advisor.cracks.knowledge import (
    HIGH,
    LOW,
    MIDDLE,
    VERDICTS,
    Contents,
    RodComposition,
    Zone,
    contents_at,
    fusion_only,
    measures,
    rods,
    zones,
)
from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.facts import joint_facts
from advisor.job.job import Job
from advisor.job.material import Material, find_material
from advisor.physics.dilution import bead_composition
from advisor.rulebook.choices import Option, rank
from advisor.rulebook.library import Rulebook
from advisor.rulebook.names import fold
from advisor.setup.alternatives import offered
from advisor.setup.answer import advise, status_of

NO_ROD = "no filler"
UNKNOWN = "unknown"
NO_COMPOSITION = (
    "no filler of known composition is ranked for this job (what covered electrodes deposit is not kept here); name a "
    "rod with --filler, or --filler none"
)
_SHARE_STEPS = 100
_NOT_SAID = ("thickness", "thinner", "thicker", "thickness_ratio", "joint", "weld", "position", "access")


class BeadMeasure(NamedTuple):
    """A measure of the bead: of the base and the rod at the middle of their limits, and of the bead from its least to
    its most over limits and dilution; middle: at the middle of all; partly: an index that holds for some only."""

    base: float | None
    rod: float | None
    low: float
    middle: float
    high: float
    partly: bool = False


class BeadMix(NamedTuple):
    """A bead of one rod. verdict, worst: at the middle, and over the corners of limits and dilution; zones: those the
    middle lies in; brittle: the zone that says so; clear_from: least share of filler that is clear, at mid limits."""

    rod: str
    dilution: Dilution
    measured: Mapping[str, BeadMeasure]
    verdict: str
    worst: str
    zones: tuple[Zone, ...]
    brittle: Zone | None
    clear_from: float | None
    standing: str = ""
    because: str = ""


class CracksAnswer(NamedTuple):
    """All of it. status: advised, no-rule, refused; mix: the rod asked for, or the first choice; others: the rest."""

    status: str
    job: Job
    loose: bool
    materials: tuple[str, ...]
    family: str
    mix: BeadMix | None
    others: tuple[BeadMix, ...]
    refusals: tuple[Refusal, ...]
    cautions: tuple[Caution, ...]
    codes: tuple[Code, ...]
    notes: tuple[str, ...]
    content_hash: str
    left_out: tuple[Mapping[str, object], ...]


def cracks_answer(
    rulebook: Rulebook, job: Job, *, loose: bool = False, autogenous: bool = False, own: Dilution | None = None
) -> CracksAnswer:
    """The answer for a job. loose: only its metals and filler count; own: the user's own dilution.

    Raises PrestrikeError for a filler that is not known.
    """
    fusion_only(job, "a brazed or soldered joint melts no base metal, so no crack curve holds for it")
    advice = advise(rulebook, job)
    materials = tuple(find_material(member.metal, rulebook.index) for member in job.members)
    facts = joint_facts(job, materials)
    if loose:
        facts = {name: fact for name, fact in facts.items() if name not in _NOT_SAID}
    family = str(facts["base"])
    notes = [] if loose else list(job.assumed)
    notes += [f"{item.label}: {item.uncertain}" for item in materials if item.uncertain]
    refused = offered(rulebook, job, steps.refusals(rulebook, facts), status_of)
    maker = _Maker(rulebook, materials, family, rank(rulebook.match("filler", {**facts, "filler": None})))
    if maker.base is None and not refused:
        notes.append("the composition of this metal is not known, so nothing can be said of its bead")
    dilution = own or (published() if loose else of_job(job, advice))
    mix, others = _mixes(maker, job.filler, autogenous, dilution, bool(refused))
    if mix is None and maker.base is not None:
        notes.append(NO_COMPOSITION)
    return CracksAnswer(
        status="refused" if refused else "no-rule" if mix is None or mix.verdict == UNKNOWN else "advised",
        job=job,
        loose=loose,
        materials=tuple(material.label for material in materials),
        family=family,
        mix=mix,
        others=others,
        refusals=refused,
        cautions=steps.cautions(rulebook, facts),
        codes=steps.codes(rulebook, facts),
        notes=tuple(notes),
        content_hash=rulebook.content_hash,
        left_out=tuple(finding.as_json() for finding in rulebook.left_out),
    )


def _mixes(
    maker: _Maker, wanted: str, autogenous: bool, dilution: Dilution, refused: bool
) -> tuple[BeadMix | None, tuple[BeadMix, ...]]:
    """The mix asked for (or of the first choice), and the other rods, those that get clear first."""
    if maker.base is None:
        return None, ()
    bare = maker.mix(None, ALL_BASE)
    if autogenous or refused:
        chosen: BeadMix = bare if not wanted else maker.mix(maker.rod(wanted), dilution)
    else:
        rod = maker.rod(wanted) if wanted else maker.first_choice()
        if rod is None:
            return None, ()
        chosen = maker.mix(rod, dilution)
    known = [rod for rod in maker.rods if maker.family in rod.metals and rod.name != chosen.rod]
    mixes = [maker.mix(rod, dilution) for rod in known]
    if chosen.rod != NO_ROD:
        mixes.append(bare)
    return chosen, tuple(sorted(mixes, key=_rank))


def _rank(mix: BeadMix) -> tuple[object, ...]:
    order = {name: index for index, name in enumerate(reversed(VERDICTS))}
    place = {"first": 0, "also": 1, "": 2, "avoid": 3}
    return (
        mix.brittle is not None,
        order.get(mix.verdict, 9),
        place.get(mix.standing, 2),
        order.get(mix.worst, 9),
        mix.rod,
    )


class _Maker:
    """Mixes rods into one base."""

    def __init__(
        self, rulebook: Rulebook, materials: Sequence[Material], family: str, options: Sequence[Option]
    ) -> None:
        self.family = family
        self.options = options
        self.rods = rods(rulebook)
        self.zones = [zone for zone in zones(rulebook) if family in zone.metals]
        mixed = len({material.family == "aluminium" for material in materials}) > 1
        known = not mixed and all(material.composition and not material.unknown for material in materials)
        self.base = [_mean(materials, end) for end in (LOW, MIDDLE, HIGH)] if known else None

    def rod(self, name: str) -> RodComposition:
        """The rod of a name. Raises PrestrikeError."""
        named = {fold(rod.name): rod for rod in self.rods}
        if fold(name) not in named:
            repair = did_you_mean(name, [rod.name for rod in self.rods]) or "see 'prestrike setup' for those it ranks"
            raise PrestrikeError(Diagnostic("unknown-filler", f"no composition of {name} is known here", help=repair))
        return named[fold(name)]

    def first_choice(self) -> RodComposition | None:
        """The rod ranked best of those whose composition is known."""
        named = {fold(rod.name): rod for rod in self.rods}
        ranked = sorted((option for option in self.options if option.rank), key=lambda option: option.rank)
        return next((named[fold(option.name)] for option in ranked if fold(option.name) in named), None)

    def mix(self, rod: RodComposition | None, dilution: Dilution) -> BeadMix:
        """The bead of a rod (none: base metal alone)."""
        base = self.base or []
        parts = [contents_at(rod.limits, end) if rod else {} for end in (LOW, MIDDLE, HIGH)]
        shares = (dilution.low, dilution.middle, dilution.high) if rod else (1.0, 1.0, 1.0)
        middle = self._measured(base[MIDDLE], parts[MIDDLE], shares[1])
        corners = [self._measured(one, other, share) for one, other, share in product(base, parts, shares)]
        base_middle = measures(base[MIDDLE], self.family)
        rod_middle = measures(parts[MIDDLE], self.family) if rod else {}
        within = self._in(middle, base_middle, rod_middle)
        verdicts = {
            _worst(self._in(corner, measures(one, self.family), measures(other, self.family) if rod else {}))
            for (one, other, _), corner in zip(product(base, parts, shares), corners, strict=True)
        }
        option = next((item for item in self.options if rod and fold(item.name) == fold(rod.name)), None)
        reason = option.reasons[0] if option and option.reasons else None
        return BeadMix(
            rod=rod.name if rod else NO_ROD,
            dilution=dilution if rod else ALL_BASE,
            measured={
                name: BeadMeasure(base_middle.get(name), rod_middle.get(name), *_ends(name, middle, corners))
                for name in middle
            },
            verdict=_worst(within),
            worst=min(verdicts, key=_severity),
            zones=tuple(sorted((z for z in within if z.verdict != "brittle"), key=lambda z: _severity(z.verdict))),
            brittle=next((zone for zone in within if zone.verdict == "brittle"), None),
            clear_from=self._clear_from(base[MIDDLE], parts[MIDDLE]) if rod else None,
            standing=_standing(option),
            because=reason.because if reason else "",
        )

    def _measured(self, base: Contents, rod: Contents, share: float) -> dict[str, float]:
        return measures(bead_composition(base, rod, share), self.family)

    def _in(self, bead: Contents, base: Contents, rod: Contents) -> list[Zone]:
        return [zone for zone in self.zones if zone.holds(bead, base, rod)]

    def _clear_from(self, base: Contents, rod: Contents) -> float | None:
        """Least share of filler from which all greater shares are clear [-]; None where not even all filler is."""
        found = None
        sides = measures(base, self.family), measures(rod, self.family)
        for step in range(_SHARE_STEPS, -1, -1):
            share = step / _SHARE_STEPS
            if _worst(self._in(self._measured(base, rod, 1 - share), *sides)) != "clear":
                break
            found = share
        return found


def _mean(materials: Sequence[Material], end: int) -> dict[str, float]:
    """Contents of the melted base: both members alike."""
    each = [contents_at(material.composition, end) for material in materials]
    names = dict.fromkeys(name for contents in each for name in contents)
    return {name: sum(contents.get(name, 0.0) for contents in each) / len(each) for name in names}


def _ends(name: str, middle: Contents, corners: Sequence[Contents]) -> tuple[float, float, float, bool]:
    values = [corner[name] for corner in corners if name in corner]
    return min(values), middle[name], max(values), len(values) < len(corners)


def _worst(found: Sequence[Zone]) -> str:
    verdicts = [zone.verdict for zone in found if zone.verdict in VERDICTS]
    return min(verdicts, key=_severity, default=UNKNOWN)


def _severity(verdict: str) -> int:
    return VERDICTS.index(verdict) if verdict in VERDICTS else len(VERDICTS)


def _standing(option: Option | None) -> str:
    """What the filler rules say of a rod: first, also, avoid, or nothing."""
    if option is None:
        return ""
    if option.avoided:
        return "avoid"
    return "first" if option.rank == 1 else "also"
