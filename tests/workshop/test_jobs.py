"""What the worker does by itself, with the jobs as the site sets them."""

from datetime import timedelta

from django.utils import timezone

from orders.commissions.models import Commission
from orders.commissions.states import State
from orders.messages.models import Letter
from orders.messages.periodic import run_jobs
from orders.people.models import Player, User
from tests.factories import a_commission, propose_to


def test_worker_lets_a_proposal_lapse_when_its_time_is_over(player: Player, maker: User):
    long_ago = timezone.now() - timedelta(days=20)
    propose_to(a_commission(player, at=long_ago), maker, at=long_ago)

    assert run_jobs() == []

    assert Commission.objects.get().state == State.SENT
    assert Letter.objects.filter(kind="proposal_lapsed").exists()


def test_worker_leaves_a_proposal_alone_that_can_still_be_answered(player: Player, maker: User):
    now = timezone.now()
    propose_to(a_commission(player, at=now), maker, at=now)
    assert run_jobs() == []
    assert Commission.objects.get().state == State.PROPOSED
