"""Deciding on a return: what the ticked adjustments come to, and the one domain verb that is called."""

from dataclasses import dataclass

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from orders.care import returns
from orders.care.models import Return
from orders.care.record import last_as_built
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, sheet_of
from orders.commissions.models import BuildVersion, Inspection
from orders.commissions.refusals import Refused
from orders.commissions.snapshots import law_rows
from orders.commissions.states import Origin
from orders.people.models import User
from workshop.returns.adjustments import ADJUSTMENTS, Effect, aimed, effect_of
from workshop.returns.forms import DecideForm
from workshop.returns.words import to_do_words


@dataclass(frozen=True)
class OnDesk:
    """A bat on the returns desk: as it was built, as it was agreed, and what the scales said of it."""

    found: Return
    built: BuildSheet
    built_version: BuildVersion
    agreed: BuildSheet
    agreed_version: BuildVersion
    mass_g: float
    pickup_kg_m2: float
    book: Book


def on_desk(found: Return) -> OnDesk:
    """Gather what is known of the bat of a return.

    Raises:
        Refused: ``not_now`` when it was never inspected, so that nothing was built.
    """
    commission, agreed = found.commission, found.bat.agreed
    version = last_as_built(commission)
    inspection = found.bat.inspections.order_by("-at", "-pk").first()
    if version is None or inspection is None or agreed is None:
        raise Refused("not_now")
    built = build_of(version)
    return OnDesk(
        found=found,
        built=built,
        built_version=version,
        agreed=read_sheet(BuildSheet, agreed.snapshot["build"]),
        agreed_version=agreed.build_version,
        mass_g=_read(inspection, "mass") or built.mass_g.target,
        pickup_kg_m2=_read(inspection, "pickup") or built.pickup_kg_m2.target,
        book=book_in_force(),
    )


def _read(inspection: Inspection, key: str) -> float | None:
    return next((row["built"] for row in inspection.rows if row["key"] == key), None)


def effects(desk: OnDesk) -> dict[str, Effect]:
    """Return what each adjustment alone would change on the bat as it was built."""
    return {one.key: effect_of(desk.built, (one.key,), desk.book) for one in ADJUSTMENTS}


def together(desk: OnDesk, keys: tuple[str, ...]) -> Effect:
    """Return what several adjustments would change together."""
    return effect_of(desk.built, keys, desk.book)


def decide(desk: OnDesk, form: DecideForm, *, by: User) -> None:
    """Carry the decision of a valid form out.

    Raises:
        NotPossible: the adjustments cannot be made together.
        Refused: what the verbs of a return refuse, or ``breaks_the_laws``.
    """
    said, found = form.cleaned_data, desk.found
    match said["decision"]:
        case "adjust":
            _adjust(desk, form, by=by)
        case "rebuild":
            _rebuild(desk, form, by=by)
        case "refund":
            returns.refund(found, by=by, amount=said["amount"], words=said["words"])
        case "find_nothing":
            returns.find_nothing(found, by=by, words=said["words"])


def _adjust(desk: OnDesk, form: DecideForm, *, by: User) -> None:
    keys, said = form.chosen(), form.cleaned_data
    build = aimed(desk.built, keys, desk.book, mass_g=desk.mass_g, pickup_kg_m2=desk.pickup_kg_m2)
    if build is not None:
        hold_to_laws(desk, build)
    returns.adjust(
        desk.found,
        by=by,
        stages_needed=form.stages_needed(),
        words=said["words"],
        to_do=to_do_words(list(keys), said["to_do"]),
        build=build,
        parent=desk.built_version,
        promised=form.promised(),
    )


def _rebuild(desk: OnDesk, form: DecideForm, *, by: User) -> None:
    """Make it again as agreed, or as agreed with the ticked adjustments designed in."""
    keys, said = form.chosen(), form.cleaned_data
    aim = desk.agreed
    build = aimed(aim, keys, desk.book, mass_g=aim.mass_g.target, pickup_kg_m2=aim.pickup_kg_m2.target)
    was_adjusted = desk.found.commission.builds.filter(origin=Origin.ADJUSTED).exists()
    if build is None and was_adjusted:
        # The newest adjusted sheet is what the bench works to: say again what was agreed.
        build = aim
    if build is not None:
        hold_to_laws(desk, build)
    returns.rebuild(
        desk.found,
        by=by,
        words=said["words"],
        to_do=to_do_words(list(keys), said["to_do"]),
        build=build,
        parent=desk.agreed_version,
        promised=form.promised(),
    )


def hold_to_laws(desk: OnDesk, build: BuildSheet) -> None:
    """Refuse a bat that is larger than the Laws allow."""
    rows = law_rows(build, sheet_of(desk.found.commission))
    if broken := dict.fromkeys(row.what for row in rows if not row.passes):
        raise Refused("breaks_the_laws", what=broken)
