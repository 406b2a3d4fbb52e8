"""The morning page: what waits for a decision, what is late, what came back, what arrives; nothing else."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_safe

from fitting.drawing import bat_small
from orders.commissions.models import Commission
from orders.commissions.shown import bat_meant, latest_proposal, part_at_work
from orders.commissions.states import ProposalState, State
from orders.messages.models import Letter
from orders.people.doors import MAKER, SignedInRequest, open_to
from workshop.bench.makers_word import waiting_for_maker


@dataclass(frozen=True)
class Matter:
    """One commission that wants something, and what."""

    commission: Commission
    why: str
    since: str
    small: SafeString


@require_safe
@open_to(MAKER)
def morning(request: SignedInRequest) -> HttpResponse:
    """Show the maker what the day begins with."""
    today = timezone.localdate()
    everything = Commission.objects.with_people().with_bats()
    late = list(everything.late(today).order_by("promised_to"))
    waiting = list(everything.awaiting_review().order_by("changed_at"))
    back = list(everything.came_back().order_by("changed_at"))
    ready = list(everything.ready().order_by("changed_at"))
    context = {
        "today": today,
        "waiting": _matters(waiting, today),
        "at_bench": waiting_for_maker(),
        "late": [_matter(row, _late_words(row, today), today) for row in late],
        "back": _matters(back, today),
        "ready": _matters(ready, today),
        "letters_failed": Letter.objects.failed().count(),
    }
    return render(request, "review/morning.html", context)


def _matters(rows: Iterable[Commission], today: date) -> list[Matter]:
    return [_matter(row, _why(row), today) for row in rows]


def _matter(row: Commission, why: str, today: date) -> Matter:
    build, _weighing = bat_meant(row, latest_proposal(row))
    bat = next(iter(row.bats.all()), None)
    # Only numbers and our own words go into the drawing.
    small = mark_safe(bat_small(build, part=part_at_work(row, bat)))  # noqa: S308
    return Matter(row, why, _since(row, today), small)


def _why(row: Commission) -> str:
    """Say what the commission wants of the maker."""
    last = latest_proposal(row)
    if row.state == State.SENT and last is not None:
        if last.state == ProposalState.LAPSED:
            return _("proposal %(number)s lapsed") % {"number": last.number}
        return _("to be proposed again")
    return {
        State.SENT: _("a new fitting"),
        State.CHANGE_ASKED: _("asks for a change: %(field)s")
        % {"field": last.get_change_field_display() if last else ""},
        State.BACK: _("came back"),
        State.READY: _("ready to be delivered"),
    }[State(row.state)]


def _late_words(row: Commission, today: date) -> str:
    days = (today - row.promised_to).days if row.promised_to else 0
    return ngettext("%(days)s day late", "%(days)s days late", days) % {"days": days}


def _since(row: Commission, today: date) -> str:
    """Say for how long it has waited."""
    days = (today - timezone.localdate(row.changed_at)).days
    if days <= 0:
        return _("today")
    return ngettext("for %(days)s day", "for %(days)s days", days) % {"days": days}
