"""Where the heat goes in a joint of two members: aim, power, and how near the thin edge is to melting back.

The steady field of the real pair is solved in `physics/arc_aim.py`. It takes most of a second and the numeric
libraries, so what it found is kept by its inputs: `setup` asks for the same pair again without computing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.facts import Workpiece
from advisor.job.job import Job
from advisor.rulebook.checked_yaml import kept_numbers

if TYPE_CHECKING:
    from advisor.physics.heat_split import PlateMember

# ISO/AWS joint names of a job -> heat paths the physics knows.
_PATHS = {
    "butt": "butt",
    "corner-open": "corner",
    "corner-half-open": "corner",
    "corner-closed": "corner",
    "corner-inside": "corner",
    "tee": "tee",
    "lap": "lap",
    "edge": "edge",
}
ARC_RADIUS = 2.0
ARC_RADII = (1.5, 3.0)
# A pool a quarter inch across is what a textbook trains beginners to hold (Gas Tungsten Arc Welding Handbook, 2021,
# p. 138, read); on a heavy member it must be wide enough for heat to be even through the thickness.
POOL_HALF_WIDTH = 3.2
POOL_OF_HEAVY = 0.625


class Conditions(NamedTuple):
    """What the solve assumes: travel [mm/s], half width of the melted edge [mm], arc radius sigma [mm]."""

    travel: float
    half_width: float
    arc_radius: float


class PairHeat(NamedTuple):
    """How a pair takes the heat. Pairs are (first member, second member); offset [mm] toward the second; power [W] net.

    melt_back: see `physics.arc_aim.ArcAim`; offset_spread: offset [mm] at the smallest and largest arc radius;
    members: figures of each in SI, as `physics.heat_split.Member` takes them.
    """

    offset: float
    power: float
    equal_pair_power: tuple[float, float]
    arc_share: tuple[float, float]
    half_width_centred: tuple[float, float]
    half_width_aimed: tuple[float, float]
    melt_back_centred: tuple[float, float]
    melt_back_aimed: tuple[float, float]
    offset_spread: tuple[float, float]
    conditions: Conditions
    paths: str
    members: tuple[tuple[float, ...], ...]

    @property
    def thick_only_power(self) -> float:
        """What the trade's habit, setting for the heavier member alone, would put in [W]."""
        return max(self.equal_pair_power)


def default_conditions(thicker: float, travel_mm_min: float | None) -> Conditions:
    """Travel from the settled setting, else 2 mm/s; a pool that suits the heavier member [mm]."""
    travel = travel_mm_min / 60 if travel_mm_min else 2.0
    return Conditions(round(travel, 2), round(max(POOL_HALF_WIDTH, POOL_OF_HEAVY * thicker), 2), ARC_RADIUS)


def pair_heat(job: Job, pieces: tuple[Workpiece, ...], conditions: Conditions) -> PairHeat:
    """The heat of the pair. Raises PrestrikeError where a metal has no figures or the physics does not reach."""
    inputs: dict[str, Any] = {
        "members": [_figures(piece, _width(job, index)) for index, piece in enumerate(pieces)],
        "joint": _PATHS[job.joint],
        "conditions": list(conditions),
    }
    kept = kept_numbers("pair", inputs, lambda: _solve(inputs))
    members = tuple(_si(figures) for figures in inputs["members"])
    return _from_kept(kept, conditions, _PATHS[job.joint], members)


def _width(job: Job, index: int) -> float | None:
    member = job.members[min(index, len(job.members) - 1)]
    return member.width.value if member.width is not None else None


def _figures(piece: Workpiece, width: float | None) -> dict[str, float | None]:
    material = piece.material
    found = {name: material.value(name) for name in ("conductivity", "density", "specific_heat", "solidus")}
    missing = [name for name, value in found.items() if value is None]
    if missing:
        text = f"{material.label} has no {missing[0].replace('_', ' ')} here, so its heat cannot be computed"
        raise PrestrikeError(Diagnostic("no-figure", text, help="name the alloy, or its nearest kin"))
    return {"thickness": piece.thickness, "width": width, **found}


def _solve(inputs: dict[str, Any]) -> dict[str, Any]:
    from advisor.physics.arc_aim import aim_arc, best_offset
    from advisor.physics.seam_modes import Arc

    first, second = (_member(figures) for figures in inputs["members"])
    travel, half_width, radius = inputs["conditions"]

    def arc(sigma: float) -> Arc:
        return Arc(travel * 1e-3, sigma * 1e-3)

    found = aim_arc(first, second, arc(radius), half_width * 1e-3, inputs["joint"])
    result: dict[str, Any] = {name: _pair(getattr(found, name)) for name in PairHeat._fields if hasattr(found, name)}
    members = (first, second)
    wide = half_width * 1e-3
    spread = [_or(found.offset, best_offset, *members, arc(sigma), wide, inputs["joint"]) for sigma in ARC_RADII]
    result["offset_spread"] = [offset * 1e3 for offset in spread]
    return result


def _or(otherwise: float, compute: Callable[..., float], *arguments: Any) -> float:
    """A number of the physics; the one given where it does not reach there."""
    from advisor.physics.ranges import PhysicsRangeError

    try:
        return float(compute(*arguments))
    except PhysicsRangeError:
        return otherwise


def _pair(value: Any) -> Any:
    return [float(item) for item in value] if isinstance(value, tuple) else float(value)


def _member(figures: dict[str, float]) -> PlateMember:
    from advisor.physics.heat_split import PlateMember

    return PlateMember(*_si(figures))


def _si(figures: Mapping[str, Any]) -> tuple[float, ...]:
    """thickness [m], conductivity [W/(m K)], rho c [J/(m3 K)], solidus [degC], width [m]."""
    width = figures["width"]
    return (
        figures["thickness"] * 1e-3,
        figures["conductivity"],
        figures["density"] * figures["specific_heat"],
        figures["solidus"],
        width * 1e-3 if width else float("inf"),
    )


def _from_kept(
    data: dict[str, Any], conditions: Conditions, paths: str, members: tuple[tuple[float, ...], ...]
) -> PairHeat:
    def in_mm(name: str) -> tuple[float, float]:
        return data[name][0] * 1e3, data[name][1] * 1e3

    return PairHeat(
        offset=data["offset"] * 1e3,
        power=data["power"],
        equal_pair_power=tuple(data["equal_pair_power"]),
        arc_share=tuple(data["arc_share"]),
        half_width_centred=in_mm("half_width_centred"),
        half_width_aimed=in_mm("half_width_aimed"),
        melt_back_centred=tuple(data["melt_back_centred"]),
        melt_back_aimed=tuple(data["melt_back_aimed"]),
        offset_spread=(min(data["offset_spread"]), max(data["offset_spread"])),
        conditions=conditions,
        paths=paths,
        members=members,
    )
