"""`300 mm` or `4 x 300 mm`: a length, and how many of it."""

from __future__ import annotations

import re

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.units.quantities import UnitTable, parse_quantity


def counted(text: str, units: UnitTable, subject: str) -> tuple[int | None, float]:
    """The count, None where none is said, and the length [mm]. Raises PrestrikeError for a count not of 1 to 1000."""
    match = re.fullmatch(r"\s*([0-9]+)\s*[x×*]\s*(.+)", text)
    length = parse_quantity(match[2] if match else text, "length", table=units).value
    if match is None:
        return None, length
    count = int(match[1])
    if not 1 <= count <= 1000:
        raise PrestrikeError(
            Diagnostic("count", f"'{text}': {count} of a {subject}", subject=subject, help="write '4 x 300 mm'")
        )
    return count, length
