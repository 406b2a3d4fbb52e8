"""Wood that fails: what becomes of it and of the bat, what it costs, and what the player is told."""

import re
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.commissions import stages
from orders.commissions.bench_entries import Required
from orders.commissions.models import Bat, Commission, Consent
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage, Unit
from orders.messages.models import Letter, Photo
from orders.messages.rendering import text_of
from orders.people.models import Player, User
from tests.factories import an_agreed_bat
from tests.orders.messages.pictures import picture, upload
from tests.workshop.bench.at_bench import sent
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.failing import Failure, Fate, Loss, Telling, fail_wood, loss_of, tell_player, untold
from workshop.bench.models import Spell
from workshop.bench.work import choose_cleft, still_missing, work_on
from workshop.match.floor import matched
from workshop.match.wanting import work_out_due
from workshop.rack.clefts import change_standing, cut
from workshop.rack.models import Cleft, CleftState
from workshop.stock.handles import choose_handle, fit_handle
from workshop.stock.models import BatKind, Cause, Handle, HandleState, Scrap, StockBat

SPLIT = Failure(Cause.SPLIT_IN_PRESS, Fate.SCRAPPED, "split along the grain at the second pass")
TOLD = Telling("I am sorry: the willow split.", days=9)


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat in the press, its cleft cut for it."""
    bat = an_agreed_bat(player, maker)
    stages.begin(bat, by=maker)
    cleft = _near(bat, maker, 51)
    choose_cleft(work_on(bat), cleft, by=maker)
    stages.pass_on(bat, by=maker, required=Required())
    cut(cleft, by=maker)
    return bat


def _near(bat: Bat, maker: User, number: int) -> Cleft:
    band = work_on(bat).build.willow.density_kg_m3
    return a_cleft(number, maker, density=(band.min + band.max) / 2, price=4500)


def _onward(bat: Bat, maker: User, to: Stage) -> None:
    while bat.stage != to:
        stages.pass_on(bat, by=maker, required=Required())


def _cleft() -> Cleft:
    return Cleft.objects.get(number=51)


def test_bat_goes_back_to_cleft_selection_with_the_reason_and_wood_is_written_off(bat: Bat, maker: User):
    fail_wood(work_on(bat), SPLIT, by=maker)

    kept = Bat.objects.get()
    assert (kept.stage, kept.cleft_label) == (Stage.CLEFT_SELECTION, "")
    assert (_cleft().state, _cleft().bat) == (CleftState.REJECTED, None)
    scrap = Scrap.objects.get()
    assert (scrap.cause, scrap.stage, scrap.wood_cost) == (Cause.SPLIT_IN_PRESS, Stage.PRESSING, 4500)
    assert kept.journal.get(verb="go_back").data["reason"] == SPLIT.words
    assert kept.journal.get(verb="fail_wood").data["cause"] == "split_in_press"


def test_nothing_that_was_done_on_the_failed_wood_counts_for_the_next(bat: Bat, maker: User):
    from orders.commissions.bench_entries import mark_step, record_reading

    mark_step(bat, step="dress_square", by=maker)
    record_reading(bat, key="pressed_width", value=1080, unit=Unit.MM, by=maker)

    fail_wood(work_on(bat), SPLIT, by=maker, another=_near(bat, maker, 52))
    _onward(Bat.objects.get(), maker, Stage.PRESSING)

    fresh = Bat.objects.get()
    assert "dress_square" in still_missing(work_on(fresh)).steps
    assert not fresh.readings.standing().exists()
    # Taken back by new rows: what was read is still there to be looked at.
    assert fresh.readings.filter(key="pressed_width").count() == 2


def test_the_next_cleft_is_reserved_and_its_targets_are_solved(bat: Bat, maker: User):
    another = _near(bat, maker, 52)

    work = fail_wood(work_on(bat), SPLIT, by=maker, another=another)

    another.refresh_from_db()
    assert (another.state, another.bat) == (CleftState.RESERVED, bat)
    assert Bat.objects.get().cleft_label == another.label
    assert work_on(Bat.objects.get()).targets != work.build


def test_wood_that_is_still_a_cleft_goes_back_to_the_rack_for_a_smaller_bat(bat: Bat, maker: User):
    fail_wood(work_on(bat), Failure(Cause.HIDDEN_FAULT, Fate.SMALLER, "a knot", "harrow"), by=maker)

    assert _cleft().state == CleftState.SMALLER
    assert not StockBat.objects.exists()
    # Its price goes on with it; only the work is lost.
    assert Scrap.objects.get().wood_cost == 0


def test_wood_with_a_shape_is_laid_by_as_the_bat_that_it_still_makes(bat: Bat, maker: User):
    _onward(bat, maker, Stage.SHAPING)

    fail_wood(work_on(bat), Failure(Cause.OVERCUT, Fate.SMALLER, "toe overcut", "harrow"), by=maker)

    laid_by = StockBat.objects.get()
    assert (laid_by.kind, laid_by.length_code, laid_by.cost) == (BatKind.PART_MADE, "harrow", 4500)
    assert laid_by.cleft == _cleft()
    assert (_cleft().state, Scrap.objects.get().wood_cost) == (CleftState.REJECTED, 0)


@pytest.mark.parametrize(
    ("fate", "stage", "kind"),
    [
        (Fate.BLANK, Stage.SHAPING, BatKind.BLANK),
        (Fate.STOCK_BAT, Stage.FINISHING, BatKind.PART_MADE),
        (Fate.STOCK_BAT, Stage.INSPECTION, BatKind.FINISHED),
    ],
)
def test_wood_becomes_a_blank_or_a_stock_bat(bat: Bat, maker: User, fate: Fate, stage: Stage, kind: BatKind):
    _onward(bat, maker, stage)

    fail_wood(work_on(bat), Failure(Cause.OTHER, fate, "too heavy", "short_handle"), by=maker)

    assert StockBat.objects.get().kind == kind
    assert Bat.objects.get().stage == Stage.CLEFT_SELECTION


def test_what_it_cost_is_cleft_and_handle_and_the_minutes_at_it(bat: Bat, maker: User, bench_hand: User):
    """30 an hour is the book's rate: 90 minutes are 45.00."""
    _onward(bat, maker, Stage.HANDLE_FITTING)
    handle = _fitted(bat, maker)
    began = timezone.now() - timedelta(minutes=90)
    Spell.objects.create(
        bat=bat, round=1, stage=bat.stage, by=bench_hand, began_at=began, ended_at=timezone.now()
    )

    loss = loss_of(bat, _cleft())

    assert loss == Loss(wood=4500, handle=handle, minutes=90, work=4500)
    assert loss.total == 4500 + 1200 + 4500


def test_handle_that_is_glued_in_goes_with_the_wood(bat: Bat, maker: User):
    _onward(bat, maker, Stage.HANDLE_FITTING)
    handle = _fitted(bat, maker)

    fail_wood(work_on(bat), Failure(Cause.HANDLE, Fate.SCRAPPED, "starved joint"), by=maker)

    handle.refresh_from_db()
    assert (handle.state, handle.bat) == (HandleState.REJECTED, None)
    assert Scrap.objects.get().wood_cost == 4500 + 1200


def _fitted(bat: Bat, maker: User) -> Handle:
    handle = Handle.objects.create(
        number=7, mass=2300, springs=3, construction="plain_cane", price=1200, taken_in_at=timezone.now()
    )
    choose_handle(handle, bat, by=maker)
    fit_handle(bat, by=maker)
    handle.refresh_from_db()
    return handle


def test_player_is_told_what_failed_the_new_cleft_and_the_new_days(bat: Bat, maker: User, player: Player):
    promised = Commission.objects.get().promised_to
    another = _near(bat, maker, 52)

    fail_wood(work_on(bat), SPLIT, by=maker, another=another, telling=TOLD)

    letter = Letter.objects.get(kind="wood_failed")
    body = text_of(letter).body
    assert letter.to == player.holder.email
    assert "I am sorry: the willow split." in body
    assert "What happened: split in the press." in body
    assert f"Cleft {another.label} has been chosen in its place" in body
    assert "It takes 9 days longer" in body
    assert promised is not None
    assert Commission.objects.get().promised_to == promised + timedelta(days=9)
    assert untold(Bat.objects.get()) is None


def test_without_a_letter_the_maker_still_has_to_tell(bat: Bat, maker: User, bench_hand: User):
    fail_wood(work_on(bat), SPLIT, by=bench_hand)
    fresh = Bat.objects.get()
    assert not Letter.objects.filter(kind="wood_failed").exists()
    assert untold(fresh) is not None

    with pytest.raises(Refused) as refused:
        tell_player(fresh, TOLD, by=bench_hand)
    assert refused.value.key == "not_yours"

    tell_player(fresh, TOLD, by=maker)
    assert "Another cleft is being looked for" in text_of(Letter.objects.get(kind="wood_failed")).body
    with pytest.raises(Refused) as refused:
        tell_player(fresh, TOLD, by=maker)
    assert refused.value.key == "nothing_to_tell"


def test_a_smaller_bat_for_the_same_player_is_asked_for_not_made(bat: Bat, maker: User, bench_client: Client):
    agreed = work_on(bat).build
    failure = Failure(Cause.HIDDEN_FAULT, Fate.SMALLER, "a knot", "harrow")

    fail_wood(work_on(bat), failure, by=maker, telling=Telling("A knot.", offer_smaller=True))

    asked = Consent.objects.get()
    assert (asked.about, asked.length_code, asked.is_open) == ("smaller_bat", "harrow", True)
    body = text_of(Letter.objects.get(kind="wood_failed")).body
    assert "would still make a smaller bat (harrow)" in body
    assert not Letter.objects.filter(kind="smaller_asked").exists()
    stage = bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()
    assert "The player is being asked whether a smaller bat would do" in stage
    assert work_on(Bat.objects.get()).build == agreed


@pytest.mark.parametrize(
    ("failure", "key"),
    [
        (Failure(Cause.OTHER, Fate.SCRAPPED, "  "), "reason_needed"),
        (Failure(Cause.OTHER, Fate.BLANK, "a shake"), "length_needed"),
    ],
)
def test_failure_without_words_or_without_the_bat_that_it_makes_is_refused(
    bat: Bat, maker: User, failure: Failure, key: str
):
    with pytest.raises(Refused) as refused:
        fail_wood(work_on(bat), failure, by=maker)

    assert refused.value.key == key
    assert (Bat.objects.get().stage, _cleft().state) == (Stage.PRESSING, CleftState.USED)


def test_nothing_is_kept_when_the_letter_cannot_go(bat: Bat, maker: User):
    with pytest.raises(Refused):
        fail_wood(work_on(bat), SPLIT, by=maker, telling=Telling("Sorry.", days=900))

    assert Bat.objects.get().stage == Stage.PRESSING
    assert not Scrap.objects.exists()


def test_bat_without_a_cleft_has_no_wood_to_fail(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    stages.begin(bat, by=maker)

    with pytest.raises(Refused) as refused:
        fail_wood(work_on(bat), SPLIT, by=maker)

    assert refused.value.key == "cleft_missing"


# the page


def form(**changes: Any) -> dict[str, Any]:
    """What the maker fills in."""
    return {
        "cause": "split_in_press",
        "words": "split at the toe",
        "fate": "scrapped",
        "length_code": "",
        "another": "",
        "days": "5",
        "letter": "I am sorry.",
        **changes,
    }


def test_maker_sees_the_cost_and_the_next_best_cleft_and_a_bench_hand_no_money(
    bat: Bat, maker: User, maker_client: Client, bench_client: Client
):
    another = _near(bat, maker, 52)
    address = reverse("bench:failed", args=[bat.code])

    page = maker_client.get(address).content.decode()
    assert "£45.00" in page
    assert f"cleft {another.label}, grade 1" in page
    assert "Give the wood up and send the letter" in page

    page = bench_client.get(address).content.decode()
    assert "£" not in page
    assert 'name="letter"' not in page
    assert 'name="days"' not in page


def test_maker_gives_wood_up_in_one_act_with_a_photograph(bat: Bat, maker: User, maker_client: Client):
    another = _near(bat, maker, 52)

    answer = sent(
        maker_client, bat, "failed", **form(another=another.code, photo_1=upload(picture()), shown="on")
    )

    assert answer.status_code == 302
    assert (bat.stage, bat.cleft_label) == (Stage.CLEFT_SELECTION, another.label)
    photo = Photo.objects.get()
    assert (photo.stage, photo.shown_to_player, photo.caption) == (
        Stage.PRESSING,
        True,
        "what failed: split in the press",
    )
    assert Letter.objects.filter(kind="wood_failed").count() == 1


def test_bench_hand_gives_up_and_the_maker_tells_afterwards(
    bat: Bat, maker_client: Client, bench_client: Client
):
    sent(bench_client, bat, "failed", **form())
    assert bat.stage == Stage.CLEFT_SELECTION
    assert not Letter.objects.filter(kind="wood_failed").exists()
    address = reverse("bench:failed", args=[bat.code])
    assert bench_client.get(address).status_code == 302

    page = maker_client.get(address).content.decode()
    assert "The player has not been told" in page
    assert 'name="cause"' not in page
    sent(maker_client, bat, "failed", letter="I am sorry.", days="4", another="")

    assert "I am sorry." in text_of(Letter.objects.get(kind="wood_failed")).body
    assert maker_client.get(address).status_code == 302


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"cause": ""}, "id_cause"),
        ({"words": ""}, "id_words"),
        ({"fate": "smaller"}, "Say which bat the wood still makes."),
        ({"fate": "smaller", "length_code": "long_blade"}, "is not smaller than this bat"),
        ({"days": "400"}, "id_days"),
        ({"offer_smaller": "on"}, "Only wood that is kept for a smaller bat"),
        ({"days": "soon"}, "id_days"),
        ({"letter": ""}, "id_letter"),
        ({"photo_1": upload(b"no photograph")}, "This file is no photograph"),
    ],
)
def test_what_is_refused_stays_typed_and_changes_nothing(
    bat: Bat, maker_client: Client, changes: dict[str, Any], said: str
):
    answer = sent(maker_client, bat, "failed", **form(**changes))

    page = answer.content.decode()
    assert (answer.status_code, said in page) == (422, True)
    assert "split at the toe" in page or "words" in changes
    assert bat.stage == Stage.PRESSING
    assert not Scrap.objects.exists()


def test_two_who_give_it_up_at_once_give_it_up_once(bat: Bat, maker_client: Client, bench_client: Client):
    from workshop.bench.work import seen_mark

    seen = seen_mark(bat)
    sent(bench_client, bat, "failed", **form())

    second = sent(maker_client, bat, "failed", **form(seen=seen))

    assert second.status_code == 422
    assert Scrap.objects.count() == 1
    assert not Letter.objects.filter(kind="wood_failed").exists()


def test_letter_is_shown_as_it_would_go_and_nothing_is_kept(bat: Bat, maker: User, maker_client: Client):
    another = _near(bat, maker, 52)
    before = Commission.objects.values().get()

    answer = sent(maker_client, bat, "failed-letter", **form(another=another.code))

    page = answer.content.decode()
    assert answer.status_code == 200
    assert f"Cleft {another.label} has been chosen in its place" in page
    assert "It takes 5 days longer" in page
    assert 'value="5"' in page
    assert (bat.stage, Letter.objects.filter(kind="wood_failed").count()) == (Stage.PRESSING, 0)
    assert Commission.objects.values().get() == before
    assert Cleft.objects.get(number=52).state == CleftState.READY


def test_letter_is_a_part_of_the_page_for_htmx(bat: Bat, maker_client: Client):
    answer = maker_client.post(
        reverse("bench:failed-letter", args=[bat.code]), form(), headers={"HX-Request": "true"}
    )

    page = answer.content.decode()
    assert page.lstrip().startswith('<div id="letter-shown"')
    assert "I am sorry." in page


def test_stage_page_leads_to_the_failed_wood(bat: Bat, bench_client: Client):
    page = bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()

    assert reverse("bench:failed", args=[bat.code]) in page


def test_morning_page_names_whom_the_maker_has_to_tell(bat: Bat, maker_client: Client, bench_client: Client):
    sent(bench_client, bat, "failed", **form())
    address = reverse("bench:failed", args=[bat.code])

    assert address in maker_client.get(reverse("review:morning")).content.decode()

    sent(maker_client, bat, "failed", letter="I am sorry.", days="4", another="")
    assert address not in maker_client.get(reverse("review:morning")).content.decode()


def test_wood_put_aside_for_smaller_bats_is_not_offered_for_this_one(
    bat: Bat, maker: User, maker_client: Client
):
    aside = _near(bat, maker, 53)
    change_standing(aside, "mark_smaller", by=maker, words="a knot where the ball is hit")

    page = maker_client.get(reverse("bench:failed", args=[bat.code])).content.decode()

    assert aside.code not in page


def test_letter_that_cannot_be_shown_yet_says_what_is_missing(bat: Bat, maker_client: Client):
    answer = maker_client.post(
        reverse("bench:failed-letter", args=[bat.code]), form(cause=""), headers={"HX-Request": "true"}
    )

    assert answer.status_code == 200
    assert "What failed?" in answer.content.decode()


def test_cleft_that_the_matching_has_for_another_bat_is_marked_and_not_the_first_choice(
    bat: Bat, player: Player, maker: User, maker_client: Client
):
    other = an_agreed_bat(player, maker)
    best, second = (
        _near(bat, maker, 54),
        a_cleft(55, maker, density=work_on(bat).build.willow.density_kg_m3.max),
    )
    work_out_due()
    floor = matched(today=timezone.localdate())
    assert [floor.clefts[one.pair.cleft] for one in floor.answer.assigned] == [best]

    page = maker_client.get(reverse("bench:failed", args=[bat.code])).content.decode()

    assert f"the matching has it for {other.commission.reference}" in page
    assert re.search(rf'value="{second.code}"[^>]*checked', page)
    assert not re.search(rf'value="{best.code}"[^>]*checked', page)
