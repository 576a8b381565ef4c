"""A question on the page: its task, an answer, Check, hints and a solution."""

from __future__ import annotations

import json
from collections.abc import Sequence
from html import escape
from typing import Any

from ipywidgets import HTML, Button, Dropdown, Text, VBox

from stonework.drawing import PlanView
from stonework.drawing.stone_touches import PIECE, pieces_to_choose
from stonework.drawing.touching import Touch
from stonework.drawing.words import cabinet, quoin_words, sentence, table
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.attempt import Attempt
from stonework.exercises.choose_furniture import PieceNumber, record
from stonework.exercises.chosen import chosen_for
from stonework.exercises.question import Choice
from stonework.laying import Bench
from stonework.lockup import Lockup
from stonework.panels.asking import NAMED, button, when_entered
from stonework.panels.common import NUMBERS, OLD, REFUSED, RIGHT, Panel, guarded, status
from stonework.panels.stone import StonePanel
from stonework.panels.style import STYLE
from stonework.panels.whose import whose
from stonework.rules import Finding
from stonework.shop import Shop

_NONE = ""  # not None: a dropdown shows that as no choice at all


class QuestionPanel(VBox):
    """A question by its id, with the numbers of a sheet; it follows when the sheet turns to another name."""

    def __init__(self, question: str, shop: Shop, sheet: AnswerSheet) -> None:
        self._question, self._shop, self._sheet = question, shop, sheet
        super().__init__()
        self._open()
        sheet.follow(self._open)

    def __repr__(self) -> str:
        return repr(self.children[0])

    def _open(self) -> None:
        self.children = (self._made(),)

    def _made(self) -> TypedQuestion | StoneQuestion | Unasked:
        if self._question not in QUESTIONS:
            why = f"There is no question “{self._question}”; there are {', '.join(QUESTIONS)}."
            return Unasked(self._question, why)
        chosen = chosen_for(self._sheet)
        if self._question in chosen.left_out:
            title = QUESTIONS[self._question].title
            return Unasked(self._question, f"{title}: your instructor leaves this question out.", "left out")
        try:
            attempt = Attempt(QUESTIONS[self._question], self._shop, self._sheet, chosen)
        except ValueError as error:
            return Unasked(self._question, str(error))
        start = attempt.variant.start
        return TypedQuestion(attempt) if start is None else StoneQuestion(attempt, start())


class Unasked(VBox):
    """What stands in a question's place when it isn't asked, and why: it can't be, or it is left out."""

    def __init__(self, question: str, why: str, stands: str = "can't be asked") -> None:
        self._question, self._stands = question, stands
        super().__init__([HTML(STYLE), HTML(status(why, "" if stands == "left out" else REFUSED)), whose()])
        self.add_class("stonework-panel")

    def __repr__(self) -> str:
        return f"<question {self._question}: {self._stands}>"


class _Asking:
    """What both kinds of question share: the task above, the verdict, and the hints and solution below."""

    def __init__(self, attempt: Attempt) -> None:
        self._attempt = attempt
        self._task, self._more, self._foot = HTML(), HTML(), HTML()
        chosen = f'<p class="stonework-note">{escape(str(attempt.chosen))}</p>' if str(attempt.chosen) else ""
        self._task.value = (
            f'<div class="stonework-task"><strong>{escape(attempt.question.title)}</strong>'
            f"{escape(attempt.variant.task)}{chosen}</div>"
        )
        self._more.add_class("stonework-more")
        self._asking = [
            button("Check", self._check),
            button("A hint", self._hint),
            button("Show a solution", self._solve),
        ]

    def __repr__(self) -> str:
        return f"<question {self._attempt.question.id}: {self._attempt.outcome.standing}>"

    @guarded
    def _check(self, _button: Any = None) -> None:
        self._attempt.check()
        self._verdict()

    @guarded
    def _hint(self, _button: Button) -> None:
        told = len(self._attempt.hints)
        self._attempt.hint()
        self._help(no_more=len(self._attempt.hints) == told)

    @guarded
    def _solve(self, _button: Button) -> None:
        self._attempt.solve()
        self._asking[2].description = "Hide the solution" if self._attempt.solved else "Show a solution"
        self._help(nothing_new=not self._attempt.solved)

    def _verdict(self) -> None:
        """Show how the answer stands; one about an answer since changed is marked as old."""
        attempt = self._attempt
        kind = OLD if attempt.stale else {"right": RIGHT, "not yet": REFUSED}.get(attempt.outcome.standing, "")
        self._status.value = status(attempt.words, kind)
        number = attempt.chosen.number
        instead = "" if number is None else f" For now number {number}, set for all, takes its place."
        self._foot.value = f'<p class="stonework-foot">{escape(f"{attempt.sheet}{instead}")}</p>'

    def _help(self, *, no_more: bool = False, nothing_new: bool = False) -> None:
        attempt = self._attempt
        count = len(attempt.variant.hints)
        told = [
            f"<p><strong>Hint {n} of {count}.</strong> {escape(hint)}</p>" for n, hint in enumerate(attempt.hints, 1)
        ]
        if no_more:
            told.append("<p>That was the last hint; a solution can be shown.</p>")
        if attempt.solved:
            told.append(f"<p><strong>Solution.</strong> {escape(attempt.variant.solution)}</p>")
        new = "" if nothing_new or not told else told.pop()  # nothing else is spoken
        self._more.value = f'{"".join(told)}<div role="status" aria-live="polite">{new}</div>'


class TypedQuestion(_Asking, Panel):
    """A question whose answer is typed, or picked from a list."""

    def __init__(self, attempt: Attempt) -> None:
        _Asking.__init__(self, attempt)
        variant = attempt.variant
        if isinstance(variant.reader, Choice):
            self._answer: Any = Dropdown(
                options=[("choose …", _NONE), *((option, option) for option in variant.reader.options)],
                value=attempt.text if attempt.text in variant.reader.options else _NONE,
                description=variant.reader.label,
                style=NAMED,
            )
        else:
            self._answer = Text(attempt.text, description=variant.reader.label, style=NAMED)
        view = variant.picture(f"{attempt.question.id}-{next(NUMBERS)}") if variant.picture else None
        Panel.__init__(
            self,
            [self._answer],
            self._asking,
            view,
            attempt.question.id,
            above=[self._task],
            below=[self._more, self._foot],
        )
        self.add_class("stonework-question")
        if view is not None:
            words = f"<details><summary>The picture in words</summary><p>{escape(view.words)}</p></details>"
            self.show("", words)
        self._answer.observe(self._changed, "value")
        if isinstance(self._answer, Text):
            when_entered(self._answer, self._check)
        self._verdict()
        self._help()

    def touches(self) -> list[Touch]:
        """Return the pieces of a plan, if the number of one is asked for."""
        asked = isinstance(self._attempt.variant.reader, PieceNumber) and isinstance(self._view, PlanView)
        return [*pieces_to_choose(self._view.order)] if asked else []

    def touched(self, words: str, way: str) -> None:
        """Write the number of the piece chosen as the answer; it is judged when Check is pressed."""
        what, _, number = words.partition(" ")
        if what == PIECE and not way:
            self._answer.value = number

    @guarded
    def _changed(self, _change: Any) -> None:
        self._attempt.text = self._answer.value
        self._verdict()


class StoneQuestion(_Asking, StonePanel):
    """A question whose answer is what lies on the stone."""

    def __init__(self, attempt: Attempt, bench: Bench) -> None:
        _Asking.__init__(self, attempt)
        if attempt.outcome.standing != "not attempted":
            bench.finish(Lockup.from_dict(json.loads(attempt.text)))
        StonePanel.__init__(self, bench, above=[self._task], more_buttons=self._asking, below=[self._more, self._foot])
        self.add_class("stonework-question")
        self._show_stone("", ())
        self._verdict()
        self._help()

    def redraw(self, words: str) -> None:
        """Show what lies on the stone; whether it would hold is said when Check is pressed."""
        self._attempt.text = record(self.lockup)
        self._show_stone(f"{words} Press Check when you think it would hold.", ())

    def _verdict(self) -> None:
        if not self._attempt.stale and self._attempt.outcome.standing == "not yet":
            self._show_stone("", self._attempt.variant.reader.faults(self.lockup)[:1])
        super()._verdict()

    def _show_stone(self, words: str, wrong: Sequence[Finding]) -> None:
        lockup, shop = self.lockup, self._bench.shop
        items = lockup.placing_order()
        told = (
            f'<p class="stonework-sentence">{escape(sentence(lockup, shop, items))}</p>'
            f"<p>{escape(quoin_words(self._bench.quoin))}</p>{cabinet(shop, lockup)}<details><summary>The same as a "
            f"table</summary>{table(lockup, shop, items)}</details>"
        )
        self.show_lockup(words, lockup, shop, told, wrong=wrong)
