"""Jobs made at random, the same for the same seed: metals, joints, positions, surfaces, services, machines."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

LIGHT = (
    "5052-H32", "6061-T6", "3003", "1050A", "5083-H116", "5086", "5754", "6082-T6", "6063", "7020", "A356", "6005A",
    "unknown-aluminium", "unknown-casting",
)  # fmt: skip
STEEL = ("A36", "1018", "S235", "A500", "S355", "unknown-steel")
LOW_ALLOY = ("4130",)
STAINLESS = ("304", "304L", "316L", "unknown-stainless")
METRIC = ("0.8 mm", "1 mm", "1.2 mm", "1.6 mm", "2 mm", "2.5 mm", "3 mm", "3.2 mm", "4 mm", "5 mm", "6 mm", "8 mm",
          "9.5 mm")  # fmt: skip
INCHES = ("1/32 in", "3/64 in", "1/16 in", "3/32 in", "1/8 in", "3/16 in", "1/4 in", "5/16 in", "3/8 in")
JOINTS = ("butt", "corner-open", "corner-half-open", "corner-closed", "corner-inside", "tee", "lap", "edge")
FLAT = {"butt": "PA", "edge": "PA", "corner-open": "PA", "corner-half-open": "PA", "corner-closed": "PA"}
POSITIONS = ("PA", "PB", "PC", "PD", "PE", "PF", "PG")
ANY_SURFACE = ("mill-finish", "clean", "painted", "oily", "weathered", "plated")
LIGHT_SURFACE = (*ANY_SURFACE, "anodised")
STEEL_SURFACE = (*ANY_SURFACE, "galvanised", "mill-scale", "rusty")
SERVICES = ("ordinary", "leak-tight", "machined-after", "anodised-after", "hot-service", "sea-water", "structural",
            "pressure", "vehicle", "food")  # fmt: skip
BACKINGS = ("", "", "", "none", "temporary-bar", "grooved-bar", "copper", "purge")
LENGTHS = {"metric": ("15 mm", "60 mm", "150 mm", "300 mm", "1000 mm"), "inch": ("1/2 in", "2 in", "6 in", "12 in")}
BOXES = (["300 mm", "200 mm", "150 mm"], ["150 mm", "100 mm", "80 mm"])
MACHINES: tuple[dict[str, Any], ...] = (
    {
        "kind": "machine", "schema": 1, "name": "bench inverter 200", "current_type": "ac-dc", "lowest_current": "5 A",
        "highest_current": "200 A", "duty": [{"current": "200 A", "percent": "25 %"}, {"current": "100 A", "percent":
        "100 %"}], "balance_control": True, "frequency_control": True, "torch_cooling": "air", "torch_limit": "150 A",
    },
    {
        "kind": "machine", "schema": 1, "name": "small dc 130", "current_type": "dc", "lowest_current": "10 A",
        "highest_current": "130 A", "duty": [{"current": "130 A", "percent": "30 %"}, {"current": "80 A", "percent":
        "100 %"}],
    },
    {
        "kind": "machine", "schema": 1, "name": "old transformer", "current_type": "ac-dc", "lowest_current": "40 A",
        "highest_current": "300 A", "balance_control": False, "frequency_control": False, "torch_cooling": "water",
    },
    {"kind": "machine", "schema": 1, "name": "tiny ac-dc 100", "current_type": "ac-dc", "highest_current": "100 A"},
)  # fmt: skip


def generated(count: int, seed: int = 11) -> Iterator[dict[str, Any]]:
    """Mappings of `count` jobs, as a job file would hold them."""
    chance = random.Random(seed)
    for number in range(count):
        yield _one(chance, number)


def _one(chance: random.Random, number: int) -> dict[str, Any]:
    process = chance.choices(("141", "131", "135", "111", "912"), (60, 10, 14, 12, 4))[0]
    metals = _metals(chance, process)
    inches = chance.random() < 0.3
    joint = chance.choice(JOINTS)
    data: dict[str, Any] = {
        "name": f"generated {number}",
        "process": process,
        "joint": joint,
        "members": _members(chance, metals, INCHES if inches else METRIC),
        "service": chance.sample(SERVICES, 2) if chance.random() < 0.3 else [chance.choice(SERVICES[:4])],
    }
    if joint in ("tee", "corner-inside") and chance.random() < 0.15:
        data["weld"] = "groove"
    if chance.random() < 0.5:
        data["position"] = chance.choice(POSITIONS)
    for name, values, share in (
        ("access", ("one-side", "both-sides"), 0.4),
        ("backing", BACKINGS, 0.6),
        ("place", ("outdoors", "confined"), 0.1),
        ("length", LENGTHS["inch" if inches else "metric"], 0.5),
        ("machine", MACHINES, 0.4),
        ("leg", ("4 mm", "6 mm"), 0.1),
        ("gas", ("argon", "argon-helium", "helium") if process == "141" else ("",), 0.2),
        ("tungsten_type", ("WLa15", "WTh20", "WCe20") if process == "141" else ("",), 0.2),
        ("solvent", ("acetone", "chlorinated"), 0.1),
        ("units", ("metric", "inch"), 0.2),
    ):
        if chance.random() < share:
            data[name] = chance.choice(values)
    if chance.random() < 0.15:
        data["closed_volume"] = True
    if chance.random() < 0.06 and process == "141":
        data["part"] = {"box": chance.choice(BOXES), "open_top": chance.random() < 0.7}
    return {name: value for name, value in data.items() if value != ""}


def _metals(chance: random.Random, process: str) -> list[str]:
    families = {
        "131": (LIGHT,),
        "135": (STEEL, STAINLESS, LOW_ALLOY),
        "111": (STEEL, STAINLESS, LOW_ALLOY),
    }.get(process, (LIGHT, LIGHT, LIGHT, STEEL, STAINLESS, LOW_ALLOY))
    family = chance.choice(families)
    first = chance.choice(family)
    if chance.random() < 0.6:
        return [first]
    other = family if family is LIGHT else (*STEEL, *STAINLESS, *LOW_ALLOY)
    return [first, chance.choice(other)]


def _members(chance: random.Random, metals: list[str], sizes: tuple[str, ...]) -> list[dict[str, Any]]:
    first = chance.choice(sizes)
    unlike = chance.random() < 0.4
    if unlike and len(metals) == 1:
        metals = metals * 2
    members = []
    for index, metal in enumerate(metals):
        states = LIGHT_SURFACE if metal in LIGHT else STEEL_SURFACE
        member: dict[str, Any] = {"metal": metal, "thickness": chance.choice(sizes) if unlike and index else first}
        member["surface"] = chance.sample(states, 2) if chance.random() < 0.15 else [chance.choice(states)]
        if chance.random() < 0.3:
            member["form"] = chance.choice(("sheet", "plate", "bar", "tube"))
        members.append(member)
    return members
