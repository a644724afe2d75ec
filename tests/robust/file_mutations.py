"""Files that went wrong: bytes flipped, cut, doubled, nested, huge numbers, values of another kind."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

SEED = 1127
_WORDS = (
    b"9" * 5000,
    b"1e999",
    b"-1",
    b"0",
    b"NaN",
    b"Infinity",
    b'""',
    b"null",
    b"[]",
    b"{}",
    b"true",
    b"\xff\xfe",
    b"\x00",
    b'"\\ud800"',
    b"\x1b[2J",
    b"-5 A",
    b"1_6 mm",
    b"=1+1",
    b"x" * 100_000,
    b"&a [*a]",
    b"!!python/name:os.system",
    b"\t",
    b"'",
    b'"',
)
_VALUES: tuple[Any, ...] = (
    None,
    True,
    0,
    -1,
    1e300,
    10**30,
    "",
    "zz",
    "\x00",
    [],
    {},
    [None],
    {"a": 1},
    "9" * 5000,
    [[[[[]]]]],
    "3 mm",
)


class Kind(NamedTuple):
    """A kind of file. name: of the sound file; commands: that read it, with its name in place of FILE."""

    name: str
    commands: tuple[tuple[str, ...], ...]


SIZES = ("--metal", "6061", "--thickness", "3 mm", "--joint", "butt")
KINDS = (
    Kind(
        "coolant-tank.yaml",
        (("setup", "FILE", "--json"), ("prep", "FILE"), ("consumables", "FILE"), ("blanks", "FILE")),
    ),
    Kind(
        "bench-machine.yaml", (("setup", *SIZES, "--machine", "FILE"), ("why", "current", *SIZES, "--machine", "FILE"))
    ),
    Kind(
        "own.yaml",
        (
            ("setup", *SIZES, "--rules", "FILE"),
            ("rules", "where", "--rules", "FILE", "--json"),
            ("rules", "migrate", "--rules", "FILE"),
            ("rules", "diff", "FILE"),
        ),
    ),
    Kind("jobs.csv", (("setup", "--jobs", "FILE", "-o", "out"),)),
    Kind("trials.csv", (("trial", "import", "FILE"), ("learn", "--journal", "FILE", "--json"))),
    Kind("trials.json", (("trial", "import", "FILE"), ("learn", "--journal", "FILE"))),
    Kind(
        "saved.json",
        (
            ("recheck", "FILE", "--json"),
            ("rules", "diff", "FILE"),
            ("rules", "lock", "--check", "FILE"),
            ("rules", "new", "135 A", "--from", "FILE"),
        ),
    ),
    Kind(
        "rules.lock.json", (("rules", "lock", "--check", "FILE", "--json"), ("rules", "lock", "-o", "FILE", "--renew"))
    ),
    Kind("new.yaml.draft", (("ask", "-o", "new.yaml"),)),
    Kind(
        "journal.sqlite",
        (
            ("trial", "list", "--journal", "FILE", "--json"),
            ("learn", "--journal", "FILE"),
            ("trial", "export", "out.csv", "--journal", "FILE"),
            ("trial", "show", "1", "--journal", "FILE"),
        ),
    ),
    Kind("photo.jpg", (("trial", "add", *SIZES, "--current", "90 A", "--verdict", "good", "--photo", "FILE"),)),
    Kind("last-answer.json", (("rules", "new", "135 A"), ("trial", "add", "--current", "90 A", "--verdict", "good"))),
)


def mutations(sound: dict[str, bytes], count: int) -> Iterator[tuple[Kind, bytes, tuple[str, ...]]]:
    """So many (kind, harmed bytes, command that reads them), the same ones every time."""
    rng = random.Random(SEED)
    for number in range(count):
        kind = KINDS[number % len(KINDS)]
        harms = [*HARMS, _other_value] if kind.name.endswith((".json", ".draft")) else HARMS
        raw = sound[kind.name]
        for _ in range(rng.choice((1, 1, 1, 2, 5))):
            raw = rng.choice(harms)(raw, rng)
        yield kind, raw, rng.choice(kind.commands)


def _flipped(raw: bytes, rng: random.Random) -> bytes:
    found = bytearray(raw)
    for _ in range(rng.choice((1, 2, 20)) if found else 0):
        found[rng.randrange(len(found))] ^= 1 << rng.randrange(8)
    return bytes(found)


def _cut(raw: bytes, rng: random.Random) -> bytes:
    start, end = sorted(rng.randrange(len(raw) + 1) for _ in range(2))
    return rng.choice((raw[:start], raw[start:], raw[:start] + raw[end:]))


def _doubled(raw: bytes, rng: random.Random) -> bytes:
    start, end = sorted(rng.randrange(len(raw) + 1) for _ in range(2))
    return raw[:end] + raw[start:]


def _nested(raw: bytes, rng: random.Random) -> bytes:
    deep, at = rng.choice((40, 900, 100_000)), rng.randrange(len(raw) + 1)
    opening, closing = rng.choice(((b"[", b"]"), (b'{"a":', b"}"), (b"- ", b"")))
    text = opening * deep + b"1" + closing * deep
    return rng.choice((text, raw[:at] + text + raw[at:]))


def _other_word(raw: bytes, rng: random.Random) -> bytes:
    """One word or number of the text replaced by one that does not belong there."""
    found = list(re.finditer(rb"[A-Za-z0-9_.+-]+", raw))
    if not found:
        return rng.choice(_WORDS)
    match = rng.choice(found)
    return raw[: match.start()] + rng.choice(_WORDS) + raw[match.end() :]


def _other_value(raw: bytes, rng: random.Random) -> bytes:
    """One value of a JSON document replaced by one of another kind, or taken out."""
    try:
        data = json.loads(raw)
    except (ValueError, RecursionError):
        return _flipped(raw, rng)
    places: list[tuple[Any, Any]] = []

    def walk(item: Any, depth: int) -> None:
        if depth < 50 and isinstance(item, (dict, list)):
            for key in item if isinstance(item, dict) else range(len(item)):
                places.append((item, key))
                walk(item[key], depth + 1)

    walk(data, 0)
    if not places:
        return json.dumps(rng.choice(_VALUES)).encode()
    holder, key = rng.choice(places)
    if rng.random() < 0.3:
        del holder[key]
    else:
        holder[key] = rng.choice(_VALUES)
    return json.dumps(data).encode()


HARMS: tuple[Callable[[bytes, random.Random], bytes], ...] = (_flipped, _cut, _doubled, _nested, _other_word)


def place_of(folder: Path, cache: Path, kind: Kind) -> Path:
    """Where the file of a kind lies."""
    return (cache if kind.name == "last-answer.json" else folder) / kind.name
