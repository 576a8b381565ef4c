"""What is installed is what is pinned, what is set, and what lies beside the package."""

import importlib.metadata
import json
import re
import sys
from pathlib import Path

import pytest
from launcher import getting_ready
from packaging.markers import Marker
from save_lessons import FINGERPRINTS, shipped

ROOT = Path(__file__).resolve().parent.parent


def pins(name):
    """The pins of a requirements file with their versions, and the comment lines above each."""
    found, comments = {}, []
    for line in (ROOT / name).read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            comments.append(line)
        elif line and line != "-e ./widgets":
            match = re.fullmatch(r"([a-z][a-z0-9-]*)==(\d+(?:\.\d+)+)(?: ; (.+))?", line)
            assert match, f"{name}: '{line}' is not an exact pin"
            if match[3] is None or Marker(match[3]).evaluate():
                found[match[1]] = (match[2], comments)
            comments = []
    return found


@pytest.mark.parametrize("name", getting_ready.TEST_REQUIREMENTS)
def test_every_requirement_is_pinned_and_the_pin_is_what_runs(name):
    found = pins(name)
    assert found
    for package, (version, _) in found.items():
        assert importlib.metadata.version(package) == version


def test_every_package_for_the_tests_alone_has_its_reason():
    assert [name for name, (_, comments) in pins("tests/requirements.txt").items() if not comments] == []


def test_a_reader_downloads_nothing_that_only_the_tests_or_an_instructor_need():
    several = [set(pins(name)) for name in getting_ready.TEST_REQUIREMENTS]
    assert len(set.union(*several)) == sum(map(len, several))


def test_the_quiet_settings_are_installed_and_jupyterlab_knows_each():
    quiet = ROOT / "widgets" / "settings" / "default_setting_overrides.json"
    installed = Path(sys.prefix) / "etc" / "jupyter" / "labconfig" / quiet.name
    assert installed.read_bytes() == quiet.read_bytes()
    schemas = Path(sys.prefix) / "share" / "jupyter" / "lab" / "schemas"
    kinds = {"string": str, "boolean": bool, "array": list}
    for plugin, settings in json.loads(quiet.read_text(encoding="utf-8")).items():
        extension, _, name = plugin.partition(":")
        known = json.loads((schemas / extension / f"{name}.json").read_text(encoding="utf-8"))["properties"]
        for setting, value in settings.items():
            assert type(value) is kinds[known[setting]["type"]]


def contents(folder):
    """The bytes of a folder's files, by their names."""
    return {path.relative_to(folder): path.read_bytes() for path in folder.glob("**/*") if path.is_file()}


def test_the_plugin_is_installed_as_it_stands():
    installed = contents(Path(sys.prefix) / "share" / "jupyter" / "labextensions" / "stonework")
    assert Path("package.json") in installed
    assert installed == contents(ROOT / "widgets" / "plugin")


def test_the_fingerprint_of_every_lesson_and_of_the_instructors_pages_is_known():
    assert "instructor/your-shop.ipynb" in json.loads(shipped())
    assert FINGERPRINTS.read_text(encoding="utf-8") == shipped(), "run tests/save_lessons.py"


def test_each_key_taken_from_jupyterlab_is_one_it_has():
    # Left alone, these would move or delete a cell while a student chooses from a list.
    quiet = json.loads((ROOT / "widgets" / "settings" / "default_setting_overrides.json").read_text(encoding="utf-8"))
    taken = quiet["@jupyterlab/shortcuts-extension:shortcuts"]["shortcuts"]
    schema = Path(sys.prefix) / "share" / "jupyter" / "lab" / "schemas" / "@jupyterlab" / "notebook-extension"
    known = json.loads((schema / "tracker.json").read_text(encoding="utf-8"))["jupyter.lab.shortcuts"]
    for one in taken:
        assert {k: v for k, v in one.items() if k != "disabled"} in known
    assert {"ArrowDown", "ArrowUp"} < {keys for one in taken for keys in one["keys"]}
    assert ["D", "D"] in [one["keys"] for one in taken]
