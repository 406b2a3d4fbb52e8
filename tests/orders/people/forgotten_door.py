"""Addresses for one test: a view whose author forgot to say who may come in."""

from django.http import HttpResponse
from django.urls import path

from orders.people.doors import ANYONE, open_to


def forgotten(request):
    """Say nothing about who may come in."""
    return HttpResponse("inside")


urlpatterns = [
    path("forgotten/", forgotten),
    path("open/", open_to(ANYONE)(forgotten)),
]
