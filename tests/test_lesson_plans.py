"""The plans for a class: their minutes add up, what they point to is there, and four pages do go into four chases."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

import nbformat
import pytest
from save_lessons import INDEX, INSTRUCTOR, LESSONS, title
from stonework.jobs import load_jobs
from stonework.jobs.tasks import tasks
from stonework.ledger import Form, left
from stonework.lockup import pattern_of
from stonework.panels import ChoosePanel
from stonework.placing import Sheet
from stonework.planning import plan_class
from stonework.rules import judge
from stonework.shop import Material
from stonework.units import PICA, read_length
from stonework.weighing import weigh

PAGE = {
    cell.source.partition("\n")[0].lstrip("# "): cell.source
    for cell in nbformat.read(INSTRUCTOR / INDEX, as_version=4).cells
    if cell.id != "way-on"
}
POINTER = r"\[([^\]]+)\]\(\.\./(\d\d-[^)]+)\)(?:, headings? ([\d, toand]+\d))?"


def tables(heading):
    """Return the tables under a heading: for each its rows, the first of which is its head."""
    found = re.findall(r"(?:^\|.*\n?)+", PAGE[heading], re.M)
    return [[[cell.strip() for cell in row.strip("| \n").split("|")] for row in one.splitlines()] for one in found]


def minutes(table):
    """Return the numbers that begin its rows."""
    return [int(row[0]) for row in table[2:]]


def between(evening):
    """Return an evening's minutes at the screens, and those at the stone."""
    return [int(one) for one in evening[1].split("+")]


def numbered(words):
    """Return the numbers that words such as "1 to 3 and 5" name."""
    numbers = []
    for first, last in re.findall(r"(\d+)(?: to (\d+))?", words):
        numbers += range(int(first), int(last or first) + 1)
    return numbers


def sheets(breakwater, pages):
    """Return the lockups that the panel of lesson 3 chooses, each without a thought for the others."""
    return [ChoosePanel(breakwater, width, height, chase=chase).lockup for chase, width, height in pages]


def asked(lockups):
    """Return how many of each stick several lockups ask for together."""
    return Counter(stick for lockup in lockups for stick in lockup.materials)


def lacking(lockups, shop):
    """Return the sticks of which they ask for more than the shop has."""
    return {stick: (count, shop.stock[stick]) for stick, count in asked(lockups).items() if count > shop.stock[stick]}


def test_the_minutes_of_every_plan_add_up():
    (evening,), days, (weeks,) = tables("A two-hour evening"), tables("A weekend"), tables("Ten weeks")
    assert f"{sum(minutes(evening))} minutes" in PAGE["A two-hour evening"] and sum(minutes(evening)) == 2 * 60
    assert "Each day has 300 minutes" in PAGE["A weekend"] and [sum(minutes(day)) for day in days] == [300, 300]
    assert re.search(r"Ten evenings of 120 minutes. .* with 10 for .* with 15 for ", PAGE["Ten weeks"])
    assert [sum(between(row)) for row in weeks[2:]] == [120 - 10 - 15] * 10
    assert minutes(weeks) == list(range(1, 11))


def test_three_turns_go_into_their_time_at_the_stone():
    (weeks,), days = tables("Ten weeks"), tables("A weekend")
    turns = [(row[3], between(row)[1]) for row in weeks[2:]] + [
        (row[1], int(row[0])) for day in days for row in day[2:]
    ]
    told = [(int(each), time) for words, time in turns for each in re.findall(r"three turns of (\d+)", words)]
    assert len(told) == 8 and all(3 * each == time for each, time in told)


def test_every_lesson_and_heading_that_is_named_is_there():
    pointers = re.findall(POINTER, "\n".join(PAGE.values()))
    assert {int(file[:2]) for _, file, _ in pointers} == set(range(9))
    for words, file, headings in pointers:
        lesson = nbformat.read(LESSONS / file, as_version=4)
        there = {int(n) for cell in lesson.cells for n in re.findall(r"^## (\d+) ", cell.source, re.M)}
        assert set(numbered(headings)) <= there, (words, headings)
        assert words in (title(LESSONS / file), f"lesson {int(file[:2])}")


def test_ten_weeks_leave_out_no_lesson():
    (weeks,) = tables("Ten weeks")
    assert sorted({int(file[:2]) for row in weeks for _, file, _ in re.findall(POINTER, row[2])}) == list(range(9))


def test_four_pages_go_into_the_four_chases_at_once_as_the_plans_say(breakwater):
    (table,) = tables("Twelve students, four chases")
    rows = table[2:]
    assert [row[0] for row in rows] == [chase.name for chase in breakwater.chases]
    sizes = [[f"{picas} picas" for picas in re.findall(r"\d+", row[1])] for row in rows]
    lockups = sheets(breakwater, [(row[0], *size) for row, size in zip(rows, sizes, strict=True)])
    for row, size, lockup in zip(rows, sizes, lockups, strict=True):
        assert [lockup.form.width, lockup.form.height] == [read_length(one) for one in size]
        assert judge(lockup, breakwater) == []
        quoins = [item for item in lockup.items if item.kind == "quoin"]
        assert (len(lockup.pieces), len(quoins)) == (int(row[3]), int(row[4]))
        assert {pattern_of(quoin, breakwater.quoins).name for quoin in quoins} == {"medium wedge"}
        said = float(row[5].removesuffix(" lb").replace("½", ".5"))
        assert said - 0.5 < weigh(lockup, breakwater).total <= said
    assert lacking(lockups, breakwater) == {}
    ready = PAGE["Twelve students, four chases"]
    assert f"the {sum(asked(lockups).values())} sticks" in ready
    assert f"; {sum(int(row[4]) for row in rows)} quoins, and a key" in ready


def test_the_pages_of_the_last_evening_want_their_wood_shared_out(breakwater):
    chases = [chase.name for chase in breakwater.chases]
    apart = sheets(breakwater, [(chase, "18 picas", "11 picas") for chase in chases])
    assert lacking(apart, breakwater) == {Material("furniture", 10 * PICA, 20 * PICA): (10, 6)}
    assert "ask for ten sticks of 10 × 20 picas, and the cabinet has six" in PAGE["Ten weeks"]
    standing = []
    for chase in chases:
        (lockup,) = sheets(left(breakwater, standing), [(chase, "18 picas", "11 picas")])
        assert judge(lockup, breakwater) == []
        standing.append(Form("", chase, "", lockup))
    assert lacking([form.lockup for form in standing], breakwater) == {}


def test_twelve_pages_go_with_four_chases_in_three_turns_and_no_fewer(breakwater):
    tide = load_jobs(LESSONS / "breakwater.jobs.toml", breakwater)["tide card"]
    assert (tide.form.width, tide.form.height) == (18 * PICA, 11 * PICA)
    page = replace(tide, abreast=1, gutter=0.0, chase="", sheet=Sheet(26 * PICA, 18 * PICA))
    class_of_twelve = [(f"student {n}", "tide card") for n in range(1, 13)]
    *_, plan = plan_class(tasks(class_of_twelve, {"tide card": page}, breakwater), breakwater)
    assert plan.proved and plan.score.shifts == 3
    assert "They go with four chases in three turns" in PAGE["Ten weeks"]


@pytest.mark.parametrize("word", ["Lead", "Weight", "Quoins", "Presses"])
def test_the_cautions_stand_before_the_plans(word):
    first = PAGE["For the instructor"]
    assert f"> - **{word}.**" in first and "local rules" in first and next(iter(PAGE)) == "For the instructor"
