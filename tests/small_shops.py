"""Small shops for tests of the wider solver: seeded, irregular, half of them scarce; a form and a chase to each."""

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
