"""Why there is no lockup: what stands in the way, and what was tried and found to work.

What stands in the way is reckoned; whatever is said to help was answered by the same search, so it works when tried.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product

from stonework.choosing.answer import answer, generous
from stonework.choosing.building_up import blocks_round, outline_of
from stonework.choosing.question import ARRANGEMENTS, Question, ends_of
from stonework.choosing.search import EFFORT
from stonework.choosing.sides import AnySide
from stonework.form import Form
from stonework.lockup import SIDES, Lockup
from stonework.shop import Chase, Material, MaterialKind, Quoin, Shop
from stonework.units import write_length

_NEAR = 12.0  # points to either side of each place in which the form is tried
_FEW = 3  # more pieces than that nobody buys for one form

_Try = Callable[[Question], Lockup | None]


def reasons(q: Question, exhausted: bool, stop: Callable[[], bool] | None = None) -> Iterator[str]:
    """Yield what stands in the way, then what works, as it is found; ``exhausted`` says that there is no lockup.

    ``stop`` is asked again and again whether to give up; then ``Stopped`` is raised.
    """

    def tried(other: Question) -> Lockup | None:
        found, _ = answer(generous(other), EFFORT, stop)  # what is found here, whoever asks finds
        return found and found.lockup

    yield from tuple(obstacles(q)) or (_none(q, exhausted),)
    yield from _remedies(q, tried)
    yield from _lacking(q, tried)


def _none(q: Question, exhausted: bool) -> str:
    named = [name.replace("-", " ") for name, corners in ARRANGEMENTS.items() if q.corners == (corners,)]
    limits = [f"the corners arranged as {name}" for name in named]
    if not q.others and len(q.quoins) < len(q.shop.quoins):
        limits.append(f"the {_and([quoin.name for quoin in q.quoins])} quoin")
    so = f" with {_and(limits)}" if limits else ""
    if exhausted:
        return f"No lockup of this form can be made here{so} from what the cabinet has."
    return f"No lockup was found{so}; there may be one."


# --- what stands in the way -----------------------------------------------------------------------------------


def obstacles(q: Question) -> Iterator[str]:
    """Yield what no cabinet, or nothing in this one, gets round; where there is such a thing there is no lockup."""
    if q.form.width >= q.chase.width or q.form.height >= q.chase.height:
        larger = any(one.width > q.form.width and one.height > q.form.height for one in q.shop.chases)
        yield (
            f"The form, {_size(q.form)}, is too large for the {q.chase.name} chase, {_size(q.chase)} inside: "
            + ("it needs a larger chase." if larger else "and no chase of this shop is large enough.")
        )
        return
    quoins = tuple(dict.fromkeys((*q.quoins, *q.others)))
    counts = [quoin.count for quoin in quoins]
    if None not in counts and sum(filter(None, counts)) < len(q.quoin_sides):
        yield f"The shop has {_and([f'{one.count} of the {one.name}' for one in quoins])}; two sides need a quoin each."
        return
    bearing = {quoin: _bearing(q, quoin) for quoin in quoins}
    if not any(bearing.values()):
        wood = "reglet" if all(quoin.bears_on == "reglet" for quoin in quoins) else "wood"
        yield f"The cabinet lists no {wood}; the quoins need some on both faces."
        return
    small = [*_small_gaps(q, bearing), *_short_sides(q, quoins)]
    yield from small or _odd_lengths(q)


def _bearing(q: Question, quoin: Quoin) -> list[float]:
    """Return how thick what a quoin may bear on is."""
    kinds = ("reglet",) if quoin.bears_on == "reglet" else ("furniture", "reglet")
    return [m.thickness for m, there in q.shop.stock.items() if m.kind in kinds and there]


def _small_gaps(q: Question, bearing: Mapping[Quoin, Sequence[float]]) -> Iterator[str]:
    """Say which gaps are too small, with the form moved as far as it may be."""
    least = min(quoin.closed + 2 * min(wood) for quoin, wood in bearing.items() if wood)
    thinnest = min(m.thickness for m, there in q.shop.stock.items() if there)
    for side in SIDES:
        gap, most = max(0, q.aim(side)) / 100, q.gaps(side)[1] / 100
        if side in q.solid:
            if most < thinnest:
                yield f"The {side} gap, {write_length(gap)}, is too small for any wood."
        elif most < least:
            short = write_length(math.ceil((least - most) * 2) / 2)
            yield f"The {side} gap is {short} too small for wood, quoin and wood."


def _short_sides(q: Question, quoins: Iterable[Quoin]) -> Iterator[str]:
    """Say which sides are too short for any quoin."""
    shortest = min(quoins, key=lambda quoin: quoin.length)
    for side in q.quoin_sides:
        length = q.length(side) / 100
        if 2 * shortest.length > 3 * length:
            yield (
                f"The {side} side, {write_length(length)}, is too short for the {shortest.name} quoin, "
                f"{write_length(shortest.length)} long: one half as long again as its side, and more, rocks."
            )


def _odd_lengths(q: Question) -> Iterator[str]:
    """Say on which sides nothing is of a length that may lie against the form."""
    q = generous(q)
    odd: dict[str, list[str]] = {}
    for side in SIDES:
        ends = {ends_of(side, corners) for corners in q.corners}
        if not any(AnySide(q, side, these, {}).offers for these in ends):
            longest = q.length(side) + max(sum(q.reach(side, these).at(0)) for these in ends)
            shortest = q.length(side) - 2 * round(q.unbacked * 100)
            odd.setdefault(f"from {_length(shortest)} to {_length(longest)}", []).append(side)
    for lengths, sides in odd.items():
        yield (
            f"On the {_and(sides)} no stick of the cabinet, nor two end to end, may lie against the form: together "
            f"they must be {lengths} long, with no joint near an end of the form."
        )


# --- what would help ------------------------------------------------------------------------------------------


def _remedies(q: Question, tried: _Try) -> Iterator[str]:
    """Yield what works with the cabinet as it is."""
    yield from _other_quoins(q, tried)
    yield from _other_corners(q, tried)
    yield from _moved(q, tried)
    yield from _turned(q, tried)
    yield from _in_another_chase(q, tried)
    yield from _built_up(q, tried)


def _other_quoins(q: Question, tried: _Try) -> Iterator[str]:
    known = {*q.quoins, *q.others}
    for quoin in q.shop.quoins:
        if quoin not in known and tried(replace(q, quoins=(quoin,), others=())):
            yield f"It works with the {quoin.name} quoin."
            return
    if not known.issuperset(q.shop.quoins) and tried(replace(q, quoins=tuple(q.shop.quoins), others=())):
        yield "It works with whichever quoins are best."


def _other_corners(q: Question, tried: _Try) -> Iterator[str]:
    for name, corners in ARRANGEMENTS.items():
        if corners not in q.corners and tried(replace(q, corners=(corners,))):
            yield f"It works with the corners arranged as {name.replace('-', ' ')}."
            return


def _moved(q: Question, tried: _Try) -> Iterator[str]:
    """Say how far the form must stand from where it was wanted, if that helps."""
    near = min(max(q.tolerance, _NEAR), 4 * _NEAR)
    # With a wide tolerance little may run through a corner: so the form is tried in one place after another.
    steps = sorted(product((0, -2, 2), repeat=2), key=lambda step: abs(step[0]) + abs(step[1]))
    for right, up in steps:
        wanted = (q.target[0] + right * near, q.target[1] + up * near)
        lockup = tried(replace(q, target=wanted, tolerance=near))
        if lockup is None:
            continue
        x, y = round(lockup.form.x, 2), round(lockup.form.y, 2)
        if tried(replace(q, target=(x, y))) and (x, y) != q.target:
            moves = [
                f"{write_length(abs(by))} {word}"
                for by, word in (
                    (round(x - q.target[0], 2), "to the right" if x > q.target[0] else "to the left"),
                    (round(y - q.target[1], 2), "up" if y > q.target[1] else "down"),
                )
                if by
            ]
            yield f"It works with the form moved {_and(moves)} from where it was wanted."
            return


def _turned(q: Question, tried: _Try) -> Iterator[str]:
    turned = Form(q.form.height, q.form.width)
    if turned != q.form and tried(_standing_in(q, turned, q.chase)):
        yield "It works with the form turned a quarter."


def _in_another_chase(q: Question, tried: _Try) -> Iterator[str]:
    for chase in sorted(q.shop.chases, key=lambda chase: chase.width * chase.height):
        if chase != q.chase and tried(_standing_in(q, q.form, chase)):
            yield f"It works in the {chase.name} chase."
            return


def _built_up(q: Question, tried: _Try) -> Iterator[str]:
    """Say that it helps to build the form up to a block first, and to which."""
    for block in blocks_round(q.form, q.chase, q.shop, (*q.quoins, *q.others)):
        outline = outline_of(block)
        if tried(replace(_standing_in(q, outline, q.chase), shop=q.shop.without(block.materials))):
            yield f"It works with the form built up to a block of {_size(outline)} first."
            return


def _standing_in(q: Question, form: Form, chase: Chase) -> Question:
    """Return the question of another form or chase, the form as far off the middle."""
    x, y = (
        wanted - (inside - own) / 2
        for wanted, inside, own in (
            (q.target[0], q.chase.width, q.form.width),
            (q.target[1], q.chase.height, q.form.height),
        )
    )
    target = ((chase.width - form.width) / 2 + x, (chase.height - form.height) / 2 + y)
    return replace(q, form=form, chase=chase, target=target)


# --- what is lacking ------------------------------------------------------------------------------------------


def _lacking(q: Question, tried: _Try) -> Iterator[str]:
    """Say which few pieces more would do, if there are such: of one thickness, else of wood in all."""
    sound = [m for m in q.shop.stock if m not in q.shop.keep]
    thicknesses = sorted({(m.kind, m.thickness) for m in sound}, key=lambda one: (one[0] == "furniture", one[1]))
    best: Counter[Material] | None = None
    for these in (*[[one] for one in thicknesses], thicknesses):
        if best and len(these) > 1:
            break
        lacking = _used(q, _with(q.shop, _plenty(sound, these)), tried)
        if lacking and lacking.total() <= _FEW:
            lacking = _trimmed(q, lacking, tried)
            if best is None or lacking.total() < best.total():
                best = lacking
            if best.total() == 1:
                break
    if best:
        pieces = _and([_pieces(m, n) for m, n in sorted(best.items())])
        yield f"It works with {pieces} more than the cabinet has."


def _plenty(sound: Iterable[Material], thicknesses: Iterable[tuple[MaterialKind, float]]) -> dict[Material, int]:
    """Return a few pieces of every length that the shop lists in a kind, in some thicknesses."""
    lengths: dict[MaterialKind, set[float]] = {}
    for m in sound:
        lengths.setdefault(m.kind, set()).add(m.length)
    return {Material(kind, thick, length): _FEW for kind, thick in thicknesses for length in lengths[kind]}


def _used(q: Question, shop: Shop, tried: _Try) -> Counter[Material] | None:
    """Return which of another shop's pieces a lockup takes that this shop hasn't."""
    lockup = tried(replace(q, shop=shop))
    if lockup is None:
        return None
    return Counter(item.material for item in lockup.wood) - Counter(q.shop.stock)


def _trimmed(q: Question, lacking: Counter[Material], tried: _Try) -> Counter[Material]:
    """Leave out every piece that turns out not to be needed."""
    for material in list(lacking):
        while lacking[material]:
            fewer = lacking - Counter([material])
            if not fewer or tried(replace(q, shop=_with(q.shop, fewer))) is None:
                break
            lacking = fewer
    return lacking


def _with(shop: Shop, more: Mapping[Material, int]) -> Shop:
    return replace(shop, stock={**shop.stock, **{m: shop.stock.get(m, 0) + n for m, n in more.items()}})


# --- words ----------------------------------------------------------------------------------------------------


def _length(hundredths: int) -> str:
    return write_length(round(hundredths / 100, 1))


def _size(of: Form | Chase) -> str:
    return f"{write_length(of.width)} × {write_length(of.height)}"


_NUMBERS = ("no", "one", "two", "three")


def _pieces(material: Material, n: int) -> str:
    kind = material.kind if material.kind == "reglet" else "piece of furniture"
    if n > 1:
        kind = "reglets" if kind == "reglet" else "pieces of furniture"
    return f"{_NUMBERS[n]} {kind} {write_length(material.thickness)} × {write_length(material.length)}"


def _and(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
