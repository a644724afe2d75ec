"""The lock: a file that pins every rule file in force, and the check against it or against a saved answer."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from advisor import __version__
from advisor.answer.last_answer import saved_answer
from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.reading import is_folder, is_there, read_json
from advisor.rulebook.listing import Layer, Listed, listing, read_files
from advisor.rulebook.review.file_versions import FileVersion, differences, pin_of
from advisor.rulebook.review.file_versions import FileVersionChange as FileVersionChange
from advisor.rulebook.rule import LAYERS
from advisor.writing import write_whole

FORMAT = 1


class Lock(NamedTuple):
    """The rules at one time. program: version of this program; content_hash: what answers print, where it is known."""

    program: str
    content_hash: str
    pins: tuple[FileVersion, ...]


def lock_of(layers: Sequence[Layer], content_hash: str) -> Lock:
    """The lock of the files of these layers as they stand."""
    pins = []
    for layer in layers:
        listed = listing([layer])
        for item, file in zip(listed, read_files(listed), strict=True):
            pins.append(pin_of(file, _within(item, layer)))
    return Lock(__version__, content_hash, tuple(sorted(pins)))


def _within(item: Listed, layer: Layer) -> str:
    """The name of a file within its layer, the same on every computer."""
    if not is_folder(layer.path):
        return layer.path.name
    name = Path(item.path).relative_to(layer.path).as_posix()
    return name.encode(errors="backslashreplace").decode()


def lock_text(lock: Lock) -> str:
    """The lock as JSON, one file a line, so that two people's changes meet without a clash."""
    rows = ",\n".join("  " + json.dumps(pin._asdict(), ensure_ascii=False) for pin in lock.pins)
    head = {"format": FORMAT, "program": lock.program, "content_hash": lock.content_hash}
    lines = [f" {json.dumps(key)}: {json.dumps(value)}," for key, value in head.items() if value != ""]
    return "\n".join(["{", *lines, ' "files": [', rows, " ]", "}"]) + "\n"


def read_lock(path: Path) -> Lock:
    """A lock, or the rules a saved answer was made with. Raises PrestrikeError for anything else."""
    data = read_json(path)
    if isinstance(data, dict) and "settings" in data:
        return _of_answer(path)
    try:
        if data["format"] != FORMAT:
            text = f"the lock has format {data['format']}, this program knows {FORMAT}"
            raise PrestrikeError(Diagnostic("newer-lock", text, str(path), help="use the prestrike that wrote it"))
        pins = tuple(FileVersion(**{key: str(value) for key, value in row.items()}) for row in data["files"])
        return Lock(str(data.get("program", "")), str(data.get("content_hash", "")), pins)
    except (TypeError, KeyError, AttributeError):
        repair = "write one with: prestrike rules lock"
        raise PrestrikeError(
            Diagnostic("no-lock", "this is no lock and no saved answer", str(path), help=repair)
        ) from None


def _of_answer(path: Path) -> Lock:
    answer = saved_answer(path)
    try:
        found = answer["ruleset"]
        pins = tuple(_pin_of_answer(row) for row in found["versions"])
        return Lock("", str(found["content_hash"]), tuple(sorted(pins)))
    except (LookupError, TypeError, AttributeError):
        text = "this saved answer does not say which rules it was made with"
        repair = "save it again with: prestrike setup JOB.yaml --json > SAVED.json"
        raise PrestrikeError(Diagnostic("no-answer", text, str(path), subject="ruleset", help=repair)) from None


def _pin_of_answer(row: dict[str, Any]) -> FileVersion:
    # An answer names shipped files from `rules/` on, and others by their path here.
    name = row["file"].removeprefix("rules/") if row["layer"] == LAYERS[0] else row["file"]
    return FileVersion(*(str(text) for text in (row["layer"], name, row["name"], row["version"], row["sha256"])))


def check_lock(lock: Lock, now: Lock) -> list[FileVersionChange]:
    """What differs now from the lock. Where the lock knows a file by another path, its name and ruleset count."""
    here = {(pin.layer, pin.ruleset, Path(pin.file).name): pin.file for pin in now.pins}
    same = {(pin.layer, pin.file) for pin in now.pins}
    old = [
        pin
        if (pin.layer, pin.file) in same
        else pin._replace(file=here.get((pin.layer, pin.ruleset, Path(pin.file).name), pin.file))
        for pin in lock.pins
    ]
    return differences(old, now.pins)


def write_lock(path: Path, lock: Lock, *, renew: bool, accept: bool) -> list[FileVersionChange]:
    """Write the lock; gives what changed since the one that stood there.

    Raises PrestrikeError where one stands there and renewing was not asked for, or where a file changed and its version
    did not, unless that is accepted: whoever reads the version would believe it the same.
    """
    changed: list[FileVersionChange] = []
    if is_there(path):
        if not renew:
            repair = "compare with --check, or put a new one in its place with --renew"
            raise PrestrikeError(Diagnostic("exists", "a lock is there already", str(path), help=repair))
        changed = check_lock(read_lock(path), lock)
        silent = [item for item in changed if item.kind == "unversioned"]
        if silent and not accept:
            repair = "raise 'version' and add a 'history' entry, or accept them as they are with --accept"
            raise PrestrikeError([_unversioned(item, repair) for item in silent])
    write_whole(path, lock_text(lock), new=not renew, help="name another with -o")
    return changed


def _unversioned(item: FileVersionChange, repair: str) -> Diagnostic:
    text = f"what it says has changed, and its version is {item.new or 'not stated'} as before"
    return Diagnostic("unversioned", text, item.file, subject=item.ruleset, help=repair)
