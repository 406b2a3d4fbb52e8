import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from fitting.sheets.faults import read_sheet
from fitting.sheets.weighing import Weighing
from orders.commissions import lifecycle
from orders.commissions.models import Bat, Commission, JournalEntry, Proposal
from orders.commissions.states import ProposalState, Stage, State
from orders.interview.models import Fitting
from orders.messages.models import Letter
from orders.people.once import new_key
from orders.words.measures import show_mass
from orders.words.sweet_spot import say_peak, say_reach, soft_place
from tests.factories import a_bat_in, a_commission, a_delivered_bat, propose_to
from tests.finished import a_bat_with_its_player
from tests.weighings import kept_by_model_1, sweet_spot_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def proposed(player, maker):
    """A commission with an open proposal, valid as of today."""
    commission = a_commission(player)
    propose_to(commission, maker, at=timezone.now(), words="Light and quick.")
    return commission


def address(name, commission):
    return reverse(f"commissions:{name}", args=[commission.code])


def accept_form(commission, **changes):
    return {"once": new_key(), "seen": commission.proposals.get().snapshot_hash, **changes}


def test_my_page_without_anything_says_how_to_begin(player_client, player):
    page = player_client.get(reverse("commissions:my")).content.decode()

    assert "It begins with a fitting" in page
    assert reverse("interview:start") in page


def test_my_page_shows_own_bats_and_drafts_only(player_client, player, other_player_user, maker):
    mine = a_commission(player)
    Fitting.objects.create(holder=player.holder, player=player)
    theirs = Fitting.objects.create(holder=other_player_user)

    page = player_client.get(reverse("commissions:my")).content.decode()

    assert mine.code in page
    assert "with the maker" in page
    assert "A fitting for Ash Alder" in page
    assert theirs.code not in page


@pytest.mark.parametrize("rows", [1, 3])
def test_my_page_asks_the_database_as_often_for_any_number_of_bats(
    rows, player_client, player, maker, django_assert_num_queries
):
    for _ in range(rows):
        a_bat_in(Stage.SHAPING, player, maker)

    player_client.get(reverse("commissions:my"))  # the first page of a session writes when it was seen
    with django_assert_num_queries(9):
        page = player_client.get(reverse("commissions:my"))

    assert page.content.count(b"being made") == rows


def test_a_stranger_finds_nothing(other_player_client, proposed):
    before = Commission.objects.values().get()
    form = accept_form(proposed)

    for name in ("commission", "accept", "ask-change", "cancel"):
        assert other_player_client.get(address(name, proposed)).status_code in (404, 405)
        assert other_player_client.post(address(name, proposed), form).status_code in (404, 405)
    assert other_player_client.get(address("commission", proposed)).status_code == 404
    assert other_player_client.post(address("accept", proposed), form).status_code == 404

    assert Commission.objects.values().get() == before


def test_nobody_signed_in_is_led_to_sign_in(anyone, proposed):
    answer = anyone.get(address("commission", proposed))

    assert answer.status_code == 302
    assert answer["Location"].startswith(reverse("people:sign-in"))


def test_staff_have_their_own_pages(maker_client, bench_client, proposed):
    assert maker_client.get(address("commission", proposed)).status_code == 404
    assert bench_client.get(address("commission", proposed)).status_code == 404


def test_the_proposal_stands_on_the_page_as_it_is_stored(player_client, proposed):
    page = player_client.get(address("commission", proposed)).content.decode()
    proposal = Proposal.objects.get()

    assert f'name="seen" value="{proposal.snapshot_hash}"' in page
    assert "Accept and agree to pay £420.00" in page
    assert "with £70.00 tax (20 %) in it" in page
    assert "Light and quick." in page
    assert "made to your measure" in page
    assert "Subject to the willow" in page
    assert f"{round(proposal.snapshot['weighing']['mass_g'])} g" in page
    assert "−31 g" in page


def test_accepting_and_asking_for_a_change_are_equally_prominent(player_client, proposed):
    page = player_client.get(address("commission", proposed)).content.decode()

    answers = page[page.index('class="actions ruled-off answer"') :]
    answers = answers[: answers.index("</section>")]
    assert re.findall(r'<(button|a) class="([^"]*)"', answers) == [("button", "do"), ("a", "do")]


def test_what_the_maker_only_tries_out_is_not_shown(player_client, player, maker):
    commission = a_commission(player)
    version = commission.builds.get()
    version.pk, version.number, version.origin = None, 2, "edited"
    version.weighing = {**version.weighing, "mass_g": 1777.0}
    version.note = "SECRET-NOTE-7f3a"
    version.save(force_insert=True)

    page = player_client.get(address("commission", commission)).content.decode()

    assert "1777" not in page
    assert "SECRET-NOTE-7f3a" not in page


def test_accepting_makes_the_bat_and_leads_back(player_client, proposed):
    answer = player_client.post(address("accept", proposed), accept_form(proposed))

    assert (answer.status_code, answer["Location"]) == (302, address("commission", proposed))
    assert Commission.objects.get().state == State.ACCEPTED
    assert Bat.objects.count() == 1
    page = player_client.get(address("commission", proposed)).content.decode()
    assert "What was agreed: £420.00" in page


def test_a_double_click_accepts_once(player_client, proposed):
    form = accept_form(proposed)

    answers = [player_client.post(address("accept", proposed), form) for _ in range(3)]

    assert {answer["Location"] for answer in answers} == {address("commission", proposed)}
    assert Bat.objects.count() == 1
    assert Letter.objects.filter(kind="accepted").count() == 1


def test_accepting_what_has_changed_shows_what_is_offered_now(player_client, proposed, maker):
    old = Proposal.objects.get().snapshot_hash
    proposed.refresh_from_db()
    lifecycle.withdraw(proposed, by=maker)
    newer = propose_to(proposed, maker, at=timezone.now(), words="Dearer willow.")

    answer = player_client.post(address("accept", proposed), {"once": new_key(), "seen": old})

    assert answer.status_code == 409
    page = answer.content.decode()
    assert "The proposal has changed since you opened the page" in page
    assert "Dearer willow." in page
    assert newer.snapshot_hash in page
    assert Commission.objects.get().state == State.PROPOSED


def test_an_expired_proposal_cannot_be_accepted(player_client, player, maker):
    commission = a_commission(player)
    propose_to(commission, maker, at=timezone.now() - timedelta(days=20))

    page = player_client.get(address("commission", commission)).content.decode()
    answer = player_client.post(address("accept", commission), accept_form(commission))

    assert "Accept and agree" not in page
    assert answer.status_code == 409
    assert "The time to answer this proposal is over" in answer.content.decode()
    assert Commission.objects.get().state == State.PROPOSED


def test_a_guardian_accepts_for_a_child(guardian_client, child, maker):
    commission = a_commission(child)
    propose_to(commission, maker, at=timezone.now())

    guardian_client.post(address("accept", commission), accept_form(commission))

    entry = JournalEntry.objects.get(verb="accept")
    assert entry.by == child.holder


def test_a_child_reaching_a_players_account_cannot_accept(player_client, player, maker):
    commission = a_commission(player)
    propose_to(commission, maker, at=timezone.now())
    player.born = timezone.localdate() - timedelta(days=365 * 15)
    player.save()

    page = player_client.get(address("commission", commission)).content.decode()
    answer = player_client.post(address("accept", commission), accept_form(commission))

    assert "Accept and agree" not in page
    assert "Only the guardian can accept" in page
    assert answer.status_code == 409
    assert Commission.objects.get().state == State.PROPOSED


def test_accept_takes_no_other_method(player_client, proposed):
    assert player_client.get(address("accept", proposed)).status_code == 405
    assert player_client.delete(address("ask-change", proposed)).status_code == 405
    assert Commission.objects.get().state == State.PROPOSED


def test_a_form_without_its_key_is_refused(player_client, proposed):
    form = accept_form(proposed)
    del form["once"]

    assert player_client.post(address("accept", proposed), form).status_code == 400
    assert Commission.objects.get().state == State.PROPOSED


def test_asking_for_a_change_reaches_the_maker(player_client, proposed):
    words = {"once": new_key(), "field": "handle", "words": "a thinner handle, please"}

    answer = player_client.post(address("ask-change", proposed), words)

    assert answer["Location"] == address("commission", proposed)
    proposal = Proposal.objects.get()
    assert (proposal.state, proposal.change_words) == (ProposalState.CHANGE_ASKED, "a thinner handle, please")
    assert Commission.objects.get().state == State.CHANGE_ASKED


def test_an_empty_wish_for_change_keeps_what_was_typed(player_client, proposed):
    answer = player_client.post(
        address("ask-change", proposed), {"once": new_key(), "field": "", "words": "thinner"}
    )

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "<title>Error:" in page
    assert "thinner</textarea>" in page
    assert 'href="#id_field' in page
    assert Commission.objects.get().state == State.PROPOSED


def test_cancelling_asks_first_and_says_what_happens(player_client, proposed):
    page = player_client.get(address("cancel", proposed)).content.decode()
    assert "can no longer be accepted" in page
    assert Commission.objects.get().state == State.PROPOSED

    player_client.post(address("cancel", proposed), {"once": new_key(), "why": ""})

    commission = Commission.objects.get()
    assert (commission.state, commission.cancelled_by) == (State.CANCELLED, commission.holder)


def test_cancelling_after_the_cleft_is_cut_is_refused_with_the_reason(player_client, player, maker):
    commission = a_bat_in(Stage.PRESSING, player, maker).commission

    answer = player_client.post(address("cancel", commission), {"once": new_key()})

    assert answer.status_code == 409
    assert "already being worked" in answer.content.decode()
    assert Commission.objects.get().state == State.MAKING


def test_the_drawing_marks_the_part_that_is_worked_on(player_client, player, maker):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    page = player_client.get(address("commission", bat.commission)).content.decode()

    assert "at-work" in page
    assert "being shaped" in page
    assert re.search(r'aria-current="step">shaping', page)


def test_the_page_of_a_delivered_bat_tells_no_internal_reason(player_client, player, maker):
    bat = a_delivered_bat(player, maker)
    JournalEntry.objects.create(
        commission=bat.commission,
        bat=bat,
        verb="go_back",
        from_state="shaping",
        to_state="pressing",
        by=maker,
        data={"reason": "INT-NOTE-7f3a"},
    )

    page = player_client.get(address("commission", bat.commission)).content.decode()

    assert "Back to pressing" in page
    assert "INT-NOTE-7f3a" not in page
    assert maker.name not in page


def test_letters_to_the_holder_stand_on_the_page_and_no_others(player_client, proposed):
    page = player_client.get(address("commission", proposed)).content.decode()

    assert "A proposal for your bat, commission 0001" in page
    assert "waits for you on the morning page" not in page


@pytest.mark.parametrize("state", ["sent", "proposed", "ready", "delivered"])
def test_the_page_asks_the_database_a_bounded_number_of_times(
    state, player_client, player, maker, django_assert_max_num_queries
):
    if state in ("ready", "delivered"):
        bat = a_bat_in(Stage.DONE, player, maker) if state == "ready" else a_delivered_bat(player, maker)
        commission = bat.commission
    else:
        commission = a_commission(player)
        if state == "proposed":
            propose_to(commission, maker, at=timezone.now())

    player_client.get(address("commission", commission))  # the first of a session writes when it was seen
    with django_assert_max_num_queries(16):
        page = player_client.get(address("commission", commission))

    assert f"commission {commission.reference}" in page.content.decode()


def test_page_of_a_made_bat_tells_what_was_measured_not_what_was_forecast(player, maker, player_client):
    bat = a_bat_with_its_player(player, maker)
    inspection = bat.inspections.get()
    [mass] = [row for row in inspection.rows if row["key"] == "mass"]
    mass["built"] = mass["agreed"] + 7
    inspection.save(update_fields=["rows"])

    page = player_client.get(reverse("commissions:commission", args=[bat.commission.code])).content.decode()

    assert show_mass(mass["built"]) in page
    assert "mass, the forecast" not in page


def test_commission_page_tells_where_the_offered_bat_hits_hardest(player_client, proposed):
    sweet = sweet_spot_of(read_sheet(Weighing, proposed.proposals.get().snapshot["weighing"]))

    page = player_client.get(address("commission", proposed)).content.decode()

    assert say_peak(sweet) in page
    assert say_reach(sweet) in page
    assert "This is told for one blow" in page
    rows = proposed.proposals.get().snapshot["laws"]
    (gauge,) = [row for row in rows if (row["what"], row["coverings"]) == ("gauge", "off")]
    assert f"{soft_place(gauge['station_from_toe_mm'])} above the toe</span>" in page
    assert "older model" not in page


def test_commission_page_of_an_offer_by_the_first_model_shows_what_it_has(player_client, proposed):
    proposal = proposed.proposals.get()
    kept = {**proposal.snapshot, "weighing": kept_by_model_1(proposal.snapshot["weighing"])}
    Proposal.objects.filter(pk=proposal.pk).update(snapshot=kept)

    answer = player_client.get(address("commission", proposed))

    page = answer.content.decode()
    assert answer.status_code == 200
    assert show_mass(kept["weighing"]["mass_g"]) in page
    assert "thickest, above the toe" in page
    assert "older model" in page
    assert "hits hardest, above the toe" not in page
