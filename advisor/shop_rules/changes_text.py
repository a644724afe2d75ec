"""What changed: rule files against a lock, rules against rules, saved answers against the answers now."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Sequence
from typing import Any

from advisor.shop_rules.diff import EntryChange, RulesDiff, RuleStatement, ValueChange
from advisor.shop_rules.lock import FileVersionChange, Lock
from advisor.shop_rules.recheck import AnswerChange

_WIDE = 80
_PIN_WORDS = {
    "added": "not in the lock",
    "removed": "in the lock, not here",
    "changed": "changed",
    "unversioned": "CHANGED, ITS VERSION NOT",
    "worded": "comments or layout only",
    "edited": "other bytes under the same version",
}


def lock_text(now: Lock, changed: Sequence[FileVersionChange], old: Lock | None, path: str) -> str:
    """The outcome of writing a lock (old is None) or of checking one."""
    lines = [_pin_line(item) for item in changed]
    if old is None:
        return "\n".join([*lines, f"written: {path}, {len(now.pins)} files pinned"])
    same = bool(old.content_hash) and old.content_hash == now.content_hash
    if not changed:
        lines.append(f"nothing differs from {path}: {len(now.pins)} files are as pinned")
        if old.content_hash and not same:
            lines += _wrapped("The hash that answers print differs all the same, since the program's version or the "
                              "place of a folder does.")  # fmt: skip
    else:
        counts = Counter(item.kind for item in changed)
        lines.append(", ".join(f"{count} {_PIN_WORDS[kind].lower()}" for kind, count in counts.items()))
    if old.content_hash:
        lines.append(f"rules then {old.content_hash[:12]}, rules now {now.content_hash[:12]}")
    return "\n".join(lines)


def _pin_line(item: FileVersionChange) -> str:
    versions = " -> ".join(version for version in dict.fromkeys((item.old, item.new)) if version)
    name = f"{item.layer}: {item.file}"
    return "\n".join(_wrapped(f"{name} {versions}: {_PIN_WORDS[item.kind]}"))


def lock_json(now: Lock, changed: Sequence[FileVersionChange], old: Lock | None) -> dict[str, Any]:
    """The same as JSON data."""
    return {
        "content_hash": now.content_hash,
        "content_hash_then": old.content_hash if old is not None else "",
        "files": [pin._asdict() for pin in now.pins],
        "changed": [item._asdict() for item in changed],
    }


def diff_text(found: RulesDiff) -> str:
    """What differs between two sets of rules."""
    if not found.versions and not found.entries:
        return "no difference in what the rules say"
    lines: list[str] = []
    for version in found.versions:
        lines += _wrapped(f"{version.ruleset}: version {version.old or 'none'} -> {version.new or 'none'}")
    for kind in ("changed", "added", "removed"):
        for entry in found.entries:
            if entry.kind == kind:
                lines += ["", *_entry(entry)]
    counts = Counter(entry.kind for entry in found.entries)
    total = ", ".join(f"{counts[kind]} {kind}" for kind in ("changed", "added", "removed"))
    return "\n".join([*lines, "", total]).lstrip("\n")


def _entry(entry: EntryChange) -> list[str]:
    what = "" if entry.what == "rules" else f" ({entry.what})"
    lines = _wrapped(f"{entry.kind.upper()} {entry.id}{what}") + _wrapped(entry.file, "  ")
    lines += _wrapped(f"moved here from {entry.moved_from}", "  ") if entry.moved_from else []
    for value in entry.values:
        lines += _wrapped(value_text(value, entry.kind), "  - ")
    return lines


def value_text(value: ValueChange, kind: str = "changed") -> str:
    """One key in words: `start, rows at 3.2 mm, low: 125 A -> 130 A (+4 %)`. kind: of the entry it stands in."""
    if value.old is None or value.new is None:
        came = value.old is None
        mark = "" if kind != "changed" else "new: " if came else "gone: "
        return f"{mark}{value.key}: {_plain(value.new if came else value.old)}"
    return f"{value.key}: {_plain(value.old)} -> {_plain(value.new)}{_percent(value.percent)}"


def _plain(value: Any) -> str:
    if isinstance(value, list):
        return ", ".join(_plain(item) for item in value)
    if isinstance(value, bool):
        return "true" if value else "false"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _percent(percent: float | None) -> str:
    return "" if percent is None else f" ({percent:+.2g} %)" if abs(percent) < 10 else f" ({percent:+.0f} %)"


def diff_json(found: RulesDiff) -> dict[str, Any]:
    """The same as JSON data."""
    return {
        "versions": [version._asdict() for version in found.versions],
        "entries": [{**entry._asdict(), "values": [value._asdict() for value in entry.values]}
                    for entry in found.entries],
    }  # fmt: skip


def spoken_text(changed: Sequence[RuleStatement], pins: Sequence[FileVersionChange]) -> str:
    """What the rules of a saved answer say now."""
    lines = [_pin_line(item) for item in pins]
    if not changed:
        return "\n".join([*lines, "every rule of this answer says now what it said then"])
    lines += [""] if lines else []
    for item in changed:
        lines += _wrapped(f"{item.where.replace('_', ' ')}: {item.rule}")
        if not item.old:
            lines += _wrapped(f"speaks now: {item.new}", "  ")
        elif not item.new:
            lines += _wrapped(f"silent now; it said: {item.old}", "  ")
        else:
            lines += _wrapped(f"{item.old} -> {item.new}", "  ")
    return "\n".join([*lines, "", f"{len(changed)} rules of this answer say something else"])


def recheck_text(name: str, changed: Sequence[AnswerChange], same_rules: bool) -> str:
    """One saved answer: what changed in it."""
    if not changed:
        rules = "the same rules" if same_rules else "other rules, the same answer"
        return "\n".join(_wrapped(f"{name}: unchanged ({rules})"))
    lines = _wrapped(f"{name}: {len(changed)} {'things' if len(changed) > 1 else 'thing'} changed")
    for item in changed:
        what = item.what if item.what == item.where else f"{item.what}"
        if not item.old or not item.new:
            lines += _wrapped(f"{'new' if item.new else 'gone'}: {what}: {item.new or item.old}", "  ")
        else:
            lines += _wrapped(f"{what}: {item.old} -> {item.new}{_percent(item.percent)}", "  ")
    return "\n".join(lines)


def recheck_json(name: str, changed: Sequence[AnswerChange], same_rules: bool) -> dict[str, Any]:
    """The same as JSON data."""
    return {"file": name, "same_rules": same_rules, "changed": [item._asdict() for item in changed]}


def _wrapped(text: str, first: str = "") -> list[str]:
    return textwrap.wrap(
        text, _WIDE, initial_indent=first, subsequent_indent=" " * (len(first) + 2), break_on_hyphens=False
    )
