"""The `prestrike` command: finds the command named, loads only its file, and turns every error into a sentence."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

from advisor.diagnostics import Diagnostic, Exit, PrestrikeError

if TYPE_CHECKING:
    import typer

# command -> (module, what it is). A module holds `command` (one command) or `app` (a group of them).
COMMANDS: dict[str, str] = {
    "setup": "advisor.cli.setup",
    "prep": "advisor.cli.prep",
    "why": "advisor.cli.why",
    "heat": "advisor.cli.heat",
    "compare": "advisor.cli.compare",
    "consumables": "advisor.cli.consumables",
    "blanks": "advisor.cli.blanks",
    "strength": "advisor.cli.strength",
    "fit": "advisor.cli.fit",
    "sheet": "advisor.cli.sheet",
    "ask": "advisor.cli.ask",
    "demo": "advisor.cli.demo",
    "faults": "advisor.cli.faults",
    "cracks": "advisor.cli.cracks",
    "inspect": "advisor.cli.inspection",
    "rules": "advisor.cli.rules",
    "materials": "advisor.cli.materials",
    "trial": "advisor.cli.trial",
    "learn": "advisor.cli.learn",
    "recheck": "advisor.cli.recheck",
}

ABOUT = (
    "What to decide before striking an arc: settings, joint preparation and cautions, with a source for every number."
)


def build_app(names: list[str], arguments: list[str] | None = None) -> typer.Typer:
    """The application with these commands. arguments: what it will be given, to narrow one command to it."""
    import typer

    from advisor.cli.strict import StrictCommand, strict

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
    arguments = sys.argv[1:]
    wanted = next((word for word in arguments if not word.startswith("-")), "")
    # Help, completion and misspelt commands need all of them; an answer needs one.
    names = [wanted] if wanted in COMMANDS and "_PRESTRIKE_COMPLETE" not in os.environ else list(COMMANDS)
    try:
        build_app(names, arguments if len(names) == 1 else None)()
    except PrestrikeError as error:
        fail(error, "--json" in arguments)
    except BrokenPipeError:
        # The reader of our pipe has gone: not a fault of anybody.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(Exit.ADVISED)
    except KeyboardInterrupt:
        sys.exit(130)
    except OSError as error:
        # Files are opened under their own errors; what is left is the answer that could not be written.
        _cannot_write(error)
    except Exception as error:
        _our_fault(error)


def _fitted(command: Callable[..., None], arguments: list[str]) -> Callable[..., None]:
    from advisor.cli.options import narrowed

    return narrowed(command, arguments)


def fail(error: PrestrikeError, as_json: bool) -> None:
    """Tell the findings and end with the error's exit code."""
    if as_json:
        import json

        findings = [finding.as_json() for finding in error.diagnostics]
        print(json.dumps({"status": "error", "errors": findings}, indent=2, ensure_ascii=False))
    else:
        print(error, file=sys.stderr)
    sys.exit(error.exit_code)


def _cannot_write(error: OSError) -> None:
    text = f"the answer could not be written: {error.strerror or error}"
    print(Diagnostic("cannot-write", text, help="free some space, or send it elsewhere").text(), file=sys.stderr)
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    sys.exit(Exit.BAD_INPUT)


def _our_fault(error: Exception) -> None:
    if os.environ.get("PRESTRIKE_DEBUG"):
        raise error
    text = f"{type(error).__name__}: {error}"
    finding = Diagnostic(
        "our-fault", text, help="this is a fault of the program, not yours; PRESTRIKE_DEBUG=1 shows where"
    )
    print(finding.text(), file=sys.stderr)
    sys.exit(Exit.OUR_FAULT)


if __name__ == "__main__":
    run()
