"""The set-packing model: for every kind of task as many choices as it has people, and nothing taken twice.

It serves twice. With lockups as its choices it finds a plan; with cells, which hold all lockups there are, a bound.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from typing import NamedTuple

from stonework.planning.highs import Program
from stonework.planning.things import Thing

_WIDE = 3000  # variables; above that the shifts are taken together, which is quicker and still a bound
_DEAR = 4.0  # pieces that one thing more than is there is worth, while prices are sought
_NOTHING = 1e-6


class Choice(NamedTuple):
    """What one person of a kind may be given: its pieces, what it takes, and how many changes it makes in the job."""

    kind: int
    count: int
    uses: Mapping[Thing, int]
    changes: int = 0


class Packed(NamedTuple):
    """Choices by their numbers, with their shift, or ``None`` if none were found; what they cost, and a bound to that.

    ``extra`` is how many things are missing and how many changes are made, ``largest`` the most pieces of one choice
    and ``pieces`` all together. ``split`` says whether the shifts were kept apart.
    """

    chosen: list[tuple[int, int]] | None
    extra: int
    largest: int
    pieces: int
    impossible: bool = False
    split: bool = True


class Packing:
    """Choices for kinds of which there are so many people; things of which there are so many in every shift.

    ``lent`` are the things of which more may be had, each at the price of one change in a job. ``quoins`` is how many
    there are of all patterns, if that is known.
    """

    def __init__(
        self,
        many: Sequence[int],
        there: Mapping[Thing, int],
        lent: Collection[Thing] = (),
        quoins: int | None = None,
    ) -> None:
        self._many, self._there, self._lent, self._quoins = many, there, lent, quoins

    def best(
        self,
        choices: Sequence[Choice],
        shifts: int = 1,
        largest: int | None = None,
        stop: Callable[[], bool] | None = None,
        start: Sequence[tuple[int, int]] | None = None,
    ) -> Packed:
        """Return the best: least extra, then the least ``largest`` from the one given on, then the fewest pieces."""
        split = shifts * len(choices) <= _WIDE or shifts == 1
        free = bool(self._lent) or any(choice.changes for choice in choices)
        counts = sorted({choice.count for choice in choices})
        least = max(
            (
                min((choice.count for choice in choices if choice.kind == kind), default=0)
                for kind in range(len(self._many))
            ),
            default=0,
        )
        levels = [counts[-1]] if free else [n for n in counts if n >= max(least, largest or 0)]
        for level in levels:
            allowed = [n for n, choice in enumerate(choices) if choice.count <= level]
            if len({choices[n].kind for n in allowed}) < len(self._many):
                continue
            found = self._solve(choices, allowed, shifts if split else 1, 1 if split else shifts, stop, start)
            if found is not None:
                return found._replace(largest=found.largest if free else level, split=split)
        return Packed(None, 0, 0, 0, impossible=True, split=split)

    def _solve(
        self,
        choices: Sequence[Choice],
        allowed: Sequence[int],
        shifts: int,
        times: int,
        stop: Callable[[], bool] | None,
        start: Sequence[tuple[int, int]] | None,
    ) -> Packed | None:
        """Return the packing of fewest pieces, nothing if it's sure that there is none; every thing ``times`` over."""
        program = Program()
        heavy = 1 + sum(
            many * max(choices[n].count for n in allowed if choices[n].kind == kind)
            for kind, many in enumerate(self._many)
        )
        at: dict[int, tuple[int, int]] = {}
        for shift in range(shifts):
            for n in allowed:
                choice = choices[n]
                at[program.variable(choice.count + heavy * choice.changes, self._many[choice.kind])] = n, shift
        for kind, many in enumerate(self._many):
            program.row({v: 1 for v, (n, _) in at.items() if choices[n].kind == kind}, many, many)
        needs: dict[tuple[Thing, int], dict[int, float]] = {}
        for v, (n, shift) in at.items():
            for thing, used in choices[n].uses.items():
                needs.setdefault((thing, shift), {})[v] = used
        extra: dict[int, int] = {}
        for (thing, _), terms in needs.items():
            if thing in self._lent:
                lacking = program.variable(heavy)
                terms = {**terms, lacking: -1}
                extra[lacking] = 1
            program.row(terms, high=times * self._there[thing])
        if self._quoins is not None:  # two sides need a quoin each, whatever their patterns
            for shift in range(shifts):
                program.row({v: 2 for v, (_, s) in at.items() if s == shift}, high=times * self._quoins)
        for shift in range(1, shifts):  # one shift is as good as another: the fuller first
            sides = {v: 1 if s == shift - 1 else -1 for v, (_, s) in at.items() if s in (shift - 1, shift)}
            program.row(sides, low=0)
        known = self._known(start, at, extra, choices) if start is not None and not extra else None
        solved = program.least(stop, start=known)
        if solved.none:
            return None
        whole = int(solved.bound)
        bound = (whole // heavy, 0, whole % heavy)
        if solved.values is None:
            return Packed(None, *bound)
        chosen = [at[v] for v in at for _ in range(solved.values[v])]
        return Packed(chosen, *bound)

    def prices(self, choices: Sequence[Choice], shifts: int = 1) -> dict[Thing, float]:
        """Return what one more of each thing that is short would save, in pieces, if people could share lockups."""
        program = Program()
        at = [program.variable(choice.count) for choice in choices]
        for kind, many in enumerate(self._many):
            program.row({v: 1 for v, choice in zip(at, choices, strict=True) if choice.kind == kind}, many, many)
        needs: dict[Thing, dict[int, float]] = {}
        for v, choice in zip(at, choices, strict=True):
            for thing, used in choice.uses.items():
                needs.setdefault(thing, {})[v] = used
        for thing, terms in needs.items():
            program.row({**terms, program.variable(_DEAR): -1}, high=shifts * self._there[thing])
        found = program.prices()[len(self._many) :]
        return {thing: price for thing, price in zip(needs, found, strict=True) if price > _NOTHING}

    @staticmethod
    def _known(
        start: Sequence[tuple[int, int]],
        at: Mapping[int, tuple[int, int]],
        extra: Mapping[int, int],
        choices: Sequence[Choice],
    ) -> list[int] | None:
        """Return a packing that is known as the values of the variables, the fuller shifts first."""
        size = Counter(shift for _, shift in start)
        order = {shift: n for n, shift in enumerate(sorted(size, key=lambda shift: -size[shift]))}
        many = Counter((n, order[shift]) for n, shift in start)
        return [many[where] for where in at.values()] if set(many) <= set(at.values()) else None
