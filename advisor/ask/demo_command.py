"""`prestrike demo`: jobs to try the program on, written where they can be changed."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.reading import is_there, read_bytes
from advisor.resources import demo_folder
from advisor.writing import make_folder, write_whole


def command(
    folder: Annotated[Path, typer.Argument(help="Where to write them; made if it is not there.")] = Path("demo"),
    force: Annotated[bool, typer.Option("--force", help="Write over files of the same name.")] = False,
) -> None:
    """Write a folder of invented jobs, a machine and trials, to look at and to change.

    Example: prestrike demo my-jobs
    """
    sources = sorted(path for path in demo_folder().iterdir() if path.suffix in (".yaml", ".csv"))
    there = [source.name for source in sources if is_there(folder / source.name)]
    if there and not force:
        repair = "name another folder, or add --force to write over them"
        raise PrestrikeError(Diagnostic("exists", f"{folder} already holds {', '.join(there)}", help=repair))
    make_folder(folder)
    for source in sources:
        write_whole(folder / source.name, read_bytes(source), new=not force)
    for source in sources:
        print(folder / source.name)
    print(f"Try: prestrike setup {folder / 'coolant-tank.yaml'}")
