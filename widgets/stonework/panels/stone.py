"""A panel to lay pieces on the stone: which side, which piece, lay it, take it off again."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable, Sequence
from html import escape
from typing import Any

from ipywidgets import HTML, Button, Dropdown, VBox

from stonework.drawing.cabinet import CabinetView
from stonework.drawing.stone_touches import LAYER, ROOM, dragged_off, stone_touches
from stonework.drawing.touching import Touch, touchable
from stonework.drawing.words import name_of_size
from stonework.laying import Bench
from stonework.lockup import SIDES, Lockup, Side, along_x
from stonework.panels.asking import NAMED, button, length_box, row
from stonework.panels.common import NUMBERS, PlanPanel, guarded
from stonework.panels.fold import Fold
from stonework.panels.touching import drag
from stonework.shop import Material
from stonework.units import read_length, write_length

QUOINS = "row of quoins"
"""What is chosen as the piece to lay a row of quoins."""
_KINDS = {"furniture": "furniture", "reglet": "reglet", "metal furniture": "metal", "lead or slug": "lead"}
_NOTHING = 0.0
_MOST_QUOINS = 8  # on one side


class StonePanel(PlanPanel):
    """The controls of a bench; whoever builds on it says what is shown after each step, in ``redraw``."""

    def __init__(
        self,
        bench: Bench,
        controls: Sequence[Any] = (),
        buttons: Sequence[Any] = (),
        **rest: Any,
    ) -> None:
        self._bench = bench
        self._side = Dropdown(options=SIDES, description="Side", style=NAMED)
        held = {material.kind for material, count in bench.shop.pieces.items() if count}
        held |= {"lead"} if bench.shop.leads or bench.shop.slugs else set()
        kinds = [words for words, kind in _KINDS.items() if kind in held]
        self._kind = Dropdown(options=[*kinds, QUOINS], description="Piece", style=NAMED)
        self._thickness = Dropdown(description="Thickness", style=NAMED)
        self._length = Dropdown(description="Length", style=NAMED)
        self._cut = length_box("10 picas", "Cut to")
        self._second = Dropdown(description="End to end with", style=NAMED)
        self._lean = Dropdown(description="Toward", style=NAMED)
        patterns = [quoin.name for quoin in bench.shop.quoins]
        self._pattern = Dropdown(options=patterns, value=bench.quoin.name, description="Quoin", style=NAMED)
        self._many = Dropdown(description="How many", style=NAMED)
        self._offer_numbers()
        self._by = length_box("6 pt", "Move along by")
        self._ways = [button("", self._along(-1.0)), button("", self._along(1.0))]
        moving = row([self._by, *self._ways], "stonework-keep")
        steps = [
            button("Lay this piece", self._lay),
            button("Take one off this side", self._take_off),
            button("Take it back", self._take_back),
            button("Clear the stone", self._clear),
        ]
        steps[2].add_class("stonework-back")
        wood = [self._thickness, self._length, self._cut, self._second, self._lean]
        pieces = [self._side, self._kind, *wood, self._pattern, self._many]
        self._cabinet = HTML()
        self._cabinet.add_class("stonework-cabinet")
        self._in_hand = HTML()
        self._drawer = Fold("the cabinet", VBox([self._in_hand, self._cabinet]), self._pull_out)
        super().__init__([*controls, *pieces], [*steps, *buttons, moving], under=[self._drawer], **rest)
        for control in (self._kind, self._thickness, self._length):
            control.observe(self._offer, "value")
        self._side.observe(self._offer_leans, "value")
        self._pattern.observe(self._offer_numbers, "value")
        self._offer()
        self._offer_leans()

    @property
    def lockup(self) -> Lockup:
        """The record of what lies on the stone."""
        return self._bench.lockup()

    @abstractmethod
    def redraw(self, words: str) -> None:
        """Show the stone after something was done; ``words`` say what."""

    def ready(self) -> bool:
        """Say whether pieces can be laid; if not, the panel says why."""
        return True

    def touches(self) -> Sequence[Touch]:
        """Return the room on each side, where the piece chosen can be laid, and the outermost layer, which slides."""
        return [touch for side in SIDES for touch in stone_touches(self.lockup, side, self._what)]

    @property
    def _what(self) -> str:
        """What is chosen to be laid, in words."""
        if not self._material:
            return "quoins"
        if self._cut.layout.display == "":
            return f"{self._kind.value} {self._thickness.label} thick, cut to {self._cut.value}"
        return f"{self._kind.value} {self._thickness.label} × {self._length.label}"

    @guarded
    def _pull_out(self) -> None:
        """Draw what is left in the cabinet."""
        view = CabinetView(f"drawer-{next(NUMBERS)}")
        view.draw(self._bench.shop.without([item.material for item in self.lockup.pieces if item.kind != "lead"]))
        self._cabinet.value = touchable(view, view.touches)

    def show(self, words: str, facts: str, *, refused: bool = False) -> None:
        """Show the stone, and what is left in the cabinet if that is open."""
        super().show(words, facts, refused=refused)
        if self._drawer.opened:
            self._pull_out()

    def _take_stick(self, words: str) -> None:
        """Choose a stick in the cabinet as the piece to be laid next."""
        kind, thickness, length = words.rsplit(" ", 2)
        name = next((name for name, one in _KINDS.items() if one == kind), "")
        if name not in self._kind.options:
            return
        self._kind.value = name
        for control, wanted in ((self._thickness, thickness), (self._length, length)):
            values = [value for _, value in control.options if f"{value:g}" == wanted]
            control.value = values[0] if values else control.value
        words = f"{self._what[:1].upper()}{self._what[1:]} in hand. Where shall it lie?"
        self._in_hand.value = f'<p class="stonework-status">{escape(words)}</p>'
        self.redraw(words)

    def touched(self, words: str, way: str) -> None:
        """Take a stick, lay the piece chosen, or slide or take off what lies outermost: as the buttons do."""
        what, _, side = words.partition(" ")
        if what == "take":
            self._take_stick(side)
            return
        if side not in SIDES or what not in (ROOM, LAYER):
            return
        self._side.value = side
        moved = drag(way) if way else None
        if what == ROOM:
            self._lay(None)
        elif way == "off" or (moved and dragged_off(side, *moved)):
            self._take_off(None)
        elif moved:
            self._slide(moved[0 if along_x(side) else 1] / self._plan_view.scale)
        elif way in ("left", "down", "right", "up"):
            self._arrow(side, way)
        else:
            self.redraw(f"The outermost on the {side}. The arrow keys slide it, Delete takes it off.")

    def _arrow(self, side: Side, way: str) -> None:
        if way in (("left", "right") if along_x(side) else ("down", "up")):
            self._move(1.0 if way in ("right", "up") else -1.0)
        else:
            self.redraw(f"What lies on the {side} slides {'left and right' if along_x(side) else 'up and down'}.")

    def _slide(self, by: float) -> None:
        """Slide the outermost layer of the side by about so many points."""
        self._by.value = write_length(abs(round(by)) or 1)
        self._move(1.0 if by > 0 else -1.0)

    @guarded
    def _offer_leans(self, _change: Any = None) -> None:
        low, high = ("the left", "the right") if along_x(self._side.value) else ("the bottom", "the top")
        before = self._lean.value or "middle"
        self._lean.options = [("the middle", "middle"), (low, "low"), (high, "high")]
        self._lean.value = before
        for way, words in zip(self._ways, (low, high), strict=True):
            way.description = f"Move the outermost toward {words}"

    @guarded
    def _offer_numbers(self, _change: Any = None) -> None:
        """Offer no more quoins of a pattern than there are."""
        most = min(_MOST_QUOINS, self._bench.shop.quoin(self._pattern.value).count or _MOST_QUOINS)
        before = self._many.value or 0
        self._many.options = [("as many as it needs", 0), *((str(n), n) for n in range(1, most + 1))]
        self._many.value = before if before <= most else 0

    @property
    def _material(self) -> str:
        """The kind of material chosen; nothing for quoins."""
        return _KINDS.get(self._kind.value, "")

    @guarded
    def _offer(self, _change: Any = None) -> None:
        """Offer the sizes the cabinet has of the kind chosen, and only what can be asked of that kind."""
        shop, kind = self._bench.shop, self._material
        sizes = [m for m, count in shop.pieces.items() if count and m.kind == kind]
        strips = {*shop.leads, *shop.slugs} if kind == "lead" else set()
        self._set(self._thickness, {m.thickness for m in sizes} | strips)
        here = {m.length for m in sizes if kind != "lead" or m.thickness == self._thickness.value}
        cut = self._thickness.value in strips
        self._set(self._length, here)
        again = {m.length for m in sizes if m.thickness == self._thickness.value}
        self._set(self._second, again, ("nothing", _NOTHING))
        for control, shown in (
            (self._thickness, kind),
            (self._length, kind and not cut),
            (self._cut, cut),
            (self._second, kind and not cut and again),
            (self._lean, kind),
            (self._pattern, not kind),
            (self._many, not kind),
        ):
            control.layout.display = "" if shown else "none"

    def _set(self, control: Dropdown, lengths: set[float], *first: tuple[str, float]) -> None:
        """Offer lengths in a list, and keep the one chosen if it is still among them."""
        before = control.value
        options = [*first, *((write_length(length), length) for length in sorted(lengths))]
        values = [value for _, value in options]
        listens = control in (self._thickness, self._length)
        if listens:
            control.unobserve(self._offer, "value")
        control.options = options
        control.value = before if before in values else next(iter(values), None)
        if listens:
            control.observe(self._offer, "value")
        control.disabled = not options

    @guarded
    def _lay(self, _button: Button | None) -> None:
        if not self.ready():
            return
        side, stood = self._side.value, self.lockup.form
        if not self._material:
            self._bench.lay_quoins(side, self._bench.shop.quoin(self._pattern.value), self._many.value or None)
            self.redraw(f"Laid quoins on the {side}.{self._slid(stood)}")
            return
        try:
            done = self._lay_piece(side)
        except ValueError as error:
            self.redraw(f"Nothing was laid. {error}")
            return
        self.redraw(f"{done} on the {side}.{self._slid(stood)}")

    def _lay_piece(self, side: Side) -> str:
        """Lay what the controls say, one piece or two end to end, and say what was laid."""
        kind, thickness, cut = self._material, self._thickness.value, self._cut.layout.display == ""
        material = Material(kind, thickness, read_length(self._cut.value) if cut else self._length.value)
        second = None if cut else self._second.value
        words = f"Laid {name_of_size(material)}"
        if second:
            self._bench.lay_ends(side, material, material._replace(length=second), self._lean.value)
            return f"{words} and {write_length(second)} end to end"
        self._bench.lay(side, material, self._lean.value)
        return words

    def _along(self, way: float) -> Callable[[Button], None]:
        """Return a handler that moves the outermost layer of the side along it."""

        def move(_button: Button) -> None:
            self._move(way)

        return move

    @guarded
    def _move(self, way: float) -> None:
        if not self.ready():
            return
        try:
            by = read_length(self._by.value)
        except ValueError as error:
            self.redraw(f"Nothing was moved. {error}")
            return
        layer = self._bench.move_along(self._side.value, way * by)
        if layer is None:
            self.redraw(f"Nothing lies on the {self._side.value}.")
        else:
            what = "the quoins" if layer.kind == "quoin" else "the outermost piece"
            self.redraw(f"Moved {what} on the {self._side.value} by {write_length(round(by, 2))}.")

    @guarded
    def _take_off(self, _button: Button | None) -> None:
        side, stood = self._side.value, self.lockup.form
        layer = self._bench.take_off(side)
        if layer is None:
            self.redraw(f"Nothing lies on the {side}.")
            return
        what = "the quoins" if layer.kind == "quoin" else f"{layer.kind} {write_length(layer.thickness)}"
        self.redraw(f"Took {what} off the {side}.{self._slid(stood)}")

    @guarded
    def _take_back(self, _button: Button) -> None:
        if not self._bench.can_take_back:
            self.redraw("There is nothing to take back.")
            return
        self._bench.take_back()
        self.taken_back()
        self.redraw("Taken back.")

    def taken_back(self) -> None:
        """Follow what was taken back with other controls; there may be none."""

    @guarded
    def _clear(self, _button: Button) -> None:
        self._bench.clear()
        self.redraw("Everything is off the stone. “Take it back” brings it back.")

    def _slid(self, stood: Any) -> str:
        return " The form slid against it." if self.lockup.form != stood else ""
