"""Addresses for one test: a view whose author forgot to say who may come in."""

from django.http import HttpResponse
from django.urls import path

from orders.people.doors import ANYONE, open_to
from workshop.urls import urlpatterns as site


def forgotten(request):
    """Say nothing about who may come in."""
    return HttpResponse("inside")


urlpatterns = [
    path("forgotten/", forgotten),
    path("wide-open/", open_to(ANYONE)(forgotten)),
    *site,
]
