"""Checks a set of rule files: structure, words, units, sources, examples, clashes. Reports all files, then stops."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from advisor.diagnostics import Diagnostic
from advisor.rulebook.compile import join_layers, write_index
from advisor.rulebook.examples import run_examples
from advisor.rulebook.index import Index
from advisor.rulebook.library import INDEXED_ATTRIBUTE, Layer, compile_all, entry_clashes, gather
from advisor.rulebook.rule_reader import Tools
from advisor.rulebook.vocabulary import Vocabulary
from advisor.rulebook.voices import Compute


class CheckResult(NamedTuple):
    """What was looked at and what was found. files, rules, examples: counts."""

    files: int
    rules: int
    entries: int
    examples: int
    firing: int
    silent: int
    evidence: dict[str, int]
    findings: tuple[Diagnostic, ...]


def check_rules(
    layers: Sequence[Layer],
    schema_file: Callable[[str], Path],
    tools_for: Callable[[Vocabulary], Tools],
    compute: Compute,
) -> CheckResult:
    """Compile every file afresh and run every example. Raises PrestrikeError only where nothing can be read."""
    files = gather(layers)
    vocabulary_data, _, compiled = compile_all(files, schema_file, tools_for, None)
    findings = [Diagnostic(**finding) for item in compiled for finding in item.findings]
    usable = [item for item in compiled if not item.findings]
    rules, _, clashes = join_layers(usable)
    findings += clashes + entry_clashes(usable)
    evidence: dict[str, int] = {}
    for rule in rules:
        for source in rule["sources"][:1]:
            evidence[source["evidence"]] = evidence.get(source["evidence"], 0) + 1
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "check.sqlite"
        write_index(path, rules, usable, {}, INDEXED_ATTRIBUTE)
        ran = run_examples(Index(path), Vocabulary.from_data(vocabulary_data), compute)
    findings += ran.findings
    entries = sum(len(item.entries) for item in usable)
    return CheckResult(len(files), len(rules), entries, ran.total, ran.firing, ran.silent, evidence, tuple(findings))
