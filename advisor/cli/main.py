"""The `prestrike` command: finds the command named, loads only its file, and turns every error into a sentence."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError

if TYPE_CHECKING:
    import typer

# command -> (module, what it is). A module holds `command` (one command) or `app` (a group of them).
COMMANDS: dict[str, str] = {
    "setup": "advisor.setup.command",
    "prep": "advisor.setup.prep_command",
    "why": "advisor.setup.why_command",
    "heat": "advisor.heat.command",
    "compare": "advisor.compare.command",
    "consumables": "advisor.consumables.command",
    "blanks": "advisor.blanks.command",
    "strength": "advisor.strength.command",
    "fit": "advisor.fit.command",
    "sheet": "advisor.sheet.command",
    "ask": "advisor.ask.command",
    "demo": "advisor.ask.demo_command",
    "faults": "advisor.faults.command",
    "cracks": "advisor.cracks.command",
    "inspect": "advisor.inspection.command",
    "rules": "advisor.shop_rules.command",
    "materials": "advisor.metals.command",
    "trial": "advisor.trials.command",
    "learn": "advisor.trials.learn_command",
    "recheck": "advisor.shop_rules.recheck_command",
}

ABOUT = (
    "What to decide before striking an arc: settings, joint preparation and cautions, with a source for every number."
)


def build_app(names: list[str], arguments: list[str] | None = None) -> typer.Typer:
    """The application with these commands. arguments: what it will be given, to narrow one command to it."""
    import typer

    from advisor.flags.strict import StrictCommand, strict

    app = typer.Typer(
        help=ABOUT, no_args_is_help=True, pretty_exceptions_enable=False, rich_markup_mode=None, add_completion=True
    )

    @app.callback()
    def main() -> None:
        """Holds the group together when only one command is loaded."""

    main.__doc__ = ABOUT
    for name in names:
        module = importlib.import_module(COMMANDS[name])
        if hasattr(module, "app"):
            app.add_typer(strict(module.app), name=name)
        else:
            app.command(name, cls=StrictCommand)(_fitted(module.command, arguments) if arguments else module.command)
    return app


def run() -> None:
    """Entry point. Exit codes: see `advisor.diagnostics.Exit`."""
    # One answer and out: pausing for garbage would take longer than the memory is worth.
    gc.disable()
    # The matrices are small: more threads only wait for one another, twice as long on a busy machine.
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    from advisor.flags import streams

    streams.set_up()
    try:
        code = main(sys.argv[1:])
        streams.finish()
    except streams.OutputLost as error:
        streams.drop()
        text = f"the answer could not be written: {error.strerror or error}"
        print(Diagnostic("cannot-write", text, help="free some space, or send it elsewhere").text(), file=sys.stderr)
        code = Exit.BAD_INPUT
    sys.exit(code)


def main(arguments: list[str]) -> int:
    """Run one command line and give its exit code. Raises nothing but what printing itself raises."""
    from advisor.flags.streams import OutputLost, readable

    as_json = asks_for_json(arguments)
    try:
        return _answer(readable(arguments))
    except PrestrikeError as error:
        return tell(error, as_json)
    except OutputLost:
        raise
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        return tell(_system_fault(error), as_json)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else Exit.ADVISED if end.code is None else Exit.BAD_INPUT
    except Exception as error:
        return _our_fault(error, as_json)


def _answer(arguments: list[str]) -> int:
    wanted = next((word for word in arguments if not word.startswith("-")), "")
    # Help, completion and misspelt commands need all of them; an answer needs one.
    names = [wanted] if wanted in COMMANDS and "_PRESTRIKE_COMPLETE" not in os.environ else list(COMMANDS)
    app = build_app(names, arguments if len(names) == 1 else None)
    import typer

    misused: type[Exception] = typer.BadParameter.__mro__[2]  # the class of every error in how a command is called
    try:
        code = app(arguments, prog_name="prestrike", standalone_mode=False)
    except typer.Abort:
        return 130
    except misused as error:
        return _misused(error, asks_for_json(arguments))
    return code if isinstance(code, int) else Exit.ADVISED


def asks_for_json(arguments: list[str]) -> bool:
    """Whether the flag --json stands among the arguments."""
    flags = arguments[: arguments.index("--")] if "--" in arguments else arguments
    return "--json" in flags


def _misused(error: Any, as_json: bool) -> int:
    """Tell an error in how the command was called: JSON, or the usage line of that command."""
    if not as_json:
        error.show()
        return Exit.BAD_INPUT
    context = getattr(error, "ctx", None)
    command = context.command_path if context is not None else "prestrike"
    message = " ".join(error.format_message().split())
    return tell(PrestrikeError(Diagnostic("usage", message, help=f"try: {command} --help")), as_json)


def _fitted(command: Callable[..., None], arguments: list[str]) -> Callable[..., None]:
    from advisor.flags.options import narrowed

    return narrowed(command, arguments)


def tell(error: PrestrikeError, as_json: bool) -> int:
    """Print the findings and give the error's exit code."""
    if as_json:
        from advisor.flags.options import print_json

        print_json({"status": "error", "errors": [finding.as_json() for finding in error.diagnostics]})
    else:
        print(error, file=sys.stderr)
    return error.exit_code


def _system_fault(error: OSError) -> PrestrikeError:
    """A fault of the system where none was foreseen: told as what it is, neither reading nor writing."""
    text = f"the system refused: {error.strerror or error}"
    place = os.fsencode(error.filename).decode(errors="backslashreplace") if isinstance(error.filename, str) else ""
    return PrestrikeError(Diagnostic("system", text, place, help="check the path, the rights and the free space"))


def _our_fault(error: Exception, as_json: bool) -> int:
    if os.environ.get("PRESTRIKE_DEBUG"):
        raise error
    text = f"{type(error).__name__}: {error}"
    repair = "this is a fault of the program, not yours; PRESTRIKE_DEBUG=1 shows where"
    tell(PrestrikeError(Diagnostic("our-fault", text, help=repair)), as_json)
    return Exit.OUR_FAULT


if __name__ == "__main__":
    run()
