"""From what measure on a shop file's values are asked about: what is still ordinary isn't, the next step is.

The measures are this workbook's own. They are stated here a second time, in a printer's words.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from conftest import ROOT
from stonework.shop import Note, read_file

SCHOOL = (ROOT / "lessons" / "breakwater.shop.toml").read_text(encoding="utf-8")
LOFT = (ROOT / "tests" / "shops" / "loft.shop.toml").read_text(encoding="utf-8")

# A value as the file has it, the last that is ordinary, the first that is asked about, and what is asked.
EDGES = {
    "a quoin's thickness when shut, two inches": (
        SCHOOL,
        'closed = "2 picas"',
        'closed = "2 in"',
        'closed = "2 1/64 in"',
        "12 picas 1.67 pt is very thick for a quoin that is shut. Is it so?",
    ),
    "a quoin's length, eight inches": (
        SCHOOL.replace('span = "20 picas"', 'span = "60 picas"'),
        'length = "6 picas"',
        'length = "8 in"',
        'length = "8 1/64 in"',
        "48 picas 3.29 pt is very long for a quoin. Is it so?",
    ),
    "a quoin's travel, a pica more than its thickness": (
        SCHOOL,
        'travel = "12 pt"',
        'travel = "3 picas"',
        'travel = "36.1 pt"',
        "it would open to more than twice its thickness. Is it so?",
    ),
    "a quarter turn, the whole of the travel": (
        SCHOOL,
        'turn = "4 pt"',
        'turn = "12 pt"',
        'turn = "12.1 pt"',
        "a quarter turn would open it past the end of its travel. Is it so?",
    ),
    "what a quoin serves, its own length": (
        SCHOOL,
        'span = "20 picas"',
        'span = "6 picas"',
        'span = "71.9 pt"',
        "it serves less of a side than it is long. Is it so?",
    ),
    "a stick's width, a foot in picas": (
        SCHOOL.replace('lengths = ["10 picas", "15 picas"', 'lengths = ["12 picas 1 pt", "15 picas"', 1),
        '"10 picas" = [',
        '"12 picas" = [',
        '"12 picas 1 pt" = [',
        "12 picas 1 pt is very wide for one piece. Is it so?",
    ),
    "a stick's length, the longest side of the largest chase": (
        SCHOOL,
        '"60 picas"]',
        '"15 in"]',
        '"15 1/64 in"]',
        "90 picas 5.18 pt is longer than any chase is inside. Is it so?",
    ),
    "a stick as wide as long": (
        LOFT,
        '"2 of 8 picas × 63 picas"',
        '"2 of 7 picas × 7 picas"',
        '"2 of 7 picas × 83.9 pt"',
        "7 picas × 6 picas 11.9 pt is wider than long. Are the two exchanged?",
    ),
    "a reglet as thick as the thinnest furniture": (
        SCHOOL,
        '[reglet."12 pt"]',
        '[reglet."2 picas"]',
        '[reglet."24.1 pt"]',
        "2 picas 0.1 pt of reglet is thicker than the thinnest furniture. Is it so?",
    ),
    "wear, four points": (
        LOFT,
        'measures = "35.3 pt"',
        'measures = "32 pt"',
        'measures = "31.9 pt"',
        "a piece of 3 picas that measures 2 picas 7.9 pt is more than worn. Is it so?",
    ),
    "five hundred of one size": (
        SCHOOL,
        '"2 picas"  = [12,',
        '"2 picas"  = [500,',
        '"2 picas"  = [501,',
        "501 of 2 picas × 10 picas is a great many. Is it so?",
    ),
    "corners kept clear, a quarter of the shorter side": (
        LOFT,
        'clear_corners = "6 pt"',
        'clear_corners = "2 17/64 in"',
        'clear_corners = "2 18/64 in"',
        "that is much of the chase. Is it meant for each corner?",
    ),
    "a chase as high as wide": (
        SCHOOL,
        'inside_height = "10 in"',
        'inside_height = "15 in"',
        'inside_height = "15 1/64 in"',
        "“10 × 15” is higher than wide. Does it stand so in the press, or are the two exchanged?",
    ),
    "a heavy chase, four pounds to the inch all round": (
        SCHOOL,
        'weight = "10 lb"',
        'weight = "200 lb"',
        'weight = "201 lb"',
        "201 lb (91.2 kg) is odd for a chase of that size. Is it so?",
    ),
    "a light chase, not a thirteenth of a pound to the inch": (
        SCHOOL,
        'weight = "10 lb"',
        'weight = "3.76 lb"',
        'weight = "3.74 lb"',
        "is odd for a chase of that size. Is it so?",
    ),
    "what grippers cover, an inch and a half": (
        SCHOOL,
        'bite = "1/2 in"',
        'bite = "1 1/2 in"',
        'bite = "1 33/64 in"',
        "grippers that come 9 picas 1.53 pt over the sheet take much. Is it so?",
    ),
    "how far off a form may stand, three picas": (
        SCHOOL,
        'tolerance = "6 pt"',
        'tolerance = "3 picas"',
        'tolerance = "36.1 pt"',
        "3 picas 0.1 pt is far off for a form. Is it so?",
    ),
    "what a press prints, the inside of its chase": (
        LOFT,
        'usable_height = "6 1/2 in"',
        'usable_height = "6 15/16 in"',
        'usable_height = "6 61/64 in"',
        "it would print more than the inside of “7 × 11”. Is it so?",
    ),
    # The smallest of this press's chases is 13 1/8 in wide; another press's is smaller, and says nothing of this one.
    "what a press prints, of its own chases alone": (
        LOFT,
        'name = "hand press"',
        'name = "hand press"\nusable_height = "9 in"\nusable_width = "13 1/8 in"',
        'name = "hand press"\nusable_height = "9 in"\nusable_width = "13 9/64 in"',
        "it would print more than the inside of “9 × 13”. Is it so?",
    ),
}


# Where a question points at another line than the one that was changed: each size at the first count of it.
ELSEWHERE = {
    "a stick's length, the longest side of the largest chase": '"2 picas"  = [',
    "a reglet as thick as the thinnest furniture": '"10 to 40 picas" = 6',
    "what a press prints, the inside of its chase": 'usable_width = "10 1/2 in"',
}


def questions(folder: Path, text: str) -> list[Note]:
    path = folder / "my.shop.toml"
    path.write_text(text, encoding="utf-8")
    file = read_file(path)
    assert not file.mistakes
    return list(file.questions)


def asked(folder: Path, text: str) -> list[str]:
    return [note.sentence for note in questions(folder, text)]


@pytest.mark.parametrize("edge", EDGES)
def test_what_is_ordinary_is_not_asked_about_and_the_next_step_is(tmp_path, edge):
    text, written, ordinary, odd, question = EDGES[edge]
    assert written in text
    assert set(asked(tmp_path, text.replace(written, ordinary, 1))) <= set(asked(tmp_path, text))
    changed = text.replace(written, odd, 1)
    (note,) = [note for note in questions(tmp_path, changed) if question in note.sentence]
    assert ELSEWHERE.get(edge, odd.rpartition("\n")[2]) in changed.split("\n")[note.line - 1]


def test_what_was_read_is_quoted_in_its_own_words_and_a_number_is_not(tmp_path):
    thick = SCHOOL.replace('closed = "2 picas"', 'closed = "3 in"', 1)
    assert asked(tmp_path, thick) == [
        "quoin 1.closed: “3 in” was read: 18 picas 0.81 pt is very thick for a quoin that is shut. Is it so?"
    ]
    many = SCHOOL.replace('"2 picas"  = [12,', '"2 picas"  = [512,', 1)
    assert asked(tmp_path, many) == [
        'furniture.counts."2 picas", entry 1: 512 of 2 picas × 10 picas is a great many. Is it so?'
    ]
