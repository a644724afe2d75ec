"""`prestrike materials`: the metals known here."""

from __future__ import annotations

from typing import Annotated

import typer

from advisor.flags.options import AsJson, print_json
from advisor.job.material import find_material
from advisor.shop.rules_in_force import open_rules

app = typer.Typer(help="List and show the metals known here.", no_args_is_help=True, rich_markup_mode=None)


@app.command("list")
def list_materials(json: AsJson = False) -> None:
    """Every metal with its family, series and other names.

    Example: prestrike materials list
    """
    from advisor.metals.text import material_rows, material_table

    rows = material_rows(open_rules().index.entries("material"))
    if json:
        print_json(rows)
    else:
        print(material_table(rows))


@app.command("show")
def show_material(
    name: Annotated[str, typer.Argument(help="Any name: 6061-T6, EN AW-6061, A36, 1.4301, unknown aluminium.")],
    json: AsJson = False,
) -> None:
    """One metal whole: composition, properties with sources, how to tell it at the bench, what stays uncertain.

    Example: prestrike materials show 5052-H32
    """
    from advisor.metals.text import material_json, material_text

    book = open_rules()
    material = find_material(name, book.index)
    if json:
        print_json(material_json(material))
    else:
        print(material_text(material))
