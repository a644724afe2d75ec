"""From what a person wrote (a YAML file or flags) to a Job. Every fault names its place and the repair.

Files and flags go the same way: both become one mapping, so a job means the same however it is given.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.job.job import Box, Bracket, Frame, Job, Machine, Member
from advisor.job.material import find_material
from advisor.job.words import (
    ANY_WIRE,
    GROOVE_JOINTS,
    JOINTS,
    POSITIONS,
    PROCESSES,
    SERVICES,
    SURFACE_FAMILIES,
    SURFACES,
    USED,
    burns_tungsten,
    standard_word,
)
from advisor.rulebook.library import Rulebook
from advisor.units.quantities import Quantity, UnitTable, is_inch_unit, parse_quantity

if TYPE_CHECKING:
    from advisor.rulebook.reading.yaml_text import Document, PathKey

    Place = Callable[[Diagnostic, PathKey], Diagnostic]


def read_job_data(path: Path, units: UnitTable, schema_file: Callable[[str], Path]) -> tuple[dict[str, Any], Place]:
    """The mapping of a job file that keeps its schema, and how to place findings in it.

    Raises PrestrikeError with file, line, column and repair.
    """
    data, place = _checked(path, schema_file)
    if isinstance(data.get("machine"), str):
        from advisor.job.machine_reader import read_machine

        data["machine"] = read_machine(path.parent / data["machine"], units, schema_file)
    return data, place


def _checked(path: Path, schema_file: Callable[[str], Path]) -> tuple[dict[str, Any], Place]:
    from advisor.rulebook.checked_yaml import checked_yaml

    data = checked_yaml(path, "job", schema_file)
    return dict(data), lambda diagnostic, place: _document(path).place(diagnostic, place)


def _document(path: Path) -> Document:
    """The file read again, for the places of findings: a good file is never read twice."""
    from advisor.rulebook.reading.yaml_text import read_yaml

    return read_yaml(path)


def no_place(diagnostic: Diagnostic, path: PathKey) -> Diagnostic:
    """For flags: the path becomes the subject, as there is no file."""

    return diagnostic if diagnostic.subject else diagnostic._replace(subject=".".join(str(step) for step in path))


_WIRE, _STICK, _TIG = ("131", "135"), ("111",), ("141",)
# Words of a job that are choices, besides joint, weld, process and position.
_EXTRA = ("access", "backing", "place", "solvent", "gas", "tungsten_type", "transfer")
# Words that only some processes have a use for.
_USED_BY = {
    "tungsten_type": _TIG,
    "transfer": _WIRE,
    "wire_diameter": _WIRE,
    "electrode": _STICK,
    "electrode_diameter": _STICK,
    "gas": (*_TIG, *_WIRE),
}


class JobBuilder:
    """Builds a Job from a mapping; collects every fault before it raises."""

    def __init__(self, rulebook: Rulebook, units: UnitTable, place: Place = no_place) -> None:
        self.rulebook = rulebook
        self.units = units
        self.place = place
        self.found: list[Diagnostic] = []
        self.assumed: list[str] = []
        self.families: set[str] = set()

    def build(self, data: Mapping[str, Any]) -> Job:
        """The job. Raises PrestrikeError with all faults found."""
        members = tuple(self._member(item, ("members", index)) for index, item in enumerate(data["members"]))
        process = self._process(data)
        joint = self._joint(data)
        weld = self._weld(data, joint)
        position = self._word(data, "position", POSITIONS.get(weld, {})) or "PA"
        service = self._words(data, "service", SERVICES, ("service",)) or ("ordinary",)
        machine = self._machine(data.get("machine"))
        extra = {name: self._word(data, name, USED.get(name, {})) for name in _EXTRA}
        leg = self._quantity(data, "leg", "length", ("leg",))
        if leg is not None and weld == "groove":
            text = f"a leg of {data['leg']} is of a fillet, and a {joint} joint here is a groove weld"
            repair = "leave it out, or say --weld fillet (weld: fillet in a job file)"
            self.found.append(self.place(Diagnostic("other-weld", text, subject="leg", help=repair), ("leg",)))
        length = self._quantity(data, "length", "length", ("length",))
        sizes = {
            name: self._quantity(data, name, "length", (name,)) for name in ("wire_diameter", "electrode_diameter")
        }
        part = self._part(data.get("part"))
        shape = self._shape(data.get("part"))
        filler = "" if process in _STICK else self._filler(data, process)
        electrode = self._electrode(data) if process in _STICK else ""
        try:
            inch_first = self._inch_first(data, members)
        except PrestrikeError as error:
            self._fail(error, ("units",))
        if self.found:
            raise PrestrikeError(self.found)
        return Job(
            members=tuple(member for member in members if member is not None),
            joint=joint,
            weld=weld,
            process=process,
            name=str(data.get("name", "")),
            position=position,
            leg=leg,
            length=length,
            access=extra["access"],
            backing=extra["backing"],
            service=service,
            closed_volume=bool(data.get("closed_volume", False)),
            used_container=bool(data.get("used_container", False)),
            place=extra["place"] or "indoors",
            filler=filler,
            solvent=extra["solvent"],
            gas=extra["gas"],
            tungsten_type=extra["tungsten_type"],
            transfer=extra["transfer"],
            electrode=electrode,
            wire_diameter=sizes["wire_diameter"],
            electrode_diameter=sizes["electrode_diameter"],
            machine=machine,
            part=part,
            shape=shape,
            inch_first=inch_first,
            assumed=tuple(self.assumed),
        )

    def check_loose(self, data: Mapping[str, Any], thickness: Sequence[str] = ()) -> None:
        """Look at the words and sizes of a job that is only partly known. Raises PrestrikeError with all faults found.

        data: words and sizes by name, those not given empty; metals, surfaces and forms are not looked at.
        """
        weld = self._word(data, "weld", {}) or "groove"
        aliases = {"joint": JOINTS, "process": PROCESSES, "position": POSITIONS[weld], **USED}
        for name in ("joint", "process", "position", *_EXTRA):
            self._word(data, name, aliases.get(name, {}))
        for name in ("leg", "length", "wire_diameter", "electrode_diameter"):
            self._quantity(data, name, "length", (name,))
        for index, size in enumerate(thickness):
            self._quantity({"thickness": size}, "thickness", "length", ("members", index, "thickness"))
        if data.get("units"):
            units_said(str(data["units"]))
        if self.found:
            raise PrestrikeError(self.found)

    def _process(self, data: Mapping[str, Any]) -> str:
        """The process; MIG in everyday speech means any wire feed, so the metal decides which it is."""
        process = self._word(data, "process", PROCESSES) or "141"
        said = str(data.get("process", "")).strip().casefold().replace(" ", "-")
        if said in ANY_WIRE:
            light = {"aluminium"} == self.families
            process = "131" if light else "135"
            gas = "inert gas" if light else "active gas"
            self.assumed.append(f"'{data['process']}' taken as wire feed with {gas} (ISO 4063: {process})")
        for name, users in _USED_BY.items():
            if data.get(name) and process not in users:
                text = f"{name.replace('_', ' ')} '{data[name]}' is not used with process {process}"
                repair = f"leave it out, or say the process it belongs to: {', '.join(users)}"
                self.found.append(self.place(Diagnostic("other-process", text, subject=name, help=repair), (name,)))
        self._gas_fits(data, process)
        return process

    def _gas_fits(self, data: Mapping[str, Any], process: str) -> None:
        if process in _TIG and burns_tungsten(str(data.get("gas") or "")):
            text = f"gas '{data['gas']}' is not used with process {process}: it burns the tungsten"
            repair = "use argon, helium or both, or say the process it belongs to: 135"
            self.found.append(self.place(Diagnostic("other-process", text, subject="gas", help=repair), ("gas",)))

    def _fail(self, error: PrestrikeError, path: PathKey) -> None:
        self.found.extend(self.place(item, path) for item in error.diagnostics)

    def _word(self, data: Mapping[str, Any], name: str, aliases: Mapping[str, str]) -> str:
        value = data.get(name)
        if value is None or value == "":
            return ""
        try:
            return standard_word(str(value), name, self.rulebook.vocabulary, aliases)
        except PrestrikeError as error:
            self._fail(error, (name,))
            return ""

    def _words(self, data: Mapping[str, Any], name: str, aliases: Mapping[str, str], path: PathKey) -> tuple[str, ...]:
        value = data.get(name)
        if value is None or value == "" or value == []:
            return ()
        listed: Sequence[Any] = value if isinstance(value, list) else str(value).split(",")
        words: list[str] = []
        for item in listed:
            try:
                words.append(standard_word(str(item), name, self.rulebook.vocabulary, aliases))
            except PrestrikeError as error:
                self._fail(error, path)
        for word in dict.fromkeys(words):
            if words.count(word) > 1:
                text = f"{word} is said twice for {name}"
                self.found.append(self.place(Diagnostic("twice", text, subject=name, help="say it once"), path))
        return tuple(dict.fromkeys(words))

    def _member(self, data: Mapping[str, Any], path: PathKey) -> Member | None:
        metal = str(data["metal"])
        family = None
        try:
            family = find_material(metal, self.rulebook.index).family
            self.families.add(family)
        except PrestrikeError as error:
            self._fail(error, (*path, "metal"))
        surface = self._words(data, "surface", SURFACES, (*path, "surface"))
        self._fits_metal(metal, family, surface, (*path, "surface"))
        if "galvanised" in surface and family == "carbon-steel":
            family = "galvanised"
        thickness = self._quantity(data, "thickness", "length", (*path, "thickness"), family)
        form = self._word(data, "form", {"flat": "bar", "pipe": "tube", "cast": "casting"}) if data.get("form") else ""
        if thickness is None:
            if not str(data.get("thickness") or "").strip():
                finding = Diagnostic("missing-thickness", "the thickness is empty", help="write for example 3.2 mm")
                self._fail(PrestrikeError(finding), (*path, "thickness"))
            return None
        width = self._quantity(data, "width", "length", (*path, "width"))
        length = self._quantity(data, "length", "length", (*path, "length"))
        return Member(metal, thickness, form, width, length, surface or ("mill-finish",))

    def _fits_metal(self, metal: str, family: str | None, surface: Sequence[str], path: PathKey) -> None:
        """A surface the metal cannot have is a slip in one of the two, and which one only the user knows."""
        for state in surface:
            families = SURFACE_FAMILIES.get(state)
            if family and families and family not in families:
                message = f"{metal} cannot be {state}: that is a surface of {' or '.join(families)}"
                self.found.append(
                    self.place(Diagnostic("surface", message, help="correct the metal or its surface"), path)
                )

    def _quantity(
        self, data: Mapping[str, Any], name: str, kind: str, path: PathKey, family: str | None = None
    ) -> Quantity | None:
        value = data.get(name)
        if value is None or value == "":
            return None
        try:
            # Gauge tables are read only where a gauge may be meant: 16 ga, 16 gauge.
            gauges = gauge_tables(self.rulebook) if "g" in str(value).casefold() else None
            return parse_quantity(str(value), kind, table=self.units, metal_family=family, gauges=gauges)
        except PrestrikeError as error:
            self._fail(error, path)
            return None

    def _joint(self, data: Mapping[str, Any]) -> str:
        joint = self._word(data, "joint", JOINTS)
        said = str(data["joint"]).strip().casefold()
        if said == "fillet":
            self.assumed.append("'fillet' taken as a tee joint with a fillet weld")
        if said in ("corner", "outside-corner", "outside corner"):
            self.assumed.append("'corner' taken as a half-open outside corner (the edges overlap by half)")
        return joint

    def _weld(self, data: Mapping[str, Any], joint: str) -> str:
        said = self._word(data, "weld", {})
        return said or ("groove" if joint in GROOVE_JOINTS else "fillet")

    def _machine(self, value: Any) -> Machine | None:
        if value is None or isinstance(value, Machine):
            return value
        from advisor.job.machine_reader import build_machine

        try:
            return build_machine(value, self.units)
        except PrestrikeError as error:
            self._fail(error, ("machine",))
            return None

    def _part(self, value: Any) -> Box | None:
        if value is None or not self._one_shape(value) or "box" not in value:
            return None
        sides = self._three(value["box"], "box", "a box has three sides", "300 mm, 200 mm, 150 mm")
        pause = self._quantity(value, "pause", "time", ("part", "pause"))
        if sides is None:
            return None
        seconds = pause.value if pause is not None else Box._field_defaults["pause"]
        order = tuple(str(name) for name in value.get("order", ()))
        return Box(*sides, bool(value.get("open_top", True)), seconds, order)

    def _shape(self, value: Any) -> Bracket | Frame | None:
        if value is None or len(_shapes(value)) != 1:
            return None
        if "bracket" in value:
            sizes = self._three(
                value["bracket"], "bracket", "a bracket has two legs and a width", "60 mm, 40 mm, 50 mm"
            )
            return None if sizes is None else Bracket(*sizes)
        if "frame" in value:
            sizes = self._three(
                value["frame"], "frame", "a frame has a length, a width and a section", "600 mm, 400 mm, 30 mm"
            )
            if sizes is not None and 2 * sizes[2] >= min(sizes[:2]):
                text = f"a section of {sizes[2]:g} mm leaves no opening in a frame of {sizes[0]:g} by {sizes[1]:g} mm"
                self.found.append(self.place(Diagnostic("frame", text, help="give outer sizes"), ("part", "frame")))
            return None if sizes is None else Frame(*sizes)
        return None

    def _one_shape(self, value: Any) -> bool:
        """Whether the part is one shape; two, or none, is a finding."""
        given = _shapes(value)
        if len(given) == 1:
            return True
        text = f"the part is {' and '.join(given)} at once" if given else "the part has no shape"
        repair = "give one: box, bracket or frame"
        self.found.append(self.place(Diagnostic("part", text, subject="part", help=repair), ("part",)))
        return False

    def _three(self, value: Any, name: str, rule: str, example: str) -> tuple[float, float, float] | None:
        sides = [self._quantity({"side": side}, "side", "length", ("part", name, i)) for i, side in enumerate(value)]
        if len(sides) != 3:
            finding = Diagnostic("box", f"{rule}, this has {len(sides)}", help=f"give three: '{example}'")
            self.found.append(self.place(finding, ("part", name)))
            return None
        first, second, third = sides
        if first is None or second is None or third is None:
            return None
        return first.value, second.value, third.value

    def _filler(self, data: Mapping[str, Any], process: str) -> str:
        """Filler names as rules write them: 4043 and ER4043 are one."""
        text = str(data.get("filler") or "").strip().upper().replace(" ", "")
        if not text:
            return ""
        if process in (*_TIG, *_WIRE):
            self._has_digit(text, data, "filler", "ER5356")
        return text if text.startswith("ER") else f"ER{text}"

    def _has_digit(self, text: str, data: Mapping[str, Any], name: str, example: str) -> None:
        """A filler is named by its number, in every standard: a word without one names none."""
        if not any(letter.isdigit() for letter in text):
            message = f"'{data[name]}' is no {name}"
            finding = Diagnostic("unknown-value", message, subject=name, help=f"write for example {example}")
            self.found.append(self.place(finding, (name,)))

    def _electrode(self, data: Mapping[str, Any]) -> str:
        """Covered electrodes as rules write them: 7018 and E7018 are one; 308L is E308L-16, the usual covering."""
        text = str(data.get("electrode") or data.get("filler") or "").strip().upper().replace(" ", "")
        if not text:
            return ""
        self._has_digit(text, data, "electrode" if data.get("electrode") else "filler", "E7018")
        name = text if text.startswith("E") else f"E{text}"
        return f"{name}-16" if name.startswith("E3") and "-" not in name else name

    def _inch_first(self, data: Mapping[str, Any], members: Sequence[Member | None]) -> bool:
        units = data.get("units")
        if units:
            return units_said(str(units)) == "inch"
        first = next((member for member in members if member is not None), None)
        return first is not None and (is_inch_unit(first.thickness.unit) or first.thickness.unit in ("ga", "gauge"))


def units_said(text: str) -> str:
    """metric or inch, as said. Raises PrestrikeError for any other word."""
    word = text.strip().casefold()
    if word not in ("metric", "inch"):
        help = did_you_mean(word, ("metric", "inch"))
        raise PrestrikeError(Diagnostic("unknown-value", f"'{text}' is no system of units", subject="units", help=help))
    return word


def _shapes(value: Any) -> list[str]:
    return [name for name in ("box", "bracket", "frame") if name in value]


def gauge_tables(rulebook: Rulebook) -> dict[str, dict[int, float]]:
    """Gauge tables by metal family: gauge number -> mm."""
    tables: dict[str, dict[int, float]] = {}
    for entry in rulebook.index.entries("gauge"):
        rows = {int(number): float(thickness) for number, thickness in entry["rows"].items()}
        for family in entry["families"]:
            tables[family] = rows
    return tables
