"""Handing a finished bat over to its player, the first time or again after it was put right."""

from datetime import datetime

from django.db import models, transaction
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from orders.care import letters
from orders.care.returns import close_with_delivery
from orders.commissions import lifecycle
from orders.commissions.models import Commission
from orders.people.models import User


class How(models.TextChoices):
    """How a bat reaches its player."""

    SENT = "sent", _("sent")
    HANDED_OVER = "handed_over", _("handed over")


@transaction.atomic
def deliver(
    commission: Commission, *, by: User, how: How, words: str = "", at: datetime | None = None
) -> None:
    """Let the player have the bat: the commission is delivered, a return that led here is closed.

    Args:
        commission: as it was read.
        by: the maker.
        how: sent or handed over.
        words: to the player, such as the carrier and its number.
        at: when; now if absent.

    Raises:
        Refused: it is not ready, or somebody else's to do.
    """
    now = at or timezone.now()
    lifecycle.deliver(commission, by=by, data={"how": how.value, "words": words.strip()}, at=now)
    close_with_delivery(commission, by=by, at=now)
    letters.delivered(commission, how=how.value, words=words.strip())
