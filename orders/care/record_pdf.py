"""The bat record as a PDF, to be kept with the bat."""

from django.conf import settings
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import get_language

from orders.care.record import Record
from orders.people.models import Workshop


def record_pdf(record: Record) -> bytes:
    """Return a bat's record on A4, tagged (PDF/UA-1)."""
    # Only here: loading it takes a second or more, which no other page should pay.
    from weasyprint import CSS, HTML  # noqa: PLC0415
    from weasyprint.urls import URLFetcher  # noqa: PLC0415

    # Nothing is fetched from disk or net: all that the record shows is in its own text.
    nothing = URLFetcher(allowed_protocols={"data"}, allow_redirects=False, timeout=2)
    page = render_to_string(
        "care/record_paper.html",
        {
            "record": record,
            "workshop": Workshop.objects.the_one(),
            "language": get_language() or "en-gb",
            "at": timezone.now(),
        },
    )
    paper = CSS(string=(settings.BASE_DIR / "static" / "paper.css").read_text(encoding="utf-8"))
    pdf: bytes = HTML(string=page, url_fetcher=nothing).write_pdf(stylesheets=[paper], pdf_variant="pdf/ua-1")
    return pdf
