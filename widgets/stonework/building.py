"""The block builder: makes up one form, or several, into a rectangle that can be locked up as a form.

A form may be too small for its quoins, or several may be printed together with a gutter between them. Then they
are built up with metal furniture, leads and wood. All reckoning is in whole hundredths of a point.

**The family.** A *band* lies along one side, s long, of what is there. It is a stack of layers, and a layer is

- metal furniture of one thickness, end to end, whose lengths add up to s exactly, at most ``MOST_IN_A_ROW`` pieces;
- or one piece of wood between s - 2 · ``UNBACKED`` and s - ``CLEAR`` long, in the middle: its ends must stay free, or
  they would take the squeeze from the type;
- or one lead or slug, cut to s from a strip, so that there are always enough of them.

Bands come in pairs, on opposite sides. The two differ by ``APART`` at most, so that the form stays in the middle to
within half of that; one of them may be nothing, because a single lead often makes a size whole that two would miss.
They also differ by so little that the middle of whatever lies across both ends rests on what is between them. No band
is more than ``BEYOND`` thicker than half of what the block lacks that way.

Where wood stops short it leaves a hollow under what lies across its end. A joined row would have pieces that nothing
presses there; so along a side with hollows, and along the side across from it, no layer is in more than one piece.

The best has the fewest pieces; then it makes the smallest block; then its pairs differ least, in all.

**How it is found.** For one number of pieces after another, the thicknesses that each side's layers can make are held
as the bits of one integer. They say which ways are worth trying, smallest block first, and each is tried on
the one cabinet that all bands share, until one can be built.
"""

from __future__ import annotations

import heapq
import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from itertools import count, groupby, product
from operator import itemgetter
from typing import Any, NamedTuple

from stonework.form import Form
from stonework.lockup import CLEAR, UNBACKED, Block, Filling, FillingKind, PlacedForm
from stonework.shop import Material, Quoin, Shop
from stonework.stacking import Sums
from stonework.units import PICA, write_length

# All three are this workbook's own figures.
APART = PICA  # the most by which the bands of a pair may differ
BEYOND = 12 * PICA  # the most by which a band may be thicker than half of what is lacking
MOST_IN_A_ROW = 6  # pieces of metal, end to end
_TRIED = 24  # gutters tried each way for the nearest that can be made


class NoBlock(ValueError):
    """No block of the family can be built; its text says in sentences what can't be made and what would help."""


def least_side(quoin: Quoin) -> float:
    """Return the shortest side, in points, that a quoin can press on whichever way the corners are arranged.

    It is the quoin's length and ``CLEAR`` at each end: see the rule “room for a quoin”.
    """
    return quoin.length + 2 * CLEAR


def build_block(form: Form | Block, shop: Shop, *, least: tuple[float, float]) -> Block:
    """Build a form up on its sides until it is at least so wide and high, in points; its lower left corner is 0, 0.

    First come the bands at left and right along its height, then those at bottom and top along the whole width; or
    the other way about; or one pair is enough. Exact over the family that ``stonework.building`` describes.

    Raises ``NoBlock`` if the shop can't do it, and ``ValueError`` for sizes that aren't lengths.
    """
    if not all(math.isfinite(size) and size >= 0 for size in least):
        raise ValueError(f"The block's least size was given as {least}; two lengths in points, 0 or more, are needed.")
    start = _as_block(form)
    built = _Surrounding(start, _Cabinet(shop, [start]), (_grid(least[0]), _grid(least[1]))).best()
    if built is None:
        raise NoBlock(_why_not(start, shop, least))
    return built


def side_by_side(forms: Sequence[Form | Block], shop: Shop, gutter: float) -> Block:
    """Make forms, from left to right, into one block with gutters of just that many points between them.

    Those less high are made up at foot and head to the highest, or all to the next height that can be made with the
    fewest pieces, up to ``BEYOND`` more: a pair of bands each. The gutters run through the whole height, and are bands
    too; if there is wood in any of the pairs, no gutter's layer is in more than one piece. Forms and blocks may be
    mixed, and what is made may be built up in turn. The lower left corner is 0, 0.

    The best has the fewest pieces, then the least height, then the pairs that differ least. Raises ``NoBlock``, which
    names the nearest gutter that can be made, and ``ValueError`` for no forms or a gutter that isn't a length.
    """
    if not forms:
        raise ValueError("A block was asked for of no forms at all; give it one or more.")
    if not (math.isfinite(gutter) and gutter >= 0):
        raise ValueError(f"The gutter was given as {gutter}; a length in points, 0 or more, is needed.")
    parts = [_as_block(form) for form in forms]
    built = _Row(parts, _Cabinet(shop, parts), _grid(gutter)).best()
    if built is None:
        raise NoBlock(_why_no_row(parts, shop, gutter, "high"))
    return built


def one_below_another(forms: Sequence[Form | Block], shop: Shop, gutter: float) -> Block:
    """Make forms, from the head down, into one block; all else is as in ``side_by_side``, width for height."""
    try:
        block = _turned(side_by_side([_turned(_as_block(form)) for form in reversed(forms)], shop, gutter))
    except NoBlock as error:
        raise NoBlock(str(error).replace(" high", " wide")) from None
    return replace(block, forms=tuple(sorted(block.forms, key=lambda form: (-form.y - form.height, form.x))))


# --- what there is ----------------------------------------------------------------------------------------


def _grid(points: float) -> int:
    """Return whole hundredths of a point."""
    return round(points * 100)


def _bits(number: int) -> Iterator[int]:
    """Yield the places of the bits of a number that are set, lowest first."""
    while number:
        lowest = number & -number
        yield lowest.bit_length() - 1
        number ^= lowest


class _Layer(NamedTuple):
    """A layer that may lie along a side, in hundredths: of so many pieces, and at most so many such layers.

    ``length`` is that of the one piece of wood or of the lead; a row of metal is as long as its side.
    """

    kind: FillingKind
    thickness: int
    length: int
    pieces: int
    most: float


class _Cabinet:
    """What the shop can still give to a block, in hundredths, beside what some parts of it hold already."""

    def __init__(self, shop: Shop, parts: Sequence[Block]) -> None:
        used = Counter(_size_of(material) for part in parts for material in part.materials)
        self.own = {_size_of(material): material for material in (*shop.stock, *shop.metal)}
        self.left: Counter[_Size] = Counter()
        for material, there in (*shop.stock.items(), *shop.metal.items()):
            self.left[_size_of(material)] += there
        self.left = self.left - used
        self._wood = sorted((size for size in self.left if size[0] != "metal"), key=itemgetter(2, 0, 1))
        self.metal: dict[int, dict[int, int]] = {}
        for (kind, thickness, length), there in sorted(self.left.items(), reverse=True):
            if kind == "metal":
                self.metal.setdefault(thickness, {})[length] = there
        self._leads = sorted({_grid(one) for one in (*shop.leads, *shop.slugs)}, reverse=True)
        self.step = math.gcd(*(size[1] for size in self.left), *self._leads) or 1
        self.thickest = max([size[1] for size in self.left] + self._leads, default=1)
        self.thinnest = min([size[1] for size in self.left] + self._leads, default=1)
        self.endless = bool(self._leads)
        # One side's layers often make what another's do.
        self.layers, self.stacks, self._sums = cache(self._layers), cache(self._stacks), cache(self._make_sums)

    @property
    def pieces(self) -> float:
        """The most pieces that any block can take."""
        return math.inf if self.endless else self.left.total()

    def _layers(self, side: int, wood: bool, joined: bool) -> tuple[_Layer, ...]:
        """Return the layers that may lie along a side so long; without wood, or with no joined rows, if so asked."""
        found = [_Layer("lead", thickness, side, 1, math.inf) for thickness in self._leads]
        for thickness, lengths in self.metal.items():
            sums: Sums | None = None
            for pieces in range(1, (MOST_IN_A_ROW if joined else 1) + 1):
                if pieces == 1:
                    possible = side in lengths
                elif side % math.gcd(*lengths):
                    break
                else:
                    sums = sums or Sums(list(lengths), list(lengths.values()), side)
                    possible = sums.can(0, side, side, pieces)
                if possible:
                    there = sum(n * length for length, n in lengths.items()) // side
                    found.append(_Layer("metal", thickness, side, pieces, lengths[side] if pieces == 1 else there))
        if wood:
            shortest, longest = side - 2 * _grid(UNBACKED), side - _grid(CLEAR)
            first, last = bisect_left(self._wood, shortest, key=_LENGTH), bisect_right(self._wood, longest, key=_LENGTH)
            found += [_Layer(*size, 1, self.left[size]) for size in self._wood[first:last]]
        return tuple(found)

    def _stacks(self, layers: tuple[_Layer, ...], most: int) -> _Stacks:
        return _Stacks(layers, self._sums(tuple((one.thickness, one.pieces, one.most) for one in layers), most))

    def _make_sums(self, layers: tuple[tuple[int, int, float], ...], most: int) -> _Sums:
        return _Sums(layers, most, self.step)


_Size = tuple[str, int, int]  # kind, thickness, length
_LENGTH = itemgetter(2)


def _size_of(material: Material) -> _Size:
    return (material.kind, _grid(material.thickness), _grid(material.length))


class _Sums:
    """The thicknesses that some layers make, by how many pieces they take; none above ``most``.

    Each layer is its thickness, its pieces, and how many such layers there can be. That two layers may want the same
    pieces isn't minded. A set of thicknesses is one integer, whose bits count steps.
    """

    def __init__(self, layers: Sequence[tuple[int, int, float]], most: int, step: int) -> None:
        self.step = step
        self._layers, self._full = layers, (1 << (most // step + 1)) - 1
        self._made: list[list[int]] = [[1] * (len(layers) + 1)]  # [k][i]: by exactly k pieces of the layers from i on
        self._pairs: dict[tuple[int, int], int] = {}
        self._any_pairs: dict[int, int] = {}

    def made(self, pieces: int, position: int = 0) -> int:
        """Return what exactly so many pieces make, in the layers from a position on."""
        while len(self._made) <= pieces:
            more, row = len(self._made), [0] * (len(self._layers) + 1)
            for i in range(len(self._layers) - 1, -1, -1):
                thickness, each, most = self._layers[i]
                total, taken = row[i + 1], 1
                while taken <= most and taken * each <= more:
                    total |= self._made[more - taken * each][i + 1] << (taken * thickness // self.step)
                    taken += 1
                row[i] = total & self._full
            self._made.append(row)
        return self._made[pieces][position]

    def can(self, position: int, thickness: int, pieces: int) -> bool:
        """Say whether exactly so many pieces, in the layers from a position on, make a thickness."""
        return thickness % self.step == 0 and bool(self.made(pieces, position) >> thickness // self.step & 1)

    def pair(self, pieces: int, apart: int) -> int:
        """Return what two bands make in all that take so many pieces and differ by ``apart`` at most."""
        if (pieces, apart) not in self._pairs:
            total = 0
            for one in range(pieces + 1):
                total |= _pairs(self.made(one), self.made(pieces - one), apart // self.step)
            self._pairs[pieces, apart] = total
        return self._pairs[pieces, apart]

    def fewest(self, thickness: int) -> int | None:
        """Return the fewest pieces that make a thickness; ``None`` if no number does."""
        if thickness % self.step or not self.any >> thickness // self.step & 1:
            return None
        return next(n for n in count() if self.can(0, thickness, n))

    def fewest_pair(self, total: int, apart: int) -> int | None:
        """Return the fewest pieces of two bands that make a total and differ by ``apart`` at most, or ``None``."""
        steps, rest = divmod(total, self.step)
        if rest or not self.any_pair(apart) >> steps & 1:
            return None
        return next(n for n in count() if self.pair(n, apart) >> steps & 1)

    @cached_property
    def any(self) -> int:
        """What any number of pieces make."""
        total = 1
        for thickness, _, most in self._layers:
            taken = 0
            while taken < most and (more := (total | total << thickness // self.step) & self._full) != total:
                total, taken = more, taken + 1
        return total

    def any_pair(self, apart: int) -> int:
        """Return what two bands make in all that differ by ``apart`` at most."""
        if apart not in self._any_pairs:
            self._any_pairs[apart] = _pairs(self.any, self.any, apart // self.step)
        return self._any_pairs[apart]


class _Stacks(NamedTuple):
    """The layers that may lie along one side, and what they make."""

    layers: tuple[_Layer, ...]
    sums: _Sums

    def splits(self, total: int, pieces: int, apart: int) -> list[_Split]:
        """Return every pair of bands that makes a total in so many pieces, evenest first, the thicker one first."""
        if not self.sums.pair(pieces, apart) >> total // self.sums.step & 1:
            return []
        found = []
        for one in range(pieces + 1):
            for steps in _bits(self.sums.made(one)):
                thick, thin = steps * self.sums.step, total - steps * self.sums.step
                if 0 <= thick - thin <= apart and thin >= 0 and self.sums.can(0, thin, pieces - one):
                    found.append(_Split(thick - thin, (_Band(self, thick, one), _Band(self, thin, pieces - one))))
        return sorted(found, key=lambda split: split.uneven)


def _pairs(thick: int, thin: int, near: int) -> int:
    """Return the sums of one bit of each number, where the second lies at or below the first by ``near`` at most."""
    total = 0
    for one in _bits(thick) if thin else ():
        low = max(0, one - near)
        total |= (thin >> low & (1 << (one - low + 1)) - 1) << low + one
    return total


class _Band(NamedTuple):
    """A band that is wanted: what it may be made of, how thick it is and of how many pieces."""

    stacks: _Stacks
    thickness: int
    pieces: int


class _Split(NamedTuple):
    """A pair of bands, low side first, and by how much they differ."""

    uneven: int
    bands: tuple[_Band, ...]

    @property
    def pieces(self) -> int:
        """How many pieces the two take."""
        return sum(band.pieces for band in self.bands)


_Laid = tuple[_Layer, tuple[int, ...]]  # a layer, and the lengths of its pieces
_Rows = list[list[_Laid]]  # what each band is made of


def _supply(bands: Sequence[_Band], cabinet: _Cabinet) -> _Rows | None:
    """Return what each band is made of, all from the one cabinet; ``None`` if it can't supply them together."""
    left = cabinet.left.copy()
    chosen: _Rows = [[] for _ in bands]

    def rows(layer: _Layer, lengths: Sequence[int], side: int, pieces: int) -> Iterator[tuple[int, ...]]:
        """Yield every row of so many pieces, longest first, that the cabinet still has."""
        if pieces == 0:
            if side == 0:
                yield ()
            return
        for n, length in enumerate(lengths):
            if length * pieces < side:
                return
            size = (layer.kind, layer.thickness, length)
            if length <= side and left[size]:
                left[size] -= 1
                for rest in rows(layer, lengths[n:], side - length, pieces - 1):
                    yield (length, *rest)
                left[size] += 1

    def ways(layer: _Layer) -> Iterator[tuple[int, ...]]:
        """Yield the lengths of a layer's pieces, in every way; they are taken while a way is tried."""
        if layer.kind == "lead":
            yield (layer.length,)
        elif layer.kind == "metal":
            yield from rows(layer, list(cabinet.metal[layer.thickness]), layer.length, layer.pieces)
        else:
            yield from rows(layer, [layer.length], layer.length, 1)

    def fill(n: int, position: int, thickness: int, pieces: int) -> bool:
        """Make the rest of band n, and then all bands after it."""
        if thickness == pieces == 0:
            return n + 1 == len(bands) or fill(n + 1, 0, bands[n + 1].thickness, bands[n + 1].pieces)
        stacks = bands[n].stacks
        for i in range(position, len(stacks.layers)):
            if not stacks.sums.can(i, thickness, pieces):
                return False
            layer = stacks.layers[i]
            after, fewer = thickness - layer.thickness, pieces - layer.pieces
            if after < 0 or fewer < 0 or not stacks.sums.can(i, after, fewer):
                continue
            for lengths in ways(layer):
                chosen[n].append((layer, lengths))
                if fill(n, i, after, fewer):
                    return True
                chosen[n].pop()
        return False

    return chosen if not bands or fill(0, 0, bands[0].thickness, bands[0].pieces) else None


# --- surrounding one form ---------------------------------------------------------------------------------


class _Way(NamedTuple):
    """One way to surround a form: which way the inner pair makes it grow, and both pairs' bands."""

    uneven: int
    inner: int  # 0: the bands at left and right lie inside those at bottom and top; 1: the other way about
    pairs: tuple[_Split, _Split]


_NONE = _Split(0, ())


@dataclass(frozen=True)
class _Surrounding:
    """A block to be surrounded until it is large enough; sizes are width, then height, in hundredths."""

    start: Block
    cabinet: _Cabinet
    least: tuple[int, int]

    def best(self) -> Block | None:
        """Return the best block, or ``None`` if there is none."""
        if not self._possible():
            return None
        pieces = 0
        while pieces <= self.cabinet.pieces:
            for way in self._ways(pieces):
                bands = [band for split in way.pairs for band in split.bands]
                if (rows := _supply(bands, self.cabinet)) is not None:
                    return self._laid(way, rows)
            pieces += 1
        return None

    @property
    def _size(self) -> tuple[int, int]:
        return _grid(self.start.width), _grid(self.start.height)

    def _lack(self, axis: int) -> int:
        return max(0, self.least[axis] - self._size[axis])

    def _most(self, axis: int) -> int:
        return self._lack(axis) // 2 + _grid(BEYOND)

    def _apart(self, axis: int) -> int:
        return max(0, min(_grid(APART), _sway(self.start, axis)))

    def _hollow(self, axis: int) -> bool:
        """Say whether the sides that make the block grow this way have hollows."""
        return _hollow(self.start, 1 - axis)

    def _shapes(self) -> Iterator[tuple[int, _Stacks | None, bool]]:
        """Yield which way the inner pair goes, its stacks if there is one, and whether the outer may have joints."""
        for inner in (0, 1):
            yield inner, None, not self._hollow(1 - inner)
            side, joined = self._size[1 - inner], not self._hollow(inner)
            plain = self.cabinet.layers(side, False, joined)
            yield inner, self.cabinet.stacks(plain, self._most(inner)), not self._hollow(1 - inner)
            wooden = self.cabinet.layers(side, True, joined)
            if len(wooden) > len(plain):
                yield inner, self.cabinet.stacks(wooden, self._most(inner)), False

    def _outer(self, inner: int, grown: int, joined: bool) -> _Stacks:
        layers = self.cabinet.layers(self._size[inner] + grown, True, joined)
        return self.cabinet.stacks(layers, self._most(1 - inner))

    def _fewest(self, axis: int) -> int:
        """Return a number of pieces that making up what is lacking can't be below."""
        lack = self._lack(axis)
        return max(-(-lack // self.cabinet.thickest), 2 if lack > self._apart(axis) else 1)

    def _grown(self, stacks: _Stacks | None, pieces: int, axis: int) -> Iterator[int]:
        """Yield by how much a pair of so many pieces can make the block grow, from what is lacking on."""
        if stacks is None or pieces == 0:
            if pieces == 0 and not self._lack(axis):
                yield 0
            return
        least = -(-self._lack(axis) // stacks.sums.step)
        yield from ((least + n) * stacks.sums.step for n in _bits(stacks.sums.pair(pieces, self._apart(axis)) >> least))

    def _ways(self, pieces: int) -> Iterator[_Way]:
        """Yield every way that takes so many pieces, as far as one can see, the best first."""
        if not pieces:
            if self._lack(0) == self._lack(1) == 0:
                yield _Way(0, 0, (_NONE, _NONE))
            return

        def sizes(inner: int, within: _Stacks | None, first: int, grown: int, joined: bool) -> Iterator[tuple]:
            outer = self._outer(inner, grown, joined)
            for more in self._grown(outer, pieces - first, 1 - inner):
                area = (self._size[inner] + grown) * (self._size[1 - inner] + more)
                yield area, inner, within, first, grown, outer, more

        found = [
            sizes(inner, within, first, grown, joined)
            for inner, within, joined in self._shapes()
            for first in (range(1, pieces - self._fewest(1 - inner) + 1) if within else (0,))
            for grown in self._grown(within, first, inner)
        ]
        for _, alike in groupby(heapq.merge(*found, key=lambda size: size[0]), key=lambda size: size[0]):
            ways = [
                _Way(one.uneven + other.uneven, inner, (one, other))
                for _, inner, within, first, grown, outer, more in alike
                for one, other in product(
                    within.splits(grown, first, self._apart(inner)) if within else [_NONE],
                    outer.splits(more, pieces - first, self._apart(1 - inner)),
                )
            ]
            yield from sorted(ways, key=lambda way: way.uneven)

    def _possible(self) -> bool:
        """Say whether there would be a way if each band had the whole cabinet to itself."""
        if self._lack(0) == self._lack(1) == 0:
            return True
        for inner, within, joined in self._shapes():
            first = within.sums.any_pair(self._apart(inner)) if within else 1
            least = -(-self._lack(inner) // self.cabinet.step)
            for grown in _bits(first >> least):
                outer = self._outer(inner, (grown + least) * self.cabinet.step, joined)
                if outer.sums.any_pair(self._apart(1 - inner)) >> -(-self._lack(1 - inner) // self.cabinet.step):
                    return True
        return False

    def _laid(self, way: _Way, rows: _Rows) -> Block:
        """Return the block with its bands laid."""
        block = self.start if way.inner == 0 else _turned(self.start)
        if way.pairs[0].bands:
            block, rows = _between(block, rows[:2], self.cabinet), rows[2:]
        block = _turned(block)
        if way.pairs[1].bands:
            block = _between(block, rows, self.cabinet)
        return _tidy(_turned(block) if way.inner == 0 else block)


# --- forms in a row ---------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Row:
    """Parts to stand side by side, all made up to one height, with gutters of one width; in hundredths.

    ``_known`` keeps the fewest pieces for a height, with wood to make the parts up and without.
    """

    parts: Sequence[Block]
    cabinet: _Cabinet
    gutter: int
    _known: dict[tuple[int, bool], int | None] = field(default_factory=dict)

    def best(self) -> Block | None:
        """Return the best block, or ``None`` if there is none."""
        tallest, step = max(self._heights), self.cabinet.step
        heights = [tallest + n * step for n in range(_grid(BEYOND) // step + 1)]
        if all(self._fewest(height, True) is None and self._fewest(height, False) is None for height in heights):
            return None
        thinnest, thickness = self.cabinet.thinnest, len(self.parts) * (heights[-1] + self.gutter)
        for pieces in range(MOST_IN_A_ROW * (thickness // thinnest) + 1):
            for height in heights:
                for _, pairs, gutters in sorted(self._ways(height, pieces), key=lambda way: way[0]):
                    bands = [*(band for pair in pairs for band in pair.bands), *gutters]
                    if (rows := _supply(bands, self.cabinet)) is not None:
                        return self._laid(rows)
        return None

    @property
    def _gutters(self) -> int:
        return len(self.parts) - 1 if self.gutter else 0

    @cached_property
    def _hollow(self) -> bool:
        """Whether a gutter would lie over a hollow, even if no wood made the parts up."""
        return any(_hollow(part, 1) for part in self.parts)

    @cached_property
    def _apart(self) -> list[int]:
        """By how much the bands of each part may differ."""
        return [max(0, min(_grid(APART), _sway(part, 1))) for part in self.parts]

    @cached_property
    def _heights(self) -> list[int]:
        return [_grid(part.height) for part in self.parts]

    @cached_property
    def _made_up(self) -> dict[bool, list[_Stacks]]:
        """What may make each part up, with wood and without."""
        most = _grid(BEYOND) + max(self._heights)
        return {
            wood: [
                self.cabinet.stacks(self.cabinet.layers(_grid(part.width), wood, not _hollow(part, 0)), most)
                for part in self.parts
            ]
            for wood in (False, True)
        }

    def _between(self, height: int, wood: bool) -> _Stacks:
        """Return what may make a gutter, when wood may make the parts up, or none."""
        return self.cabinet.stacks(self.cabinet.layers(height, True, not wood and not self._hollow), self.gutter)

    def _lacks(self, height: int, wood: bool) -> Iterator[tuple[_Stacks, int, int]]:
        """Yield for each part what may make it up, how much it lacks and by how much its bands may differ."""
        for stacks, own, apart in zip(self._made_up[wood], self._heights, self._apart, strict=True):
            yield stacks, height - own, apart

    def _fewest(self, height: int, wood: bool) -> int | None:
        """Return the fewest pieces for a height if each band had the whole cabinet to itself; ``None`` if none do."""
        if (height, wood) not in self._known:
            self._known[height, wood] = self._reckon(height, wood)
        return self._known[height, wood]

    def _reckon(self, height: int, wood: bool) -> int | None:
        fewest = 0
        for stacks, lack, apart in self._lacks(height, wood):
            if (pieces := stacks.sums.fewest_pair(lack, apart)) is None:
                return None
            fewest += pieces
        if self._gutters:
            if (pieces := self._between(height, wood).sums.fewest(self.gutter)) is None:
                return None
            fewest += self._gutters * pieces
        return fewest

    def _ways(self, height: int, pieces: int) -> Iterator[tuple[int, tuple[_Split, ...], tuple[_Band, ...]]]:
        """Yield by how much the pairs differ in all, the pairs and the gutters, for every way of so many pieces."""
        for wood in (False, True):
            if (least := self._fewest(height, wood)) is None or least > pieces:
                continue
            more, choices = range(pieces - least + 1), []
            for stacks, lack, apart in self._lacks(height, wood):
                fewest = stacks.sums.fewest_pair(lack, apart)
                choices.append([split for n in more for split in stacks.splits(lack, fewest + n, apart)])
            if self._gutters:
                stacks = self._between(height, wood)
                fewest = stacks.sums.fewest(self.gutter)
                counts = [fewest + n for n in more if stacks.sums.can(0, self.gutter, fewest + n)]
                choices += [[_Band(stacks, self.gutter, n) for n in counts]] * self._gutters
            for way in _adding_up(choices, pieces):
                pairs, gutters = way[: len(self.parts)], way[len(self.parts) :]
                yield sum(pair.uneven for pair in pairs), pairs, gutters

    def _laid(self, rows: _Rows) -> Block:
        """Return the block with all bands laid."""
        n = len(self.parts)
        parts = [
            _turned(_between(_turned(part), rows[2 * i : 2 * i + 2], self.cabinet)) for i, part in enumerate(self.parts)
        ]
        block = parts[0]
        for part, row in zip(parts[1:], rows[2 * n :] or [[]] * (n - 1), strict=True):
            block = _between(block, [[], row], self.cabinet)
            beside = part.moved(block.width, 0.0)
            block = Block((*block.forms, *beside.forms), (*block.pieces, *beside.pieces))
        return _tidy(block)


def _adding_up(choices: Sequence[Sequence[Any]], pieces: int) -> Iterator[tuple[Any, ...]]:
    """Yield one of each choice, in every way that takes just so many pieces."""
    if not choices:
        if pieces == 0:
            yield ()
        return
    least = sum(min((one.pieces for one in choice), default=pieces + 1) for choice in choices[1:])
    for one in choices[0]:
        if one.pieces + least <= pieces:
            for rest in _adding_up(choices[1:], pieces - one.pieces):
                yield (one, *rest)


# --- how things lie ---------------------------------------------------------------------------------------


def _as_block(form: Form | Block) -> Block:
    """Return a form or block as a block, its lower left corner at 0, 0 and its form to the hundredth of a point."""
    if isinstance(form, Form):
        return Block((PlacedForm(0.0, 0.0, round(form.width, 2), round(form.height, 2)),), ())
    outline = form.outline
    return _tidy(form.moved(-outline.x, -outline.y))


def _tidy(block: Block) -> Block:
    """Return the block with every place to the hundredth of a point, whatever adding has left."""
    return Block(
        tuple(replace(form, x=round(form.x, 2), y=round(form.y, 2)) for form in block.forms),
        tuple(replace(piece, x=round(piece.x, 2), y=round(piece.y, 2)) for piece in block.pieces),
    )


def _turned(block: Block) -> Block:
    """Return the block with x and y exchanged."""
    forms = (replace(one, x=one.y, y=one.x, width=one.height, height=one.width) for one in block.forms)
    pieces = (replace(one, x=one.y, y=one.x, width=one.height, height=one.width) for one in block.pieces)
    return Block(tuple(forms), tuple(pieces))


def _between(block: Block, rows: Sequence[Sequence[_Laid]], cabinet: _Cabinet) -> Block:
    """Lay bands at the left and right of a block, from it outward: leads, then metal, then wood."""
    side, pieces = _grid(block.height), []
    for row, outward in zip(rows, (-1, 1), strict=True):
        at = 0 if outward < 0 else _grid(block.width)
        for n, (layer, lengths) in enumerate(sorted(row, key=lambda laid: _INNER_FIRST.index(laid[0].kind))):
            low = (side - sum(lengths)) // 2
            left = at if outward > 0 else at - layer.thickness
            for length in lengths if n % 2 == 0 else lengths[::-1]:  # so that joints don't lie in one line
                own = cabinet.own.get((layer.kind, layer.thickness, length))
                size = (own.thickness, own.length) if own else (layer.thickness / 100, length / 100)
                place = (left / 100, low / 100, layer.thickness / 100, length / 100)
                pieces.append(Filling(layer.kind, *size, *place))
                low += length
            at += outward * layer.thickness
    laid = Block(block.forms, (*block.pieces, *pieces))
    return laid.moved(-laid.outline.x, 0.0)


_INNER_FIRST: tuple[FillingKind, ...] = ("lead", "metal", "reglet", "furniture")


def _touched(block: Block, axis: int) -> list[list[tuple[int, int]]]:
    """Return what the block has to press on at its two sides along an axis, low side first: from where to where."""
    if axis == 1:
        block = _turned(block)
    outline = block.outline
    low, high = _grid(outline.y), _grid(outline.y + outline.height)
    parts = [(_grid(one.x - outline.x), _grid(one.x - outline.x + one.width), one) for one in block.content]
    return [
        sorted((start, stop) for start, stop, one in parts if _grid(one.y) == low),
        sorted((start, stop) for start, stop, one in parts if _grid(one.y + one.height) == high),
    ]


def _hollow(block: Block, axis: int) -> bool:
    """Say whether one of the two sides along an axis has a hollow, where wood stops short."""
    size = _grid((block.width, block.height)[axis])
    return any(sum(stop - start for start, stop in side) < size for side in _touched(block, axis))


def _sway(block: Block, axis: int) -> int:
    """Return by how much the bands at both ends of two sides may differ, so that the middle still rests on a part."""
    size = _grid((block.width, block.height)[axis])
    return min(min(size - 2 * side[0][0], 2 * max(stop for _, stop in side) - size) for side in _touched(block, axis))


# --- why not ----------------------------------------------------------------------------------------------

_PLENTY = 99


def _plenty(shop: Shop) -> Shop:
    """Return the shop with plenty of every size that it lists."""
    return replace(shop, stock=dict.fromkeys(shop.stock, _PLENTY), metal=dict.fromkeys(shop.metal, _PLENTY))


def _why_not(start: Block, shop: Shop, least: tuple[float, float]) -> str:
    """Say why a block can't be built up, and what would help."""
    size, wanted = (f"{_written(width)} × {_written(height)}" for width, height in ((start.width, start.height), least))
    told = f"What the shop holds doesn't build {size} up to {wanted}, with as much on opposite sides."
    sizes = (_grid(least[0]), _grid(least[1]))
    if _Surrounding(start, _Cabinet(_plenty(shop), [start]), sizes).best():
        return f"{told} It has the right sizes, but too few pieces: free some, or build another block first."
    if shop.leads or shop.slugs:
        return f"{told} Change the size of the form by a lead."
    return f"{told} Leads and slugs would help: list them in the shop file, under [spacing]."


def _why_no_row(parts: Sequence[Block], shop: Shop, gutter: float, way: str) -> str:
    """Say why forms can't be put in a row, and what would help."""
    cabinet = _Cabinet(shop, parts)
    if _Row(parts, cabinet, 0).best() is None:
        sizes = _and([_written(part.height) for part in parts])
        return (
            f"The forms are {sizes} {way}, and nothing in the shop makes them up to one size. Change one of them by a "
            "lead, or take thinner leads."
        )
    told = f"A gutter of {_written(gutter)} can't be made from what the shop holds."
    if len(parts) > 1 and _Row(parts, _Cabinet(_plenty(shop), []), _grid(gutter)).best():
        told += " It has the right sizes, but too few pieces."
    lower = _grid(gutter) // cabinet.step
    tried = sorted(
        (n * cabinet.step for n in range(max(0, lower - _TRIED), lower + _TRIED + 2)),
        key=lambda width: abs(width - _grid(gutter)),
    )
    nearest = next((width for width in tried if _Row(parts, cabinet, width).best()), None)
    if nearest is None:
        return f"{told} Nor can any other that is near it: leads would help."
    return f"{told} The nearest that can is {_written(nearest / 100)}."


def _and(parts: Sequence[str]) -> str:
    return " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)


def _written(points: float) -> str:
    return write_length(round(points, 2))
