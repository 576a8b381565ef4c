"""What a plan's labels say, and how large: on forms, on the pieces of a block, on wood, metal and quoins, on the rails.

A picture is at most ``MOST`` inches wide and high; so its type sizes say how large words are at least, however it is
shown. At 700 by 500 pixels a point of it is 0.93 pixels or more.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

from stonework.drawing.labels import Asked, Ground, Spot, Taken, outline
from stonework.drawing.picture import turned
from stonework.drawing.quoins import quoin_room
from stonework.drawing.words import in_picas, piece_name, sized
from stonework.lockup import SLACK, Item, Lockup, PlacedForm, Side, along_x, as_read, letter, pattern_of
from stonework.shop import Quoin
from stonework.units import write_length


class Sizes(NamedTuple):
    """How large a plan's words are, in points of the picture.

    ``hides`` is how much of a label with a size may lie over other pieces.
    """

    label: float
    rail: float
    hides: float


MOST = (10.0, 7.4)
NORMAL = Sizes(label=11.0, rail=12.5, hides=0.85)
LARGE = Sizes(label=14.0, rail=15.0, hides=0.3)  # to be read from the back of a class


def form_labels(forms: Sequence[PlacedForm], head: Side, ground: Ground) -> list[Spot]:
    """Return what is written on forms: which side is the head, and the size as one reads it; less where one is small.

    The head is told by its heavy edge too, so a form without room for a word has none.
    """
    spots: list[Spot] = []
    for form in forms:
        spots += _on_form(form, head, ground, Taken(ground, spots))
    return spots


def _on_form(form: PlacedForm, head: Side, ground: Ground, taken: Taken) -> list[Spot]:
    across, deep = as_read(form, head)
    lying = not along_x(head)
    for said in _form_words(across, deep, ground):
        spots = [Spot(turned([at], form, head)[0], words, upright != lying, bold) for *at, words, upright, bold in said]
        leeway = 0.0 if len(said) > 1 else ground.room("HEAD")[1] / 4  # one line may hang over the edges of a slip
        if all(_within(ground, spot, form, leeway) and taken.free(spot) for spot in spots):
            return spots
    return []


_Said = tuple[float, float, str, bool, bool]  # where, as one reads the form; words; whether they run up it; bold


def _form_words(across: float, deep: float, ground: Ground) -> Iterator[list[_Said]]:
    """Yield what may be written on a form so wide and deep as one reads it, the best first."""
    line = ground.room("HEAD")[1]
    long = f"{write_length(across)} × {write_length(deep)}"
    short = f"{in_picas(across)} × {in_picas(deep)}"
    head: _Said = (across / 2, deep - 0.55 * line, "HEAD", False, True)
    below = deep - 1.1 * line
    for size in (long, short):
        for words, upward in ((size, False), (size, True), (size.replace(" × ", " ×\n"), False)):
            half = ground.room(words, turned=upward)[1] / 2
            yield [head, (across / 2, min(deep / 2, below - half), words, upward, False)]
    middle = (across / 2, deep / 2)
    for words in (f"HEAD {long}", f"HEAD {short}", short, "HEAD"):
        yield [(*middle, words, False, False)]
        yield [(*middle, words, True, False)]


def _within(ground: Ground, spot: Spot, form: PlacedForm, leeway: float) -> bool:
    left, low, right, top = ground.reach(spot)
    beyond = max(form.x - left, right - form.x - form.width, form.y - low, top - form.y - form.height)
    return beyond <= leeway


def letters(lockup: Lockup, ground: Ground) -> list[Asked]:
    """Return what is to be written on each piece of a block: its letter, with its size where it is thick enough."""
    asked = []
    for n, piece in enumerate(lockup.block.pieces if lockup.block else ()):
        flat = piece.width >= piece.height
        long, thick = (piece.width, piece.height) if flat else (piece.height, piece.width)
        whole = f"{letter(n)}: {sized(piece)}"
        room = ground.room(whole)
        fits = piece.kind != "lead" and 0.87 * room[1] <= thick and room[0] <= long
        asked.append(Asked(outline(piece), flat, (whole, letter(n)) if fits else (letter(n),), strays=False))
    return asked


def numbers(lockup: Lockup, patterns: Sequence[Quoin], wrong: Collection[Item], ground: Ground) -> list[Asked]:
    """Return what is to be written on each piece in placing order: its number, and on wood and metal its size."""
    asked = []
    for n, item in enumerate(lockup.placing_order(), 1):
        mark, flat = " ✗" * (item in wrong), along_x(item.side)
        if item.kind == "quoin":
            room = outline(quoin_room(item, pattern_of(item, patterns)))
            asked.append(Asked(room, flat, (f"{n}{mark}",), bold=True, strays=False))
        else:
            name = piece_name(item) if item.kind in ("lead", "metal") else sized(item)
            says = [f"{n}: {name}{mark}", f"{n}{mark}"]
            if ground.room(says[0])[0] > item.length:
                says[0] = next((w for w in _broken(says[0]) if _goes_into(w, item, ground)), says[0])
            asked.append(Asked(outline(item), flat, tuple(says)))
    return asked


def _broken(label: str) -> tuple[str, ...]:
    """Return the ways to write a label on two lines, and on three."""
    return label.replace(": ", ":\n"), (halves := label.replace(" × ", " ×\n")), halves.replace(": ", ":\n")


def _goes_into(words: str, item: Item, ground: Ground) -> bool:
    long, deep = ground.room(words)
    return long <= item.length and deep <= item.thickness


def rail_words(lockup: Lockup, side: Side, opening: Mapping[Side, float], *, whole: bool) -> Iterator[str]:
    """Yield what may be written on a rail, the fullest first: how wide the gap before it is, and what closes it."""
    for length in (write_length, in_picas):
        gap = f"{side} gap {length(round(lockup.gap(side), 1))}"
        if not whole:
            yield gap
            continue
        reached = max((lockup.seen_from(side, item).far for item in lockup.on(side)), default=0.0)
        empty = lockup.gap(side) - reached
        if empty < -SLACK:
            yield f"{gap}, overfull by {length(round(-empty, 1))}"
        elif empty > SLACK:
            yield f"{gap}, {length(round(empty, 1))} still empty"
        elif side in opening:
            yield f"{gap}, quoins open {length(round(opening[side], 1))}"
        else:
            yield f"{gap}, solid"
    yield f"{side} gap {in_picas(round(lockup.gap(side), 1))}"
