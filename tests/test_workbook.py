"""The two commands of lessons/workbook.py: which page is opened and how; pip and JupyterLab are stood in for."""

import ast
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from launcher import getting_ready, sentence, workbook

pytest_plugins = ["launcher"]

SOURCE = Path(workbook.__file__)
PARTS = [SOURCE, *(workbook.PARTS / name for name in ("getting_ready.py", "lock.py", "shipped.py"))]


# --- the Python that runs it


@pytest.mark.parametrize("source", PARTS, ids=lambda path: path.stem)
def test_an_old_python_can_read_it_and_any_console_show_it(source):
    ast.parse(source.read_text(encoding="utf-8"), feature_version=(3, 6))
    assert source.read_bytes().isascii()


@pytest.mark.parametrize("version", [(3, 6), (3, 10)])
def test_an_old_python_is_told_what_to_install(version, stand_in, capsys, monkeypatch):
    monkeypatch.setattr(workbook.sys, "version_info", (*version, 0))
    assert workbook.main(["open"], stand_in.root) == 1
    assert re.search(rf"needs Python 3\.11 .* is Python 3\.{version[1]}: install", sentence(capsys))
    assert not stand_in.made


@pytest.mark.parametrize("version", [(3, 11), (3, 14), (4, 0)])
def test_newer_pythons_are_welcome(version):
    workbook.check_python(version)


@pytest.mark.parametrize("missing", ["venv", "ensurepip"])
def test_a_python_without_venv_is_told_the_apt_line(missing, stand_in, capsys, monkeypatch):
    monkeypatch.setattr(getting_ready.importlib.util, "find_spec", lambda name: None if name == missing else name)
    assert workbook.main(["open"], stand_in.root) == 1
    assert f"sudo apt install python{sys.version_info[0]}.{sys.version_info[1]}-venv" in sentence(capsys)
    assert not stand_in.made


# --- what is asked


@pytest.mark.parametrize("arguments", [[], ["bake"]])
def test_an_unknown_command_is_answered_with_those_known(arguments, stand_in, capsys):
    assert workbook.main(arguments, stand_in.root) == 1
    said = sentence(capsys)
    assert all(f"workbook.py {known}" in said for known in ("open'", "renew 5'", "test'"))
    assert all(word in said for word in arguments)


def test_it_runs_from_any_folder_as_a_program(tmp_path):
    done = subprocess.run([sys.executable, SOURCE, "bake"], cwd=tmp_path, capture_output=True, text=True)
    assert done.returncode == 1
    assert done.stderr.startswith("'bake' is not")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("", "03-choose"),
        ("3", "03-choose"),
        ("03", "03-choose"),
        ("12", "12-print"),
        ("print", "12-print"),
        ("lessons/12-print.ipynb", "12-print"),
        ("03-choose-Copy1.ipynb", "03-choose-Copy1"),
        ("key", "instructor/answer-key"),
        ("plan", "instructor/plan-a-class"),
        ("plans", "instructor/lesson-plans"),
        ("instructor", "instructor/lesson-plans"),
        ("lessons/instructor/answer-key.ipynb", "instructor/answer-key"),
    ],
)
def test_a_page_is_found_by_number_or_name(wanted, found, stand_in):
    assert workbook.main(["open", *filter(None, [wanted])], stand_in.root) == 0
    assert f"--LabApp.default_url=/doc/tree/lessons/{found}.ipynb" in stand_in.handed_over
    assert str(stand_in.root / "lessons") in stand_in.handed_over  # the folder that is signed


@pytest.mark.parametrize("wanted", ["2", "1", "bind"])
def test_an_unknown_lesson_is_answered_with_those_there_are(wanted, stand_in, capsys):
    assert workbook.main(["open", wanted], stand_in.root) == 1
    said = sentence(capsys)
    assert f"'{wanted}'" in said
    assert "03-choose" in said
    assert "12-print" in said
    assert "plan-a-class" in said
    assert not stand_in.made  # a slip of the finger doesn't cost a minute


def test_a_workbook_without_lessons_says_so(stand_in, capsys):
    for page in stand_in.root.glob("lessons/**/*.ipynb"):
        page.unlink()
    assert workbook.main(["open"], stand_in.root) == 1
    assert "no lessons" in sentence(capsys)


def test_open_serves_the_root_on_loopback_and_keeps_the_token(stand_in):
    workbook.main(["open", "--no-browser"], stand_in.root)
    command = stand_in.handed_over
    assert Path(command[0]).is_relative_to(stand_in.root / ".venv")
    assert f"--ServerApp.root_dir={stand_in.root}" in command
    assert "--ServerApp.ip=127.0.0.1" in command
    assert command[-1] == "--no-browser"
    assert not any(re.search("token|password", word) for word in command)


@pytest.mark.skipif(os.name == "nt", reason="Windows has no user number")
@pytest.mark.parametrize("user", [0, 1000])
def test_jupyterlab_is_told_of_root_only_when_it_is_root(user, stand_in, monkeypatch):
    monkeypatch.setattr(workbook.os, "geteuid", lambda: user)
    workbook.main(["open"], stand_in.root)
    assert ("--allow-root" in stand_in.handed_over) == (user == 0)


def test_test_hands_its_arguments_to_pytest_at_the_root(stand_in, tmp_path_factory, monkeypatch):
    monkeypatch.chdir(tmp_path_factory.mktemp("elsewhere"))
    assert workbook.main(["test", "-k", "units"], stand_in.root) == 0
    assert stand_in.handed_over[1:] == ["-m", "pytest", "-c", ".pytest.ini", "-k", "units"]
    assert Path.cwd() == stand_in.root


def test_test_alone_runs_everything_with_a_files_tests_together(stand_in):
    workbook.main(["test"], stand_in.root)
    assert stand_in.handed_over[1:] == ["-m", "pytest", "-c", ".pytest.ini", *workbook.TWO_AT_A_TIME]
    assert "--dist=loadfile" in workbook.TWO_AT_A_TIME


# --- handing over


@pytest.mark.skipif(os.name == "nt", reason="POSIX takes the process's place")
def test_on_posix_the_tool_takes_the_process_over(monkeypatch):
    calls = []

    def execv(path, command):
        calls.append((path, command))
        raise SystemExit  # like the real one, it doesn't return

    monkeypatch.setattr(workbook.os, "execv", execv)
    with pytest.raises(SystemExit):
        workbook.hand_over(["tool", "--option"])
    assert calls == [("tool", ["tool", "--option"])]


def test_on_windows_the_exit_status_is_passed_on(monkeypatch):
    monkeypatch.setattr(workbook, "WINDOWS", True)
    assert workbook.hand_over([sys.executable, "-c", "raise SystemExit(7)"]) == 7


def test_on_windows_control_c_is_left_to_the_tool(monkeypatch):
    waits = iter([KeyboardInterrupt(), KeyboardInterrupt(), 3])

    class Child:
        def __init__(self, command):
            pass

        def wait(self):
            result = next(waits)
            if isinstance(result, BaseException):
                raise result
            return result

    monkeypatch.setattr(workbook, "WINDOWS", True)
    monkeypatch.setattr(workbook.subprocess, "Popen", Child)
    assert workbook.hand_over(["tool"]) == 3
