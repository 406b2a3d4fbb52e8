"""How the cleft of a bat lies: kept, replaced, asked for before the bat passes on."""

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in
from tests.workshop.bench.at_bench import do_the_stage, sent
from tests.workshop.bench.test_lies import marked
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.lies import Lie
from workshop.bench.models import Orientation
from workshop.bench.selection import (
    LieMeanwhile,
    hand_of,
    missing_words,
    orient,
    orientation_of,
    other_hand_words,
)
from workshop.bench.work import work_on
from workshop.rack.clefts import put_back, reserve
from workshop.rack.models import Cleft

HERE = Lie(2, "b")


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat whose cleft is being selected, one reserved for it."""
    found = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    reserve(a_cleft(7, maker), found, by=maker)
    return found


def shown(client: Client, bat: Bat) -> str:
    """Return the page."""
    return client.get(reverse("bench:bat", args=[bat.code])).content.decode()


def test_orientation_is_asked_for_before_the_bat_passes_on(bat: Bat, bench_hand: User, bench_client: Client):
    do_the_stage(bench_client, bat)
    Orientation.objects.all().delete()
    answer = sent(bench_client, bat, "pass-on")
    assert answer.status_code == 422
    assert "Still missing: How the cleft lies: toe, face and outside edge." in answer.content.decode()
    assert 'href="#orientation"' in answer.content.decode()

    orient(work_on(bat), HERE, outside_edge=1, by=bench_hand)

    assert sent(bench_client, bat, "pass-on").status_code == 302
    assert bat.stage == Stage.PRESSING


def test_bat_without_a_cleft_is_not_asked_how_it_lies(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)

    assert missing_words(work_on(bat), bat.changed_at) == ()
    with pytest.raises(Refused, match="cleft_missing"):
        orient(work_on(bat), HERE, outside_edge=1, by=maker)
    assert 'id="orientation"' not in shown(bench_client, bat)


def test_another_way_takes_the_first_back_by_a_row_of_its_own(bat: Bat, maker: User, bench_hand: User):
    first = orient(work_on(bat), HERE, outside_edge=1, by=bench_hand)

    second = orient(work_on(bat), Lie(1, "a"), outside_edge=2, by=maker, seen=first.pk)

    assert orientation_of(bat) == second
    assert Orientation.objects.get(takes_back=first).by == maker
    assert Orientation.objects.count() == 3


def test_of_two_who_decide_the_second_is_refused(bat: Bat, maker: User, bench_hand: User):
    first = orient(work_on(bat), HERE, outside_edge=1, by=bench_hand, seen=0)

    with pytest.raises(LieMeanwhile):
        orient(work_on(bat), Lie(1, "a"), outside_edge=1, by=maker, seen=0)

    assert orientation_of(bat) == first


def test_orientation_of_an_earlier_cleft_does_not_count(bat: Bat, maker: User):
    orient(work_on(bat), HERE, outside_edge=1, by=maker)
    put_back(Cleft.objects.get(number=7), by=maker)
    bat.refresh_from_db()
    reserve(a_cleft(8, maker), bat, by=maker)

    assert orientation_of(bat) is None
    assert missing_words(work_on(bat), bat.changed_at) == ("orientation",)


def test_orientation_is_decided_in_cleft_selection_only(player: Player, maker: User):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    with pytest.raises(Refused, match="wrong_stage"):
        orient(work_on(bat), HERE, outside_edge=1, by=maker)


def test_edge_that_lies_inside_for_the_player_is_warned_of(bat: Bat):
    work = work_on(bat)
    assert hand_of(work) == "right"

    assert other_hand_words(work, Lie(1, "a"), 1) == ""
    assert "edge 2 is inside for this player; out is edge 1" in other_hand_words(work, Lie(1, "a"), 2)


def test_page_shows_the_four_ways_with_what_lies_where(bat: Bat, maker: User, bench_client: Client):
    marked(Cleft.objects.get(number=7), "shake", at=690, size=2600)
    marked(Cleft.objects.get(number=7), "stain", at=300)

    page = shown(bench_client, bat)

    assert page.count('name="lie"') == 4
    assert "1: stain of 8 mm on the back" in page
    assert "2: shake of 260 mm on the face, in the splice" in page
    assert "1 fault in the way" in page
    assert "Edge 1 is out then." in page
    assert "The player bats right-handed." in page


def test_page_says_what_speaks_against_the_cleft(bat: Bat, bench_client: Client):
    Cleft.objects.update(moisture=145, run_out=9)

    page = shown(bench_client, bat)

    assert "Moisture 14.5 %, outside 8 to 13 %: back to season." in page
    assert "The grain runs out by 1 in 9" in page
