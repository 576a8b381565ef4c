"""What is wrong with a text that isn't TOML at all, in a sentence for someone who has never heard of TOML."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable

from stonework.saying import shown

_AT_LINE = re.compile(r" \(at line (\d+), column (\d+)\)$")
_AT_END = " (at end of document)"
_CURLY = re.compile("[“”„‘’‚]")
_INCH_MARK = re.compile(r"""(["'])[^"']*[0-9½¼¾⅛⅜⅝⅞]\1(?:\1| *(?:in\b|[x×]))""")
_BARE_LENGTH = re.compile(r"=\s*[0-9][0-9./ ½¼¾]*\s*(?:picas?|pt|points?|in|inch(?:es)?|mm|cm|lb|kg|[0-9]+/[0-9]+)\b")
_HEADER = re.compile(r"\s*\[+\s*([^\]]*?)\s*\]+")


def what_is_wrong(text: str, error: tomllib.TOMLDecodeError) -> tuple[int, str]:
    """Return the line, from 1, at which a text stopped being TOML, and what is wrong there, without a full stop."""
    message = str(error)
    lines = text.split("\n")
    if found := _AT_LINE.search(message):
        line, column = int(found[1]), int(found[2])
    else:
        line = max((n for n, one in enumerate(lines, 1) if one.strip()), default=1)
        column = len(lines[line - 1]) + 1
    said = _AT_LINE.sub("", message).removesuffix(_AT_END)
    here = lines[line - 1] if line <= len(lines) else ""
    for looks in _LOOKS:
        if told := looks(said, here, column):
            return line, told
    begun = _unclosed(lines[:line]) if "Unclosed array" in said else None
    if begun:
        return begun, "a list begins here with [ and isn't closed with ]"
    return line, f"this can't be read as a shop file ({said[:1].lower()}{said[1:]}); look at it again"


def _curly(_said: str, here: str, _column: int) -> str:
    bare = re.sub(r"#.*", "", re.sub(r'"[^"]*"', "", here))
    if _CURLY.search(bare):
        return 'curly quotation marks were read; plain ones, as in "8 in", were expected'
    return ""


def _inch_mark(_said: str, here: str, _column: int) -> str:
    if _INCH_MARK.search(here):
        return 'an inch mark inside the quotation marks ends the text too early; write in: "8 in"'
    return ""


def _unseen(said: str, _here: str, _column: int) -> str:
    found = re.search(r"Illegal character '(.+)'", said)
    if found and found[1] != r"\n":  # that one is a text that isn't closed on its line
        return "a sign that can't be seen stands in this line; delete the line and type it again"
    return ""


def _never_closed(said: str, here: str, _column: int) -> str:
    if "Illegal character" in said or "Unterminated string" in said or here.count('"') % 2:
        return f"a quotation mark opens here and isn't closed: {_shown(here)}"
    return ""


def _twice(said: str, here: str, _column: int) -> str:
    key = here.split("=")[0].strip()
    if header := _HEADER.match(here):
        name = header[1]
        return (
            f"the table {_shown(name)} stands in the file already; put all that belongs to it under one heading, or, "
            f"for several alike, write it in double brackets [[ ]] above each"
            if "twice" in said or "overwrite" in said or "mutate" in said
            else ""
        )
    if "Duplicate" in said:
        return f"a key stands twice between {{ and }}: {_shown(here)}"
    if "overwrite" in said:
        return f"{_shown(key)} was given a value already; one value for each was expected"
    return ""


def _bare_length(_said: str, here: str, _column: int) -> str:
    if _BARE_LENGTH.search(re.sub(r'"[^"]*"', "", here)):
        return 'a length without quotation marks was read; write it as in "8 in"'
    return ""


def _no_comma(said: str, here: str, column: int) -> str:
    after = here[column - 1 :]
    if "Unclosed array" in said and re.match(r"[\"'\[{0-9]", after) and "=" not in re.sub(r"\{.*", "", after):
        return f"a comma is missing before {_shown(after)}"
    if "Unclosed inline table" in said:
        return f"a comma is missing, or a }} at the end: {_shown(here)}"
    if "Invalid initial character" in said and "{" in here:
        return "nothing may follow the last comma between { and }, and both must stand on one line"
    return ""


def _bracket(said: str, here: str, _column: int) -> str:
    if "at the end of a" in said:
        return f"a bracket is missing: [table], or [[table]] for one of several, was expected, not {_shown(here)}"
    return ""


def _too_much(said: str, here: str, column: int) -> str:
    if "Expected newline" in said:
        return f"one value was expected, and nothing after it on its line but a # remark: {_shown(here[column - 1 :])}"
    return ""


def _no_value(said: str, here: str, _column: int) -> str:
    key, equals, value = here.partition("=")
    if "Expected '='" in said:
        return (
            f"{_shown(here)} was read; a key, = and a value were expected, and quotation marks round a key of two words"
        )
    if "Invalid value" in said and equals and not value.strip():
        return f"nothing stands after {_shown(key)} =; a value was expected"
    if "Invalid value" in said and equals:
        return f'{_shown(value)} was read; text in quotation marks, as in "8 in", or a whole number was expected'
    return ""


_LOOKS: tuple[Callable[[str, str, int], str], ...] = (
    _curly,
    _inch_mark,
    _twice,
    _bare_length,
    _no_comma,
    _unseen,
    _never_closed,
    _bracket,
    _too_much,
    _no_value,
)


def _unclosed(lines: list[str]) -> int | None:
    """Return the last line that opens a list which nothing closes."""
    opened: list[int] = []
    for n, line in enumerate(lines, 1):
        bare = re.sub(r"#.*", "", re.sub(r'"[^"]*"|\'[^\']*\'', "", line))
        for mark in bare.partition("=")[2] if "=" in bare else bare if opened else "":
            if mark == "[":
                opened.append(n)
            elif mark == "]" and opened:
                opened.pop()
    return opened[-1] if opened else None


def _shown(text: str) -> str:
    return f"“{shown(text, 40)}”"
