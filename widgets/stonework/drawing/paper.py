"""What all that is printed shares: the papers, words measured and broken into lines, and the PDF itself."""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterable
from functools import cache

import matplotlib
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, fontManager
from matplotlib.ft2font import FT2Font
from matplotlib.text import Text
from matplotlib.textpath import text_to_path

from stonework.saying import shown_value

# Upright, in inches: ISO 216, and the letter size of ASME Y14.1; both from memory.
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}

_SPACE = 0.35  # ems, about: a space and the air beside a word


def paper_size(name: str) -> tuple[float, float]:
    """Return a paper's width and height, upright, in inches; ``ValueError`` with a sentence for an unknown one."""
    if name in PAPERS:
        return PAPERS[name]
    raise ValueError(f"The paper was read as {shown_value(name)}; {' or '.join(PAPERS)} was expected.")


def pdf(title: str, figures: Iterable[Figure]) -> bytes:
    """Print figures as the pages of a PDF that is the same whenever it is made: no date, no maker's version."""
    sink, bare = io.BytesIO(), {"Title": title, "Creator": None, "Producer": None, "CreationDate": None}
    # A tight box, if someone's settings ask for it, would change the size of the pages.
    with matplotlib.rc_context({"savefig.bbox": None}), PdfPages(sink, metadata=bare) as pages, _any_letters():
        for figure in figures:
            _letter(figure)
            pages.savefig(figure)
    return sink.getvalue()


def no_type_words(words: str) -> str:
    """Say which letters no type on this machine has, so that they print as boxes; nothing if there are none."""
    usual = _signs(findfont(FontProperties(family=["sans-serif"])))
    lacking = [sign for sign in dict.fromkeys(words) if sign.isalpha() and ord(sign) not in usual]
    boxes = [sign for sign in lacking if _family_with(sign) is None]
    return f"This machine has no type for {' '.join(boxes[:20])}: on paper a box stands there." if boxes else ""


def _letter(figure: Figure) -> None:
    """Set what the usual type has no letters for in another type of this machine's, if it has one."""
    usual = _signs(findfont(FontProperties(family=["sans-serif"])))
    for text in figure.findobj(Text):
        text.set_parse_math(False)  # a dollar in a name is a dollar
        lacking = sorted({sign for sign in text.get_text() if ord(sign) not in usual})
        others = dict.fromkeys(filter(None, map(_family_with, lacking)))
        if others:
            text.set_fontfamily(["sans-serif", *others])


@cache
def _family_with(sign: str) -> str | None:
    """Return a family that has a letter, in bold too if it has bold; ``None`` if this machine has none."""
    files: dict[str, list[str]] = {}
    for font in fontManager.ttflist:
        if font.style == "normal" and "Last Resort" not in font.name:
            files.setdefault(font.name, []).append(font.fname)
    return next((name for name in sorted(files) if all(_has(path, sign) for path in files[name])), None)


def _has(path: str, sign: str) -> bool:
    try:
        return ord(sign) in _signs(path)
    except (OSError, RuntimeError):  # a font that can't be read
        return False


@cache
def _signs(path: str) -> frozenset[int]:
    return frozenset(FT2Font(path).get_charmap())


def plain(words: str) -> str:
    """Return words on one line, as they are to be printed, with a mark for every sign that can't be seen."""
    return "".join(sign if sign.isprintable() else "�" for sign in " ".join(words.split()))


def short(name: str, most: int = 40) -> str:
    """Return a name on one line of at most so many characters."""
    line = plain(name)
    return line if len(line) <= most else line[: most - 1] + "…"


def wrap(words: str, ems: float, weight: str = "normal") -> list[str]:
    """Break words into lines no wider than so many ems; hinting may widen type a little."""
    lines: list[str] = []
    about = 0.0
    for word in words.split():
        more = measure(word, weight) + _SPACE
        # A line is measured only where it is nearly full: that takes long.
        fits = about + more < 0.9 * ems or (
            about < ems and measure(f"{lines[-1]} {word}" if lines else word, weight) <= 0.98 * ems
        )
        if lines and fits:
            lines[-1] += f" {word}"
            about += more
        else:
            lines.append(word)
            about = more
    return lines


@cache
def measure(words: str, weight: str) -> float:
    """Return how wide words are, in ems."""
    font = FontProperties(family="sans-serif", size=1, weight=weight)
    with _any_letters():
        return text_to_path.get_text_width_height_descent(words, font, ismath=False)[0]


def _any_letters() -> warnings.catch_warnings:
    """Print a name in letters that no type here has as boxes, without a warning on the page for each of them."""
    return warnings.catch_warnings(action="ignore", category=UserWarning)
