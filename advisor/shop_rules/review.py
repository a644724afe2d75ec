"""A second look at rules that read well one by one: conflicts, dead and masked rules, gaps, jumps, and the map.

Errors are what no reading can save: two rules of one layer that cannot both hold, and a rule no job can meet. All else
is a note: conflicts whose rules say why (`differs`) or that meet only at the edge of two bands, masked rules, gaps of
the stated domain, and jumps.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic
from advisor.rulebook.checked_yaml import kept_numbers
from advisor.rulebook.compiled_cache import Store, program_hash
from advisor.rulebook.index import required_terms
from advisor.rulebook.review.check import Checked
from advisor.rulebook.review.check import CheckResult as CheckResult
from advisor.rulebook.review.check import FileCount as FileCount
from advisor.rulebook.review.conflicts import Conflict, conflicts
from advisor.rulebook.review.inactive import masked, why_dead
from advisor.rulebook.review.regions import World, in_words
from advisor.rulebook.rule import LAYERS
from advisor.rulebook.vocabulary import Vocabulary
from advisor.shop_rules.coverage import Domain, Gap, Jump, MetalCoverage, domains, walk
from advisor.units.quantities import HOUSE_UNITS

# What `facts.py` fills in for every job.
STATED = frozenset(
    (
        *("process", "base", "bases", "alloy", "alloys", "series", "pair", "heat_treatable", "cast", "free_machining"),
        *("unknown_alloy", "base_mg", "base_si", "thickness", "thinner", "thicker", "thickness_ratio", "surface"),
        *("joint", "weld", "position", "access", "service", "restricted", "closed_volume", "used_container", "place"),
    )
)
WITHIN = (("base", "bases"), ("alloy", "alloys"))
RISING = ("thinner", "thickness", "thicker")
_SHOWN_CASES = 3


class Review(NamedTuple):
    """errors and notes; walked: (domain, one metal walked through) in order."""

    errors: tuple[Diagnostic, ...]
    notes: tuple[Diagnostic, ...]
    walked: tuple[tuple[Domain, MetalCoverage], ...]


def review(checked: Checked, store: Store | None = None) -> Review:
    """All of it. Coverage is walked only where the check found nothing, since it needs all files.

    store: keeps what was found between files that have not changed since.
    """
    vocabulary = Vocabulary.from_data(checked.vocabulary)
    implied = _implied(checked.entries.get("material", ()))
    world = World(vocabulary, STATED, WITHIN, RISING, implied)
    known = _Known(store, checked, hashlib.sha256(json.dumps([checked.vocabulary, implied]).encode()).hexdigest()[:16])
    gone = {item["id"] for item in checked.replaced}
    errors: list[Diagnostic] = known.dead(world)
    notes: list[Diagnostic] = []
    for ids, explained, finding in known.conflicts(world):
        if gone.isdisjoint(ids):
            (notes if explained else errors).append(finding)
    notes += [_replaced(item) for item in checked.replaced]
    for item in masked([rule for rule in checked.rules if rule["id"] not in gone], world):
        who = ", ".join(f"'{rule['id']}'" for rule in item.by[:_SHOWN_CASES])
        more = f" and {len(item.by) - _SHOWN_CASES} more" if len(item.by) > _SHOWN_CASES else ""
        text = f"never heard: wherever it would speak, {who}{more} of a higher layer stands before it"
        notes.append(_at(item.rule, "masked", text, ""))
    walked = list(_walk_all(checked)) if checked.book is not None else []
    notes += _gap_notes([gap for _, one in walked for gap in one.gaps])
    notes += _jump_notes([jump for _, one in walked for jump in one.jumps], vocabulary)
    return Review(tuple(errors), tuple(notes), tuple(walked))


Found = tuple[list[str], bool, Diagnostic]


class _Known:
    """What was found before among files that have not changed, and what is found now among the others."""

    def __init__(self, store: Store | None, checked: Checked, words: str) -> None:
        self.store = store
        self.rules = checked.rules
        self.digests = checked.digests
        self.key = f"review:{program_hash()}:{words}"

    def _kept(self, what: str) -> dict[str, Any]:
        key = f"{self.key}:{what}"
        kept = self.store.get([key]).get(key) if self.store else None
        return kept if isinstance(kept, dict) else {"files": {}, "found": []}

    def _keep(self, what: str, found: list[Any]) -> None:
        if self.store:
            self.store.put({f"{self.key}:{what}": {"files": self.digests, "found": found}})

    def _same(self, kept: Mapping[str, Any]) -> set[str]:
        """Files that are what they were."""
        return {file for file, digest in self.digests.items() if kept["files"].get(file) == digest}

    def dead(self, world: World) -> list[Diagnostic]:
        """Rules that no job can meet."""
        kept = self._kept("dead")
        same = self._same(kept)
        found = [item for item in kept["found"] if item["file"] in same]
        for rule in self.rules:
            if rule["file"] not in same and (why := why_dead(rule, world)):
                found.append(_at(rule, "dead", why, _DEAD)._asdict())
        if len(same) < len(self.digests):
            self._keep("dead", found)
        return [Diagnostic(**item) for item in found]

    def conflicts(self, world: World) -> list[Found]:
        """(ids, explained, finding) of each conflict."""
        kept = self._kept("conflicts")
        same = self._same(kept)
        found = [item for item in kept["found"] if same.issuperset(item["files"])]
        if len(same) < len(self.digests):
            for one in conflicts(self.rules, world, lambda rule: rule["file"] not in same):
                pair = (one.first, one.second)
                said = {key: [rule[key] for rule in pair] for key in ("id", "file")}
                finding = _conflict(one, world)._asdict()
                found.append(
                    {"files": said["file"], "ids": said["id"], "explained": bool(one.explained), "finding": finding}
                )
            self._keep("conflicts", found)
        return [(item["ids"], item["explained"], Diagnostic(**item["finding"])) for item in found]


_DEAD = "take this rule out, or mend its 'when'"


def _implied(materials: Sequence[Mapping[str, Any]]) -> dict[str, dict[str, dict[str, Any]]]:
    """What the name of an alloy says of a job: its family, and that some member is heat-treatable."""
    found: dict[str, dict[str, Any]] = {}
    for entry in materials:
        found[entry["id"]] = {"base": entry["family"]}
        if entry.get("heat_treatable"):
            found[entry["id"]]["heat_treatable"] = True
    return {"alloy": found}


def _at(rule: Mapping[str, Any], code: str, message: str, repair: str) -> Diagnostic:
    return Diagnostic(code, message, rule["file"], rule["line"], rule.get("column", 1), rule["id"], repair)


def _replaced(item: Mapping[str, str]) -> Diagnostic:
    text = f"replaced by '{item['by']}' ({item['in']}): {item['reason']}"
    return Diagnostic("masked", text, item["file"], subject=item["id"])


def _conflict(found: Conflict, world: World) -> Diagnostic:
    other = f"'{found.first['id']}' ({found.first['file']}:{found.first['line']})"
    unit = HOUSE_UNITS.get(world.vocabulary.topics[found.first["topic"]].dimension, "")
    says = f"{found.says} [{unit}]" if unit and found.first["effect"] in ("start", "limit") else found.says
    where = in_words(found.boxes[0], world)
    more = f", and {len(found.boxes) - 1} more regions" if len(found.boxes) > 1 else ""
    text = f"cannot hold beside {other}: {says}; both speak where {where}{more}"
    if found.explained:
        return _at(found.second, "conflict", f"{text} (explained: {found.explained})", "")
    return _at(found.second, "conflict", text, "take this rule out, or narrow the 'when' of one of them")


def _walk_all(checked: Checked) -> Any:
    assert checked.book is not None
    for domain in domains(checked.vocabulary):
        for metal in _metals(domain, checked):
            given = {
                "domain": domain._asdict(),
                "metal": metal,
                "rules": _digest(checked, domain, metal),
                "program": program_hash(),
            }
            book = checked.book
            kept = kept_numbers("coverage", given, lambda b=book, d=domain, m=metal: _plain(walk(b, d, m)))  # type: ignore[misc]
            yield domain, _of_plain(kept)


def _metals(domain: Domain, checked: Checked) -> list[str]:
    """The metals of the domain, and those that rules of one's own name and the catalogue knows."""
    assert checked.book is not None
    found = dict.fromkeys(domain.metals)
    for rule in checked.rules:
        if rule["layer"] != LAYERS[0]:
            for name, values in required_terms(rule["when"]):
                found |= dict.fromkeys(values) if name in ("alloy", "alloys", "pair") else {}
    ids = {entry["id"] for entry in checked.book.index.entries("material")}
    return [metal for metal in found if metal in ids]


def _digest(checked: Checked, domain: Domain, metal: str) -> str:
    """A hash of all rules that may speak of a metal's plain jobs, and of the metal itself."""
    assert checked.book is not None
    entry = checked.book.index.entry("material", metal.casefold()) or {}
    facts = {"process": domain.process, "alloy": metal, "base": entry.get("family")}
    whole = hashlib.sha256(json.dumps([entry, checked.vocabulary]).encode())
    topics = {*domain.needs, *domain.grows}
    for rule in checked.rules:
        if rule["topic"] in topics and not any(
            facts.get(name) not in (None, *values) for name, values in required_terms(rule["when"])
        ):
            said = [rule[key] for key in ("id", "topic", "layer", "when", "printed_for", "carries", "effect", "body")]
            whole.update(json.dumps([said, rule["sources"]]).encode())
    return whole.hexdigest()


def _plain(walked: MetalCoverage) -> dict[str, Any]:
    return {
        "metal": walked.metal,
        "gaps": [list(gap) for gap in walked.gaps],
        "jumps": [list(jump) for jump in walked.jumps],
        "sources": walked.sources,
    }


def _of_plain(data: Mapping[str, Any]) -> MetalCoverage:
    sources = {joint: [(int(count), bool(rest)) for count, rest in row] for joint, row in data["sources"].items()}
    gaps = tuple(Gap(*item) for item in data["gaps"])
    return MetalCoverage(data["metal"], gaps, tuple(Jump(*item) for item in data["jumps"]), sources)


def _gap_notes(gaps: Sequence[Gap]) -> list[Diagnostic]:
    def key(gap: Gap) -> tuple[str, str, str, bool]:
        return gap.topic, f"{gap.low:.3g}", f"{gap.high:.3g}", gap.exact

    notes = []
    for (topic, low, high, exact), group in groupby(sorted(gaps, key=key), key=key):
        about = "" if exact else "about "
        text = f"no rule gives {topic} from {about}{low} to {high} mm: {_cases(list(group))}"
        notes.append(Diagnostic("gap", text, subject=topic))
    return notes


def _jump_notes(jumps: Sequence[Jump], vocabulary: Vocabulary) -> list[Diagnostic]:
    def key(jump: Jump) -> tuple[str, str, str, str, str, str]:
        sizes = (jump.at, jump.to, jump.before, jump.after)
        return (jump.topic, jump.kind, *(f"{size:.3g}" for size in sizes))  # type: ignore[return-value]

    notes = []
    for (topic, kind, at, to, before, after), group in groupby(sorted(jumps, key=key), key=key):
        unit = HOUSE_UNITS[vocabulary.topics[topic].dimension]
        where = f"at {at} mm" if at == to else f"between {at} and {to} mm"
        text = f"{topic} {kind} from {before} to {after} {unit}".rstrip() + f" {where}: {_cases(list(group))}"
        notes.append(Diagnostic("jump", text, subject=topic))
    return notes


def _cases(found: Sequence[Gap | Jump]) -> str:
    """The metals and joints of several findings, metals with the same joints together."""
    joints: dict[str, list[str]] = {}
    for item in found:
        joints.setdefault(item.metal, []).append(item.joint)
    metals: dict[tuple[str, ...], list[str]] = {}
    for metal, names in joints.items():
        metals.setdefault(tuple(names), []).append(metal)
    return "; ".join(f"{', '.join(group)} ({', '.join(names)})" for names, group in metals.items())


def no_examples(checked: Checked, folders: Sequence[str]) -> list[Diagnostic]:
    """A finding for each folder or file of rules that was named and holds no example at all."""
    found = []
    for folder in folders:
        mine = [count for count in checked.by_file if count.file == folder or count.file.startswith(f"{folder}/")]
        if not sum(count.examples for count in mine):
            text = "no examples were found, so nothing was tested"
            found.append(Diagnostic("example", text, folder, help="write rules with examples in it"))
    return found
