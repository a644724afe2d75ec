"""Materials as a table, text and JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from advisor.job.material import Material
from advisor.show.wording import known_short

_UNITS = {
    "solidus": "degC",
    "liquidus": "degC",
    "density": "kg/m3",
    "conductivity": "W/(m K)",
    "specific_heat": "J/(kg K)",
    "expansion": "1e-6/K",
    "resistivity": "nohm m",
}


def material_rows(entries: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Short JSON of several materials."""
    return [
        {
            "id": entry["id"],
            "name": entry["name"],
            "family": entry["family"],
            "series": entry.get("series", ""),
            "also": entry["designations"],
        }
        for entry in entries
    ]


def material_table(rows: Sequence[Mapping[str, Any]]) -> str:
    """Several materials as a table."""
    from tabulate import tabulate

    table = [
        (row["name"], row["family"], row["series"], textwrap.shorten(", ".join(row["also"]), 28, placeholder=" ..."))
        for row in rows
    ]
    return str(
        tabulate(
            table,
            headers=("metal", "family", "series", "also called"),
            tablefmt="simple",
            disable_numparse=True,
            maxcolwidths=[21, None, None, None],
        )
    )


def material_json(material: Material) -> dict[str, Any]:
    """One material whole."""
    data = material._asdict()
    for key in ("properties", "bench", "tempers"):
        data[key] = list(data[key])
    return data


def material_text(material: Material) -> str:
    """One material as text of 80 columns."""
    lines = [f"{material.label}: {material.family}, series {material.series}"]
    if material.heat_treatable:
        lines.append("heat-treatable: the zone beside the seam loses strength")
    if material.uncertain:
        lines += textwrap.wrap(f"Uncertain: {material.uncertain}", 80)
    if material.notes:
        lines += textwrap.wrap(material.notes, 80)
    if material.composition:
        lines += ["", "Composition, mass %"]
        lines += [
            f"  {element:<3} {_limits(limits)}  {_source(limits['source'])}"
            for element, limits in material.composition.items()
        ]
    if material.properties:
        lines += ["", "Properties"]
        for item in material.properties:
            temper = f" ({item['temper']})" if item.get("temper") else ""
            lines += textwrap.wrap(
                f"{item['name'].replace('_', ' ')}{temper} {item['value']:.4g} {_UNITS[item['name']]}"
                f"  {_source(item['source'])}",
                80,
                initial_indent="  ",
                subsequent_indent="      ",
            )
            if item.get("note"):
                lines += textwrap.wrap(item["note"], 80, initial_indent="      ", subsequent_indent="      ")
    if material.bench:
        lines += ["", "How to tell it at the bench"]
        for test in material.bench:
            lines += textwrap.wrap(
                f"{test['test']}: {test['reading']}  {_source(test['source'])}",
                80,
                initial_indent="  - ",
                subsequent_indent="    ",
            )
    return "\n".join(lines)


def _limits(limits: Mapping[str, Any]) -> str:
    low, high = limits["low"], limits["high"]
    if high is None:
        return f"at least {low:g}"
    return f"{low:g} to {high:g}" if low else f"up to {high:g}"


def _source(sources: Sequence[Mapping[str, str]]) -> str:
    return "[" + "; ".join(f"{item['title']}, {known_short(item['evidence'])}" for item in sources[:2]) + "]"
