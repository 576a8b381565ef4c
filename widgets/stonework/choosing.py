"""The solver: chooses furniture and reglet for a form, exactly.

It looks for the best lockup of one family (see ``choose_lockup``), best first. What a side would cost if the
cabinet were its alone is known exactly; so the search strays only where sides compete for the same pieces.

All reckoning is in whole hundredths of a point.
"""

from __future__ import annotations

import heapq
import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import chain, count, repeat, starmap
from operator import itemgetter
from typing import Any, NamedTuple

from stonework.form import Form
from stonework.lockup import (
    CLEAR,
    MOST_OF_ONE_SIZE,
    SIDES,
    TOLERANCE,
    UNBACKED,
    Block,
    Intent,
    Item,
    Lockup,
    PlacedForm,
    Side,
    along_x,
    lay,
    opposite,
)
from stonework.shop import Chase, Material, Quoin, Shop, WoodKind
from stonework.stacking import Sums
from stonework.units import write_length

SOLID: tuple[Side, Side] = ("bottom", "left")

# For each arrangement and side: do its pieces run through the corner at its low end, and at its high end?
# Low is left for the bottom and top, and down for the left and right.
ARRANGEMENTS: Mapping[str, Mapping[Side, tuple[bool, bool]]] = {
    "pinwheel-clockwise": {
        "bottom": (True, False),
        "left": (False, True),
        "top": (False, True),
        "right": (True, False),
    },
    "pinwheel-anticlockwise": {
        "bottom": (False, True),
        "left": (True, False),
        "top": (True, False),
        "right": (False, True),
    },
    "top-and-bottom-through": {
        "bottom": (True, True),
        "left": (False, False),
        "top": (True, True),
        "right": (False, False),
    },
    "left-and-right-through": {
        "bottom": (False, False),
        "left": (True, True),
        "top": (False, False),
        "right": (True, True),
    },
}

# A cost is one integer with four places, so that costs add and compare in the order they matter: pieces of
# wood, the form's distance from its target, the quoins' distance from rest, length of wood.
_PIECE, _ERROR, _OPENING = 1 << 96, 1 << 64, 1 << 32
_NEVER = 1 << 128


class NoLockup(ValueError):
    """No lockup of the family can be built; ``reasons`` says why in sentences, the most useful first.

    The reasons are found by asking the solver what would make it work, which takes longer than the answer
    itself: so they are worked out when first read.
    """

    def __init__(self, question: _Question) -> None:
        super().__init__()
        self._question = question

    @cached_property
    def reasons(self) -> tuple[str, ...]:
        """Say what stands in the way and what would help."""
        return tuple(_reasons(self._question))

    def __str__(self) -> str:
        return " ".join(self.reasons)


def choose_lockup(
    form: Form,
    chase: Chase,
    shop: Shop,
    *,
    quoin: Quoin | str | None = None,
    target: tuple[float, float] | None = None,
    tolerance: float = TOLERANCE,
    solid: tuple[Side, Side] = SOLID,
    clear: float = CLEAR,
    unbacked: float = UNBACKED,
    arrangement: str | None = None,
) -> Lockup:
    """Choose furniture, reglet and quoin openings for a form in a chase, from the shop's own cabinet.

    Exact over this family. Each corner belongs to one of its two sides (``ARRANGEMENTS``): that side's pieces
    run through it, the other's stop ``clear`` short. The two ``solid`` sides are filled by pieces that add up
    to the gap. On the other two lie any number of pieces, one reglet, a row of quoins and one reglet against
    the chase. No more than twelve of one size lie on a side. Every piece backs its side to within ``unbacked`` at
    each end.

    The best has the fewest pieces; then the form nearest its target; then the quoins nearest their resting
    openings; then the least length of wood. Distances are compared in whole hundredths of a point.

    All lengths are points. ``target`` is where the form's lower left corner should stand (the middle of the
    chase if not given), ``tolerance`` how far it may be off each way. ``quoin`` is one of the shop's, or its
    name (the shop's first if not given).

    Raises ``NoLockup`` if nothing works, and ``ValueError`` or ``KeyError`` for a question that makes no sense.
    """
    if target is None:
        target = ((chase.width - form.width) / 2, (chase.height - form.height) / 2)
    if not shop.quoins and quoin is None:
        raise ValueError("This shop has no quoins; a lockup needs them on two sides.")
    if quoin is None or isinstance(quoin, str):
        enough = [one for one in shop.quoins if one.count is None or one.count > 1]
        quoin = (enough or shop.quoins)[0] if quoin is None else shop.quoin(quoin)
    if arrangement is not None and arrangement not in ARRANGEMENTS:
        raise ValueError(f"“{arrangement}” isn't an arrangement; choose one of {', '.join(ARRANGEMENTS)}.")
    if len(solid) != 2 or {along_x(side) for side in solid if side in SIDES} != {True, False}:
        raise ValueError(
            f"The solid sides were given as {' and '.join(map(str, solid))}; they must be two that meet, such as "
            "bottom and left."
        )
    if not all(map(math.isfinite, target)):
        raise ValueError(f"The target was given as {target}; two numbers of points are needed.")
    for name, value in (("tolerance", tolerance), ("clear", clear), ("unbacked", unbacked)):
        if not (math.isfinite(value) and value >= 0):
            raise ValueError(f"The {name} was given as {value}; a number of points, 0 or more, is needed.")
    question = _Question(form, chase, shop, quoin, target, tolerance, tuple(solid), clear, unbacked, arrangement)
    lockup = question.answer()
    if lockup is None:
        raise NoLockup(question)
    return lockup


def lock_up(block: Block, chase: Chase, shop: Shop, **options: Any) -> Lockup:
    """Choose a lockup for a block, from what its own pieces leave in the cabinet; the block lies in its chase in it.

    ``options`` and what is raised are those of ``choose_lockup``.
    """
    left = Counter(shop.stock) - Counter(block.materials)
    rest = {material: left[material] for material in shop.stock}  # a size that is used up is still one that it lists
    outline = block.outline
    form = Form(round(outline.width, 2), round(outline.height, 2))
    lockup = choose_lockup(form, chase, replace(shop, stock=rest), **options)
    return replace(lockup, block=block.moved(lockup.form.x - outline.x, lockup.form.y - outline.y))


def _grid(points: float) -> int:
    """Return whole hundredths of a point."""
    return round(points * 100)


class _Thickness(NamedTuple):
    """All the cabinet's pieces of one kind and thickness: (length, count), shortest first, in hundredths."""

    kind: WoodKind
    thickness: int
    lengths: tuple[tuple[int, int], ...]


class _Row(NamedTuple):
    """A row of quoins on a side; ``start`` is in half hundredths from the form's corner."""

    quoins: int
    start: int
    length: int


class _Wood:
    """What the cabinet offers one side: the pieces of each thickness that reach, and what they must fill.

    ``opening`` is how much of the gap quoins may leave to wood or take themselves, ``rest`` what they would
    rather take; both are 0 on a solid side. A quoin side owes two reglets, one on each face of the quoins.
    """

    def __init__(
        self,
        thicknesses: Sequence[_Thickness],
        reaches: Sequence[tuple[int, int]],
        most: int,
        *,
        opening: int = 0,
        rest: int = 0,
        reglets: int = 0,
    ) -> None:
        self.reaches = reaches
        self.opening, self.rest, self.reglets = opening, rest, reglets
        self._thickness = [entry.thickness for entry in thicknesses]
        # The least length that any number of pieces of each thickness takes up, as far as it was asked for.
        self._shortest: list[list[int]] = [[0] for _ in thicknesses]
        self._longer: list[Iterator[int]] = []
        self._counts: list[int] = []
        for entry in thicknesses:
            fitting = self._fitting(entry.lengths)
            self._counts.append(min(sum(there for _, there in fitting), most // entry.thickness))
            self._longer.append(chain.from_iterable(starmap(repeat, fitting)))
        self._first_reglet = sum(entry.kind == "furniture" for entry in thicknesses)
        self._sums = Sums(self._thickness, self._counts, most, required=reglets, required_from=self._first_reglet)
        self._least: dict[tuple[int, int, int], int | None] = {}

    def _fitting(self, lengths: Sequence[tuple[int, int]]) -> list[tuple[int, int]]:
        """Return the lengths that reach, and how many of each may be used."""
        if len(self.reaches) == 1:
            ((shortest, longest),) = self.reaches
            return [(n, min(there, MOST_OF_ONE_SIZE)) for n, there in lengths if shortest <= n <= longest]
        sides = [sum(shortest <= n <= longest for shortest, longest in self.reaches) for n, _ in lengths]
        return [
            (n, min(there, MOST_OF_ONE_SIZE * many)) for (n, there), many in zip(lengths, sides, strict=True) if many
        ]

    def _length(self, position: int, pieces: int) -> int:
        """Return the least length that so many pieces of one thickness take up."""
        sums = self._shortest[position]
        while len(sums) <= pieces:
            sums.append(sums[-1] + next(self._longer[position]))
        return sums[pieces]

    def rivals(self, other: _Wood) -> bool:
        """Say whether two sides want some of the same lengths."""
        (low, high), (other_low, other_high) = self.reaches[0], other.reaches[0]
        return max(low, other_low) <= min(high, other_high)

    def most_of(self, position: int) -> int:
        """Return how many pieces of the thickness at this position reach."""
        return self._counts[position]

    def owed(self, position: int, owed: int, taken: int) -> int:
        """Return how many reglets are owed after taking some of the thickness at this position."""
        return owed if position < self._first_reglet else max(0, owed - taken)

    def rough(self, position: int, left: int) -> int:
        """Return a cost that filling what is left can't be below: all of it from the thickest pieces."""
        return -(-max(0, left - self.opening) // max(self._thickness[position:], default=1)) * _PIECE

    def fewest(self, position: int, left: int, owed: int) -> int | None:
        """Return the fewest pieces, of the thicknesses from this position on, that fill what is left."""
        return self._sums.fewest(position, left - self.opening, left, owed)

    def least(self, position: int, left: int, owed: int) -> int | None:
        """Return the least cost of filling what is left, as if the cabinet were this side's alone."""
        key = (position, left, owed)
        if key in self._least:
            return self._least[key]
        pieces = self.fewest(position, left, owed)
        best: int | None = None
        if pieces is not None and position == len(self._thickness):
            best = abs(left - self.rest) * _OPENING
        elif pieces is not None:
            size = self._thickness[position]
            for taken in range(min(self.most_of(position), pieces, left // size) + 1):
                rest_owed = self.owed(position, owed, taken)
                after = left - taken * size
                if self._sums.can(position + 1, after - self.opening, after, pieces - taken, rest_owed):
                    rest = self.least(position + 1, after, rest_owed)
                    cost = taken * _PIECE + self._length(position, taken) + rest
                    best = cost if best is None else min(best, cost)
        self._least[key] = best
        return best


class _Place(NamedTuple):
    """Where the form can stand, one way: the gaps on two opposite sides, and how far that is from the target."""

    gaps: Mapping[Side, int]
    error: int


class _Candidate(NamedTuple):
    """One arrangement with the form in one place: what each side of ``SIDES`` must fill, and with what."""

    arrangement: str
    gaps: Mapping[Side, int]
    rows: Mapping[Side, _Row]
    woods: tuple[_Wood, ...]
    fill: tuple[int, ...]
    error: int

    def competing(self) -> list[tuple[int, ...]]:
        """Return the sides, by their place in ``SIDES``, in groups that share no length and so don't compete."""
        groups: list[set[int]] = []
        for n, wood in enumerate(self.woods):
            rivals = [group for group in groups if any(wood.rivals(self.woods[other]) for other in group)]
            groups = [group for group in groups if group not in rivals] + [{n}.union(*rivals)]
        return [tuple(sorted(group)) for group in groups]


@dataclass(frozen=True)
class _Question:
    """Everything a lockup is chosen from; see ``choose_lockup``. Lengths are points as given."""

    form: Form
    chase: Chase
    shop: Shop
    quoin: Quoin
    target: tuple[float, float]
    tolerance: float
    solid: tuple[Side, ...]
    clear: float
    unbacked: float
    arrangement: str | None

    # --- what follows is in hundredths of a point -----------------------------------------------------

    @cached_property
    def _materials(self) -> dict[tuple[WoodKind, int, int], Material]:
        """The cabinet's own sizes by their rounded ones."""
        return {(m.kind, _grid(m.thickness), _grid(m.length)): m for m, there in self.shop.stock.items() if there > 0}

    @cached_property
    def _thicknesses(self) -> tuple[_Thickness, ...]:
        """The cabinet by thickness, in the order the search decides them: furniture first, thick first."""
        lengths: dict[tuple[WoodKind, int], dict[int, int]] = {}
        for m, there in self.shop.stock.items():
            if there > 0 and _grid(m.thickness) > 0:
                of = lengths.setdefault((m.kind, _grid(m.thickness)), {})
                of[_grid(m.length)] = of.get(_grid(m.length), 0) + there
        order = sorted(lengths, key=lambda key: (key[0] == "reglet", -key[1]))
        return tuple(_Thickness(*key, tuple(sorted(lengths[key].items()))) for key in order)

    @cached_property
    def lengths(self) -> list[int]:
        """Every length the cabinet has, shortest first."""
        return sorted({length for entry in self._thicknesses for length, _ in entry.lengths})

    @cached_property
    def _most(self) -> int:
        """The largest gap there can be."""
        width, height = self.chase.width - self.form.width, self.chase.height - self.form.height
        return max(0, _grid(width), _grid(height)) + 1

    def _places(self, side: Side) -> list[_Place]:
        """Return where the form can stand, one way, by what the pieces on this solid side can add up to."""
        chase, form = (self.chase.height, self.form.height) if along_x(side) else (self.chase.width, self.form.width)
        free, aim = _grid(chase) - _grid(form), _grid(self.target[along_x(side)])
        if side in ("top", "right"):
            aim = free - aim
        tolerance = _grid(min(self.tolerance, self.chase.width + self.chase.height))
        counts = [
            min(self._most // entry.thickness, sum(min(there, MOST_OF_ONE_SIZE) for _, there in entry.lengths))
            for entry in self._thicknesses
        ]
        sums = Sums([entry.thickness for entry in self._thicknesses], counts, self._most)
        return [
            _Place({side: gap, opposite(side): free - gap}, abs(gap - aim))
            for gap in sums.totals(aim - tolerance, min(aim + tolerance, free))
        ]

    def candidates(self) -> Iterator[tuple[int, _Candidate]]:
        """Yield every arrangement and place in which each side alone can be filled, cheapest first.

        With each comes a cost that it can't be below: its error and its fewest pieces.
        """
        if not self._thicknesses:
            return iter(())
        across, along = sorted(self.solid, key=along_x)  # left or right; bottom or top
        x_places, y_places = self._places(across), self._places(along)
        families: list[Iterator[tuple[int, _Candidate]]] = []
        for name in [self.arrangement] if self.arrangement else ARRANGEMENTS:
            rows: dict[Side, _Row] = {}
            for side in (side for side in SIDES if side not in self.solid):
                if row := self.row(self.along(side), ARRANGEMENTS[name][side]):
                    rows[side] = row
            if len(rows) < 2 or not self._there(rows, name):
                continue
            # Where the form stands in x says which pieces reach along the bottom and top, and y for the others.
            for lying, xs in self._by_wood(("bottom", "top"), name, rows, x_places):
                for standing, ys in self._by_wood(("left", "right"), name, rows, y_places):
                    woods = {**lying, **standing}
                    families.append(self._family(name, rows, woods, self._filled(woods, xs), self._filled(woods, ys)))
        return heapq.merge(*families, key=itemgetter(0))

    def _by_wood(
        self, sides: tuple[Side, Side], name: str, rows: Mapping[Side, _Row], places: Sequence[_Place]
    ) -> list[tuple[dict[Side, _Wood], list[_Place]]]:
        """Group places by the wood that reaches along two sides; places where none does are left out."""
        groups: dict[tuple[_Wood, ...], list[_Place]] = {}
        for place in places:
            woods = [self._wood(side, place.gaps, name, rows.get(side)) for side in sides]
            known = tuple(wood for wood in woods if wood is not None)
            if len(known) == len(sides):
                groups.setdefault(known, []).append(place)
        return [(dict(zip(sides, woods, strict=True)), there) for woods, there in groups.items()]

    def _wood(self, side: Side, gaps: Mapping[Side, int], name: str, row: _Row | None) -> _Wood | None:
        reach = self.reach(side, gaps, ARRANGEMENTS[name][side], row)
        if reach is None:
            return None
        # Reaches that let the same lengths in share one table.
        key = (bisect_left(self.lengths, reach[0]), bisect_right(self.lengths, reach[1]), row is not None)
        if key not in self._cabinet:
            quoins = {"opening": _grid(self.quoin.most_open), "rest": _grid(self.quoin.rest), "reglets": 2}
            self._cabinet[key] = _Wood(self._thicknesses, [reach], self._most, **(quoins if row else {}))
        return self._cabinet[key]

    @cached_property
    def _cabinet(self) -> dict[tuple[int, int, bool], _Wood]:
        return {}

    def _filled(self, woods: Mapping[Side, _Wood], places: Sequence[_Place]) -> list[tuple[int, _Place]]:
        """Return the places whose two gaps can be filled, each with the least that can cost, cheapest first."""
        filled: list[tuple[int, _Place]] = []
        for place in places:
            pieces = [
                woods[side].fewest(0, self.fill(side, gap), woods[side].reglets) for side, gap in place.gaps.items()
            ]
            if None not in pieces:
                filled.append((place.error * _ERROR + sum(n or 0 for n in pieces) * _PIECE, place))
        return sorted(filled, key=itemgetter(0))

    def fill(self, side: Side, gap: int) -> int:
        """Return how much of a gap is left to wood and to the quoins' opening."""
        return gap if side in self.solid else gap - _grid(self.quoin.closed)

    def _family(
        self,
        name: str,
        rows: Mapping[Side, _Row],
        woods: Mapping[Side, _Wood],
        xs: Sequence[tuple[int, _Place]],
        ys: Sequence[tuple[int, _Place]],
    ) -> Iterator[tuple[int, _Candidate]]:
        """Yield each pair of an x and a y, the cheapest pair first, looking no further ahead than it must."""
        heap = [(xs[0][0] + ys[0][0], 0, 0)] if xs and ys else []
        while heap:
            bound, i, j = heapq.heappop(heap)
            for after_i, after_j in ((i, j + 1), (i + 1, 0)) if j == 0 else ((i, j + 1),):
                if after_i < len(xs) and after_j < len(ys):
                    heapq.heappush(heap, (xs[after_i][0] + ys[after_j][0], after_i, after_j))
            x, y = xs[i][1], ys[j][1]
            gaps = {**x.gaps, **y.gaps}
            fill = tuple(self.fill(side, gaps[side]) for side in SIDES)
            yield bound, _Candidate(name, gaps, rows, tuple(woods[side] for side in SIDES), fill, x.error + y.error)

    def _there(self, rows: dict[Side, _Row], name: str) -> bool:
        """Shorten the longer row until the shop has as many quoins; say whether it has."""
        most = self.quoin.count
        while most is not None and sum(row.quoins for row in rows.values()) > most:
            side = max(rows, key=lambda side: rows[side].quoins)
            row = self.row(self.along(side), ARRANGEMENTS[name][side], rows[side].quoins - 1)
            if row is None:
                return False
            rows[side] = row
        return True

    def row(self, s: int, through: tuple[bool, bool], most: int | None = None) -> _Row | None:
        """Return the row of quoins for a side of length s, so many at most; ``None`` if the side is too short."""
        length, gap, clear = _grid(self.quoin.length), _grid(self.quoin.gap), _grid(self.clear)
        needed = math.ceil(s / _grid(self.quoin.span))
        for quoins in range(needed if most is None else most, 0, -1):
            row = quoins * length + (quoins - 1) * gap
            centred = start = s - row  # in half hundredths, as is start
            if not through[0]:
                start = max(start, 2 * clear)
            if not through[1]:
                start = min(start, 2 * (s - clear - row))
            # A shift of start - centred half hundredths may be at most a sixth of the side.
            if (through[0] or start >= 2 * clear) and 3 * abs(start - centred) <= s:
                return _Row(quoins, start, row)
        return None

    def reach(
        self, side: Side, gaps: Mapping[Side, int], through: tuple[bool, bool], row: _Row | None
    ) -> tuple[int, int] | None:
        """Return the shortest and longest piece that may lie on a side; ``None`` if none may."""
        low, high = self._room(side, gaps, through)
        cover_low, cover_high = self._cover(side, row)
        if through == (False, False):  # centred
            s = self.along(side)
            shortest, longest = max(s - 2 * cover_low, 2 * cover_high - s), high - low
        elif through[0] and through[1]:
            shortest, longest = cover_high - cover_low, high - low
        elif through[1]:
            shortest, longest = cover_high - low, high - low
        else:
            shortest, longest = high - cover_low, high - low
        if cover_low < low or cover_high > high or shortest > longest:
            return None
        return math.ceil(shortest), math.floor(longest)

    def kinds_within(self, reaches: Sequence[tuple[int, int]]) -> set[WoodKind]:
        """Return the kinds of wood that have a length within any of these reaches."""
        return {
            entry.kind
            for entry in self._thicknesses
            for length, _ in entry.lengths
            if any(shortest <= length <= longest for shortest, longest in reaches)
        }

    def reach_at_target(self, side: Side, name: str) -> tuple[int, int] | None:
        """Return the shortest and longest piece for a side with the form exactly where it is wanted."""
        left, bottom = _grid(self.target[0]), _grid(self.target[1])
        gaps: dict[Side, int] = {
            "left": left,
            "right": _grid(self.chase.width) - _grid(self.form.width) - left,
            "bottom": bottom,
            "top": _grid(self.chase.height) - _grid(self.form.height) - bottom,
        }
        through = ARRANGEMENTS[name][side]
        row = None if side in self.solid else self.row(self.along(side), through)
        return self.reach(side, gaps, through, row)

    def along(self, side: Side) -> int:
        """Return the form's own dimension along a side."""
        return _grid(self.form.width if along_x(side) else self.form.height)

    def _room(self, side: Side, gaps: Mapping[Side, int], through: tuple[bool, bool]) -> tuple[int, int]:
        """Return between which places on the side's own axis its pieces may lie."""
        before, after = (gaps["left"], gaps["right"]) if along_x(side) else (gaps["bottom"], gaps["top"])
        s, clear = self.along(side), _grid(self.clear)
        return clear - before if through[0] else clear, s + after - clear if through[1] else s - clear

    def _cover(self, side: Side, row: _Row | None) -> tuple[float, float]:
        """Return the stretch of the side's own axis that every piece must cover."""
        s, unbacked = self.along(side), _grid(self.unbacked)
        low, high = unbacked, s - unbacked
        if row is None:
            return low, high
        return min(low, row.start / 2), max(high, row.start / 2 + row.length)

    def answer(self) -> Lockup | None:
        """Return the best lockup, or ``None`` if there is none.

        Of all candidates, the one that may still cost least is looked into, just until it is seen to cost more.
        Candidates share their searches: the same sides often want the same.
        """
        waiting = self.candidates()
        nearest = next(waiting, None)
        searches: dict[tuple[tuple[int, int], ...], _Search] = {}
        heap: list[tuple[int, int, _Candidate, list[_Search]]] = []
        tie = count()
        while nearest or heap:
            while nearest and (not heap or nearest[0] <= heap[0][0]):
                bound, c = nearest
                heapq.heappush(heap, (bound, next(tie), c, self._searches(c, searches)))
                nearest = next(waiting, None)
            bound, order, c, parts = heapq.heappop(heap)
            now = c.error * _ERROR + sum(search.bound for search in parts)
            if now == bound:
                unsettled = next((search for search in parts if search.dealt is None), None)
                if unsettled is None:
                    return self._lay(c, [search.dealt or [] for search in parts])
                unsettled.go_on()
            if now < _NEVER:
                heapq.heappush(heap, (max(bound, now), order, c, parts))
        return None

    def _searches(self, c: _Candidate, known: dict[tuple[tuple[int, int], ...], _Search]) -> list[_Search]:
        """Return a search for each group of competing sides, sharing those already known."""
        parts: list[_Search] = []
        for sides in c.competing():
            key = tuple((id(c.woods[n]), c.fill[n]) for n in sides)
            if key not in known:
                woods, fill = [c.woods[n] for n in sides], [c.fill[n] for n in sides]
                known[key] = _Search(self._thicknesses, woods, fill, self._most)
            parts.append(known[key])
        return parts

    # --- from hundredths back to the stone -------------------------------------------------------------

    def _lay(self, c: _Candidate, dealt: Sequence[Sequence[Sequence[Sequence[int]]]]) -> Lockup:
        """Lay the lengths dealt: for each group of competing sides, thickness by thickness, side by side."""
        stacks: dict[Side, list[Material]] = {side: [] for side in SIDES}
        for sides, by_thickness in zip(c.competing(), dealt, strict=True):
            for entry, to_sides in zip(self._thicknesses, by_thickness, strict=True):
                for n, lengths in zip(sides, to_sides, strict=True):
                    stacks[SIDES[n]] += [self._materials[entry.kind, entry.thickness, length] for length in lengths]
        for stack in stacks.values():
            stack.sort(key=lambda m: (m.kind == "reglet", m.length, m.thickness))
        made = {side: sum(m.thickness for m in stacks[side]) for side in self.solid}
        x = made["left"] if "left" in made else self.chase.width - self.form.width - made["right"]
        y = made["bottom"] if "bottom" in made else self.chase.height - self.form.height - made["top"]
        form = PlacedForm(x, y, self.form.width, self.form.height)
        lockup = Lockup(self.chase, form, c.arrangement, (), Intent(*self.target, self.tolerance))
        items = [item for side in SIDES for item in self._lay_side(lockup, side, stacks[side], c)]
        return replace(lockup, items=tuple(items))

    def _lay_side(self, lockup: Lockup, side: Side, stack: list[Material], c: _Candidate) -> Iterator[Item]:
        gap, row = lockup.gap(side), c.rows.get(side)
        inner = stack if row is None else stack[:-1]
        near = 0.0
        for order, m in enumerate(inner, 1):
            yield self._lay_piece(lockup, side, order, m, near, c)
            near += m.thickness
        if row is None:
            return
        outer, order = stack[-1], len(inner) + 1
        for n in range(row.quoins):
            low = row.start / 200 + n * (self.quoin.length + self.quoin.gap)
            thickness, length = gap - outer.thickness - near, self.quoin.length
            item = lay(lockup.form, side, order, "quoin", thickness=thickness, length=length, low=low, near=near)
            yield replace(item, pattern=self.quoin.name)
        yield self._lay_piece(lockup, side, order + 1, outer, gap - outer.thickness, c)

    def _lay_piece(self, lockup: Lockup, side: Side, order: int, m: Material, near: float, c: _Candidate) -> Item:
        through = ARRANGEMENTS[c.arrangement][side]
        low, high = (v / 100 for v in self._room(side, c.gaps, through))
        cover_low, cover_high = (v / 100 for v in self._cover(side, c.rows.get(side)))
        if through[0] == through[1]:  # centred, as far as the chase and what it must cover allow
            start = (lockup.side_length(side) - m.length) / 2
            start = min(max(start, low, cover_high - m.length), high - m.length, cover_low)
        else:
            start = low if through[1] else high - m.length
        return lay(lockup.form, side, order, m.kind, thickness=m.thickness, length=m.length, low=start, near=near)


class _Node(NamedTuple):
    """A state of the search: thicknesses before ``position`` are dealt, this one to the sides in ``demand``.

    ``left`` and ``owed`` say what each side still has to fill, and how many reglets it still owes.
    """

    position: int
    demand: tuple[int, ...]
    left: tuple[int, ...]
    owed: tuple[int, ...]


class _Path(NamedTuple):
    """How a state was reached: what the thicknesses already dealt cost, and how many of each went where."""

    node: _Node
    spent: int
    dealt: tuple[tuple[int, ...], ...]


class _Search:
    """Fills the gaps of some sides that compete for the cabinet, best first, once it is asked.

    A state has decided, thickness by thickness and side by side, how many pieces go where. The least it will
    cost is reckoned in three steps, each sharper and slower than the one before, and each only when the state
    comes up: roughly; each side as if it were alone; the sides taken together.
    """

    _ROUGH, _ALONE, _TOGETHER = range(3)

    def __init__(
        self, thicknesses: Sequence[_Thickness], woods: Sequence[_Wood], fill: Sequence[int], most: int
    ) -> None:
        self._thicknesses, self._woods, self._fill, self._most = thicknesses, woods, fill, most
        self._dealer = _Dealer(thicknesses, [wood.reaches[0] for wood in woods])
        self._groups: dict[tuple[int, ...], _Wood] = {}
        self._heap: list[tuple[int, int, int, int, _Path]] = []
        self._seen: set[_Node] = set()
        self._tie = count()
        # The least the best filling can cost, as far as is known; _NEVER if there is none.
        self.bound = sum((w.fewest(0, f, w.reglets) or 0) * _PIECE for w, f in zip(woods, fill, strict=True))
        # The lengths each side gets in the best filling, thickness by thickness; None until it is found.
        self.dealt: list[list[list[int]]] | None = None
        root = _Path(_Node(0, (), tuple(fill), tuple(w.reglets for w in woods)), 0, ())
        self._push(self.bound, self._ROUGH, root)

    @cached_property
    def _lowest(self) -> int:
        """The cost of the best filling if every side had the cabinet to itself."""
        return sum(w.least(0, f, w.reglets) or 0 for w, f in zip(self._woods, self._fill, strict=True))

    def go_on(self) -> None:
        """Search until the best filling is found, or until it is seen to cost more than was known."""
        known = self.bound
        while self.bound == known:
            bound, _, _, sharpness, path = heapq.heappop(self._heap)
            node = path.node
            if node in self._seen:
                pass
            elif sharpness == self._ROUGH:
                alone = self._alone(path)
                self._push(None if alone is None else max(bound, alone), self._ALONE, path)
            # While a bound is still the lowest there was, no sides have been seen to compete.
            elif sharpness == self._ALONE and bound > self._lowest:
                together = self._together(path)
                self._push(None if together is None else max(bound, together), self._TOGETHER, path)
            elif node.position == len(self._thicknesses):
                self.dealt = [self._dealer.deal(position, demand) or [] for position, demand in enumerate(path.dealt)]
                return
            else:
                self._seen.add(node)
                for rough, after in self._steps(path):
                    self._push(max(bound, rough), self._ROUGH, after)
            self.bound = self._heap[0][0] if self._heap else _NEVER

    def _push(self, bound: int | None, sharpness: int, path: _Path) -> None:
        """Put a state in its place; ``None`` means that it leads nowhere. Among equals the furthest goes first."""
        if bound is not None:
            depth = path.node.position * len(self._woods) + len(path.node.demand)
            heapq.heappush(self._heap, (bound, -depth, next(self._tie), sharpness, path))

    def _so_far(self, path: _Path) -> int:
        """Return what a state has cost already."""
        node = path.node
        length = self._dealer.length(node.position, node.demand) if node.demand else 0
        return path.spent + sum(node.demand) * _PIECE + (length or 0)

    def _alone(self, path: _Path) -> int | None:
        """Return the least a state will cost, each side having the cabinet to itself; ``None`` if it can't be done."""
        node, cost = path.node, self._so_far(path)
        for n, wood in enumerate(self._woods):
            part = wood.least(node.position + (n < len(node.demand)), node.left[n], node.owed[n])
            if part is None:
                return None
            cost += part
        return cost

    def _together(self, path: _Path) -> int | None:
        """Return the least a state will cost, sides reckoned as one: all of them, and those across."""
        node, worst = path.node, 0
        everyone = tuple(range(len(self._woods)))
        for grouping in ((everyone,), (everyone[::2], everyone[1::2])):
            cost = 0
            for sides in filter(None, grouping):
                part = self._group(sides).least(
                    node.position + (max(sides) < len(node.demand)),
                    sum(node.left[n] for n in sides),
                    sum(node.owed[n] for n in sides),
                )
                if part is None:
                    return None
                cost += part
            worst = max(worst, cost)
        return self._so_far(path) + worst

    def _group(self, sides: tuple[int, ...]) -> _Wood:
        """Return several sides as one that fills all their gaps from the cabinet they share."""
        if sides not in self._groups:
            woods = [self._woods[n] for n in sides]
            self._groups[sides] = _Wood(
                self._thicknesses,
                [wood.reaches[0] for wood in woods],
                self._most * len(woods),
                opening=sum(wood.opening for wood in woods),
                rest=sum(wood.rest for wood in woods),
                reglets=sum(wood.reglets for wood in woods),
            )
        return self._groups[sides]

    def _steps(self, path: _Path) -> Iterator[tuple[int, _Path]]:
        """Yield each way to deal this thickness to the next side, with roughly what it costs at least."""
        node = path.node
        side, position = len(node.demand), node.position
        wood, size = self._woods[side], self._thicknesses[position].thickness
        others = sum(
            other.least(position + (n < side), node.left[n], node.owed[n]) or 0
            for n, other in enumerate(self._woods)
            if n != side
        )
        for taken in range(min(wood.most_of(position), max(0, node.left[side]) // size) + 1):
            demand = (*node.demand, taken)
            length = self._dealer.length(position, demand)
            if length is None:
                break  # the cabinet holds no more
            left, owed = node.left[side] - taken * size, wood.owed(position, node.owed[side], taken)
            lefts = (*node.left[:side], left, *node.left[side + 1 :])
            owes = (*node.owed[:side], owed, *node.owed[side + 1 :])
            cost = sum(demand) * _PIECE + length
            rough = path.spent + cost + others + wood.rough(position + 1, left)
            if len(demand) < len(self._woods):
                yield rough, _Path(_Node(position, demand, lefts, owes), path.spent, path.dealt)
            else:
                after = _Node(position + 1, (), lefts, owes)
                yield rough, _Path(after, path.spent + cost, (*path.dealt, demand))


class _Dealer:
    """Deals pieces of one thickness to the four sides at once, the shortest that do."""

    def __init__(self, thicknesses: Sequence[_Thickness], reaches: Sequence[tuple[int, int]]) -> None:
        self._thicknesses, self._reaches = thicknesses, reaches
        self._dealt: dict[tuple[int, tuple[int, ...]], list[list[int]] | None] = {}

    def length(self, position: int, demand: tuple[int, ...]) -> int | None:
        """Return the least length of wood that meets a demand, side by side; ``None`` if nothing does."""
        dealt = self.deal(position, demand)
        return None if dealt is None else sum(map(sum, dealt))

    def deal(self, position: int, demand: tuple[int, ...]) -> list[list[int]] | None:
        """Return the lengths each side gets, least in all; ``None`` if the demand can't be met."""
        key = (position, demand)
        if key not in self._dealt:
            self._dealt[key] = self._deal(self._thicknesses[position].lengths, demand)
        return self._dealt[key]

    def _deal(self, lengths: Sequence[tuple[int, int]], demand: tuple[int, ...]) -> list[list[int]] | None:
        # Shortest first, each piece kept if all kept so far still find a side: the sets of pieces that can be
        # placed together form a matroid, so this greedy choice is the least in length.
        given: list[list[int]] = [[] for _ in demand]
        wanting = sum(demand)
        for length, there in lengths:
            for _ in range(there):
                if not wanting:
                    return given
                if not self._place(length, demand, given, set()):
                    break
                wanting -= 1
        return None if wanting else given

    def _place(self, length: int, demand: tuple[int, ...], given: list[list[int]], tried: set[int]) -> bool:
        """Give a piece to some side, moving pieces between sides where that makes room."""
        for side in range(len(demand)):
            shortest, longest = self._reaches[side]
            if side in tried or not shortest <= length <= longest:
                continue
            if given[side].count(length) >= MOST_OF_ONE_SIZE:
                continue
            if len(given[side]) < demand[side]:
                given[side].append(length)
                return True
            tried.add(side)
            for i, other in enumerate(given[side]):
                if other != length and self._place(other, demand, given, tried):
                    given[side][i] = length
                    return True
        return False


# --- why not ------------------------------------------------------------------------------------------

_MANY = 8  # more pieces than a shop would make for one form
_WIDEST_SEARCH = 96.0  # how far the form is moved, in points, to see whether another place would do
_FULL = MOST_OF_ONE_SIZE * len(SIDES)


def _reasons(q: _Question) -> Iterator[str]:
    """Yield what stands in the way, then what was tried and found to work."""
    full = replace(q, shop=_filled(q.shop, lambda material: True))
    if q.form.width >= q.chase.width or q.form.height >= q.chase.height:
        yield (
            f"The form, {_size(q.form)}, is too large for the {q.chase.name} chase, {_size(q.chase)} inside: "
            "it needs a larger chase."
        )
    elif full.answer() is not None:
        lacking = _lacking(q)
        # No shop buys many pieces for one form: then rather say why no mixture it has will do.
        odd = [*_too_small(q), *_odd_lengths(q)] if lacking.total() > _MANY else []
        yield from odd or [f"The cabinet lacks {_and([_pieces(m, n) for m, n in sorted(lacking.items())])}."]
    else:
        yield from _obstacles(full)
    yield from _remedies(q)


def _obstacles(q: _Question) -> Iterator[str]:
    """Say which sides can't be filled even from a full cabinet."""
    reglets = [m.thickness for m in q.shop.stock if m.kind == "reglet"]
    if not reglets:
        yield "The cabinet lists no reglet; the quoins need one on each face."
        return
    least = q.quoin.closed + 2 * min(reglets)
    thinnest = min(m.thickness for m in q.shop.stock)
    for side in SIDES:
        free = q.chase.height - q.form.height if along_x(side) else q.chase.width - q.form.width
        aim = q.target[along_x(side)]
        gap = aim if side in ("bottom", "left") else free - aim
        move = {"bottom": "up", "left": "right", "top": "down", "right": "left"}[side]
        if side in q.solid:
            if gap + q.tolerance < thinnest:
                yield f"The {side} gap, {write_length(max(gap, 0))}, is too small for any wood: move the form {move}."
            continue
        short = least - gap - q.tolerance
        if short > 0:
            cure = f" or move the form {move}" if free >= least + thinnest else ""
            yield (
                f"The {side} gap is {write_length(math.ceil(short * 2) / 2)} too small for wood, quoin and reglet: "
                f"take a larger chase{cure}."
            )
    if q.quoin.count is not None and q.quoin.count < 2:
        yield f"The shop has {q.quoin.count} of the {q.quoin.name}; each of two sides needs a quoin."
        return
    names = [q.arrangement] if q.arrangement else list(ARRANGEMENTS)
    short_sides = [
        {side for side in SIDES if side not in q.solid and q.row(q.along(side), ARRANGEMENTS[name][side]) is None}
        for name in names
    ]
    if all(short_sides):
        side = min((side for side in SIDES if side in set.union(*short_sides)), key=q.along)
        yield (
            f"The {side} side, {write_length(q.along(side) / 100)}, is too short for the {q.quoin.name} quoin, "
            f"{write_length(q.quoin.length)} long."
        )
        return
    odd = [*_too_small(q), *_odd_lengths(q)]
    yield from odd
    if not odd:
        yield (
            "No mixture of the listed sizes makes up all four gaps with the form near enough to its place: "
            "allow it to stand a little further off, or change its size by a lead."
        )


def _too_small(q: _Question) -> Iterator[str]:
    """Say that a form wants building up, if a side of it is hardly longer than a quoin."""
    least = q.quoin.length + 2 * q.clear
    if min(q.form.width, q.form.height) < least:
        yield (
            f"A side shorter than {write_length(least)} hardly has room for the {q.quoin.name} quoin: build the form "
            "up to a block first."
        )


def _odd_lengths(q: _Question) -> Iterator[str]:
    """Say on which sides no furniture is of a length that may lie there."""
    names = [q.arrangement] if q.arrangement else list(ARRANGEMENTS)
    odd: dict[str, list[Side]] = {}
    for side in SIDES:
        reaches = [reach for name in names if (reach := q.reach_at_target(side, name)) is not None]
        fitting = q.kinds_within(reaches)
        if reaches and "furniture" not in fitting:
            shortest, longest = min(low for low, _ in reaches), max(high for _, high in reaches)
            why = (
                f"a piece must be long enough to back the form and short enough to stay clear of its neighbours: "
                f"from {_length(shortest)} to {_length(longest)}. "
                + ("Only reglet comes in such lengths." if fitting else "The cabinet lists no such length.")
            )
            odd.setdefault(why, []).append(side)
    for why, sides in odd.items():
        yield f"On the {_and(sides)}, {why}"


def _lacking(q: _Question) -> Counter[Material]:
    """Return pieces that, added to the cabinet, would do: of one thickness if that helps, else one kind, else all."""
    thicknesses = sorted({(m.kind, m.thickness) for m in q.shop.stock}, key=lambda key: (key[0], -key[1]))
    tries = [
        *[lambda m, key=key: (m.kind, m.thickness) == key for key in thicknesses],
        lambda m: m.kind == "reglet",
        lambda m: m.kind == "furniture",
        lambda m: True,
    ]
    found: list[Counter[Material]] = []
    for n, which in enumerate(tries):
        if found and n >= len(thicknesses):
            break
        lockup = replace(q, shop=_filled(q.shop, which)).answer()
        if lockup is not None:
            found.append(Counter(item.material for item in lockup.wood) - Counter(q.shop.stock))
    fewest = min(found, key=lambda pieces: pieces.total())
    return _trimmed(q, fewest) if fewest.total() <= _MANY else fewest


def _trimmed(q: _Question, lacking: Counter[Material]) -> Counter[Material]:
    """Leave out every piece that turns out not to be needed."""
    for material in list(lacking):
        while lacking[material]:
            fewer = lacking - Counter([material])
            if replace(q, shop=_with(q.shop, fewer)).answer() is None:
                break
            lacking = fewer
    return lacking


def _remedies(q: _Question) -> Iterator[str]:
    """Yield what was tried, with the cabinet as it is, and works."""
    if q.arrangement is not None and (lockup := replace(q, arrangement=None).answer()):
        yield f"It works with the corners arranged as {lockup.arrangement.replace('-', ' ')}."
    for quoin in q.shop.quoins:
        if quoin != q.quoin and replace(q, quoin=quoin).answer():
            yield f"It works with the {quoin.name} quoin."
            break
    tolerance = q.tolerance
    while tolerance < _WIDEST_SEARCH:
        tolerance = min(2 * max(tolerance, 6.0), _WIDEST_SEARCH)
        if lockup := replace(q, tolerance=tolerance).answer():
            x, y = lockup.form.x - q.target[0], lockup.form.y - q.target[1]
            moves = [
                f"{write_length(abs(by))} {'to the ' if word in ('left', 'right') else ''}{word}"
                for by, word in ((x, "right" if x > 0 else "left"), (y, "up" if y > 0 else "down"))
                if abs(by) > q.tolerance
            ]
            yield f"It works with the form moved {_and(moves)} from where it was wanted."
            break
    off_centre = (
        q.target[0] - (q.chase.width - q.form.width) / 2,
        q.target[1] - (q.chase.height - q.form.height) / 2,
    )
    for chase in sorted(q.shop.chases, key=lambda chase: chase.width * chase.height):
        if chase != q.chase and chase.width > q.form.width and chase.height > q.form.height:
            target = (
                (chase.width - q.form.width) / 2 + off_centre[0],
                (chase.height - q.form.height) / 2 + off_centre[1],
            )
            if replace(q, chase=chase, target=target).answer():
                yield f"It works in the {chase.name} chase."
                break


def _filled(shop: Shop, which: Callable[[Material], bool]) -> Shop:
    """Return the shop with plenty of every length, in the thicknesses asked for."""
    lengths = {kind: {m.length for m in shop.stock if m.kind == kind} for kind in ("furniture", "reglet")}
    plenty = {
        Material(m.kind, m.thickness, length): _FULL for m in shop.stock if which(m) for length in lengths[m.kind]
    }
    return replace(shop, stock={**shop.stock, **plenty})


def _with(shop: Shop, more: Mapping[Material, int]) -> Shop:
    return replace(shop, stock=Counter(shop.stock) + Counter(more))


def _length(hundredths: int) -> str:
    return write_length(round(hundredths / 100, 1))


def _size(of: Form | Chase) -> str:
    return f"{write_length(of.width)} × {write_length(of.height)}"


_NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]


def _pieces(material: Material, n: int) -> str:
    number = _NUMBERS[n] if n < len(_NUMBERS) else str(n)
    kind = material.kind if material.kind == "reglet" else "piece of furniture"
    if n > 1:
        kind = "reglets" if kind == "reglet" else "pieces of furniture"
    return f"{number} {kind} {write_length(material.thickness)} × {write_length(material.length)}"


def _and(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
