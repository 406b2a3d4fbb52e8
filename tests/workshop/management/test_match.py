"""``manage.py match``: the contract's answer, and a report of it."""

import json
from io import StringIO

import pytest
from django.core.management import call_command

from tests.workshop.match.floors import a_waiting_bat
from tests.workshop.willow_on_rack import a_cleft
from workshop.match.models import WillowOfBuild
from workshop.rack.models import Cleft, CleftState

pytestmark = pytest.mark.django_db


def run(*options):
    out, err = StringIO(), StringIO()
    call_command("match", *options, stdout=out, stderr=err)
    return out.getvalue(), err.getvalue()


@pytest.fixture
def floor(player, maker):
    """Two bats, of which one gets a cleft."""
    a_waiting_bat(player, maker)
    a_waiting_bat(player, maker)
    a_cleft(21, maker, density=415)
    a_cleft(22, maker, density=310)


def test_json_has_the_names_of_the_contract(floor):
    out, err = run("--json")

    content = json.loads(out)
    (assigned,), (unmatched,) = content["assigned"], content["unmatched"]
    assert {"commission", "cleft", "mass_g", "peak_from_toe_mm", "cost", "why", "second"} <= set(assigned)
    assert assigned["cleft"] == "0021"
    assert {"commission", "why"} <= set(unmatched)
    assert unmatched["why"]["taken"][0]["taken_by"] == assigned["commission"]
    assert err == ""


def test_nothing_is_reserved_by_it(floor):
    run()

    assert set(Cleft.objects.values_list("state", flat=True)) == {CleftState.READY}


def test_report_names_bats_clefts_and_what_to_buy(floor):
    out, _err = run()

    assert "2 bats want a cleft, 2 clefts are ready." in out
    assert "0021" in out
    assert "1 too light" in out
    assert "to buy: 1 cleft, grade" in out


def test_missing_tables_are_worked_out_with_progress_told(floor):
    WillowOfBuild.objects.all().delete()

    out, err = run("--json")

    assert err.strip() == "willow of 1 of 1 bats worked out"
    assert len(json.loads(out)["assigned"]) == 1


def test_empty_workshop_is_matched_too(workshop):
    out, _err = run("--json")

    assert json.loads(out) == {"assigned": [], "unmatched": [], "total": 0, "short": []}
