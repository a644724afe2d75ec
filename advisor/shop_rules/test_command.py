"""`prestrike rules test`: runs the examples beside the rules."""

from __future__ import annotations

import sys

from advisor.diagnostics import Exit
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.resources import cache_folder, schema_file
from advisor.shop.rules_in_force import default_layers, make_tools


def command(rules: RulesFolder = None, json: AsJson = False) -> None:
    """Run every example and count them by ruleset. Fails on a wrong one, and on none at all in a folder named.

    Example: prestrike rules test --rules my-shop-rules/
    """
    from advisor.rulebook.review.check import check_rules
    from advisor.shop_rules.check_text import test_json, test_text
    from advisor.shop_rules.review import no_examples

    checked = check_rules(default_layers(shop(rules)), schema_file, make_tools, cache_folder())
    findings = [*checked.result.findings, *no_examples(checked, [str(path) for path in rules or ()])]
    if json:
        print_json(test_json(checked.by_file, findings))
    else:
        print(test_text(checked.by_file, findings))
    sys.exit(Exit.BAD_INPUT if findings else Exit.ADVISED)
