"""The check of rule files, their tests and the map of what they cover, as text and JSON."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Any

from advisor.diagnostics import Diagnostic
from advisor.shop_rules.coverage import Domain, MetalCoverage
from advisor.shop_rules.review import CheckResult, FileCount, Review
from advisor.show.wording import PROCESS_NAMES

_CELL = 4
_LABEL = 30


def check_json(result: CheckResult, found: Review) -> dict[str, Any]:
    """The whole check as data. findings are errors; notes are not."""
    data = result._asdict()
    data["findings"] = [finding.as_json() for finding in (*result.findings, *found.errors)]
    data["notes"] = [note.as_json() for note in found.notes]
    data["coverage"] = [
        {
            "process": domain.process,
            "metal": walked.metal,
            "sizes_mm": list(domain.sizes),
            "sources": {joint: [count for count, _ in row] for joint, row in walked.sources.items()},
            "gaps": [gap._asdict() for gap in walked.gaps],
            "jumps": [jump._asdict() for jump in walked.jumps],
        }
        for domain, walked in found.walked
    ]
    return data


def check_text(result: CheckResult, found: Review, *, every: bool) -> str:
    """The whole check as text of 80 columns. every: tell each note, else only how many there are."""
    findings = [*result.findings, *found.errors]
    lines = [finding.text() for finding in findings]
    evidence = ", ".join(f"{count} {name}" for name, count in sorted(result.evidence.items()))
    lines += [
        f"{result.files} files, {result.rules} rules, {result.entries} entries",
        f"rules by evidence: {evidence}",
        f"{result.examples} examples run: {result.firing} fire, {result.silent} stay silent",
        f"{len(findings)} findings" if findings else "no findings",
    ]
    lines += _notes(found.notes, every)
    if found.walked:
        lines += _maps(found.walked)
    elif result.findings:
        lines.append("coverage, gaps and jumps: not looked at before the findings are mended")
    return "\n".join(lines)


def _notes(notes: Sequence[Diagnostic], every: bool) -> list[str]:
    names = {"conflict": "conflict explained", "masked": "rule masked", "gap": "gap", "jump": "jump"}
    counts = Counter(note.code for note in notes)
    parts = [f"{counts[code]} {_plural(name, counts[code])}" for code, name in names.items() if counts[code]]
    if not parts:
        return []
    if not every:
        return [f"notes: {', '.join(parts)} (--all tells each)"]
    lines = [f"notes: {', '.join(parts)}"]
    for note in notes:
        where = f"{note.place()}: " if note.file else ""
        subject = f" [{note.subject}]" if note.file and note.subject else ""
        lines += textwrap.wrap(f"{where}{note.code}: {note.message}{subject}", 80, subsequent_indent="    ")
    return lines


def _plural(name: str, count: int) -> str:
    if count == 1:
        return name
    first, _, rest = name.partition(" ")
    return f"{first}s {rest}".rstrip()


def _maps(walked: Sequence[tuple[Domain, MetalCoverage]]) -> list[str]:
    lines = []
    for domain, group in groupby(walked, key=lambda item: item[0]):
        title = f"Coverage, {PROCESS_NAMES.get(domain.process, domain.process)}: how many independent sources give the"
        lines += ["", *textwrap.wrap(f"{title} current of a plain job. - none; ? something else is missing", 80)]
        lines.append(f"{'thickness, mm':<{_LABEL}}" + "".join(f"{size:>{_CELL}g}" for size in domain.sizes))
        tables: dict[tuple[Any, ...], list[str]] = {}
        for _, one in group:
            rows = tuple((joint, tuple(row)) for joint, row in one.sources.items())
            tables.setdefault(rows, []).append(one.metal)
        for rows, metals in tables.items():
            lines += [", ".join(metals), *_map_rows(rows)]
    return lines


def _map_rows(rows: Iterable[tuple[str, tuple[tuple[int, bool], ...]]]) -> list[str]:
    """Rows of a map, joints with the same row together."""
    joints: dict[tuple[tuple[int, bool], ...], list[str]] = {}
    for joint, row in rows:
        joints.setdefault(row, []).append(joint)
    lines = []
    for row, names in joints.items():
        labels = textwrap.wrap(", ".join(names), _LABEL - 3, break_on_hyphens=False)
        cells = "".join(f"{_cell(count, rest):>{_CELL}}" for count, rest in row)
        lines += [f"  {label}" for label in labels[:-1]] + [f"  {labels[-1]:<{_LABEL - 2}}{cells}"]
    return lines


def _cell(count: int, rest: bool) -> str:
    return f"{count or '-'}{'' if rest or not count else '?'}"


def test_json(counts: Sequence[FileCount], findings: Sequence[Diagnostic]) -> dict[str, Any]:
    """The run of all examples as data."""
    return {
        "examples": sum(count.examples for count in counts),
        "wrong": sum(count.wrong for count in counts),
        "rulesets": [count._asdict() for count in counts],
        "findings": [finding.as_json() for finding in findings],
    }


def test_text(counts: Sequence[FileCount], findings: Sequence[Diagnostic]) -> str:
    """The run of all examples as text of 80 columns, a line a ruleset."""
    lines = [finding.text() for finding in findings]
    lines.append(f"{'ruleset':<46}{'rules':>7}{'examples':>10}{'fire':>7}{'wrong':>8}")
    for count in counts:
        name = count.ruleset or count.file
        name = name if len(name) <= 44 else f"...{name[-41:]}"
        lines.append(f"{name:<46}{count.rules:>7}{count.examples:>10}{count.firing:>7}{count.wrong:>8}")
    total = [sum(column) for column in zip(*((c.rules, c.examples, c.firing, c.wrong) for c in counts), strict=True)]
    rules, examples, firing, wrong = total or (0, 0, 0, 0)
    lines.append(f"{'all':<46}{rules:>7}{examples:>10}{firing:>7}{wrong:>8}")
    lines.append(f"{len(findings)} findings" if findings else "every example holds")
    return "\n".join(lines)
