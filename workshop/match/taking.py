"""What a maker decides of a pair: taken, refused, thought better of. Each whole, or not at all."""

from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils import timezone

from orders.commissions.models import Bat, Proposal
from orders.people.models import User
from workshop.bench.work import choose_cleft, work_on
from workshop.match.models import PairRefused
from workshop.rack.clefts import CleftRefused
from workshop.rack.holds import hold
from workshop.rack.models import Cleft


def take(cleft: Cleft, bat: Bat, *, by: User, at: datetime | None = None) -> None:
    """Give a cleft to a bat, as choosing it at the bench does: its shaping targets are solved with it.

    Raises:
        CleftRefused: somebody else's, or the bat has one; see ``workshop/rack/clefts.py``.
        Refused: the bat is past choosing, or has moved on meanwhile.
    """
    choose_cleft(work_on(bat), cleft, by=by, at=at)


def keep_aside(cleft: Cleft, proposal: Proposal, *, by: User, at: datetime | None = None) -> None:
    """Keep a cleft aside for a bat that is only proposed.

    Raises CleftRefused: see ``workshop/rack/holds.py``.
    """
    hold(cleft, proposal, by=by, at=at)


def refuse(cleft: Cleft, bat: Bat, *, by: User, at: datetime | None = None) -> None:
    """Leave a cleft out of the matching for this bat's present round; refusing twice is refusing once.

    Raises CleftRefused("bat_has_one") when the bat has its cleft already.
    """
    if bat.cleft_label:
        raise CleftRefused("bat_has_one")
    try:
        with transaction.atomic():
            PairRefused.objects.create(bat=bat, round=bat.round, cleft=cleft, by=by, at=at or timezone.now())
    except IntegrityError:
        return


def think_better(cleft: Cleft, bat: Bat) -> None:
    """Let a refused cleft be offered for the bat again."""
    standing = PairRefused.objects.filter(bat=bat, round=bat.round, cleft=cleft, withdrawn_at__isnull=True)
    standing.update(withdrawn_at=timezone.now())
