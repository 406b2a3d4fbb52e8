"""The job card: the sheet that travels with the bat, as a PDF."""

from datetime import datetime
from typing import Any

import segno
from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language

from fitting.drawing import draw_bat
from orders.commissions import stages
from orders.people.models import Workshop
from orders.words.agreed import agreed_words
from orders.words.drawing import drawing_labels
from orders.words.stages import caution_words, measured_words, stage_rule, step_words
from orders.words.states import stage_words
from orders.words.sweet_spot import soft_number
from workshop.bench.asks import Ask, asks_of
from workshop.bench.page import aim_words, aims_in_a_row
from workshop.bench.work import Work
from workshop.rack.clefts import cleft_of, cleft_of_round
from workshop.readings import SIGN


def job_card(work: Work, *, at: datetime | None = None) -> bytes:
    """Return the job card of a bat as a PDF: drawing, numbers with tolerances, steps, cautions."""
    # Only here: loading it takes a second or more, which no other page should pay.
    from weasyprint import CSS, HTML  # noqa: PLC0415
    from weasyprint.urls import URLFetcher  # noqa: PLC0415

    # Nothing is fetched from disk or net: all that the card shows is in its own text.
    nothing = URLFetcher(allowed_protocols={"data"}, allow_redirects=False, timeout=2)
    context = card_of(work, at or timezone.now())
    look = CSS(string=render_to_string("bench/job_card.css", context), url_fetcher=nothing)
    card = HTML(string=render_to_string("bench/job_card.html", context), url_fetcher=nothing)
    pdf: bytes = card.write_pdf(stylesheets=[look], pdf_variant="pdf/ua-1")
    return pdf


def card_of(work: Work, at: datetime) -> dict[str, Any]:
    """Return what stands on the card."""
    bat, build = work.bat, work.build
    address = settings.SITE_URL.rstrip("/") + reverse("bench:bat", args=[bat.code])
    return {
        "bat": bat,
        "commission": bat.commission,
        "workshop": Workshop.objects.the_one(),
        "language": get_language() or "en-gb",
        "at": at,
        "build": build,
        "weighing": work.weighing,
        "hits": _hits(work),
        "version": work.version.number,
        # A bat that is put right keeps its wood; one that is made again waits for another piece.
        "cleft": cleft_of(bat) if work.is_adjustment else cleft_of_round(bat),
        "round": stages.current_round(bat),
        "drawing": _drawing(work),
        "code": _square_code(address),
        "agreed": [fact for stage in stages.stages_of(bat) for fact in agreed_words(build, stage)],
        "sheets": [_sheet(work, stage) for stage in stages.stages_of(bat)],
    }


def _hits(work: Work) -> str:
    """Return the place that hits hardest, to 5 mm; nothing where an older model told none."""
    sweet = work.weighing.sweet_spot
    return soft_number(sweet.peak_from_toe_mm) if sweet else ""


def _sheet(work: Work, stage: str) -> dict[str, Any]:
    """Return one stage of the card."""
    bench = work.paper.bench
    asks = asks_of(work.paper, stage)
    return {
        "name": stage_words(stage),
        "rule": stage_rule(stage, bench),
        "steps": [step_words(step.key, bench) for step in bench.work(stage).steps],
        "singles": [
            {"what": measured_words(ask.key, bench), "aim": aim_words(ask.aim), "unit": SIGN[ask.unit]}
            for ask in asks
            if ask.from_toe_mm is None
        ],
        "tables": _tables(work, [ask for ask in asks if ask.from_toe_mm is not None]),
        "cautions": caution_words(bench.work(stage).cautions),
    }


def _tables(work: Work, asks: list[Ask]) -> list[dict[str, Any]]:
    """Return the readings along the blade: a table for each set of places, a column a place."""
    by_key: dict[str, list[Ask]] = {}
    for ask in asks:
        by_key.setdefault(ask.key, []).append(ask)
    tables: dict[tuple[float | None, ...], list[dict[str, Any]]] = {}
    for key, row in by_key.items():
        places = tuple(ask.from_toe_mm for ask in row)
        what, numbers = aims_in_a_row(measured_words(key, work.paper.bench), [ask.aim for ask in row])
        words = {"what": what, "aims": numbers}
        tables.setdefault(places, []).append(words)
    return [{"places": [f"{place:.0f}" for place in places], "rows": rows} for places, rows in tables.items()]


def _drawing(work: Work) -> SafeString:
    svg = draw_bat(work.build, work.weighing, layout="print", labels=drawing_labels())
    return mark_safe(svg)  # noqa: S308 - every word in it was escaped by the drawing


def _square_code(address: str) -> SafeString:
    """Return the address as a square code, in an SVG to be sized by the page."""
    code = segno.make(address, error="m").svg_inline(omitsize=True, border=4)
    return mark_safe(str(code))  # noqa: S308 - made of numbers alone
