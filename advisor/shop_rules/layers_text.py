"""Where rules were looked for and what was read, as text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from advisor.diagnostics import Diagnostic
from advisor.shop.layers import LayerRead


def layers_json(found: Sequence[LayerRead], left_out: Sequence[Diagnostic]) -> dict[str, Any]:
    """The layers, lowest first, and findings on files that were left out."""
    layers = [{**item._asdict(), "path": str(item.path), "files": list(item.files)} for item in found]
    return {"layers": layers, "left_out": [finding.as_json() for finding in left_out]}


def layers_text(found: Sequence[LayerRead], left_out: Sequence[Diagnostic]) -> str:
    """The same as text. Built-in files are counted, files of one's own are named."""
    lines = ["Lowest first; a higher layer's start replaces a lower one's."]
    for number, item in enumerate(found, 1):
        state = f"{len(item.files)} files, {item.rules} rules" if item.there else "not there"
        lines += ["", f"{number}. {item.layer}: {item.why}", f"   {item.path}", f"   {state}"]
        if item.layer != "built-in":
            lines += [f"   - {file['file']}: {file['name']} {file['version']}" for file in item.files]
    if left_out:
        lines += ["", "LEFT OUT, so none of their rules speak:"]
        lines += [finding.text() for finding in left_out]
    return "\n".join(lines)
