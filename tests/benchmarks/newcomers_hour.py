"""A newcomer's hour in a scripted browser: each step timed, clicks and keys counted; how soon panels answer; memory.

    python tests/benchmarks/newcomers_hour.py            print the tables
    python tests/benchmarks/newcomers_hour.py --fetch    let the first command fetch all it needs, too (430 MB)
    python tests/benchmarks/newcomers_hour.py --write    write them into DEVELOPERS.md, between their marks

It works in a copy of the workbook, with a folder for work of its own.
"""

from __future__ import annotations

import argparse
import os
import platform
import sys
import tempfile
import time
from pathlib import Path

import psutil
from playwright.sync_api import Browser, Page, expect, sync_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from hour_speed import TIMES, end_kernels, latencies, memory
from hour_steps import COMMAND, ROOT, STEPS, Place, place
from lab import CHROMIUM, WINDOW

BEGIN, END = "<!-- newcomer: written by tests/benchmarks/newcomers_hour.py -->", "<!-- /newcomer -->"
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]

# Real clicks and keys alone, as the page hears them; kept for the tab, as a link leads to another page.
LISTEN = """for (const [kind, event] of [["clicks", "pointerdown"], ["keys", "keydown"]])
    window.addEventListener(event, ({ isTrusted, repeat }) => {
        if (isTrusted && !repeat) sessionStorage[kind] = Number(sessionStorage[kind] ?? 0) + 1;
    }, true);"""
HEARD = "() => ['clicks', 'keys'].map(kind => Number(sessionStorage[kind] ?? 0))"


def journey(browser: Browser, at: Place) -> list[tuple[str, str, float, int, int]]:
    """Take every step; return what is done, what appears, the seconds until then, and the clicks and keys heard."""
    page = browser.new_page(viewport=WINDOW)
    page.set_default_timeout(600_000)
    page.add_init_script(LISTEN)
    rows, before, last = [], [0, 0], at.begun
    for step in STEPS:
        step.take(page, at)
        now, heard = time.perf_counter(), page.evaluate(HEARD)
        clicks, keys = (after - earlier for after, earlier in zip(heard, before, strict=True))
        if clicks != step.clicks or step.keys not in (None, keys):
            raise AssertionError(f"“{step.does}” took {clicks} clicks and {keys} keys; its step says otherwise.")
        rows.append((step.does, step.appears, now - last, clicks, keys))
        before, last = heard, now
    end_kernels(page, at)
    page.close()
    return rows


def table(heads: tuple[str, ...], rows: list[tuple[str, ...]]) -> str:
    """Return a table in Markdown."""
    lines = [heads, tuple("---" for _ in heads), *rows]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def told(browser: Browser, at: Place, *, fetched: bool) -> str:
    """Return all tables, each with a sentence on what is in it."""
    rows = journey(browser, at)
    page: Page = browser.new_page(viewport=WINDOW)
    page.set_default_timeout(60_000)
    lessons = [path.stem for path in sorted((at.copy / "lessons").glob("[0-9b]*.ipynb"))]
    quick = [(name, f"{median:.0f}", f"{worst:.0f}") for name, median, worst in latencies(page, at)]
    large = [(name, *(f"{one:.0f}" for one in sizes)) for name, *sizes in memory(page, at, lessons)]
    end_kernels(page, at)
    page.close()
    steps = [(does, appears, f"{took:.1f}", str(clicks), str(keys)) for does, appears, took, clicks, keys in rows]
    whole = ("all", "", *(f"{sum(row[n] for row in rows):{'.1f' if n == 2 else 'd'}}" for n in (2, 3, 4)))
    first = (
        "It fetched all it needs, as at a first start" if fetched else "The packages were there, as at a later start"
    )
    load = " ".join(f"{one:.1f}" for one in os.getloadavg())
    return f"""\
{table(("A newcomer does", "Until there is", "Seconds", "Clicks", "Keys"), [*steps, whole])}

{first}. The command's {len(COMMAND) + 1} keys in the terminal aren't counted, nor is scrolling. The script types and \
reads in no time, so the seconds are the workbook's; clicks and keys are those that the page heard, and the keys of \
the answer depend on the sheet's number.

{table(("Panel of lesson", "Median, ms", "Worst, ms"), quick)}

From Enter to the first frame with another picture, {TIMES} times each.

{table(("Lesson, when it has run", "Page's heap, MB", "Kernel, MB", "Server, MB"), large)}

The heap is JavaScript's after its garbage was collected, the others are resident memory. Measured under \
{platform.system()} on {os.cpu_count()} cores and {psutil.virtual_memory().total / 1e9:.0f} GB, at a load of {load} \
(over 1, 5 and 15 minutes): where others work on the machine, it's the ratios that count."""


def write(words: str) -> None:
    """Put the tables into DEVELOPERS.md between their marks."""
    path = ROOT / "DEVELOPERS.md"
    text = path.read_text(encoding="utf-8")
    if text.count(BEGIN) != 1 or text.count(END) != 1:
        raise SystemExit(f"DEVELOPERS.md must have each of these once, on a line of its own: {BEGIN} and {END}")
    before, after = text.split(BEGIN)[0], text.split(END)[1]
    path.write_text(f"{before}{BEGIN}\n\n{words}\n\n{END}{after}", encoding="utf-8")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--fetch", action="store_true", help="fetch all that the workbook needs, as at a first start")
    asked.add_argument("--write", action="store_true", help="write the tables into DEVELOPERS.md")
    wanted = asked.parse_args()
    expect.set_options(timeout=60_000)
    with (
        tempfile.TemporaryDirectory(prefix="stonework-hour-") as scratch,
        place(Path(scratch), fetch=wanted.fetch) as at,
        sync_playwright() as play,
    ):
        browser = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        words = told(browser, at, fetched=wanted.fetch)
        browser.close()
    print(words)
    if wanted.write:
        write(words)


if __name__ == "__main__":
    main()
