"""Names as they are looked up."""

from __future__ import annotations

import re


def fold(name: str) -> str:
    """A name as it is looked up: case, spaces, dots, slashes, hyphens and decimal commas do not count."""
    return re.sub(r"[\s\-_./,]+", "", name.casefold())
