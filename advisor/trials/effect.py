"""What a learnt file would change: the answer as it stands and with the file, for the sizes that were tried."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from advisor.answer.answer import Setting
from advisor.diagnostics import Exit, PrestrikeError
from advisor.reading import is_file
from advisor.resources import cache_folder, schema_file
from advisor.rulebook.library import Rulebook, open_rulebook
from advisor.rulebook.listing import Layer, listing
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import default_layers, make_tools, units_of
from advisor.trials.factors import Learnt, SizeRow
from advisor.trials.rule import LearntFile
from advisor.trials.scope import built, job_of
from advisor.writing import write_whole


class SettingChange(NamedTuple):
    """One setting at one size [mm]: the answer in force and the one with the learnt file; None where there is none."""

    topic: str
    size: float
    before: Setting | None
    after: Setting | None


class LearntBroken(PrestrikeError):
    """A file of ours that does not hold: our own fault."""

    exit_code = Exit.OUR_FAULT


def changes(
    learnt: Sequence[Learnt], made: LearntFile, target: Path, layer: str, extra: Sequence[Layer], force: Rulebook
) -> list[SettingChange]:
    """Before and after for every row proposed. target: where the file would be written; extra: layers named by flag.

    Raises LearntBroken where the file does not pass its own checks.
    """
    with tempfile.TemporaryDirectory() as folder:
        draft = Path(folder) / made.file_name
        write_whole(draft, made.text, durable=False)
        layers = [*_without(default_layers(extra), target), Layer(layer, draft)]
        after = open_rulebook(layers, schema_file, cache_folder(), make_tools)
    wrong = [finding for finding in after.left_out if finding.file == str(draft)]
    if wrong:
        raise LearntBroken(wrong)
    return [
        SettingChange(item.topic.name, row.size, _setting(force, item, row), _setting(after, item, row))
        for item in learnt
        if item.status == "proposed"
        for row in item.rows
    ]


def _without(layers: Sequence[Layer], target: Path) -> list[Layer]:
    """The layers with the file that stands at the target left out: the new one takes its place."""
    if not is_file(target):
        return list(layers)
    found = []
    for layer in layers:
        files = [Path(item.path) for item in listing([layer])]
        if any(path.samefile(target) for path in files):
            found += [Layer(layer.name, path) for path in files if not path.samefile(target)]
        else:
            found.append(layer)
    return found


def _setting(book: Rulebook, item: Learnt, row: SizeRow) -> Setting | None:
    data = job_of(row.example)
    assert not isinstance(data, str)
    return advise(book, built(book, units_of(book), data)).settings.get(item.topic.name)
