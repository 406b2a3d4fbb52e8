"""Photographs as they are seen, and the page that stands for the post while trying out."""

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.csp import CSP
from django.views.decorators.cache import never_cache
from django.views.decorators.csp import csp_override
from django.views.decorators.http import require_safe

from orders.commissions.access import commission_for
from orders.messages.models import Letter, Photo
from orders.messages.rendering import text_of
from orders.people.doors import ANYONE, SIGNED_IN, SignedInRequest, open_to

NEWEST = 60


@require_safe
@open_to(SIGNED_IN)
@csp_override({"default-src": [CSP.NONE], "sandbox": [""]})
def photograph(request: SignedInRequest, code: str) -> HttpResponse:
    """Send a photograph to whoever may see its commission."""
    photo = get_object_or_404(Photo.objects.select_related("commission"), code=code)
    commission_for(request.user, photo.commission.code)
    if request.user.is_holder and not photo.shown_to_player and photo.by_id != request.user.pk:
        raise Http404
    try:
        with photo.file.open("rb") as file:
            response = HttpResponse(file.read(), content_type="image/jpeg")
    except FileNotFoundError:
        raise Http404 from None
    response["Content-Disposition"] = f'inline; filename="photograph-{photo.code}.jpg"'
    response["X-Content-Type-Options"] = "nosniff"
    response["Cross-Origin-Resource-Policy"] = "same-origin"
    response["Cache-Control"] = "no-store, private"
    return response


@require_safe
@open_to(ANYONE)
@never_cache
def mail(request: HttpRequest) -> HttpResponse:
    """Show the letters that would have been sent; only where nothing is sent at all."""
    if settings.MAIL_DELIVERY != "page":
        raise Http404
    letters = Letter.objects.order_by("-created_at", "-pk")
    if to := request.GET.get("to", "").strip():
        letters = letters.filter(to__icontains=to)
    rows = [(letter, text_of(letter)) for letter in letters[:NEWEST]]
    return render(request, "people/mail.html", {"rows": rows, "to": to})
