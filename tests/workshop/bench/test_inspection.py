"""The final inspection: built against agreed, and what passing leaves behind."""

import pytest
from django.test import Client
from django.urls import reverse

from fitting.bat.weigh import weigh
from orders.commissions import lifecycle, stages
from orders.commissions.bench_entries import Required
from orders.commissions.builds import build_of
from orders.commissions.models import Bat
from orders.commissions.refusals import Refused
from orders.commissions.states import Cause, Origin, Stage, State
from orders.people.models import Player, User
from tests.factories import a_bat_in, an_agreed_bat
from tests.workshop.bench.at_bench import on_the_numbers, sent
from workshop.bench.inspection import in_tolerance, pass_bat, rows_of
from workshop.bench.onward import pass_on
from workshop.bench.work import keep_entries, read_entries, readings_of, work_on


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
    assert len(rows) == 3 + 3 + 3 * stations + 3 + 1
    assert all(row.built is not None for row in rows)


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

    row = rows_of(work_on(bat))[-1]

    # A tenth of a second in some forty is a quarter of a per cent, twice that in the inertia.
    assert row.key == "pickup"
    assert row.built == pytest.approx(row.agreed, rel=0.005)


def test_rows_pickup_not_measured_does_not_count(player: Player, maker: User):
    bat = a_bat_at_inspection(player, maker)
    bat.readings.filter(key="swing_time").delete()

    rows = rows_of(work_on(bat))

    assert rows[-1].built is None
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
    bat = a_bat_at_inspection(player, maker, mass=1300.0)

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
