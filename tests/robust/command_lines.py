"""Command lines over all commands and flags: as a person would type them, with a slip, and out of all reason."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

SEED = 20261127
# Words a person might give for a flag or an argument, by its name.
GOOD: dict[str, Sequence[str]] = {
    "metal": ("6061-T6", "5052-H32", "7075-T6", "3003", "304", "316L", "mild steel", "A36", "4130", "356", "1100-O"),
    "thickness": ("3.2 mm", "1/8 in", "16 ga", "0.5 mm", "25 mm", "1 1/2 in", "2 mm", ".063 in"),
    "joint": ("butt", "tee", "lap", "edge", "corner", "corner-closed", "corner-inside", "fillet"),
    "weld": ("groove", "fillet"),
    "position": ("PA", "PB", "PF", "PG", "vertical", "overhead", "flat"),
    "process": ("TIG", "141", "MIG", "135", "131", "stick", "111", "912", "brazing", "wire"),
    "surface": ("clean", "anodised", "galvanised", "painted", "mill-scale", "rusty", "oily,painted"),
    "form": ("sheet", "plate", "bar", "extrusion", "tube", "casting"),
    "service": ("leak-tight", "structural", "pressure", "anodised-after", "hot-service", "food"),
    "filler": ("ER5356", "4043", "ER70S-2", "308L"),
    "electrode": ("E7018", "6011", "308L"),
    "tungsten_type": ("WLa15", "WTh20", "blue"),
    "access": ("one-side", "both-sides"),
    "backing": ("none", "copper", "purge", "temporary-bar"),
    "place": ("indoors", "outdoors", "confined"),
    "solvent": ("acetone", "isopropyl", "chlorinated"),
    "gas": ("argon", "helium", "argon-co2", "co2"),
    "transfer": ("short-circuit", "spray", "pulsed-spray"),
    "units": ("metric", "inch"),
    "job": ("coolant-tank.yaml", "guard-bracket.yaml"),
    "machine": ("bench-machine.yaml",),
    "rules": ("own.yaml",),
    "jobs": ("jobs.csv", "folder", "."),
    "output": ("out", "out.md", "out.html", "new.json", "saved.json"),
    "saved": ("saved.json",),
    "check": ("rules.lock.json", "saved.json"),
    "files": ("saved.json", "folder", "."),
    "old": ("saved.json", "own.yaml"),
    "new": ("own.yaml",),
    "photo": ("photo.jpg",),
    "path": ("trials.csv", "x.json"),
    "journal": ("journal.sqlite", "trials.csv", "trials.json"),
    "job_file": ("coolant-tank.yaml",),
    "quantity": ("current", "filler", "gas_flow", "caution", "cleaning", "groove", "refusal", "preheat"),
    "said": ("135 A", "9 L/min", "ER5356", "wipe it: twice"),
    "folder": ("demo", "folder"),
    "topic": ("current", "gas_flow", "filler", "cleaning_step", "caution"),
    "layer": ("shop", "machine", "job"),
    "rule_id": ("current.aluminium.butt.ap",),
    "name": ("6061", "304", "mild steel"),
    "paper": ("a4", "letter"),
    "verdict": ("good", "usable", "bad"),
    "seen": ("O08", "undercut at the top", "soot", "porosity"),
    "not_seen": ("O08",),
    "cause": ("C28", "C01"),
    "accept": ("C28",),
    "current": ("128 A", "40 A"),
    "level": ("B", "C", "D"),
    "used": ("current=120 A", "gas_flow=9 L/min", "filler=ER4043"),
    "trial": ("a", "1", "demo-1"),
    "box": ("300 mm, 200 mm, 150 mm", "12 in, 8 in, 6 in"),
    "bracket": ("60 mm, 40 mm, 50 mm",),
    "frame": ("600 mm, 400 mm, 30 mm",),
    "stand": ("600 mm, 400 mm, 700 mm, 30 mm",),
    "section": ("30 mm", "30 mm x 30 mm"),
    "seam": ("4 x 300 mm", "200 mm"),
    "stock": ("1 m x 2 m", "6 m"),
    "way": ("weld", "bend", "rivet"),
    "sides": ("1", "2"),
    "fit": ("P7/bearing", "H7/p6"),
    "ring_metal": ("steel", "bronze"),
    "found": ("undercut=0.5 mm",),
    "group": ("line", "box"),
    "direction": ("shear", "pull", "along", "across"),
    "seams": ("1", "2"),
    "dilution": ("30 %",),
    "panel": ("300 mm, 200 mm",),
    "corner": ("overlap", "flush"),
    "through": ("front",),
    "friction": ("0.12",),
    "body_poisson": ("0.33",),
    "price_filler": ("12", "20 /kg"),
    "price_gas": ("0.1", "5 /m3"),
    "service_temperature": ("80 degC", "-20 degC"),
    "temperature": ("20 degC",),
    "pressure": ("2 bar", "30 psi"),
    "cylinder": ("50 L", "20 L"),
    "clearance": ("0.05 mm",),
    "load": ("500 N", "100 lbf"),
    "body_modulus": ("70 GPa",),
    "ring_modulus": ("210 GPa",),
    "travel": ("120 mm/min",),
    "cleaned_ago": ("5 h",),
    "volume": ("20 L",),
    "start": ("1.2 bar",),
    "end": ("1.1 bar",),
    "after": ("10 min",),
}
_SIZES = ("4 mm", "60 mm", "1/4 in", "0.05 mm", "300 mm")
BAD = (
    "",
    " ",
    "-",
    "--",
    "0",
    "-1",
    "-5 mm",
    "nan",
    "NaN mm",
    "inf mm",
    "1e400 mm",
    "9" * 400,
    "9" * 5000 + " mm",
    "1/0 in",
    "1_6 mm",
    "3,2 mm",
    "3.2",
    "mm",
    "0 mm",
    "0 A",
    "1e9 A",
    "٣ mm",
    "²",
    "½ in",
    "ü" * 300,
    "\udcff",
    "a\udc80b",
    "\ud800",
    "\x1b[31mred",
    "a\nb",
    "a\tb",
    "\x07",
    "%s%d{0}{x}",
    "$(reboot)",
    "=1+1",
    "'; DROP TABLE trials; --",
    "../../..",
    "/",
    "/dev/zero",
    "/dev/null",
    "pipe.yaml",
    "nowhere.yaml",
    "round.json",
    "zero.csv",
    "folder",
    "empty",
    "photo.jpg",
    ".",
    "x" * 300,
    "x/" * 3000,
    "not-there.yaml",
    "journal.sqlite/x",
    "null",
    "true",
    "[]",
    "{}",
    "a=b",
    "current=",
    "=120 A",
    ",,,",
    "1,2,3",
    "5052-H99",
    "unobtainium",
    "zz",
    "16 ga",
    "999 ga",
    "16.5 ga",
    "1 x 1 x 1",
    "1000000 x 3 mm",
    "0 x 3 mm",
    "a b c d",
)
# The shell's own files, and a browser, are not for a test.
_LEFT_OUT = ("install_completion", "show_completion")
# Commands that take seconds each come seldom.
_SLOW = {
    "rules check": 0.02,
    "rules test": 0.05,
    "heat": 0.2,
    "sheet": 0.3,
    "learn": 0.15,
    "compare": 0.4,
    "cracks": 0.5,
}


class Flag(NamedTuple):
    """A flag or an argument of a command."""

    name: str
    spelling: str
    bare: bool
    needed: bool


def commands() -> dict[str, tuple[Flag, ...]]:
    """Every command with its flags, as the program itself declares them."""
    import typer

    from advisor.cli.main import COMMANDS, build_app

    found: dict[str, tuple[Flag, ...]] = {}

    def walk(command: Any, path: tuple[str, ...]) -> None:
        for name, inner in getattr(command, "commands", {}).items():
            walk(inner, (*path, name))
        if not hasattr(command, "commands"):
            flags = [_flag(item) for item in command.params if item.name not in _LEFT_OUT]
            found[" ".join(path)] = tuple(flags)

    walk(typer.main.get_command(build_app(list(COMMANDS))), ())
    return found


def _flag(item: Any) -> Flag:
    if item.param_type_name == "argument":
        return Flag(item.name, "", False, item.required)
    return Flag(item.name, item.opts[0], bool(item.is_flag), False)


def command_lines(count: int) -> Iterator[list[str]]:
    """So many command lines, the same ones every time."""
    rng = random.Random(SEED)
    known = commands()
    names = list(known)
    weights = [_SLOW.get(name, 1.0) for name in names]
    for _ in range(count):
        name = rng.choices(names, weights)[0]
        yield _line(rng, name, known[name], rng.choice((0.0, 0.05, 0.3, 0.9)))


def _line(rng: random.Random, name: str, flags: Sequence[Flag], bad: float) -> list[str]:
    """bad: the share of values out of all reason."""
    words = name.split()
    by_name = {flag.name: flag for flag in flags}
    if {"metal", "thickness", "joint"} <= by_name.keys() and rng.random() < 0.8:
        for part in ("metal", "thickness", "joint"):
            words += [by_name[part].spelling, _value(rng, part, bad)]
        if rng.random() < 0.2:
            words += ["--metal", _value(rng, "metal", bad), "--thickness", _value(rng, "thickness", bad)]
    for flag in flags:
        if not flag.spelling and (flag.needed or rng.random() < 0.15):
            words.append(_value(rng, flag.name, bad))
    spelled = [flag for flag in flags if flag.spelling]
    for flag in rng.sample(spelled, min(rng.choice((0, 1, 1, 2, 3, 6)), len(spelled))):
        words += [flag.spelling] if flag.bare else [flag.spelling, _value(rng, flag.name, bad)]
    if rng.random() < 0.3:
        words.append("--json")
    if rng.random() < 0.05:
        words.insert(rng.randrange(len(words) + 1), rng.choice((*BAD, "--nonsense", "--joint", "-m", "--help", "-x")))
    if rng.random() < 0.03:
        rng.shuffle(words)
    return words


def _value(rng: random.Random, name: str, bad: float) -> str:
    return rng.choice(BAD if rng.random() < bad else GOOD.get(name, _SIZES))
