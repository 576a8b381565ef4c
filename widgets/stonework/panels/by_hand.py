"""The *by hand* panel: lay pieces side by side yourself, and be judged as you go."""

from __future__ import annotations

from typing import Any

from ipywidgets import Button, Dropdown, Text

from stonework.choosing import NoLockup, choose_lockup, lock_up
from stonework.drawing.words import hand_facts, hand_words
from stonework.form import Form
from stonework.laying import Bench
from stonework.lockup import Lockup
from stonework.panels.common import NAMED, button, chase_of, guarded, set_quietly
from stonework.panels.stone import StonePanel
from stonework.readiness import already_wrong
from stonework.rules import judge
from stonework.shop import Shop
from stonework.units import read_length, write_length


class HandPanel(StonePanel):
    """Choose a form and a chase and lay the wood yourself; ask for one next piece, or to see it finished."""

    def __init__(self, shop: Shop, width: str = "20 picas", height: str = "12 picas", chase: str | None = None) -> None:
        self._shop = shop
        self._width = Text(width, description="Form width", continuous_update=False, style=NAMED)
        self._height = Text(height, description="Form height", continuous_update=False, style=NAMED)
        self._chase = Dropdown(
            options=[one.name for one in shop.chases],
            value=chase_of(shop, chase).name,
            description="Chase",
            style=NAMED,
        )
        helps = [button("One next piece", self._next), button("See it finished", self._finish)]
        form_controls = [self._width, self._height, self._chase]
        bench = Bench(self._form(), shop.chase(self._chase.value), shop, solid=shop.placing.guides)
        super().__init__(bench, form_controls, helps, more_buttons=self.keeping(self._open))
        for control in form_controls:
            control.observe(self._begin, "value")
        self.redraw("An empty chase. Lay the first piece: which side will you begin with?")

    def __repr__(self) -> str:
        lockup = self.lockup
        asked = f"form {self._width.value} × {self._height.value} in the {self._chase.value} chase"
        return f"<by hand: {asked}; {len(lockup.wood)} pieces and {len(lockup.items) - len(lockup.wood)} quoins laid>"

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
    def _open(self, _button: Button) -> None:
        lockup = self.open_named(self._shop, self._name.value)
        if lockup is None:
            return
        self._bench.open(lockup)
        self.taken_back()
        self.redraw(f"Opened “{self._name.value.strip()}”. “Take it back” brings back what lay here.")

    def taken_back(self) -> None:
        """Set the form's controls to the form on the stone."""
        form = self._bench.form
        values = (
            (self._width, write_length(form.width)),
            (self._height, write_length(form.height)),
            (self._chase, self._bench.chase.name),
        )
        set_quietly(values, self._begin)

    @guarded
    def _next(self, _button: Button) -> None:
        if self.ready() and (plan := self._plan()):
            self.redraw(self._bench.next_from(plan))

    @guarded
    def _finish(self, _button: Button) -> None:
        if self.ready() and (plan := self._plan()):
            self._bench.finish(plan)
            self.redraw("One good lockup, finished for you. “Take it back” brings yours back.")

    def _plan(self) -> Lockup | None:
        self.working("Looking for wood …")
        bench, wish = self._bench, self._bench.wish
        options = {"target": (wish.x, wish.y), "tolerance": wish.tolerance, "solid": bench.solid}
        try:
            if bench.block:
                return lock_up(bench.block, bench.chase, self._shop, **options)
            return choose_lockup(bench.form, bench.chase, self._shop, **options)
        except NoLockup as error:
            self.redraw(f"No plan can be given. {error}")
            return None

    def redraw(self, words: str) -> None:
        """Show what lies on the stone, and judge it."""
        lockup = self.lockup
        findings = judge(lockup, self._shop)
        wrong = [finding for finding in already_wrong(lockup, findings) if finding.severity == "fault"]
        said, facts = hand_words(words, lockup, findings), hand_facts(lockup, self._shop, findings)
        self.show_lockup(said, lockup, self._shop, facts, wrong=wrong)
