"""Harmed files of every kind the program reads: no traceback, no exit code 1, no hang.

PRESTRIKE_ROBUST=long runs 2,000 of them; the normal run takes the first few of the same.
"""

from __future__ import annotations

import collections
import json
from pathlib import Path

from tests.robust.file_mutations import KINDS, mutations, place_of
from tests.robust.in_process import LONG, fault_of, fresh_files, run, workplace

COUNT = 2_000 if LONG else 36
DRAFT = {"metal": "6061-T6", "thickness": "3 mm", "joint": "butt"}


def test_no_harmed_file_ends_in_a_fault(cache: Path, tmp_path: Path) -> None:
    faults, codes = [], collections.Counter[tuple[str, int | None]]()
    with workplace(tmp_path / "shop") as folder:
        fresh_files(folder)
        (folder / "new.yaml.draft").write_text(json.dumps(DRAFT), encoding="utf-8")
        places = {kind.name: place_of(folder, cache, kind) for kind in KINDS}
        sound = {name: path.read_bytes() for name, path in places.items()}
        for number, (kind, raw, command) in enumerate(mutations(sound, COUNT)):
            path = places[kind.name]
            path.write_bytes(raw)
            line = [str(path) if word == "FILE" else word for word in command]
            ended = run(line)
            codes[kind.name, ended.code] += 1
            if fault := fault_of(line, ended):
                faults.append(f"{number}: {line!r} with {raw[:200]!r}\n   {fault}")
                print(faults[-1], flush=True)
            for name, place in places.items():
                place.write_bytes(sound[name])
            for left in ("out.csv", "new.yaml", "journal.sqlite-wal", "journal.sqlite-shm"):
                (folder / left).unlink(missing_ok=True)
    print(COUNT, "harmed files;", dict(codes))
    assert not faults, f"{len(faults)} faults\n" + "\n".join(faults[:20])
    assert all(any(codes[kind.name, code] for code in (0, 2)) for kind in KINDS), codes
