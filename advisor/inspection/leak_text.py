"""The leak test, as text and JSON."""

from __future__ import annotations

from typing import Any

from advisor.inspection.leak import MARGIN, MOST_ENERGY, MOST_FORCE, ROOM_C, LeakAnswer, WallCheck, water_head
from advisor.setup.as_json import number
from advisor.show.lines import wrap
from advisor.units.quantities import UnitTable, in_both_systems

_LIMITS = {
    "stress": "the yield of the welded wall",
    "bulge": "a bulge of half the thickness",
    "open tube": "the open water tube, which lets go by itself",
}


def leak_json(leak: LeakAnswer) -> dict[str, Any]:
    """The test as JSON data: Pa, m, N, J as named."""
    return {
        "air": leak.air,
        "reasons": list(leak.reasons),
        "instead": list(leak.instead),
        "pressure_Pa": number(leak.pressure),
        "limited_by": leak.limited_by or None,
        "wall": _wall_json(leak.wall),
        "asked": _wall_json(leak.asked),
        "full_of_water": _wall_json(leak.full),
        "water_holds": leak.water_holds,
        "energy_J": number(leak.energy),
        "volume_L": number(leak.volume),
        "volume_guessed": leak.volume_guessed,
        "open_top": leak.open_top,
        "proof_welded_Pa": number(leak.proof),
        "margin": MARGIN,
        "most_energy_J": MOST_ENERGY,
        "most_force_N": MOST_FORCE,
        "swing_Pa_per_K": number(leak.swing),
        "pressure_lost_Pa": number(leak.lost),
        "leak_rate_Pa_m3_s": number(leak.rate),
        "sources": list(leak.sources),
    }


def _wall_json(check: WallCheck | None) -> dict[str, Any] | None:
    if check is None:
        return None
    stress, bulge = check.stress or (None, None), check.bulge or (None, None)
    return {
        "long_mm": check.long,
        "short_mm": check.short,
        "thickness_mm": check.thickness,
        "pressure_Pa": number(check.pressure),
        "stress_Pa": {"clamped": number(stress[0]), "supported": number(stress[1])},
        "bulge_m": {"clamped": number(bulge[0]), "supported": number(bulge[1])},
        "force_N": number(check.force),
        "too_far": check.too_far or None,
    }


def _share_used(leak: LeakAnswer) -> str:
    """How the stresses shown stand to the share of the yield that a test may use."""
    shown = [check for check in (leak.wall if leak.air == "allowed" else None, leak.asked, leak.full) if check]
    allowed = leak.proof / MARGIN * (1 + 1e-9)
    if all(check.stress is not None and max(check.stress) <= allowed for check in shown):
        return f"no stress given here is above 1/{MARGIN:g} of it"
    return f"a test may use 1/{MARGIN:g} of it, and not all that is given here stays within that"


def leak_text(leak: LeakAnswer, inch_first: bool, units: UnitTable) -> list[str]:
    """The test as lines of 80 columns."""

    def pressure(pascal: float) -> str:
        return in_both_systems(pascal / 1e3, "pressure", inch_first=inch_first, table=units)

    lines = ["", "LEAK TEST WITH AIR: " + {"allowed": "A LITTLE", "refused": "NO", "unknown": "NO"}[leak.air]]
    for reason in leak.reasons:
        lines += wrap(reason + ".", "    ", "  - ")
    if leak.air == "allowed":
        head = water_head(leak.pressure) * 1e3
        lines += wrap(
            f"At most {pressure(leak.pressure)}, {head:.0f} mm on an open water tube; set by "
            f"{_LIMITS[leak.limited_by]}. Let it in with a hand pump, a stroke at a time, and watch the tube; never "
            "from a shop line without relief.",
            "  ",
        )
    checks = (
        ("At that pressure", leak.wall if leak.air == "allowed" else None),
        ("At the pressure asked", leak.asked),
        ("Full of water, over a whole side", leak.full),
    )
    for title, check in checks:
        if check is not None:
            lines += _wall_text(title, check, pressure(check.pressure), inch_first, units)
    if leak.proof:
        stress = in_both_systems(leak.proof / 1e6, "stress", inch_first=inch_first, table=units)
        lines += wrap(f"Yield of the wall beside the seam, as welded: {stress}; {_share_used(leak)}.", "  ")
    if leak.open_top:
        lines += wrap("The box is open on top: for air it needs a plate over it, which is a wall too. Try water.", "  ")
    if leak.volume_guessed:
        lines += wrap(f"What it holds was guessed as {leak.volume:.0f} L, as deep as it is long (--volume).", "  ")
    if leak.air == "refused" or leak.reasons or not leak.water_holds:
        lines.append("  Instead:")
        for number_, step in enumerate(leak.instead, 1):
            lines += wrap(step, "     ", f"  {number_}. ")
    lines += _temperature(leak, pressure)
    for source in leak.sources:
        lines += wrap(f"{source}]", "     ", "    [")
    return lines


def _wall_text(title: str, check: WallCheck, pressure: str, inch_first: bool, units: UnitTable) -> list[str]:
    def size(mm: float) -> str:
        return in_both_systems(mm, "length", inch_first=inch_first, table=units)

    sides = (check.long, check.short, check.thickness)
    inches = " x ".join(f"{side / 25.4:.3g}" for side in sides) + " in"
    wall = "wall " + (inches if inch_first else f"{check.long:.0f} x {check.short:.0f} x {check.thickness:.2g} mm")
    force = in_both_systems(check.force, "force", inch_first=inch_first, table=units)
    text = f"{title}, {pressure}: {wall}, {force} on it"
    if check.stress is None or check.bulge is None:
        return wrap(f"{text}; the plate formula ends before that ({check.too_far}).", "  ")
    low, high = (in_both_systems(value / 1e6, "stress", inch_first=inch_first, table=units) for value in check.stress)
    text += f"; bending stress {low} with clamped edges, {high} with edges that only rest"
    text += f"; bulge {size(check.bulge[0] * 1e3)} to {size(check.bulge[1] * 1e3)}."
    return wrap(text, "  ")


def _temperature(leak: LeakAnswer, pressure: Any) -> list[str]:
    if not leak.swing:
        return []
    lines = wrap(
        f"Temperature: each K of the air inside moves the reading by {leak.swing / 1e3:.2f} kPa "
        f"({water_head(leak.swing) * 1e3:.0f} mm of water) near {ROOM_C:.0f} °C; keep sun, hands "
        "and draughts off it, wait an hour, and read the barometer too: 1 hPa down reads 0.1 kPa up.",
        "  ",
    )
    if leak.lost is not None:
        what = f"lost {pressure(leak.lost)}" if leak.lost > 0 else f"gained {pressure(-leak.lost)}: check the readings"
        text = f"Your readings, temperature taken off: {what}"
        if leak.rate is not None:
            text += f"; a leak of {leak.rate:.2g} Pa m3/s ({leak.rate * 10:.2g} mbar l/s)"
        lines += wrap(text + ".", "  ")
    return lines
