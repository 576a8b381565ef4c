"""A lockup being tightened, a form being lifted: what is done, undone, shown and said, without a browser."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stonework.choosing import choose_lockup
from stonework.drawing.pressure import PressureView, numbered_quoins, state_words
from stonework.drawing.skew_plot import SkewPlot
from stonework.exercises.lifting import Condition, Lifting, lifted_words
from stonework.exercises.turning import OWN, Turning
from stonework.form import Form
from stonework.panels import (
    CardPanel,
    ChoosePanel,
    HandPanel,
    LiftPanel,
    ThrustPanel,
    TighteningPanel,
    TruePointPanel,
    WedgePanel,
)
from stonework.panels.common import REFUSED
from stonework.records import save_lockup
from stonework.rounds import RISES
from stonework.shop import LAST_NOTCH, Body, Chase
from stonework.spacing import make_width
from stonework.tightening import BEST, ROTATION, SMALL_TURN, SNUG, WAYS
from stonework.units import PICA, read_length
from test_panels import control, page, press, said


@pytest.fixture(scope="module")
def lockup(breakwater):
    return choose_lockup(Form(28 * PICA, 34 * PICA), breakwater.chase("10 × 15"), breakwater)


@pytest.fixture
def turning(lockup, breakwater):
    return Turning(lockup, breakwater)


# --- turning -------------------------------------------------------------------------------------------------


def test_finger_tight_is_square_and_holds_everywhere(turning):
    assert turning.state.skew == pytest.approx(0, abs=1e-9) and not turning.state.loose
    assert turning.worst == 0 and not turning.home


def test_one_quoin_home_loosens_its_neighbour(turning):
    # The sign and the neighbour's loss are textbook statics; bolts do the same (see tests/test_tightening.py).
    for _ in range(turning.rounds.wanted):
        assert turning.turn(0)
    assert turning.state.loose_quoins == (1,)
    assert turning.worst == abs(turning.state.skew) > 0.3


def test_no_quoin_is_turned_nearer_than_a_point_to_its_last_notch(turning, lockup, breakwater):
    quoin = breakwater.quoin("medium wedge")
    for n, item in enumerate(numbered_quoins(lockup)):
        while turning.turn(n):
            pass
        opened = item.thickness - quoin.closed + SNUG + turning.turned[n] * SMALL_TURN
        assert quoin.travel - LAST_NOTCH - SMALL_TURN < opened <= quoin.travel - LAST_NOTCH


def test_a_quoin_can_t_be_loosened_past_finger_tight(turning):
    assert not turning.turn(2, -1)
    assert turning.turn(2) and turning.turn(2, -1) and turning.turned == [0, 0, 0, 0]
    assert turning.done == [(2, 1), (2, -1)]


@given(st.lists(st.tuples(st.integers(0, 3), st.sampled_from([1, -1])), max_size=12))
def test_every_step_can_be_undone(lockup, breakwater, steps):
    turning = Turning(lockup, breakwater)
    before = []
    for quoin, by in steps:
        before.append(list(turning.turned))
        if not turning.turn(quoin, by):
            before.pop()
    while before:
        assert turning.undo() and turning.turned == before.pop()
    assert not turning.undo() and turning.skews == []


@pytest.mark.parametrize("name", (*WAYS, BEST))
def test_an_order_is_played_to_its_end_and_no_further(turning, name):
    order = turning.order(name)
    played = 0
    while turning.play(order):
        played += 1
    assert played == len(order) == 4 * turning.rounds.wanted and turning.home
    assert turning.skews == pytest.approx(turning.walks[name].skews)
    assert turning.state.skew == pytest.approx(0, abs=1e-6)


def test_playing_begins_again_after_turns_of_one_s_own(turning):
    turning.turn(3)
    turning.turn(3, -1)
    order = turning.order(ROTATION)
    assert turning.play(order) and turning.done == [(order[0], 1)]
    assert turning.order(OWN) == (order[0],)


def test_rotation_is_better_than_each_home_in_turn(turning):
    worst = {name: walk.worst for name, walk in turning.walks.items()}
    assert worst["best by the model"] <= worst[ROTATION] < worst["half passes"]
    assert worst["half passes"] < worst["each home in turn"] < worst["diagonal in turn"]


# --- the pictures --------------------------------------------------------------------------------------------


def test_the_words_say_what_the_picture_marks(turning):
    view = PressureView("test")
    for _ in range(turning.rounds.wanted):
        turning.turn(0)
    view.draw(turning.lockup, turning.state, turning.names)
    assert view.words.endswith(state_words(turning.state, turning.names))
    assert "quoins 1, top, left one; 2, top, right one" in view.words
    assert "Loose: top, right one." in view.words and "anticlockwise" in view.words
    assert "The left has lifted off its wood toward the bottom." in view.words
    assert "2 loose" in view.svg()


def test_a_form_that_rises_is_marked_and_said(turning):
    view = PressureView("test")
    view.draw(turning.lockup, turning.state, turning.names, turning.rise)
    assert not turning.rises and "rises" not in view.words and "rises" not in view.svg()
    while not turning.rises:
        assert all(turning.turn(n) for n in range(4))
    view.draw(turning.lockup, turning.state, turning.names, turning.rise)
    assert turning.rise >= RISES and "Its middle rises off the stone" in view.words and "rises 0.3 pt" in view.svg()


def test_quoins_are_numbered_as_the_model_counts_them(turning):
    items = numbered_quoins(turning.lockup)
    for item, spring in zip(items, turning.tightening.form.quoins, strict=True):
        assert item.side == spring.side
        form = turning.lockup.form
        middle = item.x + item.width / 2 - form.x if item.side == "top" else item.y + item.height / 2 - form.y
        length = form.width if item.side == "top" else form.height
        assert middle - length / 2 == pytest.approx(spring.at)


def test_the_plot_says_the_worst_of_each_order():
    plot = SkewPlot("test")
    plot.draw({"one": [0.1, -0.4, 0.0], "two": []})
    assert "one: at worst 0.40 points cocked, after turn 2 of 3, and 0.00 at the end." in plot.words
    assert "two: no turn yet." in plot.words
    plot.draw({})
    assert plot.words == "" and plot.svg().count("<svg") == 1


# --- the panels ----------------------------------------------------------------------------------------------


def test_quoins_are_turned_and_turned_back(breakwater):
    panel = TighteningPanel(breakwater)
    assert repr(panel) == "<tightening: turns 0-0-0-0; The form sits square>"
    for _ in range(5):
        press(panel, "Tighten 1")
    assert "points cocked" in said(panel) and "Loose: top, right one" in page(panel)
    for _ in range(20):
        press(panel, "Tighten 1")
    assert "a point before its last notch, and gets no more" in said(panel)
    press(panel, "Loosen 2")
    assert "looser, it would fall out" in said(panel)
    most = int(repr(panel).split()[2].split("-")[0])
    press(panel, "Undo")
    assert repr(panel).startswith(f"<tightening: turns {most - 1}-0-0-0")
    press(panel, "Begin again")
    assert repr(panel).startswith("<tightening: turns 0-0-0-0")
    press(panel, "Undo")
    assert "nothing to take back" in said(panel)


def test_an_order_is_played_and_two_are_compared(breakwater):
    panel = TighteningPanel(breakwater)
    control(panel, "Order to play").value = "diagonal in turn"
    press(panel, "Play the next turn")
    assert said(panel).startswith("Turn 1, diagonal in turn: quoin")
    press(panel, "Play to the end")
    assert repr(panel).startswith("<tightening: turns 5-5-5-5")
    assert "it's time to try the lift" in said(panel)
    press(panel, "Play the next turn")
    assert "played to its end" in said(panel)
    control(panel, "Plot").value = "half passes"
    control(panel, "against").value = "best by the model"
    assert "half passes: at worst" in page(panel) and "best by the model: at worst" in page(panel)
    assert "nan" not in page(panel).lower().replace("nance", "")


def test_no_push_is_shown_as_a_limit_or_finer_than_it_is_known(breakwater):
    panel = TighteningPanel(breakwater)
    press(panel, "Tighten 3")
    pushes = re.findall(r"<td>([\d.]+) N</td>", page(panel))
    assert len(pushes) == 4 and all(float(push) == float(f"{float(push):.2g}") for push in pushes)
    assert "good to a factor of two or three" in page(panel)
    assert "safe" not in page(panel) and "limit" not in page(panel)


def test_a_form_that_rises_is_never_met_with_a_contented_status(breakwater):
    panel = TighteningPanel(breakwater)
    for n in (1, 2, 3, 4) * 9:
        press(panel, f"Tighten {n}")
    assert "The form sits square. But its middle rises off the stone" in said(panel)
    assert REFUSED in panel._status.value


def test_the_card_says_a_round_and_when_to_stop(breakwater):
    panel = CardPanel(breakwater, "28 picas", "34 picas", "10 × 15")
    assert repr(panel) == "<tightening card: 4 quoins, about 5 rounds, room for 12>"
    assert "A round: top, left one; top, right one; right, lower one; right, upper one." in page(panel)
    assert "medium wedge, a nudge, about an eighth of a quarter turn" in page(panel)
    assert "never more than 12 in all" in page(panel)
    assert "trained instructor come before this card" in page(panel)


@pytest.mark.parametrize(
    ("box", "typed", "words"),
    [
        ("Room for it, fingers only", "1 pica", "it doesn't go in"),
        ("Room for it, fingers only", "4 picas", "its travel ends at 1 pica"),
        ("Room for it, fingers only", "wide", "can't be read as a length"),
        ("A quarter turn opens it by", "-1 pt", "less than nothing"),
        ("Room for it, fingers only", "32 pt", "too little of its travel is left for tightening"),
        ("Room for it, fingers only", "2 picas", "as good as shut"),
        ("A quarter turn opens it by", "0 pt", "opens nothing"),
    ],
)
def test_a_quoin_in_the_wrong_room_is_told_so(breakwater, box, typed, words):
    panel = WedgePanel(breakwater)
    assert "Good" in said(panel)
    control(panel, box).value = typed
    assert words in said(panel)


def test_turns_use_up_the_travel(breakwater):
    panel = WedgePanel(breakwater)
    control(panel, "Small turns").value = "10"  # into the reserve, which is what it's for
    assert said(panel).startswith("Open 8 pt. Tightened, with 6 small turns left")
    control(panel, "Small turns").value = "16"  # a point before the last notch
    assert "It gets no more turns" in said(panel) and REFUSED in panel._status.value
    control(panel, "Small turns").value = "19"
    assert "its travel ends at 1 pica" in said(panel)


def test_bare_furniture_is_bruised_by_a_quoin_that_bears_on_reglet_only(breakwater):
    panel = WedgePanel(breakwater)
    control(panel, "Between").value = "bare furniture"
    assert "bears on bare furniture" in said(panel)
    control(panel, "Quoin").value = "long one-piece"
    assert control(panel, "Room for it, fingers only").value == "1 pica 10 pt"
    assert "bare furniture" not in said(panel) and "Good" in said(panel)
    assert "before the end of its travel is near" in said(panel) and control(panel, "Taper, 1 in").disabled


def test_a_measured_quarter_turn_is_told_where_to_go(breakwater):
    panel = WedgePanel(breakwater)
    control(panel, "A quarter turn opens it by").value = "3 pt"
    assert "a nudge, about a sixth of a quarter turn" in page(panel)
    assert "turn = &quot;3 pt&quot;" in page(panel)


# --- lifting -------------------------------------------------------------------------------------------------


def follow(lifting: Lifting, words: str) -> None:
    """Do what one step of the advice says, knowing nothing of the form but these words."""
    if words == "Slacken all quoins.":
        lifting.slacken()
    elif "a stick that binds" in words:
        lifting.free_the_wood()
    elif below := re.search(r"below line (\d+)", words):
        lifting.cut_the_lead(int(below[1]) - 1)
    elif short := re.match(r"Line (\d+) is (?:still )?([^.]+(?:\.\d+)? pt) short", words):
        for width in make_width(read_length(short[2]), lifting.pieces):
            assert lifting.put_in(int(short[1]) - 1, width).startswith("Put ")
    elif full := re.match(r"Line (\d+) is too full .* take (.+) out", words):
        assert lifting.take_out(int(full[1]) - 1, read_length(full[2])).startswith("Took ")
    elif words.startswith("Plane lightly, tighten again"):
        lifting.tighten()
    else:
        assert "It rocks" in words or "composing stick" in words  # these two are no step of their own


@pytest.mark.parametrize("number", range(1, 41))
def test_following_the_advice_mends_until_it_lifts(breakwater, number):
    lifting = Lifting(number, breakwater)
    assert not lifting.lift().holds
    for _ in range(12):
        if lifting.lift().holds:
            break
        for words in lifting.advice():
            follow(lifting, words)
    assert lifting.lift().holds and lifting.advice() == ["Nothing drops: it is ready."]
    while lifting.undo():
        pass
    assert lifting.condition == Lifting(number, breakwater).condition


def test_all_kinds_of_fault_occur(breakwater):
    forms = [Lifting(number, breakwater).condition for number in range(1, 41)]
    assert any(form.bound for form in forms) and any(form.sprung for form in forms)
    assert any(form.long_lead is not None for form in forms)
    assert all(any(form.short) for form in forms)
    first = forms[:6]  # as the lesson promises
    assert any(form.bound for form in first) and any(form.sprung for form in first)
    assert any(form.long_lead is not None for form in first)
    assert not any(one and other for form in forms for one, other in pairwise(form.short))


def test_a_line_too_full_isn_t_mended(breakwater):
    lifting = Lifting(3, breakwater)
    lifting.condition = Condition((0.0,) * lifting.lines)
    assert lifting.lift().holds
    lifting.slacken()
    lifting.put_in(4, 0.5)
    lifting.tighten()
    assert lifting.lift().crowded == (4,) and not lifting.lifted.holds
    assert "Line 5 is too full" in lifted_words(lifting.lifted, lifting.lines)
    for words in lifting.advice():
        follow(lifting, words)
    assert lifting.lift().holds


def test_the_shortest_lines_are_the_first_to_drop(breakwater):
    lifting = Lifting(3, breakwater)
    short = [0.0] * lifting.lines
    short[:6] = 0.0, 0.5, 1.0, 2.0, 3.0, 4.0
    lifting.condition = Condition(tuple(short))
    dropped = lifting.lift().dropped
    held = [short[n] for n in range(lifting.lines) if n not in dropped]
    assert dropped and min(short[line] for line in dropped) > max(held)


def test_no_more_comes_out_of_a_line_than_is_in_it(breakwater):
    lifting = Lifting(3, breakwater)
    lifting.slacken()
    before = lifting.condition
    for _ in range(20):
        words = lifting.take_out(0, 5.0)
    assert "its words would touch" in words
    assert lifting.condition.short[0] - before.short[0] < 4 * lifting.spaces[0]


def test_a_right_guess_at_nothing_changes_nothing(breakwater):
    lifting = Lifting(4, breakwater)
    lifting.slacken()
    before = lifting.condition
    for words in (lifting.cut_the_lead(0), lifting.free_the_wood(), lifting.slacken()):
        assert words and lifting.condition == before


def test_nothing_is_mended_while_it_is_locked_and_nothing_lifted_while_it_is_slack(breakwater):
    # A. A. Stewart, Typesetting, 1919, pp. 38–40, 63: the composing stick is the place to justify; on the stone it is
    # done with the quoins slack (common practice).
    panel = LiftPanel(breakwater, number=4)
    press(panel, "Prop it and press")
    for what in ("put a piece into the line", "take a piece out of the line", "look for a stick that binds"):
        control(panel, "What to do").value = what
        press(panel, "Do it")
        assert said(panel).startswith("Slacken all quoins first: ")
    control(panel, "What to do").value = "slacken all quoins"
    press(panel, "Do it")
    press(panel, "Prop it and press")
    assert "tighten it again before you lift" in said(panel) and "All quoins are slack" in repr(panel)
    press(panel, "What would mend it?")
    assert "Line 3 is 2 pt short." in page(panel) and "tighten again" in page(panel)
    assert "At the last lift your fingers found" in page(panel) and "a piece of 2 pt slips" in page(panel)


def test_what_the_lift_showed_is_kept_in_mind_while_it_is_mended(breakwater):
    lifting = Lifting(4, breakwater)
    lifting.slacken()
    assert lifting.advice()[0].startswith("It is slack: plane lightly") and lifting.felt() == []
    lifting.undo()
    assert lifting.advice()[0].startswith("Lift it first")
    lifting.lift()
    felt = lifting.felt()
    lifting.slacken()
    assert lifting.felt() == felt and any("Line 3 is 2 pt short" in words for words in lifting.advice())
    lifting.put_in(2, 1.0)
    assert "Line 3 is still 1 pt short." in lifting.advice()
    lifting.put_in(2, 2.0)
    assert any("Line 3 is too full" in words and "take 1 pt out" in words for words in lifting.advice())
    lifting.take_out(2, 1.0)
    assert lifting.advice() == ["Plane lightly, tighten again, and lift again."]
    lifting.tighten()
    assert lifting.felt() == [] and lifting.advice()[0].startswith("Lift it first") and lifting.lift().holds


def test_the_lift_panel_mends_a_form(breakwater):
    panel = LiftPanel(breakwater, number=4)
    assert "Not lifted yet" in repr(panel)
    press(panel, "What would mend it?")
    assert "Lift it first" in page(panel)
    press(panel, "Prop it and press")
    assert said(panel) == "Line 3 drops." and "a piece of 2 pt slips; 2.5 pt doesn" in page(panel)
    press(panel, "What would mend it?")
    assert "Line 3 is 2 pt short." in page(panel) and "again in the composing stick" in page(panel)
    press(panel, "Do it")
    assert said(panel).startswith("All quoins are slack")
    control(panel, "What to do").value = "put a piece into the line"
    control(panel, "Line").value = "3"
    control(panel, "Piece").value = 2.0
    press(panel, "Do it")
    assert said(panel) == "Put 2 pt into line 3."
    control(panel, "What to do").value = "plane lightly, and tighten again"
    press(panel, "Do it")
    assert said(panel) == "Planed lightly, and tightened again in small turns. Lift again."
    press(panel, "Prop it and press")
    assert "lifts as one piece" in said(panel) and "stonework-right" in page(panel)
    press(panel, "Undo")
    press(panel, "Undo")
    assert "nothing to take back" in said(panel) or "Taken back" in said(panel)
    press(panel, "Another form")
    assert control(panel, "Form number").value == "5"


def test_lines_and_pieces_are_asked_for_only_where_they_count(breakwater):
    panel = LiftPanel(breakwater)
    control(panel, "What to do").value = "look for a stick that binds"
    assert control(panel, "Line").disabled and control(panel, "Piece").disabled
    control(panel, "What to do").value = "look at the lead below the line"
    assert not control(panel, "Line").disabled and control(panel, "Piece").disabled


def test_what_was_lifted_is_said_in_words(breakwater):
    lifting = Lifting(4, breakwater)
    assert lifted_words(None, 9).startswith("Not lifted yet")
    assert lifted_words(lifting.lift(), lifting.lines) == "Line 3 drops."
    assert lifting.lifted.dropped == (2,) and not lifting.lifted.crowded
    bound = Lifting(2, breakwater)
    assert lifted_words(bound.lift(), bound.lines) == "Every line drops, though the key felt tight."
    assert bound.felt() == ["Every line slides under your finger: nothing presses on any of them."]


# --- what else the push does ---------------------------------------------------------------------------------


def test_the_fold_says_what_friction_rise_and_bow_come_to(breakwater, turning):
    while turning.play(turning.order(ROTATION)):
        pass
    assert turning.held > 10 and 0 < turning.rise < 1 and 0 < turning.bow < 3
    panel = TighteningPanel(breakwater)
    press(panel, "Play to the end")
    assert f"its rails would bow about {turning.bow:.1f} points" in page(panel)
    assert "It says nothing of what a chase bears." in page(panel)


def test_a_lockup_that_is_only_finger_tight_rises_and_bows_less(turning):
    rise, bow, held = turning.rise, turning.bow, turning.held
    turning.turn(0)
    assert turning.rise > rise and turning.bow > bow and turning.held > held


def test_a_coarser_taper_gives_less_and_at_last_doesn_t_hold(breakwater):
    panel = WedgePanel(breakwater)
    assert "It holds by itself" in page(panel) and "without friction it would be 10" in page(panel)
    control(panel, "Taper, 1 in").value = "4"
    assert "without friction it would be 4" in page(panel)


def test_low_furniture_lets_the_form_spring(breakwater):
    panel = ThrustPanel()
    assert said(panel) == "The push keeps within the middle third."
    control(panel, "Height of the furniture").value = "0.6 in"
    assert "tighten less, and try the lift" in said(panel) and REFUSED not in panel._status.value
    assert "such a form rises sooner" in page(panel) and "The trial lift decides." in page(panel)
    for typed in ("1 in", "2 pt", "high", "-1 in"):
        control(panel, "Height of the furniture").value = typed
        assert len(said(panel).split()) > 6 and "The picture still shows" in page(panel)


# --- another shop's file -------------------------------------------------------------------------------------


def test_a_shop_without_the_lesson_s_chases_gets_its_own_nearest_in_size(breakwater):
    own = replace(breakwater, chases=(Chase("quad", 1300.0, 1000.0), Chase("job", 700.0, 500.0)))
    assert repr(ChoosePanel(own, chase="8 × 12")).startswith("<choose: form 27 picas × 17 picas in the job chase;")
    assert "in the job chase" in repr(HandPanel(own, chase="5 × 8"))
    assert "in the quad chase" in repr(HandPanel(own, chase="14 × 20"))
    assert "in the quad chase" in repr(HandPanel(own, chase="the first of all"))
    assert "quad" in repr(TruePointPanel(own, chase="10 × 15"))
    assert repr(TighteningPanel(own)).startswith("<tightening: turns 0-0-0-0")
    assert "4 quoins" in repr(CardPanel(own, "24 picas", "30 picas", "10 × 15"))


def test_a_form_that_the_shop_can_t_lock_up_is_told_so(small_shop, breakwater):
    tiny = replace(breakwater, chases=small_shop.chases)
    panel = TighteningPanel(tiny)
    assert "This shop has no lockup to tighten for a form 28 picas wide" in said(panel)
    assert repr(panel) == "<tightening: no lockup>"
    card = CardPanel(tiny, "24 picas", "30 picas", "10 × 15")
    assert "This shop has no lockup" in page(card) and repr(card) == "<tightening card: no lockup>"


def test_a_shop_whose_type_can_t_fill_a_line_is_told_so(breakwater):
    coarse = replace(breakwater, bodies=(Body(36.0, (12.0, 36.0)),), thins=(6.0,))
    panel = LiftPanel(coarse, number=4)
    press(panel, "Prop it and press")
    press(panel, "What would mend it?")
    assert "Line 3: With a shortfall of 2 pt" in page(panel) and "measure the line again" in page(panel)
    assert "Something went wrong" not in page(panel)


# --- a lockup saved elsewhere ----------------------------------------------------------------------------------


def test_a_saved_lockup_is_tightened_and_has_its_card(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    lockup = choose_lockup(Form(240, 160), breakwater.chase("6 × 9"), breakwater)
    save_lockup(lockup, "ferry")
    tightening, card = TighteningPanel(breakwater), CardPanel(breakwater, "24 picas", "30 picas", "10 × 15")
    before = repr(card)
    for panel in (tightening, card):
        control(panel, "Name of the lockup").value = "ferry"
        press(panel, "Open it")
    quoins = len(lockup.items) - len(lockup.wood)
    assert said(tightening).startswith("Opened “ferry”. All quoins are finger-tight.")
    assert repr(tightening).startswith(f"<tightening: turns {'-'.join('0' * quoins)};")
    press(tightening, f"Tighten {quoins}")
    assert repr(tightening).startswith(f"<tightening: turns {'-'.join('0' * (quoins - 1))}-1;")
    assert said(card) == "Tightening card: form 20 picas × 13 picas 4 pt, chase 6 × 9." and repr(card) != before


def test_an_unfinished_or_unknown_lockup_changes_nothing(breakwater, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    lockup = choose_lockup(Form(240, 160), breakwater.chase("6 × 9"), breakwater)
    save_lockup(replace(lockup, items=lockup.items[:3]), "begun")
    for panel in (TighteningPanel(breakwater), CardPanel(breakwater, "24 picas", "30 picas", "10 × 15")):
        before = repr(panel)
        for name, words in (("begun", "is not finished. Still"), ("nothing", "No lockup is saved as “nothing”")):
            control(panel, "Name of the lockup").value = name
            press(panel, "Open it")
            assert words in said(panel) and repr(panel) == before
