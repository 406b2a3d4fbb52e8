"""What is short: supplies under their minimum, handles fewer than the agreed bats want, clefts."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Exists, F, OuterRef
from django.utils import timezone

from orders.commissions.models import Bat, Proposal, Round
from orders.commissions.models.bat import BatQuerySet
from orders.commissions.states import BENCH_STAGES, Cause, ProposalState, Stage
from workshop.stock.models import Construction, Handle, HandleState, Supply

# Until it leaves handle fitting a bat may still want a handle.
BEFORE_HANDLE = (Stage.WAITING, *BENCH_STAGES[: BENCH_STAGES.index(Stage.HANDLE_FITTING) + 1])
CONSTRUCTION = "snapshot__build__handle__construction"


@dataclass(frozen=True)
class ShortSupply:
    """One thing of which less is there than there should be, all its batches together; in its unit."""

    supply: Supply
    left: float
    minimum: float

    @property
    def short(self) -> float:
        """How much is to be bought to have the least again."""
        return round(self.minimum - self.left, 1)

    @property
    def cost(self) -> int | None:
        """About what that costs, smallest unit; None where no price is known."""
        return None if self.supply.price is None else round(self.supply.price * self.short)


@dataclass(frozen=True)
class HandleNeed:
    """The handles of one construction against the bats that will want one."""

    construction: str
    words: str
    free: int
    wanted: int
    offered: int

    @property
    def short(self) -> int:
        """How many agreed bats would go without."""
        return max(0, self.wanted - self.free)

    @property
    def short_if_accepted(self) -> int:
        """How many would go without if every open proposal were accepted."""
        return max(0, self.wanted + self.offered - self.free)


@dataclass(frozen=True)
class Shortage:
    """Everything that is short; ``clefts`` are lines in words, as whoever matches clefts gives them."""

    supplies: tuple[ShortSupply, ...]
    past: tuple[Supply, ...]
    handles: tuple[HandleNeed, ...]
    clefts: tuple[str, ...] = field(default=())

    @property
    def short_handles(self) -> tuple[HandleNeed, ...]:
        """The constructions of which there are too few for the agreed bats."""
        return tuple(one for one in self.handles if one.short)

    @property
    def is_any(self) -> bool:
        """Whether anything is short, or past its day."""
        return bool(self.supplies or self.past or self.short_handles or self.clefts)


def what_is_short(*, clefts: Sequence[str] = (), day: date | None = None) -> Shortage:
    """Return what is short today, or on another day.

    Args:
        clefts: lines in words about clefts that agreed bats want and the rack has not.
        day: today in the workshop by default.
    """
    today = day or timezone.localdate()
    supplies = list(Supply.objects.all())
    return Shortage(
        supplies=tuple(short_supplies(supplies, today)),
        past=tuple(one for one in supplies if one.left and one.is_past_on(today)),
        handles=tuple(handle_needs()),
        clefts=tuple(clefts),
    )


def short_supplies(supplies: Sequence[Supply], day: date) -> list[ShortSupply]:
    """Return the things under their minimum.

    The batches of one thing count together, what is past its day not at all; the minimum is that of the batch
    that arrived last.
    """
    things: dict[tuple[str, str, str, str], list[Supply]] = {}
    for one in supplies:
        things.setdefault((one.kind, one.name, one.colour, one.unit), []).append(one)
    found = []
    for batches in things.values():
        newest = max(batches, key=lambda one: (one.arrived_on, one.pk))
        left = sum(one.left for one in batches if not one.is_past_on(day))
        if left < newest.minimum:
            found.append(ShortSupply(newest, left / 10, newest.minimum / 10))
    return found


def handle_needs() -> list[HandleNeed]:
    """Return each construction with its free handles, the agreed bats without one, and the open proposals.

    Constructions that nobody has and nobody wants are left out; so is everything while no handle was ever
    taken in: that workshop does not keep its handles here.
    """
    states = Counter(Handle.objects.values_list("construction", "state"))
    if not states:
        return []
    offers = Proposal.objects.filter(state=ProposalState.OPEN)
    wanted = Counter(bats_without_handle().values_list(f"agreed__{CONSTRUCTION}", flat=True))
    offered = Counter(offers.values_list(CONSTRUCTION, flat=True))
    needs = [
        HandleNeed(
            construction=one.value,
            words=str(one.label),
            free=states[one.value, HandleState.IN_STOCK.value],
            wanted=wanted[one.value],
            offered=offered[one.value],
        )
        for one in Construction
    ]
    return [one for one in needs if one.free or one.wanted or one.offered]


def bats_without_handle() -> BatQuerySet:
    """Return the agreed bats that are being made, not merely put right, and have no handle yet."""
    this_round = Round.objects.filter(bat=OuterRef("pk"), number=OuterRef("round"))
    has_handle = Handle.objects.filter(bat=OuterRef("pk"), round=OuterRef("round"))
    return (
        Bat.objects.at_bench()
        .filter(stage__in=BEFORE_HANDLE, agreed__isnull=False)
        .exclude(Exists(this_round.filter(cause=Cause.ADJUSTMENT)))
        .exclude(Exists(has_handle))
        .order_by(F("commission__promised_to").asc(nulls_last=True))
    )
