"""Everything that reads what a person, a file or a browser says, each as one function from text or bytes.

``test_bad_input.py`` and ``fuzzing.py`` give them whatever may come. What is said of bad input is a sentence of at most
300 characters, or several, each of which is; nothing but ``ValueError`` may be raised.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from conftest import ROOT, sound_lockup
from stonework.carrying.state import State
from stonework.exercises import QUESTIONS
from stonework.exercises.chosen import read_chosen, read_number
from stonework.exercises.record import answer_in, read_record, righted_in
from stonework.exercises.report import read_folder, read_zip
from stonework.exercises.report.kept import kept_in
from stonework.files import plain_name
from stonework.jobs.file import jobs_in
from stonework.ledger import look
from stonework.lockup import Lockup
from stonework.panels.numbers import NumberBox
from stonework.panels.touching import drag, read_touch
from stonework.people import People, read_name
from stonework.planning.naming import read_class, read_names
from stonework.records import read_lockup, standing_of
from stonework.shop import Shop, ShopFileError, read_file
from stonework.units import read_length, read_weight

SHOPS = [ROOT / "lessons" / "breakwater.shop.toml", *sorted((ROOT / "tests" / "shops").glob("*.shop.toml"))]
SHOP = Shop.load(SHOPS[0])
JOBS = ROOT / "lessons" / "breakwater.jobs.toml"
LOCKUP = sound_lockup()
LONGEST = 300

_SCRATCH = Path(tempfile.mkdtemp(prefix="stonework-parsers-"))


class Parser(NamedTuple):
    """One that reads, and what it reads well: of these, bad input is made."""

    read: Callable[[bytes], Any]
    good: tuple[bytes, ...]


def by_text(read: Callable[[str], Any]) -> Callable[[bytes], Any]:
    """What is typed reaches a parser as text, whatever bytes were meant."""
    return lambda data: read(data.decode("utf-8", errors="replace"))


def by_file(name: str, read: Callable[[Path], Any]) -> Callable[[bytes], Any]:
    """What lies in a file of Ana's, or beside her folder."""
    path = _SCRATCH / "work" / "Ana" / name

    def read_it(data: bytes) -> Any:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
        try:
            return read(path)
        finally:
            path.unlink()

    return read_it


def by_json(read: Callable[[Any], Any]) -> Callable[[bytes], Any]:
    """What is read of a record once JSON has been understood."""

    def read_it(data: bytes) -> Any:
        try:
            record = json.loads(data)
        except (ValueError, RecursionError):
            return None
        return read(record)

    return read_it


def _as_json(*records: object) -> tuple[bytes, ...]:
    return tuple(json.dumps(record, ensure_ascii=False).encode() for record in records)


def _texts(*texts: str) -> tuple[bytes, ...]:
    return tuple(text.encode() for text in texts)


def _sound_or_told(path: Path) -> Any:
    file = read_file(path)
    if file.shop is None:
        raise ShopFileError(file.name, list(file.mistakes))
    return file


def _jobs(text: str) -> Any:
    found = jobs_in(text.replace("\r", "\n"), "x.jobs.toml", SHOP)
    if found.tickets is None:
        raise ShopFileError(found.name, list(found.mistakes))
    return found


def _number(text: str) -> Any:
    box = NumberBox(3, 1, 12, "Forms side by side")
    box.value = text
    return box.number


def _answer_to(question: str) -> Parser:
    """The box under a question; what is no answer is told as such."""
    variant = QUESTIONS[question].variant(7, SHOP)

    def check(text: str) -> Any:
        outcome = variant.check(text)
        if outcome.standing == "not attempted":
            raise ValueError(outcome.words)
        return outcome

    return Parser(by_text(check), _texts(variant.right, *(road.answer for road in variant.misreadings)))


_ANSWER = {"answer": "3 lb", "lesson": 1, "task": "abc", "tries": 2, "hints": 1, "slips": {"counted twice": 1}}
_SHEET = {"schema": 1, "number": 7, "name": "Ana", "answers": {"weight": _ANSWER}}
_FILE = {"what": "stonework lockup", "version": 3, "lockup": LOCKUP.to_dict()}
_STANDING = {**_FILE, "standing": {"since": "2026-11-26", "shop": SHOP.name}}
_STATE = State(edges=(1.0, 2.0, 1.0, 2.0), lockup=LOCKUP).to_dict()
_LENGTHS = ("27 picas 6 pt", "27p6", "4 1/2 in", "11,4 cm", "20 ciceros", "⅞ in", '4-1/2"')

PARSERS: dict[str, Parser] = {
    "length": Parser(by_text(read_length), _texts(*_LENGTHS)),
    "weight": Parser(by_text(read_weight), _texts("3 3/4 lb", "3 lb 12 oz", "1,7 kg", "60 oz")),
    "name of a person": Parser(by_text(read_name), _texts("Ana", "Zoë van den Berg-O’Neil", "Ana M.")),
    "name of a file": Parser(by_text(lambda text: plain_name(text, "a lockup")), _texts("tide", "ferry notice 2")),
    "number for a class": Parser(by_text(read_number), _texts("12", "9999", " 7 ")),
    "number box": Parser(by_text(_number), _texts("3", "12", "1e1", " 7 ")),
    "names of a class": Parser(by_text(read_names), _texts("Ana\nBen\nZoë", "12")),
    "class with jobs": Parser(
        by_text(lambda text: read_class(text, ["ferry", "tide"])),
        _texts('name,job\nAna,ferry\n"Ben, junior",tide\n', "name;job\nAna;tide"),
    ),
    "touch": Parser(
        by_text(lambda text: (read_touch(text), drag(text))), _texts("1\tthe top\tby 10 -4 1", "2\tpiece 3")
    ),
    "shop": Parser(by_file("odd.shop.toml", _sound_or_told), tuple(path.read_bytes() for path in SHOPS)),
    "jobs": Parser(by_text(_jobs), (JOBS.read_bytes(),)),
    "lockup's file": Parser(by_file("tide.lockup.json", read_lockup), _as_json(_FILE, _STANDING)),
    "lockup's mark": Parser(by_file("tide.lockup.json", standing_of), _as_json(_STANDING)),
    "lockup": Parser(by_json(Lockup.from_dict), _as_json(LOCKUP.to_dict())),
    "ledger": Parser(
        by_file("tide.lockup.json", lambda path: look(SHOP, People(path.parent.parent)).said), _as_json(_STANDING)
    ),
    "answer sheet": Parser(read_record, _as_json(_SHEET)),
    "answer": Parser(by_json(lambda entry: (answer_in(entry), righted_in(entry), kept_in(entry))), _as_json(_ANSWER)),
    "sheets of a class": Parser(
        by_file("answers.json", lambda path: read_folder(path.parent.parent)), _as_json(_SHEET)
    ),
    "zip": Parser(read_zip, (b"PK\x05\x06" + bytes(18),)),
    "choice for a class": Parser(
        by_file("../class.json", lambda path: read_chosen(path.parent)),
        _as_json({"schema": 1, "number": 12, "left out": ["weight"]}),
    ),
    "bench": Parser(by_json(lambda record: State.from_dict(record, LOCKUP)), _as_json(_STATE)),
    "card": Parser(
        by_file("person.json", lambda path: People(path.parent.parent).folders()),
        _as_json({"what": "stonework person", "name": "Ana"}),
    ),
}
# One for each way in which answers are read.
for _question in (
    *("read-the-gauge", "weight-of-a-form", "which-side", "which-furniture", "scarce-cabinet", "which-piece-binds"),
    *("how-far-the-key", "keep-it-square", "mend-a-line"),
):
    PARSERS[f"answer to {_question}"] = _answer_to(_question)


def fault_of(parser: Parser, data: bytes) -> str:
    """Return what is wrong with how bad input was met; nothing if it was read, or refused in good sentences."""
    try:
        parser.read(data)
    except ValueError as error:
        mistakes = getattr(error, "mistakes", None) or (str(error),)
        for sentence in map(str, mistakes):
            if not 0 < len(sentence) <= LONGEST:
                return f"a sentence of {len(sentence)} characters: {sentence[:400]}"
            if not sentence.isprintable():
                return f"a sentence with what can't be seen: {sentence!r}"
            if type(error) is not ValueError and not hasattr(error, "mistakes"):
                return f"Python's own words: {error!r}"
    except Exception as error:
        return f"a traceback: {error!r}"
    return ""
