"""Kills (SIGKILL) during every command that writes, and eight writers at once.

The long run: `python -m tests.robust.kills 300`, and a name after it for one command only.

The command runs in a forked copy of this process, so that a kill costs no start. Half of the kills come at a moment
drawn evenly from the length of the command, half at a step of the writing itself.
"""

from __future__ import annotations

import json
import os
import random
import re
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

STEPS = ("open", "fsync", "chmod", "replace", "link", "unlink")
DRAFT = re.compile(r"\.prestrike-[0-9]+-[0-9]+\.tmp")
SEAM = ("--metal", "5052", "--thickness", "3.2 mm", "--joint", "tee")
TYPED = "Tank lid\n5052\n3.2 mm\n\nyes\n\ntee\n" + "\n" * 30


class Command(NamedTuple):
    """A command that writes: its arguments, what is typed, and the folder or file it writes."""

    arguments: tuple[str, ...]
    writes: str
    typed: str = ""
    stands: bool = True  # a file of that name is there before


COMMANDS = {
    "sheet html": Command(("sheet", *SEAM, "-o", "out/sheet.html"), "out"),
    "sheet md": Command(("sheet", *SEAM, "-o", "out/sheet.md"), "out"),
    "rules lock": Command(("rules", "lock", "--built-in", "--renew", "-o", "out/rules.lock.json"), "out"),
    "demo": Command(("demo", "out", "--force"), "out"),
    "setup --jobs": Command(("setup", "--jobs", "jobs.csv", "-o", "out"), "out"),
    "ask": Command(("ask", "-o", "out/job.yaml", "--force"), "out", TYPED),
    "rules new": Command(("rules", "new", "135 A", *SEAM, "--write"), "config/rules", stands=False),
    "trial export": Command(("trial", "export", "out/trials.csv"), "out", stands=False),
}


def run(arguments: Sequence[str], typed: str = "", kill: Callable[[], None] | None = None) -> tuple[int, str]:
    """Fork and run the command: (process id, file its output goes to). kill: called in the copy before it starts."""
    number, out = tempfile.mkstemp(prefix="kills-", suffix=".txt")
    child = os.fork()
    if child:
        os.close(number)
        return child, out
    try:
        os.dup2(number, 1)
        os.dup2(number, 2)
        source, sink = os.pipe()
        os.write(sink, typed.encode())
        os.close(sink)
        os.dup2(source, 0)
        sys.stdin = os.fdopen(0, encoding="utf-8")
        sys.stdout, sys.stderr = os.fdopen(1, "w", closefd=False), os.fdopen(2, "w", closefd=False)
        from advisor.cli.main import main
        from advisor.flags import streams

        streams.set_up()
        if kill is not None:
            kill()
        code = main(list(arguments))
        streams.finish()
        os._exit(int(code))
    except BaseException:
        import traceback

        traceback.print_exc()
        sys.stderr.flush()
        os._exit(99)


def at_step(number: int) -> Callable[[], None]:
    """Kill oneself at the step of that number: before it where the number is even, after it where it is odd."""

    def arm() -> None:
        from advisor import writing

        class Killing:
            done = 0

            def __getattr__(self, name: str) -> object:
                real = getattr(os, name)
                if name not in STEPS:
                    return real

                def step(*given: object, **named: object) -> object:
                    self.done += 1
                    mine = self.done == number // 2 + 1
                    if mine and number % 2 == 0:
                        os.kill(os.getpid(), signal.SIGKILL)
                    answer = real(*given, **named)
                    if mine:
                        os.kill(os.getpid(), signal.SIGKILL)
                    return answer

                return step

        writing.os = Killing()  # type: ignore[attr-defined]

    return arm


def files(folder: Path) -> dict[str, bytes]:
    """What stands in a folder, without the drafts of those that were killed."""
    found = {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    return {name: raw for name, raw in found.items() if not DRAFT.fullmatch(Path(name).name)}


def fresh(folder: Path, command: Command, old: dict[str, bytes]) -> Path:
    """The folder the command writes to, as it was before."""
    target = folder / command.writes
    shutil.rmtree(target, ignore_errors=True)
    target.mkdir(parents=True)
    for name, raw in old.items() if command.stands else ():
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        (target / name).write_bytes(raw)
    return target


def kill_often(folder: Path, name: str, times: int, draw: random.Random) -> Counter[str]:
    """Kill a command so often; counts of `old`, `new`, `both` (several files), `broken` and `ended`."""
    command = COMMANDS[name]
    target = fresh(folder, command, {})
    started = time.monotonic()
    child, out = run(command.arguments, command.typed)
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    took = time.monotonic() - started
    new = files(target)
    assert code == 0 and new, f"{name}: {Path(out).read_text()}"
    Path(out).unlink()
    old = {file: b"the old " + file.encode() for file in new if not file.endswith(".lock.json")}
    old |= {file: raw for file, raw in new.items() if file.endswith(".lock.json")}
    counts: Counter[str] = Counter()
    for turn in range(times):
        fresh(folder, command, old)
        step = at_step(draw.randrange(12 if turn % 4 == 1 else 48)) if turn % 2 else None
        child, out = run(command.arguments, command.typed, step)
        if step is None:
            time.sleep(draw.random() * took)
            os.kill(child, signal.SIGKILL)
        status = os.waitpid(child, 0)[1]
        counts["killed" if os.WIFSIGNALED(status) else "ended"] += 1
        said = Path(out).read_text(errors="replace")
        Path(out).unlink()
        counts[judge(files(target), old if command.stands else {}, new)] += 1
        counts["traceback"] += "Traceback" in said
    return counts


def is_json(raw: bytes) -> bool:
    """Whether it is one whole JSON text."""
    try:
        json.loads(raw)
        return True
    except ValueError:
        return False


def judge(now: dict[str, bytes], old: dict[str, bytes], new: dict[str, bytes]) -> str:
    """Whether every file is whole: the old one or the new one, and none is lost."""
    lost = set(old) - set(now)
    whole = {name for name, raw in now.items() if raw in (old.get(name), new.get(name))}
    wrong = [name for name in now if name not in whole and not (name.endswith(".draft") and is_json(now[name]))]
    if lost or wrong:
        return f"broken: {sorted(lost) + wrong}"
    return "new" if now == new else "old" if now == old else "some new"


def kill_journal(folder: Path, times: int, draw: random.Random) -> Counter[str]:
    """Kill `trial add`; what was acknowledged on the output must be in the journal, and the journal whole."""
    from advisor.journal.store import Journal

    arguments = ("trial", "add", *SEAM, "--current", "120 A", "--verdict", "good")
    started = time.monotonic()
    child, out = run(arguments)
    os.waitpid(child, 0)
    took = time.monotonic() - started
    counts: Counter[str] = Counter()
    sure = {*re.findall(r"logged (\S+):", Path(out).read_text())}
    for _ in range(times):
        child, out = run(arguments)
        time.sleep(took * (0.5 + 0.6 * draw.random()))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        sure |= {*re.findall(r"logged (\S+):", Path(out).read_text())}
        Path(out).unlink()
    with Journal(folder / "journal.sqlite") as book:
        kept = {trial.id for trial in book.rows()}
        counts["integrity " + book.check()] += 1
    counts["acknowledged"], counts["kept"], counts["lost"] = len(sure), len(kept), len(sure - kept)
    return counts


def eight_writers(folder: Path, rounds: int) -> Counter[str]:
    """Eight at once: trials into one journal, one sheet, one lock, one export that must be new."""
    from advisor.journal.store import Journal

    counts: Counter[str] = Counter()
    out = folder / "eight"
    sure: set[str] = set()
    for _ in range(rounds):
        shutil.rmtree(out, ignore_errors=True)
        out.mkdir()
        for arguments in (
            ("trial", "add", *SEAM, "--current", "120 A", "--verdict", "good"),
            ("sheet", *SEAM, "-o", "eight/sheet.md"),
            ("demo", "eight/demo", "--force"),
            ("trial", "export", "eight/trials.csv"),
        ):
            children = [run(arguments) for _ in range(8)]
            codes = [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child, _ in children]
            said = [Path(path).read_text() for _, path in children]
            for _, path in children:
                Path(path).unlink()
            counts[f"{arguments[0]} {arguments[1] if arguments[0] == 'trial' else ''}".strip()] += 8
            wanted = 1 if arguments[1] == "export" else 8
            counts["wrong codes"] += codes.count(0) != wanted
            counts["tracebacks"] += sum("Traceback" in text for text in said)
            sure |= {name for text in said for name in re.findall(r"logged (\S+):", text)}
        counts["half files"] += not (out / "sheet.md").read_text(encoding="utf-8").rstrip()
        counts["drafts left"] += sum(1 for path in out.rglob("*") if DRAFT.fullmatch(path.name))
    with Journal(folder / "journal.sqlite") as book:
        kept = {trial.id for trial in book.rows()}
        counts["integrity " + book.check()] += 1
    counts["acknowledged"], counts["lost"] = len(sure), len(sure - kept)
    return counts


def prepare(folder: Path) -> None:
    """A folder to work in, with settings and a journal of its own. All modules are loaded here, once."""
    os.chdir(folder)
    os.environ.update(
        PRESTRIKE_CONFIG=str(folder / "config"), PRESTRIKE_JOURNAL=str(folder / "journal.sqlite"), COLUMNS="80"
    )
    (folder / "jobs.csv").write_text(
        "name,metal,thickness,joint\n" + "".join(f"j{n},5052,{n} mm,tee\n" for n in range(2, 6)), encoding="utf-8"
    )
    from advisor.cli.main import COMMANDS as KNOWN
    from advisor.cli.main import build_app

    build_app(list(KNOWN))


if __name__ == "__main__":
    times = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    with tempfile.TemporaryDirectory() as name:
        place = Path(name)
        os.environ.setdefault("PRESTRIKE_CACHE", str(place / "cache"))
        prepare(place)
        only = sys.argv[2] if len(sys.argv) > 2 else ""
        if only in ("", "trial add"):
            print("trial add", dict(kill_journal(place, times, random.Random(1))), flush=True)
        for number, command_name in enumerate(COMMANDS):
            if only in ("", command_name):
                counts = kill_often(place, command_name, times, random.Random(number))
                print(command_name, dict(counts), flush=True)
        if only in ("", "eight"):
            print("eight writers", dict(eight_writers(place, max(1, times // 30))), flush=True)
