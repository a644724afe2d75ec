"""Dangers that a person's plain words name: heard before anything else, and in doubt told.

A phrase names its danger where its words stand in their order with at most two words between, in one sentence. It is
left aside where one of its words belongs to a phrase that means something harmless (`fuel for thought`), and where it
is plainly denied (`never used brake cleaner`). Any other denial is in doubt, and the danger is told.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from advisor.faults.knowledge import label
from advisor.faults.word_forms import BREAKS, DENIALS, HARD, SMALL, plain_words_of, spelled
from advisor.rulebook.index import Index

_MOST_BETWEEN = 2


def _forms(text: str) -> frozenset[str]:
    return frozenset(form for _, form in plain_words_of(text))


_USING = _forms("use used using held hold contain contained had has have clean with wipe spray")
_VERBS = _forms("clean wipe spray")
# What may stand between a plain denial and what it denies, and after it up to the end of its part of the sentence.
_BEFORE = _USING | _forms("a an any been ever kind sort of")
_AFTER = _forms("was were is be been use used at all ever here on it before steel sheet pipe tube metal material")
_CLAUSE_ENDS = BREAKS | _forms("and or just only")
# A denial in a question or a guess denies nothing.
_DOUBTS = _forms("why if whether unless sure know knew think thought should could what how maybe perhaps")


class _Word(NamedTuple):
    """A word as it was written, and its form: without its ending, slips of the pen put right."""

    written: str
    form: str


class Danger(NamedTuple):
    """A hazard and what to do, with the words it was heard in."""

    id: str
    hazard: str
    do: str
    heard: tuple[str, ...]
    source: str
    evidence: str


class _Phrase(NamedTuple):
    """The words of a phrase, by their forms; one that ends in a star stands for a written word with any ending."""

    words: tuple[str, ...]

    def places(self, text: Sequence[_Word]) -> Iterator[list[int]]:
        """Where the phrase stands in a text, each time as the places of its words."""
        for start, word in enumerate(text):
            if _alike(self.words[0], word):
                at = self._from(text, start)
                if at:
                    yield at

    def _from(self, text: Sequence[_Word], start: int) -> list[int]:
        at = [start]
        for wanted in self.words[1:]:
            span = range(at[-1] + 1, min(at[-1] + 2 + _MOST_BETWEEN, len(text)))
            found = next((i for i in span if _alike(wanted, text[i]) or text[i].form == HARD), None)
            if found is None or text[found].form == HARD:
                return []
            at.append(found)
        return at


class _Hazard(NamedTuple):
    """A hazard of the rules, with its phrases ready to be looked for."""

    entry: dict[str, Any]
    words: tuple[_Phrase, ...]
    not_meant: tuple[_Phrase, ...]

    def heard_in(self, text: Sequence[_Word]) -> bool:
        harmless = {i for phrase in self.not_meant for at in phrase.places(text) for i in range(at[0], at[-1] + 1)}
        places = (at for phrase in self.words for at in phrase.places(text))
        return any(harmless.isdisjoint(at) and not _plainly_denied([word.form for word in text], at) for at in places)


class HazardListener:
    """Hears the hazards of the rules in what people say."""

    def __init__(self, index: Index) -> None:
        entries = sorted(index.entries("hazard"), key=lambda entry: (entry["order"], entry["id"]))
        self.hazards = [
            _Hazard(entry, _phrases(entry["words"]), _phrases(entry.get("not_meant", ()))) for entry in entries
        ]
        phrases = (phrase for hazard in self.hazards for phrase in (*hazard.words, *hazard.not_meant))
        self.known = {word for phrase in phrases for word in phrase.words} | SMALL | DENIALS | BREAKS
        for entry in index.entries("observation"):
            for text in (entry["name"], *entry["words"]):
                self.known |= _forms(text)

    def hear(self, texts: Iterable[str]) -> tuple[Danger, ...]:
        """The dangers that the texts name, the gravest first."""
        listed = [(text, self._words(text)) for text in texts]
        found = []
        for hazard in self.hazards:
            heard = tuple(dict.fromkeys(text for text, words in listed if hazard.heard_in(words)))
            if heard:
                found.append(_danger(hazard.entry, heard))
        return tuple(found)

    def _words(self, text: str) -> list[_Word]:
        pairs = plain_words_of(text)
        forms = spelled([form for _, form in pairs], self.known)
        return [_Word(written, form) for (written, _), form in zip(pairs, forms, strict=True)]


def _danger(entry: dict[str, Any], heard: tuple[str, ...]) -> Danger:
    source = entry["source"][0]
    return Danger(entry["id"], entry["hazard"], entry["do"], heard, label(source), source["evidence"])


def _phrases(texts: Iterable[str]) -> tuple[_Phrase, ...]:
    return tuple(dict.fromkeys(_Phrase(tuple(_phrase_words(text))) for text in texts))


def _phrase_words(text: str) -> list[str]:
    words: list[str] = []
    for part in re.split(r"[\s-]+", text.casefold()):
        words += [part] if part.endswith("*") else [form for _, form in plain_words_of(part)]
    return words


def _alike(wanted: str, word: _Word) -> bool:
    return word.written.startswith(wanted[:-1]) if wanted.endswith("*") else word.form == wanted


def _plainly_denied(text: Sequence[str], at: Sequence[int]) -> bool:
    """True where the words are denied, once, and nothing in their part of the sentence puts that in doubt."""
    before, after = _clause_before(text, at[0]), _clause_after(text, at[-1])
    if not _DOUBTS.isdisjoint(before):
        return False
    denials = [i for i, word in enumerate(before) if word in DENIALS]
    if len(denials) > 1 or any(word in DENIALS for word in text[at[0] : at[-1]]):
        return False
    if denials:
        between = before[denials[0] + 1 :]
        return _may_stand_between(between) and _AFTER.issuperset(after)
    later = [word for word in after if word in DENIALS]
    return len(later) == 1 and after[-1] in _USING | {"ever"} and (_AFTER | DENIALS).issuperset(after)


def _may_stand_between(between: Sequence[str]) -> bool:
    """`use the` and `clean with` may; `clean` alone may not: `did not clean brake cleaner off` denies no use."""
    words = _BEFORE | _forms("the") if _USING.intersection(between) else _BEFORE
    return words.issuperset(between) and ("with" in between or _VERBS.isdisjoint(between))


def _clause_before(text: Sequence[str], start: int) -> list[str]:
    begin = next((i + 1 for i in range(start - 1, -1, -1) if text[i] in BREAKS), 0)
    return list(text[begin:start])


def _clause_after(text: Sequence[str], end: int) -> list[str]:
    stop = next((i for i in range(end + 1, len(text)) if text[i] in _CLAUSE_ENDS), len(text))
    return list(text[end + 1 : stop])
