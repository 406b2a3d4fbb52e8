"""Every address of the site, a room each."""

from django.urls import include, path

from workshop import about, staff, start
from workshop.health import health

urlpatterns = [
    path("health/", health, name="health"),
    path("", start.start, name="start"),
    path("", include("orders.people.urls")),
    path("", include("orders.messages.urls")),
    path("", include("orders.interview.urls")),
    path("", include("orders.commissions.urls")),
    path("", include("orders.care.urls")),
    path("", include("orders.rules.urls")),
    path("floor/", include("workshop.review.urls")),
    path("floor/", include("workshop.returns.urls")),
    path("floor/workshop/", about.about, name="workshop-about"),
    path("floor/people/", staff.staff, name="staff"),
    path("floor/people/let-go/", staff.let_go, name="staff-let-go"),
    path("floor/people/letters/", staff.send_letter_again, name="staff-send-again"),
    path("floor/people/invitations/<str:code>/withdraw/", staff.withdraw_invitation, name="staff-withdraw"),
    path("floor/book/", include("workshop.book.urls")),
    path("floor/rack/", include("workshop.rack.urls")),
    path("floor/stock/", include("workshop.stock.urls")),
    path("floor/match/", include("workshop.match.urls")),
    path("floor/bench/", include("workshop.bench.urls")),
]
