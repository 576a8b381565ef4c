"""The *block* panel: a form built up until a quoin can press on it, or several forms made into one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Any

from ipywidgets import Button, Dropdown

from stonework.building import Repeated, Way, build_block, in_rows, least_side, repeated
from stonework.drawing.block_words import block_facts, block_words
from stonework.form import Form
from stonework.jobs import Ticket
from stonework.lockup import SLACK, Block, Intent, Job, Lockup, quarters_from
from stonework.panels.asking import (
    NAMED,
    button,
    by_custom,
    head_box,
    length_box,
    mount_box,
    name_box,
    press_and_chase,
    set_quietly,
)
from stonework.panels.common import REFUSED, PlanPanel, guarded, status
from stonework.panels.leaving import Leaving
from stonework.panels.numbers import NumberBox
from stonework.panels.thinking import Stop, Thinking
from stonework.shop import Shop
from stonework.units import read_length, write_length

_NONE = "none"
_WAYS: dict[str, Way] = {_NONE: "none", "beside the first": "beside", "below the first": "below"}
_OFTEN = 8  # times beside or below each other


class BlockPanel(PlanPanel):
    """Controls for forms of one size or two; the block they make, in its chase, with no wood round it yet."""

    def __init__(self, shop: Shop, width: str = "20 picas", height: str = "2 picas", chase: str | None = None) -> None:
        self._shop = shop
        self._thinking = Thinking(self.tell_failure)
        self.lockup: Lockup | None = None
        self._wish: Intent | None = None  # where a form that was opened is wanted
        self._opened: tuple[float, float] | None = None  # how wide and high its type is
        self._width, self._height = length_box(width, "Form width"), length_box(height, "Form height")
        self._second = Dropdown(options=list(_WAYS), description="Second form", style=NAMED)
        self._second_width = length_box(width, "Second width")
        self._second_height = length_box(height, "Second height")
        self._gutter = length_box("1 pica", "Gutter")
        self._across, self._down = (
            NumberBox(1, 1, _OFTEN, name) for name in ("Times side by side", "Times one below another")
        )
        self._quoin = Dropdown(options=[one.name for one in shop.quoins], description="Quoins", style=NAMED)
        self._head = head_box()
        self._press, self._chase = press_and_chase(shop, chase)
        asked = [
            *(self._width, self._height, self._second, self._second_width, self._second_height),
            *(self._across, self._down, self._gutter),
            *(self._head, self._quoin, self._press, self._chase),
        ]
        self._name, opening = name_box("a name", "Open it", self._open)
        keeping = [self._name, opening, button("Save it", self._save)]
        mounts = mount_box(shop, self._width, self._height, self._ask)
        self._files = keeping
        self._own = ""  # the job's name of the lockup that was opened
        self._leaving = Leaving(shop, lambda: self._own or self._name.value.strip(), self._ask)
        super().__init__([mounts, *asked, self._leaving.box], [], more_buttons=keeping)
        for control in asked:
            control.observe(self._ask, "value")
        self._ask()

    def __repr__(self) -> str:
        asked = f"form {self._width.value} × {self._height.value}"
        if self.lockup is None:
            return f"<block: {asked}; no block>"
        form = self.lockup.form
        return (
            f"<block: {asked}, built up to {write_length(round(form.width, 1))} × "
            f"{write_length(round(form.height, 1))}>"
        )

    @guarded
    def _ask(self, change: Any = None) -> None:
        self.lockup = None
        for control in (self._second_width, self._second_height):
            control.disabled = self._second.value == _NONE
        alone = self._second.value == _NONE and self._across.value.strip() == self._down.value.strip() == "1"
        self._gutter.disabled = alone
        if change and change.owner in (self._head, self._press, self._chase):
            self._wish = None  # another place than the one that was opened
        self._look(wait=change is None)

    def _look(self, words: str = "", *, wait: bool = False) -> None:
        """Look for the block that is asked for, and show it with some words before its own; or say why there is none.

        ``wait`` says that all must be there when this returns.
        """
        try:
            build = self._building()
        except ValueError as error:
            self._thinking.forget()
            self.refuse(str(error))
            return

        def work(_stop: Stop, _beside: bool) -> Iterator[Callable[[], None]]:
            try:
                block = build(self._leaving.look())
            except ValueError as error:
                yield partial(self.refuse, f"{self._held(build)} {error}".lstrip())
            else:
                yield partial(self._take, block, words)

        self._thinking.ask(work, waiting=partial(self.working, "Looking for pieces …"), wait=wait)

    def _held(self, build: Callable[[Shop], Block]) -> str:
        """Say who holds what a block takes that could be built with all of the shop; nothing if it couldn't."""
        if not self._leaving.counted:
            return ""
        try:
            wish = self._placed(build(self._leaving.all))
        except ValueError:
            return ""
        return f"Others hold what it takes. {self._leaving.words(wish)}".rstrip()

    def _building(self) -> Callable[[Shop], Block]:
        """Return how the block that the controls ask for is built in a shop."""
        first, second = Form(read_length(self._width.value), read_length(self._height.value)), None
        if self._second.value != _NONE:
            second = Form(read_length(self._second_width.value), read_length(self._second_height.value))
        forms = Repeated(first, second, _WAYS[self._second.value], self._across.number, self._down.number).rows
        side = least_side(self._shop.quoin(self._quoin.value))
        gutter = 0.0 if self._gutter.disabled else read_length(self._gutter.value)
        return lambda shop: _built(forms, shop, gutter, (side, side))

    def _take(self, block: Block, words: str) -> None:
        try:
            self.lockup = self._placed(block)
        except ValueError as error:
            self.refuse(str(error))
        else:
            self._redraw(words)

    def _placed(self, block: Block) -> Lockup:
        """Lay the block so that its type stands where it is wanted: as the press has it, or as was opened."""
        block = block.turned(quarters_from("top", self._head.value))
        chase, outline = self._shop.chase(self._chase.value), block.outline
        area = Lockup(chase, outline, "", (), block=block).type_area
        custom = by_custom(Form(area.width, area.height), chase, self._shop.custom(self._press.value))
        # What was wanted of the form that was opened goes for a block as large; another has another paper.
        opened = self._opened or (area.width, area.height)
        alike = max(abs(area.width - opened[0]), abs(area.height - opened[1])) <= SLACK
        x, y, tolerance, sheet = (
            (self._wish.x, self._wish.y, self._wish.tolerance, self._wish.sheet)
            if self._wish and alike
            else (*custom["target"], custom["tolerance"], None)
        )
        moved = block.moved(x - area.x, y - area.y)
        form = moved.outline
        over = max(-form.x, -form.y, form.x + form.width - chase.width, form.y + form.height - chase.height)
        if over > 0:
            raise ValueError(
                f"The block reaches {write_length(round(over, 1))} beyond the {chase.name} chase; take a larger one."
            )
        intent, job = Intent(form.x, form.y, tolerance, sheet), Job(press=self._press.value)
        return Lockup(chase, form, "placed", (), intent, moved, self._head.value, job)

    @guarded
    def _open(self, _button: Button) -> None:
        lockup = self.open_named(self._shop, self._name.value)
        if lockup is not None:
            self.take_up(lockup, f"Opened “{self._name.value.strip()}”.")

    def take_up(self, lockup: Lockup, words: str = "") -> None:
        """Ask for the block of a lockup's forms, where they stand; ``words`` come before what is said of it."""
        head_up = (lockup.block or Block((lockup.type_area,), ())).turned(quarters_from(lockup.head, "top"))
        forms = repeated(head_up.forms)
        if forms is None or max(forms.across, forms.down) > _OFTEN:
            refusal = f"That block holds {len(head_up.forms)} forms in a way that this panel can't make."
            self._status.value = status(refusal, REFUSED)
            return
        self._own = lockup.job.name
        area, wish = lockup.type_area, lockup.intent
        # What is wanted of the whole form is wanted of its type, which lies so far inside it.
        by = (wish.x - lockup.form.x, wish.y - lockup.form.y) if wish else (0.0, 0.0)
        self._opened = (area.width, area.height)
        self._wish = Intent(
            area.x + by[0],
            area.y + by[1],
            wish.tolerance if wish else self._shop.custom(lockup.job.press).tolerance,
            wish.sheet if wish else None,
        )
        first, second = forms.first, forms.second or forms.first
        values = [
            *((self._width, first.width), (self._height, first.height), (self._gutter, max(0.0, forms.gutter))),
            *((self._second_width, second.width), (self._second_height, second.height)),
        ]
        set_quietly(((box, write_length(round(size, 2))) for box, size in values), self._ask)
        set_quietly([(self._across, str(forms.across)), (self._down, str(forms.down))], self._ask)
        second_way = next(words for words, way in _WAYS.items() if way == forms.way)
        if lockup.chase.name not in self._chase.options:
            set_quietly([(self._press, "")], self._ask)
        turned = [(self._head, lockup.head), (self._second, second_way), (self._chase, lockup.chase.name)]
        set_quietly(turned, self._ask)
        self._second_width.disabled = self._second_height.disabled = forms.second is None
        self._gutter.disabled = len(head_up.forms) == 1
        self._look(words)

    def ask_for(self, ticket: Ticket) -> None:
        """Ask for as many forms side by side as a ticket does, where the whole of them stands."""
        if ticket.abreast > 1:
            sizes = ((self._width, ticket.form.width), (self._height, ticket.form.height))
            values = [(box, write_length(round(size, 2))) for box, size in (*sizes, (self._gutter, ticket.gutter))]
            set_quietly([*values, (self._second, _NONE), (self._across, str(ticket.abreast))], self._ask)
            self._gutter.disabled = False
            self._look()

    def _redraw(self, words: str = "") -> None:
        least = least_side(self._shop.quoin(self._quoin.value))
        told = block_words(self.lockup, least)
        self.show_lockup(
            f"{words} {told}".lstrip(), self.lockup, self._shop, block_facts(self.lockup, self._leaving.shop)
        )


def _built(forms: Sequence[Sequence[Form]], shop: Shop, gutter: float, least: tuple[float, float]) -> Block:
    """Build a form up, or make several into one block and build that up."""
    alone = len(forms) == len(forms[0]) == 1
    return build_block(forms[0][0] if alone else in_rows(forms, shop, gutter), shop, least=least)
