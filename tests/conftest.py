"""What several tests share: how Hypothesis runs, the Breakwater shop, and a small sound lockup."""

from __future__ import annotations

import os
import tempfile
from collections import Counter
from itertools import count
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from stonework.building import build_block, one_below_another, side_by_side
from stonework.choosing import lock_up
from stonework.form import Form
from stonework.lockup import Intent, Item, Lockup, PlacedForm
from stonework.shop import Chase, Quoin, Shop

ROOT = Path(__file__).resolve().parent.parent

# The same examples on every run, so that a test that passed here passes in CI too. To look further afield:
# --hypothesis-profile=wide.
settings.register_profile(
    "same",
    derandomize=True,
    database=None,
    deadline=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("wide", settings.get_profile("same"), derandomize=False, max_examples=1000)
settings.register_profile("ten-thousand", settings.get_profile("same"), max_examples=10_000)
settings.load_profile("same")


@pytest.fixture(scope="session")
def shop_file() -> Path:
    """The Breakwater school's shop file."""
    return ROOT / "lessons" / "breakwater.shop.toml"


@pytest.fixture(scope="session")
def breakwater(shop_file: Path) -> Shop:
    """The Breakwater school's shop, as its file says."""
    return Shop.load(shop_file)


@pytest.fixture(scope="session")
def irregular() -> dict[str, Shop]:
    """Three invented shops, each unlike the others and the school: the cellar, the loft and the metric works."""
    files = (ROOT / "tests" / "shops").glob("*.shop.toml")
    return {path.name.partition(".")[0]: Shop.load(path) for path in sorted(files)}


def sound_lockup() -> Lockup:
    """Return a small lockup laid out by hand, with nothing to find fault with; all in points.

    A form of 144 × 120 in a chase of 274 × 225: bottom and left are solid, and each side's pieces run
    through one corner and stop 3 points short at the other.
    """
    laid = (
        # side, order, kind, thickness, length, x, y, width, height
        ("bottom", 1, "furniture", 48.0, 144.0, 57.0, 0.0, 144.0, 48.0),
        ("left", 1, "furniture", 36.0, 120.0, 24.0, 51.0, 36.0, 120.0),
        ("left", 2, "furniture", 24.0, 132.0, 0.0, 51.0, 24.0, 132.0),
        ("top", 1, "furniture", 24.0, 144.0, 63.0, 168.0, 144.0, 24.0),
        ("top", 2, "reglet", 6.0, 144.0, 63.0, 192.0, 144.0, 6.0),
        ("top", 3, "quoin", 21.0, 36.0, 114.0, 198.0, 36.0, 21.0),
        ("top", 4, "reglet", 6.0, 144.0, 63.0, 219.0, 144.0, 6.0),
        ("right", 1, "furniture", 36.0, 120.0, 204.0, 45.0, 36.0, 120.0),
        ("right", 2, "reglet", 6.0, 120.0, 240.0, 45.0, 6.0, 120.0),
        ("right", 3, "quoin", 22.0, 36.0, 246.0, 90.0, 22.0, 36.0),
        ("right", 4, "reglet", 6.0, 120.0, 268.0, 45.0, 6.0, 120.0),
    )
    return Lockup(
        Chase("small", 274.0, 225.0),
        PlacedForm(60.0, 48.0, 144.0, 120.0),
        "pinwheel-clockwise",
        tuple(Item(*values) for values in laid),
        Intent(60.0, 48.0, 6.0),
    )


@pytest.fixture(scope="session")
def sound() -> Lockup:
    """The small lockup laid out by hand, with nothing to find fault with."""
    return sound_lockup()


@pytest.fixture(scope="session")
def small_shop(sound: Lockup) -> Shop:
    """A shop that owns the sound lockup's chase, its pattern of quoin, and just the wood that lies in it."""
    quoin = Quoin("wedge", length=36, closed=18, travel=12, reserve=4, rest=3, gap=12, span=144)
    return Shop("small", (sound.chase,), Counter(item.material for item in sound.wood), (quoin,))


@pytest.fixture(scope="session")
def built(breakwater: Shop) -> dict[str, Lockup]:
    """Lockups of blocks by their chase: a line made up, two cards with a gutter, slugs round a small form, a column."""
    card, least = Form(216, 132), (78, 78)
    blocks = {
        "5 × 8": build_block(Form(240, 24), breakwater, least=least),
        "8 × 12": build_block(side_by_side([card, card], breakwater, 30.5), breakwater, least=(500, 200)),
        "6 × 9": build_block(Form(24, 24), breakwater, least=least),
        "10 × 15": one_below_another([Form(144, 108), Form(240, 24)], breakwater, 12),
    }
    return {name: lock_up(block, breakwater.chase(name), breakwater) for name, block in blocks.items()}


# The lessons run here with a folder for work of their own: nobody's answers are read, shown or changed.
_WORK = tempfile.TemporaryDirectory(prefix="stonework-work-")
os.environ["STONEWORK_WORK"] = _WORK.name


_TESTS = count(1)


@pytest.fixture(autouse=True)
def work(monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder for work that is this test's own, with nobody in it yet."""
    folder = Path(_WORK.name) / f"test {next(_TESTS)}"
    monkeypatch.setenv("STONEWORK_WORK", str(folder))
    return folder


# What takes long comes last, so that a slip shows within seconds.
SLOW = (
    "test_exercises.py",
    "test_choosing.py",
    "test_labels.py",
    "test_planning.py",
    ".ipynb",
    "_journey.py",
    "test_plugin.py",
    "test_hub.py",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the fast tests first."""
    items.sort(key=lambda item: next((n for n, end in enumerate(SLOW, 1) if item.path.name.endswith(end)), 0))
