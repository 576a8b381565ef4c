"""Questions to whole shops for tests of the solver: seeded, in three irregular shops and the school, half scarce."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

from small_shops import Small
from stonework.form import Form
from stonework.shop import Shop
from stonework.units import PICA

TESTS = Path(__file__).resolve().parent
FILES = (*sorted((TESTS / "shops").glob("*.toml")), TESTS.parent / "lessons" / "breakwater.shop.toml")


def whole(seed: int) -> Small:
    """Return the question of a seed: the shops take turns, and of every eight questions four find little wood."""
    draw = random.Random(seed)
    shop = Shop.load(FILES[seed % len(FILES)])
    if seed // len(FILES) % 2:
        shop = scarce(shop, draw)
    chase = draw.choice(shop.chases)
    form = Form(*(draw.randint(16, int(side / PICA * 2) - 20) * PICA / 2 for side in (chase.width, chase.height)))
    off = draw.choice((0.0, 0.0, 7.5, -12.0))
    target = ((chase.width - form.width) / 2 + off, (chase.height - form.height) / 2)
    solid = draw.choice((("bottom", "left"), ("bottom", "right"), ("top", "left")))
    return Small(form, chase, shop, target, draw.choice((3.0, 6.0)), solid)


def scarce(shop: Shop, draw: random.Random) -> Shop:
    """Return a shop after a class has been at its cabinet: half of the sizes are gone, and few of the rest are left."""
    left = {
        name: {m: min(n, draw.randint(1, 2)) for m, n in getattr(shop, name).items() if draw.random() < 0.5}
        for name in ("stock", "metal", "strips")
    }
    return replace(shop, **left)
