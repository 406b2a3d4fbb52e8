"""Editing a build sheet, its numbers following at once."""

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from fitting.bat.weigh import weigh as weigh_build
from fitting.laws import LawRow
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from orders.commissions import builds
from orders.commissions.access import commission_for
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, sheet_of, weighing_of
from orders.commissions.models import BuildVersion, Commission
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.shown import figures
from orders.commissions.snapshots import edition_for, law_rows
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.people.once import once
from orders.words.drawing import drawing_for
from orders.words.lawful import book_margin_words, law_rows_worded, lawful_words
from orders.words.laws import level_words
from orders.words.measures import show_mass
from orders.words.sweet_spot import blow_in_numbers, say_peak
from workshop.review.build_form import BuildForm, FormRefused
from workshop.review.comparing import changed_rows
from workshop.review.numbers import compared_numbers
from workshop.review.views import review_page

MOST_NOTE = 2000


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(MAKER)
@once
def edit(request: SignedInRequest, code: str) -> HttpResponse:
    """Change any field of the build sheet and keep it as a new version."""
    commission = commission_for(request.user, code)
    if not builds.can_edit(commission, request.user):
        return review_page(request, commission, refused=Refused("not_now"))
    parent = _parent(commission, request)
    if request.method != "POST":
        return _page(request, commission, parent, BuildForm.of_build(build_of(parent)))
    form = BuildForm.of_post(request.POST)
    try:
        build = form.read()
    except FormRefused as refused:
        return _page(request, commission, parent, form.with_faults(refused.faults), status=422)
    seen = request.POST.get("version", "")
    try:
        version = builds.edit(
            commission,
            build,
            by=request.user,
            parent=parent,
            seen_version=int(seen) if seen.isdigit() else -1,
            note=request.POST.get("note", "").strip()[:MOST_NOTE],
        )
    except MovedOn:
        return _page(request, commission_for(request.user, code), parent, form, conflict=True, status=409)
    except Refused as refused:
        return review_page(request, commission, refused=refused)
    messages.success(request, _("Kept as version %(number)s.") % {"number": version.number})
    return redirect("review:review", code)


@require_POST
@open_to(MAKER)
def weigh(request: SignedInRequest, code: str) -> HttpResponse:
    """Weigh what stands in the form, keeping nothing: just the numbers for htmx, the whole page without."""
    commission = commission_for(request.user, code)
    form = BuildForm.of_post(request.POST)
    faults: dict[str, str] = {}
    try:
        form.read()
    except FormRefused as refused:
        faults = refused.faults
    form = form.with_faults(faults)
    if request.headers.get("HX-Request") == "true":
        return _numbers(request, commission, form)
    return _page(request, commission, _parent(commission, request), form)


def _numbers(request: SignedInRequest, commission: Commission, form: BuildForm) -> HttpResponse:
    """Answer htmx with the numbers alone; while there is no bat the last ones stay, with what is wrong."""
    weighed = _weighed(commission, form)
    if weighed is None:
        response = render(request, "review/unweighed.html", {"faults": form.summary()})
        response["HX-Retarget"], response["HX-Reswap"] = "#unweighed", "innerHTML"
        return response
    return render(request, "review/edit.html#weighing", {"weighed": weighed, "follows": True})


def _parent(commission: Commission, request: SignedInRequest) -> BuildVersion:
    """Return the version that is being edited: the one named, else the newest."""
    number = request.POST.get("parent") or request.GET.get("build") or ""
    versions = commission.builds.order_by("-number")
    named = versions.filter(number=int(number)).first() if number.isdigit() and len(number) < 7 else None
    return named or versions[0]


def _page(
    request: SignedInRequest,
    commission: Commission,
    parent: BuildVersion,
    form: BuildForm,
    *,
    conflict: bool = False,
    status: int = 200,
) -> HttpResponse:
    newest = commission.builds.select_related("by").order_by("-number")[0]
    context = {
        "commission": commission,
        "parent": parent,
        "form_rows": form,
        "faults": form.summary(),
        "note": request.POST.get("note", "")[:MOST_NOTE],
        # After a conflict keeping means: knowing of the newer one.
        "seen_version": commission.version
        if conflict or request.method != "POST"
        else request.POST.get("version", ""),
        "newest": newest,
        "weighed": _weighed(commission, form),
    }
    if conflict:
        context["conflict"] = changed_rows(build_of(newest), form.read())
        context["is_conflict"] = True
    context["open_proposal"] = commission.proposals.open().select_related("build_version").first()
    return render(request, "review/edit.html", context, status=status)


def _weighed(commission: Commission, form: BuildForm) -> dict[str, Any] | None:
    """Return the numbers of what stands in the form, None while it makes no bat."""
    if form.faults:
        return None
    build = form.read()
    book = book_in_force()
    weighing = weigh_build(build, book=book)
    first = commission.builds.order_by("number")[0]
    recommended, forecast = build_of(first), weighing_of(first)
    sheet = sheet_of(commission)
    rows = law_rows(build, sheet, book=book)
    return {
        "figures": figures(build, weighing, length=False),
        "said": _said(weighing, rows),
        "misses": _misses(build, weighing.mass_g, weighing.inertia_kg_m2.pickup),
        "laws": law_rows_worded(rows),
        "lawful": lawful_words(rows, sheet.level),
        "too_close": book_margin_words(rows, book.law_margin_mm),
        "level_words": level_words(sheet.level, edition_for(sheet, book)),
        "blow": blow_in_numbers(weighing),
        "numbers": compared_numbers((recommended, forecast), (build, weighing)),
        "drawing": drawing_for(
            build,
            weighing,
            compare=recommended,
            compare_weighing=forecast,
            left_handed=sheet.player.batting_hand == "left",
        ),
    }


def _said(weighing: Weighing, rows: tuple[LawRow, ...]) -> str:
    """Say to whoever cannot look what a change came to."""
    return _("%(mass)s; hits hardest %(peak)s above the toe; %(count)s outside the Laws") % {
        "mass": show_mass(weighing.mass_g),
        "peak": say_peak(weighing.sweet_spot) if weighing.sweet_spot else "",
        "count": sum(not row.passes for row in rows),
    }


def _misses(build: BuildSheet, mass_g: float, pickup_kg_m2: float) -> list[str]:
    """Say by how much the forecast misses its own targets, mass before pickup."""
    found = []
    off = mass_g - build.mass_g.target
    if abs(off) > build.mass_g.tolerance:
        found.append(
            _("The mass misses its target of %(target)g g by %(off)+.0f g (%(tolerance)g g are allowed).")
            % {"target": build.mass_g.target, "off": off, "tolerance": build.mass_g.tolerance}
        )
    off = pickup_kg_m2 - build.pickup_kg_m2.target
    if abs(off) > build.pickup_kg_m2.tolerance:
        found.append(
            _("The pickup misses its target of %(target).4f kg m² by %(off)+.4f.")
            % {"target": build.pickup_kg_m2.target, "off": off}
        )
    return found
