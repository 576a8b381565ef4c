"""The *choose* panel: a form, a chase and a place, answered with a lockup from the cabinet."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from html import escape
from itertools import chain
from typing import Any, NamedTuple

from ipywidgets import Button, Dropdown, Layout, Text

from stonework.choosing import ANY, ARRANGEMENTS, EFFORT, QUICK, Chosen, NoLockup, choose_freely
from stonework.drawing.words import arrangement_words, facts, laid_words, outcome, summary
from stonework.form import Form
from stonework.ledger import freeing
from stonework.lockup import NO_JOB, SIDES, TOLERANCE, Intent, Lockup, pattern_of
from stonework.panels.asking import (
    HEADS,
    NAMED,
    SOLID,
    head_box,
    mount_box,
    press_and_chase,
    set_quietly,
    step_by_key,
)
from stonework.panels.common import PlanPanel, guarded
from stonework.panels.leaving import Leaving
from stonework.panels.numbers import NumberBox, written
from stonework.panels.thinking import Stop, Thinking
from stonework.placing import lying_as
from stonework.rules import judge
from stonework.shop import Chase, Shop
from stonework.units import read_length, write_length

_LONGER = (8 * EFFORT, 64 * EFFORT)  # for which an answer that isn't proved is looked at again while it is shown


class _Finding(NamedTuple):
    """What is asked for, to be looked for in one shop or another."""

    choose: Callable[..., Chosen]
    chases: Sequence[Chase]

    def chases_in(self, shop: Shop) -> list[Chase]:
        """Return those of the chases that a shop has."""
        return [chase for chase in self.chases if chase.name in {one.name for one in shop.chases}]

    def __call__(self, shop: Shop, **options: Any) -> Chosen:
        """Look for a lockup in what a shop has."""
        return self.choose(shop, chases=self.chases_in(shop), **options)

    def lockup(self, shop: Shop, stop: Stop) -> Lockup | None:
        """Return the lockup in what a shop has, or ``None``."""
        try:
            return self(shop, stop=stop).answer.lockup if self.chases_in(shop) else None
        except NoLockup:
            return None


class ChoosePanel(PlanPanel):
    """Controls for a form and its place; the solver answers as they change, or says why nothing works."""

    def __init__(self, shop: Shop, width: str = "27 picas", height: str = "17 picas", chase: str | None = None) -> None:
        self._shop = shop
        self.lockup: Lockup | None = None
        self._said = ""  # what was chosen where the choice was free, and by how much the answer may be off
        self._thinking = Thinking(self.tell_failure)
        self._tolerance, self._sheet, self._block, self._job = shop.placing.tolerance, None, None, NO_JOB
        self._width = Text(width, description="Form width", continuous_update=False, style=NAMED)
        self._height = Text(height, description="Form height", continuous_update=False, style=NAMED)
        self._press, self._chase = press_and_chase(shop, chase, freely=True)
        self._head = head_box(freely=True)
        self._build = Dropdown(
            options={"no": False, "if nothing else does": True}, description="Build up to a block", style=NAMED
        )
        self._right, self._up = (
            NumberBox(by, -300, 300, name, parts=True)
            for by, name in (
                (shop.placing.right, "Right of the middle (points)"),
                (shop.placing.up, "Above the middle (points)"),
            )
        )
        self._solid = Dropdown(options=SOLID, value=shop.placing.guides, description="Solid sides", style=NAMED)
        self._corners = Dropdown(
            options={"whichever is best": ANY, **{arrangement_words(name): name for name in ARRANGEMENTS}},
            description="Corners",
            style=NAMED,
        )
        patterns = [(one.name, one.name) for one in shop.quoins]
        self._quoin = Dropdown(options=[*patterns, ("whichever is best", ANY)], description="Quoins", style=NAMED)
        self._placed = NumberBox(0, 0, 0, "Pieces laid")
        self._steps = [
            Button(description=words, layout=Layout(width="auto"))
            for words in ("Take them all off", "One back", "Lay the next", "Lay them all")
        ]
        step_by_key(back=self._steps[1], on=self._steps[2])
        asked = [
            self._width,
            self._height,
            self._head,
            self._press,
            self._chase,
            self._right,
            self._up,
            self._solid,
            self._corners,
            self._quoin,
            self._build,
        ]
        mounts = mount_box(shop, self._width, self._height, self._ask)
        keeping = self.keeping(self._open)
        self._leaving = Leaving(shop, self._own, self._ask)
        super().__init__([mounts, *asked, self._leaving.box], [self._placed, *self._steps], more_buttons=keeping)
        self.own_files = [*self.own_files, mounts, self._width, self._height]
        for control in asked:
            control.observe(self._ask, "value")
        self._placed.observe(self._redraw, "value")
        for step in self._steps:
            step.on_click(self._step)
        self._ask()
        if self.lockup is None and self._leaving.counted:
            self._leaving.box.value = False  # a lesson shows its picture, whatever others hold, and says who does

    def __repr__(self) -> str:
        asked = f"form {self._width.value} × {self._height.value} in the {self._chase.value} chase"
        if self.lockup is None:
            return f"<choose: {asked}; no lockup>"
        return f"<choose: {asked}; {summary(self.lockup, judge(self.lockup, self._leaving.shop))}>"

    def _own(self) -> str:
        """Return the name of the lockup at hand."""
        return self._job.name or self._name.value.strip()

    @guarded
    def _ask(self, change: Any = None) -> None:
        self.lockup = None
        custom = self._shop.custom(self._press.value)
        if change and change.owner is self._press:
            stands = ((self._right, written(custom.right)), (self._up, written(custom.up)))
            set_quietly([(self._solid, custom.guides), *stands], self._ask)
        if change and change.owner in (self._width, self._height, self._head, self._press, self._chase):
            # another job than the one opened
            self._tolerance, self._sheet, self._block, self._job = custom.tolerance, None, None, NO_JOB
        try:
            measured = Form(read_length(self._width.value), read_length(self._height.value))
            off = (self._right.number, self._up.number)
        except ValueError as error:
            self._thinking.forget()
            self.refuse(str(error))
            return
        cabinet = self._leaving.look()
        chases = [self._shop.chase(self._chase.value)] if self._chase.value else self._chases()
        options = {
            "heads": [self._head.value] if self._head.value else ["top", "left"],
            "build_up": self._build.value,
            "off": off,
            "quoin": self._quoin.value,
            "tolerance": self._tolerance,
            "solid": self._solid.value,
            "arrangement": self._corners.value or None,
        }
        find = _Finding(partial(choose_freely, self._block or measured, **options), chases)
        self._thinking.ask(
            partial(self._answers, find, cabinet),
            waiting=partial(self.working, "Looking for wood …"),
            wait=change is None,
        )

    def _chases(self) -> Sequence[Chase]:
        return self._shop.chases_of(self._press.value) or self._shop.chases

    def _answers(self, find: _Finding, cabinet: Shop, stop: Stop, beside: bool) -> Iterator[Callable[[], None]]:
        """Yield what is to be shown: a lockup, and better ones if there are; or why there is none, bit by bit."""
        if not find.chases_in(cabinet):
            yield partial(self._refuse_for, tuple(self._freeing(find, stop)) or ("No chase is free for it.",))
            return
        shown = False
        for effort in (QUICK, EFFORT, *_LONGER) if beside else (EFFORT,):
            try:
                chosen = find(cabinet, stop=stop, effort=effort)
            except NoLockup as error:
                if (effort == EFFORT or error.certain) and not shown:
                    reasons: list[str] = []
                    for reason in chain(self._freeing(find, stop), error.why(stop)):
                        reasons.append(reason)
                        yield partial(self._refuse_for, tuple(reasons))
                    return
                if not shown:
                    yield partial(self.working, "No lockup was found yet; there may be one. Looking further …")
                continue
            yield partial(self._better if shown else self._found, chosen)
            shown = True
            if chosen.proved:
                return

    def _freeing(self, find: _Finding, stop: Stop) -> Iterator[str]:
        """Say whose forms stand in the way, which of them to put away, and which free chase would do."""
        if self._leaving.counted:
            for said in freeing(partial(find.lockup, stop=stop), self._leaving.all, self._leaving.forms):
                yield f"{said} (Untick “{self._leaving.box.description}” to choose from the whole shop.)"
            others = [chase for chase in self._leaving.shop.chases if chase not in find.chases]
            free = [one.name for one in others if find._replace(chases=[one]).lockup(self._leaving.shop, stop)]
            if free:
                yield f"It goes in the {' or '.join(free)} chase, which is free."

    def _refuse_for(self, reasons: Sequence[str]) -> None:
        first, *others = reasons
        more = "".join(f"<li>{escape(reason)}</li>" for reason in others)
        self.refuse(first, f'<ul class="stonework-findings">{more}</ul>' if more else "")

    def _found(self, chosen: Chosen) -> None:
        lockup = chosen.answer.lockup
        told = [] if self._chase.value else [f"the {lockup.chase.name} chase"]
        if not self._head.value:
            told.append(f"the head to {next(words for words, head in HEADS.items() if head == chosen.head)}")
        if not self._quoin.value:
            patterns = {side: lockup.quoins(side)[0].pattern or "" for side in lockup.quoin_sides}
            told += [f"{name} on the {side}" for side, name in patterns.items()]
        if lockup.block and not self._block:
            told.append("the form built up to a block")
        self._said = " ".join(filter(None, (f"Chosen: {', '.join(told)}." if told else "", chosen.doubt)))
        job = replace(self._job, press=self._press.value or self._job.press)
        intent = replace(lockup.intent, sheet=self._sheet)
        self._take(replace(lockup, intent=intent, head=chosen.head, job=job))

    def _better(self, chosen: Chosen) -> None:
        """Show what was found since, unless the pieces of what is shown are being laid one by one."""
        if self._placed.value != written(self._placed.most) or self.lockup is None:
            return
        before = self.lockup.items
        self._found(chosen)
        if self.lockup.items != before:
            self._said = f"This one was found since, and is better. {self._said}".rstrip()
            self._redraw()

    def _take(self, lockup: Lockup) -> None:
        """Show a lockup with all its pieces laid."""
        self.lockup = lockup
        self._placed.unobserve(self._redraw, "value")
        self._placed.most = len(lockup.items)
        self._placed.put(self._placed.most)
        self._placed.observe(self._redraw, "value")
        self._redraw()

    @guarded
    def _open(self, _button: Button) -> None:
        lockup = self.open_named(self._shop, self._name.value)
        if lockup is not None:
            self.take_up(lockup)

    def take_up(self, lockup: Lockup) -> None:
        """Show a lockup as it lies, or ask for the wood of one in which none lies yet."""
        self._thinking.forget()  # or what is still looked for would take the place of what is opened
        self._said = ""
        form, chase = lockup.form, lockup.chase
        wish = lockup.intent or Intent(form.x, form.y, TOLERANCE)
        self._tolerance, self._sheet, self._block, self._job = wish.tolerance, wish.sheet, lockup.block, lockup.job
        measured = lying_as(Form(form.width, form.height), lockup.head)
        press = lockup.job.press
        if press in {one.name for one in self._shop.presses if chase.name in one.chases}:
            set_quietly([(self._press, press)], self._ask)
        elif chase.name not in [value for _, value in self._chase.options]:
            set_quietly([(self._press, "")], self._ask)
        values = (
            (self._width, write_length(measured.width)),
            (self._height, write_length(measured.height)),
            (self._head, lockup.head),
            (self._chase, chase.name),
            (self._right, written(wish.x - (chase.width - form.width) / 2)),
            (self._up, written(wish.y - (chase.height - form.height) / 2)),
        )
        set_quietly(values, self._ask)
        if not lockup.items:
            self._picture.value = ""  # nothing was laid for this form yet
            set_quietly([(self._leaving.box, True)], self._ask)
            self._ask()
            return
        # What was saved is shown as it lies, not chosen anew; the controls say how it would be asked for.
        patterns = [pattern_of(item, self._shop.quoins) for item in lockup.items if item.kind == "quoin"]
        set_quietly([(self._quoin, quoin.name) for quoin in patterns[:1] if quoin], self._ask)
        set_quietly([(self._corners, ANY)], self._ask)
        solid = tuple(side for side in SIDES if side not in lockup.quoin_sides)
        if solid in SOLID.values():
            set_quietly([(self._solid, solid)], self._ask)
        self._take(lockup)

    @guarded
    def _redraw(self, _change: Any = None) -> None:
        if self.lockup is None:
            return
        cabinet = self._leaving.look()
        findings = judge(self.lockup, cabinet)
        try:
            laid = self._placed.number
        except ValueError as error:
            self.refuse(str(error))
            return
        whole = laid == len(self.lockup.items)
        words = laid_words(self.lockup, laid)
        if whole:
            held = self._leaving.words(self.lockup)
            words = " ".join(filter(None, (outcome(self.lockup, findings), held, self._said)))
        self._steps[1].disabled, self._steps[2].disabled = laid == 0, whole
        placed = None if whole else laid
        told = facts(self.lockup, cabinet, findings, placed)
        self.show_lockup(words, self.lockup, cabinet, told, placed=placed)

    @guarded
    def _step(self, button: Button) -> None:
        most = self._placed.most
        steps = dict(zip(self._steps, (-most, -1, 1, most), strict=True))
        try:
            laid = self._placed.number
        except ValueError:
            laid = most
        self._placed.put(min(max(laid + steps[button], 0), most))
