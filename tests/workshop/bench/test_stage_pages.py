"""One bat on its way over the bench, by the bench hand's own forms."""

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Bat, Reading, StepDone
from orders.commissions.states import Stage, State
from orders.people.models import Player, User
from tests.factories import a_bat_in, an_agreed_bat
from tests.workshop.bench.at_bench import do_the_stage, on_the_numbers, sent
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.work import candidates, seen_mark, work_on
from workshop.rack.models import Cleft, CleftState


def test_whole_way_over_the_bench(player: Player, maker: User, bench_client: Client):
    bat, cleft = an_agreed_bat(player, maker), a_cleft(41, maker)
    cleft = _fitting_cleft(bat, maker, cleft)

    sent(bench_client, bat, "begin")
    assert bat.stage == Stage.CLEFT_SELECTION
    assert bat.commission.__class__.objects.get().state == State.MAKING
    assert sent(bench_client, bat, "cleft", cleft=cleft.code).status_code == 302
    page = bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()
    assert "Shaped exactly as drawn it would weigh" in page
    for onward in ("pressing", "shaping", "handle_fitting", "finishing", "inspection"):
        do_the_stage(bench_client, bat)
        answer = sent(bench_client, bat, "pass-on")
        assert answer.status_code == 302, answer.content.decode()
        assert bat.stage == onward
    page = bench_client.get(reverse("bench:inspection", args=[bat.code])).content.decode()
    assert "Every number is in tolerance." in page
    assert sent(bench_client, bat, "inspection").status_code == 302

    assert bat.stage == Stage.DONE
    assert bat.serial
    bat.commission.refresh_from_db()
    assert bat.commission.state == State.READY
    assert Cleft.objects.get(pk=cleft.pk).state == CleftState.USED
    inspection = bat.inspections.get()
    assert inspection.in_tolerance
    assert bat.commission.builds.filter(origin="as_built").exists()


def _fitting_cleft(bat: Bat, maker: User, cleft: Cleft) -> Cleft:
    """Return a cleft in the middle of the bat's density band."""
    band = work_on(bat).build.willow.density_kg_m3
    made = a_cleft(cleft.number + 1, maker, density=(band.min + band.max) / 2)
    assert made in [one.cleft for one in candidates(work_on(bat))]
    return made


def test_pass_on_with_work_missing_says_what_and_changes_nothing(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    answer = sent(bench_client, bat, "pass-on")

    page = answer.content.decode()
    assert answer.status_code == 422
    assert bat.stage == Stage.SHAPING
    assert 'href="#step-cut_outline"' in page
    assert 'href="#id_blade_mass"' in page
    assert "Still missing: The reading “mass of the bare blade”." in page


def test_reading_slipped_point_is_refused_and_all_stays_as_typed(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(Stage.HANDLE_FITTING, player, maker)
    typed = on_the_numbers(bat)
    spine = max((name for name in typed if name.startswith("spine-")), key=lambda name: float(typed[name]))
    meant = typed[spine]
    typed[spine] = f"{float(meant) / 10:g}"

    answer = sent(bench_client, bat, "reading", **typed)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert f"Did you mean {float(meant):g} mm?" in page
    assert f'value="{typed[spine]}"' in page
    assert f'value="{typed["girth_top"]}"' in page
    assert not Reading.objects.exists()


@pytest.mark.parametrize("typed", ["tall", "-3", "NaN", "6 4", "9" * 50])
def test_reading_nonsense_is_refused_at_its_field(
    typed: str, player: Player, maker: User, bench_client: Client
):
    bat = a_bat_in(Stage.FINISHING, player, maker)

    answer = sent(bench_client, bat, "reading", mass=typed)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'href="#id_mass"' in page
    assert 'aria-describedby="aim-mass fault-mass"' in page
    assert not Reading.objects.exists()


def test_reading_shows_at_once_how_far_it_is_off(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.FINISHING, player, maker)
    target, tolerance = _mass_aim(bat)

    sent(bench_client, bat, "reading", mass=f"{target + tolerance + 4:g}", balance="")

    page = bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()

    assert f"{tolerance + 4:g} over, out of tolerance" in page
    assert "1 reading is out of tolerance." in page
    assert Reading.objects.get().value == round((target + tolerance + 4) * 10)


def _mass_aim(bat: Bat) -> tuple[float, float]:
    aim = work_on(bat).build.mass_g
    return aim.target, aim.tolerance


def test_reading_left_as_it_was_shown_is_not_kept_twice(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.FINISHING, player, maker)
    sent(bench_client, bat, "reading", mass="1150")
    sent(bench_client, bat, "reading", mass="1149.5", **{"was-mass": "1150"})

    sent(bench_client, bat, "reading", mass="1150", **{"was-mass": "1150"})

    assert [row.value for row in Reading.objects.all()] == [11500, 11495]


def test_step_is_noted_with_who_and_taken_back_by_a_new_entry(
    player: Player, maker: User, bench_hand: User, bench_client: Client
):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    sent(bench_client, bat, "step", step="hollow")
    done = StepDone.objects.get()
    assert done.by == bench_hand

    sent(bench_client, bat, "take-back", kind="step", entry=str(done.pk))

    assert StepDone.objects.count() == 2
    assert not StepDone.objects.standing().exists()


def test_step_by_htmx_gets_just_the_steps(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    bench_client.defaults["HTTP_HX_REQUEST"] = "true"

    page = sent(bench_client, bat, "step", step="hollow").content.decode()

    assert page.startswith('<ol id="steps"')
    assert "<html" not in page
    assert "Take back" in page


def test_step_of_another_stage_is_not_there(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    assert sent(bench_client, bat, "step", step="bind").status_code == 404
    assert not StepDone.objects.exists()


def test_take_back_of_another_bats_entry_is_not_there(player: Player, maker: User, bench_client: Client):
    bat, other = a_bat_in(Stage.SHAPING, player, maker), a_bat_in(Stage.SHAPING, player, maker)
    sent(bench_client, other, "step", step="hollow")

    answer = sent(bench_client, bat, "take-back", kind="step", entry=str(StepDone.objects.get().pk))

    assert answer.status_code == 404
    assert StepDone.objects.standing().count() == 1


def test_two_people_on_one_stage_the_second_is_told(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    seen_by_the_second = seen_mark(bat)
    do_the_stage(bench_client, bat)
    sent(bench_client, bat, "pass-on")

    answer = sent(bench_client, bat, "pass-on", seen=seen_by_the_second)

    assert answer.status_code == 422
    assert "Somebody else was faster" in answer.content.decode()
    assert bat.stage == Stage.HANDLE_FITTING


def test_go_back_needs_a_reason(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    refused = sent(bench_client, bat, "go-back", to="pressing", reason=" ")
    assert refused.status_code == 422
    assert bat.stage == Stage.SHAPING

    sent(bench_client, bat, "go-back", to="pressing", reason="still soft at the edges")
    assert bat.stage == Stage.PRESSING
    assert bat.journal.filter(verb="go_back").get().data["reason"] == "still soft at the edges"


def test_photograph_that_is_none_is_refused(player: Player, maker: User, bench_client: Client, tmp_path):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    note = tmp_path / "note.jpg"
    note.write_text("not a photograph")

    with note.open("rb") as upload:
        answer = sent(bench_client, bat, "photograph", photograph=upload)

    assert answer.status_code == 422
    assert "no photograph that can be read" in answer.content.decode()
    assert not bat.photos.exists()


def test_bench_of_a_cancelled_commission_offers_nothing(player: Player, maker: User, maker_client: Client):
    from orders.commissions import lifecycle

    bat = a_bat_in(Stage.SHAPING, player, maker)
    lifecycle.cancel(bat.commission, by=maker, why="moved away")

    page = maker_client.get(reverse("bench:bat", args=[bat.code])).content.decode()

    assert "nothing more is done to this bat here" in page
    assert "Pass on to" not in page
    assert sent(maker_client, bat, "step", step="hollow").status_code == 422


@pytest.mark.parametrize("address", ["bat", "cleft", "inspection", "job-card"])
def test_bench_page_is_not_there_for_players(
    address: str, player: Player, maker: User, player_client: Client
):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    assert player_client.get(reverse(f"bench:{address}", args=[bat.code])).status_code == 404


@pytest.mark.parametrize(
    "address",
    ["begin", "step", "reading", "take-back", "photograph", "pass-on", "go-back", "put-back"],
)
def test_bench_verb_by_get_is_refused(address: str, player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    assert bench_client.get(reverse(f"bench:{address}", args=[bat.code])).status_code == 405


def test_bench_hand_sees_no_price_on_any_bench_page(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)
    a_cleft(41, maker, price=7777)

    pages = [
        bench_client.get(reverse("bench:bats")),
        bench_client.get(reverse("bench:bat", args=[bat.code])),
        bench_client.get(reverse("rack:clefts")),
        bench_client.get(reverse("rack:cleft", args=[Cleft.objects.get().code])),
    ]

    for page in pages:
        text = page.content.decode()
        assert "£" not in text
        assert "420.00" not in text
        assert "77.77" not in text


@pytest.mark.parametrize("bats", [1, 3])
def test_bench_list_asks_the_database_as_often_for_many(
    bats: int, player: Player, maker: User, bench_client: Client, django_assert_num_queries
):
    for _ in range(bats):
        an_agreed_bat(player, maker)

    # Session, account and the renewal of the session (5), the workshop, who has what in hand, the bats.
    with django_assert_num_queries(8):
        page = bench_client.get(reverse("bench:bats"))

    assert page.content.decode().count("<li><div>") == bats
