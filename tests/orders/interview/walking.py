"""Steps through the interview that its tests share."""

import re
from typing import Any

from django.test import Client
from django.urls import reverse

from orders.interview.models import Fitting


def once_key(html: str) -> str:
    found = re.search(r'name="once" value="(\w+)"', html)
    assert found
    return found[1]


def begin(client: Client) -> str:
    """Begin a fitting as the button does; return its code."""
    start = client.get(reverse("interview:start")).content.decode()
    response = client.post(reverse("interview:begin"), {"once": once_key(start)})
    assert response.status_code == 302
    return response.headers["Location"].split("/")[2]


def page_url(code: str, page: str) -> str:
    return reverse("interview:page", args=[code, page])


def fitting_of(code: str) -> Fitting:
    return Fitting.objects.get(code=code)


def ask(client: Client, code: str, page: str) -> str:
    """Open a page and return it."""
    response = client.get(page_url(code, page))
    assert response.status_code == 200
    return response.content.decode()


def give(client: Client, code: str, page: str, **answers: Any) -> Any:
    """Fill in a page and leave it by its button."""
    form = {"version": str(fitting_of(code).version), **answers}
    return client.post(page_url(code, page), form)
