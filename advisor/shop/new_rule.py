"""A rule of one's own, started from a job: `I use 135 A here` as a commented YAML file with its examples filled in."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.resources import config_folder
from advisor.rulebook.vocabulary import Topic
from advisor.shop.rule_text import file_head, flow, scalar, slug
from advisor.shop.scope import SAME_SIZE, Scope, around, size
from advisor.units.quantities import HOUSE_UNITS, UnitTable, parse_quantity
from advisor.writing import make_folder, write_whole

# A size that is clearly another stock: the example that must stay silent stands there.
_BEYOND = 1.1
_BARE = ("count", "ratio")
_SOURCE = {"id": "own", "title": "Notes of this shop", "kind": "shop-habit", "evidence": "common-practice"}


class Scaffold(NamedTuple):
    """A new rule file: its id, its text and the name of its file."""

    rule_id: str
    text: str
    file_name: str


def scaffold(
    scope: Scope, topic: Topic, said: str, units: UnitTable, because: str = "", layer: str = "shop"
) -> Scaffold:
    """The file of one rule that says `said` of a topic in a case.

    Raises PrestrikeError where the topic takes no number, choice, step or caution, or `said` is no quantity of it.
    """
    if topic.form not in ("number", "ranked", "steps", "cautions"):
        text = f"no rule of '{topic.name}' is started from a value"
        raise PrestrikeError(Diagnostic("scaffold", text, help="copy one shown by: prestrike rules show ID"))
    value = _number(said, topic, units) if topic.form == "number" else said
    if topic.form == "cautions" and ": " not in said:
        text = "a caution says what can hurt and what to do about it"
        raise PrestrikeError(Diagnostic("scaffold", text, help="write 'HAZARD: WHAT TO DO'"))
    metals = "-".join(sorted(set(scope.metals)))
    span = [f"{item:.4g}mm" for item in sorted({scope.thinner, scope.thicker})]
    name = slug(topic.name, metals, scope.joint, scope.position, *span)
    rule_id = f"{layer}.{slug(topic.name)}.{slug(metals)}.{slug(scope.joint, scope.position, *span)}"
    comments = (
        "A rule of our own. It stands above the shipped ones; 'prestrike rules where' shows the order.",
        "Try it: prestrike rules check, then prestrike setup with the same job.",
    )
    lines = file_head(name, "first set", _SOURCE, comments)
    lines += _rule(rule_id, scope, topic, value, because or "This is what works on our bench for this seam.")
    return Scaffold(rule_id, "\n".join(lines) + "\n", f"{name}.yaml")


def _number(said: str, topic: Topic, units: UnitTable) -> Any:
    if topic.dimension in _BARE:
        try:
            return float(said)
        except ValueError:
            repair = "write the number alone"
            raise PrestrikeError(Diagnostic("wrong-type", f"'{said}' is no bare number", help=repair)) from None
    if said.replace(".", "", 1).isdigit():
        repair = f"write '{said} {HOUSE_UNITS[topic.dimension]}'"
        raise PrestrikeError(Diagnostic("missing-unit", f"'{said}' has no unit", subject=topic.name, help=repair))
    parse_quantity(said, topic.dimension, table=units)
    return said


def _rule(rule_id: str, scope: Scope, topic: Topic, value: Any, because: str) -> list[str]:
    lines = [
        f"  - id: {rule_id}  # stable for ever; never used again for something else",
        f"    topic: {topic.name}",
        "    when:  # all must hold; put a # before a line to let the rule speak for more",
    ]
    by_table = topic.form == "number" and scope.alike
    conditions = {**scope.words(), **scope.sizes()}
    if scope.alike and not by_table:
        conditions["thickness"] = around(scope.thinner)
    lines += [f"      {key}: {flow(item)}" for key, item in conditions.items()]
    if scope.gas == "":
        lines.append("      # gas: argon")
    lines += _effect(topic, value, scope)
    lines += [
        "    source: [{doc: own}]  # evidence: trial once trials stand behind it",
        f"    because: {scalar(because)}",
        "    # To take the place of one shipped rule only, name it and say why:",
        "    # overrides: ID",
        "    # reason: ...",
        "    examples:  # run as tests by 'prestrike rules check': one that fires, one beyond its reach",
        f"      - {{job: {flow(scope.facts())}, {_gives(topic, value)}}}",
        f"      - {{job: {flow(_beyond(scope))}, fires: false}}",
    ]
    return lines


def _beyond(scope: Scope) -> Mapping[str, Any]:
    thickness = scope.thinner if scope.alike else scope.thicker
    return scope.facts(thickness * (1 + SAME_SIZE) * _BEYOND)


def _effect(topic: Topic, value: Any, scope: Scope) -> list[str]:
    if topic.form == "ranked":
        return ["    choose:", f"      first: [{scalar(value)}]"]
    if topic.form == "steps":
        return [
            "    step:",
            "      order: 50  # shipped steps stand at 10, 20, 30 ...",
            f"      do: {scalar(value)}",
            "      # with: ...",
            "      # never: ...",
        ]
    if topic.form == "cautions":
        hazard, do = value.split(": ", 1)
        return ["    caution:", "      level: warning", f"      hazard: {scalar(hazard)}", f"      do: {scalar(do)}"]
    if not scope.alike:
        return ["    start:", f"      value: {flow(value)}  # or low: and high:"]
    return [
        "    start:",
        "      over: thickness",
        "      rows:  # add rows as you try more; between rows the line is straight, beyond the ends nothing is said",
        f"        - {{at: {size(scope.thinner)}, value: {flow(value)}}}  # or low: and high:",
    ]


def _gives(topic: Topic, value: Any) -> str:
    if topic.form == "ranked":
        return f"gives: {{first: {scalar(value)}}}"
    return f"gives: {{value: {flow(value)}}}" if topic.form == "number" else "fires: true"


def folder_of(layer: str, project: Path) -> Path:
    """Where new rules of a layer are written. project: the job's own folder."""
    names = {"shop": config_folder() / "rules", "machine": config_folder() / "machine-rules"}
    return names.get(layer, project / ".prestrike" / "rules")


def write_new(folder: Path, made: Scaffold) -> Path:
    """Write the file. Raises PrestrikeError where one of that name is there: nothing is overwritten."""
    path = folder / made.file_name
    make_folder(folder, help="choose another --layer")
    write_whole(path, made.text, new=True, help="edit that file or take it away first, or choose another --layer")
    return path
