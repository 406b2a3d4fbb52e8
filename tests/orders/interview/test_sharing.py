"""A draft shown to somebody else by a link: who makes it, what it shows, and how it ends."""

import re
from datetime import timedelta
from urllib.parse import urlsplit

import pytest
import time_machine
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from orders.interview.drafts import forget_abandoned, hand_to, send
from orders.interview.models import Fitting, SharedDraft
from orders.interview.sharing import draft_of_token, share, tidy_shared
from orders.people import rate_limits
from orders.people.link_tokens import hash_of_token
from orders.people.models import Player
from orders.people.once import new_key
from tests.cast import signed_in
from tests.journeys.world import APART_TYPED, TYPED, a_draft

pytestmark = pytest.mark.django_db


@pytest.fixture
def draft(player: Player) -> Fitting:
    """The player's draft, told whom it is for, with wishes that pull apart."""
    return a_draft({**TYPED, **APART_TYPED}, holder=player.holder, player=player)


def page_of(fitting: Fitting) -> str:
    return reverse("interview:share", args=[fitting.code])


def end_of(fitting: Fitting) -> str:
    return reverse("interview:stop-sharing", args=[fitting.code])


def shown_at(token: str) -> str:
    return reverse("interview:shared", args=[token])


def make(client: Client, fitting: Fitting) -> str:
    """Press the button; return the path of the link that the answer shows."""
    answer = client.post(page_of(fitting), {"once": new_key()}).content.decode()
    found = re.search(r'id="shared-link"[^>]*>([^<]+)</textarea>', answer)
    assert found
    return urlsplit(found[1]).path


def test_link_shows_the_bat_to_somebody_without_an_account(player_client, anyone, draft):
    page = anyone.get(make(player_client, draft)).content.decode()
    own = player_client.get(reverse("interview:draft", args=[draft.code])).content.decode()
    mass = re.search(r"[0-9]+ g", own)
    assert mass
    assert mass[0] in page
    assert "<svg" in page
    assert 'class="conflict"' in page
    assert 'class="reason"' in page
    assert "Type A may be played" in page


def test_shared_page_tells_no_name_address_code_or_list_of_answers(player_client, anyone, draft):
    page = anyone.get(make(player_client, draft)).content.decode()
    own = player_client.get(reverse("interview:draft", args=[draft.code])).content.decode()
    for private in (draft.player.name, "What you told us", draft.code):
        assert private in own
        assert private not in page
    assert draft.holder.email not in page
    assert "<form" not in page


def test_shared_page_is_kept_from_caches_searches_and_referrers(player_client, anyone, draft):
    answer = anyone.get(make(player_client, draft))
    assert answer["Cache-Control"] == "no-store, private"
    assert answer["X-Robots-Tag"] == "noindex, nofollow"
    assert answer["Referrer-Policy"] == "no-referrer"


def test_shared_page_offers_no_form_to_somebody_signed_in(player_client, other_player_client, draft):
    page = other_player_client.get(make(player_client, draft)).content.decode()
    assert "Sign out" not in page
    assert "<form" not in page


def test_only_a_hash_of_the_token_is_kept_and_the_link_is_shown_once(player_client, draft):
    path = make(player_client, draft)
    token = path.split("/")[2]
    assert SharedDraft.objects.get().token_hash == hash_of_token(token)
    assert token not in player_client.get(page_of(draft)).content.decode()


def test_same_form_sent_again_makes_no_second_link(player_client, draft):
    form = {"once": new_key()}
    player_client.post(page_of(draft), form)
    kept = SharedDraft.objects.get().token_hash
    again = player_client.post(page_of(draft), form)
    assert again["Location"] == page_of(draft)
    assert SharedDraft.objects.get().token_hash == kept


def test_new_link_ends_the_one_before(player_client, anyone, draft):
    first, second = make(player_client, draft), make(player_client, draft)
    assert anyone.get(first).status_code == 404
    assert "draft, to read" in anyone.get(second).content.decode()


def test_ended_link_shows_nothing(player_client, anyone, draft):
    path = make(player_client, draft)
    assert player_client.post(end_of(draft), {"once": new_key()})["Location"] == page_of(draft)
    assert anyone.get(path).status_code == 404
    assert not SharedDraft.objects.exists()


@pytest.mark.parametrize("token", ["x" * 43, "0", "-"])
def test_wrong_token_shows_nothing(anyone, draft, token):
    share(draft)
    assert anyone.get(shown_at(token)).status_code == 404


def test_hash_is_no_token(anyone, draft):
    share(draft)
    assert anyone.get(shown_at(SharedDraft.objects.get().token_hash)).status_code == 404


@pytest.mark.parametrize(
    ("after", "shows"), [(timedelta(days=30, seconds=-1), True), (timedelta(days=30), False)]
)
def test_link_lasts_thirty_days(draft, after, shows):
    with time_machine.travel(timezone.now(), tick=False):
        token = share(draft)
    made = SharedDraft.objects.get().made_at
    with time_machine.travel(made + after, tick=False):
        assert (draft_of_token(token) == draft) is shows
        tidy_shared()
    assert SharedDraft.objects.exists() is shows


def test_link_ends_when_the_fitting_is_sent(player_user, anyone, player):
    fitting = a_draft(TYPED, holder=player_user, player=player)
    path = shown_at(share(fitting))
    assert "draft, to read" in anyone.get(path).content.decode()
    send(fitting, by=player_user, today=timezone.localdate())
    assert anyone.get(path).status_code == 404
    tidy_shared()
    assert not SharedDraft.objects.exists()


def test_link_ends_with_a_draft_that_is_forgotten(workshop):
    fitting = a_draft(TYPED, browser_hash="x")
    token = share(fitting)
    with time_machine.travel(fitting.changed_at + timedelta(days=61), tick=False):
        forget_abandoned()
    assert draft_of_token(token) is None
    assert not SharedDraft.objects.exists()


def test_shared_draft_follows_what_is_answered_later(draft):
    token = share(draft)
    Fitting.objects.filter(pk=draft.pk).update(sheet={**draft.sheet, "level": "junior"})
    found = draft_of_token(token)
    assert found is not None
    assert found.sheet["level"] == "junior"


@pytest.mark.parametrize("who", ["other_player_user", "guardian_user", "maker", "bench_hand"])
def test_nobody_else_makes_or_ends_a_link(who, request, draft):
    token = share(draft)
    client = signed_in(request.getfixturevalue(who))
    answers = [
        client.get(page_of(draft)),
        *(client.post(at, {"once": new_key()}) for at in (page_of(draft), end_of(draft))),
    ]
    assert [answer.status_code for answer in answers] == [404, 404, 404]
    assert draft_of_token(token) == draft


def test_maker_shares_what_was_begun_at_the_counter_until_it_is_handed_over(maker, player_user):
    fitting = a_draft(TYPED, begun_by=maker)
    client = signed_in(maker)
    make(client, fitting)
    hand_to(fitting, player_user.email, name="Ash", sign_in_path="/")
    assert client.get(page_of(fitting)).status_code == 404
    assert "End the link now" in signed_in(player_user).get(page_of(fitting)).content.decode()


def test_reading_is_limited_by_place(anyone, draft):
    limit = rate_limits.SHARED_DRAFT_FROM_PLACE
    path = shown_at(share(draft))
    for _try in range(limit.most):
        rate_limits.count(limit, "127.0.0.1")
    answer = anyone.get(path)
    assert answer.status_code == 429
    assert int(answer["Retry-After"]) > 0


def test_unfinished_draft_is_not_shared(player_client, player_user):
    fitting = a_draft({"age": {"": "32"}}, holder=player_user)
    answer = player_client.post(page_of(fitting), {"once": new_key()})
    assert answer["Location"] == reverse("interview:page", args=[fitting.code, "you"])
    assert not SharedDraft.objects.exists()


def test_draft_page_tells_of_the_link(player_client, draft):
    page = player_client.get(reverse("interview:draft", args=[draft.code])).content.decode()
    assert page_of(draft) in page
    assert "a link shows it until" not in page
    share(draft)
    assert (
        "a link shows it until"
        in player_client.get(reverse("interview:draft", args=[draft.code])).content.decode()
    )


def test_sent_fitting_is_not_shared(player_client, player_user, player):
    fitting = a_draft(TYPED, holder=player_user, player=player)
    send(fitting, by=player_user, today=timezone.localdate())
    assert player_client.get(page_of(fitting)).status_code == 404
    page = player_client.get(reverse("interview:draft", args=[fitting.code])).content.decode()
    assert page_of(fitting) not in page
