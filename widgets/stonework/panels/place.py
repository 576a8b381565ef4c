"""The *place* panel: a sheet, a form and its margins; where the form stands in the chase, and the sheet it prints."""

from __future__ import annotations

from html import escape
from typing import Any

from ipywidgets import Button, Dropdown

from stonework.drawing.mirror import MirrorView
from stonework.drawing.place_words import place_facts, place_words
from stonework.form import Form
from stonework.jobs import Ticket
from stonework.lockup import SLACK, Job, Lockup, PlacedForm, Side
from stonework.panels.asking import (
    NAMED,
    button,
    head_box,
    length_box,
    mount_box,
    name_box,
    press_and_chase,
    row,
    set_quietly,
)
from stonework.panels.common import NUMBERS, REFUSED, Panel, guarded, status
from stonework.placing import (
    Margins,
    Place,
    Sheet,
    book_margins,
    edge_over,
    even_margins,
    gripped,
    lying_as,
    margins_from,
    place_by_custom,
    place_by_sheet,
)
from stonework.shop import Placing, Shop
from stonework.units import read_length, write_length

_TOWARD = {"left": "to the left", "right": "to the right", "head": "toward the head", "foot": "toward the foot"}
_EVEN, _BACK_LEFT, _BACK_RIGHT, _TYPED = (
    "even",
    "book page, back on the left",
    "book page, back on the right",
    "as I type them",
)


class PlacePanel(Panel):
    """Controls for a sheet, a form and its margins; stone and sheet are drawn side by side as they change.

    ``place`` is the place found, or ``None``; saved, it is a lockup in which nothing is laid yet.
    """

    def __init__(
        self,
        shop: Shop,
        sheet: tuple[str, str] = ("36 picas", "26 picas"),
        form: tuple[str, str] = ("27 picas", "17 picas"),
        chase: str | None = None,
    ) -> None:
        self._shop = shop
        self.place: Place | None = None
        self._paper: PlacedForm | None = None  # where the first colour's paper lies, if its guides are to stay
        self._follows = (0.0, 0.0)  # how far its wood set the first colour off its place, right and up on the stone
        self._sheet_width, self._sheet_height = (
            length_box(value, f"Sheet {name}") for value, name in zip(sheet, ("width", "height"), strict=True)
        )
        self._width, self._height = (
            length_box(value, f"Form {name}") for value, name in zip(form, ("width", "height"), strict=True)
        )
        self._how = Dropdown(options=[_EVEN, _BACK_LEFT, _BACK_RIGHT, _TYPED], description="Margins", style=NAMED)
        self._left, self._head = length_box("4 picas", "Left margin"), length_box("3 picas", "Head margin")
        self._press, self._chase = press_and_chase(shop, chase)
        self._points = head_box()
        self._name, saving = name_box("a name", "Save it", self._save)
        self._first, taking = name_box(
            "a saved lockup", "Paper as for that lockup", self._take_paper, "First colour's lockup"
        )
        asked = [
            *(self._sheet_width, self._sheet_height, self._width, self._height),
            *(self._how, self._left, self._head, self._points, self._press, self._chase),
        ]
        self._mirror_view = MirrorView(f"mirror-{next(NUMBERS)}")
        self._name.add_class("stonework-own")
        keeping = [
            row([self._name, saving], "stonework-keep"),
            row([self._first, taking, button("Paper as the shop has it", self._leave_paper)], "stonework-keep"),
        ]
        mounts = mount_box(shop, self._width, self._height, self._ask)
        super().__init__([mounts, *asked], [], self._mirror_view, "place", more_buttons=keeping)
        self.own_files = keeping[:1]
        for control in asked:
            control.observe(self._ask, "value")
        self._ask()

    def __repr__(self) -> str:
        asked = f"form {self._width.value} × {self._height.value}"
        if self.place is None:
            return f"<place: {asked}; no place>"
        x, y = (write_length(round(length, 1)) for length in self.place.target)
        return f"<place: {asked}; {x} from the left, {y} from the foot>"

    @guarded
    def _ask(self, _change: Any = None) -> None:
        self.place = None
        typed = self._how.value == _TYPED
        self._left.disabled = self._head.disabled = not typed
        try:
            self.place = self._placed()
        except ValueError as error:
            self.refuse(str(error))
        else:
            self._show()

    def _placed(self) -> Place:
        form = Form(read_length(self._width.value), read_length(self._height.value))
        sheet = Sheet(read_length(self._sheet_width.value), read_length(self._sheet_height.value))
        chase, custom, head = self._shop.chase(self._chase.value), self._custom, self._points.value
        margins = self._margins(sheet, form)
        if self._how.value != _TYPED:
            self._fill_in(margins)
        paper, lying = self._paper, lying_as(Form(sheet.width, sheet.height), head)
        if paper and max(abs(paper.width - lying.width), abs(paper.height - lying.height)) > 0.5:
            self._paper = None
        if self._paper:
            return place_by_sheet(form, margins, self._paper, chase, custom, self._follows, head)
        return place_by_custom(form, sheet, margins, chase, custom, head)

    @property
    def _custom(self) -> Placing:
        """The custom of the press chosen, or else the shop's."""
        return self._shop.custom(self._press.value)

    def _margins(self, sheet: Sheet, form: Form) -> Margins:
        if self._how.value == _EVEN:
            return even_margins(sheet, form)
        if self._how.value == _TYPED:
            return margins_from(sheet, form, read_length(self._left.value), read_length(self._head.value))
        return book_margins(sheet, form, "left" if self._how.value == _BACK_LEFT else "right")

    def _fill_in(self, margins: Margins) -> None:
        """Show the margins found in the boxes that aren't typed into."""
        boxes = ((self._left, margins.left), (self._head, margins.head))
        set_quietly(((box, write_length(round(margin, 2))) for box, margin in boxes), self._ask)

    def _show(self, words: str = "") -> None:
        place, custom = self.place, self._custom
        self._mirror_view.draw(place, custom)
        told = place_words(place, custom)
        in_words = f"<details><summary>The picture in words</summary><p>{escape(self._mirror_view.words)}</p></details>"
        self.show(
            f"{words} {told}".lstrip(),
            place_facts(place, custom, stays=self._paper is not None) + in_words,
            refused=bool(gripped(place, custom)),
        )

    @property
    def lockup(self) -> Lockup | None:
        """The place as a lockup in which nothing is laid yet; ``None`` if there is no place."""
        place, job = self.place, Job(press=self._press.value)
        return place and Lockup(place.chase, place.form, "placed", (), place.intent, None, place.head, job)

    @guarded
    def _save(self, _button: Button) -> None:
        self.keep(self.lockup, self._name.value)

    def ask_for(self, ticket: Ticket, form: Form | None = None) -> None:
        """Fill in what a ticket says of its form, its paper and its margins; ``form`` is what was measured."""
        printed = ticket.printed
        if form is not None and ticket.abreast == 1:
            printed = form
        sizes = (printed.width, printed.height, ticket.sheet.width, ticket.sheet.height, ticket.left, ticket.head)
        boxes = (self._width, self._height, self._sheet_width, self._sheet_height, self._left, self._head)
        values = [(box, write_length(round(size, 2))) for box, size in zip(boxes, sizes, strict=True)]
        set_quietly([*values, (self._how, _TYPED)], self._ask)
        if ticket.chase:
            set_quietly([(self._press, ""), (self._chase, ticket.chase)], self._ask)
        self._first.value = ticket.after or ""
        self._ask()

    @guarded
    def _take_paper(self, _button: Button) -> None:
        lockup = self.open_named(self._shop, self._first.value)
        if lockup is None:
            return
        wish = lockup.intent
        if wish is None or wish.sheet is None:
            words = "That lockup doesn't say where its paper lies; save one from this panel first."
            self._status.value = status(words, REFUSED)
            return
        # The guides stay untouched, and this colour follows the first one to where its wood set it.
        self._paper = paper = wish.sheet
        self._follows = (lockup.form.x - wish.x, lockup.form.y - wish.y)
        sheet = lying_as(Form(paper.width, paper.height), lockup.head)
        if lockup.chase.name not in self._chase.options:
            set_quietly([(self._press, "")], self._ask)
        controls = (self._sheet_width, self._sheet_height, self._chase, self._points)
        values = (write_length(sheet.width), write_length(sheet.height), lockup.chase.name, lockup.head)
        set_quietly(zip(controls, values, strict=True), self._ask)
        self._again(f"The guides stay as for “{self._first.value.strip()}”.{self._following()}")

    def _following(self) -> str:
        """Say how far this colour follows the first one from the margins asked for, as one reads the sheet."""
        right, up = self._follows
        toward: tuple[tuple[float, Side], ...] = (
            (right, "right" if right > 0 else "left"),
            (up, "top" if up > 0 else "bottom"),
        )
        told = [
            f"{write_length(round(abs(by), 1))} {_TOWARD[edge_over(side, self._points.value)]}"
            for by, side in toward
            if abs(by) > SLACK
        ]
        return f" The first colour's wood set it {' and '.join(told)} on the sheet, and this one follows." * bool(told)

    @guarded
    def _leave_paper(self, _button: Button) -> None:
        self._paper, self._follows = None, (0.0, 0.0)
        self._again("The guides are set for this form.")

    def _again(self, words: str) -> None:
        self._ask()
        if self.place is not None:
            self._show(words)
