"""Files of knowledge about faults, inspection and cracking: their entries, and the links between them.

Structure and keys are the schema's affair; here sources are resolved, conditions and sizes compiled, and at the end
every name that one entry uses for another is looked up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from advisor.diagnostics import Diagnostic, did_you_mean
from advisor.rulebook.names import fold

if TYPE_CHECKING:
    from advisor.rulebook.reading.catalogue import CatalogueReader, Entry
    from advisor.rulebook.reading.compile import Compiled
    from advisor.rulebook.reading.yaml_text import PathKey

# Kind of file -> kind of its entries in the index.
ENTRY_KINDS = {
    "observations": "observation",
    "causes": "cause",
    "checks": "check",
    "remedies": "remedy",
    "limits": "limit",
    "looks": "look",
    "tests": "test",
    "repairs": "repair",
    "fillers": "filler",
    "cracking": "crack-zone",
    "hazards": "hazard",
}
KNOWLEDGE = tuple(ENTRY_KINDS)
# Keys of an entry that hold a length.
_LENGTHS = ("above", "from", "to", "plus", "most")
# Keys of an entry that hold entries of its own, and those that hold spans of a composition.
_NESTED = ("levels", "sizes")
_SPANS = ("bead", "base", "filler")
# Measures of a composition that are no mass percent.
_INDEXES = ("Mg/Si", "UCS", "Creq/Nieq")


def read_knowledge(reader: CatalogueReader, kind: str) -> list[Entry]:
    """(kind, id, payload, names) of every entry of a knowledge file."""
    entries: list[Entry] = []
    for index, item in enumerate(reader.document.data[kind]):
        reader.subject = item["id"]
        path: PathKey = (kind, index)
        payload = {key: _value(reader, key, value, (*path, key)) for key, value in item.items()}
        payload["file"] = reader.document.file
        payload["line"] = reader.document.values[path][0]
        also = item["names"] if kind == "fillers" else ()
        names = [fold(name) for name in (item["id"], item.get("alias", ""), *also) if name]
        entries.append((ENTRY_KINDS[kind], item["id"], payload, names))
    return entries


def _value(reader: CatalogueReader, key: str, value: Any, path: PathKey) -> Any:
    if key == "source":
        return reader.cite(value, path)
    if key == "job":
        return reader.numbers.read(value, path)
    if key == "signs":
        return [{**sign, "source": reader.cite(sign["source"], (*path, at, "source"))} for at, sign in enumerate(value)]
    if key == "composition":
        return reader.composition(value, path)
    if key in _SPANS and isinstance(value, list):
        return [_span(reader, span, (*path, at)) for at, span in enumerate(value)]
    if key in _NESTED:
        return [
            {name: _value(reader, name, inner, (*path, at, name)) for name, inner in part.items()}
            for at, part in enumerate(value)
        ]
    if key in ("setting", "change"):
        _known_topic(reader, value["topic"], (*path, "topic"))
    if key in _LENGTHS:
        return reader.numbers.number(value, "length", path)
    return value


def _span(reader: CatalogueReader, span: dict[str, Any], path: PathKey) -> dict[str, Any]:
    """A span of one measure with its bounds as numbers: mass percent, or bare for an index."""
    dimension = "ratio" if span["measure"] in _INDEXES else "mass_percent"
    bounds = {
        name: reader.numbers.number(value, dimension, (*path, name))
        for name, value in span.items()
        if name != "measure"
    }
    low, high = bounds.get("from", bounds.get("above")), bounds.get("to", bounds.get("below"))
    if not bounds:
        reader.report(Diagnostic("no-bound", "a span without from, to, above or below says nothing"), path)
    elif low is not None and high is not None and low > high:
        reader.report(Diagnostic("reversed-range", "the low end is above the high end", help="swap them"), path)
    return {"measure": span["measure"], **bounds}


def _known_topic(reader: CatalogueReader, topic: str, path: PathKey) -> None:
    topics = reader.tools.vocabulary.topics
    if topic not in topics:
        repair = did_you_mean(topic, topics)
        reader.report(Diagnostic("unknown-topic", f"'{topic}' is no topic", help=repair), path)


def broken_links(compiled: Sequence[Compiled]) -> list[Diagnostic]:
    """Names of observations and causes that no file of any layer holds."""
    known: dict[str, set[str]] = {"observation": set(), "cause": set()}
    for item in compiled:
        for kind, entry_id, _, _ in item.entries:
            known.setdefault(kind, set()).add(entry_id)
    found = []
    for item in compiled:
        for kind, entry_id, payload, _ in item.entries:
            for wanted, name in _links(kind, payload):
                if name not in known[wanted]:
                    message = f"there is no {wanted} '{name}'"
                    repair = did_you_mean(name, sorted(known[wanted]))
                    line = payload.get("line", 0)
                    found.append(Diagnostic("unknown-link", message, item.file, line, 1, entry_id, repair))
    return found


def _links(kind: str, payload: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """(kind, id) of every entry that an entry names."""
    if kind == "observation":
        yield from (("observation", name) for name in payload.get("covers", ()))
    elif kind == "cause":
        yield from (("observation", sign["observation"]) for sign in payload["signs"])
    elif kind == "check":
        yield from (("observation", name) for name in (*payload["tells"], *payload.get("after", ())))
    elif kind == "remedy":
        yield from (("cause", name) for name in payload["causes"])
