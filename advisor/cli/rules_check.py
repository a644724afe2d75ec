"""`prestrike rules check`: everything that can be wrong with rule files, told with its place and the repair."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.advice.rules_in_force import default_layers, make_tools
from advisor.cli.options import AsJson, RulesFolder, print_json, shop
from advisor.diagnostics import Exit
from advisor.resources import cache_folder, schema_file

All = Annotated[bool, typer.Option("--all", help="Tell each note: explained conflicts, masked rules, gaps, jumps.")]


def command(rules: RulesFolder = None, every: All = False, json: AsJson = False) -> None:
    """Structure, words, units, sources, examples, clashes; conflicts, dead and masked rules, gaps, jumps; and a map.

    Example: prestrike rules check --rules my-shop-rules/
    """
    from advisor.advice.rules_review import review
    from advisor.report.rules_check_report import check_json, check_text
    from advisor.rulebook.check import check_rules
    from advisor.rulebook.library import usable_folder
    from advisor.rulebook.store import Store

    checked = check_rules(default_layers(shop(rules)), schema_file, make_tools, cache_folder())
    found = review(checked, Store(usable_folder(cache_folder()) / "files.sqlite"))
    if json:
        print_json(check_json(checked.result, found))
    else:
        print(check_text(checked.result, found, every=every))
    sys.exit(Exit.BAD_INPUT if checked.result.findings or found.errors else Exit.ADVISED)
