"""Rule files pinned by hash and version, so that the rules behind a printed answer can be known again."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from advisor.diagnostics import PrestrikeError
from advisor.rulebook.reading.compile import RuleFile

# Keys of a file that say nothing to a job: they may change without what is advised changing.
_SAYS_NOTHING = ("version", "history", "notes", "schema")


class FileVersion(NamedTuple):
    """One rule file. file: its name within its layer; sha256: of its bytes; meaning: hash of what it says, whatever
    its comments and layout; empty where it is not known."""

    layer: str
    file: str
    ruleset: str
    version: str
    sha256: str
    meaning: str = ""


class FileVersionChange(NamedTuple):
    """How a file differs from its pin. kind: added, removed, changed (its version too), unversioned (its version not),
    worded (comments and layout only), or edited (its version not, and whether it says the same is not known)."""

    kind: str
    layer: str
    file: str
    ruleset: str
    old: str = ""
    new: str = ""


def pin_of(file: RuleFile, name: str) -> FileVersion:
    """The pin of a file. name: within its layer. A file that cannot be read as YAML is pinned by its bytes alone."""
    try:
        data = file.document().data
    except PrestrikeError:
        data = None
    if not isinstance(data, dict):
        return FileVersion(file.layer, name, "", "", file.digest)
    ruleset = data.get("ruleset", data.get("kind", ""))
    return FileVersion(file.layer, name, str(ruleset), str(data.get("version", "")), file.digest, meaning_of(data))


def meaning_of(data: Mapping[str, Any]) -> str:
    """SHA-256 of what a file says: its data without version, history and notes."""
    said = {key: value for key, value in data.items() if key not in _SAYS_NOTHING}
    return hashlib.sha256(json.dumps(said, sort_keys=True, ensure_ascii=False).encode()).hexdigest()


def differences(old: Sequence[FileVersion], new: Sequence[FileVersion]) -> list[FileVersionChange]:
    """What differs between two sets of pins, in the order of the files."""
    before = {(pin.layer, pin.file): pin for pin in old}
    after = {(pin.layer, pin.file): pin for pin in new}
    found = []
    for key in sorted({*before, *after}):
        change = _difference(before.get(key), after.get(key))
        if change is not None:
            found.append(change)
    return found


def _difference(old: FileVersion | None, new: FileVersion | None) -> FileVersionChange | None:
    if old is None or new is None:
        pin, kind = (new, "added") if new is not None else (old, "removed")
        assert pin is not None
        versions = ("", pin.version) if kind == "added" else (pin.version, "")
        return FileVersionChange(kind, pin.layer, pin.file, pin.ruleset, *versions)
    if old.sha256 == new.sha256:
        return None
    kind = "changed" if old.version != new.version else "unversioned"
    if old.meaning == new.meaning:
        kind = "worded"
    elif kind == "unversioned" and not (old.meaning and new.meaning):
        kind = "edited"
    return FileVersionChange(kind, new.layer, new.file, new.ruleset, old.version, new.version)
