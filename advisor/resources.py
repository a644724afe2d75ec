"""Where the shipped rules and schemas lie, and where the compiled index is kept."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from advisor.diagnostics import Diagnostic, PrestrikeError

_PACKAGE = Path(__file__).resolve().parent


def data_folder() -> Path:
    """Folder that holds `rules/` and `schemas/`.

    In a checkout that is the repository itself, so that edits to rules are live even though an editable install
    also leaves a copy beside the package; in an installed wheel it is `advisor/_data`.
    """
    checkout = _PACKAGE.parent
    if (checkout / "pyproject.toml").is_file() and (checkout / "rules").is_dir():
        return checkout
    installed = _PACKAGE / "_data"
    if installed.is_dir():
        return installed
    raise PrestrikeError(
        Diagnostic("not-installed", "the shipped rules are missing", str(installed), help="install prestrike again")
    )


def rules_folder() -> Path:
    """Folder of the shipped rule files."""
    return data_folder() / "rules"


def schema_file(kind: str) -> Path:
    """Path of the JSON Schema of a kind of file (it may not exist)."""
    return data_folder() / "schemas" / f"{kind}.schema.json"


def cache_folder() -> Path:
    """Folder for compiled indexes; `PRESTRIKE_CACHE` names another one."""
    named = os.environ.get("PRESTRIKE_CACHE")
    if named:
        return Path(named)
    if sys.platform.startswith("linux"):
        # What platformdirs answers on Linux, without its import on the way to every answer.
        base = os.environ.get("XDG_CACHE_HOME", "")
        return (Path(base) if base.startswith("/") else Path.home() / ".cache") / "prestrike"
    import platformdirs

    return Path(platformdirs.user_cache_dir("prestrike", appauthor=False))


def demo_folder() -> Path:
    """Folder of the demo jobs that come with the program."""
    return _PACKAGE / "demo"
