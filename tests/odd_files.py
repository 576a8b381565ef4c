"""Give everything that reads a file pipes, devices, and files without end, and print what it says and when.

By hand: ``.venv/bin/python tests/odd_files.py``; ``test_odd_files.py`` runs it in a process that may take little
memory, and that is killed if it waits for something that never comes.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import socket
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from keepers import LOCKUP, NAME, SHOP
from stonework.carrying.keeping import Shelf
from stonework.exercises import AnswerSheet
from stonework.exercises.chosen import read_chosen
from stonework.exercises.report.gathering import read_folder
from stonework.jobs import read_jobs
from stonework.ledger import look
from stonework.people import Here, People, here
from stonework.records import open_lockup
from stonework.shop import read_file

LONGEST_SENTENCE = 300
PATIENCE = 20  # seconds; nothing takes two, and this machine may be busy
MEMORY = 1_500_000_000  # bytes of addresses, of which what is imported takes most

N = 245_000  # characters, just below what is read of a shop
L = 2400  # characters on a line, just below as well
TOML = {
    "a key of a hundred thousand parts": "a" + ".a" * (N // 2 - 10) + " = 1",
    "lines of keys of many parts": "\n".join(f"a{n}." + "a." * 10 + "b=1" for n in range(N // 32)),
    "headers of many parts": "\n".join(f"[a{n}." + "a." * 10 + "b]" for n in range(N // 32)),
    "lists in lists": "a = " + "[\n" * (N // 2),
    "lists in lists on each line": "\n".join(f"k{n} = " + "[" * 900 + "]" * 900 for n in range(N // 1810)),
    "tables in tables": "\n".join(f"k{n} = " + "{a=" * 200 + "1" + "}" * 200 for n in range(N // 820)),
    "a text without end": 'name = "' + "x" * N,
    "quotation marks": "\n".join(['"' * L] * (N // L)),
    "long words": "\n".join(["a" * L] * (N // L)),
    "backslashes": 'name = "' + "\\" * 2000 + '"',
    "a number of a thousand figures": "version = " + "1" * 2000,
    "twenty thousand keys": "".join(f"k{n}=1\n" for n in range(N // 9)),
    "twenty thousand chases": "[[chase]]\n" * (N // 10),
    "more sizes than any cabinet": "".join(f'[reglet."{n} pt"]\n"1 to 999 pt" = 6\n' for n in range(1, 240)),
    "commas": "a=[\n" + ("1," * (L // 2) + "\n") * (N // L) + "]",
}
JSON = {
    "lists in lists": "[" * 1_000_000,
    "tables in tables": '{"a":' * 500_000,
    "a number of a million figures": "1" * 1_000_000,
    "a text without end": '"' + "x" * 3_000_000,
    "a million entries": "[" + "1," * 1_000_000 + "1]",
    "a million keys": "{" + ",".join(f'"{n}":1' for n in range(250_000)) + "}",
}


def whole(lockup: object) -> str:
    """A lockup's file, sound but for its lockup."""
    return json.dumps({"what": "stonework lockup", "version": 3, "lockup": lockup})


def sheet(answers: object) -> str:
    """An answer sheet, sound but for its answers."""
    return json.dumps({"schema": 1, "number": 7, "answers": answers})


def lockup_with(**other: object) -> str:
    return whole({**LOCKUP.to_dict(), **other})


BEYOND = {
    "a chase a million points wide": lockup_with(chase={"name": "big", "width": 1e6, "height": 225.0}),
    "a form as wide as a float can be": lockup_with(form={"x": 1e308, "y": 0.0, "width": 1e308, "height": 9.0}),
    "ten thousand pieces": lockup_with(items=[LOCKUP.to_dict()["items"][0]] * 10_000),
    "an order of a hundred figures": lockup_with(items=[{**LOCKUP.to_dict()["items"][0], "order": 10**100}]),
    "a name of a million letters": lockup_with(arrangement="x" * 1_000_000),
    "keys that nobody knows": lockup_with(**{f"key {n}": n for n in range(10_000)}),
    "an answer of a million letters": sheet({"weight": {"answer": "9" * 1_000_000, "lesson": 1, "task": "a"}}),
    "ten thousand answers": sheet({f"q{n}": {"answer": "9", "lesson": 1, "task": "a"} for n in range(10_000)}),
    "tries beyond counting": sheet({"weight": {"answer": "9", "lesson": 1, "task": "a", "tries": 10**100}}),
}


def odd_files() -> Iterator[tuple[str, Callable[[Path], None]]]:
    """What a file may be that is none, or none that can be read: its name, and how it's made."""
    yield "a pipe", os.mkfifo
    yield "a folder", Path.mkdir
    yield "a device without end", lambda path: path.symlink_to("/dev/zero")
    yield "a link to itself", lambda path: path.symlink_to(path)
    yield "a socket", _socket
    yield "twenty gigabytes", lambda path: _sparse(path, 20_000_000_000)
    yield "nothing", Path.touch
    yield "bytes that are no text", lambda path: path.write_bytes(b"\xff\xfe\x00" * 1000)
    for what, text in {**TOML, **JSON, **BEYOND}.items():
        yield what, lambda path, text=text: path.write_text(text, encoding="utf-8")


def _socket(path: Path) -> None:
    with socket.socket(socket.AF_UNIX) as bound:
        bound.bind(str(path))


def _sparse(path: Path, size: int) -> None:
    with path.open("wb") as file:
        file.truncate(size)


def read_ledger(folder: Path) -> str:
    ledger = look(SHOP, People(folder.parent))
    return ledger.said or f"{len(ledger.forms)} stand"


def read_bench(folder: Path) -> str:
    return Shelf(folder).open({NAME: None})[2] or "read"


def read_sheet(folder: Path) -> str:
    return AnswerSheet.open(folder).said or "read"


def read_shop(folder: Path) -> str:
    file = read_file(folder / "odd.shop.toml")
    return max((note.sentence for note in (*file.mistakes, *file.questions)), key=len, default="read")


def read_all_jobs(folder: Path) -> str:
    file = read_jobs(folder / "odd.jobs.toml", SHOP)
    return max((note.sentence for note in (*file.mistakes, *file.questions)), key=len, default="read")


def read_class(folder: Path) -> str:
    return max(read_folder(folder.parent).said, key=len, default="read")


def read_person(folder: Path) -> str:
    return f"{len(People(folder.parent).folders())} people"


def read_seat(folder: Path) -> str:
    return Here(People(folder.parent)).name or "nobody"


def seat_note() -> str:
    return f".seats/{here()._seat}.json"  # what a seat's note is called is nobody else's business


READERS: dict[str, tuple[str, Callable[[Path], str]]] = {
    "answer sheet": ("answers.json", read_sheet),
    "answer sheets of a class": ("answers.json", read_class),
    "lockup": (f"{NAME}.lockup.json", lambda folder: open_lockup(NAME, folder) and "read"),
    "bench's lockup": (f"{NAME}.lockup.json", read_bench),
    "ledger": (f"{NAME}.lockup.json", read_ledger),
    "bench": ("my.bench.json", read_bench),
    "shop": ("odd.shop.toml", read_shop),
    "jobs": ("odd.jobs.toml", read_all_jobs),
    "class": ("../class.json", lambda folder: read_chosen(folder.parent).said or "read"),
    "person": ("person.json", read_person),
    "seat": (f"../{seat_note()}", read_seat),
}


def main() -> None:
    """Print for each reader and each odd file what was said, in how many seconds."""
    limits = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, limits[1]))
    slowest = (0.0, "")
    for reader, (name, read) in READERS.items():
        for what, make in odd_files():
            with tempfile.TemporaryDirectory() as scratch:
                folder = Path(scratch) / "work" / "Ana"
                folder.mkdir(parents=True)
                path = (folder / name).resolve()
                path.parent.mkdir(exist_ok=True)
                make(path)
                signal.alarm(PATIENCE)  # ends this process, and the test with it
                began = time.perf_counter()
                try:
                    said = read(folder)
                except ValueError as error:
                    said = str(error)
                took = time.perf_counter() - began
                signal.alarm(0)
            assert 0 < len(said) <= LONGEST_SENTENCE, f"{reader}, {what}: {len(said)} characters: {said[:500]}"
            assert said.isprintable(), f"{reader}, {what}: {said!r}"
            slowest = max(slowest, (took, f"{reader}, {what}"))
            print(json.dumps([reader, what, said]), flush=True)
    print(f"slowest: {slowest[0]:.2f} s, {slowest[1]}", file=sys.stderr)


if __name__ == "__main__":
    os.environ["STONEWORK_WORK"] = tempfile.mkdtemp()
    main()
