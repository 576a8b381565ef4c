"""Everything that the workbook keeps in files, each in one way to write its n-th state and one to read which it is.

The faults in ``test_faults.py`` are the same for all of them. A shop file is not among them: the workbook reads it, and
only a person with a text editor writes it.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from conftest import ROOT, sound_lockup
from stonework.carrying.keeping import Shelf
from stonework.carrying.state import State
from stonework.exercises import AnswerSheet
from stonework.exercises.chosen import Chosen, keep_chosen, read_chosen
from stonework.exercises.record import Answer
from stonework.form import Form
from stonework.jobs import Ticket
from stonework.jobs.adding import add_job
from stonework.jobs.file import load_jobs
from stonework.ledger import free, let_stand, stands
from stonework.people import Here, People
from stonework.placing import Sheet
from stonework.records import NOT_STANDING, open_lockup, save_lockup
from stonework.shop import Shop

SHOP = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
LOCKUP = sound_lockup()
NAME = "tide"


class Keeper(NamedTuple):
    """A way to keep something in a folder: ``save`` writes state n after n − 1, ``read`` says which lies there.

    ``read`` returns 0 where nothing was kept yet. Both raise, or return words, if anything is to be complained of.
    """

    save: Callable[[Path, int], str]
    read: Callable[[Path], tuple[int, str]]
    files: frozenset[str]  # all that may ever lie in the folder and below it
    adds: bool = False  # the n-th state has n things in it, whoever wrote them and in whatever order


def save_answer(folder: Path, n: int) -> str:
    sheet = AnswerSheet.open(folder)
    sheet.keep("weight", Answer(str(n), 1, "abc"), standing="right")
    return sheet.said


def read_answer(folder: Path) -> tuple[int, str]:
    sheet = AnswerSheet.open(folder)
    kept = json.loads(sheet.path.read_text(encoding="utf-8"))["answers"].get("weight", {})
    return kept.get("tries", 0), sheet.said


def numbered(n: int):
    return replace(LOCKUP, arrangement=str(n))


def save_a_lockup(folder: Path, n: int) -> str:
    save_lockup(numbered(n), NAME, folder)
    return ""


def read_a_lockup(folder: Path) -> tuple[int, str]:
    there = (folder / f"{NAME}.lockup.json").exists()
    return (int(open_lockup(NAME, folder).arrangement) if there else 0), ""


def seat(folder: Path) -> Here:
    now = Here(People(folder))
    if now.name != "Ana":
        now.turn_to("Ana")
    return now


def save_standing(folder: Path, n: int) -> str:
    """Odd states stand, even ones are put away."""
    if n % 2:
        let_stand(numbered(n), NAME, SHOP, seat(folder))
    else:
        free(NAME, seat(folder))
    return ""


def read_standing(folder: Path) -> tuple[int, str]:
    now = seat(folder)
    if not (now.folder / f"{NAME}.lockup.json").exists():
        return 0, ""
    n = int(open_lockup(NAME, now.folder).arrangement)
    return n + (stands(NAME, now) == NOT_STANDING), ""


def save_job(folder: Path, n: int) -> str:
    ticket = Ticket(f"job {n}", "", (), Form(216.0, 144.0), Sheet(432.0, 288.0), 60.0, 60.0, "", 0, None)
    add_job(ticket, folder / "tide.jobs.toml", SHOP)
    return ""


def read_job(folder: Path) -> tuple[int, str]:
    path = folder / "tide.jobs.toml"
    names = list(load_jobs(path, SHOP)) if path.exists() else []
    assert len(names) == len(set(names))
    return len(names), ""


def save_bench(folder: Path, n: int) -> str:
    shelf = Shelf(folder)
    shelf.open({NAME: None})
    return shelf.keep(NAME, {NAME: State(edges=(float(n), 1.0, 1.0, 1.0), lockup=numbered(n))}, SHOP)


def read_bench(folder: Path) -> tuple[int, str]:
    """A bench writes the lockup first and all else of a job after it: cut off between them, the lockup is the newer."""
    _, states, said = Shelf(folder).open({NAME: None})
    state = states[NAME]
    laid = int(state.lockup.arrangement) if state.lockup else 0
    told = int(state.edges[0]) if state.edges else 0
    assert laid >= told
    return laid, said


def save_choice(folder: Path, n: int) -> str:
    keep_chosen(folder, Chosen(number=n))
    return ""


def read_choice(folder: Path) -> tuple[int, str]:
    chosen = read_chosen(folder)
    return chosen.number or 0, chosen.said


def save_person(folder: Path, n: int) -> str:
    People(folder).begin(f"Person {n}")
    return ""


def read_person(folder: Path) -> tuple[int, str]:
    people = People(folder).folders()
    nobodys = [path for path in folder.glob("[!.]*") if path not in people.values()]
    return len(people), " ".join(map(str, nobodys))


_OURS = frozenset({".stonework.lock", ".stonework.part"})
_LOCKUP = frozenset({f"{NAME}.lockup.json"})
_PERSON = frozenset({"person.json"})

_SEAT = frozenset({"Ana", ".seats", "* at *.json", ".beginning"})

KEEPERS: dict[str, Keeper] = {
    "answer sheet": Keeper(save_answer, read_answer, _OURS | {"answers.json"}, adds=True),
    "lockup": Keeper(save_a_lockup, read_a_lockup, _OURS | _LOCKUP),
    "ledger": Keeper(save_standing, read_standing, _OURS | _LOCKUP | _PERSON | _SEAT),
    "jobs": Keeper(save_job, read_job, _OURS | {"tide.jobs.toml"}, adds=True),
    "bench": Keeper(save_bench, read_bench, _OURS | _LOCKUP | {"my.bench.json"}),
    "class": Keeper(save_choice, read_choice, _OURS | {"class.json"}),
    "people": Keeper(save_person, read_person, _OURS | _PERSON | {"Person *", ".beginning"}, adds=True),
}
