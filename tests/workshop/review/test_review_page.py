import pytest
from django.urls import reverse

from fitting.laws import EDITIONS
from fitting.sheets.default_book import DEFAULT_BOOK
from fitting.sheets.snapshot import book_hash
from orders.commissions import builds, lifecycle
from orders.commissions.models import BookVersion, BuildVersion, Commission
from orders.commissions.states import Stage
from orders.words.sweet_spot import say_peak
from tests.factories import MOMENT, a_bat_in, a_commission, propose_to
from tests.weighings import kept_by_model_1, sweet_spot_of

pytestmark = pytest.mark.django_db


def address(commission, query=""):
    return reverse("review:review", args=[commission.code]) + query


def edited(commission, maker, **grips):
    first = commission.builds.first()
    build = builds.build_of(first)
    build = build.model_copy(update={"grips": build.grips.model_copy(update=grips)})
    return builds.edit(commission, build, by=maker, parent=first, seen_version=commission.version)


@pytest.mark.parametrize("client", ["player_client", "bench_client", "other_player_client"])
def test_the_review_is_the_makers(client, request, player):
    commission = a_commission(player)

    assert request.getfixturevalue(client).get(address(commission)).status_code == 404


def test_answers_stand_in_words_beside_the_bat(maker_client, player):
    commission = a_commission(player, wishes={"profile": "scalloped"}, pitches={"bounce": "low"})

    page = maker_client.get(address(commission)).content.decode()

    assert "5 ft 10 in" in page
    assert "right-handed" in page
    assert "How should the back of the blade be shaped?" in page
    assert "questions left open" in page
    mass = commission.builds.get().weighing["mass_g"]
    assert f"{round(mass)} g" in page
    assert "5.7.2" in page
    assert "Why the recommendation is as it is" in page


def test_own_version_stands_beside_the_recommendation_in_grams(maker_client, player, maker):
    commission = a_commission(player)
    first = commission.builds.get()
    second = edited(commission, maker, count=2)

    page = maker_client.get(address(commission)).content.decode()

    grams = round(second.weighing["mass_g"] - first.weighing["mass_g"])
    assert f"+{grams} g" in page
    assert "1 thing differs from the recommendation" in page
    assert "2 · edited" in page


def test_an_older_version_can_be_looked_at(maker_client, player, maker):
    commission = a_commission(player)
    edited(commission, maker, count=2)

    page = maker_client.get(address(commission, "?build=1")).content.decode()
    unknown = maker_client.get(address(commission, "?build=77")).content.decode()

    assert "Version 1, recommended" in page
    assert "differs from the recommendation" not in page
    assert "Version 2, edited" in unknown


def test_a_wish_for_change_stands_first(maker_client, player, maker):
    commission = a_commission(player)
    propose_to(commission, maker)
    lifecycle.ask_change(commission, by=player.holder, field="handle", words="thinner, please", at=MOMENT)

    page = maker_client.get(address(commission)).content.decode()

    assert "Asks for a change: the handle" in page
    assert "thinner, please" in page
    assert "£420.00" in page


def test_what_can_be_done_follows_the_state(maker_client, player, maker):
    sent = a_commission(player)
    making = a_bat_in(Stage.SHAPING, player, maker).commission

    first = maker_client.get(address(sent)).content.decode()
    second = maker_client.get(address(making)).content.decode()

    assert "Propose it" in first
    assert "Change the build sheet" in first
    assert "Propose it" not in second
    assert "Change the build sheet" not in second
    assert reverse("bench:bat", args=[making.bats.get().code]) in second


def test_a_child_is_marked_with_who_agrees(maker_client, child):
    commission = a_commission(child, player={"age_years": 12, "height_mm": 1500}, level="junior")

    page = maker_client.get(address(commission)).content.decode()

    assert "The player is under 18; Cam Cedar agrees for them." in page


@pytest.mark.parametrize("versions", [1, 3])
def test_the_review_asks_the_database_as_often_for_any_number_of_versions(
    versions, maker_client, player, maker, django_assert_num_queries
):
    commission = a_commission(player)
    for number in range(1, versions):
        edited(commission, maker, mass_g=40.0 + number)
    maker_client.get(address(commission))

    with django_assert_num_queries(10):
        page = maker_client.get(address(commission)).content.decode()

    assert page.count("?build=") >= versions - 1
    assert Commission.objects.get().version == versions - 1


def test_an_agreed_bat_is_held_to_the_edition_that_was_agreed_on(maker_client, maker, player, monkeypatch):
    commission = a_bat_in(Stage.SHAPING, player, maker).commission
    shares = [share.model_copy(update={"percent": 11}) for share in EDITIONS[2022].shares]
    other = EDITIONS[2022].model_copy(update={"shares": tuple(shares)})
    monkeypatch.setitem(EDITIONS, 2022, other)
    book = DEFAULT_BOOK.model_copy(update={"version": 2, "laws_edition": 2022})
    BookVersion.objects.create(number=2, content=book.model_dump(mode="json"), hash=book_hash(book))

    agreed = maker_client.get(address(commission)).content.decode()
    open_still = maker_client.get(address(a_commission(player))).content.decode()

    assert "52 %" in agreed
    assert "11 %" not in agreed
    assert "11 %" in open_still


def test_review_says_what_a_national_body_decides(maker_client, player, maker):
    commission = a_commission(player, level="club")
    first = commission.builds.get()
    build = builds.build_of(first)
    handle = build.handle.model_copy(
        update={"other_material": build.handle.other_material.model_copy(update={"share": 0.15})}
    )
    builds.edit(
        commission,
        build.model_copy(update={"handle": handle}),
        by=maker,
        parent=first,
        seen_version=commission.version,
    )

    newest = maker_client.get(address(commission)).content.decode()
    recommended = maker_client.get(address(commission, "?build=1")).content.decode()

    assert "Type A may be played at every level." in newest
    assert "only if your national governing body allows type C" in newest
    assert "only if your national governing body allows type" not in recommended


def test_review_tells_what_the_model_computes_and_what_the_laws_leave(maker_client, player):
    commission = a_commission(player)
    weighing = builds.weighing_of(commission.builds.get())

    page = maker_client.get(address(commission)).content.decode()

    assert say_peak(sweet_spot_of(weighing)) in page
    assert f"{weighing.modes[2].frequency_hz:.0f} Hz" in page
    assert weighing.lower_hand is not None
    assert f"{1000 * weighing.lower_hand.static_moment_kg_m:.0f} g m" in page
    assert "159 g at 25 m/s" in page
    assert "Inside the Laws for club cricket." in page
    assert "mm above the toe" in page


def test_review_of_a_version_by_the_first_model_says_so(maker_client, player, maker):
    commission = a_commission(player)
    first = commission.builds.get()
    BuildVersion.objects.filter(pk=first.pk).update(weighing=kept_by_model_1(first.weighing))
    second = edited(commission, maker, count=2)

    alone = maker_client.get(address(commission, "?build=1")).content.decode()
    beside = maker_client.get(address(commission)).content.decode()

    assert "older model: where it hits hardest was not computed then" in alone
    assert "thickest, above the toe" in alone
    assert "older model: where" not in beside
    assert ">older model</td>" in beside
    assert say_peak(sweet_spot_of(builds.weighing_of(second))) in beside
    assert f"{round(second.weighing['mass_g'] - first.weighing['mass_g']):+} g" in beside


def test_own_versions_curve_lies_over_the_recommendations(maker_client, player, maker):
    commission = a_commission(player)
    edited(commission, maker, count=2)

    alone = maker_client.get(address(commission, "?build=1")).content.decode()
    beside = maker_client.get(address(commission)).content.decode()

    assert "broken line: the other bat" not in alone
    assert "broken line: the other bat" in beside
