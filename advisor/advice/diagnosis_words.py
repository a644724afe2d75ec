"""Plain words, ISO 6520-1 numbers and ids to observations.

A phrase of the catalogue is found in a text where its words stand close together: in any order, with at most two
others between. Longer phrases go first and use up their words, so that `pores after grinding` is not also `pores`; a
phrase with `no`, `not` or `without` just before it is a denial. Where no phrase is found whole, the one sign whose
words are met best, by how telling each word is, is taken as a guess and marked as one; where none is met well, the
nearest signs are named and nothing is taken.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from advisor.advice.diagnosis_knowledge import Observation
from advisor.advice.diagnosis_tokens import DENIALS, SMALL, spelled, words_of
from advisor.diagnostics import Diagnostic, PrestrikeError, nearest
from advisor.rulebook.names import fold

_FEW_BETWEEN = 2
# A guess meets at least this share of a phrase, weighed by how telling its words are, and leads the next sign.
_ENOUGH = 0.6
_LEAD = 1.12
_NEAR = 3


class Heard(NamedTuple):
    """An observation found in a text, whether it was denied, the words it was found by, and whether it is a guess."""

    id: str
    present: bool
    words: str
    guessed: bool = False


class Listener:
    """Finds the observations of a catalogue in what people say."""

    def __init__(self, observations: Mapping[str, Observation]) -> None:
        self.observations = observations
        self.phrases = _phrases(observations)
        uses = Counter(word for phrase, _ in self.phrases for word in set(phrase))
        self.telling = {word: math.log(1 + len(self.phrases) / count) for word, count in uses.items()}

    def listen(self, text: str) -> list[Heard]:
        """Observations that a text names: an id or alias, a number of ISO 6520-1, or plain words.

        Raises PrestrikeError with the nearest signs where nothing in it is known.
        """
        named = self._by_name(text) or self._by_number(text)
        if named:
            return [Heard(named, True, text)]
        words = spelled(words_of(text), self.telling.keys() | DENIALS | SMALL)
        found = self._by_words(words) or self._by_guess(words)
        if not found:
            hint = f"the nearest known: {'; '.join(self._near(text, words))}; 'prestrike faults --list' has them all"
            raise PrestrikeError(
                Diagnostic("unknown-sign", f"'{text}' names no sign known here", subject="seen", help=hint)
            )
        return found

    def _by_name(self, text: str) -> str:
        wanted = fold(text)
        for item in self.observations.values():
            if wanted in (fold(item.id), fold(item.alias)):
                return item.id
        variants = [item for item in self.observations.values() if re.fullmatch(r"[a-z]\d+", wanted)]
        variants = [item for item in variants if re.fullmatch(f"{wanted}[a-z]", fold(item.alias))]
        if variants:
            names = ", ".join(f"{item.alias} {item.name}" for item in variants)
            raise PrestrikeError(
                Diagnostic("unknown-sign", f"{text} needs to say what helped", help=f"one of: {names}")
            )
        return ""

    def _by_number(self, text: str) -> str:
        """The observation of an imperfection number; where several share it, the one that says least."""
        match = re.fullmatch(r"\s*(?:iso\s*)?(?:6520(?:-1)?[\s:-]*)?(\d{3,4})\s*", text, re.IGNORECASE)
        if match is None:
            return ""
        found = [item for item in self.observations.values() if match.group(1) in item.imperfections]
        found.sort(key=lambda item: (not item.covers, -item.rate, item.id))
        return found[0].id if found else ""

    def _by_words(self, words: Sequence[str]) -> list[Heard]:
        used: set[int] = set()
        found: dict[str, Heard] = {}
        for phrase, name in self.phrases:
            at = _places(phrase, words, used)
            if at:
                used.update(at)
                found.setdefault(name, Heard(name, not _denied(words, at, used), " ".join(words[i] for i in at)))
        return sorted(found.values())

    def _by_guess(self, words: Sequence[str]) -> list[Heard]:
        ranked = self._met(words)
        if not ranked or ranked[0][0] < _ENOUGH:
            return []
        if len(ranked) > 1 and ranked[0][0] < _LEAD * ranked[1][0]:
            return []
        denied = any(word in DENIALS for word in words)
        return [Heard(ranked[0][1], not denied, " ".join(words), guessed=True)]

    def _met(self, words: Sequence[str]) -> list[tuple[float, str]]:
        """How far each sign is met by the words, best first."""
        said = {word for word in words if word in self.telling}
        best: dict[str, float] = {}
        for phrase, name in self.phrases:
            whole = sum(self.telling[word] for word in phrase)
            met = sum(self.telling[word] for word in set(phrase) & said)
            if len(phrase) > 1 and len(set(phrase) & said) > 1:
                best[name] = max(best.get(name, 0.0), met / whole)
        return sorted(((share, name) for name, share in best.items()), key=lambda item: (-item[0], item[1]))

    def _near(self, text: str, words: Sequence[str]) -> list[str]:
        """The signs nearest to a text that names none: by shared words, and by spelling where no word is shared."""
        said = {word for word in words if word in self.telling}
        shared: dict[str, float] = {}
        for phrase, name in self.phrases:
            weight = sum(self.telling[word] for word in set(phrase) & said) / math.sqrt(len(phrase))
            shared[name] = max(shared.get(name, 0.0), weight)
        names = sorted((name for name, weight in shared.items() if weight > 0), key=lambda n: (-shared[n], n))
        if not names:
            spellings = {phrase: item.id for item in self.observations.values() for phrase in (item.name, *item.words)}
            near = nearest(text, spellings)
            names = [spellings[near]] if near else ["soot", "pores-somewhere", "crack-somewhere", "bead-on-top"]
        items = [self.observations[name] for name in names[:_NEAR] if name in self.observations]
        return [f"{item.alias} {item.name}" for item in items]


def _phrases(observations: Mapping[str, Observation]) -> list[tuple[tuple[str, ...], str]]:
    """All phrases, those of most words first, then the longest."""
    items = observations.values()
    pairs = {(tuple(key_words(phrase)), item.id) for item in items for phrase in (item.name, *item.words)}
    pairs = {pair for pair in pairs if set(pair[0]) - DENIALS - SMALL}
    return sorted(pairs, key=lambda pair: (-len(pair[0]), -sum(map(len, pair[0])), pair))


def key_words(phrase: str) -> list[str]:
    """The words of a phrase that count."""
    words = words_of(phrase)
    return [word for word in words if word not in SMALL] or words


def _places(phrase: Sequence[str], words: Sequence[str], used: set[int]) -> list[int]:
    """Where the words of a phrase stand in a text, close together in any order; empty where they do not."""
    for start, word in enumerate(words):
        if word not in phrase or start in used:
            continue
        between, left, at = 0, list(phrase), []
        for i in range(start, len(words)):
            if i not in used and words[i] in left:
                left.remove(words[i])
                at.append(i)
                if not left:
                    return at
            elif words[i] not in SMALL:
                between += 1
                if between > _FEW_BETWEEN:
                    break
    return []


def _denied(words: Sequence[str], at: Sequence[int], used: set[int]) -> bool:
    """True where a denial that is no part of a phrase stands just before the words, small words not counted."""
    steps = 0
    for i in range(at[0] - 1, -1, -1):
        if words[i] in SMALL:
            continue
        if words[i] in DENIALS:
            return i not in used
        steps += 1
        if steps > 1:
            return False
    return False
