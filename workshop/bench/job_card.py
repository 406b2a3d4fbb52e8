"""The job card: the one sheet that travels with the bat, and the label that hangs on it, as PDFs."""

from datetime import datetime
from typing import Any

import segno
from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.text import capfirst
from django.utils.translation import get_language, gettext

from fitting.drawing.on_card import CardRow, draw_for_card
from orders.commissions import stages
from orders.people.models import Workshop
from orders.words.agreed import agreed_words
from orders.words.stages import CARD_CAUTIONS, RULES_FIRST
from orders.words.states import stage_words
from orders.words.sweet_spot import soft_number
from workshop.bench.asks import Ask, asks_of
from workshop.bench.page import aim_words, plain
from workshop.bench.work import Work
from workshop.rack.clefts import cleft_of, cleft_of_round

# What of the agreed bat stands among the conditions: the wood is chosen already, the blade is drawn.
CONDITIONS = ("handle_fitting", "finishing")


def job_card(work: Work, *, at: datetime | None = None) -> bytes:
    """Return the job card of a bat as a PDF of one page: drawing, numbers to hit, conditions, cautions."""
    return _pdf("job_card", card_of(work, at or timezone.now()))


def hanging_label(work: Work, *, at: datetime | None = None) -> bytes:
    """Return the label that hangs on a bat in progress: which bat, its stages to be ticked, its code."""
    return _pdf("hanging_label", label_of(work, at or timezone.now()))


def _pdf(name: str, context: dict[str, Any]) -> bytes:
    # Only here: loading it takes a second or more, which no other page should pay.
    from weasyprint import CSS, HTML  # noqa: PLC0415
    from weasyprint.urls import URLFetcher  # noqa: PLC0415

    # Nothing is fetched from disk or net: all that the card shows is in its own text.
    nothing = URLFetcher(allowed_protocols={"data"}, allow_redirects=False, timeout=2)
    look = CSS(string=render_to_string(f"bench/{name}.css", context), url_fetcher=nothing)
    card = HTML(string=render_to_string(f"bench/{name}.html", context), url_fetcher=nothing)
    pdf: bytes = card.write_pdf(stylesheets=[look], pdf_variant="pdf/ua-1")
    return pdf


def label_of(work: Work, at: datetime) -> dict[str, Any]:
    """Return what stands on the hanging label."""
    bat, build = work.bat, work.build
    length = build.blade.length_mm + build.handle.length_mm
    return {
        "bat": bat,
        "commission": bat.commission,
        "language": get_language() or "en-gb",
        "at": at,
        "length": plain(length),
        "code": _square_code(bat.code),
        "stages": [capfirst(stage_words(stage)) for stage in stages.stages_of(bat)],
    }


def card_of(work: Work, at: datetime) -> dict[str, Any]:
    """Return what stands on the card."""
    bat, build, bench = work.bat, work.build, work.book.bench
    singles = {
        ask.key: ask for stage in CONDITIONS for ask in asks_of(work.paper, stage) if ask.place is None
    }
    return {
        **label_of(work, at),
        "workshop": Workshop.objects.the_one(),
        "build": build,
        "weighing": work.weighing,
        "pickup": _with_tolerance(build.pickup_kg_m2.target, build.pickup_kg_m2.tolerance),
        "balance": f"{work.weighing.balance_from_toe_mm:.0f} ± {bench.tolerances.balance_mm:g}",
        "hits": _hits(work),
        "version": work.version.number,
        "reshaped": work.targets != build,
        "is_new": not work.is_adjustment,
        # A bat that is put right keeps its wood; one that is made again waits for another piece.
        "cleft": cleft_of(bat) if work.is_adjustment else cleft_of_round(bat),
        "round": stages.current_round(bat),
        "drawing": _drawing(work),
        "leave": plain(work.leave_mm),
        "spine_mm": plain(bench.tolerances.spine_mm),
        "edge_mm": plain(bench.tolerances.edge_mm),
        "apart_mm": plain(bench.tolerances.edges_apart_mm),
        "girths": [_girth(singles, key) for key in ("girth_top", "girth_middle", "girth_bottom")],
        "agreed": [fact for stage in CONDITIONS for fact in agreed_words(build, stage)],
        "cautions": [*map(str, CARD_CAUTIONS), str(RULES_FIRST)],
    }


def _girth(singles: dict[str, Ask], key: str) -> str:
    ask = singles.get(key)
    return "" if ask is None or ask.aim is None else aim_words(ask.aim)


def _with_tolerance(target: float, tolerance: float) -> str:
    return f"{target:.4f} ± {tolerance:.4f}"


def _hits(work: Work) -> str:
    """Return the place that hits hardest, to 5 mm; nothing where an older model told none."""
    sweet = work.weighing.sweet_spot
    return soft_number(sweet.peak_from_toe_mm) if sweet else ""


def _drawing(work: Work) -> SafeString:
    """Return face and side, and under each station what its calliper is to find on the finished bat."""
    asks = [ask for ask in asks_of(work.paper, "handle_fitting") if ask.place is not None]
    along = {key: [ask for ask in asks if ask.key == key] for key in ("spine", "edge_left")}
    numbers = {key: tuple(_target(ask) for ask in found) for key, found in along.items()}
    blade, bench = work.paper.build.blade, work.paper.bench
    places = tuple(f"{station.from_toe_mm:.0f}" for station in blade.stations)
    rows = [CardRow(gettext("mm from the toe"), places)]
    if len(numbers["spine"]) == len(places):
        rows += [CardRow(gettext("spine"), numbers["spine"]), CardRow(gettext("spine read"))]
    if len(numbers["edge_left"]) == len(places):
        rows.append(CardRow(gettext("edge, left and right"), numbers["edge_left"]))
        rows += [CardRow(gettext("left edge read")), CardRow(gettext("right edge read"))]
    svg = draw_for_card(
        work.paper.build,
        rows,
        title=gettext("Face and side of the bat, the numbers to hit under its stations"),
        # The top of a bat that is only put right is shaped already.
        square_from_mm=None if work.is_adjustment else blade.length_mm - bench.square_top_mm,
        square_words=gettext("left square"),
    )
    return mark_safe(svg)  # noqa: S308 - every word in it was escaped by the drawing


def _target(ask: Ask) -> str:
    return "" if ask.aim is None or ask.aim.target is None else f"{ask.aim.target:.1f}"


def _square_code(code: str) -> SafeString:
    """Return the bat's address as a square code, in an SVG to be sized by the page."""
    address = settings.SITE_URL.rstrip("/") + reverse("bench:bat", args=[code])
    svg = segno.make(address, error="m").svg_inline(omitsize=True, border=4)
    return mark_safe(str(svg))  # noqa: S308 - made of numbers alone
