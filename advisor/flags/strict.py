"""The command class of every command: a flag given empty, or one given twice that counts once, is an error."""

from __future__ import annotations

from typing import Any

import typer
from typer.core import TyperCommand

from advisor.diagnostics import Diagnostic, PrestrikeError


class StrictCommand(TyperCommand):
    """A command that drops nothing a person typed."""

    def parse_args(self, ctx: typer.Context, args: list[str]) -> list[str]:  # type: ignore[override]
        """The rest of the arguments, as the class above gives them. Raises PrestrikeError for what would be lost."""
        if not ctx.resilient_parsing:
            given, _, order = self.make_parser(ctx).parse_args(args=list(args))
            found = _twice(order) + [item for parameter in self.params for item in _empty(parameter, given)]
            if found:
                raise PrestrikeError(found)
        return super().parse_args(ctx, args)


def strict(app: typer.Typer) -> typer.Typer:
    """The group, with every command of it strict."""
    for command in app.registered_commands:
        command.cls = StrictCommand
    return app


def _twice(order: list[Any]) -> list[Diagnostic]:
    once = [item for item in order if not (item.multiple or item.nargs == -1 or getattr(item, "is_flag", False))]
    names = dict.fromkeys(_spelled(item) for item in once if once.count(item) > 1)
    return [Diagnostic("twice", f"{name} is given twice", subject=name, help="give it once") for name in names]


def _empty(parameter: Any, given: dict[str, Any]) -> list[Diagnostic]:
    value = given.get(parameter.name)
    texts = value if isinstance(value, (list, tuple)) else [value]
    if not any(isinstance(text, str) and not text.strip() for text in texts):
        return []
    name = _spelled(parameter)
    return [Diagnostic("empty", f"{name} is given empty", subject=name, help="give it a value, or leave it out")]


def _spelled(parameter: Any) -> str:
    """The name a person types: the long spelling of a flag, the upper-case name of an argument."""
    longest: str = max(parameter.opts, key=len)
    return longest if longest.startswith("-") else longest.upper()
