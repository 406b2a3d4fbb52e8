"""The final inspection: built against agreed, and what passing leaves behind."""

from datetime import timedelta
from math import pi

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from fitting.bat.weigh import weigh
from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.builds import build_of
from orders.commissions.consents import answer_consent, ask_consent
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Answer, Cause, Origin, Stage, State
from orders.people.models import Player, User
from tests.factories import a_bat_in, an_agreed_bat
from tests.workshop.bench.at_bench import on_the_numbers, sent
from tests.workshop.willow_on_rack import a_cleft
from workshop.bench.as_built import as_built
from workshop.bench.inspection import Row, in_tolerance, pass_bat, rows_of
from workshop.bench.onward import pass_on
from workshop.bench.work import (
    choose_cleft,
    keep_entries,
    read_entries,
    readings_of,
    seen_mark,
    work_on,
)
from workshop.rack.models import CleftEntry, CleftState


def a_bat_at_inspection(player: Player, maker: User, **changes: float) -> Bat:
    """A bat whose every reading is on its number but for those given; it is cut from no cleft of the rack."""
    bat = an_agreed_bat(player, maker)
    stages.begin(bat, by=maker)
    while bat.stage != Stage.INSPECTION:
        work = work_on(bat)
        keep_entries(work, read_entries(work, on_the_numbers(bat, **changes)), by=maker)
        stages.pass_on(bat, by=maker, required=Required(readings=work.required.readings))
    return bat


def test_rows_of_a_bat_on_its_numbers_are_all_in_tolerance(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)

    rows = rows_of(work_on(bat))

    assert in_tolerance(rows)
    stations = len(work_on(bat).build.blade.stations)
    assert len(rows) == 3 + 3 + 3 * stations + 3 + 2
    assert all(row.built is not None for row in rows)


def _row(bat: Bat, key: str) -> Row:
    return next(row for row in rows_of(work_on(bat)) if row.key == key)


def test_rows_edge_is_held_against_the_edge_less_the_crown(player: Player, maker: User):
    """A calliper on the edge finds edge less crown (axes and shape of a bat)."""
    bat = a_bat_at_inspection(player, maker)
    blade = work_on(bat).build.blade
    swell = max(blade.stations, key=lambda station: station.spine_mm)

    row = next(
        row
        for row in rows_of(work_on(bat))
        if row.key == "edge_left" and row.from_toe_mm == swell.from_toe_mm
    )

    assert row.agreed == pytest.approx(swell.edge_mm - blade.face_crown_mm, abs=0.05)


def test_rows_pickup_from_the_timed_swings_is_the_agreed_one(player: Player, maker: User):
    """The number to hit for the swings was worked from the agreed pickup: timing it gives that back."""
    bat = a_bat_at_inspection(player, maker)

    row = _row(bat, "pickup")

    # A tenth of a second in some forty is a quarter of a per cent, twice that in the inertia.
    assert row.built == pytest.approx(row.agreed, rel=0.005)


def test_rows_pickup_not_measured_does_not_count(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    bat.readings.filter(key="swing_time").delete()

    rows = rows_of(work_on(bat))

    assert _row(bat, "pickup").built is None
    assert in_tolerance(rows)


def test_rows_a_station_never_read_counts(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    bat.readings.filter(key="spine", stage=Stage.HANDLE_FITTING).delete()
    bat.readings.filter(key="spine", stage=Stage.SHAPING).delete()

    assert not in_tolerance(rows_of(work_on(bat)))


def test_pass_out_of_tolerance_without_a_reason_is_refused(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    target = work_on(bat).build.mass_g
    over = target.target + target.tolerance + 1
    bat.readings.filter(key="mass").update(value=round(over * 10))

    with pytest.raises(Refused) as refused:
        pass_bat(work_on(bat), by=maker, reason="  ")

    assert refused.value.key == "reason_needed"
    assert Bat.objects.get().stage == Stage.INSPECTION
    assert not bat.commission.builds.filter(origin=Origin.AS_BUILT).exists()


def test_pass_out_of_tolerance_with_a_reason_keeps_it(player: Player, maker: User, bench_client: Client):
    bat = a_bat_at_inspection(player, maker, girth_top=118.0)

    refused = sent(bench_client, bat, "inspection")
    assert refused.status_code == 422
    assert 'href="#id_reason"' in refused.content.decode()
    assert bat.stage == Stage.INSPECTION

    sent(bench_client, bat, "inspection", reason="the player asked for it on the phone")
    inspection = bat.inspections.get()
    assert (inspection.in_tolerance, inspection.reason) == (False, "the player asked for it on the phone")
    assert bat.serial


def test_pass_gives_serial_and_readiness_and_keeps_the_bat_as_built(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    work = work_on(bat)

    inspection = pass_bat(work, by=maker)

    assert inspection.in_tolerance
    assert inspection.rows[0]["key"] == "mass"
    stored = Bat.objects.get()
    assert (stored.stage, bool(stored.serial)) == (Stage.DONE, True)
    assert stored.commission.state == State.READY
    built = stored.commission.builds.get(origin=Origin.AS_BUILT)
    assert built.parent == work.version


def test_as_built_of_a_bat_on_its_numbers_weighs_as_agreed(player: Player, maker: User):
    """Every reading on its number gives the agreed sheet back: model and calliper mean the same places."""
    bat = a_bat_at_inspection(player, maker)
    work = work_on(bat)

    pass_bat(work, by=maker)

    built = build_of(bat.commission.builds.get(origin=Origin.AS_BUILT))
    for was, now in zip(work.build.blade.stations, built.blade.stations, strict=True):
        assert now.spine_mm == pytest.approx(was.spine_mm, abs=0.05)
        assert now.edge_mm == pytest.approx(was.edge_mm, abs=0.05)
    # Rounding every depth to a tenth is worth some two grams of an adult blade.
    assert weigh(built, book=work.book).mass_g == pytest.approx(work.weighing.mass_g, abs=2.5)


def test_as_built_takes_what_was_measured(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker, girth_top=105.5)

    pass_bat(work_on(bat), by=maker)

    built = build_of(bat.commission.builds.get(origin=Origin.AS_BUILT))
    assert built.handle.girth_mm.top == 105.5


def test_inspection_of_a_bat_that_was_passed_meanwhile_is_refused(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_at_inspection(player, maker)
    page = bench_client.get(reverse("bench:inspection", args=[bat.code]))
    assert b"Pass it" in page.content
    pass_bat(work_on(bat), by=maker)

    answer = sent(bench_client, bat, "inspection")

    assert answer.status_code == 422
    assert bat.inspections.count() == 1


def test_inspection_page_leads_back_from_another_stage(player: Player, maker: User, bench_client: Client):
    bat = a_bat_in(Stage.SHAPING, player, maker)

    answer = bench_client.get(reverse("bench:inspection", args=[bat.code]))

    assert answer["Location"] == reverse("bench:bat", args=[bat.code])


def test_readings_of_an_adjusted_bat_keep_what_was_not_read_again(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    pass_bat(work_on(bat), by=maker)
    _send_round(bat, maker, Cause.ADJUSTMENT, [Stage.FINISHING])
    bat.commission.refresh_from_db()
    stages.begin(bat, by=maker)
    keep_entries(work_on(bat), read_entries(work_on(bat), on_the_numbers(bat, mass=1111.0)), by=maker)

    found = readings_of(bat)

    assert found["mass", None].in_unit == 1111.0
    assert ("girth_top", None) in found


def test_readings_of_a_rebuilt_bat_begin_anew(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    pass_bat(work_on(bat), by=maker)
    _send_round(bat, maker, Cause.REBUILD, [*Stage][1:6])

    assert readings_of(bat) == {}


def _send_round(bat: Bat, maker: User, cause: Cause, needed: list[Stage]) -> None:
    commission = bat.commission
    lifecycle.deliver(commission, by=maker)
    lifecycle.send_back(commission, by=commission.holder)
    lifecycle.mend(commission, by=maker)
    stages.open_round(bat, cause=cause, stages=needed, by=maker)


def test_pass_on_of_a_bat_without_a_cleft_is_refused(player: Player, maker: User):
    bat = an_agreed_bat(player, maker)
    stages.begin(bat, by=maker)
    work = work_on(bat)

    with pytest.raises(Refused) as refused:
        pass_on(work, by=maker)

    assert "cleft" in refused.value.what
    assert Bat.objects.get().stage == Stage.CLEFT_SELECTION


def test_rows_pickup_of_wide_swings_is_that_of_small_ones(player: Player, maker: User):
    """At 8 degrees a swing takes 1 + a^2/16 = 1.0012 times as long (the pendulum series): the time to hit
    has it in, and the pickup from it has it out again."""
    bat = a_bat_at_inspection(player, maker)
    work = work_on(bat)
    mass, balance, length, seconds = (
        readings_of(bat)[key, None].in_unit for key in ("mass", "balance", "length", "swing_time")
    )
    arm_m = (length - 152.4 - balance) / 1000
    period = seconds / work.book.bench.swing_count
    as_if_small = mass / 1000 * 9.80665 * arm_m * (period / (2 * pi)) ** 2

    built = _row(bat, "pickup").built

    assert built is not None
    assert as_if_small / built == pytest.approx(1.00244, abs=1e-4)


def test_rows_sweet_spot_of_a_bat_on_its_numbers_is_where_it_was_asked_for(player: Player, maker: User):
    row = _row(a_bat_at_inspection(player, maker), "sweet_spot")

    assert row.in_tolerance
    assert row.agreed % 5 == 0
    assert row.built == row.agreed


def test_rows_sweet_spot_moves_with_the_wood_that_was_left_at_the_toe(player: Player, maker: User):
    """Wood left on at the toe and taken from above draws the place that hits hardest towards the toe."""
    bat = a_bat_at_inspection(player, maker)
    for reading in bat.readings.filter(key="spine"):
        change = 90 if (reading.from_toe or 0) < 1500 else -60
        bat.readings.filter(pk=reading.pk).update(value=reading.value + change)

    row = _row(bat, "sweet_spot")

    assert row.off is not None
    assert row.off < 0


def test_rows_of_a_bat_inside_the_laws_have_none_of_the_laws(player: Player, maker: User):
    assert not [row for row in rows_of(work_on(a_bat_at_inspection(player, maker))) if row.key == "law"]


def test_rows_thicker_side_of_an_edge_is_what_the_laws_look_at(player: Player, maker: User):
    """At most 1.56 in at the edge (Law 5.7.2): one side over it is over it, whatever the other makes up."""
    bat = a_bat_at_inspection(player, maker)
    at = bat.readings.filter(key="edge_left").order_by("-value")[0].from_toe
    bat.readings.filter(key="edge_left", from_toe=at).update(value=412)
    bat.readings.filter(key="edge_right", from_toe=at).update(value=370)
    bat.readings.filter(key="spine", from_toe=at).update(value=640)

    edges = [row for row in rows_of(work_on(bat)) if row.key == "law" and row.what == "edge"]

    assert [(row.agreed, round(row.built or 0, 1)) for row in edges] == [(pytest.approx(1.56 * 25.4), 41.2)]


def test_stations_are_held_against_the_targets_of_the_willow_with_the_drawing_beside(
    player: Player, maker: User
):
    bat = a_bat_at_inspection(player, maker)
    denser = work_on(bat).build.willow.density_kg_m3.max
    cleft = a_cleft(71, maker, density=denser, bat=None)
    Bat.objects.filter(pk=bat.pk).update(stage=Stage.CLEFT_SELECTION)
    bat.refresh_from_db()
    choose_cleft(work_on(bat), cleft, by=maker)
    bat.readings.all().delete()

    work = work_on(bat)
    rows = [row for row in rows_of(work) if row.key == "spine"]

    targets, drawn = work.targets.blade.stations, work.build.blade.stations
    assert [row.agreed for row in rows] != [station.spine_mm for station in drawn]
    moved = [(to, was) for to, was in zip(targets, drawn, strict=True) if to.spine_mm != was.spine_mm]
    assert moved
    swell = max(moved, key=lambda pair: pair[1].spine_mm)
    row = next(row for row in rows if row.from_toe_mm == swell[1].from_toe_mm)
    assert (row.agreed, row.drawn) == pytest.approx((swell[0].spine_mm, swell[1].spine_mm), abs=0.051)


def test_bat_more_off_than_promised_does_not_pass_by_a_reason(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker, mass=1200.0)

    with pytest.raises(Refused) as refused:
        pass_bat(work_on(bat), by=maker, reason="it feels light all the same")

    assert refused.value.key == "consent_needed"
    assert Bat.objects.get().stage == Stage.INSPECTION
    assert not bat.commission.builds.filter(origin=Origin.AS_BUILT).exists()


def test_station_out_of_tolerance_is_the_makers_matter(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    reading = bat.readings.filter(key="spine", stage=Stage.HANDLE_FITTING).order_by("-value")[0]
    bat.readings.filter(key="spine", from_toe=reading.from_toe).update(value=reading.value - 12)

    inspection = pass_bat(work_on(bat), by=maker, reason="faired over the swell")

    assert (inspection.in_tolerance, inspection.reason) == (False, "faired over the swell")


def test_whole_way_of_a_bat_that_its_player_takes_too_heavy(
    player: Player, maker: User, maker_client: Client, bench_client: Client
):
    bat = a_bat_at_inspection(player, maker, mass=1200.0)

    page = bench_client.get(reverse("bench:inspection", args=[bat.code])).content.decode()
    assert "Only the maker asks the player" in page
    assert "Pass it" not in page
    assert sent(bench_client, bat, "ask-consent", words="heavier").status_code == 404

    wordless = sent(maker_client, bat, "ask-consent", words=" ")
    assert (wordless.status_code, b'id="words-fault"' in wordless.content) == (422, True)
    sent(maker_client, bat, "ask-consent", words="The willow was denser than it read.")
    asked = bat.consents.get()
    assert [row["key"] for row in asked.rows] == ["mass", "pickup"] or [row["key"] for row in asked.rows] == [
        "mass"
    ]
    assert (
        "the answer is awaited"
        in maker_client.get(reverse("bench:inspection", args=[bat.code])).content.decode()
    )

    answer_consent(asked, answer=Answer.YES, words="Gladly.", by=player.holder)
    sent(bench_client, bat, "inspection", reason="the player takes it so")

    assert bat.stage == Stage.DONE
    assert bat.inspections.get().in_tolerance is False


def test_yes_does_not_cover_what_became_worse_after_it(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker, mass=1200.0)
    rows = [row.stored() for row in rows_of(work_on(bat))]
    asked = ask_consent(bat, rows=rows, words="heavier", by=maker)
    answer_consent(asked, answer=Answer.YES, words="", by=player.holder)
    bat.readings.filter(key="mass").update(value=12100)

    with pytest.raises(Refused) as refused:
        pass_bat(work_on(Bat.objects.get()), by=maker, reason="as agreed on the phone")

    assert refused.value.key == "consent_needed"


def test_bat_that_two_inspect_at_once_is_asked_about_once(player: Player, maker: User, maker_client: Client):
    bat = a_bat_at_inspection(player, maker, mass=1200.0)
    seen = seen_mark(bat)
    sent(maker_client, bat, "ask-consent", words="heavier")

    second = sent(maker_client, bat, "ask-consent", words="heavier, as I said", seen=seen)

    assert second.status_code == 422
    assert bat.consents.count() == 1


def test_bat_outside_the_laws_needs_the_players_yes_and_its_mark(
    player: Player, maker: User, maker_client: Client
):
    bat = a_bat_at_inspection(player, maker)
    bat.readings.filter(key="width").update(value=1085)
    sent(maker_client, bat, "ask-consent", words="It swelled.")
    asked = bat.consents.get()
    assert {row["what"] for row in asked.rows} >= {"blade_width"}
    answer_consent(asked, answer=Answer.YES, words="For the nets only.", by=player.holder)

    unmarked = sent(maker_client, bat, "inspection", reason="for the nets")
    assert (unmarked.status_code, b'href="#id_not_for_play"' in unmarked.content) == (422, True)
    assert bat.stage == Stage.INSPECTION

    sent(maker_client, bat, "inspection", reason="for the nets", not_for_play="on")
    assert bat.inspections.get().not_for_play


def test_mark_of_a_bat_inside_the_laws_is_not_kept(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)

    assert pass_bat(work_on(bat), by=maker, not_for_play=True).not_for_play is False


def test_as_built_has_the_density_that_its_mass_tells(player: Player, maker: User):
    """The same shape that weighs more than the cleft promised is of denser wood."""
    found = []
    for mass in (1160.0, 1172.0):
        bat = a_bat_at_inspection(player, maker, mass=mass)
        cleft = a_cleft(int(mass), maker)
        Bat.objects.filter(pk=bat.pk).update(cleft_label=cleft.label)
        type(cleft).objects.filter(pk=cleft.pk).update(state=CleftState.USED, bat=bat, round=1)
        CleftEntry.objects.create(
            cleft=cleft,
            verb="reserve",
            to_state=CleftState.RESERVED,
            by=maker,
            at=timezone.now() - timedelta(days=9),
        )
        found.append(as_built(work_on(bat)).willow.density_kg_m3)

    assert found[1].min > found[0].min
    # Both weighings leave less doubt than the raw cleft did: about 2 % of 425.
    assert found[0].max - found[0].min < 2 * 0.02 * 425


def test_record_shows_the_same_rows_with_the_players_yes_and_the_mark(
    player: Player, maker: User, player_client: Client
):
    bat = a_bat_at_inspection(player, maker, mass=1190.0)
    bat.readings.filter(key="width").update(value=1085)
    rows = [row.stored() for row in rows_of(work_on(bat))]
    asked = ask_consent(bat, rows=rows, words="It swelled.", by=maker)
    answer_consent(asked, answer=Answer.YES, words="For the nets only.", by=player.holder)

    inspection = pass_bat(work_on(bat), by=maker, reason="for the nets", not_for_play=True)

    kept = Bat.objects.get().inspections.get().rows
    assert kept == [row.stored() for row in rows_of(work_on(Bat.objects.get()))]
    assert inspection.not_for_play
    page = player_client.get(reverse("care:record", args=[bat.commission.code])).content.decode()
    assert "Not for play under the Laws: the bat carries this mark." in page
    assert "Hits hardest, from the toe, by the model" in page
    assert "The player took it so on" in page
    assert "For the nets only." in page
    assert "Width of the blade, by the Laws (" in page
