"""Cases that several tests share: seeded random lock-ups to choose, easy and hopeless ones alike; a pressed form."""

from __future__ import annotations

import dataclasses
import random
from collections.abc import Mapping
from typing import Any

from stonework.form import Form
from stonework.pressing import Bed, PressedForm, Spring
from stonework.shop import Chase, Material, Quoin, Shop

PICA = 12.0
INCH = 1 / 0.013837

TRADE_CHASES = ((5, 8), (6.5, 10), (8, 12), (9, 13), (10, 15), (12, 18))  # inches
FURNITURE_WIDTHS = (2, 3, 4, 5, 6, 8, 10)  # picas
FURNITURE_LENGTHS = (10, 15, 20, 25, 30, 40, 50, 60)  # picas
REGLET_THICKNESSES = (6.0, 12.0)  # points
REGLET_LENGTHS = range(10, 61)  # picas
SOLID_SIDES = (("bottom", "left"), ("bottom", "right"), ("top", "left"), ("top", "right"))
ARRANGEMENTS = (
    "pinwheel-clockwise",
    "pinwheel-anticlockwise",
    "top-and-bottom-through",
    "left-and-right-through",
)


@dataclasses.dataclass(frozen=True)
class Case:
    """One call of ``choose_lockup``: its three parts and its options. Lengths are points."""

    seed: int
    form: Form
    chase: Chase
    shop: Shop
    options: Mapping[str, Any]

    def fuller(self, times: int) -> Case:
        """Return the same case with ``times`` as many of every size in the cabinet."""
        stock = {size: count * times for size, count in self.shop.stock.items()}
        return dataclasses.replace(self, shop=dataclasses.replace(self.shop, stock=stock))


def random_case(seed: int) -> Case:
    """Return the case of that seed: an ample cabinet for even seeds, a scarce one for odd."""
    rng = random.Random(seed)
    chase = _chase(rng)
    form = _form(rng, chase)
    quoins = [_quoin(rng, name, form) for name in ("first", "second")]
    stock = _scarce(rng) if seed % 2 else _ample(rng)
    shop = Shop(name="Breakwater evening school", chases=[chase], stock=stock, quoins=quoins)
    options: dict[str, Any] = {"solid": rng.choice(SOLID_SIDES)}
    if rng.random() < 0.3:
        options["quoin"] = quoins[1]
    if rng.random() < 0.3:
        options["target"] = (
            (chase.width - form.width) / 2 + rng.uniform(-40, 40),
            (chase.height - form.height) / 2 + rng.uniform(-40, 40),
        )
    if rng.random() < 0.3:
        options["tolerance"] = rng.choice((0.0, 1.5, 3.0, 10.0, 24.0))
    if rng.random() < 0.3:
        options["arrangement"] = rng.choice(ARRANGEMENTS)
    if rng.random() < 0.1:
        options["clear"], options["unbacked"] = rng.choice(((0.0, 6.0), (2.25, 9.5), (6.0, 12.0)))
    return Case(seed, form, chase, shop, options)


def _chase(rng: random.Random) -> Chase:
    if rng.random() < 0.75:
        width, height = (side * INCH for side in rng.choice(TRADE_CHASES))
    else:
        width, height = rng.uniform(300, 900), rng.uniform(300, 900)
    if rng.random() < 0.5:
        width, height = height, width
    return Chase("chase", width, height)


def _form(rng: random.Random, chase: Chase) -> Form:
    """From a small card to nearly the whole chase; one in twelve is larger than the chase takes."""
    share = 1.05 if rng.random() < 1 / 12 else rng.choice((0.6, 0.8, 0.93))
    longest = rng.choice((40, 50, 61)) * PICA  # no wood backs more than the last
    grid = rng.choice((PICA, 1.0, 0.01, 1e-6))
    width, height = (
        grid * round(min(side * rng.uniform(0.2, share), longest) / grid) for side in (chase.width, chase.height)
    )
    return Form(width, height)


def _quoin(rng: random.Random, name: str, form: Form) -> Quoin:
    travel = rng.choice((6.0, 12.0, 15.0, 18.0, 24.0, round(rng.uniform(6, 24), 2)))
    reserve = rng.choice((0.0, 2.0, round(rng.uniform(0, travel / 3), 2)))
    length = rng.choice((36.0, 48.0, 72.0, 96.0, 120.0, rng.uniform(36, 120)))
    if rng.random() < 0.08:
        length = min(form.width, form.height) * rng.uniform(0.9, 1.3)
    return Quoin(
        name=name,
        length=length,
        closed=rng.choice((18.0, 21.0, 24.0, 30.0, round(rng.uniform(18, 30), 2))),
        travel=travel,
        reserve=reserve,
        rest=rng.choice((0.0, (travel - reserve) / 2, rng.uniform(0, travel - reserve))),
        gap=rng.choice((0.0, 6.0, 12.0, 36.0)),
        span=rng.choice((96.0, 144.0, 216.0, rng.uniform(60, 300))),
    )


def _sizes(rng: random.Random) -> list[Material]:
    """The trade's sizes, and in one cabinet of four some odd ones besides."""
    sizes = [
        Material("furniture", width * PICA, length * PICA) for width in FURNITURE_WIDTHS for length in FURNITURE_LENGTHS
    ]
    reglets = [*REGLET_THICKNESSES, *([18.0] if rng.random() < 0.25 else [])]
    sizes += [Material("reglet", thick, length * PICA) for thick in reglets for length in REGLET_LENGTHS]
    if rng.random() < 0.25:
        sizes += [
            Material("furniture", (width + 0.5) * PICA, (length + 0.5) * PICA)
            for width in FURNITURE_WIDTHS[:3]
            for length in FURNITURE_LENGTHS
        ]
        sizes += [Material("reglet", 2.7, length * PICA) for length in REGLET_LENGTHS[::3]]
    return sizes


def _ample(rng: random.Random) -> dict[Material, int]:
    """Enough of everything; in one cabinet of eight only narrow sizes, so that many of one are wanted."""
    sizes = _sizes(rng)
    if rng.random() < 1 / 8:
        narrow = rng.choice((24.0, 36.0, 48.0))
        lengths = rng.sample(sorted({size.length for size in sizes}), 24)
        sizes = [size for size in sizes if size.thickness <= narrow and size.length in lengths]
    return {size: rng.randint(6, 30) for size in sizes}


def _scarce(rng: random.Random) -> dict[Material, int]:
    """A few of each size, some sizes used up and some missing; now and then hardly anything."""
    kept, most = rng.choice(((1.0, 2), (0.9, 4), (0.7, 3), (0.7, 3), (0.5, 4), (0.3, 3)))
    return {size: rng.randint(0, most) for size in _sizes(rng) if rng.random() < kept}


def two_by_two(width=288.0, height=432.0, *, bottom=30.0, left=15.0, top=1500.0, right=1500.0) -> PressedForm:
    """Return a form solid at the bottom and left, with two quoins a quarter of the side from the middle on each other.

    Its quoins by number: top left and right, right lower and upper. By default it is the model's case A.
    """
    return PressedForm(
        width,
        height,
        (Bed("bottom", bottom), Bed("left", left)),
        (
            Spring("top", -width / 4, top),
            Spring("top", width / 4, top),
            Spring("right", -height / 4, right),
            Spring("right", height / 4, right),
        ),
    )
