"""What takes a while is worked out beside the kernel's own work, and a newer question stops an older one."""

from __future__ import annotations

import asyncio
import threading

import pytest
from stonework.choosing import Stopped
from stonework.panels import ChoosePanel
from stonework.panels.thinking import Thinking
from test_panels import control, said

LONG = 30.0  # seconds after which something hangs


class Slow:
    """Work that waits for its gate to open, and notes what became of it."""

    def __init__(self, name: str, shown: list[str]) -> None:
        self.name, self.shown, self.gate, self.ended = name, shown, threading.Event(), threading.Event()

    def __call__(self, stop, beside):
        try:
            while not self.gate.wait(0.005):
                if stop():
                    raise Stopped
            yield lambda: self.shown.append(f"{self.name}, {'beside' if beside else 'waited for'}")
        finally:
            self.ended.set()


async def until(done) -> None:
    """Let the loop go on until something holds."""
    async with asyncio.timeout(LONG):
        while not done():
            await asyncio.sleep(0)


def test_without_a_kernel_all_is_there_at_once():
    shown: list[str] = []
    work = Slow("first", shown)
    work.gate.set()
    Thinking(shown.append).ask(work, waiting=lambda: shown.append("waiting"))
    assert shown == ["waiting", "first, waited for"]


def test_a_kernel_says_that_it_waits_goes_on_and_shows_what_comes():
    shown: list[str] = []

    async def lesson() -> None:
        work = Slow("first", shown)
        Thinking(shown.append).ask(work, waiting=lambda: shown.append("waiting"))
        assert shown == ["waiting"]  # the loop is free while the gate is shut
        work.gate.set()
        await until(lambda: len(shown) == 2)

    asyncio.run(lesson())
    assert shown == ["waiting", "first, beside"]


def test_a_quick_answer_comes_without_a_word_of_waiting():
    shown: list[str] = []

    async def lesson() -> None:
        work = Slow("first", shown)
        work.gate.set()
        Thinking(shown.append).ask(work, waiting=lambda: shown.append("waiting"))
        await until(lambda: "first, beside" in shown)

    asyncio.run(lesson())
    assert shown[-1] == "first, beside" and len(shown) <= 2


@pytest.mark.parametrize("forgotten", [False, True])
def test_what_is_newer_stops_what_is_older(forgotten):
    shown: list[str] = []

    async def lesson() -> None:
        thinking, older, newer = Thinking(shown.append), Slow("older", shown), Slow("newer", shown)
        thinking.ask(older, waiting=lambda: shown.append("waiting"))
        if forgotten:
            thinking.forget()
        else:
            thinking.ask(newer, waiting=lambda: shown.append("waiting"))
        await until(older.ended.is_set)
        older.gate.set()
        newer.gate.set()
        if not forgotten:
            await until(lambda: "newer, beside" in shown)

    asyncio.run(lesson())
    assert "older, beside" not in shown


@pytest.mark.parametrize("when", ["working", "showing"])
def test_a_failure_beside_the_kernel_is_told(when):
    told: list[str] = []

    def broken(_stop, _beside):
        if when == "working":
            raise RuntimeError("inside the work")
        yield lambda: 1 / 0

    async def lesson() -> None:
        thinking = Thinking(told.append)
        try:
            thinking.ask(broken, waiting=lambda: None)
        finally:
            await until(lambda: bool(told))

    asyncio.run(lesson())
    assert ("inside the work" if when == "working" else "ZeroDivisionError") in told[0]


def test_the_panel_answers_in_a_kernel_and_an_older_question_never_shows(breakwater):
    async def lesson() -> None:
        panel = ChoosePanel(breakwater)
        assert "would hold" in said(panel)  # a lesson run from its top has its answers at once
        control(panel, "Form height").value = "29 picas"
        control(panel, "Form height").value = "20 picas"
        control(panel, "Form height").value = "18 picas"
        await until(lambda: "would hold" in said(panel))
        assert panel.lockup.form.height == 216
        control(panel, "Chase").value = "5 × 8"
        control(panel, "Form height").value = "38 picas"
        await until(lambda: "too large" in said(panel) and "It works in the" in panel._status.value)
        assert panel.lockup is None

    asyncio.run(lesson())
