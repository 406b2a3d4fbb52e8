"""Asking a bat's player, and the answer that is given once."""

from datetime import timedelta
from threading import Barrier, Thread
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse

from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.consents import (
    answer_consent,
    ask_consent,
    ask_smaller,
    beyond_promise,
    can_answer,
    not_accepted,
)
from orders.commissions.models import Bat, Consent
from orders.commissions.refusals import Refused
from orders.commissions.states import Answer, Stage
from orders.messages.models import Letter
from orders.messages.rendering import text_of
from orders.people.models import Player, User
from orders.people.once import new_key
from tests.factories import MOMENT, GuardianFactory, a_bat_in, a_commission, propose_to

pytestmark = pytest.mark.django_db

LAW: dict[str, Any] = {"clause": "5.7.1", "coverings": "off", "unit": "mm"}


def a_row(key: str = "mass", off: float = 25.0, **changes: Any) -> dict[str, Any]:
    """A row of an inspection that is out of tolerance."""
    row = {"key": key, "from_toe_mm": None, "unit": "g", "agreed": 1160.0, "low": 1146.0, "high": 1174.0}
    return {**row, "built": 1160.0 + off, "off": off, "in_tolerance": False, **changes}


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    """A bat before its final inspection."""
    return a_bat_in(Stage.INSPECTION, player, maker)


def asked_of(bat: Bat, maker: User, **changes: Any) -> Consent:
    return ask_consent(bat, rows=[a_row(**changes)], words="The willow was denser than it read.", by=maker)


def test_what_is_beyond_the_promise_is_mass_pickup_and_the_laws_alone():
    rows = [
        a_row(),
        a_row("pickup", 0.01),
        a_row("law", 1.5, what="edge"),
        a_row("spine", 1.2),
        a_row("balance", 9.0),
        a_row("mass", in_tolerance=True),
        a_row("pickup", built=None),
    ]

    assert [row["key"] for row in beyond_promise(rows)] == ["mass", "pickup", "law"]


def test_asking_writes_to_the_holder_with_the_numbers(bat: Bat, maker: User, player: Player):
    asked = asked_of(bat, maker)

    letter = Letter.objects.get(kind="consent_asked")
    text = text_of(letter)
    assert letter.to == player.holder.email
    assert "Mass: agreed 1160.0 g (1146.0 to 1174.0); it has 1185.0 g." in text.body.replace(",", "")
    assert "The willow was denser than it read." in text.body
    assert reverse("commissions:commission", args=[bat.commission.code]) in text.body
    entry = bat.journal.get(verb="ask_consent")
    assert (entry.by, entry.data["consent"]) == (maker, asked.code)


def test_letter_of_a_bat_outside_the_laws_says_which_size(bat: Bat, maker: User):
    row = a_row("law", 1.5, what="edge", clause="5.7.2", coverings="off", unit="mm", agreed=39.6, built=41.1)
    ask_consent(bat, rows=[row], words="It swelled.", by=maker)

    body = text_of(Letter.objects.get(kind="consent_asked")).body

    assert "Thickest edge, by the Laws (5.7.2): at most 39.6 mm; it has 41.1 mm." in body


def test_asking_twice_is_refused(bat: Bat, maker: User):
    asked_of(bat, maker)

    with pytest.raises(Refused) as refused:
        asked_of(bat, maker)

    assert refused.value.key == "asked_already"
    assert Letter.objects.filter(kind="consent_asked").count() == 1


def test_asking_without_words_or_without_cause_is_refused(bat: Bat, maker: User):
    for rows, words, key in (
        ([a_row()], "  ", "reason_needed"),
        ([a_row("spine", 1.2)], "see the spine", "nothing_to_ask"),
    ):
        with pytest.raises(Refused) as refused:
            ask_consent(bat, rows=rows, words=words, by=maker)
        assert refused.value.key == key
    assert not Consent.objects.exists()


def test_only_the_maker_asks(bat: Bat, bench_hand: User, player: Player):
    for who in (bench_hand, player.holder):
        with pytest.raises(Refused) as refused:
            asked_of(bat, who)
        assert refused.value.key == "not_yours"


def test_asking_after_the_bat_passed_is_refused(player: Player, maker: User):
    bat = a_bat_in(Stage.DONE, player, maker)

    with pytest.raises(Refused) as refused:
        asked_of(bat, maker)

    assert refused.value.key == "wrong_stage"


def test_a_yes_is_kept_with_its_words_and_told_to_the_workshop(bat: Bat, maker: User, player: Player):
    asked = asked_of(bat, maker)

    answer_consent(asked, answer=Answer.YES, words=" Gladly. ", by=player.holder)

    kept = Consent.objects.get()
    assert (kept.answer, kept.answer_words, kept.answered_by) == (Answer.YES, "Gladly.", player.holder)
    assert bat.journal.get(verb="say_yes").by == player.holder
    assert "Gladly." in text_of(Letter.objects.get(kind="consent_answered")).body
    assert not_accepted(bat, [a_row()]) == []


@pytest.mark.parametrize(
    ("now", "covered"),
    [(a_row(off=25), True), (a_row(off=20), True), (a_row(off=26), False), (a_row(off=-20), False)],
)
def test_a_yes_covers_what_was_asked_and_no_more(
    bat: Bat, maker: User, player: Player, now: dict[str, Any], covered: bool
):
    answer_consent(asked_of(bat, maker), answer=Answer.YES, words="", by=player.holder)

    assert (not_accepted(bat, [now]) == []) is covered


def test_a_yes_to_one_size_of_the_laws_covers_no_other(bat: Bat, maker: User, player: Player):
    asked = ask_consent(bat, rows=[a_row("law", 1.5, what="edge", **LAW)], words="swelled", by=maker)
    answer_consent(asked, answer=Answer.YES, words="", by=player.holder)

    assert not_accepted(bat, [a_row("law", 1.0, what="blade_width", **LAW)])


def test_a_no_covers_nothing_and_the_maker_may_ask_again(bat: Bat, maker: User, player: Player):
    answer_consent(asked_of(bat, maker), answer=Answer.NO, words="Too heavy.", by=player.holder)

    assert not_accepted(bat, [a_row()])
    assert asked_of(bat, maker).is_open
    assert bat.journal.filter(verb="say_no").count() == 1


def test_an_answer_is_given_once(bat: Bat, maker: User, player: Player):
    asked = asked_of(bat, maker)
    as_read = Consent.objects.get()
    answer_consent(asked, answer=Answer.NO, words="", by=player.holder)

    with pytest.raises(Refused) as refused:
        answer_consent(as_read, answer=Answer.YES, words="after all", by=player.holder)

    assert refused.value.key == "answered_already"
    assert Consent.objects.get().answer == Answer.NO


def test_an_answer_after_the_bat_went_back_is_refused(bat: Bat, maker: User, player: Player):
    asked_of(bat, maker)
    stages.go_back(bat, to=Stage.HANDLE_FITTING, by=maker, reason="25 g come off the back")

    with pytest.raises(Refused) as refused:
        answer_consent(Consent.objects.get(), answer=Answer.YES, words="", by=player.holder)

    assert refused.value.key == "no_longer_asked"
    assert not can_answer(Consent.objects.get(), player.holder)


def test_a_bat_does_not_pass_while_the_answer_is_awaited(bat: Bat, maker: User):
    asked_of(bat, maker)

    with pytest.raises(Refused) as refused:
        stages.pass_inspection(bat, rows=[a_row()], in_tolerance=False, by=maker, reason="it is late")

    assert refused.value.key == "consent_needed"


def test_for_a_child_the_guardian_answers(child: Player, maker: User):
    child_sheet: dict[str, Any] = {
        "player": {"age_years": 12, "height_mm": 1500},
        "level": "junior",
        "present_bat": {},
    }
    commission = a_commission(child, **child_sheet)
    proposal = propose_to(commission, maker)
    bat = lifecycle.accept(commission, by=child.holder, seen=proposal.snapshot_hash, at=MOMENT)
    stages.begin(bat, by=maker)
    ask_smaller(bat, length_code="size_5", words="It would make a size 5.", by=maker)
    asked = Consent.objects.select_related("bat__commission__player").get()

    with pytest.raises(Refused) as refused:
        answer_consent(asked, answer=Answer.YES, words="", by=GuardianFactory.create())
    assert refused.value.key == "not_yours"

    answer_consent(asked, answer=Answer.YES, words="", by=child.holder)
    assert "size 5" in text_of(Letter.objects.get(kind="consent_answered")).body


def test_the_question_about_a_smaller_bat_ends_when_the_next_cleft_is_cut(player: Player, maker: User):
    bat = a_bat_in(Stage.CLEFT_SELECTION, player, maker)
    ask_smaller(bat, length_code="harrow", words="It would make a harrow.", by=maker)
    stages.pass_on(bat, by=maker, required=Required())

    assert Consent.objects.get().ended_at is not None


# on the commission's page


def answer(client: Client, bat: Bat, **fields: str) -> Any:
    address = reverse("commissions:answer", args=[bat.commission.code])
    return client.post(address, {"once": new_key(), **fields})


def test_the_page_asks_with_numbers_and_takes_one_answer(bat: Bat, maker: User, player_client: Client):
    asked = asked_of(bat, maker)
    address = reverse("commissions:commission", args=[bat.commission.code])
    page = player_client.get(address).content.decode()
    assert "do you take the bat as it came out?" in page
    assert "1185.0 g" in page.replace(",", "")

    empty = answer(player_client, bat, consent=asked.code)
    assert (empty.status_code, Consent.objects.get().answer) == (422, "")

    assert answer(player_client, bat, consent=asked.code, answer="yes", words="Yes!").status_code == 302
    again = answer(player_client, bat, consent=asked.code, answer="no")
    assert again.status_code == 409
    assert "an answer is given once" in again.content.decode()
    assert Consent.objects.get().answer == "yes"
    assert "You said yes on" in player_client.get(address).content.decode()


def test_a_stranger_and_staff_find_no_question(
    bat: Bat, maker: User, other_player_client: Client, maker_client: Client, bench_client: Client
):
    asked = asked_of(bat, maker)

    for client in (other_player_client, maker_client, bench_client):
        assert answer(client, bat, consent=asked.code, answer="yes").status_code == 404
    assert Consent.objects.get().answer == ""


def test_a_question_of_another_commission_is_not_answered_here(
    bat: Bat, maker: User, player: Player, player_client: Client
):
    other = a_bat_in(Stage.INSPECTION, player, maker, at=MOMENT + timedelta(days=1))
    asked = asked_of(other, maker)

    assert answer(player_client, bat, consent=asked.code, answer="yes").status_code == 404


def test_nothing_is_asked_on_the_page_once_the_bat_went_back(bat: Bat, maker: User, player_client: Client):
    asked_of(bat, maker)
    stages.go_back(bat, to=Stage.FINISHING, by=maker, reason="a lighter grip")

    page = player_client.get(reverse("commissions:commission", args=[bat.commission.code]))

    assert 'id="asked"' not in page.content.decode()


@pytest.mark.django_db(transaction=True)
def test_yes_and_no_at_once_keep_one_of_them(player: Player, maker: User):
    asked_of(a_bat_in(Stage.INSPECTION, player, maker), maker)
    together, refused = Barrier(2), []

    def say(word: Answer) -> None:
        asked = Consent.objects.select_related("bat__commission__player").get()
        together.wait(10)
        try:
            answer_consent(asked, answer=word, words="", by=player.holder)
        except Refused as error:
            refused.append(error.key)
        finally:
            connection.close()

    both = [Thread(target=say, args=(word,)) for word in (Answer.YES, Answer.NO)]
    for one in both:
        one.start()
    for one in both:
        one.join()

    assert refused == ["answered_already"]
    assert Letter.objects.filter(kind="consent_answered").count() == 1


def test_my_page_and_the_morning_page_tell_of_question_and_answer(
    bat: Bat, maker: User, player: Player, player_client: Client, maker_client: Client
):
    asked = asked_of(bat, maker)
    assert "the maker asks you something" in player_client.get(reverse("commissions:my")).content.decode()

    answer_consent(asked, answer=Answer.NO, words="Too heavy.", by=player.holder)

    assert "the maker asks you" not in player_client.get(reverse("commissions:my")).content.decode()
    morning = maker_client.get(reverse("review:morning")).content.decode()
    assert "the player does not take it so" in morning
    stages.go_back(bat, to=Stage.HANDLE_FITTING, by=maker, reason="20 g off the back")
    assert "does not take it" not in maker_client.get(reverse("review:morning")).content.decode()
