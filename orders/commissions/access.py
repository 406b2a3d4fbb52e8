"""The one way from a code in an address to a record: not yours is the same as not there."""

from django.http import Http404

from orders.commissions.models import Bat, Commission
from orders.people.models import Role, User


def commission_for(user: User, code: str) -> Commission:
    """Return the commission of that code if this account may open it, with player and holder.

    Raises:
        Http404: there is none, or it is somebody else's.
    """
    rows = Commission.objects.visible_to(user).with_people().select_related("fitting")
    commission = rows.filter(code=code).first()
    if commission is None:
        raise Http404
    return commission


def bat_for(user: User, code: str) -> Bat:
    """Return the bat of that code if this account may open it, with its commission and people.

    Raises:
        Http404: there is none, or it is somebody else's.
    """
    bat = Bat.objects.visible_to(user).with_people().filter(code=code).first()
    if bat is None:
        raise Http404
    return bat


def sees_prices(user: User) -> bool:
    """Whether sums of money are shown to this account: never to a bench hand."""
    return user.role != Role.BENCH_HAND
