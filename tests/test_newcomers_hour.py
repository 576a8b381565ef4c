"""The table of a newcomer's hour in DEVELOPERS.md has the steps that its command takes, with the clicks they need.

The command itself stops where a page hears other clicks or keys than a step says; no clock is tested.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from conftest import ROOT

sys.path.insert(0, str(Path(__file__).resolve().parent / "benchmarks"))

from hour_speed import PANELS
from hour_steps import COMMAND, NAME, STEPS
from newcomers_hour import BEGIN, END


@pytest.fixture(scope="module")
def tables() -> list[list[list[str]]]:
    """The tables that were written last: each a list of rows, without their heads."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    written = text.split(BEGIN)[1].split(END)[0]
    blocks = [block.splitlines() for block in written.split("\n\n") if block.strip().startswith("|")]
    return [[[cell.strip() for cell in line.strip("|").split("|")] for line in block[2:]] for block in blocks]


def test_the_table_has_the_steps_of_the_journey_with_what_they_need(tables):
    *rows, whole = tables[0]
    assert [row[:2] for row in rows] == [[step.does, step.appears] for step in STEPS]
    for (_, _, seconds, clicks, keys), step in zip(rows, STEPS, strict=True):
        assert float(seconds) >= 0 and int(clicks) == step.clicks
        assert step.keys is None or int(keys) == step.keys
    assert [int(count) for count in whole[3:]] == [sum(int(row[n]) for row in rows) for n in (3, 4)]


def test_the_tables_of_speed_and_memory_have_all_panels_and_lessons(tables):
    assert [row[0] for row in tables[1]] == [one.named for one in PANELS]
    lessons = sorted((ROOT / "lessons").glob("[0-9b]*.ipynb"))
    assert [row[0] for row in tables[2]] == [path.stem for path in lessons]


def test_the_first_step_is_the_readme_s_first_command():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = [line.strip() for line in readme.splitlines() if line.startswith("    ")]
    assert commands[0] == COMMAND and COMMAND in STEPS[0].does
    assert next(step for step in STEPS if step.does == "give a name").keys == len(NAME) + 1
