"""Addresses for the tests of forms that count once: a form that makes a player."""

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import path

from orders.people.doors import HOLDER, open_to
from orders.people.models import Player
from orders.people.once import once
from workshop.urls import urlpatterns as site


@open_to(HOLDER)
@once
def name(request):
    """Make a player of the given name; some names go wrong after writing."""
    if request.method != "POST":
        return HttpResponse("form")
    given = request.POST["name"]
    player = Player.objects.create(holder=request.user, name=given)
    if given == "refuse":
        return HttpResponse("no", status=422)
    if given == "crash":
        raise RuntimeError("crashed after writing")
    if given == "fragment":
        return HttpResponse("made")
    return redirect(f"/{player.code}/")


urlpatterns = [path("name/", name), *site]
