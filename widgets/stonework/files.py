"""Files read only as far as they are plain and of a size, and written whole or not at all, one writer at a time.

Their names can't lead out of their folder.
"""

from __future__ import annotations

import contextlib
import errno
import os
import re
import shutil
import stat
from collections.abc import Iterator
from pathlib import Path

from filelock import FileLock

from stonework.saying import shown

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
            f"“{shown(str(name))}” can't be the name of {what}; use letters, digits, spaces, hyphens and apostrophes, "
            "at most 40, beginning with a letter or a digit."
        )
    return name.strip()


def is_device(name: str) -> bool:
    """Say whether Windows keeps a name for one of its devices."""
    return name.partition(".")[0].strip().lower() in _DEVICES


def free_beside(path: Path) -> Path:
    """Return a path at which nothing lies yet: this one, or with a number behind its name, ``tide 2.lockup.json``."""
    stem, dot, ending = path.name.partition(".")
    n, free = 1, path
    while os.path.lexists(free):
        n += 1
        free = path.with_name(f"{stem} {n}{dot}{ending}")
    return free


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
    lock = FileLock(
        os.path.join(os.path.realpath(folder), _LOCK),
        timeout=_PATIENCE,
        mode=0o666,
        is_singleton=True,
        preserve_lock_file=True,
    )
    try:
        lock.acquire()
    except TimeoutError as error:
        raise TimeoutError(11, "another page is writing there and doesn't finish", str(folder)) from error
    try:
        yield
    finally:
        lock.release()


def read_plain(path: Path, most: int, *, linked: bool = True) -> bytes:
    """Return what a plain file holds.

    Raises ``OSError``: there is none, it can't be read, it is no plain file (a pipe or a device might never end), it
    holds more than ``most`` bytes, or it is a link where none should be.
    """
    if not linked and path.is_symlink():
        raise OSError(errno.ELOOP, "it is a link", str(path))
    _refuse_unless_plain(path, path.stat().st_mode)
    # Between the look and the opening it may be changed for a link or a pipe, and opening that would wait for a writer.
    # Some systems want to be told that bytes are bytes.
    how = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    how |= 0 if linked else getattr(os, "O_NOFOLLOW", 0)
    with open(os.open(path, how), "rb") as file:
        _refuse_unless_plain(path, os.fstat(file.fileno()).st_mode)
        held = file.read(most + 1)
    if len(held) > most:
        raise OSError(errno.EFBIG, "it is far too large", str(path))
    return held


def write_whole(path: Path, text: str) -> None:
    """Write a file beside the old one, then put it in its place: a power cut leaves the old one or the new one.

    Raises ``OSError`` if it can't be written; the old one is left as it was, and so is what is no plain file.
    """
    path = Path(os.path.realpath(path))  # the file that a link leads to, not the link
    with alone(path.parent):
        # Under the lock one name serves every draft: what a power cut leaves is written over the next time.
        draft = path.with_name(".stonework.part")
        if path.exists():
            _refuse_unless_plain(path, path.stat().st_mode)
        try:
            draft.unlink(missing_ok=True)  # it might be a pipe, and opening it would wait for a reader
            with draft.open("x", encoding="utf-8", errors="backslashreplace") as file:
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


def _refuse_unless_plain(path: Path, mode: int) -> None:
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, "it is a folder", str(path))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, "it isn't a plain file", str(path))
