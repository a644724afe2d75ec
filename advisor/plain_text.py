"""Text that is safe to show: no control characters, no escape sequences, no formula in a cell of a table.

A control character is shown as `\\u001b`. In JSON that is the same character, so the whole of a JSON text may go
through here; in text and on a page it is seen and does nothing.
"""

from __future__ import annotations

import re
from typing import Any

# C0 but tab and newline, delete, C1, and what turns the direction of writing or breaks a line unseen.
_CONTROLS = (
    *range(0x09), *range(0x0B, 0x20), *range(0x7F, 0xA0), 0x061C, 0x200E, 0x200F, 0x2028, 0x2029,
    *range(0x202A, 0x202F), *range(0x2066, 0x206A), 0xFEFF,
)  # fmt: skip
_SHOWN = {code: f"\\u{code:04x}" for code in _CONTROLS}
# A spreadsheet takes a cell that starts so for a formula; the last four are the wide forms of the first.
_FORMULA = ("=", "+", "-", "@", "'", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_ESCAPED = re.compile(r"\\u([0-9a-f]{4})")


def shown(text: str) -> str:
    """The text with every control character made visible; tab and newline stay."""
    return text if text.isascii() and text.isprintable() else text.translate(_SHOWN)


def csv_cell(value: Any) -> str:
    """A cell that no spreadsheet takes for a formula and no terminal for a command. Numbers stay numbers."""
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value)
    # A text that holds `\u` of its own is told apart, so that `csv_text` gives back the same.
    text = str(value)
    safe = shown(text.replace("\\u", "\\u005cu"))
    return f"'{safe}" if text.startswith(_FORMULA) else safe


def csv_text(cell: str) -> str:
    """The text of a cell as `csv_cell` was given it."""
    rest = _ESCAPED.sub(_character, cell.removeprefix("'"))
    return rest if cell.startswith("'") and rest.startswith(_FORMULA) else _ESCAPED.sub(_character, cell)


def _character(found: re.Match[str]) -> str:
    return chr(int(found[1], 16))
