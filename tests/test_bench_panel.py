"""The bench without a browser: a job is carried by what stands on its controls, and what is done is said."""

from __future__ import annotations

import html
import re
import shutil
from pathlib import Path

import pytest
from stonework.carrying import STATIONS
from stonework.panels import BenchPanel
from stonework.people import here
from stonework.records import open_lockup
from stonework.rules import judge, sound
from stonework.shop import Shop
from test_panels import control, page, press

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture
def beside(tmp_path, monkeypatch):
    for name in ("breakwater.shop.toml", "breakwater.jobs.toml", "your-shop.toml"):
        shutil.copy(ROOT / "lessons" / name, tmp_path / name)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def line(bench):
    """What the bench says in its own line."""
    return html.unescape(re.sub("<[^>]+>", " ", bench._line.value))


def go(bench, station):
    """Press the button of a station, whatever is ticked on it."""
    n = STATIONS.index(station) + 1
    control(bench, next(d for d in (f"{n} {station}", f"{n} {station} ✓") if _there(bench, d))).click()


def _there(bench, description):
    return any(b.description == description for b in bench._stations.values())


def carry_to_wood(bench):
    go(bench, "measure")
    press(bench, "Note these edges")
    go(bench, "place")
    press(bench, "Lay it on the bench")
    go(bench, "block")
    press(bench, "Lay it on the bench")
    press(bench, "On to the next")


def test_a_job_goes_its_whole_way_by_what_stands_on_the_buttons(beside):
    bench = BenchPanel("breakwater.shop.toml")
    assert "Next: measure." in line(bench) and repr(bench) == "<bench: tide card, at ticket; 1 of 10 done>"
    carry_to_wood(bench)
    assert repr(bench) == "<bench: tide card, at wood; 4 of 10 done>"
    press(bench, "Lay it on the bench")
    shop = Shop.load("breakwater.shop.toml")
    lockup = open_lockup("tide card")
    assert sound(judge(lockup, shop)) and len(lockup.block.forms) == 2
    press(bench, "On to the next")
    assert bench.carrying.state.station == "tighten"
    press(bench, "Play to the end")
    for words in ("It lifts, and nothing drops", "All is printed", "The stone is empty"):
        press(bench, "On to the next")
        press(bench, words)
    assert "This job is done, and all is back." in line(bench)
    assert all(made.description.endswith("✓") for made in bench._stations.values())


def test_no_station_asks_for_names_or_files_of_its_own(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    press(bench, "Lay it on the bench")
    for station in STATIONS:
        go(bench, station)
        shown = [
            w for w in _shown(bench) if getattr(w, "description", "") in ("Open it", "Save it", "Name of the lockup")
        ]
        assert shown == [], station


def _shown(widget):
    if getattr(widget.layout, "display", None) == "none":
        return
    yield widget
    for child in getattr(widget, "children", ()):
        yield from _shown(child)


def test_what_is_laid_by_hand_is_on_the_bench_at_once_and_undone_from_another_station(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    control(bench, "Wood").value = "lay it by hand"
    hand = bench._stands["wood"]._hand
    before = bench.carrying.state.lockup
    control(hand, "Side").value = "bottom"
    press(hand, "Lay this piece")
    assert len(open_lockup("tide card").items) == 1
    go(bench, "put away")
    press(bench, "Undo the last change")
    assert bench.carrying.state.lockup == before and bench.carrying.state.station == "wood"
    assert hand.lockup.items == ()
    press(bench, "Do it again")
    assert len(bench.carrying.state.lockup.items) == 1


def test_a_turn_of_a_quoin_is_kept_and_stands_there_on_return(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    press(bench, "Lay it on the bench")
    go(bench, "tighten")
    press(bench, "Tighten 1")
    press(bench, "Tighten 2")
    again = BenchPanel("breakwater.shop.toml")
    assert again.carrying.state.station == "tighten" and again.carrying.state.turns == ((0, 1), (1, 1))
    assert repr(again._stands["tighten"].parts[0]).startswith("<tightening: turns 1-1-0-0")


def test_where_nothing_can_be_laid_it_says_why_and_keeps_all(beside):
    bench = BenchPanel("breakwater.shop.toml")
    go(bench, "wood")
    press(bench, "Lay it on the bench")
    assert "place the form first" in line(bench) and bench.carrying.state.lockup is None
    go(bench, "place")
    control(bench, "Form width").value = "90 picas"
    press(bench, "Lay it on the bench")
    assert "the panel below says why" in line(bench) and bench.carrying.state.lockup is None


def test_a_job_is_added_from_the_ticket_and_carried(beside):
    bench = BenchPanel("breakwater.shop.toml")
    control(bench, "Name of the job").value = "raffle ticket"
    press(bench, "Add this job")
    assert bench.carrying.job == "raffle ticket"
    assert "raffle ticket" in (beside / "breakwater.jobs.toml").read_text(encoding="utf-8")
    go(bench, "place")
    assert control(bench, "Sheet width").value == "36 picas"


def test_a_job_that_can_t_be_added_is_told_beside_its_boxes(beside):
    bench = BenchPanel("breakwater.shop.toml")
    control(bench, "Name of the job").value = "tide card"
    press(bench, "Add this job")
    assert "is used twice" in html.unescape(page(bench)) and bench.carrying.job == "tide card"


def test_a_shop_without_jobs_offers_to_write_the_first(beside):
    bench = BenchPanel("breakwater.shop.toml")
    control(bench, "Shop").value = "your-shop.toml"
    assert "has no jobs yet" in line(bench) and "no jobs" in repr(bench)
    control(bench, "Name of the job").value = "card"
    press(bench, "Add this job")
    assert repr(bench).startswith("<bench: card, at ticket")
    press(bench, "On to the next")
    assert (beside / "your-shop.jobs.toml").exists() and (here().folder / "your-shop.bench.json").exists()


def test_a_broken_jobs_file_is_told_with_its_line_and_left_alone(beside):
    (beside / "breakwater.jobs.toml").write_text('[[job]]\nname = "x"\nform = 3\n', encoding="utf-8")
    bench = BenchPanel("breakwater.shop.toml")
    assert "breakwater.jobs.toml" in line(bench) and "line 3" in line(bench)
    assert (beside / "breakwater.jobs.toml").read_text(encoding="utf-8").startswith("[[job]]")


@pytest.mark.parametrize("path", sorted((ROOT / "tests" / "shops").glob("*.toml")), ids=lambda path: path.stem)
def test_the_bench_carries_a_job_in_other_shops(path, beside):
    shutil.copy(path, beside / path.name)
    bench = BenchPanel(path.name)
    control(bench, "Name of the job").value = "notice"
    press(bench, "Add this job")
    go(bench, "measure")
    press(bench, "Note these edges")
    go(bench, "place")
    press(bench, "Lay it on the bench")
    go(bench, "wood")
    press(bench, "Lay it on the bench")
    lockup, shop = open_lockup("notice"), Shop.load(path)
    assert sound(judge(lockup, shop)), line(bench)
    go(bench, "tighten")
    press(bench, "Play to the end")
    assert bench.carrying.following == "lift", line(bench)


def test_two_views_of_one_bench_follow_each_other(beside):
    bench = BenchPanel("breakwater.shop.toml")
    ticket, place, wood = (bench.at(station) for station in ("ticket", "place", "wood"))
    assert repr(wood) == "<bench at wood: tide card; not done>"
    press(place, "Lay it on the bench")
    assert bench.carrying.state.lockup == place.carrying.state.lockup is not None
    assert "place the form first" not in line(wood)
    press(wood, "Lay it on the bench")
    assert "done" in repr(wood) and "Next: measure." in line(place)
    press(place, "Undo the last change")
    assert wood.carrying.state.lockup.items == ()
    control(ticket, "Job").value = "bookplate black"
    assert "“bookplate black”" in line(wood) and control(place, "Form width").value == "15 picas"


def test_a_bench_has_no_other_stations(beside):
    with pytest.raises(ValueError, match=r"isn't a station; the bench has ticket, measure"):
        BenchPanel("breakwater.shop.toml").at("cellar")


def test_the_same_place_laid_again_keeps_the_wood_and_another_says_what_it_takes_off(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    press(bench, "Lay it on the bench")
    whole = bench.carrying.state.lockup
    for station in ("place", "block"):
        go(bench, station)
        if station == "block":
            press(bench, "Lay it on the bench")
            assert "lies there already" in line(bench) and bench.carrying.state.lockup == whole
    go(bench, "block")
    control(bench, "Gutter").value = "5 picas"
    press(bench, "Lay it on the bench")
    assert "is off the bench" in line(bench) and "the ticket asks for 42 picas" in line(bench)
    press(bench, "Undo the last change")
    assert bench.carrying.state.lockup == whole


def test_nothing_is_lifted_or_printed_that_isn_t_locked_up(beside):
    bench = BenchPanel("breakwater.shop.toml")
    for station, words in (("lift", "It lifts, and nothing drops"), ("press", "All is printed")):
        go(bench, station)
        assert "Nothing is locked up yet." in line(bench)
        press(bench, words)
        assert bench.carrying.state.ticked == frozenset() and "Nothing is locked up yet" in line(bench)


def test_quoins_turned_unevenly_are_not_done(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    press(bench, "Lay it on the bench")
    go(bench, "tighten")
    press(bench, "Play to the end")
    assert bench.carrying.standing("tighten").done
    for _ in range(4):
        press(bench, "Tighten 1")
    assert not bench.carrying.standing("tighten").done and "sits cocked. Even them out." in line(bench)
    assert "stonework-refused" in bench._line.value


def test_a_name_under_which_a_lockup_lies_already_is_refused_in_any_shop(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    control(bench, "Shop").value = "your-shop.toml"
    control(bench, "Name of the job").value = "tide card"
    press(bench, "Add this job")
    assert "A lockup is saved as “tide card” already" in html.unescape(page(bench))
    assert not (beside / "your-shop.jobs.toml").exists()


def test_what_the_bench_prints_bears_the_job_s_name(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    press(bench, "Lay it on the bench")
    assert open_lockup("tide card").job.name == "tide card"
    go(bench, "wood")
    assert bench._stands["wood"]._choose.lockup.job.name == "tide card"  # which the sheet for the stone is drawn from
    control(bench, "Wood").value = "lay it by hand"
    press(bench._stands["wood"]._hand, "Clear the stone")
    assert open_lockup("tide card").job.name == "tide card"


def test_a_view_is_made_anew_only_for_another_lockup(beside):
    bench = BenchPanel("breakwater.shop.toml")
    carry_to_wood(bench)
    press(bench, "Lay it on the bench")
    away, tighten = bench.at("put away"), bench.at("tighten")
    before = [view._body.children for view in (away, tighten)]
    press(tighten, "Tighten 1")
    assert [view._body.children for view in (away, tighten)] == before
    press(bench, "Undo the last change")  # the turn
    assert away._body.children == before[0] and tighten._body.children != before[1]
