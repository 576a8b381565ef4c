"""A copy of the lessons served by JupyterLab, and the system's own Chromium to visit it.

A module of browser tests writes ``pytest_plugins = ["lab"]`` and has all fixtures below; what isn't a fixture it
imports from here. (As it's imported both ways, PYTEST_DONT_REWRITE.)
"""

import os
import re
import shutil
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import nbformat
import pytest
from playwright.sync_api import Browser, Locator, Page, expect, sync_playwright
from stonework.exercises import QUESTIONS
from stonework.people import WORK

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "lessons"))
import workbook

ROOT = Path(__file__).resolve().parent.parent
SCREENSHOTS = Path(__file__).resolve().parent / "screenshots"
MEASURE, CHOOSE = "01-measure-the-form", "03-choose-furniture-and-reglet"
TIGHTEN, LIFT = "05-tightening-order", "06-lift-and-loose-lines"
BEGIN, PLACE, JOB = "00-start-here", "02-place-the-form", "08-from-ticket-to-press"
SHOP = "instructor/your-shop"
QUOINS, STORE = "04-quoins", "07-unlock-store-put-away"
TITLES = {
    BEGIN: "Start here",
    MEASURE: "Measure the form",
    CHOOSE: "Choose furniture and reglet",
    TIGHTEN: "Tighten in order",
    LIFT: "Lift, and mend loose lines",
    PLACE: "Place the form",
    JOB: "From ticket to press",
    QUOINS: "Fit the quoins",
    STORE: "Unlock, store, put away",
    SHOP: "Your shop",
}
TOKEN = "breakwater"
WINDOW = {"width": 1400, "height": 1000}
NAMES = ("chromium", "chromium-browser", "google-chrome")
CHROMIUM = next((path for name in NAMES if (path := shutil.which(name))), "")

expect.set_options(timeout=60_000)


@pytest.fixture(scope="module")
def answers(tmp_path_factory):
    """The folder for everybody's work."""
    return tmp_path_factory.mktemp("answers")


@pytest.fixture(scope="module")
def home(tmp_path_factory):
    """The folder whose copy of the lessons is served."""
    return tmp_path_factory.mktemp("lab")


@pytest.fixture(scope="module")
def lab(home, answers):
    """Serve a copy of the lessons, so that nothing the browser saves reaches the originals."""
    for name in ("lessons", "images"):
        shutil.copytree(ROOT / name, home / name, ignore=shutil.ignore_patterns(".ipynb_checkpoints"))
    _leave_a_dead_view(home / "lessons" / f"{CHOOSE}.ipynb")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    own = {f"JUPYTER_{name}_DIR": str(home / name.lower()) for name in ("CONFIG", "DATA", "RUNTIME")}
    own[WORK] = str(answers)
    own |= {f"JUPYTERLAB_{name}_DIR": str(home / name.lower()) for name in ("SETTINGS", "WORKSPACES")}
    command = [
        *(sys.executable, "-c", workbook.SIGN_AND_OPEN, str(home / "lessons"), "--no-browser"),
        *(f"--ServerApp.root_dir={home}", f"--ServerApp.port={port}", f"--IdentityProvider.token={TOKEN}"),
        *("--ServerApp.ip=127.0.0.1", "--ServerApp.port_retries=0", "--allow-root", "--log-level=WARN"),
    ]
    address = f"http://127.0.0.1:{port}"
    with (home / "server.log").open("wb") as log:
        server = subprocess.Popen(command, env={**os.environ, **own}, stdout=log, stderr=log)
    try:
        _wait_for(f"{address}/api?token={TOKEN}", server)
        yield address
    finally:
        server.terminate()
        server.wait(timeout=20)


def _leave_a_dead_view(path: Path) -> None:
    """Save a lesson as JupyterLab does after an evening's work, with live views in it that are live no more."""
    lesson = nbformat.read(path, as_version=4)
    panels = [cell for cell in lesson.cells if cell.id in ("choose", "by-hand")]
    for cell in panels:
        cell.outputs[0]["data"]["application/vnd.jupyter.widget-view+json"] = {"model_id": "gone", "version_major": 2}
    assert len(panels) == 2
    nbformat.write(lesson, path)


def _wait_for(url: str, server: subprocess.Popen) -> None:
    for _ in range(600):
        if server.poll() is not None:
            break
        try:
            urllib.request.urlopen(url, timeout=5).close()
            return
        except OSError:
            try:
                server.wait(timeout=0.1)
            except subprocess.TimeoutExpired:
                continue
    raise AssertionError("JupyterLab didn't start")


@pytest.fixture(scope="module")
def browser():
    assert CHROMIUM, "No Chromium was found; install it from your system's packages."
    flags = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]
    with sync_playwright() as play:
        one = play.chromium.launch(executable_path=CHROMIUM, args=flags, headless=not os.environ.get("STONEWORK_SHOW"))
        yield one
        one.close()


def arrive(browser: Browser, lab: str, lesson: str) -> Page:
    """Open a lesson as the launcher opens it."""
    page = browser.new_page(viewport=WINDOW)
    page.set_default_timeout(60_000)
    page.goto(f"{lab}/doc/tree/lessons/{lesson}.ipynb?token={TOKEN}")
    return page


def leave(page: Page, lab: str) -> None:
    """Close a page, and end what runs behind it: the next visitor has a fresh kernel."""
    for session in page.request.get(f"{lab}/api/sessions?token={TOKEN}").json():
        page.request.delete(f"{lab}/api/sessions/{session['id']}?token={TOKEN}")
    page.close()


@pytest.fixture
def visit(browser: Browser, lab: str):
    """Open a lesson as the launcher opens it, on a fresh kernel."""
    pages: list[Page] = []

    def to(lesson: str) -> Page:
        pages.append(arrive(browser, lab, lesson))
        return pages[-1]

    yield to
    for page in pages:
        leave(page, lab)


@pytest.fixture
def page(visit):
    """The lesson on choosing furniture."""
    return visit(CHOOSE)


def start(page: Page, lesson: str = CHOOSE) -> None:
    """Wait until a lesson has started by itself."""
    expect(page.locator(".stonework-bar").get_by_role("status")).to_contain_text("has started by itself")
    asked = sum(question.lesson == lesson for question in QUESTIONS.values())
    expect(page.locator(".stonework-question")).to_have_count(asked)
    expect(page.get_by_role("heading", name=TITLES[lesson], exact=True)).to_be_in_viewport()


def choose_from_menu(page: Page, menu: str, item: str) -> None:
    """Choose from one of JupyterLab's menus, which a lesson hides until asked for."""
    if (show := page.get_by_role("button", name="Show JupyterLab's own tools")).is_visible():
        show.click()
    page.get_by_role("menuitem", name=menu, exact=True).click()
    page.get_by_role("menuitem", name=re.compile(f"^{re.escape(item)}")).click()  # its shortcut follows


def question(page: Page, title: str) -> Locator:
    """Find a question by its title."""
    return page.locator(".stonework-question").filter(has=page.get_by_text(title, exact=True))


def keep(page: Page, name: str) -> None:
    SCREENSHOTS.mkdir(exist_ok=True)
    page.screenshot(path=SCREENSHOTS / f"{name}.png")


def panel_with(page: Page, button: str) -> Locator:
    """Find the first panel that has a button of that name."""
    return page.locator(".stonework-panel").filter(has=page.get_by_role("button", name=button, exact=True)).first


def fill_in(panel: Locator, **typed: str) -> None:
    """Type into boxes by their names, each ended with Enter."""
    for name, value in typed.items():
        box = panel.get_by_label(name.replace("_", " "), exact=True)
        box.fill(value)
        box.press("Enter")
