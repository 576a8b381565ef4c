"""The *by hand* panel: lay pieces side by side yourself, and be judged as you go."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any

from ipywidgets import Button, Dropdown, Text

from stonework.choosing import NoLockup, best_lockup
from stonework.drawing.words import hand_facts, hand_words
from stonework.form import Form
from stonework.laying import Bench
from stonework.lockup import SIDES, Lockup
from stonework.panels.asking import NAMED, SOLID, button, head_box, mount_box, press_and_chase, set_quietly
from stonework.panels.common import guarded
from stonework.panels.leaving import Leaving
from stonework.panels.stone import QUOINS, StonePanel
from stonework.panels.thinking import Stop, Thinking
from stonework.readiness import already_wrong
from stonework.rules import judge
from stonework.shop import Shop
from stonework.units import read_length, write_length


class HandPanel(StonePanel):
    """Choose a form and a chase and lay the wood yourself; ask for one next piece, or to see it finished."""

    laid: Callable[[Lockup], None] | None = None
    """Hears of every lockup that comes to lie on the stone."""

    def __init__(self, shop: Shop, width: str = "20 picas", height: str = "12 picas", chase: str | None = None) -> None:
        self._shop = shop
        self._thinking = Thinking(self.tell_failure)
        self._width = Text(width, description="Form width", continuous_update=False, style=NAMED)
        self._height = Text(height, description="Form height", continuous_update=False, style=NAMED)
        self._press, self._chase = press_and_chase(shop, chase)
        self._head = head_box()
        self._solid = Dropdown(options=SOLID, value=shop.placing.guides, description="Solid sides", style=NAMED)
        helps = [button("One next piece", self._next), button("See it finished", self._finish)]
        helps[0].add_class("stonework-next")
        form_controls = [self._width, self._height, self._chase]
        custom = shop.placing
        bench = Bench(
            self._form(),
            shop.chase(self._chase.value),
            shop,
            solid=custom.guides,
            tolerance=custom.tolerance,
            off=(custom.right, custom.up),
        )
        all_controls = [self._width, self._height, self._head, self._press, self._chase, self._solid]
        mounts = mount_box(shop, self._width, self._height, self._begin)
        keeping = self.keeping(self._open)
        self._leaving = Leaving(shop, lambda: bench.job.name or self._name.value.strip(), self._count_anew)
        super().__init__(bench, [mounts, *all_controls, self._leaving.box], helps, more_buttons=keeping)
        self.own_files = [*self.own_files, mounts, *all_controls[:-1]]
        for control in form_controls:
            control.observe(self._begin, "value")
        self._head.observe(self._turn, "value")
        self._solid.observe(self._keep_solid, "value")
        self._press.observe(self._take_press, "value")
        self.redraw("An empty chase. Lay the first piece: which side will you begin with?")

    def __repr__(self) -> str:
        lockup = self.lockup
        asked = f"form {self._width.value} × {self._height.value} in the {self._chase.value} chase"
        pieces = len(lockup.pieces)
        return f"<by hand: {asked}; {pieces} pieces and {len(lockup.items) - pieces} quoins laid>"

    def _form(self) -> Form:
        return Form(read_length(self._width.value), read_length(self._height.value))

    def ready(self) -> bool:
        """Say whether the form's size can be read; if not, say why on the panel."""
        try:
            self._form()
        except ValueError as error:
            self.refuse(str(error))
            return False
        return True

    @guarded
    def _begin(self, _change: Any = None) -> None:
        if self.ready():
            self._bench.begin(self._form(), self._shop.chase(self._chase.value))
            self.redraw("A new start. “Take it back” brings back what lay here.")

    @guarded
    def _count_anew(self, _change: Any = None) -> None:
        self.redraw(
            "Only what standing forms leave." if self._leaving.box.value else "The whole shop, as it is listed."
        )

    @guarded
    def _turn(self, _change: Any = None) -> None:
        self._bench.turn(self._head.value)
        self.redraw(f"The form's head points to the {self._head.value} now.")

    @guarded
    def _keep_solid(self, _change: Any = None) -> None:
        self._bench.keep_solid(self._solid.value)
        self.redraw(f"The {' and '.join(self._solid.value)} are the solid sides now.")

    @guarded
    def _take_press(self, _change: Any = None) -> None:
        """Take the custom of the press chosen: how far off a form may stand, and which sides are solid."""
        custom = self._shop.custom(self._press.value)
        set_quietly([(self._solid, custom.guides)], self._keep_solid)
        self._bench.take_press(self._press.value, custom)
        self.redraw(f"For the {self._press.value} now." if self._press.value else "For any press now.")

    @guarded
    def _open(self, _button: Button) -> None:
        lockup = self.open_named(self._shop, self._name.value)
        if lockup is not None:
            name = self._name.value.strip()
            self.take_up(lockup, f"Opened “{name}”. “Take it back” brings back what lay here.")

    def take_up(self, lockup: Lockup, words: str = "") -> None:
        """Put a lockup on the stone; ``words`` come before what is said of it."""
        self._bench.open(lockup)
        self._hand.value = lockup.job.hand
        self.taken_back()
        self.redraw(words)

    def offer_quoins(self) -> None:
        """Choose quoins as what is to be laid next, on a side that has none yet."""
        bare = [side for side in SIDES if side not in self._bench.solid and side not in self.lockup.quoin_sides]
        self._kind.value, self._side.value = QUOINS, next(iter(bare), self._side.value)

    def taken_back(self) -> None:
        """Set the form's controls to the form on the stone."""
        bench, form = self._bench, self._bench.form
        press = bench.job.press if bench.job.press in [name for _, name in self._press.options] else ""
        set_quietly([(self._press, press)], self._take_press)
        if bench.chase.name not in self._chase.options:
            set_quietly([(self._press, "")], self._take_press)
        values = (
            (self._width, write_length(form.width)),
            (self._height, write_length(form.height)),
            (self._chase, bench.chase.name),
        )
        set_quietly(values, self._begin)
        set_quietly([(self._head, bench.head)], self._turn)
        if bench.solid in SOLID.values():
            set_quietly([(self._solid, bench.solid)], self._keep_solid)

    @guarded
    def _next(self, _button: Button) -> None:
        self._with_plan(lambda plan: self.redraw(self._bench.next_from(plan)))

    @guarded
    def _finish(self, _button: Button) -> None:
        def finish(plan: Lockup) -> None:
            self._bench.finish(plan)
            self.redraw("One good lockup, finished for you. “Take it back” brings yours back.")

        self._with_plan(finish)

    def _with_plan(self, lay: Callable[[Lockup], None]) -> None:
        """Look for a plan for what is on the stone, and lay of it what was asked for; or say why there is none."""
        if not self.ready():
            return
        bench, wish = self._bench, self._bench.wish
        options = {"target": (wish.x, wish.y), "tolerance": wish.tolerance, "solid": bench.solid}
        find = partial(best_lockup, bench.block or bench.lying, bench.chase, self._leaving.look(), **options)

        def plan(stop: Stop, _beside: bool) -> Iterator[Callable[[], None]]:
            try:
                answer = find(stop=stop)
            except NoLockup as error:
                reasons = " ".join(error.why(stop))
                yield lambda: self.redraw(f"No plan can be given. {reasons}")
            else:
                yield lambda: lay(answer.lockup)

        self._thinking.ask(plan, waiting=partial(self.working, "Looking for wood …"))

    def redraw(self, words: str) -> None:
        """Show what lies on the stone, and judge it; a plan for what lay there before isn't wanted any more."""
        self._thinking.forget()
        lockup, cabinet = self.lockup, self._leaving.look()
        self._bench.shop = cabinet
        findings = judge(lockup, cabinet)
        wrong = [finding for finding in already_wrong(lockup, findings) if finding.severity == "fault"]
        said, facts = hand_words(words, lockup, findings).lstrip(), hand_facts(lockup, cabinet, findings)
        said = f"{said} {self._leaving.words(lockup)}".rstrip()
        self.show_lockup(said, lockup, cabinet, facts, wrong=wrong)
        if self.laid:
            self.laid(lockup)
