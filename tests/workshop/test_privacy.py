"""Whose pages may be stored, and what every answer carries."""

import pytest
from django.http import HttpResponse
from django.test import RequestFactory

from workshop.privacy import keep_out_of_caches


def answer(request, session, *, reads):
    """Answer as a view that reads its session, or does not."""

    def view(request):
        request.session = session
        if reads:
            session.get("draft")
        return HttpResponse("a page")

    return keep_out_of_caches(view)(request)


@pytest.fixture
def session(db):
    from django.contrib.sessions.backends.db import SessionStore

    store = SessionStore()
    store["draft"] = "zzzz"
    store.save()
    return SessionStore(store.session_key)


def test_page_of_a_session_is_not_stored(session):
    response = answer(RequestFactory().get("/"), session, reads=True)
    assert response.headers["Cache-Control"] == "no-store, private"


def test_page_that_reads_no_session_may_be_stored(session):
    assert "Cache-Control" not in answer(RequestFactory().get("/"), session, reads=False).headers


def test_page_of_a_stranger_may_be_stored(db):
    from django.contrib.sessions.backends.db import SessionStore

    assert "Cache-Control" not in answer(RequestFactory().get("/"), SessionStore(), reads=True).headers


def test_signed_in_page_is_not_stored(client, player_user):
    client.force_login(player_user)
    response = client.get("/no/such/page/")
    assert response.status_code == 404
    assert response.headers["Cache-Control"] == "no-store, private"


@pytest.mark.parametrize(
    ("address", "status"), [("/health/", 200), ("/no/such/page/", 404), ("/static/look.css", 200)]
)
def test_every_answer_carries_the_content_policy(client, workshop, address, status):
    response = client.get(address)
    response.close()
    assert response.status_code == status
    policy = response.headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
