"""The cabinet as it stands: a row for each thickness, in it a place for each length, and how many lie there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from stonework.drawing.picture import GRAIN, INK, LEAD, MAPLE, PALE, PAPER, SAWN, Corner, Picture, corners, shapes
from stonework.drawing.touching import Touch
from stonework.drawing.words import in_picas, in_points
from stonework.lockup import SLACK
from stonework.shop import MaterialKind, Shop
from stonework.units import PICA, write_length

_KINDS: tuple[tuple[MaterialKind, str], ...] = (
    ("furniture", "furniture"),
    ("reglet", "reglet"),
    ("metal", "metal furniture"),
    ("lead", "leads and slugs"),
)
_WIDE, _HIGH, _LABEL, _HEADING = 78.0, 74.0, 110.0, 26.0  # of a place, of a row, of its name, of a heading
_ACROSS = 7  # places side by side; a longer row goes on below
_WRITTEN = 11.0  # type size


@dataclass
class _Place:
    """One place, or a run of places whose lengths go up by a pica and that hold as many each."""

    lengths: list[float]
    count: int
    worn: list[tuple[float, int, bool]] = field(default_factory=list)
    keep: bool = False

    @property
    def words(self) -> str:
        """The length, or the first and last of a run, in picas."""
        first, last = in_picas(self.lengths[0]), in_picas(self.lengths[-1])
        return first if len(self.lengths) == 1 else f"{first} to {last}"

    @property
    def held(self) -> str:
        """How many lie there, and how many worn ones with them."""
        return ", ".join((self.whole, *self.beside))

    @property
    def whole(self) -> str:
        """How many lie there that measure what they should."""
        return f"{self.count}{' each' if len(self.lengths) > 1 else ''}{' last' if self.keep else ''}"

    @property
    def beside(self) -> list[str]:
        """How many worn ones lie there, and what they measure; “last” if they are used last."""
        return [f"{n} of {in_points(round(t, 1))}{', last' if keep else ''}" for t, n, keep in self.worn]


class CabinetView(Picture):
    """A picture of a shop's cabinet that can be drawn again."""

    def __init__(self, name: str = "cabinet") -> None:
        super().__init__(name)
        self._places = self.area(PAPER, INK, 0.8, 1)
        self._sticks = {
            kind: self.area(ink, SAWN, 0.6, 2)
            for kind, ink in (("furniture", MAPLE), ("reglet", PALE), ("metal", LEAD), ("lead", LEAD))
        }
        self._worn = self.area("none", GRAIN, 0.6, 3, hatch="////")
        self.touches: list[Touch] = []
        """The places of the cabinet, each to take a stick from; of a run of lengths its shortest."""

    def draw(self, shop: Shop) -> None:
        """Draw every row of the cabinet, and say in words what stands in it."""
        self.touches = []
        boxes: list[list[Corner]] = []
        worn: list[list[Corner]] = []
        sticks: dict[str, list[list[Corner]]] = {kind: [] for kind, _ in _KINDS}
        told, top = [], 0.0
        written: list[tuple[float, float, str, float, str]] = []
        for kind, heading in _KINDS:
            rows = list(cabinet_rows(shop, kind))
            if not rows:
                continue
            written.append((0.0, top - 0.6 * _HEADING, heading.capitalize(), 11.0, "bold"))
            top -= _HEADING
            for thickness, name, places in rows:
                written.append((0.0, top - 0.5 * _HIGH, name, _WRITTEN, "normal"))
                for n, place in enumerate(places):
                    x = _LABEL + (n % _ACROSS) * _WIDE
                    y = top - (n // _ACROSS) * _HIGH - _HIGH
                    boxes.append(corners(x, y + 2, _WIDE - 4, _HIGH - 4))
                    label = f"Take {heading} {name}, {place.words}: {place.held}"
                    taken = f"take {kind} {thickness:g} {place.lengths[0]:g}"
                    self.touches.append(Touch(taken, label, x, y + 2, _WIDE - 4, _HIGH - 4))
                    thick = min(10.0, 3 + thickness / 16)
                    stick = corners(x + 5, y + _HIGH - 7 - thick, _WIDE - 14, thick)
                    (sticks[kind] if place.count else worn).append(stick)
                    if place.worn or place.keep:
                        worn.append(stick)
                    lines = [place.words, place.whole, *(line for words in place.beside for line in words.split(", "))]
                    for k, words in enumerate(lines):
                        weight = "normal" if k else "bold"
                        written.append((x + _WIDE / 2 - 2, y + _HIGH - 24 - 11 * k, words, _WRITTEN, weight))
                told.append(f"{kind} {name}: " + "; ".join(f"{place.words}: {place.held}" for place in places))
                top -= _HIGH * ((len(places) - 1) // _ACROSS + 1)
        self.frame(-6, top - 6, _LABEL + _ACROSS * _WIDE + 6, 6, (10.0, max(1.0, 10.0 * -top / (_ACROSS * _WIDE))))
        self._places.set_path(shapes(boxes))
        self._worn.set_path(shapes(worn))
        for kind, artist in self._sticks.items():
            artist.set_path(shapes(sticks[kind]))
        for x, y, words, size, weight in written:
            room = _WIDE - 6 if x else _LABEL
            fits = min(size, room * self.scale / (0.52 * max(1, len(words))))
            self.write(x, y, words, fits, weight=weight, ha="center" if x else "left")
        self.finish(f"The cabinet of {shop.name}, lengths in picas. {'. '.join(told)}.")


def cabinet_rows(shop: Shop, kind: MaterialKind) -> Iterator[tuple[float, str, list[_Place]]]:
    """Yield the rows of one kind: the thickness in points, the row's name, and its places from the shortest."""
    lying: dict[float, dict[float, _Place]] = {}
    for material, count in sorted(shop.pieces.items()):
        if material.kind != kind or not count:
            continue
        size = shop.kept_as.get(material, material)
        place = lying.setdefault(size.thickness, {}).setdefault(size.length, _Place([size.length], 0))
        if size == material:
            place.count, place.keep = count, material in shop.keep
        else:
            place.worn.append((material.thickness, count, material in shop.keep))
    for thickness, places in sorted(lying.items()):
        yield thickness, _row_name(shop, kind, thickness), list(_runs([places[length] for length in sorted(places)]))


def _row_name(shop: Shop, kind: MaterialKind, thickness: float) -> str:
    """Return a row's thickness, and what the shop calls it, if all its labels begin alike."""
    labels = [shop.labels[m] for m in shop.labels if m.kind == kind and shop.kept_as.get(m, m).thickness == thickness]
    names = {label.partition(", place")[0] for label in labels if ", place" in label}
    words = in_points(round(thickness, 2)) if kind == "lead" else write_length(round(thickness, 1))
    return f"{words} ({names.pop()})" if len(names) == 1 else words


def _runs(places: list[_Place]) -> Iterator[_Place]:
    """Yield the places, those in a run of whole picas with one count as one."""
    run: _Place | None = None
    for place in places:
        alike = (
            run is not None
            and not run.worn
            and not place.worn
            and (run.count, run.keep) == (place.count, place.keep)
            and abs(place.lengths[0] - run.lengths[-1] - PICA) <= SLACK
        )
        if alike and run:
            run.lengths.append(place.lengths[0])
            continue
        if run:
            yield from _split(run)
        run = place
    if run:
        yield from _split(run)


def _split(run: _Place) -> Iterator[_Place]:
    """Yield a run whole, or, if it is of two, as its two places."""
    if len(run.lengths) != 2:
        yield run
        return
    for length in run.lengths:
        yield _Place([length], run.count, run.worn, run.keep)
