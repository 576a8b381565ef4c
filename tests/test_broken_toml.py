"""A shop file that isn't TOML: which of its lines is pointed at, and what is said of it."""

from __future__ import annotations

import tomllib

import pytest
from stonework.shop.broken import what_is_wrong
from stonework.shop.lines import lines_of

LIST = "a list begins here with [ and isn't closed with ]"
TWICE = "a key stands twice between { and }: "
COMMA = "a comma is missing, or a } at the end: "

BROKEN = {
    "a list within a list": ('x = [\n["a", "b"],\n["c", "d"\ny = 1', 3, LIST),
    "the second list": ('x = [\n"a",\n]\ny = ["c", "d"\nz = 1', 4, LIST),
    "a bracket in a text or a remark opens nothing": ('x = [1, 2] # [\ny = ["[", 1\nz = "]"\nv = 1', 2, LIST),
    "a key twice between braces": ("x = { a = 1, a = 2 }", 1, f"{TWICE}“x = {{ a = 1, a = 2 }}”"),
    "no comma between braces": ("x = { a = 1 b = 2 }", 1, f"{COMMA}“x = {{ a = 1 b = 2 }}”"),
    "no brace at the end of the file": ("y = 1\nx = { a = 1\n\n", 2, f"{COMMA}“x = {{ a = 1”"),
    "no brace at the end of a line": ("x = { a = 1, b = 2\ny = 1", 1, f"{COMMA}“x = {{ a = 1, b = 2”"),
    "two texts": (
        'x = "a" "b"',
        1,
        'one value was expected, and nothing after it on its line but a # remark: “"b"”',
    ),
    "a list open at the end of the file, its last line a value": ('x = ["a",\n"b"', 1, LIST),
    "a sign that can't be seen": (
        'x = "8 \x07 in"',
        1,
        "a sign that can't be seen stands in this line; delete the line and type it again",
    ),
    "a quotation mark that isn't closed": (
        'y = 1\nx = "8 in',
        2,
        "a quotation mark opens here and isn't closed: “x = \"8 in”",
    ),
}


@pytest.mark.parametrize("what", BROKEN)
def test_the_line_at_which_a_file_breaks_off_is_pointed_at(what):
    text, line, said = BROKEN[what]
    with pytest.raises(tomllib.TOMLDecodeError) as caught:
        tomllib.loads(text)
    assert what_is_wrong(text, caught.value) == (line, said)


def test_a_key_has_its_line_however_it_is_written():
    text = "Xy = 1\n'x' = 2\n[\"2 picas\".a]\nx1 = [\n3]"
    assert lines_of(text) == {
        ("Xy",): 1,
        ("x",): 2,
        ("2 picas",): 3,
        ("2 picas", "a"): 3,
        ("2 picas", "a", "x1"): 4,
        ("2 picas", "a", "x1", 0): 5,
    }
