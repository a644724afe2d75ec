"""The questions of the guided form: what is asked, when it matters, what is taken if nothing is said, how to find out.

Answers are kept as the words given, by the name of the question; `job_data` makes of them what a job file holds.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.material import find_material
from advisor.job.reader import gauge_tables
from advisor.job.words import (
    ANY_WIRE,
    GROOVE_JOINTS,
    JOINTS,
    POSITIONS,
    PROCESSES,
    SERVICES,
    SURFACE_FAMILIES,
    SURFACES,
    standard_word,
)
from advisor.rulebook.library import Rulebook
from advisor.units.quantities import UnitTable, parse_quantity

Answers = Mapping[str, str]
YES, NO = "yes", "no"


class AnswerChecks(NamedTuple):
    """What checking an answer needs."""

    rulebook: Rulebook
    units: UnitTable


class Question(NamedTuple):
    """One question. default: taken for an empty answer ("" means it must be answered, unless optional)."""

    name: str
    ask: str
    help: str
    check: Callable[[str, Answers, AnswerChecks], str]
    default: Callable[[Answers, AnswerChecks], str] = lambda answers, place: ""
    matters: Callable[[Answers, AnswerChecks], bool] = lambda answers, place: True
    optional: bool = False
    choices: Callable[[Answers, AnswerChecks], tuple[str, ...]] = lambda answers, place: ()


def _text(said: str, answers: Answers, place: AnswerChecks) -> str:
    return " ".join(said.split())


def _metal(said: str, answers: Answers, place: AnswerChecks) -> str:
    find_material(said, place.rulebook.index)
    return said


def _length(said: str, answers: Answers, place: AnswerChecks) -> str:
    parse_quantity(said, "length", table=place.units)
    return said


def _thickness(name: str) -> Callable[[str, Answers, AnswerChecks], str]:
    def check(said: str, answers: Answers, place: AnswerChecks) -> str:
        gauges = gauge_tables(place.rulebook) if "g" in said.casefold() else None
        family = _family(answers, place, name)
        parse_quantity(said, "length", table=place.units, metal_family=family, gauges=gauges)
        return said

    return check


def _box(said: str, answers: Answers, place: AnswerChecks) -> str:
    sides = [side.strip() for side in said.split(",")]
    if len(sides) != 3:
        raise PrestrikeError(Diagnostic("box", f"three sides, not {len(sides)}", help="write '300 mm, 200 mm, 150 mm'"))
    for side in sides:
        parse_quantity(side, "length", table=place.units)
    return ", ".join(sides)


def _current(said: str, answers: Answers, place: AnswerChecks) -> str:
    parse_quantity(said, "current", table=place.units)
    return said


def _yes(said: str, answers: Answers, place: AnswerChecks) -> str:
    word = said.strip().casefold()
    if word in ("y", "yes", "n", "no"):
        return YES if word.startswith("y") else NO
    raise PrestrikeError(Diagnostic("yes-or-no", f"'{said}' is neither yes nor no", help="answer yes or no"))


def _word(attribute: str, aliases: Mapping[str, str]) -> Callable[[str, Answers, AnswerChecks], str]:
    def check(said: str, answers: Answers, place: AnswerChecks) -> str:
        return standard_word(said, attribute, place.rulebook.vocabulary, aliases)

    return check


def _words(attribute: str, aliases: Mapping[str, str]) -> Callable[[str, Answers, AnswerChecks], str]:
    one = _word(attribute, aliases)

    def check(said: str, answers: Answers, place: AnswerChecks) -> str:
        return ", ".join(dict.fromkeys(one(word, answers, place) for word in said.split(",") if word.strip()))

    return check


def _surface(name: str) -> Callable[[str, Answers, AnswerChecks], str]:
    words = _words("surface", SURFACES)

    def check(said: str, answers: Answers, place: AnswerChecks) -> str:
        found, family = words(said, answers, place), _family(answers, place, name)
        for state in found.split(", "):
            families = SURFACE_FAMILIES.get(state)
            if family and families and family not in families:
                raise PrestrikeError(
                    Diagnostic("surface", f"{family} cannot be {state}", help="say another, or go back to the metal")
                )
        return found

    return check


def _process(said: str, answers: Answers, place: AnswerChecks) -> str:
    """The process as said where the metal decides what the word means, else its ISO 4063 number."""
    number = standard_word(said, "process", place.rulebook.vocabulary, PROCESSES)
    return "MIG" if said.strip().casefold().replace(" ", "-") in ANY_WIRE else number


def _tig(answers: Answers, place: AnswerChecks) -> bool:
    return answers.get("process", "141") == "141"


def _position(said: str, answers: Answers, place: AnswerChecks) -> str:
    weld = "groove" if answers.get("joint") in GROOVE_JOINTS else "fillet"
    return standard_word(said, "position", place.rulebook.vocabulary, POSITIONS[weld])


def _family(answers: Answers, place: AnswerChecks, metal: str) -> str | None:
    return find_material(answers[metal], place.rulebook.index).family if metal in answers else None


def _listed(attribute: str) -> Callable[[Answers, AnswerChecks], tuple[str, ...]]:
    return lambda answers, place: place.rulebook.vocabulary.attributes[attribute].choices


def _always(value: str) -> Callable[[Answers, AnswerChecks], str]:
    return lambda answers, place: value


def _usual_surface(metal: str) -> Callable[[Answers, AnswerChecks], str]:
    usual = {"carbon-steel": "mill-scale", "low-alloy-steel": "mill-scale"}
    return lambda answers, place: usual.get(_family(answers, place, metal) or "", "mill-finish")


def _two(answers: Answers, place: AnswerChecks) -> bool:
    return answers.get("same") == NO


def _aluminium(answers: Answers, place: AnswerChecks) -> bool:
    return any(_family(answers, place, name) == "aluminium" for name in ("metal", "metal_2") if name in answers)


# Bench tests as in rules/materials/identify.yaml.
_HOW_METAL = (
    "Alloy or grade and temper as stamped, labelled or invoiced: 6061-T6, 5052-H32, A36, 304.\n"
    "How to find out: a magnet pulls mild steel, not austenitic stainless and never aluminium.\n"
    "5052 or 6061? Look at the form: a complicated extrusion is 6060, 6061, 6063 or 6082; a sheet whose corner bends "
    "by hand, sharp and soft, is 1100, 3003 or soft 5052. Compare hardness with pieces you know (6061-T6 about 95 "
    "Brinell, 3003-H14 about 40).\n"
    "A drop of 10 % caustic soda on a filed spot, rinsed after minutes: black means copper (2xxx, 7xxx), do not weld "
    "it. It does not tell 5052 from 6061.\n"
    "If you do not know, say 'unknown aluminium' or 'unknown steel': the answer then tells how to test.\n"
    "All names: prestrike materials list"
)
_HOW_THICKNESS = (
    "With its unit: 3.2 mm, 1/8 in, 16 ga (gauges differ by metal).\n"
    "How to find out: a caliper on a clean, deburred edge, in three places. Tube: the wall at a sawn end, away from "
    "the inside seam; or outside less inside diameter, halved. Paint, zinc and anodising add to it: bare the spot."
)
_HOW_SURFACE = (
    "What is on it now, several by commas: {listed}.\n"
    "Mill finish is aluminium as bought; mill scale the dark skin of hot-rolled steel; flaking silver on steel is "
    "zinc; oil and paint show on a white rag."
)

QUESTIONS: tuple[Question, ...] = (
    Question("name", "What do you call this job?", "Any words you will know it by.", _text, _always("job")),
    Question("metal", "Which metal is the first member?", _HOW_METAL, _metal),
    Question("thickness", "How thick is it?", _HOW_THICKNESS, _thickness("metal")),
    Question(
        "surface", "What is on its surface?", _HOW_SURFACE, _surface("metal"), _usual_surface("metal"),
        choices=_listed("surface"),
    ),
    Question(
        "same", "Is the other member of the same metal and thickness?",
        "yes or no. A thin wall on a thick flange is no: the two melt at different currents.", _yes, _always(YES),
    ),
    Question("metal_2", "Which metal is the second member?", _HOW_METAL, _metal, lambda a, p: a["metal"], _two),
    Question("thickness_2", "How thick is the second member?", _HOW_THICKNESS, _thickness("metal_2"), matters=_two),
    Question(
        "surface_2", "What is on the second member's surface?", _HOW_SURFACE, _surface("metal_2"),
        _usual_surface("metal_2"), _two, choices=_listed("surface"),
    ),
    Question(
        "process", "With what will you weld it?",
        "TIG (141), MIG (wire feed: 131 for aluminium, 135 for steel) or stick (111).\n"
        "Thin aluminium: TIG. Steel sheet: TIG or wire feed. Rusty plate outdoors: stick.", _process, _always("141"),
    ),
    Question(
        "joint", "How do they meet?",
        "{listed}.\nbutt: edge to edge; tee: the first stands on the second; lap: one on the other; edge: side "
        "by side, flush. corner: open (corner to corner), half-open (half overlapped), closed (fully overlapped), "
        "inside (welded from within).", _word("joint", JOINTS), choices=_listed("joint"),
    ),
    Question(
        "access", "Can you reach the seam from one side or both?", "one-side or both-sides.", _word("access", {}),
        _always("one-side"), lambda a, p: a.get("joint") in ("butt", "tee", "lap"), choices=_listed("access"),
    ),
    Question(
        "position", "How does the seam lie when you weld it?",
        "flat (PA), horizontal (PB for a fillet, PC for a groove), vertical (PF up, PG down), overhead.\n"
        "Turn the part so that it is flat if you can: every other way is harder.", _position,
        lambda a, p: "PA" if a.get("joint") in GROOVE_JOINTS else "PB",
    ),
    Question(
        "length", "How long is the seam?", "With its unit: 300 mm, 12 in. Places tacks, counts the machine's time. "
        "Empty leaves it out.", _length, optional=True,
    ),
    Question(
        "service", "What is the part for?",
        "{listed}, several by commas.\nstructural, pressure, lifting, vehicle, occupied-space, food and fuel belong "
        "to qualified procedures and licensed practice: say so here if any of them is true.",
        _words("service", SERVICES), _always("ordinary"), choices=_listed("service"),
    ),
    Question(
        "used_container", "Is it a used tank, drum or pipe?",
        "yes or no. What it once held may explode when heated, however long it stood empty.", _yes, _always(NO),
    ),
    Question(
        "closed_volume", "Does it close round a volume with no opening?",
        "yes or no. Shut-in air blows the last puddle out and can burst the part: it wants a vent.", _yes, _always(NO),
    ),
    Question(
        "box", "If it is a box of sheet: its length, width, height?",
        "300 mm, 200 mm, 150 mm, inside. A small box heats up seam by seam and wants less current each time.\n"
        "Empty if it is no box.", _box, optional=True,
        matters=lambda a, p: a.get("joint", "").startswith(("corner", "tee")),
    ),
    Question("place", "Where will you weld?", "{listed}. Outdoors wind takes the gas away; a confined space can kill.",
             _word("place", {"inside": "indoors", "outside": "outdoors", "confined-space": "confined"}),
             _always("indoors"), choices=_listed("place")),
    Question(
        "filler", "Which filler do you have, if you want it checked?",
        "As stamped on rod, spool or packet: ER5356, ER70S-6, 308L, E7018. Empty lets the answer choose.",
        _text, optional=True,
    ),
    Question(
        "highest_current", "What is the highest current of your machine?",
        "From its rating plate, with the unit: 200 A. Empty leaves the machine out.", _current, optional=True,
    ),
    Question(
        "current_type", "Does it give AC and DC, or DC only?", "ac-dc or dc. Aluminium by TIG wants AC.",
        _word("current_type", {}), _always("ac-dc"), lambda a, p: bool(a.get("highest_current")),
        choices=_listed("current_type"),
    ),
    Question(
        "balance_control", "Can you set its AC balance?", "yes or no: a knob or menu for cleaning against penetration.",
        _yes, _always(YES), lambda a, p: a.get("current_type") == "ac-dc" and _aluminium(a, p) and _tig(a, p),
    ),
)  # fmt: skip


def job_data(answers: Answers) -> dict[str, Any]:
    """The mapping of a job file from the answers. Needs metal, thickness and joint."""
    data: dict[str, Any] = {"kind": "job", "schema": 1, "name": answers.get("name", "")}
    data["process"] = answers.get("process", "141")
    data["members"] = [_member(answers, "")] + ([_member(answers, "_2")] if answers.get("same") == NO else [])
    for name in ("joint", "access", "position", "length", "place", "filler"):
        if answers.get(name):
            data[name] = answers[name]
    data["service"] = answers.get("service", "ordinary").split(", ")
    for name in ("used_container", "closed_volume"):
        if answers.get(name) == YES:
            data[name] = True
    if answers.get("box"):
        data["part"] = {"box": answers["box"].split(", ")}
    if answers.get("highest_current"):
        data["machine"] = _machine(answers)
    return data


def _member(answers: Answers, which: str) -> dict[str, Any]:
    member: dict[str, Any] = {"metal": answers["metal" + which], "thickness": answers["thickness" + which]}
    if answers.get("surface" + which):
        member["surface"] = answers["surface" + which].split(", ")
    return member


def _machine(answers: Answers) -> dict[str, Any]:
    machine: dict[str, Any] = {"highest_current": answers["highest_current"]}
    if answers.get("current_type"):
        machine["current_type"] = answers["current_type"]
    if answers.get("balance_control"):
        machine["balance_control"] = answers["balance_control"] == YES
    return machine
