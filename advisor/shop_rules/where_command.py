"""`prestrike rules where`: where rules are looked for, and what was read."""

from __future__ import annotations

import sys

from advisor.diagnostics import Exit
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.shop.layers import layers_read
from advisor.shop.rules_in_force import default_layers, open_rules


def command(rules: RulesFolder = None, json: AsJson = False) -> None:
    """The layers, lowest first: where each is looked for, what was read there, and what had to be left out.

    Example: prestrike rules where
    """
    from advisor.shop_rules.layers_text import layers_json, layers_text

    extra = shop(rules)
    book = open_rules(extra)
    found = layers_read(default_layers(extra), book)
    if json:
        print_json(layers_json(found, book.left_out))
    else:
        print(layers_text(found, book.left_out))
    sys.exit(Exit.BAD_INPUT if book.left_out else Exit.ADVISED)
