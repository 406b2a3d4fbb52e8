"""The record of a bat: everything about one finished bat, behind its serial number."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from fitting.sheets.book import Book
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.weighing import Weighing
from orders.care.models import Return
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, sheet_of, weighing_of
from orders.commissions.built import Built, built_figures, built_told
from orders.commissions.models import Bat, BuildVersion, Commission, Inspection, Reading, Round
from orders.commissions.shown import Figure, bat_meant, latest_proposal, where_it_hits
from orders.commissions.snapshots import law_rows
from orders.commissions.states import BENCH_STAGES, Cause, Origin, Stage
from orders.messages.models import Photo
from orders.messages.photographs import photographs_listed
from orders.money.amounts import show_price
from orders.words.drawing import drawing_for
from orders.words.inspected import UNITS
from orders.words.lawful import law_rows_worded
from orders.words.laws import level_words
from orders.words.measures import show_decimals
from orders.words.returns import Answered, answers_words, decision_words
from orders.words.stages import measured_words
from orders.words.states import Line, journal_lines
from orders.words.sweet_spot import blow_words, say_peak


@dataclass(frozen=True)
class StageLine:
    """When a bat was in one stage of a round, how often, and what was read there."""

    words: str
    entered: datetime | None
    left: datetime | None
    readings: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class RoundTold:
    """One trip over the bench: why, through what, and the inspection at its end."""

    round: Round
    cause: str
    cleft: str
    stages: list[StageLine]
    inspection: Inspection | None


@dataclass(frozen=True)
class ReturnTold:
    """One return: the player's words, and what the maker decided."""

    found: Return
    answers: list[Answered]
    decision: str
    amount: str


@dataclass(frozen=True)
class Record:
    """All of a bat's record."""

    commission: Commission
    bat: Bat
    drawing: dict[str, SafeString | None]
    figures: list[Figure]
    blow: str
    built: Built
    laws: list[dict[str, Any]]
    edition: str
    level_words: str
    willow: list[tuple[str, str]]
    rounds: list[RoundTold]
    returns: list[ReturnTold]
    history: list[Line]
    photos: list[dict[str, Any]]


def finished_bat(commission: Commission) -> Bat | None:
    """Return the commission's bat once it has a serial number."""
    return commission.bats.exclude(serial=None).select_related("agreed").first()


def as_built(commission: Commission) -> tuple[BuildSheet, Weighing]:
    """Return the build sheet as it was measured at the last inspection, else as it was meant."""
    found = last_as_built(commission)
    if found is None:
        return bat_meant(commission, latest_proposal(commission))
    return build_of(found), weighing_of(found)


def last_as_built(commission: Commission) -> BuildVersion | None:
    """Return the version that was kept at the last inspection."""
    return commission.builds.filter(origin=Origin.AS_BUILT).newest_first().first()


def record_of(commission: Commission, bat: Bat, *, staff: bool, prices: bool) -> Record:
    """Gather the record of a finished bat.

    Args:
        commission: of the bat.
        bat: with a serial number.
        staff: whether it is read in the workshop, with names and every photograph.
        prices: whether sums of money are shown.
    """
    book = book_in_force()
    build, weighing = as_built(commission)
    meant, forecast = bat_meant(commission, latest_proposal(commission))
    inspection = bat.inspections.order_by("-at", "-pk").first()
    sheet = sheet_of(commission)
    return Record(
        commission=commission,
        bat=bat,
        drawing=drawing_for(
            build,
            weighing,
            compare=meant,
            compare_weighing=forecast,
            left_handed=sheet.player.batting_hand == "left",
            paper=True,
        ),
        figures=[*built_figures(build, inspection, book=book), where_it_hits_as_built(weighing, forecast)],
        blow=blow_words(weighing),
        built=built_told(build, inspection, book=book, staff=staff),
        laws=law_rows_worded(law_rows(build, sheet, agreed=bat.agreed)),
        edition=str(bat.agreed.snapshot["edition"]) if bat.agreed else "",
        level_words=level_words(sheet.level, bat.agreed.snapshot["edition"]) if bat.agreed else "",
        willow=_willow(commission, bat, book),
        rounds=rounds_told(bat, book),
        returns=returns_told(commission, prices=prices),
        history=journal_lines(commission.journal.select_related("by"), staff=staff),
        photos=photos_told(commission, staff=staff),
    )


def where_it_hits_as_built(weighing: Weighing, forecast: Weighing) -> Figure:
    """Return where the bat as it was measured hits hardest, by the model, with what was agreed."""
    figure = where_it_hits(weighing)
    if weighing.sweet_spot is None or forecast.sweet_spot is None:
        return figure
    agreed = _("agreed %(number)s") % {"number": say_peak(forecast.sweet_spot)}
    return replace(figure, note=f"{figure.note} · {agreed}")


def _willow(commission: Commission, bat: Bat, book: Book) -> list[tuple[str, str]]:
    """Return what is known of the wood: the cleft, its grade and density, what was read on it."""
    built = last_as_built(commission)
    found = [(_("cleft"), bat.cleft_label)] if bat.cleft_label else []
    if built is not None:
        band = build_of(built).willow
        density = (band.density_kg_m3.min + band.density_kg_m3.max) / 2
        spread = (band.density_kg_m3.max - band.density_kg_m3.min) / 2
        found.append((_("grade"), str(band.grade)))
        words = _("%(density).0f ± %(spread).0f kg/m³ at 12 %%")
        found.append((_("density of the pressed blade"), words % {"density": density, "spread": spread}))
    since = _wood_since(bat)
    rows = bat.readings.standing().filter(
        round__gte=since, key__in=("grains", "moisture", "cleft_mass", "final_moisture", "rebound")
    )
    read = {row.key: row for row in rows.order_by("at", "pk")}
    bench = book.bench
    return found + [(measured_words(key, bench), reading_words(row)) for key, row in read.items()]


def _wood_since(bat: Bat) -> int:
    """Return the round in which the bat got the cleft that it now is."""
    rebuilt = bat.rounds.filter(cause=Cause.REBUILD).order_by("-number").values_list("number", flat=True)
    return rebuilt.first() or 1


def reading_words(reading: Reading) -> str:
    """Say a reading in its unit."""
    decimals = 0 if reading.unit == "count" else 1
    return f"{show_decimals(reading.in_unit, decimals)} {UNITS.get(reading.unit, '')}".strip()


def rounds_told(bat: Bat, book: Book) -> list[RoundTold]:
    """Return every trip of a bat over the bench, with its stages, their dates and readings."""
    moves = list(bat.journal.order_by("at", "pk"))
    readings = list(bat.readings.standing().order_by("at", "pk"))
    inspections = {row.round: row for row in bat.inspections.order_by("at", "pk")}
    return [
        RoundTold(
            round=one,
            cause=str(Cause(one.cause).label),
            cleft=_cleft_of_round(moves, one.number),
            stages=[_stage_line(stage, one.number, moves, readings, book) for stage in _in_order(one.stages)],
            inspection=inspections.get(one.number),
        )
        for one in bat.rounds.order_by("number")
    ]


def _in_order(stages: Iterable[str]) -> list[Stage]:
    named = set(stages)
    return [stage for stage in BENCH_STAGES if stage in named]


def _stage_line(
    stage: Stage, number: int, moves: list[Any], readings: list[Reading], book: Book
) -> StageLine:
    """Return when the bat first came into a stage of a round and when it last left it."""
    of_round = [move for move in moves if move.data.get("round") == number]
    entered = next((move.at for move in of_round if move.to_state == stage != move.from_state), None)
    left = next((move.at for move in reversed(of_round) if move.from_state == stage != move.to_state), None)
    bench = book.bench
    said = {
        (row.key, row.from_toe): f"{measured_words(row.key, bench, row.from_toe_mm)}: {reading_words(row)}"
        for row in readings
        if row.round == number and row.stage == stage
    }
    return StageLine(str(stage.label), entered, left, list(said.values()))


def _cleft_of_round(moves: list[Any], number: int) -> str:
    labels = [
        move.data.get("cleft", "")
        for move in moves
        if move.verb == "name_cleft" and move.data.get("round") == number
    ]
    return labels[-1] if labels else ""


def returns_told(commission: Commission, *, prices: bool) -> list[ReturnTold]:
    """Return every return of the commission's bats in words, the last first."""
    rows = commission.returns.select_related("bat__agreed", "decided_by").order_by("-asked_at")
    return [return_told(row, prices=prices) for row in rows]


def return_told(found: Return, *, prices: bool) -> ReturnTold:
    """Return one return in words."""
    agreed = found.bat.agreed
    shown = prices and found.refund is not None and agreed is not None
    return ReturnTold(
        found=found,
        answers=answers_words(found.answers),
        decision=decision_words(found.decision),
        amount=show_price(found.refund or 0, agreed.currency) if shown and agreed else "",
    )


def photos_told(commission: Commission, *, staff: bool) -> list[dict[str, Any]]:
    """Return the photographs of a commission for ``parts/photos.html``: all of them for staff."""
    photos = Photo.objects.filter(commission=commission)
    if not staff:
        photos = photos.filter(shown_to_player=True)
    return photographs_listed(photos)
