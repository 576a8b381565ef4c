"""What was read is shown on one line, with nothing unseen in it, and never too long."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.saying import shown, shown_value


@given(st.text(max_size=3000), st.integers(2, 200))
def test_whatever_was_written_is_one_short_line_that_can_be_seen(text, most):
    line = shown(text, most)
    assert len(line) <= most and line.isprintable()


@pytest.mark.parametrize("most", [2, 10, 60])
def test_what_is_just_short_enough_is_shown_whole_and_what_is_longer_is_cut(most):
    assert shown("x" * most, most) == "x" * most
    assert shown("x" * (most + 1), most) == "x" * (most - 1) + "…"
    assert shown("x" + " " * (20 * most - 1), most) == "x"
    assert shown("x" + " " * 20 * most, most) == "x…"  # nobody knows what comes behind so much


def test_what_cannot_be_seen_is_told_as_such():
    assert shown("tide\n  table\t\u202e1\x00") == "tide table �1�"
    assert shown("x" * 61) == "x" * 59 + "…" and shown("x" * 60) == "x" * 60


def test_a_value_is_shown_as_python_writes_it_and_no_longer():
    assert shown_value({"a": [1, 2.5, None, True]}) == "{'a': [1, 2.5, None, True]}"
    assert shown_value(["x"] * 20, 30) == "['x', 'x', 'x', 'x', 'x', 'x'…"
    assert shown_value(list(range(13)), 200) == "[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, ...]"
    assert shown_value("y" * 500, 200).startswith("'yyy") and len(shown_value("y" * 500, 200)) <= 122
    assert len(shown_value("y" * 500)) == 60


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (10**30, "1" + "0" * 30),
        (10**30 + 1, "more than 1e+30"),
        (-(10**30), "-1" + "0" * 30),
        (-(10**30) - 1, "less than -1e+30"),
        (10**5000, "more than 1e+30"),
        (0, "0"),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_a_number_beyond_all_reason_is_shown_by_its_size(number, words):
    assert shown_value(number) == words
