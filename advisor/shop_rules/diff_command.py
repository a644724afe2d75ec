"""`prestrike rules diff`: which rules say something else, in words and numbers."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.rulebook.listing import Layer
from advisor.shop.rules_in_force import default_layers, open_rules, units_of

Old = Annotated[Path, typer.Argument(help="A folder or file of rules, or a saved answer (.json).")]
New = Annotated[Path | None, typer.Argument(help="A folder or file of rules; else the rules in force.")]


def command(old: Old, new: New = None, rules: RulesFolder = None, json: AsJson = False) -> None:
    """Rules that came, went or changed, and which key from what to what.

    Example: prestrike rules diff rules-of-last-year/ rules/
    """
    if old.suffix.casefold() == ".json":
        _answer(old, new, rules, json)
        return
    if new is not None and new.suffix.casefold() == ".json":
        text = "a saved answer is compared with the rules in force"
        raise PrestrikeError(Diagnostic("wrong-form", text, str(new), help="give the saved answer alone"))
    from advisor.shop_rules.changes_text import diff_json, diff_text
    from advisor.shop_rules.diff import diff_of

    extra = shop(rules)
    units = units_of(open_rules(extra))
    second = [Layer("shop", new)] if new is not None else default_layers(extra)
    found = diff_of([Layer("shop", old)], second, units)
    _print(diff_json(found), diff_text(found), json)
    sys.exit(Exit.ADVISED)


def _answer(path: Path, new: Path | None, rules: list[Path] | None, json: bool) -> None:
    from advisor.shop_rules.changes_text import spoken_text
    from advisor.shop_rules.diff import spoken_changes
    from advisor.shop_rules.lock import check_lock, lock_of, read_lock
    from advisor.shop_rules.recheck_command import asked_again, saved

    if new is not None:
        text = "a saved answer is compared with the rules in force"
        raise PrestrikeError(Diagnostic("wrong-form", text, str(new), help="name more of them with --rules"))
    extra = shop(rules)
    book = open_rules(extra)
    answer = saved(path)
    pins = check_lock(read_lock(path), lock_of(default_layers(extra), book.content_hash))
    changed = spoken_changes(answer, asked_again(answer, book))
    data = {"files": [item._asdict() for item in pins], "rules": [item._asdict() for item in changed]}
    _print(data, spoken_text(changed, pins), json)
    sys.exit(Exit.ADVISED)


def _print(data: object, text: str, as_json: bool) -> None:
    if as_json:
        print_json(data)
    else:
        print(text)
