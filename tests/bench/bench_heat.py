"""Whole-process time of `prestrike heat` on the demo tank, nothing kept from before: wanted under 3 s.

Run: python tests/bench/bench_heat.py
The rules are compiled beforehand; what is measured is aim, power and the whole weld sequence, in both cases from the
command line to the last line printed.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def seconds(cache: str) -> float:
    begin = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "advisor.cli.main", "heat", str(ROOT / "advisor/demo/coolant-tank.yaml")],
        check=True, stdout=subprocess.DEVNULL, cwd=ROOT, env={**os.environ, "PRESTRIKE_CACHE": cache},
    )  # fmt: skip
    return time.perf_counter() - begin


def forget(cache: str) -> None:
    """Throw away the kept heat answers, not the compiled rules."""
    for pattern in ("pair-*.json", "part-*.json"):
        for path in Path(cache).glob(pattern):
            path.unlink()


def main() -> None:
    with tempfile.TemporaryDirectory() as cache:
        seconds(cache)
        fresh = []
        for _ in range(5):
            forget(cache)
            fresh.append(seconds(cache))
        again = min(seconds(cache) for _ in range(5))
        print(
            f"computed {sorted(fresh)[2]:.2f} s (median of 5), kept {again:.2f} s, ratio {sorted(fresh)[2] / again:.1f}"
        )


if __name__ == "__main__":
    main()
