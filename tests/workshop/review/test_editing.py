import re

import pytest
from django.urls import reverse

from fitting.bat.weigh import weigh
from orders.commissions import builds
from orders.commissions.models import BuildVersion, Commission
from orders.commissions.states import Stage
from orders.people.once import new_key
from orders.words.sweet_spot import say_peak, say_reach
from tests.factories import a_bat_in, a_commission
from tests.weighings import sweet_spot_of
from workshop.review.build_form import BuildForm

pytestmark = pytest.mark.django_db


def address(commission, name="edit"):
    return reverse(f"review:{name}", args=[commission.code])


def form_of(commission, **changes):
    """The edit form as a browser would send it, with dotted boxes changed."""
    version = commission.builds.order_by("-number")[0]
    form = BuildForm.of_build(builds.build_of(version))
    sent = dict(form.typed)
    for number, row in enumerate(form.rows):
        sent |= {f"blade.stations.{number}.{key}": value for key, value in row.items()}
    sent |= {"once": new_key(), "version": str(commission.version), "parent": str(version.number), "note": ""}
    return {**sent, **{name.replace("__", "."): value for name, value in changes.items()}}


def test_the_form_holds_every_field_of_the_sheet(maker_client, player):
    commission = a_commission(player)

    page = maker_client.get(address(commission)).content.decode()

    for name in form_of(commission):
        assert f'name="{name}"' in page
    assert 'value="106.9"' in page


@pytest.mark.parametrize("client", ["player_client", "bench_client"])
def test_only_the_maker_edits(client, request, player):
    commission = a_commission(player)
    form = form_of(commission)

    stranger = request.getfixturevalue(client)

    assert stranger.get(address(commission)).status_code == 404
    assert stranger.post(address(commission), form).status_code == 404
    assert stranger.post(address(commission, "weigh"), form).status_code == 404
    assert BuildVersion.objects.count() == 1


def test_what_is_typed_is_kept_as_a_new_version(maker_client, player, maker):
    commission = a_commission(player)

    answer = maker_client.post(
        address(commission), form_of(commission, blade__width_mm="105,5", note="narrower for the tape")
    )

    assert answer["Location"] == reverse("review:review", args=[commission.code])
    newest = commission.builds.get(number=2)
    assert newest.build["blade"]["width_mm"] == 105.5
    assert (newest.origin, newest.by, newest.note) == ("edited", maker, "narrower for the tape")
    assert newest.parent == commission.builds.get(number=1)


def test_a_double_click_keeps_one_version(maker_client, player):
    commission = a_commission(player)
    form = form_of(commission, blade__width_mm="105")

    for _ in range(3):
        maker_client.post(address(commission), form)

    assert BuildVersion.objects.count() == 2


def test_a_station_is_added_and_another_taken_out(maker_client, player):
    commission = a_commission(player)
    form = form_of(commission)
    rows = len(builds.build_of(commission.builds.get()).blade.stations)
    form |= {f"blade.stations.1.{key}": "" for key in ("from_toe_mm", "spine_mm", "edge_mm", "scallop")}
    form |= {
        f"blade.stations.{rows}.{key}": value
        for key, value in {"from_toe_mm": "300", "spine_mm": "55", "edge_mm": "33", "scallop": "1.4"}.items()
    }

    maker_client.post(address(commission), form)

    stations = commission.builds.get(number=2).build["blade"]["stations"]
    assert len(stations) == rows
    assert [row["spine_mm"] for row in stations if row["from_toe_mm"] == 300] == [55]


@pytest.mark.parametrize(
    ("box", "typed", "said"),
    [
        ("blade.width_mm", "170", "70 to 115"),
        ("blade.width_mm", "wide", "wide was given, which is no number"),
        ("blade.width_mm", "", "A number is needed"),
        ("blade.width_mm", "NaN", "no number"),
        ("blade.width_mm", "-3", "70 to 115"),
        ("blade.stations.2.spine_mm", "9", "The spine cannot be thinner than the edge"),
        ("blade.stations.2.from_toe_mm", "0", "can stand only once"),
        ("blade.shoulder.width_mm", "43", "at least 6 mm wider than the splice"),
        ("grips.count", "1.5", "whole number"),
        ("length_code", "giant", "giant"),
    ],
)
def test_a_wrong_box_is_named_and_everything_typed_is_kept(box, typed, said, maker_client, player):
    commission = a_commission(player)
    form = {**form_of(commission, blade__bow_mm="7.7"), box: typed}

    answer = maker_client.post(address(commission), form)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "<title>Error:" in page
    assert said in page
    assert 'value="7.7"' in page
    assert 'aria-invalid="true"' in page or "can stand only once" in page
    assert BuildVersion.objects.count() == 1


def test_two_who_edit_at_once_the_second_keeps_the_own_text(maker_client, player, maker):
    commission = a_commission(player)
    form = form_of(commission, blade__width_mm="104.4", note="mine")
    other = builds.build_of(commission.builds.get())
    builds.edit(
        commission,
        other.model_copy(update={"grips": other.grips.model_copy(update={"count": 2})}),
        by=maker,
        parent=commission.builds.get(),
        seen_version=commission.version,
    )

    answer = maker_client.post(address(commission), form)

    page = answer.content.decode()
    assert answer.status_code == 409
    assert 'value="104.4"' in page
    assert "mine</textarea>" in page
    assert "the newest build is version 2" in page
    assert "104.4 mm" in page
    assert BuildVersion.objects.count() == 2

    (version,) = re.findall(r'name="version" value="(\d+)"', page)
    maker_client.post(address(commission), {**form, "once": new_key(), "version": version})

    assert commission.builds.get(number=3).build["blade"]["width_mm"] == 104.4


def test_weighing_keeps_nothing_and_says_what_the_model_says(maker_client, player):
    commission = a_commission(player)
    form = form_of(commission, grips__count="2", blade__width_mm="105")

    answer = maker_client.post(address(commission, "weigh"), form, headers={"HX-Request": "true"})

    fragment = answer.content.decode()
    posted = BuildForm.of_post(form).read()
    assert fragment.strip().startswith('<div id="weighing"')
    assert "<html" not in fragment
    assert f"{round(weigh(posted).mass_g)} g" in fragment
    assert "The mass misses its target" in fragment
    assert BuildVersion.objects.count() == 1
    assert Commission.objects.get().version == 0


def test_weighing_tells_peak_modes_margins_and_the_difference(maker_client, player):
    commission = a_commission(player)
    form = form_of(commission, blade__width_mm="107.5")

    answer = maker_client.post(address(commission, "weigh"), form, headers={"HX-Request": "true"})

    fragment = answer.content.decode()
    weighing = weigh(BuildForm.of_post(form).read())
    assert say_peak(sweet_spot_of(weighing)) in fragment
    assert say_reach(sweet_spot_of(weighing)) in fragment
    assert f"{weighing.modes[0].frequency_hz:.0f} Hz" in fragment
    assert f"{weighing.modes[0].nodes_from_toe_mm[0]:.0f} mm" in fragment
    assert "Tightest is the width of the blade: 0.4 mm to spare" in fragment
    assert "Less than your margin of 1 mm: width of the blade" in fragment
    assert "broken line: the other bat" in fragment
    assert (
        f"g; hits hardest {say_peak(sweet_spot_of(weighing))} above the toe; 0 outside the Laws" in fragment
    )


def test_weighing_works_without_javascript(maker_client, player):
    commission = a_commission(player)

    answer = maker_client.post(address(commission, "weigh"), form_of(commission, grips__count="2"))

    page = answer.content.decode()
    assert "<html" in page
    assert 'name="grips.count" value="2"' in page
    assert "Keep as a new version" in page


def test_weighing_what_breaks_the_laws_marks_the_row(maker_client, player):
    commission = a_commission(player)

    answer = maker_client.post(
        address(commission, "weigh"),
        form_of(commission, blade__width_mm="110.15"),
        headers={"HX-Request": "true"},
    )

    assert "2.2 mm too much" in answer.content.decode()


def test_weighing_what_is_no_bat_names_the_box(maker_client, player):
    commission = a_commission(player)

    answer = maker_client.post(
        address(commission, "weigh"),
        form_of(commission, blade__width_mm="wide"),
        headers={"HX-Request": "true"},
    )

    fragment = answer.content.decode()
    assert "This is no bat yet" in fragment
    assert 'href="#box-blade-width_mm"' in fragment
    # The last numbers stay where they are.
    assert (answer["HX-Retarget"], answer["HX-Reswap"]) == ("#unweighed", "innerHTML")
    assert 'id="weighing"' not in fragment


def test_weighing_takes_no_get(maker_client, player):
    assert maker_client.get(address(a_commission(player), "weigh")).status_code == 405


def test_what_is_agreed_is_not_edited(maker_client, player, maker):
    commission = a_bat_in(Stage.SHAPING, player, maker).commission

    answer = maker_client.post(address(commission), form_of(commission, blade__width_mm="105"))

    assert answer.status_code == 409
    assert "Nothing was changed" in answer.content.decode()
    assert BuildVersion.objects.count() == 1
