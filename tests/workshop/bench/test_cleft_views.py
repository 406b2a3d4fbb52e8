"""The cleft of a bat by the forms of its pages: compared, taken, laid."""

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Bat
from orders.commissions.states import Stage
from orders.people.models import Player, User
from tests.factories import a_bat_in, an_agreed_bat
from tests.workshop.bench.at_bench import sent
from tests.workshop.bench.test_lies import marked
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.models import Orientation
from workshop.bench.spells import begin_work
from workshop.bench.work import work_on
from workshop.rack.clefts import reserve
from workshop.rack.models import Cleft


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat whose cleft is being selected, one reserved for it."""
    found = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    reserve(a_cleft(7, maker), found, by=maker)
    return found


@pytest.fixture
def waiting(player: Player, maker: User) -> Bat:
    """A bat without a cleft, and five on the rack that would do."""
    found = an_agreed_bat(player, maker)
    band = work_on(found).build.willow.density_kg_m3
    for number in range(21, 26):
        a_cleft(number, maker, density=(band.min + band.max) / 2 + number / 10, price=4000 + number)
    return found


def laid(client: Client, bat: Bat, **fields: Any) -> Any:
    """Send how the cleft lies."""
    return sent(client, bat, "orient", **{"lie": "2b", "edge": "1", "lie_seen": "0", **fields})


def compared(client: Client, bat: Bat, *numbers: int) -> str:
    """Return the page of the candidates, some ticked."""
    codes = [Cleft.objects.get(number=number).code for number in numbers]
    return client.get(reverse("bench:cleft", args=[bat.code]), {"beside": codes}).content.decode()


def columns(page: str) -> list[str]:
    """Return the numbers of the clefts that lie side by side."""
    return [part.split("</a>")[0][-4:] for part in page.split('<h3 id="beside-')[1:]]


def test_lie_is_kept_with_who_decided(bat: Bat, bench_hand: User, bench_client: Client):
    answer = laid(bench_client, bat)

    assert answer.status_code == 302
    row = Orientation.objects.get()
    assert (row.toe_end, row.face_side, row.outside_edge, row.by) == (2, "b", 1, bench_hand)
    page = bench_client.get(answer.headers["Location"]).content.decode()
    assert "End 2 is the toe, side B the face, edge 1 is out." in page
    assert "Lay it another way" in page


@pytest.mark.parametrize(
    ("fields", "anchor"), [({"lie": ""}, "id_lie"), ({"lie": "3c"}, "id_lie"), ({"edge": "3"}, "id_edge")]
)
def test_lie_by_half_is_refused_and_stays_chosen(
    fields: dict[str, str], anchor: str, bat: Bat, bench_client: Client
):
    answer = laid(bench_client, bat, **fields)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert f'href="#{anchor}"' in page
    assert not Orientation.objects.exists()
    assert ('value="2b" checked' in page) == (anchor == "id_edge")


def test_second_person_is_told_how_it_was_laid_meanwhile(
    bat: Bat, bench_client: Client, maker_client: Client
):
    laid(bench_client, bat)

    answer = laid(maker_client, bat, lie="1a")

    page = answer.content.decode()
    assert answer.status_code == 422
    assert (
        "Hazel Hand has said meanwhile how it lies: end 2 is the toe, side B the face, edge 1 is out" in page
    )
    assert Orientation.objects.count() == 1


def test_lie_against_the_players_hand_is_kept_and_warned_of(bat: Bat, bench_client: Client):
    answer = laid(bench_client, bat, edge="2")

    page = bench_client.get(answer.headers["Location"]).content.decode()
    assert Orientation.objects.get().outside_edge == 2
    assert page.count("edge 2 is inside for this player; out is edge 1") == 2


def test_fault_in_the_way_of_the_lie_is_warned_of(bat: Bat, bench_client: Client):
    marked(Cleft.objects.get(number=7), "shake", at=690, size=2600, through=True)

    page = bench_client.get(laid(bench_client, bat, lie="1a").headers["Location"]).content.decode()

    assert "So a fault lies in the splice" in page


def test_lie_is_taken_back_by_a_new_row(bat: Bat, bench_client: Client):
    laid(bench_client, bat)
    row = Orientation.objects.get()

    assert sent(bench_client, bat, "take-back-lie", entry=str(row.pk)).status_code == 302

    assert Orientation.objects.get(takes_back=row)
    assert not Orientation.objects.standing().exists()
    assert sent(bench_client, bat, "take-back-lie", entry=str(row.pk)).status_code == 422


def test_lie_of_a_bat_in_other_hands_is_not_kept(bat: Bat, maker: User, bench_client: Client):
    begin_work(bat, by=maker)

    assert laid(bench_client, bat).status_code == 422
    assert not Orientation.objects.exists()


def test_first_three_lie_side_by_side_until_others_are_ticked(waiting: Bat, bench_client: Client):
    listed = compared(bench_client, waiting)
    assert len(columns(listed)) == 3
    assert listed.count('name="beside"') == 5

    assert columns(compared(bench_client, waiting, 22, 25)) == ["0022", "0025"]


def test_more_than_three_are_not_laid_side_by_side(waiting: Bat, bench_client: Client):
    page = compared(bench_client, waiting, 21, 22, 23, 24)

    assert len(columns(page)) == 3
    assert "Three at most lie side by side" in page


def test_cleft_beside_others_is_drawn_and_told(waiting: Bat, maker: User, bench_client: Client):
    dense = a_cleft(31, maker, density=work_on(waiting).build.willow.density_kg_m3.max, run_out=20)
    marked(dense, "stain", at=300)

    page = compared(bench_client, waiting, 31)

    assert "Cleft 0031 with the bat laid in" in page
    assert "runs out 1 in 20" in page
    assert "1: stain of 8 mm" in page
    assert f"to {work_on(waiting).build.mass_g.target:.0f} g" in page


def test_cleft_that_something_speaks_against_is_told_in_the_list(waiting: Bat, bench_client: Client):
    told = "something speaks against it"
    assert told not in compared(bench_client, waiting)

    marked(Cleft.objects.get(number=24), "shake", at=355, size=7000, through=True)
    Cleft.objects.filter(number=25).update(moisture=140)

    assert compared(bench_client, waiting).count(told) == 2


def test_price_of_a_cleft_is_for_the_maker_alone(waiting: Bat, bench_client: Client, maker_client: Client):
    assert "£40.21" in compared(maker_client, waiting, 21)
    assert "£" not in compared(bench_client, waiting, 21)
