"""The page of what seasons: which clefts want the scales again, and which should be ready when."""

from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from orders.commissions.book_in_force import book_in_force
from orders.people.doors import STAFF, SignedInRequest, open_to
from workshop.rack.models import Cleft, CleftState
from workshop.rack.weighings import outlooks, to_weigh_again, wanted_of
from workshop.seasoning import equilibrium_moisture

A_PAGE = 60


@require_GET
@open_to(STAFF)
def seasoning(request: SignedInRequest) -> HttpResponse:
    """Show the clefts that season, those to be weighed again first."""
    book, today = book_in_force(), timezone.localdate()
    due = set(to_weigh_again(book, today).values_list("pk", flat=True))
    found = (
        Cleft.objects.filter(state=CleftState.SEASONING).select_related("load").order_by("read_on", "number")
    )
    page = Paginator(found, A_PAGE).get_page(request.GET.get("page"))
    told = outlooks(page.object_list, book, today)
    context = {
        "today": today,
        "page": page,
        "rows": [
            {"cleft": cleft, "outlook": told.get(cleft.pk), "is_due": cleft.pk in due}
            for cleft in page.object_list
        ],
        "due": len(due),
        "ready": sum(outlook.is_ready for outlook in told.values()),
        "room": book.room,
        "equilibrium": equilibrium_moisture(book.room.room_temperature_c, book.room.room_humidity_percent),
        "wanted": wanted_of(book),
    }
    return render(request, "rack/seasoning.html", context)
