"""What lies in a zip that came from anywhere: read in memory, a little at a time, and never more than is allowed."""

from __future__ import annotations

import io
import stat
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator

_MOST_PACKED = 32_000_000  # bytes
_MOST_ENTRIES = 20_000
_DEEPEST = 6  # folders
_PLAIN = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)  # the others unpack as much as they like at one step
_BROKEN = (
    *(zipfile.BadZipFile, zlib.error, struct.error, EOFError),
    *(OSError, ValueError, RuntimeError, NotImplementedError, OverflowError),
)


def inside(data: bytes, wanted: Callable[[str], bool], most: int) -> Iterator[tuple[str, bytes, str]]:
    """Yield each wanted file of a zip: where it lies, its bytes, and what is wrong with it, if something is.

    Of each no more than ``most`` bytes and one are unpacked, whatever the zip says of its size.
    """
    if len(data) > _MOST_PACKED:
        yield "The zip", b"", "is far too large for the sheets of a class"
        return
    try:
        packed = zipfile.ZipFile(io.BytesIO(data))
    except _BROKEN:
        yield "The file", b"", "isn't a zip that can be read"
        return
    with packed:
        entries = packed.infolist()
        if len(entries) > _MOST_ENTRIES:
            yield "The zip", b"", "holds far more files than a class has"
            return
        for entry in sorted(entries, key=lambda entry: entry.filename):
            parts = entry.filename.replace("\\", "/").split("/")
            if parts[0] == "__MACOSX" or not (wanted(parts[-1]) or parts[-1].endswith(".zip")):
                continue
            if wrong := _refused(entry, parts, most):
                yield entry.filename, b"", wrong
                continue
            try:
                with packed.open(entry) as file:
                    held, wrong = file.read(most + 1), ""
            except _BROKEN:
                held, wrong = b"", "is damaged in the zip, or locked by a password"
            yield entry.filename, held, wrong


def _refused(entry: zipfile.ZipInfo, parts: list[str], most: int) -> str:
    """Say why an entry isn't read, or nothing."""
    if parts[-1].endswith(".zip"):
        return "is a zip within the zip, which isn't opened"
    odd = ":" in parts[0] or any(part in ("", ".", "..") for part in parts)
    if odd or len(parts) > _DEEPEST + 1:
        return "lies at an odd place in the zip"
    if stat.S_IFMT(entry.external_attr >> 16) not in (0, stat.S_IFREG):
        return "is a link or a device, and only plain files are opened"
    if entry.compress_type not in _PLAIN:
        return "is packed in a way that isn't read here; pack the folder again as an ordinary zip"
    return "is far too long for an answer sheet" if entry.file_size > most else ""
