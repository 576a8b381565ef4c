"""Small shops for tests of the solver: seeded, irregular, scarce, or cut to the limits; a form and a chase to each."""

from __future__ import annotations

import random
from typing import NamedTuple

from stonework.form import Form
from stonework.shop import Chase, Material, Quoin, Shop


class Small(NamedTuple):
    """One question: a form in a chase, where it is wanted, and a shop of a few odd sizes."""

    form: Form
    chase: Chase
    shop: Shop
    target: tuple[float, float]
    tolerance: float
    solid: tuple[str, str]


def small(seed: int) -> Small:
    """Return the question of a seed; odd seeds have scarce cabinets."""
    draw = random.Random(seed)
    form = Form(draw.choice((96.0, 120.0, 150.0, 180.0)), draw.choice((84.0, 108.0, 132.0)))
    chase = Chase("small", form.width + draw.randint(96, 190), form.height + draw.randint(90, 170) + 0.35)
    lengths = [draw.choice((12, 6)) * draw.randint(4, 15) * 1.0 for _ in range(4)]
    lengths += [round(draw.choice((form.width, form.height)) + draw.choice((-9, -3, 0, 14, 40)), 1) for _ in range(3)]
    stock: dict[Material, int] = {}
    for _ in range(9 if seed % 2 else 14):
        thickness = draw.choice((12.0, 18.0, 24.0, 35.5, 36.0, 48.0))
        stock[Material("furniture", thickness, draw.choice(lengths))] = draw.randint(1, 2 if seed % 2 else 6)
    for _ in range(6):
        stock[Material("reglet", draw.choice((6.0, 12.0)), draw.choice(lengths))] = draw.randint(1, 3)
    metal = {Material("metal", 24.0, draw.choice((60.0, 84.0, 96.0, 120.0))): 2} if draw.random() < 0.4 else {}
    strips = {Material("lead", 2.0, draw.choice((84.0, 96.0, 120.0))): 3} if draw.random() < 0.4 else {}
    quoins = [
        Quoin(
            name,
            length=draw.choice((36.0, 54.0, 96.0)),
            closed=draw.choice((18.0, 20.5)),
            travel=draw.choice((8.0, 12.0)),
            reserve=3.0,
            rest=draw.choice((1.0, 3.0)),
            gap=draw.choice((6.0, 12.0)),
            span=draw.choice((72.0, 144.0)),
            bears_on=draw.choice(("reglet", "any wood")),
            count=draw.choice((None, None, 2, 3)),
        )
        for name in ("one", "other")
    ]
    shop = Shop("small", (chase,), stock, quoins, metal=metal, strips=strips)
    target = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
    solid = draw.choice((("bottom", "left"), ("top", "right")))
    return Small(form, chase, shop, target, draw.choice((3.0, 6.0)), solid)


def tight(seed: int) -> Small:
    """Return a nearly square form close to its chase and half a dozen sizes, cut to the limits of their reach."""
    draw = random.Random(seed)
    width = draw.choice((120.0, 121.5, 130.01))
    height = width + draw.choice((0.0, 0.0, -3.0, 2.5))
    chase = Chase("tight", *(side + draw.choice((60.0, 66.0, 72.0, 75.0)) for side in (width, height)))
    limits, rows = [], [30.0, 48.0, 50.01]
    for side, inside in ((width, chase.width), (height, chase.height)):
        near = draw.choice((24.0, 30.0, 36.0))  # as solid wood may well make a gap
        # What leaves 3 or 6 points of the form at either end, and what stops 3 short of the chase.
        limits += [side - 6, side - 9, side - 12, side + near - 6, inside - near - 6, inside - 6]
        # What fits between blocked ends, what may be shifted to fit, and what fits in the chase.
        rows += [side / 2, side - 6, side + side / 3 - 6, side + 2 * near - 6]
    row = draw.choice(rows) + draw.choice((-0.01, 0.0, 0.01))
    limit, at_most = (draw.choice(limits) + draw.choice((-0.01, 0.0, 0.0, 0.01)) for _ in range(2))
    usual = min(width, height) - 6  # suits most sides
    lengths = [usual, max(row, usual), limit]
    sizes = [Material("reglet", draw.choice((4.5, 6.0, 12.0)), length) for length in lengths]
    lengths.append(at_most)
    sizes += [Material("furniture", draw.choice((12.0, 24.0, 36.0, 48.0)), draw.choice(lengths)) for _ in range(2)]
    stock = {size: draw.randint(2, 3) if size.kind == "reglet" else draw.randint(1, 2) for size in sizes}
    quoin = Quoin(
        "tight", row, closed=18.0, travel=12.0, reserve=2.0, rest=3.5, gap=6.0, span=draw.choice((60.0, 130.0, 140.0))
    )
    solid = draw.choice((("bottom", "left"), ("bottom", "right"), ("top", "left"), ("top", "right")))
    target = ((chase.width - width) / 2, (chase.height - height) / 2)
    shop = Shop("tight", (chase,), stock, (quoin,))
    return Small(Form(width, height), chase, shop, target, draw.choice((6.0, 12.0)), solid)
