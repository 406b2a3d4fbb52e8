"""Labels for clefts: the number as it is pencilled, and a square code that opens the cleft's page."""

from collections.abc import Iterable
from typing import Any

import segno
from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language

from workshop.rack.models import Cleft

# On one sheet of A4: three across, eight down, 70 x 37 mm.
ACROSS, DOWN = 3, 8
A_SHEET = ACROSS * DOWN
MOST = 10 * A_SHEET


def label(cleft: Cleft) -> bytes:
    """Return one label as a PDF of its own size."""
    return _print([[_of(cleft)]], "one")


def sheets(clefts: Iterable[Cleft]) -> bytes:
    """Return sheets of labels as a PDF of A4 pages."""
    labels = [_of(cleft) for cleft in clefts]
    return _print([labels[at : at + A_SHEET] for at in range(0, len(labels), A_SHEET)], "sheet")


def address_of(cleft: Cleft) -> str:
    """Return the address that a label's square code holds."""
    return settings.SITE_URL.rstrip("/") + reverse("rack:cleft", args=[cleft.code])


def _of(cleft: Cleft) -> dict[str, Any]:
    return {
        "cleft": cleft,
        "code": _square_code(address_of(cleft)),
        "load": cleft.load.name if cleft.load else "",
    }


def _square_code(address: str) -> SafeString:
    code = segno.make(address, error="m").svg_inline(omitsize=True, border=2)
    return mark_safe(str(code))  # noqa: S308 - made of numbers alone


def _print(pages: list[list[dict[str, Any]]], kind: str) -> bytes:
    # Only here: loading it takes a second or more, which no other page should pay.
    from weasyprint import CSS, HTML  # noqa: PLC0415
    from weasyprint.urls import URLFetcher  # noqa: PLC0415

    # Nothing is fetched from disk or net: all that a label shows is in its own text.
    nothing = URLFetcher(allowed_protocols={"data"}, allow_redirects=False, timeout=2)
    context = {"pages": pages, "kind": kind, "language": get_language() or "en-gb"}
    look = CSS(string=render_to_string("rack/labels.css", context), url_fetcher=nothing)
    sheet = HTML(string=render_to_string("rack/labels.html", context), url_fetcher=nothing)
    pdf: bytes = sheet.write_pdf(stylesheets=[look], pdf_variant="pdf/ua-1")
    return pdf
