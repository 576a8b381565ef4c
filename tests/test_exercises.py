"""Every question over many seeds: what it takes, what it says to each wrong road, and what an attempt remembers."""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import sys
from itertools import combinations

import nbformat
import pytest
from conftest import ROOT
from hypothesis import given
from hypothesis import strategies as st
from stonework.exercises import QUESTIONS, AnswerSheet
from stonework.exercises.attempt import Attempt
from stonework.exercises.carry_a_job import CARRYING
from stonework.exercises.choose_furniture import FURNISHING, OnTheStone, record
from stonework.exercises.fit_the_quoins import QUOINS
from stonework.exercises.gauging import EDGES, Gauging
from stonework.exercises.lift_and_mend import LIFTING
from stonework.exercises.measure_the_form import MEASURING, practice_form
from stonework.exercises.numbers import Numbers
from stonework.exercises.place_the_form import PLACING
from stonework.exercises.question import Choice, Length, Misreading, Question, Variant, Weight
from stonework.exercises.tighten_in_order import TIGHTENING
from stonework.exercises.unlock_and_store import STORING
from stonework.lockup import Lockup
from stonework.rules import judge
from stonework.units import PICA, POINTS_PER_INCH, write_length

SEEDS = range(1, 51)
NAMES = sorted(QUESTIONS)
TWO_WAYS = {
    "second-colour": "moved it by another amount",
    "what-goes-loose": "named one on another side",
    "what-makes-it-square": "looked at the pair that agrees",
}
"""The slips that can be made in two ways at once, as there are two such amounts, quoins or edges."""


@pytest.fixture(scope="module")
def variants(breakwater):
    """Fifty variants of every question."""
    return {name: [QUESTIONS[name].variant(seed, breakwater) for seed in SEEDS] for name in NAMES}


# --- every question, fifty times -----------------------------------------------------------------------------


def test_there_are_enough_questions_in_each_lesson():
    lessons = (MEASURING, PLACING, FURNISHING, QUOINS, TIGHTENING, LIFTING, STORING, CARRYING)
    assert [len(asked) >= least for asked, least in zip(lessons, (7, 5, 4, 3, 3, 3, 3, 3), strict=True)] == [True] * 8
    assert len(QUESTIONS) == sum(map(len, lessons))


@pytest.mark.parametrize("name", NAMES)
def test_nothing_answered_is_not_attempted(variants, name):
    for variant in variants[name]:
        for nothing in ("", "   "):
            assert variant.check(nothing).standing == "not attempted"


@pytest.mark.parametrize("name", NAMES)
def test_the_solution_is_right_and_says_why_it_matters(variants, name):
    for variant in variants[name]:
        outcome = variant.check(variant.right)
        assert outcome.standing == "right" and variant.why in outcome.words


@pytest.mark.parametrize("name", NAMES)
def test_every_misreading_is_met_by_its_own_sentence(variants, name):
    for variant in variants[name]:
        assert len(variant.misreadings) >= 2
        sentences = [misreading.sentence for misreading in variant.misreadings]
        assert len(set(sentences)) == len(sentences)
        for misreading in variant.misreadings:
            outcome = variant.check(misreading.answer)
            assert outcome.standing == "not yet" and outcome.words.endswith(misreading.sentence)


@pytest.mark.parametrize("name", NAMES)
def test_a_misreading_is_told_from_the_others_by_its_slip(variants, name):
    for variant in variants[name]:
        slips = [misreading.slip for misreading in variant.misreadings]
        assert len(slips) - len(set(slips)) == (slips.count(TWO_WAYS.get(name)) == 2)
        for misreading in variant.misreadings:
            assert re.fullmatch(r"[a-z][a-z',-]*( [a-z][a-z',-]*){1,5}", misreading.slip), misreading.slip
            assert variant.check(misreading.answer).slip == misreading.slip


@pytest.mark.parametrize("name", NAMES)
def test_slips_are_the_same_for_every_number(variants, name):
    slips = [{misreading.slip for misreading in variant.misreadings} for variant in variants[name]]
    assert set.union(*slips[::2]) == set.union(*slips[1::2])


@pytest.mark.parametrize("name", NAMES)
def test_a_misreading_comes_to_neither_the_right_answer_nor_another(variants, name):
    for variant in variants[name]:
        ends = [variant.reader.read(answer) for answer in (variant.right, *(m.answer for m in variant.misreadings))]
        assert not any(variant.reader.alike(one, other) for one, other in combinations(ends, 2))


@pytest.mark.parametrize("name", [question.id for question in MEASURING])
def test_what_is_said_to_a_wrong_answer_names_it_and_not_the_right_one(variants, name):
    for variant in variants[name]:
        right = variant.reader.say(variant.reader.read(variant.right))
        for misreading in variant.misreadings:
            words = variant.check(misreading.answer).words
            assert variant.reader.say(variant.reader.read(misreading.answer)) in words
            assert not re.search(rf"(?<!picas ){re.escape(right)}\.", words)


@pytest.mark.parametrize("name", NAMES)
def test_hints_come_in_steps_and_none_is_the_answer(variants, name):
    for variant in variants[name]:
        assert len(variant.hints) >= 2 and variant.solution
        assert all(variant.right not in hint for hint in variant.hints)


@pytest.mark.parametrize("name", NAMES)
def test_variants_stay_within_a_real_shop(variants, name, breakwater):
    widest, highest = (max(getattr(chase, way) for chase in breakwater.chases) for way in ("width", "height"))
    bodies, leads = [body.size for body in breakwater.bodies], list(breakwater.leads)
    for variant in variants[name]:
        facts = variant.facts
        assert facts
        assert 0 < facts.get("width", 1) <= widest
        assert 0 < facts.get("height", 1) <= max(widest, highest)
        assert 0 < facts.get("depth", 1) <= highest
        assert 0 < facts.get("short", 1) <= 2 * max(leads)
        assert facts.get("body", bodies[0]) in bodies and facts.get("lead", leads[0]) in leads
        assert 0 < facts.get("weight", 1) < 40
        assert 0 < facts.get("length", 1) <= 24.1 * POINTS_PER_INCH


@pytest.mark.parametrize("name", NAMES)
def test_fifty_students_don_t_all_get_the_same(variants, name):
    assert len({variant.mark for variant in variants[name]}) >= 8


@pytest.mark.parametrize("name", NAMES)
def test_a_task_is_said_in_words_of_its_own(variants, name):
    for variant in variants[name]:
        assert len(variant.task.split()) > 8 and variant.task.rstrip().endswith(("?", "."))
        assert "{" not in variant.task + variant.solution + variant.why + "".join(variant.hints)


@pytest.mark.parametrize("name", NAMES)
def test_a_picture_describes_itself(variants, name):
    for n, variant in enumerate(variants[name][:4]):
        if variant.picture is not None:
            view = variant.picture(f"{name}-{n}")
            assert len(view.words.split()) > 15
            assert view.svg().count("aria-label") == 1


# --- the same on every machine -------------------------------------------------------------------------------


def test_numbers_follow_from_the_seed_alone():
    # The row is SHA-256's (FIPS 180-4) of "seed/n", counted from 1, as a big-endian number; reckoned here afresh.
    numbers = Numbers("gauge", 7)
    expected = [int(hashlib.sha256(f"gauge/7/{n}".encode()).hexdigest(), 16) for n in (1, 2, 3)]
    assert [numbers.whole(10, 20) for _ in expected] == [10 + value % 11 for value in expected]


def test_the_same_number_gives_the_same_tasks_in_another_process(variants):
    ask = (
        "from stonework.exercises import QUESTIONS; from stonework.shop import Shop; import sys;"
        "shop = Shop.load(sys.argv[1]);"
        "print(*(QUESTIONS[name].variant(3, shop).mark for name in sorted(QUESTIONS)))"
    )
    shop = ROOT / "lessons" / "breakwater.shop.toml"
    run = subprocess.run([sys.executable, "-c", ask, str(shop)], capture_output=True, text=True, check=True)
    assert run.stdout.split() == [variants[name][2].mark for name in NAMES]


@given(st.integers(0, 10**9), st.integers(-50, 50), st.integers(0, 100))
def test_whole_numbers_stay_between_their_ends(seed, low, more):
    assert low <= Numbers(seed).whole(low, low + more) <= low + more


# --- answers in any sensible unit ----------------------------------------------------------------------------


def test_a_length_is_taken_in_any_unit(variants):
    for variant in variants["depth-of-a-page"]:
        points = variant.reader.read(variant.right)
        picas, rest = divmod(points, PICA)
        for answer in (
            f"{picas:.0f}p{rest:g}",
            f"{points / POINTS_PER_INCH:.4f} in",
            f"{points / POINTS_PER_INCH * 25.4:.2f} mm",
            f"{points / PICA:.4f} picas",
        ):
            assert variant.check(answer).standing == "right", answer


def test_a_weight_is_taken_in_pounds_ounces_and_kilograms(variants):
    for variant in variants["weight-of-a-form"]:
        pounds = variant.reader.read(variant.right)
        for answer in (f"{pounds} lb", f"{pounds * 16:.1f} oz", f"{pounds * 0.45359237:.3f} kg"):
            assert variant.check(answer).standing == "right", answer


@pytest.mark.parametrize("answer", ["27", "much", "-3 pt", "1/0 in", "NaN pt", "9" * 400 + " pt", "<b>5 pt</b>"])
@pytest.mark.parametrize("name", ["read-the-gauge", "weight-of-a-form", "which-furniture", "which-piece-binds"])
def test_what_can_t_be_read_is_told_in_a_sentence_and_judged_as_nothing(variants, name, answer):
    outcome = variants[name][0].check(answer)
    if name == "which-furniture" and answer == "27":  # a bare number is picas there
        assert outcome.standing == "not yet"
    else:
        assert outcome.standing == "not attempted"
        assert outcome.words.endswith(".") and len(outcome.words.split()) > 5


@given(st.text(max_size=40))
def test_no_answer_breaks_a_question(breakwater, text):
    for name in ("read-the-gauge", "what-makes-it-square", "weight-of-a-form", "which-furniture", "scarce-cabinet"):
        assert QUESTIONS[name].variant(1, breakwater).check(text).words


def test_a_wrong_road_nobody_foresaw_gets_no_false_reason(variants):
    variant = variants["read-the-gauge"][0]
    outcome = variant.check("1 pt")
    assert outcome.standing == "not yet" and "1 pt" in outcome.words
    assert not any(misreading.sentence in outcome.words for misreading in variant.misreadings)


def test_a_question_that_a_shop_has_no_numbers_for_says_so(small_shop):
    with pytest.raises(ValueError, match=r"“How deep is a page\?” can't be made from this shop's file"):
        QUESTIONS["depth-of-a-page"].variant(1, small_shop)


def test_a_variant_whose_wrong_roads_meet_is_passed_over(breakwater):
    def make(numbers, _shop):
        right = numbers.whole(1, 2)
        road = Misreading("1 pt", "One.", "took one")
        return Variant("?", Length(0.1), f"{right} pt", "", ("", ""), "", (road,))

    question = Question("meeting", "Meeting", "none", 1, make)
    assert {question.variant(seed, breakwater).right for seed in range(20)} == {"2 pt"}


def test_readers_say_and_compare():
    assert Length(1).alike(10, 11) and not Length(1).alike(10, 11.1)
    assert Weight(0.05).alike(10, 9.5) and not Weight(0.05).alike(10, 9.4)
    with pytest.raises(ValueError, match="isn't offered here; choose one of left, right"):
        Choice(("left", "right")).read("up")


# --- lockups: right is what would hold -----------------------------------------------------------------------


def test_another_stack_that_fills_the_gap_is_right_too(variants):
    seen = 0
    for variant in variants["which-furniture"]:
        gap = variant.facts["gap"]
        whole = int(gap // PICA)
        # Reglets of a pica and of six points alone make up any gap; the cabinet has four or more of each length.
        if whole <= 4:
            other = " + ".join([*["1"] * whole, "6 pt"])
            assert variant.check(other).standing == "right", write_length(gap)
            seen += 1
        thickest = next((n for n in (10, 8) if 0 < whole - n <= 6 and whole - n not in (1, 7)), None)
        if thickest:
            other = f"6 pt + {whole - thickest} + {thickest}"
            outcome = variant.check(other)
            assert outcome.standing == "right", (gap, other, outcome)
            seen += 1
    assert seen > 5


def test_more_pieces_than_needed_is_right_with_a_remark(variants):
    for variant in variants["which-furniture"]:
        if variant.facts["gap"] == 8.5 * PICA:
            outcome = variant.check("2 + 2 + 4 + 6 pt")
            assert outcome.standing == "right" and "A good hand would look once more" in outcome.words
            break
    else:
        raise AssertionError("no gap of 8 1/2 picas among fifty")


@pytest.mark.parametrize("name", ["scarce-cabinet", "three-points-left"])
def test_a_lockup_is_right_if_the_judge_finds_no_fault_and_only_then(variants, name):
    for variant in variants[name]:
        reader = variant.reader
        assert isinstance(reader, OnTheStone)
        for answer in (variant.right, *(misreading.answer for misreading in variant.misreadings)):
            lockup = Lockup.from_dict(json.loads(answer))
            found = judge(lockup, reader.shop, target=reader.target, tolerance=reader.tolerance)
            faults = [finding for finding in found if finding.severity == "fault"]
            assert (variant.check(answer).standing == "right") == (not faults)


def test_a_lockup_that_nobody_foresaw_has_a_slip_of_its_own(variants):
    for variant in variants["scarce-cabinet"][:3]:
        bench = variant.start()
        assert variant.check(record(bench.lockup())).slip == "broke the rule “no gap from form to chase”"
        bench.lay_quoins("bottom")
        assert variant.check(record(bench.lockup())).slip == "laid quoins on a solid side"
        assert variant.check(variant.right).slip == ""


def test_a_lockup_lies_again_as_it_was_kept(variants):
    for name in ("scarce-cabinet", "three-points-left"):
        for variant in variants[name]:
            bench = variant.start()
            bench.finish(Lockup.from_dict(json.loads(variant.right)))
            assert variant.check(record(bench.lockup())).standing == "right"


def test_the_form_ends_three_points_further_left(variants):
    for variant in variants["three-points-left"]:
        before = variant.start().lockup().form
        after = Lockup.from_dict(json.loads(variant.right)).form
        assert (before.x - after.x, before.y - after.y) == pytest.approx((3, 0))


def test_the_piece_that_binds_is_the_one_the_judge_names(variants):
    for variant in variants["which-piece-binds"]:
        words = variant.picture("binding").words
        assert f"piece {variant.right}, nothing" in words
        assert words.count("nothing;") + words.count("nothing.") == 1


# --- the gauge -----------------------------------------------------------------------------------------------


def test_a_practice_form_follows_from_its_number():
    assert practice_form(7) == practice_form(7)
    forms = [practice_form(number) for number in range(1, 201)]
    assert len({(form.head, form.left) for form in forms}) > 150
    crooked = [form for form in forms if not form.square]
    assert 0.2 < len(crooked) / len(forms) < 0.45
    assert {form.out_of_square for form in crooked} == {2.0}


@given(st.integers(1, 9999), st.sampled_from(EDGES))
def test_what_the_gauge_shows_in_words_is_the_edge(number, edge):
    gauging = Gauging(number, edge)
    length = getattr(gauging.edges, edge)
    words = gauging.question.picture("gauge").words
    assert f"number {int(length // PICA)};" in words
    assert f"{edge} edge" in words
    points = round(length % PICA)
    assert (f"ends {points} of the twelve" in words) if points else ("right on that mark" in words)


def test_opposite_edges_read_right_are_compared():
    crooked = next(n for n in range(1, 100) if practice_form(n).left != practice_form(n).right)
    gauging = Gauging(crooked, "left")
    assert "Now lay the gauge along the right" in gauging.answer(f"{gauging.edges.left} pt").words
    gauging.edge = "right"
    assert "out of square by 2 pt" in gauging.answer(f"{gauging.edges.right} pt").words
    gauging.edge = "head"
    gauging.answer(f"{gauging.edges.head} pt")
    gauging.edge = "foot"
    assert "It agrees with the head." in gauging.answer(f"{gauging.edges.foot} pt").words
    assert set(gauging.read) == set(EDGES)
    assert gauging.answer("1 pt").standing == "not yet"
    gauging.begin(crooked + 1)
    assert gauging.read == {}


# --- an attempt ----------------------------------------------------------------------------------------------


@pytest.fixture
def sheet(tmp_path):
    return AnswerSheet.open(tmp_path)


def attempt(name, breakwater, sheet):
    return Attempt(QUESTIONS[name], breakwater, sheet)


@pytest.mark.parametrize("name", NAMES)
def test_an_answer_survives(name, breakwater, sheet, tmp_path):
    first = attempt(name, breakwater, sheet)
    assert (first.text, first.outcome.standing) == ("", "not attempted")
    first.text = first.variant.misreadings[0].answer
    first.check()
    again = attempt(name, breakwater, AnswerSheet.open(tmp_path))
    assert (again.text, again.outcome) == (first.text, first.outcome)
    again.text = again.variant.right
    again.check()
    assert attempt(name, breakwater, AnswerSheet.open(tmp_path)).outcome.standing == "right"


def test_a_verdict_is_stale_as_soon_as_the_answer_changes(breakwater, sheet):
    one = attempt("depth-of-a-page", breakwater, sheet)
    one.text = one.variant.right
    assert not one.stale
    one.check()
    assert not one.stale and one.words.startswith("Right")
    one.text = "1 pt"
    assert one.stale and one.words.startswith("Your answer has changed: press Check.")
    one.text = one.variant.right
    assert not one.stale


def test_hints_come_one_at_a_time_and_end(breakwater, sheet):
    one = attempt("depth-of-a-page", breakwater, sheet)
    for count in (1, 2, 2):
        one.hint()
        assert one.hints == one.variant.hints[:count]


def test_an_older_answer_is_shown_and_never_as_right(breakwater, sheet, tmp_path):
    one = attempt("depth-of-a-page", breakwater, sheet)
    one.text = one.variant.right
    one.check()
    stored = json.loads(sheet.path.read_text())
    for spoil in ({"lesson": one.question.version - 1}, {"task": "another task"}):
        kept = {**stored["answers"]["depth-of-a-page"], **spoil}
        sheet.path.write_text(json.dumps({**stored, "answers": {"depth-of-a-page": kept}}))
        older = attempt("depth-of-a-page", breakwater, AnswerSheet.open(tmp_path))
        assert older.text == one.text
        assert older.outcome.standing == "not attempted" and "read otherwise" in older.words
        older.check()
        assert older.outcome.standing == "right"


def test_what_the_file_claims_isn_t_believed(breakwater, sheet, tmp_path):
    one = attempt("depth-of-a-page", breakwater, sheet)
    one.text = "1 pt"
    one.check()
    forged = sheet.path.read_text().replace('"not yet"', '"right"')
    sheet.path.write_text(forged)
    assert attempt("depth-of-a-page", breakwater, AnswerSheet.open(tmp_path)).outcome.standing == "not yet"


def test_nothing_is_kept_for_nothing_answered(breakwater, sheet):
    one = attempt("depth-of-a-page", breakwater, sheet)
    one.check()
    assert sheet.answer("depth-of-a-page") is None


def test_nonsense_never_takes_the_place_of_an_answer(breakwater, sheet, tmp_path):
    one = attempt("depth-of-a-page", breakwater, sheet)
    one.text = one.variant.right
    one.check()
    one.text = "lots"
    one.check()
    assert one.words.startswith("“lots” can't be read")
    one.text = "lots more"
    assert one.words == "Press Check when your answer is complete."
    again = attempt("depth-of-a-page", breakwater, AnswerSheet.open(tmp_path))
    assert again.text == one.variant.right and again.outcome.standing == "right"


def test_a_piece_is_named_as_the_lessons_name_it(variants):
    for variant in variants["which-piece-binds"][:5]:
        for answer in (variant.right, f"piece {variant.right}", f"No. {variant.right}"):
            assert variant.check(answer).standing == "right"
    for variant in variants["which-furniture"][:5]:
        parts = [f"{part} × 20" for part in variant.right.split(" + ")]
        assert variant.check(" + ".join(parts)).standing == "right"


def test_quoins_on_the_solid_sides_are_told_so_first(variants):
    for variant in variants["scarce-cabinet"][:5]:
        bench = variant.start()
        bench.lay_quoins("bottom")
        words = variant.check(record(bench.lockup())).words
        assert "Quoins lie on the bottom. Bottom and left are to be solid." in words


# --- the lessons and their questions -------------------------------------------------------------------------


@pytest.mark.parametrize("lesson", sorted({question.lesson for question in QUESTIONS.values()}))
def test_a_lesson_asks_its_questions_once_each_and_states_its_version(lesson):
    notebook = nbformat.read(ROOT / "lessons" / f"{lesson}.ipynb", as_version=4)
    source = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "code")
    its = [question for question in QUESTIONS.values() if question.lesson == lesson]
    for question in its:
        assert source.count(f'QuestionPanel("{question.id}"') == 1
    assert source.count("QuestionPanel(") == len(its)
    assert {question.version for question in its} == {notebook.metadata["stonework"]["lesson"]}


# --- orders of tightening ------------------------------------------------------------------------------------


def test_an_order_is_right_if_it_keeps_the_form_square_and_nothing_loose(variants):
    for variant in variants["keep-it-square"][:10]:
        for written in ("1 2 3 4", "1234", "3, 4, 1, 2", "2 1 4 3"):
            assert variant.check(written).standing == "right", written
        assert "or once for a round" in variant.check("1 1 2 2 3 3 4 4").words
        assert "isn't an order of quoins" in variant.check("1 2 3 9").words
        two_home_first = variant.check("1 3 1 3 1 3 1 3 2 4 2 4 2 4 2 4")
        assert two_home_first.standing == "not yet"


def test_a_row_may_be_named_and_a_number_below_nothing_is_none(breakwater):
    variant = QUESTIONS["which-place"].variant(1, breakwater)
    assert variant.check(f"row {variant.right}").standing == "right"
    assert variant.check(f"minus {variant.right}").standing == "not attempted"
