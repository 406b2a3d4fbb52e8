import json

import pytest

from fitting.sheets.snapshot import snapshot_hash
from orders.commissions.models import Proposal
from orders.commissions.snapshots import snapshot_of
from tests.factories import a_commission, an_offer, propose_to

pytestmark = pytest.mark.django_db


def test_the_same_offer_has_the_same_hash_and_any_change_another(player):
    commission = a_commission(player)
    version = commission.builds.get()

    first = snapshot_of(commission, version, an_offer(), number=1)
    again = snapshot_of(commission, version, an_offer(), number=1)
    other = snapshot_of(commission, version, an_offer(words="quick"), number=1)

    assert first == again
    assert first[1] != other[1]


def test_what_is_stored_has_the_hash_that_is_stored_with_it(player, maker):
    propose_to(a_commission(player), maker)

    stored = Proposal.objects.get()

    assert snapshot_hash(stored.snapshot) == stored.snapshot_hash


def test_numbers_are_rounded_and_the_sheet_is_kept_to_the_letter(player, maker):
    commission = a_commission(player, game={"overs_mix": {"long": 0.35, "fifty": 0.65}})
    commission.builds.update(weighing={**commission.builds.get().weighing, "mass_g": 1171.23456})

    snapshot, _stamp = snapshot_of(commission, commission.builds.get(), an_offer(), number=1)

    assert snapshot["weighing"]["mass_g"] == 1171.2
    assert snapshot["sheet"]["game"]["overs_mix"]["long"] == 0.35
    assert json.loads(json.dumps(snapshot)) == snapshot


def test_without_a_cleft_kept_aside_it_is_subject_to_the_willow(player):
    commission = a_commission(player)
    version = commission.builds.get()

    bare, _ = snapshot_of(commission, version, an_offer(), number=1)
    held, _ = snapshot_of(commission, version, an_offer(clefts=({"label": "0117"},)), number=1)

    assert "subject_to_willow" in bare["terms"]
    assert "subject_to_willow" not in held["terms"]
    assert held["clefts"] == [{"label": "0117"}]
