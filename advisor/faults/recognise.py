"""Plain words, ISO 6520-1 numbers and ids to observations.

A phrase of the catalogue is found in a text where its words stand close together: in any order, with at most two
others between. Longer phrases go first, of those the closest, and use up their words, so that `pores after grinding`
is not also `pores`; a
phrase with `no`, `not` or `without` just before it is a denial, and some phrases (`tungsten stays bright`) say that a
sign is not there. Where no phrase is found whole, the one sign whose
words are met best, by how telling each word is, is taken as a guess and marked as one; where none is met well, the
nearest signs are named and nothing is taken.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError, nearest
from advisor.faults.knowledge import Observation
from advisor.faults.word_forms import BREAKS, DENIALS, HARD, SMALL, spelled, words_of
from advisor.rulebook.names import fold

_FEW_BETWEEN = 2
# A guess meets at least this share of a phrase, weighed by how telling its words are, and leads the next sign.
_ENOUGH = 0.6
_LEAD = 1.12
_NEAR = 3


class Recognised(NamedTuple):
    """An observation found in a text, whether it was denied, the words it was found by, and whether it is a guess."""

    id: str
    present: bool
    words: str
    guessed: bool = False


class Phrase(NamedTuple):
    """Words of the catalogue for a sign. there: they say that it is there."""

    words: tuple[str, ...]
    id: str
    there: bool


class SignRecogniser:
    """Finds the observations of a catalogue in what people say."""

    def __init__(self, observations: Mapping[str, Observation]) -> None:
        self.observations = observations
        self.phrases = _phrases(observations)
        self.by_length = [list(group) for _, group in groupby(self.phrases, key=lambda phrase: len(phrase.words))]
        uses = Counter(word for phrase in self.phrases for word in set(phrase.words))
        self.telling = {word: math.log(1 + len(self.phrases) / count) for word, count in uses.items()}

    def listen(self, text: str) -> list[Recognised]:
        """Observations that a text names: an id or alias, a number of ISO 6520-1, or plain words.

        Raises PrestrikeError with the nearest signs where nothing in it is known.
        """
        parts = re.split(r"[\s,;]+", text.strip())
        if len(parts) > 1 and all(re.fullmatch(r"[A-Za-z]\d+[a-z]?", part) for part in parts):
            return [heard for part in parts for heard in self.listen(part)]
        named = self._by_name(text) or self._by_number(text)
        if named:
            return [Recognised(named, True, text)]
        words = spelled(words_of(text), self.telling.keys() | DENIALS | SMALL | BREAKS)
        found = self._by_words(words) or self._by_guess(words)
        if not found:
            hint = f"the nearest known: {'; '.join(self._near(text, words))}; 'prestrike faults --list' has them all"
            if re.fullmatch(r"\s*[A-Za-z]?\d+[a-z]?\s*", text):
                hint = "numbers of signs: O01, D01, K01 and on, as 'prestrike faults --list' shows; or of ISO 6520-1"
            raise PrestrikeError(
                Diagnostic("unknown-sign", f"'{text}' names no sign known here", subject="seen", help=hint)
            )
        return found

    def _by_name(self, text: str) -> str:
        wanted = fold(text)
        for item in self.observations.values():
            if wanted in (fold(item.id), fold(item.alias), fold(item.name)):
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

    def _by_words(self, words: Sequence[str]) -> list[Recognised]:
        used: set[int] = set()
        found: dict[str, Recognised] = {}
        for group in self.by_length:
            while (match := _tightest(group, words, used)) is not None:
                phrase, at = match
                used.update(at)
                there = phrase.there ^ _denied(words, at, used)
                found.setdefault(phrase.id, Recognised(phrase.id, there, " ".join(words[i] for i in at)))
        return sorted(found.values())

    def _by_guess(self, words: Sequence[str]) -> list[Recognised]:
        ranked = self._met(words)
        if not ranked or ranked[0][0] < _ENOUGH:
            return []
        share, phrase = ranked[0]
        others = [other for other in ranked[1:] if (other[1].id, other[1].there) != (phrase.id, phrase.there)]
        if others and share < _LEAD * others[0][0]:
            return []
        return [Recognised(phrase.id, phrase.there, " ".join(words), guessed=True)]

    def _met(self, words: Sequence[str]) -> list[tuple[float, Phrase]]:
        """How far each phrase is met by the words, best first; only phrases that deny as often as the words do."""
        said = {word for word in words if word in self.telling}
        denials = said & DENIALS
        found = []
        for phrase in self.phrases:
            met = set(phrase.words) & said
            if len(met - DENIALS) > 1 and bool(set(phrase.words) & DENIALS) == bool(denials):
                share = sum(self.telling[word] for word in met) / sum(self.telling[word] for word in phrase.words)
                found.append((share, phrase))
        return sorted(found, key=lambda item: (-item[0], item[1]))

    def _near(self, text: str, words: Sequence[str]) -> list[str]:
        """The signs nearest to a text that names none: by shared words, and by spelling where no word is shared."""
        said = {word for word in words if word in self.telling}
        shared: dict[str, float] = {}
        for phrase in self.phrases:
            weight = sum(self.telling[word] for word in set(phrase.words) & said) / math.sqrt(len(phrase.words))
            shared[phrase.id] = max(shared.get(phrase.id, 0.0), weight)
        names = sorted((name for name, weight in shared.items() if weight > 0), key=lambda n: (-shared[n], n))
        if not names:
            spellings = {phrase: item.id for item in self.observations.values() for phrase in (item.name, *item.words)}
            near = nearest(text, spellings)
            names = [spellings[near]] if near else ["soot", "pores-somewhere", "crack-somewhere", "bead-on-top"]
        items = [self.observations[name] for name in names[:_NEAR] if name in self.observations]
        return [f"{item.alias} {item.name}" for item in items]


def _phrases(observations: Mapping[str, Observation]) -> list[Phrase]:
    """All phrases, those of most words first, then the longest."""
    found = set()
    for item in observations.values():
        for texts, there in (((item.name, *item.words), True), (item.words_against, False)):
            found |= {Phrase(tuple(key_words(text)), item.id, there) for text in texts}
    usable = [phrase for phrase in found if set(phrase.words) - DENIALS - SMALL]
    return sorted(usable, key=lambda phrase: (-len(phrase.words), -sum(map(len, phrase.words)), phrase))


def key_words(phrase: str) -> list[str]:
    """The words of a phrase that count."""
    words = [word for word in words_of(phrase) if word not in BREAKS]
    return [word for word in words if word not in SMALL] or words


def _tightest(group: Sequence[Phrase], words: Sequence[str], used: set[int]) -> tuple[Phrase, list[int]] | None:
    """Of phrases of one length, the one whose words stand closest together, and where; None where none is there."""
    free = {word for i, word in enumerate(words) if i not in used}
    best, best_key = None, None
    for phrase in group:
        if not free.issuperset(phrase.words):
            continue
        at = _places(phrase.words, words, used)
        if at:
            in_order = tuple(words[i] for i in at) == phrase.words
            key = (max(at) - at[0], not in_order, -sum(map(len, phrase.words)), phrase)
            if best_key is None or key < best_key:
                best, best_key = (phrase, at), key
    return best


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
                    break
            elif words[i] == HARD:
                break
            elif words[i] not in SMALL:
                between += 1
                if between > _FEW_BETWEEN:
                    break
        if not left and _denies_alike(phrase, [words[i] for i in at]):
            return at
    return []


def _denies_alike(phrase: Sequence[str], found: Sequence[str]) -> bool:
    """True where a denial of a phrase stands before the same words in the text: `not joined` is not `joined, not`."""
    for at, word in enumerate(phrase):
        if word in DENIALS:
            return sorted(found[found.index(word) :]) == sorted(phrase[at:])
    return True


def _denied(words: Sequence[str], at: Sequence[int], used: set[int]) -> bool:
    """True where a denial that is no part of a phrase stands among the words or just before, small ones not counted."""
    if any(words[i] in DENIALS and i not in used for i in range(at[0], max(at))):
        return True
    steps = 0
    for i in range(at[0] - 1, -1, -1):
        if words[i] in SMALL:
            continue
        if words[i] in BREAKS:
            return False
        if words[i] in DENIALS:
            return i not in used
        steps += 1
        if steps > 1:
            return False
    return False
