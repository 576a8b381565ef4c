"""What is no plain file, is too large, is locked or may not be written to is said so, with the file or folder meant."""

from __future__ import annotations

import errno
import os
import threading

import pytest
from stonework import files
from stonework.files import alone, free_beside, is_device, plain_name, read_plain, write_whole


def told(error: OSError) -> tuple[int | None, str | None, str]:
    return error.errno, error.strerror, str(error.filename)


def test_a_plain_file_is_read_up_to_its_size(tmp_path):
    path = tmp_path / "tide.txt"
    path.write_bytes(b"high water")
    assert read_plain(path, 10) == read_plain(path, 10, linked=False) == b"high water"
    with pytest.raises(OSError, match="too large") as caught:
        read_plain(path, 9)
    assert told(caught.value) == (errno.EFBIG, "it is far too large", str(path))


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such pipes, nor links for everybody")
def test_what_is_no_plain_file_is_neither_read_nor_written_over(tmp_path):
    folder, pipe, link, plain = (tmp_path / name for name in ("folder", "pipe", "link", "plain"))
    folder.mkdir()
    os.mkfifo(pipe)
    plain.write_text("plain")
    link.symlink_to(plain)
    for path, expected in (
        (folder, (errno.EISDIR, "it is a folder", str(folder))),
        (pipe, (errno.EINVAL, "it isn't a plain file", str(pipe))),
    ):
        for act in (lambda path=path: read_plain(path, 10), lambda path=path: write_whole(path, "new")):
            with pytest.raises(OSError, match=expected[1]) as caught:
                act()
            assert told(caught.value) == expected
    assert read_plain(link, 10) == b"plain"
    with pytest.raises(OSError, match="link") as caught:
        read_plain(link, 10, linked=False)
    assert told(caught.value) == (errno.ELOOP, "it is a link", str(link))
    write_whole(link, "new")
    assert link.is_symlink() and plain.read_text() == "new"


def test_a_folder_that_is_not_there_or_held_by_somebody_is_told(tmp_path, monkeypatch):
    with pytest.raises(FileNotFoundError) as gone, alone(tmp_path / "none"):
        pass
    assert told(gone.value) == (2, "the folder isn't there", str(tmp_path / "none"))
    monkeypatch.setattr(files, "_PATIENCE", 0.05)
    held, let_go = threading.Event(), threading.Event()

    def hold() -> None:
        with alone(tmp_path):
            held.set()
            let_go.wait(30)

    holder = threading.Thread(target=hold)
    holder.start()
    assert held.wait(30)
    try:
        with pytest.raises(TimeoutError) as busy, alone(tmp_path):
            pass
    finally:
        let_go.set()
        holder.join()
    assert told(busy.value) == (11, "another page is writing there and doesn't finish", str(tmp_path))
    with alone(tmp_path), alone(tmp_path):
        write_whole(tmp_path / "tide.txt", "asked for again inside itself")


def test_a_folder_that_may_not_be_written_to_is_told(tmp_path, monkeypatch):
    monkeypatch.setattr(files.os, "access", lambda path, how: how != os.W_OK)
    with pytest.raises(PermissionError) as caught, alone(tmp_path):
        pass
    assert told(caught.value) == (13, "the folder may not be written to", str(tmp_path))


def test_signs_that_utf_8_has_not_are_written_all_the_same(tmp_path):
    write_whole(tmp_path / "odd.txt", "a\ud800b")
    assert (tmp_path / "odd.txt").read_text(encoding="utf-8") == "a\\ud800b"


@pytest.mark.parametrize("name", ["con", "NUL", "Aux", "prn", "com0", "com9", "LPT1", "nul.txt", "con .x.y"])
def test_windows_names_of_devices_are_nobody_s(name):
    assert is_device(name)
    with pytest.raises(ValueError, match="can't be the name of a lockup"):
        plain_name(name.partition(".")[0].strip(), "a lockup")


def test_a_name_that_only_begins_so_is_free(tmp_path):
    assert not any(map(is_device, ("console", "com", "com10", "nullo", "x.con")))
    assert plain_name(" tide 2 ".strip(), "a lockup") == "tide 2"
    path = tmp_path / "tide.lockup.json"
    assert free_beside(path) == path
    path.touch()
    (tmp_path / "tide 2.lockup.json").touch()
    assert free_beside(path) == tmp_path / "tide 3.lockup.json"
