"""The bench sheet: one self-contained page, or Markdown, or the page printed by a browser that is at hand."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.plain_text import shown
from advisor.writing import write_whole

TEMPLATES = Path(__file__).with_name("templates")
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
PAPERS = ("A4", "letter")
# Letters in points at which a sheet of so many characters fills two pages, measured over metals, joints and
# both papers: 7.6 at 24 000, 6.6 at 33 000; a little less is set.
_MEASURED = (24_000, 7.35, 0.95 / 9_000)
_LARGEST, _SMALLEST = 8.0, 5.6
_SECONDS = 60


def html(data: Mapping[str, Any], paper: str = "A4") -> str:
    """The sheet as one page that needs nothing from outside and no script. paper: A4 or letter."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
    from markupsafe import Markup

    escape_all = select_autoescape(default=True, default_for_string=True)
    site = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=escape_all, undefined=StrictUndefined, trim_blocks=True,
        lstrip_blocks=True,
    )  # fmt: skip
    # Drawings and curves are made by this program, their words escaped where they were written into them.
    marked = {
        **data,
        "drawings": [{**item, "svg": Markup(item["svg"])} for item in data["drawings"]],
        "curves": [{**item, "svg": Markup(item["svg"])} for item in data["curves"]],
        "css": Markup((TEMPLATES / "sheet.css").read_text(encoding="utf-8")),
    }
    return shown(site.get_template("sheet.html").render(marked, paper=paper, size=_size(data)))


def _size(data: Mapping[str, Any]) -> float:
    """Letters in points for print: smaller the more there is to say."""
    said = sum(len(str(value)) for name, value in data.items() if name not in ("drawings", "curves", "said"))
    at, size, slope = _MEASURED
    return round(max(min(size - (said - at) * slope, _LARGEST), _SMALLEST), 2)


def markdown(data: Mapping[str, Any]) -> str:
    """The sheet as Markdown: the same words, sizes in place of drawings, steps as task lists."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    site = Environment(
        loader=FileSystemLoader(TEMPLATES), undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
        finalize=lambda value: _plain(value) if isinstance(value, str) else value, autoescape=False,
    )  # fmt: skip
    return shown(site.get_template("sheet.md").render(data))


def _plain(text: str) -> str:
    """Text that Markdown shows as it is: its signs and those of HTML lose their meaning."""
    line = " ".join(text.split())
    for sign in "\\`*_[]#|":
        line = line.replace(sign, "\\" + sign)
    return line.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def browser() -> str:
    """The path of a browser that can print a page without a window, or an empty string."""
    return next((path for name in BROWSERS if (path := shutil.which(name))), "")


def printed(page: str) -> bytes:
    """The page as a PDF. Raises PrestrikeError where no browser is at hand or it fails."""
    found = browser()
    if not found:
        repair = "install Chromium, or write FILE.html and print it from any browser"
        raise PrestrikeError(Diagnostic("no-browser", "a PDF needs Chromium, and none was found", help=repair))
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "sheet.html"
        write_whole(source, page)
        target = Path(folder) / "sheet.pdf"
        command = [
            found, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync",
            f"--user-data-dir={folder}/profile", "--no-pdf-header-footer", f"--print-to-pdf={target}", source.as_uri(),
        ]  # fmt: skip
        # A browser that fails is told below, by the file it did not make.
        with suppress(subprocess.TimeoutExpired, OSError):
            subprocess.run(command, capture_output=True, timeout=_SECONDS, check=False)
        if not target.is_file():
            repair = "write FILE.html and print it from any browser"
            raise PrestrikeError(Diagnostic("no-pdf", f"{Path(found).name} made no PDF", help=repair))
        return target.read_bytes()
