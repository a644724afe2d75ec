"""What was learnt as a rule file: tables over the sizes tried, the trials named as the source, examples filled in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from textwrap import wrap
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.reading import is_there
from advisor.rulebook.vocabulary import Topic
from advisor.shop.rule_text import file_head, flow, scalar, slug
from advisor.shop.scope import SAME_SIZE, Scope, size
from advisor.trials.factors import Learnt, SizeRow
from advisor.units.formatting import plain_number
from advisor.units.quantities import HOUSE_UNITS, UnitTable
from advisor.writing import make_folder, write_whole

# No straight line is drawn between sizes farther apart than this: nothing was tried there.
WIDEST_GAP = 1.6
_INCH = {"length": "in", "gas_flow": "cfh", "speed": "in/min", "wire_feed": "in/min"}
_BEYOND = 1.1
_COMMENTS = (
    "Learnt from the trials of this shop by 'prestrike learn', which can learn it again from more of them.",
    "It stands above the shipped rules; 'prestrike rules where' shows the order.",
)


class LearntFile(NamedTuple):
    """A rule file to be written: its name, its text, and the ids of its rules."""

    file_name: str
    text: str
    rule_ids: tuple[str, ...]


class Before(NamedTuple):
    """The version and history of the file that stands there already."""

    version: str
    history: tuple[Mapping[str, Any], ...]


class Writer(NamedTuple):
    """How numbers are written. inch: in units of the inch system where there is one."""

    units: UnitTable
    inch: bool

    def number(self, value: float, dimension: str) -> str:
        """A quantity with its unit, three digits."""
        unit = _INCH.get(dimension, "") if self.inch else ""
        if not unit:
            return f"{plain_number(value)} {HOUSE_UNITS[dimension]}"
        factor, offset = self.units.factors[dimension, unit]
        return f"{plain_number((value - offset) / factor)} {unit}"


def learnt_file(
    scope: Scope, learnt: Sequence[Learnt], writer: Writer, layer: str = "shop", before: Before | None = None
) -> LearntFile:
    """The file of what is proposed for one scope. before: what stands there, whose history goes on."""
    proposed = [item for item in learnt if item.status == "proposed"]
    name = slug("learnt", *_words(scope))
    ids, rules = [], []
    for item in proposed:
        for rows in tables(item.rows) if scope.alike else [list(item.rows)]:
            sizes = [f"{row.size:.4g}mm" for row in (rows[0], rows[-1])] if len(tables(item.rows)) > 1 else []
            rule_id = ".".join((layer, "learnt", slug(item.topic.name), slug(*_words(scope), *dict.fromkeys(sizes))))
            ids.append(rule_id)
            rules += _rule(rule_id, scope, item, rows, writer)
    most = max(len(item.ids()) for item in proposed)
    change = f"learnt from {most} good trials"
    source = {"id": "trials", "title": "Trials of this shop", "kind": "own-trials", "evidence": "trial"}
    if before is None:
        lines = file_head(name, change, source, _COMMENTS)
    else:
        lines = file_head(name, change, source, _COMMENTS, _raised(before.version), before.history)
    return LearntFile(f"{name}.yaml", "\n".join([*lines, *rules]) + "\n", tuple(ids))


def _words(scope: Scope) -> list[str]:
    words = ["-".join(scope.metals), scope.joint, scope.position]
    if not scope.alike:
        words += [f"{item:.4g}mm" for item in (scope.thinner, scope.thicker)]
    words += [] if scope.process == "141" else [scope.process]
    return [*words, scope.gas, scope.machine]


def _raised(version: str) -> str:
    major, minor, _ = version.split(".")
    return f"{major}.{int(minor) + 1}.0"


def tables(rows: Sequence[SizeRow]) -> list[list[SizeRow]]:
    """Rows in tables that leave no wide gap between two sizes."""
    found: list[list[SizeRow]] = [[rows[0]]] if rows else []
    for left, right in pairwise(rows):
        if right.size > left.size * WIDEST_GAP:
            found.append([])
        found[-1].append(right)
    return found


def _rule(rule_id: str, scope: Scope, item: Learnt, rows: Sequence[SizeRow], writer: Writer) -> list[str]:
    lines = [f"  - id: {rule_id}", f"    topic: {item.topic.name}", "    when:"]
    lines += [f"      {key}: {flow(value)}" for key, value in {**scope.words(), **scope.sizes()}.items()]
    lines += _start(scope, item.topic, rows, writer)
    lines += [f"    source: [{{doc: trials, at: {scalar(_at(item))}}}]", f"    because: {scalar(_because(item))}"]
    lines += ["    notes: >-", *wrap(_trials_named(item), 100, initial_indent=" " * 6, subsequent_indent=" " * 6)]
    return lines + _examples(scope, item.topic, rows, writer)


def _start(scope: Scope, topic: Topic, rows: Sequence[SizeRow], writer: Writer) -> list[str]:
    if not scope.alike:
        return ["    start:", *(f"      {key}: {value}" for key, value in _said(rows[0], topic, writer).items())]
    lines = ["    start:", "      over: thickness", "      rows:  # the sizes that were tried, and none beyond"]
    for row in rows:
        at = writer.number(row.size, "length") if writer.inch else size(row.size)
        lines.append(f"        - {flow({'at': at, **_said(row, topic, writer)})}")
    return lines


def _said(row: SizeRow, topic: Topic, writer: Writer) -> dict[str, str]:
    """low and high, or the one value where they are the same when written."""
    low, start, high = (writer.number(value, topic.dimension) for value in (row.low, row.start, row.high))
    return {"value": start} if low == high else {"low": low, "high": high}


def _at(item: Learnt) -> str:
    days = sorted(entry.trial.made_at[:10] for entry in item.counted)
    span = days[0] if days[0] == days[-1] else f"{days[0]} to {days[-1]}"
    return f"{len(item.ids())} good trials, {span}"


def _because(item: Learnt) -> str:
    assert item.found is not None
    return (
        f"On this bench {item.factor:.2f} times the published start gave good beads "
        f"(nine in ten between {item.found.low:.2f} and {item.found.high:.2f})."
    )


def _trials_named(item: Learnt) -> str:
    parts = [f"Rests on trials {', '.join(item.ids())}."]
    parts += [f"Not counted, {verdict}: {', '.join(item.ids(verdict))}." for verdict in ("usable", "bad")
              if item.ids(verdict)]  # fmt: skip
    parts += [f"Taken for slips: {', '.join(item.slips)}."] if item.slips else []
    return " ".join(parts)


def _examples(scope: Scope, topic: Topic, rows: Sequence[SizeRow], writer: Writer) -> list[str]:
    lines = ["    examples:  # run as tests by 'prestrike rules check'"]
    ends = [rows[0]] if len(rows) == 1 or not scope.alike else [rows[0], rows[-1]]
    for row in ends:
        facts = scope.facts(row.size if scope.alike else None)
        lines.append(f"      - {{job: {flow(facts)}, gives: {flow(_said(row, topic, writer))}}}")
    far = (1 + SAME_SIZE) * _BEYOND
    thick = rows[-1].size * far if scope.alike else scope.thicker * far
    lines.append(f"      - {{job: {flow(scope.facts(thick))}, fires: false}}")
    if scope.alike:
        lines.append(f"      - {{job: {flow(scope.facts(rows[0].size / far))}, fires: false}}")
    return lines


def standing_file(path: Path) -> Before | None:
    """The version and history of the learnt file that stands there. Raises PrestrikeError where the file holds rules
    that were not learnt, since those would be lost."""
    if not is_there(path):
        return None
    from advisor.rulebook.reading.yaml_text import read_yaml

    document = read_yaml(path)
    data = document.data if isinstance(document.data, dict) else {}
    rules = data.get("rules") or []
    own = [rule.get("id", "?") for rule in rules if ".learnt." not in str(rule.get("id", ""))]
    if own or "version" not in data or not data.get("history"):
        text = f"this file holds what was not learnt: {', '.join(own) or 'no version or history'}"
        repair = "move those rules to a file of their own, then learn again"
        raise PrestrikeError(Diagnostic("exists", text, str(path), help=repair))
    return Before(data["version"], tuple(data["history"]))


def write_learnt(path: Path, made: LearntFile, *, replace: bool) -> None:
    """Write the file whole or not at all. Raises PrestrikeError where one is there and replacing it was not asked."""
    if is_there(path) and not replace:
        repair = "say --replace to put the new numbers in its place (its history goes on), or take it away first"
        raise PrestrikeError(Diagnostic("exists", "this file is there already", str(path), help=repair))
    make_folder(path.parent, help="choose another --layer")
    write_whole(path, made.text, new=not replace, help="choose another --layer")
