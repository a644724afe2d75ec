"""What to do instead of work that is refused: of the ways a rule names, those that this rulebook itself advises."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from advisor.answer.answer import Refusal
from advisor.diagnostics import PrestrikeError
from advisor.job.job import Job
from advisor.job.words import GROOVE_JOINTS, TORCH
from advisor.rulebook.library import Rulebook

# What judges a job: advised, no-rule or refused.
Verdict = Callable[[Rulebook, Job], str]
_BY_PROCESS = {
    "141": "TIG weld it (process 141)",
    "131": "weld it with wire and argon (process 131)",
    "135": "weld it with wire and mixed gas or CO2 (process 135)",
    "111": "weld it with stick (process 111)",
    "912": "braze it (process 912)",
    "942": "solder it (process 942)",
}
# How the ways of one kind are said together; {} holds their names.
_SAID = {"metal": "make it from {}", "joint": "make the joint a {}", "filler": "use {} as filler"}


def offered(rulebook: Rulebook, job: Job, refusals: Iterable[Refusal], status_of: Verdict) -> tuple[Refusal, ...]:
    """The refusals with only those ways that are advised for this job, said in front of what remains in any case."""
    return tuple(_offered(rulebook, job, refusal, status_of) for refusal in refusals)


def _offered(rulebook: Rulebook, job: Job, refusal: Refusal, status_of: Verdict) -> Refusal:
    ways = tuple(way for way in refusal.ways if _is_advised(rulebook, job, way, status_of))
    if not ways:
        return refusal._replace(ways=())
    rest = refusal.instead
    return refusal._replace(ways=ways, instead=f"{_sentence(ways)} Or {rest[:1].lower()}{rest[1:]}")


def _is_advised(rulebook: Rulebook, job: Job, way: Mapping[str, str], status_of: Verdict) -> bool:
    try:
        return status_of(rulebook, changed(rulebook, job, way, status_of)) == "advised"
    except PrestrikeError:
        return False


def changed(rulebook: Rulebook, job: Job, way: Mapping[str, str], status_of: Verdict) -> Job:
    """The job as it stands when the way is taken: another process, metal, joint or filler, all else the same."""
    if "process" in way:
        torch = way["process"] in TORCH
        return job._replace(
            process=way["process"], filler="", gas="", tungsten_type="", transfer="", electrode="",
            wire_diameter=None, electrode_diameter=None, machine=None if torch else job.machine,
        )  # fmt: skip
    if "metal" in way:
        return _of_metal(rulebook, job, way["metal"], status_of)
    if "joint" in way:
        return job._replace(joint=way["joint"], weld="groove" if way["joint"] in GROOVE_JOINTS else "fillet", leg=None)
    return job._replace(filler=way["filler"])


def _of_metal(rulebook: Rulebook, job: Job, metal: str, status_of: Verdict) -> Job:
    """The members that are refused even alone from the other metal; all of them where only the pair is refused."""
    alone = [status_of(rulebook, job._replace(members=(member,))) == "refused" for member in job.members]
    members = tuple(
        member._replace(metal=metal) if bad or not any(alone) else member
        for member, bad in zip(job.members, alone, strict=True)
    )
    return job._replace(members=members, filler="", electrode="")


def _sentence(ways: Iterable[Mapping[str, str]]) -> str:
    """All ways in one sentence, those of one kind together."""
    kinds: dict[str, list[str]] = {}
    for way in ways:
        for kind, name in way.items():
            kinds.setdefault(kind, []).append(name)
    said = [_BY_PROCESS[name] for name in kinds.pop("process", [])]
    said += [_SAID[kind].format(" or ".join(names)) for kind, names in kinds.items()]
    text = ", or ".join(said)
    return f"{text[:1].upper()}{text[1:]}."
