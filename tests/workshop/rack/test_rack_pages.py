"""The rack's pages."""

import re
from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.people.models import Player, User
from tests.factories import a_commission, an_agreed_bat, propose_to
from tests.workshop.rack.noted_wood import a_load, of_load, seasoned
from tests.workshop.willow_on_rack import a_cleft
from workshop.rack.clefts import grade_again, weigh_again
from workshop.rack.grades import grades_of
from workshop.rack.listing import A_PAGE
from workshop.rack.models import Cleft, CleftHold, CleftState, Load

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
    # choose from, how many are to be weighed again; handles and supplies that are short.
    with django_assert_num_queries(18):
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


def test_grade_again_keeps_the_dated_history_with_who(bench_client: Client, bench_hand: User, maker: User):
    cleft = a_cleft(41, maker, grade=1)

    bench_client.post(
        reverse("rack:grade", args=[cleft.code]),
        {"grade": "3", "when": "pressing", "words": "a stain came up", **key(bench_client)},
    )

    cleft.refresh_from_db()
    assert cleft.grade == 3
    assert [(one.grade, one.when, one.by) for one in grades_of(cleft)] == [
        (1, "arrival", maker.name),
        (3, "pressing", bench_hand.name),
    ]
    page = bench_client.get(reverse("rack:cleft", args=[cleft.code])).content.decode()
    assert "after pressing" in page
    assert "a stain came up" in page


def test_grade_on_arrival_of_a_cleft_from_before_grades_were_kept(maker: User):
    cleft = a_cleft(41, maker, grade=2)
    cleft.entries.update(data={"mass": cleft.mass, "moisture": cleft.moisture})
    grade_again(cleft, grade=4, when="dressing", by=maker)

    assert [one.grade for one in grades_of(cleft)] == [2, 4]


@pytest.mark.parametrize("fields", [{"grade": "5"}, {"grade": ""}, {"grade": "2", "when": "moulding"}])
def test_grade_that_is_none_is_refused(fields: dict[str, str], bench_client: Client, maker: User):
    cleft = a_cleft(41, maker)

    answer = bench_client.post(reverse("rack:grade", args=[cleft.code]), {**fields, **key(bench_client)})

    assert answer.status_code == 422
    assert cleft.entries.count() == 1


def amended(client: Client, cleft: Cleft, **fields: str) -> int:
    typed = {**TYPED, "number": str(cleft.number), "seen": str(cleft.version), **fields}
    address = reverse("rack:amend", args=[cleft.code])
    return client.post(address, {**typed, **key(client)}).status_code


def test_amend_changes_what_was_mistyped_and_tells_what_stood_there(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker)
    form = bench_client.get(reverse("rack:amend", args=[cleft.code])).content.decode()
    assert 'value="710"' in form
    assert 'name="grade"' not in form

    assert amended(bench_client, cleft, length="70.5 cm", run_out="14") == 302

    cleft.refresh_from_db()
    assert (cleft.length, cleft.run_out, cleft.grade, cleft.state) == (7050, 14, 1, "ready")
    page = bench_client.get(reverse("rack:cleft", args=[cleft.code])).content.decode()
    assert "length 710 → 705" in page
    assert "run-out, 1 in – → 14" in page


def test_amend_by_a_bench_hand_leaves_the_price_alone(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker, price=8550)

    assert amended(bench_client, cleft, price="1") == 302

    cleft.refresh_from_db()
    assert cleft.price == 8550


def test_amend_over_anothers_change_changes_nothing(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker)
    grade_again(Cleft.objects.get(), grade=3, when="", by=maker)

    assert amended(bench_client, cleft, length="705") == 422

    cleft.refresh_from_db()
    assert cleft.length == 7100


def test_amend_to_a_number_that_another_has_is_told_at_the_number(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker)
    a_cleft(42, maker)

    assert amended(bench_client, cleft, number="42") == 422


@pytest.mark.parametrize("state", [CleftState.REJECTED])
def test_amend_of_wood_that_is_gone_is_refused(state: str, bench_client: Client, maker: User):
    cleft = a_cleft(41, maker, state=state)

    assert bench_client.get(reverse("rack:amend", args=[cleft.code])).status_code == 422
    assert amended(bench_client, cleft, length="705") == 422


def test_note_ends_its_lines_as_files_do_and_has_no_unprintable_sign(bench_client: Client):
    bench_client.post(reverse("rack:take-in"), {**TYPED, "note": "one\r\ntwo", **key(bench_client)})
    assert Cleft.objects.get().note == "one\ntwo"

    answer = bench_client.post(
        reverse("rack:take-in"), {**TYPED, "number": "42", "note": "a\x07b", **key(bench_client)}
    )
    assert answer.status_code == 422
    assert "cannot be printed" in answer.content.decode()


def test_rack_is_paged_and_keeps_its_filter(bench_client: Client, maker: User):
    for number in range(A_PAGE + 5):
        a_cleft(1000 + number, maker)
    a_cleft(1, maker, state=CleftState.SEASONING)

    first = bench_client.get(reverse("rack:clefts"), {"shown": "ready"}).content.decode()
    second = bench_client.get(reverse("rack:clefts"), {"shown": "ready", "page": "2"}).content.decode()

    assert f"1 to {A_PAGE} of {A_PAGE + 5}" in first
    assert 'href="?shown=ready&amp;page=2"' in first
    assert second.count("<tr>") == 1 + 5
    assert ">1000</a></th>" in first
    assert ">1000</a></th>" not in second


def test_seasoning_lists_the_longest_not_weighed_first_with_day_and_spread(bench_client: Client, maker: User):
    course, waits = a_cleft(41, maker, moisture=190), a_cleft(42, maker, moisture=200)
    seasoned(course, maker, weeks=4)
    seasoned(waits, maker, weeks=0)
    Cleft.objects.filter(pk=waits.pk).update(read_on=date(2026, 1, 20))

    page = bench_client.get(reverse("rack:seasoning")).content.decode()

    assert page.index(">0042</a>") < page.index(">0041</a>")
    assert "1 to weigh again" in page
    assert (
        "In a room of 18 °C and 60 % relative humidity, wood comes to rest at about 11.1 % moisture." in page
    )
    assert re.search(r"± \d+ days?", page)
    cleft_page = bench_client.get(reverse("rack:cleft", args=[course.code])).content.decode()
    assert '<polyline class="curve"' in cleft_page
    assert cleft_page.count("<circle cx") == 5


def test_load_is_noted_and_its_price_is_the_makers(maker_client: Client, bench_client: Client, maker: User):
    fields = {"name": "Winter felling", "grower": "Brook Farm", "count": "40", "price_a_piece": "62"}
    days = {"felled_on": "2025-01-10", "arrived_on": "2025-11-10", "kiln_sheet": "five weeks", "seen": "0"}
    answer = maker_client.post(reverse("rack:load-new"), {**fields, **days, **key(maker_client)})
    load = Load.objects.get()
    of_load(load, a_cleft(41, maker))

    assert answer["Location"] == reverse("rack:load", args=[load.code])
    assert (load.price_a_piece, load.count, load.felled_on) == (6200, 40, date(2025, 1, 10))
    for name in ("rack:load", "rack:loads"):
        address = reverse(name, args=[load.code] if name == "rack:load" else [])
        assert "£62.00" in maker_client.get(address).content.decode()
        assert "62.00" not in bench_client.get(address).content.decode()
    assert "39 not taken in" in bench_client.get(reverse("rack:load", args=[load.code])).content.decode()
    # Put right by a bench hand, the price stays.
    change = {"name": "Winter", "seen": str(load.version), **key(bench_client)}
    bench_client.post(reverse("rack:load-change", args=[load.code]), change)
    load.refresh_from_db()
    assert (load.name, load.price_a_piece) == ("Winter", 6200)


def test_load_felled_after_it_came_or_named_twice_is_refused(bench_client: Client):
    a_load("Winter felling")
    fields = {"name": "Winter felling", "felled_on": "2026-02-01", "arrived_on": "2026-01-01"}

    answer = bench_client.post(reverse("rack:load-new"), {**fields, **key(bench_client)})
    assert "not before the felling on 2026-02-01 is allowed" in answer.content.decode()
    answer = bench_client.post(reverse("rack:load-new"), {"name": "Winter felling", **key(bench_client)})
    assert answer.status_code == 422
    assert "Another load has this name already." in answer.content.decode()


def test_weighing_of_another_piece_is_refused_with_what_this_one_should_weigh(
    bench_client: Client, maker: User
):
    cleft = a_cleft(41, maker, mass=24000, moisture=200, read_on=date(2026, 1, 20))
    typed = {"mass": "1960", "moisture": "12", "read_on": "2026-02-20"}
    address = reverse("rack:weigh", args=[cleft.code])

    answer = bench_client.post(address, {**typed, **key(bench_client)})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "1960 g given; at 12 % moisture this cleft should weigh about 2240 g." in page
    assert 'value="1960"' in page
    assert bench_client.post(address, {**typed, "mass": "2235", **key(bench_client)}).status_code == 302


def test_ready_cleft_is_said_to_be_so_in_the_list_of_what_seasons(bench_client: Client, maker: User):
    cleft = a_cleft(41, maker, mass=24000, moisture=150)
    seasoned(cleft, maker, weeks=0)
    today = timezone.localdate()
    Cleft.objects.filter(pk=cleft.pk).update(read_on=today - timedelta(weeks=12))
    cleft.entries.update(
        data={"mass": 24000, "moisture": 150, "read_on": f"{today - timedelta(weeks=12)}", "grade": 1}
    )
    cleft.refresh_from_db()
    for weeks, mass in ((8, 23300), (4, 23200), (2, 23180), (0, 23170)):
        weigh_again(cleft, mass=mass, moisture=112, read_on=today - timedelta(weeks=weeks), by=maker)
    page = bench_client.get(reverse("rack:seasoning")).content.decode()
    assert "to be cut from now on" in page

    answer = bench_client.post(
        reverse("rack:standing", args=[cleft.code]),
        {"verb": "make_ready", "then": "seasoning", **key(bench_client)},
    )

    assert answer["Location"] == reverse("rack:seasoning")
    cleft.refresh_from_db()
    assert cleft.state == CleftState.READY
    assert "Cleft 0041 is ready to be cut." in bench_client.get(answer["Location"]).content.decode()
