"""The *plan a class* panel: who is in the class and what they print, answered with who takes what, and when."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from html import escape
from pathlib import Path
from typing import Any

from ipywidgets import HTML, Button, Checkbox, Dropdown, FileUpload, Textarea, VBox

from stonework.drawing.class_sheets_words import (
    advice_words,
    changes_of,
    idle_words,
    outcome,
    ready_words,
    sure,
    time_words,
    who_table,
)
from stonework.jobs import Ticket, jobs_beside, load_jobs
from stonework.jobs.tasks import tasks
from stonework.panels.adding import AddingBox
from stonework.panels.asking import NAMED, button, row
from stonework.panels.bench import shop_files
from stonework.panels.common import Panel, guarded
from stonework.panels.fold import Fold
from stonework.panels.leaving import Leaving
from stonework.panels.numbers import NumberBox
from stonework.panels.planning_paper import PlanPaper
from stonework.panels.thinking import Stop, Thinking
from stonework.planning import (
    Advice,
    NamingError,
    Plan,
    Task,
    advise,
    dealt,
    installed,
    plan_class,
    read_class,
    read_names,
    why_not,
    with_changes,
)
from stonework.shop import Shop, ShopFileError

EVENING, SHIFT = 120, 40
"""Minutes of an evening, and of one shift at the stone; this workbook's own figures."""

MISSING = (
    "Planning needs one more part, HiGHS, which isn't installed here yet. Close this page, and where the workbook lies "
    "type in a terminal:  python3 lessons/workbook.py open plan  It is fetched once, and this page opens again."
)
_LARGEST = 1_000_000  # bytes of a list of names


class PlanningPanel(Panel):
    """A class, its jobs and its minutes; the plan gets better while it is shown, and can be stopped at any time.

    ``shop_file`` is the shop's; its jobs stand beside it in a file of their own.
    """

    def __init__(self, shop_file: str | Path) -> None:
        self._plan: Plan | None = None
        self._advice: Advice | None = None
        self._idle: list[str] = []
        self._shop: Shop | None = None
        self._there: Shop | None = None  # what of it the plan may use
        self._jobs: Mapping[str, Ticket] = {}
        self._enough = threading.Event()
        self._thinking = Thinking(self.tell_failure)
        self._file = Dropdown(options=shop_files(shop_file), value=str(shop_file), description="Shop", style=NAMED)
        self._class = Textarea("12", description="The class", style=NAMED, rows=4, continuous_update=False)
        self._class.layout.width = "22rem"
        self._class.add_class("stonework-class")
        self._upload = FileUpload(
            accept=".csv,.txt", multiple=False, description="Read a list", layout={"width": "auto"}
        )
        self._upload.icon, self._upload.tooltip = "", "names from a file"
        self._evening = NumberBox(EVENING, 1, 1440, "Minutes of the evening")
        self._minutes = NumberBox(SHIFT, 1, 1440, "Minutes for a shift")
        self._dealt, self._adding, self._left = VBox(), VBox(), VBox()
        self._leaving: Leaving | None = None
        self._bar = HTML()
        self._planning = button("Plan the class", self._ask)
        self._stopping = button("Stop and keep this", self._stop)
        self._stopping.disabled = True
        self._changing = button("Plan with these changes", self._ask_changed)
        self._made: list[str] = []  # the changes that the plan takes for granted
        self.paper = PlanPaper()
        asked = [self._class, self._upload, self._evening, self._minutes, self._file]
        super().__init__(
            asked,
            [self._planning, self._stopping, self._changing],
            None,
            "plan",
            above=[self._dealt, self._left],
            below=[self._bar],
            before_facts=[self.paper],
            after=[self._adding],
        )
        self.add_class("stonework-planning")
        for control in (self._evening, self._minutes):
            control.observe(self._time, "value")
        self._class.observe(self._changed, "value")
        self._upload.observe(self._read, "value")
        self._file.observe(self._turn_to, "value")
        self._open()

    def __repr__(self) -> str:
        if self._plan is None:
            return f"<plan a class: {len(self._jobs)} jobs; not planned yet>"
        people, shifts = len(self._plan.given), self._plan.score.shifts
        return f"<plan a class: {people} people in {shifts} shift{'s' * (shifts > 1)}>"

    # --- shop and jobs ------------------------------------------------------------------------------------------

    @guarded
    def _turn_to(self, _change: Any = None) -> None:
        self._open()

    def _open(self) -> None:
        """Read the shop and its jobs, and forget the plan for another."""
        self._forget()
        path = Path(self._file.value)
        self._shop, self._jobs = None, {}
        self._dealt.children = self._adding.children = self._left.children = ()
        self._leaving = None
        try:
            self._shop = Shop.load(path)
            there = jobs_beside(path)
            self._jobs = load_jobs(there, self._shop) if there.exists() else {}
        except ShopFileError as error:
            self.refuse(f"{error}")
            return
        self._leaving = Leaving(self._shop, str, self._changed)
        self._left.children = (row([self._leaving.box], "stonework-controls"),)
        adding = AddingBox(self._shop, jobs_beside(path), self._added)
        self._adding.children = (Fold("the boxes for a job of your own", adding),)
        self._offer(self._jobs)
        self.show("Say who is in the class, tick the jobs, and press “Plan the class”." if installed() else MISSING, "")

    def _offer(self, jobs: Mapping[str, Ticket]) -> None:
        ticked = {box.description: box.value for box in self._boxes}
        boxes = [Checkbox(ticked.get(job, True), description=job, indent=False) for job in jobs]
        for box in boxes:
            box.observe(self._changed, "value")
        told = "Jobs to deal out" if boxes else "There are no jobs yet: write one with the boxes at the foot."
        self._dealt.children = (HTML(f"<p><strong>{told}</strong></p>"), row(boxes, "stonework-jobs"))

    @guarded
    def _changed(self, _change: Any = None) -> None:
        if self._plan is not None:
            self.working(
                "This is the plan of the class before. Press “Plan the class” for the one that is asked for now."
            )

    @property
    def _boxes(self) -> Sequence[Checkbox]:
        return self._dealt.children[1].children if self._dealt.children else ()

    def _added(self, jobs: Mapping[str, Ticket], _job: str) -> None:
        self._jobs = jobs
        self._offer(jobs)

    @guarded
    def _read(self, _change: Any = None) -> None:
        """Put a file's list into the box, where it can be read and mended."""
        if not self._upload.value:
            return
        data = bytes(self._upload.value[0]["content"])
        if len(data) > _LARGEST:
            self.refuse(f"That file has {len(data):,} bytes; a list of names has fewer.")
            return
        # Spreadsheets save in UTF-8, in UTF-16 with its mark, or in the older letters of Windows.
        wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
        for letters in ("utf-16",) if wide else ("utf-8-sig", "cp1252"):
            try:
                self._class.value = data.decode(letters).strip()
            except UnicodeDecodeError:
                continue
            if letters == "cp1252":
                self.working("That list was read in older letters: look whether the names are spelt right in the box.")
            return
        self.refuse("That file isn't text. Save the list in your spreadsheet as CSV UTF-8, and read it again.")

    # --- asking -------------------------------------------------------------------------------------------------

    @guarded
    def _ask(self, _button: Button | Any = None) -> None:
        self._plan_with(None)

    @guarded
    def _ask_changed(self, _button: Button) -> None:
        """Plan again, the changes that were found taken for granted."""
        self._plan_with(self._advice.change if self._advice else None)

    def _plan_with(self, change: Plan | None) -> None:
        self._forget()
        self._made = changes_of(change) if change else []
        if not installed():
            self.refuse(MISSING)
            return
        if self._shop is None or self._leaving is None:
            self._open()
            return
        self._there = self._leaving.look()
        try:
            named = self._named()
        except NamingError as error:
            first, *others = error.mistakes
            more = "".join(f"<li>{escape(mistake)}</li>" for mistake in others)
            self.refuse(first, f'<ul class="stonework-findings">{more}</ul>' if more else "")
            return
        self._enough = threading.Event()
        self._stopping.disabled = False
        work = partial(self._answers, named, self._jobs, self._there, change, self._enough)
        self._thinking.ask(work, waiting=partial(self.working, "Looking for a plan …"))

    def _named(self) -> list[tuple[str, str]]:
        """Return each name with its job, as the box says."""
        text = self._class.value
        first = text.strip().splitlines()[0] if text.strip() else ""
        if "name" in first.casefold() and any(mark in first for mark in ",;\t"):
            return read_class(text, list(self._jobs))
        return dealt(read_names(text), [box.description for box in self._boxes if box.value])

    @guarded
    def _stop(self, _button: Button) -> None:
        self._enough.set()
        self._stopping.disabled = True

    def _forget(self) -> None:
        """Give up what is being looked for, and show no plan as if it were that of what is asked now."""
        self._thinking.forget()
        self._enough.set()
        self._plan = self._advice = None
        self._idle, self._made = [], []
        self._changing.layout.display = "none"
        self._stopping.disabled = True
        self._bar.value = ""
        self.paper.offer(None, None, None)

    def _answers(
        self,
        named: Sequence[tuple[str, str]],
        jobs: Mapping[str, Ticket],
        shop: Shop,
        change: Plan | None,
        enough: threading.Event,
        stop: Stop,
        _beside: bool,
    ) -> Iterator[Callable[[], None]]:
        """Yield what is to be shown: a plan, better ones, why some can't be served, and what would help."""

        def stopped() -> bool:
            return stop() or enough.is_set()

        wanted = tasks(named, jobs, shop)
        if change is not None:
            wanted = with_changes(wanted, change)
        plan: Plan | None = None
        for better in plan_class(wanted, shop, stopped):
            if better is not None and better != plan:
                plan = better
                yield partial(self._show_plan, plan, bool(plan.done))
        served = {one.task.name for one in plan.given} if plan else set()
        idle = [task for task in wanted if task.name not in served]
        if idle and not stopped():
            yield partial(self._show_idle, [_told(task, shop, stopped) for task in idle])
        if plan and plan.score.shifts > 1:
            for advice in () if stopped() else advise(wanted, shop, stopped):
                yield partial(self._show_advice, advice)
        yield partial(self._finish, plan is None)

    # --- showing ------------------------------------------------------------------------------------------------

    def _show_plan(self, plan: Plan, done: bool) -> None:
        self._plan = plan
        self._bar.value = "" if done else _bar(plan)
        self.paper.offer(plan, self._there, self._advice)
        self._time()

    def _show_idle(self, idle: Sequence[tuple[str, str, str]]) -> None:
        self._idle = idle_words(idle)
        self._time()

    def _show_advice(self, advice: Advice) -> None:
        self._advice = advice
        fewer = self._plan and advice.change and advice.change.score.shifts < self._plan.score.shifts
        self._changing.layout.display = "" if fewer else "none"
        self.paper.offer(self._plan, self._there, advice)
        self._time()

    def _finish(self, nothing: bool) -> None:
        self._stopping.disabled = True
        self._bar.value = ""
        if nothing and not self._idle:
            self.refuse("It was stopped before there was any plan. Press “Plan the class” to look again.")
        elif nothing:
            self.refuse("Nobody can be given a lockup in this shop.", _listed([*self._standing(), *self._idle]))

    @guarded
    def _time(self, _change: Any = None) -> None:
        """Show the plan as it is, with the minutes that it takes."""
        if self._plan is None:
            return
        try:
            time = time_words(self._plan, self._evening.number, self._minutes.number)
        except ValueError as error:
            time = str(error)
        helps = advice_words(self._advice, self._plan) if self._advice else []
        made = [f"Changed in this plan: {'; '.join(self._made)}."] if self._made else []
        ready = ready_words(self._plan, self._there) if self._there else []
        more = _listed([time, *made, *ready, *self._standing(), *self._idle, *helps])
        self.show(outcome(self._plan), more + who_table(self._plan), refused=bool(self._idle))

    def _standing(self) -> list[str]:
        """Say which forms stand and keep their chase, quoins and wood out of the plan."""
        forms = self._leaving.forms if self._leaving and self._leaving.counted else ()
        told = [f"{form.words} in the {form.lockup.chase.name} chase" for form in forms]
        return [f"What stands is left out of this plan: {', '.join(told)}."] if told else []


def _told(task: Task, shop: Shop, stop: Stop) -> tuple[str, str, str]:
    return task.name, task.job, why_not(task, shop, stop)


def _listed(lines: Sequence[str]) -> str:
    return f'<ul class="stonework-findings">{"".join(f"<li>{escape(line)}</li>" for line in lines)}</ul>'


def _bar(plan: Plan) -> str:
    """Return how near a plan is to the best there can be, as a bar and in words."""
    near = 100 * (1 - plan.gap)
    words = sure(plan)
    return (
        '<p class="stonework-nearness"><label>How near to the best: '
        f'<progress max="100" value="{near:.0f}"></progress> {near:.0f} %</label> {escape(words)}</p>'
    )
