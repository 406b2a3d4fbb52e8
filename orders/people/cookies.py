"""Short-lived cookies of signing in.

A mailed address carries its token only once: opening it puts the token into a cookie and goes on to an
address without it, so that the token stands in no history, no referrer and no form. ("Referrer-Policy:
no-referrer" on a page with a form would make browsers send "Origin: null" with it, which is refused.)
"""

from dataclasses import dataclass

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect


@dataclass(frozen=True)
class Kept:
    """A cookie of our own, by its name and how long it lasts."""

    word: str
    seconds: int

    @property
    def name(self) -> str:
        """The cookie's name; the prefix binds it to https and to this very host."""
        return f"__Host-{self.word}" if settings.SESSION_COOKIE_SECURE else self.word

    def read(self, request: HttpRequest) -> str:
        """Return what the browser keeps; empty if nothing."""
        return request.COOKIES.get(self.name, "")

    def give(self, response: HttpResponse, value: str) -> None:
        """Let the browser keep a value. Lax, because it comes and goes with links in letters."""
        response.set_cookie(
            self.name,
            value,
            max_age=self.seconds,
            secure=settings.SESSION_COOKIE_SECURE,
            httponly=True,
            samesite="Lax",
        )

    def forget(self, response: HttpResponse) -> None:
        """Let the browser forget it."""
        response.delete_cookie(self.name, samesite="Lax")


# Ties a sign-in link to the browser that asked for it.
ASKING = Kept("asking", 3600)
LINK = Kept("link", 600)
INVITATION = Kept("invitation", 3600)


def go_on_without_token(address: str, cookie: Kept, token: str) -> HttpResponse:
    """Answer a mailed address: keep its token, and on to the page without it."""
    response = HttpResponseRedirect(address, headers={"Referrer-Policy": "no-referrer"})
    cookie.give(response, token)
    return response
