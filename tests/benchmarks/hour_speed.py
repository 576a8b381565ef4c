"""How soon panels answer in the browser, and what a lesson takes of memory."""

from __future__ import annotations

import statistics
from collections.abc import Callable, Iterator
from typing import NamedTuple

import psutil
from hour_steps import TOKEN, Place, started, with_button
from playwright.sync_api import Locator, Page

MEASURE, PLACE, CHOOSE = "01-measure-the-form", "02-place-the-form", "03-choose-furniture-and-reglet"
QUOINS, TIGHTEN = "04-quoins", "05-tightening-order"
TIMES = 15

# From Enter to the next frame in which the panel's picture is another.
_WATCH = """panel => {
    window.redrawn = undefined;
    let begun;
    const begin = event => { if (event.isTrusted && event.key === "Enter") begun ??= performance.now(); };
    window.addEventListener("keydown", begin, true);
    const watch = new MutationObserver(() => {
        if (begun === undefined) return;
        watch.disconnect();
        window.removeEventListener("keydown", begin, true);
        requestAnimationFrame(() => { window.redrawn = performance.now() - begun; });
    });
    watch.observe(panel.querySelector(".stonework-picture"), { childList: true, subtree: true });
}"""


class Answering(NamedTuple):
    """A panel to time: its lesson, one of its buttons, what is changed, and how the nth change is made with Enter."""

    lesson: str
    button: str
    what: str
    change: Callable[[Locator, int], None]

    @property
    def named(self) -> str:
        """The lesson's number, and what is changed."""
        return f"{int(self.lesson[:2])}, {self.what}"


def _typed(box: str, values: tuple[str, str]) -> Callable[[Locator, int], None]:
    def change(panel: Locator, nth: int) -> None:
        panel.get_by_label(box, exact=True).fill(values[nth % 2])
        panel.get_by_label(box, exact=True).press("Enter")

    return change


def _tighten(panel: Locator, nth: int) -> None:
    panel.get_by_role("button", name=("Tighten 1", "Loosen 1")[nth % 2], exact=True).press("Enter")


PANELS = (
    Answering(MEASURE, "Check the reading", "gauge: another form", _typed("Form number", ("17", "18"))),
    Answering(
        PLACE, "Paper as the shop has it", "place: a sheet's width", _typed("Sheet width", ("37 picas", "38 picas"))
    ),
    Answering(CHOOSE, "Lay the next", "wood chosen: a form's width", _typed("Form width", ("26 picas", "25 picas"))),
    Answering(
        QUOINS,
        "Picture to print",
        "quoin: the room",
        _typed("Room for it, fingers only", ("2 picas 4 pt", "2 picas 2 pt")),
    ),
    Answering(TIGHTEN, "Tighten 1", "tightening: a small turn, and back", _tighten),
)


def go(page: Page, at: Place, lesson: str) -> None:
    """Open a lesson in a page of its own, on a fresh kernel, and wait until it has run."""
    end_kernels(page, at)
    page.goto(f"{at.address}/doc/tree/lessons/{lesson}.ipynb?token={TOKEN}")
    started(page)


def end_kernels(page: Page, at: Place) -> None:
    """End what runs behind all pages."""
    for session in page.request.get(f"{at.address}/api/sessions?token={TOKEN}").json():
        page.request.delete(f"{at.address}/api/sessions/{session['id']}?token={TOKEN}")


def latencies(page: Page, at: Place) -> Iterator[tuple[str, float, float]]:
    """Yield each panel's name with the median and the worst of its times, in milliseconds."""
    for one in PANELS:
        go(page, at, one.lesson)
        panel = with_button(page, one.button)
        took = [_time(page, panel, one, nth) for nth in range(TIMES)]
        yield one.named, statistics.median(took), max(took)


def _time(page: Page, panel: Locator, one: Answering, nth: int) -> float:
    panel.evaluate(_WATCH)
    one.change(panel, nth)
    return page.wait_for_function("window.redrawn").json_value()


def memory(page: Page, at: Place, lessons: list[str]) -> Iterator[tuple[str, float, float, float]]:
    """Yield each lesson with its page's heap, its kernel's memory and the server's, in MB, when it has run."""
    server = psutil.Process(at.server.pid)
    for lesson in lessons:
        go(page, at, lesson)
        session = page.context.new_cdp_session(page)
        session.send("HeapProfiler.collectGarbage")
        session.send("Performance.enable")
        values = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
        session.detach()
        kernels = sum(child.memory_info().rss for child in server.children(recursive=True))
        yield lesson, values["JSHeapUsedSize"] / 1e6, kernels / 1e6, server.memory_info().rss / 1e6
