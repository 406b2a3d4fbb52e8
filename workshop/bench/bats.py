"""The bats that the bench has before it, in the order in which they are worked."""

from dataclasses import dataclass

from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from fitting.drawing import bat_small
from fitting.sheets.build_sheet import BuildSheet
from fitting.sheets.faults import read_sheet
from orders.commissions.models import Bat
from orders.commissions.states import BENCH_STAGES, Stage
from orders.words.states import stage_words
from workshop.bench.models import Spell


@dataclass(frozen=True)
class Group:
    """One stage and the bats in it, the earliest promised first."""

    stage: str
    words: str
    bats: list["Line"]


@dataclass(frozen=True)
class Line:
    """One bat of the list."""

    bat: Bat
    late_days: int
    small: SafeString
    hands: str


def bench_list(*, first: str = "") -> list[Group]:
    """Return the bats at the bench by stage, nearest to being done first, the waiting ones last.

    ``first`` is the stage that stands before all others: that of the place where the list is read.
    """
    today = timezone.localdate()
    found: dict[str, list[Line]] = {}
    hands = {
        (row.bat_id, row.stage): row.by.name
        for row in Spell.objects.filter(ended_at=None).select_related("by")
    }
    for bat in Bat.objects.at_bench().with_people().order_by("commission__promised_to", "commission__number"):
        due = bat.commission.promised_to
        late = max(0, (today - due).days) if due else 0
        found.setdefault(bat.stage, []).append(
            Line(bat, late, _small(bat), hands.get((bat.pk, bat.stage), ""))
        )
    order: list[str] = [Stage.INSPECTION, *reversed(BENCH_STAGES), Stage.WAITING]
    order.sort(key=lambda stage: stage != first)
    return [Group(stage, stage_words(stage), found[stage]) for stage in order if stage in found]


def _small(bat: Bat) -> SafeString:
    """Return the bat as agreed, small, the part being worked on marked."""
    if bat.agreed is None:
        return SafeString("")
    part = bat.stage if bat.is_being_worked_on else None
    return mark_safe(bat_small(read_sheet(BuildSheet, bat.agreed.build()), part=part))  # noqa: S308
