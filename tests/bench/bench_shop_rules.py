"""A large shop: 10,000 rules of its own in 200 files. Full check and compile, one file touched, and a warm `setup`.

Run: python tests/bench/bench_shop_rules.py [rules] [files]
Wanted: full check and compile under 60 s; after touching one file under 2 s; a warm `setup` no slower than with 100
rules (ratio of the medians of runs taken in turn). The rules are invented, for this measurement only: they spread over
alloys, joints and thickness as a very large shop's might.
"""

from __future__ import annotations

import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUN = "import sys; sys.argv = ['prestrike', *sys.argv[1:]]; from advisor.cli.main import run; run()"
JOB = ["setup", "--metal", "6061-T6", "--thickness", "1/8 in", "--joint", "butt", "--brief"]
JOINTS = ("butt", "tee", "lap", "edge", "corner-open")
PAIRS = 10
HEAD = """# yaml-language-server: $schema=../../schemas/rules.schema.json
kind: rules
ruleset: bench-{file}
version: 1.0.0
schema: 1
history:
  - {{version: 1.0.0, date: 2026-11-25, change: first set}}
sources:
  - {{id: own, title: Invented for a measurement, kind: shop-habit, evidence: common-practice}}
rules:
"""
RULE = """  - id: bench.f{file}.r{rule}
    topic: current
    when: {{process: "141", alloy: "b-{alloy}", joint: {joint}, thickness: {{from: {low} mm, below: {high} mm}}}}
    start: {{low: {amps} A, high: {most} A}}
    source: [{{doc: own}}]
    because: Invented for a measurement.
    examples:
      - {{job: {{process: "141", alloy: "b-{alloy}", joint: {joint}, thickness: {low} mm}}, gives: {{low: {amps} A}}}}
      - {{job: {{process: "141", alloy: "b-{alloy}", joint: {joint}, thickness: {high} mm}}, fires: false}}
"""


def write_shop(folder: Path, rules: int, files: int) -> None:
    """Invented rules, evenly over the files; every alloy has one rule a joint and millimetre, so that none clash."""
    folder.mkdir(parents=True)
    chance = random.Random(7)
    each = rules // files
    for file in range(files):
        parts = [HEAD.format(file=file)]
        for rule in range(each):
            number = file * each + rule
            band, joint, alloy = number % 8, JOINTS[number // 8 % 5], number // 40
            amps = round(30 * (band + 1) + chance.uniform(0, 15))
            sizes = {"low": band + 1, "high": band + 2, "amps": amps, "most": amps + 9}
            parts.append(RULE.format(file=file, rule=rule, alloy=alloy, joint=joint, **sizes))
        (folder / f"shop-{file:03d}.yaml").write_text("".join(parts), encoding="utf-8")


def touch(folder: Path) -> None:
    """Change one number of one file."""
    path = sorted(folder.glob("*.yaml"))[len(list(folder.glob("*.yaml"))) // 2]
    text = path.read_text(encoding="utf-8")
    stamp = f"Invented for a measurement at {time.time_ns()}."
    path.write_text(text.replace("because: Invented for a measurement.", f"because: {stamp}", 1), encoding="utf-8")


def seconds(cache: Path, *arguments: str) -> float:
    """Time of one whole command in a process of its own."""
    own = {"PRESTRIKE_CACHE": str(cache), "PRESTRIKE_CONFIG": str(cache / "none")}
    begin = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", RUN, *arguments],
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env={**os.environ, **own}, text=True, check=False,
    )  # fmt: skip
    spent = time.perf_counter() - begin
    if done.returncode != 0:
        raise SystemExit(f"{arguments} ended with {done.returncode}:\n{done.stdout[-2000:]}")
    return spent


def measure(root: Path, rules: int, files: int) -> dict[str, float]:
    """Seconds of each step; a fresh cache for the first check and for the first compile."""
    big, small = root / "big", root / "small"
    write_shop(big, rules, files)
    write_shop(small, 100, 2)
    found = {"full check": seconds(root / "c1", "rules", "check", "--rules", str(big))}
    found["setup that compiles all"] = seconds(root / "c2", *JOB, "--rules", str(big))
    found["warm check"] = seconds(root / "c1", "rules", "check", "--rules", str(big))
    touch(big)
    found["check after one file changed"] = seconds(root / "c1", "rules", "check", "--rules", str(big))
    touch(big)
    found["setup after one file changed"] = seconds(root / "c2", *JOB, "--rules", str(big))
    seconds(root / "c3", *JOB, "--rules", str(small))
    pairs = [
        (seconds(root / "c2", *JOB, "--rules", str(big)), seconds(root / "c3", *JOB, "--rules", str(small)))
        for _ in range(PAIRS)
    ]
    found["warm setup"] = statistics.median(pair[0] for pair in pairs)
    found["warm setup with 100 rules"] = statistics.median(pair[1] for pair in pairs)
    return found


def main() -> None:
    rules, files = (int(word) for word in (*sys.argv[1:3], *("10000", "200")[len(sys.argv) - 1 :]))
    with tempfile.TemporaryDirectory() as name:
        found = measure(Path(name), rules, files)
    print(f"{rules} shop rules in {files} files")
    for step, spent in found.items():
        print(f"{spent:8.2f} s  {step}")
    print(f"{found['warm setup'] / found['warm setup with 100 rules']:8.2f}    warm setup, ratio to 100 rules")


if __name__ == "__main__":
    main()
