"""Photos by path and hash: the file stays where it is, and later it can be told whether it is still the same."""

from __future__ import annotations

import hashlib
from pathlib import Path

from advisor.diagnostics import Diagnostic, PrestrikeError
from advisor.journal.trial import Photo


def photo_of(path: Path) -> Photo:
    """The photo at a path. Raises PrestrikeError where it cannot be read."""
    try:
        return Photo(str(path.resolve()), _sha256(path))
    except OSError as error:
        text = f"cannot read the photo: {error.strerror or error}"
        raise PrestrikeError(Diagnostic("cannot-read", text, str(path), help="check the path")) from None


def state_of(photo: Photo) -> str:
    """`same`, `changed` or `missing`."""
    try:
        return "same" if _sha256(Path(photo.path)) == photo.sha256 else "changed"
    except OSError:
        return "missing"


def _sha256(path: Path) -> str:
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()
