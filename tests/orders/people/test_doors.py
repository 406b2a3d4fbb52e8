"""Who may come in by which door."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import Http404, HttpResponse
from django.test import RequestFactory
from django.views.decorators.http import require_POST

from orders.people.doors import ANYONE, HOLDER, MAKER, SIGNED_IN, STAFF, open_to
from tests.factories import BenchHandFactory, GuardianFactory, MakerFactory, UserFactory

PEOPLE = {
    "player": UserFactory,
    "guardian": GuardianFactory,
    "maker": MakerFactory,
    "bench_hand": BenchHandFactory,
}


def come(door, user, **headers):
    """Call a view behind a door."""

    @open_to(door)
    def view(request):
        return HttpResponse("inside")

    request = RequestFactory().get("/some/page/?n=1", headers=headers)
    request.user = user
    return view(request)


@pytest.mark.parametrize("role", PEOPLE)
@pytest.mark.parametrize(
    "door", [ANYONE, HOLDER, STAFF, MAKER, SIGNED_IN], ids=lambda door: "+".join(sorted(door))
)
def test_door_opens_to_its_roles_and_is_not_there_for_others(door, role):
    user = PEOPLE[role].build()
    if role in door or "anyone" in door:
        assert come(door, user).content == b"inside"
    else:
        with pytest.raises(Http404):
            come(door, user)


@pytest.mark.parametrize("door", [HOLDER, STAFF, MAKER, SIGNED_IN], ids=lambda door: "+".join(sorted(door)))
def test_stranger_is_sent_to_sign_in_and_back(door):
    answer = come(door, AnonymousUser())
    assert answer.status_code == 302
    assert answer["Location"] == "/sign-in/?next=/some/page/%3Fn%3D1"


def test_anyone_comes_in_where_the_door_is_open():
    assert come(ANYONE, AnonymousUser()).content == b"inside"


def test_fragment_sends_the_whole_page_to_sign_in():
    answer = come(HOLDER, AnonymousUser(), hx_request="true", hx_current_url="http://testserver/my/")
    assert answer.status_code == 204
    assert answer["HX-Redirect"] == "/sign-in/?next=/my/"


def test_sent_form_leads_back_to_the_page_it_stood_on():
    @open_to(HOLDER)
    def view(request):
        return HttpResponse("inside")

    request = RequestFactory().post("/do/", headers={"referer": "http://testserver/my/"})
    request.user = AnonymousUser()
    assert view(request)["Location"] == "/sign-in/?next=/my/"
    request = RequestFactory().post("/do/", headers={"referer": "http://evil.test/my/"})
    request.user = AnonymousUser()
    assert view(request)["Location"] == "/sign-in/?next=/"


def test_roles_stand_on_the_view_under_other_decorators():
    @require_POST
    @open_to(STAFF)
    def view(request):
        return HttpResponse("inside")

    assert getattr(view, "open_to", None) == {"maker", "bench_hand"}


@pytest.mark.django_db
def test_view_without_a_door_is_closed(client, settings):
    settings.ROOT_URLCONF = "tests.orders.people.forgotten_door"
    assert client.get("/forgotten/")["Location"] == "/sign-in/?next=/forgotten/"
    assert client.get("/wide-open/").content == b"inside"
