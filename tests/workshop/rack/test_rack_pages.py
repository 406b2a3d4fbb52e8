"""The rack's pages."""

import re
from datetime import date

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.people.models import Player, User
from tests.factories import a_commission, an_agreed_bat, propose_to
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.models import Cleft, CleftHold, CleftState

TYPED = {
    "number": "41",
    "grade": "2",
    "grains": "8",
    "length": "71 cm",
    "width_1": "116",
    "width_2": "117,5",
    "width_3": "118",
    "depth_1": "73",
    "depth_2": "74",
    "depth_3": "75.5 mm",
    "mass": "2.45 kg",
    "moisture": "12.4",
    "read_on": "2026-01-20",
    "heartwood": "20",
    "moisture_at": "waste",
    "state": "ready",
    "note": "a speck",
}
ONCE = re.compile(r'name="once" value="([0-9a-z]{26})"')


def key(client: Client) -> dict[str, str]:
    """Return a fresh key as the take-in page gives one."""
    found = ONCE.search(client.get(reverse("rack:take-in")).content.decode())
    assert found is not None
    return {"once": found[1]}


def test_take_in_understands_units_as_typed(bench_client: Client, bench_hand: User):
    answer = bench_client.post(reverse("rack:take-in"), {**TYPED, **key(bench_client)})

    cleft = Cleft.objects.get()
    assert answer.status_code == 302
    assert (cleft.length, cleft.width_2, cleft.depth_3) == (7100, 1175, 755)
    assert (cleft.mass, cleft.moisture, cleft.grains) == (24500, 124, 8)
    assert (cleft.heartwood, cleft.run_out, cleft.moisture_at) == (20, None, "waste")
    assert cleft.entries.get().by == bench_hand
    page = bench_client.get(answer["Location"]).content.decode()
    assert "2450 g" in page


@pytest.mark.parametrize(
    ("field", "typed", "told"),
    [
        ("length", "17.57 m", "450 to 900 mm is allowed"),
        ("length", "71", "Did you mean 710 mm?"),
        ("depth_2", "-3", "35 to 120 mm is allowed"),
        ("width_1", "tall", "80 to 160 mm is allowed"),
        ("moisture", "NaN", "4 to 30 % is allowed"),
        ("mass", "2.45", "Did you mean 2450 g?"),
        ("moisture", "40", "40 given; 4 to 30 % is allowed"),
        ("mass", "4400", "4400 g in 710 × 117.5 × 74 mm would be 712 kg/m³"),
        ("width_2", "11.7", "Did you mean 117 mm?"),
        ("grains", "7.5", "a whole number"),
        ("read_on", "2126-01-01", "not later than today"),
    ],
)
def test_take_in_refuses_what_cannot_be_and_keeps_what_was_typed(
    field: str, typed: str, told: str, bench_client: Client
):
    answer = bench_client.post(reverse("rack:take-in"), {**TYPED, field: typed, **key(bench_client)})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert f'href="#id_{field}"' in page
    assert told in page
    assert f'value="{typed}"' in page
    assert not Cleft.objects.exists()


def test_take_in_empty_form_tells_each_field(bench_client: Client):
    answer = bench_client.post(reverse("rack:take-in"), key(bench_client))

    page = answer.content.decode()
    assert answer.status_code == 422
    for field in ("number", "length", "width_1", "depth_3", "mass", "moisture"):
        assert f'href="#id_{field}"' in page


def test_take_in_number_taken_is_told_at_the_number(bench_client: Client, maker: User):
    a_cleft(41, maker)

    answer = bench_client.post(reverse("rack:take-in"), {**TYPED, **key(bench_client)})

    assert answer.status_code == 422
    assert "Another cleft has this number already." in answer.content.decode()


def test_price_is_the_makers_alone(maker_client: Client, bench_client: Client):
    maker_client.post(reverse("rack:take-in"), {**TYPED, "price": "85.50", **key(maker_client)})
    cleft = Cleft.objects.get()
    address = reverse("rack:cleft", args=[cleft.code])

    assert cleft.price == 8550
    assert "£85.50" in maker_client.get(address).content.decode()
    assert "85.50" not in bench_client.get(address).content.decode()
    assert 'name="price"' not in bench_client.get(reverse("rack:take-in")).content.decode()


def test_price_sent_by_a_bench_hand_is_not_taken(bench_client: Client):
    bench_client.post(reverse("rack:take-in"), {**TYPED, "price": "1", **key(bench_client)})

    assert Cleft.objects.get().price is None


def test_rack_shows_each_cleft_in_picture_and_table(bench_client: Client, maker: User):
    for number in (41, 42, 43):
        a_cleft(number, maker)

    page = bench_client.get(reverse("rack:clefts")).content.decode()

    for cleft in Cleft.objects.all():
        # Twice drawn, wide and narrow, and once in the table.
        assert page.count(reverse("rack:cleft", args=[cleft.code])) == 3


def test_rack_shows_what_agreed_bats_want(bench_client: Client, player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    a_cleft(41, maker)

    page = bench_client.get(reverse("rack:clefts")).content.decode()

    assert reverse("bench:bat", args=[bat.code]) in page
    assert bat.commission.reference in page


def test_rack_empty_says_what_to_do(bench_client: Client):
    assert "Take a cleft in" in bench_client.get(reverse("rack:clefts")).content.decode()


@pytest.mark.parametrize("clefts", [1, 3])
def test_rack_asks_the_database_as_often_for_many(
    clefts: int, bench_client: Client, maker: User, django_assert_num_queries
):
    for number in range(41, 41 + clefts):
        a_cleft(number, maker)
    bench_client.get(reverse("rack:take-in"))

    # Session, account, workshop, book; how many clefts, those of the page and their holds, those of the
    # picture; for the willow that is wanted bats, tables, clefts, holds, blemishes and refusals; the loads to
    # choose from, how many are to be weighed again.
    with django_assert_num_queries(16):
        bench_client.get(reverse("rack:clefts"))


def test_weigh_keeps_the_new_reading_and_the_old_in_the_history(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker, mass=24000, moisture=130, read_on=date(2026, 1, 20))
    address = reverse("rack:weigh", args=[cleft.code])

    bench_client.post(
        address, {"mass": "2380", "moisture": "12,1", "read_on": "2026-02-01", **key(bench_client)}
    )

    page = bench_client.get(reverse("rack:cleft", args=[cleft.code])).content.decode()
    assert "2380 g at 12.1 % moisture" in page
    assert "2400 g at 13.0 % moisture" in page


def test_standing_thrown_out_without_a_reason_is_refused(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker)

    answer = bench_client.post(
        reverse("rack:standing", args=[cleft.code]), {"verb": "reject", "words": "", **key(bench_client)}
    )

    assert answer.status_code == 422
    assert "Say why" in answer.content.decode()
    assert Cleft.objects.get().state == CleftState.READY


def test_standing_thrown_out_is_in_the_history(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker)

    bench_client.post(
        reverse("rack:standing", args=[cleft.code]),
        {"verb": "reject", "words": "shake through the middle", **key(bench_client)},
    )

    assert Cleft.objects.get().state == CleftState.REJECTED
    page = bench_client.get(reverse("rack:cleft", args=[cleft.code])).content.decode()
    assert "thrown out · shake through the middle" in page


def test_hold_and_release_are_the_makers(
    maker_client: Client, bench_client: Client, player: Player, maker: User
):
    now = timezone.now()
    proposal = propose_to(a_commission(player, at=now), maker, at=now)
    cleft = a_cleft(41, maker)
    address = reverse("rack:hold", args=[cleft.code])

    assert bench_client.post(address, {"proposal": proposal.code, **key(bench_client)}).status_code == 404
    maker_client.post(address, {"proposal": proposal.code, **key(maker_client)})
    assert CleftHold.objects.get().proposal == proposal
    page = maker_client.get(reverse("rack:cleft", args=[cleft.code])).content.decode()
    assert "Kept aside for the proposal of" in page

    maker_client.post(reverse("rack:release", args=[cleft.code]), key(maker_client))
    assert CleftHold.objects.get().released_at is not None


@pytest.mark.parametrize("address", ["clefts", "take-in"])
def test_rack_is_not_there_for_players(address: str, player_client: Client):
    assert player_client.get(reverse(f"rack:{address}")).status_code == 404


def test_cleft_is_not_there_for_players(player_client: Client, maker: User):
    cleft = a_cleft(41, maker)

    assert player_client.get(reverse("rack:cleft", args=[cleft.code])).status_code == 404


@pytest.mark.parametrize("address", ["weigh", "standing", "hold", "release"])
def test_rack_verb_by_get_is_refused(address: str, maker_client: Client, maker: User):
    cleft = a_cleft(41, maker)

    assert maker_client.get(reverse(f"rack:{address}", args=[cleft.code])).status_code == 405
