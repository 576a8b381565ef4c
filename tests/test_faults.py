"""Power cuts, full disks, folders that may not be written to or vanish, clocks set back, and thirty at once.

Whatever the workbook keeps meets each of them: nothing that was kept is lost, nothing is half-written, nothing is left
behind that grows. The kills are SIGKILL, the full disk is a real one of 64 kB where the tests may mount it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from conftest import ROOT
from keepers import KEEPERS, LOCKUP, NAME, SHOP
from stonework.exercises import AnswerSheet
from stonework.ledger import look
from stonework.people import here, work_folder
from stonework.records import Standing, record_path, save_lockup

keepers = pytest.mark.parametrize("kept", KEEPERS)
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="Only systems with fork can kill so many.")


@cache
def script(name: str, *arguments: str) -> str:
    """Run a script of this folder for all that is kept, in a process of its own, and return what it printed."""
    run = [sys.executable, str(ROOT / "tests" / name), *arguments]
    done = subprocess.run(run, capture_output=True, text=True, timeout=300)
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout


@needs_fork
@keepers
def test_killed_two_hundred_times_it_has_all_that_was_saved(kept):
    said = script("killing.py", "200")
    assert f"{kept}: killed 200 times" in said and f"{kept}: killed at each of " in said


@needs_fork
@keepers
@pytest.mark.parametrize("writers", [2, 10, 30])
def test_many_who_write_at_once_leave_one_whole_state(kept, writers):
    assert f"{kept}: {writers} writers" in script("crowding.py", "2", "10", "30")


def told_by(save, folder, n) -> str:
    """Save, and return the sentence that says why it couldn't be; nothing if it was."""
    try:
        return save(folder, n)
    except (OSError, ValueError) as error:
        return getattr(error, "strerror", None) or str(error)


@pytest.fixture
def full_disk(tmp_path):
    """A disk of 64 kB of which nothing is used yet."""
    disk = tmp_path / "disk"
    disk.mkdir()
    try:
        mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", disk], capture_output=True)
    except FileNotFoundError:
        pytest.skip("This system has no mount.")
    if mounted.returncode:
        pytest.skip("Only root may mount a disk.")
    yield disk
    subprocess.run(["umount", disk], check=True)


@keepers
def test_on_a_full_disk_the_old_state_stays_and_it_is_said(kept, full_disk):
    keeper, work = KEEPERS[kept], full_disk / "work"
    work.mkdir()
    assert keeper.save(work, 1) == ""
    ballast = full_disk / "ballast"
    with pytest.raises(OSError, match="No space left"), ballast.open("wb", buffering=0) as file:
        while True:
            file.write(b"x" * 4096)
    said = told_by(keeper.save, work, 2)
    assert "No space left on device" in said and len(said) < 300
    assert keeper.read(work)[0] == 1
    ballast.unlink()
    assert keeper.save(work, 2) == ""
    assert keeper.read(work) == (2, "")


@needs_fork
@keepers
def test_a_folder_that_may_not_be_written_to_is_said_and_left_alone(kept):
    assert f"{kept}: told" in script("locking_out.py")


@keepers
def test_a_folder_that_vanishes_is_made_again_or_missed_in_words(kept, tmp_path):
    keeper, work = KEEPERS[kept], tmp_path / "work"
    work.mkdir()
    keeper.save(work, 1)
    shutil.rmtree(work)
    said = told_by(keeper.save, work, 1)
    assert len(said) < 300
    assert keeper.read(work)[0] == 1 if not said else "isn't there" in said


def test_answers_outlive_the_folder_that_they_were_kept_in(tmp_path):
    work = tmp_path / "work"
    KEEPERS["answer sheet"].save(work, 1)
    sheet = AnswerSheet.open(work)
    shutil.rmtree(work)
    answer = sheet.answer("weight")
    sheet.keep("gauge", replace(answer, text="9"), standing="right")
    again = AnswerSheet.open(work)
    assert (again.number, again.answer("weight"), again.answer("gauge").text) == (sheet.number, answer, "9")


@needs_fork
def test_a_kernel_whose_folder_was_deleted_finds_its_work_all_the_same(tmp_path, monkeypatch):
    monkeypatch.delenv("STONEWORK_WORK")
    gone = tmp_path / "lessons"
    gone.mkdir()
    monkeypatch.chdir(gone)
    monkeypatch.setenv("PWD", str(gone))
    gone.rmdir()
    assert work_folder() == gone / "work"


def test_a_clock_set_back_hides_no_change_from_the_ledger(work):
    here().turn_to("Ana")
    stood = Standing("2026-11-26", SHOP.name)
    path = save_lockup(replace(LOCKUP, arrangement="one"), NAME, here().folder, stood)
    before = path.stat()
    assert look(SHOP).forms[0].lockup.arrangement == "one"
    save_lockup(replace(LOCKUP, arrangement="two"), NAME, here().folder, stood)
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))
    assert path.stat().st_size == before.st_size
    assert look(SHOP).forms[0].lockup.arrangement == "two"


def test_with_the_clock_set_back_every_kind_of_work_goes_on(tmp_path, monkeypatch):
    class Yesterday:
        @staticmethod
        def today():
            return date(1999, 1, 2)

    for kept, keeper in KEEPERS.items():
        folder = tmp_path / kept
        folder.mkdir()
        assert keeper.save(folder, 1) == ""
        with monkeypatch.context() as clock:
            clock.setattr("time.time", lambda: 915235200.0)
            clock.setattr("stonework.ledger.standing.date", Yesterday)
            clock.setattr("stonework.exercises.sheet.date", Yesterday)
            assert keeper.save(folder, 2) == ""
        assert keeper.save(folder, 3) == ""
        assert keeper.read(folder) == (3, "")


def test_what_stands_since_tomorrow_still_holds_its_wood(work):
    """Of two machines that share a folder one may be a day ahead."""
    here().turn_to("Ana")
    save_lockup(LOCKUP, NAME, here().folder, Standing("2999-01-01", SHOP.name))
    assert [form.since for form in look(SHOP).forms] == ["2999-01-01"]


def test_a_link_to_a_device_is_never_replaced_by_a_file(tmp_path):
    """Saving follows links, and whoever works as root could put a file in the place of a device."""
    record_path(NAME, tmp_path).symlink_to("/dev/null")
    with pytest.raises(ValueError, match="isn't a plain file"):
        save_lockup(LOCKUP, NAME, tmp_path)
    assert not os.path.isfile("/dev/null")


def test_a_pipe_where_a_draft_is_written_holds_nobody_up(tmp_path):
    if not hasattr(os, "mkfifo"):
        pytest.skip("There are no pipes in the folders of this system.")
    os.mkfifo(tmp_path / ".stonework.part")
    KEEPERS["lockup"].save(tmp_path, 1)
    assert KEEPERS["lockup"].read(tmp_path) == (1, "")
