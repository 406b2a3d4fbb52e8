"""The returns desk: what is said before deciding, deciding, and refusing with nothing lost."""

import pytest
from django.test import Client
from django.urls import reverse

from orders.care.models import Return
from orders.commissions.builds import build_of
from orders.commissions.models import Bat, Commission, Proposal
from orders.commissions.states import Origin, Stage, State
from orders.people.models import Player, User
from tests.finished import WORDS, a_return, post, through_the_stages
from workshop.bench.inspection import pass_bat
from workshop.bench.work import work_on


def page_of(found: Return) -> str:
    return reverse("returns:one", args=[found.code])


def text(response) -> str:
    return response.content.decode()


def test_desk_without_returns_says_what_it_is_for(workshop, maker_client: Client):
    assert "No bat has come back." in text(maker_client.get(reverse("returns:desk")))


def test_desk_tells_what_waits_what_is_at_the_bench_and_what_is_done(
    player: Player, maker: User, maker_client: Client
):
    found = a_return(player, maker)
    page = text(maker_client.get(reverse("returns:desk")))
    assert "To be decided" in page
    assert WORDS in page
    post(maker_client, page_of(found), decision="adjust", stages=["finishing"], words="A grip.")
    page = text(maker_client.get(reverse("returns:desk")))
    assert "On their way over the bench" in page
    assert "To be decided" not in page
    assert "being put right, waiting for the bench" in page


@pytest.mark.parametrize("rows", [1, 3])
def test_desk_takes_the_same_queries_for_one_and_three(
    rows: int, player: Player, maker: User, maker_client: Client, django_assert_num_queries
):
    for _ in range(rows):
        a_return(player, maker)
    with django_assert_num_queries(9):
        page = text(maker_client.get(reverse("returns:desk")))
    assert page.count(WORDS) == rows


def test_page_says_words_answers_and_what_cannot_be_done_before_deciding(
    player: Player, maker: User, maker_client: Client
):
    found = a_return(player, maker, lifts="toe_heavy", damage=["through"])
    page = text(maker_client.get(page_of(found)))
    assert WORDS in page
    assert "heavy at the toe" in page
    assert '<dd class="attention">a crack goes right through</dd>' in page
    assert page.index("Cannot be done") < page.index("Decide</h2>")
    assert "add wood" in page
    assert "Photographs of face, edges, toe and splice" in page
    assert "Built against agreed" in page
    assert "One more grip" in page


@pytest.mark.parametrize("address", ["desk", "one", "look"])
def test_desk_is_the_makers(
    address: str, player: Player, maker: User, bench_client: Client, player_client: Client
):
    found = a_return(player, maker)
    where = reverse(f"returns:{address}", args=[] if address == "desk" else [found.code])
    for client in (bench_client, player_client):
        assert client.get(where).status_code in (404, 405)
        assert client.post(where).status_code in (404, 405)


def test_unknown_return_is_not_there(workshop, maker_client: Client):
    assert maker_client.get(reverse("returns:one", args=["zzzzzzzzzz"])).status_code == 404


def test_adjusting_by_form_aims_the_new_sheet_from_what_the_scales_said(
    player: Player, maker: User, maker_client: Client
):
    found = a_return(player, maker)
    mass = next(row["built"] for row in found.bat.inspections.get().rows if row["key"] == "mass")

    response = post(
        maker_client,
        page_of(found),
        decision="adjust",
        adjustments=["second_grip", "re_bind"],
        to_do="Mind the join.",
        words="A second grip, and bound anew.",
    )

    assert response.status_code == 302
    kept = found.commission.builds.get(origin=Origin.ADJUSTED)
    assert build_of(kept).grips.count == 2
    assert build_of(kept).mass_g.target == round(mass + 50)
    opened = Bat.objects.get().rounds.get(number=2)
    assert opened.stages == ["handle_fitting", "finishing"]
    assert opened.words == "One more grip\nBind the handle anew\nMind the join."


def test_adjusted_bat_passes_the_bench_by_what_is_read_again(
    player: Player, maker: User, maker_client: Client
):
    found = a_return(player, maker)
    post(maker_client, page_of(found), decision="adjust", adjustments=["second_grip"], words="A grip.")
    bat = Bat.objects.get()
    target = work_on(bat).build.mass_g.target

    through_the_stages(bat, maker)
    inspection = pass_bat(work_on(bat), by=maker)

    assert inspection.in_tolerance
    assert next(row for row in inspection.rows if row["key"] == "mass")["agreed"] == target


def test_rebuilding_by_form_makes_what_was_agreed_even_after_an_adjustment(
    player: Player, maker: User, maker_client: Client
):
    found = a_return(player, maker)
    post(maker_client, page_of(found), decision="adjust", adjustments=["second_grip"], words="A grip.")
    bat = Bat.objects.get()
    through_the_stages(bat, maker)
    pass_bat(work_on(bat), by=maker)
    deliver = reverse("returns:deliver", args=[bat.commission.code])
    assert post(maker_client, deliver, how="sent").status_code == 302
    client = Client()
    client.force_login(player.holder)
    post(client, reverse("care:send-back", args=[bat.commission.code]), words="It has cracked.")

    again = Return.objects.get(state="asked")
    post(maker_client, page_of(again), decision="rebuild", words="Made again.")

    bat = Bat.objects.get()
    assert (bat.stage, bat.round, bat.commission.state) == (Stage.WAITING, 3, State.MENDING)
    agreed = Proposal.objects.get().snapshot["build"]
    assert work_on(bat).build.model_dump(mode="json") == agreed


def test_refund_by_form(player: Player, maker: User, maker_client: Client):
    found = a_return(player, maker)
    post(maker_client, page_of(found), decision="refund", amount="200.50", sure="on", words="Half of it.")
    assert Return.objects.get().refund == 20050
    assert Commission.objects.get().state == State.REFUNDED


@pytest.mark.parametrize(
    ("fields", "field", "said"),
    [
        ({"decision": "adjust"}, "stages", "Tick an adjustment above"),
        ({"decision": "refund", "amount": "420.01", "sure": "on"}, "amount", "at most £420.00"),
        ({"decision": "adjust", "adjustments": ["one_grip_less"]}, "adjustments", "it has one grip"),
    ],
)
def test_decision_with_a_fault_keeps_what_was_typed_and_changes_nothing(
    fields, field: str, said: str, player: Player, maker: User, maker_client: Client
):
    found = a_return(player, maker)
    typed = {"words": "My answer.", "to_do": "Sand it.", **fields}

    response = post(maker_client, page_of(found), **typed)

    assert response.status_code == 422
    page = text(response)
    assert said in page
    assert f'href="#id_{field}' in page
    assert "Sand it." in page
    assert Return.objects.get().state == "asked"
    assert Commission.objects.get().state == State.BACK
    assert not Commission.objects.get().builds.filter(origin=Origin.ADJUSTED).exists()


def test_deciding_twice_says_that_it_is_decided(player: Player, maker: User, maker_client: Client):
    found = a_return(player, maker)
    where = page_of(found)
    keys = [text(maker_client.get(where)).split('name="once" value="')[1][:26] for _ in range(2)]
    first = {"once": keys[0], "decision": "find_nothing", "words": "Sound."}
    assert maker_client.post(where, first).status_code == 302
    second = {"once": keys[1], "decision": "refund", "amount": "100", "sure": "on", "words": "Money."}
    response = maker_client.post(where, second)
    assert response.status_code == 409
    assert "Nothing was changed" in text(response)
    assert Return.objects.get().decision == "nothing_wrong"


def test_look_tells_the_sum_and_keeps_nothing(player: Player, maker: User, maker_client: Client):
    found = a_return(player, maker)
    where = reverse("returns:look", args=[found.code])
    ticked = {"adjustments": ["second_grip"], "words": "Half typed"}

    whole = maker_client.post(where, ticked)
    part = maker_client.post(where, ticked, headers={"HX-Request": "true"})

    assert "mass +50 g" in text(whole)
    assert "Half typed" in text(whole)
    assert text(part).startswith('<div id="sum"')
    assert "mass +50 g" in text(part)
    assert "<h1" not in text(part)
    assert Return.objects.get().state == "asked"


def test_look_says_when_adjustments_cannot_go_together(player: Player, maker: User, maker_client: Client):
    found = a_return(player, maker)
    where = reverse("returns:look", args=[found.code])
    page = text(maker_client.post(where, {"adjustments": ["one_grip_less"]}))
    assert "cannot be made together: it has one grip" in page
