"""`prestrike rules`: list, show and check the rules in force."""

from __future__ import annotations

from typing import Annotated

import typer

from advisor.diagnostics import Diagnostic, PrestrikeError, did_you_mean
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.shop.rules_in_force import open_rules
from advisor.shop_rules import check_command as rules_check
from advisor.shop_rules import diff_command as rules_diff
from advisor.shop_rules import lock_command as rules_lock
from advisor.shop_rules import migrate_command as rules_migrate
from advisor.shop_rules import new_command as rules_new
from advisor.shop_rules import test_command as rules_test
from advisor.shop_rules import where_command as rules_where

app = typer.Typer(help="List, show and check the rules in force.", no_args_is_help=True, rich_markup_mode=None)

app.command("where")(rules_where.command)
app.command("new")(rules_new.command)
app.command("diff")(rules_diff.command)
app.command("lock")(rules_lock.command)
app.command("migrate")(rules_migrate.command)
app.command("check")(rules_check.command)
app.command("test")(rules_test.command)


@app.command("list")
def list_rules(
    topic: Annotated[str, typer.Option(help="Only rules of this topic, such as current.")] = "",
    rules: RulesFolder = None,
    json: AsJson = False,
) -> None:
    """Every rule with its topic, effect, evidence and file.

    Example: prestrike rules list --topic current
    """
    from advisor.show.rule_lines import rule_rows, rule_table

    book = open_rules(shop(rules))
    if topic and topic not in book.vocabulary.topics:
        repair = did_you_mean(topic, book.vocabulary.topics)
        raise PrestrikeError(Diagnostic("unknown-topic", f"'{topic}' is no topic", help=repair))
    found = book.index.rules(topic)
    if json:
        print_json(rule_rows(found))
    else:
        print(rule_table(found))


@app.command("show")
def show_rule(
    rule_id: Annotated[str, typer.Argument(help="Id of the rule, as `rules list` and `why` print it.")],
    rules: RulesFolder = None,
    json: AsJson = False,
) -> None:
    """One rule whole: conditions, effect, sources, reason, file and line.

    Example: prestrike rules show current.aluminium.butt.ap
    """
    from advisor.show.rule_lines import rule_json, rule_text

    book = open_rules(shop(rules))
    rule = book.index.rule_by_id(rule_id)
    if rule is None:
        repair = did_you_mean(rule_id, book.index.rule_ids())
        raise PrestrikeError(Diagnostic("unknown-rule", f"no rule '{rule_id}'", help=repair))
    if json:
        print_json(rule_json(rule))
    else:
        print(rule_text(rule))
