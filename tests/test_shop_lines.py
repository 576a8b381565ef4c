"""Each line of a whole shop file spoiled, misspelt, left out or changed: it is told by line and name, or it counts."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from stonework.shop import Material, read_file
from stonework.shop.file import ShopFile

# An invented shop with every key that a file may have, each on a line of its own.
WHOLE = """\
version = 2
name = "The whole"

[[chase]]
name = "small"
inside_width = "9 in"
inside_height = "6 in"
weight = "5 lb"
clear_corners = "6 pt"
count = 3

[[press]]
name = "platen"
chases = ["small"]
usable_width = "8 in"
usable_height = "5 in"
across = "3 pt left"
up = "2 picas above"
guides = ["top", "right"]
grippers = ["left"]
bite = "1/4 in"
tolerance = "5 pt"

[[press]]
name = "cylinder"
bed_width = "20 in"
bed_height = "14 in"

[placing]
across = "1 pt right"
up = "1 pica below"
guides = ["bottom", "left"]
grippers = ["left", "right"]
bite = "1/2 in"
tolerance = "6 pt"

[furniture]
lengths = ["10 picas", "15 picas"]
pieces = [
    { pieces = "3 of 3 picas × 26 picas", measures = "35.3 pt", keep = true },
    "2 of 8 picas × 40 picas",
    "1 of 8 picas × 41 picas",
    { pieces = "1 of 8 picas × 42 picas", measures = "95 pt" },
]

[furniture.counts]
"2 picas" = [6, 8]
"3 picas" = [8, 6]

[furniture.labels]
"2 picas" = "Herring"

[reglet]
pieces = ["2 of 6 pt × 33 picas"]

[reglet."6 pt"]
"8 to 20 picas" = 3
"24 picas" = 5

[metal]
lengths = ["5 picas", "9 picas"]

[metal.counts]
"2 picas" = [6, 4]

[[quoin]]
name = "wedge"
kind = "one piece"
length = "3 in"
closed = "2 picas"
travel = "11 pt"
reserve = "5 pt"
rest = "2 pt"
turn = "3 1/2 pt"
bears_on = "any wood"
gap = "1 pica"
span = "20 picas"
count = 6
keys = 1

[[type]]
body = "12 pt"
spaces = ["3 pt", "4 pt", "12 pt"]

[spacing]
leads = ["2 pt"]
slugs = ["6 pt"]
thins = ["1/2 pt"]
pieces = ["4 of 2 pt × 21 picas"]

[[base]]
name = "wooden"
width = "5 in"
height = "4 in"
count = 2

[[cut]]
name = "anchor"
width = "1 in"
height = "3/4 in"
count = 2
"""
LINES = WHOLE.split("\n")
KEYS = {n: match[1] for n, line in enumerate(LINES) if (match := re.match(r"(\"?[^=\[{]+?\"?) = (?!\[$)", line))}
FREE = {n for n, key in KEYS.items() if key.startswith('"')}  # sizes, which a shop has its own of
FOLLOWED = {"name", "inside_width", "inside_height", "lengths"}  # what a press, or a label, is told of besides
KNOWN = [n for n in KEYS if n not in FREE and LINES[n - 1] != "[reglet]"]


def with_line(tmp_path: Path, n: int, line: str) -> ShopFile:
    """Read the whole shop with another line in the place of one."""
    path = tmp_path / "whole.shop.toml"
    path.write_text("\n".join([*LINES[:n], line, *LINES[n + 1 :]]), encoding="utf-8")
    return read_file(path)


def test_the_whole_shop_is_sound(tmp_path):
    file = with_line(tmp_path, 0, LINES[0])
    assert file.shop is not None and file.mistakes == ()
    assert len(KEYS) > 60


def test_it_says_in_words_what_it_has(tmp_path):
    shop = with_line(tmp_path, 0, LINES[0]).shop
    assert str(shop) == (
        "The whole: 2 presses, 3 chases, 35 pieces of furniture, 46 of reglet, 10 of metal, 4 leads and slugs by "
        "length, 1 pattern of quoin, 1 size of type."
    )
    assert ": 1 press, 1 chase, 1 piece of furniture, 0 of reglet, 0 patterns of quoin, 0 sizes of type." in str(
        replace(
            shop, presses=shop.presses[:1], chases=[replace(shop.chases[0], count=1)], metal={}, strips={}, quoins=(),
            bodies=(), stock={Material("furniture", 24.0, 120.0): 1},
        )
    )  # fmt: skip


@pytest.mark.parametrize("n", KEYS, ids=lambda n: f"{n + 1} {KEYS[n]}")
def test_a_value_of_another_kind_is_told_with_its_line_and_name(tmp_path, n):
    file = with_line(tmp_path, n, f"{KEYS[n]} = 1979-05-27")  # nothing in a shop file is a date
    assert file.shop is None
    (told,) = [note.sentence for note in file.mistakes if note.line == n + 1]
    assert KEYS[n] in told and "date(1979, 5, 27) was read" in told and " was expected" in told


@pytest.mark.parametrize("n", KNOWN, ids=lambda n: f"{n + 1} {KEYS[n]}")
def test_a_key_misspelt_is_told_with_those_expected(tmp_path, n):
    file = with_line(tmp_path, n, LINES[n].replace(KEYS[n], f"{KEYS[n]}_", 1))
    (told,) = [note.sentence for note in file.mistakes if note.line == n + 1]
    assert f".{KEYS[n]}_ isn't a key this file knows" in f".{told}"
    assert re.search(rf"expected here: .*\b{KEYS[n]}\b", told)


@pytest.mark.parametrize("n", KEYS, ids=lambda n: f"{n + 1} {KEYS[n]}")
def test_no_line_can_be_left_out_unnoticed(tmp_path, n):
    file = with_line(tmp_path, n, "")
    if file.shop is not None:
        assert KEYS[n] == "version" or repr(file.shop) != repr(with_line(tmp_path, 0, LINES[0]).shop)
    elif n not in FREE:
        (told,) = [note for note in file.mistakes if f".{KEYS[n]} is missing; " in f".{note.sentence}"]
        assert len(file.mistakes) == 1 or KEYS[n] in FOLLOWED
        assert re.search("(was|were) expected.$", told.sentence)
        assert told.line == next((m + 1 for m in range(n, -1, -1) if LINES[m].startswith("[")), None)


@pytest.mark.parametrize("n", [n for n, line in enumerate(LINES) if re.search(r"= \[.*\d", line)])
def test_an_entry_of_another_kind_is_told_with_its_place(tmp_path, n):
    entries = re.findall(r'"[^"]*"|\d+', LINES[n].partition(" = ")[2])
    for m, entry in enumerate(entries):
        before, _, values = LINES[n].partition(" = ")
        file = with_line(tmp_path, n, f"{before} = {values.replace(entry, 'true', 1)}")
        told = [note.sentence for note in file.mistakes if note.line == n + 1 and "True was read" in note.sentence]
        assert told and f", entry {m + 1}" in told[0]


@pytest.mark.parametrize("n", [n for n, line in enumerate(LINES) if line.startswith("    ")])
def test_a_line_of_a_list_is_told_with_its_own_line(tmp_path, n):
    first = LINES.index("pieces = [") + 1
    file = with_line(tmp_path, n, "    7,")
    (told,) = file.mistakes
    assert told.line == n + 1 and told.sentence.startswith(f"furniture.pieces, entry {n - first + 1}")
    file = with_line(tmp_path, n, "    { pieces = 8, measures = 9 },")
    assert {note.line for note in file.mistakes} == {n + 1} and "8 was read" in str(file.mistakes)


@pytest.mark.parametrize(
    ("line", "instead", "told"),
    [
        ('pieces = ["2 of 6 pt × 33 picas"]', '"9 pt" = 7', 'reglet."9 pt": 7 was read; a table was expected.'),
        ('clear_corners = "6 pt"', 'clear_corners = "-1 pt"', "chase 1.clear_corners: "),
        ("[[base]]", "[base]", "base: {'count': 2, "),
        ('spaces = ["3 pt", "4 pt", "12 pt"]', "spaces = []", "type 1.spaces: [] was read; a list of the widths of"),
    ],
)
def test_a_part_of_another_kind_is_told(tmp_path, line, instead, told):
    (note,) = with_line(tmp_path, LINES.index(line), instead).mistakes
    assert note.sentence.startswith(told)


COUNTS = [n for n in KEYS if n > 0 and re.search(r"= \d+$", LINES[n])]


@pytest.mark.parametrize("n", COUNTS, ids=lambda n: f"{n + 1} {KEYS[n]}")
def test_a_number_in_quotation_marks_is_told_to_stand_without(tmp_path, n):
    (told,) = with_line(tmp_path, n, re.sub(r"(\d+)$", r'"\1"', LINES[n])).mistakes
    assert told.line == n + 1 and ", without quotation marks, was expected." in told.sentence
    (told,) = with_line(tmp_path, n, re.sub(r"\d+$", "-1", LINES[n])).mistakes
    assert re.search(r": -1 was read; a whole number of \w+ was expected\.$", told.sentence)


def test_a_label_of_what_is_not_counted_is_told(tmp_path):
    n = LINES.index('"2 picas" = "Herring"')
    (told,) = with_line(tmp_path, n, '"7 picas" = "Herring"').mistakes
    expected = "no such size is counted; a thickness, or a size, that the table holds was expected."
    assert (told.line, told.sentence) == (n + 1, f'furniture.labels."7 picas": {expected}')
    (told,) = with_line(tmp_path, LINES.index("[furniture.labels]"), "[odd]").mistakes
    assert told.sentence.startswith("odd isn't a key")


def test_what_may_be_nothing_may(tmp_path):
    for key in ("clear_corners", "tolerance", "bite", "reserve", "rest", "gap"):
        n = next(n for n in KEYS if KEYS[n] == key)
        assert with_line(tmp_path, n, f'{key} = "0 pt"').mistakes == ()


def test_more_than_any_shop_has_is_told_once(tmp_path):
    chases = "\n".join(f'[[chase]]\nname = "{n}"\ninside_width = "9 in"\ninside_height = "6 in"' for n in range(500))
    (told,) = with_line(tmp_path, 2, chases).mistakes
    assert told.sentence == "chase: 501 [[chase]] tables were read; at most 500 were expected."
    ranges = "\n".join(f'[reglet."{n}.5 pt"]\n"1 to 999 picas" = 1' for n in range(1, 7))
    (told,) = with_line(tmp_path, 2, ranges).mistakes
    assert "more than 5000 sizes are counted; no cabinet here holds so many" in told.sentence
