"""Words people use for processes, joints and positions, and the standard name each one means."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.rulebook.vocabulary import Vocabulary

# ISO 4063 numbers behind trade names (AWS A3.0 letters included).
PROCESSES: Mapping[str, str] = {
    "tig": "141",
    "gtaw": "141",
    "wig": "141",
    "mig": "131",
    "mag": "135",
    "gmaw": "135",
    "wire-feed": "135",
    "mig-mag": "135",
    "mig/mag": "135",
    "stick": "111",
    "mma": "111",
    "smaw": "111",
    "brazing": "912",
    "torch-brazing": "912",
    "soldering": "942",
}
# What people call wire feed without saying which gas.
ANY_WIRE = frozenset(("mig", "gmaw", "wire-feed", "mig-mag", "mig/mag"))
JOINTS: Mapping[str, str] = {
    "fillet": "tee",
    "t": "tee",
    "tee-joint": "tee",
    "t-joint": "tee",
    "corner": "corner-half-open",
    "outside-corner": "corner-half-open",
    "open-corner": "corner-open",
    "half-open-corner": "corner-half-open",
    "closed-corner": "corner-closed",
    "inside-corner": "corner-inside",
    "lap-joint": "lap",
    "butt-joint": "butt",
    "square-butt": "butt",
    "overlap": "lap",
    "edge-joint": "edge",
}
# AWS A3.0 plate positions and plain words. Fillet (F) and groove (G) differ for the horizontal and overhead ones.
POSITIONS: Mapping[str, Mapping[str, str]] = {
    "groove": {
        "flat": "PA",
        "1g": "PA",
        "horizontal": "PC",
        "2g": "PC",
        "vertical": "PF",
        "vertical-up": "PF",
        "3g": "PF",
        "vertical-down": "PG",
        "overhead": "PE",
        "4g": "PE",
    },
    "fillet": {
        "flat": "PA",
        "1f": "PA",
        "horizontal": "PB",
        "2f": "PB",
        "vertical": "PF",
        "vertical-up": "PF",
        "3f": "PF",
        "vertical-down": "PG",
        "overhead": "PD",
        "4f": "PD",
    },
}
SURFACES: Mapping[str, str] = {
    "mill": "mill-finish",
    "bare": "clean",
    "bright": "clean",
    "anodized": "anodised",
    "galvanized": "galvanised",
    "zinc": "galvanised",
    "paint": "painted",
    "scale": "mill-scale",
    "rust": "rusty",
    "oil": "oily",
    "greasy": "oily",
    "scrap": "unknown-scrap",
    "unknown": "unknown-scrap",
    "chrome": "plated",
}
# What may stand before a metal's name in speech though it is a surface: galvanised steel, painted steel.
SURFACE_WORDS: Mapping[str, str] = {
    **SURFACES,
    **{word: word for word in ("anodised", "galvanised", "painted", "rusty", "oily", "plated")},
}
# States that only these metals have: oxide grown on purpose is aluminium's; zinc, mill scale and rust are steel's.
SURFACE_FAMILIES: Mapping[str, tuple[str, ...]] = {
    "anodised": ("aluminium",),
    "galvanised": ("carbon-steel", "low-alloy-steel", "stainless"),
    "mill-scale": ("carbon-steel", "low-alloy-steel", "stainless"),
    "rusty": ("carbon-steel", "low-alloy-steel", "stainless"),
}
SERVICES: Mapping[str, str] = {
    "watertight": "leak-tight",
    "leaktight": "leak-tight",
    "tank": "leak-tight",
    "machined": "machined-after",
    "anodised": "anodised-after",
    "anodized": "anodised-after",
    "anodized-after": "anodised-after",
    "hot": "hot-service",
    "marine": "sea-water",
    "pressure-vessel": "pressure",
    "road": "vehicle",
    "habitation": "occupied-space",
}
# Colours of the end of a tungsten electrode, ISO 6848.
TUNGSTEN_COLOURS: Mapping[str, str] = {
    "WP": "green",
    "WCe20": "grey",
    "WLa15": "gold",
    "WLa20": "blue",
    "WTh20": "red",
    "WZr8": "white",
}
# Words of the shop for what is used. Cleaners sold for brakes may be chlorinated, and are taken as such.
USED: Mapping[str, Mapping[str, str]] = {
    "solvent": {
        "brake-cleaner": "chlorinated",
        "trichloroethylene": "chlorinated",
        "perchloroethylene": "chlorinated",
        "methylene-chloride": "chlorinated",
        "isopropanol": "isopropyl",
        "ipa": "isopropyl",
    },
    "tungsten_type": {
        "thoriated": "WTh20",
        "1-%-thoriated": "WTh10",
        "1%-thoriated": "WTh10",
        "2-%-thoriated": "WTh20",
        "2%-thoriated": "WTh20",
        "3-%-thoriated": "WTh30",
        "3%-thoriated": "WTh30",
        "red": "WTh20",
        "yellow": "WTh10",
        "violet": "WTh30",
        "wt10": "WTh10",
        "wt20": "WTh20",
        "wt30": "WTh30",
        "lanthanated": "WLa15",
        "ceriated": "WCe20",
        "zirconiated": "WZr8",
        "pure": "WP",
        **{colour: code for code, colour in TUNGSTEN_COLOURS.items()},
        "gray": "WCe20",
    },
    "gas": {
        "ar": "argon",
        "he": "helium",
        "ar-he": "argon-helium",
        "ar-co2": "argon-co2",
        "mixed": "argon-co2",
        "c25": "argon-co2",
        "75/25": "argon-co2",
        "80/20": "argon-co2",
        "carbon-dioxide": "co2",
        "98/2": "argon-2-co2",
        # Groups of ISO 14175.
        "i1": "argon",
        "i2": "helium",
        "i3": "argon-helium",
        "m12": "argon-2-co2",
        "m13": "argon-oxygen",
        "m20": "argon-co2",
        "m21": "argon-co2",
        "c1": "co2",
        "tri-mix": "helium-mix",
    },
    "transfer": {
        "short": "short-circuit",
        "short-arc": "short-circuit",
        "dip": "short-circuit",
        "short-circuiting": "short-circuit",
        "spray-arc": "spray",
        "pulsed": "pulsed-spray",
        "pulse": "pulsed-spray",
    },
    "place": {"inside": "indoors", "outside": "outdoors", "confined-space": "confined"},
}
# Processes with a flame: ruled by what the filler melts at, not by a current.
TORCH = ("912", "942")
# Welds of these joints are grooves unless the user says otherwise; the rest are fillets.
GROOVE_JOINTS = ("butt", "corner-open", "corner-half-open", "corner-closed", "edge")
# Gases that hold carbon dioxide or oxygen, for wire on steel.
_ACTIVE_GASES = ("co2", "argon-co2", "argon-2-co2", "argon-oxygen", "helium-mix")


def burns_tungsten(gas: str) -> bool:
    """True for a gas that is never one for a tungsten electrode."""
    said = _folded(gas)
    return USED["gas"].get(said, said) in _ACTIVE_GASES


def _folded(text: str) -> str:
    return text.strip().casefold().replace(" ", "-").replace("_", "-")


def standard_word(text: str, attribute: str, vocabulary: Vocabulary, aliases: Mapping[str, str]) -> str:
    """The vocabulary's word for what the user wrote. Raises PrestrikeError with the nearest valid word."""
    word = _folded(text)
    choices = vocabulary.attributes[attribute].choices
    by_fold = {choice.casefold(): choice for choice in choices}
    if word in by_fold:
        return by_fold[word]
    if word in aliases and aliases[word] in choices:
        return aliases[word]
    known = [*choices, *aliases]
    message = f"'{text}' is no {attribute.replace('_', ' ')}"
    raise PrestrikeError(Diagnostic("unknown-value", message, subject=attribute, help=_repair(word, known, choices)))


def _repair(word: str, known: list[str], choices: tuple[str, ...]) -> str:
    suggestion = did_you_mean(word, known)
    listed = f"one of: {', '.join(choices)}"
    return f"{suggestion} ({listed})" if suggestion.startswith("did") else listed
