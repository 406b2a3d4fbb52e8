"""Where does it stand, on screen: a weighing kept in its condition, refused, taken back; targets anew."""

import re
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from orders.commissions.models import Bat, Reading
from orders.commissions.states import Origin, Stage
from orders.people.models import Player, User
from tests.workshop.bench.at_bench import sent
from tests.workshop.bench.on_scales import a_bat_with_wood, read_stations, weigh_bat
from workshop.bench.condition import guessed
from workshop.bench.models import ScalesReading, SolvedFor, Targets
from workshop.bench.spells import begin_work
from workshop.bench.standing import AtBench
from workshop.bench.targets_page import midway_mm
from workshop.bench.work import work_on

CHECKED = re.compile(r'type="checkbox" id="id_(\w+)" name="\w+" checked')


@pytest.fixture
def bat(player: Player, maker: User) -> Bat:
    bat = a_bat_with_wood(player, maker)
    read_stations(bat, maker)
    return bat


def page_of(client: Client, bat: Bat) -> str:
    return client.get(reverse("bench:standing", args=[bat.code])).content.decode()


def typed(bat: Bat, **changes: Any) -> dict[str, Any]:
    """The form as it stands on the page, with what the scales should show."""
    condition = guessed(work_on(bat))
    expected = AtBench(work_on(bat)).expected_g
    form = {
        "scales": f"{expected:.1f}",
        "square": "on",
        "square_top": f"{condition.square_top_mm:g}",
        "square_depth": f"{condition.square_depth_mm:g}",
        "square_width": f"{condition.square_width_mm:g}",
        "grips": "0",
        "oil_coats": "0",
        "moisture": "12",
    }
    return {name: value for name, value in {**form, **changes}.items() if value is not None}


def test_weighing_is_kept_with_its_condition_and_forecasts_the_finished_bat(
    bat: Bat, bench_hand: User, bench_client: Client
):
    answer = sent(bench_client, bat, "standing", **typed(bat, balance_at="301,5"))

    row = ScalesReading.objects.get()
    page = page_of(bench_client, bat)
    assert answer.status_code == 302
    assert (row.by, row.stage, row.balance) == (bench_hand, Stage.SHAPING, 3015)
    assert (row.condition["handle"], row.condition["square_top_mm"]) == (False, 180)
    assert f"{row.mass / 10:g} g on the scales, balance 301.5 mm from the toe" in page
    for words in ("Wood where the splice goes in", "Square top, to be shaped", "Sanding", "Binding", "Grip"):
        assert words in page
    assert "kg\N{NO-BREAK SPACE}m²" in page
    assert "Picks up" in page


def test_form_is_ticked_as_the_steps_tell(bat: Bat, bench_client: Client):
    assert CHECKED.findall(page_of(bench_client, bat)) == ["square"]


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("scales", "heavy", "heavy"),
        ("scales", "", "mass on the scales"),
        ("scales", "-1200", "-1200"),
        ("balance_at", "30", "Did you mean 300 mm?"),
        ("moisture", "40", "Did you mean 4 %?"),
        ("square_depth", "7.1", "Did you mean 71 mm?"),
        ("square_top", "2000", "2000"),
        ("grips", "1.5", "1.5"),
        ("oil_coats", "90", "90"),
    ],
)
def test_weighing_that_cannot_be_is_refused_at_its_field_and_stays_as_typed(
    field: str, value: str, said: str, bat: Bat, bench_client: Client
):
    answer = sent(bench_client, bat, "standing", **typed(bat, **{field: value, "sanded": "on"}))

    page = answer.content.decode()
    assert answer.status_code == 422
    assert f'href="#id_{field}"' in page
    assert said.casefold() in page.casefold()
    assert f'name="{field}" value="{value}"' in page
    assert CHECKED.findall(page) == ["square", "sanded"]
    assert not ScalesReading.objects.exists()


def test_slipped_point_on_the_scales_is_asked_back(bat: Bat, bench_client: Client):
    expected = AtBench(work_on(bat)).expected_g or 0.0

    answer = sent(bench_client, bat, "standing", **typed(bat, scales=f"{expected / 10:.1f}"))

    assert f"Did you mean {round(expected / 10, 1) * 10:g} g?" in answer.content.decode()


def test_square_part_is_not_asked_for_where_nothing_is_square(bat: Bat, bench_client: Client):
    answer = sent(bench_client, bat, "standing", **typed(bat, square=None, square_depth=""))

    assert answer.status_code == 302
    assert ScalesReading.objects.get().condition["square_top_mm"] == 0


def test_weighing_is_taken_back_by_a_new_row_and_only_once(bat: Bat, maker: User, bench_client: Client):
    row = weigh_bat(bat, maker, 1200, guessed(work_on(bat)))

    sent(bench_client, bat, "standing-take-back", entry=str(row.pk))
    again = sent(bench_client, bat, "standing-take-back", entry=str(row.pk))

    assert again.status_code == 422
    assert ScalesReading.objects.count() == 2
    assert not ScalesReading.objects.standing().exists()
    assert "1200" not in page_of(bench_client, bat)


def test_take_back_of_another_bats_weighing_is_not_found(
    bat: Bat, player: Player, maker: User, bench_client: Client
):
    other = a_bat_with_wood(player, maker, number=73)
    row = weigh_bat(other, maker, 1200, guessed(work_on(other)))

    assert sent(bench_client, bat, "standing-take-back", entry=str(row.pk)).status_code == 404
    assert ScalesReading.objects.standing().count() == 1


def test_weighing_of_a_bat_in_other_hands_is_refused(bat: Bat, maker: User, bench_client: Client):
    begin_work(bat, by=maker)

    answer = sent(bench_client, bat, "standing", **typed(bat))

    assert answer.status_code == 422
    assert "Moss Maker" in answer.content.decode()
    assert not ScalesReading.objects.exists()


def test_weighing_on_a_page_that_is_out_of_date_keeps_nothing(bat: Bat, bench_client: Client):
    answer = sent(bench_client, bat, "standing", **typed(bat, seen="1.pressing.2"))

    assert answer.status_code == 422
    assert not ScalesReading.objects.exists()


def test_heavy_bat_is_told_where_to_take_how_much_off(player: Player, maker: User, bench_client: Client):
    bat = a_bat_with_wood(player, maker, Stage.HANDLE_FITTING)
    read_stations(bat, maker, over_mm=1.5)
    work = work_on(bat)
    bound = guessed(work).model_copy(update={"handle": True, "bound": True, "square_top_mm": 0.0})
    weigh_bat(bat, maker, 1195, bound)

    page = page_of(bench_client, bat)

    assert "Where to take how much off" in page
    assert "That is much at once: take half, weigh again." in page
    rows = re.findall(r'<tr><th scope="row" class="num">(\d+)</th>(.*?)</tr>', page)
    cells = [re.sub(r"<[^>]+>", " ", cell).split() for _, cell in rows if "attention" in cell]
    assert len(cells) >= 3
    for now, off, then, *_ in cells:
        if off != "–":
            assert float(now) - float(off) == pytest.approx(float(then), abs=0.11)
            assert (float(off) * 2).is_integer()


def test_light_bat_is_told_to_cut_nothing_and_what_can_be_added(
    player: Player, maker: User, bench_client: Client
):
    bat = a_bat_with_wood(player, maker, Stage.HANDLE_FITTING)
    read_stations(bat, maker)
    bound = guessed(work_on(bat)).model_copy(update={"handle": True, "bound": True, "square_top_mm": 0.0})
    weigh_bat(bat, maker, 1030, bound)

    page = page_of(bench_client, bat)

    assert "Wood cannot be put back: cut nothing more." in page
    assert "Another grip: " in page


def test_bat_on_its_numbers_is_left_alone_without_an_alarm(player: Player, maker: User, bench_client: Client):
    bat = a_bat_with_wood(player, maker, Stage.HANDLE_FITTING)
    read_stations(bat, maker)
    work = work_on(bat)
    bound = guessed(work).model_copy(update={"handle": True, "bound": True, "square_top_mm": 0.0})
    expected = AtBench(work).expected_g or 0.0
    weigh_bat(bat, maker, expected, bound)
    forecast = AtBench(work_on(bat)).stood
    assert forecast is not None
    # Three grams under what was agreed, well inside the tolerance.
    off = forecast.standing.weighing.mass_g - work.build.mass_g.target
    weigh_bat(bat, maker, expected - off - 3, bound)

    page = page_of(bench_client, bat)

    section = page[page.index('id="cuts"') : page.index('id="account"')]
    assert "3 g under, inside" in page
    assert "Nothing:" in section
    assert "conflict" not in section


def test_targets_are_solved_anew_with_what_the_scales_tell(bat: Bat, maker: User, bench_client: Client):
    before = work_on(bat).targets
    weigh_bat(bat, maker, (AtBench(work_on(bat)).expected_g or 0.0) + 35, guessed(work_on(bat)))
    assert "Solve the targets anew" in page_of(bench_client, bat)

    assert sent(bench_client, bat, "targets").status_code == 302

    row = Targets.objects.latest("pk")
    assert row.cause == SolvedFor.SCALES
    assert row.build_version is not None
    assert row.build_version.origin == Origin.RE_SHAPED
    # Denser willow: a deeper hollow first, before any depth of spine or edge goes.
    midway = [sum(map(midway_mm, sheet.blade.stations)) for sheet in (work_on(bat).targets, before)]
    assert midway[0] < midway[1] - 0.5
    assert "Solve the targets anew" not in page_of(bench_client, bat)
    assert sent(bench_client, bat, "targets").status_code == 422


def test_page_of_shaping_shows_targets_and_standing(bat: Bat, bench_client: Client):
    page = bench_client.get(reverse("bench:bat", args=[bat.code])).content.decode()

    assert "Shaping targets" in page
    assert "What moved against the agreed drawing" in page
    assert "What it will be, before it is weighed" in page
    assert reverse("bench:standing", args=[bat.code]) in page


def test_block_before_the_first_cut_is_asked_onto_the_scales(
    player: Player, maker: User, bench_client: Client
):
    page = page_of(bench_client, a_bat_with_wood(player, maker))

    assert "Weigh the piece now, its outline cut and nothing shaped yet" in page
    assert 'name="square_top" value="557"' in page


def test_bat_without_a_blade_is_not_weighed(player: Player, maker: User, bench_client: Client):
    bat = a_bat_with_wood(player, maker, Stage.PRESSING)

    page = page_of(bench_client, bat)

    assert "There is no blade yet" in page
    assert "Finished, if nothing more is cut" not in page
    assert "Keep this weighing" not in page


def test_readings_that_make_no_bat_are_told_not_drawn(bat: Bat, maker: User, bench_client: Client):
    from orders.commissions.bench_entries import record_reading
    from orders.commissions.states import Unit

    at = Reading.objects.filter(key="spine").values_list("from_toe", flat=True)[0]
    record_reading(bat, key="spine", value=900, unit=Unit.MM, by=maker, from_toe=at)

    page = page_of(bench_client, bat)

    assert "The readings do not make a bat; read again" in page
    assert "Keep this weighing" in page
