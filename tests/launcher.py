"""What the launcher's tests share: a workbook of a few empty pages, and stand-ins for pip and JupyterLab.

A module of tests writes ``pytest_plugins = ["launcher"]`` and has the fixtures below; what isn't a fixture it imports
from here. (As it's imported both ways, PYTEST_DONT_REWRITE.)
"""

import re
import subprocess
import sys
import types
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "lessons"))
sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "widgets" / "launching"))
import getting_ready
import lock
import opening
import shipped
import workbook

__all__ = ["getting_ready", "lock", "opening", "shipped", "workbook"]  # for tests to import from here

ROOT = Path(__file__).resolve().parent.parent
PLENTY = types.SimpleNamespace(free=2_000_000_000)
LOCK = """\
jupyterlab==4.0
    # via -r requirements.txt
tornado==6.0
    # via jupyterlab
highspy==1.0
    # via -r lessons/instructor/requirements.txt
numpy==2.0
    # via
    #   -r requirements.txt
    #   highspy
ortools==9.0
    # via -r tests/requirements.txt
"""
# What is installed by it for the lessons, for the page that plans a class, and for the tests.
LESSONS = ["jupyterlab", "numpy", "tornado", "./widgets"]
EXTRA = ["highspy", "numpy"]
EVERYTHING = ["highspy", "jupyterlab", "numpy", "ortools", "tornado", "./widgets"]
VERSION = f"{sys.version_info[0]} {sys.version_info[1]}".encode()


class StandIn:
    """Answers in place of the programs that the launcher runs, and notes what it asked for."""

    def __init__(self, root: Path):
        self.root = root
        self.venv_works = False
        self.venv_version = VERSION
        self.pip_says = b"Successfully installed"
        self.pip_status = 0
        self.pip_stopped_by = None
        self.made = 0
        self.installed = []
        self.handed_over = None

    def run(self, command, **options):
        if "venv" in command:
            self.made += 1
            self.venv_works, self.venv_version = True, VERSION
            (self.root / ".venv").mkdir(exist_ok=True)
            return subprocess.CompletedProcess(command, 0, stdout="")
        if "pip" in command:
            assert options["cwd"] == str(self.root)
            assert "--no-deps" in command  # what is pulled in is the lock's to say
            if "-r" in command:
                assert {"--require-hashes", "--only-binary=:all:"} < set(command)
                wanted = Path(command[command.index("-r") + 1]).read_text(encoding="utf-8")
                self.installed.append(re.findall(r"^([a-z]+)==", wanted, re.MULTILINE))
            else:
                self.installed[-1].append(command[command.index("-e") + 1])
            options["stdout"].write(self.pip_says)
            if self.pip_stopped_by:
                raise self.pip_stopped_by
            return subprocess.CompletedProcess(command, self.pip_status)
        return subprocess.CompletedProcess(command, int(not self.venv_works), stdout=self.venv_version)

    def hand_over(self, command):
        self.handed_over = command
        return 0


@pytest.fixture
def root(tmp_path):
    """A workbook with two lessons and three pages for the instructor, and nothing installed."""
    for name in [
        "requirements.txt",
        "tests/requirements.txt",
        "lessons/instructor/requirements.txt",
        "widgets/pyproject.toml",
        "widgets/settings/quiet.json",
        "widgets/plugin/static/plugin.js",
        "lessons/03-choose.ipynb",
        "lessons/03-choose-Copy1.ipynb",
        "lessons/12-print.ipynb",
        "lessons/instructor/answer-key.ipynb",
        "lessons/instructor/lesson-plans.ipynb",
        "lessons/instructor/plan-a-class.ipynb",
    ]:
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(f"first content of {name}")
    (tmp_path / "widgets" / "requirements.lock").write_text(LOCK)
    return tmp_path


@pytest.fixture
def stand_in(root, monkeypatch):
    stand_in = StandIn(root)
    monkeypatch.setattr(workbook.subprocess, "run", stand_in.run)
    monkeypatch.setattr(workbook, "hand_over", stand_in.hand_over)
    monkeypatch.setattr(getting_ready.shutil, "disk_usage", lambda path: PLENTY)
    monkeypatch.chdir(root)
    return stand_in


def sentence(capsys):
    """What stands on the error output, which must be one line and no traceback."""
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "Traceback" not in said
    return said
