"""Many jobs at once: a CSV file, a row a job, or a folder of job files. One bad row is named and the rest is done."""

from __future__ import annotations

import csv
import io
import re
import sys
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from advisor.answer.answer import Advice
from advisor.answer.no_effect import SaidWord
from advisor.diagnostics import Diagnostic, Exit, PrestrikeError, did_you_mean
from advisor.flags.options import Flags, rules_opened
from advisor.flags.streams import json_text, redraw
from advisor.flags.telling import no_effect_json, no_effect_text, told
from advisor.job.job import Job
from advisor.job.reader import JobBuilder, no_place, read_job_data
from advisor.plain_text import csv_cell
from advisor.reading import csv_rows, is_folder, names_in, read_text
from advisor.resources import schema_file
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise
from advisor.setup.printing import advised
from advisor.shop.rules_in_force import units_of
from advisor.units.quantities import UnitTable
from advisor.writing import make_folder, write_whole

MEMBER = ("metal", "thickness", "surface", "form", "width")
WORDS = (
    "name", "joint", "weld", "position", "process", "service", "filler", "access", "backing", "place", "solvent",
    "gas", "tungsten_type", "transfer", "wire_diameter", "electrode", "electrode_diameter", "leg", "length",
    "closed_volume", "used_container", "units",
)  # fmt: skip
COLUMNS = (*WORDS, *MEMBER, *(f"{name}_2" for name in MEMBER))
_FLAGS = {"yes": True, "true": True, "1": True, "no": False, "false": False, "0": False}
_LISTS = ("service", "surface")
BAR = 30


class Item(NamedTuple):
    """One job of a batch: where it stands, and how to read its mapping and place findings in it."""

    where: str
    name: str
    read: Callable[[], tuple[dict[str, Any], Any]]


class JobRow(NamedTuple):
    """What became of one job."""

    where: str
    name: str
    status: str
    file: str
    current: str
    filler: str
    said: str


def batch(source: Path, output: Path, flags: Flags, *, as_json: bool, brief: bool) -> Exit:
    """Answer all jobs into a folder, with a table of what became of each. Exit 2 where any was bad, or a rule file."""
    if flags.job or flags.metal or flags.thickness or any(flags.words.values()):
        repair = "write what a job is into its row or file; --machine, --rules, --brief and --json count for all"
        raise PrestrikeError(Diagnostic("double-job", "a job stands beside --jobs", help=repair))
    rulebook = rules_opened(flags.rules)
    units = units_of(rulebook)
    items = list(_items(source, units))
    machine = _machine(flags, units)
    make_folder(output)
    rows, bad = [], 0
    bar = ProgressBar(len(items))
    for number, item in enumerate(items, 1):
        try:
            job = _job(item, rulebook, units, machine)
            advice = advise(rulebook, job)
            idle = told(job, lambda other: advised(rulebook, other))
            text = _text(advice, units, as_json, brief, idle)
        except PrestrikeError as error:
            bad += 1
            rows.append(JobRow(item.where, item.name, "bad", "", "", "", _one_line(error)))
            bar.say("\n".join(finding.text() for finding in _placed(error, item)))
        else:
            file = _file(output, number, item.name or job.name, as_json)
            write_whole(file, text)
            rows.append(_row(item, job, advice, file))
        bar.step()
    bar.end()
    _summary(output / "summary.csv", rows)
    _tell(rows, output)
    return Exit.BAD_INPUT if bad or rulebook.left_out else Exit.ADVISED


class ProgressBar:
    """A bar on the error stream of a terminal; in a pipe nothing but what went wrong."""

    def __init__(self, count: int) -> None:
        self.count = count
        self.done = 0
        self.shown = -1
        self.live = sys.stderr.isatty()

    def step(self) -> None:
        self.done += 1
        filled = BAR * self.done // max(self.count, 1)
        if self.live and (filled != self.shown or self.done == self.count):
            self.shown = filled
            redraw(f"\r[{'#' * filled}{'.' * (BAR - filled)}] {self.done}/{self.count}")

    def say(self, text: str) -> None:
        if self.live:
            redraw("\r" + " " * (BAR + 20) + "\r")
        print(text, file=sys.stderr)
        self.shown = -1

    def end(self) -> None:
        if self.live:
            print(file=sys.stderr)


def _items(source: Path, units: UnitTable) -> Iterator[Item]:
    if is_folder(source):
        files = [path for path in names_in(source) if path.suffix in (".yaml", ".yml") and _is_job(path)]
        if not files:
            text = f"{source} holds no job file"
            raise PrestrikeError(Diagnostic("no-jobs", text, help="job files end in .yaml and say 'kind: job'"))
        for path in files:
            yield Item(str(path), path.stem, partial(read_job_data, path, units, schema_file))
        return
    yield from _rows(source)


def _is_job(path: Path) -> bool:
    """Machine and rule files may lie beside the jobs."""
    try:
        return re.search(r"^kind:\s*(machine|rules)\b", read_text(path), re.MULTILINE) is None
    except PrestrikeError:
        return True  # read again with its own finding


def _rows(source: Path) -> Iterator[Item]:
    rows = csv_rows(read_text(source), str(source))
    header = [name.strip() for name in next(rows, (1, []))[1]]
    _check_header(source, header)
    for line, cells in rows:
        if any(cell.strip() for cell in cells):
            yield _row_item(source, line, header, cells)


def _row_item(source: Path, line: int, header: list[str], cells: list[str]) -> Item:
    def read() -> tuple[dict[str, Any], Any]:
        def place(finding: Diagnostic, path: Any) -> Diagnostic:
            return no_place(finding, path).at(str(source), line, 1)

        if len(cells) > len(header):
            text = f"{len(cells)} cells under {len(header)} columns"
            raise PrestrikeError(Diagnostic("too-many-cells", text, help="a comma in a cell wants quotes"))
        given = {name: cell.strip() for name, cell in zip(header, cells, strict=False) if cell.strip()}
        return _mapping(given), place

    names = dict(zip(header, cells, strict=False))
    return Item(f"{source}:{line}", " ".join(names.get("name", "").split()), read)


def _check_header(source: Path, header: list[str]) -> None:
    unknown = [name for name in header if name not in COLUMNS]
    missing = [name for name in ("metal", "thickness", "joint") if name not in header]
    if unknown:
        text = f"'{unknown[0]}' is no column known here"
        raise PrestrikeError(Diagnostic("unknown-column", text, str(source), 1, help=did_you_mean(unknown[0], COLUMNS)))
    if missing or len(header) != len(set(header)):
        text = f"no column {missing[0]}" if missing else "a column stands twice"
        repair = "columns needed: metal, thickness, joint; others: " + ", ".join(COLUMNS)
        raise PrestrikeError(Diagnostic("bad-header", text, str(source), 1, help=repair))


def _mapping(given: dict[str, str]) -> dict[str, Any]:
    """The mapping of a job from the cells of a row."""
    for name in ("metal", "thickness", "joint"):
        if name not in given:
            raise PrestrikeError(Diagnostic("missing-cell", f"{name} is empty", help=f"fill in the column {name}"))
    data: dict[str, Any] = {name: _cell(name, given[name]) for name in WORDS if name in given}
    members = [{name: _cell(name, given[name]) for name in MEMBER if name in given}]
    second = {name: _cell(name, given[f"{name}_2"]) for name in MEMBER if f"{name}_2" in given}
    if second:
        members.append({"metal": members[0]["metal"], "thickness": members[0]["thickness"], **second})
    return data | {"members": members}


def _cell(name: str, text: str) -> Any:
    if name in _LISTS:
        return [word.strip() for word in re.split(r"[;,]", text) if word.strip()]
    if name in ("closed_volume", "used_container"):
        if text.casefold() not in _FLAGS:
            raise PrestrikeError(Diagnostic("yes-or-no", f"{name}: '{text}' is neither yes nor no", help="yes or no"))
        return _FLAGS[text.casefold()]
    return text


def _machine(flags: Flags, units: UnitTable) -> Any:
    if flags.machine is None:
        return None
    from advisor.job.machine_reader import read_machine

    return read_machine(flags.machine, units, schema_file)


def _job(item: Item, rulebook: Rulebook, units: UnitTable, machine: Any) -> Job:
    data, place = item.read()
    if machine is not None:
        data["machine"] = machine
    return JobBuilder(rulebook, units, place).build(data)


def _text(advice: Advice, units: UnitTable, as_json: bool, brief: bool, idle: Sequence[SaidWord]) -> str:
    if as_json:
        from advisor.setup.as_json import advice_json

        return json_text({**advice_json(advice), **no_effect_json(idle)}, "utf-8") + "\n"
    from advisor.setup.text import render

    return render(advice, units, brief=brief) + no_effect_text(idle)


def _file(output: Path, number: int, name: str, as_json: bool) -> Path:
    """Numbered, so that two jobs of one name keep their own file; letters and digits of the name for people."""
    plain = re.sub(r"[^\w-]+", "-", name)[:40].strip("-")
    return output / f"{number:04d}{'-' if plain else ''}{plain}{'.json' if as_json else '.txt'}"


def _placed(error: PrestrikeError, item: Item) -> list[Diagnostic]:
    file, _, line = item.where.rpartition(":")
    number = int(line) if line.isdigit() else 0
    return [found if found.file else found.at(file if number else item.where, number, 1) for found in error.diagnostics]


def _one_line(error: PrestrikeError) -> str:
    return "; ".join(finding.message for finding in error.diagnostics)


def _row(item: Item, job: Job, advice: Advice, file: Path) -> JobRow:
    current = advice.settings.get("current")
    options = advice.choices.get("filler") or advice.choices.get("electrode") or []
    filler = job.electrode or next((option.name for option in options if option.rank == 1), "")
    said = "; ".join([item.reason for item in advice.refusals] + [item.message for item in advice.no_rule])
    if advice.practice_only:
        said = "; ".join(filter(None, ["practice coupons only", said]))
    amps = f"{current.start:.0f} A ({current.low:.0f}-{current.high:.0f})" if current else ""
    return JobRow(item.where, item.name or job.name, advice.status, file.name, amps, filler, said)


def _summary(path: Path, rows: list[JobRow]) -> None:
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(JobRow._fields)
    writer.writerows([csv_cell(cell) for cell in row] for row in rows)
    write_whole(path, out.getvalue())


def _tell(rows: list[JobRow], output: Path) -> None:
    """The table: every job of a small batch; of a large one those that did not come out advised."""
    from tabulate import tabulate

    shown = rows if len(rows) <= 40 else [row for row in rows if row.status != "advised"][:40]
    cells = [
        (Path(row.where).name, row.name[:24], row.status, row.current, (row.filler or row.said)[:24]) for row in shown
    ]
    if cells:
        print(tabulate(cells, headers=("where", "name", "status", "current", "filler, or why not"), tablefmt="plain"))
    counts = {status: sum(row.status == status for row in rows) for status in ("advised", "no-rule", "refused", "bad")}
    print(", ".join(f"{count} {status}" for status, count in counts.items() if count) + f"; {output / 'summary.csv'}")
