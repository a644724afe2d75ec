"""The one way to write a file: beside its target first, flushed to the disk, then moved into its place.

So a target is whole at every moment, the old text or the new one, also when the disk is full or the program is killed.
What a killed program leaves is a hidden file, which the next writing in that folder takes away.
"""

from __future__ import annotations

import errno
import os
import time
from itertools import count
from pathlib import Path

from advisor.diagnostics import Diagnostic, PrestrikeError

_PREFIX, _SUFFIX = ".prestrike-", ".tmp"
_NUMBERS = count(1)
STALE_SECONDS = 600.0  # a draft this old belongs to a program that was killed
REPAIR = "check that the folder is there, that you may write to it and that the disk has room"


def write_whole(path: Path, text: str | bytes, *, new: bool = False, durable: bool = True, help: str = REPAIR) -> None:
    """Write a file whole or not at all; missing folders are not made.

    new: refuse a target that is there. durable: on the disk when this returns; a cache does without. help: the repair
    that an error names. Raises PrestrikeError `exists` or `cannot-write`; the old file then stands as it was.
    """
    target = real(path)
    draft = draft_of(target)
    raw = text.encode("utf-8") if isinstance(text, str) else text
    try:
        _refuse_what_is_no_file(target)
        _sweep(target.parent)
        _fill(draft, raw, target, durable)
        _place(draft, target, new)
        if durable:
            _flush_folder(target.parent)
    except FileExistsError:
        raise _exists(path, help) from None
    except (OSError, UnicodeEncodeError, ValueError) as error:
        raise cannot_write(path, error, help) from None
    finally:
        _forget(draft)


def make_folder(path: Path, *, help: str = REPAIR) -> None:
    """Make a folder and those above it; one that is there is no fault."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except (OSError, ValueError) as error:
        raise cannot_write(path, error, help) from None


def move_into_place(draft: Path, path: Path) -> None:
    """A finished draft of `draft_of` takes the place of its target. Raises OSError."""
    os.replace(draft, path)


def draft_of(path: Path) -> Path:
    """A name beside the target that no other writer has."""
    return path.with_name(f"{_PREFIX}{os.getpid()}-{next(_NUMBERS)}{_SUFFIX}")


def real(path: Path) -> Path:
    """Where a link leads: the file is replaced, not the link. Raises PrestrikeError for a loop of links."""
    try:
        return Path(os.path.realpath(path)) if path.is_symlink() else path
    except (OSError, ValueError) as error:
        raise cannot_write(path, error, REPAIR) from None


def cannot_write(path: Path, error: Exception, help: str = REPAIR) -> PrestrikeError:
    """The error of a file that could not be written."""
    text = f"cannot write the file: {getattr(error, 'strerror', None) or error}"
    return PrestrikeError(Diagnostic("cannot-write", text, str(path), help=help))


def _exists(path: Path, help: str) -> PrestrikeError:
    return PrestrikeError(Diagnostic("exists", "this file is there already", str(path), help=help))


def _refuse_what_is_no_file(target: Path) -> None:
    if target.is_symlink():
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP))
    if target.exists() and not target.is_file():
        what = "a folder" if target.is_dir() else "no ordinary file"
        raise OSError(0, f"this is {what}")
    if target.exists() and not os.access(target, os.W_OK):
        raise PermissionError(0, "the file is there and may not be written to")


def _fill(draft: Path, raw: bytes, target: Path, durable: bool) -> None:
    draft.unlink(missing_ok=True)  # of a killed program that had our number
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    with os.fdopen(descriptor, "wb") as stream:
        stream.write(raw)
        stream.flush()
        if durable:
            os.fsync(stream.fileno())
    if target.exists():
        os.chmod(draft, target.stat().st_mode & 0o7777)


def _place(draft: Path, target: Path, new: bool) -> None:
    if not new:
        os.replace(draft, target)
        return
    try:
        os.link(draft, target)  # fails where the target is there: two writers cannot both win
    except FileExistsError:
        raise
    except OSError:
        # Some disks know no links.
        if target.exists():
            raise FileExistsError from None
        os.replace(draft, target)


def _flush_folder(folder: Path) -> None:
    """The new name is on the disk too. Not every system can."""
    try:
        descriptor = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(descriptor)
    except OSError:
        return
    finally:
        os.close(descriptor)


def _sweep(folder: Path) -> None:
    """Take away drafts of programs that were killed."""
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.name.startswith(_PREFIX) and entry.name.endswith(_SUFFIX) and _stale(entry):
                    os.unlink(entry.path)
    except OSError:
        return


def _stale(entry: os.DirEntry[str]) -> bool:
    return time.time() - entry.stat(follow_symlinks=False).st_mtime > STALE_SECONDS


def _forget(draft: Path) -> None:
    try:
        draft.unlink(missing_ok=True)
    except (OSError, ValueError):
        return
