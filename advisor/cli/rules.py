"""`prestrike rules`: list, show and check the rules in force."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from advisor.advice.rules_in_force import compute, default_layers, make_tools, open_rules
from advisor.cli import rules_diff, rules_lock, rules_new, rules_where
from advisor.cli.options import AsJson, RulesFolder
from advisor.cli.rules_where import shop
from advisor.diagnostics import Diagnostic, Exit, PrestrikeError, did_you_mean
from advisor.resources import schema_file

app = typer.Typer(help="List, show and check the rules in force.", no_args_is_help=True, rich_markup_mode=None)

app.command("where")(rules_where.command)
app.command("new")(rules_new.command)
app.command("diff")(rules_diff.command)
app.command("lock")(rules_lock.command)


@app.command("list")
def list_rules(
    topic: Annotated[str, typer.Option(help="Only rules of this topic, such as current.")] = "",
    rules: RulesFolder = None,
    json: AsJson = False,
) -> None:
    """Every rule with its topic, effect, evidence and file.

    Example: prestrike rules list --topic current
    """
    from advisor.report.rules_report import rule_rows, rule_table

    book = open_rules(shop(rules))
    if topic and topic not in book.vocabulary.topics:
        repair = did_you_mean(topic, book.vocabulary.topics)
        raise PrestrikeError(Diagnostic("unknown-topic", f"'{topic}' is no topic", help=repair))
    found = book.index.rules(topic)
    if json:
        import json as json_module

        print(json_module.dumps(rule_rows(found), indent=2, ensure_ascii=False))
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
    from advisor.report.rules_report import rule_json, rule_text

    book = open_rules(shop(rules))
    rule = book.index.rule_by_id(rule_id)
    if rule is None:
        repair = did_you_mean(rule_id, book.index.rule_ids())
        raise PrestrikeError(Diagnostic("unknown-rule", f"no rule '{rule_id}'", help=repair))
    if json:
        import json as json_module

        print(json_module.dumps(rule_json(rule), indent=2, ensure_ascii=False))
    else:
        print(rule_text(rule))


@app.command("check")
def check(rules: RulesFolder = None, json: AsJson = False) -> None:
    """Check structure, words, units, sources and examples of every rule file, and clashes between them.

    Example: prestrike rules check --rules my-shop-rules/
    """
    from advisor.rulebook.check import check_rules

    result = check_rules(default_layers(shop(rules)), schema_file, make_tools, compute)
    if json:
        import json as json_module

        data = {**result._asdict(), "findings": [finding.as_json() for finding in result.findings]}
        print(json_module.dumps(data, indent=2, ensure_ascii=False))
    else:
        for finding in result.findings:
            print(finding.text())
        evidence = ", ".join(f"{count} {name}" for name, count in sorted(result.evidence.items()))
        print(f"{result.files} files, {result.rules} rules, {result.entries} entries")
        print(f"rules by evidence: {evidence}")
        print(f"{result.examples} examples run: {result.firing} fire, {result.silent} stay silent")
        print(f"{len(result.findings)} findings" if result.findings else "no findings")
    sys.exit(Exit.BAD_INPUT if result.findings else Exit.ADVISED)
