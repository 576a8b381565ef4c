"""Where in a TOML file each key and each entry stands, so that a mistake can be pointed at."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Iterator

Path = tuple[str | int, ...]
"""The way to a value: keys and, in lists, numbers from 0."""

_TOKEN = re.compile(
    r"""(?P<skip>[ \t\r]+|\#[^\n]*)
    |(?P<string>\"{3}(?:\\.|[^\\])*?\"{3,5}|'{3}.*?'{3,5}|"(?:\\.|[^"\\\n])*"|'[^'\n]*')
    |(?P<mark>[\[\]{}=,.\n])
    |(?P<bare>[^\s\[\]{}=,.\#"']+)""",
    re.DOTALL | re.VERBOSE,
)


def lines_of(text: str) -> dict[Path, int]:
    """Return the line, from 1, of every table, key and list entry of a text that is sound TOML."""
    return _Walk(text).lines


class _Walk:
    """One walk over the tokens of a text."""

    def __init__(self, text: str) -> None:
        self.lines: dict[Path, int] = {}
        self._tokens = list(_tokens(text))
        self._at = 0
        self._tables: Counter[Path] = Counter()  # how many [[tables]] there are of each name
        base: Path = ()
        while self._at < len(self._tokens):
            if self._next == "\n":
                self._take()
            elif self._next == "[":
                base = self._header()
            else:
                self._assignment(base)

    @property
    def _next(self) -> str:
        return self._tokens[self._at][0] if self._at < len(self._tokens) else "\n"

    @property
    def _line(self) -> int:
        return self._tokens[min(self._at, len(self._tokens) - 1)][1]

    def _take(self) -> str:
        self._at += 1
        return self._tokens[self._at - 1][0]

    def _header(self) -> Path:
        line, brackets = self._line, 0
        while self._next == "[":
            self._take()
            brackets += 1
        path = self._within(self._key("]"))
        while self._next == "]":
            self._take()
        if brackets == 2:
            self._tables[path] += 1
            path = (*path, self._tables[path] - 1)
        for n in range(1, len(path) + 1):
            self.lines.setdefault(path[:n], line)
        return path

    def _within(self, key: Path) -> Path:
        """Return the path of a header: in a [[table]], what follows belongs to the last one so far."""
        path: Path = ()
        for n, part in enumerate(key):
            path = (*path, part)
            if n < len(key) - 1 and path in self._tables:
                path = (*path, self._tables[path] - 1)
        return path

    def _assignment(self, base: Path) -> None:
        line = self._line
        path = (*base, *self._key("="))
        self._take()
        self.lines[path] = line
        self._value(path)

    def _key(self, end: str) -> Path:
        parts: list[str] = []
        while self._next != end:
            token = self._take()
            if token != ".":
                parts.append(tomllib.loads(f"k={token}")["k"] if token[0] in "\"'" else token)
        return tuple(parts)

    def _value(self, path: Path) -> None:
        if self._next == "[":
            self._take()
            n = 0
            while self._next != "]":
                if self._next in ",\n":
                    self._take()
                    continue
                self.lines[*path, n] = self._line
                self._value((*path, n))
                n += 1
            self._take()
        elif self._next == "{":
            self._take()
            while self._next != "}":
                if self._next in ",\n":
                    self._take()
                else:
                    self._assignment(path)
            self._take()
        else:
            while self._next not in ",\n]}":  # a date may be of two words, a number of two parts
                self._take()


def _tokens(text: str) -> Iterator[tuple[str, int]]:
    line, at = 1, 0
    while match := _TOKEN.match(text, at):
        if match.lastgroup != "skip":
            yield match[0], line
        line, at = line + match[0].count("\n"), match.end()
