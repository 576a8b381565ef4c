"""The jobs file: what is written is read, what is wrong is told with its line, and a job added loses nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.form import Content, Cut, Form, Lines, Strip
from stonework.jobs import Ticket, add_job, jobs_beside, load_jobs, read_jobs
from stonework.placing import Sheet
from stonework.shop import Shop, ShopFileError
from stonework.units import PICA

LESSONS = Path(__file__).resolve().parent.parent / "lessons"
SCHOOL = Shop.load(LESSONS / "breakwater.shop.toml")

LABEL = """\
[[job]]
name = "label"
form = ["20 picas", "8 picas"]
sheet = ["30 picas", "16 picas"]
left = "5 picas"
head = "4 picas"
"""


def read(tmp_path, text, shop=SCHOOL):
    path = tmp_path / "x.jobs.toml"
    path.write_text(text, encoding="utf-8")
    return read_jobs(path, shop)


def told(tmp_path, text):
    return [str(note) for note in read(tmp_path, text).mistakes]


def test_the_schools_jobs_have_neither_mistakes_nor_questions():
    file = read_jobs(LESSONS / "breakwater.jobs.toml", SCHOOL)
    assert file.mistakes == file.questions == ()
    assert list(file.tickets) == ["tide card", "ferry notice", "bookplate black", "bookplate red"]


def test_what_a_form_is_set_of_is_read_from_head_to_foot():
    content = load_jobs(LESSONS / "breakwater.jobs.toml", SCHOOL)["bookplate black"].content
    assert content == Content(
        15 * PICA,
        (
            *(Cut(9 * PICA, 8 * PICA), Strip(24), Lines(1, 12), Lines(1, 18), Strip(24)),
            *(Lines(2, 12, quads=True), Strip(6), Lines(1, 12)),
        ),
    )


def test_a_job_may_say_no_more_than_its_sizes(tmp_path):
    ticket = read(tmp_path, LABEL).tickets["label"]
    assert (ticket.form, ticket.printed) == (Form(240, 96), Form(240, 96))
    assert (ticket.chase, ticket.content, ticket.sheets, ticket.after) == ("", None, 0, None)
    assert ticket.margins.right == ticket.margins.left == 60 and ticket.margins.foot == 48


def test_the_jobs_stand_beside_the_shop():
    assert jobs_beside("a/breakwater.shop.toml") == Path("a/breakwater.jobs.toml")
    assert jobs_beside("your-shop.toml") == Path("your-shop.jobs.toml")


@pytest.mark.parametrize(
    ("before", "after", "line", "words"),
    [
        ('name = "label"', 'name = "a/b"', 2, "can't be the name of a job"),
        ('form = ["20 picas", "8 picas"]', "", 1, "form is missing"),
        ('form = ["20 picas", "8 picas"]', 'form = "20 picas"', 3, "a width and a height"),
        ('form = ["20 picas", "8 picas"]', 'form = ["20 ells", "8 picas"]', 3, "20 ells"),
        ('form = ["20 picas"', 'form = ["29 picas"', 4, "sheet"),
        (
            *(
                'form = ["20 picas", "8 picas"]\nsheet = ["30 picas"',
                'form = ["99 picas", "8 picas"]\nsheet = ["120 picas"',
            ),
            *(1, "that goes into no chase of the shop"),
        ),
        ('left = "5 picas"', 'left = "5 picas"\ncolour = "red"', 6, "isn't a key this file knows"),
        ('left = "5 picas"', 'left = "5 picas"\nchase = "9 × 99"', 6, '"8 × 12"'),
        ('left = "5 picas"', 'left = "15 picas"', 4, "sheet"),
        ('left = "5 picas"', 'left = "5 picas"\nafter = "nobody"', 6, "the name of a job above"),
        ('left = "5 picas"', 'left = "5 picas"\nabreast = 2', 1, "gutter is missing"),
        ('left = "5 picas"', 'left = "5 picas"\nheld = { kind = "gold", from = "1 pica" }', 6, "furniture"),
        ('form = ["20 picas", "8 picas"]', 'measure = "20 picas"\nset = [{ lines = 0, body = "12 pt" }]', 4, "1 line"),
        ('form = ["20 picas", "8 picas"]', 'measure = "20 picas"\nset = [{ ink = 1 }]', 4, "lines, quads, a strip"),
        ('form = ["20 picas", "8 picas"]', 'measure = "20 picas"', 1, "a list such as"),
    ],
)
def test_a_mistake_is_told_with_its_line(tmp_path, before, after, line, words):
    assert before in LABEL
    found = told(tmp_path, LABEL.replace(before, after))
    assert found and any(words in one for one in found)
    assert any(one.startswith(f"line {line},") for one in found), found


def test_all_mistakes_come_at_once(tmp_path):
    wrong = LABEL.replace("5 picas", "5 ells").replace("4 picas", "four") + LABEL
    with pytest.raises(ShopFileError) as caught:
        (tmp_path / "x.jobs.toml").write_text(wrong, encoding="utf-8")
        load_jobs(tmp_path / "x.jobs.toml", SCHOOL)
    assert "holds 2 mistakes" in str(caught.value) and "5 ells" in str(caught.value) and "four" in str(caught.value)


def test_two_jobs_of_one_name_are_told(tmp_path):
    (one,) = told(tmp_path, LABEL + LABEL)
    assert "the name “label” is used twice" in one


def test_type_that_the_shop_lacks_is_asked_about(tmp_path):
    text = LABEL.replace(
        'form = ["20 picas", "8 picas"]', 'measure = "20 picas"\nset = [{ lines = 2, body = "13 pt" }]'
    )
    file = read(tmp_path, text)
    assert file.tickets and "no type of 13 pt" in str(file.questions[0])


def test_what_isn_t_toml_is_told(tmp_path):
    (one,) = told(tmp_path, "[[job]\nname = 3")
    assert one.startswith("line 1,")


@given(text=st.text(max_size=300) | st.text(alphabet='[]job"=\n name.1,{}#', max_size=300))
def test_whatever_stands_in_the_file_comes_out_as_sentences_or_jobs(tmp_path_factory, text):
    path = tmp_path_factory.getbasetemp() / "any.jobs.toml"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    try:
        file = read_jobs(path, SCHOOL)
    except ShopFileError as error:
        assert str(error).endswith((".", "is one."))
    else:
        assert (file.tickets is None) == bool(file.mistakes)


# --- adding ----------------------------------------------------------------------------------------------------


def job(name, **other):
    return Ticket(name, 'With "quotes" \\ and\na line', (), Form(240, 96), Sheet(360, 192), 60, 48, **other)


def test_a_job_added_is_read_again_and_what_stood_there_stays_to_the_letter(tmp_path):
    path = tmp_path / "x.jobs.toml"
    path.write_text(f"# my remark\n\n{LABEL}", encoding="utf-8")
    found = add_job(job("second", chase="8 × 12", sheets=7), path, SCHOOL)
    text = path.read_text(encoding="utf-8")
    assert text.startswith(f"# my remark\n\n{LABEL}") and list(found) == ["label", "second"]
    again = load_jobs(path, SCHOOL)["second"]
    assert (again.form, again.sheet, again.left, again.head) == (Form(240, 96), Sheet(360, 192), 60, 48)
    assert (again.chase, again.sheets, again.told) == ("8 × 12", 7, 'With "quotes" \\ and a line')


def test_the_first_job_makes_the_file(tmp_path):
    assert list(add_job(job("first"), tmp_path / "new.jobs.toml", SCHOOL)) == ["first"]
    assert [path.name for path in tmp_path.glob("[!.]*")] == ["new.jobs.toml"]


@pytest.mark.parametrize("name", ["label", "a/b", "", "x" * 50])
def test_a_job_that_can_t_be_added_changes_nothing(tmp_path, name):
    path = tmp_path / "x.jobs.toml"
    path.write_text(LABEL, encoding="utf-8")
    with pytest.raises(ValueError, match="can't be added"):
        add_job(job(name), path, SCHOOL)
    assert path.read_text(encoding="utf-8") == LABEL
    assert [one.name for one in tmp_path.glob("[!.]*")] == ["x.jobs.toml"]


@given(
    name=st.from_regex(r"[A-Za-z0-9][A-Za-z0-9 -]{0,20}", fullmatch=True).filter(lambda name: name.strip() == name),
    told=st.text(max_size=60),
    sizes=st.tuples(*[st.integers(100, 500)] * 2),
    left=st.integers(0, 100),
)
def test_any_job_comes_back_as_it_was_added(tmp_path_factory, name, told, sizes, left):
    path = tmp_path_factory.mktemp("jobs") / "any.jobs.toml"
    sheet = Sheet(sizes[0] + 200, sizes[1] + 100)
    ticket = Ticket(name, told, (), Form(*map(float, sizes)), sheet, float(left), 30.0)
    again = add_job(ticket, path, SCHOOL)[name]
    assert (again.form, again.sheet, again.left, again.head) == (ticket.form, sheet, left, 30)


def test_a_file_of_remarks_alone_has_no_jobs_yet_and_keeps_its_remarks(tmp_path):
    path = tmp_path / "x.jobs.toml"
    path.write_text("# soon\n", encoding="utf-8")
    assert load_jobs(path, SCHOOL) == {}
    assert list(add_job(job("first"), path, SCHOOL)) == ["first"]
    assert path.read_text(encoding="utf-8").startswith("# soon\n")
