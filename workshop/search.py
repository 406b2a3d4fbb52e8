"""Finding a commission by name, number, serial or cleft."""

from dataclasses import dataclass

from django.http import HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from orders.commissions.models import Commission
from orders.commissions.searching import MOST_FOUND, found
from orders.people.doors import STAFF, SignedInRequest, open_to

MOST_SIGNS = 100


@dataclass(frozen=True)
class Hit:
    """One commission found, its bats' marks, and where it leads."""

    commission: Commission
    marks: str
    address: str


@require_safe
@open_to(STAFF)
def search(request: SignedInRequest) -> HttpResponse:
    """Find commissions; a bench hand finds those at the bench and is led there."""
    words = request.GET.get("q", "").strip()[:MOST_SIGNS]
    rows = found(Commission.objects.visible_to(request.user), words).with_people().prefetch_related("bats")
    listed = list(rows[: MOST_FOUND + 1])
    hits = [_hit(row, maker=request.user.is_maker) for row in listed[:MOST_FOUND]]
    context = {"q": words, "hits": hits, "more": len(listed) > MOST_FOUND, "most": MOST_FOUND}
    template = (
        "review/search.html#hits" if request.headers.get("HX-Request") == "true" else "review/search.html"
    )
    return render(request, template, context)


def _hit(row: Commission, *, maker: bool) -> Hit:
    bats = list(row.bats.all())
    marks = [mark for bat in bats for mark in (bat.serial, bat.cleft_label) if mark]
    if maker or not bats:
        address = reverse("review:review", args=[row.code])
    else:
        address = reverse("bench:bat", args=[bats[0].code])
    return Hit(row, " · ".join(marks), address)
