"""`prestrike rules check`: everything that can be wrong with rule files, told with its place and the repair."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.diagnostics import Exit
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.resources import cache_folder, schema_file
from advisor.shop.rules_in_force import default_layers, make_tools

All = Annotated[bool, typer.Option("--all", help="Tell each note: explained conflicts, masked rules, gaps, jumps.")]


def command(rules: RulesFolder = None, every: All = False, json: AsJson = False) -> None:
    """Structure, words, units, sources, examples, clashes; conflicts, dead and masked rules, gaps, jumps; and a map.

    Example: prestrike rules check --rules my-shop-rules/
    """
    from advisor.rulebook.compiled_cache import Store
    from advisor.rulebook.library import usable_folder
    from advisor.rulebook.review.check import check_rules
    from advisor.shop_rules.check_text import check_json, check_text
    from advisor.shop_rules.review import review

    checked = check_rules(default_layers(shop(rules)), schema_file, make_tools, cache_folder())
    found = review(checked, Store(usable_folder(cache_folder()) / "files.sqlite"))
    if json:
        print_json(check_json(checked.result, found))
    else:
        print(check_text(checked.result, found, every=every))
    sys.exit(Exit.BAD_INPUT if checked.result.findings or found.errors else Exit.ADVISED)
