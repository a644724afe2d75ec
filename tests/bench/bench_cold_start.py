"""Whole-process time of a warm `prestrike setup` beside a typer hello-world in the same Python.

Run: python tests/bench/bench_cold_start.py
Ten paired runs, taken in turn; what counts is the ratio of the medians (wanted: 1.3 or less).
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HELLO = """import typer
app = typer.Typer(pretty_exceptions_enable=False)
@app.command()
def hello(name: str = "shop"):
    print("hello", name)
app()
"""
SETUP = "import sys; sys.argv = ['prestrike', *sys.argv[1:]]; from advisor.cli.main import run; run()"
JOB = ["setup", "--metal", "6061-T6", "--thickness", "1/8 in", "--joint", "butt"]
PAIRS = 10


def seconds(command: list[str]) -> float:
    begin = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begin


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        hello = Path(folder) / "hello.py"
        hello.write_text(HELLO, encoding="utf-8")
        pair = ([sys.executable, str(hello)], [sys.executable, "-c", SETUP, *JOB])
        for command in pair:
            seconds(command)
        times = [[seconds(command) for command in pair] for _ in range(PAIRS)]
    ours = statistics.median(row[1] for row in times)
    theirs = statistics.median(row[0] for row in times)
    print(f"hello {theirs * 1000:.0f} ms, setup {ours * 1000:.0f} ms, ratio {ours / theirs:.2f} ({PAIRS} pairs)")


if __name__ == "__main__":
    main()
