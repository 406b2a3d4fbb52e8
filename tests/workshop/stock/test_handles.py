"""Which handle suits a bat, and that it goes to one bat only."""

from itertools import product

import pytest
from django.db import IntegrityError, transaction

from fitting.bat.parts import cuts_of, glue_g
from fitting.bat.weigh import heft
from fitting.sheets.default_book import DEFAULT_BOOK
from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.models import Bat
from orders.commissions.states import Cause, Stage
from tests.builds import a_build
from tests.factories import a_bat_in, an_agreed_bat
from tests.workshop.stock.shelves import a_handle
from workshop.stock import handles
from workshop.stock.handles import TRANSITIONS
from workshop.stock.models import Handle, HandleState
from workshop.stock.refused import StockRefused


def refused(verb, *args, **kwargs):
    with pytest.raises(StockRefused) as found:
        verb(*args, **kwargs)
    return found.value.key


def test_wanted_raw_mass_is_the_cane_without_glue_and_what_turning_takes():
    build = a_build()
    part = next(one for one in heft(build).parts if one.name == "handle")
    cane = part.mass_g - glue_g(cuts_of(build), DEFAULT_BOOK.materials)
    costs = DEFAULT_BOOK.costs.model_copy(update={"handle_turning_loss_g": 75.0})
    book = DEFAULT_BOOK.model_copy(update={"costs": costs})

    assert handles.wanted_raw_g(build, book) == pytest.approx(cane + 75)


def test_handles_for_a_bat_are_free_of_its_construction_and_nearest_first(player, maker):
    build = a_build()
    wanted = round(handles.wanted_raw_g(build, DEFAULT_BOOK) * 10)
    far, near, over = (
        a_handle(number, maker, mass=wanted + off) for number, off in ((1, -300), (2, -50), (3, 120))
    )
    a_handle(4, maker, mass=wanted, construction="stiffened_cane")
    handles.choose_handle(a_handle(5, maker, mass=wanted), an_agreed_bat(player, maker), by=maker)

    found = handles.handles_for(build, DEFAULT_BOOK)

    assert [one.handle for one in found] == [near, over, far]
    assert [round(one.off_g) for one in found] == [-5, 12, -30]


def test_take_in_writes_the_first_entry(maker):
    entry = a_handle(1, maker).entries.get()

    assert (entry.verb, entry.by, entry.data) == ("take_in", maker, {"mass": 2800})


def test_take_in_number_taken_is_refused(maker):
    a_handle(1, maker)

    assert refused(a_handle, 1, maker) == "number_taken"
    assert Handle.objects.count() == 1


def test_weigh_again_keeps_the_old_reading_in_the_history(maker):
    handle = a_handle(1, maker)

    handles.weigh_again(handle, mass=2765, by=maker)

    assert Handle.objects.get().mass == 2765
    assert handle.entries.get(verb="weigh").data == {"mass": 2765, "mass_before": 2800}


def test_choose_binds_the_handle_to_the_bats_round(player, maker):
    handle, bat = a_handle(1, maker), an_agreed_bat(player, maker)

    handles.choose_handle(handle, bat, by=maker)

    stored = Handle.objects.get()
    assert (stored.state, stored.bat, stored.round) == (HandleState.RESERVED, bat, 1)
    assert handle.entries.get(verb="choose").data["bat"] == bat.code
    assert handles.handle_of(bat) == handle


def test_second_handle_for_a_bat_is_refused(player, maker):
    first, second, bat = a_handle(1, maker), a_handle(2, maker), an_agreed_bat(player, maker)
    handles.choose_handle(first, bat, by=maker)

    assert refused(handles.choose_handle, second, bat, by=maker) == "bat_has_one"
    assert Handle.objects.get(number=2).state == HandleState.IN_STOCK


def test_handle_of_another_bat_is_refused(player, maker):
    handle = a_handle(1, maker)
    stale = Handle.objects.get()
    handles.choose_handle(handle, an_agreed_bat(player, maker), by=maker)
    other = an_agreed_bat(player, maker)

    assert refused(handles.choose_handle, stale, other, by=maker) == "meanwhile"
    assert refused(handles.choose_handle, Handle.objects.get(), other, by=maker) == "not_now"
    assert handles.handle_of(other) is None


def test_database_itself_refuses_a_second_handle_for_a_bats_round(player, maker):
    bat = an_agreed_bat(player, maker)
    handles.choose_handle(a_handle(1, maker), bat, by=maker)
    second = a_handle(2, maker)

    with pytest.raises(IntegrityError), transaction.atomic():
        Handle.objects.filter(pk=second.pk).update(state="reserved", bat=bat, round=1)


def test_lay_back_frees_the_handle(player, maker):
    handle, bat = a_handle(1, maker), an_agreed_bat(player, maker)
    handles.choose_handle(handle, bat, by=maker)

    handles.lay_back_handle(bat, by=maker)

    stored = Handle.objects.get()
    assert (stored.state, stored.bat, stored.round) == (HandleState.IN_STOCK, None, None)
    assert handles.handle_of(bat) is None


def test_fitted_handle_is_not_laid_back(player, maker):
    bat = an_agreed_bat(player, maker)
    handles.choose_handle(a_handle(1, maker), bat, by=maker)
    handles.fit_handle(bat, by=maker)

    assert refused(handles.lay_back_handle, bat, by=maker) == "not_now"
    assert Handle.objects.get().state == HandleState.FITTED


def test_bat_without_a_handle_lays_none_back_and_fits_none(player, maker):
    bat = an_agreed_bat(player, maker)

    assert refused(handles.lay_back_handle, bat, by=maker) == "no_handle"
    assert refused(handles.fit_handle, bat, by=maker) == "no_handle"


def test_reject_takes_a_fitted_handle_out_and_leaves_room_for_another(player, maker):
    bat = an_agreed_bat(player, maker)
    handle, other = a_handle(1, maker), a_handle(2, maker)
    handles.choose_handle(handle, bat, by=maker)
    handles.fit_handle(bat, by=maker)
    handle.refresh_from_db()

    handles.reject_handle(handle, "the cane split", maker)
    handles.choose_handle(other, bat, by=maker)

    assert handles.handle_of(bat) == other
    entry = handle.entries.get(verb="reject")
    assert (entry.data["words"], entry.data["bat"]) == ("the cane split", bat.code)


def test_reject_without_words_is_refused(maker):
    assert refused(handles.reject_handle, a_handle(1, maker), "  ", maker) == "needs_words"


@pytest.mark.parametrize(("cause", "keeps"), [(Cause.ADJUSTMENT, True), (Cause.REBUILD, False)])
def test_later_round_keeps_the_handle_only_of_a_bat_put_right(cause, keeps, player, maker):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    handle = a_handle(1, maker)
    handles.choose_handle(handle, bat, by=maker)
    handles.fit_handle(bat, by=maker)
    while bat.stage != Stage.INSPECTION:
        stages.pass_on(bat, by=maker, required=Required())
    stages.pass_inspection(bat, rows=[], in_tolerance=True, by=maker)
    bat.rounds.create(number=2, cause=cause, stages=[Stage.FINISHING])
    Bat.objects.filter(pk=bat.pk).update(round=2)

    assert handles.handle_of(Bat.objects.get()) == (handle if keeps else None)


def test_handle_of_a_cancelled_commission_is_free_again(player, maker):
    handle, stays = a_handle(1, maker), a_handle(2, maker)
    bat, going_on = an_agreed_bat(player, maker), an_agreed_bat(player, maker)
    handles.choose_handle(handle, bat, by=maker)
    handles.choose_handle(stays, going_on, by=maker)
    lifecycle.cancel(bat.commission, by=maker, why="moves away")

    assert handles.lay_back_due() == 1
    assert handles.lay_back_due() == 0

    assert Handle.objects.get(number=1).state == HandleState.IN_STOCK
    assert Handle.objects.get(number=2).state == HandleState.RESERVED
    assert handle.entries.get(verb="lay_back").by is None


UNDECLARED = [
    (state, verb) for state, verb in product(HandleState, TRANSITIONS) if state not in TRANSITIONS[verb][0]
]


@pytest.mark.parametrize(("state", "verb"), UNDECLARED)
def test_every_undeclared_pair_of_state_and_verb_changes_nothing(state, verb, player, maker):
    handle, bat = a_handle(1, maker), an_agreed_bat(player, maker)
    bound = {"bat": bat, "round": 1} if state in ("reserved", "fitted") else {}
    Handle.objects.filter(pk=handle.pk).update(state=state, **bound)
    handle.refresh_from_db()
    calls = {
        "choose": lambda: handles._move(handle, "choose", by=maker, data={}, at=None),
        "lay_back": lambda: handles._move(handle, "lay_back", by=maker, data={}, at=None),
        "fit": lambda: handles._move(handle, "fit", by=maker, data={}, at=None),
        "reject": lambda: handles.reject_handle(handle, "split", maker),
    }

    assert refused(calls[verb]) == "not_now"
    assert Handle.objects.get().state == state
    assert handle.entries.count() == 1
