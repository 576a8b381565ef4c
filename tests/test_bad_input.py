"""Whatever comes in is read, or refused in a sentence: hundreds of inputs for each parser here, ten thousand by hand.

    .venv/bin/python -m pytest -c .pytest.ini tests/test_bad_input.py --hypothesis-profile=ten-thousand

``fuzzing.py`` does the same with a fuzzer that looks for ways through the code that nobody took yet.
"""

from __future__ import annotations

import json
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from parsers import PARSERS, fault_of

# What means something to one parser or another, or is a trap in many.
PIECES = (
    *(
        "0",
        "-1",
        "1e999",
        "NaN",
        "9" * 400,
        "1/0",
        "½",
        "٣",
        "²",
        "\u202e",
        "\u200b",
        "\x00",
        "\n",
        "\r\n",
        "\t",
        "\ufeff",
    ),
    *(
        '"',
        "'",
        "“",
        "''",
        '"""',
        "\\",
        "[",
        "]",
        "[[",
        "{",
        "}",
        "=",
        ",",
        ";",
        ":",
        ".",
        "#",
        "$",
        "<b>",
        "&amp;",
        "×",
    ),
    *(
        "null",
        "true",
        "picas",
        "pt",
        "in",
        " to ",
        "chase",
        "name",
        "inside_width",
        "version",
        "🜨",
        "e\u0301",
        "x" * 500,
    ),
)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30) | st.just(10**400),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=12), inner, max_size=4),
    max_leaves=6,
)


def changed_text(text: str, chance: random.Random) -> str:
    """Return a text with a few pieces put in, left out, doubled or changed about."""
    for _ in range(chance.randint(1, 4)):
        at, to = sorted(chance.randint(0, len(text)) for _ in range(2))
        to = min(to, at + chance.choice((0, 1, 3, 40, 1000)))
        put = chance.choice((*PIECES, text[at:to] * 2, text[at:to][::-1], ""))
        text = text[:at] + put + text[to:]
    return text


def changed_record(record: object, value: object, chance: random.Random) -> object:
    """Return a record with a value in the place of one of its own, or of all of it."""
    if isinstance(record, dict) and record and chance.random() < 0.9:
        key = chance.choice(sorted(record))
        if chance.random() < 0.1:
            return {other: record[other] for other in record if other != key}
        return {**record, key: changed_record(record[key], value, chance)}
    if isinstance(record, list) and record and chance.random() < 0.9:
        n = chance.randrange(len(record))
        return [*record[:n], changed_record(record[n], value, chance), *record[n + 1 :]]
    return value


def inputs(good: tuple[bytes, ...]) -> st.SearchStrategy[bytes]:
    """Bytes of any kind, and what is like something good."""

    def changed(which: bytes, value: object, seed: int) -> bytes:
        chance = random.Random(seed)
        if which[:1] == b"{" and chance.random() < 0.7:
            return json.dumps(changed_record(json.loads(which), value, chance)).encode()
        return changed_text(which.decode("utf-8", errors="surrogateescape"), chance).encode("utf-8", "surrogateescape")

    like_good = st.builds(changed, st.sampled_from(good), JSON, st.integers(0, 2**32))
    return like_good | like_good | st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode())


@pytest.mark.parametrize("name", PARSERS)
def test_bad_input_is_read_or_refused_in_a_sentence(name):
    parser = PARSERS[name]

    @given(inputs(parser.good))
    def meets(data):
        assert fault_of(parser, data) == ""

    meets()


@pytest.mark.parametrize("name", PARSERS)
def test_good_input_is_read(name):
    """So that what is made of it is near enough to go deep."""
    for data in PARSERS[name].good:
        PARSERS[name].read(data)
