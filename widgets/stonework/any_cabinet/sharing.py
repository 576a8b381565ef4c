"""The cabinet shared among several sides."""

from __future__ import annotations

from collections.abc import Sequence

from stonework.any_cabinet.courses import Offer
from stonework.any_cabinet.dealing import Course, Wish, deal
from stonework.any_cabinet.question import Key, Question
from stonework.any_cabinet.sides import AnySide
from stonework.any_cabinet.stacks import Stack

_TRIES = 12  # before every way is tried


def dealt_to(q: Question, stacks: Sequence[tuple[AnySide, Stack]]) -> list[list[tuple[Offer, Course]]] | None:
    """Deal the cabinet to some sides' stacks, each course no longer than its depth allows; ``None`` if it can't be."""
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
    return _one_by_one(q, stacks)


def _one_by_one(q: Question, stacks: Sequence[tuple[AnySide, Stack]]) -> list[list[tuple[Offer, Course]]] | None:
    """Try every way to give single sticks of wood to the courses that reach further where they lie deeper."""
    wishes = [list(stack.wishes) for _, stack in stacks]
    left = {key: dict(lengths) for key, lengths in q.cabinet.items()}
    deep = [n for n, (side, _) in enumerate(stacks) if "stepped" in side.ends]
    singles = {
        n: tuple(slot for slot, offer in enumerate(stacks[n][1].inner) if offer.wooden and offer.ends == 1)
        for n in deep
    }
    depths = {n: sum(o.thickness for slot, o in enumerate(stacks[n][1].inner) if slot not in singles[n]) for n in deep}

    def lay(at: int, waiting: tuple[int, ...], depth: int, shortest: int) -> list[list[tuple[Offer, Course]]] | None:
        if not waiting:
            if at + 1 == len(deep):
                return _dealt(q, stacks, wishes)
            return lay(at + 1, singles[deep[at + 1]], depths[deep[at + 1]], 0)
        n = deep[at]
        side, stack = stacks[n]
        tried = set()
        for slot in waiting:
            offer, wish = stack.inner[slot], stack.wishes[slot]
            if (offer, wish) in tried:
                continue
            tried.add((offer, wish))
            there = left[offer.key]
            for length in sorted(there):
                if there[length] and max(wish.low, shortest) <= length <= min(wish.high, side.longest(depth)):
                    there[length] -= 1
                    wishes[n][slot] = Wish(length, length)
                    others = tuple(other for other in waiting if other != slot)
                    found = lay(at, others, depth + offer.thickness, length)
                    if found is not None:
                        return found
                    there[length] += 1
                    wishes[n][slot] = wish
        return None

    return lay(0, singles[deep[0]], depths[deep[0]], 0) if deep else None


def _dealt(
    q: Question, stacks: Sequence[tuple[AnySide, Stack]], wishes: Sequence[Sequence[Wish]]
) -> list[list[tuple[Offer, Course]]] | None:
    wanted: dict[Key, list[tuple[int, int, Wish]]] = {}
    for n, (_, stack) in enumerate(stacks):
        for slot, offer in enumerate(stack.offers):
            wanted.setdefault(offer.key, []).append((n, slot, wishes[n][slot]))
    found: list[list[tuple[Offer, Course]]] = [
        [(offer, Course(offer.key, ())) for offer in s.offers] for _, s in stacks
    ]
    for key, these in wanted.items():
        given = deal(q.cabinet[key], [wish for _, _, wish in these])
        if given is None:
            return None
        for (n, slot, _), lengths in zip(these, given, strict=True):
            found[n][slot] = (found[n][slot][0], Course(key, lengths))
    return found
