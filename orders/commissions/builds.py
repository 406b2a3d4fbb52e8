"""Build sheets of a commission: adding one, and reading what is stored."""

from datetime import datetime

from django.db import transaction
from django.db.models import F, Max
from django.utils import timezone

from fitting.bat.version import MODEL_VERSION
from fitting.bat.weigh import weigh
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from fitting.sheets.fitting_sheet import FittingSheet
from fitting.sheets.snapshot import book_hash
from fitting.sheets.weighing import Weighing
from orders.commissions.book_in_force import book_in_force
from orders.commissions.models import BuildVersion, Commission
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import Origin, State
from orders.people.models import Role, User

# As long as nothing is agreed the maker may think again.
EDITED_IN = frozenset({State.SENT, State.CHANGE_ASKED, State.PROPOSED})


def can_edit(commission: Commission, by: User) -> bool:
    """Whether the maker may still write another build sheet to be proposed."""
    return by.role == Role.MAKER and commission.state in EDITED_IN


def build_of(version: BuildVersion) -> BuildSheet:
    """Read the build sheet of a version."""
    return read_sheet(BuildSheet, version.build)


def weighing_of(version: BuildVersion) -> Weighing:
    """Read the weighing of a version as it was stored."""
    return read_sheet(Weighing, version.weighing)


def sheet_of(commission: Commission) -> FittingSheet:
    """Read the fitting sheet that the commission was opened with."""
    return read_sheet(FittingSheet, commission.sheet)


def edit(
    commission: Commission,
    build: BuildSheet,
    *,
    by: User,
    parent: BuildVersion,
    seen_version: int,
    note: str = "",
    at: datetime | None = None,
) -> BuildVersion:
    """Keep the maker's own build sheet as a new version.

    Args:
        commission: as it was read.
        build: the whole sheet.
        by: the maker.
        parent: the version it was edited from.
        seen_version: the commission's version when the form was opened.
        note: the maker's own words about it.
        at: when; now if absent.

    Raises:
        Refused: the state or the person does not allow it.
        MovedOn: the commission has changed since the form was opened.
    """
    if not can_edit(commission, by):
        raise Refused("not_now" if by.role == Role.MAKER else "not_yours")
    if commission.version != seen_version:
        raise MovedOn
    return add_build(commission, build, origin=Origin.EDITED, by=by, parent=parent, note=note, at=at)


@transaction.atomic
def add_build(
    commission: Commission,
    build: BuildSheet,
    *,
    origin: Origin,
    by: User | None,
    parent: BuildVersion | None = None,
    note: str = "",
    at: datetime | None = None,
) -> BuildVersion:
    """Weigh a build sheet and keep it as the next version; the commission's version rises with it.

    Raises:
        MovedOn: the commission is no longer as it was read.
    """
    now = at or timezone.now()
    written = Commission.objects.filter(pk=commission.pk, version=commission.version).update(
        version=F("version") + 1, changed_at=now
    )
    if not written:
        raise MovedOn
    commission.version += 1
    book = book_in_force()
    last = commission.builds.aggregate(last=Max("number"))["last"] or 0
    return BuildVersion.objects.create(
        commission=commission,
        number=last + 1,
        origin=origin,
        parent=parent,
        build=build.model_dump(mode="json"),
        weighing=weigh(build, book=book).model_dump(mode="json"),
        book_number=book.version,
        book_hash=book_hash(book),
        model_version=MODEL_VERSION,
        by=by,
        note=note,
        created_at=now,
    )
