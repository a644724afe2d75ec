"""`prestrike rules migrate`: brings one's own rule files to the newest format number, comments and all."""

from __future__ import annotations

import sys
from typing import Annotated, Any

import typer

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.shop.rules_in_force import default_layers
from advisor.writing import write_whole

Write = Annotated[bool, typer.Option("--write", help="Write the files; without it they are only shown.")]


def command(rules: RulesFolder = None, write: Write = False, json: AsJson = False) -> None:
    """Own rule files of an older format, moved forward; shows which would change, and writes them with --write.

    Example: prestrike rules migrate --rules my-shop-rules/ --write
    """
    from advisor.rulebook.listing import gather
    from advisor.rulebook.reading.migrate import NEWEST, migrate

    rows: list[dict[str, Any]] = []
    found: list[Diagnostic] = []
    for file in gather([layer for layer in default_layers(shop(rules)) if layer.name != "built-in"]):
        try:
            file.document()
            made = migrate(file.raw, file.shown_as)
        except PrestrikeError as error:
            found += error.diagnostics
            continue
        changed = made.before != made.after
        if changed and write:
            write_whole(file.path, made.after)
        rows.append({"file": file.shown_as, "from": made.numbers[0], "to": made.numbers[-1], "changed": changed})
    if json:
        findings = [item._asdict() for item in found]
        print_json({"newest": NEWEST, "files": rows, "findings": findings})
    else:
        for row in rows:
            what = f"{row['from']} -> {row['to']}" if row["changed"] else f"is in format {row['to']}, the newest"
            print(f"{row['file']}: {what}")
        print(
            f"{len(rows)} files looked at, {sum(row['changed'] for row in rows)} {'written' if write else 'to write'}"
        )
        if found:
            raise PrestrikeError(found)
    sys.exit(Exit.BAD_INPUT if found else Exit.ADVISED)
