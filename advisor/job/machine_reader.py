"""From a machine file or mapping to a Machine."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.job.job import DutyPoint, Machine
from advisor.units.quantities import UnitTable, parse_quantity

if TYPE_CHECKING:
    from advisor.rulebook.reading.yaml_text import PathKey


def read_machine(path: Path, units: UnitTable, schema_file: Callable[[str], Path]) -> Machine:
    """The machine of a YAML file. Raises PrestrikeError with file, line, column and repair."""
    from advisor.rulebook.checked_yaml import checked_yaml

    data = checked_yaml(path, "machine", schema_file)

    def place(diagnostic: Diagnostic, where: PathKey) -> Diagnostic:
        from advisor.rulebook.reading.yaml_text import read_yaml

        return read_yaml(path).place(diagnostic, where)

    return build_machine(data, units, place)


def build_machine(
    data: Mapping[str, Any], units: UnitTable, place: Callable[[Diagnostic, PathKey], Diagnostic] | None = None
) -> Machine:
    """The machine of a mapping that keeps the schema. Raises PrestrikeError with all faults found."""
    found: list[Diagnostic] = []

    def number(value: Any, kind: str, path: PathKey) -> float | None:
        if value is None:
            return None
        try:
            return parse_quantity(str(value), kind, table=units).value
        except PrestrikeError as error:
            found.extend(place(item, path) if place else item for item in error.diagnostics)
            return None

    low = number(data.get("lowest_current"), "current", ("lowest_current",))
    high = number(data.get("highest_current"), "current", ("highest_current",))
    points = []
    for index, row in enumerate(data.get("duty", ())):
        current = number(row["current"], "current", ("duty", index, "current"))
        percent = number(row["percent"], "percent", ("duty", index, "percent"))
        if current is not None and percent is not None:
            points.append(DutyPoint(current, percent))
    limit = number(data.get("torch_limit"), "current", ("torch_limit",))
    if low is not None and high is not None and low > high:
        item = Diagnostic("reversed-range", "lowest_current is above highest_current", help="swap them")
        found.append(place(item, ("lowest_current",)) if place else item)
    if found:
        raise PrestrikeError(found)
    return Machine(
        name=str(data.get("name", "")),
        current_type=str(data.get("current_type", "")),
        low=low,
        high=high,
        duty=tuple(sorted(points, key=lambda point: point.current)),
        balance_control=data.get("balance_control"),
        frequency_control=data.get("frequency_control"),
        torch_cooling=str(data.get("torch_cooling", "")),
        torch_limit=limit,
    )
