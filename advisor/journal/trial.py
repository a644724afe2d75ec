"""A trial: a seam that was welded, with what the machine was really set to and how it turned out."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from datetime import UTC, datetime
from types import MappingProxyType
from typing import Any, NamedTuple

VERDICTS = ("good", "usable", "bad")
_NONE: Mapping[str, Any] = MappingProxyType({})


class Photo(NamedTuple):
    """A picture by its path and the SHA-256 of its bytes when it was noted."""

    path: str
    sha256: str


class TrialCase(NamedTuple):
    """What was welded. metals: material ids of the members; thinner, thicker: [mm]."""

    process: str
    metals: tuple[str, ...]
    joint: str
    position: str
    thinner: float
    thicker: float
    gas: str = ""
    machine: str = ""


class Trial(NamedTuple):
    """One row of the journal.

    used: topic -> what was really set, in the house unit of the topic; chosen: topic -> word (filler, gas);
    advised: topic -> (low, start, high) as the answer said then, by the rules whose hash is `rules`.
    cause: id of the cause that was accepted for what was seen.
    corrects: id of the trial this row stands for; withdrawn: the trial is taken back.
    """

    id: str
    made_at: str
    case: TrialCase
    used: Mapping[str, float]
    verdict: str
    seen: tuple[str, ...] = ()
    note: str = ""
    by: str = ""
    chosen: Mapping[str, str] = _NONE
    advised: Mapping[str, tuple[float, float, float]] = _NONE
    rules: str = ""
    job: Mapping[str, Any] = _NONE
    photos: tuple[Photo, ...] = ()
    cause: str = ""
    corrects: str = ""
    withdrawn: bool = False

    def as_json(self) -> dict[str, Any]:
        """The trial as plain JSON data (`schemas/trials.schema.json`)."""
        data = self._asdict()
        data["case"] = {**self.case._asdict(), "metals": list(self.case.metals)}
        data |= {"used": dict(self.used), "chosen": dict(self.chosen), "job": dict(self.job)}
        data["advised"] = {topic: list(numbers) for topic, numbers in self.advised.items()}
        data["seen"] = list(self.seen)
        data["photos"] = [photo._asdict() for photo in self.photos]
        return data

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Trial:
        """The trial of such data."""
        case = dict(data["case"])
        case["metals"] = tuple(case["metals"])
        return cls(
            id=data["id"],
            made_at=data["made_at"],
            case=TrialCase(**case),
            used={topic: float(value) for topic, value in data["used"].items()},
            verdict=data["verdict"],
            seen=tuple(data.get("seen", ())),
            note=data.get("note", ""),
            by=data.get("by", ""),
            chosen=dict(data.get("chosen", {})),
            advised={topic: _three(numbers) for topic, numbers in data.get("advised", {}).items()},
            rules=data.get("rules", ""),
            job=dict(data.get("job", {})),
            photos=tuple(Photo(photo["path"], photo["sha256"]) for photo in data.get("photos", ())),
            cause=data.get("cause", ""),
            corrects=data.get("corrects", ""),
            withdrawn=bool(data.get("withdrawn", False)),
        )


def _three(numbers: Any) -> tuple[float, float, float]:
    low, start, high = numbers
    return float(low), float(start), float(high)


def new_id(now: datetime | None = None) -> str:
    """An id that sorts by time and that two processes do not both choose."""
    return f"{now or datetime.now(UTC):%Y%m%d-%H%M%S}-{secrets.token_hex(4)}"


def now_text() -> str:
    """This moment, UTC, to the second."""
    return datetime.now(UTC).isoformat(timespec="seconds")
