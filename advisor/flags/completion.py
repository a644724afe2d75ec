"""Names for the shell to complete: metals, joints and the other words of a job, as the rules in force know them."""

from __future__ import annotations

from collections.abc import Callable, Iterable

Complete = Callable[[str], list[str]]


def metals(incomplete: str) -> list[str]:
    """Names of metals that begin so, whichever way letters are written."""
    from advisor.shop.rules_in_force import open_rules

    entries = open_rules().index.entries("material")
    names = [
        name for entry in entries for name in (entry["id"], *(f"{entry['id']}-{t}" for t in entry.get("tempers", ())))
    ]
    return _beginning(names, incomplete)


def words(attribute: str) -> Complete:
    """A completion for an attribute of the vocabulary."""

    def complete(incomplete: str) -> list[str]:
        from advisor.shop.rules_in_force import open_rules

        return _beginning(open_rules().vocabulary.attributes[attribute].choices, incomplete)

    return complete


def _beginning(names: Iterable[str], incomplete: str) -> list[str]:
    start = incomplete.casefold()
    return sorted({name for name in map(str, names) if name.casefold().startswith(start)})
