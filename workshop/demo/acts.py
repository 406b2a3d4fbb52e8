"""The acts of a commission's story, each by the function that the site itself calls.

Every act is given its moment. Two things know no other time than now and are dated afterwards, here and
nowhere else: letters (``dated``, which also marks them as sent: nobody is there to receive them) and
fittings (``fittings.begun_fitting``).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, time, timedelta
from decimal import Decimal
from random import Random

from django.utils import timezone

from fitting.bat.weigh import heft
from fitting.sheets.build_sheet import Band, BuildSheet
from fitting.sheets.faults import read_sheet
from orders.care import delivery, returns
from orders.care.models import Return
from orders.commissions import builds, lifecycle, stages
from orders.commissions.book_in_force import book_in_force
from orders.commissions.builds import build_of
from orders.commissions.models import Bat, BuildVersion, Commission
from orders.commissions.snapshots import Offer
from orders.commissions.states import Stage
from orders.messages.models import Letter, LetterState
from orders.money.amounts import Price, price_of
from orders.people.models import User
from workshop.bench.failing import Failure, Fate, Telling, fail_wood, tell_player
from workshop.bench.work import candidates, work_on
from workshop.demo import bench
from workshop.demo.people import FIRST_DAY, Staff
from workshop.rack.candidates import Candidate, candidates_for
from workshop.rack.holds import hold
from workshop.returns.adjustments import aimed, stages_for
from workshop.returns.deciding import on_desk
from workshop.returns.words import to_do_words
from workshop.stock.models import Cause

ANSWER_DAYS = 14
WEEKS_TO_MAKE = (6, 8)
PRICES = {1: 56000, 2: 46500, 3: 39500, 4: 33000}
JUNIOR_PRICE = 21500
# Pressed, kg/m3: so much lighter than any load that came that no shaping makes up for it.
LIGHT = Band(min=296, max=310)


@contextmanager
def dated(at: datetime) -> Iterator[None]:
    """Give the letters of one act the act's moment, as sent."""
    last = Letter.objects.order_by("-pk").values_list("pk", flat=True).first() or 0
    yield
    Letter.objects.filter(pk__gt=last).update(
        created_at=at, next_try_at=at, sent_at=at, state=LetterState.SENT, tries=1
    )


@dataclass
class Days:
    """The moments of one story: days after its beginning, in working hours, always going forward."""

    begins: datetime
    chance: Random
    gone: float = 0.0
    last: datetime = field(init=False)

    def __post_init__(self) -> None:
        self.last = self.begins

    def after(self, days: float) -> datetime:
        """Return the moment so many days after the one before."""
        self.gone += days
        day = timezone.localdate(self.begins + timedelta(days=self.gone))
        clock = time(8 + self.chance.randrange(7), self.chance.randrange(60))
        found = timezone.make_aware(datetime.combine(day, clock))
        self.last = max(found, self.last + timedelta(minutes=20))
        return self.last


@dataclass
class Story:
    """One commission being told, by whom and when."""

    commission: Commission
    staff: Staff
    chance: Random
    days: Days
    until: datetime

    def edit(self, days: float) -> None:
        """Let the maker write another build sheet: a little more bow and one more grip."""
        parent = self.commission.builds.order_by("-number")[0]
        sheet = build_of(parent).model_dump(mode="json")
        sheet["grips"]["count"] = min(3, sheet["grips"]["count"] + 1)
        sheet["blade"]["bow_mm"] = round(sheet["blade"]["bow_mm"] + 1, 1)
        note = "Two grips, as the hands sit low; a touch more bow."
        self._write_anew(days, parent, read_sheet(BuildSheet, sheet), note=note)

    def ask_for_light_willow(self, days: float) -> None:
        """Let the maker write a sheet for willow lighter than any on the rack, at the mass it comes to."""
        parent = self.commission.builds.order_by("-number")[0]
        light = build_of(parent)
        light = light.model_copy(update={"willow": light.willow.model_copy(update={"density_kg_m3": LIGHT})})
        mass_g = round(heft(light, book=book_in_force()).mass_g)
        light = light.model_copy(update={"mass_g": light.mass_g.model_copy(update={"target": mass_g})})
        self._write_anew(days, parent, light, note="The whole shape at the lowest mass, as was wished.")

    def _write_anew(self, days: float, parent: BuildVersion, sheet: BuildSheet, *, note: str) -> None:
        builds.edit(
            self.commission,
            sheet,
            by=self.staff.maker,
            parent=parent,
            seen_version=self.commission.version,
            note=note,
            at=self.days.after(days),
        )

    def propose(self, days: float, *, held: bool = True, late: bool = False) -> None:
        """Propose the newest build sheet, a cleft kept aside for it where one is."""
        at = self.days.after(days)
        version = self.commission.builds.order_by("-number")[0]
        build = build_of(version)
        found = candidates_for(build, book_in_force())[:1] if held else []
        weeks = (1, 2) if late else WEEKS_TO_MAKE
        day = timezone.localdate(at)
        offer = Offer(
            price=_price(build),
            ready_from=day + timedelta(weeks=weeks[0]),
            ready_to=day + timedelta(weeks=weeks[1]),
            valid_until=timezone.make_aware(
                datetime.combine(day + timedelta(days=ANSWER_DAYS + 1), time.min)
            ),
            words="The bat we spoke of. Tell me if anything should be otherwise.",
            clefts=tuple(_told(one) for one in found),
        )
        with dated(at):
            proposal = lifecycle.propose(
                self.commission, by=self.staff.maker, build_version=version, offer=offer, at=at
            )
        for one in found:
            hold(one.cleft, proposal, by=self.staff.maker, at=at)

    def lapse(self) -> None:
        """Let the proposal's time run out."""
        at = self.days.after(ANSWER_DAYS + 1)
        with dated(at):
            lifecycle.lapse(self.commission, at=at)

    def withdraw(self, days: float) -> None:
        """Take the proposal back."""
        at = self.days.after(days)
        why = "The cleft I had in mind has a shake. I look for another and propose again."
        with dated(at):
            lifecycle.withdraw(self.commission, by=self.staff.maker, why=why, at=at)

    def ask_change(self, days: float, *, field: str, words: str) -> None:
        """Ask for something else."""
        at = self.days.after(days)
        with dated(at):
            lifecycle.ask_change(self.commission, by=self.commission.holder, field=field, words=words, at=at)

    def accept(self, days: float) -> Bat:
        """Accept what is offered."""
        at = self.days.after(days)
        seen = self.commission.proposals.open()[0].snapshot_hash
        with dated(at):
            return lifecycle.accept(self.commission, by=self.commission.holder, seen=seen, at=at)

    def cancel(self, days: float, *, by_maker: bool, why: str) -> None:
        """End it."""
        at = self.days.after(days)
        by = self.staff.maker if by_maker else self.commission.holder
        with dated(at):
            lifecycle.cancel(self.commission, by=by, why=why, at=at)

    def hand(self, bat: Bat) -> User:
        """Return who works on the bat in its stage: the two at the bench by turns."""
        stages_so_far = list(Stage).index(Stage(bat.stage))
        return self.staff.hand(stages_so_far + (self.commission.number or 0))

    def make(
        self,
        bat: Bat,
        *,
        upto: Stage,
        gaps: tuple[float, ...] = (1, 2, 2, 2, 3, 6),
        off: dict[str, float] | None = None,
        cleft: bool = True,
    ) -> None:
        """Work the bat through the stages of its round, and leave it in ``upto`` with its work half done.

        ``gaps`` are the days before the bench begins and after each stage; without ``cleft`` none is chosen.
        """
        at = self.days.after(gaps[0])
        with dated(at):
            stages.begin(bat, by=self.hand(bat), at=at)
        self.work_on_to(bat, upto=upto, gaps=gaps[1:], off=off, cleft=cleft)

    def work_on_to(
        self,
        bat: Bat,
        *,
        upto: Stage,
        gaps: tuple[float, ...],
        off: dict[str, float] | None = None,
        cleft: bool = True,
    ) -> None:
        """Work a bat that has begun on to ``upto``, and leave it there with its work half done."""
        for gap in gaps:
            if bat.stage in (upto, Stage.INSPECTION):
                break
            ended = bench.work_stage(bat, self.chance, self._turn(bat, off=off or {}))
            self.days.last = max(self.days.last, ended)
            self.days.last = bench.rested(bat, self.days.after(gap))
            bench.pass_stage(bat, by=self.hand(bat), at=self.days.last)
        if bat.is_being_worked_on:
            bench.work_stage(bat, self.chance, self._turn(bat, whole=False, cleft=cleft))

    def _turn(
        self, bat: Bat, *, whole: bool = True, cleft: bool = True, off: dict[str, float] | None = None
    ) -> bench.Turn:
        at = self.days.after(0)
        return bench.Turn(self.hand(bat), at, self.until, whole=whole, off=off or {}, cleft=cleft)

    def go_back(self, bat: Bat, *, to: Stage, reason: str) -> None:
        """Send the bat back to an earlier stage."""
        stages.go_back(bat, to=to, by=self.hand(bat), reason=reason, at=self.days.after(0))

    def lose_cleft(self, bat: Bat, days: float, *, words: str, another: bool = False) -> None:
        """Throw the bat's cleft out and tell the player; ``another`` is chosen at once where it is wanted."""
        at = self.days.after(days)
        work = work_on(bat)
        failure = Failure(Cause.SPLIT_IN_PRESS, Fate.SCRAPPED, words)
        found = candidates(work)[:1] if another else []
        fail_wood(work, failure, by=self.hand(bat), another=found[0].cleft if found else None, at=at)
        told = Telling(
            "I am sorry: the willow for your bat has split, and I have given it up. I take another cleft and "
            "begin again.",
            days=7,
        )
        with dated(at):
            tell_player(bat, told, by=self.staff.maker, at=at)

    def ask_player(self, bat: Bat, *, words: str) -> None:
        """Ask the player whether a bat that is more off than was agreed may pass."""
        at = self.days.after(0)
        with dated(at):
            bench.ask_player(bat, by=self.staff.maker, at=at, words=words)

    def inspect(self, bat: Bat, days: float) -> None:
        """Pass the final inspection."""
        at = self.days.after(days)
        reason = (
            "The top girth came out over; the player tried the handle here and wants it so. Everything else "
            "as agreed."
        )
        with dated(at):
            bench.inspect(bat, by=self.staff.maker, at=at, reason=reason)

    def deliver(self, days: float, *, how: delivery.How = delivery.How.SENT) -> None:
        """Hand it over."""
        at = self.days.after(days)
        words = "By parcel, insured." if how == delivery.How.SENT else ""
        with dated(at):
            delivery.deliver(self.commission, by=self.staff.maker, how=how, words=words, at=at)

    def send_back(self, days: float, *, words: str, answers: dict[str, object]) -> Return:
        """Let it come back."""
        at = self.days.after(days)
        with dated(at):
            return returns.send_back(
                self.commission, by=self.commission.holder, words=words, answers=answers, at=at
            )

    def adjust(self, found: Return, days: float, *, keys: tuple[str, ...], words: str) -> Bat:
        """Decide to put the same wood right."""
        at = self.days.after(days)
        desk = on_desk(found)
        day = timezone.localdate(at)
        with dated(at):
            returns.adjust(
                found,
                by=self.staff.maker,
                stages_needed=[Stage(stage) for stage in stages_for(keys)],
                words=words,
                to_do=to_do_words(list(keys), ""),
                build=aimed(desk.built, keys, desk.book, mass_g=desk.mass_g, pickup_kg_m2=desk.pickup_kg_m2),
                parent=desk.built_version,
                promised=(day + timedelta(days=7), day + timedelta(days=14)),
                at=at,
            )
        return found.bat

    def refund(self, found: Return, days: float, *, words: str) -> None:
        """Give the money back."""
        at = self.days.after(days)
        agreed = found.bat.agreed
        with dated(at):
            returns.refund(
                found, by=self.staff.maker, amount=agreed.price if agreed else 0, words=words, at=at
            )


def _price(build: BuildSheet) -> Price:
    junior = build.length_code.startswith("size_") or build.length_code == "harrow"
    return price_of(
        JUNIOR_PRICE if junior else PRICES[build.willow.grade],
        currency=FIRST_DAY.currency,
        tax_percent=Decimal(FIRST_DAY.tax_percent),
        with_tax=FIRST_DAY.prices_with_tax,
    )


def _told(candidate: Candidate) -> dict[str, object]:
    return {
        "label": candidate.cleft.label,
        "grade": candidate.cleft.grade,
        "grains": candidate.cleft.grains,
        "mass_g": candidate.mass_g,
    }
