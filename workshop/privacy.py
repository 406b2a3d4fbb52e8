"""Pages that belong to one person stay out of every cache."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

View = Callable[[HttpRequest], HttpResponse]


def keep_out_of_caches(get_response: View) -> View:
    """Mark each answer made for a session as not to be stored (OWASP ASVS 5.0, 14.3.2).

    A begun fitting counts as much as a signed-in page, so the test is whether the view looked into a
    session that holds something.
    """

    def middleware(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        session = getattr(request, "session", None)
        if session is not None and session.accessed and not session.is_empty():
            response.headers["Cache-Control"] = "no-store, private"
        return response

    return middleware
