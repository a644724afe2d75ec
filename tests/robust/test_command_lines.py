"""Thousands of command lines: no traceback, no exit code 1, no hang, and JSON where JSON was asked for.

PRESTRIKE_ROBUST=long runs 20,000 of them; the normal run takes the first few hundred of the same.
"""

from __future__ import annotations

import collections
from pathlib import Path

from tests.robust.command_lines import command_lines, commands
from tests.robust.in_process import LONG, fault_of, fresh_files, run, workplace

COUNT = 20_000 if LONG else 100
# So many command lines share the files that they may write into.
SHARED = 250


def test_no_command_line_ends_in_a_fault(cache: Path, tmp_path: Path) -> None:
    faults, codes = [], collections.Counter[int | None]()
    with workplace(tmp_path / "shop") as folder:
        for number, line in enumerate(command_lines(COUNT)):
            if number % SHARED == 0:
                fresh_files(folder)
            ended = run(line)
            codes[ended.code] += 1
            if fault := fault_of(line, ended):
                faults.append(f"{number}: {line!r}\n   {fault}")
                print(faults[-1], flush=True)
    print(COUNT, "command lines over", len(commands()), "commands; exit codes", dict(codes))
    assert not faults, f"{len(faults)} faults\n" + "\n".join(faults[:20])
    assert codes[0] > COUNT / 10 and codes[2] > COUNT / 10, codes
