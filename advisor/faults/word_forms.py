"""Words of a sentence, brought to one form: endings off, spellings of both sides of the ocean, words of one meaning."""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import lru_cache

# What ends a sentence, which no phrase crosses; and what ends a part of one, which no denial crosses.
HARD, SOFT = ".", ","
BREAKS = frozenset((HARD, SOFT))

_SMALL_WORDS = """
the a an in on at of to is are was were it its i my me and with this that there be been by as just very really some
little when where so do doe does did have has had from for up though although even they them their you your we our he or
if but than then also becaus whil im ive thes thos what which who how about am could would should will may might
now here look lik seem get got
"""
SMALL = frozenset(_SMALL_WORDS.split())
# Every denial has this one form.
DENIALS = frozenset(("no",))
_DENYING_WORDS = """
not without never isnt arent dont didnt doesnt wasnt werent cant cannot none nor hasnt havent couldnt wont wouldnt
"""

# Words whose form an ending rule does not reach, and words that mean the same at a bench.
_SAME = {
    "ground": "grind",
    "burnt": "burn",
    "blew": "blow",
    "blown": "blow",
    "stuck": "stick",
    "froze": "freez",
    "frozen": "freez",
    "sank": "sink",
    "sunk": "sink",
    "sunken": "sink",
    "ran": "run",
    "fell": "fall",
    "fallen": "fall",
    "spat": "spit",
    "held": "hold",
    "kept": "keep",
    "came": "com",
    "forgot": "forget",
    "forgotten": "forget",
    "broke": "break",
    "broken": "break",
    "bent": "bend",
    "weld": "bead",
    "seam": "bead",
    "puddl": "pool",
    "filler": "rod",
    "argon": "gas",
    "amp": "current",
    "amperag": "current",
    "gray": "grey",
    "greyish": "grey",
    "grayish": "grey",
    "blackish": "black",
    "aluminum": "aluminium",
    "alu": "aluminium",
    "alum": "aluminium",
    "ally": "aluminium",
    "pinhol": "por",
    "porosity": "por",
    "porosit": "por",
    "porous": "por",
    "void": "por",
    "blowhol": "por",
    "smut": "soot",
    "sooty": "soot",
    "cylinder": "bottl",
    "draft": "draught",
    "drafty": "draught",
    "draughty": "draught",
    "breez": "draught",
    "breezy": "draught",
    "windy": "wind",
    "splatter": "spatter",
    "spattery": "spatter",
    "color": "colour",
    "discolor": "discolour",
    "discoloration": "discolour",
    "discolouration": "discolour",
    "center": "centr",
    "middl": "centr",
    "oxidis": "oxid",
    "oxidiz": "oxid",
    "oxidation": "oxid",
    "oxidisation": "oxid",
    "anodiz": "anodis",
    "galvaniz": "galvanis",
    "galv": "galvanis",
    "galvo": "galvanis",
    "zinc": "galvanis",
    "underside": "back",
    "backside": "back",
    "revers": "back",
    "stop": "end",
    "finish": "end",
    "beginn": "start",
    "begin": "start",
    "beginning": "start",
    "everywher": "all",
    "throughout": "all",
    "whol": "all",
    "entir": "all",
    "regrind": "grind",
    "reground": "grind",
    "fumes": "smok",
    "penetrat": "penetration",
    "contamination": "contaminat",
    "contaminant": "contaminat",
    "wobbly": "wobbl",
    "fingerprint": "finger",
    "immediately": "instantly",
    "every": "each",
    "straightaway": "instantly",
}
_SAME |= dict.fromkeys(_DENYING_WORDS.split(), "no")
_WORD = re.compile(r"[a-z]+|\d+|[.;!?](?=\s|$)|[,:](?=\s|$)")
_ENDINGS = ("ies", "ing", "ed", "es", "s")


def words_of(text: str) -> list[str]:
    """Every word of a text in its one form, in order, with a mark of `BREAKS` where a sentence or part of it ends."""
    plain = text.casefold().replace("'", "").replace("’", "").replace("no matter", "whatever")
    return [_form(word) if word.isalnum() else _mark(word) for word in _WORD.findall(plain)]


def plain_words_of(text: str) -> list[tuple[str, str]]:
    """Every word as it is written and without its ending, and the marks; only denials are brought to one form."""
    found = _WORD.findall(text.casefold().replace("'", "").replace("’", ""))
    return [(word, _plain_form(word)) if word.isalnum() else (_mark(word), _mark(word)) for word in found]


def _plain_form(word: str) -> str:
    return next(iter(DENIALS)) if _SAME.get(word) in DENIALS else _stem(word)


def _mark(sign: str) -> str:
    return HARD if sign in ".;!?" else SOFT


@lru_cache(maxsize=4096)
def _form(word: str) -> str:
    if word in _SAME:
        return _SAME[word]
    stem = _stem(word)
    return _SAME.get(stem, stem)


def _stem(word: str) -> str:
    for end in _ENDINGS:
        if word.endswith(end) and len(word) - len(end) >= 3 and not word.endswith("ss"):
            word = word[: -len(end)] + ("y" if end == "ies" else "")
            break
    word = word.rstrip("e") if len(word) > 3 else word
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "sl" else word


def spelled(words: list[str], known: Collection[str]) -> list[str]:
    """The words, with each that is not known replaced by the one known that differs from it by a slip of the pen."""
    return [word if word in known or len(word) < 5 else _slip(word, known) for word in words]


def _slip(word: str, known: Collection[str]) -> str:
    from difflib import get_close_matches

    alike = [item for item in known if item[:1] == word[:1] and abs(len(item) - len(word)) <= 1 and len(item) >= 5]
    found = get_close_matches(word, sorted(alike), n=1, cutoff=0.85)
    return found[0] if found else word
