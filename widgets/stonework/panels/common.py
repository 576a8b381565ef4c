"""What panels share: their looks, their status line, their picture, and how a failure is told."""

from __future__ import annotations

import base64
import functools
import traceback
from abc import abstractmethod
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import date
from functools import partial
from html import escape
from itertools import count
from typing import Any

from ipywidgets import HTML, Button, Dropdown, Text, VBox

from stonework.drawing import PlanView
from stonework.drawing.picture import Picture
from stonework.drawing.stone_sheet import PAPERS, full_size_plan, full_size_words, sheet_words, stone_sheet
from stonework.drawing.touching import Touch, touchable
from stonework.files import alone
from stonework.ledger import let_stand
from stonework.lockup import Lockup
from stonework.panels.asking import NAMED, button, name_box, row
from stonework.panels.lockups import in_its_place, opened, saved
from stonework.panels.showing import SHOW, show_to_a_class, showing
from stonework.panels.style import STYLE
from stonework.panels.touching import read_touch, touch_box
from stonework.panels.two_pages import PAGES, mark_of_page
from stonework.panels.whose import say_again, whose
from stonework.people import here
from stonework.rules import Finding
from stonework.shop import Shop

# Every picture on a page needs a name of its own.
NUMBERS = count(1)
REFUSED, RIGHT, OLD = "stonework-refused", "stonework-right", "stonework-old"
"""What a status line may be besides plain: a refusal, a right answer, or about an answer that has changed since."""


def status(words: str, kind: str = "") -> str:
    """Return the status line, which screen readers speak when it changes."""
    return f'<p class="stonework-status {kind}" role="status" aria-live="polite">{escape(words)}</p>'


FAILED = (
    "Something went wrong inside the workbook. It isn't your doing, and what you typed is still there. Run the lesson "
    "again from its top; if this comes back, show your instructor the details."
)


def details(trace: str) -> str:
    """Return the workbook's own words about a failure, behind a fold."""
    return f"<details><summary>Details for the instructor</summary><pre>{escape(trace)}</pre></details>"


def guarded(handler: Callable[..., None]) -> Callable[..., None]:
    """Let no failure of a control's handler vanish: the student gets a sentence, the rest lies behind a fold."""

    @functools.wraps(handler)
    def call(panel: Any, *event: Any) -> None:
        if PAGES.hear(mark_of_page()):
            say_again()
        try:
            handler(panel, *event)
        except Exception:
            panel.tell_failure(traceback.format_exc())

    return call


class Panel(VBox):
    """A picture at the left; beside it a status line, whatever controls a panel adds, and the picture's facts in words.

    In a narrow window the picture comes first. ``above`` comes before both, ``below`` follows the buttons,
    ``more_buttons`` make a row of their own after that, ``before_facts`` comes before the facts, ``under`` stands
    under the picture and ``after`` below all. Without a ``view``
    there is no picture, and the status line follows the buttons. What ``touches`` names can be touched in the
    picture, and comes to ``touched``.
    """

    _shop: Shop  # of those that keep lockups

    def __init__(
        self,
        controls: list[Any],
        buttons: list[Any],
        view: Picture | None,
        shows: str,
        *,
        above: Sequence[Any] = (),
        more_buttons: Sequence[Any] = (),
        below: Sequence[Any] = (),
        before_facts: Sequence[Any] = (),
        under: Sequence[Any] = (),
        after: Sequence[Any] = (),
    ) -> None:
        self._view, self._shows, self._refusal = view, shows, ""
        self.own_files: Sequence[Any] = ()  # its controls for opening and saving; at the bench that's the bench's work
        self.changed = ""  # what the chase's new measure changed in the lockup opened last
        self._asked: tuple[str, dict[str, Any], str] | None = None  # what goes over another if it is asked for again
        self._status, self._picture, self._facts = HTML(), HTML(), HTML()
        self._picture.add_class("stonework-picture")
        self._facts.add_class("stonework-facts")
        self._print = HTML()
        to_print = [button("Picture to print", self._offer_picture), self._print] if view else []
        # Beside a picture the status line stands at its height, so that both are in view together.
        beside = [
            *([self._status] if view else ()),
            row(controls, "stonework-controls"),
            row([*buttons, *to_print], "stonework-buttons"),
            *(() if view else [self._status]),
            *below,
            *([row([*more_buttons], "stonework-buttons")] if more_buttons else ()),
            *before_facts,
            self._facts,
        ]
        columns = [_column(beside, "stonework-beside")]
        if view is not None:
            columns.insert(0, _column([self._picture, *under], "stonework-seen"))
        hearing = [touch_box(self._hear)] if view else []
        super().__init__([HTML(STYLE), *above, row(columns, "stonework-stage"), *after, whose(), *hearing])
        self.add_class("stonework-panel")

    def show(self, words: str, facts: str, *, refused: bool = False) -> None:
        """Show the picture as it was drawn last, what is said of it, and its facts (HTML)."""
        words, self.changed = f"{words} {self.changed}".rstrip(), ""
        self._picture.value = touchable(self._view, self.touches()) if self._view else ""
        self._facts.value = facts
        self._status.value = status(words, REFUSED if refused else "")
        self._print.value = ""
        self._picture.remove_class("stonework-stale")

    def touches(self) -> Sequence[Touch]:
        """Return what can be touched in the picture as it was drawn last."""
        return ()

    def touched(self, words: str, way: str) -> None:
        """Do what is asked by a touch: ``way`` is an arrow's, “off”, “by DX DY” in the picture's points, or nothing."""

    @guarded
    def _hear(self, change: Any) -> None:
        heard = read_touch(change["new"])
        if heard and heard[0] == SHOW:
            show_to_a_class(heard[1] == "on")
            self.letter_again()
        elif heard:
            self.touched(*heard)

    def letter_again(self) -> None:
        """Letter the picture anew, for a class or for one reader; nothing where there is but one lettering."""

    def open_named(self, shop: Shop, name: str) -> Lockup | None:
        """Open the lockup of a name; if that can't be done, say why and leave all else as it is."""
        try:
            found = opened(shop, name)
        except ValueError as error:
            self._status.value = status(str(error), REFUSED)
            return None
        self.changed = found.words
        return found.lockup

    def keep(self, lockup: Lockup | None, name: str) -> None:
        """Save a lockup under a name; in place of another of that name only when asked for twice."""
        with self.undisturbed():
            if not self.asks_first(lockup, name, "Save it"):
                words, well = saved(lockup and self.signed(lockup, name), name, self._shop, self._refusal)
                self.tell_kept(words, "" if well else REFUSED)

    def tell_kept(self, words: str, kind: str = "") -> None:
        """Say what came of saving."""
        self._status.value = status(words, kind)

    @contextmanager
    def undisturbed(self) -> Iterator[None]:
        """Let no other page save anything from the look to the saving; say so if that can't be had."""
        now = here()
        try:
            with alone(now.ready().parent), alone(now.folder):
                yield
        except OSError as error:
            self.tell_kept(f"Nothing can be saved in {now.folder.name}: {error.strerror}.", REFUSED)

    def asks_first(self, lockup: Lockup | None, name: str, button: str) -> bool:
        """Say what a lockup would take the place of, unless the button that does it is pressed for the second time."""
        there = in_its_place(lockup, name) if lockup else ""
        # The record, for two places may differ in their paper alone; and what is there, for another page may save.
        asked = lockup and (name, lockup.to_dict(), there)
        if there and self._asked != asked:
            self._asked = asked
            words = f"{there} To put this one in its place, press {button} once more."
            self.tell_kept(words, REFUSED)
            return True
        self._asked = None
        return False

    def signed(self, lockup: Lockup, name: str) -> Lockup:
        """Return a lockup with its job's name, if it has none yet, and today's date."""
        job = lockup.job
        return replace(lockup, job=replace(job, name=job.name or name.strip(), date=date.today().isoformat()))

    def working(self, words: str) -> None:
        """Say at once that an answer is being looked for, so that none stands as if it were the new one's."""
        self._status.value = status(words, OLD)
        if self._picture.value:
            self._picture.add_class("stonework-stale")

    def refuse(self, words: str, more: str = "") -> None:
        """Say why there is no answer, and more (HTML); what is still on screen is marked as the one before."""
        self._print.value, self._refusal = "", words
        still = f' <p class="stonework-note">The picture still shows the {self._shows} before this.</p>'
        self._status.value = status(words, REFUSED) + more + (still if self._picture.value else "")
        self._picture.add_class("stonework-stale")
        self._facts.value = ""

    @guarded
    def _offer_picture(self, _button: Button) -> None:
        """Offer the picture as a file: a browser prints it sharp, on a page of its own."""
        data = base64.b64encode(self._picture.value.encode()).decode()
        self._print.value = (
            f'<a download="{self._shows}.svg" href="data:image/svg+xml;base64,{data}">Save {self._shows}.svg</a>, '
            "then open it in your browser and print it."
        )

    def tell_failure(self, trace: str) -> None:
        """Say that the workbook itself failed."""
        self.refuse(FAILED, details(trace))


def _column(children: Sequence[Any], name: str) -> VBox:
    column = VBox([*children])
    column.add_class(name)
    return column


class LivePanel(Panel):
    """A panel that answers whenever one of its controls changes, or says why it can't."""

    def __init__(self, controls: list[Any], view: Picture | None, shows: str, *, above: Sequence[Any] = ()) -> None:
        super().__init__(controls, [], view, shows, above=above)
        for control in controls:
            control.observe(self._ask, "value")
        self._ask()

    @abstractmethod
    def answer(self) -> None:
        """Show the answer to what the controls say; ``ValueError`` with a sentence if there is none."""

    @guarded
    def _ask(self, _change: Any = None) -> None:
        try:
            self.answer()
        except ValueError as error:
            self.refuse(str(error))


class PlanPanel(Panel):
    """A panel whose picture is the plan view of a ``lockup``, if there is one."""

    lockup: Lockup | None
    _shop: Shop
    _pdf: HTML | None = None  # where a PDF is offered, on panels that offer one
    _hand: Text | None = None  # who laid it, on panels that ask
    _draw: Callable[..., None] | None = None  # draws the picture as it was drawn last
    _files: Sequence[Any] = ()

    def __init__(self, controls: list[Any], buttons: list[Any], **rest: Any) -> None:
        self._plan_view = PlanView(f"plan-{next(NUMBERS)}")
        super().__init__(controls, buttons, self._plan_view, "lockup", **rest)
        self.own_files = self._files

    def keeping(self, open_it: Callable[..., None]) -> list[Any]:
        """Return a box for the lockup's name, buttons that open and save it, and those for paper."""
        self._name, opening = name_box("a name", "Open it", open_it)
        self._hand = Text("", placeholder="if not you", description="Laid by", style=NAMED)
        self._paper = Dropdown(options=list(PAPERS), description="Paper", style=NAMED)
        self._pdf = HTML()
        saving, standing = button("Save it", self._save), button("Let it stand", self._stand)
        self._name.add_class("stonework-own")
        self._files = [self._name, opening, saving, standing]
        return [
            self._name,
            opening,
            self._hand,
            saving,
            standing,
            self._paper,
            button("Sheet for the stone", self._offer_sheet),
            button("Full-size plan", self._offer_plan),
            self._pdf,
        ]

    @guarded
    def _offer_sheet(self, _button: Button) -> None:
        self._offer_pdf("stone-sheet", stone_sheet, sheet_words)

    @guarded
    def _offer_plan(self, _button: Button) -> None:
        self._offer_pdf("full-size-plan", full_size_plan, full_size_words)

    def _offer_pdf(
        self,
        name: str,
        draw: Callable[[Lockup, Shop, str], bytes],
        words: Callable[[Lockup, Shop, str], str],
    ) -> None:
        """Offer a PDF of the lockup as a file, with a sentence on how to print it; or say why there is none."""
        if self.lockup is None or not self.lockup.items:
            self._pdf.value = "<p>There is nothing on the stone to print yet.</p>"
            return
        self._pdf.value = '<p role="status">Drawing the paper …</p>'
        try:
            data = base64.b64encode(
                draw(self.signed(self.lockup, self._name.value), self._shop, self._paper.value)
            ).decode()
        except ValueError as error:
            self._pdf.value = f"<p>{escape(str(error))}</p>"
        else:
            self._pdf.value = (
                f'<p><a download="{name}.pdf" href="data:application/pdf;base64,{data}">Save {name}.pdf</a>. '
                f"{escape(words(self.lockup, self._shop, self._paper.value))}</p>"
            )

    @guarded
    def _save(self, _button: Button) -> None:
        self.keep(self.lockup, self._name.value)  # a paper offered before bears the name that the job had then

    @guarded
    def _stand(self, _button: Button) -> None:
        """Save the lockup as one that stands, and holds its wood; or say who holds it already."""
        name = self._name.value
        if self.lockup is None:
            self.tell_kept(saved(None, name, self._shop, self._refusal)[0], REFUSED)
            return
        with self.undisturbed():
            if self.asks_first(self.lockup, name, "Let it stand"):
                return
            try:
                words = let_stand(self.signed(self.lockup, name), name, self._shop)
            except ValueError as error:
                self.tell_kept(str(error), REFUSED)
            else:
                self.tell_kept(words)

    def tell_kept(self, words: str, kind: str = "") -> None:
        """Say what came of saving, beside the buttons too: the status line may be out of sight."""
        super().tell_kept(words, kind)
        if self._pdf is not None:
            self._pdf.value = f"<p>{escape(words)}</p>"

    def signed(self, lockup: Lockup, name: str) -> Lockup:
        """Return a lockup with its job's name and date, and the hand that laid it."""
        said = self._hand.value if self._hand else ""
        hand = " ".join(said.split())[:60] or lockup.job.hand or here().name
        lockup = replace(lockup, job=replace(lockup.job, hand=hand))
        return super().signed(lockup, name)

    def letter_again(self) -> None:
        """Letter the plan anew, for a class or for one reader."""
        if self._draw and self._picture.value:
            self._draw(large=showing())
            self._picture.value = touchable(self._plan_view, self.touches())

    def show_lockup(
        self,
        words: str,
        lockup: Lockup,
        shop: Shop,
        facts: str,
        *,
        placed: int | None = None,
        wrong: Collection[Finding] = (),
    ) -> None:
        """Show a lockup, what is said of it, its facts (HTML), and in the picture what the findings are about."""
        marked = [item for finding in wrong for item in finding.items]
        pushes = [finding.push for finding in wrong if finding.push]
        self._draw = partial(self._plan_view.draw, lockup, shop, placed=placed, wrong=marked, pushes=pushes)
        self._draw(large=showing())
        if self._pdf is not None:
            self._pdf.value = ""  # it was of the lockup before
        self.show(words, facts, refused=bool(wrong))
