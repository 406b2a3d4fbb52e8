"""Forms that count once, however often they are sent."""

import hashlib
import re
from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.http import HttpRequest, HttpResponse, HttpResponseBase, HttpResponseRedirect
from django.shortcuts import render
from django.utils.translation import gettext as _

from orders.people.codes import ALPHABET, new_code
from orders.people.models import OneTimeKey

FIELD = "once"
KEY_LENGTH = 26
KEY = re.compile(rf"[{ALPHABET}]{{{KEY_LENGTH}}}")


def new_key() -> str:
    """Return a fresh key for one rendering of one form (130 random bits)."""
    return new_code(KEY_LENGTH)


def once(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
    """Let a form sent by POST take effect once.

    The key of the form's ``{% once %}`` is stored in one transaction with what the view writes, so
    that both stand or neither. The same form sent again, after a double click or a lost answer, is
    led to where the first one led. The same key with other content is refused (422), a form
    without a key too (400). An answer of 400 or more undoes whatever the view wrote and leaves the
    key unused. ``counts_once`` stands on the view for the test that walks every address.
    """

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if request.method != "POST":
            return view(request, *args, **kwargs)
        key = request.POST.get(FIELD, "")
        if not KEY.fullmatch(key):
            words = _("This form came without its mark. Open the page again and send it once more.")
            return render(request, "400.html", {"words": words}, status=400)
        said = _hash_of_form(request)
        with transaction.atomic():
            # A second, simultaneous sending waits here until the first has ended.
            row, is_new = OneTimeKey.objects.get_or_create(key=key, defaults={"said": said})
            if not is_new:
                return _answer_again(request, row, said)
            response = view(request, *args, **kwargs)
            if response.status_code >= 400:
                transaction.set_rollback(True)
                return response
            row.location = response.headers.get("Location") or response.headers.get("HX-Redirect") or ""
            row.save(update_fields=["location"])
            return response

    cast(Any, guarded).counts_once = True
    return guarded


def _answer_again(request: HttpRequest, row: OneTimeKey, said: str) -> HttpResponseBase:
    if row.said != said:
        return render(request, "422.html", status=422)
    if request.headers.get("HX-Request") == "true":
        # What stands on the page came with the first answer: htmx leaves it alone on 204.
        answer = HttpResponse(status=204)
        if row.location:
            answer["HX-Redirect"] = row.location
        return answer
    return HttpResponseRedirect(row.location or request.get_full_path())


def _hash_of_form(request: HttpRequest) -> str:
    """Hash who sent what to where; the token against forgery changes with every rendering."""
    found = hashlib.sha256(f"{request.user.pk}\n{request.path}\n".encode())
    for name in sorted(request.POST):
        if name not in {FIELD, "csrfmiddlewaretoken"}:
            found.update(repr((name, request.POST.getlist(name))).encode())
    for name in sorted(request.FILES):
        for upload in request.FILES.getlist(name):
            found.update(repr((name, upload.name)).encode())
            _add_content(found, upload)
    return found.hexdigest()


def _add_content(found: "hashlib._Hash", upload: "UploadedFile[bytes]") -> None:
    for chunk in upload.chunks():
        found.update(chunk)
    upload.seek(0)
