"""Lengths and weights, read as a printer writes them and written back.

Everywhere else in Stonework a length is a plain float in American points and a weight one in pounds. The
functions here are the only doors between those floats and words; pint converts behind them.

The American point is 0.013837 inch, and twelve make a pica (A. A. Stewart, *Typesetting*, 1919, p. 15).
pint's own ``point``, ``pica`` and ``printers_point`` are the 1/72-inch kind, which over a 12-inch chase is
more than 3 points wrong, and its ``pt`` is a pint of liquid; so ours have names of their own. pint's
``didot`` (1/2660 metre) and ``cicero`` (12 of them) are the modern metric statement of the Didot system,
and are used as they stand.
"""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction

import pint

from stonework.saying import shown, shown_value

# pint can keep its parsed definitions in a cache on disk; it would save about a tenth of a second, once a
# session, and would write outside the workbook, where a shared classroom machine may not allow it.
_registry = pint.UnitRegistry(on_redefinition="raise")
_registry.define("american_point = 0.013837 * inch")
_registry.define("american_pica = 12 * american_point")


def _points(number: float, unit: str) -> float:
    """Convert a number of a pint unit to American points."""
    return float(_registry.Quantity(number, unit).m_as("american_point"))


def _pounds(number: float, unit: str) -> float:
    """Convert a number of a pint unit to pounds."""
    return float(_registry.Quantity(number, unit).m_as("pound"))


PICA = _points(1, "american_pica")
"""American points in a pica: 12."""

POINTS_PER_INCH = _points(1, "inch")
"""American points in an inch: 1 / 0.013837, about 72.27."""

CUBIC_INCH = float(_registry.Quantity(1, "inch**3").m_as("cm**3"))
"""Cubic centimetres in a cubic inch."""

POUNDS_PER_GRAM = _pounds(1, "gram")
"""Pounds in a gram."""

LONGEST = _points(100, "foot")
"""American points in a hundred feet: far beyond any imposing stone, so anything longer is a slip of the hand."""

# "Ems" alone, of lead, rule or furniture, are pica ems (Stewart 1919, p. 14).
_WORDS = {
    "american_pica": ("p", "pica", "picas", "em", "ems", "pica em", "pica ems"),
    "american_point": ("pt", "pts", "point", "points"),
    "cicero": ("cicero", "ciceros"),
    "didot": ("didot", "didots", "didot pt", "didot pts", "didot point", "didot points"),
    "inch": ('"', "''", "in", "ins", "inch", "inches"),
    "centimetre": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "millimetre": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
}
_UNITS = {word: unit for unit, words in _WORDS.items() for word in words}
_PARTS = {"american_pica": "american_point", "cicero": "didot", "centimetre": "millimetre"}

_WEIGHTS = {
    word: unit
    for unit, words in {
        "pound": ("lb", "lbs", "pound", "pounds"),
        "ounce": ("oz", "ounce", "ounces"),
        "kilogram": ("kg", "kilo", "kilos", "kilogram", "kilograms"),
        "gram": ("g", "gram", "grams"),
    }.items()
    for word in words
}
# Ten tons: more than any chase, or the press under it.
_HEAVIEST = _pounds(10_000, "kilogram")

# What the grammar sees: lower case, single spaces, plain quotes, and every mixed number as "4 1/2". The gap
# comes first: without it 4½ would turn into 41/2.
_GAP_IN_A_MIXED_NUMBER = re.compile(r"(?<=[0-9])(?:[-‐‑–]?(?=[¼-¾⅐-⅞])|[-‐‑–](?=[0-9]+\s*[/⁄∕]))")
_PLAIN = str.maketrans(
    {"″": '"', "“": '"', "”": '"', "′": "'", "’": "'", "⁄": "/", "∕": "/"}
    | {c: unicodedata.normalize("NFKC", c).replace("⁄", "/") for c in "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"}
)
_SPACED_SLASH = re.compile(" ?/ ?")

_NUMBER = r"(?:(?:[0-9]+ )?[0-9]+/[0-9]+|[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)"
_UNIT = "(?:" + "|".join(map(re.escape, _UNITS)) + ")"
_LENGTH = re.compile(
    rf"(?P<minus>[-−–] ?)?(?P<number>{_NUMBER})"
    rf"(?: ?p ?(?P<points>{_NUMBER})"
    rf"| ?(?P<unit>{_UNIT})\.?(?:(?: ?,| and)? ?(?P<number2>{_NUMBER}) ?(?P<unit2>{_UNIT})\.?)?)?"
)
_WEIGHT_UNIT = "(?:" + "|".join(_WEIGHTS) + ")"
_WEIGHT = re.compile(
    rf"(?P<number>{_NUMBER}) ?(?P<unit>{_WEIGHT_UNIT})\.?"
    rf"(?:(?: ?,| and)? ?(?P<number2>{_NUMBER}) ?(?P<unit2>oz|ounces?)\.?)?"
)
_TWO_MEANINGS = re.compile("(?<![0-9])([1-9][0-9]{0,2}),([0-9]{3})(?![0-9])")

_EXAMPLES = "27 picas 6 pt, 27p6, 18 pt, 4 1/2 in or 114 mm"
_WEIGHT_EXAMPLES = "3 3/4 lb, 3 lb 12 oz, 60 oz or 1.7 kg"


def read_length(text: str) -> float:
    """Read a length such as ``27 picas 6 pt``, ``27p6``, ``4 1/2 in``, ``11,4 cm`` or ``20 ciceros``.

    Returns American points, never negative. ``pt`` and ``points`` are American points and ``ems`` are pica
    ems. Two parts must be a larger and a smaller measure of one system.

    Raises ``ValueError``, its text one sentence: what was read, what is wrong with it and what would be
    understood.
    """
    if not isinstance(text, str):
        raise ValueError(f"“{shown_value(text)}” isn't text; write a length in words, like {_EXAMPLES}.")
    read = f"“{shown(text)}”"
    plain = _plain(text)
    if not plain:
        raise ValueError(f"No length was written; write one such as {_EXAMPLES}.")

    match = _LENGTH.fullmatch(plain)
    if match is None:
        raise ValueError(f"{read} can't be read as a length; write it like {_EXAMPLES}.")
    if match["points"]:
        parts = [(match["number"], "american_pica"), (match["points"], "american_point")]
    elif match["unit2"]:
        parts = [(match["number"], _UNITS[match["unit"]]), (match["number2"], _UNITS[match["unit2"]])]
        if _PARTS.get(parts[0][1]) != parts[1][1]:
            raise ValueError(
                f"{read} isn't a larger and then a smaller measure of one system; write one measure, or two "
                "like 27 picas 6 pt, 20 ciceros 3 didot points or 11 cm 4 mm."
            )
    elif match["unit"]:
        parts = [(match["number"], _UNITS[match["unit"]])]
    else:
        raise ValueError(f"{read} has no unit; write it like {_EXAMPLES}.")

    _refuse_two_meanings(read, plain, "lengths")
    try:
        length = sum(_points(_value(number), unit) for number, unit in parts)
    except ZeroDivisionError:
        raise ValueError(f"{read} divides by nought; write a fraction like the one in 4 1/2 in.") from None
    if match["minus"] and length > 0:
        raise ValueError(f"{read} is less than nothing; write a length without the minus, like {_EXAMPLES}.")
    if not length <= LONGEST:
        raise ValueError(
            f"{read} is more than 100 feet, longer than any imposing stone; look again at the number and its "
            f"unit, and write it like {_EXAMPLES}."
        )
    return length


def read_weight(text: str) -> float:
    """Read a weight such as ``3 3/4 lb``, ``3 lb 12 oz``, ``60 oz`` or ``1,7 kg``. Returns pounds.

    Raises ``ValueError``, its text one sentence: what was read, what is wrong with it and what would be
    understood.
    """
    if not isinstance(text, str):
        raise ValueError(f"“{shown_value(text)}” isn't text; write a weight in words, like {_WEIGHT_EXAMPLES}.")
    read, plain = f"“{shown(text)}”", _plain(text)
    match = _WEIGHT.fullmatch(plain)
    if match is None or (match["unit2"] and _WEIGHTS[match["unit"]] != "pound"):
        bare = re.fullmatch(_NUMBER, plain)
        wrong = (
            f"{read} has no unit" if bare else f"{read} can't be read as a weight" if plain else "No weight was written"
        )
        raise ValueError(f"{wrong}; write it like {_WEIGHT_EXAMPLES}.")
    _refuse_two_meanings(read, plain, "weights")
    try:
        pounds = _pounds(_value(match["number"]), _WEIGHTS[match["unit"]])
        if match["unit2"]:
            pounds += _pounds(_value(match["number2"]), "ounce")
    except ZeroDivisionError:
        raise ValueError(f"{read} divides by nought; write a weight like {_WEIGHT_EXAMPLES}.") from None
    if not pounds <= _HEAVIEST:
        raise ValueError(f"{read} is more than ten tons; look again at the number, and write it like 3 3/4 lb.")
    return pounds


def write_weight(pounds: float) -> str:
    """Write a weight in pounds as ``3.8 lb (1.7 kg)`` or ``24 lb (10.9 kg)``; below a pound as ``9.6 oz (272 g)``.

    Raises ``ValueError``, its text one sentence, unless ``pounds`` is a number from nothing to ten tons.
    """
    if not 0 <= pounds <= _HEAVIEST:
        raise ValueError(
            f"{pounds} pounds can't be written as a weight; it takes a number from 0 to ten tons, like 3.75."
        )
    ounces = abs(round(pounds * 16, 1))  # a nought may have a minus
    if ounces < 16:
        return f"{ounces:.1f} oz ({abs(pounds) / POUNDS_PER_GRAM:.0f} g)"
    return f"{round(pounds, 1):g} lb ({round(pounds / POUNDS_PER_GRAM / 1000, 1):g} kg)"


def write_length(points: float) -> str:
    """Write a length in American points as ``27 picas 6 pt``, to the nearest hundredth of a point.

    A negative number, as a difference may be, is written with a leading minus sign.

    Raises ``ValueError``, its text one sentence, if ``points`` is infinite or not a number.
    """
    if not math.isfinite(points):
        raise ValueError(f"{points} points can't be written as a length; it takes a finite number, like 330.")
    # Whole hundredths, so that 11.999 carries to a pica; exact, so that no float is too large.
    hundredths = round(Fraction(float(points)) * 100)
    picas, rest = divmod(abs(hundredths), round(PICA * 100))
    words = []
    if picas:
        words.append("1 pica" if picas == 1 else f"{picas} picas")
    if rest or not picas:
        words.append(f"{rest / 100:g} pt")
    return ("−" if hundredths < 0 else "") + " ".join(words)


def _refuse_two_meanings(read: str, plain: str, what: str) -> None:
    if doubt := _TWO_MEANINGS.search(plain):
        small, large = (plain.replace(doubt[0], doubt[1] + mark + doubt[2]) for mark in (".", ""))
        raise ValueError(f"{read} could mean two {what}; write {small} or {large}, without the comma.")


def _plain(text: str) -> str:
    """Return what was written in the one spelling that the grammar reads."""
    gapped = _GAP_IN_A_MIXED_NUMBER.sub(" ", text)
    return _SPACED_SLASH.sub("/", " ".join(gapped.lower().translate(_PLAIN).split()))


def _value(number: str) -> float:
    """Return the value of a number in the grammar's spelling: 27, 11.4, 11,4, 1/2 or 4 1/2."""
    whole, _, rest = number.rpartition(" ")
    top, _, bottom = rest.partition("/")
    return float(whole or 0) + float(top.replace(",", ".")) / float(bottom or 1)
