"""Pipes, devices, files without end and numbers beyond any shop, given to all that reads a file: a sentence, at once.

They are read in a process of their own (``odd_files.py``) with a limit to its memory, which ends itself if anything
waits: a reader that hangs or swallows a file without end fails here.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from functools import cache

import pytest
from conftest import ROOT
from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing.plan import PlanView
from stonework.form import Form
from stonework.lockup import Lockup
from stonework.rules import judge
from stonework.shop import Shop, ShopFileError

pytestmark = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="There are no pipes in the folders of this system.")


@cache
def said() -> dict[tuple[str, str], str]:
    """What each reader said to each odd file; each at most 300 characters, which ``odd_files.py`` sees to."""
    run = [sys.executable, str(ROOT / "tests" / "odd_files.py")]
    done = subprocess.run(run, capture_output=True, text=True, timeout=500)
    assert done.returncode == 0, done.stderr[-2000:]
    return {(reader, what): words for reader, what, words in map(json.loads, done.stdout.splitlines())}


@pytest.mark.parametrize("what", ["a pipe", "a device without end", "a socket"])
@pytest.mark.parametrize(
    ("reader", "words"),
    [
        ("answer sheet", "can't be read: it isn't a plain file. It is left as it is"),
        ("answer sheets of a class", "it isn't a plain file"),
        ("lockup", "tide.lockup.json can't be read: it isn't a plain file"),
        ("bench", "my.bench.json couldn't be read: it isn't a plain file"),
        ("shop", "can't be opened: it isn't a plain file"),
        ("jobs", "can't be opened: it isn't a plain file"),
    ],
)
def test_what_is_no_plain_file_is_never_opened(reader, what, words):
    link = what == "a device without end" and reader == "answer sheets of a class"
    assert ("it is a link" if link else words) in said()[reader, what]


@pytest.mark.parametrize(
    ("reader", "what", "words"),
    [
        ("answer sheet", "twenty gigabytes", "is far too long for an answer sheet. Nothing is lost: it was set aside"),
        ("answer sheets of a class", "twenty gigabytes", "it is far too large"),
        ("lockup", "twenty gigabytes", "can't be read: it is far too large"),
        ("answer sheet", "lists in lists", "is damaged"),
        ("lockup", "a number of a million figures", "is damaged"),
        ("lockup", "a chase a million points wide", "longer than 100 feet"),
        ("lockup", "a form as wide as a float can be", "longer than 100 feet"),
        ("lockup", "ten thousand pieces", "at most 2000 were expected"),
        ("lockup", "an order of a hundred figures", "more than 1e+30"),
        ("lockup", "a name of a million letters", "has 1000000 characters"),
        ("lockup", "keys that nobody knows", "which isn't known here"),
        ("bench's lockup", "a pipe", "read"),
        ("ledger", "a pipe", "0 stand"),
        ("class", "twenty gigabytes", "can't be read. So every question is asked"),
        ("person", "a pipe", "0 people"),
        ("seat", "a pipe", "nobody"),
    ],
)
def test_what_is_beyond_reason_is_told_by_its_reader(reader, what, words):
    assert words in said()[reader, what]


def test_every_reader_met_every_odd_file():
    readers, files = ({pair[n] for pair in said()} for n in (0, 1))
    assert len(readers) == 11 and len(files) > 30
    assert {(reader, what) for reader in readers for what in files} == set(said())


@pytest.mark.parametrize("chase", ["121 in", "1000 cm", "800 picas"])
def test_a_chase_beyond_any_shop_is_refused_where_it_comes_in(tmp_path, shop_file, chase):
    path = tmp_path / "big.shop.toml"
    path.write_text(shop_file.read_text(encoding="utf-8").replace('"15 in"', f'"{chase}"'), encoding="utf-8")
    with pytest.raises(ShopFileError, match="longer than 10 feet"):
        Shop.load(path)


def test_a_chase_of_ten_feet_is_drawn_and_judged(breakwater, sound):
    """The largest that is taken is no trouble: what hangs a picture would be beyond it."""
    record = sound.to_dict()
    record["chase"] |= {"width": 8600.0, "height": 8600.0}
    lockup = Lockup.from_dict(record)
    view = PlanView("big")
    view.draw(lockup, breakwater)
    assert "<svg" in view.svg()
    assert judge(lockup, breakwater)


def test_a_form_of_a_hundred_feet_is_refused_before_a_search_begins(breakwater, monkeypatch):
    monkeypatch.delattr("stonework.choosing.answer.Search")
    for form in (Form(85_997, 204), Form(324, 85_997)):
        with pytest.raises(NoLockup) as refused:
            choose_lockup(form, breakwater.chase("8 × 12"), breakwater)
        assert "is too large for the 8 × 12 chase" in str(refused.value)
