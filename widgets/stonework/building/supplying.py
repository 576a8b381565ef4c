"""Which of the cabinet's pieces go to which bands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stonework.building.bands import Band
from stonework.building.cabinet import Cabinet, Layer

Laid = tuple[Layer, tuple[int, ...]]  # a layer, and the lengths of its pieces
Rows = list[list[Laid]]  # what each band is made of


def supply(bands: Sequence[Band], cabinet: Cabinet) -> Rows | None:
    """Return what each band is made of, all from the one cabinet; ``None`` if it can't supply them together."""
    left = cabinet.left.copy()
    chosen: Rows = [[] for _ in bands]

    def rows(layer: Layer, lengths: Sequence[int], side: int, pieces: int) -> Iterator[tuple[int, ...]]:
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

    def ways(layer: Layer) -> Iterator[tuple[int, ...]]:
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
            if not stacks.sums.can(thickness, pieces, i):
                return False
            layer = stacks.layers[i]
            after, fewer = thickness - layer.thickness, pieces - layer.pieces
            if after < 0 or fewer < 0 or not stacks.sums.can(after, fewer, i):
                continue
            for lengths in ways(layer):
                chosen[n].append((layer, lengths))
                if fill(n, i, after, fewer):
                    return True
                chosen[n].pop()
        return False

    return chosen if not bands or fill(0, 0, bands[0].thickness, bands[0].pieces) else None
