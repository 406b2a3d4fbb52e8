"""The shaping targets of a bat: the agreed sheet re-shaped for its own piece of willow, every one kept.

They are solved when a cleft is chosen, again with the loss that was measured in the press, and on demand
after a weighing. Where no blade of the wood meets mass and sweet spot that is kept too, and the bat is shaped
to what it had before: earlier targets of the same cleft, or the agreed shape.
"""

from dataclasses import dataclass, replace
from datetime import datetime

from django.db import transaction
from django.db.models import F
from django.utils import timezone

from fitting.bat.condition import Believed, Condition
from fitting.bat.half_made import leave_mm, stand
from fitting.bat.reshape import reshape
from fitting.bat.reshaped import Barrier, CannotReshape, Moved
from fitting.sheets.build_sheet import Band, BuildSheet, Willow
from orders.commissions.builds import add_build, build_of
from orders.commissions.models import Bat
from orders.commissions.models.bat import BenchEntryQuerySet
from orders.commissions.states import Cause, Origin
from orders.people.models import User
from workshop.bench.agreed import AgreedBat
from workshop.bench.models import SolvedFor, Targets
from workshop.bench.press_depths import press_loss_of
from workshop.rack.candidates import density_of
from workshop.rack.clefts import cleft_of, cleft_of_round
from workshop.rack.models import Cleft
from workshop.willow import Density, pressing_of

# Depth before less depth after, the mean of a dozen readings of a calliper: from memory of the trade.
MEASURED_LOSS_SD_MM = 0.2
DENSITY_LEAST, DENSITY_MOST = 200.0, 800.0
# Targets that would move nothing by as much as a calliper shows are not solved again.
SAME_DENSITY = 1


def targets_in_force(bat: Bat) -> Targets | None:
    """Return the last targets that could be solved for the cleft that the bat now is made of.

    A bat that is only adjusted keeps those of its making.
    """
    rows = _rows(bat).filter(build_version__isnull=False).select_related("build_version")
    return rows.order_by("pk").last()


def last_solved(bat: Bat) -> Targets | None:
    """Return the last attempt, whether or not it could be solved."""
    return _rows(bat).select_related("build_version", "cleft", "by").order_by("pk").last()


def all_solved(bat: Bat) -> list[Targets]:
    """Return every attempt for the present cleft, the last first."""
    return list(_rows(bat).select_related("build_version", "cleft", "by").order_by("-pk"))


def _rows(bat: Bat) -> BenchEntryQuerySet[Targets]:
    rows = Targets.objects.standing().filter(bat=bat, cleft__bat=bat, cleft__round=F("round"))
    adjusted = bat.rounds.filter(number=bat.round, cause=Cause.ADJUSTMENT).exists()
    return rows if adjusted else rows.filter(round=bat.round)


@dataclass(frozen=True)
class WillowNow:
    """What is believed of a bat's willow: density of the pressed blade with its spread, and from what."""

    cleft: Cleft
    believed: Believed
    cause: SolvedFor


def willow_of(agreed: AgreedBat) -> WillowNow | None:
    """Return what the cleft and, once measured, the press tell of the wood; None without a cleft."""
    bat = agreed.bat
    adjusted = bat.rounds.filter(number=bat.round, cause=Cause.ADJUSTMENT).exists()
    # A bat that is put right keeps the wood that it was made of.
    cleft = cleft_of(bat) if adjusted else cleft_of_round(bat)
    return None if cleft is None else willow_with(agreed, cleft, press_loss_of(bat))


def willow_with(agreed: AgreedBat, cleft: Cleft, loss_mm: float | None) -> WillowNow:
    """Return what a cleft tells of the wood, with the loss in the press as measured or as it usually is."""
    pressing = pressing_of(agreed.build, agreed.weighing, agreed.book.bench)
    if loss_mm is None:
        return WillowNow(cleft, _believed(density_of(cleft, agreed.book, pressing)), SolvedFor.CLEFT)
    measured = replace(pressing, loss_mm=loss_mm, loss_sd_mm=MEASURED_LOSS_SD_MM)
    return WillowNow(cleft, _believed(density_of(cleft, agreed.book, measured)), SolvedFor.PRESS)


def _believed(density: Density) -> Believed:
    return Believed(density_kg_m3=density.pressed, sd_kg_m3=density.pressed_sd)


@transaction.atomic
def solve_for_willow(agreed: AgreedBat, *, by: User, at: datetime | None = None) -> Targets | None:
    """Solve the targets for what cleft and press tell of the wood; None where the bat has no cleft."""
    willow = willow_of(agreed)
    return None if willow is None else solve(agreed, willow, by=by, at=at)


@transaction.atomic
def solve(agreed: AgreedBat, willow: WillowNow, *, by: User, at: datetime | None = None) -> Targets:
    """Re-shape the agreed bat for its willow and keep what came of it.

    What was solved last for the same density is not solved twice.
    """
    density = min(max(willow.believed.density_kg_m3, DENSITY_LEAST), DENSITY_MOST)
    last = last_solved(agreed.bat)
    if last is not None and last.cleft == willow.cleft and abs(last.density - density * 10) <= SAME_DENSITY:
        return last
    version, barrier, leave = None, {}, 0.0
    try:
        found = reshape(agreed.build, density, agreed.build.mass_g.target, book=agreed.book)
    except CannotReshape as stopped:
        barrier = stopped.barrier.model_dump(mode="json")
    else:
        sheet = _of_this_willow(found.build, density, willow)
        # Another bat of the commission may have got its targets since this one was read.
        agreed.bat.commission.refresh_from_db(fields=["version"])
        version = add_build(
            agreed.bat.commission, sheet, origin=Origin.RE_SHAPED, by=by, parent=agreed.version, at=at
        )
        leave = _leave(agreed, sheet, willow.believed)
    return Targets.objects.create(
        bat=agreed.bat,
        round=agreed.bat.round,
        stage=agreed.bat.stage,
        by=by,
        at=at or timezone.now(),
        cleft=willow.cleft,
        build_version=version,
        cause=willow.cause,
        density=round(density * 10),
        spread=round(willow.believed.sd_kg_m3 * 10),
        leave=round(leave * 10),
        barrier=barrier,
    )


def _leave(agreed: AgreedBat, targets: BuildSheet, believed: Believed) -> float:
    """Depth to leave on, mm: what is not known yet of wood and handle cannot make the bat too light then."""
    standing = stand(targets, Condition(), None, believed, aim=targets, book=agreed.book)
    return leave_mm(standing, book=agreed.book)


def _of_this_willow(build: BuildSheet, density: float, willow: WillowNow) -> BuildSheet:
    """Return the sheet with the willow's own density in the place of the band that would have done."""
    spread = min(willow.believed.sd_kg_m3, density - DENSITY_LEAST, DENSITY_MOST - density)
    band = Band(min=round(density - spread, 1), max=round(density + spread, 1))
    own = Willow(density_kg_m3=band, grade=willow.cleft.grade, grain=build.willow.grain)
    return build.model_copy(update={"willow": own})


def sheet_of(row: Targets) -> BuildSheet | None:
    """Return the build sheet of targets; None where they could not be solved."""
    return None if row.build_version is None else build_of(row.build_version)


def barrier_of(row: Targets) -> Barrier | None:
    """Return what stopped the re-shaping; None where it was solved."""
    return Barrier.model_validate(row.barrier) if row.barrier else None


def moved(agreed: BuildSheet, targets: BuildSheet) -> tuple[Moved, ...]:
    """Return by how much each station of the targets lies off the agreed drawing, mm."""
    pairs = zip(agreed.blade.stations, targets.blade.stations, strict=True)
    return tuple(
        Moved(
            from_toe_mm=drawn.from_toe_mm,
            spine_mm=round(own.spine_mm - drawn.spine_mm, 2),
            edge_mm=round(own.edge_mm - drawn.edge_mm, 2),
        )
        for drawn, own in pairs
    )
