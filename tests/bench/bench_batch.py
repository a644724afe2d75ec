"""1,000 jobs of a CSV file through `prestrike setup --jobs`: under 30 s on two cores, one bad row named by its line.

Run: python tests/bench/bench_batch.py
"""

from __future__ import annotations

import csv
import subprocess
import sys
import tempfile
import time
from pathlib import Path

LIMIT = 30.0
METALS = ("6061-T6", "5052-H32", "A36", "304", "3003")
JOINTS = ("butt", "tee", "lap", "corner-open", "corner-inside")


def write_jobs(path: Path, count: int, bad: int) -> None:
    """A file of jobs, all different; the one at index `bad` has a thickness without a unit."""
    with path.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.writer(stream)
        writer.writerow(["name", "metal", "thickness", "thickness_2", "joint", "service"])
        for index in range(count):
            size = 1.0 + (index * 37 % 220) / 50
            thin = f"{size:.2f}" if index == bad else f"{size:.2f} mm"
            thick = f"{size * 1.6:.2f} mm" if index % 4 == 0 else ""
            service = "leak-tight; machined-after" if index % 3 == 0 else "ordinary"
            writer.writerow([f"part {index}", METALS[index % 5], thin, thick, JOINTS[index // 5 % 5], service])


def run(count: int = 1000, bad: int = 500) -> tuple[float, str, str, int, int]:
    """Seconds, what was printed, what went wrong, exit code, files written."""
    with tempfile.TemporaryDirectory() as folder:
        jobs, out = Path(folder) / "jobs.csv", Path(folder) / "out"
        write_jobs(jobs, count, bad)
        begun = time.perf_counter()
        command = [sys.executable, "-m", "advisor.cli.main", "setup", "--jobs", str(jobs), "-o", str(out)]
        ran = subprocess.run(command, capture_output=True, text=True, check=False)
        seconds = time.perf_counter() - begun
        return seconds, ran.stdout, ran.stderr, ran.returncode, len(list(out.glob("*.txt")))


if __name__ == "__main__":
    seconds, printed, wrong, code, files = run()
    print(printed.splitlines()[-1])
    print(wrong.strip())
    print(f"{seconds:.1f} s for 1000 jobs ({files} answers), exit code {code}")
    sys.exit(not (seconds < LIMIT and code == 2 and ":502" in wrong and files == 999))
