"""Flags that describe a job, shared by every command that takes one."""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import wraps
from pathlib import Path
from typing import Annotated, Any, get_type_hints

import typer

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.flags.completion import metals, words
from advisor.flags.streams import json_text
from advisor.job.job import Job
from advisor.job.reader import JobBuilder, no_place, read_job_data
from advisor.resources import schema_file
from advisor.rulebook.library import Rulebook
from advisor.rulebook.listing import Layer
from advisor.shop.rules_in_force import open_rules, units_of
from advisor.units.quantities import UnitTable

JobFile = Annotated[Path | None, typer.Argument(help="A job file (YAML). Flags below override what it says.")]
Metal = Annotated[
    list[str] | None,
    typer.Option("--metal", "-m", help="Alloy or grade and temper; twice for a pair.", autocompletion=metals),
]
Thickness = Annotated[
    list[str] | None,
    typer.Option("--thickness", "-t", help="With unit: '3.2 mm', '1/8 in', '16 ga'; twice for a pair."),
]
Joint = Annotated[
    str,
    typer.Option(
        help="butt, corner-open, corner-half-open, corner-closed, corner-inside, tee, lap, edge.",
        autocompletion=words("joint"),
    ),
]
Weld = Annotated[str, typer.Option(help="groove or fillet, where the joint leaves a choice.")]
Position = Annotated[
    str, typer.Option(help="ISO 6947 (PA, PB, PC, PD, PE, PF, PG) or flat, horizontal, vertical, overhead.")
]
Process = Annotated[str, typer.Option(help="ISO 4063 number or trade name, such as 141 or TIG.")]
Surface = Annotated[
    list[str] | None,
    typer.Option(help="mill-finish, clean, anodised, galvanised, painted, mill-scale, rusty, oily ..."),
]
Form = Annotated[list[str] | None, typer.Option(help="sheet, plate, bar, extrusion, tube, casting.")]
Service = Annotated[
    list[str] | None,
    typer.Option(help="ordinary, leak-tight, machined-after, anodised-after, hot-service, structural, pressure ..."),
]
MachineFile = Annotated[Path | None, typer.Option("--machine", help="A machine file (YAML).")]
Filler = Annotated[str, typer.Option(help="Filler you mean to use, such as ER5356.")]
Access = Annotated[str, typer.Option(help="one-side or both-sides.")]
Backing = Annotated[str, typer.Option(help="none, temporary-bar, grooved-bar, copper, purge.")]
Place = Annotated[str, typer.Option(help="indoors, outdoors, confined.")]
Solvent = Annotated[str, typer.Option(help="Solvent you mean to use: acetone, isopropyl, chlorinated, other.")]
Gas = Annotated[
    str, typer.Option(help="Gas you mean to use: argon, argon-helium, helium; wire feed also argon-co2, co2 ...")
]
Transfer = Annotated[str, typer.Option(help="Wire feed: short-circuit, spray or pulsed-spray.")]
Wire = Annotated[str, typer.Option("--wire", help="Wire feed: diameter of the wire you have, such as '0.8 mm'.")]
Electrode = Annotated[str, typer.Option(help="Stick: the electrode you have, such as E7018.")]
Core = Annotated[str, typer.Option("--electrode-diameter", help="Stick: its core diameter, such as '3.2 mm'.")]
Tungsten = Annotated[str, typer.Option("--tungsten", help="Electrode type you have, ISO 6848 code such as WLa15.")]
Leg = Annotated[str, typer.Option(help="Fillet leg wanted.")]
Length = Annotated[str, typer.Option(help="Length of the seam.")]
Closed = Annotated[bool, typer.Option("--closed-volume", help="The part closes round a volume.")]
Used = Annotated[bool, typer.Option("--used-container", help="The part is a used tank, drum or pipe.")]
Units = Annotated[str, typer.Option(help="metric or inch first; else the system you typed.")]
RulesFolder = Annotated[
    list[Path] | None, typer.Option("--rules", help="A folder or file of shop rules to put above the shipped ones.")
]
Brief = Annotated[bool, typer.Option("--brief", help="Settings, aim and cautions only.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON.")]


# Flags that describe the members or name files; the rest go into the job's mapping under their own names.
_FILES_AND_MEMBERS: dict[str, Any] = {
    "job": JobFile,
    "metal": Metal,
    "thickness": Thickness,
    "surface": Surface,
    "form": Form,
    "machine": MachineFile,
    "rules": RulesFolder,
}
_WORDS: dict[str, Any] = {
    "joint": Joint,
    "weld": Weld,
    "position": Position,
    "process": Process,
    "service": Service,
    "filler": Filler,
    "access": Access,
    "backing": Backing,
    "place": Place,
    "solvent": Solvent,
    "gas": Gas,
    "tungsten_type": Tungsten,
    "transfer": Transfer,
    "wire_diameter": Wire,
    "electrode": Electrode,
    "electrode_diameter": Core,
    "leg": Leg,
    "length": Length,
    "closed_volume": Closed,
    "used_container": Used,
    "units": Units,
}


@dataclass(eq=False, repr=False)
class Flags:
    """What was given on the command line: files and members by name, and the other words of the job."""

    job: Path | None = None
    metal: list[str] | None = None
    thickness: list[str] | None = None
    surface: list[str] | None = None
    form: list[str] | None = None
    machine: Path | None = None
    rules: list[Path] | None = None
    words: dict[str, Any] = field(default_factory=dict)


def takes_job(function: Callable[..., None]) -> Callable[..., None]:
    """A command that is given a job: `function(flags, ...)` gains every flag that describes one."""
    own = [p for p in inspect.signature(function).parameters.values() if p.name != "flags"]
    hints = get_type_hints(function, include_extras=True)
    kind = inspect.Parameter.POSITIONAL_OR_KEYWORD
    resolved = [p.replace(annotation=hints[p.name], kind=kind) for p in own]
    before = [p for p in resolved if p.default is inspect.Parameter.empty]
    after = [p for p in resolved if p.default is not inspect.Parameter.empty]
    parameters = [*before, *_shared_parameters(), *after]
    defaults = {p.name: p.default for p in (*_shared_parameters(), *after)}

    @wraps(function)
    def command(**given: Any) -> None:
        values = {**defaults, **given}
        flags = Flags(**{name: values.pop(name) for name in _FILES_AND_MEMBERS})
        flags.words = {name: values.pop(name) for name in _WORDS}
        function(flags=flags, **values)

    _sign(command, parameters)
    return command


def _shared_parameters() -> list[inspect.Parameter]:
    kind = inspect.Parameter.POSITIONAL_OR_KEYWORD
    shared = []
    for name, annotation in (_FILES_AND_MEMBERS | _WORDS).items():
        default: Any = None if name in _FILES_AND_MEMBERS or name == "service" else ""
        if annotation in (Closed, Used):
            default = False
        shared.append(inspect.Parameter(name, kind, default=default, annotation=annotation))
    return shared


def _sign(command: Callable[..., None], parameters: list[inspect.Parameter]) -> None:
    command.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    command.__annotations__ = {p.name: p.annotation for p in parameters}


def narrowed(command: Callable[..., None], arguments: list[str]) -> Callable[..., None]:
    """The command with only the flags its arguments use: typer builds a validator for every flag it is shown, which
    is a tenth of the time of an answer. Help and unknown flags get the whole command, for its suggestions.
    """
    given = {word.split("=", 1)[0] for word in arguments if word.startswith("-") and word != "-"}
    parameters = list(inspect.signature(command).parameters.values())
    if any(isinstance(p.annotation, str) for p in parameters):
        return command  # a command with few flags of its own has nothing to narrow
    spelled = {p.name: _spellings(p) for p in parameters}
    if not given or not given <= {spelling for spellings in spelled.values() for spelling in spellings}:
        return command
    kept = [p for p in parameters if not spelled[p.name] or given & spelled[p.name]]

    @wraps(command)
    def narrow(**values: Any) -> None:
        command(**values)

    _sign(narrow, kept)
    return narrow


def _spellings(parameter: inspect.Parameter) -> set[str]:
    """The spellings of a flag; empty for an argument."""
    info = parameter.annotation.__metadata__[0]
    if isinstance(info, typer.models.ArgumentInfo):
        return set()
    # In an Annotated flag typer keeps the first spelling where a default would stand.
    first = {info.default} if isinstance(info.default, str) else set()
    return first | set(info.param_decls or ()) or {"--" + parameter.name.replace("_", "-")}


def shop(rules: list[Path] | None) -> list[Layer]:
    """The layers that the flag --rules names."""
    return [Layer("shop", path) for path in rules or ()]


def rules_opened(rules: list[Path] | None) -> Rulebook:
    """The rules in force, with the layers the flag --rules names; what had to be left out of them is told at once."""
    book = open_rules(shop(rules))
    for finding in book.left_out:
        print(f"LEFT OUT, the answer is without it: {finding.text()}", file=sys.stderr)
    return book


def job_from(flags: Flags, otherwise: Callable[[], Mapping[str, Any]] | None = None) -> tuple[Rulebook, UnitTable, Job]:
    """The rulebook in force, its units, and the job. otherwise: gives the job's mapping where no flag describes one.

    Raises PrestrikeError for bad input.
    """
    rulebook = rules_opened(flags.rules)
    units = units_of(rulebook)
    data: dict[str, Any] = {}
    place: Callable[..., Diagnostic] = no_place
    if flags.job is not None:
        data, place = read_job_data(flags.job, units, schema_file)
    elif otherwise is not None and not (flags.metal or flags.thickness or flags.words["joint"]):
        data = dict(otherwise())
    _members(data, flags)
    data.update({name: value for name, value in flags.words.items() if value})
    if flags.machine is not None:
        from advisor.job.machine_reader import read_machine

        data["machine"] = read_machine(flags.machine, units, schema_file)
    if not data.get("joint"):
        raise PrestrikeError(
            Diagnostic("missing-joint", "no joint given", help="add --joint butt (or tee, lap, corner ...)")
        )
    return rulebook, units, JobBuilder(rulebook, units, place).build(data)


def print_json(data: object) -> None:
    """Print plain data as the JSON every command answers with."""
    print(json_text(data))


def _members(data: dict[str, Any], flags: Flags) -> None:
    metals, sizes = flags.metal or [], flags.thickness or []
    if not metals and not sizes:
        if "members" not in data:
            repair = "give a job file, or --metal 5052-H32 --thickness '3.2 mm'"
            raise PrestrikeError(Diagnostic("missing-metal", "no metal and thickness given", help=repair))
        _spread_over(data, flags)
        return
    if "members" in data:
        repair = "change the file, or leave it out and give all by flags"
        raise PrestrikeError(Diagnostic("double-members", "members stand in the file and in flags", help=repair))
    if not metals or not sizes:
        repair = "give both --metal and --thickness"
        raise PrestrikeError(Diagnostic("missing-metal", "a member needs metal and thickness", help=repair))
    count = max(len(metals), len(sizes))
    if count > 2 or len(metals) not in (1, count) or len(sizes) not in (1, count):
        message = f"--metal given {len(metals)} and --thickness {len(sizes)} times: that makes no one or two members"
        raise PrestrikeError(Diagnostic("members", message, help="give each once or twice"))
    data["members"] = [
        {"metal": metals[min(i, len(metals) - 1)], "thickness": sizes[min(i, len(sizes) - 1)]} for i in range(count)
    ]
    _spread_over(data, flags)


def _spread_over(data: dict[str, Any], flags: Flags) -> None:
    """Surface and form given once count for both members; the surface may list several states by commas."""
    for name, values in (("surface", flags.surface), ("form", flags.form)):
        if not values:
            continue
        members = [dict(member) for member in data["members"]]
        for index, member in enumerate(members):
            member[name] = values[min(index, len(values) - 1)]
        data["members"] = members
