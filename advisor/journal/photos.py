"""Photos by path and hash: the file stays where it is, and later it can be told whether it is still the same."""

from __future__ import annotations

import hashlib
from pathlib import Path

from advisor.diagnostics import PrestrikeError
from advisor.journal.trial import Photo
from advisor.reading import read_bytes


def photo_of(path: Path) -> Photo:
    """The photo at a path. Raises PrestrikeError where it cannot be read."""
    return Photo(str(path.resolve()), _sha256(path))


def state_of(photo: Photo) -> str:
    """`same`, `changed` or `missing`."""
    try:
        return "same" if _sha256(Path(photo.path)) == photo.sha256 else "changed"
    except PrestrikeError:
        return "missing"


def _sha256(path: Path) -> str:
    return hashlib.sha256(read_bytes(path, repair="check the path of the photo")).hexdigest()
