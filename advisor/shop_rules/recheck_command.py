"""`prestrike recheck`: which saved answers are other answers now, and by how much."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from advisor.answer.last_answer import saved_answer
from advisor.diagnostics import Diagnostic, Exit, PrestrikeError
from advisor.flags.options import AsJson, RulesFolder, print_json, shop
from advisor.job.reader import JobBuilder
from advisor.rulebook.library import Rulebook
from advisor.setup.answer import advise
from advisor.shop.rules_in_force import open_rules, units_of

Saved = Annotated[list[Path], typer.Argument(help="Saved answers (`setup --json`), or folders of them.")]


def command(files: Saved, rules: RulesFolder = None, json: AsJson = False) -> None:
    """Ask the jobs of saved answers again: what changed in each, and by how much. A bad file is named, the rest done.

    Example: prestrike recheck tank.json answers/
    """
    from advisor.shop_rules.changes_text import recheck_json, recheck_text
    from advisor.shop_rules.lock import read_lock
    from advisor.shop_rules.recheck import changes_between, saved_files

    book = open_rules(shop(rules))
    rows: list[dict[str, Any]] = []
    bad: list[PrestrikeError] = []
    moved = 0
    for path in saved_files(files):
        try:
            old = saved(path)
            new = asked_again(old, book)
            changed = changes_between(old, new)
            same = read_lock(path).content_hash == book.content_hash
        except PrestrikeError as error:
            bad.append(error)
            if not json:
                print(error, file=sys.stderr)
            continue
        moved += bool(changed)
        rows.append(recheck_json(str(path), changed, same))
        if not json:
            print(recheck_text(str(path), changed, same))
    if json:
        errors = [finding.as_json() for error in bad for finding in error.diagnostics]
        print_json({"answers": rows, "changed": moved, "bad": len(bad), "errors": errors})
    else:
        print(
            f"{len(rows)} answers asked again, {moved} changed"
            + (f", {len(bad)} files could not be used" if bad else "")
        )
    sys.exit(Exit.BAD_INPUT if bad else Exit.ADVISED)


def saved(path: Path) -> Mapping[str, Any]:
    """A saved answer whole. Raises PrestrikeError for anything else."""
    from advisor.shop_rules.recheck import whole

    return whole(saved_answer(path), path)


def asked_again(answer: Mapping[str, Any], book: Rulebook) -> Mapping[str, Any]:
    """The JSON answer to the same job now. Raises PrestrikeError where the job does not hold any more."""
    from advisor.setup.as_json import advice_json

    job = JobBuilder(book, units_of(book), _place).build(answer["job"]["as_given"])
    return advice_json(advise(book, job))


def _place(diagnostic: Diagnostic, path: Any) -> Diagnostic:
    subject = ".".join(("job", "as_given", *(str(step) for step in path)))
    return diagnostic if diagnostic.subject else diagnostic._replace(subject=subject)
