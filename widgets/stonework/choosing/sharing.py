"""The cabinet shared among several sides."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice, product

from stonework.choosing.courses import Offer
from stonework.choosing.dealing import Course, Unsure, Wish, deal
from stonework.choosing.question import Key, Question
from stonework.choosing.sides import AnySide
from stonework.choosing.stacks import Stack

Dealt = list[list[tuple[Offer, Course]]]
"""For every side its courses, each with its sticks."""

_TRIES = 12  # before every order is tried
_ORDERS = 60  # tried at most


def dealt_to(q: Question, stacks: Sequence[tuple[AnySide, Stack]]) -> Dealt | None:
    """Deal the cabinet to some sides' stacks, each course no longer than its depth allows; ``None`` if it can't be.

    Raises ``Unsure`` where there are too many orders, or pairs of ends, to try.
    """
    wishes = [list(stack.wishes) for _, stack in stacks]
    for _ in range(_TRIES):
        found = _dealt(q, stacks, wishes)
        if found is None:
            break
        fits = True
        for n, ((side, stack), courses) in enumerate(zip(stacks, found, strict=True)):
            over = side.too_long(courses[: len(stack.inner)])
            if over is not None:
                slot, longest = over
                wishes[n][slot] = wishes[n][slot]._replace(high=longest)
                fits = False
        if fits:
            return found
    if _dealt(q, stacks, [stack.wishes for _, stack in stacks]) is None:
        return None  # not even if they could lie anywhere
    for tries, orders in enumerate(product(*(list(_orders(side, stack)) for side, stack in stacks))):
        if tries == _ORDERS:
            raise Unsure
        found = _dealt(q, stacks, orders)
        if found is not None:
            return found
    return None


def _orders(side: AnySide, stack: Stack) -> Iterator[list[Wish]]:
    """Yield what a stack asks for with its single sticks of wood in every order, each no longer than its depth allows.

    They lie from the shortest to the longest, so what lies further out may be longer.
    """
    free = [slot for slot, offer in enumerate(stack.inner) if offer.wooden and offer.ends == 1]
    if "stepped" not in side.ends or not free:
        yield list(stack.wishes)
        return
    deep = sum(offer.thickness for slot, offer in enumerate(stack.inner) if slot not in free)
    alike: dict[tuple[Offer, Wish], list[int]] = {}
    for slot in free:
        alike.setdefault((stack.inner[slot], stack.wishes[slot]), []).append(slot)

    def lay(left: dict[tuple[Offer, Wish], int], depth: int, laid: list[Wish]) -> Iterator[list[Wish]]:
        if not any(left.values()):
            yield laid
            return
        for kind, number in left.items():
            (offer, wish), high = kind, side.longest(depth)
            if number and wish.low <= high:
                on = list(laid)
                on[alike[kind][-number]] = wish._replace(high=min(wish.high, high))
                yield from lay({**left, kind: number - 1}, depth + offer.thickness, on)

    yield from islice(lay({kind: len(slots) for kind, slots in alike.items()}, deep, list(stack.wishes)), _ORDERS + 1)


def _dealt(q: Question, stacks: Sequence[tuple[AnySide, Stack]], wishes: Sequence[Sequence[Wish]]) -> Dealt | None:
    wanted: dict[Key, list[tuple[int, int, Wish]]] = {}
    for n, (_, stack) in enumerate(stacks):
        for slot, offer in enumerate(stack.offers):
            wanted.setdefault(offer.key, []).append((n, slot, wishes[n][slot]))
    found: Dealt = [[(offer, Course(offer.key, ())) for offer in s.offers] for _, s in stacks]
    for key, these in wanted.items():
        given = deal(q.cabinet[key], [wish for _, _, wish in these])
        if given is None:
            return None
        for (n, slot, _), lengths in zip(these, given, strict=True):
            found[n][slot] = (found[n][slot][0], Course(key, lengths))
    return found
