"""Who has which job: names one a line, or so many students, dealt the jobs in turn; or a list with name and job."""

from __future__ import annotations

import csv
import io
import re
import sys
from collections.abc import Sequence

from stonework.people import read_name
from stonework.saying import shown

MOST = 150
"""People in one plan; this workbook's own figure."""

_HEADING = ["name", "job"]
_TOLD = 12  # mistakes


class NamingError(ValueError):
    """What is wrong in a list of names: every mistake is a sentence in ``mistakes``."""

    def __init__(self, mistakes: Sequence[str]) -> None:
        mistakes = sorted(mistakes, key=_line)
        more = len(mistakes) - _TOLD
        self.mistakes = (*mistakes[:_TOLD], *([f"And {more} more like these."] if more > 0 else ()))
        super().__init__(" ".join(self.mistakes))


def _line(mistake: str) -> int:
    """Return the number of the line that a mistake is in; those in none come last."""
    found = re.match(r"Line (\d+)", mistake)
    return int(found[1]) if found else sys.maxsize


def dealt(names: Sequence[str], jobs: Sequence[str]) -> list[tuple[str, str]]:
    """Deal jobs to people: one each in the jobs' order, and round again where there are more people than jobs.

    So no job is had by two more people than another.
    """
    if not jobs:
        raise NamingError(["There are no jobs to deal out: choose one or more."])
    return [(name, jobs[n % len(jobs)]) for n, name in enumerate(names)]


def read_names(text: str) -> list[str]:
    """Return the names in a text, one a line, or as many students as it says if it's a number alone.

    Raises ``NamingError`` with every mistake in it.
    """
    lines = [(n, line.strip()) for n, line in enumerate(text.splitlines(), 1) if line.strip()]
    if len(lines) == 1 and lines[0][1].isdecimal():
        number = int(lines[0][1][:9])
        if not 1 <= number <= MOST:
            raise NamingError(
                [f"{shown(lines[0][1], 40)} students were asked for; a number from 1 to {MOST} is needed."]
            )
        return [f"student {n}" for n in range(1, number + 1)]
    if not lines:
        raise NamingError(["Nobody is named yet: type names, one a line, or how many students there are."])
    if len(lines) == 1 and lines[0][1][0].isdecimal():
        raise NamingError(
            [f"“{shown(lines[0][1], 40)}” was read; write how many students there are as a number alone."]
        )
    mistakes = [
        f"Line {n}: “{shown(line, 40)}” was read. If it's a name and a job, the first line must be name,job; if it's a "
        "name alone, write it without the comma."
        for n, line in lines
        if any(mark in line for mark in ",;\t")
    ]
    if mistakes:
        raise NamingError(mistakes)
    names = [(n, _name(line, f"Line {n}", mistakes)) for n, line in lines]
    _look_over(names, mistakes)
    if mistakes:
        raise NamingError(mistakes)
    return [name for _, name in names]


def read_class(text: str, jobs: Sequence[str]) -> list[tuple[str, str]]:
    """Return names and their jobs from a list with commas, whose first line is ``name,job``.

    Semicolons and tabs do as well. Raises ``NamingError`` with every mistake in it.
    """
    text = text.removeprefix("\ufeff").strip()
    if not text:
        raise NamingError(
            ["The list is empty; its first line must be name,job and each line after it a name, a comma and a job."]
        )
    mark = next((mark for mark in ",;\t" if mark in text.splitlines()[0]), ",")
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True))
    except csv.Error as error:
        raise NamingError(
            [f"The list can't be read: {shown(str(error), 80)}. Look for a quotation mark that isn't closed."]
        ) from None
    heading = [cell.strip().casefold() for cell in rows[0]]
    if heading != _HEADING:
        raise NamingError(
            [
                f"Line 1: “{shown(mark.join(rows[0]), 40)}” was read; the heading name,job was expected. Write it "
                "as the first line, in the place of any other heading."
            ]
        )
    known = {job.casefold(): job for job in jobs}
    mistakes: list[str] = []
    found, names = [], []
    for n, row in enumerate(rows[1:], 2):
        cells = [cell.strip() for cell in row]
        if not any(cells):
            continue
        if len(cells) != 2:
            mistakes.append(
                f"Line {n}: {len(cells)} parts were read; a name and a job were expected. Put a name that has a "
                "comma in it into quotation marks."
            )
            continue
        name = _name(cells[0], f"Line {n}", mistakes)
        names.append((n, name))
        job = known.get(cells[1].casefold())
        if job is None:
            mistakes.append(
                f"Line {n}: the job “{shown(cells[1], 40)}” was read; one of {shown(_or(jobs), 150)} was expected."
            )
        else:
            found.append((name, job))
    _look_over(names, mistakes)
    if not found and not mistakes:
        mistakes.append("The list has a heading and nobody below it: add a line for each person.")
    if mistakes:
        raise NamingError(mistakes)
    return found


def _name(text: str, where: str, mistakes: list[str]) -> str:
    try:
        return read_name(text)
    except ValueError as error:
        said = "no name was read; write one." if not text else str(error)
        mistakes.append(f"{where}: {said[:1].lower()}{said[1:]}")
        return ""


def _look_over(names: Sequence[tuple[int, str]], mistakes: list[str]) -> None:
    """Note names that stand there twice, and too many of them."""
    first: dict[str, int] = {}
    for n, name in names:
        if name and name in first:
            mistakes.append(f"Line {n}: “{name}” stands in line {first[name]} too; add a letter to tell them apart.")
        first.setdefault(name, n)
    if len(names) > MOST:
        mistakes.append(f"{len(names)} people were read; a plan has room for {MOST}.")


def _or(names: Sequence[str]) -> str:
    quoted = [f"“{name}”" for name in names]
    return " or ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)
