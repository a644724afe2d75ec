"""The nouns of a fit: what is asked, and what comes of it. Lengths in mm, stresses in MPa, temperatures in degC."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.answer.answer import Caution, Code, Refusal
from advisor.physics.tables import TableSource

ROOM = 20.0  # degC
OPENS, MAY_OPEN, HOLDS, UNKNOWN = "opens", "may open", "holds", "no rule"


@dataclass(frozen=True)
class FitJob:
    """A ring fitted into a body. Lengths in mm; ring_inner 0 is a solid plug.

    interference: on the diameter, least and most, as dimensioned; how: in words where it is from. roughness: Rz of bore
    and ring together; seam_penetration: depth of a seam that runs along the body's wall, None where none crosses the
    hoop tension; service_c: temperatures of use; clearance: wanted on the diameter for assembly.
    """

    bore: float
    ring_inner: float
    body_outer: float
    interference: tuple[float, float]
    how: str
    width: float | None = None
    roughness: float = 0.0
    seam_penetration: float | None = None
    service_c: tuple[float, ...] = ()
    room_c: float = ROOM
    clearance: float = 0.0
    friction: tuple[float, float] = (0.15, 0.20)

    @property
    def wall(self) -> float:
        """The body's wall [mm]."""
        return 0.5 * (self.body_outer - self.bore)


@dataclass(frozen=True)
class FitMetal:
    """A member's metal: stiffness E [MPa], Poisson's ratio, expansion [1e-6/K], proof strength [MPa] or None.

    proof_beside: proof strength beside a seam [MPa], None without one; cold: shrinkage to dry ice and to liquid
    nitrogen [-], or None; sources: where each is from.
    """

    label: str
    modulus: float
    poisson: float
    expansion: float
    proof: float | None
    cold: tuple[float, float] | None
    sources: tuple[tuple[str, TableSource], ...]
    proof_beside: float | None = None


@dataclass(frozen=True)
class FitState:
    """The fit at one interference and temperature.

    Pressure and hoop stresses [MPa] of the body at bore and outside, of the ring outside and at its bore; von_mises at
    the body's bore [MPa]; growth of the body's outside and closing of the ring's bore on the diameter [mm]; pull_out
    [N] and torque [N m], None without width.
    """

    name: str
    celsius: float
    interference: float
    pressure: float
    body_bore: float
    body_outside: float
    ring_outside: float
    ring_bore: float
    von_mises: float
    growth: float
    closing: float
    pull_out: float | None
    torque: float | None


@dataclass(frozen=True)
class AssemblyMethod:
    """A way to put the ring in. possible: it fits with the clearance inside every limit; text: what to do."""

    name: str
    possible: bool
    body_c: float
    ring_c: float
    clearance: float
    text: str


@dataclass(frozen=True)
class SeamUnderHoop:
    """What the hoop tension does to a seam that crosses it. verdict: opens, may open, holds, no rule.

    tension [N/mm]; even, bent: stress in the seam [MPa], with the wall held round and free to bend at the seam, the
    least and the most it can be; carries: design strength pulled straight [N/mm]; trail: formula and source of each.
    """

    verdict: str
    celsius: float
    tension: float
    even: float
    bent: float
    carries: float | None
    full: bool
    text: str
    trail: tuple[str, ...]

    @property
    def flagged(self) -> bool:
        """True where the seam is not shown to hold."""
        return self.verdict != HOLDS

    @property
    def share(self) -> float | None:
        """Tension over strength, ring held round [-]."""
        return self.tension / self.carries if self.carries else None

    @property
    def share_bent(self) -> float | None:
        """The same where the wall is free to bend at the seam [-]."""
        return None if self.share is None else self.share * self.bent / self.even


@dataclass(frozen=True)
class FitAnswer:
    """The whole answer. status: advised, refused; flags: what must be seen first."""

    status: str
    job: FitJob
    body: FitMetal | None
    ring: FitMetal | None
    restricted: tuple[str, ...]
    smoothing: float
    held: tuple[FitState, ...]
    seam: SeamUnderHoop | None
    loosens_c: float | None
    heat_limit: tuple[float, str] | None
    ways: tuple[AssemblyMethod, ...]
    press_force: float | None
    flags: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[Caution, ...]
    codes: tuple[Code, ...]
    refusals: tuple[Refusal, ...]
    trail: tuple[str, ...]
    inch_first: bool = False
    content_hash: str = ""
