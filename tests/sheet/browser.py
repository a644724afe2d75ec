"""A headless Chromium for tests, and axe-core."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import tempfile
from contextlib import suppress
from html import unescape
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from advisor.sheet.page import browser

KEPT = Path(tempfile.gettempdir()) / "prestrike-axe-core-4"
HARNESS = Path(__file__).with_name("harness.html")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
)  # fmt: skip


def chromium(profile: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the browser; fails where there is none, since a sheet nobody rendered is not tested."""
    found = browser()
    if not found and not os.environ.get("PRESTRIKE_BROWSER_REQUIRED"):
        pytest.skip("no Chromium here: what a sheet looks like was NOT tested")
    assert found, "these tests need Chromium"
    command = [found, *FLAGS, f"--user-data-dir={profile}", *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=240, check=False)


def axe() -> str:
    """The source of axe-core: the newest 4 from npm, or where npm does not serve, the older 4 of a Python package."""
    source = KEPT / "node_modules" / "axe-core" / "axe.min.js"
    if not source.is_file() and shutil.which("npm"):
        # Made apart and then put in place whole: several workers may come here at once.
        with tempfile.TemporaryDirectory() as apart:
            made = Path(apart) / "made"
            made.mkdir()
            command = ["npm", "install", "--silent", "--no-audit", "--no-fund", "--prefix", str(made), "axe-core@4"]
            with suppress(subprocess.TimeoutExpired):
                subprocess.run(command, check=False, capture_output=True, timeout=120)
            if (made / source.relative_to(KEPT)).is_file():
                with suppress(OSError):  # another worker was first
                    made.rename(KEPT)
    if not source.is_file():
        source = Path(str(files("axe_core_python") / "axe.min.js"))
    return source.read_text(encoding="utf-8")


def looked_at(
    folder: Path, pages: dict[str, str], *, dark: bool, check: bool = True
) -> tuple[dict[str, Any], list[str]]:
    """What the browser measured on each page (with axe-core where `check`), and what it wrote to its console."""
    for name, page in pages.items():
        (folder / f"{name}.html").write_text(page, encoding="utf-8")
    (folder / "axe.js").write_text(f"const AXE_TEXT = {json.dumps(axe())};", encoding="utf-8")
    harness = folder / "harness.html"
    text = HARNESS.read_text(encoding="utf-8").replace("__JOBS__", json.dumps(list(pages)))
    harness.write_text(text.replace("__CHECK__", json.dumps(check)), encoding="utf-8")
    scheme = ["--blink-settings=preferredColorScheme=0"] if dark else []
    ran = chromium(
        folder / "profile", "--virtual-time-budget=600000", *scheme,
        "--allow-file-access-from-files", "--enable-logging=stderr",
        "--window-size=1400,1000", "--dump-dom", harness.as_uri(),
    )  # fmt: skip
    found = re.search(r'<pre id="result">(.*?)</pre>', ran.stdout, re.DOTALL)
    assert found is not None and found[1], ran.stderr[-2000:]
    return json.loads(unescape(found[1])), re.findall(r"CONSOLE[^\n]*", ran.stderr)


def printed_pages(folder: Path, name: str, page: str) -> int:
    """How many pages the browser prints a page on."""
    source, target = folder / f"{name}.html", folder / f"{name}.pdf"
    source.write_text(page, encoding="utf-8")
    chromium(folder / f"profile-{name}", "--no-pdf-header-footer", f"--print-to-pdf={target}", source.as_uri())
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", target.read_bytes()))
