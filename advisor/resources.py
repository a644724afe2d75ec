"""Where the shipped rules and schemas lie, and where the compiled index and what the user writes are kept."""

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
    return _user_folder("PRESTRIKE_CACHE", "XDG_CACHE_HOME", ".cache", "cache")


def config_folder() -> Path:
    """Folder that holds the shop's and the machine's own rules; `PRESTRIKE_CONFIG` names another one."""
    return _user_folder("PRESTRIKE_CONFIG", "XDG_CONFIG_HOME", ".config", "config")


def journal_file() -> Path:
    """The file of the shop's trials; `PRESTRIKE_JOURNAL` names another one."""
    named = os.environ.get("PRESTRIKE_JOURNAL")
    return Path(named) if named else _user_folder("", "XDG_DATA_HOME", ".local/share", "data") / "journal.sqlite"


def _user_folder(variable: str, xdg: str, default: str, kind: str) -> Path:
    named = os.environ.get(variable) if variable else None
    if named:
        return Path(named)
    if sys.platform.startswith("linux"):
        # What platformdirs answers on Linux, without its import on the way to every answer.
        base = os.environ.get(xdg, "")
        return (Path(base) if base.startswith("/") else Path.home() / default) / "prestrike"
    import platformdirs

    return Path(getattr(platformdirs, f"user_{kind}_dir")("prestrike", appauthor=False))


def demo_folder() -> Path:
    """Folder of the demo jobs that come with the program."""
    return _PACKAGE / "demo"
