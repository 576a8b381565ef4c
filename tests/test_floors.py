"""The shape of the code: which part may use which, and what lies where."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest
import stonework
from conftest import ROOT

PACKAGE = Path(stonework.__file__).parent

FLOORS = (
    {"saying"},
    {"units", "files"},
    {"shop", "form", "people"},
    {"lockup", "stacking"},
    {"building"},
    {
        *("placing", "choosing", "rules", "laying", "moving", "pressing", "tightening", "spacing"),
        *("records", "putting_away", "weighing"),
    },
    {"readiness", "rounds", "ledger", "planning"},
    {"drawing", "jobs"},
    {"exercises", "carrying"},
    {"panels"},
)
PACKAGES = {
    *("shop", "lockup", "building", "rules", "choosing", "moving", "pressing", "records", "drawing", "exercises"),
    *("panels", "jobs", "carrying", "people", "ledger", "planning"),
}
COMPUTING = set.union(*FLOORS[:7])
WIDGETS = {"ipywidgets", "traitlets", "IPython"}
PICTURES = {"matplotlib"}
VISIBLE = {"README.md", "DEVELOPERS.md", "requirements.txt", "lessons", "widgets", "tests", "images"}

MODULES = sorted(PACKAGE.rglob("*.py"))


def dotted(path: Path) -> str:
    """``stonework.drawing.plan`` for stonework/drawing/plan.py."""
    return ".".join(("stonework", *path.relative_to(PACKAGE).with_suffix("").parts)).removesuffix(".__init__")


def part(path: Path) -> str:
    """``units`` for stonework/units.py and ``drawing`` for everything in stonework/drawing/."""
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def imported(source: str, path: Path) -> set[str]:
    """Return the dotted names a module imports, wherever in it: ``from a import b`` gives ``a.b``."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                package = ("stonework", *path.relative_to(PACKAGE).parent.parts)
                base = ".".join((*package[: len(package) - node.level + 1], *filter(None, [base])))
            names |= {f"{base}.{alias.name}" for alias in node.names}
    return names


def floor(of: str) -> int:
    return next(n for n, parts in enumerate(FLOORS) if of in parts)


def wrong_way(source: str, path: Path) -> list[str]:
    """Return what a module imports of the package that isn't below it."""
    found = []
    for name in sorted(imported(source, path)):
        first, *rest = name.split(".")
        if first == "stonework" and (not rest or rest[0] != part(path) or part(path) not in PACKAGES):
            other = rest[0] if rest else ""
            known = any(other in parts for parts in FLOORS)
            if not known or floor(other) >= floor(part(path)):
                found.append(name)
    return found


def ids(path: Path) -> str:
    return dotted(path)


def test_every_module_has_a_floor():
    parts = {part(path) for path in MODULES} - {"__init__"}
    assert parts == set.union(*FLOORS)


def test_the_package_itself_imports_nothing():
    assert imported((PACKAGE / "__init__.py").read_text(encoding="utf-8"), PACKAGE / "__init__.py") == set()


def test_the_docstring_of_the_package_names_the_same_floors():
    lines = re.sub(r"\n +", " ", stonework.__doc__ or "").splitlines()
    written = [line.partition(":")[0] for line in lines if line[:1].isdigit()]
    assert len(written) == len(FLOORS)
    for n, (line, parts) in enumerate(zip(written, FLOORS, strict=True)):
        assert line.startswith(f"{n}. ")
        assert {word.strip("`") for word in line[3:].replace(",", "").split()} == parts


@pytest.mark.parametrize("path", [p for p in MODULES if p != PACKAGE / "__init__.py"], ids=ids)
def test_imports_run_downward_only(path):
    assert wrong_way(path.read_text(encoding="utf-8"), path) == []


@pytest.mark.parametrize(
    ("module", "line", "allowed"),
    [
        ("units.py", "from stonework.shop import Shop", False),
        ("form.py", "from stonework.shop import Shop", False),
        ("shop.py", "from stonework.form import Form", False),
        ("shop.py", "from stonework import form", False),
        ("shop.py", "from . import form", False),
        ("shop.py", "from .form import Form", False),
        ("shop.py", "import stonework.form as form", False),
        ("shop.py", "def f():\n    from stonework.lockup import Lockup", False),
        ("rules.py", "from stonework.choosing import CLEAR", False),
        ("rules.py", "import stonework", False),
        ("rules.py", "from stonework.newcomer import thing", False),
        ("drawing/plan.py", "from ..panels.controls import Panel", False),
        ("drawing/plan.py", "from .words import sentence", True),
        ("drawing/plan.py", "from ..rules import judge", True),
        ("panels/lock.py", "from stonework.drawing.plan import draw", True),
        ("rules.py", "from stonework.units import PICA", True),
        ("rules.py", "from collections import Counter", True),
    ],
)
def test_the_test_of_imports_sees_every_spelling(module, line, allowed):
    assert (wrong_way(line, PACKAGE / module) == []) == allowed


@pytest.mark.parametrize("path", [p for p in MODULES if part(p) != "panels"], ids=ids)
def test_nothing_below_the_panels_knows_widgets(path):
    roots = {name.split(".")[0] for name in imported(path.read_text(encoding="utf-8"), path)}
    assert not roots & WIDGETS
    if part(path) in COMPUTING:
        assert not roots & PICTURES


@pytest.mark.parametrize(
    ("modules", "unwanted"),
    [
        (("stonework.choosing", "stonework.rules", "stonework.moving"), WIDGETS | PICTURES),
        (("stonework.drawing", "stonework.exercises"), WIDGETS),
    ],
)
def test_what_lies_below_the_panels_loads_no_widgets(modules, unwanted):
    ask = f"import sys, {', '.join(modules)}; print(*sys.modules)"
    run = subprocess.run([sys.executable, "-c", ask], capture_output=True, text=True, check=True)
    loaded = set(run.stdout.split())
    assert set(modules) <= loaded
    assert not loaded & unwanted


def test_pint_is_the_business_of_units_alone():
    users = {
        dotted(path)
        for path in MODULES
        if any(name.split(".")[0] == "pint" for name in imported(path.read_text(encoding="utf-8"), path))
    }
    assert users == {"stonework.units"}


@pytest.mark.parametrize("path", MODULES, ids=ids)
def test_pyplot_is_nowhere(path):
    # pyplot keeps every figure it makes and picks a backend for the whole session; a lesson wants neither.
    words = {word for name in imported(path.read_text(encoding="utf-8"), path) for word in name.split(".")}
    assert not words & {"pyplot", "pylab"}


def test_the_visible_top_level():
    run = subprocess.run(
        ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, encoding="utf-8", check=True
    )
    names = {name.partition("/")[0] for name in run.stdout.split("\0") if name}
    assert {name for name in names if not name.startswith(".")} == VISIBLE


def test_ruff_has_nothing_to_say():
    run = subprocess.run(
        [sys.executable, "-m", "ruff", "check", "--no-cache", "--output-format=concise", "."],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr
