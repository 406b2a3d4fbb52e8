"""Times on screen are the workshop's own, wherever server and reader are."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from orders.people.models import Workshop

View = Callable[[HttpRequest], HttpResponse]


def in_the_workshops_zone(get_response: View) -> View:
    """Fetch the workshop once a request, as ``request.workshop``, and tell every time in its zone.

    The health check must answer without a database, so it is left out.
    """

    def middleware(request: HttpRequest) -> HttpResponse:
        if request.path == reverse("health"):
            return get_response(request)
        workshop = Workshop.objects.the_one()
        request.workshop = workshop  # type: ignore[attr-defined]
        with timezone.override(workshop.zone if workshop else "UTC"):
            return get_response(request)

    return middleware
