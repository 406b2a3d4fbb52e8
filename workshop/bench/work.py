"""One bat at the bench: what was agreed of it, what its stage asks, and what is done with it there."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from django.db import transaction

from fitting.sheets.book_bench import StageWork
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from fitting.sheets.weighing import Weighing
from orders.commissions import stages
from orders.commissions.bench_entries import (
    Missing,
    Required,
    missing,
    readings_now,
    record_reading,
)
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of, weighing_of
from orders.commissions.models import Bat, BuildVersion, Reading
from orders.commissions.refusals import MovedOn, Refused
from orders.commissions.states import Cause, Origin, Stage, Unit
from orders.people.models import User
from workshop.bench.agreed import AgreedBat
from workshop.bench.asks import Ask, BatOnPaper, asks_of
from workshop.bench.models import Targets
from workshop.bench.press_depths import wood_since
from workshop.bench.targets import solve_for_willow, targets_in_force
from workshop.rack import clefts
from workshop.rack.candidates import Candidate, candidates_for
from workshop.rack.models import Cleft
from workshop.readings import ReadingRefused, as_tenths, read_typed

# What is read again on a bat that is only adjusted: what the final inspection looks at. Its handle is in and
# its blade shaped, so that neither can be weighed alone, and no step of the making is due once more.
READ_AGAIN = frozenset(
    {
        "spine",
        "edge_left",
        "edge_right",
        "girth_top",
        "girth_middle",
        "girth_bottom",
        "mass",
        "balance",
        "length",
        "width",
    }
)


@dataclass(frozen=True)
class Work(AgreedBat):
    """A bat with what was agreed of it, what it is shaped to, and the book in force."""

    @cached_property
    def _solved(self) -> Targets | None:
        """The shaping targets in force; none where the agreed sheet itself is shaped to.

        An adjusted bat whose sheet was written anew is shaped to that.
        """
        if self.version.origin == Origin.ADJUSTED and self.is_adjustment:
            return None
        return targets_in_force(self.bat)

    @cached_property
    def targets(self) -> BuildSheet:
        """The sheet that the blade is shaped to: re-shaped for the bat's own willow, else as agreed."""
        row = self._solved
        return self.build if row is None or row.build_version is None else build_of(row.build_version)

    @property
    def leave_mm(self) -> float:
        """Depth that shaping leaves on over the targets until the handle is in: the book's at least."""
        row, least = self._solved, self.book.bench.shaping_leave_mm
        return least if row is None else max(row.leave / 10, least)

    @cached_property
    def paper(self) -> BatOnPaper:
        """The bat on paper: its stations as they are shaped to, everything else as it was agreed."""
        blade = self.build.blade.model_copy(update={"stations": self.targets.blade.stations})
        build = self.build.model_copy(update={"blade": blade})
        bench = self.book.bench.model_copy(update={"shaping_leave_mm": self.leave_mm})
        return BatOnPaper(build, self.weighing, bench)

    @cached_property
    def stage_work(self) -> StageWork | None:
        """The book's work of the present stage; None while it waits, is inspected, or is done."""
        return self.book.bench.work(self.bat.stage) if self.bat.is_being_worked_on else None

    @cached_property
    def asks(self) -> tuple[Ask, ...]:
        """What the present stage asks to be measured."""
        return asks_of(self.paper, self.bat.stage) if self.bat.is_being_worked_on else ()

    @cached_property
    def is_adjustment(self) -> bool:
        """Whether a finished bat is being put right, not a new one made."""
        return stages.current_round(self.bat).cause == Cause.ADJUSTMENT

    @cached_property
    def required(self) -> Required:
        """What must be there before the bat passes on."""
        work = self.stage_work
        if work is None:
            return Required()
        if self.is_adjustment:
            again = [ask for ask in self.asks if ask.needed and ask.key in READ_AGAIN]
            return Required(readings=frozenset((ask.key, ask.place) for ask in again))
        return Required(
            steps=frozenset(step.key for step in work.steps if step.needed),
            readings=frozenset((ask.key, ask.place) for ask in self.asks if ask.needed),
            cleft=self.bat.stage == Stage.CLEFT_SELECTION,
        )


def work_on(bat: Bat) -> Work:
    """Return a bat with the build sheet that is to be met.

    That is the accepted proposal's own snapshot; in a later round the sheet that was written for it, where
    one was.

    Raises:
        Refused: ``not_now`` when nothing has been agreed for the bat.
    """
    if bat.agreed is None:
        raise Refused("not_now")
    book = book_in_force()
    adjusted = _adjusted(bat)
    if adjusted is not None:
        return Work(bat, build_of(adjusted), weighing_of(adjusted), adjusted, book)
    snapshot = bat.agreed.snapshot
    return Work(
        bat=bat,
        build=read_sheet(BuildSheet, snapshot["build"]),
        weighing=read_sheet(Weighing, snapshot["weighing"]),
        version=bat.agreed.build_version,
        book=book,
    )


def _adjusted(bat: Bat) -> BuildVersion | None:
    if bat.round == 1:
        return None
    return bat.commission.builds.filter(origin=Origin.ADJUSTED).newest_first().first()


def same_as_seen(bat: Bat, seen: str) -> None:
    """Refuse what was typed on a page that shows the bat as it no longer is."""
    if seen != seen_mark(bat):
        raise MovedOn


def seen_mark(bat: Bat) -> str:
    """Return the mark by which a form knows the bat it was shown for: its stage, round and version."""
    return f"{bat.round}.{bat.stage}.{bat.version}"


@dataclass(frozen=True)
class Typed:
    """What stands in the fields of a stage: by field name, with faults where a number cannot be."""

    values: dict[str, float]
    faults: dict[str, ReadingRefused]


def read_entries(work: Work, posted: Mapping[str, str]) -> Typed:
    """Read the fields of a stage; an empty one, or one still as it was shown, says nothing."""
    values: dict[str, float] = {}
    faults: dict[str, ReadingRefused] = {}
    for ask in work.asks:
        text = posted.get(ask.name, "").strip()
        if not text or text == posted.get(f"was-{ask.name}", ""):
            continue
        try:
            values[ask.name] = read_typed(text, ask.allowed)
        except ReadingRefused as error:
            faults[ask.name] = error
    return Typed(values, faults)


@transaction.atomic
def keep_entries(work: Work, typed: Typed, *, by: User, at: datetime | None = None) -> list[Reading]:
    """Keep every reading that was typed; with one fault among them none is kept."""
    if typed.faults:
        raise ValueError("readings with faults are not kept")
    return [
        record_reading(
            work.bat,
            key=ask.key,
            value=as_tenths(typed.values[ask.name], ask.unit),
            unit=Unit(ask.unit),
            by=by,
            from_toe=ask.place,
            at=at,
        )
        for ask in work.asks
        if ask.name in typed.values
    ]


def still_missing(work: Work) -> Missing:
    """Return what the stage still asks for."""
    return missing(work.bat, work.required)


def candidates(work: Work) -> list[Candidate]:
    """Return the clefts of the rack that can become this bat; what its own proposal holds counts as free."""
    own = Cleft.objects.held_for(work.bat.commission_id)
    return candidates_for(work.build, work.book, [*own, *Cleft.objects.free_today()])


@transaction.atomic
def choose_cleft(work: Work, cleft: Cleft, *, by: User, at: datetime | None = None) -> None:
    """Reserve a cleft for the bat while its cleft is being selected, and solve what it is shaped to."""
    if work.bat.stage not in (Stage.WAITING, Stage.CLEFT_SELECTION):
        raise Refused("wrong_stage", what=("choose_cleft", work.bat.stage))
    clefts.reserve(cleft, work.bat, by=by, at=at)
    solve_for_willow(work, by=by, at=at)


@transaction.atomic
def lay_back(work: Work, *, by: User, words: str = "", at: datetime | None = None) -> None:
    """Lay the bat's uncut cleft back on the rack."""
    cleft = clefts.cleft_of_round(work.bat)
    if cleft is None:
        raise Refused("cleft_missing")
    clefts.put_back(cleft, by=by, words=words, at=at)


def readings_of(bat: Bat) -> dict[tuple[str, int | None], Reading]:
    """Return the last standing reading of each thing on the wood that the bat now has.

    An adjusted bat keeps what was read before and not again; a rebuilt one is another piece of willow, and so
    is one whose cleft failed.
    """
    rounds = bat.rounds.filter(number__lte=bat.round).order_by("number")
    since = wood_since(bat)
    found: dict[tuple[str, int | None], Reading] = {}
    for one in rounds:
        if one.cause == Cause.REBUILD:
            found = {}
        found.update(readings_now(bat, round_number=one.number))
    return {place: row for place, row in found.items() if since is None or row.at >= since}
