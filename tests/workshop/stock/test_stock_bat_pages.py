"""The pages of the bats without an owner."""

import pytest
from django.urls import reverse

from orders.words.fields import VALUES
from tests.factories import a_commission, an_agreed_bat
from tests.workshop.stock.pages import MONEY, send, text
from tests.workshop.stock.test_stock_bats import a_stock_bat
from tests.workshop.willow_on_rack import a_cleft
from workshop.stock.models import StockBat, StockBatState


def length_of(commission):
    return commission.builds.get().build["length_code"]


TYPED = {
    "kind": "part_made",
    "length_code": "harrow",
    "cleft": "41",
    "grade": "",
    "mass": "1.02 kg",
    "balance": "340",
    "words": "A fault 3 mm down.",
}


def test_lay_by_takes_cost_and_grade_from_the_cleft(bench_client, maker):
    cleft = a_cleft(41, maker, grade=3, price=4100)

    send(bench_client, "bat-lay-by", **TYPED)

    stored = StockBat.objects.get()
    assert (stored.cleft, stored.grade, stored.cost, stored.mass) == (cleft, 3, 4100, 10200)
    assert "A fault 3 mm down." in text(bench_client, "bat", stored.code)


@pytest.mark.parametrize(
    ("changes", "field", "told"),
    [
        ({"cleft": "99"}, "cleft", "There is no cleft of that number."),
        ({"mass": "1.02"}, "mass", "Did you mean 1020 g?"),
        ({"balance": "34"}, "balance", "Did you mean 340 mm?"),
        ({"words": ""}, "words", "This field is required"),
        ({"length_code": "size_9"}, "length_code", "Select a valid choice"),
    ],
)
def test_lay_by_refuses_what_cannot_be(changes, field, told, bench_client, maker):
    a_cleft(41, maker)

    answer = send(bench_client, "bat-lay-by", **{**TYPED, **changes})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert f'href="#id_{field}"' in page
    assert told in page
    assert not StockBat.objects.exists()


def test_prices_are_the_makers_alone(maker_client, bench_client, maker):
    made = a_stock_bat(maker, price=21000, cost=9000)

    page = text(maker_client, "bat", made.code)
    assert "£210.00" in page
    assert "£90.00" in page
    assert "£210.00" in text(maker_client, "bats")
    for name, args in (("bat", [made.code]), ("bats", []), ("bat-lay-by", [])):
        assert not MONEY.search(text(bench_client, name, *args))


def test_bench_hand_is_offered_nothing_that_is_the_makers(bench_client, maker):
    page = text(bench_client, "bat", a_stock_bat(maker).code)

    assert "/sell/" not in page
    assert "/keep/" not in page
    assert "/cut-up/" not in page


def test_keep_sell_and_history(maker_client, player, maker):
    made, commission = a_stock_bat(maker, price=21000), a_commission(player)

    send(maker_client, "bat-keep", made.code, commission=commission.code)
    assert commission.reference in text(maker_client, "bats")
    send(maker_client, "bat-sell", made.code, price="195.50", words="")

    stored = StockBat.objects.get()
    assert (stored.state, stored.price, stored.commission) == (StockBatState.SOLD, 19550, commission)
    page = text(maker_client, "bat", made.code)
    assert f"kept for a commission · commission {commission.reference}" in page
    assert "/sell/" not in page


def test_commissions_that_want_its_length_are_offered_first(maker_client, player, child, maker):
    short = {"age_years": 12, "height_mm": 1500}
    junior = a_commission(child, player=short, level="junior", present_bat={})
    grown = a_commission(player)
    made = a_stock_bat(maker, length_code=length_of(grown))

    page = text(maker_client, "bat", made.code)

    assert f"{grown.reference} {player.name} · {VALUES[length_of(grown)]}" in page
    assert page.index(f'value="{grown.code}"') < page.index(f'value="{junior.code}"')


def test_agreed_commission_is_not_offered_for_keeping(maker_client, player, maker):
    made, agreed = a_stock_bat(maker), an_agreed_bat(player, maker).commission

    answer = send(maker_client, "bat-keep", made.code, commission=agreed.code)

    assert answer.status_code == 422
    assert StockBat.objects.get().state == StockBatState.ON_SHELF


def test_let_go_and_cut_up(maker_client, player, maker):
    made = a_stock_bat(maker)
    send(maker_client, "bat-keep", made.code, commission=a_commission(player).code)
    send(maker_client, "bat-let-go", made.code)

    send(maker_client, "bat-cut-up", made.code, words="a test blank")

    assert StockBat.objects.get().state == StockBatState.CUT_UP
    assert "cut up · a test blank" in text(maker_client, "bat", made.code)
    assert made.label in text(maker_client, "bats", shown="cut_up")
    assert made.label not in text(maker_client, "bats")


@pytest.mark.parametrize("name", ["bat-keep", "bat-let-go", "bat-sell", "bat-cut-up"])
def test_makers_verb_is_not_there_for_a_bench_hand(name, bench_client, maker):
    made = a_stock_bat(maker)

    assert send(bench_client, name, made.code, words="x").status_code == 404
    assert StockBat.objects.get().state == StockBatState.ON_SHELF


@pytest.mark.parametrize("name", ["bat-keep", "bat-let-go", "bat-sell", "bat-cut-up"])
def test_verb_by_get_is_refused(name, maker_client, maker):
    assert maker_client.get(reverse(f"stock:{name}", args=[a_stock_bat(maker).code])).status_code == 405


def test_list_of_an_unknown_state_is_not_there(bench_client):
    assert bench_client.get(reverse("stock:bats"), {"shown": "lost"}).status_code == 404


@pytest.mark.parametrize("count", [1, 3])
def test_list_asks_the_database_as_often_for_many(count, bench_client, maker, django_assert_num_queries):
    for number in range(count):
        a_stock_bat(maker, cleft=a_cleft(number + 1, maker))
    text(bench_client, "bats")

    # Session, account, the workshop, bats with cleft and commission.
    with django_assert_num_queries(4):
        text(bench_client, "bats")
