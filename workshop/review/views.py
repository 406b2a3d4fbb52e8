"""The review: what the player said on the left, the bat on the right, what can be done below."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from orders.care.models import Return
from orders.commissions import lifecycle
from orders.commissions.access import commission_for
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, can_edit, sheet_of, weighing_of
from orders.commissions.models import BuildVersion, Commission
from orders.commissions.refusals import Refused
from orders.commissions.shown import figures
from orders.commissions.snapshots import edition_for, law_rows
from orders.commissions.states import ProposalState, State
from orders.money.amounts import show_price
from orders.people.doors import MAKER, SignedInRequest, open_to
from orders.words.drawing import drawing_for
from orders.words.lawful import book_margin_words, law_rows_worded, lawful_words
from orders.words.laws import level_words
from orders.words.states import by_when, journal_lines, refusal_words
from orders.words.sweet_spot import blow_in_numbers
from workshop.review.answers import said_by, why_of
from workshop.review.call_sheet import lines_to_call_about
from workshop.review.comparing import changed_rows
from workshop.review.numbers import compared_numbers, numbers_of

# Afterwards it is agreed what is made, and there is nothing left to ask.
BEFORE_PROPOSING = frozenset({State.SENT, State.CHANGE_ASKED})


@require_safe
@open_to(MAKER)
def review(request: SignedInRequest, code: str) -> HttpResponse:
    """Show one commission to the maker."""
    return review_page(request, commission_for(request.user, code))


def review_page(
    request: SignedInRequest, commission: Commission, *, refused: Refused | None = None
) -> HttpResponse:
    """Answer with the review as it stands now; 409 when a verb was refused."""
    versions = list(commission.builds.select_related("by", "parent").order_by("-number"))
    shown = _chosen(versions, request.GET.get("build", ""))
    first = versions[-1]
    build, weighing = build_of(shown), weighing_of(shown)
    sheet = sheet_of(commission)
    proposals = list(commission.proposals.order_by("-number").select_related("build_version"))
    agreed = next((row for row in proposals if row.state == ProposalState.ACCEPTED), None)
    book = book_in_force()
    rows = law_rows(build, sheet, agreed=agreed, book=book)
    is_own = shown.number != first.number
    context = {
        "commission": commission,
        "said": said_by(commission),
        "why": why_of(first),
        "to_ask": lines_to_call_about(sheet, first, book) if commission.state in BEFORE_PROPOSING else (),
        "versions": versions,
        "shown": shown,
        "is_own": is_own,
        "figures": figures(build, weighing, length=False),
        "drawing": drawing_for(
            build,
            weighing,
            compare=build_of(first) if is_own else None,
            compare_weighing=weighing_of(first) if is_own else None,
            left_handed=sheet.player.batting_hand == "left",
        ),
        "laws": law_rows_worded(rows),
        "lawful": lawful_words(rows, sheet.level),
        "too_close": book_margin_words(rows, book.law_margin_mm),
        "level_words": level_words(sheet.level, edition_for(sheet, book, agreed=agreed)),
        "numbers": compared_numbers((build_of(first), weighing_of(first)), (build, weighing))
        if is_own
        else numbers_of((build, weighing)),
        "blow": blow_in_numbers(weighing),
        "changed": changed_rows(build_of(first), build) if is_own else (),
        "proposals": [(row, show_price(row.price, row.currency)) for row in proposals],
        "by_when": by_when(commission, proposals[0] if proposals else None, staff=True),
        "bat": commission.bats.first(),
        "open_return": _open_return(commission),
        "can_edit": can_edit(commission, request.user),
        "can_propose": lifecycle.can_propose(commission, request.user),
        "can_withdraw": lifecycle.can_withdraw(commission, request.user),
        "can_cancel": lifecycle.can_cancel(commission, request.user),
        "journal": journal_lines(commission.journal.select_related("by"), staff=True),
        "refusal": refusal_words(refused) if refused else "",
    }
    return render(request, "review/review.html", context, status=409 if refused else 200)


def _open_return(commission: Commission) -> Return | None:
    """Return what waits for a decision at the returns desk; nothing unless the bat is back."""
    if commission.state != State.BACK:
        return None
    return Return.objects.filter(commission=commission, state=Return.State.ASKED).first()


def _chosen(versions: list[BuildVersion], number: str) -> BuildVersion:
    """Return the version asked for, the newest if none or an unknown one is."""
    return next((version for version in versions if str(version.number) == number), versions[0])
