"""Files written whole or not at all, under names that can't lead out of their folder."""

from __future__ import annotations

import contextlib
import os
import re
import tempfile
from pathlib import Path

_NAME = re.compile(r"[^\W_][\w -]{0,39}")
# Windows keeps these for its devices, whatever their ending.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


def plain_name(name: str, what: str) -> str:
    """Return a name fit for a file in its folder, without spaces around it.

    Raises ``ValueError`` with a sentence for any other; ``what`` says what the name is for.
    """
    if not isinstance(name, str) or not _NAME.fullmatch(name) or name.strip().lower() in _DEVICES:
        if isinstance(name, str) and not name.strip():
            raise ValueError(f"Write a name for {what} into its box first.")
        raise ValueError(
            f"“{name}” can't be the name of {what}; use letters, digits, spaces and hyphens, at most 40, beginning "
            "with a letter or a digit."
        )
    return name.strip()


def write_whole(path: Path, text: str) -> None:
    """Write a file beside the old one, then put it in its place: a power cut leaves the old one or the new one.

    Raises ``OSError`` if it can't be written; the old one is left as it was.
    """
    draft = None
    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", dir=path.parent, prefix=".stonework-", suffix=".part", delete=False
        ) as file:
            draft = file.name
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(draft, path)
    except OSError:
        if draft:
            with contextlib.suppress(OSError):
                os.remove(draft)
        raise
