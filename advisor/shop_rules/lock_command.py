"""`prestrike rules lock`: pin the rules in force, or see what differs from a pin."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.diagnostics import Exit
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.resources import rules_folder
from advisor.rulebook.listing import Layer
from advisor.rulebook.rule import LAYERS
from advisor.shop.rules_in_force import default_layers, open_rules, open_shipped

Output = Annotated[Path, typer.Option("--output", "-o", help="The lock to write.")]
Check = Annotated[Path | None, typer.Option("--check", help="A lock or a saved answer: say what differs from it now.")]
BuiltIn = Annotated[bool, typer.Option("--built-in", help="The shipped rules only.")]
Renew = Annotated[bool, typer.Option("--renew", help="Put a new lock in place of the old one.")]
Accept = Annotated[bool, typer.Option("--accept", help="With --renew: also what changed without a new version.")]


def command(
    output: Output = Path("rules.lock.json"),
    check: Check = None,
    built_in: BuiltIn = False,
    renew: Renew = False,
    accept: Accept = False,
    rules: RulesFolder = None,
    json: AsJson = False,
) -> None:
    """Pin every rule file by hash and version, so that a printed answer can be made again; or check against a pin.

    Example: prestrike rules lock --check tank.json
    """
    from advisor.shop_rules.changes_text import lock_json, lock_text
    from advisor.shop_rules.lock import check_lock, lock_of, read_lock, write_lock

    if built_in:
        now = lock_of([Layer(LAYERS[0], rules_folder())], "" if check is None else open_shipped().content_hash)
    else:
        extra = shop(rules)
        now = lock_of(default_layers(extra), open_rules(extra).content_hash)
    if check is not None:
        old = read_lock(check)
        changed = check_lock(old, now)
    else:
        old = None
        changed = write_lock(output, now, renew=renew, accept=accept)
    if json:
        print_json(lock_json(now, changed, old))
    else:
        print(lock_text(now, changed, old, str(check or output)))
    sys.exit(Exit.BAD_INPUT if check is not None and changed else Exit.ADVISED)
