"""How the launcher gets .venv ready, and what it says when it can't; no network: pip is stood in for."""

import re
import sys
import types
from pathlib import Path

import pytest
from launcher import EVERYTHING, EXTRA, LESSONS, PLENTY, getting_ready, sentence, workbook

pytest_plugins = ["launcher"]

# --- when pip has work to do


def test_a_repeat_run_leaves_pip_alone(stand_in, capsys):
    workbook.main(["open"], stand_in.root)
    assert "about a minute" in capsys.readouterr().out
    workbook.main(["open"], stand_in.root)
    assert stand_in.installed == [LESSONS]
    assert stand_in.made == 1
    assert "about a minute" not in capsys.readouterr().out


def test_the_tests_add_what_only_they_need(stand_in):
    for command in ["open", "test", "test", "open"]:
        assert workbook.main([command], stand_in.root) == 0
    assert stand_in.installed == [LESSONS, EVERYTHING]
    assert stand_in.made == 1


# --- what only the page that plans a class asks for


def test_only_the_planning_page_fetches_its_extra_once_and_says_how_much(stand_in, capsys):
    for page in ["3", "instructor", "key"]:
        workbook.main(["open", page], stand_in.root)
    assert stand_in.installed == [LESSONS]
    assert "HiGHS" not in capsys.readouterr().out
    workbook.main(["open", "plan"], stand_in.root)
    assert re.search(r"needs one part more .*: HiGHS, .* 3 MB to fetch and 9 MB of disk", capsys.readouterr().out)
    for page in ["3", "plan"]:
        workbook.main(["open", page], stand_in.root)
    assert stand_in.installed == [LESSONS, EXTRA]


@pytest.mark.parametrize("changed", ["requirements.txt", "widgets/plugin/static/plugin.js"])
def test_a_change_in_the_lessons_own_needs_leaves_the_extra_alone(changed, stand_in):
    workbook.main(["open", "plan"], stand_in.root)
    (stand_in.root / changed).write_text("second content")
    stand_in.pip_says, stand_in.pip_status = PIP_SAYS[0][0], 1
    assert workbook.main(["open", "3"], stand_in.root) == 1
    stand_in.pip_status = 0
    for page in ["3", "plan"]:
        workbook.main(["open", page], stand_in.root)
    assert stand_in.installed == [LESSONS, EXTRA, LESSONS[:-1], LESSONS]  # a failure ends it before ./widgets


def test_a_new_pin_of_the_extra_or_an_environment_made_afresh_calls_for_it_again(stand_in):
    workbook.main(["open", "plan"], stand_in.root)
    (stand_in.root / "lessons/instructor/requirements.txt").write_text("second content")
    workbook.main(["open", "plan"], stand_in.root)
    stand_in.venv_works = False
    workbook.main(["open", "plan"], stand_in.root)
    assert stand_in.installed == [LESSONS, EXTRA, EXTRA, LESSONS, EXTRA]


def test_the_tests_bring_the_extra_along(stand_in):
    workbook.main(["test"], stand_in.root)
    workbook.main(["open", "plan"], stand_in.root)
    assert stand_in.installed == [EVERYTHING]


def test_without_its_extra_the_planning_page_opens_all_the_same(stand_in, capsys):
    workbook.main(["open"], stand_in.root)
    for said, advice in PIP_SAYS:
        stand_in.pip_says, stand_in.pip_status = said, 1
        assert workbook.main(["open", "plan"], stand_in.root) == 0
        assert re.search(rf"^The page opens without it: .*{advice}.* same command again\.$", sentence(capsys))
        assert any("instructor/plan-a-class" in word for word in stand_in.handed_over)
    tried = len(stand_in.installed)
    assert workbook.main(["open"], stand_in.root) == 0
    assert (stand_in.made, len(stand_in.installed)) == (1, tried)  # and the lessons lack nothing
    stand_in.pip_status = 0
    workbook.main(["open", "plan"], stand_in.root)
    assert stand_in.installed[-1] == EXTRA


def test_control_c_while_the_extra_is_fetched_costs_the_lessons_nothing(stand_in, capsys):
    workbook.main(["open"], stand_in.root)
    stand_in.pip_stopped_by = KeyboardInterrupt()
    assert workbook.main(["open", "plan"], stand_in.root) == 1
    assert "same command again" in sentence(capsys)
    stand_in.pip_stopped_by = None
    assert workbook.main(["open"], stand_in.root) == 0
    assert (stand_in.made, stand_in.installed) == (1, [LESSONS, EXTRA])


# --- when pip is called again


@pytest.mark.parametrize(
    "changed",
    ["requirements.txt", "widgets/pyproject.toml", "widgets/settings/quiet.json", "widgets/plugin/static/plugin.js"],
)
def test_a_change_calls_pip_again(changed, stand_in):
    workbook.main(["open"], stand_in.root)
    (stand_in.root / changed).write_text("second content")
    workbook.main(["open"], stand_in.root)
    assert len(stand_in.installed) == 2
    assert stand_in.made == 1


def test_a_change_of_the_tests_own_requirements_is_nothing_to_a_reader(stand_in):
    workbook.main(["test"], stand_in.root)
    (stand_in.root / "tests/requirements.txt").write_text("second content")
    workbook.main(["open"], stand_in.root)
    assert len(stand_in.installed) == 1
    workbook.main(["test"], stand_in.root)
    assert len(stand_in.installed) == 2


@pytest.mark.parametrize(("moved", "again"), [("tornado", True), ("numpy", True), ("ortools", False)])
def test_a_reader_fetches_again_what_moved_in_the_lock_and_is_theirs(moved, again, stand_in):
    workbook.main(["open"], stand_in.root)
    lock = stand_in.root / "widgets" / "requirements.lock"
    lock.write_text(re.sub(rf"^{moved}==.*", f"{moved}==99", lock.read_text(), flags=re.MULTILINE))
    workbook.main(["open"], stand_in.root)
    assert stand_in.installed == [LESSONS] * (1 + again)


def test_a_moved_workbook_calls_pip_again(stand_in, tmp_path_factory):
    workbook.main(["open"], stand_in.root)
    stand_in.root = stand_in.root.rename(tmp_path_factory.mktemp("other") / "moved")
    workbook.main(["open"], stand_in.root)
    assert len(stand_in.installed) == 2


@pytest.mark.parametrize("harm", ["broken", "too old", "interrupted"])
def test_a_spoilt_environment_is_made_afresh(harm, stand_in):
    workbook.main(["open"], stand_in.root)
    if harm == "broken":
        stand_in.venv_works = False
    elif harm == "too old":
        stand_in.venv_version = b"3 10"
    else:
        (stand_in.root / ".venv" / "workbook-stamp").write_text(getting_ready.UNFINISHED)
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == 2
    assert len(stand_in.installed) == 2


def test_a_real_folder_without_a_python_is_no_working_environment(tmp_path):
    assert getting_ready.working_version(tmp_path / "bin" / "python") is None


def test_the_running_python_is_a_working_environment():
    assert getting_ready.working_version(Path(sys.executable)) == sys.version_info[:2]


# --- what can go wrong while pip is at work

# Lines, cut short, that pip 23.2 and 26.3 printed with no network, with the disk full, and when asked for a
# version that doesn't exist; the Windows line and the quota's are from memory.
PIP_SAYS = [
    (
        b"WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after "
        b"connection broken by 'NewConnectionError('Failed to establish a new connection: [Errno -3] "
        b"Temporary failure in name resolution')': /simple/hatchling/\n"
        b"ERROR: No matching distribution found for hatchling==1.33.0\n",
        "connect this machine",
    ),
    (
        b"WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after "
        b"connection broken by 'NameResolutionError(\"HTTPSConnection(host='pypi.org', port=443): Failed to "
        b"resolve 'pypi.org'\")'\nERROR: Failed to build 'file:///home/widgets'\n",
        "connect this machine",
    ),
    (
        b"ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device\n",
        "make room",
    ),
    (b"ERROR: [WinError 112] There is not enough space on the disk\n", "make room"),
    (b"ERROR: [Errno 122] Disk quota exceeded\n", "make room"),
    (b"ERROR: No matching distribution found for six==1.16.99\n", r"no six==1.16.99 .* a Python from 3\.11 to 3\.15"),
    (
        b"ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE REQUIREMENTS FILE. If you have updated the package "
        b"versions, please update the hashes. Otherwise, examine the package contents carefully; someone may have "
        b"tampered with them.\n    six==1.17.0 from file:///six.whl:\n        Expected sha256 00\n",
        r"what was fetched for six==1.17.0 is not the file .* none of it was used: try another network",
    ),
    (b"ERROR: something else \xff\n", "put that right"),
]


@pytest.mark.parametrize(("said", "advice"), PIP_SAYS)
def test_a_failure_of_pip_is_one_sentence_of_advice(said, advice, stand_in, capsys):
    stand_in.pip_says, stand_in.pip_status = said, 1
    assert workbook.main(["open"], stand_in.root) == 1
    told = sentence(capsys)
    log = stand_in.root / ".venv" / "install.log"
    assert re.search(advice, told)
    assert str(log) in told
    assert log.read_bytes() == said
    assert stand_in.handed_over is None


def test_a_failed_run_is_tried_again(stand_in):
    stand_in.pip_status = 1
    assert workbook.main(["open"], stand_in.root) == 1
    stand_in.pip_status = 0
    assert workbook.main(["open"], stand_in.root) == 0
    assert len(stand_in.installed) == 2


@pytest.mark.parametrize(("said", "made"), [(PIP_SAYS[0][0], 1), (PIP_SAYS[2][0], 2)])
def test_only_a_full_disk_spoils_the_environment(said, made, stand_in):
    workbook.main(["open"], stand_in.root)
    (stand_in.root / "requirements.txt").write_text("second content")
    stand_in.pip_says, stand_in.pip_status = said, 1
    workbook.main(["open"], stand_in.root)
    stand_in.pip_status = 0
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == made


def test_control_c_is_one_sentence_and_the_next_run_starts_afresh(stand_in, capsys):
    stand_in.pip_stopped_by = KeyboardInterrupt()
    assert workbook.main(["open"], stand_in.root) == 1
    assert "same command again" in sentence(capsys)
    stand_in.pip_stopped_by = None
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == 2


def test_a_disk_without_room_is_found_before_anything_is_fetched(stand_in, capsys, monkeypatch):
    monkeypatch.setattr(getting_ready.shutil, "disk_usage", lambda path: types.SimpleNamespace(free=12_000_000))
    assert workbook.main(["open"], stand_in.root) == 1
    assert re.search("12 MB free where 430 MB .* make room", sentence(capsys))
    assert not stand_in.made


def test_a_spoilt_environment_gives_its_own_room_back(stand_in, monkeypatch):
    workbook.main(["open"], stand_in.root)
    stand_in.venv_works = False
    monkeypatch.setattr(getting_ready.shutil, "disk_usage", lambda path: types.SimpleNamespace(free=12_000_000))
    assert workbook.main(["open"], stand_in.root) == 0
    assert stand_in.made == 2


def test_a_missing_file_of_the_workbook_is_named(stand_in, capsys):
    (stand_in.root / "requirements.txt").unlink()
    assert workbook.main(["open"], stand_in.root) == 1
    assert "requirements.txt" in sentence(capsys)


def test_a_venv_that_can_not_be_made_says_why(root, capsys, monkeypatch):
    monkeypatch.setattr(getting_ready.shutil, "disk_usage", lambda path: PLENTY)
    (root / ".venv").write_text("a file where the folder should be")
    assert workbook.main(["open"], root) == 1
    told = sentence(capsys)
    assert "could not be made" in told
    assert str(root / ".venv") in told
