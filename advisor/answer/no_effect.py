"""Words of a job that change nothing in an answer: every answer names them, so that nothing said is dropped in silence.

What has an effect is found by asking again without the word, not by a list kept beside the program.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from advisor.diagnostics import PrestrikeError
from advisor.job.job import Job
from advisor.job.words import GROOVE_JOINTS
from advisor.rulebook.checked_yaml import NotKeptError, only_kept

# What each word means where nothing was said. Metals, sizes, joint and process make the job: they always count.
UNSAID: dict[str, tuple[Any, ...]] = {
    "position": ("PA",),
    "access": ("", "one-side"),
    "backing": ("",),
    "place": ("indoors",),
    "filler": ("",),
    "solvent": ("",),
    "gas": ("",),
    "tungsten_type": ("",),
    "transfer": ("",),
    "electrode": ("",),
    "wire_diameter": (None,),
    "electrode_diameter": (None,),
    "leg": (None,),
    "length": (None,),
    "closed_volume": (False,),
    "used_container": (False,),
    "machine": (None,),
    "part": (None,),
    "shape": (None,),
}
# Words that may be several at once, with what stands where nothing was said.
_SEVERAL: dict[str, tuple[str, ...]] = {"service": ("ordinary",), "surface": ("mill-finish",)}
_OF_MEMBERS: dict[str, Any] = {"form": "", "width": None, "length": None}


class SaidWord(NamedTuple):
    """One word of a job: its name in a job file, and what was said."""

    word: str
    value: str


class Without(NamedTuple):
    """A word, the job without it, and what puts it alone into a job where nothing else was said."""

    said: SaidWord
    less: Job
    alone: Callable[[Job], Job]


def no_effect(job: Job, answered: Callable[[Job], object]) -> tuple[SaidWord, ...]:
    """The words without which the answer is the same, and which alone change nothing either.

    answered: the answer to a job as plain data, without the job itself.
    """
    each = list(_without_each(job))
    if not each:
        return ()
    whole = answered(job)
    idle = [item for item in each if _asked(answered, item.less) == whole]
    if not idle:
        return ()
    bare = job
    for item in each:
        bare = _bared(bare, item.said.word)
    nothing_said = _asked(answered, bare)
    return tuple(item.said for item in idle if _asked(answered, item.alone(bare)) in (nothing_said, None))


def _asked(answered: Callable[[Job], object], job: Job) -> object:
    """The answer, or None where there is none. What would take long to compute was not computed for the whole job:
    it differs already by what goes into it."""
    try:
        with only_kept():
            return answered(job)
    except (PrestrikeError, NotKeptError):
        return None


def _without_each(job: Job) -> Iterator[Without]:
    for word, unsaid in UNSAID.items():
        value = getattr(job, word)
        if value not in unsaid:
            less = job._replace(**{word: unsaid[0]})
            yield Without(SaidWord(word, _text(word, value)), less, _setter(word, value))
    if job.weld != _usual_weld(job):
        yield Without(SaidWord("weld", job.weld), job._replace(weld=_usual_weld(job)), _setter("weld", job.weld))
    yield from _services(job)
    yield from _surfaces(job)
    for word, nothing in _OF_MEMBERS.items():
        values = tuple(getattr(member, word) for member in job.members)
        if any(value != nothing for value in values):
            text = ", ".join(dict.fromkeys(_text(word, value) for value in values if value != nothing))
            less = _members(job, word, (nothing,) * len(values))
            yield Without(SaidWord(_of_member(word), text), less, _member_setter(word, values))


def _usual_weld(job: Job) -> str:
    return "groove" if job.joint in GROOVE_JOINTS else "fillet"


def _services(job: Job) -> Iterator[Without]:
    usual = _SEVERAL["service"]
    for service in job.service:
        if service not in usual:
            rest = tuple(item for item in job.service if item != service)
            yield Without(
                SaidWord("service", service), job._replace(service=rest or usual), _setter("service", (service,))
            )


def _surfaces(job: Job) -> Iterator[Without]:
    usual = _SEVERAL["surface"]
    states = [member.surface for member in job.members]
    for state in dict.fromkeys(item for surface in states for item in surface if item not in usual):
        rest = tuple(tuple(item for item in surface if item != state) or usual for surface in states)
        only = tuple((state,) if state in surface else usual for surface in states)
        yield Without(SaidWord("surface", state), _members(job, "surface", rest), _member_setter("surface", only))


def _bared(job: Job, word: str) -> Job:
    """The job with nothing said for a word."""
    if word in UNSAID:
        return job._replace(**{word: UNSAID[word][0]})
    if word == "weld":
        return job._replace(weld=_usual_weld(job))
    if word == "service":
        return job._replace(service=_SEVERAL["service"])
    name = word.removeprefix("member ")
    nothing = _SEVERAL.get(name, _OF_MEMBERS.get(name))
    return _members(job, name, (nothing,) * len(job.members))


def _of_member(word: str) -> str:
    """A member's length is not the seam's."""
    return word if word == "form" else f"member {word}"


def _members(job: Job, word: str, values: tuple[Any, ...]) -> Job:
    pairs = zip(job.members, values, strict=True)
    return job._replace(members=tuple(member._replace(**{word: value}) for member, value in pairs))


def _setter(word: str, value: Any) -> Callable[[Job], Job]:
    return lambda job: job._replace(**{word: value})


def _member_setter(word: str, values: tuple[Any, ...]) -> Callable[[Job], Job]:
    return lambda job: _members(job, word, values)


def _text(word: str, value: object) -> str:
    """The value as it was said; of a machine its name, of a part its kind."""
    if word == "machine":
        return str(getattr(value, "name", ""))
    if word in ("part", "shape"):
        return type(value).__name__.lower()
    if isinstance(value, bool):
        return ""
    return str(getattr(value, "text", value)).strip()
