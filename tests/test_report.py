"""What a class got wrong: sheets from anywhere are read without harm, and what is counted is what was answered."""

from __future__ import annotations

import base64
import csv
import io
import json
import os
import re
import stat
import struct
import tracemalloc
import zipfile
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.drawing.class_plot import Bar, ClassPlot
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.attempt import Attempt
from stonework.exercises.chosen import Chosen, keep_chosen
from stonework.exercises.question import Length, Question, Variant
from stonework.exercises.record import BIGGEST, LONGEST
from stonework.exercises.report import (
    ByStudent,
    by_question,
    by_student,
    class_report,
    gathering,
    read_folder,
    read_zip,
)
from stonework.exercises.report.page import class_page, class_plot
from stonework.panels import ReportPanel
from stonework.people import People
from test_panels import control, page, press, said

PAGE, GAUGE, CUT = (QUESTIONS[name] for name in ("depth-of-a-page", "read-the-gauge", "page-with-a-cut"))
TODAY = date(2026, 11, 26)


def work_on(folder, shop, question, *answers, hints=0, solution=False):
    """Answer a question as a student does: each answer is “right”, or the slip of a misreading."""
    attempt = Attempt(question, shop, AnswerSheet.open(folder))
    for _ in range(hints):
        attempt.hint()
    if solution:
        attempt.solve()
    for answer in answers:
        roads = {road.slip: road.answer for road in attempt.variant.misreadings}
        attempt.text = attempt.variant.right if answer == "right" else roads[answer]
        attempt.check()


@pytest.fixture
def class_of_three(tmp_path, breakwater):
    """Ana took three tries, Ben has one slip again and again, and Cleo's sheet is an older one."""
    work = tmp_path / "work"
    ana, ben, cleo = (begin(work, name, number) for name, number in (("Ana", 21), ("Ben", 22), ("Cleo", 23)))
    work_on(ana, breakwater, PAGE, "left out the leads", "left out both slugs", "right", hints=1)
    work_on(ana, breakwater, GAUGE, "right")
    work_on(ben, breakwater, PAGE, *["left out the leads"] * 3, "counted the type alone", hints=2, solution=True)
    work_on(ben, breakwater, GAUGE, "read the inch edge", "right")
    work_on(cleo, breakwater, PAGE, "right")
    work_on(cleo, breakwater, GAUGE, "took the next pica")
    rewrite(cleo / "answers.json", lambda entry: {key: entry[key] for key in ("answer", "lesson", "task")})
    return work


def begin(work, name, number):
    """Give someone a folder and a number that isn't drawn by lot."""
    folder = People(work).begin(name)
    (folder / "answers.json").write_bytes(sheet_of(number, name))
    return folder


def rewrite(path, change):
    record = json.loads(path.read_text())
    record["answers"] = {name: change(entry) for name, entry in record["answers"].items()}
    path.write_text(json.dumps(record))


def report_of(gathered, shop, *questions, chosen=None):
    return class_report(gathered, questions or (GAUGE, PAGE), shop, *([chosen] if chosen else []))


def packed(files, how=zipfile.ZIP_DEFLATED):
    sink = io.BytesIO()
    with zipfile.ZipFile(sink, "w", how) as made:
        for name, data in files.items():
            made.writestr(name, data)
    return sink.getvalue()


def sheet_of(number=7, name="Ana", **answers):
    return json.dumps({"schema": 1, "number": number, "name": name, "answers": answers}).encode()


# --- what is counted ------------------------------------------------------------------------------------------


def test_what_is_counted_of_a_question_is_what_was_answered(class_of_three, breakwater):
    gauge, depth = report_of(read_folder(class_of_three), breakwater).questions
    assert (gauge.asked, gauge.first, gauge.second, gauge.later, gauge.untold) == (3, 1, 1, 0, 0)
    assert (gauge.right, gauge.not_yet, gauge.open, gauge.hints, gauge.solutions) == (2, 1, 0, 0, 0)
    assert set(gauge.slips) == {("read the inch edge", 1, ("Ben",)), ("took the next pica", 1, ("Cleo",))}
    assert (depth.asked, depth.first, depth.second, depth.later, depth.untold) == (3, 0, 0, 1, 1)
    assert (depth.right, depth.not_yet, depth.open, depth.hints, depth.solutions) == (2, 1, 0, 2, 1)
    assert depth.slips == [
        ("left out the leads", 4, ("Ana", "Ben")),
        ("counted the type alone", 1, ("Ben",)),
        ("left out both slugs", 1, ("Ana",)),
    ]


def test_help_taken_counts_before_there_is_an_answer(breakwater, tmp_path):
    work_on(begin(tmp_path, "Ana", 21), breakwater, PAGE, hints=1, solution=True)
    (depth,) = report_of(read_folder(tmp_path), breakwater, PAGE).questions
    assert (depth.asked, depth.open, depth.hints, depth.solutions) == (1, 1, 1, 1)


def test_a_student_isn_t_asked_what_can_t_be_made_with_that_number(tmp_path, irregular):
    # In the cellar not every number gives a task for “The second colour”: 21 does, 5 doesn't.
    for name, number in (("Ana", 21), ("Ben", 5)):
        begin(tmp_path, name, number)
    report = report_of(read_folder(tmp_path), irregular["cellar"], QUESTIONS["second-colour"])
    assert [one.asked for one in report.students] == [1, 0] and report.questions[0].asked == 1
    assert report.students[1].next == "Nothing is asked." and report.said == ()


def test_each_student_is_told_what_is_next(class_of_three, breakwater):
    report = class_report(read_folder(class_of_three), QUESTIONS.values(), breakwater)
    ana, ben, cleo = report.students
    assert (ana.name, ana.right, ana.not_yet, ana.asked) == ("Ana", 2, 0, len(QUESTIONS))
    assert ana.next == "Go on with lesson 1, “A page with a cut”."
    assert ben.next == "Back to lesson 1, “How deep is a page?”: 3 times left out the leads."
    assert cleo.next == "Back to lesson 1, “Read the gauge”: took the next pica."
    assert report_of(read_folder(class_of_three), breakwater, PAGE).students[0].next == "All is right."
    nobody = report_of(gathering.Gathered((gathering.Sheet("Dora", 5, {}),)), breakwater).students[0]
    assert nobody.next == "Begin with lesson 1, “Read the gauge”."


def test_each_student_s_mistakes_are_told_with_the_worst_first(class_of_three, breakwater):
    work_on(class_of_three / "Ben", breakwater, CUT, "left out the quads", "measured what prints")
    work_on(class_of_three / "Cleo", breakwater, PAGE, "left out the leads", "counted the type alone")
    ana, ben, cleo = report_of(read_folder(class_of_three), breakwater, GAUGE, CUT, PAGE).students
    assert ana.mistakes == () and ana.told == ("Go on with lesson 1, “A page with a cut”.",)
    depth = "lesson 1, “How deep is a page?”: 3 times left out the leads, counted the type alone"
    cut = "lesson 1, “A page with a cut”: left out the quads, measured what prints"
    assert ben.mistakes == (depth, cut) and ben.told == (f"Back to {depth};", f"{cut}.")
    assert [told.partition(":")[0] for told in cleo.told] == [  # none came twice: in the order of the lessons
        "Back to lesson 1, “Read the gauge”",
        "lesson 1, “How deep is a page?”",
    ]


def test_what_was_once_right_is_counted_as_right(class_of_three, breakwater):
    work_on(class_of_three / "Ana", breakwater, GAUGE, "took the next pica")
    report = report_of(read_folder(class_of_three), breakwater)
    assert report.students[0].mistakes == () and report.questions[0].first == 1
    assert ("took the next pica", 2, ("Ana", "Cleo")) in report.questions[0].slips


def test_a_mistake_of_no_known_kind_is_told_too(breakwater, tmp_path):
    ana = begin(tmp_path, "Ana", 21)
    attempt = Attempt(PAGE, breakwater, AnswerSheet.open(ana))
    attempt.text = "1 pt"
    attempt.check()
    assert (attempt.outcome.standing, attempt.outcome.slip) == ("not yet", "")
    (student,) = report_of(read_folder(tmp_path), breakwater, PAGE).students
    assert student.told == ("Back to lesson 1, “How deep is a page?”: no known slip.",)


def test_answers_without_a_name_are_said_and_not_counted(class_of_three, breakwater):
    nameless = class_of_three / "no name yet, someone at stone-3"
    AnswerSheet.open(nameless)
    assert read_folder(class_of_three).said == ()  # there is nothing in it yet
    work_on(nameless, breakwater, PAGE, "right")
    told = (
        f"Answers without a name lie in “{nameless.name}”: whoever they belong to gives their name on that machine. "
        "Until then they aren't counted."
    )
    sheets = {f"class/{path.parent.name}/answers.json": path.read_bytes() for path in class_of_three.glob("*/*.json")}
    for gathered in (read_folder(class_of_three), read_zip(packed(sheets))):
        report = report_of(gathered, breakwater)
        assert [one.name for one in report.students] == ["Ana", "Ben", "Cleo"] and report.questions[0].asked == 3
        assert report.said == (told,)
    here = People(class_of_three).begin("Dora", nameless)  # as the name box does it
    AnswerSheet.open(here)
    assert "Dora" in [sheet.name for sheet in read_folder(class_of_three).sheets]


def test_a_zip_and_loose_sheets_say_the_same_as_the_folder(class_of_three, breakwater, tmp_path):
    expected = report_of(read_folder(class_of_three), breakwater)
    sheets = {path.parent.name: path.read_bytes() for path in class_of_three.glob("*/answers.json")}
    (tmp_path / "loose").mkdir()
    for name, data in sheets.items():
        (tmp_path / "loose" / f"{name}.answers.json").write_bytes(data)
    for gathered in (
        read_zip(packed({f"class/{name}/answers.json": data for name, data in sheets.items()})),
        read_zip(packed({f"{name}.answers.json": data for name, data in sheets.items()}, zipfile.ZIP_STORED)),
        read_folder(tmp_path / "loose"),
    ):
        assert gathered.said == () and report_of(gathered, breakwater) == expected


def test_what_a_sheet_claims_of_itself_isn_t_believed(class_of_three, breakwater):
    rewrite(class_of_three / "Ben" / "answers.json", lambda entry: {**entry, "standing": "right", "right at": 1})
    assert report_of(read_folder(class_of_three), breakwater, PAGE).questions[0].not_yet == 1
    rewrite(class_of_three / "Ana" / "answers.json", lambda entry: {**entry, "slips": {"<b>a thief</b>": 5, "read": 9}})
    words = {slip.words for slip in report_of(read_folder(class_of_three), breakwater, PAGE).questions[0].slips}
    assert words == {"left out the leads", "counted the type alone"}


@pytest.mark.parametrize(
    ("spoil", "hints"),
    [({"lesson": 1}, 1), ({"task": "another"}, 1), ({"answer": "1 pt" + LONGEST * " "}, 2), ({"answer": 7}, 2)],
)
def test_an_answer_to_another_task_or_none_that_can_be_read_isn_t_counted(spoil, hints, class_of_three, breakwater):
    rewrite(class_of_three / "Ana" / "answers.json", lambda entry: {**entry, **spoil})
    depth = report_of(read_folder(class_of_three), breakwater, PAGE).questions[0]
    assert (depth.asked, depth.open, depth.hints) == (3, 1, hints)


def test_only_what_is_asked_counts_and_a_number_for_all_is_kept_apart(class_of_three, breakwater):
    keep_chosen(class_of_three, Chosen(number=12))
    work_on(class_of_three / "Ben", breakwater, PAGE, "right")
    chosen = Chosen(12, frozenset({GAUGE.id}))
    report = report_of(read_folder(class_of_three), breakwater, chosen=chosen)
    (depth,) = report.questions
    assert (depth.question, depth.first, depth.not_yet, depth.open) == (PAGE, 1, 0, 2)
    assert report.said == ("Number 12 is set for all, and only what was answered with it is counted.",)


@pytest.mark.parametrize("shop", ["cellar", "loft", "metric"])
def test_every_shop_has_its_report(shop, irregular, tmp_path):
    folder, asked = begin(tmp_path, "Ana", 21), 0
    names = ("depth-of-a-page", "which-furniture", "how-far-open", "second-colour", "both-faces", "how-to-store")
    questions = [QUESTIONS[name] for name in names]
    for question in questions:
        try:
            question.variant(21, irregular[shop])
        except ValueError:
            continue
        work_on(folder, irregular[shop], question, "right")
        asked += 1
    report = class_report(read_folder(tmp_path), questions, irregular[shop])
    assert (report.students[0].right, report.students[0].asked) == (asked, asked)
    assert len(report.said) == len(questions) - asked and all("can't be made" in words for words in report.said)


# --- sheets from anywhere -------------------------------------------------------------------------------------

NONSENSE = {
    "empty": b"",
    "noise": os.urandom(10_000),
    "brackets": b"[" * 100_000,
    "deep": b'{"answers":' * 50_000,
    "huge number": b'{"schema": 1, "number": ' + b"9" * 5000 + b"}",
    "large number": sheet_of(number=10**30),
    "no number": sheet_of(number=0),
    "newer": b'{"schema": 99, "number": 7}',
    "list": b"[]",
    "endless": b" " * (BIGGEST + 1),
    "another alphabet": "{}".encode("utf-16"),
}


@pytest.mark.parametrize("what", NONSENSE)
def test_whatever_one_sheet_is_the_others_are_counted(what, tmp_path):
    for name, data in (("Zoe", sheet_of(name="Zoe")), ("Bad", NONSENSE[what])):
        (tmp_path / f"{name}.answers.json").write_bytes(data)
    gathered = read_folder(tmp_path)
    assert [sheet.name for sheet in gathered.sheets] == ["Zoe"]
    assert len(gathered.said) == 1 and re.fullmatch(r"Bad\.answers\.json \w.*\.", gathered.said[0])


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="There are no pipes in the folders of this system.")
def test_nothing_but_plain_files_is_opened(tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "answers.json").write_bytes(sheet_of())
    work = tmp_path / "work"
    for name in ("pipe", "link", "folder", "Zoe"):
        (work / name).mkdir(parents=True)
    os.mkfifo(work / "pipe" / "answers.json")
    (work / "link" / "answers.json").symlink_to(tmp_path / "elsewhere" / "answers.json")
    (work / "linked").symlink_to(tmp_path / "elsewhere")
    (work / "device.answers.json").symlink_to("/dev/zero")
    (work / "folder" / "answers.json").mkdir()
    (work / "Zoe" / "answers.json").write_bytes(sheet_of(name="Zoe"))
    gathered = read_folder(work)
    assert [sheet.name for sheet in gathered.sheets] == ["Zoe"]
    reasons = ("it is a link", "it is a folder", "it isn't a plain file")
    assert len(gathered.said) == 5 and all(any(why in words for why in reasons) for words in gathered.said)


@pytest.mark.parametrize("folder", ["nowhere", "a\0b", "x" * 5000])
def test_a_folder_that_can_t_be_read_is_told(folder):
    gathered = read_folder(folder)
    assert gathered.sheets == () and gathered.said[0].startswith("The folder “") and len(gathered.said[0]) < 200


ODD = (
    *("../answers.json", "/etc/answers.json", "C:/x/answers.json", "a/../b/answers.json", "a//answers.json"),
    *("..\\..\\answers.json", "a/b/c/d/e/f/g/h/answers.json"),
)


@pytest.mark.parametrize("place", ODD)
def test_an_odd_place_in_a_zip_is_told_and_nothing_is_written(place, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    gathered = read_zip(packed({place: sheet_of(), "Zoe.answers.json": sheet_of(name="Zoe")}))
    assert [sheet.name for sheet in gathered.sheets] == ["Zoe"]
    assert len(gathered.said) == 1 and "lies at an odd place in the zip" in gathered.said[0]
    assert list(tmp_path.iterdir()) == []


def _told_of(data):
    gathered = read_zip(data)
    assert gathered.sheets == () and len(gathered.said) == 1
    return gathered.said[0]


def test_a_bomb_is_never_unpacked():
    bomb = packed({"Ana.answers.json": b" " * 200_000_000})
    lying = bomb.replace(struct.pack("<L", 200_000_000), struct.pack("<L", 1000))  # the size that it says it has
    slow = packed({"Ana.answers.json": b" " * 50_000_000}, zipfile.ZIP_BZIP2)
    tracemalloc.start()
    assert "is far too long" in _told_of(bomb) and "is damaged" in _told_of(lying)
    assert "is packed in a way that isn't read here" in _told_of(slow)
    assert tracemalloc.get_traced_memory()[1] < 20_000_000
    tracemalloc.stop()


def test_links_passwords_and_zips_within_zips_stay_shut():
    link = zipfile.ZipInfo("Ana/answers.json")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    assert "only plain files are opened" in _told_of(packed({link: b"/etc/passwd"}))
    assert "a zip within the zip" in _told_of(packed({"more.zip": packed({"Ana.answers.json": sheet_of()})}))
    shut = bytearray(packed({"Ana.answers.json": sheet_of()}, zipfile.ZIP_STORED))
    shut[6] |= 1
    shut[shut.index(b"PK\x01\x02") + 8] |= 1
    assert "locked by a password" in _told_of(bytes(shut))
    for broken in (b"", b"PK", os.urandom(1000), packed({"Ana.answers.json": sheet_of()})[:-30]):
        assert _told_of(broken) == "The file isn't a zip that can be read."


def test_no_more_is_read_than_a_class_can_have(monkeypatch):
    sheets = packed({f"{n}.answers.json": sheet_of(name=f"Student {n}") for n in range(9)})
    assert len(read_zip(sheets).sheets) == 9
    monkeypatch.setattr(gathering, "MOST_SHEETS", 4)
    assert len(read_zip(sheets).sheets) == 4 and read_zip(sheets).said[0].startswith("Only 4 sheets were read")
    monkeypatch.setattr(gathering, "MOST_BYTES", 3 * len(sheet_of(name="Student 1")))
    assert len(read_zip(sheets).sheets) == 3


def test_two_sheets_of_one_name_are_two_students():
    gathered = read_zip(packed({f"{n}/answers.json": sheet_of() for n in range(2)}))
    assert [sheet.name for sheet in gathered.sheets] == ["Ana", "Ana (2)"]
    assert gathered.said == ("1/answers.json bears the name Ana too: it is counted as another student's.",)


LEAVES = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=50)
ANYTHING = st.recursive(
    LEAVES, lambda inner: st.lists(inner) | st.dictionaries(st.text(max_size=9), inner), max_leaves=9
)


@given(st.binary(max_size=10_000) | ANYTHING.map(lambda what: json.dumps(what).encode()))
def test_no_bytes_break_the_reading(data):
    assert len(read_zip(packed({"x.answers.json": data})).said) <= 1
    assert read_zip(data).sheets == ()


@given(
    st.fixed_dictionaries({}, optional={key: ANYTHING for key in ("tries", "right at", "hints", "solution", "slips")}),
    st.text(max_size=10_000) | ANYTHING.map(json.dumps),
    ANYTHING,
)
def test_no_answer_breaks_the_judging(breakwater, claims, text, name):
    for question in (PAGE, QUESTIONS["mend-a-line"]):
        entry = {**claims, "answer": text, "lesson": question.version, "task": question.variant(7, breakwater).mark}
        data = sheet_of(name=name, **{question.id: entry})
        report = report_of(read_zip(packed({"x.answers.json": data})), breakwater, question)
        assert len(report.students) == 1 and by_student(report) and by_question(report)


def far_off(lockup):
    """Spoil a lockup's record: every length in it is beyond all measure."""
    record = json.loads(lockup)
    record["form"]["x"] = record["items"][0]["length"] = 1e300
    return json.dumps(record)


@pytest.mark.parametrize("kind", ["brackets", "figures", "sums", "small", "far off", "many"])
def test_no_answer_breaks_any_question(kind, breakwater):
    answers = {}
    for name, question in QUESTIONS.items():
        variant = question.variant(7, breakwater)
        lockup = variant.start is not None
        text = {
            "brackets": "[" * 15_000,
            "figures": "9" * 15_000,
            "sums": "1+" * 9000 + "1",
            "small": "1e-300 pt",
            "far off": far_off(variant.right) if lockup else "1e300 in",
            "many": "1 2 3 4 " * 2000,
        }[kind]
        answers[name] = {"answer": text, "lesson": question.version, "task": variant.mark, "tries": 1}
    gathered = read_zip(packed({"x.answers.json": sheet_of(**answers)}))
    report = class_report(gathered, QUESTIONS.values(), breakwater)
    assert report.students[0].asked == len(QUESTIONS) and report.students[0].right == 0


def test_an_answer_that_breaks_its_judge_is_told_and_the_others_are_counted(breakwater):
    def divide(length):
        return "" if length == 2 else str(1 / (length - 1))

    def make(_numbers, _shop):
        return Variant("?", Length(0.1), "2 pt", "", ("", ""), "", (), sound=divide)

    breaks = Question("breaks", "Breaks", "01", 1, make)
    entry = {"answer": "1 pt", "lesson": 1, "task": make(None, None).mark}
    report = report_of(read_zip(packed({"x.answers.json": sheet_of(breaks=entry)})), breakwater, breaks, PAGE)
    assert report.said == ("An answer of Ana to “Breaks” can't be judged.",)
    assert (report.students[0].right, report.students[0].asked) == (0, 2)


# --- what is shown --------------------------------------------------------------------------------------------

MARKUP = "<img src=x onerror=alert(1)>"


def test_markup_stays_text_wherever_it_is_shown(breakwater, tmp_path, shop_file):
    (tmp_path / "Ana.answers.json").write_bytes(sheet_of(name=MARKUP))
    (tmp_path / f"{MARKUP}$x$.answers.json").write_bytes(b"nonsense")
    report = report_of(read_folder(tmp_path), breakwater)
    assert report.students[0].name == "img src x onerror alert 1"
    panel = ReportPanel(shop_file)
    control(panel, "Folder of the sheets").value = str(tmp_path)
    press(panel, "Read the folder")
    assert "<img" not in page(panel) and "&lt;img src=x onerror=alert(1)&gt;$x$.answers.json is damaged" in page(panel)
    spoilt = report._replace(students=(ByStudent(MARKUP, 7, 0, 0, 2, MARKUP),), said=(MARKUP, "$\\frac{1}$ 印 \u202e"))
    assert class_page(spoilt, MARKUP, TODAY).startswith(b"%PDF") and "<img" not in class_plot(spoilt).svg()


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@now", "\t=1", "\r=1", "=HYPERLINK(\"http://x\")"])  # fmt: skip
def test_no_cell_becomes_a_formula(name, breakwater):
    report = report_of(gathering.Gathered((gathering.Sheet("Ana", 7, {}),)), breakwater)
    spoilt = report._replace(students=(ByStudent(name, 7, 0, 0, 2, name),))
    rows = list(csv.reader(io.StringIO(by_student(spoilt).decode("utf-8-sig"), newline="")))
    assert rows[1] == [f"'{name}", "7", "2", "0", "0", "2", f"'{name}", ""]


def test_the_tables_hold_what_is_counted(class_of_three, breakwater):
    report = report_of(read_folder(class_of_three), breakwater)
    questions, students = (
        list(csv.DictReader(io.StringIO(table(report).decode("utf-8-sig"), newline="")))
        for table in (by_question, by_student)
    )
    assert [row["id"] for row in questions] == [GAUGE.id, PAGE.id]
    assert questions[1]["right"] == "2" and questions[1]["what went wrong"].startswith(
        "left out the leads (students: 2, times: 4): Ana, Ben; "
    )
    mistake = "lesson 1, “How deep is a page?”: 3 times left out the leads, counted the type alone"
    assert [row["what isn't right yet"] for row in students][:2] == ["", mistake]
    assert [row["name"] for row in students] == ["Ana", "Ben", "Cleo"] and students[1]["next"].startswith("Back to")


def test_the_picture_says_in_words_what_it_shows(class_of_three, breakwater):
    words = class_plot(report_of(read_folder(class_of_three), breakwater)).words
    assert "How deep is a page?: 1 later, 1 right, try not known, 1 not yet; 2 left out the leads; " in words


def test_the_picture_drops_no_mistake_without_a_word():
    def beside(*notes):
        view = ClassPlot()
        view.draw([Bar("How deep?", "", (0, 0, 0, 0, 3), 3, notes)])
        return view.texts[-1].get_text()

    two = ("2 left out the leads", "1 took both slugs")
    assert beside() == "" and beside(*two) == "; ".join(two)
    assert beside(*two, "1 counted the type alone", "1 left out both slugs") == f"{'; '.join(two)}; and 2 more"
    long = beside("2 " + "counted again what was counted before " * 3, *two)
    assert re.fullmatch(r"2 counted again .*…; and 2 more", long)


def test_on_paper_each_mistake_stands_beside_its_name(class_of_three, breakwater, monkeypatch):
    monkeypatch.setattr("stonework.exercises.report.page.pdf", lambda title, figures: figures)
    (figure,) = class_page(report_of(read_folder(class_of_three), breakwater), breakwater.name, TODAY)
    words = " ".join(text.get_text() for text in figure.texts)
    mistake = "Back to lesson 1, “How deep is a page?”: 3 times left out the leads, counted the type alone."
    assert f"Ben, 1 of 2. {mistake} Cleo" in words and "Ana, 2 of 2. All is right." in words


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_class_of_thirty_goes_on_one_page(breakwater, paper):
    sheets = tuple(gathering.Sheet(f"Bartholomew {n}", 7, {}) for n in range(30))
    told, next_ = (
        ("lesson 3, “Which piece binds?”: 3 times named the longest piece",) * 2,
        "Go on with lesson 3, “Which piece binds?”.",
    )
    report = class_report(gathering.Gathered(sheets), QUESTIONS.values(), breakwater)
    students = (one._replace(mistakes=told[: n % 3], next=next_) for n, one in enumerate(report.students))
    slipped = report._replace(students=tuple(students))  # none, one and two mistakes by turns
    assert pages_in(class_page(slipped, breakwater.name, TODAY, paper)) == 1
    many = slipped._replace(students=slipped.students * 6)
    assert pages_in(class_page(many, breakwater.name, TODAY, paper)) > 1


def pages_in(pdf):
    return len(re.findall(rb"/Type /Page\b", pdf))


def test_the_panel_reads_the_class_s_folder_and_a_zip(class_of_three, shop_file, monkeypatch, breakwater):
    monkeypatch.setenv("STONEWORK_WORK", str(class_of_three))
    panel = ReportPanel(shop_file)
    assert said(panel).startswith("3 sheets: ") and "3 times left out the leads, counted the type alone." in page(panel)
    assert "left out the leads, 4: Ana, Ben<br>" in page(panel)
    assert page(panel).index("By student") < page(panel).index("<svg")
    press(panel, "Tables to save")
    _, students = re.findall(r"data:text/csv;base64,([^\"]+)", page(panel))
    report = class_report(read_folder(class_of_three), QUESTIONS.values(), breakwater)
    assert base64.b64decode(students) == by_student(report)
    zipped = memoryview(packed({"Zoe.answers.json": sheet_of(name="Zoe")}))
    upload = {"name": "x.zip", "type": "", "size": 1, "content": zipped, "last_modified": datetime(2026, 11, 26)}
    panel._zip.value = (upload,)
    assert said(panel).startswith("1 sheet: ") and "Zoe" in page(panel) and "left out the leads" not in page(panel)
    press(panel, "Page to print")
    assert "Save class-report.pdf" in page(panel)


def test_the_panel_says_what_it_can_t_do(tmp_path, shop_file):
    panel = ReportPanel(shop_file)
    assert said(panel) == "There are no sheets to count here yet."
    press(panel, "Page to print")
    assert "There is nothing to print yet." in page(panel)
    assert said(ReportPanel(tmp_path / "no.toml")).startswith("The shop file can't be used: ")
