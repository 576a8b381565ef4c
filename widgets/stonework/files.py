"""Files written whole or not at all, one writer at a time, under names that can't lead out of their folder."""

from __future__ import annotations

import contextlib
import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

from filelock import FileLock

_NAME = re.compile(r"[^\W_][\w '’-]{0,39}")
# Windows keeps these for its devices, whatever their ending.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}

_LOCK = ".stonework.lock"
_PATIENCE = 10.0  # seconds; whoever holds a folder has written within a fraction of one


def plain_name(name: str, what: str) -> str:
    """Return a name fit for a file in its folder, without spaces around it.

    Raises ``ValueError`` with a sentence for any other; ``what`` says what the name is for.
    """
    if not isinstance(name, str) or not _NAME.fullmatch(name) or is_device(name):
        if isinstance(name, str) and not name.strip():
            raise ValueError(f"Write a name for {what} into its box first.")
        raise ValueError(
            f"“{name}” can't be the name of {what}; use letters, digits, spaces, hyphens and apostrophes, at most 40, "
            "beginning with a letter or a digit."
        )
    return name.strip()


def is_device(name: str) -> bool:
    """Say whether Windows keeps a name for one of its devices."""
    return name.partition(".")[0].strip().lower() in _DEVICES


@contextlib.contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Keep every other page, program and machine from writing in a folder, so that what was read is still true.

    It may be asked for again inside itself. Raises ``OSError``: no such folder, none that may be written to, or one
    that somebody else holds and doesn't let go.
    """
    if not folder.is_dir():
        raise FileNotFoundError(2, "the folder isn't there", str(folder))
    if not os.access(folder, os.W_OK):
        raise PermissionError(13, "the folder may not be written to", str(folder))
    # Whoever shares the folder must be able to lock it too.
    lock = FileLock(folder.resolve() / _LOCK, timeout=_PATIENCE, mode=0o666, is_singleton=True, preserve_lock_file=True)
    try:
        lock.acquire()
    except TimeoutError as error:
        raise TimeoutError(11, "another page is writing there and doesn't finish", str(folder)) from error
    try:
        yield
    finally:
        lock.release()


def write_whole(path: Path, text: str) -> None:
    """Write a file beside the old one, then put it in its place: a power cut leaves the old one or the new one.

    Raises ``OSError`` if it can't be written; the old one is left as it was.
    """
    path = path.resolve()  # the file that a link leads to, not the link
    with alone(path.parent):
        # Under the lock one name serves every draft: what a power cut leaves is written over the next time.
        draft = path.with_name(".stonework.part")
        try:
            with draft.open("w", encoding="utf-8", errors="backslashreplace") as file:
                file.write(text)
                file.flush()
                os.fsync(file.fileno())
            if path.exists():
                shutil.copymode(path, draft)
            os.replace(draft, path)
        except OSError:
            with contextlib.suppress(OSError):
                draft.unlink()
            raise
