"""Reading one value after another from a table, and keeping account of everything that is wrong.

Nothing here stops at a mistake: what can't be read is noted with its place and ``nan`` or an empty value is returned in
its stead, so that a file's mistakes come out all at once. Who builds something from the values asks ``sound`` first.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

from stonework.saying import shown, shown_value
from stonework.shop.lines import Path
from stonework.shop.things import LEAST
from stonework.units import read_length, read_weight, write_length

A_LENGTH = 'a length with its unit, such as "27 picas" or "12 in"'
_A_WEIGHT = 'a weight with its unit, such as "10 lb" or "4.5 kg",'
_MIDDLE = "middle"
# Our own figures, beyond what any shop has; they keep a file of nonsense from taking an hour.
_LONGEST_NAME, _LONGEST_PROSE, _MOST_TABLES = 80, 2000, 500


class Note(NamedTuple):
    """Something to say about a place in a file: the line, from 1, if it is known, and a sentence with the place."""

    line: int | None
    sentence: str

    def __str__(self) -> str:
        return f"line {self.line}, {self.sentence}" if self.line else self.sentence


@dataclass(slots=True)
class _Tried:
    """What became of a part of a file: ``sound`` if nothing in it was wrong."""

    sound: bool = True


class Reading:
    """A file being read: the line of each of its values, its mistakes so far, and what to ask about."""

    def __init__(self, lines: Mapping[Path, int]) -> None:
        self._lines = lines
        self.mistakes: list[Note] = []
        self.questions: list[Note] = []

    def wrong(self, where: Path, sentence: str) -> None:
        """Note a mistake: a sentence, without its full stop, that follows on the place."""
        self.mistakes.append(Note(self._line(where), f"{in_file(where)}{sentence}."))

    def ask(self, where: Path, question: str) -> None:
        """Note a question about a value that can be read and yet is likely a slip."""
        self.questions.append(Note(self._line(where), f"{in_file(where)}: {question}"))

    def _line(self, where: Path) -> int | None:
        while where and where not in self._lines:
            where = where[:-1]
        return self._lines.get(where)

    @contextmanager
    def part(self) -> Iterator[_Tried]:
        """Watch a part of the file; what it yields says afterwards whether the part was sound."""
        before, tried = len(self.mistakes), _Tried()
        yield tried
        tried.sound = len(self.mistakes) == before

    # --- tables

    def only(self, table: Mapping[str, Any], where: Path, keys: Sequence[str]) -> None:
        """Note every key of a table that isn't among those expected."""
        for key in table:
            if key not in keys:
                self.wrong((*where, key), f" isn't a key this file knows; expected here: {shown(', '.join(keys), 200)}")

    def has(self, table: Mapping[str, Any], key: str, where: Path, expected: str) -> bool:
        """Say whether a key is there, and note it if it is not."""
        if key not in table:
            self.wrong((*where, key), f" is missing; {expected} was expected")
        return key in table

    def table(self, table: Mapping[str, Any], key: str, where: Path = ()) -> dict[str, Any]:
        """Read a table; an empty one for a mistake."""
        if not self.has(table, key, where, "a table"):
            return {}
        if isinstance(table[key], dict):
            return table[key]
        self.wrong((*where, key), f": {shown_value(table[key])} was read; a table was expected")
        return {}

    def tables(self, table: Mapping[str, Any], key: str) -> list[tuple[Path, dict[str, Any]]]:
        """Read the [[key]] tables of a file, each with its place; at least one."""
        if not self.has(table, key, (), f"at least one [[{key}]] table"):
            return []
        entries = table[key]
        if isinstance(entries, list) and len(entries) > _MOST_TABLES:
            self.wrong((key,), f": {len(entries)} [[{key}]] tables were read; at most {_MOST_TABLES} were expected")
            return []
        if isinstance(entries, list) and entries and all(isinstance(entry, dict) for entry in entries):
            return [((key, n), entry) for n, entry in enumerate(entries)]
        self.wrong((key,), f": {shown_value(entries)} was read; one or more [[{key}]] tables were expected")
        return []

    # --- values

    def text(self, table: Mapping[str, Any], key: str, where: Path) -> str:
        """Read a name, one line; what sentences put before it, "the", isn't part of it."""
        if not self.has(table, key, where, "a name"):
            return ""
        name = table[key]
        if not isinstance(name, str) or not name.strip():
            self.wrong((*where, key), f": {shown_value(name)} was read; a name in quotation marks was expected")
        elif len(name) > _LONGEST_NAME or not name.isprintable():
            expected = f"a name of at most {_LONGEST_NAME} characters, all of which can be seen,"
            self.wrong((*where, key), f": {shown_value(name)} was read; {expected} was expected")
        else:
            return name.removeprefix("the ") if where and key == "name" else name
        return ""

    def prose(self, table: Mapping[str, Any], key: str, where: Path) -> str:
        """Read some sentences."""
        words = table[key]
        if isinstance(words, str) and words.strip() and len(words) <= _LONGEST_PROSE and _can_be_seen(words):
            return words
        expected = f"text in quotation marks, at most {_LONGEST_PROSE} characters that can be seen,"
        self.wrong((*where, key), f": {shown_value(table[key])} was read; {expected} was expected")
        return ""

    def length(self, table: Mapping[str, Any], key: str, where: Path, *, nothing: bool = False) -> float:
        """Read a length in points; it may be ``nothing`` where that is said."""
        if not self.has(table, key, where, A_LENGTH):
            return math.nan
        return self.points(table[key], (*where, key), nothing=nothing)

    def points(self, value: Any, where: Path, *, nothing: bool = False) -> float:
        """Read a length in points from a value."""
        if not isinstance(value, str):
            self.wrong(where, f": {shown_value(value)} was read; {A_LENGTH} in quotation marks was expected")
            return math.nan
        points = self._understood(read_length, value, where)
        if not nothing and points < LEAST:
            self.wrong(where, f": {shown_value(value)} was read; a length of more than nothing was expected")
            return math.nan
        return points

    def _understood(self, read: Callable[[str], float], value: str, where: Path) -> float:
        try:
            return read(value)
        except ValueError as error:
            self.wrong(where, f": {str(error).removesuffix('.')}")
            return math.nan

    def weight(self, value: Any, where: Path) -> float:
        """Read a weight in pounds from a value."""
        if not isinstance(value, str):
            self.wrong(where, f": {shown_value(value)} was read; {_A_WEIGHT} in quotation marks was expected")
            return math.nan
        pounds = self._understood(read_weight, value, where)
        if pounds <= 0:
            self.wrong(where, f": {shown_value(value)} was read; a weight of more than nothing was expected")
        return pounds

    def count(self, value: Any, where: Path, what: str = "pieces", most: int = 100_000) -> int:
        """Read a whole number."""
        if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= most:
            return value
        bare = ", without quotation marks," if isinstance(value, str) else ""
        self.wrong(where, f": {shown_value(value)} was read; a whole number of {what}{bare} was expected")
        return 0

    def yes(self, table: Mapping[str, Any], key: str, where: Path) -> bool:
        """Read true or false; false where nothing is said."""
        value = table.get(key, False)
        if not isinstance(value, bool):
            self.wrong(
                (*where, key), f": {shown_value(value)} was read; true or false, without quotation marks, was expected"
            )
        return value is True

    def one_of(self, table: Mapping[str, Any], key: str, where: Path, words: tuple[Any, ...]) -> Any:
        """Read one of some words; the first of them where an older file says nothing."""
        written = table.get(key, words[0])
        if written in words:
            return written
        expected = shown(" or ".join(f'"{word}"' for word in words), 150)
        self.wrong((*where, key), f": {shown_value(written)} was read; {expected} was expected")
        return words[0]

    def words(self, table: Mapping[str, Any], key: str, where: Path, known: tuple[str, ...]) -> tuple[Any, ...]:
        """Read a list of some of the words known, each once."""
        expected = f"a list of some of {shown(', '.join(known), 150)}"
        if not self.has(table, key, where, expected):
            return ()
        written = table[key]
        if isinstance(written, list) and all(isinstance(word, str) for word in written):
            names = [word.removeprefix("the ") for word in written]
            if all(word in known and names.count(word) == 1 for word in names):
                return tuple(names)
            if unknown := [word for word in names if word not in known]:
                self.wrong((*where, key), f": {shown_value(unknown[0])} was read; {expected}, each once, was expected")
                return ()
        self.wrong((*where, key), f": {shown_value(written)} was read; {expected}, each once, was expected")
        return ()

    def thicknesses(self, table: Mapping[str, Any], key: str, where: Path) -> tuple[float, ...]:
        """Read a list of thicknesses in points, each thicker than the one before."""
        expected = 'a list of thicknesses such as ["1 pt", "2 pt"], thinnest first'
        if key not in table:
            return ()
        written, at = table[key], (*where, key)
        if not isinstance(written, list):
            self.wrong(at, f": {shown_value(written)} was read; {expected} was expected")
            return ()
        found = tuple(self.points(one, (*at, n)) for n, one in enumerate(written))
        if any(thicker - thinner < LEAST for thinner, thicker in pairwise(found)):
            self.wrong(at, f": {shown_value(written)} was read; each thicker than the one before was expected")
        return found

    def off_middle(self, table: Mapping[str, Any], key: str, where: Path, ways: tuple[str, str]) -> float:
        """Read “middle”, or how far off it: “2 picas below”; less than 0 for the second of the two ways."""
        more, less = ways
        expected = f'"{_MIDDLE}", or a length and which way, such as "2 picas {less}",'
        if not self.has(table, key, where, expected):
            return math.nan
        written = table[key]
        if written == _MIDDLE:
            return 0.0
        length, _, way = written.strip().rpartition(" ") if isinstance(written, str) else ("", "", "")
        if way not in ways:
            self.wrong((*where, key), f": {shown_value(written)} was read; {expected} was expected")
            return math.nan
        points = self.points(length, (*where, key), nothing=True)
        return points if way == more else -points

    def no_twins(self, what: str, names: Sequence[tuple[Path, str]]) -> None:
        """Note every name that stands twice, at its second place."""
        seen: set[str] = set()
        for where, name in names:
            if name and name in seen:
                self.wrong(where, f": the name “{name}” is used twice; each {what} needs its own name")
            seen.add(name)


def _can_be_seen(words: str) -> bool:
    return words.replace("\n", "").replace("\t", "").isprintable()


def in_file(where: Path) -> str:
    """Write a place as one finds it in the file: ``chase 2.name``, or ``furniture.counts."2 picas", entry 3``."""
    words = ""
    for n, part in enumerate(where):
        if isinstance(part, int):
            words += f" {part + 1}" if n == 1 else f", entry {part + 1}"
        elif re.fullmatch(r"[\w-]{1,60}", part, re.ASCII):
            words += f".{part}" if words else part
        else:
            words += f'."{shown(part)}"' if words else f'"{shown(part)}"'
    return words


def size_words(thickness: float, length: float) -> str:
    """Write a size as the trade does: thickness × length."""
    return f"{write_length(thickness)} × {write_length(length)}"
