"""Words of a sentence, brought to one form: endings off, spellings of both sides of the ocean, words of one meaning."""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import lru_cache

_SMALL_WORDS = """
the a an in on at of to is are was were it its i my me and with this that there be been by as just very really some
little when where so do does did have has had from for up
"""
_DENYING_WORDS = """
no not without never isnt arent dont didnt doesnt wasnt werent cant cannot none nor hasnt havent couldnt
"""
SMALL = frozenset(_SMALL_WORDS.split())
DENIALS = frozenset(_DENYING_WORDS.split())

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
    "straightaway": "instantly",
}
_ENDINGS = ("ies", "ing", "ed", "es", "s")


def words_of(text: str) -> list[str]:
    """Every word of a text in its one form, in order."""
    plain = text.casefold().replace("'", "").replace("’", "")
    return [_form(word) for word in re.findall(r"[a-z]+|\d+", plain)]


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
