import pytest

from fitting.bat.weigh import weigh
from orders.commissions import builds, lifecycle
from orders.commissions.models import BuildVersion, Commission
from orders.commissions.refusals import MovedOn, Refused
from tests.factories import a_commission, an_agreed_bat, propose_to

pytestmark = pytest.mark.django_db


def lighter(version):
    sheet = builds.build_of(version)
    return sheet.model_copy(update={"grips": sheet.grips.model_copy(update={"mass_g": 40.0})})


def test_an_edit_becomes_the_next_version_with_its_weighing(player, maker):
    commission = a_commission(player)
    first = commission.builds.get()
    build = lighter(first)

    version = builds.edit(
        commission, build, by=maker, parent=first, seen_version=commission.version, note="a light grip"
    )

    assert (version.number, version.origin, version.parent, version.by) == (2, "edited", first, maker)
    assert builds.weighing_of(version) == weigh(build)
    assert Commission.objects.get().version == commission.version == 1


def test_an_edit_of_what_changed_meanwhile_is_refused(player, maker):
    commission = a_commission(player)
    first = commission.builds.get()
    seen = commission.version
    builds.edit(commission, lighter(first), by=maker, parent=first, seen_version=seen)

    with pytest.raises(MovedOn):
        builds.edit(commission, lighter(first), by=maker, parent=first, seen_version=seen)

    assert BuildVersion.objects.count() == 2


def test_what_is_agreed_is_not_edited(player, maker, bench_hand):
    agreed = an_agreed_bat(player, maker).commission
    sent = a_commission(player)

    for commission, person in ((agreed, maker), (sent, bench_hand), (sent, player.holder)):
        first = commission.builds.get()
        with pytest.raises(Refused):
            builds.edit(commission, lighter(first), by=person, parent=first, seen_version=commission.version)

    assert BuildVersion.objects.count() == 2


def test_an_edit_does_not_touch_what_is_proposed(player, maker):
    commission = a_commission(player)
    proposal = propose_to(commission, maker)
    first = commission.builds.get()

    builds.edit(commission, lighter(first), by=maker, parent=first, seen_version=commission.version)
    bat = lifecycle.accept(commission, by=player.holder, seen=proposal.snapshot_hash, at=proposal.created_at)

    assert (
        bat.commission.proposals.get().snapshot["build"]["grips"]["mass_g"] == first.build["grips"]["mass_g"]
    )
