"""What the tests of the stock's pages share: a key for a form, a page as text."""

import re

from django.test import Client
from django.urls import reverse

ONCE = re.compile(r'name="once" value="([0-9a-z]{26})"')
MONEY = re.compile(r"£|GBP")


def key(client: Client) -> dict[str, str]:
    """Return a fresh key as a page gives one."""
    found = ONCE.search(client.get(reverse("stock:handle-take-in")).content.decode())
    assert found is not None
    return {"once": found[1]}


def send(client: Client, name: str, /, *args: str, **form: str):
    """Send a form of the stock with a fresh key."""
    return client.post(reverse(f"stock:{name}", args=args), {**form, **key(client)})


def text(client: Client, name: str, /, *args: str, **query: str) -> str:
    """Return a page of the stock."""
    return client.get(reverse(f"stock:{name}", args=args), query).content.decode()
