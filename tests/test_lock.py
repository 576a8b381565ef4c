"""What the lock holds: every requirement, all it pulls in, each with fingerprints; and what becomes of a wrong file.

Versions, markers and hashes are read as the packaging standards have them: PEP 440, PEP 508, and pip's own
documentation of its hash-checking mode (pip.pypa.io, "Secure installs").
"""

import base64
import hashlib
import importlib.metadata
import json
import os
import re
import sys
import tomllib
import types
import venv
import zipfile
from pathlib import Path

import move_the_lock
import pip
import pytest
from launcher import ROOT, getting_ready, lock, sentence, workbook
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

pytest_plugins = ["launcher"]

MOVERS = "tests/ground/requirements.txt"
LISTS = [*getting_ready.TEST_REQUIREMENTS, MOVERS]
# A new environment brings pip itself; ours is used from where it lies.
OWN = {"pip", "setuptools", "stonework"}


def requirement(entry):
    """The first line of an entry: name, version and the systems it is for."""
    return Requirement(entry.partition("\\")[0].partition("\n")[0])


def pinned(name):
    """What a list asks for, its comments and ./widgets left out."""
    lines = (ROOT / name).read_text(encoding="utf-8").splitlines()
    return [Requirement(line) for line in lines if line and not line.startswith(("#", "-e"))]


def here(requirements):
    """The versions of those that are for this system and Python, by their names."""
    fitting = [one for one in requirements if one.marker is None or one.marker.evaluate()]
    return {canonicalize_name(one.name): str(one.specifier).removeprefix("==") for one in fitting}


@pytest.mark.parametrize("name", LISTS)
def test_every_requirement_is_locked_at_its_version(name):
    asked = {(one.name, str(one.specifier)) for one in pinned(name)}
    assert asked <= {(one.name, str(one.specifier)) for one in map(requirement, lock.entries_for(ROOT, [name]))}


def test_every_entry_is_exact_has_fingerprints_and_is_wanted_by_a_list():
    for entry in lock.entries(ROOT):
        assert re.fullmatch(r"==[0-9][^,*]*", str(requirement(entry).specifier)), entry
        assert re.search(r"--hash=sha256:[0-9a-f]{64}( |$)", entry, re.MULTILINE), requirement(entry).name
    assert lock.entries_for(ROOT, LISTS) == sorted(lock.entries(ROOT))


def test_what_is_installed_is_what_the_lock_says_and_nothing_beyond_it():
    found = {canonicalize_name(one.name): one.version for one in importlib.metadata.distributions()}
    movers = here(map(requirement, lock.entries_for(ROOT, [MOVERS])))
    installed = {name: version for name, version in found.items() if name not in OWN | movers.keys()}
    locked = here(map(requirement, lock.entries_for(ROOT, getting_ready.TEST_REQUIREMENTS)))
    assert installed == locked, "remove .venv and let the launcher make it afresh"


def test_what_builds_the_workbooks_own_parts_is_locked_too():
    wanted = tomllib.loads((ROOT / "widgets" / "pyproject.toml").read_text(encoding="utf-8"))["build-system"][
        "requires"
    ]
    assert wanted == [f"hatchling=={here(pinned('requirements.txt'))['hatchling']}"]


def test_npm_is_told_the_fingerprint_of_all_that_it_fetches():
    locks = [*ROOT.glob("tests/*/package-lock.json")]
    assert len(locks) == 2
    for path in locks:
        packages = json.loads(path.read_text(encoding="utf-8"))["packages"]
        assert all(one.get("integrity", "").startswith("sha512-") for name, one in packages.items() if name)


@pytest.fixture
def shelf(tmp_path, monkeypatch):
    """A folder in which pip finds one package, and nowhere else."""
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    files = {
        "stick.py": "",
        "stick-1.0.dist-info/METADATA": "Metadata-Version: 2.1\nName: stick\nVersion: 1.0\n",
        "stick-1.0.dist-info/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
    }
    record = "stick-1.0.dist-info/RECORD"
    digests = {name: hashlib.sha256(text.encode()).digest() for name, text in files.items()}
    lines = [f"{name},sha256={base64.urlsafe_b64encode(digests[name]).decode().rstrip('=')}," for name in files]
    with zipfile.ZipFile(shelf / "stick-1.0-py3-none-any.whl", "w") as wheel:
        for name, text in {**files, record: "\n".join([*lines, f"{record},,"])}.items():
            wheel.writestr(name, text)
    for name in [name for name in os.environ if name.startswith("PIP_")]:
        monkeypatch.delenv(name)
    for name, value in {"CONFIG_FILE": os.devnull, "NO_INDEX": "1", "FIND_LINKS": str(shelf)}.items():
        monkeypatch.setenv(f"PIP_{name}", value)
    return shelf


def test_a_file_that_is_not_the_locked_one_is_refused_in_a_sentence_and_nothing_of_it_stays(
    root, shelf, capsys, monkeypatch
):
    # An environment with this one's pip takes a moment, and one with its own ten seconds.
    monkeypatch.setattr(
        getting_ready, "make_environment", lambda place, _: venv.create(place, symlinks=os.name != "nt")
    )
    monkeypatch.setenv("PYTHONPATH", str(Path(pip.__file__).parents[1]))
    monkeypatch.setattr(workbook, "hand_over", lambda command: 0)
    monkeypatch.setattr(getting_ready, "WITH_WIDGETS", "nothing")  # the lists here have no ./widgets to build
    (root / lock.LOCK).write_text(f"stick==1.0 --hash=sha256:{'0' * 64}\n    # via -r requirements.txt\n")
    assert workbook.main(["open"], root) == 1
    assert "what was fetched for stick==1.0 is not the file that the workbook was tested with" in sentence(capsys)
    assert not [*(root / ".venv").rglob("stick*")]
    true = hashlib.sha256(next(shelf.iterdir()).read_bytes()).hexdigest()
    (root / lock.LOCK).write_text(f"stick==1.0 --hash=sha256:{true}\n    # via -r requirements.txt\n")
    assert workbook.main(["open"], root) == 0
    assert [*(root / ".venv").rglob("stick.py")]
    assert sys.prefix not in str(root)


@pytest.mark.parametrize("well", [True, False])
def test_a_lock_that_was_moved_stays_only_if_the_tests_pass(well, root, stand_in, monkeypatch, capsys):
    def resolve(python, *asked):
        if "--universal" in asked:
            new = old.replace("tornado==6.0", "tornado==6.5") + "rare==1.0\n    # via tornado\n"
            (root / lock.LOCK).write_text(new)
        return types.SimpleNamespace(returncode=0, stderr="")

    old = (root / lock.LOCK).read_text()
    (root / "tests" / "ground").mkdir()
    monkeypatch.setattr(move_the_lock, "ROOT", root)
    monkeypatch.setattr(move_the_lock, "resolve", resolve)
    monkeypatch.setattr(move_the_lock, "tested", lambda arguments: arguments == ["-k", "units"] and well)
    monkeypatch.setattr(sys, "argv", ["move_the_lock.py", "--", "-k", "units"])
    assert move_the_lock.main() == int(not well)
    said = capsys.readouterr().out
    assert "  tornado: 6.0 -> 6.5\n" in said and "  rare: not there -> 1.0\n" in said
    assert ((root / lock.LOCK).read_text() == old) is not well
