"""A job carried through its stations: what is done is known, nothing is lost, and it opens where it was left."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.carrying import BY_HAND, STATIONS, Carrying, State
from stonework.choosing import choose_lockup
from stonework.form import Form
from stonework.jobs import Ticket, load_jobs
from stonework.lockup import Lockup
from stonework.placing import Sheet, place_by_custom
from stonework.records import open_lockup, save_lockup
from stonework.shop import Shop

LESSONS = Path(__file__).resolve().parent.parent / "lessons"
SCHOOL = Shop.load(LESSONS / "breakwater.shop.toml")
JOBS = load_jobs(LESSONS / "breakwater.jobs.toml", SCHOOL)
BLACK = "bookplate black"


def carried(folder, jobs=JOBS, shop=SCHOOL, job=BLACK):
    carrying = Carrying(jobs, shop, folder, "breakwater")
    carrying.choose(job)
    return carrying


def placed(ticket=JOBS[BLACK], shop=SCHOOL):
    chase = shop.chase(ticket.chase) if ticket.chase else shop.chases[0]
    place = place_by_custom(ticket.printed, ticket.sheet, ticket.margins, chase, shop.placing)
    return Lockup(place.chase, place.form, "placed", (), place.intent)


def locked_up(bare, shop=SCHOOL):
    form = Form(bare.form.width, bare.form.height)
    wish = bare.intent
    lockup = choose_lockup(form, bare.chase, shop, target=(wish.x, wish.y), tolerance=wish.tolerance)
    return replace(lockup, intent=wish)


BARE = placed()
WHOLE = locked_up(BARE)


def done(carrying):
    return [station for station in STATIONS if carrying.standing(station).done]


def test_station_by_station_a_job_comes_to_its_end(tmp_path):
    carrying = carried(tmp_path)
    assert done(carrying) == ["ticket"] and carrying.following == "measure"
    form = JOBS[BLACK].form
    carrying.measure((form.width, form.width, form.height, form.height))
    assert carrying.following == "place"
    carrying.take(BARE)
    assert done(carrying) == ["ticket", "measure", "place", "block"]
    carrying.take(WHOLE)
    assert carrying.following == "tighten"
    quoins = len(WHOLE.items) - len(WHOLE.pieces)
    rounds = int("".join(c for c in carrying.standing("tighten").words.split("about")[1] if c.isdigit())[:1])
    turns = tuple((n, 1) for _ in range(rounds) for n in range(quoins))
    carrying.turn(turns[:-1])
    assert carrying.following == "tighten"
    carrying.turn(turns)
    for station in BY_HAND:
        assert carrying.following == station
        carrying.tick(station)
    assert carrying.following is None and done(carrying) == list(STATIONS)


def test_a_form_out_of_square_or_of_another_size_isn_t_measured_yet(tmp_path):
    carrying, form = carried(tmp_path), JOBS[BLACK].form
    carrying.measure((form.width, form.width, form.height, form.height - 3))
    assert carrying.standing("measure") == (False, "The form is 3 pt out of square.")
    carrying.measure((form.width + 12, form.width + 12, form.height, form.height))
    assert "the ticket asks for 15 picas" in carrying.standing("measure").words


def test_two_forms_are_wanted_as_one_block_and_one_too_small_is_built_up(tmp_path):
    tide = carried(tmp_path, job="tide card")
    tide.take(placed(JOBS["tide card"]))
    assert tide.standing("block") == (False, "Its 2 forms aren't made into one block yet.")
    red = carried(tmp_path, job="bookplate red")
    red.take(placed(JOBS["bookplate red"]))
    assert red.standing("block") == (False, "The form is too small for any quoin of the shop: build it up.")


def test_another_lockup_is_to_be_tightened_and_lifted_again_and_undo_brings_the_first_back(tmp_path):
    carrying = carried(tmp_path)
    carrying.take(WHOLE)
    carrying.turn(((0, 1),))
    carrying.tick("lift")
    assert carrying.take(BARE) == "It is another lockup now: it is to be tightened and lifted again."
    assert carrying.state.turns == () and carrying.state.ticked == frozenset()
    assert carrying.undo()
    assert (carrying.state.lockup, carrying.state.turns, carrying.state.ticked) == (WHOLE, ((0, 1),), {"lift"})
    assert open_lockup(BLACK, tmp_path) == WHOLE


def test_it_opens_where_it_was_left(tmp_path):
    carrying = carried(tmp_path)
    carrying.take(WHOLE)
    carrying.turn(((1, 1), (0, 1), (1, -1)))
    carrying.tick("press")
    carrying.go("press")
    again = Carrying(JOBS, SCHOOL, tmp_path, "breakwater")
    assert (again.job, again.state, again.said) == (BLACK, carrying.state, "")


def test_what_another_panel_saves_is_taken_and_what_was_here_is_one_step_back(tmp_path):
    carrying = carried(tmp_path)
    carrying.take(WHOLE)
    save_lockup(BARE, BLACK, tmp_path)
    assert "saved elsewhere since" in carrying.look()
    assert carrying.state.lockup == BARE and carrying.look() == ""
    carrying.undo()
    assert carrying.state.lockup == WHOLE == open_lockup(BLACK, tmp_path)


def test_what_another_page_saved_meanwhile_is_kept_beside_what_is_laid_over_it(tmp_path):
    carrying, other = carried(tmp_path), replace(WHOLE, arrangement="by hand")
    carrying.take(BARE)
    save_lockup(other, BLACK, tmp_path)
    carrying.take(WHOLE)
    assert f"Another page saved “{BLACK}” meanwhile: that one is kept as {BLACK} 2.lockup.json." in carrying.trouble
    assert open_lockup(BLACK, tmp_path) == WHOLE and open_lockup(f"{BLACK} 2", tmp_path) == other
    carrying.undo()
    assert carrying.state.lockup == BARE and carrying.trouble == ""


def test_turns_of_another_lockup_are_not_taken_for_this_ones(tmp_path):
    carrying = carried(tmp_path)
    carrying.take(WHOLE)
    carrying.turn(((0, 1),))
    save_lockup(BARE, BLACK, tmp_path)
    again = Carrying(JOBS, SCHOOL, tmp_path, "breakwater")
    assert again.state.lockup == BARE and again.state.turns == ()


@pytest.mark.parametrize("text", ["", "{", "[]", '{"what": "stonework bench", "version": 99}', "\x00" * 20])
def test_a_damaged_bench_is_put_aside_and_the_lockups_stay(tmp_path, text):
    carried(tmp_path).take(WHOLE)
    (tmp_path / "breakwater.bench.json").write_text(text, encoding="utf-8")
    again = carried(tmp_path)
    assert "was put aside as breakwater.bench.unread.json" in again.said
    assert again.state.lockup == WHOLE
    assert (tmp_path / "breakwater.bench.unread.json").read_text(encoding="utf-8") == text


def test_what_can_t_be_kept_is_said(tmp_path):
    carrying = carried(tmp_path)
    (tmp_path / "breakwater.bench.json").unlink()
    (tmp_path / "breakwater.bench.json").mkdir()
    carrying.measure((1.0, 1.0, 1.0, 1.0))
    assert carrying.trouble.startswith("The bench can't be saved as breakwater.bench.json:")
    assert carrying.state.edges == (1.0, 1.0, 1.0, 1.0)


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 200) | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)


@given(record=st.dictionaries(st.sampled_from(["station", "edges", "turns", "ticked", "lockup"]), _JSON) | _JSON)
def test_any_record_of_a_bench_is_read_as_far_as_it_makes_sense(record):
    state = State.from_dict(record, WHOLE)
    assert state.lockup == WHOLE and state.station in STATIONS
    assert State.from_dict(json.loads(json.dumps(state.to_dict())), WHOLE) == state


_STEPS = st.one_of(
    st.tuples(st.just("take"), st.sampled_from([BARE, WHOLE])),
    st.tuples(st.just("measure"), st.tuples(*[st.sampled_from([100.0, 120.0])] * 4)),
    st.tuples(st.just("turn"), st.lists(st.tuples(st.integers(0, 2), st.sampled_from([1, -1])), max_size=3).map(tuple)),
    st.tuples(st.just("tick"), st.sampled_from(BY_HAND)),
    st.tuples(st.just("go"), st.sampled_from(STATIONS)),
    st.tuples(st.just("choose"), st.sampled_from(list(JOBS))),
    st.tuples(st.sampled_from(["undo", "redo"])),
)


@given(steps=st.lists(_STEPS, max_size=12))
def test_whatever_is_done_is_kept_and_can_be_undone_to_the_beginning(tmp_path_factory, steps):
    folder = tmp_path_factory.mktemp("bench")
    carrying = carried(folder)
    for name, *rest in steps:
        getattr(carrying, name)(*rest)
        again = Carrying(JOBS, SCHOOL, folder, "breakwater")
        assert (again.job, again.state, carrying.trouble) == (carrying.job, carrying.state, "")
    while carrying.undo():
        pass
    for job in JOBS:
        carrying.choose(job)
        assert replace(carrying.state, station="ticket") == State()
    assert not list(folder.glob("*.lockup.json"))


@pytest.mark.parametrize(
    "path", sorted((LESSONS.parent / "tests" / "shops").glob("*.toml")), ids=lambda path: path.stem
)
def test_a_job_is_carried_in_other_shops_too(path, tmp_path):
    shop = Shop.load(path)
    form, largest = Form(240, 168), max(shop.chases, key=lambda chase: chase.width * chase.height)
    ticket = Ticket("notice", "", (), form, Sheet(300, 228), 30, 30, largest.name)
    carrying = Carrying({"notice": ticket}, shop, tmp_path)
    carrying.measure((240, 240, 168, 168))
    bare = placed(ticket, shop)
    carrying.take(bare)
    carrying.take(locked_up(bare, shop))
    assert carrying.following == "tighten", [carrying.standing(station) for station in STATIONS]
    assert Carrying({"notice": ticket}, shop, tmp_path).state == carrying.state
