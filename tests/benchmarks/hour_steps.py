"""A newcomer's hour, step by step: from the README's first command to a lockup, a printed sheet and an answer."""

from __future__ import annotations

import json
import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

from playwright.sync_api import Locator, Page, expect
from stonework.exercises import QUESTIONS
from stonework.shop import Shop

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "widgets" / "launching"))

import getting_ready

ROOT = Path(__file__).resolve().parents[2]
COMMAND = "python3 lessons/workbook.py open"
TOKEN = "breakwater"
NAME, WIDTH, LOCKUP = "Nell", "24 picas", "my first"  # all invented
QUESTION = "which-furniture"


_LEFT_OUT = (".git", ".venv", "work", "screenshots", "__pycache__", ".*_cache", ".hypothesis", ".ipynb_checkpoints")


class Place(NamedTuple):
    """Where a newcomer works: a copy of the workbook, a folder for work, and the address of its server."""

    copy: Path
    work: Path
    address: str
    server: subprocess.Popen[bytes]
    begun: float


class Step(NamedTuple):
    """A step: what a newcomer does, what then appears, the clicks and keys that it needs, and how it's done.

    ``keys`` is ``None`` where they depend on the numbers that the newcomer's sheet has drawn.
    """

    does: str
    appears: str
    clicks: int
    keys: int | None
    take: Callable[[Page, Place], None]


@contextmanager
def place(scratch: Path, *, fetch: bool) -> Iterator[Place]:
    """Give the README's first command in a copy of the workbook; ``fetch`` lets it get all it needs, as at first.

    Otherwise the copy finds the packages that are here already, as it does at every later start.
    """
    copy, work = scratch / "workbook", scratch / "work"
    shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(*_LEFT_OUT))
    if not fetch:
        _lend_packages(copy)
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    own = {f"JUPYTER_{name}_DIR": str(scratch / name.lower()) for name in ("CONFIG", "DATA", "RUNTIME")}
    own |= {f"JUPYTERLAB_{name}_DIR": str(scratch / name.lower()) for name in ("SETTINGS", "WORKSPACES")}
    own |= {"STONEWORK_WORK": str(work), "PYTHONPATH": str(copy / "widgets")}
    # A browser is opened here by the script, so that it can be listened to.
    options = ["--no-browser", f"--ServerApp.port={port}", f"--IdentityProvider.token={TOKEN}"]
    begun = time.perf_counter()
    with (scratch / "server.log").open("wb") as log:
        command = [sys.executable, *COMMAND.split()[1:], *options]
        server = subprocess.Popen(command, cwd=copy, env={**os.environ, **own}, stdout=log, stderr=log)
    try:
        yield Place(copy, work, f"http://127.0.0.1:{port}", server, begun)
    finally:
        server.terminate()
        server.wait(timeout=20)


def _lend_packages(copy: Path) -> None:
    """Give a copy the packages that are here, under a stamp of its own, so that its launcher finds all in order."""
    lent, own = ROOT / ".venv", copy / ".venv"
    own.mkdir()
    for part in lent.iterdir():
        if part.name not in (getting_ready.STAMP, getting_ready.WANTED, getting_ready.LOG):
            (own / part.name).symlink_to(part)
    version = getting_ready.working_version(own / "bin" / "python")
    held = getting_ready.fingerprints(copy, getting_ready.LESSON_REQUIREMENTS, version)
    getting_ready.note(own / getting_ready.STAMP, [], held)


# --- the steps ----------------------------------------------------------------------------------------------


def _open(page: Page, at: Place) -> None:
    while at.server.poll() is None:
        try:
            urllib.request.urlopen(f"{at.address}/api?token={TOKEN}", timeout=5).close()
            break
        except OSError:
            time.sleep(0.05)
    page.goto(f"{at.address}/?token={TOKEN}")  # where the launcher's server sends a browser
    expect(page.get_by_role("heading", name="Start here", exact=True)).to_be_in_viewport()


def started(page: Page) -> None:
    """Wait until the page in view has started by itself."""
    shown = page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .stonework-bar")
    expect(shown.get_by_role("status")).to_contain_text("has started by itself")


def _wait(page: Page, _at: Place) -> None:
    started(page)
    expect(with_button(page, "This is my name")).to_be_visible()


def with_button(page: Page, button: str) -> Locator:
    """Return the first panel in view that has a button of that name."""
    has = page.get_by_role("button", name=button, exact=True)
    return page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .stonework-panel").filter(has=has).first


def _type(page: Page, box: Locator, words: str) -> None:
    """Click into a box, put words in the place of what it holds, and end with Enter."""
    box.click()
    if box.input_value():
        page.keyboard.press("Control+A")
    page.keyboard.type(words)
    page.keyboard.press("Enter")


def _give_name(page: Page, _at: Place) -> None:
    panel = with_button(page, "This is my name")
    _type(page, panel.get_by_label("Your name"), NAME)
    expect(panel.get_by_role("status")).to_contain_text(NAME)


def _to_lesson(page: Page, _at: Place) -> None:
    with_button(page, "Look again").get_by_role("link", name="3 Choose furniture and reglet").click()
    started(page)
    expect(_chooser(page).get_by_role("status")).to_contain_text("This would hold")
    expect(_chooser(page).get_by_role("img")).to_be_visible()


def _chooser(page: Page) -> Locator:
    return with_button(page, "Lay the next")


def _lock_up(page: Page, _at: Place) -> None:
    _type(page, _chooser(page).get_by_label("Form width"), WIDTH)
    expect(_chooser(page).get_by_role("img")).to_have_attribute("aria-label", re.compile(f"^A form {WIDTH} wide"))
    expect(_chooser(page).get_by_role("status")).to_contain_text("This would hold")


def _save(page: Page, at: Place) -> None:
    panel = _chooser(page)
    panel.get_by_label("Name of the lockup").click()
    page.keyboard.type(LOCKUP)
    panel.get_by_role("button", name="Save it").click()
    expect(panel.get_by_role("status")).to_contain_text("Saved as")
    assert list(at.work.glob(f"{NAME}*/*.lockup.json"))


def _print(page: Page, _at: Place) -> None:
    panel = _chooser(page)
    panel.get_by_role("button", name="Sheet for the stone").click()
    with page.expect_download() as download:
        panel.get_by_role("link", name="Save stone-sheet.pdf").click()
    assert Path(download.value.path()).read_bytes().startswith(b"%PDF")


def _answer(page: Page, at: Place) -> None:
    (sheet,) = at.work.glob(f"{NAME}*/answers.json")
    number = json.loads(sheet.read_text(encoding="utf-8"))["number"]
    variant = QUESTIONS[QUESTION].variant(number, Shop.load(at.copy / "lessons" / "breakwater.shop.toml"))
    asked = page.locator(".jp-NotebookPanel:not(.lm-mod-hidden) .stonework-question").first
    _type(page, asked.get_by_role("textbox").first, variant.right)
    expect(asked.get_by_role("status").first).to_contain_text("Right:")
    assert QUESTION in sheet.read_text(encoding="utf-8")


_ENTER, _SELECT_ALL = 1, 2
STEPS = (
    Step(f"give `{COMMAND}`", "the first page", 0, 0, _open),
    Step("wait", "lesson 0 has run, and asks for a name", 0, 0, _wait),
    Step("give a name", "lesson 0 greets it; all is kept under it", 1, len(NAME) + _ENTER, _give_name),
    Step("open lesson 3", "a form locked up, and that it would hold", 1, 0, _to_lesson),
    Step("type another width", "the first form of one's own locked up", 1, _SELECT_ALL + len(WIDTH) + _ENTER, _lock_up),
    Step("name the lockup and save it", "where it's saved", 2, len(LOCKUP), _save),
    Step("print the sheet for the stone", "a PDF on the disk", 2, 0, _print),
    Step("answer the first question", "right, and kept on the answer sheet", 1, None, _answer),
)
