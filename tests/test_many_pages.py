"""Many pages and machines on one folder, as processes in a race: no lockup is lost, and two that differ both stay."""

from __future__ import annotations

import json
import subprocess
import sys

from conftest import ROOT
from stonework.lockup import Lockup
from stonework.people import People
from stonework.records import ENDING, read_lockup

SHOP = str(ROOT / "lessons" / "breakwater.shop.toml")


def race(source: str, work, count: int) -> list[str]:
    """Run a program so many times at once, each with a number of its own; return what each said.

    Each says when it's ready, and all are let go together.
    """
    run = [sys.executable, "-c", source, str(work), SHOP]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
    running = [subprocess.Popen([*run, str(n)], **pipes) for n in range(count)]
    for process in running:
        assert process.stdout.readline() == "ready\n"
    for process in running:
        process.stdin.write("go\n")
        process.stdin.flush()
    return [process.communicate(timeout=240)[0].strip() for process in running]


def saved_in(folder) -> list[Lockup]:
    return [read_lockup(path) for path in sorted(folder.glob(f"*{ENDING}"))]


PANELS = """
import os, sys
os.environ["STONEWORK_WORK"] = sys.argv[1]
from stonework.form import Form
from stonework.choosing import choose_lockup
from stonework.panels import HandPanel
from stonework.people import here
from stonework.shop import Shop
shop, n = Shop.load(sys.argv[2]), int(sys.argv[3])
here().turn_to("Ana")
panel = HandPanel(shop)
panel.take_up(choose_lockup(Form(240 + 12 * n, 150), shop.chases[2], shop))
panel._name.value = "notice"
print("ready", flush=True)
input()
panel._save(None)
print(panel._status.value)
"""


def test_of_six_panels_that_save_one_name_at_once_one_saves_and_five_ask(work):
    told = race(PANELS, work, 6)
    assert sum("Saved as notice" in words for words in told) == 1, told
    assert sum("another lockup is saved" in words and "once more" in words for words in told) == 5, told
    assert len(saved_in(work / "Ana")) == 1


BENCHES = """
import os, sys
os.environ["STONEWORK_WORK"] = sys.argv[1]
from stonework.carrying import Carrying
from stonework.choosing import choose_lockup
from stonework.form import Form
from stonework.jobs import jobs_beside, load_jobs
from stonework.people import here
from stonework.shop import Shop
shop, n = Shop.load(sys.argv[2]), int(sys.argv[3])
here().turn_to("Ana")
jobs = load_jobs(jobs_beside(sys.argv[2]), shop)
carrying = Carrying(jobs, shop, name="breakwater")
mine = list(jobs)[n % len(jobs)]
carrying.choose("notice" if "notice" in jobs else list(jobs)[0])
lockup = choose_lockup(Form(240 + 12 * n, 150), shop.chases[2], shop)
print("ready", flush=True)
input()
carrying.take(lockup)
said = carrying.trouble
carrying.choose(mine)
carrying.measure((n, n, n, n))
print(said, carrying.trouble)
"""


def test_six_benches_at_once_keep_every_lockup_and_each_its_own_job(work):
    told = race(BENCHES, work, 6)
    assert all("can't" not in words for words in told), told
    widths = {lockup.form.width for lockup in saved_in(work / "Ana")}
    assert widths == {240.0 + 12 * n for n in range(6)}, told
    kept = json.loads((work / "Ana" / "breakwater.bench.json").read_text(encoding="utf-8"))["jobs"]
    edges = {state["edges"][0] for state in kept.values() if state.get("edges")}
    assert len(edges) >= 3, kept  # the last of those who measured each job


BEGINNERS = """
import os, sys
os.environ["STONEWORK_WORK"] = sys.argv[1]
os.environ["JUPYTERHUB_USER"] = f"seat {sys.argv[3]}"
from stonework.exercises import AnswerSheet
from stonework.exercises.record import Answer
from stonework.people import here
print("ready", flush=True)
input()
here().turn_to(f"student {int(sys.argv[3]) % 4}")
sheet = AnswerSheet.mine()
sheet.keep(f"question {sys.argv[3]}", Answer("1", 1, "a"), standing="right")
print(sheet.number, sheet.said)
"""


def test_twelve_who_come_in_at_once_find_four_folders_and_every_answer(work):
    told = race(BEGINNERS, work, 12)
    folders = {name: folder for name, folder in People(work).folders().items() if name.startswith("student")}
    assert list(folders) == [f"student {n}" for n in range(4)] and len(set(told)) <= 4, told
    for n, folder in enumerate(folders.values()):
        answers = json.loads((folder / "answers.json").read_text(encoding="utf-8"))["answers"]
        assert set(answers) == {f"question {m}" for m in (n, n + 4, n + 8)}
