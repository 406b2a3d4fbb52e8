"""A file of clefts taken in: sent, looked at row by row, confirmed; and the rack as a file."""

from collections.abc import Callable, Iterator
from functools import wraps
from typing import Any, cast

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_GET, require_http_methods, require_POST, require_safe

from orders.commissions.refusals import Refused
from orders.people.doors import STAFF, SignedInRequest, open_to
from orders.people.models import User
from orders.people.once import once
from workshop.rack import exports
from workshop.rack.cleft_page import currency_for
from workshop.rack.columns import columns
from workshop.rack.delivery import confirm, keep_file
from workshop.rack.imports import ParsedFile, loads_told, parse
from workshop.rack.listing import Filter
from workshop.rack.models import Cleft, CleftFile
from workshop.rack.sheets import MOST_BYTES, MOST_ROWS, XLSX, SheetUnreadable, csv_table, read_table
from workshop.rack.words import refusal
from workshop.rack.words_of_files import unreadable

# As many rows are laid out on the page; a file has them all.
FAULTS_SHOWN = 300
GOOD_SHOWN = 12


def read_beforehand(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
    """Read the file before the view's transaction begins, so that nobody waits for it who writes meanwhile.

    The view finds what was read, or why it was not, as ``request.as_read``.
    """

    @wraps(view)
    def reading(request: HttpRequest) -> HttpResponseBase:
        upload = request.FILES.get("file") if request.method == "POST" else None
        if upload is not None:
            try:
                cast(Any, request).as_read = _parse(request, upload)
            except SheetUnreadable as error:
                cast(Any, request).as_read = error
        return view(request)

    return reading


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(STAFF)
@read_beforehand
@once
def send(request: SignedInRequest) -> HttpResponse:
    """Take a file that was read; nothing of it is on the rack yet."""
    if request.method != "POST":
        return _ask(request)
    upload = request.FILES.get("file")
    if upload is None:
        return _ask(request, gettext("Choose a file first."))
    parsed = cast(Any, request).as_read
    if isinstance(parsed, SheetUnreadable):
        return _ask(request, unreadable(parsed))
    kept = keep_file(upload.name or "", parsed, by=request.user)
    return redirect("rack:import-shown", code=kept.code)


@require_GET
@open_to(STAFF)
def shown(request: SignedInRequest, code: str) -> HttpResponse:
    """Show what a file says: its bad rows by name, its good ones, and what confirming would do."""
    return _preview(request, _file(code, request.user))


@require_POST
@open_to(STAFF)
@once
def take(request: SignedInRequest, code: str) -> HttpResponse:
    """Put the clefts of a file on the rack: all of the good rows, or nothing."""
    kept = _file(code, request.user)
    try:
        found = confirm(kept, good_only=request.POST.get("good_only") == "on", by=request.user)
    except Refused as error:
        return _preview(request, kept, refusal(error.key), at_tick=error.key == "file_has_faults")
    words = ngettext(
        "%(count)d cleft of the file is on the rack.",
        "%(count)d clefts of the file are on the rack.",
        len(found),
    )
    messages.success(request, words % {"count": len(found)})
    return redirect("rack:clefts")


@require_safe
@open_to(STAFF)
def faults(request: SignedInRequest, code: str) -> HttpResponse:
    """Send every fault of a file as a file."""
    parsed = ParsedFile.from_json(_file(code, request.user).parsed)
    rows: Iterator[list[str | float | None]] = (
        [fault.row, fault.column, fault.given, fault.words] for fault in parsed.faults
    )
    head = [gettext("row"), gettext("column"), gettext("given"), gettext("what is wrong")]
    return _attached(csv_table(head, rows), "text/csv; charset=utf-8", "bad-rows.csv")


@require_safe
@open_to(STAFF)
def export(request: SignedInRequest, kind: str) -> HttpResponse:
    """Send the clefts within the filter as a file."""
    found = Filter.read(request.GET.dict()).clefts(timezone.localdate())
    currency, day = currency_for(request), timezone.localdate().isoformat()
    if kind == "csv":
        return _attached(
            exports.as_csv(found, currency=currency), "text/csv; charset=utf-8", f"clefts-{day}.csv"
        )
    return _attached(exports.as_workbook(found, currency=currency), XLSX, f"clefts-{day}.xlsx")


@require_safe
@open_to(STAFF)
def pattern(request: SignedInRequest) -> HttpResponse:
    """Send an empty file with the columns' names."""
    nothing = Cleft.objects.none()
    return _attached(exports.as_workbook(nothing, currency=currency_for(request)), XLSX, "clefts.xlsx")


def _parse(request: HttpRequest, upload: "UploadedFile[bytes]") -> ParsedFile:
    size = upload.size or 0
    if size > MOST_BYTES:
        raise SheetUnreadable("too_big", given=size, most=MOST_BYTES)
    table = read_table(upload.read())
    # Read once more for the mark of the form that was sent.
    upload.seek(0)
    return parse(table, today=timezone.localdate(), currency=currency_for(request))


def _ask(request: HttpRequest, fault: str = "") -> HttpResponse:
    context = {
        "faults": [{"field_id": "id_file", "words": fault}] if fault else [],
        "columns": columns(timezone.localdate(), currency_for(request)),
        "most_rows": MOST_ROWS,
    }
    return render(request, "rack/import.html", context, status=422 if fault else 200)


def _preview(
    request: HttpRequest, kept: CleftFile, refused: str = "", *, at_tick: bool = False
) -> HttpResponse:
    parsed = ParsedFile.from_json(kept.parsed)
    context = {
        "file": kept,
        "parsed": parsed,
        "faults": [{"field_id": "id_good_only" if at_tick else "", "words": refused}] if refused else [],
        "bad": parsed.faults[:FAULTS_SHOWN],
        "more_bad": max(0, len(parsed.faults) - FAULTS_SHOWN),
        "good": [_told(row) for row in parsed.good[:GOOD_SHOWN]],
        "more_good": max(0, len(parsed.good) - GOOD_SHOWN),
        "loads": loads_told(parsed),
    }
    return render(request, "rack/import_shown.html", context, status=422 if refused else 200)


def _told(row: dict[str, object]) -> dict[str, object]:
    """Return a good row as the list of the rack tells a cleft."""
    cleft = Cleft(
        **{name: value for name, value in row.items() if name not in ("row", "load", "grower", "blemishes")}
    )
    return {"cleft": cleft, "row": row["row"], "load": row["load"]}


def _file(code: str, user: User) -> CleftFile:
    """Return a file that this person sent, or answer 404."""
    found = CleftFile.objects.filter(code=code, by=user).first()
    if found is None:
        raise Http404
    return found


def _attached(content: bytes, kind: str, name: str) -> HttpResponse:
    response = HttpResponse(content, content_type=kind)
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
