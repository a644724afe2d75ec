"""The nouns of a seam's strength: the seam asked about, the places that may give way, the load and its use."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from advisor.answer.answer import Caution, Code, Refusal
from advisor.job.job import Job
from advisor.physics.tables import TableSource as TableSource
from advisor.physics.weld_group import LineForce
from advisor.strength.softened import Beside

FILLET, FULL, PARTIAL = "fillet", "full-penetration butt", "partial-penetration butt"
WELD, HAZ, BASE = "weld", "haz", "base"
ALONG, ACROSS, WORST = "along", "across", "worst"


@dataclass(frozen=True)
class StressedSeam:
    """The seam asked about, lengths in mm; 0 means not given. count: equal seams that share the load.

    full_ends: full size to both ends, so nothing is taken off its length; held: a one-sided partial seam whose parts
    cannot tilt; lap_width: width of a sheet lap; overlap: how far the parts of a lap lie over each other.
    """

    leg: float = 0.0
    throat: float = 0.0
    penetration: float = 0.0
    length: float = 0.0
    count: int = 1
    full_ends: bool = False
    held: bool = False
    lap_width: float = 0.0
    overlap: float = 0.0


@dataclass(frozen=True)
class Overlap:
    """How far the parts of a lap lie over each other [mm], 0 where not given; the least a loaded lap asks for."""

    given: float
    least: float
    source: TableSource

    @property
    def short(self) -> bool:
        """True where the lap is known to reach less far than the least."""
        return 0.0 < self.given < self.least * 0.99

    def words(self, size: Callable[[float], str]) -> str:
        """What there is to say of it, with lengths as `size` writes them."""
        least = size(self.least)
        if not self.given:
            return f"overlap taken as {least}, the least for a lap that carries; give --overlap"
        if self.short:
            return (
                f"THE OVERLAP OF {size(self.given)} IS TOO SHORT: a lap that carries needs {least}. A short lap turns "
                "when it is pulled and opens at its roots, so the figures do not hold. Lengthen it"
            )
        return f"overlap {size(self.given)}; a lap that carries needs {least}"


@dataclass(frozen=True)
class WeakPlace:
    """A place that may give way, and its design force per mm of joint [N/mm], loaded along and across the seam.

    kind: weld, haz, base; formula: with the numbers put in.
    """

    name: str
    kind: str
    along: float
    across: float
    formula: str
    source: TableSource


@dataclass(frozen=True)
class Use:
    """How far a load uses one place. stress [N/mm of joint or MPa] against what it carries; share 1 is all of it."""

    place: str
    kind: str
    share: float
    formula: str

    @property
    def margin(self) -> float:
        """How many times the load the place carries [-]."""
        return 1.0 / self.share if self.share > 0.0 else math.inf


@dataclass(frozen=True)
class Loaded:
    """A load on the seam and what it uses.

    what: the load in words; force [N]; moment [N m]; line: worst force per length [N/mm], across and along; uses: every
    place, the most used first; load_factor: what EN 1990 or the like multiplies a load by before it is compared.
    """

    what: str
    force: float
    moment: float
    line: LineForce
    uses: tuple[Use, ...]
    load_factor: float
    formula: str
    source: TableSource
    notes: tuple[str, ...] = ()

    @property
    def governs(self) -> Use:
        """The place used most."""
        return self.uses[0]

    @property
    def share_factored(self) -> float:
        """The use of that place under the load times its factor [-]."""
        return self.governs.share * self.load_factor


@dataclass(frozen=True)
class SeamStrength:
    """What a seam carries. Forces per mm of joint [N/mm] are of all its seams together; lengths in mm.

    kind: fillet, full- or partial-penetration butt; throat: effective throat; effective: length that counts, None where
    no length was given or it is too short; places: every place with its figure; sizes: rules on least and greatest
    sizes, in words, with source; notes: what to know; warnings: sizes outside those rules.
    """

    standard: str
    kind: str
    throat: float
    leg: float
    effective: float | None
    count: int
    places: tuple[WeakPlace, ...]
    sizes: tuple[tuple[str, TableSource], ...]
    notes: tuple[str, ...]
    other_methods: tuple[WeakPlace, ...] = ()
    warnings: tuple[str, ...] = ()
    overlap: Overlap | None = None

    def governing(self, direction: str) -> WeakPlace:
        """The weakest place in a direction: along, across, or worst."""
        return min(self.places, key=lambda place: place_value(place, direction))

    def per_mm(self, direction: str) -> float:
        """Design force per mm of joint [N/mm]."""
        return place_value(self.governing(direction), direction)

    def force(self, direction: str) -> float | None:
        """Design force of the whole length [N]; None without a length that counts."""
        return None if self.effective is None else self.per_mm(direction) * self.effective


@dataclass(frozen=True)
class StrengthAnswer:
    """The whole answer. status: advised, no-rule, refused. missing: what could not be computed, and why."""

    status: str
    job: Job
    materials: tuple[str, ...]
    practice_only: bool
    seam: SeamStrength | None
    beside: tuple[Beside, ...]
    loaded: Loaded | None
    cautions: tuple[Caution, ...]
    codes: tuple[Code, ...]
    refusals: tuple[Refusal, ...]
    missing: tuple[str, ...]
    assumed: tuple[str, ...]
    content_hash: str = ""
    notes: tuple[str, ...] = field(default=())


def place_value(place: WeakPlace, direction: str) -> float:
    """A place's design force in a direction [N/mm]."""
    if direction == ALONG:
        return place.along
    if direction == ACROSS:
        return place.across
    return min(place.along, place.across)
