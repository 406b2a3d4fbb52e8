"""From a draft to the maker: left to an address, claimed at sign-in, given a player, sent."""

import re
from datetime import date, timedelta

import pytest
import time_machine
from django.contrib.messages import get_messages
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Commission
from orders.interview.access import COOKIE_LASTS
from orders.interview.drafts import DraftRefused, forget_abandoned, hand_to, say_who
from orders.interview.models import Fitting
from orders.messages.models import Letter
from orders.people.link_tokens import token_of
from orders.people.models import Player, SignInLink, User
from tests.cast import signed_in
from tests.journeys.world import TYPED, a_draft
from tests.orders.interview.walking import begin, fitting_of, give, once_key

pytestmark = pytest.mark.django_db


def url(name: str, code: str) -> str:
    return reverse(f"interview:{name}", args=[code])


def fill_in(client: Client, *, age: int = 30, height: str = "175 cm") -> str:
    code = begin(client)
    give(client, code, "you", age=str(age), height=height)
    return code


def submit(client: Client, step: str, code: str, /, **form: str):
    key = once_key(client.get(url(step, code)).content.decode())
    return client.post(url(step, code), {"once": key, **form})


def send(client: Client, code: str):
    key = once_key(client.get(url("draft", code)).content.decode())
    return client.post(url("send", code), {"once": key})


def sign_in_by_letter(client: Client) -> None:
    link = SignInLink.objects.latest("pk")
    opened = client.get(reverse("people:open-link", args=[token_of(link.seed)]))
    assert opened.headers["Location"] == reverse("people:link")
    assert client.post(reverse("people:link")).status_code == 302


def test_keep_writes_a_sign_in_letter_and_signing_in_claims_the_draft(anyone: Client, workshop) -> None:
    code = fill_in(anyone)
    response = submit(anyone, "keep", code, email="New@Players.example")
    assert response.headers["Location"] == reverse("people:letter-on-its-way")
    assert Letter.objects.get().kind == "sign_in"
    assert fitting_of(code).waiting_for == "new@players.example"
    sign_in_by_letter(anyone)
    fitting = fitting_of(code)
    assert fitting.holder is not None
    assert (fitting.holder.email, fitting.browser_hash, fitting.waiting_for) == (
        "new@players.example",
        "",
        "",
    )


def test_keep_refuses_what_is_no_address(anyone: Client, workshop) -> None:
    code = fill_in(anyone)
    response = submit(anyone, "keep", code, email="me at home")
    assert response.status_code == 422
    assert "me at home" in response.content.decode()
    assert not Letter.objects.exists()


def test_kept_draft_is_claimed_from_another_device(anyone: Client, workshop) -> None:
    code = fill_in(anyone)
    submit(anyone, "keep", code, email="new@players.example")
    elsewhere = Client()
    User.objects.create_holder("new@players.example")
    ask = elsewhere.post(reverse("people:sign-in"), {"email": "new@players.example"})
    assert ask.status_code == 302
    sign_in_by_letter(elsewhere)
    assert elsewhere.get(url("draft", code)).status_code == 200


def test_claimed_draft_is_closed_to_the_browser_that_began_it(anyone: Client, workshop) -> None:
    code = fill_in(anyone)
    Fitting.objects.filter(code=code).update(holder=User.objects.create_holder("new@players.example"))
    assert anyone.get(url("draft", code)).status_code == 404


def test_draft_left_to_another_address_is_not_claimed(anyone: Client, player_user: User) -> None:
    code = fill_in(anyone)
    Fitting.objects.filter(code=code).update(waiting_for="somebody@players.example")
    ask = anyone.post(reverse("people:sign-in"), {"email": player_user.email})
    assert ask.status_code == 302
    sign_in_by_letter(anyone)
    assert fitting_of(code).holder is None


def test_who_and_send_make_a_commission(player_client: Client, player_user: User) -> None:
    code = fill_in(player_client)
    assert submit(player_client, "who", code, whom="self").status_code == 302
    response = send(player_client, code)
    commission = Commission.objects.get()
    assert response.headers["Location"] == reverse("commissions:commission", args=[commission.code])
    assert (commission.holder, commission.player.name) == (player_user, player_user.name)
    assert commission.sheet["player"]["height_mm"] == 1750
    assert fitting_of(code).state == Fitting.State.SENT


def test_send_twice_makes_one_commission(player_client: Client) -> None:
    code = fill_in(player_client)
    submit(player_client, "who", code, whom="self")
    key = once_key(player_client.get(url("draft", code)).content.decode())
    answers = [player_client.post(url("send", code), {"once": key}) for _ in range(2)]
    assert answers[0].headers["Location"] == answers[1].headers["Location"]
    assert Commission.objects.count() == 1


def test_sent_fitting_can_no_longer_be_changed(player_client: Client) -> None:
    code = fill_in(player_client)
    submit(player_client, "who", code, whom="self")
    send(player_client, code)
    response = give(player_client, code, "you", age="40", height="180 cm")
    assert response.headers["Location"] == url("draft", code)
    assert fitting_of(code).answers["age"] == {"": "30"}


def test_what_is_sent_keeps_its_player_whatever_another_window_says(
    player_client: Client, player_user: User
) -> None:
    code = fill_in(player_client)
    submit(player_client, "who", code, whom="self")
    as_read = fitting_of(code)
    send(player_client, code)
    with pytest.raises(DraftRefused, match="meanwhile"):
        say_who(as_read, player=None, name="Else", born=None, relation="", today=date(2026, 11, 25))
    assert fitting_of(code).player == Commission.objects.get().player
    assert [one.name for one in player_user.players.all()] == [player_user.name]


def test_draft_is_handed_to_one_account_only(maker_client: Client) -> None:
    code = fill_in(maker_client)
    as_read = fitting_of(code)
    submit(maker_client, "keep", code, email="first@players.example", name="First")
    letters = Letter.objects.count()
    with pytest.raises(DraftRefused, match="meanwhile"):
        hand_to(as_read, "second@players.example", name="Second", sign_in_path="/sign-in/")
    holder = fitting_of(code).holder
    assert holder is not None
    assert holder.email == "first@players.example"
    assert Letter.objects.count() == letters
    assert not User.objects.filter(email="second@players.example").exists()


def test_send_without_a_player_is_refused(player_client: Client) -> None:
    code = fill_in(player_client)
    start = player_client.get(reverse("interview:start")).content.decode()
    response = player_client.post(url("send", code), {"once": once_key(start)})
    assert response.headers["Location"] == url("draft", code)
    assert not Commission.objects.exists()
    assert "Say whom the bat is for first." in [str(one) for one in get_messages(response.wsgi_request)]


def test_stranger_can_neither_say_who_nor_send(player_client: Client, other_player_client: Client) -> None:
    code = fill_in(player_client)
    start = other_player_client.get(reverse("interview:start")).content.decode()
    for name in ("who", "send"):
        assert other_player_client.post(url(name, code), {"once": once_key(start)}).status_code == 404


@time_machine.travel("2026-11-25T12:00:00Z", tick=False)
def test_child_needs_a_guardian_with_date_of_birth_and_relation(
    player_client: Client, player_user: User
) -> None:
    code = fill_in(player_client, age=12, height="150 cm")
    page = player_client.get(url("who", code)).content.decode()
    assert "under 18" in page
    assert 'value="self"' not in page
    refused = submit(player_client, "who", code, whom="other", name="Robin")
    text = refused.content.decode()
    assert refused.status_code == 422
    assert 'name="whom" value="other"' in page
    for words in ("Give the date of birth", "Say how you are related", "an adult must answer"):
        assert words in text
    assert not Player.objects.exists()
    done = submit(
        player_client,
        "who",
        code,
        whom="other",
        name="Robin",
        born="2014-03-02",
        relation="mother",
        adult="on",
    )
    assert done.status_code == 302
    child = Player.objects.get()
    assert (child.born, child.relation, child.holder.role) == (date(2014, 3, 2), "mother", "guardian")
    send(signed_in(User.objects.get(pk=player_user.pk)), code)
    assert Commission.objects.get().player == child


@time_machine.travel("2026-11-25T12:00:00Z", tick=False)
def test_child_of_another_age_than_answered_is_refused(guardian_client: Client) -> None:
    code = fill_in(guardian_client, age=12, height="150 cm")
    response = submit(
        guardian_client,
        "who",
        code,
        whom="other",
        name="Robin",
        born="2012-03-02",
        relation="father",
        adult="on",
    )
    assert response.status_code == 422
    assert "not that of the age" in response.content.decode()
    assert fitting_of(code).player is None
    assert not Player.objects.exists()


def test_counter_hands_the_fitting_to_an_account_and_the_maker_sends_it(maker_client: Client) -> None:
    code = fill_in(maker_client)
    response = submit(maker_client, "keep", code, email="walked@in.example", name="Wynn Walker")
    assert response.headers["Location"] == url("draft", code)
    fitting = fitting_of(code)
    assert fitting.holder is not None
    assert fitting.holder.name == "Wynn Walker"
    assert Letter.objects.get().kind == "fitting_waits"
    submit(maker_client, "who", code, whom="self")
    send(maker_client, code)
    commission = Commission.objects.get()
    assert (commission.holder.email, commission.player.name) == ("walked@in.example", "Wynn Walker")


def test_counter_refuses_the_address_of_staff(maker_client: Client, bench_hand: User) -> None:
    code = fill_in(maker_client)
    response = submit(maker_client, "keep", code, email=bench_hand.email, name="Hazel")
    assert response.status_code == 422
    assert fitting_of(code).holder is None


def test_counter_cannot_send_for_a_child(maker_client: Client) -> None:
    code = fill_in(maker_client, age=12, height="150 cm")
    submit(maker_client, "keep", code, email="parent@in.example", name="Pat Parent")
    page = maker_client.get(url("draft", code)).content.decode()
    assert "the guardian signs in with their own address" in page
    assert maker_client.get(url("who", code)).headers["Location"] == url("draft", code)


def test_who_for_a_child_offers_only_children(
    guardian_client: Client, guardian_user: User, child: Player
) -> None:
    Player.objects.create(holder=guardian_user, name="Cam Cedar")
    code = fill_in(guardian_client, age=12, height="150 cm")
    page = guardian_client.get(url("who", code)).content.decode()
    assert child.name in page
    assert "for Cam Cedar" not in page


def test_start_lists_the_drafts_of_this_browser_only(anyone: Client, workshop) -> None:
    code = fill_in(anyone)
    assert code in anyone.get(reverse("interview:start")).content.decode()
    assert code not in Client().get(reverse("interview:start")).content.decode()


@pytest.mark.parametrize(("seconds_past", "kept"), [(-1, True), (1, False)])
def test_draft_that_nobody_holds_is_forgotten_with_its_cookie(
    anyone: Client, workshop, seconds_past: int, kept: bool
) -> None:
    code = fill_in(anyone)
    then = fitting_of(code).changed_at + timedelta(seconds=COOKIE_LASTS + seconds_past)
    with time_machine.travel(then, tick=False):
        forget_abandoned()
    assert Fitting.objects.filter(code=code).exists() is kept


def test_draft_that_somebody_holds_is_kept(player_client: Client) -> None:
    code = fill_in(player_client)
    with time_machine.travel(fitting_of(code).changed_at + timedelta(days=400), tick=False):
        forget_abandoned()
    assert Fitting.objects.filter(code=code).exists()


def test_draft_opens_with_the_bat_in_use_beside_the_new_one(player: Player):
    typed = {**TYPED, "bat_liked": {"": "yes"}, "bat_mass": {"": "1180 g"}, "bat_overall": {"": "851 mm"}}
    draft = a_draft(typed, holder=player.holder, player=player)
    page = signed_in(player.holder).get(reverse("interview:draft", args=[draft.code])).content.decode()
    assert page.index("Beside the bat you use now") < page.index('id="drawing"')
    assert "1180 g" in page


def test_childs_draft_talks_of_length_mass_and_handle_and_folds_the_rest(player: Player):
    typed = {**TYPED, "age": {"": "10"}, "height": {"": "1350 mm"}}
    draft = a_draft(typed, holder=player.holder, player=player)
    page = signed_in(player.holder).get(reverse("interview:draft", args=[draft.code])).content.decode()
    spoken = re.findall(r"<h4>([^<:]+):", page)
    assert {"Length", "Mass", "Toe guard"} <= set(spoken)
    assert not {"Profile", "Bow", "Kind of handle", "Edges"} & set(spoken)
    assert reverse("interview:besides", args=[draft.code]) not in page


def test_what_pulls_apart_is_told_in_numbers(player: Player):
    typed = {**TYPED, "wish_sweet_spot": {"": "long"}, "wish_mass": {"max": "1120 g"}}
    draft = a_draft(typed, holder=player.holder, player=player)
    page = signed_in(player.holder).get(reverse("interview:draft", args=[draft.code])).content.decode()
    apart = page[page.index('id="apart"') : page.index("Every choice, and why")]
    assert re.search(r"In numbers: [^<]*a middle [^,<]+ longer", apart)
