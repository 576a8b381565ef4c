"""What in a shop file can be read and is yet likely a slip: asked about, never refused.

The figures are this workbook's own; they only decide when to ask.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from stonework.shop.lines import Path
from stonework.shop.reading import size_words
from stonework.shop.things import Material, Shop
from stonework.units import PICA, POINTS_PER_INCH, write_length, write_weight

_THICK_QUOIN = 2 * POINTS_PER_INCH
_LONG_QUOIN = 8 * POINTS_PER_INCH
_WIDE_FURNITURE = 12 * PICA
_FAR_BITE = 1.5 * POINTS_PER_INCH
_COARSE = 3 * PICA
_WORN_BY = 4.0
_MANY = 500
_LIGHT, _HEAVY = 0.3, 4.0  # pounds of iron to an inch of a chase's inside, all round

Slip = tuple[Path, str]


def likely_slips(shop: Shop, places: Mapping[Material, Path], said: Mapping[str, Any]) -> Iterator[Slip]:
    """Yield the place and the question of every likely slip; ``said`` is the file as it was written."""
    yield from _chases(shop)
    yield from _quoins(shop)
    yield from _wood(shop, places)
    yield from _presses(shop, said)


def _chases(shop: Shop) -> Iterator[Slip]:
    for n, chase in enumerate(chase for chase in shop.chases if not chase.bed):
        if chase.height > chase.width:
            yield (
                ("chase", n, "inside_height"),
                f"“{chase.name}” is higher than wide. Does it stand so in the press, or are the two exchanged?",
            )
        if chase.clear_corners * 4 > min(chase.width, chase.height):
            yield ("chase", n, "clear_corners"), "that is much of the chase. Is it meant for each corner?"
        if chase.weight:
            around = 2 * (chase.width + chase.height) / POINTS_PER_INCH
            if not _LIGHT / 4 <= chase.weight / around <= _HEAVY:
                yield ("chase", n, "weight"), f"{write_weight(chase.weight)} is odd for a chase of that size. Is it so?"


def _quoins(shop: Shop) -> Iterator[Slip]:
    longest = max((max(chase.width, chase.height) for chase in shop.chases), default=0.0)
    for n, quoin in enumerate(shop.quoins):
        if quoin.closed > _THICK_QUOIN:
            yield (
                ("quoin", n, "closed"),
                f"{write_length(quoin.closed)} is very thick for a quoin that is shut. Is it so?",
            )
        if quoin.length > min(_LONG_QUOIN, longest):
            yield ("quoin", n, "length"), f"{write_length(quoin.length)} is very long for a quoin. Is it so?"
        if quoin.travel > quoin.closed + PICA:
            yield ("quoin", n, "travel"), "it would open to more than twice its thickness. Is it so?"
        if quoin.turn and quoin.turn > quoin.travel:
            yield ("quoin", n, "turn"), "a quarter turn would open it past the end of its travel. Is it so?"
        if quoin.span < quoin.length:
            yield ("quoin", n, "span"), "it serves less of a side than it is long. Is it so?"


def _wood(shop: Shop, places: Mapping[Material, Path]) -> Iterator[Slip]:
    inside = max((max(chase.width, chase.height) for chase in shop.chases), default=0.0)
    furniture = min((m.thickness for m in shop.stock if m.kind == "furniture"), default=0.0)
    asked: set[tuple[Path, str]] = set()
    for material, count in shop.pieces.items():
        where, size = places[material], size_words(material.thickness, material.length)
        lies = shop.kept_as.get(material, material)
        question = ""
        if material.length > inside:
            question = f"{write_length(material.length)} is longer than any chase is inside. Is it so?"
        elif material.kind == "reglet" and furniture and material.thickness > furniture:
            question = f"{write_length(material.thickness)} of reglet is thicker than the thinnest furniture. Is it so?"
        elif material.thickness > _WIDE_FURNITURE:
            question = f"{write_length(material.thickness)} is very wide for one piece. Is it so?"
        elif material.thickness > material.length and "pieces" in where:
            question = f"{size} is wider than long. Are the two exchanged?"
        elif abs(lies.thickness - material.thickness) > _WORN_BY:
            question = (
                f"a piece of {write_length(lies.thickness)} that measures {write_length(material.thickness)} is more "
                "than worn. Is it so?"
            )
        elif count > _MANY:
            question = f"{count} of {size} is a great many. Is it so?"
        elif material.kind == "reglet" and (" in" in str(where[-1]) and " to " in str(where[-1])):
            question = "a range in inches has only every whole inch in it. Are picas meant?"
        if question and (where[:2], question) not in asked:
            asked.add((where[:2], question))
            yield where, question


def _presses(shop: Shop, said: Mapping[str, Any]) -> Iterator[Slip]:
    if "placing" not in said and not shop.presses:
        yield (
            ("placing",),
            "nothing is said of where forms stand, so the middle is taken, with the guides at the bottom and the left. "
            "Is it so?",
        )
    for where, custom in (
        (("placing",), shop.placing),
        *((("press", n), press.placing) for n, press in enumerate(shop.presses)),
    ):
        if custom.bite > _FAR_BITE:
            yield (
                (*where, "bite"),
                f"grippers that come {write_length(custom.bite)} over the sheet take much. Is it so?",
            )
        if custom.tolerance > _COARSE:
            yield (*where, "tolerance"), f"{write_length(custom.tolerance)} is far off for a form. Is it so?"
    for n, press in enumerate(shop.presses):
        for chase in shop.chases_of(press.name):
            if press.usable and (press.usable[0] > chase.width or press.usable[1] > chase.height):
                yield (
                    ("press", n, "usable_width"),
                    f"it would print more than the inside of “{chase.name}”. Is it so?",
                )
    held = {name for press in shop.presses for name in press.chases}
    for n, chase in enumerate(shop.chases):
        if shop.presses and chase.name not in held:
            yield ("chase", n, "name"), f"no press takes the chase “{chase.name}”. Is one to name it?"
