"""Mending a loose line: which spaces to exchange between its words so that it fills the measure.

Lengths are points, and all reckoning is in whole hundredths of a point. An em is the body and an en half of
it; which other spaces there are, and which thins, is for the caller to say.

Sources: Stewart = A. A. Stewart, *Typesetting*, 1919. Vaughn = S. J. Vaughn, *Printing and Bookbinding for
Schools*, 1912.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import combinations, combinations_with_replacement, count
from operator import or_
from typing import Literal, NamedTuple

from stonework.stacking import Size, Sums, fewest_pieces, places
from stonework.units import write_length

FEW_SLIPS = 3
"""How many slips a line may take unless told otherwise: our own figure for Stewart's few (p. 20)."""

_LARGEST = 144  # points; larger type is mostly of wood, which isn't spaced like this
_Kind = Literal["space", "thin", "slip"]


class Piece(NamedTuple):
    """A piece between two words: its width in points, and what it is. A slip is of card or paper."""

    width: float
    kind: _Kind

    def __str__(self) -> str:
        return f"{self.width:g}-point {self.kind}"


@dataclass(frozen=True, slots=True)
class Exchange:
    """What is taken out after a word, and what is put in there. The first word is number 1."""

    after: int
    taken_out: tuple[Piece, ...]
    put_in: tuple[Piece, ...]

    def __str__(self) -> str:
        out = " and ".join(f"the {piece}" for piece in self.taken_out)
        put = " and ".join(f"{_article(piece)} {piece}" for piece in self.put_in)
        if not out:
            return f"Put in {put} after word {self.after}."
        return f"Take out {out} after word {self.after}" + (f" and put in {put}." if put else ".")


@dataclass(frozen=True, slots=True)
class Mending:
    """A line mended. ``spaces`` has the pieces that then stand after each word but the last, thickest first.

    All in points, ``left`` is what the line is still short, ``variation`` how much the widest word space exceeds
    the narrowest, and ``most_variation`` how much it may: an en less a 3-to-em space (Vaughn p. 25), which is
    the space nearest a third of the em.
    """

    spaces: tuple[tuple[Piece, ...], ...]
    exchanges: tuple[Exchange, ...]
    left: float
    variation: float
    most_variation: float

    @property
    def pieces(self) -> int:
        """How many pieces stand between the words, slips among them."""
        return sum(map(len, self.spaces))

    @property
    def even(self) -> bool:
        """Whether the word spaces vary no more than they may."""
        return self.variation <= self.most_variation

    def sentences(self) -> list[str]:
        """Return what to do, word space by word space, and how the line then stands."""
        said = [str(exchange) for exchange in self.exchanges] or ["Leave every space as it is."]
        said.append(f"The line is then {write_length(self.left)} short." if self.left else "The line is then full.")
        if any(piece.kind == "slip" for space in self.spaces for piece in space):
            said.append("Slips of card or paper are a last resort: without them the line can't be filled.")
        if not self.even:
            said.append(
                f"Its word spaces vary by {write_length(self.variation)}; they should by no more than "
                f"{write_length(self.most_variation)}, an en less a 3-to-em space."
            )
        return said


def make_width(width: float, pieces: Sequence[float]) -> tuple[float, ...]:
    """Return the fewest pieces that make up a width, thickest first; there are enough of each. All in points.

    Raises ``ValueError``, its text one sentence, for a length that isn't one or a width that can't be made.
    """
    total, kinds = _hundredths("A width", width, most=_LARGEST), _kinds("piece", pieces)
    made = _made(total, kinds)
    if not made:
        near = _fewest(kinds, total + kinds[-1])
        below, above = max(w for w in near if w < total), min(w for w in near if w > total)
        raise ValueError(
            f"A width of {write_length(width)} can't be made of these pieces; the nearest they make is "
            f"{f'{write_length(below / 100)} or ' if below else ''}{write_length(above / 100)}."
        )
    return tuple(size / 100 for size in made)


def widths_below_em(body: float, spaces: Sequence[float]) -> tuple[float, ...]:
    """Return every width below the em that the spaces make; there are enough of each. All in points.

    Raises ``ValueError``, its text one sentence, for a length that isn't one.
    """
    em = _hundredths("A body", body, most=_LARGEST)
    return tuple(width / 100 for width in _fewest(_kinds("space", spaces), em - 1) if width)


def mend_line(
    body: float,
    standing: Sequence[Sequence[float]],
    shortfall: float,
    spaces: Sequence[float],
    thins: Sequence[float] = (),
    *,
    slips: Sequence[float] = (),
    most_slips: int = FEW_SLIPS,
    tolerance: float = 0.0,
    even_first: bool = False,
) -> Mending:
    """Fill a line that is short by exchanging and adding pieces between its words. All lengths are points.

    ``standing`` has the pieces that now stand after each word but the last. There are enough of each of the
    body's ``spaces``, of the ``thins`` and of the ``slips`` of card or paper. A standing piece that is none of
    the spaces or thins is taken out. No word space is made narrower than the thinnest space or wider than
    the em.

    The best line takes the fewest slips, the last resort (Stewart p. 20): none, if it can be filled to within
    ``tolerance`` without. Then it is as full as can be, never more; then it has the fewest pieces, so a
    thicker space rather than several thin (Stewart p. 31); then the evenest word spaces, by their
    ``variation``; then the fewest pieces put in. With ``even_first``, lines within ``most_variation`` come
    before the others, though not for a slip more. Slips go last into the narrowest word spaces, so what is
    said here of evenness leaves them out.

    Raises ``ValueError``, its text one sentence, for a length that isn't one, for a line without word spaces
    and for a shortfall that can't be filled.
    """
    em = _hundredths("A body", body, most=_LARGEST)
    own, kinds = _kinds("space", spaces), _kinds("piece", (*spaces, *thins))
    paper = _kinds("slip", slips) if slips else []
    now = [[_hundredths("A piece in the line", width) for width in space] for space in standing]
    short, slack = _hundredths("A shortfall", shortfall, least=0), _hundredths("A tolerance", tolerance, least=0)
    if not now:
        raise ValueError("The line has no word space, and spacing goes between words; set another word into it.")
    target = sum(map(sum, now)) + short
    fewest = _fewest(kinds, em)
    widths = {width: taken for width, taken in fewest.items() if width >= own[-1]}
    kept = [{width: _kept(space, width, fewest, kinds) for width in widths} for space in now]
    most_variation = max(0.0, em / 2 - min(own, key=lambda space: abs(3 * space - em)))
    tries = (  # the fewest slips first, and with as many the even lines if they come first
        [
            (way, chosen)
            for chosen in combinations_with_replacement(paper, used)
            if (way := _fill(widths, kept, target - sum(chosen), slack, most))
        ]
        for used in range(most_slips + 1)
        for most in ((most_variation, em) if even_first else (em,))
    )
    ways = next(filter(None, tries), None)
    if not ways:
        nearest = _fill(widths, kept, target, target, em)
        if nearest and target <= len(now) * em:
            raise ValueError(
                f"A shortfall of {_written(short)} can't be filled to within {_written(slack)}; give thinner pieces, "
                f"or allow the {_written(nearest.left)} that these leave at best."
            )
        raise ValueError(
            f"With a shortfall of {_written(short)} there are {_written(target)} to fill between the words, and their "
            f"spaces make {_written(len(now) * own[-1])}, all the thinnest, to {_written(len(now) * em)}, all an em; "
            "measure the line again, or set it with a word more or less."
        )
    way, chosen = min(ways)
    new = [[*stay[w], *_made(w - sum(stay[w]), kinds)] for stay, w in zip(kept, way.widths, strict=True)]
    for slip in chosen:
        min(new, key=sum).append(slip)
    kind_of = dict.fromkeys(paper, "slip") | dict.fromkeys(kinds, "thin") | dict.fromkeys(own, "space")
    return _mending(now, new, target, most_variation, kind_of)


def _mending(
    now: Sequence[Sequence[int]],
    new: Sequence[Sequence[int]],
    target: int,
    most_variation: float,
    kind_of: Mapping[int, _Kind],
) -> Mending:
    """Return the answer in points."""

    def pieces(sizes: Iterable[int]) -> tuple[Piece, ...]:
        return tuple(Piece(size / 100, kind_of.get(size, "space")) for size in sorted(sizes, reverse=True))

    exchanges = [
        Exchange(after, pieces((old - then).elements()), pieces((then - old).elements()))
        for after, (old, then) in enumerate(zip(map(Counter, now), map(Counter, new), strict=True), 1)
        if old != then
    ]
    filled = [sum(space) for space in new]
    return Mending(
        tuple(map(pieces, new)),
        tuple(exchanges),
        (target - sum(filled)) / 100,
        (max(filled) - min(filled)) / 100,
        most_variation / 100,
    )


# --- the search, in whole hundredths of a point -----------------------------------------------------------
# ``pieces`` says how many pieces a word space of each width takes, the narrowest first; the excess is how many a
# line's word spaces take beyond one each.

_Pieces = Mapping[int, int]
_Kept = Sequence[Mapping[int, Sequence[int]]]


class _Way(NamedTuple):
    """A way to fill the line; the least is the best."""

    left: int
    excess: int
    spread: int
    put_in: int
    widths: tuple[int, ...]


def _fill(pieces: _Pieces, kept: _Kept, target: int, slack: int, most: float) -> _Way | None:
    """Return the best way to make the target, or as much less as the slack allows; ``None`` if there is none.

    The word spaces vary by no more than ``most``. ``kept`` has, for each of them, the standing pieces that can
    stay at each width.
    """
    spaces, anyhow = len(kept), dict.fromkeys(pieces, 1)
    near = range(max(0, target - slack), min(target, spaces * max(pieces, default=0)) + 1)
    made = reduce(or_, (made for _, made in _windows(anyhow, most, spaces, 0, near)), 0)
    total = next((total for total in reversed(near) if made >> total & 1), None)
    if total is None:
        return None

    def windows(spread: float, excess: int) -> list[_Pieces]:
        fit = {width: taken for width, taken in pieces.items() if taken <= excess + 1}
        return [window for window, made in _windows(fit, spread, spaces, excess, [total]) if made >> total & 1]

    excess = next(more for more in count() if windows(most, more))
    fit = [width for width, taken in pieces.items() if taken <= excess + 1]
    spread = next(s for s in sorted({high - low for low in fit for high in fit if high >= low}) if windows(s, excess))
    change = min(_least_change(window, kept, total, excess) for window in windows(spread, excess))
    return _Way(target - total, excess, spread, *change)


def _windows(
    pieces: _Pieces, spread: float, spaces: int, excess: int, near: Sequence[int]
) -> Iterator[tuple[_Pieces, int]]:
    """Yield the widths from each to a spread above it, and the totals they make (see ``_reach``).

    Windows too low or too high for the totals ``near`` are left out.
    """
    for low in pieces:  # the narrowest first
        if near and low * spaces <= near[-1] and (low + spread) * spaces >= near[0]:
            window = {width: taken for width, taken in pieces.items() if low <= width <= low + spread}
            yield window, _reach(window, spaces, excess)
        if low + spread >= max(pieces):
            return


def _reach(pieces: _Pieces, spaces: int, excess: int) -> int:
    """Return the totals that so many word spaces make with just that excess: bit n says that n can be made."""
    low = min(pieces)  # the totals are counted from there, and so stay small
    levels = [1] + [0] * excess
    for _ in range(spaces):
        grown = [0] * (excess + 1)
        for width, taken in pieces.items():
            for n in range(excess + 2 - taken):
                grown[n + taken - 1] |= levels[n] << (width - low)
        levels = grown
    return levels[excess] << (low * spaces)


def _least_change(window: _Pieces, kept: _Kept, total: int, excess: int) -> tuple[int, tuple[int, ...]]:
    """Return how few pieces must be put in to make the total with that excess, and the widths then."""
    low, high = min(window), max(window)
    ways: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {(total, excess): (0, ())}
    for rest, stay in zip(range(len(kept) - 1, -1, -1), kept, strict=True):
        grown: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {}
        for (left, over), (put_in, chosen) in ways.items():
            for width, taken in window.items():
                key = left - width, over + 1 - taken
                if rest * low <= key[0] <= rest * high and key[1] >= 0:
                    way = put_in + taken - len(stay[width]), (*chosen, width)
                    grown[key] = min(way, grown.get(key, way))
        ways = grown
    return ways[0, 0]


def _kept(standing: Sequence[int], width: int, fewest: _Pieces, kinds: Sequence[int]) -> tuple[int, ...]:
    """Return the most standing pieces that can stay where a width is made of its fewest pieces."""
    usable = [size for size in standing if size in kinds]
    for number in range(min(len(usable), fewest[width]), 0, -1):
        for staying in combinations(usable, number):
            if fewest.get(width - sum(staying)) == fewest[width] - number:
                return staying
    return ()


def _fewest(kinds: Sequence[int], most: int) -> dict[int, int]:
    """Return how few pieces make each width up to the most, nought among them."""
    sums = Sums([Size(kind, 1, most // kind) for kind in kinds], most)
    return {steps * sums.step: sums.fewest(steps * sums.step) or 0 for steps in places(sums.any)}


def _made(width: int, kinds: Sequence[int]) -> tuple[int, ...]:
    """Return the fewest pieces that make a width, thickest first; none if it can't be made."""
    return fewest_pieces(width, {kind: width // kind for kind in kinds}) or ()


# --- reading and writing ----------------------------------------------------------------------------------


def _kinds(what: str, widths: Sequence[float]) -> list[int]:
    """Return the widths in hundredths, each once, thickest first."""
    if not widths:
        raise ValueError(f"No {what} was given to work with; give the width of one or more.")
    return sorted({_hundredths(f"A {what}", width) for width in widths}, reverse=True)


def _hundredths(what: str, points: float, *, least: int = 1, most: float = math.inf) -> int:
    if not (math.isfinite(points) and round(points * 100) >= least):
        needed = "more than nothing" if least else "nothing or more"
        raise ValueError(f"{what} was given as {points} pt; it must be {needed}.")
    if points > most:
        raise ValueError(f"{what} was given as {points} pt, larger than any metal type; give {most} pt at most.")
    return round(points * 100)


def _written(hundredths: int) -> str:
    return write_length(hundredths / 100)


def _article(piece: Piece) -> str:
    return "an" if str(piece).startswith(("8", "11-", "11.", "18-", "18.")) else "a"
