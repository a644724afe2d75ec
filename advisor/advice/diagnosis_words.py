"""Plain words, ISO 6520-1 numbers and ids to observations.

A phrase of the catalogue is found in a text where its words stand close together: in any order, with at most two
others between. Longer phrases go first and use up their words, so that `pores after grinding` is not also `pores`; a
phrase with `no`, `not` or `without` just before it is a denial.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from advisor.advice.diagnosis_knowledge import Observation
from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.rulebook.names import fold

_DENIALS = ("no", "not", "without", "never", "isnt", "arent", "dont", "didnt", "doesnt", "wasnt", "cant", "none")
_FEW_BETWEEN = 2
_SMALL = frozenset(("the", "a", "an", "in", "on", "at", "of", "to", "is", "are", "was", "it", "i", "my", "and", "with"))
_IRREGULAR = {"aluminum": "aluminium", "porosity": "porosity", "discolored": "discoloured", "center": "centre"}


class Heard(NamedTuple):
    """An observation found in a text, and whether it was denied."""

    id: str
    present: bool
    words: str


def listen(text: str, observations: Mapping[str, Observation]) -> list[Heard]:
    """Observations that a text names: an id or alias, a number of ISO 6520-1, or plain words.

    Raises PrestrikeError with the nearest phrase where nothing in it is known.
    """
    named = _by_name(text, observations) or _by_number(text, observations)
    found = [Heard(named, True, text)] if named else _by_words(text, observations)
    if not found:
        phrases = {phrase: item.id for item in observations.values() for phrase in (item.alias, item.name, *item.words)}
        near = did_you_mean(text, phrases)
        hint = near if near.startswith("did") else "see 'prestrike faults --list' for the signs it knows"
        raise PrestrikeError(
            Diagnostic("unknown-sign", f"'{text}' names no sign known here", subject="seen", help=hint)
        )
    return found


def _by_name(text: str, observations: Mapping[str, Observation]) -> str:
    wanted = fold(text)
    for item in observations.values():
        if wanted in (fold(item.id), fold(item.alias)):
            return item.id
    variants = sorted(item.alias for item in observations.values() if re.fullmatch(f"{wanted}[a-z]", fold(item.alias)))
    if variants and re.fullmatch(r"[a-z]\d+", wanted):
        names = ", ".join(f"{item.alias} {item.name}" for item in observations.values() if item.alias in variants)
        raise PrestrikeError(Diagnostic("unknown-sign", f"{text} needs to say what helped", help=f"one of: {names}"))
    return ""


def _by_number(text: str, observations: Mapping[str, Observation]) -> str:
    """The observation of an imperfection number; where several share it, the one that says least."""
    match = re.fullmatch(r"\s*(?:iso\s*)?(?:6520(?:-1)?[\s:-]*)?(\d{3,4})\s*", text, re.IGNORECASE)
    if match is None:
        return ""
    found = [item for item in observations.values() if match.group(1) in item.imperfections]
    found.sort(key=lambda item: (not item.covers, -item.rate, item.id))
    return found[0].id if found else ""


def _by_words(text: str, observations: Mapping[str, Observation]) -> list[Heard]:
    words = _words(text)
    used: set[int] = set()
    found: dict[str, Heard] = {}
    for phrase, name in _phrases(observations.values()):
        at = _places(phrase, words, used)
        if at and name not in found:
            used.update(at)
            denied = any(i not in used and words[i] in _DENIALS for i in range(max(at[0] - 2, 0), at[0]))
            found[name] = Heard(name, not denied, " ".join(words[i] for i in at))
    return sorted(found.values())


def _phrases(items: Iterable[Observation]) -> list[tuple[tuple[str, ...], str]]:
    """All phrases, those of most words first, then the longest."""
    pairs = {(tuple(_key_words(phrase)), item.id) for item in items for phrase in (item.name, *item.words)}
    return sorted((pair for pair in pairs if pair[0]), key=lambda pair: (-len(pair[0]), -sum(map(len, pair[0])), pair))


def _key_words(phrase: str) -> list[str]:
    words = _words(phrase)
    return [word for word in words if word not in _SMALL] or words


def _places(phrase: Sequence[str], words: Sequence[str], used: set[int]) -> list[int]:
    """Where the words of a phrase stand in a text, close together in any order; empty where they do not."""
    for start, word in enumerate(words):
        if word not in phrase or start in used:
            continue
        end = min(start + len(phrase) + _FEW_BETWEEN, len(words))
        left, at = list(phrase), []
        for i in range(start, end):
            if i not in used and words[i] in left:
                left.remove(words[i])
                at.append(i)
        if not left:
            return at
    return []


def _words(text: str) -> list[str]:
    plain = text.casefold().replace("'", "").replace("’", "")
    return [_stem(word) for word in re.findall(r"[a-z]+|\d+", plain)]


def _stem(word: str) -> str:
    word = _IRREGULAR.get(word, word)
    for end in ("ies", "ing", "ed", "es", "s"):
        if word.endswith(end) and len(word) - len(end) >= 3 and not word.endswith("ss"):
            word = word[: -len(end)]
            break
    word = word.rstrip("e") if len(word) > 3 else word
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "sl" else word
