"""Names with markup, quotation marks, dollars, line breaks and marks that turn the writing about: they stay text.

Every lesson is run in a shop all of whose names are markup; what comes out of every panel, picture and printed page
is read again by parsers of HTML, XML, PDF and CSV.
"""

from __future__ import annotations

import csv
import io
import json
import re
import xml.etree.ElementTree as ET
import zlib
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from conftest import ROOT, sound_lockup
from ipywidgets import HTML, Button, Text, Textarea
from ipywidgets.widgets import widget as widgets
from stonework.choosing import choose_lockup
from stonework.drawing.picture import Picture
from stonework.drawing.plan import PlanView
from stonework.drawing.stone_sheet import full_size_plan, stone_sheet
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.record import Answer
from stonework.exercises.report import by_question, by_student
from stonework.files import plain_name
from stonework.form import Form
from stonework.jobs import load_jobs
from stonework.lockup import Lockup
from stonework.lockup.record import Job
from stonework.panels import ReportPanel
from stonework.people import People, read_name
from stonework.shop import Shop

MARKUP = "<img src=x onerror=boom()>\"'&amp;$x_1^2$\\%`}{"
SCRIPT = "</svg></style><script>boom()</script>"
UNSEEN = {
    "a line break": "two\nlines",
    "right to left": "safe\u202egnp.exe",
    "an isolate": "\u2066turned\u2069",
    "nothing wide": "a\u200bb",
    "a bell": "ding\x07",
    "a byte order mark": "\ufeffname",
}
LESSONS = sorted([*(ROOT / "lessons").glob("*.ipynb"), *(ROOT / "lessons" / "instructor").glob("*.ipynb")])


def quoted(text: str) -> str:
    """Write text as TOML does."""
    return json.dumps(text, ensure_ascii=False)


def hostile(text: str) -> tuple[str, dict[str, str]]:
    """Return a shop file with markup in all its names, and what each name became."""
    became: dict[str, str] = {}

    def rename(found: re.Match[str]) -> str:
        name = found[2]
        became.setdefault(name, f"{MARKUP if len(became) % 2 else SCRIPT} {name}"[:80])
        return f"{found[1]}{quoted(became[name])}"

    text = re.sub(r'^(name *= *)"([^"]*)"', rename, text, flags=re.M)
    for name, other in became.items():
        text = text.replace(f'"{name}"', quoted(other))
    return text, became


@pytest.fixture
def lessons(tmp_path, monkeypatch):
    """A folder of lessons whose shop and jobs have markup in them, and what became of the names."""
    folder = tmp_path / "lessons"
    (folder / "instructor").mkdir(parents=True)
    shop, became = hostile((ROOT / "lessons" / "breakwater.shop.toml").read_text(encoding="utf-8"))
    for name in ("breakwater.shop.toml", "your-shop.toml"):
        (folder / name).write_text(shop, encoding="utf-8")
    jobs = (ROOT / "lessons" / "breakwater.jobs.toml").read_text(encoding="utf-8")
    for name, other in became.items():
        jobs = jobs.replace(f'"{name}"', quoted(other))
    jobs = re.sub(r'^told *= *".*"', f"told = {quoted(MARKUP)}", jobs, flags=re.M)
    jobs = re.sub(r"^copy *= *\[[^\]]*\]", f"copy = [{quoted(SCRIPT)}]", jobs, flags=re.M)
    (folder / "breakwater.jobs.toml").write_text(jobs, encoding="utf-8")
    monkeypatch.chdir(folder)
    return folder, became


class Page(HTMLParser):
    """The elements and the text of a piece of HTML, as a browser would see them."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.strange: list[str] = []
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attributes):
        for name, value in attributes:
            if name.startswith("on") or (
                name in ("src", "href") and not re.match(r"data:|#|$|[\w./-]+\.ipynb$", value or "")
            ):
                self.strange.append(f"{tag} {name}={value}")
            self.text += f"\n{value}"  # a name in a label is text as well
        if tag in ("script", "img", "iframe", "object", "embed", "link", "meta"):
            self.strange.append(tag)

    def handle_data(self, data):
        self.text += data


def run(path: Path, became: dict[str, str]) -> None:
    """Run a lesson's cells, as a kernel does."""
    space: dict[str, object] = {}
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            source = "".join(cell["source"])
            for name, other in became.items():
                source = source.replace(f'"{name}"', repr(other))
            exec(compile(source, path.name, "exec"), space)


def press_all(before: set[str]) -> None:
    """Press every button, and those that come up by it; but none that plans for minutes."""
    pressed: set[str] = set()
    for _ in range(2):
        for key, one in list(widgets._instances.items()):
            if isinstance(one, Button) and key not in before | pressed and not re.search("Plan|Stop", one.description):
                pressed.add(key)
                one.click()


def look_over(before: set[str]) -> list[Page]:
    """Read all HTML that widgets show; nothing in it may be more than text."""
    alive = [one for key, one in widgets._instances.items() if key not in before]
    assert not [one for one in alive if getattr(one, "description_allow_html", False)]
    shown = [one.value for one in alive if isinstance(one, HTML)]
    pages = [*map(Page, shown)]
    assert [strange for page in pages for strange in page.strange] == []
    for svg in re.findall(r"<svg.*?</svg>", "".join(shown), flags=re.S):
        ET.fromstring(svg.replace("&nbsp;", " "))
    return pages


@pytest.mark.parametrize("path", LESSONS, ids=lambda path: path.stem)
def test_markup_in_every_name_and_box_stays_text_on_every_page(path, lessons, monkeypatch):
    folder, became = lessons
    if path.parent.name == "instructor":
        monkeypatch.chdir(folder / "instructor")
    before = set(widgets._instances)
    run(path, became)
    press_all(before)
    pages = look_over(before)
    if pages and path.stem not in _NAMELESS:
        assert any(name in page.text for page in pages for name in became.values()), "no name came out at all"
    boxes = [one for key, one in widgets._instances.items() if key not in before and isinstance(one, Text | Textarea)]
    for box in boxes:
        box.value = MARKUP
    press_all(before)
    typed = look_over(before)
    if boxes:
        assert any("<" in page.text for page in typed), "nothing that was typed came out"


_NAMELESS = {"00-start-here", "class-report", "answer-key", "plan-a-class", "06-lift-and-loose-lines"}
"""Pages that show no name of the shop until something is done by hand."""


def named(name: str) -> tuple[Shop, Lockup]:
    """A shop and a lockup in which all is called so."""
    shop = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
    lockup = choose_lockup(Form(324.0, 204.0), shop.chase("8 × 12"), shop)
    chase, quoins = replace(lockup.chase, name=name), tuple(replace(quoin, name=name) for quoin in shop.quoins[:1])
    items = tuple(replace(item, pattern=name if item.kind == "quoin" else item.pattern) for item in lockup.items)
    lockup = replace(lockup, chase=chase, items=items, job=Job(name, name, name, name))
    return replace(shop, name=name, chases=(chase,), quoins=quoins), lockup


def words_in(pdf: bytes) -> str:
    """All that is written in a PDF: the strings that its pages show, in their order."""
    found = []
    for packed in re.findall(rb"stream\r?\n(.*?)endstream", pdf, flags=re.S):
        try:
            stream = zlib.decompress(packed)
        except zlib.error:
            continue
        # Kerning splits a word into several strings.
        parts = re.findall(rb"\(((?:\\.|[^\\()])*)\)", stream, flags=re.S)
        found.append(re.sub(rb"\\(.)", rb"\1", b"".join(parts)).decode("latin-1"))
    return "\n".join(found)


@pytest.mark.parametrize("printed", [stone_sheet, full_size_plan])
def test_markup_and_dollars_are_printed_as_they_are(printed):
    shop, lockup = named(MARKUP[:40])
    assert MARKUP[:40] in words_in(printed(lockup, shop))


def test_markup_and_dollars_stand_in_a_picture_as_they_are():
    shop, lockup = named("$x_1^2$ & <b>")
    view = PlanView("hostile")
    view.draw(lockup, shop)
    label = ET.fromstring(view.svg()).get("aria-label")
    assert "$x_1^2$ & <b>" in label
    picture = Picture("hostile")
    picture.frame(0, 0, 100, 100, (2, 2))
    picture.write(50, 50, "$x_1^2$ & <b>", 12)
    picture.finish("")
    assert "$x_1^2$ & <b>" in "".join(ET.fromstring(picture.svg()).itertext())


@pytest.mark.parametrize("what", UNSEEN)
def test_what_can_t_be_seen_is_no_name_of_anything(what, tmp_path):
    name = UNSEEN[what]
    _refused_everywhere(name, tmp_path)


def test_ten_thousand_characters_are_no_name_of_anything(tmp_path):
    _refused_everywhere("x" * 10_000, tmp_path)


def _refused_everywhere(name: str, folder: Path) -> None:
    """Every door by which a name comes in refuses it in a sentence that can be read."""
    school = (ROOT / "lessons" / "breakwater.shop.toml").read_text(encoding="utf-8")
    jobs = (ROOT / "lessons" / "breakwater.jobs.toml").read_text(encoding="utf-8")
    shop = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
    record = sound_lockup().to_dict()
    written = folder / "odd.toml"

    def read(text: str, load) -> None:
        written.write_text(text, encoding="utf-8")
        load(written)

    doors = [
        lambda: read(school.replace('"5 × 8"', _escaped(name)), Shop.load),
        lambda: read(school.replace('"Breakwater evening school"', _escaped(name)), Shop.load),
        lambda: read(school.replace('"medium wedge"', _escaped(name)), Shop.load),
        lambda: read(jobs.replace('"tide card"', _escaped(name)), lambda path: load_jobs(path, shop)),
        lambda: plain_name(name, "a lockup"),
        lambda: Lockup.from_dict({**record, "arrangement": name}),
        lambda: Lockup.from_dict({**record, "chase": {**record["chase"], "name": name}}),
        lambda: Lockup.from_dict({**record, "job": {"name": name}}),
    ]
    for n, door in enumerate(doors):
        with pytest.raises(ValueError) as refused:
            door()
        said = str(refused.value)
        assert said.isprintable() and len(said) <= 300 + len(str(written)), (n, said)
    try:
        assert read_name(name) == " ".join(name.split())  # a person's name may be typed over two lines
    except ValueError as error:
        assert str(error).isprintable()


def _escaped(name: str) -> str:
    """Write text as TOML does, with what can't be seen in escapes."""
    return json.dumps(name)


def test_what_lies_in_a_class_s_sheets_stays_text_in_page_table_and_print(work):
    """A sheet is handed in by anybody: its name, its answers and the slips that it counts are theirs to write."""
    shop = Shop.load(ROOT / "lessons" / "breakwater.shop.toml")
    for n, slip in enumerate((MARKUP, "=1+1", "@SUM(A1)", SCRIPT)):
        folder = People(work).begin(f"Person {n}")
        sheet, question = AnswerSheet.open(folder), QUESTIONS["weight-of-a-form"]
        answer = Answer("1 oz", question.version, question.variant(sheet.number, shop).mark)
        sheet.keep(question.id, answer, standing="not yet", slip=slip[:80])
    before = set(widgets._instances)
    panel = ReportPanel(ROOT / "lessons" / "breakwater.shop.toml")
    panel._folder.value = str(work)
    press_all(before)
    look_over(before)
    report = panel._report
    assert report.questions and len(report.students) == 4
    for table in (by_question(report), by_student(report)):  # a sheet's own words for a slip are never taken over
        told = table.decode("utf-8-sig")
        assert len(list(csv.reader(io.StringIO(told)))) > 4
        assert "=1+1" not in told and "boom" not in told and "SUM" not in told
