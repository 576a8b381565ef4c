"""The mutation run itself: on a workbook of one small module, a mutant for each thing that can come of one."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

MUTANTS = Path(__file__).resolve().parent / "mutants"

MODULE = """
START = 0

def needed(pieces):
    total = START
    while pieces > 0:
        pieces -= 1
        total += 12
    return total

def unasked():
    return 1
"""
TESTS = """
import pytest
from stonework.small import needed

@pytest.fixture(scope="session")
def three():
    return needed(3)

def test_once(three):
    assert three == 36

def test_again(three):
    assert three
"""
CONFTEST = """
from hypothesis import settings
settings.register_profile("same", derandomize=True)
"""
CHANGES = {
    "caught": ("12", "13"),
    "timed out": ("pieces -= 1", "pieces = 1"),
    "survived": ("> 0", "!= 0"),
    "caught where it's imported": ("START = 0", "START = 1"),
    "run by no test": ("return 1", "return 2"),
}
# The run forks and changes folders, so it gets a process of its own.
RUN = """
import sys
sys.path.insert(0, sys.argv[1])
import trying
from pathlib import Path
from covering import Covering
from mutant import Mutant
from telling import tell
trying.PATIENCE, trying.NOT_OURS = 0.5, ("hypothesis",)
trial = trying.Trial(Path(sys.argv[2]), Covering.read([Path(sys.argv[3])]), 10)
assert set(trial.unchanged()) == {"survived"}, Path(sys.argv[2], "..", "said.txt").read_text()
module = Path("widgets/stonework/small.py").read_text()
changes = zip(sys.argv[4::2], sys.argv[5::2])
outcomes = {}
for before, after in changes:
    line = module[: module.index(before)].count("\\n") + 1
    source = module.replace(before, after)
    mutant = Mutant("small.py", len(outcomes), "", "sums", before, after, range(line, line + 1), line, lambda: source)
    outcomes[mutant] = trial.outcome(mutant)
    print(before, "->", outcomes[mutant])
assert Path("widgets/stonework/small.py").read_text() == module
trial.close()
print(tell(outcomes, 9, {"`small.py`: `> 0` becomes `!= 0`": "Equivalent"}))
"""


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> str:
    root = tmp_path_factory.mktemp("workbook")
    for name, text in {
        ".pytest.ini": "[pytest]\nmarkers = browser\n",
        "widgets/stonework/__init__.py": "",
        "widgets/stonework/small.py": MODULE,
        "tests/conftest.py": CONFTEST,
        "tests/test_small.py": TESTS,
    }.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    covered = root / "covered.json"
    python = [sys.executable, "-X", f"pycache_prefix={root / 'cache'}"]
    measure = [*python, MUTANTS / "covering.py", "", root, covered, "tests/test_small.py", "5"]
    surroundings = {"PYTHONPATH": str(root / "widgets"), "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"}
    subprocess.run(measure, cwd=root, env=surroundings, check=True, capture_output=True)
    changes = [part for change in CHANGES.values() for part in change]
    run = subprocess.run(
        [*python, "-c", RUN, MUTANTS, root, covered, *changes],
        cwd=root,
        env=surroundings,
        capture_output=True,
        text=True,
    )
    assert run.returncode == 0, run.stderr
    return run.stdout


@pytest.mark.parametrize(("outcome", "change"), CHANGES.items())
def test_what_comes_of_a_mutant_is_told(said, outcome, change):
    assert f"{change[0]} -> {outcome.partition(' where')[0]}\n" in said


def test_the_share_is_told_with_and_without_those_that_change_nothing(said):
    assert "Caught or timed out: 3 of 5, 60.0 %." in said
    assert "1 Equivalent" in said
    assert "Without those that are equivalent: 3 of 4, 75.0 %." in said
