"""The ledger: what stands holds its wood; others choose from the rest, and hear who holds what, what frees it."""

from __future__ import annotations

import json
import random
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace

import pytest
from conftest import ROOT
from stonework.choosing import NoLockup, choose_lockup
from stonework.drawing import paper as printing
from stonework.drawing.register import register, register_pages, register_table, slip_pages, slips, too_many, used_up
from stonework.form import Form
from stonework.ledger import Form as Stands
from stonework.ledger import free, freeing, held_by, held_words, left, let_stand, look, short_of, stands
from stonework.panels import AwayPanel, BenchPanel, BlockPanel, ChoosePanel, HandPanel, LedgerPanel
from stonework.people import Here, People, here
from stonework.records import NOT_STANDING, open_lockup, record_path, save_lockup
from stonework.rules import judge, sound
from stonework.shop import Shop
from stonework.units import PICA
from test_panels import control, page, press, said

SHOPS = ("breakwater", "cellar", "loft", "metric")
DAY = "2026-11-26"


@pytest.fixture(params=SHOPS)
def shop(request, breakwater, irregular):
    """The school's shop, and each of the irregular ones."""
    return {"breakwater": breakwater, **irregular}[request.param]


def at(work, name):
    """Another seat, where somebody of a name works on the same folder."""
    seat = Here(People(work))
    seat._remember = lambda _name: None
    seat.turn_to(name)
    return seat


def some_lockup(shop, seed=1):
    """Return a lockup of a form that fits one of the shop's chases."""
    draw = random.Random(seed)
    for _ in range(40):
        chase = draw.choice(shop.chases)
        form = Form(*(draw.randint(10, int(side / PICA) - 12) * PICA for side in (chase.width, chase.height)))
        try:
            return choose_lockup(form, chase, shop, tolerance=shop.placing.tolerance)
        except NoLockup:
            continue
    raise AssertionError("no lockup at all")


def alike(lockup, name, person="Ana"):
    return Stands(person, name, DAY, lockup)


# --- what is left ----------------------------------------------------------------------------------------------


def test_what_stands_is_counted_out_to_the_piece(shop):
    forms = [alike(some_lockup(shop, seed), str(seed)) for seed in (1, 2)]
    rest = left(shop, forms)
    out = sum((held_by(form.lockup, shop).pieces for form in forms), Counter())
    assert out and all(rest.pieces[m] == max(0, shop.pieces[m] - out[m]) for m in shop.pieces)
    chases = Counter(form.lockup.chase.name for form in forms)
    assert {c.name: c.count for c in rest.chases} == {
        c.name: c.count - chases[c.name] for c in shop.chases if c.count > chases[c.name]
    }
    quoins = sum((held_by(form.lockup, shop).quoins for form in forms), Counter())
    for before, after in zip(shop.quoins, rest.quoins, strict=True):
        assert after.count == (None if before.count is None else max(0, before.count - quoins[before.name]))


def test_nothing_is_short_where_nothing_stands_and_nothing_is_chosen_twice(shop):
    first = some_lockup(shop)
    assert not any(short_of(first, shop, [])) and held_words(first, shop, []) == []
    rest = left(shop, [alike(first, "one")])
    for chase in rest.chases:
        try:
            second = choose_lockup(Form(120, 96), chase, rest)
        except NoLockup:
            continue
        assert not any(short_of(second, shop, [alike(first, "one")])) and sound(judge(second, rest))
        both = held_by(first, shop).pieces + held_by(second, shop).pieces
        assert all(count <= shop.pieces[material] for material, count in both.items())


def test_who_holds_what_is_lacking_is_said_with_what_frees_it(shop):
    lockup = some_lockup(shop)
    chase = next(one for one in shop.chases if one.name == lockup.chase.name)
    said = held_words(lockup, shop, [alike(lockup, f"notice {n}") for n in range(chase.count)])
    assert said[0].startswith(f"The {lockup.chase.name} chase is in use for Ana’s “notice 0” (since {DAY})")
    assert "put away" in said[0] and len(said) <= 7


# --- standing ---------------------------------------------------------------------------------------------------


def test_a_form_stands_until_it_is_put_away(shop, work):
    ana, ben = at(work, "Ana"), at(work, "Ben")
    lockup = some_lockup(shop)
    assert "stands since today" in let_stand(lockup, "notice", shop, ana)
    (form,) = look(shop, ben.people).forms
    assert (form.person, form.name, form.lockup) == ("Ana", "notice", lockup) and stands(
        "notice", ana
    ).shop == shop.name
    held = [count.total() for count in held_by(lockup, shop)]
    assert min(held) > 0 and look(replace(shop, name="another shop"), ben.people).forms == ()
    assert "free for everybody" in free("notice", ana)
    assert look(shop, ben.people).forms == () and open_lockup("notice", ana.folder) == lockup
    with pytest.raises(ValueError, match="isn't written down as standing"):
        free("notice", ana)


def test_what_one_form_holds_can_t_stand_in_another(shop, work):
    ana, ben = at(work, "Ana"), at(work, "Ben")
    lockup = some_lockup(shop)
    count = next(one.count for one in shop.chases if one.name == lockup.chase.name)
    more = replace(
        shop,
        stock={m: 9 * c for m, c in shop.stock.items()},
        quoins=[replace(quoin, count=None) for quoin in shop.quoins],
    )
    for n in range(count):
        let_stand(lockup, f"notice {n}", more, ana)
    with pytest.raises(ValueError, match=r"It can't stand as it lies. The .* chase is in use for Ana’s “notice"):
        let_stand(lockup, "mine", shop, ben)
    assert stands("mine", ben) == NOT_STANDING and not record_path("mine", ben.folder).exists()


def test_a_form_that_stands_isn_t_in_its_own_way_and_goes_on_standing_when_saved(breakwater, work):
    lockup = some_lockup(breakwater)
    let_stand(lockup, "notice", breakwater)
    save_lockup(lockup, "notice")
    assert stands("notice").since and let_stand(lockup, "notice", breakwater)


def test_an_empty_form_holds_nothing(breakwater):
    with pytest.raises(ValueError, match="Nothing lies round the form yet"):
        let_stand(replace(some_lockup(breakwater), items=()), "bare", breakwater)


def test_what_can_t_be_read_is_said_and_the_rest_is_counted(breakwater, work):
    let_stand(some_lockup(breakwater), "notice", breakwater)
    path = record_path("notice")
    record = json.loads(path.read_text(encoding="utf-8"))
    record["lockup"] = "gone"
    path.with_name("lost.lockup.json").write_text(json.dumps(record), encoding="utf-8")
    path.with_name("junk.lockup.json").write_text("[" * 10_000)
    found = look(breakwater)
    assert len(found.forms) == 1 and "lost.lockup.json says that it stands, and can't be read." in found.said


STAND = """
import sys
from pathlib import Path
from stonework.ledger import let_stand
from stonework.people import Here, People
from stonework.records import open_lockup
from stonework.shop import Shop
work, shop_file, name = sys.argv[1:]
seat = Here(People(work))
seat._remember = lambda _name: None
seat.turn_to(name)
try:
    print(let_stand(open_lockup("one for all", work), "notice", Shop.load(shop_file), seat))
except ValueError as error:
    print(error)
"""


def test_eight_who_let_one_chase_stand_at_once_are_told_apart(breakwater, work):
    People(work).begin("Nobody")
    save_lockup(some_lockup(breakwater), "one for all", work)
    run = [sys.executable, "-c", STAND, str(work), str(ROOT / "lessons" / "breakwater.shop.toml")]
    running = [subprocess.Popen([*run, f"student {n}"], stdout=subprocess.PIPE, text=True) for n in range(8)]
    told = [process.communicate(timeout=120)[0] for process in running]
    assert sum("stands since today" in words for words in told) == 1, told
    assert sum("is in use for student" in words for words in told) == 7, told
    assert len(look(breakwater).forms) == 1


# --- what frees it ------------------------------------------------------------------------------------------------


def test_the_form_to_put_away_is_found_by_trying(shop):
    lockup = some_lockup(shop)
    chase = next(one for one in shop.chases if one.name == lockup.chase.name)
    form = Form(lockup.form.width, lockup.form.height)

    def find(what: Shop):
        if chase.name not in {one.name for one in what.chases}:
            return None
        try:
            return choose_lockup(form, chase, what, tolerance=shop.placing.tolerance)
        except NoLockup:
            return None

    holders = [alike(lockup, f"notice {n}") for n in range(chase.count)]
    (said,) = freeing(find, shop, holders)
    assert said.startswith(f"Others hold what it takes. The {chase.name} chase is in use for Ana’s “notice 0”")
    rest = [find(left(shop, [form for form in holders if form is not one])) for one in holders]
    names = [one.words for one, found in zip(holders, rest, strict=True) if found]
    assert said.endswith(f"It goes as soon as {' or '.join(names)} is put away." if names else "are put away.")
    assert list(freeing(lambda _shop: None, shop, holders)) == []


# --- in the panels --------------------------------------------------------------------------------------------------


def test_the_third_is_told_what_is_held_and_by_whom(breakwater, work):
    chase = breakwater.chases[1]
    lockup = choose_lockup(Form(240, 150), chase, breakwater)
    let_stand(lockup, "tide card", breakwater, at(work, "Ana"))
    here().turn_to("Cleo")
    panel = ChoosePanel(breakwater, "20 picas", "12 picas 6 pt", chase=chase.name)
    assert panel.lockup is not None and sound(judge(panel.lockup, breakwater))  # a lesson has its picture all the same
    told = f"The {chase.name} chase is in use for Ana’s “tide card”"
    assert f"It takes what others hold. {told}" in said(panel)
    control(panel, "Only what standing forms leave").value = True
    assert "It goes in the 5 × 8 or 8 × 12 or 10 × 15 chase, which is free." in page(panel)
    assert told in said(panel) and "Untick “Only what standing forms leave”" in said(panel) and panel.lockup is None
    control(panel, "Only what standing forms leave").value = False
    control(panel, "Name of the lockup").value = "mine"
    press(panel, "Let it stand")
    assert said(panel).startswith("It can't stand as it lies.") and "Ana’s “tide card”" in said(panel)
    assert ">Cleo<" in page(panel)


def test_a_panel_chooses_from_what_is_left_and_says_so_by_hand_too(shop, work):
    lockup = some_lockup(shop)
    let_stand(lockup, "notice", shop, at(work, "Ana"))
    rest = left(shop, look(shop).forms)
    if not rest.chases:
        pytest.skip("this shop has one chase, and it is in use")
    panel = ChoosePanel(shop, "12 picas", "9 picas", chase=rest.chases[0].name)
    assert panel.lockup is None or not any(short_of(panel.lockup, shop, look(shop).forms))
    hand = HandPanel(shop, "12 picas", "9 picas", chase=rest.chases[0].name)
    assert hand._bench.shop.pieces == rest.pieces
    hand.take_up(lockup)
    assert "Ana’s “notice”" in said(hand)


def test_a_form_stands_and_is_put_away_by_the_buttons(breakwater):
    here().turn_to("Ana")
    panel = ChoosePanel(breakwater, "20 picas", "12 picas")
    control(panel, "Name of the lockup").value = "notice"
    press(panel, "Let it stand")
    assert "stands since today" in said(panel) and open_lockup("notice").job.hand == "Ana"
    ledger, away = LedgerPanel(breakwater), AwayPanel(breakwater, "20 picas", "12 picas", "8 × 12")
    assert repr(ledger) == "<ledger: 1 forms stand>" and "1 form stands in" in said(ledger)
    for name in ("Register", "Galley slips"):
        press(ledger, name)
        assert "application/pdf" in page(ledger)
    control(away, "Name of the lockup").value = "notice"
    press(away, "It is put away")
    assert "free for everybody" in said(away)
    press(ledger, "Look again")
    assert "Nothing stands" in page(ledger)


def standing_twice(breakwater, work):
    """Let Ana's form stand in a chase and Ben's in another; return a lockup in Ana's chase."""
    wanted = choose_lockup(Form(240, 150), breakwater.chase("8 × 12"), breakwater)
    let_stand(wanted, "poster", breakwater, at(work, "Ana"))
    here().turn_to("Ben")
    mine = choose_lockup(Form(144, 96), breakwater.chase("5 × 8"), left(breakwater, look(breakwater).forms))
    let_stand(mine, "card", breakwater)
    return wanted


def test_what_stands_and_is_saved_with_what_others_hold_stands_no_more_and_says_so(breakwater, work):
    wanted = standing_twice(breakwater, work)
    panel = HandPanel(breakwater)
    panel.take_up(wanted)
    control(panel, "Name of the lockup").value = "card"
    press(panel, "Save it")
    press(panel, "Save it")
    assert "It doesn't stand any more, and holds nothing. The 8 × 12 chase is in use for Ana’s “poster”" in said(panel)
    assert "stand any more" in panel._pdf.value and not stands("card").since  # beside the buttons too
    assert [form.person for form in look(breakwater).forms] == ["Ana"]


def test_the_bench_holds_no_more_than_the_ledger_allows(breakwater, work, shop_file):
    wanted = standing_twice(breakwater, work)
    carrying = BenchPanel(shop_file).carrying
    carrying.take(choose_lockup(Form(144, 96), breakwater.chase("6 × 9"), left(breakwater, look(breakwater).forms)))
    let_stand(carrying.state.lockup, carrying.job, breakwater)
    carrying.take(wanted)
    assert "doesn't stand any more" in carrying.trouble and not stands(carrying.job).since
    carrying.undo()
    let_stand(carrying.state.lockup, carrying.job, breakwater)
    carrying.take(replace(carrying.state.lockup, items=()))
    assert "Nothing lies round its form." in carrying.trouble and not stands(carrying.job).since


def test_chases_written_down_too_often_are_counted_too(breakwater):
    lockup = some_lockup(breakwater)
    over = too_many([alike(lockup, "one"), alike(lockup, "two", "Ben")], breakwater)
    assert f"{lockup.chase.name} chase (2 written down, 1 there)" in over


def test_one_s_own_form_is_called_one_s_own(breakwater):
    here().turn_to("Ana")
    let_stand(some_lockup(breakwater), "one", breakwater)
    assert "your own “one”" in " ".join(held_words(some_lockup(breakwater), breakwater, look(breakwater).forms))


def test_the_bench_lets_a_form_stand_and_frees_it_when_all_is_put_away(shop_file, tmp_path, monkeypatch):
    bench = BenchPanel(shop_file)
    carrying = bench.carrying
    ticket = carrying.ticket
    chase = carrying.shop.chase(ticket.chase)
    carrying.take(choose_lockup(ticket.printed, chase, carrying.shop))
    bench.show()
    press(bench, "Let it stand")
    assert stands(carrying.job).since and "It stands since" in bench._line.value
    carrying.go("put away")
    bench.show()
    press(bench, "The stone is empty")
    assert not stands(carrying.job).since and "free for everybody" in bench._line.value


# --- on paper -----------------------------------------------------------------------------------------------------


def words_on(figures):
    return [[text.get_text() for text in figure.texts] for figure in figures]


def test_the_register_and_the_slips_say_whose_it_is_and_what_is_used_up(shop):
    hostile = "<b>$x$ \u202e" + "W" * 90
    lockup = some_lockup(shop)
    forms = [
        alike(lockup, "tide card", "O'Brien"),
        alike(lockup, hostile, hostile),
        *(alike(lockup, "n") for _ in "abc"),
    ]
    table = register_table(forms, shop)
    assert "<b>" not in table and "O&#x27;Brien" in table and "None is left of:" in table
    assert f"{lockup.chase.name} chase" in used_up(forms, shop) and "so count these: " in table
    (first, *_) = words_on(register_pages(forms, shop, DAY, "A4"))
    assert first[0].startswith("Standing forms, ") and first[0].endswith(DAY) and "O'Brien" in first
    slip_words = words_on(slip_pages(forms, shop, "A4"))
    assert len(slip_words) == 2 and slip_words[0][0] == "O'Brien"  # four on a page
    assert any(line.startswith("<b>$x$ �W") for words in slip_words for line in words)
    for paper in ("A4", "Letter"):
        assert register(forms, shop, DAY, paper).startswith(b"%PDF") and slips(forms, shop, paper).startswith(b"%PDF")
    assert register([], shop, DAY).startswith(b"%PDF") and "all the wood" in register_table([], shop)


def test_a_long_register_goes_on_over_the_page(breakwater):
    forms = [alike(some_lockup(breakwater), f"form {n}", f"student {n}") for n in range(70)]
    pages = words_on(register_pages(forms, breakwater, DAY, "A4"))
    assert len(pages) > 1 and {f"student {n}" for n in range(70)} <= {line for words in pages for line in words}


def test_a_name_is_printed_in_another_type_where_the_usual_one_lacks_its_letters(breakwater):
    def fonts(name):
        paper = slips([alike(some_lockup(breakwater), "notice", name)], breakwater)
        return set(re.findall(rb"/BaseFont /[A-Z]+\+(\S+)", paper))

    assert fonts("Ana") == fonts("Zoë") and b"DejaVuSerif-Bold" not in fonts("Ana")
    assert fonts("ᴕ") == {b"DejaVuSans", b"DejaVuSerif-Bold"}  # a letter that the usual type lacks


def test_letters_that_no_type_here_has_are_said(breakwater, monkeypatch):
    let_stand(some_lockup(breakwater), "notice", breakwater, at(People().work, "Zoë ᴕ李"))
    monkeypatch.setattr(printing, "_family_with", lambda sign: None if sign == "李" else "DejaVu Serif")
    panel = LedgerPanel(breakwater)
    press(panel, "Register")
    assert "This machine has no type for 李: on paper a box stands there." in page(panel)


def test_a_block_is_built_of_what_is_left_and_says_who_holds_the_rest(breakwater, work):
    small = replace(breakwater, metal={}, strips={}, leads=(), slugs=())  # with wood alone
    line = BlockPanel(small, "20 picas", "2 picas", chase="5 × 8").lockup
    assert line and line.block and line.block.materials
    taken = Counter(line.block.materials)
    scarce = replace(small, stock={m: taken[m] for m in small.stock})
    items = choose_lockup(Form(240, 150), breakwater.chase("8 × 12"), breakwater).items
    standing = replace(line, items=items, chase=breakwater.chase("8 × 12"))
    let_stand(standing, "line", replace(breakwater, name=scarce.name), at(work, "Ana"))
    here().turn_to("Ben")
    panel = BlockPanel(scarce, "20 picas", "2 picas", chase="5 × 8")
    assert (
        panel.lockup is None and said(panel).startswith("Others hold what it takes.") and "Ana’s “line”" in said(panel)
    )
    control(panel, "Only what standing forms leave").value = False
    assert panel.lockup is not None


def test_a_slip_says_if_its_form_would_not_hold_and_never_runs_into_the_next(breakwater):
    lockup = some_lockup(breakwater)
    bad = replace(lockup, items=lockup.items[:3])
    good, marked = (words_on(slip_pages([alike(one, "x")], breakwater, "A4"))[0] for one in (lockup, bad))
    assert not any("not to be lifted" in line for line in good)
    assert any("not to be lifted before that is put right" in line for line in marked)
    many = replace(lockup, items=tuple(replace(item, length=100.0 + n) for n, item in enumerate(3 * lockup.items)))
    (figure,) = slip_pages([alike(many, "x")], breakwater, "A4")
    assert min(text.get_position()[1] for text in figure.texts) > 3 / 4
    assert any("and more" in text.get_text() for text in figure.texts)
