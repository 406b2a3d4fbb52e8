"""How a sent fitting becomes a commission."""

from datetime import datetime

from django.db import IntegrityError, transaction
from django.db.models import F, Max
from django.utils import timezone

from fitting.recommend import recommend
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from orders.commissions import letters
from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import BuildVersion, Commission, JournalEntry
from orders.commissions.refusals import Refused
from orders.commissions.searching import refresh_search
from orders.commissions.states import Origin, State
from orders.interview.models import Fitting
from orders.people.models import Role, User

# Two that open at once may draw the same number; the unique column lets one of them draw again.
DRAWS = 5


@transaction.atomic
def open_commission(*, fitting: Fitting, by: User, at: datetime | None = None) -> Commission:
    """Open a commission from a fitting: its sheet, the recommendation, a journal entry, the letters.

    Marks the fitting as sent if it is not yet. A fitting opens one commission only.

    Raises:
        Refused: ``fitting_unfinished`` without player and holder, ``guardian_needed`` for someone under
            18 whose holder is not a guardian, ``moved_on`` when it was already sent.
        SheetRefused: the fitting's sheet is not a whole one.
    """
    now = at or timezone.now()
    player, holder = fitting.player, fitting.holder
    if player is None or holder is None:
        raise Refused("fitting_unfinished")
    if player.needs_guardian(timezone.localdate(now)) and holder.role != Role.GUARDIAN:
        raise Refused("guardian_needed")
    if Commission.objects.filter(fitting=fitting).exists():
        raise Refused("moved_on")
    sheet = read_sheet(FittingSheet, fitting.sheet)
    Fitting.objects.filter(pk=fitting.pk, state=Fitting.State.DRAFT).update(
        state=Fitting.State.SENT, sent_at=now, version=F("version") + 1
    )
    commission = _numbered(
        Commission(
            player=player,
            holder=holder,
            fitting=fitting,
            sheet=fitting.sheet,
            created_at=now,
            changed_at=now,
        )
    )
    _keep_recommendation(commission, sheet, at=now)
    JournalEntry.objects.create(commission=commission, verb="open", to_state=State.SENT, by=by, at=now)
    refresh_search(commission)
    letters.opened(commission)
    return commission


def _numbered(commission: Commission) -> Commission:
    for draw in range(DRAWS):
        last = Commission.objects.aggregate(last=Max("number"))["last"] or 0
        commission.number = last + 1
        try:
            with transaction.atomic():
                commission.save(force_insert=True)
        except IntegrityError:
            if draw + 1 == DRAWS or Commission.objects.filter(fitting=commission.fitting).exists():
                raise Refused("moved_on") from None
        else:
            break
    return commission


def _keep_recommendation(commission: Commission, sheet: FittingSheet, *, at: datetime) -> BuildVersion:
    found = recommend(sheet, book_in_force())
    stored = found.model_dump(mode="json")
    return BuildVersion.objects.create(
        commission=commission,
        number=1,
        origin=Origin.RECOMMENDED,
        build=stored["build"],
        weighing=stored["weighing"],
        reasons={part: stored[part] for part in ("reasons", "conflicts", "cautions")},
        book_number=found.book.version,
        book_hash=found.book.hash,
        model_version=found.model_version,
        created_at=at,
    )
