"""Each value of a lockup's record spoiled, left out or of another kind: it is refused by name, or it counts."""

from __future__ import annotations

import copy
import json
import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from stonework.lockup import Job, Lockup, PlacedForm

Way = tuple[str | int, ...]


def ways(value: Any, way: Way = ()) -> Iterator[Way]:
    """Yield the way to everything in a record, of lists only to the first entry and to the last."""
    if way:
        yield way
    if isinstance(value, dict):
        for key in value:
            yield from ways(value[key], (*way, key))
    elif isinstance(value, list):
        for n in {0, len(value) - 1} if value else ():
            yield from ways(value[n], (*way, n))


def at(record: Any, way: Way) -> Any:
    for step in way:
        record = record[step]
    return record


@pytest.fixture(scope="module")
def record(built) -> dict[str, Any]:
    """Return the record of a lockup with a block in it, and all that can be told besides."""
    lockup = built["8 × 12"]
    sheet = PlacedForm(lockup.form.x - 3, lockup.form.y - 3, lockup.form.width + 6, lockup.form.height + 6)
    job = Job(name="Tide table", date="1 May", press="hand press", hand="Ana")
    told = replace(lockup, job=job, intent=replace(lockup.intent, sheet=sheet))
    plain: dict[str, Any] = json.loads(json.dumps(told.to_dict()))
    assert Lockup.from_dict(plain) == told
    return plain


def refusal(record: dict[str, Any], way: Way, value: Any) -> str:
    spoiled = copy.deepcopy(record)
    at(spoiled, way[:-1])[way[-1]] = value
    with pytest.raises(ValueError, match=r"^[A-Z][^\n]*\.$") as caught:
        Lockup.from_dict(spoiled)
    return str(caught.value)


def named(way: Way) -> str:
    """Return what the sentence must name: the key, and which entry of a list it stands in."""
    *before, last = way
    return f"{before[-1] + 1}'s {last}" if before and isinstance(before[-1], int) else str(last)


def test_a_number_that_is_none_is_refused_by_name(record):
    numbers = [way for way in ways(record) if isinstance(at(record, way), float)]
    assert len(numbers) > 40
    for way in numbers:
        for value in ("soup", True, None, [1.0], math.nan, math.inf, 10**400):
            assert f"{named(way)} was read as " in (said := refusal(record, way, value)), said
            assert said.endswith("; a number of points was expected."), said
        assert "longer than 100 feet" in refusal(record, way, 1e6)
        if way[-1] in ("width", "height", "thickness", "length"):
            for value in (0, -1.0):
                assert f"{named(way)} was read as {value}; more than nothing" in refusal(record, way, value)


def test_a_word_that_is_none_is_refused_by_name(record):
    words = [way for way in ways(record) if isinstance(at(record, way), str)]
    assert len(words) > 12
    for way in words:
        said = [refusal(record, way, value) for value in (7, None, "x" * 121, "\u202e")]
        assert all(named(way) in one for one in said), said
        if "; one of " not in said[0] and way != ("unit",):
            assert "was read as 7; a word was expected." in said[0]
            assert "has 121 characters; at most 120 were expected." in said[2]
            assert "signs that can be seen were expected." in said[3]


def test_an_order_counts_from_one(record):
    orders = [way for way in ways(record) if way[-1] == "order"]
    assert orders
    for way in orders:
        for value in (0, -1, 2001, 1.0, True, "1"):
            assert f"{named(way)} was read as {value!r}; a whole number from 1 to 2000" in refusal(record, way, value)


def test_a_part_of_another_kind_is_refused_by_name(record):
    parts = {way: type(at(record, way)) for way in ways(record) if isinstance(at(record, way), dict | list)}
    assert {"chase", "form", "items", "intent", "sheet", "block", "forms", "pieces", "job"} < {way[-1] for way in parts}
    for way, kind in parts.items():
        expected = "a list was expected." if kind is list else "a table of named values was expected."
        said = refusal(record, way, 7).lower()
        name = f"{way[-1] + 1}" if isinstance(way[-1], int) else way[-1]
        assert f"{name} w" in said and said.endswith(f"read as 7; {expected}"), said


def test_what_is_left_out_is_named_or_counts(record):
    whole = repr(Lockup.from_dict(record))
    for way in (way for way in ways(record) if isinstance(way[-1], str)):
        less = copy.deepcopy(record)
        del at(less, way[:-1])[way[-1]]
        try:
            lockup = Lockup.from_dict(less)
        except ValueError as error:
            assert f"lacks {way[-1]}; expected: " in str(error), error
        else:
            assert repr(lockup) != whole, way


def test_what_is_not_known_is_named(record):
    for way in ((), *(way for way in ways(record) if isinstance(at(record, way), dict))):
        said = refusal(record, (*way, "odd\nkey"), 1)
        assert " holds odd key, which isn't known here; expected: " in said
